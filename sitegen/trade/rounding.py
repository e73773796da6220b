"""Whole numbers from exact ones."""

from __future__ import annotations

from fractions import Fraction


def half_up(value: Fraction) -> int:
    """The nearest whole number, halves upward."""
    return (2 * value.numerator + value.denominator) // (2 * value.denominator)
