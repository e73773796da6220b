"""What an option costs the firm, worked out over the same hidden houses as what it costs the homeowner.

The firm's cost is one more sum over the same places and the same cases (`endings`): fixed, so much a point, a feed and
a blocked drop.  What the homeowner pays for additions is taken off it, held to the option's cap, so that what is left
is what the price must cover; the margin is the price less that.  Loads numpy, as `endings` does.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from sitegen.trade.blocked import kinds_of
from sitegen.trade.endings import Line, read, size_of
from sitegen.trade.feeds import hidden_points
from sitegen.trade.firm import LOSSES, Aim, FirmCost, FirmEnding, FirmTerms, proposed
from sitegen.trade.places import Block, Ints, Places, lay_out
from sitegen.trade.scenarios import Scenarios, merged, sums_paid
from sitegen.trade.terms import Belief, Case, Cents, House, Option
from sitegen.trade.worked import three

FREE = Option("", 0, False)
"""An option that charges nothing, to read the bare cost with."""


class Net(Struct, frozen=True):
    """What a price must cover [cents]: cost less what is charged for additions, which the cap holds.

    `start`  fixed cost.  Shape: (1, pairs).  `cost`, `charge`  by points and feeds.  Shape: (pairs,)
    `a_drop`, `charged`  for each blocked drop
    """

    start: Ints
    cost: Ints
    charge: Ints
    a_drop: Cents
    charged: Cents
    cap: Cents | None

    def more(self, block: Block) -> Ints:
        """What surprises cost at each place, less what is charged for them [cents].  Shape: (places,)."""
        cost = block.spread(self.cost) + self.a_drop * block.blocked
        return cost - self._held(block.spread(self.charge) + self.charged * block.blocked)

    def ends(self, lengths: Ints) -> tuple[Ints, Ints]:
        """Bounds of each row [cents]: the cost at its ends, less the most and the least that is charged there."""
        last = lengths - 1
        costs = self.cost, self.cost + self.a_drop * last
        charges = self._held(self.charge), self._held(self.charge + self.charged * last)
        return (self.start + np.minimum(*costs) - np.maximum(*charges),
                self.start + np.maximum(*costs) - np.minimum(*charges))

    def _held(self, cents: Ints) -> Ints:
        return cents if self.cap is None else np.minimum(cents, self.cap)


def firm_ending(house: House, belief: Belief, terms: FirmTerms, aim: Aim) -> FirmEnding:
    """What one option comes to for the firm.

    Parameters
    ----------
    house : House
        Feeds, walls, drops and cases [points, drops, cents]; its own options and its tracing are not read.
    belief : Belief
        The firm's judgement of what nobody has seen.
    terms : FirmTerms
        What the option costs, what is charged, and its price [cents].
    aim : Aim
        How a price is proposed where `terms` has none.

    Returns
    -------
    FirmEnding
        Cost, margin, the chance of losing, and the prices that lose in so many houses [cents, chance].

    Raises
    ------
    TooLarge
        For a house over the budget of `sizes`.

    Notes
    -----
    Quantiles and cases are those of `endings.work_out`; the firm pays the cases that the homeowner does not, and of
    the homeowner's what passes the cap.
    """
    size_of(house, belief).within()
    places = lay_out(house, [hidden_points(house.feeds, belief.feeds)], kinds_of(house, belief)).any_kind()
    cases = firm_pays(house.cases, terms.option)
    shares = (0.1, 0.5, 0.9, *(1 - loss for loss in LOSSES), 1 - float(aim.loses_at_most))
    rising = tuple(sorted(shares))
    bare = Line(net(places, terms.cost, FREE), places, cases, [(0.1, 0.5, 0.9)])
    line = Line(net(places, terms.cost, terms.option), places, cases, [rising])
    read(places, {"cost": bare, "net": line})
    found = dict(zip(rising, line.found[0], strict=True))
    middle, limit = found[0.5], found[shares[-1]]
    price = proposed(limit, middle, aim) if terms.price is None else terms.price
    return FirmEnding(three(bare.found[0]), (price - found[0.9], price - middle, price - found[0.1]),
                      above(places, line, cases, price), tuple(found[1 - loss] for loss in LOSSES), limit)


def net(places: Places, cost: FirmCost, option: Option) -> Net:
    """What the price must cover at every place [cents]."""
    def by_pair(point: Cents, feed: Cents) -> Ints:
        return point * places.points + feed * places.feeds
    charges = FREE if option.covers_all else option
    return Net(np.full((1, len(places.points)), cost.fixed, dtype=np.int64), by_pair(cost.each_point, cost.each_feed),
               by_pair(charges.each_point, charges.each_feed), cost.each_blocked, charges.each_blocked,
               charges.added_cap)


def firm_pays(cases: Sequence[Case], option: Option) -> Scenarios:
    """What the firm pays for cases [cents]: those that are not the homeowner's, and what passes the homeowner's cap.

    Shape of `paid`: (1, scenarios).
    """
    ours = sums_paid(cases, (frozenset(case.key for case in cases if case.key not in option.pays_cases), None))
    if option.case_cap is None:
        return ours
    theirs = sums_paid(cases, (option.pays_cases, None))
    over = np.maximum(theirs.paid[0] - option.case_cap, 0)
    return merged(np.outer(ours.chance, theirs.chance).ravel(), np.add.outer(ours.paid[0], over).reshape(1, -1))


def above(places: Places, line: Line, cases: Scenarios, price: Cents) -> float:
    """Chance that what the price must cover is more than the price."""
    order = np.argsort(cases.paid[0])
    paid, beyond = cases.paid[0][order], np.append(np.cumsum(cases.chance[order][::-1])[::-1], 0.0)
    lost = 0.0
    for block in places.blocks(2 ** 17):
        for kind, row in enumerate(places.chances):
            totals = line.totals.more(block) + block.spread(line.totals.start[kind])
            lost += float((block.weight[0] * row[block.row]) @ beyond[np.searchsorted(paid, price - totals, "right")])
    return lost


__all__ = ["Net", "above", "firm_ending", "firm_pays", "net"]
