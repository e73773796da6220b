"""What may be added at a set price, and the last day to choose it."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.offer.dates import Dates


class Extra(Struct, frozen=True):
    """Something that may be added at a set price, in kinds of rooms, or in the house where none is named.

    `until` is the last day to choose it, `choose_by` the reason in words.
    """

    key: str
    kind: str
    what: Quote
    price: Figure
    where: Quote
    rooms: tuple[str, ...]
    choose_by: Quote
    until: Figure


def extras_of(inputs: Inputs, make: Cited, when: Dates) -> tuple[Extra, ...]:
    """Every extra of the price book, in its order."""
    return tuple(Extra(extra.key, extra.is_, make.quote("book", "extras", i, "what"),
                       make.figure(f"extras.{extra.key}.price", "book", "extras", i, "price"),
                       make.quote("book", "extras", i, "where"), extra.rooms or (),
                       make.quote("book", "extras", i, "choose by"), when.choose_by[extra.key])
                 for i, extra in enumerate(inputs.book.extras))


__all__ = ["Extra", "extras_of"]
