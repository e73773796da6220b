"""The only spellings of units and how a value of each is printed; money is whole cents inside.

A person reads dollars; a forecast is said to the nearest hundred of them.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction

from msgspec import Struct

Value = int | Fraction | date | float


def dollars(cents: int) -> str:
    """A price: `$32,600`, or with its cents where it has some."""
    sign = "-" if cents < 0 else ""
    whole, rest = divmod(abs(cents), 100)
    return f"{sign}${whole:,}" + (f".{rest:02}" if rest else "")


def forecast(cents: int) -> str:
    """A forecast to the nearest $100, halves upward: more would claim what nobody knows."""
    return dollars(in_hundreds(cents))


def in_hundreds(cents: int) -> int:
    """A sum [cents] to the nearest $100 [cents], halves upward, below 0 too."""
    return (cents + 5_000) // 10_000 * 10_000


def whole(value: int | Fraction) -> int | Fraction:
    """The same number; one without a remainder as a whole number, so that it prints as one."""
    return int(value) if value.denominator == 1 else value


class Unit(Struct, frozen=True):
    """A unit: its spelling, the types that its values may have, how one is printed, and its noun.

    `printed` is None for units that may not be printed as a bare number: a chance takes a sentence.
    """

    key: str
    types: tuple[type, ...]
    printed: Callable[[Value], str] | None
    one: str = ""
    many: str = ""


def date_unit(value: date, year: int) -> str:
    """The unit of a date: "date, this year" is printed without its year, "date" with it; `year` is the one implied."""
    return "date, this year" if value.year == year else "date"


def _plain(value: Value) -> str:
    return f"{value:,}"


def _bare(value: Value) -> str:
    return str(value)


def _share(value: Value) -> str:
    assert isinstance(value, int | Fraction)
    hundredths = Fraction(value) * 100
    return f"{float(hundredths):g}%"


def _quantity(value: Value) -> str:
    return f"{float(value):g}" if isinstance(value, Fraction) else str(value)


def long_date(value: Value) -> str:
    """A date with its year, as Americans write it."""
    assert isinstance(value, date)
    return f"{value:%b} {value.day}, {value.year}"


def _short_date(value: Value) -> str:
    assert isinstance(value, date)
    return f"{value:%b} {value.day}"


def _month(value: Value) -> str:
    assert isinstance(value, date)
    return f"{value:%B %Y}"


def _cents(value: Value) -> str:
    assert isinstance(value, int)
    return dollars(value)


def _forecast(value: Value) -> str:
    assert isinstance(value, int)
    return forecast(value)


def _amount(value: Value) -> str:
    return _plain(value) if isinstance(value, int) else _quantity(value)


def _count(one: str, many: str) -> Unit:
    return Unit(many, (int,), _plain, one, many)


def _measure(one: str, many: str) -> Unit:
    """Something that is measured: whole or a fraction."""
    return Unit(many, (int, Fraction), _amount, one, many)


UNITS: dict[str, Unit] = {unit.key: unit for unit in (
    Unit("cents", (int,), _cents),
    Unit("cents, forecast", (int,), _forecast),
    Unit("date", (date,), long_date),
    Unit("date, this year", (date,), _short_date),
    Unit("month", (date,), _month),
    Unit("year", (int,), _bare),
    Unit("number", (int,), _bare),
    Unit("quantity", (Fraction,), _quantity),
    Unit("crew hours", (Fraction,), _quantity),
    Unit("share", (Fraction, int), _share),
    Unit("chance", (float,), None),
    Unit("twentieths", (int,), None),
    _count("point", "points"),
    _count("feed", "feeds"),
    _count("drop", "drops"),
    _count("opening", "openings"),
    _count("hole", "holes"),
    _count("room", "rooms"),
    _count("finding", "findings"),
    _count("case", "cases"),
    _count("job", "jobs"),
    _count("place", "places"),
    _count("row", "rows"),
    _count("day", "days"),
    _count("working day", "working days"),
    _count("business day", "business days"),
    _count("year long", "years"),
    _measure("foot", "feet"),
    _measure("square foot", "square feet"),
    _measure("inch", "inches"),
    _measure("square inch", "square inches"),
    _measure("cubic inch", "cubic inches"),
    _measure("volt-ampere", "volt-amperes"),
    _measure("ampere", "amperes"),
    _measure("volt", "volts"),
    _count("lumen", "lumens"),
    _measure("footcandle", "footcandles"),
    _count("circuit", "circuits"),
    _count("receptacle", "receptacles"),
    _count("light", "lights"),
    _count("patch", "patches"),
    _count("coat", "coats"),
    _count("cloth", "cloths"),
    _measure("hour", "hours"),
    _count("minute", "minutes"),
    _count("degree Fahrenheit", "degrees Fahrenheit"),
    _count("kind of house", "kinds of house"),
)}
