"""What an option costs the firm, line by line of its scope: hours and money of the private cost book.

All of it is private; nothing here may reach a sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from sitegen.job.books import CostBook, Kit, PointCost
from sitegen.job.inputs import Inputs
from sitegen.scope.counts import Counts
from sitegen.trade.firm import FirmCost
from sitegen.trade.rounding import half_up


class CostLine(Struct, frozen=True):
    """One line of the cost: the scope item, hours of one person and money [cents], both exact."""

    key: str
    hours: Fraction
    cents: Fraction


def cost_lines(inputs: Inputs, kit: Kit, counted: Counts) -> tuple[CostLine, ...]:
    """Everything that is certain, by scope item; what is not there has no line."""
    made: dict[str, CostLine] = {}
    for key, cost, count in _parts(inputs.costs, counted):
        had = made.get(key, CostLine(key, Fraction(0), Fraction(0)))
        made[key] = CostLine(key, had.hours + cost.hours * count, had.cents + unit_cost(inputs.costs, cost) * count)
    made["permit"] = CostLine("permit", Fraction(0), Fraction(inputs.town.permit_price))
    return tuple(line for line in made.values() if line.cents or line.hours)


def _parts(costs: CostBook, counted: Counts) -> Iterator[tuple[str, PointCost, Fraction | int]]:
    for key, counts in (("list-points", counted.points), ("new-places", counted.places)):
        for kind, count in counts.items():
            yield key, costs.points[kind], count
    yield "drops", costs.drop, counted.drops
    yield "circuits", costs.feed, counted.feeds
    yield "old-dead", costs.old_circuit, counted.feeds
    yield "panel", costs.panel, counted.panel
    yield "service", costs.service, counted.service
    yield "alarms", costs.alarm, counted.alarms
    yield "splices", costs.splice, counted.splices
    yield "car-outlets", costs.car_outlet, counted.cars
    yield "holes", costs.patch, counted.patched
    yield "holes", costs.plaster_visit, counted.visits
    yield "floors", costs.set_up, counted.laid
    yield "cleaning", costs.cleaning, counted.cleaned


def firm_cost(inputs: Inputs, kit: Kit, counted: Counts, openings_a_drop: Fraction) -> FirmCost:
    """The cost as the endings read it [cents, rounded once each]: what is certain, and what each surprise adds.

    A price for every point does every point whatever is hidden, so that more old points add nothing; a blocked drop
    always does.  A point that turns up is one of any kind, with its drop and, where we close holes, its patches.
    """
    costs = inputs.costs
    fixed = half_up(sum((line.cents for line in cost_lines(inputs, kit, counted)), Fraction(0)))
    blocked = half_up(unit_cost(costs, costs.blocked_drop))
    if kit.covers == "every point":
        return FirmCost(fixed, each_blocked=blocked)
    mean = sum((unit_cost(costs, cost) for cost in costs.points.values()), Fraction(0)) / len(costs.points)
    patches = unit_cost(costs, costs.patch) * openings_a_drop if kit.closes_holes == "us" else Fraction(0)
    return FirmCost(fixed, half_up(mean + unit_cost(costs, costs.drop) + patches),
                    half_up(unit_cost(costs, costs.feed) + unit_cost(costs, costs.old_circuit)), blocked)


def unit_cost(costs: CostBook, cost: PointCost) -> Fraction:
    """What one of a thing costs [cents, exact]."""
    return costs.labour_an_hour * cost.hours + cost.material


__all__ = ["CostLine", "cost_lines", "firm_cost", "unit_cost"]
