"""What each option ends up costing, worked out on one and the same hidden house.

Exact and by cases: nothing is sampled and nothing is put on a grid.  A row is one kind of house with one
count of hidden points and of feeds charged; along a row the count of blocked drops runs upward, and with it
every total.  The cases that can raise a price are shifts of whole rows.  Rows are the same whatever the firm
believes is hidden, so the answer under other beliefs costs only new weights.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from functools import cached_property
from itertools import accumulate, product

from msgspec import Struct

from sitegen.trade.blocked import Kind, blocked_drops, later_counts
from sitegen.trade.feeds import HiddenPoints
from sitegen.trade.terms import Case, Cents, House, Option

CASE_SHARES = (0.3, 0.4, 0.3)
"""A case that comes costs its low, usual or high amount in 30, 40, 30 of 100."""

TWENTY = tuple((i - 0.5) / 20 for i in range(1, 21))
TENTHS = (0.1, 0.5, 0.9)
SLACK = 1e-12

CaseOutcome = tuple[float, tuple[Cents, ...]]
"""Chance, and what each option pays for the cases that came [cents]."""


class Ending(Struct, frozen=True):
    """Where one option ends [cents]: three quantiles, the twenty endings, and the furthest it can go.

    `total` is to the same finish (old wires dead, walls ready to paint, floors sound; painting apart),
    `paid` is what the firm is paid of it.
    """

    total: tuple[Cents, Cents, Cents]
    twenty: tuple[Cents, ...]
    least: Cents
    most: Cents
    paid: tuple[Cents, Cents, Cents]


class Grid(Struct, frozen=True):
    """The hidden house, laid out: for each row its kind, its (points, feeds) and its blocked drops."""

    house: House
    kinds: tuple[Kind, ...]
    pairs: tuple[tuple[int, int], ...]
    blocked: tuple[tuple[tuple[float, ...], ...], ...]      # [kind][pair][count]
    cases: tuple[CaseOutcome, ...]

    def places(self, hidden: HiddenPoints) -> list[float]:
        """The chance of every place of every row, rows kind by kind, end to end."""
        flat: list[float] = []
        for kind, rows in zip(self.kinds, self.blocked, strict=True):
            for pair, row in zip(self.pairs, rows, strict=True):
                share = kind.weight * hidden.get(pair, 0.0)
                flat.extend([share * p for p in row])
        return flat


def lay_out(house: House, hidden: HiddenPoints, kinds: Sequence[Kind]) -> Grid:
    """The rows that `hidden` can reach; any other belief with the same reach may be weighed on them."""
    pairs = tuple(sorted(hidden))
    counts = sorted({points for points, _ in pairs})
    by_points = [{points: blocked_drops(house, kind, points) for points in counts} for kind in kinds]
    blocked = tuple(tuple(rows[points] for points, _ in pairs) for rows in by_points)
    return Grid(house, tuple(kinds), pairs, blocked, case_outcomes(house.cases, house.options))


def case_outcomes(cases: Sequence[Case], options: Sequence[Option]) -> tuple[CaseOutcome, ...]:
    """Every option in which the cases can fall, as what each option pays [cents], equal payments taken together."""
    outcomes: dict[tuple[Cents, ...], float] = {}
    for fall in product(*(_tosses(case) for case in cases)):
        chance = 1.0
        for p, _ in fall:
            chance *= p
        if chance:
            paid = tuple(_capped(sum(cost for case, (_, cost) in zip(cases, fall, strict=True)
                                     if case.key in option.pays_cases), option.case_cap) for option in options)
            outcomes[paid] = outcomes.get(paid, 0.0) + chance
    return tuple((p, paid) for paid, p in sorted(outcomes.items()))


def totals_of(grid: Grid, option: Option) -> list[Cents]:
    """One option's totals to the same finish before the cases, at every place; one figure if nothing moves it."""
    if option.covers_all and not option.later:
        return [option.price]
    counts = {points: later_counts(grid.house, option, points) for points, _ in grid.pairs}
    keys = [item.key for item in grid.house.later if item.key in option.later]
    flat: list[Cents] = []
    for kind, rows in zip(grid.kinds, grid.blocked, strict=True):
        later = {points: sum([kind.later[key] * count[key] for key in keys]) for points, count in counts.items()}
        for (points, feeds), row in zip(grid.pairs, rows, strict=True):
            flat.extend(_along(grid.house, option, points, feeds, len(row), later[points]))
    return flat


def paid_of(grid: Grid, option: Option) -> list[Cents]:
    """One option's totals as paid to the firm, before the cases; the kind of house moves only their chances."""
    if option.covers_all:
        return [option.price]
    flat: list[Cents] = []
    for (points, feeds), row in zip(grid.pairs, grid.blocked[0], strict=True):
        flat.extend(_along(grid.house, option, points, feeds, len(row), 0))
    return flat


class Sorted:
    """Totals in order; each belief adds one column of running chances."""

    def __init__(self, totals: Sequence[Cents]) -> None:
        self.order = sorted(range(len(totals)), key=totals.__getitem__)
        self.totals = [totals[i] for i in self.order]

    def running(self, chances: Sequence[float]) -> list[float]:
        """Running chance up to each total; `chances` are those of the totals as they came."""
        if len(self.order) == 1:
            return [0.0, 1.0]
        return [0.0, *accumulate(map(chances.__getitem__, self.order))]

    def quantiles(self, running: list[float], cases: Sequence[tuple[float, Cents]],
                  shares: Sequence[float]) -> tuple[Cents, ...]:
        """The smallest whole cent x with F(x) >= share, for each of the rising `shares`."""
        chances, costs = [p for p, _ in cases], [cost for _, cost in cases]
        top = self.totals[-1] + costs[-1]
        below = _Bound(self.totals[0] + costs[0] - 1, 0.0, [0] * len(costs))
        above = _Bound(top, 1.0, [len(self.totals)] * len(costs))
        found = []
        for share in shares:
            if below.reached < share - SLACK:
                below = self._last_below(below, above, share - SLACK, running, chances, costs)
            found.append(below.x + 1)
        return tuple(found)

    def _last_below(self, low: _Bound, high: _Bound, share: float, running: list[float],
                    chances: Sequence[float], costs: Sequence[Cents]) -> _Bound:
        """The last whole cent with F(x) < share, from `low` on.

        Interpolation, since the running chance is nearly smooth; halving whenever that did not halve the bracket.
        """
        halve = False
        while high.x - low.x > 1:
            width = high.x - low.x
            guess = int(width * (share - low.reached) / max(high.reached - low.reached, SLACK))
            x = low.x + min(max(width // 2 if halve else guess, 1), width - 1)
            places = [bisect_right(self.totals, x - cost, first, last)
                      for cost, first, last in zip(costs, low.places, high.places, strict=True)]
            middle = _Bound(x, sum([p * running[place] for p, place in zip(chances, places, strict=True)]), places)
            low, high = (middle, high) if middle.reached < share else (low, middle)
            halve = high.x - low.x > width // 2
        return low


class _Bound(Struct, frozen=True):
    """One end of a bracket: a sum [cents], the running chance there, and its place among the totals by case."""

    x: Cents
    reached: float
    places: list[int]


def cases_of(grid: Grid, option: Option) -> list[tuple[float, Cents]]:
    """Chance and cost [cents] of the cases for one option, equal costs taken together."""
    index = grid.house.options.index(option)
    costs: dict[Cents, float] = {}
    for p, paid in grid.cases:
        costs[paid[index]] = costs.get(paid[index], 0.0) + p
    return [(p, cost) for cost, p in sorted(costs.items())]


class Tables:
    """Everything about a grid that no belief moves, worked out once: each option's totals, and in order."""

    def __init__(self, grid: Grid) -> None:
        options = grid.house.options
        self.grid = grid
        self.cases = {option.key: cases_of(grid, option) for option in options}
        self.places = {option.key: totals_of(grid, option) for option in options}
        self.total = {key: Sorted(totals) for key, totals in self.places.items()}
        self.paid = {option.key: Sorted(paid_of(grid, option)) for option in options}


class Weighed:
    """The tables under one belief on the same reach."""

    def __init__(self, tables: Tables, hidden: HiddenPoints) -> None:
        self.tables, self.hidden = tables, hidden
        self.along = tables.grid.places(hidden)
        self.running = {key: rows.running(self.along) for key, rows in tables.total.items()}

    def tenths(self, key: str) -> tuple[Cents, Cents, Cents]:
        """P10, P50 and P90 of one option to the same finish [cents]."""
        return _three(self._quantiles(key, TENTHS))

    def ending(self, key: str) -> Ending:
        """The whole ending of one option [cents]."""
        wanted = sorted((*TENTHS, *TWENTY))
        values = dict(zip(wanted, self._quantiles(key, wanted), strict=True))
        (least, most), cases = self._ends(key), self.tables.cases[key]
        paid = self.tables.paid[key]
        return Ending(total=_three([values[share] for share in TENTHS]), twenty=tuple(values[u] for u in TWENTY),
                      least=least + cases[0][1], most=most + cases[-1][1],
                      paid=_three(paid.quantiles(paid.running(self._along_paid), cases, TENTHS)))

    def _ends(self, key: str) -> tuple[Cents, Cents]:
        """The least and the most total that this belief leaves possible [cents]; others may reach further."""
        totals, places = self.tables.total[key].totals, self.tables.places[key]
        if len(places) == 1 or all(self.hidden.get(pair, 0.0) for pair in self.tables.grid.pairs):
            return totals[0], totals[-1]
        possible = [total for total, chance in zip(places, self.along, strict=True) if chance]
        return min(possible), max(possible)

    def _quantiles(self, key: str, shares: Sequence[float]) -> tuple[Cents, ...]:
        return self.tables.total[key].quantiles(self.running[key], self.tables.cases[key], shares)

    @cached_property
    def _along_paid(self) -> list[float]:
        """Chances of the places of `paid_of`: the kinds of house taken together."""
        grid, flat = self.tables.grid, []
        mixed: dict[int, list[float]] = {}
        for i, pair in enumerate(grid.pairs):
            if pair[0] not in mixed:
                rows = [[kind.weight * p for p in rows[i]]
                        for kind, rows in zip(grid.kinds, grid.blocked, strict=True)]
                mixed[pair[0]] = list(map(sum, zip(*rows, strict=True)))
            chance = self.hidden.get(pair, 0.0)
            flat.extend([chance * p for p in mixed[pair[0]]])
        return flat


def _three(values: Sequence[Cents]) -> tuple[Cents, Cents, Cents]:
    p10, p50, p90 = values
    return p10, p50, p90


def _along(house: House, option: Option, points: int, feeds: int, length: int, later: Cents) -> Sequence[Cents]:
    """One option's totals as blocked drops count up from none."""
    start = option.price + later
    if option.covers_all:
        return (start,) * length
    start += house.tracing
    added = option.each_point * points + option.each_feed * feeds
    if not option.each_blocked:
        return (start + _capped(added, option.added_cap),) * length
    run = range(added, added + option.each_blocked * length, option.each_blocked)
    if option.added_cap is None:
        return range(start + run.start, start + run.stop, run.step)
    return [start + _capped(value, option.added_cap) for value in run]


def _tosses(case: Case) -> list[tuple[float, Cents]]:
    chance, cost = float(case.chance), case.cost
    amounts = (cost.low, cost.usual, cost.high)
    return [(1.0 - chance, 0), *((chance * share, amount)
                                 for share, amount in zip(CASE_SHARES, amounts, strict=True))]


def _capped(amount: Cents, cap: Cents | None) -> Cents:
    return amount if cap is None else min(amount, cap)
