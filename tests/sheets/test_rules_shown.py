"""Law and code on the sheets: what decides something in the house, by section and standard, never where we read it."""

from __future__ import annotations

import re
from datetime import datetime

import pytest

from sitegen.figure import day_of
from sitegen.offer.rules import DECIDE
from sitegen.rules.read import every_rule
from tests.built import HOUSES, offer

STANDARD = re.compile(r"NEC|CFR|USC|Code|Handbook")
ADDRESS = re.compile(r"https?://|www\.|\b[a-z0-9-]+\.(?:com|net|org|gov|io)\b")
MOST = 15
READ = re.compile(r"checked ([A-Z][a-z]{2} \d{1,2}, \d{4})")


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


@pytest.mark.parametrize("job", HOUSES)
def test_no_rule_was_read_after_the_page_that_prints_it(job: str) -> None:
    """A day on which we read a rule is printed where it is no later than that of the proposal; `figures` has it all the
    same."""
    prepared = day_of(offer(job).dates.prepared)
    printed = [one for rule in offer(job).rules for one in READ.findall(rule.cited.text)]
    assert [day for day in printed if datetime.strptime(day, "%b %d, %Y").date() > prepared] == []
    later = [row for row in every_rule().values() if not row.memory and not row.by_edition and row.checked > prepared]
    assert later
    assert all(READ.search(row.cited()) and not READ.search(row.cited(None, prepared)) for row in later)
    assert all(READ.search(row.cited(None, row.checked)) for row in later)
