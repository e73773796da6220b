"""What each set price earns: the price of one thing less what one of it costs the firm.

The certain part adds up: every set price of a list less its cost, times its count, is the price today and what is added
to it for certain, less the certain cost.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct

from sitegen.job.books import Kit, SetPrices
from sitegen.job.inputs import Inputs
from sitegen.scope.costs import firm_cost, unit_cost
from sitegen.scope.counts import Counts
from sitegen.trade.terms import Cents


class Earned(Struct, frozen=True):
    """One set price [cents], and what one of it costs the firm [cents, exact].

    `key`    the scope item or what may be added; `kind` the kind of point where it has a price of its own
    `count`  how many this option does for certain; None for what is added only where it turns up
    """

    key: str
    price: Cents
    cost: Fraction
    count: int | None = None
    kind: str = ""

    @property
    def each(self) -> Fraction:
        """What one earns [cents, exact]."""
        return self.price - self.cost

    @property
    def together(self) -> Fraction:
        """What all of them earn [cents, exact]; nothing where none is certain."""
        return self.each * (self.count or 0)


def earned(inputs: Inputs, kit: Kit, counted: Counts, openings_a_drop: Fraction) -> tuple[Earned, ...]:
    """Every set price of a kit that sells a list; none of a price for every point, which is no sum of them."""
    if kit.prices is None:
        return ()
    more = firm_cost(inputs, kit, counted, openings_a_drop)
    return (*_certain(inputs, kit.prices, counted),
            Earned("further-point", kit.each_point, Fraction(more.each_point)),
            Earned("further-feed", kit.each_feed, Fraction(more.each_feed)),
            Earned("blocked-drop", kit.each_blocked_drop, Fraction(more.each_blocked)))


def _certain(inputs: Inputs, prices: SetPrices, counted: Counts) -> Iterator[Earned]:
    costs = inputs.costs
    plain = {kind: count for kind, count in counted.points.items() if kind not in prices.kinds}
    yield _points(inputs, counted, "list-points", plain, prices.list_point)
    for kind, count in counted.points.items():
        if kind in prices.kinds:
            yield _points(inputs, counted, "list-points", {kind: count}, prices.kinds[kind], kind)
    yield _points(inputs, counted, "new-places", counted.places, prices.new_place)
    yield Earned("panel", prices.panel, unit_cost(costs, costs.panel), counted.panel)
    yield Earned("service", prices.service, unit_cost(costs, costs.service), counted.service)
    yield Earned("alarms", prices.alarm, unit_cost(costs, costs.alarm), counted.alarms)
    yield Earned("splices", prices.splice, unit_cost(costs, costs.splice), counted.splices)
    yield Earned("car-outlets", prices.car_outlet, unit_cost(costs, costs.car_outlet), counted.cars)
    yield Earned("set-up", prices.set_up, unit_cost(costs, costs.set_up) * counted.laid
                 + unit_cost(costs, costs.cleaning) * counted.cleaned
                 + unit_cost(costs, costs.plaster_visit) * counted.visits, 1)
    yield Earned("permit", inputs.town.permit_price, Fraction(inputs.town.permit_price), 1)


def _points(inputs: Inputs, counted: Counts, key: str, kinds: Mapping[str, int], price: Cents,
            kind: str = "") -> Earned:
    """One of a group of points by its own mix of kinds: the point, its drops, the holes that we close for these, and on
    the list its part of the new circuits and of the old ones cut dead."""
    costs, number = inputs.costs, sum(kinds.values())
    if not number:
        return Earned(key, price, Fraction(0), 0, kind)
    fished = _share_of_drops(inputs, counted, kinds)
    done = counted.all_points + counted.all_places
    holes = counted.patched * (fished / counted.drops if counted.drops else Fraction(number, done))
    whole = sum((unit_cost(costs, costs.points[one]) * count for one, count in kinds.items()), Fraction(0))
    whole += unit_cost(costs, costs.drop) * fished + unit_cost(costs, costs.patch) * holes
    if key == "list-points":
        feeds = Fraction(counted.feeds * number, counted.all_points)
        whole += (unit_cost(costs, costs.feed) + unit_cost(costs, costs.old_circuit)) * feeds
    return Earned(key, price, whole / number, number, kind)


def _share_of_drops(inputs: Inputs, counted: Counts, kinds: Mapping[str, int]) -> Fraction:
    """Drops of a group of points [drops]: their part of all that are fished, by the book's rates of each kind, since
    points in open framing need none and a group is told by kind alone."""
    rates = inputs.book.rates.drops_a_point

    def at_rates(counts: Mapping[str, int]) -> Fraction:
        return sum((rates[kind] * count for kind, count in counts.items()), Fraction(0))
    whole = at_rates(counted.points) + at_rates(counted.places)
    return counted.drops * at_rates(kinds) / whole if whole else Fraction(0)


__all__ = ["Earned", "earned"]
