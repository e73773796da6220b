"""How the points of general circuits are shared out: storey by storey, by floor area and by a most of points."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.trade.circuits import CircuitRoom
from sitegen.trade.load_parts import Number

UNFINISHED = ("unfinished basement", "attic", "garage", "porch", "outdoors")
"""Kinds whose floor counts for no general circuit: open porches, garages, unfinished space (NEC 220.14(J), 220.5(C)).

Their points count all the same."""


ATTIC = "attic"


class Held(Struct, frozen=True):
    """Points of one room on one circuit [points]."""

    room: str
    points: int


class Piece(Struct, frozen=True):
    """A room, or a part of one, that goes to one general circuit whole."""

    name: str
    kind: str
    area: Fraction
    points: int

    def halves(self) -> tuple[Piece, Piece]:
        """The piece in two, the second with the fewer points."""
        low = self.points // 2
        return (Piece(self.name, self.kind, self.area / 2, self.points - low),
                Piece(self.name, self.kind, self.area / 2, low))


class Share(Struct):
    """What one general circuit serves: its pieces, all of one storey; their area [sq ft] and points [points]."""

    pieces: tuple[Piece, ...] = ()

    @property
    def area(self) -> Fraction:
        """Floor that counts [sq ft]."""
        return sum((piece.area for piece in self.pieces), Fraction(0))

    @property
    def points(self) -> int:
        """Its points [points]."""
        return sum(piece.points for piece in self.pieces)

    @property
    def names(self) -> tuple[str, ...]:
        """Its rooms, each once."""
        return tuple(dict.fromkeys(piece.name for piece in self.pieces))

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kinds of its rooms."""
        return tuple(piece.kind for piece in self.pieces)

    @property
    def held(self) -> tuple[Held, ...]:
        """Its points room by room."""
        return tuple(Held(name, sum(piece.points for piece in self.pieces if piece.name == name))
                     for name in self.names)


def general_shares(rooms: Sequence[tuple[CircuitRoom, int]], count: int, most_points: int | None,
                   most_area: Number | None) -> list[Share]:
    """What each general circuit serves.

    Parameters
    ----------
    rooms : sequence of (CircuitRoom, int)
        Rooms with their points that stand on general circuits [points]; one without is left out, area and all.
    count : int
        The least number of circuits, by the area of the house (NEC 210.11(A)) [circuits].
    most_points : int or None
        Most points on one circuit, the firm's rule [points], above 0.
    most_area : int, Fraction or None
        Most floor that one circuit carries [sq ft], above 0.

    Returns
    -------
    list of Share
        At least `count`.  No circuit joins two storeys, but that an attic goes with the storey below it, and none goes
        over a limit; a room that is over one by itself is parted.  In each storey a room goes to the circuit with the
        least area so far, the largest first, so that the load is even to within the largest room (210.11(B)) unless
        the limit of points parts it otherwise.

    Raises
    ------
    ValueError
        For a limit not above 0.
    """
    if (most_points is not None and most_points < 1) or (most_area is not None and most_area <= 0):
        raise ValueError("a circuit takes at least one point and some floor")
    storeys: dict[int, list[Piece]] = {}
    lived_in = {room.storey for room, points in rooms if points and room.kind != ATTIC}
    for room, points in rooms:
        if points:
            below = [storey for storey in lived_in if storey <= room.storey] if room.kind == ATTIC else []
            storeys.setdefault(max(below, default=room.storey), []).extend(
                _pieces(room, points, most_points, most_area))
    made = {storey: _packed(storeys[storey], 1, most_points, most_area) for storey in sorted(storeys)}
    while made and sum(map(len, made.values())) < count:
        fullest = max(made, key=lambda storey: (max(share.area for share in made[storey]),
                                                max(share.points for share in made[storey]), -storey))
        made[fullest] = _packed(storeys[fullest], len(made[fullest]) + 1, most_points, most_area)
    return [share for shares in made.values() for share in shares] or [Share() for _ in range(count)]


def counted_area(room: CircuitRoom) -> Fraction:
    """Floor of a room that counts for general circuits [sq ft]."""
    return Fraction(0) if room.kind in UNFINISHED else Fraction(room.area)


def _pieces(room: CircuitRoom, points: int, most_points: int | None, most_area: Number | None) -> list[Piece]:
    """A room, or as many equal parts of it as the limits need."""
    area = counted_area(room)
    parts = max(1, ceil(Fraction(points, most_points)) if most_points else 1,
                ceil(area / most_area) if most_area else 1)
    return [Piece(room.name, room.kind, area / parts, points // parts + (i < points % parts)) for i in range(parts)]


def _packed(pieces: Sequence[Piece], least: int, most_points: int | None, most_area: Number | None) -> list[Share]:
    """The pieces of a storey on as few circuits as hold them, `least` or more."""
    whole, area = sum(piece.points for piece in pieces), sum((piece.area for piece in pieces), Fraction(0))
    count = max(1, least, ceil(Fraction(whole, most_points)) if most_points else 1,
                ceil(area / most_area) if most_area else 1)
    while True:
        found = _tried(_at_least(pieces, count), count, most_points, most_area)
        if found:
            return found
        count += 1


def _at_least(pieces: Sequence[Piece], count: int) -> list[Piece]:
    """The pieces, the largest halved until there are so many."""
    made = list(pieces)
    while len(made) < count:
        largest = max(range(len(made)), key=lambda i: (made[i].area, made[i].points, -i))
        made[largest:largest + 1] = made[largest].halves()
    return made


def _tried(pieces: Sequence[Piece], count: int, most_points: int | None, most_area: Number | None) -> list[Share]:
    """The pieces on exactly so many circuits; empty if one of them fits nowhere."""
    shares = [Share() for _ in range(count)]
    for piece in sorted(pieces, key=lambda one: (-one.area, -one.points)):
        open_ = [one for one in shares if (most_points is None or one.points + piece.points <= most_points)
                 and (most_area is None or one.area + piece.area <= most_area)]
        share = min(open_, key=lambda one: (one.area, one.points, len(one.pieces)), default=None)
        if share is None:
            return []
        share.pieces += (piece,)
    return shares


__all__ = ["UNFINISHED", "Held", "Piece", "Share", "counted_area", "general_shares"]
