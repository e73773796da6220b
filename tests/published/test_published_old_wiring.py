"""What counts as old wiring, row by row."""

from __future__ import annotations

from typing import Any

import pytest

from sitegen.rules.read import given
from sitegen.sheets.words import pieces
from sitegen.trade.old_wiring import OldWiringRule, missing_of_package, presumed
from tests.helpers import ROOT
from tests.published.rows import Row, rows

RULE = given(OldWiringRule, "old-wiring")
PROMISE = next(text for text in pieces((ROOT / "content/sheets/who.md").read_text("utf-8")).values()
               if "Old wire means" in text)
SAID = {"knob-and-tube": "knob-and-tube", "armored cable": "armored cable without a bonding strip",
        "cloth-sheathed cable": "cloth-sheathed cable", "two-wire plastic cable": "two-wire plastic cable",
        "new cable spliced to old": "Newer cable spliced to any of them counts as old wire too"}
"""How the promise on sheet 8 names each kind that must go."""

CALLS: dict[str, Any] = {
    "presumed": lambda built: presumed(built, RULE),
    "must go": lambda kind, **_: SAID[kind] in PROMISE,
    "package": lambda sheet, closes_holes, cleans: list(missing_of_package(sheet, closes_holes, cleans)),
}


@pytest.mark.parametrize("row", rows("old-wiring"))
def test_old_wiring_as_published(row: Row) -> None:
    """Each row gives what the trade, or the code of its year, says."""
    assert CALLS[row.of](**row.given) == row.gives


def test_the_promise_names_every_kind() -> None:
    """Each kind that must go is named where the promise says what old wire is."""
    assert [kind for kind, said in SAID.items() if said not in PROMISE] == []
