"""Load calculations worked out by others: Annex D, quizzes, city rules."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from sitegen.rules.read import given
from sitegen.trade.load_parts import (
    Demand,
    Dwelling,
    Load,
    LoadRule,
    Step,
    cooking_demand,
    lighting_demand,
    rating,
)
from sitegen.trade.service_load import (
    existing,
    measured,
    neutral,
    optional,
    service_duties,
    standard,
)
from sitegen.trade.two_family import by_share, together
from tests.published.rows import Row, rows


def loads(rows_of: list[list[Any]]) -> tuple[Load, ...]:
    return tuple(Load(what, va, kind, volts) for what, kind, va, volts in rows_of)


def demand(rule: LoadRule, which: str, facts: dict[str, Any]) -> Demand:
    """The demand that a row names."""
    house = Dwelling(facts["area"], loads(facts["loads"]))
    made: dict[str, Callable[[], Demand]] = {
        "standard": lambda: standard(rule, house), "optional": lambda: optional(rule, house),
        "neutral": lambda: neutral(rule, house), "existing": lambda: existing(rule, house, new_hvac=True),
        "existing A": lambda: existing(rule, house, new_hvac=False)}
    return made[which]()


def of_demand(rule: LoadRule, of: str, facts: dict[str, Any]) -> object:
    """The total of a demand, or what stands behind the comma: a line, amperes, the rating."""
    which, _, part = of.partition(", ")
    found = demand(rule, which, facts)
    if part == "printed amperes":
        return found.printed
    if part == "rating":
        return rating(rule, found.amperes).amperes
    if part == "tiers":
        return (found.step("first tier").va or 0) + (found.step("the rest").va or 0)
    if not part:
        return found.total
    step = found.step(part)
    return step.connected if step.va is None else step.va


def two(facts: dict[str, Any]) -> tuple[Dwelling, Dwelling]:
    """Two dwellings alike."""
    one = Dwelling(facts["area"], loads(facts["loads"]))
    return one, one


def three_alike(rule: LoadRule, facts: dict[str, Any]) -> Fraction:
    """Their load by 220.85."""
    found = by_share(rule, two(facts), 2 * facts["area"], ())
    assert found is not None
    return found.total


def result(rule: LoadRule, row: Row) -> object:
    """What our functions give for a row."""
    facts, of = row.given, row.of
    others: dict[str, Callable[[], object]] = {
        "lighting demand": lambda: lighting_demand(rule, facts["va"]),
        "cooking": lambda: cooking_demand(rule, facts["nameplates"]),
        "printed amperes": lambda: Demand("", (Step("", Fraction(facts["va"]), Fraction(facts["va"]), ""),),
                                          rule.volts).printed,
        "measured": lambda: measured(rule, facts["peak"], loads(facts["new"]), "year").total,
        "duties": lambda: list(service_duties(rule, replaced=True)),
        "conductors to two": lambda: [rating(rule, facts["rating"], False).copper,
                                      rating(rule, facts["rating"], False).aluminium],
        "three alike": lambda: three_alike(rule, facts),
        "fixed of two": lambda: together(rule, two(facts), 2 * facts["area"], ()).step("fixed appliances").va,
        "conductors": lambda: [rating(rule, facts["rating"]).copper, rating(rule, facts["rating"]).aluminium]}
    return others[of]() if of in others else of_demand(rule, of, facts)


@pytest.mark.parametrize("row", list(rows("service-load")))
def test_a_load_worked_out_by_others(row: Row) -> None:
    """Our figure is the published one, exact unless it was printed rounded."""
    found = result(given(LoadRule, "load", row.given.get("edition", "2017")), row)
    if isinstance(row.gives, list):
        assert found == row.gives
        return
    assert isinstance(found, int | Fraction)
    assert abs(found - Fraction(row.gives)) <= Fraction(row.within or 0)
