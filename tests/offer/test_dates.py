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


@pytest.mark.parametrize("house", HOUSES)
def test_the_look_that_the_letter_promises_is_a_step(house: str) -> None:
    """Where the town's inspector comes before holes are closed, each room has his visit with its notice, also where
    closed holes could pass on photographs; and nothing is closed on photographs alone."""
    town = inputs_of(house).town
    assert town.looks == "before closing"
    assert "before" in town.inspection
    for option in made(house).options.values():
        for method in (option.chosen, option.other):
            kinds = [step.kind for step in method.steps]
            assert "photograph" not in kinds
            assert "inspect rough" in kinds or "inspect part" in kinds


def test_where_the_inspector_comes_at_the_end_alone_openings_are_photographed() -> None:
    """A town that passes closed holes on photographs and sends nobody before has no visit to wait for."""
    one = inputs_of("alder-lane")
    seldom = replace(one, town=one.town.model_copy(update={"covering": True, "looks": "at the end"}))
    found = dates(context_of(seldom, RULES), RULES, overlay_of(seldom))
    for key, option in found.options.items():
        kinds = [step.kind for step in option.chosen.steps]
        assert "photograph" in kinds
        assert "inspect rough" not in kinds
        assert day(option.finished) <= day(made("alder-lane").options[key].finished)


@pytest.mark.parametrize("house", [house for house in HOUSES if house != "juniper-court"])
def test_a_new_service_is_cut_released_and_connected_on_one_day(house: str) -> None:
    """The utility cuts and connects, and the inspector releases, on a day on which they work, and before night."""
    for option in made(house).options.values():
        days = [{day(step.first), day(step.last)} for step in option.chosen.steps
                if step.kind in ("utility cut", "electrodes", "service", "disconnect", "release", "reconnect")]
        assert len(days) in (5, 6)
        assert len(set.union(*days)) == 1
    assert all("service" not in [step.kind for step in option.chosen.steps]
               for option in made("juniper-court").options.values())


@pytest.mark.parametrize("house", HOUSES)
def test_a_new_service_has_its_ground_rods_and_where_the_code_asks_a_disconnect_outside(house: str) -> None:
    """The crew does both, before the inspector releases the work (NEC 250.50; 230.85 from the edition of 2023 on)."""
    one = inputs_of(house)
    for edition, comes in (("2020", 0), ("2023", 1)):
        rules = rule_set(edition)
        town = replace(one, town=one.town.model_copy(update={"code": edition}))
        for option in dates(context_of(town, rules), rules, overlay_of(town)).options.values():
            steps = {step.kind: (i, step) for i, step in enumerate(option.chosen.steps)}
            new = int("service" in steps)
            assert sum(step.kind == "electrodes" for step in option.chosen.steps) == new
            assert sum(step.kind == "disconnect" for step in option.chosen.steps) == new * comes
            for i, step in (steps[kind] for kind in ("electrodes", "disconnect") if kind in steps):
                assert step.who == "crew"
                assert i < steps["release"][0]


def test_days_in_hand_by_hand() -> None:
    """One price has its old wires dead on Tuesday 15 December 2026, one working day before Wednesday the 16th; both
    lists on Thursday the 10th, four before."""
    deadline = made("alder-lane").deadline
    assert deadline
    assert {key: figure.value for key, figure in deadline.in_hand.items()} == {
        "fixed-guarantee": 1, "per-item": 4, "minimal-protection": 4}
    assert deadline.late == {}


@pytest.mark.parametrize("house", HOUSES)
def test_an_option_is_in_hand_or_late_and_never_both(house: str) -> None:
    """Where a date was set each option stands on one side of it."""
    found = made(house)
    if found.deadline is None:
        assert house == "juniper-court"
        return
    assert found.deadline.by
    for key, option in found.options.items():
        assert (key in found.deadline.in_hand) is (day(option.dead) <= day(found.deadline.by))
        assert (key in found.deadline.late) is not (key in found.deadline.in_hand)


@pytest.mark.parametrize("house", HOUSES)
def test_a_price_for_every_point_is_late_by_blocked_drops_alone(house: str) -> None:
    """What nine houses of ten keep is no sooner than the plan, and no old point moves it."""
    option = made(house).options["fixed-guarantee"]
    assert day(option.finished_p50) == day(option.finished) <= day(option.finished_p90)


@pytest.mark.parametrize("house", HOUSES)
def test_rooms_are_dark_and_sheet_lies_within_the_plan(house: str) -> None:
    """Both end no later than the plan; a room is only called dark where a point of today is rewired."""
    rooms = inputs_of(house).job.rooms
    for option in made(house).options.values():
        if option.chosen.dark:
            assert isinstance(option.chosen.dark.rooms.value, int)
            assert isinstance(option.chosen.dark.whole.value, int)
            assert option.chosen.dark.whole.value <= option.chosen.dark.rooms.value <= len(rooms)
        sheet = option.chosen.sheet
        assert sheet
        assert day(made(house).work_starts) <= day(sheet.first) <= day(sheet.last) <= day(option.finished)


def test_hours_of_a_room_by_hand() -> None:
    """The study of the demo: four points of the list at the cost book's hours, a quarter of them after the plaster.

    Two listed outlets and two new places are 4 x 2 = 8 hours, of which 2 come last; 4 drops at 1 are 4; sheet
    and board take 1; its share of eight feeds at 7/2 hours over the ten rooms of the list is 14/5.
    """
    inputs, rooms = inputs_of("alder-lane"), context("alder-lane").dust["per-item"]
    kit = inputs.book.kits["item-2026"]
    work = tasks.work(inputs, kit, rooms, RULES, lived_in=False)
    study = next(room for room in work.rooms if room.key == "Study")
    assert study.devices == 2
    assert study.rough == 8 - 2 + 4 + 1 + Fraction(14, 5)
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
