"""Money: whole cents inside, dollars where a person reads it, forecasts to the nearest hundred dollars."""

from __future__ import annotations


def dollars(cents: int) -> str:
    """A price: `$32,600`, or with its cents where it has some."""
    sign = "-" if cents < 0 else ""
    whole, rest = divmod(abs(cents), 100)
    return f"{sign}${whole:,}" + (f".{rest:02}" if rest else "")


def forecast(cents: int) -> str:
    """A forecast to the nearest $100, halves upward: more would claim what nobody knows."""
    return dollars(in_hundreds(cents))


def in_hundreds(cents: int) -> int:
    """The same sum [cents] to the nearest $100, halves upward."""
    return (cents + 5_000) // 10_000 * 10_000
