"""The house in section, storey on storey: today, and after each option; every point a mark in its state.

Marks stand on a grid of PITCH units.  In the large house a storey is cut into bays, one a room, from left to right in
the order of the walk; in a small one the marks of a storey stand together, ordered by state.  All small houses of one
offer keep room for the new places, so that they have one shape.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, int_of
from sitegen.offer.offer import Offer
from sitegen.offer.rooms import RoomSeen

STATES = ("new", "old", "unseen", "newer")
"""The states of a point, in the order in which marks stand: new with its ground, old and found, not seen, newer."""

PITCH, EAVE, PAD = 16, 12, 6
"""Units from mark to mark, of the roof beyond a wall, and free inside of walls and floors."""

LARGE, SMALL = 18, 10
"""Marks side by side in the large house and in a small one; more where the house would grow too tall."""

TALLEST_LARGE, TALLEST_SMALL = 1, 2
"""The tallest that a house may be under its roof, as a multiple of its width."""

RISE_LARGE, RISE_SMALL = 15, 22
"""How high a roof rises, in hundredths of its width."""

Counts = Mapping[str, int]
"""Points by state."""


class Level(Struct, frozen=True):
    """A storey as it is drawn: its name, its view, its strokes, and for each state that it has the paths of its marks.

    `under` where it lies below ground; `roof` where it is the gable, whose name is None when nothing stands in it.
    A path of marks has a vertex at the middle of each mark, and its last one twice: a marker at its start and its
    middles is then every mark once.
    """

    name: str | Quote | None
    rooms: tuple[Quote, ...]
    view: Markup
    walls: Markup
    bays: Markup
    marks: tuple[tuple[str, Markup], ...]
    under: bool = False
    roof: bool = False


class House(Struct, frozen=True):
    """One house: the option after which it stands so, None for today; its levels from the roof down; its counts."""

    key: str
    name: str | None
    levels: tuple[Level, ...]
    counts: dict[str, Figure]


class Houses(Struct, frozen=True):
    """The house today, large and small, and after each option in their order."""

    large: House
    today: House
    after: tuple[House, ...]


class _Room(Struct, frozen=True):
    """A room: its points by state, and how many marks it must have room for."""

    room: RoomSeen
    states: Counts
    holds: int


def marker(where: str, state: str) -> Markup:
    """The reference to the marker of a state that stands on a sheet under the ids that begin with `where`."""
    return Markup("url(#{}-{})").format(where, state)


def houses(offer: Offer) -> Houses:
    """The house of an offer, today and after each option."""
    today = [_today(room) for room in offer.rooms]
    after = {option.key: _after(offer.rooms, option.covers_all, int_of(option.places_held))
             for option in offer.outcome.options}
    now = [sum(states.values()) for states in today]
    most = [max(sum(states[at].values()) for states in (today, *after.values())) for at in range(len(today))]

    def storeys(states: Sequence[Counts], holds: Sequence[int] = most) -> dict[int, list[_Room]]:
        found: dict[int, list[_Room]] = {}
        for room, counts, held in zip(offer.rooms, states, holds, strict=True):
            found.setdefault(int_of(room.floor), []).append(_Room(room, counts, held))
        return dict(sorted(found.items(), reverse=True))
    names = {option.key: option.name for option in offer.outcome.options}
    return Houses(_large(storeys(today, now), _totals("today", today)),
                  _small("today", None, storeys(today), _totals("today", today)),
                  tuple(_small(key, names[key], storeys(states), _totals(key, states))
                        for key, states in after.items()))


# --- states -----------------------------------------------------------------------------------------------


def _today(room: RoomSeen) -> Counts:
    return {"new": 0, **{state: sum(int_of(getattr(kind, state)) for kind in room.kinds) for state in STATES[1:]}}


def _after(rooms: Sequence[RoomSeen], covers_all: bool, places: int) -> list[Counts]:
    """Points by state, room by room, when an option is done.

    A list takes of each line first those seen old, then those not seen, last those seen newer; a price for every
    point leaves those alone that are on a circuit seen new its whole length.  Of the new places those are there that
    the price holds, in the order of the walk.
    """
    found = list[Counts]()
    for room in rooms:
        left = dict.fromkeys(STATES, 0)
        for kind in room.kinds:
            does = int_of(kind.rewired if covers_all else kind.listed)
            for state in STATES[1:]:
                here = int_of(getattr(kind, state))
                left[state] += here - min(does, here)
                left["new"] += min(does, here)
                does -= min(does, here)
            added = min(places, max(0, int_of(kind.want) - int_of(kind.now)))
            left["new"] += added
            places -= added
        found.append(left)
    return found


def _totals(key: str, states: Sequence[Counts]) -> dict[str, Figure]:
    """How many marks of each state a house has: the sums of what its rooms are drawn with."""
    return {state: Figure(f"sheets.houses.{key}.{state}", sum(counts[state] for counts in states), "points",
                          f"Points of the state `{state}` in all rooms, as the drawing has them.",
                          Source("survey", "points counted room by room")) for state in STATES}


# --- drawing ----------------------------------------------------------------------------------------------


def _large(storeys: Mapping[int, Sequence[_Room]], counts: dict[str, Figure]) -> House:
    across = next(across for across in range(LARGE, 1000) if _tall_enough(
        [_bays(here, across)[0] for here in storeys.values()], across, TALLEST_LARGE))
    return House("today", None, _levels(storeys, across, RISE_LARGE, in_bays=True), counts)


def _small(key: str, name: str | None, storeys: Mapping[int, Sequence[_Room]], counts: dict[str, Figure]) -> House:
    across = next(across for across in range(SMALL, 1000) if _tall_enough(
        [-(-_held(here) // across) for here in storeys.values()], across, TALLEST_SMALL))
    return House(key, name, _levels(storeys, across, RISE_SMALL, in_bays=False), counts)


def _tall_enough(rows: Sequence[int], across: int, most: int) -> bool:
    return all(rows) and sum(max(1, row) * PITCH + 2 * PAD for row in rows) <= most * _wide(across)


def _wide(across: int) -> int:
    """Units between the walls of a house with so many marks side by side."""
    return across * PITCH + 2 * PAD


def _held(here: Sequence[_Room]) -> int:
    return max(1, sum(room.holds for room in here))


def _bays(here: Sequence[_Room], across: int) -> tuple[int, list[int]]:
    """Lines of marks of a storey, the fewest with which its bays fit, and the marks side by side in each bay.

    Every bay has PAD free at both of its sides.  Nought lines where the bays fit at no count.
    """
    free = _wide(across) - 2 * PAD * len(here)
    for rows in range(1, max(room.holds for room in here) + 2):
        wide = [max(1, -(-room.holds // rows)) for room in here]
        if sum(wide) * PITCH <= free:
            return rows, wide
    return 0, []


def _levels(storeys: Mapping[int, Sequence[_Room]], across: int, rise: int, in_bays: bool) -> tuple[Level, ...]:
    """The levels of a house from its roof down; the top storey stands in the gable where it is one room that fits."""
    wide = _wide(across)
    high = wide * rise // 100
    top, *_ = storeys
    attic = storeys[top]
    inside = wide * (high - PITCH - PAD) // high - 2 * PAD
    in_roof = top > 1 and len(attic) == 1 and _held(attic) * PITCH <= inside
    below = list(storeys.items())[1 if in_roof else 0:]
    marks = () if not in_roof else _runs(
        [(attic[0].states, EAVE + (wide - _held(attic) * PITCH) // 2, _held(attic))], high - PAD - PITCH // 2)
    roof = Level(_name(attic) if in_roof else None, _names(attic) if in_roof else (),
                 Markup(f"0 0 {wide + 2 * EAVE} {high + 1}"),
                 Markup(f"M0 {high}L{wide // 2 + EAVE} 2 {wide + 2 * EAVE} {high}z"), Markup(""), marks, roof=True)
    ground = min((floor for floor in storeys if floor > 0), default=None)
    return (roof, *(_level(floor, here, across, in_bays, floor == ground) for floor, here in below))


def _level(floor: int, here: Sequence[_Room], across: int, in_bays: bool, on_ground: bool) -> Level:
    wide = _wide(across)
    rows, bays = _bays(here, across) if in_bays else (-(-_held(here) // across), [across])
    tall = rows * PITCH + 2 * PAD
    edges = _edges(bays, wide)
    lots = [room.states for room in here] if in_bays else [
        {state: sum(room.states[state] for room in here) for state in STATES}]
    starts = [left + (right - left - side * PITCH) // 2 for left, right, side in zip(edges, edges[1:], bays,
                                                                                     strict=False)]
    return Level(
        _name(here), _names(here), Markup(f"0 0 {wide + 2 * EAVE} {tall}"),
        Markup(f"M{EAVE} 0v{tall}h{wide}v-{tall}" + (f"M0 {tall}h{wide + 2 * EAVE}" if on_ground else "")),
        Markup("".join(f"M{edge} 0v{tall}" for edge in edges[1:-1])),
        _runs(list(zip(lots, starts, bays, strict=True)), PAD + PITCH // 2), under=floor < 1)


def _edges(bays: Sequence[int], wide: int) -> list[int]:
    """Where bays begin and end between the walls; what is free is shared out evenly."""
    free = wide - sum(bays) * PITCH
    edges = [EAVE]
    for at, side in enumerate(bays, 1):
        edges.append(EAVE + sum(bays[:at - 1]) * PITCH + side * PITCH + free * at // len(bays))
    return edges


def _runs(lots: Sequence[tuple[Counts, int, int]], top: int) -> tuple[tuple[str, Markup], ...]:
    """The paths of marks of a level: lots of points, each from its left edge on, so many side by side, line by line."""
    made: dict[str, list[str]] = {}
    for counts, left, side in lots:
        states = [state for state in STATES for _ in range(counts[state])]
        before: tuple[str, int] | None = None
        for at, state in enumerate(states):
            line = at // side
            if before == (state, line):
                made[state].append(f"h{PITCH}")
            else:
                made.setdefault(state, []).append(
                    f"M{left + at % side * PITCH + PITCH // 2} {top + line * PITCH}")
            before = state, line
    return tuple((state, Markup("".join(made[state]) + "h0")) for state in STATES if state in made)


def _name(here: Sequence[_Room]) -> str | Quote:
    """A storey by its name, or by that of its one room."""
    return here[0].room.name if len(here) == 1 else here[0].room.storey


def _names(here: Sequence[_Room]) -> tuple[Quote, ...]:
    return tuple(room.room.name for room in here)


__all__ = ["EAVE", "PITCH", "STATES", "House", "Houses", "Level", "houses", "marker"]
