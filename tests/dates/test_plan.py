"""The dated plan: order of steps, what never moves forward, and empty against lived in."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.dates import plan as engine
from sitegen.dates.plan import days_of, plan
from sitegen.dates.plan_terms import (
    Extra,
    Kind,
    Method,
    People,
    Plan,
    RoomHours,
    Waits,
    Who,
    Work,
)
from sitegen.dates.waits import Wait, longest_wait, wait_over
from sitegen.dates.working_days import works_on

COVERS = frozenset({Kind.CLOSE, Kind.SCRATCH, Kind.BASE, Kind.BROWN, Kind.FINISH})
"""Steps that cover what an inspector has to see."""

MONDAY = date(2026, 3, 2)
HOURS = st.fractions(0, 40, max_denominator=4)
SOME = st.fractions(1, 40, max_denominator=4)
FREE = frozenset(MONDAY + timedelta(i) for i in (4, 7, 16, 17, 40))
PEOPLE = st.builds(People, st.sampled_from((8, 16, 24)), st.just(8), st.sampled_from((8, 16)),
                   st.sampled_from((frozenset(), FREE)), st.sampled_from((frozenset(), FREE)))
ROOMS = st.lists(st.tuples(SOME, HOURS, HOURS, HOURS, HOURS), min_size=1, max_size=7).map(
    lambda all_of: tuple(RoomHours(f"room {i}", *hours[:3], hours[3:]) for i, hours in enumerate(all_of)))
WORK = st.builds(Work, ROOMS, HOURS, SOME, HOURS, SOME, SOME, SOME, st.sampled_from((0, 10)))
WAITS = st.builds(Waits, st.integers(0, 5), st.integers(0, 3), st.integers(0, 9), st.just(30))
METHOD = st.builds(Method, st.booleans(), st.integers(1, 4), st.booleans(), st.booleans(),
                   st.just({"panel": 6, "cut": 2}))
EXTRA = st.builds(Extra, HOURS, HOURS, HOURS, HOURS, HOURS, HOURS)
STARTS = st.dates(MONDAY, MONDAY + timedelta(60))

TWO = People(16, 8, 16)
HOUSE = Work(tuple(RoomHours(f"room {i}", 12, 3, 2, (2, 2)) for i in range(6)), 16, 4, 2, 3, 16, 4)
USUAL = Waits(notice=2, between_coats=1, cure=2, paint=30)
EMPTY = Method(False, 2, True, False, {"panel": 6, "cut": 2})
LIVED_IN = replace(EMPTY, lived_in=True)


def kinds(made: Plan) -> list[str]:
    return [step.kind.value for step in made.steps]


def ends(made: Plan) -> dict[tuple[Kind, tuple[str, ...]], tuple[date, date]]:
    return {(step.kind, step.rooms): (step.first, step.last) for step in made.steps}


def test_an_empty_house_in_dates_worked_by_hand() -> None:
    """72 hours of opening, 16 of panel and 9 at the old wires fill 6 days and 1 hour of 16-hour days; and so on."""
    made = plan(MONDAY, HOUSE, TWO, USUAL, EMPTY)
    assert [(step.kind.value, step.first.isoformat()[5:], step.last.isoformat()[5:]) for step in made.steps] == [
        ("rough", "03-02", "03-06"), ("panel", "03-06", "03-09"), ("cut", "03-09", "03-09"),
        ("cap", "03-09", "03-09"), ("test dead", "03-09", "03-10"), ("inspect rough", "03-12", "03-12"),
        ("close", "03-13", "03-13"), ("base", "03-16", "03-17"), ("finish", "03-18", "03-19"),
        ("dry", "03-20", "03-21"), ("devices", "03-23", "03-24"), ("inspect final", "03-26", "03-26"),
        ("clean last", "03-27", "03-27"), ("verify", "03-27", "03-27")]
    assert (made.dead, made.finished, made.paint) == (date(2026, 3, 10), date(2026, 3, 27), date(2026, 4, 18))
    assert made.crew_days == 7 + 1 + 2 + 1
    assert made.power_off == {date(2026, 3, 6): 6, date(2026, 3, 9): 8}


def test_a_lived_in_house_goes_group_by_group() -> None:
    """Three groups of two rooms: each opened, inspected, closed, plastered, set and cleaned; old wires at the end."""
    made = plan(MONDAY, HOUSE, TWO, USUAL, LIVED_IN)
    count = Counter(kinds(made))
    assert [count[kind] for kind in ("rough", "inspect part", "close", "base", "finish", "devices", "clean rooms")] \
        == [3] * 7
    assert count["inspect rough"] == 0
    assert kinds(made)[0] == "panel"
    assert kinds(made)[-6:] == ["cut", "cap", "test dead", "inspect final", "clean last", "verify"]
    assert {step.rooms for step in made.steps if step.kind == Kind.ROUGH} == {
        ("room 0", "room 1"), ("room 2", "room 3"), ("room 4", "room 5")}


def test_the_next_group_opens_when_the_last_is_plastered() -> None:
    """No two groups of rooms stand open at once."""
    made = ends(plan(MONDAY, HOUSE, TWO, USUAL, LIVED_IN))
    for i in (0, 2):
        this, following = (f"room {i}", f"room {i + 1}"), (f"room {i + 2}", f"room {i + 3}")
        assert made[Kind.FINISH, this][1] < made[Kind.ROUGH, following][0]


@settings(max_examples=40)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD)
def test_nothing_is_covered_before_its_inspection(start: date, work: Work, people: People, waits: Waits,
                                                  method: Method) -> None:
    """Every closing and coat comes after the inspection of just those rooms, or after its photographs."""
    made = plan(start, work, people, waits, method)
    seen: set[str] = set()
    for step in made.steps:
        if step.kind in (Kind.INSPECT_PART, Kind.INSPECT_ROUGH, Kind.PHOTOGRAPH):
            opened = [one.last for one in made.steps if one.kind == Kind.ROUGH and one.rooms == step.rooms]
            assert max(opened) <= step.first
            assert method.by_photographs or max(opened) < step.first
            covers = [one.first for one in made.steps if one.kind in COVERS and one.rooms == step.rooms]
            assert all(step.last <= day if method.by_photographs else step.last < day for day in covers)
            seen |= set(step.rooms)
        if step.kind in COVERS:
            assert set(step.rooms) <= seen
            assert method.closes
    assert seen == {one.key for one in work.rooms}


@settings(max_examples=40)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD)
def test_order_at_the_old_wires_and_at_the_end(start: date, work: Work, people: People, waits: Waits,
                                               method: Method) -> None:
    """Cut, capped, tested dead; then no step of old wires; final inspection, last cleaning and verification end it."""
    made = plan(start, work, people, waits, method)
    names = kinds(made)
    old = [name for name in names if name in ("cut", "cap", "test dead")]
    assert old == (["cut", "cap", "test dead"] if work.cap else ["cut", "test dead"])
    assert made.dead == next(step.last for step in made.steps if step.kind == Kind.TEST_DEAD)
    assert names[-3:] == ["inspect final", "clean last", "verify"]
    final = made.steps[-3]
    assert all(step.last < final.first for step in made.steps if step.kind in (Kind.DEVICES, Kind.TEST_DEAD))
    assert made.finished == max(step.last for step in made.steps)
    assert made.dead < made.finished


@settings(max_examples=40)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD)
def test_people_work_on_working_days_and_one_step_follows_another(start: date, work: Work, people: People,
                                                                  waits: Waits, method: Method) -> None:
    """All but drying starts and ends on a working day of the firm, an inspection on one of the office too."""
    made = plan(start, work, people, waits, method)
    for step in made.steps:
        assert step.first <= step.last
        if step.who != Who.NOBODY:
            assert works_on(step.first, people.closed)
            assert works_on(step.last, people.closed)
        if step.who in (Who.INSPECTOR, Who.UTILITY):
            assert works_on(step.first, people.office_closed)
    crew_hours = work.service + work.panel + work.cut + work.cap + work.test + sum(
        one.rough + one.devices + (one.close if method.closes else 0) for one in work.rooms)
    assert made.crew_days * people.crew_day >= crew_hours


@settings(max_examples=40)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD)
def test_cure_is_counted_in_calendar_days(start: date, work: Work, people: People, waits: Waits,
                                          method: Method) -> None:
    """Between the last coat in a room and its plates lie at least `cure` whole days; paint comes `paint` days on."""
    made = plan(start, work, people, waits, method)
    found = ends(made)
    for step in made.steps:
        if step.kind == Kind.FINISH and (Kind.DEVICES, step.rooms) in found:
            assert (found[Kind.DEVICES, step.rooms][0] - step.last).days > waits.cure
    coats = [step.last for step in made.steps if step.who == Who.PLASTERER]
    assert made.paint == (max(coats) + timedelta(30) if coats else None)


@settings(max_examples=50)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD, EXTRA)
def test_what_turns_up_never_brings_a_date_forward(start: date, work: Work, people: People, waits: Waits,
                                                   method: Method, extra: Extra) -> None:
    """Every step of the plan without it stands in the plan with it, on the same days or later."""
    base, more = plan(start, work, people, waits, method), plan(start, work, people, waits, method, extra)
    later = ends(more)
    for key, (first, last) in ends(base).items():
        assert first <= later[key][0]
        assert last <= later[key][1]
    assert base.dead <= more.dead
    assert base.finished <= more.finished
    assert base.paint is None or base.paint <= (more.paint or base.paint)


@settings(max_examples=40)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD, st.integers(0, 6), SOME)
def test_more_hours_in_one_room_never_bring_a_date_forward(start: date, work: Work, people: People, waits: Waits,
                                                           method: Method, which: int, hours: Fraction) -> None:
    """Also when what turned up is spread over the rooms."""
    i, extra = which % len(work.rooms), Extra(points=5, coat=3)
    rooms = list(work.rooms)
    rooms[i] = replace(rooms[i], rough=rooms[i].rough + hours, coats=(rooms[i].coats[0] + hours, rooms[i].coats[1]))
    base = plan(start, work, people, waits, method, extra)
    more = ends(plan(start, replace(work, rooms=tuple(rooms)), people, waits, method, extra))
    assert all(days[0] <= more[key][0] and days[1] <= more[key][1] for key, days in ends(base).items())


@settings(max_examples=40)
@over(STARTS, STARTS, WORK, PEOPLE, WAITS, METHOD)
def test_a_later_start_never_brings_a_date_forward(one: date, other: date, work: Work, people: People, waits: Waits,
                                                   method: Method) -> None:
    """Step by step."""
    early, late = (ends(plan(day, work, people, waits, method)) for day in sorted((one, other)))
    assert early.keys() == late.keys()
    assert all(early[key][0] <= late[key][0] and early[key][1] <= late[key][1] for key in early)


@settings(max_examples=50)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD, EXTRA)
def test_an_empty_house_never_ends_after_the_same_house_lived_in(start: date, work: Work, people: People,
                                                                 waits: Waits, method: Method, extra: Extra) -> None:
    """Neither the day on which the old wires are dead nor the last day."""
    empty = plan(start, work, people, waits, replace(method, lived_in=False), extra)
    lived_in = plan(start, work, people, waits, replace(method, lived_in=True), extra)
    assert empty.dead <= lived_in.dead
    assert empty.finished <= lived_in.finished


@settings(max_examples=40)
@over(STARTS, WORK, PEOPLE, WAITS, METHOD)
def test_photographs_never_take_longer_than_a_visit(start: date, work: Work, people: People, waits: Waits,
                                                    method: Method) -> None:
    """Closing on photographs saves the notice and costs nothing."""
    visit, photographs = (plan(start, work, people, waits, replace(method, by_photographs=by)) for by in (False, True))
    assert photographs.dead <= visit.dead
    assert photographs.finished <= visit.finished


def test_holidays_that_favour_small_groups_are_not_leaned_on() -> None:
    """A cure during the firm's holidays would end the lived-in house first; it is held to the day of the empty one."""
    work = Work(tuple(RoomHours(f"room {i}", 112, 80, 0, (8,)) for i in range(2)), 0, 4, 0, 4, 8, 8)
    waits, method = Waits(1, 1, 9, 30), replace(LIVED_IN, rooms_at_once=1)
    closed = frozenset(MONDAY + timedelta(i) for i in range(60, 76))
    people = People(16, 8, 8, closed, closed)
    free = [engine._lived_in(engine._Line(MONDAY + timedelta(i), people, waits, method), work, None)[-1].last
            for i in range(60)]
    empty, held = ([plan(MONDAY + timedelta(i), work, people, waits, replace(method, lived_in=lived)).finished
                    for i in range(60)] for lived in (False, True))
    assert any(one < other for one, other in zip(free, empty, strict=True))
    assert held == [max(one, other) for one, other in zip(free, empty, strict=True)]


def test_a_new_service_comes_first_on_one_day_by_hand() -> None:
    """Ten hours of service on Monday the 2nd, cut and connected on that day; 16 of panel end on Tuesday; the 72 hours
    of opening and 9 at the old wires then run to Tuesday the 10th."""
    made = plan(MONDAY, replace(HOUSE, service=10), TWO, USUAL, EMPTY)
    assert [(step.kind.value, step.who.value, step.first.day, step.last.day) for step in made.steps[:7]] == [
        ("utility cut", "utility", 2, 2), ("electrodes", "crew", 2, 2), ("service", "crew", 2, 2),
        ("release", "inspector", 2, 2),
        ("reconnect", "utility", 2, 2), ("panel", "crew", 2, 3), ("rough", "crew", 3, 10)]
    assert made.dead == date(2026, 3, 10)


def test_a_disconnect_is_set_before_the_inspector_releases_the_service() -> None:
    """Twenty hours of service take two days of sixteen: rods on the first, the disconnect on the second, and the
    inspector and the utility on that."""
    made = plan(MONDAY, replace(HOUSE, service=20, disconnect=True), TWO, USUAL, EMPTY)
    days = {step.kind.value: (step.who.value, step.first.day, step.last.day) for step in made.steps[:6]}
    assert days == {"utility cut": ("utility", 2, 2), "electrodes": ("crew", 2, 2), "service": ("crew", 2, 3),
                    "disconnect": ("crew", 3, 3), "release": ("inspector", 3, 3), "reconnect": ("utility", 3, 3)}


def test_the_utility_comes_on_a_day_on_which_the_office_works() -> None:
    """A day on which the office is shut puts the service, and all that follows, on the next."""
    shut = replace(TWO, office_closed=frozenset({MONDAY}))
    made = plan(MONDAY, replace(HOUSE, service=10), shut, USUAL, EMPTY)
    assert {step.first.day for step in made.steps if step.who in (Who.UTILITY,)} == {3}
    assert made.steps[0].first.day == 3


def test_an_option_that_leaves_holes_open_has_no_plaster_and_no_day_for_paint() -> None:
    """The rooms are inspected all the same, and devices follow."""
    made = plan(MONDAY, HOUSE, TWO, USUAL, replace(EMPTY, closes=False))
    assert not {step.kind for step in made.steps} & {*COVERS, Kind.DRY}
    assert made.paint is None
    assert "inspect rough" in kinds(made)


def test_power_is_off_on_days_that_add_up() -> None:
    """Hours of steps that share a day add up: by hand, the panel's six and two to cut old wires on Monday."""
    made = plan(MONDAY, HOUSE, TWO, USUAL, EMPTY)
    assert {step.kind: step.power_off for step in made.steps if step.power_off} == {Kind.PANEL: 6, Kind.CUT: 2}
    friday, monday = date(2026, 3, 6), date(2026, 3, 9)
    assert made.power_off == {friday: 6, monday: 8}


def test_days_of_steps_leave_out_weekends_and_closed_days() -> None:
    """A step over a weekend has its working days alone."""
    made = plan(date(2026, 3, 6), HOUSE, TWO, USUAL, EMPTY)
    rough = [step for step in made.steps if step.kind == Kind.ROUGH]
    assert [day.day for day in days_of(rough, {date(2026, 3, 10)})] == [6, 9, 11, 12]


@pytest.mark.parametrize(("work", "people", "waits", "method", "says"), [
    (replace(HOUSE, rooms=()), TWO, USUAL, EMPTY, "at least one room"),
    (replace(HOUSE, cut=-1), TWO, USUAL, EMPTY, "not negative"),
    (HOUSE, replace(TWO, crew_day=0), USUAL, EMPTY, "some hours a day"),
    (HOUSE, TWO, replace(USUAL, cure=-1), EMPTY, "not negative"),
    (HOUSE, TWO, USUAL, replace(EMPTY, rooms_at_once=0), "one room at a time"),
    (HOUSE, TWO, USUAL, replace(EMPTY, power_off={"lunch": 1}), "no such step: lunch"),
    (replace(HOUSE, rooms=(RoomHours("a", 1, 1, 1, (1,)), RoomHours("b", 1, 1, 1, (1, 1)))), TWO, USUAL, EMPTY,
     "same number"),
    (replace(HOUSE, rooms=(RoomHours("a", 1, 1, 1, (1,) * 4),)), TWO, USUAL, EMPTY, "at most 3"),
])
def test_what_no_plan_can_be_made_from_is_refused(work: Work, people: People, waits: Waits, method: Method,
                                                  says: str) -> None:
    """No room, negative hours or days, nobody working, an unknown step, coats that do not match."""
    with pytest.raises(ValueError, match=says):
        plan(MONDAY, work, people, waits, method)
    with pytest.raises(ValueError, match="negative"):
        plan(MONDAY, HOUSE, TWO, USUAL, EMPTY, Extra(feeds=-1))


def test_the_longest_wait_sets_the_start() -> None:
    """Ten working days from Monday the 2nd end on the 16th, later than 12 calendar days and the right to cancel."""
    waits = [Wait("right to cancel", until=date(2026, 3, 5)), Wait("permit", 10, "working"), Wait("notice", 12)]
    found = longest_wait(waits, MONDAY, frozenset())
    assert (found.key, found.over, found.start) == ("permit", date(2026, 3, 16), date(2026, 3, 17))
    assert longest_wait(waits, MONDAY, {date(2026, 3, 17)}).start == date(2026, 3, 18)


WAIT = st.builds(Wait, st.text("abc", min_size=1), st.integers(0, 60), st.sampled_from(("working", "calendar")))


@over(st.lists(WAIT, min_size=1, max_size=5), STARTS, WAIT)
def test_one_more_wait_never_brings_the_start_forward(waits: list[Wait], asked: date, more: Wait) -> None:
    """Every wait is over before the start, one of them on the last day named, and another can only move it back."""
    found = longest_wait(waits, asked, FREE)
    assert all(wait_over(wait, asked, FREE) <= found.over < found.start for wait in waits)
    assert works_on(found.start, FREE)
    assert longest_wait([*waits, more], asked, FREE).start >= found.start
    for wait in waits:
        passed = [asked + timedelta(i) for i in range(1, (wait_over(wait, asked, FREE) - asked).days + 1)]
        assert wait.days == (len(passed) if wait.kind == "calendar" else sum(works_on(day, FREE) for day in passed))


def test_a_wait_of_no_days_is_over_on_the_day_it_is_asked_for() -> None:
    """So what names no days holds nothing up: work can start on the next working day."""
    found = longest_wait([Wait("nothing to wait for")], MONDAY, frozenset())
    assert (found.over, found.start) == (MONDAY, date(2026, 3, 3))


def test_a_wait_that_is_none_is_refused() -> None:
    """No wait at all, negative days, and another kind of day."""
    with pytest.raises(ValueError, match="right to cancel"):
        longest_wait([], MONDAY, frozenset())
    for wait in (Wait("permit", -1), Wait("permit", 1, "business")):
        with pytest.raises(ValueError, match="permit"):
            longest_wait([wait], MONDAY, frozenset())
