"""Every key of our words can be searched for: it stands whole, in quotes, in the code or in a template that uses it.

A family alone may be put together: there the key is that of a detail, of a drawing, of an item of the scope or of a
word of the trade, and the list that has these closes it.
"""

from __future__ import annotations

import re
from functools import cache

from sitegen.figure import KINDS
from sitegen.offer.claims import DRAWBACKS, GOOD
from sitegen.offer.rows import PARTS, SECTIONS
from sitegen.scope.items import ITEMS
from sitegen.sheets.claim_words import CLAIM_WORDS, FITS_WORDS
from sitegen.sheets.pages.detail import DETAILS
from sitegen.sheets.words import FORM, SLOT, SOURCES, SPOKEN
from tests.golden.pieces import our_words
from tests.helpers import ROOT

SAYS = ("title", "question", "answer", "done", "same", "leaves", "caution", "source")
"""What every detail says."""

DRAWN = ("name", "says", "key")
"""What is said of every drawing."""

NAMED = ("", ".says")
"""The name of every item of the scope, and its sentence."""

FAMILIES = {
    "details": {f"{detail}.{part}" for detail in DETAILS for part in SAYS},
    "drawings": {f"drawings.{path.stem}.{part}" for path in (ROOT / "theme" / "drawings").glob("*.svg")
                 for part in DRAWN},
    "scope": {f"scope.item.{item.key}{part}" for item in ITEMS for part in NAMED},
}
"""Keys that are put together, by the list that closes them."""

GLOSSARY = "glossary."
"""What keys of words of the trade begin with; the file of them is their list, and sheet 8 shows all that it has."""


@cache
def source() -> str:
    """All our code and templates."""
    return "\n".join(path.read_text("utf-8") for folder in ("sitegen", "theme")
                     for path in sorted((ROOT / folder).rglob("*")) if path.suffix in {".py", ".html"})


def in_family(key: str) -> bool:
    """Whether a key is of a family."""
    return key.startswith(GLOSSARY) or any(key in family for family in FAMILIES.values())


def test_every_key_stands_whole_where_it_is_used() -> None:
    """Nobody has to guess how a key is put together, but for the families."""
    keys = dict.fromkeys(key.partition(FORM)[0] for key in our_words().html)
    assert [key for key in keys
            if not in_family(key) and f'"{key}"' not in source() and f"'{key}'" not in source()] == []


def test_every_list_that_closes_a_family_has_its_words() -> None:
    """No detail, drawing or item of the scope is without a piece, and no piece of theirs without what it is of."""
    keys = {key.partition(FORM)[0] for key in our_words().html}
    assert {key for key in keys if key.split(".")[0] in DETAILS} == FAMILIES["details"]
    assert {key for key in keys if key.startswith("drawings.")} == FAMILIES["drawings"]
    assert {key for key in keys if key.startswith("scope.item.")} == FAMILIES["scope"]


def test_every_claim_that_a_house_may_meet_has_its_words() -> None:
    """A claim has its sentence, and whom it suits or does not suit."""
    assert {*GOOD, *DRAWBACKS} == set(CLAIM_WORDS) == set(FITS_WORDS)
    assert {*CLAIM_WORDS.values(), *FITS_WORDS.values()} | {"claims.fewer"} == {
        key.partition(FORM)[0] for key in our_words().html if key.startswith("claims.")}


def test_every_part_of_the_comparison_and_every_source_has_its_words() -> None:
    """Tables of words hold the parts that there are and the kinds of sources; a rule is cited by its section."""
    assert set(PARTS) == set(SECTIONS)
    assert {"rule", *SOURCES} == set(KINDS)


def test_no_template_puts_a_key_together_but_in_a_family() -> None:
    """The joins of a key with something else that are left in templates are those of the families."""
    glued = re.findall(r"(?:words|given)\(([^()]*?)~[^()]*[,)]", source())
    assert {start.strip() for start in glued} == {"key", '"drawings."', '"glossary."'}


def test_a_form_for_none_or_for_one_stands_for_a_key_and_counts_its_slots() -> None:
    """Each heading with counts has its piece without them, and counts slots of that piece alone, none or one."""
    html = our_words().html
    for heading in html:
        key, mark, counts = heading.partition(FORM)
        if mark:
            slots = set(SLOT.findall(html[key]))
            assert set(SLOT.findall(html[heading])) <= slots, heading
            for one in counts.split(" and "):
                slot, _, word = one.partition(" is ")
                assert slot in slots, heading
                assert word in SPOKEN, heading
