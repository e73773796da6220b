"""Floors against what others printed, and against facts of the trade, row by row."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sitegen.offer.rules import rule
from sitegen.rules.read import given
from sitegen.trade import floors
from sitegen.trade.floors import CLEANING, FloorsRule, Place, Roll
from tests.published.rows import Row, comes_out, meant, refused, rows

RULE = given(FloorsRule, "floors")
REACH: Any = rule("lead-sheet-feet").value
ORDER = floors.cleaning(with_board=True, lead_work=True)
HELD_TO = "verification"
"""What follows cleaning: it looks at the floor and cleans nothing."""


CALLS: dict[str, Callable[..., Any]] = {
    "sheet at most": lambda length, width, places: floors.room_sheet(
        length, width, [Place(*place) for place in places], REACH).at_most,
    "reach": lambda: REACH,
    "layers": lambda **what: list(floors.layers(**what)),
    "layers refused": lambda **what: refused(lambda: floors.layers(**what)),
    "wood days": lambda: list(RULE.wood_days),
    "care": lambda floor, care: care in floors.CARES[floor],
    "roll area": lambda width, length: Roll(width, length).area,
    "before": lambda first, then: ORDER.index(first) < ORDER.index(then),
    "last cleaned": lambda: [step for step in ORDER if step != HELD_TO][-1],
    "words of": lambda step, words: all(word in CLEANING[step] for word in words),
}


@pytest.mark.parametrize("row", [*rows("floors")])
def test_floors_gives_what_others_worked_out(row: Row) -> None:
    """Every published case, and every fact of the trade, comes out of our functions."""
    comes_out(CALLS[row.of](**meant(row.given)), row)
