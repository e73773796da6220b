"""Floors of a room: the lead rule's taped sheet and what lies outside it, board, layers, care and cleaning order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from sitegen.trade.kinds import FLOORS

Number = int | Fraction

WOOD = ("thin strip", "thick strip", "softwood plank")
"""thin strip: nailed from above; thick strip: nailed through the tongue."""
ON = ("wall", "ceiling")
LAYERS = ("board", "sheet", "paper")
"""From the floor up."""
INCHES = 12


@dataclass(frozen=True, slots=True)
class FloorsRule:
    """Numbers of floors from guides and practice, from `rules/floors.yaml`.

    How far the sheet reaches is the lead rule's own row, `lead-sheet-feet`, and an argument named `reach` here;
    `wet_feet` is the reach of a waterproof cover where water is used.
    """

    wet_feet: Number
    wood_days: tuple[int, int]
    board_water_hours: int
    fresh_finish_days: int
    final_clean_wait_hours: Number
    daily_clean_minutes: tuple[int, int]


# ------------------------------------------------------------------------------------------- the taped sheet


@dataclass(frozen=True, slots=True)
class Place:
    """One place worked on: on a "wall" or "ceiling", `width` [ft, as it lies on the floor's plan].

    A place on a ceiling is taken as a square of that width.  Raises ValueError for any other surface, or no width.
    """

    on: str
    width: Number

    def __post_init__(self) -> None:
        if self.on not in ON or self.width <= 0:
            raise ValueError(f"a place is on a {' or '.join(ON)} and has a width; got {self}")


@dataclass(frozen=True, slots=True)
class RoomSheet:
    """Floor of one room [sq ft]: all of it, and the sheet at least and at most, wherever its places are.

    The survey does not say where on a wall a place is, so the sheet is known between two bounds only.  Buy sheet for
    `at_most`.  A later cost may count `outside`, the floor that is surely bare: a cost that rests on a guess of ours
    counts against no option.  `outside_at_most` is the other end, for a sentence and not for a sum.
    """

    area: Fraction
    at_least: Fraction
    at_most: Fraction

    @property
    def outside(self) -> Fraction:
        return self.area - self.at_most

    @property
    def outside_at_most(self) -> Fraction:
        return self.area - self.at_least


def sheet_at(along: Number, depth: Number, start: Number, width: Number, reach: Number) -> Fraction:
    """Sheet [sq ft] for one place on a straight wall whose place is known, clipped by the room.

    The wall is `along` long and the room `depth` deep from it; the place begins `start` from a corner; all [ft].
    `reach` is the rule's least; give a larger one where dust goes farther (40 CFR 745.85(a)(2)(i)(D)).
    Raises ValueError for a place that does not lie on the wall.
    """
    _room(along, depth, reach)
    if start < 0 or width <= 0 or start + width > along:
        raise ValueError(f"{width} ft from {start} ft does not lie on a wall of {along} ft")
    ends = max(Fraction(0), Fraction(start) - reach), min(Fraction(along), Fraction(start) + width + reach)
    return (ends[1] - ends[0]) * min(Fraction(reach), Fraction(depth))


def room_sheet(length: Number, width: Number, places: Sequence[Place], reach: Number) -> RoomSheet:
    """The sheet of a room `length` by `width` [ft] with these places worked on, where nobody knows their spots.

    At most: each place at its widest, none sharing floor with another, and never more than the room.  At least: all
    places one above another in a corner, so the largest alone.  Raises ValueError for a room without size, or for a
    place wider than the room.
    """
    area = _room(length, width, reach)
    bounds = [_bounds(length, width, place, reach) for place in places]
    most = sum((high for _, high in bounds), Fraction(0))
    return RoomSheet(area, max((low for low, _ in bounds), default=Fraction(0)), min(area, most))


def _room(length: Number, width: Number, reach: Number) -> Fraction:
    if min(length, width) <= 0 or reach < 0:
        raise ValueError(f"a room has a size, and the reach is not below zero; got {length} x {width}, {reach}")
    return Fraction(length) * width


def _bounds(length: Number, width: Number, place: Place, reach: Number) -> tuple[Fraction, Fraction]:
    """Least and most sheet for one place anywhere in the room: in a corner, and in the middle."""
    if place.on == "ceiling":
        if place.width > min(length, width):
            raise ValueError(f"{place} is wider than the room")
        return (_span(length, place, reach, 1) * _span(width, place, reach, 1),
                _span(length, place, reach, 2) * _span(width, place, reach, 2))
    walls = [(wall, depth) for wall, depth in ((length, width), (width, length)) if place.width <= wall]
    if not walls:
        raise ValueError(f"{place} is wider than every wall")
    deep = [(wall, min(Fraction(reach), Fraction(depth))) for wall, depth in walls]
    return (min(_span(wall, place, reach, 1) * depth for wall, depth in deep),
            max(_span(wall, place, reach, 2) * depth for wall, depth in deep))


def _span(side: Number, place: Place, reach: Number, ends: int) -> Fraction:
    """How far the sheet runs along a side when it reaches out at one end of the place or at both."""
    return min(Fraction(side), Fraction(place.width) + ends * reach)


# --------------------------------------------------------------------------------------------------- the board


@dataclass(frozen=True, slots=True)
class Roll:
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


@dataclass(frozen=True, slots=True)
class Board:
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


def tape_rolls(feet: Number, roll_feet: Number, waste: Number = 0) -> int:
    """Whole rolls of tape of `roll_feet` [ft] for `feet` [ft], `waste` [share] added."""
    if roll_feet <= 0 or min(feet, waste) < 0:
        raise ValueError("a roll has a length; nothing is below zero")
    return ceil(Fraction(feet) * (1 + Fraction(waste)) / roll_feet)


# ------------------------------------------------------------------------- what protects, in what order, how long


@dataclass(frozen=True, slots=True)
class Cover:
    """Whether a material counts as the rule's impermeable sheet, and whether it counts as protection of a floor."""

    impermeable: bool
    protects: bool


COVERS: Mapping[str, Cover] = {
    "sheet": Cover(True, True),
    "board": Cover(False, True),        # water-resistant is not impermeable, unless its own sheet says so
    "paper": Cover(False, False),       # on top of sheet only, against slipping
    "drop cloth": Cover(False, False),
    "building paper": Cover(False, False),
}


@dataclass(frozen=True, slots=True)
class Note:
    """Two sources that pull apart, and how we hold both."""

    key: str
    one: str
    other: str
    resolution: str


SHEET_ON_WOOD = Note(
    "sheet on wood",
    "The lead rule asks for taped sheet that lets nothing through.",
    "Guides for wood floors warn that sheet left lying traps damp in the wood.",
    "Board lies on the floor and sheet on top while lead work lasts. Each room is cleaned and the sheet lifted soon.",
)


def layers(*, lead_work: bool, with_board: bool, with_paper: bool = False) -> tuple[str, ...]:
    """What lies on the floor, from the floor up: board, sheet while lead work lasts, paper over whole sheet only.

    Raises ValueError for paper without sheet: alone it stops neither water nor dust.
    """
    if with_paper and not lead_work:
        raise ValueError("paper lies on top of sheet, never alone")
    wanted = {"board": with_board, "sheet": lead_work, "paper": with_paper}
    return tuple(layer for layer in LAYERS if wanted[layer])


def lift_by(laid: date, floor: str, rule: FloorsRule, *, wet: bool = False) -> date | None:
    """The last day on which sheet laid on `laid` may still lie; None where only the cleaning of the room ends it.

    Lifting follows the cleaning of that room.  Where water was used it is lifted on the same day; over wood after
    the shorter of the days that a guide gives (a weak source).  Raises ValueError for a floor that is not listed.
    """
    if floor not in FLOORS:
        raise ValueError(f"a floor is one of {', '.join(FLOORS)}; got {floor}")
    if wet:
        return laid
    return laid + timedelta(days=min(rule.wood_days)) if floor in WOOD else None


def may_cover(finished: date, day: date, rule: FloorsRule) -> bool:
    """Whether a floor finished on `finished` may be covered and taped on `day`: a fresh finish sticks."""
    return day >= finished + timedelta(days=rule.fresh_finish_days)


def holds_water(hours: Number, rule: FloorsRule) -> bool:
    """Whether taped board can be left under standing water for so many hours."""
    return hours <= rule.board_water_hours


# ----------------------------------------------------------------------------------- kinds of floor, and cleaning


CARE: Mapping[str, str] = {
    "lift sheet soon": "Sheet is not left lying over this floor.",
    "no tape on fresh finish": "Tape and sheet stay off a finish that has not cured.",
    "sanding may not be left": "The strip is thin, and it may not bear one more sanding.",
    "sanding is lead work": "Sanding the old finish can itself disturb lead.",
    "dents": "Grit and ladder feet dent it under the cover, so it is swept first and ladders stand on board.",
    "cracks": "A dropped tool cracks it, so board lies under every ladder.",
    "tape lifts it": "Tape goes to the baseboard, because it pulls at the face of this floor.",
    "beater bar": "It is vacuumed with a beater bar, and not wet mopped.",
    "mop": "It is vacuumed, then mopped with the rinse water kept apart.",
}
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
"""Which care each kind of floor needs, as keys of CARE."""


def afterwards(floor: str, bare: Number) -> str:
    """What may be needed for the `bare` floor outside the sheet [sq ft]: a chance, never a certainty.

    "nothing", "cleaning", "may need sanding", or "may not bear sanding" for thin strip.
    """
    if floor not in FLOORS or bare < 0:
        raise ValueError(f"a floor is one of {', '.join(FLOORS)}, and no area is below zero; got {floor}, {bare}")
    if not bare:
        return "nothing"
    if floor not in WOOD:
        return "cleaning"
    return "may not bear sanding" if floor == "thin strip" else "may need sanding"


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


def final_clean_may_start(hours: Number, rule: FloorsRule) -> bool:
    """Whether dust has had time to settle, so many hours after the last work (HUD Guidelines ch. 14)."""
    return hours >= rule.final_clean_wait_hours


def daily_cleaning(days: int, rule: FloorsRule) -> tuple[Fraction, Fraction]:
    """Hours, least and most, that cleaning at the end of each of `days` working days takes (HUD Guidelines ch. 14)."""
    if days < 0:
        raise ValueError(f"no count of days is below zero; got {days}")
    low, high = rule.daily_clean_minutes
    return Fraction(days * low, 60), Fraction(days * high, 60)
