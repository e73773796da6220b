"""The plan of one storey: rooms as outlines at their place and size, each with its number and its points by state."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Source, fraction_of, int_of
from sitegen.offer.rooms import RoomSeen

WIDE, TALL, EDGE = 320, 400, 3
"""Units of the widest drawing, of the tallest, and left free around it for the outer line."""

FOOT, FRONT = 16, "m-6 0l6-9 6 9z"
"""Units left free under the storey that shows the front of the house, and the open triangle that marks it there."""

PAD, GAP, DIGIT, LETTER = 5, 2, 8, Fraction(13, 10)
"""Free space inside an outline and between marks, a drawn digit with its gap, and how much a digit is enlarged."""

FIRST = PAD + 10 * LETTER + 4
"""Where the first line of marks starts under the upper wall: below the number."""

SIZES, EVEN = range(16, 6, -1), 14
"""Sizes that a mark may have, largest first; all rooms of a house share one size unless theirs is under EVEN.

A mark of EVEN units is twelve pixels and more on the narrowest phone.
"""

DIGITS = ("m0 5c0-6.7 6-6.7 6 0s-6 6.7-6 0z", "m1 2.2l2.6-2.2v10", "m.3 2.7c0-3.7 5.5-3.5 5.4.2c-.1 2.4-4.2 4.3-5.5 "
          "7.1h5.8", "m.4 0h5.2l-2.9 4c4.1 0 4.2 6-.1 6c-1.2 0-2.1-.5-2.6-1.2", "m4.6 10v-10l-4.6 7h6",
          "m5.4 0h-4.4l-.4 4.6c5.9-1.8 6.6 5.4 2 5.4c-1.2 0-2.1-.5-2.6-1.2",
          "m5 0c-3.5 1.6-4.9 4-4.9 6.8c0 4.2 5.9 4.2 5.9 0c0-3.6-4.8-3.8-5.7-.8", "m.1 0h5.9l-3.8 10",
          "m3 4.5c-3.4 0-3.4-4.5 0-4.5s3.4 4.5 0 4.5c-4 0-4 5.5 0 5.5s4-5.5 0-5.5z",
          "m1 10c3.5-1.6 4.9-4 4.9-6.8c0-4.2-5.9-4.2-5.9 0c0 3.6 4.8 3.8 5.7.8")
"""Each digit in one stroke, six wide and ten tall: a drawing holds no text."""

QUESTION = (("0", "-3.4", "5.4", "-3.4", "5.4", "0"), ("0", "2.4", "-2.7", "2.2", "-2.7", "4.6"))
"""The two bends of a question mark, as offsets."""

STATES = ("old", "unseen", "newer")


class RoomDrawn(Struct, frozen=True):
    """One room on a plan: its corner, its size, its drawn number, and its marks, a path for each of STATES.

    All but the corner is measured from it: rooms that are alike within then compress.  `size` is also that of the field
    that a thumb may touch, `place` that of the number.  `small` where its marks are under the size of the house.
    `bars` lie on the discs of `old`, `dots` in the rings of `newer`.
    """

    room: RoomSeen
    number: Figure
    corner: Markup
    size: Markup
    small: bool
    digits: Markup
    place: Markup
    old: Markup
    unseen: Markup
    newer: Markup
    bars: Markup
    dots: Markup


class Storey(Struct, frozen=True):
    """One storey: every room with its number, and those whose place was taken, drawn.

    `view` and `width` are the drawing's, in units and as a share of the widest storey; `walls` the outlines of all its
    rooms as one path; None where nothing is drawn.  `front` marks the front of the house, on one storey alone.
    The three counts are of all its points.
    """

    name: str
    rooms: tuple[tuple[Figure, RoomSeen], ...]
    drawn: tuple[RoomDrawn, ...]
    view: Markup | None
    width: Markup | None
    walls: Markup | None
    front: Markup | None
    old: Figure
    unseen: Figure
    newer: Figure


class _Box(Struct, frozen=True):
    """A rectangle in the drawing."""

    x: Fraction
    y: Fraction
    wide: Fraction
    tall: Fraction


def number_of(room: RoomSeen, at: int) -> Figure:
    """The number of a room, in the order of the walk."""
    return Figure(f"sheets.rooms.{room.key}.number", at, "number", "Counted in the order of the walk.",
                  Source("survey", "the order of the rooms"))


def total(name: str, figures: Sequence[Figure], method: str) -> Figure:
    """The sum of counts of points."""
    return Figure(name, sum(int_of(figure) for figure in figures), "points", method,
                  Source("survey", "points counted room by room"), tuple(figure.name for figure in figures))


def storeys(rooms: Sequence[RoomSeen]) -> tuple[Storey, ...]:
    """Every storey in the order of the walk, its front at the foot; all have one scale and one size of mark."""
    by_floor: dict[int, list[tuple[Figure, RoomSeen]]] = {}
    for at, room in enumerate(rooms, 1):
        by_floor.setdefault(int_of(room.floor), []).append((number_of(room, at), room))
    placed = {floor: [(number, room) for number, room in here if room.left is not None and room.front is not None]
              for floor, here in by_floor.items()}
    spans = {floor: _span([room for _, room in here]) for floor, here in placed.items() if here}
    scale = min((min(Fraction(WIDE - 2 * EDGE) / span.wide, Fraction(TALL - 2 * EDGE) / span.tall)
                 for span in spans.values()), default=Fraction(1))
    widest = max((span.wide for span in spans.values()), default=Fraction(1))
    boxes = {floor: [(number, room, _box(room, span, scale)) for number, room in placed[floor]]
             for floor, span in spans.items()}
    size = min((fit for here in boxes.values() for number, room, box in here
                if (fit := _fit(box, _marks(room), number)) >= EVEN), default=EVEN)
    drawn = {floor: tuple(_drawn(room, number, box, size) for number, room, box in here)
             for floor, here in boxes.items()}
    ground = min(spans, key=lambda floor: (floor < 1, floor), default=None)       # a cellar has no front
    return tuple(_storey(here, drawn.get(floor, ()), spans.get(floor), scale, widest, floor == ground)
                 for floor, here in by_floor.items())


def _storey(here: Sequence[tuple[Figure, RoomSeen]], drawn: tuple[RoomDrawn, ...], span: _Box | None,
            scale: Fraction, widest: Fraction, is_ground: bool) -> Storey:
    def count(state: str) -> Figure:
        return total(f"sheets.rooms.floor-{here[0][1].floor.raw()}.{state}",
                     [getattr(kind, state) for _, room in here for kind in room.kinds], "Points of the storey.")
    view, width, walls, front = None, None, None, None
    if span is not None:
        wide, tall, full = (round(feet * scale) + 2 * EDGE for feet in (span.wide, span.tall, widest))
        view = Markup(f"0 0 {wide} {tall + FOOT if is_ground else tall}")
        width = Markup(f"{float(round(Fraction(100 * wide, full), 2)):g}%")     # a unit is as large on every storey
        walls = Markup("".join(_wall(_box(one.room, span, scale)) for one in drawn))
        front = Markup(f"M{wide // 2} {tall + FOOT - 1}{FRONT}") if is_ground else None
    return Storey(here[0][1].storey, tuple(here), drawn, view, width, walls, front,
                  count("old"), count("unseen"), count("newer"))


def _marks(room: RoomSeen) -> int:
    return sum(int_of(kind.now) for kind in room.kinds)


def _span(rooms: Sequence[RoomSeen]) -> _Box:
    """The rectangle round all rooms of a storey [feet]."""
    found = [_feet(room) for room in rooms]
    x, y = min(box.x for box in found), min(box.y for box in found)
    return _Box(x, y, max(box.x + box.wide for box in found) - x, max(box.y + box.tall for box in found) - y)


def _feet(room: RoomSeen) -> _Box:
    assert room.left is not None
    assert room.front is not None
    return _Box(*(fraction_of(figure) for figure in (room.left, room.front, room.long, room.wide)))


def _box(room: RoomSeen, span: _Box, scale: Fraction) -> _Box:
    """A room in units of the drawing: what lies at the front is at the foot."""
    feet = _feet(room)
    return _Box(EDGE + (feet.x - span.x) * scale, EDGE + (span.y + span.tall - feet.y - feet.tall) * scale,
                feet.wide * scale, feet.tall * scale)


def _grid(left: Fraction, top: Fraction, right: Fraction, foot: Fraction, size: int) -> list[tuple[int, int]]:
    """The corners of all marks of a size that a rectangle of a room holds, line by line."""
    step = size + GAP
    across = [round(left + place * step) for place in range(int((right - left + GAP) // step))]
    down = [round(top + line * step) for line in range(int((foot - top + GAP) // step))]
    return [(x, y) for y in down for x in across]


def _places(box: _Box, size: int, number: Figure) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
    """Where marks of a size may stand in a room: under its number; and closer, from beside its number on."""
    start, right, foot = Fraction(PAD), box.wide - PAD, box.tall - PAD
    beside = start + DIGIT * len(number.raw()) * LETTER + GAP
    return (_grid(start, FIRST, right, foot, size),
            _grid(beside, start, right, min(foot, start + size), size)
            + _grid(start, max(FIRST, start + size + GAP), right, foot, size))


def _fit(box: _Box, marks: int, number: Figure) -> int:
    """The largest size at which all marks of a room stand in it; nought where none does, and none is drawn."""
    return next((size for size in SIZES if any(len(places) >= marks for places in _places(box, size, number))), 0)


def _drawn(room: RoomSeen, number: Figure, box: _Box, shared: int) -> RoomDrawn:
    """A room with its marks at the size that the house shares; at its own where it cannot hold them so."""
    states = [state for state in STATES for kind in room.kinds for _ in range(int_of(getattr(kind, state)))]
    size = min(shared, _fit(box, len(states), number))
    under, closer = _places(box, size, number)
    places = under if len(under) >= len(states) else closer
    made: dict[str, list[str]] = {word: [] for word in (*STATES, "bars", "dots")}
    before = None
    for state, (x, y) in zip(states if size else (), places, strict=False):
        step = f"m{size + GAP} 0" if before == (state, y) else f"M{x} {y}"
        before = state, y
        for word, stroke in _mark(state, size):
            made[word].append(step + stroke)
    written = "".join(f"M{DIGIT * i} 0{DIGITS[int(digit)]}" for i, digit in enumerate(number.raw()))
    left, top, wide, tall = _sides(box)
    return RoomDrawn(
        room, number, Markup(f"translate({left} {top})"), Markup(f'width="{wide}" height="{tall}"'), size < shared,
        Markup(written), Markup(f"translate({PAD} {PAD}) scale({_n(LETTER)})"),
        *(Markup("".join(made[word])) for word in (*STATES, "bars", "dots")))


def _wall(box: _Box) -> str:
    """The outline of a room as a stroke, all in one sense, so that rooms together fill as one."""
    left, top, wide, tall = _sides(box)
    return f"M{left} {top}h{wide}v{tall}h-{wide}z"


def _sides(box: _Box) -> tuple[int, int, int, int]:
    """Left, top, width and height of a room by its edges, each to the unit, so that neighbours share one line."""
    left, top = round(box.x), round(box.y)
    return left, top, round(box.x + box.wide) - left, round(box.y + box.tall) - top


@cache
def _mark(state: str, size: int) -> tuple[tuple[str, str], ...]:
    """The strokes of a mark, from its corner and back to it, as large as `size`; it is drawn on twenty by twenty."""
    k = Fraction(size, 20)
    ring = _at(k, 10 * k, _arcs(9 * k))
    if state == "old":
        return ("old", ring), ("bars", _at(4 * k, 10 * k, f"h{_n(12 * k)}h{_n(-12 * k)}"))
    if state == "newer":
        return ("newer", ring), ("dots", _at(8 * k, 10 * k, _arcs(2 * k)))
    bends = "".join("c" + " ".join(_n(Fraction(part) * k) for part in bend) for bend in QUESTION)
    low, foot = _n(Fraction(3, 2) * k), _n(Fraction(11, 5) * k)
    rise = sum(Fraction(_n(Fraction(bend[-1]) * k)) for bend in QUESTION) + Fraction(low)
    back = sum(Fraction(_n(Fraction(bend[-2]) * k)) for bend in QUESTION)
    return (("unseen", ring + _at(Fraction(73, 10) * k, Fraction(15, 2) * k,
                                  f"{bends}m0 {low}v{foot}v-{foot}m{_n(-back)} {_n(-rise)}")),)


def _at(x: Fraction, y: Fraction, stroke: str) -> str:
    """A stroke that ends where it starts, set off from the corner of its mark, and the way back to that corner."""
    return f"m{_n(x)} {_n(y)}{stroke}m{_n(-Fraction(_n(x)))} {_n(-Fraction(_n(y)))}"


def _arcs(radius: Fraction) -> str:
    """A whole ring from its left end; twice the radius as printed, or it would come out as an egg."""
    r = _n(radius)
    across = _n(2 * Fraction(r))
    return f"a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0-{across} 0"


def _n(value: Fraction | int) -> str:
    """A number of the drawing, to a tenth."""
    return f"{float(round(Fraction(value) * 10) / Fraction(10)):g}"


__all__ = ["RoomDrawn", "Storey", "number_of", "storeys", "total"]
