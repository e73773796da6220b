"""What is paid when, on the demo houses: never ahead of the work, the last when all is finished."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from msgspec.structs import replace

from sitegen.build import context_of, offer_from
from sitegen.figure import day_of, int_of
from sitegen.job.load import load
from sitegen.scope.progress import parts_done
from sitegen.survey.house import kit_of
from sitegen.survey.rule_sets import rule_set
from tests.built import HOUSES, offer
from tests.helpers import DEMO


@pytest.mark.parametrize("house", HOUSES)
def test_the_payments_come_to_the_price_and_follow_the_plan(house: str) -> None:
    """To the cent, in the order of the plan's days; the last is due not before the inspector has passed the work, the
    last cleaning is done and its check has passed."""
    found = offer(house)
    for option in found.outcome.options:
        due = found.paying[option.key].due
        assert sum(int_of(one.amount) for one in due) == int_of(option.price)
        days = [one.day.value for one in due if one.day is not None]
        assert days == sorted(days)
        assert due[-1].after == "all finished"
        ends = [day_of(step.last) for step in found.dates.options[option.key].chosen.steps
                if step.kind in ("inspect final", "clean last", "verify")]
        assert due[-1].day is not None
        assert day_of(due[-1].day) == max(ends) == day_of(found.dates.options[option.key].finished)


@pytest.mark.parametrize("house", HOUSES)
def test_no_payment_runs_ahead_of_the_work_by_the_cost_book(house: str) -> None:
    """By each step no larger part of the price is paid than the part of the cost that is done by then, by the method
    of the house."""
    inputs = load(DEMO, DEMO / house, DEMO)
    scope = context_of(inputs, rule_set(inputs.town.code)).scope
    for key, one in scope.items():
        done = parts_done(one.costs, kit_of(inputs, key), inputs.costs.after_plaster, inputs.job.lived_in)
        paid, price = 0, one.priced.price
        for due in offer(house).paying[key].due:
            paid += int_of(due.amount)
            assert paid <= done[due.after] * price


def test_a_job_may_have_payments_of_its_own() -> None:
    """Those of one option alone, with their source in the job file; every other option keeps its kit's."""
    inputs = load(DEMO, DEMO / "alder-lane", DEMO)
    kit = inputs.book.kits["one-2026"].payments
    own = kit.model_copy(update={"after": {"old wires dead": Fraction(1, 2)}, "held_to_the_end": Fraction(1, 2)})
    rows = [row.model_copy(update={"payments": own}) if row.kit == "one-2026" else row for row in inputs.job.options]
    found = offer_from(replace(inputs, job=inputs.job.model_copy(update={"options": rows})))
    due = found.paying["fixed-guarantee"].due
    assert [one.after for one in due] == ["old wires dead", "all finished"]
    assert int_of(due[0].amount) == int_of(due[1].amount) == 22_250_00
    assert due[0].amount.source.kind == found.terms["fixed-guarantee"].held.source.kind == "survey"
    assert found.terms["fixed-guarantee"].held.value == Fraction(1, 2)
    for key in ("per-item", "minimal-protection"):
        assert found.paying[key].due == offer("alder-lane").paying[key].due


def test_payments_by_hand() -> None:
    """Of $44,500 sixty of a hundred are $26,700, fifteen are $6,675 and 25 are $11,125 (invented prices)."""
    due = offer("alder-lane").paying["fixed-guarantee"].due
    assert [(one.after, int_of(one.amount)) for one in due] == [
        ("old wires dead", 26_700_00), ("holes closed", 6_675_00), ("all finished", 11_125_00)]
    assert next(one.day.value for one in due if one.day) == date(2026, 12, 15)
