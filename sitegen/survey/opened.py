"""What a job opens, room by room: from the rooms of the survey and the price book to holes and painted area cut."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.job.books import PriceBook
from sitegen.job.model import Job, Room
from sitegen.survey.lines import Line, drops, lines
from sitegen.trade.openings import HOWS, How, OpeningRates, RoomOpened, WallRate, WallWork, opened_room
from sitegen.trade.rounding import half_up

CEILING = "ceiling light"
BARE = ("unfinished basement", "attic")
"""Kinds of rooms whose walls are bare framing or stone: no painted area is cut there."""

Count = Callable[[Line], int]


class RoomWork(Struct, frozen=True):
    """One room of a job for one scope: what is opened in it.

    `opened`    holes, box cuts and painted area
    `ceiling`   of the holes, those in its ceiling [openings]
    `overhead`  painted area cut in its ceiling, holes and boxes [sq in, exact]
    `points`    points done there [points]
    """

    room: Room
    opened: RoomOpened
    ceiling: int
    overhead: Fraction
    points: int

def by_list(line: Line) -> int:
    """Points that a list does."""
    return line.by_list


def by_all(line: Line) -> int:
    """Points that a price for every point does."""
    return line.by_all


def rates_of(book: PriceBook) -> OpeningRates:
    """The book's rates in inches."""
    return OpeningRates({wall: WallRate(rate.openings_a_drop, rate.wide * 12, rate.high * 12, rate.between_studs)
                         for wall, rate in book.rates.walls.items()}, book.rates.box_cut, book.rates.cut_back * 12)


def works(job: Job, book: PriceBook, scope: Count, how: str) -> dict[str, RoomWork]:
    """Every room in which this scope does a point, by name, in the order of the survey.

    A room counted on the plan keeps its count when every point is done, and its part by drops for a list.  `how` is
    the option's own, unless the room says how its plaster must be opened.
    """
    found: dict[str, list[tuple[Room, list[Line]]]] = {}
    for room in job.rooms:
        found.setdefault(room.room, []).append((room, list(lines(job, (room,)))))
    rates = rates_of(book)
    made = {name: _work(job, book, rates, parts, scope, how) for name, parts in found.items()}
    return {name: work for name, work in made.items() if work.points}


def _work(job: Job, book: PriceBook, rates: OpeningRates, parts: list[tuple[Room, list[Line]]], scope: Count,
          how: str) -> RoomWork:
    first = parts[0][0]
    by_wall: dict[str, list[tuple[Room, list[Line]]]] = {}
    for room, found in parts:
        by_wall.setdefault(room.walls or first.walls or job.house.walls, []).append((room, found))
    painted = first.kind not in BARE and not any(line.in_open for _, found in parts for line in found)
    cut = _how(next((room.cuts for room, _ in parts if room.cuts), None) or how)
    walls = [_wall(book, wall, some, scope, painted) for wall, some in by_wall.items()]
    opened = opened_room(walls, rates, cut)
    every = [line for _, found in parts for line in found]
    all_drops, over = _drops(every, scope, book), _drops([line for line in every if line.kind == CEILING], scope, book)
    ceiling = half_up(opened.openings * over / all_drops) if all_drops else 0
    boxes = sum((scope(line) * book.rates.box_cut[CEILING] for line in every if line.kind == CEILING), Fraction(0))
    fished = opened.area - sum((count * book.rates.box_cut[line.kind] for line in every if (count := scope(line))),
                               Fraction(0))
    overhead = boxes + (fished * ceiling / opened.openings if opened.openings else 0)
    return RoomWork(first, opened, ceiling, overhead if opened.area else Fraction(0), sum(map(scope, every)))


def _wall(book: PriceBook, wall: str, parts: list[tuple[Room, list[Line]]], scope: Count, painted: bool) -> WallWork:
    here = [line for _, found in parts for line in found]
    fished, most = _drops(here, scope, book), _drops(here, by_all, book)
    points: dict[str, int] = {}
    for line in here:
        points[line.kind] = points.get(line.kind, 0) + scope(line)
    counts = [room.openings for room, _ in parts if room.openings is not None]
    areas = [room.area_cut for room, _ in parts if room.area_cut is not None]
    share = min(Fraction(1), fished / most) if most else Fraction(0)
    counted = None if not counts else ceil(sum(counts) * share)
    return WallWork(wall, fished, points, painted, counted,
                    None if not areas else sum(areas, Fraction(0)) * share)


def _drops(found: Iterable[Line], scope: Count, book: PriceBook) -> Fraction:
    return drops(((line, scope(line)) for line in found), book)


def _how(word: str) -> How:
    return next(how for how in HOWS if how == word)


def openings_a_drop(job: Job, book: PriceBook) -> Fraction:
    """Openings for one drop over the whole house when every point is done, not rounded: what an added point opens."""
    total, fished = Fraction(0), Fraction(0)
    for room in job.rooms:
        here = _drops(lines(job, (room,)), by_all, book)
        first = next(one for one in job.rooms if one.room == room.room)
        rate = book.rates.walls[room.walls or first.walls or job.house.walls].openings_a_drop
        total += here * rate if room.openings is None else room.openings
        fished += here
    return total / fished if fished else Fraction(0)


__all__ = ["RoomWork", "by_all", "by_list", "openings_a_drop", "rates_of", "works"]
