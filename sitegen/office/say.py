"""What the office reads, as text: the one way in which a private figure is said.

Sheets cannot come here: they import the Offer alone, and their own `say` refuses a private figure.
"""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from sitegen.errors import FigureError
from sitegen.figure import Figure, Quote
from sitegen.trade.rounding import half_up
from sitegen.units import UNITS, Value, dollars, long_date

Part = str | Figure | Quote
"""Words of ours without a digit, a number, or what a person wrote."""

WHOLE_FROM = 1_000_00
"""Amounts from here on [cents] are said in whole dollars."""

TENTHS = ("crew hours", "quantity")
"""Units that are said to a tenth."""

LEAST = 0.05
"""The least chance of 100 that is said as a number: one tenth, rounded."""


def said(part: Part) -> str:
    """One part as text, private or not; raises FigureError for words with a digit in them: numbers are Figures."""
    if isinstance(part, Figure):
        return _figure(part)
    if isinstance(part, Quote):
        return part.text
    if re.search(r"\d", part):
        raise FigureError(f"`{part}` has a digit in it: numbers are Figures")
    return part


def _figure(figure: Figure) -> str:
    value, printed = figure.value, UNITS[figure.unit].printed
    if figure.unit == "chance":
        return _chance(value)
    if figure.unit in ("cents", "cents, forecast"):
        assert isinstance(value, int)
        return dollars(value if abs(value) < WHOLE_FROM else half_up(Fraction(value, 100)) * 100)
    if isinstance(value, date):
        return long_date(value)
    if figure.unit in TENTHS:
        assert isinstance(value, int | Fraction)
        return f"{float(value):,.1f}"
    assert printed is not None, figure.unit
    return printed(value)


def _chance(value: Value) -> str:
    assert isinstance(value, float)
    hundredths = 100 * value
    if 0 < hundredths < LEAST:
        return "under 0.1 of 100"
    return f"{hundredths:.1f}".removesuffix(".0") + " of 100"


__all__ = ["Part", "said"]
