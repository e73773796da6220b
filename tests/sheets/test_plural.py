"""Plural forms: our rules against a library that carries the whole standard, and the form that a count picks."""

from __future__ import annotations

import pytest
from babel import Locale

from sitegen.sheets.plural import LANGUAGE, NONE, OTHER, RULES, category, forms, takes
from tests.golden.pieces import our_words

COUNTS = (*range(1001), 9_999, 999_999, 1_000_000, 1_000_001, 2_000_000, 1_500_000, 10_000_000)


@pytest.mark.parametrize("language", RULES)
def test_every_count_has_the_category_of_the_standard(language: str) -> None:
    """From nothing to millions, count by count, as Babel has it from CLDR."""
    theirs = Locale(language).plural_form
    assert [count for count in COUNTS if category(count, language) != theirs(count)] == []
    assert {category(count, language) for count in COUNTS} == RULES[language][0] == {*theirs.tags, OTHER}


def test_nothing_has_a_form_before_its_category() -> None:
    """Zero is of the category of many in English and in Spanish, and takes the form for none."""
    for language in RULES:
        assert takes(0, NONE, language)
        assert category(0, language) == OTHER
        assert not takes(1, NONE, language)
        assert takes(1, "one", language)
        assert not takes(2, "one", language)
    assert takes(1_000_000, "many", "es")
    assert forms() == {NONE, "one"}
    assert forms("es") == {NONE, "one", "many"}


def test_every_form_of_our_words_is_one_of_the_language() -> None:
    """A heading with a form that no count takes would never be read."""
    asked = {one.partition(" is ")[2] for heading in our_words().html if " if " in heading
             for one in heading.partition(" if ")[2].split(" and ")}
    assert asked <= forms(LANGUAGE)
