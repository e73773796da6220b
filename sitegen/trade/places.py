"""The hidden house laid out in arrays: every place that it can stand at, and what each option comes to there.

A place is one kind of house, one pair of counts (old points off the list, feeds charged for them) and one count
of blocked drops.  Pairs with the same points share one row of chances of blocked drops.  Nothing holds all places
at once: they are read block by block, so that a large house takes time and no memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from sitegen.trade.blocked import Kind, Shape, later_counts, split
from sitegen.trade.feeds import HiddenPoints
from sitegen.trade.terms import Cents, House, Option

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


class Block(Struct, frozen=True):
    """Some pairs with all their blocked drops end to end; each array is as long as the block has places a kind.

    `weight`   chance of the place's pair, a row for each view
    `blocked`  [drops] blocked
    `row`      where the place's chance of blocked drops stands in a kind's row of `Places.chances`
    """

    pairs: slice
    lengths: Ints
    weight: Floats
    blocked: Ints
    row: Ints

    def spread(self, of_pairs: Ints) -> Ints:
        """`of_pairs`, a value for each pair of the house, repeated for every place of the block.  Shape: (places,)."""
        return np.repeat(of_pairs[self.pairs], self.lengths)


class Places(Struct, frozen=True):
    """Where the house can stand.

    `points`, `feeds`  [points], [feeds] of each pair
    `weights`          chance of each pair under each view.  Shape: (views, pairs)
    `chances`          chance of a kind and of so many blocked drops in it, rows by points end to end.
                       Shape: (kinds, places of all rows)
    `first`, `lengths` where the row of a pair begins, and how long it is.  Shape: (pairs,)
    """

    points: Ints
    feeds: Ints
    weights: Floats
    chances: Floats
    first: Ints
    lengths: Ints

    def __len__(self) -> int:
        return len(self.chances) * int(self.lengths.sum())

    def blocks(self, most: int) -> Iterator[Block]:
        """All pairs in order, in blocks of about `most` places a kind; a pair is never cut."""
        before = np.cumsum(self.lengths) - self.lengths
        cuts = [*np.unique(np.searchsorted(before, np.arange(0, before[-1] + 1, most))).tolist(), len(before)]
        for start, stop in pairwise(cuts):
            pairs = slice(start, stop)
            lengths = self.lengths[pairs]
            blocked = np.arange(lengths.sum()) - np.repeat(before[pairs] - before[start], lengths)
            yield Block(pairs, lengths, np.repeat(self.weights[:, pairs], lengths, axis=1), blocked,
                        np.repeat(self.first[pairs], lengths) + blocked)

    def any_kind(self) -> Places:
        """These places under the first view alone, with the chances of all kinds of house added up to one kind."""
        return Places(self.points, self.feeds, self.weights[:1], self.chances.sum(axis=0, keepdims=True),
                      self.first, self.lengths)


class Totals(Struct, frozen=True):
    """One option's totals before the cases [cents]: `start`, and what points, feeds and blocked drops add, held to a
    cap.

    `start`  Shape: (kinds, pairs).  `added` by points and feeds.  Shape: (pairs,).  `each` blocked drop adds so much.
    """

    start: Ints
    added: Ints
    each: Cents
    cap: Cents | None

    def more(self, block: Block) -> Ints:
        """What points, feeds and blocked drops add at each place [cents], held to the cap.  Shape: (places,)."""
        return self._held(block.spread(self.added) + self.each * block.blocked)

    def ends(self, lengths: Ints) -> tuple[Ints, Ints]:
        """The least and the most of each row [cents]: its ends, since a row runs one way.  Shape: (kinds, pairs)."""
        none, every = self._held(self.added), self._held(self.added + self.each * (lengths - 1))
        return self.start + np.minimum(none, every), self.start + np.maximum(none, every)

    def _held(self, cents: Ints) -> Ints:
        return cents if self.cap is None else np.minimum(cents, self.cap)


def lay_out(house: House, views: Sequence[HiddenPoints], kinds: Sequence[Kind]) -> Places:
    """Every place that a view can reach; one that another view cannot has no weight there."""
    pairs = sorted(set().union(*views))
    points, feeds = (np.array(column, dtype=np.int64) for column in zip(*pairs, strict=True))
    counts, of_pair = np.unique(points, return_inverse=True)
    rows = blocked_chances(house, kinds, counts.tolist())
    lengths = np.array([row.shape[1] for row in rows], dtype=np.int64)
    first = np.cumsum(lengths) - lengths
    shares = np.array([[kind.weight] for kind in kinds])
    weights = np.array([[view.get(pair, 0.0) for pair in pairs] for view in views])
    return Places(points, feeds, weights, shares * np.concatenate(rows, axis=1), first[of_pair], lengths[of_pair])


def totals_of(house: House, places: Places, option: Option, kinds: Sequence[Kind]) -> Totals:
    """One option's totals to the same finish."""
    counts, of_pair = np.unique(places.points, return_inverse=True)
    each = [later_counts(house, option, points) for points in counts.tolist()]
    keys = [item.key for item in house.later if item.key in option.later]
    later = np.array([[sum(kind.later[key] * count[key] for key in keys) for count in each] for kind in kinds],
                     dtype=np.int64)
    return _totals(house, places, option, later[:, of_pair])


def paid_of(house: House, places: Places, option: Option) -> Totals:
    """One option's totals as paid to the firm, which no kind of house moves."""
    return _totals(house, places, option, np.zeros((1, len(places.points)), dtype=np.int64))


def _totals(house: House, places: Places, option: Option, later: Ints) -> Totals:
    if option.covers_all:
        return Totals(option.price + option.also + later, np.zeros_like(places.points), 0, None)
    added = option.each_point * places.points + option.each_feed * places.feeds
    return Totals(option.price + option.also + house.tracing + later, added, option.each_blocked, option.added_cap)


def blocked_chances(house: House, kinds: Sequence[Kind], counts: Iterable[int]) -> list[Floats]:
    """Chance of 0, 1, 2 ... blocked drops when so many points are added, for each of `counts` [points].

    Shape of each: (kinds, drops + 1).  Given the kind of house, inside and outside walls are independent.
    """
    inside, outside = _shapes([kind.inside for kind in kinds]), _shapes([kind.outside for kind in kinds])
    rows = []
    for points in counts:
        within, without = split(house, points)
        rows.append(np.array([np.convolve(one, other) for one, other in zip(
            beta_binomials(within, *inside), beta_binomials(without, *outside), strict=True)]))
    return rows


def beta_binomials(n: int, a: Floats, b: Floats) -> Floats:
    """Chance of 0..n successes for several shapes, each above zero.  Shape of `a`, `b`: (shapes, 1); (shapes, n + 1).

    As `feeds.beta_binomial` has it, by the same recurrence.  Raises ValueError for a shape that is none.
    """
    if n < 0 or min(a.min(), b.min()) <= 0:
        raise ValueError(f"beta_binomials needs n >= 0, a > 0, b > 0; got {n}, {a.min()}, {b.min()}")
    h = np.arange(n)
    none = np.prod((b + h) / (a + b + h), axis=1, keepdims=True)
    ratios = (n - h) / (h + 1) * (a + h) / (b + n - h - 1)
    return np.cumprod(np.concatenate([none, ratios], axis=1), axis=1)


def _shapes(shapes: Sequence[Shape]) -> tuple[Floats, Floats]:
    a, b = (np.array([[float(shape[side])] for shape in shapes]) for side in (0, 1))
    return a, b
