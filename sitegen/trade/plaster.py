"""Plaster patches: area, price, coats and their thickness, waits until plates and paint, heat, and trouble words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.trade.terms import Cents

Number = int | Fraction

PLACES = ("wall", "ceiling")
KINDS = ("box", "access", "trench", "broken out")
BANDS = ("plate", "hand", "large", "ceiling")
DOWN_TO = ("wood lath", "metal lath", "old base")
"""How far the old plaster is gone.  metal lath: wood lath with metal lath laid over it."""
COATS = ("scratch", "brown", "finish")
SMALL_COATS = ("base", "finish")
PI = Fraction(355, 113)
"""Over the true value by less than one part in ten million, so that areas stay fractions."""
SQ_FT = 144


@dataclass(frozen=True, slots=True)
class PlasterRule:
    """Numbers of plaster from standards, handbooks and practice; each field is a row of `rules/plaster.yaml`."""

    plate_inches: tuple[Number, Number]
    large_square_feet: Number
    small_hole_inches: Number
    scratch_inches: Number
    finish_inches: tuple[Number, Number]
    least_inches: Mapping[str, Number]
    aggregate_cubic_feet: Mapping[str, tuple[Number, Number]]
    one_mix_cubic_feet: Number
    aggregate_tolerance: Number
    thick_inches: Number
    thick_perlite_cubic_feet: Number
    next_coat_hours: Mapping[str, Number]
    setting_next_coat_hours: Number
    base_set_hours: Number
    plates_hours: tuple[int, int]
    paint_days: Mapping[str, int]
    setting_paint_days: int
    paint_moisture: Number
    heat_degrees: int
    heat_days: int
    veneer_degrees: Mapping[str, tuple[int, int]]
    veneer_before_days: Mapping[str, int]
    swing_degrees: int
    box_setback_inches: Number
    box_gap_inches: Number
    volume_per_sixteenth: Number
    volume_of_keys: Number
    opening_square_yards: Number
    strip_inches: Number
    crew_square_yards: Mapping[str, tuple[Number, Number]]


# ------------------------------------------------------------------------------------------- patches and prices


@dataclass(frozen=True, slots=True)
class Patch:
    """One opening to close: `area` [sq in], `place` of PLACES, `kind` of KINDS, `sides` [in, in] where measured.

    Raises ValueError for an area or side that is not above zero, or a place or kind that is not listed.
    """

    area: Number
    place: str
    kind: str
    sides: tuple[Number, Number] | None = None

    def __post_init__(self) -> None:
        if self.place not in PLACES or self.kind not in KINDS:
            raise ValueError(f"a patch is on a {' or '.join(PLACES)} and one of {', '.join(KINDS)}; got {self}")
        if self.area <= 0 or (self.sides and min(self.sides) <= 0):
            raise ValueError(f"a patch is larger than nothing; got {self}")


def rectangle(width: Number, height: Number, place: str = "wall", kind: str = "access") -> Patch:
    """A patch `width` by `height` [in]."""
    return Patch(Fraction(width) * height, place, kind, (width, height))


def round_hole(across: Number, place: str = "ceiling", kind: str = "box") -> Patch:
    """A round patch `across` [in]; the area is a hair over the true one, see PI."""
    return Patch(PI * across * across / 4, place, kind, (across, across))


def patch_area(patches: Sequence[Patch]) -> Fraction:
    """Area of all patches [sq in]."""
    return sum((Fraction(patch.area) for patch in patches), Fraction(0))


def band(patch: Patch, rule: PlasterRule) -> str:
    """Which of BANDS prices this patch.

    Every ceiling patch is "ceiling".  "plate" takes a hole cut for a box, measured, that lies behind one plate
    either way up; a hole known by its area alone might be a slit, so it is filled by hand.
    """
    if patch.place == "ceiling":
        return "ceiling"
    if patch.area > Fraction(rule.large_square_feet) * SQ_FT:
        return "large"
    behind = patch.sides is not None and all(
        side <= plate for side, plate in zip(sorted(patch.sides), sorted(rule.plate_inches), strict=True))
    return "plate" if patch.kind == "box" and behind else "hand"


@dataclass(frozen=True, slots=True)
class Prices:
    """The book's price [cents] for one patch of each band, and the least charged when a plasterer comes at all.

    Raises ValueError below zero, or where a larger wall patch would cost less than a smaller one.
    """

    plate: Cents
    hand: Cents
    large: Cents
    ceiling: Cents
    trip_minimum: Cents

    def __post_init__(self) -> None:
        if min(self.plate, self.ceiling, self.trip_minimum) < 0 or not self.plate <= self.hand <= self.large:
            raise ValueError(f"prices run up from nothing: plate, by hand, large; got {self}")


@dataclass(frozen=True, slots=True)
class PatchPrice:
    """Count in each band [patches], their sum [cents], and what is asked [cents], the trip minimum counted in."""

    counts: Mapping[str, int]
    at_book: Cents
    total: Cents


def patch_price(patches: Sequence[Patch], prices: Prices, rule: PlasterRule) -> PatchPrice:
    """What closing all patches costs.  The crew itself sets plates; the minimum comes in with the first other patch."""
    found = Counter(band(patch, rule) for patch in patches)
    counts = {name: found[name] for name in BANDS}
    at_book = sum(count * int(getattr(prices, name)) for name, count in counts.items())
    least = prices.trip_minimum if any(counts[name] for name in BANDS[1:]) else 0
    return PatchPrice(counts, at_book, max(at_book, least))


# ---------------------------------------------------------------------------------------------------- the coats


@dataclass(frozen=True, slots=True)
class Coat:
    """One coat and its thickness [in]."""

    name: str
    inches: Fraction


@dataclass(frozen=True, slots=True)
class CoatPlan:
    """Coats in their order, flush with the old face, and by how much [in] they stay under the least thickness."""

    coats: tuple[Coat, ...]
    short_by: Fraction


def coat_names(down_to: str, across: Number | None, rule: PlasterRule) -> tuple[str, ...]:
    """Which coats, first to last, for a hole `across` [in, its longest side; None where nobody measured].

    Over metal lath always three (handbook 11.25.8).  On wood lath a small hole takes a base and a finish; the size
    is from memory.  Where the old base stands, the finish alone.  Raises ValueError for any other ground.
    """
    if down_to not in DOWN_TO or (across is not None and across <= 0):
        raise ValueError(f"down to one of {', '.join(DOWN_TO)}, larger than nothing; got {down_to}, {across}")
    if down_to == "old base":
        return COATS[-1:]
    small = across is not None and across < rule.small_hole_inches
    return SMALL_COATS if small and down_to == "wood lath" else COATS


def coat_plan(names: tuple[str, ...], measured: Number, rule: PlasterRule, *, down_to: str = "wood lath",
              finish: Number | None = None) -> CoatPlan:
    """The coats of a patch that ends flush with old plaster `measured` thick [in, from the face plastered on].

    Old work runs from thin to very thick, so there is no default.  `finish` [in] is the thinner limit unless given.
    The brown coat (or base) takes what scratch and finish leave.  Raises ValueError where nothing is left for a coat,
    or where a finish lies outside its limits.
    """
    low, high = rule.finish_inches
    last = Fraction(measured) if names == COATS[-1:] else Fraction(low if finish is None else finish)
    if not low <= last <= high:
        raise ValueError(f"a finish coat is {low} to {high} in thick; got {last}")
    first = [Coat("scratch", Fraction(rule.scratch_inches))] if names == COATS else []
    left = Fraction(measured) - last - sum(coat.inches for coat in first)
    if len(names) > 1 and left <= 0:
        raise ValueError(f"{measured} in leaves nothing for the {names[-2]} coat")
    middle = [Coat(names[-2], left)] if len(names) > 1 else []
    least = least_total(down_to, rule) if len(names) > 1 else None
    return CoatPlan((*first, *middle, Coat("finish", last)), max(Fraction(0), (least or 0) - Fraction(measured)))


def least_total(base: str, rule: PlasterRule) -> Fraction | None:
    """The least thickness over a base [in], finish counted in; None for wood lath, which no standard read covers.

    ASTM C842 covers gypsum, metal, masonry and concrete.  A patch is under it only with metal lath laid over.
    """
    return Fraction(rule.least_inches[base]) if base in rule.least_inches else None


def left_to_skim(measured: Number, board: Number) -> Fraction:
    """What is left to skim [in] over a board let into a hole in a wall `measured` thick [in]; never under zero."""
    if not 0 < board <= measured:
        raise ValueError(f"a board of {board} in does not go into {measured} in")
    return Fraction(measured) - board


def most_aggregate(work: str, aggregate: str, rule: PlasterRule, *, one_mix: bool = False,
                   total: Number | None = None) -> Fraction:
    """The most aggregate, "sand" (damp, loose) or "perlite" [cu ft to 100 lb of neat gypsum], IRC Table R702.1(2).

    `work` is a key of the rule's table; `one_mix`: the same for both base coats; `total`: whole thickness [in].
    Raises ValueError for other work or aggregate; the table is for gypsum, and perlite is not used with lime.
    """
    if work not in rule.aggregate_cubic_feet or aggregate not in ("sand", "perlite"):
        raise ValueError(f"no limit for {aggregate} in {work}")
    if aggregate == "perlite" and total is not None and total >= rule.thick_inches and "second" in work:
        return Fraction(rule.thick_perlite_cubic_feet)
    if aggregate == "sand" and one_mix and "on lath" in work:
        return Fraction(rule.one_mix_cubic_feet)
    return Fraction(rule.aggregate_cubic_feet[work][aggregate == "perlite"])


def too_much(amount: Number, most: Number, rule: PlasterRule) -> bool:
    """Whether an amount of aggregate lies above its limit by more than the table's tolerance [both cu ft]."""
    return amount > most * (1 + Fraction(rule.aggregate_tolerance))


def slow_to_set(hours: Number, rule: PlasterRule) -> bool:
    """Whether a gypsum base coat that is not set after so many hours is at fault, and no finish may go on it."""
    return hours >= rule.base_set_hours


def box_needs_work(setback: Number, gap: Number, rule: PlasterRule) -> bool:
    """Whether a box lies too deep in plaster, or the gap at its edge is too wide [in] (NEC 314.20, 314.21)."""
    return setback > rule.box_setback_inches or gap > rule.box_gap_inches


# --------------------------------------------------------------------------------------------- trouble in a room


@dataclass(frozen=True, slots=True)
class Trouble:
    """What a trouble word means, and whether the book's patch price stops there (else it holds, and may rise)."""

    means: str
    stops: bool


TROUBLE: Mapping[str, Trouble] = {
    "calcimine": Trouble("An old chalk paint that lets go when a wet patch touches it, with all paint over it.", True),
    "loose plaster": Trouble("Plaster that has lost its hold on the lath and sheds more when a cable is pulled.", True),
    "wallpaper": Trouble("Paper is cut with the wall; we patch the plaster, and the paper is not made whole.", False),
    "sand finish": Trouble("A rough face that has to be matched by hand, and that may still show.", False),
    "tile": Trouble("Tile on the wall breaks when it is cut and can rarely be matched.", True),
    "paneling": Trouble("Wood over the wall, to be taken down whole or cut, with unknown plaster behind.", True),
    "second skin": Trouble("A board laid over the old plaster, so the depth is known only once it is cut.", True),
}
"""Words a survey may use of a room; each can raise a price, and some end the patch price in that room."""
