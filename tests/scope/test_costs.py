"""What an option costs the firm: the hours of its dated plan, and money that never falls as it does more."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.build import context_of
from sitegen.dates.plan_terms import Work
from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.context import Context
from sitegen.scope.costs import cost_lines, firm_cost
from sitegen.scope.counts import Counts
from sitegen.survey.house import kit_of
from sitegen.survey.rule_sets import rule_set
from sitegen.survey.tasks import work
from tests.built import HOUSES
from tests.helpers import DEMO, JOB

OPTIONS = ("minimal-protection", "per-item", "fixed-guarantee")
BESIDES = ("splices", "car outlets")
NOT_PLANNED = ("alarms",)
"""Items whose hours the plan of days leaves out: alarms are set within the days of the devices."""


@cache
def of(job: str) -> tuple[Inputs, Context]:
    """One demo house, read and counted."""
    inputs = load(DEMO, DEMO / job, DEMO)
    return inputs, context_of(inputs, rule_set(inputs.town.code))


def planned(found: Work) -> Fraction:
    """All hours of a plan of days, crew, plasterer and cleaner together."""
    rooms = sum((Fraction(room.rough) + room.devices + room.close + sum(map(Fraction, room.coats))
                 for room in found.rooms), Fraction(0))
    return rooms + found.service + found.panel + found.cut + found.cap + found.test + found.last_cleaning


@pytest.mark.parametrize("key", OPTIONS)
@pytest.mark.parametrize("job", HOUSES)
def test_the_hours_that_cost_money_are_the_hours_that_take_days(job: str, key: str) -> None:
    """To the last fraction, what an option's cost counts is what its dated plan takes, but for alarms."""
    inputs, context = of(job)
    kit = kit_of(inputs, key)
    found = work(inputs, kit, context.dust[key], rule_set(inputs.town.code), inputs.job.lived_in)
    assert sum(line.hours for line in context.scope[key].costs if line.key not in NOT_PLANNED) == planned(found)


def with_besides() -> Inputs:
    """The demo house with a splice in each of two rooms and an outlet for two cars, in every option."""
    inputs, _ = of(JOB)
    job = inputs.job
    splice = job.findings[0].model_copy(update={"number": 9, "about": "splice", "rooms": ["Study", "Attic room"],
                                                "kinds": []})
    car = job.loads[0].model_copy(update={"what": "outlet by the drive", "is_": "car outlet", "new": True, "count": 2})
    kits = {name: kit.model_copy(update={
        "also_does": [*kit.also_does, *BESIDES],
        "prices": kit.prices and kit.prices.model_copy(update={"splice": 240_00, "car_outlet": 1_150_00})})
        for name, kit in inputs.book.kits.items()}
    return replace(inputs, job=job.model_copy(update={"findings": [*job.findings, splice], "loads": [*job.loads, car]}),
                   book=inputs.book.model_copy(update={"kits": kits}))


@pytest.mark.parametrize("key", OPTIONS)
def test_splices_and_car_outlets_cost_what_the_book_says(key: str) -> None:
    """Two boxes over splices at 3/2 hours and $38.60, two car outlets at 6 hours and $162, and both take days."""
    inputs = with_besides()
    context = context_of(inputs, rule_set(inputs.town.code))
    costs = {line.key: line for line in context.scope[key].costs}
    assert (costs["splices"].hours, costs["splices"].cents) == (3, 2 * (Fraction(3, 2) * 71_37 + 38_60))
    assert (costs["car-outlets"].hours, costs["car-outlets"].cents) == (12, 2 * (6 * 71_37 + 162_00))
    found = work(inputs, kit_of(inputs, key), context.dust[key], rule_set(inputs.town.code), inputs.job.lived_in)
    assert sum(line.hours for line in costs.values() if line.key not in NOT_PLANNED) == planned(found)
    asked = {line.key: line.amount for line in context.scope[key].lines}
    if asked:
        assert (asked["splices"], asked["car-outlets"]) == (2 * 240_00, 2 * 1_150_00)


@pytest.mark.parametrize("key", OPTIONS)
def test_what_a_kit_does_not_do_costs_and_asks_nothing(key: str) -> None:
    """A charger that is there already, and a splice that no kit boxes, stand in no line."""
    inputs = with_besides()
    there = [load.model_copy(update={"new": False}) for load in inputs.job.loads]
    kits = {name: kit.model_copy(update={"also_does": [does for does in kit.also_does if does != "splices"]})
            for name, kit in inputs.book.kits.items()}
    inputs = replace(inputs, job=inputs.job.model_copy(update={"loads": there}),
                     book=inputs.book.model_copy(update={"kits": kits}))
    one = context_of(inputs, rule_set(inputs.town.code)).scope[key]
    assert not {line.key for line in (*one.costs, *one.lines)} & {"splices", "car-outlets"}


def test_the_cost_of_an_alarm_and_of_the_permit_by_hand() -> None:
    """Seven alarms of 3/4 hours at $71.37 with $46.50 each are $700.1925; the permit costs what the town asks."""
    costs = {line.key: line for line in of(JOB)[1].scope["per-item"].costs}
    assert costs["alarms"].hours == 7 * Fraction(3, 4)
    assert costs["alarms"].cents == 7 * (Fraction(3, 4) * 71_37 + 46_50)
    assert (costs["permit"].hours, costs["permit"].cents) == (0, 185_00)


@pytest.mark.parametrize("job", HOUSES)
def test_fixed_cost_is_the_sum_of_the_lines_rounded_once(job: str) -> None:
    """The endings read the lines' exact sum, to the nearest cent."""
    inputs, context = of(job)
    for key, one in context.scope.items():
        cost = firm_cost(inputs, kit_of(inputs, key), one.counts, context.house.openings_a_drop)
        assert abs(cost.fixed - sum(line.cents for line in one.costs)) <= Fraction(1, 2)


def test_a_price_for_every_point_costs_no_more_for_old_points() -> None:
    """It does every point whatever is hidden; a list pays for each one that turns up, and both for a blocked drop."""
    inputs, context = of(JOB)
    every, listed = (firm_cost(inputs, kit_of(inputs, key), context.scope[key].counts, context.house.openings_a_drop)
                     for key in ("fixed-guarantee", "per-item"))
    assert (every.each_point, every.each_feed) == (0, 0)
    assert listed.each_point > 0
    assert listed.each_feed > 0
    assert every.each_blocked == listed.each_blocked > 0


WHOLE = ("holes", "feeds", "panel", "service", "alarms", "laid", "cleaned", "patched", "splices", "cars")


@given(st.sampled_from(WHOLE), st.integers(1, 9), st.sampled_from(OPTIONS), st.booleans())
def test_more_of_anything_never_costs_less(name: str, more: int, key: str, point: bool) -> None:
    """A count that rises, or a point more of a kind, never lowers the cost, nor what a surprise costs."""
    inputs, context = of(JOB)
    kit: Kit = kit_of(inputs, key)
    had: Counts = context.scope[key].counts
    changes: dict[str, Any] = {name: getattr(had, name) + more}
    if point:
        changes |= {"points": {**had.points, "outlet": had.points["outlet"] + more}, "drops": had.drops + more,
                    "visits": had.visits + more}
    has = replace(had, **changes)
    before, after = (firm_cost(inputs, kit, one, context.house.openings_a_drop) for one in (had, has))
    assert after.fixed >= before.fixed
    assert (after.each_point, after.each_feed, after.each_blocked) == (
        before.each_point, before.each_feed, before.each_blocked)
    lines = ({line.key: line.cents for line in cost_lines(inputs, kit, one)} for one in (had, has))
    was, now = lines
    assert all(now[key] >= cents for key, cents in was.items())
