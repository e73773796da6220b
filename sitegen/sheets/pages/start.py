"""What sheet 1 says: whether each price can rise, and who closes each finding."""

from __future__ import annotations

from typing import Any

from sitegen.figure import Figure
from sitegen.offer.money import WayMoney
from sitegen.offer.offer import Offer
from sitegen.sheets.counts import ROW_COUNT
from sitegen.sheets.pages.report import findings


def start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `rise` by way key: the words for "can it rise"; `always`: a list that never or always costs less."""
    return {**findings(offer), "rise": {way.key: _rise(way) for way in offer.outcome.ways}, "row_count": ROW_COUNT,
            "always": next((even for even in offer.outcome.break_even if even.always), None)}


def _rise(way: WayMoney) -> tuple[str, dict[str, Figure]]:
    """The words for "can it rise", and what fills them."""
    if way.covers_all:
        if not way.cases:
            return "your-changes", {}
        return ("no-cap", {}) if way.most_paid is None else ("to", {"most": way.most_paid})
    if way.added_cap is not None and (way.case_cap is not None or not way.cases):
        return "capped", {}
    return "no-cap", {}
