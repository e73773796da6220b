"""Which inputs move the middle cost of an option most: each a tenth larger, one at a time, worked out anew."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from sitegen.build import firm_work
from sitegen.job.books import CostBook, PointCost
from sitegen.job.inputs import Inputs
from sitegen.offer.context import Context
from sitegen.scope.counts import Counts
from sitegen.scope.offered import aim_of, firm_terms
from sitegen.survey.house import belief_of
from sitegen.trade.rounding import half_up
from sitegen.trade.terms import Belief, Case, Cents, House, Spread

LARGER = Fraction(11, 10)
"""Each input a tenth larger; amounts are rounded to the cent, as a book would hold them."""

SHOWN = 3
"""How many inputs are named for each option."""


class Basis(Struct, frozen=True):
    """What the cost of an option is worked out from."""

    inputs: Inputs
    house: House
    belief: Belief


class Move(Struct, frozen=True):
    """One input, and by how much a tenth more of it moves the middle cost [cents]."""

    what: str
    change: Cents


def moves(context: Context) -> dict[str, tuple[Move, ...]]:
    """For each option every input that moves its middle cost, the one that moves it most first."""
    basis = Basis(context.inputs, replace(context.house, options=()), belief_of(context.inputs.company))
    return {key: _moves(basis, key, one.counts) for key, one in context.scope.items()}


def _moves(basis: Basis, key: str, counted: Counts) -> tuple[Move, ...]:
    today = middle(basis, key, counted)
    found = [Move(what, middle(change(basis), key, counted) - today) for what, change in CHANGES.items()]
    return tuple(sorted((one for one in found if one.change), key=lambda one: -abs(one.change)))


def middle(basis: Basis, key: str, counted: Counts) -> Cents:
    """The middle cost of an option [cents].

    What is certain moves every house alike, so that only what surprises cost is worked out over the houses; changes
    that leave it as it is share one working out.
    """
    here, terms = firm_terms(basis.inputs, basis.house, key, counted, 0)
    alone = replace(terms, cost=replace(terms.cost, fixed=0))
    return terms.cost.fixed + firm_work(basis.belief)(here, alone, aim_of(basis.inputs)).cost[1]


def _costs(basis: Basis, **changed: object) -> Basis:
    return replace(basis, inputs=replace(basis.inputs, costs=basis.inputs.costs.model_copy(update=changed)))


def _labour(basis: Basis) -> Basis:
    return _costs(basis, labour_an_hour=half_up(basis.inputs.costs.labour_an_hour * LARGER))


def _slower(cost: PointCost) -> PointCost:
    return cost.model_copy(update={"hours": cost.hours * LARGER})


def _dearer(cost: PointCost) -> PointCost:
    return cost.model_copy(update={"material": half_up(cost.material * LARGER)})


def _hours(part: str, basis: Basis) -> Basis:
    return _costs(basis, **{part: _slower(getattr(basis.inputs.costs, part))})


def _hours_of_points(basis: Basis) -> Basis:
    return _costs(basis, points={kind: _slower(cost) for kind, cost in basis.inputs.costs.points.items()})


def _material(basis: Basis) -> Basis:
    costs = basis.inputs.costs
    parts = {name: _dearer(cost) for name in CostBook.model_fields
             if isinstance(cost := getattr(costs, name), PointCost)}
    return _costs(basis, points={kind: _dearer(cost) for kind, cost in costs.points.items()}, **parts)


def _permit(basis: Basis) -> Basis:
    town = basis.inputs.town
    dearer = town.model_copy(update={"permit_price": half_up(town.permit_price * LARGER)})
    return replace(basis, inputs=replace(basis.inputs, town=dearer))


def _blocked(basis: Basis) -> Basis:
    return replace(basis, belief=replace(basis.belief, blocked_a=basis.belief.blocked_a * LARGER))


def _old_feeds(basis: Basis) -> Basis:
    feeds = basis.belief.feeds
    return replace(basis, belief=replace(basis.belief, feeds=replace(feeds, old=feeds.old * LARGER)))


def _cases(change: Callable[[Case], Case], basis: Basis) -> Basis:
    return replace(basis, house=replace(basis.house, cases=tuple(change(case) for case in basis.house.cases)))


def _dearer_case(case: Case) -> Case:
    cost = case.cost
    return replace(case, cost=Spread(*(half_up(cents * LARGER) for cents in (cost.low, cost.usual, cost.high))))


def _likelier_case(case: Case) -> Case:
    return replace(case, chance=min(Fraction(1), case.chance * LARGER))


CHANGES: dict[str, Callable[[Basis], Basis]] = {
    "Labor an hour": _labour, "Hours of a point": _hours_of_points,
    "Hours of a drop": partial(_hours, "drop"), "Hours of a blocked drop": partial(_hours, "blocked_drop"),
    "Hours of a patch": partial(_hours, "patch"), "Hours of a visit to plaster": partial(_hours, "plaster_visit"),
    "Hours of a new run": partial(_hours, "feed"), "Hours of an old circuit": partial(_hours, "old_circuit"),
    "Hours of a panel": partial(_hours, "panel"), "Hours of a service": partial(_hours, "service"),
    "Hours of an alarm": partial(_hours, "alarm"), "Hours of a splice": partial(_hours, "splice"),
    "Hours of a car outlet": partial(_hours, "car_outlet"),
    "Hours of laying a room": partial(_hours, "set_up"),
    "Hours of cleaning a room": partial(_hours, "cleaning"), "All material": _material, "Permit": _permit,
    "Blocked drops, as judged": _blocked, "Old feeds, as judged": _old_feeds,
    "Cost of the cases": partial(_cases, _dearer_case), "Chance of the cases": partial(_cases, _likelier_case)}
"""Every input that is made larger, by its name."""

__all__ = ["CHANGES", "LARGER", "SHOWN", "Basis", "Move", "middle", "moves"]
