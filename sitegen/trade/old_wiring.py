"""What counts as old wiring, when a house is presumed to hold it, and what must go for a promise to hold.

Old wiring is defined by what it lacks: an equipment ground.  The kinds are those that a promise names.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

KNOB, ARMORED, CLOTH, TWO_WIRE, SPLICED = ("knob-and-tube", "armored cable", "cloth-sheathed cable",
                                           "two-wire plastic cable", "new cable spliced to old")
KINDS = (KNOB, ARMORED, CLOTH, TWO_WIRE, SPLICED)

PACKAGE: Mapping[str, str] = {"sheet": "every room", "closes holes": "us", "cleans": "house"}
"""The protections of a price for every point: one package, sold whole (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class OldWiringRule:
    """Years by which wiring is told: `presumed_before` a house is taken to hold knob-and-tube, `bonding_strip` from
    when armored cable has one, `ground_in_cable` from when plastic cable has a ground, `cloth_until` for its jacket."""

    presumed_before: int
    bonding_strip: int
    ground_in_cable: int
    cloth_until: int


def presumed(built: int, rule: OldWiringRule) -> bool:
    """Whether a house of this year is presumed to hold knob-and-tube until somebody has looked."""
    return built < rule.presumed_before


def sign_of_old(about: str) -> bool:
    """Whether a finding is taken as a sign of old wiring: one of points without a ground, or of old wire itself."""
    return about in ("points", "old wire")


def must_go(kind: str, *, grounded: bool = False, bonding_strip: bool = False) -> bool:
    """Whether a run of this kind must be replaced for a promise that no old wire is left.

    Knob-and-tube, cloth-sheathed cable and new cable spliced to old always; armored cable without a bonding strip;
    plastic cable without a ground.  Raises ValueError for a kind that is not listed.
    """
    if kind not in KINDS:
        raise ValueError(f"a kind of wiring is one of {', '.join(KINDS)}; got {kind}")
    if kind == ARMORED:
        return not bonding_strip
    return not grounded if kind == TWO_WIRE else True


def can_be(kind: str, year: int, rule: OldWiringRule) -> bool:
    """Whether wiring of this year can lack what makes it new; raises ValueError for a kind without a year."""
    years = {KNOB: None, ARMORED: rule.bonding_strip, TWO_WIRE: rule.ground_in_cable, CLOTH: rule.cloth_until}
    if kind not in years:
        raise ValueError(f"no year tells {kind}")
    last = years[kind]
    return last is None or year < last


def missing_of_package(sheet: str, closes_holes: str, cleans: str) -> tuple[str, ...]:
    """What a price for every point leaves out of its package of protections, by the names of the kit's lines."""
    given = {"sheet": sheet, "closes holes": closes_holes, "cleans": cleans}
    return tuple(key for key, wanted in PACKAGE.items() if given[key] != wanted)


__all__ = ["KINDS", "PACKAGE", "OldWiringRule", "can_be", "missing_of_package", "must_go", "presumed", "sign_of_old"]
