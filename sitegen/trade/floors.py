"""Floors of a room: the lead rule's taped sheet and what lies outside it, board, layers, care and cleaning order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil

from msgspec import Struct

Number = int | Fraction

ON = ("wall", "ceiling")
LAYERS = ("board", "sheet", "paper")
"""From the floor up."""
INCHES = 12


class FloorsRule(Struct, frozen=True):
    """Numbers of floors from guides and practice, from `rules/floors.yaml`.

    How far the sheet reaches is the lead rule's own row, `lead-sheet-feet`, and an argument named `reach` here.
    """

    wood_days: tuple[int, int]


# ------------------------------------------------------------------------------------------- the taped sheet


class Place(Struct, frozen=True):
    """One place worked on: on a "wall" or "ceiling", `width` [ft, as it lies on the floor's plan].

    A place on a ceiling is taken as a square of that width.  Raises ValueError for any other surface, or no width.
    """

    on: str
    width: Number

    def __post_init__(self) -> None:
        if self.on not in ON or self.width <= 0:
            raise ValueError(f"a place is on a {' or '.join(ON)} and has a width; got {self}")


class RoomSheet(Struct, frozen=True):
    """Floor of one room [sq ft]: all of it, and the sheet at most, wherever its places are.

    The survey does not say where on a wall a place is.  A later cost may count `outside`, the floor that is surely
    bare: a cost that rests on a guess of ours counts against no option.
    """

    area: Fraction
    at_most: Fraction

    @property
    def outside(self) -> Fraction:
        """Floor that no sheet covers, wherever the places are [sq ft]."""
        return self.area - self.at_most


def room_sheet(length: Number, width: Number, places: Sequence[Place], reach: Number) -> RoomSheet:
    """The sheet of a room `length` by `width` [ft] with these places worked on, where nobody knows their spots.

    At most: each place at its widest, none sharing floor with another, and never more than the room.  Raises
    ValueError for a room without size, or for a place wider than the room.
    """
    if min(length, width) <= 0 or reach < 0:
        raise ValueError(f"a room has a size, and the reach is not below zero; got {length} x {width}, {reach}")
    area = Fraction(length) * width
    alike = Counter(places)
    return RoomSheet(area, min(area, sum((_most(length, width, place, reach) * count
                                          for place, count in alike.items()), Fraction(0))))


def _most(length: Number, width: Number, place: Place, reach: Number) -> Fraction:
    """The most sheet for one place anywhere in the room: in its middle."""
    if place.on == "ceiling":
        if place.width > min(length, width):
            raise ValueError(f"{place} is wider than the room")
        return _span(length, place, reach) * _span(width, place, reach)
    walls = [(wall, depth) for wall, depth in ((length, width), (width, length)) if place.width <= wall]
    if not walls:
        raise ValueError(f"{place} is wider than every wall")
    return max(_span(wall, place, reach) * min(Fraction(reach), Fraction(depth)) for wall, depth in walls)


def _span(side: Number, place: Place, reach: Number) -> Fraction:
    """How far the sheet runs along a side when it reaches out at both ends of the place."""
    return min(Fraction(side), Fraction(place.width) + 2 * reach)


# --------------------------------------------------------------------------------------------------- the board


class Roll(Struct, frozen=True):
    """The book's roll of pressed-fibre board: `width` [in], `length` [ft], `overlap` of sheets [in].

    Raises ValueError for a roll without size, or an overlap that leaves nothing of it.
    """

    width: Number
    length: Number
    overlap: Number = 0

    def __post_init__(self) -> None:
        if min(self.width, self.length) <= 0 or not 0 <= self.overlap < min(self.width, self.length * INCHES):
            raise ValueError(f"a roll has a size and overlaps by less than it; got {self}")

    @property
    def area(self) -> Fraction:
        """Square feet of board in the roll."""
        return Fraction(self.width) / INCHES * self.length


class Board(Struct, frozen=True):
    """Board over some pieces of floor: `area` [sq ft], whole `rolls`, tape at seams and at edges [ft]."""

    area: Fraction
    rolls: int
    seams: Fraction
    edges: Fraction

    @property
    def tape(self) -> Fraction:
        return self.seams + self.edges


def board(pieces: Sequence[tuple[Number, Number]], roll: Roll) -> Board:
    """Board for paths and work areas, each piece (length, width) [ft], laid in strips along its longer side.

    Whole strips are bought: what is cut off a strip's side is not used again.  A new roll may begin within a strip,
    which adds one seam across.  Tape runs along every seam and round every piece.  Raises ValueError for a piece
    without size.
    """
    wide, lap = Fraction(roll.width) / INCHES, Fraction(roll.overlap) / INCHES
    area = run = seams = edges = Fraction(0)
    for piece in pieces:
        short, long = (Fraction(side) for side in sorted(piece))
        if short <= 0:
            raise ValueError(f"a piece of floor has a size; got {piece}")
        strips = _lapped(short, wide, lap)
        area, run = area + short * long, run + strips * long
        seams, edges = seams + (strips - 1) * long, edges + 2 * (short + long)
    rolls = _lapped(run, Fraction(roll.length), lap) if pieces else 0
    return Board(area, rolls, seams + max(0, rolls - 1) * wide, edges)


def _lapped(total: Fraction, each: Fraction, lap: Fraction) -> int:
    """How many lengths `each`, lapped by `lap`, reach over `total`."""
    return max(1, ceil((total - lap) / (each - lap)))


# -------------------------------------------------------------------------------------------- what lies on what


def layers(*, lead_work: bool, with_board: bool, with_paper: bool = False) -> tuple[str, ...]:
    """What lies on the floor, from the floor up: board, sheet while lead work lasts, paper over whole sheet only.

    Raises ValueError for paper without sheet: alone it stops neither water nor dust.
    """
    if with_paper and not lead_work:
        raise ValueError("paper lies on top of sheet, never alone")
    wanted = {"board": with_board, "sheet": lead_work, "paper": with_paper}
    return tuple(layer for layer in LAYERS if wanted[layer])


# ----------------------------------------------------------------------------------- kinds of floor, and cleaning


_WOOD_CARE = ("lift sheet soon", "no tape on fresh finish", "sanding is lead work", "dents", "mop")
CARES: Mapping[str, tuple[str, ...]] = {
    "thin strip": (*_WOOD_CARE, "sanding may not be left"),
    "thick strip": _WOOD_CARE,
    "softwood plank": _WOOD_CARE,
    "tile": ("cracks", "mop"),
    "carpet": ("beater bar",),
    "concrete": ("mop",),
    "linoleum": ("dents", "tape lifts it", "mop"),
}
"""Which care each kind of floor needs, as keys of words."""


CLEANING: Mapping[str, str] = {
    "chips up": "Chips and debris are picked up and bagged.",
    "sheet out": "The sheet is misted, folded dirty side in, and bagged.",
    "surfaces": "HEPA vacuum and wet wipe, from the ceiling down and toward the door.",
    "board wiped": "The board is vacuumed and wiped where it lies.",
    "board up": "The board is lifted.",
    "floor": "The floor is vacuumed and mopped, or vacuumed with a beater bar where it is carpet.",
    "verification": "The room is checked as the lead rule asks.",
}
"""The order of cleaning a room: surfaces before the board comes up, the floor last, then verification."""


def cleaning(*, with_board: bool, lead_work: bool, wipe_first: bool = False) -> tuple[str, ...]:
    """Keys of CLEANING in their order; `wipe_first` adds "first wipe" ahead of them and replaces none."""
    kept = [key for key in CLEANING if (with_board or not key.startswith("board"))
            and (lead_work or key not in ("sheet out", "verification"))]
    return (("first wipe",) if wipe_first else ()) + tuple(kept)
