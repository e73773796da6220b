"""How many old points are hidden: points grouped by the feed that serves them.

When one light on a run is old its neighbours nearly always are, so the unit of surprise is the feed and not
the box.  Each feed of the house has one of five looks; the feeds that nobody traced share the house's habit
through a beta-binomial on feeds.  All chances here are floats, all counts are exact.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from math import comb

from msgspec import Struct

OLD, NEW, PART, NEW_ENDS, NOT_TRACED = "old", "new", "part", "new ends", "not traced"
EVIDENCE = (OLD, NEW, PART, NEW_ENDS, NOT_TRACED)

HiddenPoints = dict[tuple[int, int], float]
"""Chance of each (old points not on the list, feeds charged) [points, feeds] -> chance."""


class Row(Struct):
    """What can come on one count of feeds charged: the chance of each count of points, and a bit for each that can."""

    chances: list[float]
    reach: int = 0


class Feed(Struct, frozen=True):
    """One feed as the survey left it.

    `known`     [points] not on the list, opened and seen old
    `unseen`    [points] not on the list, neither opened nor seen
    `opened_old`, `opened_new`  [points] boxes opened with the cover off, on the list or not; on an old feed a box
                opened new is one that was replaced, and says nothing of the rest
    """

    name: str
    evidence: str
    known: int = 0
    unseen: int = 0
    opened_old: int = 0
    opened_new: int = 0


class FeedPrior(Struct, frozen=True):
    """What the firm believes before it looks: a judgement with a name and a date, never set by a job.

    `old`, `new`      [feeds] "as if we had traced this many feeds in houses like this and so many were old"
    `new_ends_old`    [chance] that a feed which looks new at both ends is old in the middle
    `part_old`, `part_new`  the start of the beta-binomial within a feed that was partly opened
    """

    old: Fraction
    new: Fraction
    new_ends_old: Fraction
    part_old: Fraction = Fraction(1, 4)
    part_new: Fraction = Fraction(1, 4)

    def times(self, factor: Fraction) -> FeedPrior:
        """The same belief with `factor` times as many old feeds; what is believed of new ones stays."""
        return FeedPrior(self.old * factor, self.new, min(Fraction(1), self.new_ends_old * factor),
                         self.part_old, self.part_new)


@lru_cache(maxsize=4096)
def beta_binomial(n: int, a: Fraction, b: Fraction) -> tuple[float, ...]:
    """Chance of 0..n successes among `n` when the share is Beta(a, b); `a` and `b` above zero.

    By the recurrence p(h+1)/p(h) = (n-h)/(h+1) x (a+h)/(b+n-h-1), upward from p(0); agrees with
    scipy.stats.betabinom to 1e-12 for any count that a house can have.
    """
    if n < 0 or a <= 0 or b <= 0:
        raise ValueError(f"beta_binomial needs n >= 0, a > 0, b > 0; got {n}, {a}, {b}")
    fa, fb = float(a), float(b)
    p = 1.0
    for i in range(n):
        p *= (fb + i) / (fa + fb + i)
    row = [p]
    for h in range(n):
        p *= (n - h) / (h + 1) * (fa + h) / (fb + n - h - 1)
        row.append(p)
    return tuple(row)


def tally(feeds: Iterable[Feed]) -> tuple[Fraction, Fraction]:
    """What tracing and opening already say of this house's habit [feeds found old, feeds found new].

    A traced feed counts one; a partly opened feed is shared out by what was opened on it.
    """
    old = new = Fraction(0)
    for feed in feeds:
        if feed.evidence == OLD:
            old += 1
        elif feed.evidence == NEW:
            new += 1
        elif feed.evidence == PART:
            share = Fraction(feed.opened_old, feed.opened_old + feed.opened_new)
            old += share
            new += 1 - share
    return old, new


def hidden_points(feeds: Iterable[Feed], prior: FeedPrior) -> HiddenPoints:
    """Joint chance of the old points that are not on the list and of the feeds that they charge.

    Parameters
    ----------
    feeds : iterable of Feed
        Every feed of the house as the survey left it [points].  Their order changes nothing.
    prior : FeedPrior
        What the firm believes before it looks [feeds, chance].

    Returns
    -------
    dict of (int, int) to float
        (old points off the list [points], feeds charged for them [feeds]) -> chance, in rising order.  Every
        pair that can come is a key, however small its chance, and no other is; the chances sum to 1.

    Raises
    ------
    ValueError
        For a feed whose look contradicts its counts, by its name.

    Notes
    -----
    Of `T` untraced feeds `j` are old with chance BB(j; T, a + O, b + N): a beta-binomial on feeds, where `a` and
    `b` are the prior's `old` and `new` and `O` and `N` the feeds found old and new in this house (`tally`).  Which
    `j` is equally likely, so that the subsets of `j` feeds are counted, in whole numbers, by the sum of their
    points.  A part feed, of which `k` of `n` opened boxes were old, adds what was seen old off the list and
    BB(u; part_old + k, part_new + n - k) of its `u` unseen points; a feed new at both ends adds all of them with
    the chance `new_ends_old`, or none.  A feed is charged once when at least one of its points is added; an old
    feed that is wholly on the list is in the list's price and is not charged.

    Exact but for the rounding of floats: nothing is sampled, and no pair is left out for being unlikely.  The
    beta-binomial is a standard distribution.  That points of one feed go together, that untraced feeds share the
    house's habit, and all five looks are the firm's own model.

    References
    ----------
    .. [1] N. L. Johnson, A. W. Kemp and S. Kotz, Univariate Discrete Distributions, 3rd ed., Wiley, 2005: the
       beta-binomial (negative hypergeometric) distribution.  From memory.
    """
    feeds = tuple(feeds)
    for feed in feeds:
        _refuse_contradiction(feed)
    rows = _untraced([f.unseen for f in feeds if f.evidence == NOT_TRACED], tally(feeds), prior)
    for feed in feeds:
        if feed.evidence != NOT_TRACED:
            rows = _with(rows, _alone(feed, prior))
    return dict(sorted(((points, charged), row.chances[points]) for charged, row in enumerate(rows)
                       for points in bits(row.reach)))


def reach(feeds: Iterable[Feed], prior: FeedPrior) -> list[int]:
    """Which pairs can come: bit `h` of item `f` says whether `h` points [points] on `f` feeds charged can.

    Quick for any house, since no chance is worked out.
    """
    masks = [1]
    for feed in feeds:
        unseen = _charged(feed.unseen)
        pairs = {(0, 0), unseen} if feed.evidence == NOT_TRACED else set(_alone(feed, prior))
        masks = _reached(masks, pairs)
    return masks


def bits(mask: int) -> Iterator[int]:
    """The counts that a mask of `reach` holds, rising."""
    return (at for at, bit in enumerate(reversed(f"{mask:b}")) if bit == "1")


def points_alone(hidden: HiddenPoints) -> dict[int, float]:
    """Chance of each number of old points [points] -> chance, whatever feeds they are on."""
    alone: dict[int, float] = {}
    for (points, _), p in sorted(hidden.items()):
        alone[points] = alone.get(points, 0.0) + p
    return alone


def quantile(chances: Mapping[int, float], share: float) -> int:
    """The smallest count whose cumulative chance reaches `share`, less 1e-12 for rounding."""
    total = 0.0
    for value in sorted(chances):
        total += chances[value]
        if total >= share - 1e-12:
            return value
    return max(chances)


def _refuse_contradiction(feed: Feed) -> None:
    opened = feed.opened_old + feed.opened_new
    if feed.evidence not in EVIDENCE:
        raise ValueError(f"feed {feed.name}: looks must be one of {', '.join(EVIDENCE)}; got {feed.evidence}")
    if feed.evidence == PART and not opened:
        raise ValueError(f"feed {feed.name}: a part feed needs at least one opened box")
    if feed.evidence == NOT_TRACED and opened:
        raise ValueError(f"feed {feed.name}: a box was opened on it, so it is a part feed")
    if feed.evidence in (NEW, NEW_ENDS) and feed.opened_old:
        raise ValueError(f"feed {feed.name}: looks {feed.evidence} but {feed.opened_old} boxes were opened old")


def _alone(feed: Feed, prior: FeedPrior) -> HiddenPoints:
    """What one feed that needs no knowledge of the others can add, and how likely each is."""
    known, unseen = feed.known, feed.unseen
    if feed.evidence == OLD:
        return {_charged(known + unseen): 1.0}
    if feed.evidence == PART:
        row = beta_binomial(unseen, prior.part_old + feed.opened_old, prior.part_new + feed.opened_new)
        return {_charged(known + more): p for more, p in enumerate(row)}
    if feed.evidence == NEW_ENDS and unseen:
        chance = float(prior.new_ends_old)
        return {pair: p for pair, p in (((0, 0), 1.0 - chance), ((unseen, 1), chance)) if p}
    return {(0, 0): 1.0}


def _untraced(sizes: list[int], found: tuple[Fraction, Fraction], prior: FeedPrior) -> list[Row]:
    """Of T untraced feeds j are old with chance BB(j; T, a + O, b + N); which j is equally likely."""
    total = len(sizes)
    chance = beta_binomial(total, prior.old + found[0], prior.new + found[1])
    rows = [Row([0.0] * (sum(sizes) + 1)) for _ in range(total + 1)]
    for (picked, points, charged), count in _subsets(tuple(sorted(sizes))).items():
        rows[charged].chances[points] += chance[picked] * count / comb(total, picked)
        rows[charged].reach |= 1 << points
    return rows


@lru_cache(maxsize=4)
def _subsets(sizes: tuple[int, ...]) -> dict[tuple[int, int, int], int]:
    """Subsets of feeds of these sizes [points]: (feeds picked, points, feeds charged) -> how many there are."""
    counts = {(0, 0, 0): 1}
    for size in sizes:
        longer = dict(counts)
        for (picked, points, charged), count in counts.items():
            key = (picked + 1, points + size, charged + (size > 0))
            longer[key] = longer.get(key, 0) + count
        counts = longer
    return counts


def _with(rows: list[Row], outcomes: HiddenPoints) -> list[Row]:
    """The rows after one more feed, which is independent of those in them."""
    longest = len(rows[0].chances) + max(points for points, _ in outcomes)
    wider = [Row([0.0] * longest, mask) for mask in _reached([row.reach for row in rows], outcomes)]
    for f, row in enumerate(rows):
        if not row.reach:
            continue
        low, high = (row.reach & -row.reach).bit_length() - 1, row.reach.bit_length()
        reached = row.chances[low:high]
        for (points, charged), p in outcomes.items():
            into, first, end = wider[f + charged].chances, low + points, high + points
            into[first:end] = [have + p * more for have, more in zip(into[first:end], reached, strict=True)]
    return wider


def _reached(masks: Collection[int], pairs: Collection[tuple[int, int]]) -> list[int]:
    """What can come after one more feed, as `reach` says it."""
    wider = [0] * (len(masks) + 1)
    for points, charged in pairs:
        for f, mask in enumerate(masks):
            wider[f + charged] |= mask << points
    return wider


def _charged(points: int) -> tuple[int, int]:
    return points, int(points > 0)
