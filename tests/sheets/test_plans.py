"""The plan of a storey: rooms at their place and size, and a mark for every point."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

import pytest

from sitegen.figure import Figure, Quote, Source
from sitegen.offer.rooms import KindInRoom, RoomSeen
from sitegen.sheets.plans import DIGITS, EDGE, EVEN, SIZES, WIDE, RoomDrawn, Storey, _mark, storeys

SEEN = Source("survey", "line 4")
TAKES = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "a": 7, "z": 0}


def room(key: str, size: tuple[int, int], at: tuple[int, int] | None, floor: int = 1,
         points: tuple[int, int, int] = (1, 1, 1)) -> RoomSeen:
    """A room of `size` [feet] at `at` [feet], with old points, points not seen, and points on newer cable."""
    def figure(word: str, value: int, unit: str = "feet") -> Figure:
        return Figure(f"rooms.{key}.{word}", value, unit, "Made up.", SEEN)

    def count(word: str, value: int) -> Figure:
        return figure(word, value, "points")
    old, unseen, newer = points
    kind = KindInRoom(Quote("outlet", SEEN), None, count("now", sum(points)), count("want", sum(points)),
                      count("listed", 0), count("old", old), count("newer", newer), count("unseen", unseen),
                      count("rewired", old + unseen))
    return RoomSeen(key, Quote(key, SEEN), f"Storey {floor}", figure("floor", floor, "number"), "bedroom",
                    figure("long", size[0]), figure("wide", size[1]), None if at is None else figure("left", at[0]),
                    None if at is None else figure("front", at[1]), (), False, False, (kind,),
                    count("list", 0), count("all", 0), False)


HOUSE = (room("hall", (9, 14), (15, 0), points=(3, 1, 0)), room("living", (15, 18), (0, 0), points=(5, 1, 1)),
         room("kitchen", (12, 15), (13, 18), points=(0, 0, 10)), room("bath", (7, 9), (25, 18), points=(1, 3, 1)),
         room("attic", (12, 16), (4, 6), 3, points=(0, 4, 0)))


def walk(path: str) -> Iterator[tuple[float, float]]:
    """Every place that a path of ours comes to."""
    x = y = begin_x = begin_y = 0.0
    for command, rest in re.findall(r"([a-zA-Z])([^a-zA-Z]*)", path):
        numbers = [float(number) for number in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", rest)]
        takes = TAKES[command.lower()]
        assert len(numbers) == takes or (takes and len(numbers) % takes == 0), (command, rest)
        for i in range(0, max(len(numbers), 1), takes or 1):
            end = numbers[i:i + takes]
            if command == "z":
                x, y = begin_x, begin_y
            elif command.lower() in "hv":
                value = end[0] + ((x if command == "h" else y) if command.islower() else 0)
                x, y = (value, y) if command.lower() == "h" else (x, value)
            else:
                x, y = end[-2] + (x if command.islower() else 0), end[-1] + (y if command.islower() else 0)
            if command.lower() == "m":
                begin_x, begin_y = x, y
            yield x, y


def extent(drawn: RoomDrawn) -> tuple[float, float]:
    """The width and the height of a room."""
    found = re.fullmatch(r'width="(\d+)" height="(\d+)"', drawn.size)
    assert found, drawn.size
    return float(found[1]), float(found[2])


def sides(drawn: RoomDrawn) -> tuple[float, float, float, float]:
    """The left, upper, right and lower edge of an outline."""
    found = re.fullmatch(r"translate\((\d+) (\d+)\)", drawn.corner)
    assert found, drawn.corner
    left, top, (wide, tall) = float(found[1]), float(found[2]), extent(drawn)
    return left, top, left + wide, top + tall


def sizes(drawn: RoomDrawn) -> set[str]:
    """The radii of a room's rings, as printed: one for each size of mark."""
    return set(re.findall(r"a([\d.]+) ", drawn.old + drawn.unseen + drawn.newer))


def view(storey: Storey) -> tuple[int, int]:
    """The width and the height of a drawing."""
    assert storey.view is not None
    _, _, wide, tall = storey.view.split()
    return int(wide), int(tall)


def drawn_by_key() -> dict[str, RoomDrawn]:
    """Every room of HOUSE as it is drawn."""
    return {one.room.key: one for storey in storeys(HOUSE) for one in storey.drawn}


def test_the_widest_storey_fills_the_width() -> None:
    """The widest drawing is so many units wide; a narrower one takes so much of the page that a unit is as large."""
    first, third = storeys(HOUSE)
    assert abs(view(first)[0] - WIDE) <= 1
    assert first.width == "100%"
    assert third.width
    assert float(third.width.rstrip("%")) == pytest.approx(100 * view(third)[0] / view(first)[0], abs=.01)
    assert abs(view(third)[0] - 2 * EDGE - (WIDE - 2 * EDGE) * 12 / 32) <= 1            # 12 of 32 feet


def test_a_room_stands_at_its_place_and_size_on_one_scale() -> None:
    """Every outline is its room's length and depth in feet, at one scale for the house, to the unit."""
    scale = Fraction(WIDE - 2 * EDGE, 32)
    for key, drawn in drawn_by_key().items():
        left, top, right, foot = sides(drawn)
        assert abs(right - left - drawn.room.long.value * scale) <= 1, key           # type: ignore[operator]
        assert abs(foot - top - drawn.room.wide.value * scale) <= 1, key             # type: ignore[operator]
    rooms = drawn_by_key()
    assert abs(sides(rooms["hall"])[0] - sides(rooms["living"])[0] - 15 * scale) <= 1


def test_the_front_of_the_house_is_at_the_foot() -> None:
    """What lies at the front is drawn lowest; what lies further back stands above it."""
    rooms = drawn_by_key()
    assert sides(rooms["hall"])[3] == sides(rooms["living"])[3]
    assert sides(rooms["kitchen"])[3] == sides(rooms["living"])[1]


def test_every_outline_and_mark_lies_in_the_drawing_and_in_its_room() -> None:
    """No stroke of a mark leaves its room, and no room leaves the drawing."""
    for storey in storeys(HOUSE):
        wide, tall = view(storey)
        for drawn in storey.drawn:
            left, top, right, foot = sides(drawn)
            assert left >= 0, drawn.room.key
            assert top >= 0, drawn.room.key
            assert right <= wide, drawn.room.key
            assert foot <= tall, drawn.room.key
            for path in (drawn.old, drawn.unseen, drawn.newer, drawn.bars, drawn.dots):
                for x, y in walk(path):                     # from the room's own corner
                    assert 0 < x < extent(drawn)[0], drawn.room.key
                    assert 0 < y < extent(drawn)[1], drawn.room.key


def test_the_walls_of_a_storey_are_the_outlines_of_its_rooms() -> None:
    """One path goes round every room and nothing else: no wall stands where no room was measured."""
    for storey in storeys(HOUSE):
        assert storey.walls
        drawn = [list(walk(wall)) for wall in re.findall(r"M[^M]+", storey.walls)]
        assert len(drawn) == len(storey.drawn)
        for places, one in zip(drawn, storey.drawn, strict=True):
            left, top, right, foot = sides(one)
            assert places == [(left, top), (right, top), (right, foot), (left, foot), (left, top)], one.room.key


def test_the_front_is_marked_under_the_ground_floor_alone() -> None:
    """A triangle under the foot of the first storey above ground, within the drawing; a cellar alone has one too."""
    cellar = room("cellar", (20, 20), (0, 0), 0)
    upper, below, ground = storeys((HOUSE[-1], cellar, *HOUSE[:-1]))
    assert (upper.front, below.front) == (None, None)
    assert ground.front
    wide, tall = view(ground)
    foot = max(sides(drawn)[3] for drawn in ground.drawn)
    assert all(0 < x < wide and foot + EDGE < y < tall for x, y in walk(ground.front))
    assert storeys((cellar,))[0].front
    assert storeys((room("hall", (9, 14), None),))[0].front is None


def test_all_storeys_have_one_size_of_mark() -> None:
    """A mark is as large in a small room upstairs as in a large one below."""
    small = room("bath", (7, 8), (0, 0), 2, points=(1, 1, 1))
    drawn = [one for storey in storeys((*HOUSE, small)) for one in storey.drawn]
    assert len(set().union(*(sizes(one) for one in drawn))) == 1
    assert not any(one.small for one in drawn)


def test_a_room_that_cannot_hold_them_has_smaller_marks_alone() -> None:
    """One crowded closet leaves the marks of all other rooms as large as they were."""
    crowded = room("closet", (5, 6), (0, 18), points=(2, 2, 2))
    plain, other = (storeys(rooms) for rooms in (HOUSE, (*HOUSE, crowded)))
    *rooms, closet = [one for storey in other if storey.name == "Storey 1" for one in storey.drawn]
    assert closet.small
    assert sizes(closet)
    assert not any(one.small for one in rooms)
    assert set().union(*map(sizes, rooms)) == set().union(*(sizes(one) for one in plain[0].drawn))
    assert float(*sizes(closet)) < min(float(radius) for one in rooms for radius in sizes(one))


def test_marks_stand_beside_the_number_before_they_shrink() -> None:
    """Where the space under the number is too low, the first line of marks begins at the height of the number."""
    plenty, tight = (storeys((*HOUSE, room("bath", (5, 7), (0, 0), 2, points=(points, 0, 0))))[-1].drawn[0]
                     for points in (3, 5))
    assert sizes(plenty) == sizes(tight)
    assert next(walk(plenty.old))[1] > 20
    assert next(walk(tight.old))[1] < 10
    assert next(walk(tight.old))[0] > 5 + 8 * len(tight.number.raw())


def test_a_mark_can_be_read_on_the_narrowest_phone() -> None:
    """The least size that a house shares is twelve pixels where the page is 320 wide, its margins 16 on each side."""
    assert Fraction(EVEN * (320 - 2 * 16), WIDE) >= 12
    assert EVEN in SIZES


def test_there_is_a_mark_for_every_point_by_its_state() -> None:
    """As many discs, rings with a question mark and rings with a dot as there are points of each state."""
    for drawn in drawn_by_key().values():
        kind = drawn.room.kinds[0]
        rings = {word: getattr(drawn, word).count("a") // 2 for word in ("old", "unseen", "newer", "dots")}
        assert rings == {"old": kind.old.value, "unseen": kind.unseen.value, "newer": kind.newer.value,
                         "dots": kind.newer.value}
        assert drawn.bars.count("h") == 2 * kind.old.value                           # type: ignore[operator]
        assert drawn.unseen.count("v") == 2 * kind.unseen.value                      # type: ignore[operator]


def test_no_two_marks_stand_on_one_place() -> None:
    """Every ring starts somewhere else, whatever its state."""
    for drawn in drawn_by_key().values():
        rings = [list(walk(path[:arc.start()]))[-1] for path in (drawn.old, drawn.unseen, drawn.newer)
                 for arc in list(re.finditer("a", path))[::2]]
        assert len(rings) == len(set(rings)) == drawn.room.kinds[0].now.value, drawn.room.key


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("state", ["old", "unseen", "newer"])
def test_a_mark_ends_where_it_starts(state: str, size: int) -> None:
    """After any mark the next can be set off from the same corner, so that a line of marks does not drift."""
    for _, stroke in _mark(state, Fraction(size, 20)):
        *_, (x, y) = walk(f"M0 0{stroke}")
        assert (round(x, 6), round(y, 6)) == (0, 0)


def test_the_three_states_differ_by_shape() -> None:
    """Without any colour, what lies inside a ring tells the three states apart."""
    marks = {state: dict(_mark(state, Fraction(1))) for state in ("old", "unseen", "newer")}
    assert set(marks["old"]) == {"old", "bars"}
    assert set(marks["newer"]) == {"newer", "dots"}
    assert set(marks["unseen"]) == {"unseen"}
    assert "c" in marks["unseen"]["unseen"]


def test_rooms_are_numbered_in_the_order_of_the_walk() -> None:
    """The number of a room is its place in the survey, over all storeys, and the drawing has its digits."""
    numbers = [(number.value, seen.key) for storey in storeys(HOUSE) for number, seen in storey.rooms]
    assert numbers == [(at, seen.key) for at, seen in enumerate(HOUSE, 1)]
    twelve = storeys([room(f"r{i}", (10, 10), (10 * i, 0)) for i in range(12)])[0].drawn[-1]
    assert twelve.digits == f"M0 0{DIGITS[1]}M8 0{DIGITS[2]}"


@pytest.mark.parametrize("digit", range(10))
def test_a_drawn_digit_is_six_wide_and_ten_tall(digit: int) -> None:
    """Every digit stays in its field, so that two stand side by side."""
    places = list(walk(f"M0 0{DIGITS[digit]}"))
    assert all(-.1 <= x <= 6.1 and -.1 <= y <= 10.1 for x, y in places), places
    assert DIGITS.index(DIGITS[digit]) == digit         # no other digit is drawn alike


def test_a_room_without_a_place_is_listed_and_not_drawn() -> None:
    """Nothing is put where nobody measured: such a room stands in the list alone."""
    storey = storeys((*HOUSE[:2], room("closet", (4, 5), None)))[0]
    assert [one.room.key for one in storey.drawn] == ["hall", "living"]
    assert [seen.key for _, seen in storey.rooms] == ["hall", "living", "closet"]


def test_a_storey_of_which_no_plan_was_taken_has_no_drawing() -> None:
    """Without any place there is a list, counts, and no drawing."""
    storey = storeys([room("hall", (9, 14), None, points=(2, 3, 4))])[0]
    assert (storey.drawn, storey.view, storey.width) == ((), None, None)
    assert (storey.old.value, storey.unseen.value, storey.newer.value) == (2, 3, 4)


def test_a_room_too_small_for_its_marks_shows_none() -> None:
    """All of a room's marks or none: a part of them would be a false count."""
    storey = storeys([room("great", (40, 30), (0, 0)), room("closet", (2, 2), (40, 0), points=(9, 9, 9))])[0]
    closet = storey.drawn[1]
    assert (closet.old, closet.unseen, closet.newer, closet.bars, closet.dots) == ("",) * 5
    assert storey.old.value == 10


def test_the_counts_of_a_storey_are_those_of_its_rooms() -> None:
    """The sentence under a plan tells by state what its rooms hold."""
    first, third = storeys(HOUSE)
    assert (first.old.value, first.unseen.value, first.newer.value) == (9, 5, 12)
    assert (third.old.value, third.unseen.value, third.newer.value) == (0, 4, 0)
