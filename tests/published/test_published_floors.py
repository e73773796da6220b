"""Floors against what others printed, and against facts of the trade, row by row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
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


def _lift_by(laid: str, floor: str, wet: bool) -> str | None:
    last = floors.lift_by(date.fromisoformat(laid), floor, RULE, wet=wet)
    return last and last.isoformat()


CALLS: dict[str, Callable[..., Any]] = {
    "sheet at": lambda along, depth, start, width: floors.sheet_at(along, depth, start, width, REACH),
    "wet sheet": lambda along, depth, start, width: floors.sheet_at(along, depth, start, width, RULE.wet_feet),
    "sheet at most": lambda length, width, places: floors.room_sheet(
        length, width, [Place(*place) for place in places], REACH).at_most,
    "reach": lambda: REACH,
    "layers": lambda **what: list(floors.layers(**what)),
    "layers refused": lambda **what: refused(lambda: floors.layers(**what)),
    "wood days": lambda: list(RULE.wood_days),
    "lift by": _lift_by,
    "may cover": lambda finished, day: floors.may_cover(date.fromisoformat(finished), date.fromisoformat(day), RULE),
    "care": lambda floor, care: care in floors.CARES[floor],
    "impermeable": lambda cover: floors.COVERS[cover].impermeable,
    "protects": lambda cover: floors.COVERS[cover].protects,
    "roll area": lambda width, length: Roll(width, length).area,
    "tape rolls": floors.tape_rolls,
    "holds water": lambda hours: floors.holds_water(hours, RULE),
    "before": lambda first, then: ORDER.index(first) < ORDER.index(then),
    "last cleaned": lambda: [step for step in ORDER if step != HELD_TO][-1],
    "words of": lambda step, words: all(word in CLEANING[step] for word in words),
    "may start": lambda hours: floors.final_clean_may_start(hours, RULE),
    "daily": lambda days: list(floors.daily_cleaning(days, RULE)),
    "afterwards": floors.afterwards,
}


@pytest.mark.parametrize("row", [*rows("floors")])
def test_floors_gives_what_others_worked_out(row: Row) -> None:
    """Every published case, and every fact of the trade, comes out of our functions."""
    comes_out(CALLS[row.of](**meant(row.given)), row)
