"""Sheet, board, layers, care and cleaning of floors: at their limits and for any room."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.offer.rules import rule
from sitegen.trade.floors import (
    CARES,
    CLEANING,
    Place,
    Roll,
    board,
    cleaning,
    layers,
    room_sheet,
)
from sitegen.trade.kinds import FLOORS

REACH = int(rule("lead-sheet-feet").value)  # type: ignore[arg-type]
ROLL = Roll(38, 100)
QUIET = settings(max_examples=80, deadline=None, derandomize=True)

sides = st.integers(24, 240).map(lambda n: Fraction(n, 8))
place_lists = st.lists(st.builds(Place, st.sampled_from(("wall", "ceiling")),
                                 st.integers(1, 24).map(lambda n: Fraction(n, 8))), max_size=5)
pieces = st.lists(st.tuples(sides, sides), max_size=5)
rolls = st.builds(Roll, st.integers(24, 48), st.integers(20, 120), st.integers(0, 6))


# --------------------------------------------------------------------------------------------------- the sheet


@given(length=sides, width=sides, places=place_lists, more=place_lists)
@QUIET
def test_more_openings_never_shrink_the_sheet(length: Fraction, width: Fraction, places: list[Place],
                                              more: list[Place]) -> None:
    """With more places worked on the sheet does not shrink, and the floor outside never grows."""
    before, after = room_sheet(length, width, places, REACH), room_sheet(length, width, places + more, REACH)
    assert before.at_most <= after.at_most
    assert after.outside <= before.outside


@given(length=sides, width=sides, places=place_lists)
@QUIET
def test_outside_and_sheet_make_the_room(length: Fraction, width: Fraction, places: list[Place]) -> None:
    """Sheet and the floor outside it sum to the room, and none is below zero."""
    sheet = room_sheet(length, width, places, REACH)
    assert sheet.at_most + sheet.outside == length * width
    assert min(sheet.at_most, sheet.outside) >= 0


@given(length=st.integers(4, 16), width=st.integers(4, 16), spots=st.lists(
    st.tuples(st.sampled_from("NESWC"), st.integers(0, 100), st.integers(0, 100), st.integers(1, 3)),
    min_size=1, max_size=4))
@QUIET
def test_no_real_sheet_is_larger(length: int, width: int, spots: list[tuple[str, int, int, int]]) -> None:
    """Square foot by square foot: whatever the spots, the floor under sheet is not more than at most."""
    covered: set[tuple[int, int]] = set()
    places = []
    for wall, one, two, wide in spots:
        x, y = one % (length - wide + 1), two % (width - wide + 1)
        ends = {"N": (x, x + wide, 0, 0), "S": (x, x + wide, width, width), "W": (0, 0, y, y + wide),
                "E": (length, length, y, y + wide), "C": (x, x + wide, y, y + wide)}[wall]
        covered |= {(i, j) for i in range(length) for j in range(width)
                    if ends[0] - REACH <= i < ends[1] + REACH and ends[2] - REACH <= j < ends[3] + REACH}
        places.append(Place("ceiling" if wall == "C" else "wall", wide))
    sheet = room_sheet(length, width, places, REACH)
    assert len(covered) <= sheet.at_most


def test_a_small_room_is_wholly_covered() -> None:
    """In a room of six by six one opening puts sheet over all of it, and nothing is left outside."""
    sheet = room_sheet(6, 6, [Place("wall", 1)], REACH)
    assert (sheet.at_most, sheet.outside) == (36, 0)


def test_no_place_no_sheet() -> None:
    """In a room where nothing is worked on there is no sheet."""
    sheet = room_sheet(12, 14, [], REACH)
    assert (sheet.at_most, sheet.outside) == (0, 168)


def test_a_ceiling_opening_is_covered_on_all_sides() -> None:
    """Under a foot of ceiling in a large room the sheet is thirteen feet square at most."""
    assert room_sheet(30, 30, [Place("ceiling", 1)], REACH).at_most == 169


@pytest.mark.parametrize(("length", "width", "due"), [(30, 20, 78), (10, 20, 78), (30, 4, 52), (10, 10, 60), (5, 5, 25)
                                                      ])
def test_sheet_of_one_opening_by_hand(length: int, width: int, due: int) -> None:
    """Thirteen feet by six on the wall that gives the most, less where the room ends."""
    assert room_sheet(length, width, [Place("wall", 1)], REACH).at_most == due


def test_rooms_and_places_that_cannot_be_are_refused() -> None:
    """No room without size, no place off its wall or wider than the room, on no floor, of no width."""
    for bad in (lambda: room_sheet(0, 5, [], REACH), lambda: room_sheet(5, 5, [], -1), lambda: Place("floor", 1),
                lambda: Place("wall", 0),
                lambda: room_sheet(5, 4, [Place("wall", 6)], REACH),
                lambda: room_sheet(5, 4, [Place("ceiling", 5)], REACH)):
        with pytest.raises(ValueError, match=r"\w"):
            bad()


def test_a_wide_place_lies_on_the_wall_that_holds_it() -> None:
    """A place wider than the short walls lies on a long one, and the sheet is bounded by that wall alone."""
    sheet = room_sheet(10, 4, [Place("wall", 5)], 2)
    assert sheet.at_most == 18


# --------------------------------------------------------------------------------------------------- the board


@given(floor=pieces, more=pieces, roll=rolls)
@QUIET
def test_board_reaches_over_the_floor(floor: list[tuple[Fraction, Fraction]], more: list[tuple[Fraction, Fraction]],
                                      roll: Roll) -> None:
    """The rolls hold at least the floor's area, and more floor never takes fewer rolls or less tape."""
    laid, both = board(floor, roll), board(floor + more, roll)
    assert laid.rolls * roll.area >= laid.area
    assert laid.rolls <= both.rolls
    assert laid.tape <= both.tape


@given(piece=st.tuples(sides, sides), roll=rolls)
@QUIET
def test_more_overlap_never_takes_less_board(piece: tuple[Fraction, Fraction], roll: Roll) -> None:
    """Butted strips are the least board; overlap adds."""
    assert board([piece], Roll(roll.width, roll.length)).rolls <= board([piece], roll).rolls


def test_board_by_hand() -> None:
    """A hall of 30 by 3 feet takes one strip; a room of 12 by 10 takes four, 48 feet, with three seams of 12."""
    hall = board([(30, 3)], ROLL)
    assert (hall.rolls, hall.seams, hall.edges) == (1, 0, 66)
    room = board([(12, 10)], ROLL)
    assert (room.rolls, room.seams, room.edges, room.tape) == (1, 36, 44, 80)
    both = board([(30, 3), (12, 10), (12, 10)], ROLL)
    assert (both.area, both.rolls) == (330, 2)
    assert both.seams == 72 + Fraction(38, 12)


def test_strips_that_just_reach_take_no_further_one() -> None:
    """Two strips of three feet lapped by half a foot reach over five and a half feet, and not an inch more."""
    lapped = Roll(36, 100, 6)
    assert board([(10, Fraction(11, 2))], lapped).seams == 10
    assert board([(10, Fraction(67, 12))], lapped).seams == 20


def test_no_floor_no_board() -> None:
    """Nothing to cover takes no roll and no tape."""
    assert board([], ROLL) == type(board([], ROLL))(Fraction(0), 0, Fraction(0), Fraction(0))


def test_board_and_tape_that_cannot_be_are_refused() -> None:
    """No roll without size or lapped by all of it, no piece without size."""
    for bad in (lambda: Roll(0, 100), lambda: Roll(38, 100, 38), lambda: Roll(38, 100, -1),
                lambda: board([(0, 5)], ROLL)):
        with pytest.raises(ValueError, match=r"\w"):
            bad()


# -------------------------------------------------------------------------------------------- layers and care


@pytest.mark.parametrize(("what", "due"), [
    ((True, True, True), ("board", "sheet", "paper")), ((True, False, False), ("sheet",)),
    ((False, True, False), ("board",)), ((False, False, False), ()),
])
def test_layers_run_from_the_floor_up(what: tuple[bool, bool, bool], due: tuple[str, ...]) -> None:
    """Board down first, sheet on it while lead work lasts, paper on top only."""
    assert layers(lead_work=what[0], with_board=what[1], with_paper=what[2]) == due


def test_every_floor_has_its_care() -> None:
    """Each kind of floor has care, and wood alone is warned of sheet left lying."""
    assert set(CARES) == set(FLOORS)
    assert all(CARES.values())
    assert {floor for floor, cares in CARES.items() if "lift sheet soon" in cares} == {
        "thin strip", "thick strip", "softwood plank"}


# --------------------------------------------------------------------------------------------------- cleaning


def test_surfaces_before_board_floor_last_then_verification() -> None:
    """Chips, sheet, surfaces, board wiped, board up, floor, verification, in this order."""
    order = cleaning(with_board=True, lead_work=True)
    due = ("chips up", "sheet out", "surfaces", "board wiped", "board up", "floor", "verification")
    assert order == due == tuple(CLEANING)


@given(with_board=st.booleans(), lead_work=st.booleans(), wipe_first=st.booleans())
@QUIET
def test_cleaning_keeps_its_order(with_board: bool, lead_work: bool, wipe_first: bool) -> None:
    """Whatever is left out, the rest keeps its order, and a first wipe replaces nothing."""
    order = cleaning(with_board=with_board, lead_work=lead_work, wipe_first=wipe_first)
    rest = [step for step in order if step != "first wipe"]
    assert all(tuple(CLEANING).index(a) < tuple(CLEANING).index(b) for a, b in pairwise(rest))
    assert tuple(rest) == cleaning(with_board=with_board, lead_work=lead_work)
    assert ("verification" in rest) == lead_work
    assert order[:1] == ("first wipe",) or not wipe_first
