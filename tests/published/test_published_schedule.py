"""The dated plan against what towns, handbooks and the trade state, row by row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest
from msgspec.structs import replace

from sitegen.dates.holidays_us import HolidayRule, office_closed
from sitegen.dates.plan import days_of, plan
from sitegen.dates.plan_terms import Kind, Method, People, Plan, RoomHours, Waits, Work
from sitegen.dates.waits import Wait, longest_wait
from sitegen.rules.read import given
from tests.published.rows import Row, rows

MONDAY = date(2026, 3, 2)
TWO = People(16, 8, 16)
HOUSE = Work(tuple(RoomHours(f"room {i}", 12, 3, 2, (2, 2)) for i in range(6)), 16, 4, 2, 3, 16, 4)
WAITS = Waits(notice=1, between_coats=1, cure=2, paint=30)
EMPTY = Method(False, 2, True, False, {"panel": 6})
SHARE = Fraction(1, 4)
"""Of the hours of a point, those for its device; how they are split moves no count of whole days by more than one."""


def _house(lived_in: bool = False, work: Work = HOUSE, start: date = MONDAY, **waits: int) -> Plan:
    return plan(start, work, TWO, replace(WAITS, **waits), replace(EMPTY, lived_in=lived_in))


def _days(made: Plan, *kinds: Kind) -> int:
    return len(days_of((step for step in made.steps if step.kind in kinds), TWO.closed))


def _before(lived_in: bool, first: str, then: str) -> bool:
    """In every room that both are done in, and at least in one."""
    steps = _house(lived_in).steps
    pairs = [(i, j) for i, one in enumerate(steps) for j, other in enumerate(steps)
             if one.kind == first and other.kind == then and (one.rooms == other.rooms or not one.rooms
                                                              or not other.rooms)]
    return bool(pairs) and all(i < j and steps[i].last <= steps[j].first for i, j in pairs)


def _first(made: Plan, kind: str) -> date:
    return next(step.first for step in made.steps if step.kind == kind)


def _last(made: Plan, kind: str) -> date:
    return next(step.last for step in made.steps if step.kind == kind)


def _chain(step: str) -> int:
    """Working days after the rough inspection, with nothing to close before the plaster and a day for each coat."""
    bare = replace(HOUSE, rooms=(RoomHours("a room", 4, 3, 0, (2, 2)),), panel=0)
    made = _house(work=bare)
    passed = _first(made, "inspect rough")
    assert passed.weekday() < 3, "the chain has no weekend in it"
    return (_first(made, step) - passed).days


def _inspection_day(done: date, notice: int) -> date:
    work = replace(HOUSE, rooms=(RoomHours("a room", 1, 1),), panel=0, cut=0, cap=0, test=0)
    return _first(_house(work=work, start=done, notice=notice), "inspect rough")


def _between(first: str, then: str, cure: int) -> int:
    """The fewest days between, over starts on every day of two weeks."""
    every = [_house(start=MONDAY + timedelta(i), cure=cure) for i in range(14)]
    return min((_first(made, then) - _last(made, first)).days for made in every)


def _plates(finish: date, cure: int) -> date:
    every = [_house(start=MONDAY - timedelta(i), cure=cure) for i in range(40)]
    return next(_first(made, "devices") for made in every if _last(made, "finish") == finish)


def _counted(points: int, point: Fraction, drop: Fraction) -> int:
    """Crew days for opening and devices."""
    devices = SHARE * point * points
    work = replace(HOUSE, rooms=(RoomHours("the house", point * points - devices + drop * points, devices),))
    return _days(_house(work=work), Kind.ROUGH, Kind.DEVICES)


def _plaster_days(patches: int, each: Fraction) -> int:
    work = replace(HOUSE, rooms=(RoomHours("the house", 80, 20, 0, (patches * each,) * 2),))
    return _days(_house(work=work), Kind.BASE, Kind.FINISH)


def _count(kind: str, rooms: int, at_once: int) -> int:
    work = replace(HOUSE, rooms=HOUSE.rooms[:rooms])
    method = replace(EMPTY, lived_in=at_once > 0, rooms_at_once=at_once or 1)
    return sum(step.kind == kind for step in plan(MONDAY, work, TWO, WAITS, method).steps)


def _photographs() -> bool:
    """Nobody from the town comes before closing, and closing goes on the same day."""
    made = plan(MONDAY, HOUSE, TWO, WAITS, replace(EMPTY, by_photographs=True))
    return _first(made, "close") == _last(made, "photograph") and "inspect rough" not in {s.kind for s in made.steps}


def _start(working: int, asked: date) -> date:
    return longest_wait([Wait("notice", working, "working")], asked, frozenset()).start


CALLS: dict[str, Callable[..., Any]] = {
    "before": lambda first, then, **house: _before(house["lived in"], first, then),
    "dead is the test": lambda **house: _house(house["lived in"]).dead == _last(_house(house["lived in"]), "test dead"),
    "shorter": lambda: _house().finished < _house(True).finished and _house().dead < _house(True).dead,
    "count": lambda kind, rooms, **group: _count(kind, rooms, group["at once"]),
    "inspection day": _inspection_day,
    "chain": _chain,
    "days between": _between,
    "plates": _plates,
    "days to paint": lambda: (_house().paint or MONDAY).toordinal() - _last(_house(), "finish").toordinal(),
    "office shut": lambda day: day in office_closed(given(HolidayRule, "holidays"), day.year, day.year),
    "start": _start,
    "longest": lambda **days: longest_wait([Wait(key, count) for key, count in days.items()], MONDAY, ()).key,
    "points a day": lambda points, point, drop: Fraction(points, _counted(points, point, drop)),
    "crew days": _counted,
    "plaster days": lambda patches, **each: _plaster_days(patches, each["hours a patch"]),
    "panel days": lambda hours: _days(_house(work=replace(HOUSE, panel=hours, rooms=(RoomHours("a", 16, 1),))),
                                      Kind.PANEL),
    "photographs": _photographs,
}


def _meant(value: Any) -> Any:
    """Days and numbers that are not whole stand as text."""
    for read in (date.fromisoformat, Fraction):
        try:
            return read(value) if isinstance(value, str) else value
        except ValueError:
            continue
    return value


@pytest.mark.parametrize("row", rows("schedule"))
def test_the_plan_keeps_what_others_state(row: Row) -> None:
    """Every published order, wait and length, and every fact of the trade, comes out; two numbers are a range."""
    got, due = CALLS[row.of](**{name: _meant(value) for name, value in row.given.items()}), row.gives
    if isinstance(due, list):
        least, most = due
        assert least <= got <= most
    else:
        assert got == _meant(due)
        assert isinstance(got, bool) == isinstance(due, bool)
