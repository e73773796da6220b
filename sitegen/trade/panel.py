"""The panel: which circuit serves what, in which spaces, and what has to be asked about its place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from sitegen.trade.circuits import (
    OWN_RECEPTACLES,
    CircuitRoom,
    CircuitRule,
    Individual,
    Least,
    individual_protections,
    protections,
)
from sitegen.trade.load_parts import Number


class Circuit(Struct, frozen=True):
    """A row of the schedule: its spaces (the first is its number), sort, what it serves, rating [A], poles.

    A sort is individual, small appliance, laundry, bathroom, garage or general.  `points` and `area` [sq ft] are those
    of a general circuit, 0 for the others.
    """

    spaces: tuple[int, ...]
    sort: str
    serves: tuple[str, ...]
    rating: int
    poles: int
    protections: frozenset[str]
    points: int = 0
    area: Fraction = Fraction(0)


class Panel(Struct, frozen=True):
    """The schedule in the order of its numbers; spaces used, and how many the panel is short of (None: not known)."""

    circuits: tuple[Circuit, ...]
    used: int
    short: int | None


class Share(Struct):
    """What one general circuit serves, or one room, or a part of one."""

    area: Fraction
    points: int
    names: tuple[str, ...]
    kinds: tuple[str, ...]

    def halves(self) -> tuple[Share, Share]:
        low = self.points // 2
        return (Share(self.area / 2, self.points - low, self.names, self.kinds),
                Share(self.area / 2, low, self.names, self.kinds))


def schedule(rule: CircuitRule, rooms: Sequence[CircuitRoom], least: Least, amperes: int,
             singles: Sequence[Individual] = (), spaces: int | None = None, most_points: int | None = None) -> Panel:
    """The panel's schedule: circuits for one load, the required ones, and general ones of `amperes`.

    Rooms go to general circuits by area, the largest first, each to the circuit with the least area so far; so no
    circuit has more than the least by more than the largest room.  With fewer rooms than circuits the largest are
    halved.  `most_points`, if the company has such a rule, holds on each general circuit and may add circuits.
    Two-pole circuits come first, in spaces one above the other.  Raises ValueError for a `most_points` under 1.
    """
    if most_points is not None and most_points < 1:
        raise ValueError("a circuit takes at least one point")
    rows = [*_singles(rule, singles), *_required(rule, rooms, least)]
    rows += [Circuit((), "general", tuple(dict.fromkeys(share.names)), amperes, 1, _shared(rule, share.kinds),
                     share.points, share.area) for share in general_shares(rooms, least.general, most_points)]
    placed = _placed(rows)
    used = sum(row.poles for row in rows)
    return Panel(placed, used, None if spaces is None else max(0, used - spaces))


def general_shares(rooms: Sequence[CircuitRoom], count: int, most_points: int | None) -> list[Share]:
    """What each of `count` general circuits serves, or of more if `most_points` asks for them."""
    pieces = [piece for room in rooms if room.area or room.points for piece in _pieces(room, most_points)]
    points = sum(piece.points for piece in pieces)
    count = max(count, -(-points // most_points) if most_points else 0)
    while pieces and len(pieces) < count:
        largest = max(range(len(pieces)), key=lambda i: (pieces[i].area, pieces[i].points, -i))
        pieces[largest:largest + 1] = pieces[largest].halves()
    shares = [Share(Fraction(0), 0, (), ()) for _ in range(count)]
    for piece in sorted(pieces, key=lambda one: (-one.area, -one.points)):
        open_ = [one for one in shares if most_points is None or one.points + piece.points <= most_points]
        share = min(open_, key=lambda one: (one.area, one.points), default=None)
        if share is None:
            share = Share(Fraction(0), 0, (), ())
            shares.append(share)
        share.area += piece.area
        share.points += piece.points
        share.names += piece.names
        share.kinds += piece.kinds
    return shares


def _pieces(room: CircuitRoom, most_points: int | None) -> list[Share]:
    """A room, or as many equal parts of it as its points need."""
    parts = max(1, -(-room.points // most_points)) if most_points else 1
    return [Share(Fraction(room.area) / parts, room.points // parts + (i < room.points % parts), (room.name,),
                   (room.kind,)) for i in range(parts)]


def _shared(rule: CircuitRule, kinds: Iterable[str]) -> frozenset[str]:
    """What a general circuit needs somewhere: arc fault for all of it, the rest where it has receptacles."""
    found: set[str] = set()
    for kind in kinds:
        keys = protections(rule, kind)
        found |= keys & {"arc-fault"} if kind in OWN_RECEPTACLES else keys
    return frozenset(found)


def _singles(rule: CircuitRule, singles: Iterable[Individual]) -> list[Circuit]:
    rows = [Circuit((), "individual", (one.what,), one.rating, one.poles, individual_protections(rule, one))
            for one in singles]
    return sorted(rows, key=lambda row: -row.poles)


def _required(rule: CircuitRule, rooms: Sequence[CircuitRoom], least: Least) -> list[Circuit]:
    rows: list[Circuit] = []
    for sort, kinds, count in (("small appliance", ("kitchen", "dining room"), least.small_appliance),
                               ("laundry", ("laundry",), least.laundry), ("bathroom", ("bathroom",), least.bathroom),
                               ("garage", ("garage",), least.garage)):
        names = tuple(room.name for room in rooms if room.kind in kinds)
        rows += [Circuit((), sort, names, rule.required_rating, 1, protections(rule, kinds[0]))] * count
    return rows


def _placed(rows: Sequence[Circuit]) -> tuple[Circuit, ...]:
    """Rows with their spaces: odd on one side, even on the other; a two-pole circuit takes two of one side."""
    pairs = (pair for block in range(len(rows) + 1) for pair in ((4 * block + 1, 4 * block + 3),
                                                                 (4 * block + 2, 4 * block + 4)))
    spaces = [next(pairs) if row.poles == 2 else () for row in rows]
    taken = {space for pair in spaces for space in pair}
    free = (space for space in range(1, 4 * len(rows) + 4) if space not in taken)
    found = [replace(row, spaces=pair or (next(free),)) for row, pair in zip(rows, spaces, strict=True)]
    return tuple(sorted(found, key=lambda row: row.spaces))


class PanelRule(Struct, frozen=True):
    """Clear space before a panel [inches]: width, depth and headroom; kinds of rooms where none may stand."""

    width: Number
    depth: Number
    headroom: Number
    not_in: tuple[str, ...]


class PanelPlace(Struct, frozen=True):
    """What was seen of the panel's place; None is not known.

    Width, depth and headroom are of the clear space [inches]; `room_kind` is one of ROOM_KINDS (`closet` is one for
    clothes); `feed` is "overhead" or "underground"; `stays` is whether the place can stay.
    """

    width: Number | None = None
    depth: Number | None = None
    headroom: Number | None = None
    room_kind: str | None = None
    over_steps: bool | None = None
    feed: str | None = None
    meter_place: str | None = None
    stays: bool | None = None


def panel_place_questions(rule: PanelRule, facts: PanelPlace) -> tuple[str, ...]:
    """What has to be asked about the panel's place, as keys, for what is unknown or short (NEC 110.26, 240.24).

    A question to the licensed person in charge, never an approval: an empty answer says only that nothing here
    was found to ask.  Keys end in `-unknown` or `-short`, or are `panel-in-<kind of room>` and `panel-over-steps`.
    """
    found = [f"panel-{name}-{'unknown' if seen is None else 'short'}"
             for name, seen, asked in (("width", facts.width, rule.width), ("depth", facts.depth, rule.depth),
                                       ("headroom", facts.headroom, rule.headroom)) if seen is None or seen < asked]
    if facts.room_kind is None:
        found.append("panel-room-unknown")
    elif facts.room_kind in rule.not_in:
        found.append(f"panel-in-{facts.room_kind}")
    if facts.over_steps is None:
        found.append("panel-steps-unknown")
    elif facts.over_steps:
        found.append("panel-over-steps")
    for name, fact in (("feed", facts.feed), ("meter-place", facts.meter_place), ("stays", facts.stays)):
        if fact is None:
            found.append(f"panel-{name}-unknown")
    return tuple(found)
