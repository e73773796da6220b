"""What the proposal on paper says: the answer, the list, the scope, the comparison, cautions and how to sign."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sitegen.figure import Figure
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.rows import Row
from sitegen.offer.scope import EACH, OUT, ScopeRow
from sitegen.sheets.pages.compare import compare
from sitegen.sheets.pages.detail import DETAILS, detail
from sitegen.sheets.pages.start import start


def paper(offer: Offer) -> dict[str, Any]:
    """One document for one print: what the first sheet and the comparison say, and the caution of every detail.

    `cautions` are the keys of the details that have one, in their order; `slots` what fills their words; `items` by
    option how many items of the scope are in its price, and by name those that are not.
    """
    compared = compare(offer)
    return {**start(offer), **compared, **detail(offer), "cautions": tuple(DETAILS),
            "items": _items(offer, compared["sections"], compared["scope"])}


NOT_IN = {EACH: "paper.items.each", OUT: "paper.items.out"}
"""The words before the items that are not in a price, by whether they have one of their own."""

Items = tuple[OptionMoney, Figure, list[tuple[str, list[str]]]]


def _items(offer: Offer, sections: Sequence[tuple[str, Sequence[Row]]],
           scope: Sequence[tuple[ScopeRow, str, str, object]]) -> list[Items]:
    """By option, how many items its price has, and the words of each that it has not: paper shows no table of them."""
    counts = {cell.option: cell.slots["within"] for _, rows in sections for row in rows if row.key == "besides"
              for cell in row.cells}
    found = list[Items]()
    for option in offer.outcome.options:
        parts = [(says, [name for row, name, _, _ in scope for cell in row.cells
                         if cell.option == option.key and cell.state == state]) for state, says in NOT_IN.items()]
        within = counts[option.key]
        assert isinstance(within, Figure), "a count of items is a figure"
        found.append((option, within, [(says, names) for says, names in parts if names]))
    return found
