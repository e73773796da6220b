"""Openings, box cuts and painted area of a room: by hand, on site against the book, and more never giving less."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.trade.openings import (
    HOWS,
    How,
    OpeningRates,
    WallRate,
    WallWork,
    opened_room,
    opened_wall,
    opening,
    rectangle,
)

QUIET = settings(max_examples=100, deadline=None, derandomize=True)
HALF = Fraction(1, 2)
RATES = OpeningRates({"plaster on wood lath": WallRate(Fraction(3, 4), Fraction(4), Fraction(6)),
                      "board": WallRate(HALF, Fraction(3), Fraction(5))},
                     {"outlet": Fraction(93, 10), "light": Fraction(11)})
LATH = WallWork("plaster on wood lath", Fraction(5), {"outlet": 2, "light": 1})

parts = st.fractions(0, 8, max_denominator=4)
inches = st.fractions(0, 12, max_denominator=8)
rates = st.builds(lambda a, b, c, d: OpeningRates({"lath": WallRate(a, b, c), "board": WallRate(HALF, c, b)},
                                                  {"outlet": d, "light": b}), parts, inches, inches, inches)
works = st.builds(lambda wall, drops, outlets, lights, painted: WallWork(
    wall, drops, {"outlet": outlets, "light": lights}, painted), st.sampled_from(("lath", "board")), parts,
    st.integers(0, 6), st.integers(0, 6), st.booleans())
hows = st.sampled_from(HOWS)


def test_a_room_by_hand() -> None:
    """Five drops at 3/4 are four openings of 24 sq in; two outlets and a light add 29.6 sq in."""
    room = opened_room([LATH], RATES, "sawn whole")
    assert (room.openings, room.boxes, room.area) == (4, 3, 96 + Fraction(296, 10))
    assert (room.destroyed, room.on_site) == (False, False)


def test_two_kinds_of_wall_round_up_each() -> None:
    """A part of an opening in plaster and a part in board are two holes, each of its own size."""
    room = opened_room([WallWork("plaster on wood lath", Fraction(1)), WallWork("board", Fraction(1))], RATES,
                       "sawn whole")
    assert (room.openings, room.area) == (2, 24 + 15)


def test_what_was_taken_on_site_wins_and_says_so() -> None:
    """A count replaces the rate at the book's size; an area replaces the size; boxes are still added."""
    counted = opened_wall(replace(LATH, counted=7), RATES, "sawn whole")
    assert (counted.openings, counted.area, counted.on_site) == (7, 7 * 24 + Fraction(296, 10), True)
    both = opened_wall(replace(LATH, counted=2, measured=Fraction(100)), RATES, "sawn whole")
    assert (both.openings, both.area, both.on_site) == (2, 100 + Fraction(296, 10), True)
    alone = opened_wall(replace(LATH, measured=Fraction(50)), RATES, "sawn whole")
    assert (alone.openings, alone.area) == (4, 50 + Fraction(296, 10))
    none = opened_wall(replace(LATH, points={}, counted=0), RATES, "broken out")
    assert (none.openings, none.area, none.destroyed, none.on_site) == (0, 0, False, True)


def test_bare_wall_has_no_paint_to_cut() -> None:
    """In bare wall holes are counted, but no painted area, and nothing painted is destroyed."""
    bare = opened_wall(replace(LATH, painted=False), RATES, "broken out")
    assert (bare.openings, bare.boxes, bare.area, bare.destroyed) == (4, 3, 0, False)


@pytest.mark.parametrize("work", [
    replace(LATH, wall="brick"),
    replace(LATH, points={"fan": 1}),
    replace(LATH, drops=Fraction(-1)),
    replace(LATH, points={"outlet": -1}),
    replace(LATH, counted=-1),
    replace(LATH, measured=Fraction(-1)),
    replace(LATH, counted=0, measured=Fraction(9)),
    replace(LATH, counted=3, measured=Fraction(0)),
])
def test_what_cannot_be_is_refused(work: WallWork) -> None:
    """Counts under zero, unknown kinds, and a count and an area that cannot both be true raise ValueError."""
    with pytest.raises(ValueError, match=r"."):
        opened_wall(work, RATES, "sawn whole")


def test_a_wrong_way_of_cutting_or_a_wall_twice_is_refused() -> None:
    """Cuts are of three ways, and each kind of wall of a room is named once."""
    with pytest.raises(ValueError, match="cuts are"):
        opened_wall(LATH, RATES, "hacked")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="twice"):
        opened_room([LATH, LATH], RATES, "sawn whole")
    with pytest.raises(ValueError, match="no cut"):
        rectangle(Fraction(-1), Fraction(1))


@given(rates, works, parts, st.integers(0, 4), hows)
@QUIET
def test_more_drops_or_points_never_open_less(book: OpeningRates, work: WallWork, drops: Fraction, points: int,
                                              how: How) -> None:
    """With drops or points added, neither openings nor boxes nor painted area shrink."""
    more = replace(work, drops=work.drops + drops, points={k: n + points for k, n in work.points.items()})
    before, after = opened_wall(work, book, how), opened_wall(more, book, how)
    assert (after.openings >= before.openings, after.boxes >= before.boxes, after.area >= before.area) == (True,) * 3
    assert after.destroyed >= before.destroyed


@given(rates, works, hows)
@QUIET
def test_openings_are_the_least_whole_count(book: OpeningRates, work: WallWork, how: How) -> None:
    """Openings are not fewer than the rate asks and less than one more; painted area is theirs and the boxes'."""
    found = opened_wall(work, book, how)
    rate = book.walls[work.wall]
    assert found.openings == ceil(rate.openings_a_drop * work.drops)
    area = found.openings * rate.width * rate.height + sum(n * book.boxes[k] for k, n in work.points.items())
    assert found.area == (area if work.painted else 0)
    assert found.destroyed == (how != "sawn whole" and found.area > 0)
    assert found.chiselled == (how == "edges chiselled" and found.area > 0)


def test_edges_cut_back_count_on_all_four_sides() -> None:
    """An opening of 4 by 6 in with its edges cut back by 2 takes 8 by 10 in of paint; the cuts of boxes stay."""
    found = opened_wall(LATH, replace(RATES, cut_back=Fraction(2)), "sawn whole")
    assert found.area == 4 * 80 + Fraction(296, 10)
    with pytest.raises(ValueError, match="cut back"):
        opened_wall(LATH, replace(RATES, cut_back=Fraction(-1)), "sawn whole")


def test_a_piece_from_stud_to_stud_is_as_wide_as_the_bay() -> None:
    """Where an opening is cut from stud to stud it is 14 1/2 in wide, or as wide as the book says if that is more."""
    narrow, wide = (WallRate(Fraction(1), Fraction(width), Fraction(6), between_studs=True) for width in (4, 16))
    assert (opening(narrow, Fraction(0)), opening(wide, Fraction(0))) == (87, 96)
    assert opening(replace(narrow, between_studs=False), Fraction(0)) == 24


@given(rates, works, inches, inches, inches, st.booleans(), hows)
@QUIET
def test_wider_cuts_never_shrink_an_area(book: OpeningRates, work: WallWork, wider: Fraction, higher: Fraction,
                                         back: Fraction, studs: bool, how: How) -> None:
    """Wider or higher openings, edges cut back further and cuts from stud to stud never take less paint."""
    walls = {wall: replace(rate, width=rate.width + wider, height=rate.height + higher, between_studs=studs)
             for wall, rate in book.walls.items()}
    more = replace(book, walls=walls, cut_back=book.cut_back + back)
    assert opened_wall(work, more, how).area >= opened_wall(work, book, how).area


@given(rates, st.lists(works, max_size=2, unique_by=lambda work: work.wall), hows)
@QUIET
def test_a_room_is_the_sum_of_its_walls(book: OpeningRates, room: list[WallWork], how: How) -> None:
    """Openings, boxes and area of a room are those of its kinds of wall together."""
    found, each = opened_room(room, book, how), [opened_wall(work, book, how) for work in room]
    assert (found.openings, found.boxes, found.area) == (
        sum(one.openings for one in each), sum(one.boxes for one in each), sum(one.area for one in each))
    assert found.destroyed == any(one.destroyed for one in each)
