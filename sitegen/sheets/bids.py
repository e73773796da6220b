"""What the reader's own bids are worked with on a page: public figures of the offer, by the names of the script."""

from __future__ import annotations

from sitegen.figure import Figure, int_of, worked_out
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer

ANSWERS = {
    "holes": "bids.item.holes",
    "floors": "bids.item.floors",
    "clean": "bids.item.clean",
    "permit": "bids.item.permit",
    "panel": "bids.item.panel",
    "alarms": "bids.item.alarms",
    "places": "bids.item.places",
}
"""Answers that cost something when they are no, in the order of the form, and the words for each."""

STEM = "bids"
"""What the names that the script looks up begin with."""

LATER = {"holes": "plaster finish", "floors": "floors", "clean": "cleaning"}
"""What a later cost makes good that stands for a `no`; a book that has none gives no figure."""

LINES = {"panel": ("panel", "service"), "alarms": ("alarms",), "places": ("new-places",)}
"""The lines of a list's price that stand for a `no`: who leaves the thing out leaves it at what we ask for it."""

COUNTS = ("fewer", "middle", "more")
"""The three counts of the judgment; a figure at the middle one has the name of its answer alone."""


def bid_figures(offer: Offer) -> dict[str, Figure]:
    """The points of our list; the old points off it, their feeds and the blocked drops in three counts; and the cost
    of each answer that has one.

    A later cost is the usual one of the option with the lowest price today that leaves it to the homeowner.
    """
    found = {"listed": offer.found.listed}
    for count, mark in zip(COUNTS, offer.outcome.steps.marks, strict=True):
        found |= {count: mark.points, f"{count}-feeds": mark.feeds, f"{count}-blocked": mark.blocked}
    for key in ANSWERS:
        found |= _later(offer, key) if key in LATER else _lines(offer, key)
    return found


def looked_up(figures: dict[str, Figure]) -> list[Figure]:
    """Figures of `bid_figures` renamed `bids.` and their key, by which the script of the page looks them up."""
    return [figure.named(f"{STEM}.{word}") for word, figure in figures.items()]


def leaves(offer: Offer, option: OptionMoney) -> tuple[str, ...]:
    """The answers that one of our own options, read as a bid, has as no."""
    bought = {item.stands_for for item in option.later}
    return (*(key for key, what in LATER.items() if what in bought),
            *(("places",) if int_of(option.places_held) < int_of(offer.found.new_places) else ()))


def _later(offer: Offer, key: str) -> dict[str, Figure]:
    """What an answer costs elsewhere at each count, or nothing where no option leaves it."""
    for option, step in zip(offer.outcome.options, offer.outcome.steps.options, strict=True):
        said = next((item for item in option.later if item.stands_for == LATER[key]), None)
        bought = next((item for item in step.later if said and item.key == said.key), None)
        if bought:
            return {key if count == "middle" else f"{key}-{count}": bought.usual[int_of(mark.points)]
                    for count, mark in zip(COUNTS, offer.outcome.steps.marks, strict=True)}
    return {}


def _lines(offer: Offer, key: str) -> dict[str, Figure]:
    """What a thing is in the first list that has it; the permit is the town's."""
    if key == "permit":
        return {key: offer.town.permit_price}
    for option in offer.outcome.options:
        amounts = [line.amount for line in option.price.sum if line.what in LINES[key]]
        if amounts:
            return {key: worked_out(f"sheets.bids.{key}", sum(map(int_of, amounts)), "cents",
                                    "What the lines of a list's price ask for it.", *amounts)}
    return {}


__all__ = ["ANSWERS", "COUNTS", "bid_figures", "leaves", "looked_up"]
