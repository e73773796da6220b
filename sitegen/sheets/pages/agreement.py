"""What page 7 says: the options as they are chosen, each agreement whole, how to sign, how to cancel or change."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sitegen.figure import Figure
from sitegen.offer.deciding import deciding
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.rows import Cell, rows
from sitegen.offer.scope import ListRow
from sitegen.sheets.pages.compare import by_room
from sitegen.sheets.terms import AFTER_DATES, AFTER_PAYMENTS, PAY_STEPS, after_rises, rises_of, terms_of

RISE = "deciding.rise"


def agreement(offer: Offer) -> dict[str, Any]:
    """Page 7.  `rise` by option: the words for "can it rise"; `whole`: each option with the parts of its agreement,
    what can raise its price, and what stands below that; `cells` by option what it does of each item; `points` the
    list by room with the set price of each line by option; `pay_words` when a payment is due."""
    rise: Mapping[str, Cell] = {cell.option: cell for line in deciding(offer, rows(offer)) if line.asks == RISE
                                for cell in line.cells}
    options = offer.outcome.options
    return {"rise": rise, "pay_words": PAY_STEPS, "below_pay": AFTER_PAYMENTS, "below_dates": AFTER_DATES,
            "whole": [(one, terms_of(offer, one), rises_of(one), after_rises(offer, one)) for one in options],
            "cells": {one.key: [(f"scope.item.{row.key}", next(cell for cell in row.cells if cell.option == one.key))
                                for row in offer.scope.rows] for one in options},
            "points": by_room(offer), "each": {one.key: each_of(one) for one in options},
            "priced": priced, "law": offer.agreement.law, "state": offer.agreement.state}


NEW, OLD = "new-places", "list-points"
"""Lines of the sum of a list: new places, and points of every kind without a price of its own."""


def each_of(option: OptionMoney) -> dict[str, Figure]:
    """The figure of the set price of a point: of NEW and OLD, and of a kind with a price of its own; none where all are
    in one price."""
    return {line.of.text if line.of else line.what: line.each for line in option.price.sum
            if line.what in (NEW, OLD, "points-of-kind")}


def priced(each: Mapping[str, Figure], row: ListRow) -> Figure | None:
    """The set price of one point of a line of the list."""
    return each.get(NEW) if row.why == "new-place" else each.get(row.kind.text, each.get(OLD))


__all__ = ["agreement", "each_of", "priced"]
