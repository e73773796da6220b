"""Exact quantiles of a total and of the cases on top of it, in two readings of the places.

The first reading counts totals into bins.  With each payment for cases moved by whole bins, the bins say between
which two cents a quantile lies.  The second reading keeps the few totals that some payment carries into such a
window, and these say the cent.  Nothing is sorted but these, and no sum is rounded to a bin.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd, isqrt

import numpy as np

from sitegen.trade.places import Floats, Ints
from sitegen.trade.scenarios import Scenarios
from sitegen.trade.terms import Cents

SLACK = 1e-12
"""How far F(x) may fall short of a share: a rounding hair, and no more."""

LEAST_BINS, MOST_BINS = 2 ** 10, 2 ** 19
MOST_KEPT = 2 ** 18


class Quantiles:
    """The smallest whole cent x with F(x) >= share, for the rising `shares` of each view."""

    def __init__(self, ends: tuple[Cents, Cents], cases: Scenarios, places: int,
                 shares: Sequence[Sequence[float]]) -> None:
        self.least, self.costs, self.chances = ends[0], cases.paid[0], cases.chance
        self.shares = [np.array(view) - SLACK for view in shares]
        self.width = self._width(ends[1] - ends[0] + 1, places)
        self.aside = int(bool(np.any(self.costs % self.width)))     # a sum may lie one bin on from its parts
        self.steps = self.costs // self.width                       # bins by which each payment moves a total
        self.bins = (ends[1] - ends[0]) // self.width + 1
        self.histogram = np.zeros((len(self.shares), self.bins))
        self.kept: list[tuple[Ints, Floats]] = []

    def _width(self, spread: int, places: int) -> int:
        """Cents in a bin: few enough places in each, and whole bins in every payment where that can be had."""
        bins = min(max(LEAST_BINS, 8 * isqrt(places * len(self.costs))), MOST_BINS)
        width, step = -(-spread // bins), gcd(*self.costs.tolist())
        return next((more for more in range(width, 2 * width + 1) if step % more == 0), width)

    def count(self, totals: Ints, chances: Floats) -> None:
        """First reading: some totals, and their chances in each view."""
        at = self._bin(totals)
        first = int(at.min())
        for view, chance in zip(self.histogram, chances, strict=True):
            found = np.bincount(at - first, chance)
            view[first:first + len(found)] += found

    def only(self, total: Cents) -> list[tuple[Cents, ...]]:
        """The quantiles where one total is certain."""
        one = np.array([total]), np.ones((len(self.shares), 1))
        self.count(*one)
        self.settle()
        self.keep(*one)
        return self.found()

    def settle(self) -> None:
        """Between the readings: the bin that each quantile lies in, and the bins whose totals may be carried there."""
        self.wanted = np.zeros(self.bins, dtype=np.bool_)
        self.cdf = [np.concatenate(([0.0], np.cumsum(view))) for view in self.histogram]
        self.windows = [self._windows(cdf, shares) for cdf, shares in zip(self.cdf, self.shares, strict=True)]
        self.mass = [np.zeros((len(windows), 2 * (self.aside + 1) * self.width)) for windows in self.windows]
        for window in np.unique(np.concatenate(self.windows)):
            for near in range(-self.aside, self.aside + 1):
                at = window + near - self.steps
                self.wanted[at[(at >= 0) & (at < self.bins)]] = True

    def pick(self, totals: Ints) -> Ints:
        """Second reading: which of some totals are wanted, by their places among them."""
        return np.flatnonzero(self.wanted[self._bin(totals)])

    def keep(self, totals: Ints, chances: Floats) -> None:
        """Second reading: totals that are wanted, and their chances in each view."""
        self.kept.append((totals - self.least, chances))
        if sum(len(some) for some, _ in self.kept) > MOST_KEPT:
            self._add_up()

    def found(self) -> list[tuple[Cents, ...]]:
        """The quantiles [cents] of each view, in the order of its shares."""
        self._add_up()
        return [tuple(self._cent(int(window), share, cdf, mass) for window, share, mass in zip(*view, strict=True))
                for cdf, *view in zip(self.cdf, self.windows, self.shares, self.mass, strict=True)]

    def _add_up(self) -> None:
        """Meet the kept totals with the payments that carry them about each window, and let them go.

        In order, the totals that one payment carries there are neighbours: `counts` of them from `first` on.
        """
        if not self.kept:
            return
        totals = np.concatenate([some for some, _ in self.kept])
        chances = np.concatenate([some for _, some in self.kept], axis=1)
        self.kept.clear()
        order = np.argsort(totals, kind="stable")
        totals = totals[order]
        starts = np.concatenate(([0], np.cumsum(np.bincount(totals // self.width, minlength=self.bins))))
        for windows, chance, masses in zip(self.windows, chances, self.mass, strict=True):
            chance = chance[order]
            for window, mass in zip(windows.tolist(), masses, strict=True):
                below = window - self.aside
                first = starts.take(below - self.steps, mode="clip")
                counts = starts.take(window + self.aside + 1 - self.steps, mode="clip") - first
                at = np.arange(counts.sum()) + np.repeat(first - (np.cumsum(counts) - counts), counts)
                cents = totals[at] + np.repeat(self.costs - below * self.width, counts)
                mass += np.bincount(cents, chance[at] * np.repeat(self.chances, counts), minlength=len(mass))

    def _cent(self, window: int, share: float, cdf: Floats, mass: Floats) -> Cents:
        """The cent of a window up to which the chance reaches a share."""
        below, cents = window - self.aside, np.flatnonzero(mass)
        reached = self._reached(cdf, np.array([below - 1]))[0] + np.cumsum(mass[cents])
        nth = min(int(np.searchsorted(reached, share)), len(cents) - 1)
        return int(self.least + below * self.width + cents[nth])

    def _bin(self, totals: Ints) -> Ints:
        return (totals - self.least) // self.width

    def _reached(self, cdf: Floats, windows: Ints) -> Floats:
        """Chance of a bin up to each of `windows` when every payment moves a total by whole bins."""
        reached: Floats = cdf.take(windows[:, None] - self.steps + 1, mode="clip") @ self.chances
        return reached

    def _windows(self, cdf: Floats, shares: Floats) -> Ints:
        """The first bin up to which the chance reaches each share, all halved together."""
        low = np.full(len(shares), -1, dtype=np.int64)
        high = np.full(len(shares), self.bins - 1 + int(self.steps.max()), dtype=np.int64)
        while np.any(high - low > 1):
            middle = (low + high) // 2
            enough = self._reached(cdf, middle) >= shares
            low, high = np.where(enough, low, middle), np.where(enough, middle, high)
        return high
