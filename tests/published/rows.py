"""Cases worked out by others, and facts of the trade, as data: one file a topic, a source in every row."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

FOLDER = Path(__file__).parent
GRADES = ("seen", "seen, weak", "derived", "memory", "common practice, no source")
"""seen: in the text of the cited page; weak: a forum, a blog or a maker's sheet; derived: arithmetic of ours from a
value that was seen; memory: not seen, to be confirmed; the last: a fact of the trade."""


@dataclass(frozen=True, slots=True)
class Row:
    """One case.

    `case`     what it is, in words that also serve as the name of the test
    `of`       which calculation it checks; the topic's test file says which function that is
    `given`    its inputs by name; numbers that are not whole as text
    `gives`    what was published
    `source`   where
    `grade`    one of GRADES
    `within`   how far a result may lie from a printed, rounded value, with the reason in `because`
    """

    topic: str
    case: str
    of: str
    given: dict[str, Any]
    gives: Any
    source: str
    grade: str
    within: str | None = None
    because: str | None = None


def read(topic: str) -> list[Row]:
    """Every row of one topic; raises TypeError for a row with a key too many or too few."""
    data = yaml.load((FOLDER / f"{topic}.yaml").read_text("utf-8"), Loader=yaml.CSafeLoader)
    return [Row(topic=topic, **row) for row in data]


def rows(topic: str) -> list[Any]:
    """The rows of a topic as parameters of a test."""
    return [pytest.param(row, id=row.case.replace(" ", "-")) for row in read(topic)]


def topics() -> list[str]:
    """Every topic that has a file of rows."""
    return sorted(path.stem for path in FOLDER.glob("*.yaml") if path.stem != "left-out")
