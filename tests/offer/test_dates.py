"""The dates of an offer, from the demo houses: what the start waits for, two dates for each option, and what turns
up."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen.build import context_of
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.context import Context
from sitegen.offer.dates import Dates, dates
from sitegen.offer.setting import overlay_of
from sitegen.survey import tasks
from sitegen.survey.rule_sets import rule_set
from tests.built import HOUSES
from tests.helpers import DEMO

RULES = rule_set("2023")


@lru_cache
def inputs_of(house: str) -> Inputs:
    return load(DEMO, DEMO / house, Path.cwd())


@lru_cache
def context(house: str) -> Context:
    return context_of(inputs_of(house), RULES)


@lru_cache
def made(house: str) -> Dates:
    return dates(context(house), RULES, overlay_of(inputs_of(house)))


def day(figure: object) -> date:
    value = getattr(figure, "value")  # noqa: B009
    assert isinstance(value, date)
    return value


def test_the_start_of_a_house_by_hand() -> None:
    """Signed on Monday 23 November 2026, three business days end on Friday 27, for Thanksgiving is none; then two
    working days of notice to the utility, so work can start on Wednesday 2 December."""
    found = made("alder-lane")
    assert day(found.cancel_until) == date(2026, 11, 27)
    assert day(found.earliest_start) == date(2026, 12, 2)
    assert found.waits_on.key == "utility"


def test_what_was_paid_goes_back_by_a_day_that_is_said() -> None:
    """Cancelled on Friday 27 November 2026, the tenth business day after, Saturdays too, is Wednesday 9 December."""
    assert day(made("alder-lane").refund_by) == date(2026, 12, 9)


@pytest.mark.parametrize("house", HOUSES)
def test_the_longest_wait_sets_the_start(house: str) -> None:
    """Every wait is over before the earliest start, one of them is named as the longest, and work starts no sooner."""
    found = made(house)
    assert all(day(wait.over) < day(found.earliest_start) for wait in found.waits)
    assert sum(wait.longest for wait in found.waits) == 1
    assert day(found.waits_on.over) == max(day(wait.over) for wait in found.waits)
    assert day(found.work_starts) >= day(found.earliest_start)


@pytest.mark.parametrize("house", HOUSES)
def test_old_wires_are_dead_before_all_is_finished(house: str) -> None:
    """Both dates stand for each option and each method, the first before the second, and neither before the start."""
    found = made(house)
    for option in found.options.values():
        for method in (option.chosen, option.other):
            assert day(found.work_starts) <= day(method.dead) < day(method.finished)
            assert day(method.finished) == max(day(step.last) for step in method.steps)
        assert {option.chosen.key, option.other.key} == {"empty", "lived-in"}
        assert option.chosen.key == ("lived-in" if found.lived_in else "empty")


@pytest.mark.parametrize("house", HOUSES)
def test_what_turns_up_never_brings_a_date_forward(house: str) -> None:
    """The plan with the middle of what is hidden ends no sooner than the plan, and that of 1 house in 10 no sooner."""
    for option in made(house).options.values():
        assert day(option.finished) <= day(option.finished_p50) <= day(option.finished_p90)
        assert day(option.dead) <= day(option.dead_p50) <= day(option.dead_p90)


@pytest.mark.parametrize("house", HOUSES)
def test_an_empty_house_is_done_no_later_than_one_lived_in(house: str) -> None:
    """The plan of the empty house is the shorter one, option by option (common practice, no source)."""
    for option in made(house).options.values():
        both = {method.key: day(method.finished) for method in (option.chosen, option.other)}
        assert both["empty"] <= both["lived-in"]


@pytest.mark.parametrize("house", HOUSES)
def test_an_extra_is_chosen_before_the_step_that_closes_it(house: str) -> None:
    """The last day for an extra is a working day of the firm before work on that step begins in any option."""
    found, closed = made(house), inputs_of(house).company.closed
    for extra in inputs_of(house).book.extras:
        until = day(found.choose_by[extra.key])
        assert until.weekday() < 5
        assert until not in closed
        if extra.before in ("panel", "rough", "devices", "clean last"):
            kind = extra.before
            firsts = [day(step.first) for option in found.options.values() for step in option.chosen.steps
                      if step.kind == kind]
            every = [day(step.first) for option in found.options.values() for step in option.chosen.steps]
            assert until < min(firsts or every)         # where the panel stays, no step is the panel's


def test_an_extra_before_a_step_that_no_option_takes_is_chosen_before_the_next() -> None:
    """Where no hour of a point comes after the plaster there is no last visit, and a dimmer is chosen before the last
    cleaning."""
    one = inputs_of("alder-lane")
    none_after = replace(one, costs=one.costs.model_copy(update={"after_plaster": Fraction(0)}))
    found = dates(context_of(none_after, RULES), RULES, overlay_of(none_after))
    kinds = {step.kind for option in found.options.values() for step in option.chosen.steps}
    assert "devices" not in kinds
    cleaning = min(day(step.first) for option in found.options.values() for step in option.chosen.steps
                   if step.kind == "clean last")
    assert day(found.choose_by["dimmer"]) == day(found.choose_by["dust-wipes"]) < cleaning


def test_nothing_is_closed_before_it_is_inspected() -> None:
    """Where the town's inspector must see the cables, no coat of plaster comes before his visit to those rooms."""
    for option in made("spindle-row").options.values():
        for step in option.chosen.steps:
            if step.kind in ("base", "finish", "close"):
                seen = [one for one in option.chosen.steps if one.kind.startswith("inspect")
                        and one.rooms == step.rooms]
                assert seen
                assert all(day(one.last) < day(step.first) for one in seen)


def test_hours_of_a_room_by_hand() -> None:
    """The study of the demo: four points of the list at the cost book's hours, a quarter of them after the plaster.

    Two listed outlets and two new places are 4 x 5/4 = 5 hours, of which 5/4 come last; 4 drops at 3/4 are 3; sheet
    and board take 1; its share of eight feeds at 7/2 hours over the ten rooms of the list is 14/5.
    """
    inputs, rooms = inputs_of("alder-lane"), context("alder-lane").dust["per-item"]
    kit = inputs.book.kits["item-2026"]
    work = tasks.work(inputs, kit, rooms, RULES, lived_in=False)
    study = next(room for room in work.rooms if room.key == "Study")
    assert study.devices == Fraction(5, 4)
    assert study.rough == 5 - Fraction(5, 4) + 3 + 1 + Fraction(14, 5)
    assert study.close == 0
    assert len(study.coats) == 2


def test_more_people_never_end_later() -> None:
    """A larger crew brings no date back."""
    one = inputs_of("alder-lane")
    more = replace(one, costs=one.costs.model_copy(update={"people": one.costs.people + 1}))
    found = dates(context_of(more, RULES), RULES, overlay_of(more))
    for key, option in found.options.items():
        assert day(option.finished) <= day(made("alder-lane").options[key].finished)


def test_a_later_start_never_brings_a_date_forward() -> None:
    """Every date of every plan moves back or stays when work starts later."""
    one = inputs_of("spindle-row")
    start = one.job.start.model_copy(update={"work_starts": date(2027, 1, 18)})
    late = replace(one, job=one.job.model_copy(update={"start": start}))
    found = dates(context_of(late, RULES), RULES, overlay_of(late))
    for key, option in found.options.items():
        before = made("spindle-row").options[key]
        assert day(option.dead) >= day(before.dead)
        assert day(option.finished) >= day(before.finished)
