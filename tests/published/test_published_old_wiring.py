"""What counts as old wiring, row by row."""

from __future__ import annotations

from typing import Any

import pytest

from sitegen.rules.read import given
from sitegen.trade.old_wiring import OldWiringRule, can_be, missing_of_package, must_go, presumed, sign_of_old
from tests.published.rows import Row, rows

RULE = given(OldWiringRule, "old-wiring")
CALLS: dict[str, Any] = {
    "presumed": lambda built: presumed(built, RULE),
    "sign": lambda about: sign_of_old(about),
    "must go": must_go,
    "package": lambda sheet, closes_holes, cleans: list(missing_of_package(sheet, closes_holes, cleans)),
    "can be": lambda kind, year: can_be(kind, year, RULE),
}


@pytest.mark.parametrize("row", rows("old-wiring"))
def test_old_wiring_as_published(row: Row) -> None:
    """Each row gives what the trade, or the code of its year, says."""
    assert CALLS[row.of](**row.given) == row.gives


def test_an_unknown_kind_is_refused() -> None:
    """A kind that no promise names is neither old nor new."""
    with pytest.raises(ValueError, match="kind of wiring"):
        must_go("lamp cord")
    with pytest.raises(ValueError, match="no year"):
        can_be("new cable spliced to old", 1950, RULE)
