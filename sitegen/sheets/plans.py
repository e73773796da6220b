"""The plan of one storey: rooms as outlines at their place and size, each with its number and its points by state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from markupsafe import Markup

from sitegen.figure import Figure, Source, fraction_of, int_of
from sitegen.trade.rooms import RoomSeen

WIDE, TALL, EDGE = 320, 400, 2
"""Units of the widest drawing, of the tallest, and left free around it for the outer line."""

PAD, DIGIT, LETTER = 5, 8, Fraction(13, 10)
"""Free space inside an outline, the width of a drawn digit with its gap, and how much a digit is enlarged."""

FIRST = PAD + 10 * LETTER + 4
"""Where the first line of marks starts under the upper wall: below the number."""

SIZES, EVEN = range(15, 6, -1), 11
"""Sizes that a mark may have, largest first; all rooms of a storey share one size unless theirs is under EVEN."""

DIGITS = ("m0 5c0-6.7 6-6.7 6 0s-6 6.7-6 0z", "m1 2.2l2.6-2.2v10", "m.3 2.7c0-3.7 5.5-3.5 5.4.2c-.1 2.4-4.2 4.3-5.5 "
          "7.1h5.8", "m.4 0h5.2l-2.9 4c4.1 0 4.2 6-.1 6c-1.2 0-2.1-.5-2.6-1.2", "m4.6 10v-10l-4.6 7h6",
          "m5.4 0h-4.4l-.4 4.6c5.9-1.8 6.6 5.4 2 5.4c-1.2 0-2.1-.5-2.6-1.2",
          "m5 0c-3.5 1.6-4.9 4-4.9 6.8c0 4.2 5.9 4.2 5.9 0c0-3.6-4.8-3.8-5.7-.8", "m.1 0h5.9l-3.8 10",
          "m3 4.5c-3.4 0-3.4-4.5 0-4.5s3.4 4.5 0 4.5c-4 0-4 5.5 0 5.5s4-5.5 0-5.5z",
          "m1 10c3.5-1.6 4.9-4 4.9-6.8c0-4.2-5.9-4.2-5.9 0c0 3.6 4.8 3.8 5.7.8")
"""Each digit in one stroke, six wide and ten tall: a drawing holds no text."""

QUESTION = (("0", "-3.3", "5", "-3.3", "5", "0"), ("0", "2.4", "-2.5", "2.2", "-2.5", "4.6"))
"""The two bends of a question mark, as offsets."""

STATES = ("old", "unseen", "newer")


@dataclass(frozen=True, slots=True)
class RoomDrawn:
    """One room on a plan: its outline, its drawn number with its place, and its marks, a path for each of STATES.

    `outline` are the attributes of a rectangle: of the walls, and of the field that a thumb may touch.
    `bars` lie on the discs of `old`, `dots` in the rings of `newer`.
    """

    room: RoomSeen
    number: Figure
    outline: Markup
    digits: Markup
    place: Markup
    old: Markup
    unseen: Markup
    newer: Markup
    bars: Markup
    dots: Markup


@dataclass(frozen=True, slots=True)
class Storey:
    """One storey: every room with its number, and those whose place was taken, drawn.

    `view` and `width` are the drawing's, in units and as a share of the widest storey; None where nothing is drawn.
    The three counts are of all its points.
    """

    name: str
    rooms: tuple[tuple[Figure, RoomSeen], ...]
    drawn: tuple[RoomDrawn, ...]
    view: Markup | None
    width: Markup | None
    old: Figure
    unseen: Figure
    newer: Figure


@dataclass(frozen=True, slots=True)
class _Box:
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
    """Every storey in the order of the walk; all drawings have one scale, the front of the house at the foot."""
    by_floor: dict[int, list[tuple[Figure, RoomSeen]]] = {}
    for at, room in enumerate(rooms, 1):
        by_floor.setdefault(int_of(room.floor), []).append((number_of(room, at), room))
    placed = {floor: [(number, room) for number, room in here if room.left is not None and room.front is not None]
              for floor, here in by_floor.items()}
    spans = {floor: _span([room for _, room in here]) for floor, here in placed.items() if here}
    scale = min((min(Fraction(WIDE - 2 * EDGE) / span.wide, Fraction(TALL - 2 * EDGE) / span.tall)
                 for span in spans.values()), default=Fraction(1))
    widest = max((span.wide for span in spans.values()), default=Fraction(1))
    boxes = {floor: [_box(room, span, scale) for _, room in placed[floor]] for floor, span in spans.items()}
    fits = {floor: [_fit(box, _marks(room)) for box, (_, room) in zip(here, placed[floor], strict=True)]
            for floor, here in boxes.items()}
    drawn = {floor: tuple(_drawn(room, number, box, min(size, _even(fits[floor])))
                          for box, size, (number, room) in zip(here, fits[floor], placed[floor], strict=True))
             for floor, here in boxes.items()}
    return tuple(_storey(here, drawn.get(floor, ()), spans.get(floor), scale, widest)
                 for floor, here in by_floor.items())


def _storey(here: Sequence[tuple[Figure, RoomSeen]], drawn: tuple[RoomDrawn, ...], span: _Box | None,
            scale: Fraction, widest: Fraction) -> Storey:
    def count(state: str) -> Figure:
        return total(f"sheets.rooms.floor-{here[0][1].floor.raw()}.{state}",
                     [getattr(kind, state) for _, room in here for kind in room.kinds], "Points of the storey.")
    view, width = None, None
    if span is not None:
        view = Markup(f"0 0 {round(span.wide * scale) + 2 * EDGE} {round(span.tall * scale) + 2 * EDGE}")
        width = Markup(f"{_n(span.wide / widest * 100)}%")
    return Storey(here[0][1].storey, tuple(here), drawn, view, width, count("old"), count("unseen"), count("newer"))


def _even(fits: Sequence[int]) -> int:
    """The size that the marks of a storey share: the smallest of its rooms, those under EVEN apart."""
    return min((size for size in fits if size >= EVEN), default=EVEN)


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


def _room_for(box: _Box, size: int) -> tuple[int, int]:
    """How many marks of a size go in one line under the number, and how many lines."""
    free = box.tall - PAD - FIRST
    return max(0, int((box.wide - 2 * PAD + 2) // (size + 2))), max(0, int((free + 2) // (size + 2)))


def _fit(box: _Box, marks: int) -> int:
    """The largest size at which all marks of a room stand in it; nought where none does, and none is drawn."""
    for size in SIZES:
        across, down = _room_for(box, size)
        if across * down >= marks:
            return size
    return 0


def _drawn(room: RoomSeen, number: Figure, box: _Box, size: int) -> RoomDrawn:
    states = [state for state in STATES for kind in room.kinds for _ in range(int_of(getattr(kind, state)))]
    made: dict[str, list[str]] = {word: [] for word in (*STATES, "bars", "dots")}
    across = _room_for(box, size)[0]
    last: dict[str, int] = {}
    for i, state in enumerate(states if size else ()):
        line, place = divmod(i, across)
        x, y = (round(value) for value in (box.x + PAD + place * (size + 2), box.y + FIRST + line * (size + 2)))
        beside = place and last.get(state) == i - 1
        last[state] = i
        for word, stroke in _mark(state, Fraction(size, 20)):
            made[word].append((f"m{size + 2} 0" if beside else f"M{x} {y}") + stroke)
    written = "".join(f"M{DIGIT * i} 0{DIGITS[int(digit)]}" for i, digit in enumerate(number.raw()))
    return RoomDrawn(
        room, number, _outline(box),
        Markup(written), Markup(f"translate({round(box.x + PAD)} {round(box.y + PAD)}) scale({_n(LETTER)})"),
        *(Markup("".join(made[word])) for word in (*STATES, "bars", "dots")))


def _outline(box: _Box) -> Markup:
    """A rectangle by its edges, each to the unit, so that neighbours share one line."""
    left, top, right, foot = round(box.x), round(box.y), round(box.x + box.wide), round(box.y + box.tall)
    return Markup(f'x="{left}" y="{top}" width="{right - left}" height="{foot - top}"')


def _mark(state: str, k: Fraction) -> tuple[tuple[str, str], ...]:
    """The strokes of a mark, from its corner and back to it, on a field of twenty by twenty made `k` as large."""
    ring = _at(k, 10 * k, _arcs(9 * k))
    if state == "old":
        return ("old", ring), ("bars", _at(4 * k, 10 * k, f"h{_n(12 * k)}h{_n(-12 * k)}"))
    if state == "newer":
        return ("newer", ring), ("dots", _at(8 * k, 10 * k, _arcs(2 * k)))
    bends = "".join("c" + " ".join(_n(Fraction(part) * k) for part in bend) for bend in QUESTION)
    low, foot = _n(2 * k), _n(Fraction(6, 5) * k)
    rise = sum(Fraction(_n(Fraction(bend[-1]) * k)) for bend in QUESTION) + Fraction(low)
    back = sum(Fraction(_n(Fraction(bend[-2]) * k)) for bend in QUESTION)
    return (("unseen", ring + _at(Fraction(15, 2) * k, 8 * k,
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
