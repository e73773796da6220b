"""Prices that a job has of its own: how far each is from the books, and why.  For the office, on a terminal alone."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.figure import int_of
from sitegen.offer.offer import Offer
from sitegen.units import dollars


def own_prices(offer: Offer) -> tuple[str, ...]:
    """A sentence and the reason for each option with a price of its own, in the order of price today."""
    return tuple(_said(offer))


def _said(offer: Offer) -> Iterator[str]:
    for option in offer.outcome.options:
        costs = offer.costs[option.key]
        if costs.off is None:
            continue
        off = int_of(costs.off)
        far = f"{dollars(abs(off))} {'above' if off > 0 else 'under'} the {dollars(int_of(costs.book))} of the books" \
            if off else "the same as from the books"
        yield f"{option.name} has a price of its own, {option.price.say()}, {far}: {costs.because}"


__all__ = ["own_prices"]
