"""The least number of receptacles room by room (NEC 210.52), against what is planned and what a town asks.

Counts are a floor, not a layout: places must also miss doors' swings, heaters and built-ins.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.trade.circuits import ROOM_KINDS
from sitegen.trade.load_parts import Number

BY_WALLS = ("living room", "dining room", "kitchen", "bedroom", "finished basement", "other habitable room", "sunroom")
SPACINGS = ("full", "same places", "ask")
"""What a town asks where old wiring is replaced in closed walls: the rule, as many as now, or not known yet."""


class ReceptacleRule(Struct, frozen=True):
    """Numbers of NEC 210.52 in one edition.

    `reach`, `wall_least`, `hall_least`, `foyer_wall` in [feet]; `counter_least`, `counter_reach`, `island_long`,
    `island_short` in [inches]; `foyer_least`, `island_first`, `island_more` in [sq ft].
    `island` is "one each", "by area" or "provide for later".
    """

    reach: Number
    wall_least: Number
    counter_least: Number
    counter_reach: Number
    island: str
    island_long: Number
    island_short: Number
    island_first: Number
    island_more: Number
    hall_least: Number
    foyer_least: Number
    foyer_wall: Number
    outdoors: int


class Outline(Struct, frozen=True):
    """A room whose wall runs were not measured: its perimeter, and the width of every break in its walls [feet].

    A break is a doorway or similar opening, a fireplace, or a fixed cabinet without a counter; a counter may be
    taken as one, since its own receptacles are counted apart.
    """

    perimeter: Number
    breaks: tuple[Number, ...] = ()

    def __post_init__(self) -> None:
        if self.perimeter <= 0 or any(width < 0 for width in self.breaks) or sum(self.breaks) > self.perimeter:
            raise ValueError("breaks are not below zero and together not longer than the perimeter")


class OutletRoom(Struct, frozen=True):
    """A room for receptacles: its kind, how many are there now and planned, and what its least number rests on.

    `walls`: wall runs from break to break around corners [feet], or an Outline.  `counters`: widths of wall counters
    between breaks [inches].  `islands`: length and width of islands and peninsulas [inches].  `foyer_walls`: wall
    spaces of a foyer that is no part of a hall [feet], with its `area` [sq ft].  `length`: a hall's centreline without
    a doorway [feet].  `bays`: vehicle bays.  `laundry`: whether a washer stands in a room of another kind.
    """

    name: str
    kind: str
    now: int
    planned: int
    walls: tuple[Number, ...] | Outline | None = None
    counters: tuple[Number, ...] = ()
    islands: tuple[tuple[Number, Number], ...] = ()
    basins: int = 1
    bays: int = 1
    length: Number | None = None
    area: Number | None = None
    foyer_walls: tuple[Number, ...] | None = None
    laundry: bool = False

    def __post_init__(self) -> None:
        runs = self.walls if isinstance(self.walls, tuple) else ()
        numbers = (self.now, self.planned, self.basins, self.bays, self.length or 0, self.area or 0, *runs,
                   *self.counters, *(self.foyer_walls or ()), *(side for island in self.islands for side in island))
        if self.kind not in ROOM_KINDS or any(number < 0 for number in numbers):
            raise ValueError(f"{self.name}: {self.kind!r} with a measure below zero, or no kind of room")


class Need(Struct, frozen=True):
    """Receptacles that one part of the rule asks for, by reason and section; not `measured`: at least so many."""

    reason: str
    count: int
    section: str
    measured: bool = True


class Answer(Struct, frozen=True):
    """One room under one spacing rule.

    `minimum`: what the town asks; `short`: by how much the plan misses it.  `full` and `short_of_full`: the same by
    the code's own rule, shown whatever the town asks.  Not `measured`: `full` is a floor, more may be asked.
    """

    room: str
    spacing: str
    minimum: int
    planned: int
    short: int
    full: int
    short_of_full: int
    needs: tuple[Need, ...]
    measured: bool


def answers(rule: ReceptacleRule, room: OutletRoom, spacing: str) -> tuple[Answer, ...]:
    """A room under the town's spacing rule (SPACINGS); "ask" gives both answers, the full rule first."""
    if spacing not in SPACINGS:
        raise ValueError(f"{spacing!r} is not one of {', '.join(SPACINGS)}")
    found = needs(rule, room)
    full = sum(need.count for need in found)
    return tuple(Answer(room.name, one, minimum, room.planned, max(0, minimum - room.planned), full,
                        max(0, full - room.planned), found, all(need.measured for need in found))
                 for one, minimum in (("full", full), ("same places", room.now)) if spacing in (one, "ask"))


def needs(rule: ReceptacleRule, room: OutletRoom) -> tuple[Need, ...]:
    """What NEC 210.52 asks of one room, part by part; empty where it asks nothing of this kind of room.

    A hall without its length counts as one of at least 10 ft, the cautious reading, and is marked as not measured.
    """
    found: list[Need] = []
    if room.kind in BY_WALLS:
        found.append(_walls(rule, room.walls))
    if room.counters:
        found.append(Need("counter", sum(counter(rule, width) for width in room.counters), "NEC 210.52(C)(1)"))
    if room.islands:
        found += [island(rule, *sides) for sides in room.islands]
    if room.kind == "bathroom":
        found.append(Need("basin", room.basins, "NEC 210.52(D)"))
    if room.kind == "outdoors":
        found.append(Need("front-and-back", rule.outdoors, "NEC 210.52(E)(1)"))
    if room.kind == "porch":
        found.append(Need("porch", 1, "NEC 210.52(E)(3)"))
    if room.kind == "laundry" or room.laundry:
        found.append(Need("laundry", 1, "NEC 210.52(F)"))
    if room.kind == "garage":
        found.append(Need("vehicle-bay", room.bays, "NEC 210.52(G)(1)"))
    if room.kind == "unfinished basement":
        found.append(Need("unfinished-part", 1, "NEC 210.52(G)(3)"))
    if room.kind == "hall":
        found.append(_hall(rule, room))
    return tuple(found)


def by_runs(rule: ReceptacleRule, runs: Iterable[Number]) -> int:
    """Receptacles along wall runs [feet]: none for one under 2 ft, else one for each 12 ft or part (210.52(A)).

    A run goes around corners from break to break; a room without any break is one run, its whole perimeter.
    Receptacles are never shared across a doorway.
    """
    return sum(ceil(Fraction(run) / (2 * rule.reach)) for run in runs if run >= rule.wall_least)


def by_outline(rule: ReceptacleRule, outline: Outline) -> int:
    """The fewest receptacles that any room of this perimeter and these breaks can need.

    Breaks take their width away; what is left falls into at most as many runs as there are breaks.  Splitting a run
    can only raise the sum of its rounded-up parts, but a part under 2 ft asks for none.  If what is left could all
    lie in such parts the floor is 0.  Otherwise one run at least is longer, so at most all but one are short, and
    together they hide less than 2 ft each: the rest, in one run, is the floor.  It holds only if no break is left
    out or wider than stated, and if the perimeter is not too long; a bounding rectangle's never is.
    """
    rest, breaks = Fraction(outline.perimeter) - sum(outline.breaks), len(outline.breaks)
    if rest < rule.wall_least * max(1, breaks):
        return 0
    hidden = rule.wall_least * max(0, breaks - 1)
    return max(1, ceil((rest - hidden) / (2 * rule.reach)))


def counter(rule: ReceptacleRule, width: Number) -> int:
    """Receptacles of one stretch of wall counter [inches]: none under 12, else one for each 48 or part."""
    return ceil(Fraction(width) / (2 * rule.counter_reach)) if width >= rule.counter_least else 0


def island(rule: ReceptacleRule, length: Number, width: Number) -> Need:
    """What an island or a peninsula of this size [inches] asks for, by edition (210.52(C)(2)).

    2017: one each from 24 by 12 inches on.  2020: one for the first 9 sq ft or part, one for each 18 more or part.
    2023: none, but provision for one later.
    """
    long, short = max(length, width), min(length, width)
    if rule.island == "one each":
        count = int(long >= rule.island_long and short >= rule.island_short)
    elif rule.island == "by area":
        area = Fraction(long) * short / 144
        count = (area > 0) + max(0, ceil((area - rule.island_first) / rule.island_more))
    else:
        count = 0
    return Need(f"island, {rule.island}", count, "NEC 210.52(C)(2)")


def house_questions(rooms: Sequence[OutletRoom]) -> tuple[str, ...]:
    """What a house must have and no room listed shows, as keys: outdoors, laundry, bathroom, kitchen."""
    kinds = {room.kind for room in rooms} | {"laundry" for room in rooms if room.laundry}
    return tuple(f"no-{kind}-listed" for kind in ("outdoors", "laundry", "bathroom", "kitchen") if kind not in kinds)


def _walls(rule: ReceptacleRule, walls: tuple[Number, ...] | Outline | None) -> Need:
    if isinstance(walls, tuple):
        return Need("walls", by_runs(rule, walls), "NEC 210.52(A)")
    if walls is None:
        return Need("walls-unknown", 1, "NEC 210.52(A)", measured=False)
    return Need("walls-by-outline", by_outline(rule, walls), "NEC 210.52(A)", measured=False)


def _hall(rule: ReceptacleRule, room: OutletRoom) -> Need:
    if room.foyer_walls is not None:
        large = room.area is None or room.area > rule.foyer_least
        count = sum(wall >= rule.foyer_wall for wall in room.foyer_walls) if large else 0
        return Need("foyer", count, "NEC 210.52(I)", measured=room.area is not None)
    if room.length is None:
        return Need("hall-unknown", 1, "NEC 210.52(H)", measured=False)
    return Need("hall", int(room.length >= rule.hall_least), "NEC 210.52(H)")
