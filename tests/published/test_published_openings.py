"""Published areas of cuts, laths and openings."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from sitegen.trade.lead_dust import SQUARE_INCHES
from sitegen.trade.openings import (
    Opened,
    OpeningRates,
    WallRate,
    WallWork,
    opened_wall,
    opening,
    rectangle,
)
from tests.published.rows import Row, rows


def _opened(of: dict[str, Any]) -> Opened:
    rates = OpeningRates({"plaster": WallRate(Fraction(of.get("rate", 0)), Fraction(4), Fraction(6))},
                         {"box": Fraction(of.get("each", 0))})
    work = WallWork("plaster", Fraction(of.get("drops", 0)), {"box": of.get("boxes", 1)})
    return opened_wall(work, rates, of.get("how", "sawn whole"))


CALLS: dict[str, Callable[[dict[str, Any]], Any]] = {
    "square feet": lambda of: rectangle(Fraction(of["width"]), Fraction(of["height"])) / SQUARE_INCHES,
    "openings": lambda of: _opened(of).openings,
    "box area": lambda of: _opened(of).area,
    "box feet": lambda of: _opened(of).area / SQUARE_INCHES,
    "opening": lambda of: opening(WallRate(Fraction(1), Fraction(of["width"]), Fraction(of["height"]),
                                           of.get("between studs", False)), Fraction(of.get("cut back", 0))),
    "destroyed": lambda of: _opened({"each": "9", **of}).destroyed,
}


@pytest.mark.parametrize("row", list(rows("openings")))
def test_published_opening_case(row: Row) -> None:
    """Each published area, lath and count of openings comes out as it was published."""
    found = CALLS[row.of](row.given)
    if isinstance(found, Fraction):
        assert abs(found - Fraction(row.gives)) <= Fraction(row.within or 0)
    else:
        assert found == row.gives
