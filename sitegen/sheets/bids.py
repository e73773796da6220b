"""What the reader's own bids are worked with on a page: public figures of the offer, by the names of the script."""

from __future__ import annotations

from sitegen.figure import Figure
from sitegen.offer.offer import Offer

ANSWERS = {
    "holes": "bids.item.holes",
    "floors": "bids.item.floors",
    "clean": "bids.item.clean",
    "permit": "bids.item.permit",
    "panel": "bids.item.panel",
}
"""Answers that cost something when they are no, in the order of the form, and the words for each."""

STEM = "bids"
"""What the names that the script looks up begin with."""

LATER = {"holes": "plaster finish", "floors": "floors", "clean": "cleaning"}
"""What a later cost makes good that stands for a `no`; a book that has none gives no figure."""


def bid_figures(offer: Offer) -> dict[str, Figure]:
    """The points of our list, the old points off it in three counts, and the cost of each answer that has one.

    The cost of an answer is the usual one of the option with the lowest price today that leaves it to the homeowner.
    """
    hidden = offer.outcome.hidden
    return {"listed": offer.found.listed, "fewer": hidden.p10, "middle": hidden.p50, "more": hidden.p90,
            **{key: cost for key in ANSWERS if (cost := _cost(offer, key))}}


def looked_up(figures: dict[str, Figure]) -> list[Figure]:
    """Figures of `bid_figures` renamed `bids.` and their key, by which the script of the page looks them up."""
    return [figure.named(f"{STEM}.{word}") for word, figure in figures.items()]


def _cost(offer: Offer, key: str) -> Figure | None:
    if key == "permit":
        return offer.town.permit_price
    return next((item.usual for option in offer.outcome.options for item in option.later
                 if item.stands_for == LATER.get(key)), None)


__all__ = ["ANSWERS", "bid_figures", "looked_up"]
