"""Numbers from law and code stand in `rules/`, each with where it comes from and when it was looked at."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

import pytest

from sitegen.offer.rules import rule
from sitegen.rules.read import Rule, every_rule
from sitegen.units import UNITS

PREPARED = date(2026, 11, 27)
EVERY = sorted(every_rule().values(), key=lambda row: row.key)


@pytest.mark.parametrize("row", EVERY, ids=lambda row: row.key)
def test_every_rule_says_where_it_comes_from(row: Rule) -> None:
    """Unit, sentence, edition, section, source and both days are given, and what is from memory says so."""
    assert row.unit in UNITS
    assert all(text.strip() for text in (row.says, row.edition, row.section, row.source))
    assert row.checked <= PREPARED < row.recheck
    assert row.memory == ("memory" in row.source), "a source says `from memory` just when the row does"


def test_a_value_by_edition_names_editions_that_towns_adopt() -> None:
    """Editions are 2017 to 2026, and those not verified are among them."""
    for row in EVERY:
        if row.by_edition:
            assert isinstance(row.held, dict), row.key
            assert set(row.held) <= {"2017", "2020", "2023", "2026"}, row.key
            assert set(row.unverified) <= set(row.held), row.key


def test_rules_are_figures_with_their_section() -> None:
    """A rule reaches a sheet as a figure whose source is its section, and the day it was read or that nobody did."""
    for row in EVERY:
        if row.by_edition or not isinstance(row.held, int | Fraction):
            continue
        figure = rule(row.key)
        assert figure.source.kind == "rule"
        assert re.search(r", (from memory|checked [A-Z][a-z]{2} \d{1,2}, 20\d\d)", figure.source.text)


def test_an_unknown_rule_or_edition_is_an_error() -> None:
    """Nothing is looked up that no file holds."""
    with pytest.raises(KeyError):
        rule("no-such-rule")


def test_an_edition_inherits_the_value_of_the_newest_before_it() -> None:
    """A new edition of the code needs no line where nothing changed, and says whose value it takes, not verified."""
    row = next(row for row in EVERY if row.by_edition and "2023" in row.held and not row.memory)
    newest = max(row.held)
    assert row.value("2035") == row.value(newest)
    assert row.value(newest) == row.held[newest]
    assert f"2035 as {newest} {row.section}" in row.stands_on("2035")
    assert "(not verified)" in row.stands_on("2035")
    with pytest.raises(KeyError, match="nor for an edition before it"):
        row.value("1999")
