"""The published cases as a whole: enough of them, each with its source, and nothing dropped in silence."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
import yaml

from tests.published.rows import FOLDER, GRADES, read, topics

LEAST = 60
"""Published rows, seen in print, over all topics."""

FACTS = (
    ("old-wiring", "presumed to hold knob and tube"), ("old-wiring", "knob and tube must go"),
    ("old-wiring", "armored cable without a bonding strip must go"), ("old-wiring", "cloth sheathed cable must go"),
    ("old-wiring", "one package"), ("plaster", "24 to 48"), ("plaster", "scratch then brown then finish"),
    ("floors", "before the board"), ("floors", "sanding"), ("schedule", "tested dead"), ("schedule", "empty house"),
)
"""Facts of the trade without a printed source: the topic, and words of the row that holds each."""


@pytest.mark.parametrize("topic", topics())
def test_every_row_says_where_it_comes_from_and_how_sure_it_is(topic: str) -> None:
    """A row has a source, one of the grades, a name of its own, and a reason for any tolerance."""
    found = read(topic)
    assert found
    for row in found:
        assert row.source.strip(), row.case
        assert row.grade in GRADES, row.case
        assert (row.grade == "seen") <= ("http" in row.source or any(mark.isdigit() for mark in row.source)), row.case
        assert (row.within is None) == (row.because is None), row.case
    assert max(Counter(row.case for row in found).values()) == 1


def test_enough_was_seen_in_print() -> None:
    """At least sixty rows over the topics were seen in the text that they cite."""
    assert sum(row.grade == "seen" for topic in topics() for row in read(topic)) >= LEAST


def test_every_topic_runs_its_rows() -> None:
    """A file of rows without a test beside it would prove nothing."""
    for topic in topics():
        beside = FOLDER / f"test_published_{topic.replace('-', '_')}.py"
        assert f'"{topic}"' in beside.read_text("utf-8"), topic


@pytest.mark.parametrize(("topic", "words"), FACTS)
def test_the_facts_of_the_trade_are_rows(topic: str, words: str) -> None:
    """Each fact that the trade goes by is checked, and marked as having no printed source."""
    assert any(words in row.case and row.grade == "common practice, no source" for row in read(topic))


def test_what_is_left_out_has_a_reason() -> None:
    """A case that was read and is no row is listed with why."""
    left = yaml.load(Path(FOLDER / "left-out.yaml").read_text("utf-8"), Loader=yaml.CSafeLoader)
    assert set(left) <= set(topics())
    for rows in left.values():
        assert all(row["case"].strip() and row["reason"].strip() for row in rows)
