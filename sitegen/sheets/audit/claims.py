"""What the audit takes of an offer: plain values, so that whoever has them all has all that its findings turn on."""

from __future__ import annotations

from itertools import pairwise

from msgspec import Struct

from sitegen.figure import int_of
from sitegen.offer.claims import Claim, told
from sitegen.offer.dominated import dominated
from sitegen.offer.offer import Offer
from sitegen.offer.rows import ROWS, Row, rows

Remarks = tuple[int, ...]
"""The rows that the remarks of one side rest on, in order."""


class OptionClaims(Struct, frozen=True):
    """One option: its price today in cents, the name of that figure and how it is said, and what speaks for and
    against.

    `behind` when it is dominated by the others.
    """

    key: str
    name: str
    price: int
    figure: str
    says: str
    good: Remarks
    drawbacks: Remarks
    behind: bool


class RowClaims(Struct, frozen=True):
    """One row of the comparison: its number, the options that it answers for, and of each answer but the first
    whether it says the same as the one before it."""

    number: int
    options: tuple[str, ...]
    alike: tuple[bool, ...]


class Claims(Struct, frozen=True):
    """All that the pages of one offer are held against; `rows_wanted` is how many rows there have to be.

    `names` are those of people, places and rooms, which are no measure of our words.
    """

    options: tuple[OptionClaims, ...]
    rows: tuple[RowClaims, ...]
    rows_wanted: int
    names: tuple[str, ...]

    @property
    def by_price(self) -> list[OptionClaims]:
        """The options in order of price today."""
        return sorted(self.options, key=lambda option: option.price)


def claims_of(offer: Offer) -> Claims:
    """What an offer says of itself."""
    behind, said = dominated(offer), told(offer)
    options = tuple(OptionClaims(option.key, option.name, int_of(option.price), option.price.name, option.price.say(),
                           _rows(said[option.key].good), _rows(said[option.key].drawbacks),
                           option.key in behind) for option in offer.outcome.options)
    answers = tuple(RowClaims(int_of(row.number), tuple(cell.option for cell in row.cells), _alike(row))
                    for row in rows(offer))
    return Claims(options, answers, len(ROWS), _names(offer))


def _alike(row: Row) -> tuple[bool, ...]:
    return tuple(cell.says_the_same(before) for before, cell in pairwise(row.cells))


def _rows(remarks: tuple[Claim, ...]) -> Remarks:
    return tuple(int_of(remark.row) for remark in remarks)


def _names(offer: Offer) -> tuple[str, ...]:
    head, firm = offer.head, offer.firm
    names = {said.text for said in (head.address, head.by, firm.name, firm.address, firm.code, *firm.insurance,
                                    *(person.name for person in offer.people), *(room.name for room in offer.rooms))}
    return tuple(sorted(names | {said.text.split(",")[0] for said in head.signs}))


__all__ = ["Claims", "OptionClaims", "RowClaims", "claims_of"]
