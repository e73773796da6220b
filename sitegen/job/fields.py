"""Field types: what gives the text of a file its meaning.

Each is a pattern, a reader and the type that a field is declared with, in this order.  The pattern serves the reader
and the JSON Schema (`sitegen schema`) alike; the reader turns text into an exact value or raises with two sentences:
what is wrong, and the way out.  The codes of these errors are listed in CODES, so that a test can hold every one of
them to a sentence of ours.
"""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from typing import Annotated, Any

from sitegen.job.text_type import TextType, as_text, one_of, refuse
from sitegen.trade.terms import Cents

CODES = ("words", "count", "money", "day", "month", "decade", "yes_no", "answer", "chance", "share", "size", "area",
         "length", "lengths", "place", "square_inches", "cubic_inches", "amperes", "draw", "several", "good_for",
         "name", "phone", "web_address", "inside_path")

LONGEST = 2_000
"""Characters in one text field: a page is read on a phone."""


def words(value: Any) -> str:
    """Words on one line or more, as they will be shown."""
    text = as_text(value, "words", "words", "Write them after the colon.")
    if not text:
        raise refuse("words", "", "words", "Write them, or leave the whole line out if it may be left out.")
    if len(text) > LONGEST:
        raise refuse("words", text, f"at most {LONGEST:,} characters", "Shorten it.")
    return text


Words = Annotated[str, TextType(words, example="a few words", types=("string", "number", "boolean"))]

COUNT = "0|[1-9][0-9]{0,6}|[1-9][0-9]{0,2},[0-9]{3}|[1-9](?:,[0-9]{3}){2}"


def count(value: Any) -> int:
    """A whole number from nought up."""
    text = as_text(value, "count", "a count", "Write a whole number.")
    if not re.fullmatch(COUNT, text):
        raise refuse("count", text, "a whole number, 0 or more", "Write plain digits, such as 4.")
    return int(text.replace(",", ""))


Count = Annotated[int, TextType(count, COUNT, "4", ("integer", "string"))]

MONEY = r"\$([0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,9})(?:\.([0-9]{2}))?"


def money(value: Any) -> Cents:
    """Dollars and whole cents, with the dollar sign, into cents."""
    text = as_text(value, "money", "an amount such as $3,200", "Put it on the same line.")
    found = re.fullmatch(MONEY, text)
    if found is None:
        dollars = re.fullmatch(r"([^.]+)\.[0-9]+", text)
        if dollars and re.fullmatch(MONEY, dollars[1]):
            raise refuse("money", text, "whole cents", "Write two digits after the point, or none.")
        bare = re.fullmatch(r"[0-9,]+(\.[0-9]+)?", text)
        raise refuse("money", text, "an amount such as $3,200 or $0.90",
                     f"Write ${text}." if bare else "Write a dollar sign, then digits; no minus and no words.")
    return int(found[1].replace(",", "")) * 100 + int(found[2] or 0)


Money = Annotated[int, TextType(money, MONEY, "$3,200")]


def money_or_none(value: Any) -> Cents | None:
    """An amount, or `none` where there is no cap."""
    return None if value == "none" else money(value)


Cap = Annotated[int | None, TextType(money_or_none, f"{MONEY}|none", "$3,200")]

DAY = "[0-9]{4}-[0-9]{2}-[0-9]{2}"


def day(value: Any) -> date:
    """A calendar date as 2026-12-31."""
    text = as_text(value, "day", "a date such as 2026-12-31", "Write year, month, day.")
    if not re.fullmatch(DAY, text):
        raise refuse("day", text, "a date such as 2026-12-31", "Write year, month and day with dashes.")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise refuse("day", text, "a date that exists", "Look at a calendar: that month has no such day.") from None


Day = Annotated[date, TextType(day, DAY, "2026-12-31")]

MONTH = "[0-9]{4}-(?:0[1-9]|1[0-2])"


def month(value: Any) -> date:
    """A month as 2026-12, by its first day."""
    text = as_text(value, "month", "a month such as 2026-12", "Write year and month.")
    if not re.fullmatch(MONTH, text) or text.startswith("0000"):
        raise refuse("month", text, "a month such as 2026-12", "Write year and month with a dash, and no day.")
    return date.fromisoformat(f"{text}-01")


Month = Annotated[date, TextType(month, MONTH, "2026-12")]

DECADE = "(1[6-9][0-9]|20[0-9])0s"


def decade(value: Any) -> int:
    """A decade as 1910s, by its first year."""
    text = as_text(value, "decade", "a decade such as 1910s", "Write it after the colon.")
    if not re.fullmatch(DECADE, text):
        raise refuse("decade", text, "a decade such as 1910s", "Write its first year, then an s.")
    return int(text[:-1])


Decade = Annotated[int, TextType(decade, DECADE, "1910s")]


def yes_no(value: Any) -> bool:
    """`yes` or `no`."""
    text = as_text(value, "yes_no", "yes or no", "Write one of the two.")
    if text not in ("yes", "no"):
        raise refuse("yes_no", text, "yes or no", "Write one of the two, in small letters.")
    return text == "yes"


YesNo = Annotated[bool, TextType(yes_no, example="yes", answers=("yes", "no"))]
CAPPED = "capped untested"
"""A pipe of old gas light that ends in a cap, which nobody has tested: its case keeps its chance."""

Seen = Annotated[str, one_of("yes", "no", "not seen", CAPPED)]
Told = Annotated[str, one_of("yes", "no", "not said")]

CHANCE = "([0-9]{1,6}) of ([1-9][0-9]{0,5})"


def chance(value: Any) -> Fraction:
    """`6 of 100`, as a fraction from 0 to 1."""
    text = as_text(value, "chance", "a chance such as 6 of 100", "Write it after the colon.")
    found = re.fullmatch(CHANCE, text)
    if found is None or int(found[1]) > int(found[2]):
        raise refuse("chance", text, "a chance such as 6 of 100", "Write two counts with `of` between them.")
    return Fraction(int(found[1]), int(found[2]))


Chance = Annotated[Fraction, TextType(chance, CHANCE, "6 of 100")]

SHARE = "([0-9]{1,6})(?:(?:/| of )([1-9][0-9]{0,5}))?"


def share(value: Any) -> Fraction:
    """`3/4`, `2 of 5` or a whole number, as a fraction."""
    text = as_text(value, "share", "a part such as 3/4", "Write it after the colon.")
    found = re.fullmatch(SHARE, text)
    if found is None:
        raise refuse("share", text, "a part such as 3/4 or 2 of 5, or a whole number", "Write it with a stroke.")
    return Fraction(int(found[1]), int(found[2] or 1))


Share = Annotated[Fraction, TextType(share, SHARE, "2 of 5", ("string", "integer"))]

NAME = "(?=.{1,60}$)[a-z0-9]+(?:-[a-z0-9]+)*"


def name(value: Any) -> str:
    """A short name used to point at something: small letters, digits, dashes."""
    text = as_text(value, "name", "a short name", "Write small letters, digits and dashes.")
    if not re.fullmatch(NAME, text):
        raise refuse("name", text, "a short name in small letters, digits and dashes",
                     "Write it like front-outlets.")
    return text


Name = Annotated[str, TextType(name, NAME, "front-outlets", ("string", "integer"))]

PHONE = r"(?=(?:[^0-9]*[0-9]){3})\+?[0-9() -]{3,20}"


def phone(value: Any) -> str:
    """A number that can be called: digits, spaces, dashes, brackets, a plus in front."""
    text = as_text(value, "phone", "a number to call", "Write it after the colon.")
    if not re.fullmatch(PHONE, text):
        raise refuse("phone", text, "a number to call, such as 555-0100", "Write digits and dashes, no words.")
    return text


Phone = Annotated[str, TextType(phone, PHONE, "555-0100", ("string", "integer"))]

WEB_ADDRESS = "https://[a-z0-9.-]+(?:/[A-Za-z0-9._~/-]*)?"


def web_address(value: Any) -> str:
    """An https address, as a person would look it up; it is printed, never fetched."""
    text = as_text(value, "web_address", "an https address", "Write it after the colon.")
    if not re.fullmatch(WEB_ADDRESS, text):
        raise refuse("web_address", text, "an address that begins with https://",
                     "Write the page where a licence can be looked up.")
    return text


WebAddress = Annotated[str, TextType(web_address, WEB_ADDRESS, "https://licences.example")]

_STEP = r"(?!\.\.(?:/|$))[A-Za-z0-9._ -]+"
INSIDE_PATH = f"{_STEP}(?:/{_STEP})*"


def inside_path(value: Any) -> str:
    """A file inside the job's folder."""
    text = as_text(value, "inside_path", "a file name", "Write it after the colon.")
    if not re.fullmatch(INSIDE_PATH, text):
        raise refuse("inside_path", text, "a file inside the job's own folder",
                     "Copy the file into the folder and write its name, such as photos/hall.jpg.")
    return text


InsidePath = Annotated[str, TextType(inside_path, INSIDE_PATH, "hall.jpg")]
