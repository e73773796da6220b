"""Field types: what gives the text of a file its meaning.

Each turns text into an exact value or raises with two sentences: what is wrong, and the way out.  The codes
of these errors are listed in CODES, so that a test can hold every one of them to a sentence of ours.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from sitegen.job.document import short
from sitegen.trade.terms import Cents

CODES = ("words", "count", "money", "day", "yes_no", "answer", "chance", "share", "size", "area", "length", "lengths",
         "place", "square_inches", "cubic_inches", "amperes", "volt_amperes", "several", "name", "phone",
         "web_address", "inside_path")

LONGEST = 2_000
"""Characters in one text field: a page is read on a phone."""


def _text(value: Any, code: str, needs: str, way_out: str) -> str:
    if not isinstance(value, str):
        kind = "a list" if isinstance(value, list) else "lines of their own below it"
        raise PydanticCustomError(code, "{problem}\n{remedy}",
                                  {"problem": f"Got {kind}, needs {needs}.", "remedy": way_out})
    return value.strip()


def _refuse(code: str, got: str, needs: str, way_out: str) -> PydanticCustomError:
    said = f"Got `{short(got)}`, needs {needs}." if got else f"Nothing stands here; it needs {needs}."
    return PydanticCustomError(code, "{problem}\n{remedy}",
                               {"problem": said, "remedy": way_out})


def words(value: Any) -> str:
    """Words on one line or more, as they will be shown."""
    text = _text(value, "words", "words", "Write them after the colon.")
    if not text:
        raise _refuse("words", "", "words", "Write them, or leave the whole line out if it may be left out.")
    if len(text) > LONGEST:
        raise _refuse("words", text, f"at most {LONGEST:,} characters", "Shorten it.")
    return text


def count(value: Any) -> int:
    """A whole number from nought up."""
    text = _text(value, "count", "a count", "Write a whole number.")
    grouped = re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+", text)
    if not re.fullmatch(r"0|[1-9][0-9]{0,6}", text.replace(",", "") if grouped else text):
        raise _refuse("count", text, "a whole number, 0 or more", "Write plain digits, such as 4.")
    return int(text.replace(",", ""))


def money(value: Any) -> Cents:
    """Dollars and whole cents, with the dollar sign, into cents."""
    text = _text(value, "money", "an amount such as $3,200", "Put it on the same line.")
    found = re.fullmatch(r"\$([0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,9})(?:\.([0-9]+))?", text)
    if found is None:
        bare = re.fullmatch(r"[0-9,]+(\.[0-9]+)?", text)
        raise _refuse("money", text, "an amount such as $3,200 or $0.90",
                      f"Write ${text}." if bare else "Write a dollar sign, then digits; no minus and no words.")
    if found[2] and len(found[2]) != 2:
        raise _refuse("money", text, "whole cents", "Write two digits after the point, or none.")
    return int(found[1].replace(",", "")) * 100 + int(found[2] or 0)


def day(value: Any) -> date:
    """A calendar date as 2026-12-31."""
    text = _text(value, "day", "a date such as 2026-12-31", "Write year, month, day.")
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        raise _refuse("day", text, "a date such as 2026-12-31", "Write year, month and day with dashes.")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise _refuse("day", text, "a date that exists", "Look at a calendar: that month has no such day.") from None


def yes_no(value: Any) -> bool:
    """`yes` or `no`."""
    text = _text(value, "yes_no", "yes or no", "Write one of the two.")
    if text not in ("yes", "no"):
        raise _refuse("yes_no", text, "yes or no", "Write one of the two, in small letters.")
    return text == "yes"


def one_of(*answers: str) -> Callable[[Any], str]:
    """One of a few fixed answers."""
    listed = ", ".join(f"`{answer}`" for answer in answers)

    def answer(value: Any) -> str:
        text = _text(value, "answer", f"one of {listed}", "Write one of them.")
        if text not in answers:
            raise _refuse("answer", text, f"one of {listed}", "Write one of them as it stands here.")
        return text
    return answer


def chance(value: Any) -> Fraction:
    """`6 of 100`, as a fraction from 0 to 1."""
    text = _text(value, "chance", "a chance such as 6 of 100", "Write it after the colon.")
    found = re.fullmatch(r"([0-9]{1,6}) of ([1-9][0-9]{0,5})", text)
    if found is None or int(found[1]) > int(found[2]):
        raise _refuse("chance", text, "a chance such as 6 of 100", "Write two counts with `of` between them.")
    return Fraction(int(found[1]), int(found[2]))


def share(value: Any) -> Fraction:
    """`3/4`, `2 of 5` or a whole number, as a fraction."""
    text = _text(value, "share", "a part such as 3/4", "Write it after the colon.")
    found = re.fullmatch(r"([0-9]{1,6})(?:(?:/| of )([1-9][0-9]{0,5}))?", text)
    if found is None:
        raise _refuse("share", text, "a part such as 3/4 or 2 of 5, or a whole number", "Write it with a stroke.")
    return Fraction(int(found[1]), int(found[2] or 1))


def size(value: Any) -> tuple[Fraction, Fraction]:
    """A room as `14 ft x 16 ft` or `14x16`, both in feet."""
    text = _text(value, "size", "a size such as 14 ft x 16 ft", "Write it after the colon.")
    found = re.fullmatch(r"([0-9]{1,3}(?:\.[0-9]{1,2})?) ?(?:ft)? ?x ?([0-9]{1,3}(?:\.[0-9]{1,2})?) ?(?:ft)?", text)
    if found is None or not Fraction(found[1]) or not Fraction(found[2]):
        raise _refuse("size", text, "a size in feet such as 14 ft x 16 ft", "Write length x width, both in feet.")
    return Fraction(found[1]), Fraction(found[2])


def area(value: Any) -> int:
    """A floor area as `2,140 sq ft`."""
    text = _text(value, "area", "an area such as 2,140 sq ft", "Write it after the colon.")
    found = re.fullmatch(r"([0-9]{1,3}(?:,[0-9]{3})*|[0-9]{1,6}) sq ft", text)
    if found is None:
        raise _refuse("area", text, "an area with its unit, such as 2,140 sq ft", "Write the number, then sq ft.")
    return int(found[1].replace(",", ""))


def length(value: Any) -> Fraction:
    """`9 ft`, `9 ft 4 in`, `38 in` or `2 1/2 in`, in feet."""
    text = _text(value, "length", "a length such as 9 ft 4 in", "Write it after the colon.")
    found = _feet(text)
    if found is None:
        raise _refuse("length", text, "a length with its unit, such as 9 ft 4 in or 38 in",
                      "Write feet with `ft`, inches with `in`.")
    return found


def _feet(text: str) -> Fraction | None:
    found = re.fullmatch(r"(?:([0-9]{1,4}(?:\.[0-9]{1,2})?) ?ft)?"
                         r"(?: ?([0-9]{1,4})?(?: ?([0-9]{1,2})/([1-9][0-9]?))? ?in)?", text)
    if found is None or not any(found.groups()):
        return None
    feet, whole, over, under = found.groups()
    inches = Fraction(whole or 0) + (Fraction(int(over), int(under)) if over else 0)
    total = Fraction(feet or 0) + inches / 12
    return total or None


def lengths(value: Any) -> tuple[Fraction, ...]:
    """Lengths with a plus between them, such as `12 ft + 9 ft 6 in`, in feet."""
    text = _text(value, "lengths", "lengths such as 12 ft + 9 ft", "Write them on one line with a plus between.")
    found = [_feet(part.strip()) for part in text.split("+")]
    whole = tuple(one for one in found if one is not None)
    if len(whole) != len(found):
        raise _refuse("lengths", text, "lengths such as 12 ft + 9 ft 6 in", "Write each with its unit.")
    return whole


def place(value: Any) -> tuple[Fraction, Fraction]:
    """Where the corner of a room lies on its storey: `0 ft, 14 ft` from the left and from the front."""
    text = _text(value, "place", "a place such as 0 ft, 14 ft", "Write it after the colon.")
    found = re.fullmatch(r"([0-9]{1,3}(?:\.[0-9]{1,2})?) ?ft, ?([0-9]{1,3}(?:\.[0-9]{1,2})?) ?ft", text)
    if found is None:
        raise _refuse("place", text, "two lengths such as 0 ft, 14 ft",
                      "Write how far from the left and how far from the front, both in feet.")
    return Fraction(found[1]), Fraction(found[2])


def _measured(value: Any, code: str, unit: str, example: str) -> Fraction:
    text = _text(value, code, f"an amount such as {example}", "Write it after the colon.")
    found = re.fullmatch(r"([0-9]{1,3}(?:,[0-9]{3})*|[0-9]{1,6})(\.[0-9]{1,3})? ?" + unit, text)
    if found is None:
        raise _refuse(code, text, f"an amount with its unit, such as {example}", f"Write the number, then {unit}.")
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
        raise _refuse("amperes", str(value), "whole amperes, such as 100 A", "Write it as on the label.")
    return int(found)


def volt_amperes(value: Any) -> int:
    """`4,500 VA`, whole."""
    found = _measured(value, "volt_amperes", "VA", "4,500 VA")
    if found.denominator != 1:
        raise _refuse("volt_amperes", str(value), "whole volt-amperes, such as 4,500 VA", "Round it up.")
    return int(found)


def several(*answers: str) -> Callable[[Any], tuple[str, ...]]:
    """Any of a few fixed answers, on one line with commas between them."""
    listed = ", ".join(f"`{answer}`" for answer in answers)

    def several(value: Any) -> tuple[str, ...]:
        text = _text(value, "several", f"any of {listed}", "Write them on one line with commas between.")
        found = tuple(part.strip() for part in text.split(","))
        for one in found:
            if one not in answers:
                raise _refuse("several", one, f"any of {listed}", "Write them as they stand here.")
        return tuple(dict.fromkeys(found))
    return several


def name(value: Any) -> str:
    """A short name used to point at something: small letters, digits, dashes."""
    text = _text(value, "name", "a short name", "Write small letters, digits and dashes.")
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", text) or len(text) > 60:
        raise _refuse("name", text, "a short name in small letters, digits and dashes",
                      "Write it like front-outlets.")
    return text


def phone(value: Any) -> str:
    """A number that can be called: digits, spaces, dashes, brackets, a plus in front."""
    text = _text(value, "phone", "a number to call", "Write it after the colon.")
    if not re.fullmatch(r"\+?[0-9() -]{3,20}", text) or len(re.findall(r"[0-9]", text)) < 3:
        raise _refuse("phone", text, "a number to call, such as 555-0100", "Write digits and dashes, no words.")
    return text


def web_address(value: Any) -> str:
    """An https address, as a person would look it up; it is printed, never fetched."""
    text = _text(value, "web_address", "an https address", "Write it after the colon.")
    if not re.fullmatch(r"https://[a-z0-9.-]+(/[A-Za-z0-9._~/-]*)?", text):
        raise _refuse("web_address", text, "an address that begins with https://",
                      "Write the page where a licence can be looked up.")
    return text


def inside_path(value: Any) -> str:
    """A file inside the job's folder."""
    text = _text(value, "inside_path", "a file name", "Write it after the colon.")
    parts = text.split("/")
    if not re.fullmatch(r"[A-Za-z0-9._ /-]+", text) or text.startswith("/") or ".." in parts or "" in parts:
        raise _refuse("inside_path", text, "a file inside the job's own folder",
                      "Copy the file into the folder and write its name, such as photos/hall.jpg.")
    return text


Words = Annotated[str, BeforeValidator(words)]
Count = Annotated[int, BeforeValidator(count)]
Money = Annotated[int, BeforeValidator(money)]
Day = Annotated[date, BeforeValidator(day)]
YesNo = Annotated[bool, BeforeValidator(yes_no)]
Chance = Annotated[Fraction, BeforeValidator(chance)]
Share = Annotated[Fraction, BeforeValidator(share)]
Size = Annotated[tuple[Fraction, Fraction], BeforeValidator(size)]
Area = Annotated[int, BeforeValidator(area)]
Length = Annotated[Fraction, BeforeValidator(length)]
Lengths = Annotated[tuple[Fraction, ...], BeforeValidator(lengths)]
Place = Annotated[tuple[Fraction, Fraction], BeforeValidator(place)]
SquareInches = Annotated[Fraction, BeforeValidator(square_inches)]
CubicInches = Annotated[Fraction, BeforeValidator(cubic_inches)]
Amperes = Annotated[int, BeforeValidator(amperes)]
VoltAmperes = Annotated[int, BeforeValidator(volt_amperes)]
Name = Annotated[str, BeforeValidator(name)]
Phone = Annotated[str, BeforeValidator(phone)]
WebAddress = Annotated[str, BeforeValidator(web_address)]
InsidePath = Annotated[str, BeforeValidator(inside_path)]
Seen = Annotated[str, BeforeValidator(one_of("yes", "no", "not seen"))]
Told = Annotated[str, BeforeValidator(one_of("yes", "no", "not said"))]
