"""Openings in walls and ceilings, new boxes cut into them, and the painted area that this takes, room by room.

Sizes are whole or `Fraction` inches, areas square inches, never rounded.  What was counted or measured on site
wins over the book's rates and is marked as measured.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil
from typing import Literal

from msgspec import Struct, field

How = Literal["sawn whole", "edges chiselled", "broken out"]
"""Whether the piece cut out comes away whole or is destroyed; the lead rule turns on it (40 CFR 745.83).

Edges chiselled back for a patch are destroyed too, whatever becomes of the piece.  That is an inference from EPA answer
23002-18515, which speaks of a hole made with a hammer: it owes more, and the EPA has not said so itself."""

HOWS: tuple[How, ...] = ("sawn whole", "edges chiselled", "broken out")

BETWEEN_STUDS = Fraction(29, 2)
"""Width of a bay between two studs [in]: 16 from middle to middle, less one stud (common practice, no source)."""


class WallRate(Struct, frozen=True):
    """What the book says of one kind of wall or ceiling.

    `openings_a_drop` openings for one drop; `width`, `height` of one opening [in]
    `between_studs`   the piece is cut from stud to stud, and is at least as wide as the bay between them
    """

    openings_a_drop: Fraction
    width: Fraction
    height: Fraction
    between_studs: bool = False

    @property
    def wide(self) -> Fraction:
        """Width of the piece that comes out [in]."""
        return max(Fraction(self.width), BETWEEN_STUDS) if self.between_studs else Fraction(self.width)


class OpeningRates(Struct, frozen=True):
    """The book's rates.

    `walls`     by kind of wall ("plaster on wood lath")
    `boxes`     the cut for a box by kind of point [sq in]; a box fills it, and no patch laps it
    `cut_back`  how far each edge of an opening is cut back in steps, so that the coats of its patch lap [in]
    """

    walls: Mapping[str, WallRate]
    boxes: Mapping[str, Fraction]
    cut_back: Fraction = Fraction(0)


class WallWork(Struct, frozen=True):
    """What is done in one kind of wall of one room.

    `wall`        its kind, a key of the rates
    `drops`       cables fished in it; a part where the book's rate a point is one [drops]
    `points`      points that get a new box cut into it, by kind [points]
    `painted`     no: bare wall, as in a basement, has no painted area to cut
    `counted`     openings counted on site; wins over the rate [openings]
    `measured`    area of these openings measured on site, edges cut back and all, without boxes; wins over the rate
                  [sq in]
    """

    wall: str
    drops: Fraction
    points: Mapping[str, int] = field(default_factory=dict)
    painted: bool = True
    counted: int | None = None
    measured: Fraction | None = None


class Opened(Struct, frozen=True):
    """What one kind of wall loses.

    `openings`, `boxes`   openings for cables, and cuts for new boxes
    `area`                painted area cut, both together [sq in, exact]
    `destroyed`           painted surface is broken out, or its edges are chiselled, so that it is destroyed
    `on_site`             the count or the area of the openings was taken on site
    `chiselled`           of what is destroyed: the piece comes out whole and its edges are chiselled
    """

    wall: str
    openings: int
    boxes: int
    area: Fraction
    destroyed: bool
    on_site: bool
    chiselled: bool = False


class RoomOpened(Struct, frozen=True):
    """One room: its kinds of wall one by one, and together."""

    walls: tuple[Opened, ...]

    @property
    def openings(self) -> int:
        """Openings for cables in this room [openings]."""
        return sum(wall.openings for wall in self.walls)

    @property
    def boxes(self) -> int:
        """Cuts for new boxes in this room [cuts]."""
        return sum(wall.boxes for wall in self.walls)

    @property
    def area(self) -> Fraction:
        """Painted area cut in this room [sq in, exact]."""
        return sum((wall.area for wall in self.walls), Fraction(0))

    @property
    def destroyed(self) -> bool:
        """Whether painted surface is broken out or chiselled anywhere in this room."""
        return any(wall.destroyed for wall in self.walls)

    @property
    def chiselled(self) -> bool:
        """Whether what is destroyed in this room is edges alone, chiselled round pieces that come out whole."""
        return any(wall.chiselled for wall in self.walls)

    @property
    def on_site(self) -> bool:
        """Whether anything of this room was counted or measured on site."""
        return any(wall.on_site for wall in self.walls)


def rectangle(width: Fraction, height: Fraction) -> Fraction:
    """The area of a rectangular cut or piece of `width` x `height` [in], whatever the kerf [sq in].

    Raises ValueError for a side under zero.
    """
    if width < 0 or height < 0:
        raise ValueError(f"no cut is {width} x {height} in")
    return Fraction(width) * height


def opening(rate: WallRate, cut_back: Fraction) -> Fraction:
    """Painted area that one opening takes, with its edges cut back on all four sides for the patch [sq in].

    Raises ValueError for a side or a cut-back under zero.
    """
    if cut_back < 0:
        raise ValueError(f"no edge is cut back by {cut_back} in")
    rectangle(rate.width, rate.height)
    return rectangle(rate.wide + 2 * cut_back, rate.height + 2 * cut_back)


def opened_wall(work: WallWork, rates: OpeningRates, how: How) -> Opened:
    """One kind of wall of one room, at the book's rates or as taken on site.

    Openings are rounded up here: a part of an opening in plaster and a part in board are two holes.  `how` holds for
    openings and boxes alike.  Raises ValueError for counts under zero, for a wall or a kind of point that the rates
    lack, and for a count and an area that cannot both be true.
    """
    _possible(work, rates, how)
    rate = rates.walls[work.wall]
    openings = ceil(Fraction(rate.openings_a_drop) * work.drops) if work.counted is None else work.counted
    area = openings * opening(rate, rates.cut_back) if work.measured is None else Fraction(work.measured)
    if work.measured is not None and work.painted and (openings == 0) != (area == 0):
        raise ValueError(f"{work.wall}: {openings} openings of {area} sq in together: count them on site too")
    boxes = sum(work.points.values())
    area += sum((count * rates.boxes[kind] for kind, count in work.points.items()), Fraction(0))
    painted = area if work.painted else Fraction(0)
    return Opened(work.wall, int(openings), boxes, painted, how != "sawn whole" and painted > 0,
                  work.counted is not None or work.measured is not None, how == "edges chiselled" and painted > 0)


def opened_room(works: Sequence[WallWork], rates: OpeningRates, how: How) -> RoomOpened:
    """One room with all its kinds of wall; see `opened_wall`.

    Raises ValueError for a kind of wall named twice, which would round up twice.
    """
    names = [work.wall for work in works]
    if len(set(names)) < len(names):
        raise ValueError(f"a kind of wall stands twice in one room: {', '.join(names)}")
    return RoomOpened(tuple(opened_wall(work, rates, how) for work in works))


def _possible(work: WallWork, rates: OpeningRates, how: How) -> None:
    if how not in HOWS:
        raise ValueError(f"cuts are {' or '.join(HOWS)}, not {how!r}")
    if work.wall not in rates.walls or set(work.points) - set(rates.boxes):
        raise ValueError(f"no rate for {work.wall} with {', '.join(work.points) or 'no points'}")
    rate = rates.walls[work.wall]
    taken = (work.drops, *work.points.values(), work.counted or 0, work.measured or 0)
    booked = (rate.openings_a_drop, rate.width, rate.height, *(rates.boxes[kind] for kind in work.points))
    if min(*taken, *booked) < 0:
        raise ValueError(f"{work.wall}: nothing counted or measured is under zero")
