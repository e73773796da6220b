"""Testing old wire dead: our words against what a standard asks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import yaml

from tests.helpers import ROOT
from tests.published.rows import FOLDER, Row, rows

DETAIL = (ROOT / "content/details/tested-dead.md").read_text("utf-8")


def _part(name: str) -> str:
    """The words of one heading of the detail, on one line."""
    return " ".join(DETAIL.split(f"# {name}\n", 1)[1].split("\n# ", 1)[0].split())


CALLS: dict[str, Callable[..., Any]] = {
    "asks": lambda part, words: words in _part(part),
}


@pytest.mark.parametrize("row", rows("dead-test"))
def test_the_detail_asks_what_the_standard_asks(row: Row) -> None:
    """What a homeowner is told of the test holds every part of it."""
    assert CALLS[row.of](**row.given) == row.gives


def test_the_drawing_shows_every_test_of_one_cut() -> None:
    """The tester on a live outlet first and last, each wire to a ground, and one wire to the other between them."""
    words = (ROOT / "content/drawings.md").read_text("utf-8")
    said = words.split("# testing.key\n", 1)[1].split("\n\n", 1)[0].splitlines()
    assert ["live" in said[0], "ground" in said[1], "ground" in said[2], "the other" in said[3],
            "live" in said[4]] == [True] * 5


def test_the_rows_are_graded_as_quotations() -> None:
    """Nobody here opened the standard itself, so no row of it claims to have been seen there."""
    data = yaml.load((FOLDER / "dead-test.yaml").read_text("utf-8"), Loader=yaml.CSafeLoader)
    assert {row["grade"] for row in data if "70E" in row["source"]} == {"seen, weak"}
