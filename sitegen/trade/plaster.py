"""Plaster patches: area, price, coats, and plaster to order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from sitegen.trade.terms import Cents

Number = int | Fraction

PLACES = ("wall", "ceiling")
KINDS = ("box", "access", "trench", "broken out")
BANDS = ("plate", "hand", "large", "ceiling")
DOWN_TO = ("wood lath", "metal lath", "old base")
"""How far the old plaster is gone.  metal lath: wood lath with metal lath laid over it."""
COATS = ("scratch", "brown", "finish")
SMALL_COATS = ("base", "finish")
SQ_FT, SQ_YD = 144, 1296
"""Square inches in a square foot and in a square yard."""
CU_FT = 1728
"""Cubic inches in a cubic foot."""


class PlasterRule(Struct, frozen=True):
    """Numbers of plaster from standards, handbooks and practice; each field is a row of `rules/plaster.yaml`."""

    plate_inches: tuple[Number, Number]
    large_square_feet: Number
    small_hole_inches: Number
    next_coat_hours: Mapping[str, Number]
    setting_next_coat_hours: Number
    plates_hours: tuple[int, int]
    paint_days: Mapping[str, int]
    setting_paint_days: int
    heat_degrees: int
    heat_days: int
    volume_per_sixteenth: Number


# ------------------------------------------------------------------------------------------- patches and prices


class Patch(Struct, frozen=True):
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


class Prices(Struct, frozen=True):
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


class PatchPrice(Struct, frozen=True):
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


def plaster_to_order(area: Number, inches: Number, rule: PlasterRule) -> Fraction:
    """Plaster to order [cu in] for an area [sq in] so thick [in], waste counted in (Estimating, Example 16-5)."""
    hundreds = Fraction(area) / SQ_YD / 100
    return hundreds * rule.volume_per_sixteenth * Fraction(inches) * 16 * CU_FT
