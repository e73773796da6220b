"""What a job opens, room by room, against counts by hand on the example house."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given as over
from hypothesis import strategies as st

from sitegen.job.load import load
from sitegen.job.model import Job, Room
from sitegen.survey.lines import list_drops
from sitegen.survey.opened import RoomWork, by_all, by_list, openings_a_drop, works

HOME = Path(__file__).parents[1] / "example_house"
INPUTS = load(HOME, HOME / "quill-street", HOME)
JOB, BOOK = INPUTS.job, INPUTS.book
SAWN, CHISELLED, BROKEN = "sawn whole", "edges chiselled", "broken out"
HALL, PARLOR = "Front hall", "Front parlor"
WOOD, METAL = "plaster on wood lath", "plaster on metal lath"


def changed(name: str, **more: Any) -> Job:
    """The example with other words in one room."""
    rooms = [room.model_copy(update=more) if room.room == name else room for room in JOB.rooms]
    return JOB.model_copy(update={"rooms": rooms})


def here(name: str, job: Job = JOB, scope: Any = by_list, how: str = SAWN) -> RoomWork:
    return works(job, BOOK, scope, how)[name]


def test_openings_and_area_of_a_room_by_hand() -> None:
    """Front hall, the list: two outlets, a switch and a ceiling light are 3 1/2 drops, at 3/4 rounded up 3 openings.
    With its edges cut back by 2 in one of 4 by 6 takes 8 by 10 in of paint; a box is filled by what is set in it."""
    work = here(HALL)
    assert (work.opened.openings, work.opened.boxes, work.points) == (3, 4, 4)
    assert work.opened.area == 3 * 80 + 3 * Fraction(93, 10) + Fraction(134, 10)
    assert not work.opened.destroyed
    assert not work.opened.on_site
    every = here(HALL, scope=by_all)                  # another switch: 4 1/2 drops
    assert (every.opened.openings, every.points) == (4, 5)


def test_open_framing_needs_no_holes() -> None:
    """In a cellar whose joists stand open points get their boxes, and nothing is fished, cut or painted."""
    work = here(HALL, changed(HALL, open_framing=True))
    assert (work.opened.openings, work.opened.area, work.ceiling, work.overhead) == (0, 0, 0, 0)
    assert (work.opened.boxes, work.points) == (4, 4)
    assert list_drops(JOB, BOOK) - list_drops(changed(HALL, open_framing=True), BOOK) in (3, 4)     # 3 1/2 of its own


def test_openings_are_by_what_the_wall_is_made_of() -> None:
    """Metal lath has an opening for each drop: 3 1/2 drops are 4 openings; masonry's are smaller and taller."""
    assert here(HALL, changed(HALL, walls=METAL)).opened.openings == 4
    stone = here(HALL, changed(HALL, walls="plaster on masonry"))
    assert stone.opened.area - 3 * Fraction(93, 10) - Fraction(134, 10) == 4 * 7 * 16
    assert here(HALL, changed(HALL, walls="board")).opened.openings == 2


def test_walls_of_the_house_hold_where_a_room_says_nothing() -> None:
    """A house of metal lath is counted so in every room that says nothing of its own."""
    job = JOB.model_copy(update={"house": JOB.house.model_copy(update={"walls": METAL})})
    assert here(HALL, job).opened == here(HALL, changed(HALL, walls=METAL)).opened != here(HALL).opened


def test_a_room_of_two_kinds_of_wall_rounds_in_each() -> None:
    """A part of a room with other walls is counted by itself: a part of an opening in each is two holes."""
    rooms: list[Room] = []
    for room in JOB.rooms:
        if room.room != HALL:
            rooms.append(room)
            continue
        for part, kinds, walls in ((None, ("outlet",), None), ("stair wall", ("switch", "ceiling light"), METAL)):
            rooms.append(room.model_copy(update={
                "part": part, "walls": walls, "size": None if part else room.size, "kind": None if part else room.kind,
                **{line: {kind: count for kind, count in getattr(room, line).items() if kind in kinds}
                   for line in ("now", "feeds", "want", "listed", "opened_old")}}))
    work = here(HALL, JOB.model_copy(update={"rooms": rooms}))
    assert [(wall.wall, wall.openings) for wall in work.opened.walls] == [(WOOD, 2), (METAL, 2)]
    assert (work.opened.openings, work.points) == (4, 4)


def test_a_room_counted_on_the_plan_keeps_its_count_and_a_list_has_its_part() -> None:
    """Five counted for every point are five; the list's 3 1/2 of 4 1/2 drops are 3.9 of them, so four."""
    job = changed(HALL, openings=5)
    assert here(HALL, job, by_all).opened.openings == 5
    listed = here(HALL, job)
    assert listed.opened.openings == 4
    assert listed.opened.on_site
    assert listed.opened.area == 4 * 80 + 3 * Fraction(93, 10) + Fraction(134, 10)


def test_an_area_measured_is_shared_by_drops_too() -> None:
    """Ninety square inches for every point are seventy for the list, with the boxes beside them."""
    listed = here(HALL, changed(HALL, openings=5, area_cut=Fraction(90)))
    assert listed.opened.area == 70 + 3 * Fraction(93, 10) + Fraction(134, 10)


def test_holes_in_a_ceiling_are_those_of_its_lights() -> None:
    """With every point the hall's four openings fall to the ceiling by its half drop of 4 1/2: none; a ceiling of
    lights alone has all of them."""
    assert here(HALL, scope=by_all).ceiling == 0
    lights = {line: {"ceiling light": 4} for line in ("now", "want", "listed")}
    over_head = here(HALL, changed(HALL, **lights, feeds={"ceiling light": "down-lights"}, opened_old={}))
    assert (over_head.opened.openings, over_head.ceiling) == (2, 2)
    assert over_head.overhead == over_head.opened.area == 2 * 80 + 4 * Fraction(134, 10)


def test_a_room_may_say_how_its_plaster_is_opened() -> None:
    """The option's cuts hold, unless the room cannot be cut so; a broken piece is destroyed."""
    assert here(HALL, how=BROKEN).opened.destroyed
    assert here(HALL, changed(HALL, cuts=BROKEN)).opened.destroyed
    chiselled = here(HALL, changed(HALL, cuts=CHISELLED)).opened
    assert (chiselled.destroyed, chiselled.chiselled) == (True, True)
    assert not here(HALL, changed(HALL, cuts=SAWN), how=BROKEN).opened.destroyed


@pytest.mark.parametrize("kind", ["unfinished basement", "attic"])
def test_bare_framing_has_no_paint_to_cut(kind: str) -> None:
    """Openings are counted there all the same, and no painted area is cut or destroyed."""
    work = here(HALL, changed(HALL, kind=kind), how=BROKEN)
    assert (work.opened.openings, work.opened.area, work.overhead, work.opened.destroyed) == (3, 0, 0, False)


def test_rooms_without_work_are_not_opened() -> None:
    """A list opens the eight rooms with a listed point or a new place, a price for every point all but the new ones."""
    assert len(works(JOB, BOOK, by_list, SAWN)) == 8
    assert set(works(JOB, BOOK, by_all, SAWN)) == {room.room for room in JOB.rooms} - {"Kitchen", "Basement"}


def test_openings_a_drop_of_the_whole_house() -> None:
    """Fifty-eight drops at 3/4; a room of 4 1/2 drops with five counted, and one of metal lath, each count as they
    are, not rounded."""
    assert openings_a_drop(JOB, BOOK) == Fraction(3, 4)
    counted = openings_a_drop(changed(HALL, openings=5), BOOK)
    assert counted == (Fraction(107, 2) * Fraction(3, 4) + 5) / 58
    metal = openings_a_drop(changed(HALL, walls=METAL), BOOK)
    assert metal == (Fraction(107, 2) * Fraction(3, 4) + Fraction(9, 2)) / 58


def test_a_house_where_nothing_is_done_opens_nothing() -> None:
    """Without a drop there are no openings to a drop."""
    rooms = [room for room in JOB.rooms if room.room == "Kitchen"]
    assert openings_a_drop(JOB.model_copy(update={"rooms": rooms}), BOOK) == 0


def test_a_piece_cut_from_stud_to_stud_is_as_wide_as_the_studs_are_apart() -> None:
    """Four inches are 14 1/2 there, and with the edges cut back 18 1/2 by 10."""
    rates = BOOK.rates
    walls = {wall: rate.model_copy(update={"between_studs": True}) for wall, rate in rates.walls.items()}
    book = BOOK.model_copy(update={"rates": rates.model_copy(update={"walls": walls})})
    area = works(JOB, book, by_list, SAWN)[HALL].opened.area
    assert area == 3 * 185 + 3 * Fraction(93, 10) + Fraction(134, 10)


@over(st.integers(0, 40), st.sampled_from(list(works(JOB, BOOK, by_all, SAWN))))
def test_a_list_never_opens_more_than_every_point(counted: int, name: str) -> None:
    """Whatever was counted on the plan, the whole is what was counted, and the part of the list is at most that."""
    job = changed(name, openings=counted)
    every = here(name, job, by_all)
    listed = works(job, BOOK, by_list, SAWN).get(name)
    assert every.opened.openings == counted
    assert listed is None or listed.opened.openings <= counted
    assert listed is None or listed.opened.area <= every.opened.area
