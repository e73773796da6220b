"""The house in section: every point in exactly one mark of each house, in its storey, as the counts beside it say."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Sequence

import pytest
from bs4 import Tag
from msgspec.structs import replace

from sitegen.figure import Figure, Quote, Source, int_of
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.rooms import KindInRoom, RoomSeen
from sitegen.sheets.houses import EAVE, PITCH, STATES, Houses, Level, houses
from sitegen.sheets.houses import House as Drawn
from tests.built import HOUSES, House, built, offer

SEEN = Source("survey", "line 4")
SHEETS = {"index.html": "start", "compare.html": "compare"}


def kind(key: str, now: tuple[int, int, int], listed: int, new: bool, places: int) -> KindInRoom:
    """A kind of point: those old, not seen and newer; how many are listed; on a circuit seen new; new places."""
    def count(word: str, value: int) -> Figure:
        return Figure(f"rooms.{key}.{word}", value, "points", "Made up.", SEEN)
    old, unseen, newer = now
    return KindInRoom(Quote("outlet", SEEN), None, count("now", sum(now)), count("want", sum(now) + places),
                      count("listed", listed), count("old", old), count("newer", newer), count("unseen", unseen),
                      count("rewired", 0 if new else sum(now)))


def room(key: str, floor: int, *kinds: KindInRoom) -> RoomSeen:
    """A room of a storey."""
    def figure(word: str, value: int, unit: str) -> Figure:
        return Figure(f"rooms.{key}.{word}", value, unit, "Made up.", SEEN)
    return RoomSeen(key, Quote(key, SEEN), f"Storey {floor}", figure("floor", floor, "number"), "bedroom",
                    figure("long", 10, "feet"), figure("wide", 10, "feet"), None, None, (), False, False, kinds,
                    figure("list", 0, "openings"), figure("all", 0, "openings"), False)


def with_rooms(rooms: Sequence[RoomSeen], held: int | None = None) -> Offer:
    """A demo house with other rooms, whose options hold so many new places in their price; None is all."""
    given = offer(HOUSES[0])
    every = sum(int_of(one.want) - int_of(one.now) for room in rooms for one in room.kinds)
    options = tuple(_holding(option, every if held is None else held) for option in given.outcome.options)
    return replace(given, rooms=tuple(rooms), outcome=replace(given.outcome, options=options))


def _holding(option: OptionMoney, places: int) -> OptionMoney:
    return replace(option, places_held=replace(option.places_held, value=places))


def made(seed: int) -> Offer:
    """A house made by chance: up to five storeys, up to twelve rooms on each, up to 300 points."""
    luck = random.Random(seed)
    rooms = list[RoomSeen]()
    left = luck.choice((3, 20, 80, 300))
    for floor in range(luck.choice((0, 1)), luck.choice((2, 3, 5))):
        for at in range(luck.randint(1, 12)):
            kinds = []
            for one in range(luck.randint(0, 2)):
                now = [min(left, luck.randint(0, 4)) for _ in STATES[1:]]
                if sum(now) > left:
                    now = [0, min(left, 1), 0]
                new = luck.random() < .2
                now = [0, 0, sum(now)] if new else now
                left -= sum(now)
                kinds.append(kind(f"r{floor}-{at}-{one}", (now[0], now[1], now[2]), luck.randint(0, sum(now)), new,
                                  luck.randint(0, 3)))
            rooms.append(room(f"r{floor}-{at}", floor, *kinds))
    return with_rooms(rooms)


def all_of(drawn: Houses) -> tuple[Drawn, ...]:
    """Every house that is drawn."""
    return (drawn.large, drawn.today, *drawn.after)


def middles(path: str) -> list[tuple[int, int]]:
    """The middle of every mark of a path: each of its vertices but the last, which only ends it."""
    found = list[tuple[int, int]]()
    for command, rest in re.findall(r"([Mh])([^Mh]*)", path):
        numbers = [int(number) for number in rest.split()]
        if command == "M":
            found.append((numbers[0], numbers[1]))
        else:
            found.append((found[-1][0] + numbers[0], found[-1][1]))
    assert found[-1] == found[-2], path
    return found[:-1]


def marks(house: Drawn) -> Counter[str]:
    """How many marks of each state a house has."""
    return Counter(state for level in house.levels for state, path in level.marks for _ in middles(path))


def view(level: Level) -> tuple[int, int]:
    """The width and the height of a level."""
    _, _, wide, tall = level.view.split()
    return int(wide), int(tall)


CASES = [*HOUSES, *range(24)]


def case(which: str | int) -> Offer:
    """A demo house by its name, or a made one by its number."""
    return offer(which) if isinstance(which, str) else made(which)


@pytest.mark.parametrize("which", CASES)
def test_counts_are_the_marks_that_are_drawn(which: str | int) -> None:
    """In each house there are as many marks of each state as its count says."""
    for house in all_of(houses(case(which))):
        assert marks(house) == Counter({state: int_of(house.counts[state]) for state in STATES}), house.key


@pytest.mark.parametrize("which", CASES)
def test_every_point_is_in_one_mark_of_each_house(which: str | int) -> None:
    """Today there is a mark for every point there now; after an option one more for every new place that it holds."""
    given = case(which)
    drawn, now = houses(given), sum(int_of(one.now) for room in given.rooms for one in room.kinds)
    places = {option.key: int_of(option.places_held) for option in given.outcome.options}
    assert marks(drawn.large).total() == marks(drawn.today).total() == now
    assert [marks(house).total() - now for house in drawn.after] == [places[house.key] for house in drawn.after]


@pytest.mark.parametrize("which", CASES)
def test_marks_stay_inside_of_their_storey_and_apart(which: str | int) -> None:
    """No mark touches a wall, a floor or a line between rooms, none leaves the gable, and no two touch."""
    for house in all_of(houses(case(which))):
        for level in house.levels:
            wide, tall = view(level)
            found = [at for _, path in level.marks for at in middles(path)]
            lines = [EAVE, wide - EAVE, *(int(x) for x in re.findall(r"M(\d+)", level.bays))]
            assert all(abs(x - line) >= PITCH // 2 for x, _ in found for line in lines), (house.key, level.name)
            assert all(PITCH // 2 <= y <= tall - PITCH // 2 for _, y in found), (house.key, level.name)
            if level.roof:
                assert all(min(x, wide - x) * 2 * tall / wide >= tall - y + PITCH // 2 for x, y in found)
            assert len(set(found)) == len(found)
            assert all(abs(x - u) >= PITCH or abs(y - v) >= PITCH for i, (x, y) in enumerate(found)
                       for u, v in found[:i])


def test_a_house_of_three_hundred_points_keeps_its_shape() -> None:
    """However many points there are, a house stays under its greatest height, and its marks grow smaller."""
    rooms = [room(f"r{at}", at // 8, kind(f"r{at}", (3, 5, 2), 4, False, 1)) for at in range(30)]
    drawn = houses(with_rooms(rooms))
    for house, most in ((drawn.large, 1), (drawn.today, 2), *((one, 2) for one in drawn.after)):
        *_, wide = {view(level)[0] for level in house.levels}
        assert sum(view(level)[1] for level in house.levels if not level.roof) <= most * wide
    assert marks(drawn.large).total() == 300


def test_a_list_takes_old_ones_first_then_those_not_seen() -> None:
    """Four of a line are listed: its two old ones and two not seen; one of them stays not seen, as do newer ones."""
    given = with_rooms([room("hall", 1, kind("hall", (2, 3, 1), 4, False, 2))])
    for house, option in zip(houses(given).after, given.outcome.options, strict=True):
        counted = {state: int_of(house.counts[state]) for state in STATES}
        assert counted == ({"new": 8, "old": 0, "unseen": 0, "newer": 0} if option.covers_all else
                           {"new": 6, "old": 0, "unseen": 1, "newer": 1})


def test_what_is_known_old_and_not_listed_stays_old() -> None:
    """A list of one leaves the other old one, what nobody saw, and a circuit that was seen new."""
    given = with_rooms([room("hall", 1, kind("hall", (2, 3, 0), 1, False, 0), kind("bath", (0, 0, 4), 0, True, 0))])
    for house, option in zip(houses(given).after, given.outcome.options, strict=True):
        counted = {state: int_of(house.counts[state]) for state in STATES}
        assert counted == ({"new": 5, "old": 0, "unseen": 0, "newer": 4} if option.covers_all else
                           {"new": 1, "old": 1, "unseen": 3, "newer": 4})


def test_a_new_place_that_a_price_does_not_hold_is_not_drawn() -> None:
    """Of three new places a price holds one: it is drawn in the first room that wants one."""
    given = with_rooms([room("hall", 1, kind("hall", (0, 1, 0), 0, False, 2)),
                        room("bath", 2, kind("bath", (0, 1, 0), 0, False, 1))], held=1)
    for house, option in zip(houses(given).after, given.outcome.options, strict=True):
        assert int_of(house.counts["new"]) == (3 if option.covers_all else 1)


@pytest.mark.parametrize("job", HOUSES)
def test_today_is_what_the_survey_found(job: str) -> None:
    """The counts of today are those that every page says."""
    found, counts = offer(job).found, houses(offer(job)).today.counts
    assert [int_of(counts[state]) for state in STATES] == [0, int_of(found.old), int_of(found.not_seen),
                                                           int_of(found.newer)]


@pytest.mark.parametrize("job", HOUSES)
def test_an_option_leaves_what_its_scope_says(job: str) -> None:
    """A list leaves the old ones off it and those that nobody saw; a price for every point leaves newer circuits."""
    given = offer(job)
    for house, option in zip(houses(given).after, given.outcome.options, strict=True):
        counts = {state: int_of(house.counts[state]) for state in STATES}
        if option.covers_all:
            assert (counts["old"], counts["unseen"]) == (0, 0)
            assert counts["new"] == int_of(given.found.rewired) + int_of(option.places_held)
        else:
            assert counts["old"] == int_of(given.found.known_off_list)
            assert counts["unseen"] == int_of(given.found.unseen_off_list)
            assert counts["new"] == int_of(given.found.listed) + int_of(option.places_held)


def drawings(house: House, sheet: str) -> list[Tag]:
    """The houses that stand on a sheet."""
    return house.pages[sheet].select(".houses .house")


@pytest.mark.parametrize("job", HOUSES)
@pytest.mark.parametrize("sheet", SHEETS)
def test_the_houses_stand_on_the_first_sheet_and_on_the_comparison(job: str, sheet: str) -> None:
    """Today and one for each option, each an image with a name; every marker that is used is there, under its sheet."""
    house = built(job)
    page, found = house.pages[sheet], drawings(house, sheet)
    assert len(found) == 1 + len(house.offer.outcome.options)
    for one in found:
        assert one["role"] == "img"
        assert all(page.select(f"#{name}") for name in str(one["aria-labelledby"]).split())
        used = {str(path["marker-start"]) for path in one.select("path[marker-start]")}
        assert used <= {f"url(#{marker['id']})" for marker in page.select("marker")}
    assert all(str(marker["id"]).startswith(f"{SHEETS[sheet]}-") for marker in page.select("marker"))
    assert not page.select(".houses svg text, .houses svg title")


@pytest.mark.parametrize("job", HOUSES)
def test_the_words_under_a_house_have_its_counts(job: str) -> None:
    """What is said under each house is what is drawn in it, on both sheets."""
    house = built(job)
    drawn = houses(house.offer)
    for sheet, at in SHEETS.items():
        for one in drawn.after:
            place = house.place(sheet, f"#{at}-houses-{one.key}-says")
            said = {name: int(value) for name, value, _ in place.figures()}
            for state in ("old", "unseen", "new"):
                name, count = f"sheets.houses.{one.key}.{state}", int_of(one.counts[state])
                assert said.get(name, count) == count
                assert name in said or count < 2, f"{place.name}: {name}"
