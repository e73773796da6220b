"""Where the lead rule is owed in a job, and how much floor each option leaves bare of sheet."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from sitegen.job.books import Kit
from sitegen.job.load import load
from sitegen.job.model import Job
from sitegen.rules.read import given
from sitegen.survey.dust import bare_floor, dust, floor_of, house_of_lead, papers_of
from sitegen.survey.house import kit_of
from sitegen.trade.lead_dust import LeadRule

HOME = Path(__file__).parents[1] / "example_house"
INPUTS = load(HOME, HOME / "quill-street", HOME)
BOOK = INPUTS.book
RULE = given(LeadRule, "lead")
ITEM: Kit = kit_of(INPUTS, "per-item")
EVERYWHERE = ITEM.model_copy(update={"sheet": "every room"})
WHERE_ASKED = ITEM.model_copy(update={"sheet": "where the lead rule asks"})
NOT_MEASURED: Job = INPUTS.job.model_copy(update={"house": INPUTS.job.house.model_copy(update={"bare_floor": None})})
HALL, PARLOR = "Front hall", "Front parlor"


def changed(name: str = PARLOR, job: Job = NOT_MEASURED, **more: Any) -> Job:
    """A job with other words in one room."""
    rooms = [room.model_copy(update=more) if room.room == name else room for room in job.rooms]
    return job.model_copy(update={"rooms": rooms})


def lead(job: Job = NOT_MEASURED, **more: Any) -> Job:
    """A job of which something else is known of lead."""
    return job.model_copy(update={"lead": job.lead.model_copy(update=more)})


def one_room(**more: Any) -> Job:
    """A house of one room, thirty feet square, with one outlet on the list and nothing else."""
    first = next(room for room in NOT_MEASURED.rooms if room.room == PARLOR)
    only = first.model_copy(update={"size": (Fraction(30), Fraction(30)), "now": {"outlet": 1}, "want": {"outlet": 1},
                                    "feeds": {"outlet": "front-outlets"}, "listed": {"outlet": 1}, "opened_old": {},
                                    **more})
    return NOT_MEASURED.model_copy(update={"rooms": [only]})


def left(job: Job, kit: Kit) -> int:
    """Floor left bare [sq ft]."""
    return bare_floor(job, kit, dust(job, BOOK, kit, RULE))


def test_a_room_sawn_whole_and_small_owes_nothing() -> None:
    """Under six square feet a room of painted plaster that is sawn out whole is minor."""
    rooms = dust(NOT_MEASURED, BOOK, ITEM, RULE)
    assert {room.verdict.reason for room in rooms.values()} == {"under the limit"}
    assert not any(room.verdict.owed for room in rooms.values())


def test_a_room_broken_out_owes_the_rule_and_no_other_does() -> None:
    """Painted plaster that is broken out is never minor, however small; the next room is a place of its own."""
    rooms = dust(changed(cuts="broken out"), BOOK, ITEM, RULE)
    assert {name for name, room in rooms.items() if room.verdict.owed} == {PARLOR}
    assert rooms[PARLOR].verdict.reason == "demolition"
    kit = ITEM.model_copy(update={"cuts": "broken out"})
    assert all(room.verdict.owed for room in dust(NOT_MEASURED, BOOK, kit, RULE).values())


def test_a_large_area_owes_the_rule_however_it_is_cut() -> None:
    """Six square feet are 864 square inches: with six small boxes and one for a ceiling light the holes of one room
    come just to it, which is still minor, or just above."""
    boxes = 6 * Fraction(93, 10) + Fraction(134, 10)
    at, above = (dust(changed(openings=6, area_cut=864 - boxes + more), BOOK, ITEM, RULE)[PARLOR].verdict
                 for more in (0, Fraction(1, 100)))
    assert (at.area, at.owed, above.owed, above.reason) == (864, False, True, "area")


def test_a_report_frees_its_rooms_and_no_other() -> None:
    """Where a written report says that there is no lead paint, a room broken out owes nothing."""
    kit = ITEM.model_copy(update={"cuts": "broken out"})
    rooms = dust(lead(tested="some rooms", free_rooms=[PARLOR], report="A. Tester, 2026-10-01"), BOOK, kit, RULE)
    assert {name for name, room in rooms.items() if not room.verdict.owed} == {PARLOR}
    assert rooms[PARLOR].verdict.reason == "written report"
    every = dust(lead(tested="all", report="A. Tester, 2026-10-01"), BOOK, kit, RULE)
    assert not any(room.verdict.owed for room in every.values())


def test_without_a_report_nothing_is_free() -> None:
    """Rooms that somebody calls free without a paper that says so are not."""
    assert papers_of(lead(free_rooms=[PARLOR])) == ()
    kit = ITEM.model_copy(update={"cuts": "broken out"})
    assert dust(lead(free_rooms=[PARLOR]), BOOK, kit, RULE)[PARLOR].verdict.owed


@pytest.mark.parametrize(("said", "child"), [("yes", True), ("not said", True), ("no", False)])
def test_a_child_is_counted_where_nobody_said(said: str, child: bool) -> None:
    """Only a plain no takes a child under six out."""
    assert house_of_lead(lead(child_under_six=said)).child_under_six is child


def test_subsidised_housing_has_a_smaller_limit() -> None:
    """Two square feet, 288 square inches, in housing with federal help."""
    job = changed(openings=6, area_cut=Fraction(300), job=lead(subsidised=True))
    assert dust(job, BOOK, ITEM, RULE)[PARLOR].verdict.reason == "subsidised limit"
    assert not dust(changed(openings=6, area_cut=Fraction(300)), BOOK, ITEM, RULE)[PARLOR].verdict.owed


def test_bare_floor_of_one_room_by_hand() -> None:
    """One opening 4 in wide and one box each take 6 ft on all sides: 12 1/3 by 6 ft, 74 sq ft; of 900 remain 752."""
    assert left(one_room(), EVERYWHERE) == 900 - 2 * 74
    assert left(one_room(), WHERE_ASKED) == 900


def test_sheet_is_laid_where_the_rule_is_owed_whatever_the_kit_says() -> None:
    """A room broken out gets its sheet in the way that lays none of its own, and its bare floor is the same."""
    job = one_room(cuts="broken out")
    assert dust(job, BOOK, WHERE_ASKED, RULE)[PARLOR].laid
    assert left(job, WHERE_ASKED) == left(job, EVERYWHERE) == 752


def test_sheet_never_leaves_more_floor_bare() -> None:
    """Sheet in every room leaves no more floor bare than sheet where it is owed, in the whole example."""
    assert left(NOT_MEASURED, EVERYWHERE) < left(NOT_MEASURED, WHERE_ASKED)


def test_halls_and_stairs_are_walked_through_and_other_rooms_are_not() -> None:
    """A hall in which nothing is opened counts whole; a bedroom in which nothing is opened does not count."""
    job = one_room()
    spare = job.rooms[0].model_copy(update={"room": "Spare", "size": (Fraction(10), Fraction(12)),
                                            "listed": {"outlet": 0}})
    for kind, more in (("bedroom", 0), ("hall", 120), ("stairs", 120)):
        two = job.model_copy(update={"rooms": [*job.rooms, spare.model_copy(update={"kind": kind})]})
        assert left(two, EVERYWHERE) == 752 + more


@pytest.mark.parametrize("floor", [0, 3])
def test_basement_and_attic_are_left_out(floor: int) -> None:
    """Floors below the first and above the last storey of the house are nobody's finished floor."""
    assert NOT_MEASURED.house.storeys == 2
    assert left(one_room(floor=floor), WHERE_ASKED) == 0


def test_floor_that_was_measured_wins() -> None:
    """What the survey measured is the bare floor of every option."""
    assert INPUTS.job.house.bare_floor == 537
    assert left(INPUTS.job, EVERYWHERE) == left(INPUTS.job, WHERE_ASKED) == 537


def test_the_floor_of_a_room_is_the_houses_unless_it_has_its_own() -> None:
    """A kitchen may have linoleum in a house of thin strip."""
    room = NOT_MEASURED.rooms[0]
    assert floor_of(NOT_MEASURED, room) == NOT_MEASURED.house.flooring
    assert floor_of(NOT_MEASURED, room.model_copy(update={"flooring": "linoleum"})) == "linoleum"
