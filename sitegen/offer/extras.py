"""What may be added at a set price, and the last day to choose it."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.offer.dates import Dates
from sitegen.trade.circuits import CircuitRule

SURGE, FAN_BOX, SURGE_DUTY = "surge device", "fan box", "surge-protection"
"""Kinds of extras that an edition may ask for, and the key of the duty that new service equipment brings."""


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


def extras_of(inputs: Inputs, make: Cited, when: Dates, circuit: CircuitRule, duties: tuple[str, ...]
              ) -> tuple[Extra, ...]:
    """Every extra of the price book, in its order; what the code asks for all the same is none (NEC 230.67, 314.27(C)).

    `duties` are those of new service equipment.
    """
    found = []
    for i, extra in enumerate(inputs.book.extras):
        rooms = tuple(extra.rooms or ())
        if extra.is_ == FAN_BOX:
            rooms = tuple(kind for kind in rooms if kind not in circuit.fan_boxes)
        owed = extra.is_ == SURGE and SURGE_DUTY in duties
        if owed or (extra.is_ == FAN_BOX and circuit.fan_boxes and not rooms):
            continue
        found.append(Extra(extra.key, extra.is_, make.quote("book", "extras", i, "what"),
                           make.figure(f"extras.{extra.key}.price", "book", "extras", i, "price"),
                           make.quote("book", "extras", i, "where"), rooms,
                           make.quote("book", "extras", i, "choose by"), when.choose_by[extra.key]))
    return tuple(found)


__all__ = ["Extra", "extras_of"]
