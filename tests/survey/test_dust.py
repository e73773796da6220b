"""Where the lead rule is owed in a job, and how much floor each option leaves bare of sheet."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from sitegen.job.books import Kit, PriceBook
from sitegen.job.load import load
from sitegen.job.model import Job
from sitegen.rules.read import given
from sitegen.survey.dust import RoomDust, bare_floor, dust, floor_of, house_of_lead, papers_of
from sitegen.survey.house import kit_of
from sitegen.trade.lead_dust import LeadRule

HOME = Path(__file__).parents[1] / "example_house"
INPUTS = load(HOME, HOME / "quill-street", HOME)
BOOK = INPUTS.book
RULE = given(LeadRule, "lead")
ITEM: Kit = kit_of(INPUTS, "per-item")
PATHS = ITEM.model_copy(update={"sheet": "paths"})
WORK_ROOMS = ITEM.model_copy(update={"sheet": "work rooms"})
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


@pytest.mark.parametrize(("name", "kind", "limit"), [
    ("outside", "living room", 6), ("outside", "outdoors", 20), ("Front yard", "outdoors", 20), (PARLOR, "porch", 6)])
def test_work_is_outside_by_what_a_room_is_used_as(name: str, kind: str, limit: int) -> None:
    """20 square feet are minor outside and 6 in a room (40 CFR 745.83), whatever either is called."""
    rooms = dust(one_room(room=name, kind=kind), BOOK, ITEM, RULE)
    assert rooms[name].verdict.limit == limit * 144


@pytest.mark.parametrize("kind", ["living room", "outdoors"])
def test_a_report_frees_the_room_that_it_names_inside_and_outside(kind: str) -> None:
    """A written report of all, or of this room, frees it by its name."""
    for more in ({"tested": "all"}, {"tested": "some rooms", "free_rooms": ["outside"]}):
        job = lead(one_room(room="outside", kind=kind, area_cut=Fraction(10_000)), report="A. Tester", **more)
        assert dust(job, BOOK, ITEM, RULE)["outside"].verdict.reason == "written report"


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


def test_edges_that_are_chiselled_count_as_demolition() -> None:
    """Where edges are chiselled back the rule is owed whatever the size, and the reason is another than a piece that
    is broken out: an inference from EPA answer 23002-18515, which owes more."""
    for cuts, reason in (("edges chiselled", "chiselled edges"), ("broken out", "demolition"),
                         ("sawn whole", "under the limit")):
        assert dust(changed(cuts=cuts), BOOK, ITEM, RULE)[PARLOR].verdict.reason == reason


def area_of(job: Job, book: PriceBook = BOOK, kit: Kit = ITEM, name: str = PARLOR) -> Fraction:
    """Painted area disturbed in one room [sq in]."""
    return dust(job, book, kit, RULE)[name].verdict.area


def test_base_boards_taken_off_count_whole() -> None:
    """Three feet of a board 8 in high are 288 square inches more; a report on the room covers them."""
    job = changed(base_board_off=Fraction(3))
    assert area_of(job) - area_of(NOT_MEASURED) == 3 * 12 * 8
    free = lead(job, tested="some rooms", free_rooms=[PARLOR], report="A. Tester, 2026-10-01")
    assert dust(free, BOOK, ITEM, RULE)[PARLOR].verdict.reason == "written report"


def test_more_than_a_tenth_of_the_base_boards_is_over_the_limit_of_subsidised_housing() -> None:
    """Round a room of 30 by 30 ft run 120 ft of base board: 12 ft of them are still minor where the area is, and any
    more are not (24 CFR 35.1350(d)); elsewhere the rule knows no share."""
    book = BOOK.model_copy(update={"rates": BOOK.rates.model_copy(update={"base_board": Fraction(1, 100)})})
    for off, owed in ((Fraction(12), False), (Fraction(1201, 100), True)):
        found = dust(lead(one_room(base_board_off=off), subsidised=True), book, ITEM, RULE)[PARLOR].verdict
        assert (found.owed, found.reason == "share of a small component") == (owed, owed)
        assert not dust(one_room(base_board_off=off), book, ITEM, RULE)[PARLOR].verdict.owed


def test_a_ceiling_that_is_scraped_counts_whole() -> None:
    """A room of 30 by 30 ft with calcimine has 900 square feet of ceiling to scrape once a light is moved in it, and
    none where the ceiling is left alone; the sheet then lies on the whole floor."""
    light = {line: {"ceiling light": 1} for line in ("now", "want", "listed")}
    over_head = one_room(**light, feeds={"ceiling light": "front-outlets"}, trouble=("calcimine",))
    assert area_of(over_head) >= 900 * 144
    assert left(over_head, PATHS) == 0
    assert area_of(one_room(trouble=("calcimine",))) == area_of(one_room()) == 80 + Fraction(93, 10)


def test_other_work_in_a_room_within_thirty_days_is_one_job_with_ours() -> None:
    """Two jobs that are each under six square feet are over them together, and a report on our part frees neither."""
    job = changed(other_work=Fraction(700), openings=6)
    found = dust(job, BOOK, ITEM, RULE)[PARLOR].verdict
    assert (found.area - area_of(changed(openings=6)), found.reason) == (700, "area")
    free = lead(job, tested="some rooms", free_rooms=[PARLOR], report="A. Tester, 2026-10-01")
    assert dust(free, BOOK, ITEM, RULE)[PARLOR].verdict.owed


@over(*(st.fractions(Fraction(1, 12), 3, max_denominator=12) for _ in range(4)),
      *(st.fractions(0, 2, max_denominator=12) for _ in range(5)), st.booleans())
@settings(max_examples=60, deadline=None, derandomize=True)
def test_wider_cuts_never_shrink_an_area(wide: Fraction, high: Fraction, back: Fraction, board: Fraction,
                                         wider: Fraction, higher: Fraction, deeper: Fraction, taller: Fraction,
                                         off: Fraction, studs: bool) -> None:
    """Openings that are wider or higher, edges cut back further, a cut from stud to stud, and base boards that are
    higher or longer never count for less in any room, and what was owed stays owed."""
    def counted(wide: Fraction, high: Fraction, back: Fraction, board: Fraction, off: Fraction,
                studs: bool) -> dict[str, RoomDust]:
        walls = {wall: rate.model_copy(update={"wide": wide, "high": high, "between_studs": studs})
                 for wall, rate in BOOK.rates.walls.items()}
        rates = BOOK.rates.model_copy(update={"walls": walls, "cut_back": back, "base_board": board})
        return dust(changed(base_board_off=off or None), BOOK.model_copy(update={"rates": rates}), ITEM, RULE)
    before = counted(wide, high, back, board, Fraction(0), False)
    after = counted(wide + wider, high + higher, back + deeper, board + taller, off, studs)
    assert all(after[name].verdict.area >= room.verdict.area for name, room in before.items())
    assert all(after[name].verdict.owed >= room.verdict.owed for name, room in before.items())


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
    """One opening, 4 in wide and cut back by 2 in on each side, and one box take 6 ft on all sides: 12 2/3 by 6 ft,
    76 sq ft, and 12 1/3 by 6 ft, 74; of 900 remain 750."""
    assert left(one_room(), PATHS) == 900 - 76 - 74
    assert left(one_room(), WORK_ROOMS) == 750


@pytest.mark.parametrize("cuts", ["sawn whole", "edges chiselled", "broken out"])
def test_our_own_standard_holds_wherever_old_paint_is_cut_whatever_the_kit_says(cuts: str) -> None:
    """The law's limit is not a health limit: under it and over it every option lays sheet and checks, and the floor
    that is left bare is the same."""
    job = one_room(cuts=cuts)
    for kit in (PATHS, WORK_ROOMS):
        room = dust(job, BOOK, kit, RULE)[PARLOR]
        assert (room.laid, room.lead_safe) == (True, True)
        assert left(job, kit) == 750


def test_our_own_standard_is_not_kept_where_no_lead_paint_is_assumed() -> None:
    """A room that a report frees, and one with no paint to cut, need no lead-safe work; sheet lies in the first all
    the same, since old plaster is dust, and in the second where the option covers the paths too."""
    free = lead(one_room(), tested="all", report="A. Tester, 2026-10-01")
    bare = one_room(kind="attic")
    for job, kit, laid in ((free, WORK_ROOMS, True), (free, PATHS, True), (bare, WORK_ROOMS, False),
                           (bare, PATHS, True)):
        room = dust(job, BOOK, kit, RULE)[PARLOR]
        assert (room.laid, room.lead_safe) == (laid, False)


def test_every_option_leaves_the_same_floor_bare_of_sheet() -> None:
    """Board on the paths is no sheet: what a kit lays beyond the work rooms moves no floor of the later cost."""
    assert left(NOT_MEASURED, PATHS) == left(NOT_MEASURED, WORK_ROOMS)


def test_halls_stairs_and_pantries_are_walked_through_and_other_rooms_are_not() -> None:
    """A hall in which nothing is opened counts whole; a bedroom in which nothing is opened does not count."""
    job = one_room()
    spare = job.rooms[0].model_copy(update={"room": "Spare", "size": (Fraction(10), Fraction(12)),
                                            "listed": {"outlet": 0}})
    for kind, more in (("bedroom", 0), ("hall", 120), ("stairs", 120), ("pantry", 120)):
        two = job.model_copy(update={"rooms": [*job.rooms, spare.model_copy(update={"kind": kind})]})
        assert left(two, PATHS) == 750 + more


@pytest.mark.parametrize("floor", [0, 3])
def test_basement_and_attic_are_left_out(floor: int) -> None:
    """Floors below the first and above the last storey of the house are nobody's finished floor."""
    assert NOT_MEASURED.house.storeys == 2
    assert left(one_room(floor=floor), WORK_ROOMS) == 0


def test_floor_that_was_measured_wins() -> None:
    """What the survey measured is the bare floor of every option."""
    assert INPUTS.job.house.bare_floor == 537
    assert left(INPUTS.job, PATHS) == left(INPUTS.job, WORK_ROOMS) == 537


def test_the_floor_of_a_room_is_the_houses_unless_it_has_its_own() -> None:
    """A kitchen may have linoleum in a house of thin strip."""
    room = NOT_MEASURED.rooms[0]
    assert floor_of(NOT_MEASURED, room) == NOT_MEASURED.house.flooring
    assert floor_of(NOT_MEASURED, room.model_copy(update={"flooring": "linoleum"})) == "linoleum"
