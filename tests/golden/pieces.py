"""Every piece of our words, filled with made values and rendered as a template would, shown by a house or not."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction
from functools import cache

from markupsafe import Markup

from sitegen.figure import Figure, Quote, Source
from sitegen.offer.chances import Spoken
from sitegen.sheets.cache import Cache
from sitegen.sheets.theme import environment
from sitegen.sheets.words import SLOT, Slot, Words, say, twentieths
from sitegen.units import UNITS, Value
from tests.golden.slots import FIGURES, FINDINGS, NAME, NOTICE, SAID, SEVERAL, SLOTS, TYPED, VIEW, WORDS, kind_of
from tests.golden.text import page_text
from tests.helpers import ROOT

FROM = Source("survey", "made for a test")
ONE = "{{ given(key, slots) if blocks else words(key, slots) }}"
"""A template that shows one piece, by the two ways in which templates do."""

FILE = "words.txt"


@cache
def our_words() -> Words:
    """Our own words, as they stand in `content/`; nobody may change them."""
    return Words((ROOT / "content",), Cache())


def rendered(words: Words) -> dict[str, Markup]:
    """Every piece as it stands on a page, by key."""
    one = environment((ROOT / "theme",), words, Cache()).from_string(ONE)
    return {key: Markup(one.render(key=key, slots=filled(key, html), blocks=not is_one_paragraph(html)))
            for key, html in words.html.items()}


def is_one_paragraph(html: str) -> bool:
    """Whether a piece may stand inside a sentence of a template; the others are lists and paragraphs."""
    return html.startswith("<p>") and html.count("<p>") == 1


def filled(key: str, html: str) -> dict[str, Slot]:
    """A made value for every slot of a piece."""
    return {slot: made(slot, kind_of(key, slot)) for slot in sorted(set(SLOT.findall(html)))}


def made(slot: str, kind: str) -> Slot:
    """A value that no other slot has, of the kind that this one takes."""
    if kind == SAID:
        return Quote(f"‹{slot}›", FROM)
    if kind == SEVERAL:
        return (Quote(f"‹{slot}›", FROM),) * 2
    if kind == NAME:
        return f"‹{slot}›"
    if kind == WORDS:
        return Markup(f"‹{slot}›")
    if kind == TYPED:
        return Markup(f'<span data-slot="{slot}"></span>')
    if kind == VIEW:
        return twentieths(Spoken(figure(slot, "twentieths"), "", figure(slot, "twentieths")))
    if kind == NOTICE:
        days = figure(slot, "working days")
        return Markup("{} {}").format(say(days), days.noun())
    if kind == FINDINGS:
        return (figure(slot, "number"),)
    return figure(slot, kind)


def figure(slot: str, unit: str) -> Figure:
    """A Figure called after its slot, whose value no other slot has."""
    return Figure(FIGURES.get(slot, f"made.{slot.replace('_', '-')}"), _value(unit, list(SLOTS).index(slot)), unit,
                  "Made for a test.", FROM)


def _value(unit: str, at: int) -> Value:
    if date in UNITS[unit].types:
        return date(2027, 1, 1) + timedelta(at)
    if unit.startswith("cents"):
        return 10_000 * (at + 1)
    if unit == "year":
        return 1800 + at
    return at + 2 if int in UNITS[unit].types and unit != "share" else Fraction(at + 2, 400)


def words_text(words: Words) -> str:
    """The text of every piece, a line a sentence under its key, each slot by its name."""
    return "".join(f"{key}\n" + "".join(f"    {line}\n" for line in lines)
                   for key, lines in lines_of(rendered(words)).items())


def lines_of(pieces: Mapping[str, str]) -> dict[str, list[str]]:
    """The sentences of rendered pieces, what was filled in standing as the name of its slot."""
    names = {FIGURES.get(slot, f"made.{slot.replace('_', '-')}"): slot for slot in SLOTS}
    return {key: [_by_slot(line, names) for line in page_text(f"<body>{html}</body>").splitlines()]
            for key, html in pieces.items()}


def _by_slot(line: str, names: Mapping[str, str]) -> str:
    line = re.sub(r"\[[^\[\]|]* \| ([a-z.-]+)\]", lambda found: f"[{{{names[found[1]]}}}]", line)
    return re.sub(r"‹([a-z_]+)›|<([a-z_]+)>", lambda found: f"[{{{found[1] or found[2]}}}]", line)
