"""What sheet 1 says: whether each price can rise, and who closes each finding."""

from __future__ import annotations

from typing import Any

from sitegen.figure import Figure
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.sheets.counts import ROW_COUNT
from sitegen.sheets.pages.report import findings


def start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `rise` by option key: the words for "can it rise"; `always`: a list that never or always costs less;
    `asks_title` the words by who set a date."""
    return {**findings(offer), "rise": {option.key: _rise(option) for option in offer.outcome.options},
            "row_count": ROW_COUNT, "asks_title": ASKS,
            "always": next((even for even in offer.outcome.break_even if even.always), None)}


ASKS = {
    "insurer": "start.asks.insurer",
    "lender": "start.asks.lender",
    "buyer's inspection": "start.asks.buyer's inspection",
    "insulation crew": "start.asks.insulation crew",
}
"""Who can set a date, and the words over what they ask."""


def _rise(option: OptionMoney) -> tuple[str, dict[str, Figure]]:
    """The key of the words for "can it rise", and what fills them."""
    if option.covers_all:
        if not option.cases:
            return "start.rise.your-changes", {}
        return ("start.rise.no-cap", {}) if option.most_paid is None else ("start.rise.to", {"most": option.most_paid})
    if option.added_cap is not None and (option.case_cap is not None or not option.cases):
        return "start.rise.capped", {}
    return "start.rise.no-cap", {}
