"""Law and code on the sheets: what decides something in the house, by section and standard, never where we read it."""

from __future__ import annotations

import re

import pytest

from sitegen.offer.rules import DECIDE
from sitegen.rules.read import every_rule
from tests.built import HOUSES, offer

STANDARD = re.compile(r"NEC|CFR|USC|Code|Handbook")
ADDRESS = re.compile(r"https?://|www\.|\b[a-z0-9-]+\.(?:com|net|org|gov|io)\b")
MOST = 15


def test_every_rule_that_is_shown_is_one_of_ours() -> None:
    """A rule that was renamed would vanish from the sheet without a word."""
    assert set(DECIDE) <= set(every_rule())


@pytest.mark.parametrize("job", HOUSES)
def test_the_rules_of_a_house_are_a_dozen_or_so_each_with_its_standard(job: str) -> None:
    """Each names its section and its standard, and no address of a page, a shop, a forum or an exam."""
    shown = [rule for rule in offer(job).rules if rule.decides]
    assert 8 <= len(shown) <= MOST
    for rule in shown:
        assert STANDARD.search(rule.cited.text), rule.cited.text
        assert not ADDRESS.search(rule.cited.text)
        assert "forum" not in rule.cited.text


@pytest.mark.parametrize("job", HOUSES)
def test_what_is_not_shown_stays_in_the_figures(job: str) -> None:
    """The other rules are figures all the same, with their whole source, for whoever asks."""
    figures = {figure.name: figure for figure in offer(job).figures()}
    named = {name for figure in figures.values() for name in figure.inputs if name.startswith("rules.")}
    assert "rules.boxes-device-allowances" in named <= set(figures)
    assert any("http" in figure.source.text for figure in figures.values() if figure.source.kind == "rule")
