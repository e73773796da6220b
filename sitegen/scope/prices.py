"""The price of an option that sells a list: every line of its scope times its set price."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.scope.counts import Counts
from sitegen.trade.terms import Cents


class PriceLine(Struct, frozen=True):
    """One line of a price: what, how many, at how much each [cents].

    `key` is the scope item, `kind` the kind of point where it has a price of its own.
    """

    key: str
    count: int
    each: Cents
    kind: str = ""

    @property
    def amount(self) -> Cents:
        """Count times price [cents]."""
        return self.count * self.each


def price_lines(inputs: Inputs, kit: Kit, counted: Counts) -> tuple[PriceLine, ...]:
    """Every line of the price today; what costs nothing or is not there has none.

    Raises ValueError for a kit without set prices: a price for every point is no sum of them.
    """
    if kit.prices is None:
        raise ValueError("a kit without set prices has no sum of them")
    return tuple(line for line in _lines(inputs, kit, counted) if line.amount)


def _lines(inputs: Inputs, kit: Kit, counted: Counts) -> Iterator[PriceLine]:
    prices = kit.prices
    assert prices is not None
    own = {kind: count for kind, count in counted.points.items() if kind in prices.kinds}
    yield PriceLine("list-points", counted.all_points - sum(own.values()), prices.list_point)
    for kind, count in own.items():
        yield PriceLine("list-points", count, prices.kinds[kind], kind)
    yield PriceLine("new-places", counted.places_held, prices.new_place)
    yield PriceLine("panel", counted.panel, prices.panel)
    yield PriceLine("service", counted.service, prices.service)
    yield PriceLine("alarms", counted.alarms, prices.alarm)
    yield PriceLine("splices", counted.splices, prices.splice)
    yield PriceLine("car-outlets", counted.cars, prices.car_outlet)
    yield PriceLine("set-up", 1, prices.set_up)
    yield PriceLine("permit", 1, inputs.town.permit_price)


def places_to_come(kit: Kit, counted: Counts) -> Cents:
    """What the new places come to that the house gets and this price does not hold [cents]."""
    return 0 if kit.prices is None else (counted.all_places - counted.places_held) * kit.prices.new_place


def total(lines: tuple[PriceLine, ...]) -> Cents:
    """The sum of the lines [cents]."""
    return sum(line.amount for line in lines)


__all__ = ["PriceLine", "places_to_come", "price_lines", "total"]
