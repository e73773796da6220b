"""Field types for what is measured or read off a label: sizes, lengths, places, areas, volumes, loads and times.

As in `fields.py` each is a pattern, a reader and the type that a field is declared with.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any

from msgspec import Struct

from sitegen.job.text_type import TextType, as_text, refuse

_NUMBER = "([0-9]{1,3}(?:,[0-9]{3})*|[0-9]{1,6})"
_PLAIN_FEET = r"([0-9]{1,3}(?:\.[0-9]{1,2})?)"

SIZE = rf"(?=[^x]*[1-9][^x]*x[^x]*[1-9]){_PLAIN_FEET} ?(?:ft)? ?x ?{_PLAIN_FEET} ?(?:ft)?"
"""A digit above nought on either side of the x."""


def size(value: Any) -> tuple[Fraction, Fraction]:
    """A room as `14 ft x 16 ft` or `14x16`, both in feet."""
    text = as_text(value, "size", "a size such as 14 ft x 16 ft", "Write it after the colon.")
    found = re.fullmatch(SIZE, text)
    if found is None:
        raise refuse("size", text, "a size in feet such as 14 ft x 16 ft", "Write length x width, both in feet.")
    return Fraction(found[1]), Fraction(found[2])


Size = Annotated[tuple[Fraction, Fraction], TextType(size, SIZE, "14 ft x 16 ft")]

AREA = f"{_NUMBER} sq ft"


def area(value: Any) -> int:
    """A floor area as `2,140 sq ft`."""
    text = as_text(value, "area", "an area such as 2,140 sq ft", "Write it after the colon.")
    found = re.fullmatch(AREA, text)
    if found is None:
        raise refuse("area", text, "an area with its unit, such as 2,140 sq ft", "Write the number, then sq ft.")
    return int(found[1].replace(",", ""))


Area = Annotated[int, TextType(area, AREA, "2,140 sq ft")]

LENGTH = (r"(?=[^+]*[1-9])(?:([0-9]{1,4}(?:\.[0-9]{1,2})?) ?ft)?"
          r"(?: ?([0-9]{1,4})?(?: ?([0-9]{1,2})/([1-9][0-9]?))? ?in)?")
"""A digit above nought, then feet, inches or both; the one after a stroke is the only one that adds nothing."""


def _feet(text: str) -> Fraction | None:
    found = re.fullmatch(LENGTH, text)
    if found is None:
        return None
    feet, whole, over, under = found.groups()
    inches = Fraction(whole or 0) + (Fraction(int(over), int(under)) if over else 0)
    total = Fraction(feet or 0) + inches / 12
    return total or None


def length(value: Any) -> Fraction:
    """`9 ft`, `9 ft 4 in`, `38 in` or `2 1/2 in`, in feet."""
    text = as_text(value, "length", "a length such as 9 ft 4 in", "Write it after the colon.")
    found = _feet(text)
    if found is None:
        raise refuse("length", text, "a length with its unit, such as 9 ft 4 in or 38 in",
                     "Write feet with `ft`, inches with `in`.")
    return found


Length = Annotated[Fraction, TextType(length, LENGTH, "9 ft 4 in")]


def lengths(value: Any) -> tuple[Fraction, ...]:
    """Lengths with a plus between them, such as `12 ft + 9 ft 6 in`, in feet."""
    text = as_text(value, "lengths", "lengths such as 12 ft + 9 ft", "Write them on one line with a plus between.")
    found = [_feet(part.strip()) for part in text.split("+")]
    whole = tuple(one for one in found if one is not None)
    if len(whole) != len(found):
        raise refuse("lengths", text, "lengths such as 12 ft + 9 ft 6 in", "Write each with its unit.")
    return whole


Lengths = Annotated[tuple[Fraction, ...], TextType(lengths, rf"{LENGTH}(?:\s*\+\s*{LENGTH})*", "12 ft + 9 ft")]

PLACE = f"{_PLAIN_FEET} ?ft, ?{_PLAIN_FEET} ?ft"


def place(value: Any) -> tuple[Fraction, Fraction]:
    """Where the corner of a room lies on its storey: `0 ft, 14 ft` from the left and from the front."""
    text = as_text(value, "place", "a place such as 0 ft, 14 ft", "Write it after the colon.")
    found = re.fullmatch(PLACE, text)
    if found is None:
        raise refuse("place", text, "two lengths such as 0 ft, 14 ft",
                     "Write how far from the left and how far from the front, both in feet.")
    return Fraction(found[1]), Fraction(found[2])


Place = Annotated[tuple[Fraction, Fraction], TextType(place, PLACE, "0 ft, 14 ft")]


def _measured_in(unit: str, places: str = "[0-9]") -> str:
    return rf"{_NUMBER}(\.{places}{{1,3}})? ?{unit}"


def _measured(value: Any, code: str, unit: str, example: str) -> Fraction:
    text = as_text(value, code, f"an amount such as {example}", "Write it after the colon.")
    found = re.fullmatch(_measured_in(unit), text)
    if found is None:
        raise refuse(code, text, f"an amount with its unit, such as {example}", f"Write the number, then {unit}.")
    return Fraction(found[1].replace(",", "") + (found[2] or ""))


def square_inches(value: Any) -> Fraction:
    """`24 sq in`."""
    return _measured(value, "square_inches", "sq in", "24 sq in")


def cubic_inches(value: Any) -> Fraction:
    """`18 cu in`."""
    return _measured(value, "cubic_inches", "cu in", "18 cu in")


def amperes(value: Any) -> int:
    """`100 A`, whole."""
    found = _measured(value, "amperes", "A", "100 A")
    if found.denominator != 1:
        raise refuse("amperes", str(value), "whole amperes, such as 100 A", "Write it as on the label.")
    return int(found)


DRAW = rf"(?=[^VA]*[1-9]){_NUMBER}(?:\.0{{1,3}})? ?(VA|A)"
"""A digit above nought, then either unit."""


class Draw(Struct, frozen=True):
    """What a load takes as its label says it: volt-amperes, or amperes at its volts."""

    amount: int
    in_amperes: bool

    def volt_amperes(self, volts: int) -> int:
        """The same in volt-amperes [VA]; `volts` [V] count for a label in amperes alone."""
        return self.amount * volts if self.in_amperes else self.amount


def draw(value: Any) -> Draw:
    """`4,500 VA` or `30 A`, whole and above nought."""
    text = as_text(value, "draw", "an amount such as 4,500 VA or 30 A", "Write it after the colon.")
    found = re.fullmatch(DRAW, text)
    if found is None:
        raise refuse("draw", text, "a whole amount with its unit, such as 4,500 VA or 30 A",
                     "Write the number, then VA or A, as on the label.")
    return Draw(int(found[1].replace(",", "")), found[2] == "A")


GOOD_FOR = "([1-9][0-9]{0,3}) (months?|days?)"


def good_for(value: Any) -> tuple[int, int]:
    """`12 months` or `90 days`, as months and days."""
    text = as_text(value, "good_for", "a time such as 12 months", "Write it after the colon.")
    found = re.fullmatch(GOOD_FOR, text)
    if found is None:
        raise refuse("good_for", text, "a time such as 12 months or 90 days", "Write a number, then months or days.")
    return (int(found[1]), 0) if found[2].startswith("month") else (0, int(found[1]))


SquareInches = Annotated[Fraction, TextType(square_inches, _measured_in("sq in"), "24 sq in")]
CubicInches = Annotated[Fraction, TextType(cubic_inches, _measured_in("cu in"), "18 cu in")]
Amperes = Annotated[int, TextType(amperes, _measured_in("A", "0"), "100 A")]
GoodFor = Annotated[tuple[int, int], TextType(good_for, GOOD_FOR, "12 months")]
Taken = Annotated[Draw, TextType(draw, DRAW, "4,500 VA")]
