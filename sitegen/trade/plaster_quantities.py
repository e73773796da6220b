"""Quantities of plastering as estimating books take them: area, volume, laths and days of a crew."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from sitegen.trade.plaster import SQ_FT, Number, PlasterRule

SQ_YD, TON = 9, 2000
"""Square feet in a square yard, pounds in a ton."""

def take_off(lines: Sequence[tuple[Number, Number]]) -> Fraction:
    """Area of walls and ceilings [sq yd] from lines of length and height [ft, ft], openings not deducted."""
    if any(min(line) < 0 for line in lines):
        raise ValueError("no length or height is below zero")
    return sum((Fraction(length) * height for length, height in lines), Fraction(0)) / SQ_YD


def volume(inches: Number, square_inches: Number) -> Fraction:
    """Plaster in place [cu in]: thickness times net area, without waste."""
    if inches < 0 or square_inches < 0:
        raise ValueError("thickness and area are not below zero")
    return Fraction(inches) * square_inches


def volume_to_order(square_yards: Number, inches: Number, rule: PlasterRule, *, metal_lath: bool = False) -> Fraction:
    """Plaster to order [cu ft], waste counted in, and what goes through metal lath (Estimating, Example 16-5)."""
    hundreds = Fraction(square_yards) / 100
    return hundreds * (rule.volume_per_sixteenth * Fraction(inches) * 16 + (rule.volume_of_keys if metal_lath else 0))


def laths(square_yards: Number, width: Number, length: Number, gap: Number) -> Fraction:
    """Wood laths [laths, not rounded] for an area, each `width` by `length` with one `gap` beside it [in]."""
    if min(width, length) <= 0 or gap < 0:
        raise ValueError("a lath has a width and a length, and no gap is below zero")
    return Fraction(square_yards) * SQ_YD * SQ_FT / (Fraction(Fraction(width) + gap) * length)


def lath_modules(height: Number, width: Number, gap: Number) -> Fraction:
    """How many laths with their gaps an opening of this height [in] spans."""
    return Fraction(height) / (Fraction(width) + gap)


def net_area(gross: Number, openings: Sequence[Number], rule: PlasterRule, *, custom: str) -> Fraction:
    """Square yards to charge, by an old custom: "half" of each opening deducted, or "none under" the rule's size."""
    if custom not in ("half", "none under"):
        raise ValueError(f"unknown custom {custom}")
    less = sum((Fraction(one) / 2 if custom == "half" else Fraction(one)
                for one in openings if custom == "half" or one >= rule.opening_square_yards), Fraction(0))
    if less > gross:
        raise ValueError("the openings are larger than the wall")
    return Fraction(gross) - less


def charged_strip(width: Number, length: Number, rule: PlasterRule) -> Fraction:
    """Area to charge [sq in] for a strip [in, in]: a narrow one counts as the rule's least width."""
    return Fraction(max(width, rule.strip_inches)) * length


def covered(square_yards_a_ton: Number, pounds: Number) -> Fraction:
    """Area [sq ft] that `pounds` of dry mix cover; assumes that a ton is all dry mix, which no sheet says."""
    return Fraction(square_yards_a_ton) * SQ_YD * pounds / TON


def crew_days(square_yards: Number, coats: str, rule: PlasterRule) -> tuple[Fraction, Fraction]:
    """Days, least and most, of two plasterers and a helper; bare output of new work in "two" or "three" coats."""
    low, high = rule.crew_square_yards[coats]
    return Fraction(square_yards) / high, Fraction(square_yards) / low
