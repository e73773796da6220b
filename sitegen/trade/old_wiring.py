"""When a house is presumed to hold old wiring, and the protections of a price for every point.

Old wiring is defined by what it lacks: an equipment ground.  The kinds are those that the promise on sheet 8 names.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

PACKAGE: Mapping[str, str] = {"sheet": "paths", "closes holes": "us", "cleans": "house"}
"""The protections of a price for every point: one package, sold whole (common practice, no source)."""


class OldWiringRule(Struct, frozen=True):
    """`presumed_before`: a house built before this year is taken to hold knob-and-tube."""

    presumed_before: int


def presumed(built: int, rule: OldWiringRule) -> bool:
    """Whether a house of this year is presumed to hold knob-and-tube until somebody has looked."""
    return built < rule.presumed_before


def missing_of_package(sheet: str, closes_holes: str, cleans: str) -> tuple[str, ...]:
    """What a price for every point leaves out of its package of protections, by the names of the kit's lines."""
    given = {"sheet": sheet, "closes holes": closes_holes, "cleans": cleans}
    return tuple(key for key, wanted in PACKAGE.items() if given[key] != wanted)


__all__ = ["PACKAGE", "OldWiringRule", "missing_of_package", "presumed"]
