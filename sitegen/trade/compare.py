"""How often each option is the cheapest, and how often one ends above another.

All options stand on one hidden house, so the comparison is made place by place, never between two ranges.  What is
asked of a place is only on which side of some thresholds it lies: the total of each moving option, of those that the
fixed options set in every scenario; the gap between two moving options, of what the cases put between them.  So places
are counted into one table a moving option, and every chance is read off running sums of the tables.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import prod

import numpy as np

from sitegen.trade.places import Floats, Ints
from sitegen.trade.quantiles import SLACK
from sitegen.trade.scenarios import Scenarios
from sitegen.trade.sizes import MOST_CELLS, TooLarge
from sitegen.trade.terms import Cents, Option
from sitegen.trade.worked import Comparison


class Crossings:
    """The comparison of options under several views.

    `fixed` gives the total [cents] of each option that nothing but the cases moves; the others are moving.  Both are
    taken in order of price today, so that a tie goes to the lower.
    """

    def __init__(self, options: Sequence[Option], fixed: Mapping[str, Cents], scenarios: Scenarios, views: int) -> None:
        ordered = sorted(options, key=lambda option: option.price)
        self.moving = [option for option in ordered if option.key not in fixed]
        self.fixed = [option for option in ordered if option.key in fixed]
        self.chance = scenarios.chance
        self.paid = {option.key: row for option, row in zip(options, scenarios.paid, strict=True)}
        self.totals = {option.key: fixed[option.key] + self.paid[option.key] for option in self.fixed}
        self.gaps = {(a.key, b.key): self.paid[b.key] - self.paid[a.key] for a, b in combinations(self.moving, 2)}
        self.marks = {pair: _thresholds([gap]) for pair, gap in self.gaps.items()}
        self.lines = {option.key: _thresholds([total - self.paid[option.key] for total in self.totals.values()])
                      for option in self.moving}
        shapes = {option.key: (*(len(self.marks[pair]) + 1 for pair in self._pairs(option)),
                               len(self.lines[option.key]) + 1)
                  for option in self.moving}
        self.cells = sum(map(prod, shapes.values()))
        if self.cells > MOST_CELLS:
            raise TooLarge(f"to compare the options of this house {self.cells:,} sides of thresholds have to be told "
                           f"apart; at most {MOST_CELLS:,} are")
        self.tables = {key: np.zeros((views, *shape)) for key, shape in shapes.items()}

    def count(self, totals: Mapping[str, Ints], chances: Floats) -> None:
        """Some places: the total of each moving option there, and the chance of each place in each view."""
        sides = {(a, b): np.searchsorted(marks, totals[a] - totals[b]) for (a, b), marks in self.marks.items()}
        for key, table in self.tables.items():
            at = np.zeros(len(totals[key]), dtype=np.int64)
            for pair, length in zip([pair for pair in sides if key in pair], table.shape[1:], strict=False):
                at = at * length + sides[pair]
            at = at * table.shape[-1] + np.searchsorted(self.lines[key], totals[key])
            for view, chance in zip(table, chances, strict=True):
                view += np.bincount(at, chance, minlength=view.size).reshape(view.shape)

    def under(self, view: int) -> Comparison:
        """The comparison under one view."""
        return Comparison(self._cheapest(view), self._above(view))

    def _cheapest(self, view: int) -> dict[str, float]:
        """Chance that each option is the cheapest, scenario by scenario: a moving option, or the best of the fixed."""
        wins = {option.key: self._wins(view, option) for option in self.moving}
        found = {key: float(chance @ self.chance) for key, chance in wins.items()}
        if self.fixed:
            rest = 1.0 - sum(wins.values(), np.zeros(len(self.chance)))
            rest = np.where(rest > SLACK, rest, 0.0) * self.chance      # less is what sums of floats leave over
            best = np.argmin(list(self.totals.values()), axis=0)
            shares = np.bincount(best, rest, minlength=len(self.fixed)).tolist()
            found.update(zip(self.totals, shares, strict=True))
        return found

    def _wins(self, view: int, option: Option) -> Floats:
        """Chance that a moving option is the cheapest, in each scenario."""
        table, at = self.tables[option.key][view], []
        for axis, pair in enumerate(self._pairs(option)):
            mark = np.searchsorted(self.marks[pair], self.gaps[pair])
            first = pair[0] == option.key              # the first of a pair wins up to the gap
            table = np.cumsum(table, axis) if first else np.flip(np.cumsum(np.flip(table, axis), axis), axis)
            at.append(mark if first else mark + 1)
        won: Floats = np.cumsum(table, axis=-1)[(*at, self._last(option))]
        return won

    def _last(self, option: Option) -> Ints:
        """The side of its lines up to which a moving option is no dearer than the best fixed option, in each
        scenario."""
        if not self.fixed:
            return np.zeros(len(self.chance), dtype=np.int64)
        totals = np.array(list(self.totals.values()))
        prices = np.array([other.price for other in self.fixed])[np.argmin(totals, axis=0)]
        last: Ints = totals.min(axis=0) - self.paid[option.key] - (option.price > prices)
        return np.searchsorted(self.lines[option.key], last)

    def _above(self, view: int) -> dict[tuple[str, str], float]:
        """Chance that one option ends strictly above another, both ways round."""
        found = {}
        for a, b in combinations((*self.moving, *self.fixed), 2):
            if a.key in self.totals:
                higher, lower = self.totals[a.key] > self.totals[b.key], self.totals[a.key] < self.totals[b.key]
                chances = self.chance[higher].sum(), self.chance[lower].sum()
            else:
                mass, marks, line = self._sides(view, a, b)
                beyond, below = np.cumsum(mass[::-1])[::-1], np.cumsum(mass)
                chances = (beyond[np.searchsorted(marks, line) + 1] @ self.chance,
                           below[np.searchsorted(marks, line - 1)] @ self.chance)
            found[a.key, b.key], found[b.key, a.key] = map(float, chances)
        return found

    def _sides(self, view: int, a: Option, b: Option) -> tuple[Floats, Ints, Ints]:
        """Chance of each side of the thresholds of `a`, a moving option, against `b`: these, and the line by
        scenario."""
        if b.key in self.totals:
            axis, marks, line = -1, self.lines[a.key], self.totals[b.key] - self.paid[a.key]
        else:
            pair = a.key, b.key
            axis, marks, line = self._pairs(a).index(pair), self.marks[pair], self.gaps[pair]
        table = self.tables[a.key][view]
        return np.moveaxis(table, axis, 0).reshape(table.shape[axis], -1).sum(axis=1), marks, line

    def _pairs(self, option: Option) -> list[tuple[str, str]]:
        return [pair for pair in self.gaps if option.key in pair]


def _thresholds(lines: Sequence[Ints]) -> Ints:
    """Each line and the cent below it, in order: up to the one a place is not above it, up to the other it is below."""
    return np.unique(np.concatenate([np.zeros(0, dtype=np.int64), *lines, *(line - 1 for line in lines)]))
