"""Plaster against what others printed, and against facts of the trade, row by row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest

from sitegen.rules.read import given
from sitegen.sheets.words import pieces
from sitegen.trade import plaster
from sitegen.trade import plaster_drying as drying
from sitegen.trade.plaster import PlasterRule
from tests.helpers import ROOT
from tests.published.rows import Row, comes_out, meant, refused, rows

WORDS = pieces((ROOT / "content/sheets/rooms.md").read_text("utf-8"))
DETAIL = (ROOT / "content/details/plaster.md").read_text("utf-8")
RULE = given(PlasterRule, "plaster")


def _heat() -> list[int]:
    held = drying.heat(RULE)
    return [held.least, held.before, held.after]


CALLS: dict[str, Callable[..., Any]] = {
    "coats": lambda down_to, across: list(plaster.coat_names(down_to, across, RULE)),
    "next coat hours": lambda finish: drying.waits(finish, RULE).next_coat_hours,
    "visits": lambda finish, across, take: [
        list(visit) for visit in drying.visits(plaster.coat_names("wood lath", across, RULE), finish, RULE)[:take]],
    "waits refused": lambda finish: refused(lambda: drying.waits(finish, RULE)),
    "paint days": lambda finish: drying.waits(finish, RULE).paint_days,
    "earliest paint": lambda finished, finish: (
        date.fromisoformat(finished) + timedelta(drying.waits(finish, RULE).paint_days)).isoformat(),
    "plates hours": lambda: list(drying.waits("gypsum", RULE).plates_hours),
    "heat": _heat,
    "heat least": lambda: drying.heat(RULE).least,
    "order": lambda square_yards, inches: plaster.plaster_to_order(
        square_yards * plaster.SQ_YD, inches, RULE) / plaster.CU_FT,
    "band": lambda width, height, place, kind: plaster.band(
        plaster.Patch(width * height, place, kind, (width, height)), RULE),
    "detail says": lambda words: words in DETAIL,
    "trouble stops": lambda word: "does not hold here" in WORDS[f"trouble.{word.replace(' ', '-')}"],
}


@pytest.mark.parametrize("row", [*rows("plaster")])
def test_plaster_gives_what_others_worked_out(row: Row) -> None:
    """Every published case, and every fact of the trade, comes out of our functions."""
    comes_out(CALLS[row.of](**meant(row.given)), row)
