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


def each_of(option: OptionMoney) -> dict[tuple[str, str], Figure]:
    """The figure of the set price of a point by its kind and by whether it is a new place; none where all are in one
    price."""
    kinds = {line.of.text: line.each for line in option.price.sum if line.what == "points-of-kind" and line.of}
    found = {("", "new"): line.each for line in option.price.sum if line.what == "new-places"}
    found |= {("", "old"): line.each for line in option.price.sum if line.what == "list-points"}
    return {**found, **{(kind, "old"): each for kind, each in kinds.items()}}


def priced(each: Mapping[tuple[str, str], Figure], row: ListRow) -> Figure | None:
    """The set price of one point of a line of the list."""
    if row.why == "new-place":
        return each.get(("", "new"))
    return each.get((row.kind.text, "old"), each.get(("", "old")))


__all__ = ["agreement", "each_of", "priced"]
