"""How often each option is the cheapest, and how often one ends above another.

All options stand on one hidden house, so the comparison is made place by place, never between two ranges.  An option
whose total nothing moves is a plain figure; the others are compared at every place that the house can have.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from itertools import accumulate, compress
from operator import eq, gt, lt, mul

from msgspec import Struct

from sitegen.trade.endings import SLACK, Grid, Sorted, Tables, Weighed
from sitegen.trade.terms import Cents, Option

Gaps = Sequence[tuple[float, Cents]]
"""Chance and size [cents] of what the cases add to one option beyond what they add to another."""


class Comparison(Struct, frozen=True):
    """Chances under one belief: `cheapest[option]`, a tie going to the lower price today; `above[a, b]`, strict."""

    cheapest: Mapping[str, float]
    above: Mapping[tuple[str, str], float]


class Envelope(Struct, frozen=True):
    """The least of the moving options at every place, under one relative fall of the cases.

    `won`    for each moving option, where it is that least, a tie going to the lower price today
    `falls`  chance of each fall, and what each fixed option pays in it beyond the first moving option [cents]
    """

    least: Sorted
    won: tuple[list[bool], ...]
    falls: tuple[tuple[float, tuple[Cents, ...]], ...]


class Crossings:
    """Everything about the comparison that no belief moves."""

    def __init__(self, tables: Tables) -> None:
        grid = tables.grid
        options = sorted(grid.house.options, key=lambda option: option.price)
        self.tables = tables
        self.fixed = [option for option in options if len(tables.places[option.key]) == 1]
        self.moving = [option for option in options if len(tables.places[option.key]) > 1]
        self.gaps = {(a.key, b.key): _gaps(grid, a, b) for a in options for b in options if a is not b}
        self.higher = {(a.key, b.key): [(p, _higher(tables.places[a.key], tables.places[b.key], gap))
                                        for p, gap in self.gaps[a.key, b.key]]
                       for a in self.moving for b in self.moving if a is not b}
        self.envelopes = [_envelope(tables, self.moving, shifts, falls)
                          for shifts, falls in _grouped(grid, self.moving, self.fixed).items()]

    def under(self, weighed: Weighed) -> Comparison:
        """The comparison under one belief."""
        fixed, moving = [option.key for option in self.fixed], [option.key for option in self.moving]
        above = {(a, b): self._above(weighed, a, b) for a, b in self.gaps}
        cheapest = dict.fromkeys((*moving, *fixed), 0.0)
        for envelope in self.envelopes:
            for key, chance in self._cheapest(weighed, envelope).items():
                cheapest[key] += chance
        return Comparison(cheapest, above)

    def _above(self, weighed: Weighed, a: str, b: str) -> float:
        """Chance that option `a` ends strictly above option `b`."""
        gaps, places = self.gaps[a, b], self.tables.places
        if (a, b) in self.higher:
            return sum(p * sum(compress(weighed.along, mask)) for p, mask in self.higher[a, b])
        if len(places[a]) == len(places[b]) == 1:
            return sum(p for p, gap in gaps if places[a][0] + gap > places[b][0])
        if len(places[a]) == 1:
            totals, running = self.tables.total[b].totals, weighed.running[b]
            return sum(p * running[bisect_left(totals, places[a][0] + gap)] for p, gap in gaps)
        totals, running = self.tables.total[a].totals, weighed.running[a]
        return sum(p * (running[-1] - running[bisect_right(totals, places[b][0] - gap)]) for p, gap in gaps)

    def _cheapest(self, weighed: Weighed, envelope: Envelope) -> dict[str, float]:
        order, totals = envelope.least.order, envelope.least.totals
        chances = [weighed.along[i] for i in order]
        won = [[0.0, *accumulate(map(mul, chances, mine))] for mine in envelope.won]
        found = dict.fromkeys([option.key for option in (*self.moving, *self.fixed)], 0.0)
        for p, costs in envelope.falls:
            rivals = [self.tables.places[option.key][0] + cost for option, cost in zip(self.fixed, costs, strict=True)]
            rest = 1.0
            for option, running in zip(self.moving, won, strict=True):
                if rivals:
                    best = self.fixed[rivals.index(min(rivals))]
                    side = bisect_right if option.price <= best.price else bisect_left
                    chance = running[side(totals, min(rivals))]
                else:
                    chance = running[-1]
                found[option.key] += p * chance
                rest -= chance
            if rivals and rest > SLACK:         # less is what sums of floats leave over
                found[self.fixed[rivals.index(min(rivals))].key] += p * rest
        return found


def _envelope(tables: Tables, moving: Sequence[Option], shifts: Sequence[Cents],
              falls: Mapping[tuple[Cents, ...], float]) -> Envelope:
    runs = [tables.places[option.key] if not shift else [total + shift for total in tables.places[option.key]]
            for option, shift in zip(moving, shifts, strict=True)]
    if not runs:
        least: list[Cents] = [0]
    else:
        least = runs[0] if len(runs) == 1 else list(map(min, *runs))
    ordered = Sorted(least)
    won, left = [], [True] * len(least)
    for run in runs:                        # in order of price today, so that the first to reach the least wins
        mine = [free and hit for free, hit in zip(left, map(eq, run, least), strict=True)]
        left = list(map(gt, left, mine))
        won.append([mine[i] for i in ordered.order])
    return Envelope(ordered, tuple(won), tuple((p, costs) for costs, p in falls.items()))


def _grouped(grid: Grid, moving: Sequence[Option],
             fixed: Sequence[Option]) -> dict[tuple[Cents, ...], dict[tuple[Cents, ...], float]]:
    """The falls of the cases by what they add to the moving options, then by what they add to the fixed ones.

    All costs are taken against what the first moving option pays, which leaves their order as it is.
    """
    at = {option.key: i for i, option in enumerate(grid.house.options)}
    groups: dict[tuple[Cents, ...], dict[tuple[Cents, ...], float]] = {}
    for p, paid in grid.cases:
        first = paid[at[moving[0].key]] if moving else 0
        group = groups.setdefault(tuple(paid[at[option.key]] - first for option in moving), {})
        costs = tuple(paid[at[option.key]] - first for option in fixed)
        group[costs] = group.get(costs, 0.0) + p
    return groups


def _gaps(grid: Grid, a: Option, b: Option) -> Gaps:
    """What the cases add to `a` beyond what they add to `b`."""
    i, j = grid.house.options.index(a), grid.house.options.index(b)
    gaps: dict[Cents, float] = {}
    for p, paid in grid.cases:
        gaps[paid[i] - paid[j]] = gaps.get(paid[i] - paid[j], 0.0) + p
    return [(p, gap) for gap, p in sorted(gaps.items())]


def _higher(a: Sequence[Cents], b: Sequence[Cents], gap: Cents) -> list[bool]:
    """Where `a`, with `gap` more, stands above `b`."""
    if gap:
        return [x + gap > y for x, y in zip(a, b, strict=True)]
    return list(map(lt, b, a))
