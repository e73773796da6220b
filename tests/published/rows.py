"""Cases worked out by others, and facts of the trade, as data: one file a topic, a source in every row."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from sitegen.rules.read import every_rule

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


def meant(value: Any) -> Any:
    """What a row holds, with the numbers that are not whole, which stand as text, read as fractions."""
    if isinstance(value, list):
        return [meant(one) for one in value]
    if isinstance(value, dict):
        return {key: meant(one) for key, one in value.items()}
    try:
        return Fraction(value) if isinstance(value, str) else value
    except ValueError:
        return value


def comes_out(got: Any, row: Row) -> None:
    """What we found is what was published, of the same kind, or as near as the row allows."""
    due = meant(row.gives)
    if row.within is None:
        assert got == due
        assert isinstance(got, bool) == isinstance(due, bool)
    else:
        assert abs(got - due) <= Fraction(row.within), row.because


def refused(call: Callable[[], object]) -> bool:
    """Whether a call with inputs that cannot be is refused."""
    try:
        call()
    except ValueError:
        return True
    return False


def held_by_rule(of: dict[str, Any]) -> Any:
    """What a rule of ours holds: all of it, or the cell that the row names."""
    held: Any = every_rule()[of["key"]].held
    return held[of["cell"]] if "cell" in of else held
