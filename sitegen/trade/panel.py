"""The panel: which circuit serves what, in which spaces, and what has to be asked about its place."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from sitegen.trade.circuits import (
    CircuitRoom,
    CircuitRule,
    Individual,
    Least,
    individual_protections,
    protections,
)
from sitegen.trade.load_parts import Number
from sitegen.trade.sharing import Held, general_shares


class Circuit(Struct, frozen=True):
    """A row of the schedule: its spaces (the first is its number), sort, what it serves, rating [A], poles.

    A sort is individual, small appliance, laundry, bathroom, garage or general.  `held` are the points that stand on
    it, room by room; one for a single load holds none.  `area` [sq ft] is that of a general circuit, 0 for the others.
    """

    spaces: tuple[int, ...]
    sort: str
    serves: tuple[str, ...]
    rating: int
    poles: int
    protections: frozenset[str]
    held: tuple[Held, ...] = ()
    area: Fraction = Fraction(0)

    @property
    def points(self) -> int:
        """Points that stand on it [points]."""
        return sum(one.points for one in self.held)


class Panel(Struct, frozen=True):
    """The schedule in the order of its numbers; spaces used, and how many the panel is short of (None: not known)."""

    circuits: tuple[Circuit, ...]
    used: int
    short: int | None


REQUIRED = ("small appliance", "laundry", "bathroom", "garage")
"""Sorts of required circuits (NEC 210.11(C)); but for the first, each is called as the rooms that it serves."""


def schedule(rule: CircuitRule, rooms: Sequence[CircuitRoom], least: Least, amperes: int,
             singles: Sequence[Individual] = (), spaces: int | None = None, most_points: int | None = None) -> Panel:
    """The panel's schedule: circuits for one load, the required ones, and general ones of `amperes`.

    Every point of every room stands on exactly one circuit.  Outlets of the rooms of a sort in REQUIRED stand on the
    circuits of that sort; all other points on general circuits, as `general_shares` says: storey by storey, none over
    the floor that the density allows it, none over `most_points` if there is such a rule, which may add circuits.
    Two-pole circuits come first, in spaces one above the other.  Raises ValueError for a `most_points` under 1.
    """
    counts = {"small appliance": least.small_appliance, "laundry": least.laundry, "bathroom": least.bathroom,
              "garage": least.garage}
    own = {kind for sort in REQUIRED if counts[sort] for kind in _served(rule, sort)}
    most_area = Fraction(rule.volts * amperes) / rule.density
    general = general_shares([(room, room.points - (room.outlets if room.kind in own else 0)) for room in rooms],
                             least.general, most_points, most_area)
    rows = [*_singles(rule, singles), *_required(rule, rooms, counts)]
    rows += [Circuit((), "general", share.names, amperes, 1, _shared(rule, share.kinds, own), share.held, share.area)
             for share in general]
    placed = _placed(rows)
    used = sum(row.poles for row in rows)
    return Panel(placed, used, None if spaces is None else max(0, used - spaces))


def _shared(rule: CircuitRule, kinds: Iterable[str], own: Collection[str]) -> frozenset[str]:
    """What a general circuit needs somewhere: arc fault for all of it, the rest where it has receptacles."""
    found: set[str] = set()
    for kind in kinds:
        keys = protections(rule, kind)
        found |= keys & {"arc-fault"} if kind in own else keys
    return frozenset(found)


def _singles(rule: CircuitRule, singles: Iterable[Individual]) -> list[Circuit]:
    rows = [Circuit((), "individual", (one.what,), one.rating, one.poles, individual_protections(rule, one))
            for one in singles]
    return sorted(rows, key=lambda row: -row.poles)


def _required(rule: CircuitRule, rooms: Sequence[CircuitRoom], counts: Mapping[str, int]) -> list[Circuit]:
    """The required circuits: the outlets of a sort are shared out among its circuits, room by room."""
    rows: list[Circuit] = []
    for sort in REQUIRED:
        kinds = _served(rule, sort)
        here = [room for room in rooms if room.kind in kinds]
        protects = frozenset(key for kind in (dict.fromkeys(room.kind for room in here) or kinds[:1])
                             for key in protections(rule, kind))
        for i in range(counts[sort]):
            held = tuple(Held(room.name, points) for room in here
                         if (points := room.outlets // counts[sort] + (i < room.outlets % counts[sort])))
            serves = tuple(one.room for one in held) or tuple(room.name for room in here)
            rows.append(Circuit((), sort, serves, rule.required_rating, 1, protects, held))
    return rows


def _served(rule: CircuitRule, sort: str) -> tuple[str, ...]:
    """Kinds of rooms whose outlets stand on the circuits of a required sort."""
    return rule.small_appliance_rooms if sort == "small appliance" else (sort,)


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
