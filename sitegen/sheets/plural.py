"""Which form of a sentence a count takes, by the plural rules of a language.

The rules are those of the Unicode Common Locale Data Repository (CLDR, supplemental/plurals.xml, cardinal), for whole
counts: a library for all languages takes twice as long to load as all our words take to fill.  A test holds them
against one.  Nothing at all has a form of its own before any category, as ICU has it with `=0`.
"""

from __future__ import annotations

from collections.abc import Callable

LANGUAGE = "en"
"""The language of our words."""

NONE, OTHER = "none", "other"
"""The form for no count at all, and the category of all counts that have no other."""

MILLION = 1_000_000


def _english(count: int) -> str:
    return "one" if count == 1 else OTHER                   # i = 1 and v = 0


def _spanish(count: int) -> str:
    if count == 1:                                          # n = 1
        return "one"
    return "many" if count and count % MILLION == 0 else OTHER      # e = 0 and i != 0 and i % 1000000 = 0 and v = 0


RULES: dict[str, tuple[frozenset[str], Callable[[int], str]]] = {
    "en": (frozenset({"one", OTHER}), _english),
    "es": (frozenset({"one", "many", OTHER}), _spanish),
}
"""The categories of a language, and the rule that picks one."""


def category(count: int, language: str = LANGUAGE) -> str:
    """The plural category of a whole count."""
    return RULES[language][1](count)


def forms(language: str = LANGUAGE) -> frozenset[str]:
    """What may stand behind `is` in the heading of a form; the piece without a condition is that of all others."""
    return RULES[language][0] - {OTHER} | {NONE}


def takes(count: int, form: str, language: str = LANGUAGE) -> bool:
    """Whether a count takes a form."""
    return count == 0 if form == NONE else category(count, language) == form


__all__ = ["LANGUAGE", "NONE", "OTHER", "RULES", "category", "forms", "takes"]
