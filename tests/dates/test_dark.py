"""Days without outlets and lights, and how long sheet lies, from plans worked by hand."""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from sitegen.dates.dark import dark_days, sheet_lies
from sitegen.dates.plan import plan
from sitegen.dates.plan_terms import Method, People, RoomHours, Waits, Work
from sitegen.dates.working_days import working_days

MONDAY = date(2026, 3, 2)
TWO = People(16, 8, 16)
HOUSE = Work(tuple(RoomHours(f"room {i}", 12, 3, 2, (2, 2)) for i in range(6)), 16, 4, 2, 3, 16, 4)
EMPTY = Method(False, 2, True, False, {})


def test_an_empty_house_is_dark_from_the_cut_to_the_devices() -> None:
    """Old wires are cut on Monday the 9th, devices set by Tuesday the 24th: eleven working days in each room."""
    steps = plan(MONDAY, HOUSE, TWO, Waits(2, 1, 2, 30), EMPTY).steps
    assert dark_days(steps, lived_in=False, closed=()) == {f"room {i}": 11 for i in range(6)}


def test_a_day_of_the_firm_is_not_counted() -> None:
    """One closed day between leaves ten."""
    steps = plan(MONDAY, HOUSE, TWO, Waits(2, 1, 2, 30), EMPTY).steps
    assert set(dark_days(steps, lived_in=False, closed={date(2026, 3, 11)}).values()) == {10}


def test_a_lived_in_house_is_dark_a_set_of_rooms_at_a_time() -> None:
    """Each set waits from the end of its wiring to its own devices, and no set for another one."""
    made = plan(MONDAY, HOUSE, TWO, Waits(2, 1, 2, 30), replace(EMPTY, lived_in=True))
    found = dark_days(made.steps, lived_in=True, closed=())
    for step in made.steps:
        if step.kind == "devices":
            wired = next(one.last for one in made.steps if one.kind == "rough" and one.rooms == step.rooms)
            assert {found[room] for room in step.rooms} == {working_days(wired, step.last, ())}
    assert found.keys() == {f"room {i}" for i in range(6)}


def test_sheet_lies_until_the_house_is_cleaned() -> None:
    """Empty, from the first opening on the 2nd to the last cleaning on the 27th; lived in, no longer than that."""
    waits = Waits(2, 1, 2, 30)
    assert sheet_lies(plan(MONDAY, HOUSE, TWO, waits, EMPTY).steps) == (MONDAY, date(2026, 3, 27))
    lived = sheet_lies(plan(MONDAY, HOUSE, TWO, waits, replace(EMPTY, lived_in=True)).steps)
    assert lived
    assert lived[1] - lived[0] < date(2026, 3, 27) - MONDAY


def test_no_days_lie_before_the_first() -> None:
    """Working days run up to a day and not over it: Friday to Tuesday are Friday and Monday."""
    assert working_days(date(2026, 3, 6), date(2026, 3, 10), ()) == 2
    assert working_days(MONDAY, MONDAY, ()) == 0
    assert sheet_lies(()) is None
