"""What sheet 1 says: whether each price can rise, and who closes each finding."""

from __future__ import annotations

from typing import Any

from sitegen.figure import Figure
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.sheets.counts import ROW_COUNT
from sitegen.sheets.pages.report import findings


def start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `rise` by option key: the words for "can it rise"; `always`: a list that never or always costs less."""
    return {**findings(offer), "rise": {option.key: _rise(option) for option in offer.outcome.options},
            "row_count": ROW_COUNT,
            "always": next((even for even in offer.outcome.break_even if even.always), None)}


def _rise(option: OptionMoney) -> tuple[str, dict[str, Figure]]:
    """The words for "can it rise", and what fills them."""
    if option.covers_all:
        if not option.cases:
            return "your-changes", {}
        return ("no-cap", {}) if option.most_paid is None else ("to", {"most": option.most_paid})
    if option.added_cap is not None and (option.case_cap is not None or not option.cases):
        return "capped", {}
    return "no-cap", {}
