"""The rows of the comparison: for each option the words that answer, and the figures that go into them.

A row gives for each option a variant of its words (`content/rows.md`) and what fills the slots.  The same rows in
the same order for every option: that is what makes the page fair.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source
from sitegen.job.parts import ROWS
from sitegen.offer.offer import Offer
from sitegen.offer.row_answers import ANSWERS, ForRow, Slot
from sitegen.offer.rules import rule


class Cell(Struct, frozen=True):
    """One option's answer: the key of its words, and what fills them."""

    option: str
    name: str
    words: str
    slots: Mapping[str, Slot]

    def says_the_same(self, other: Cell) -> bool:
        """Whether a reader would read the same."""
        return self.words == other.words and _shown(self.slots) == _shown(other.slots)


class Row(Struct, frozen=True):
    """One row, worked out for an offer; `same` when all cells say the same.

    `asks` is the key of the question's words, `under` that of the words under the row, and what fills them: what the
    law asks of all options, what comes on top of the lists, or how often our dates held.
    """

    key: str
    number: Figure
    section: str
    asks: str
    under: tuple[str, Mapping[str, Slot]] | None
    cells: tuple[Cell, ...]
    sources: tuple[Source, ...]
    same: bool


SECTIONS = {
    "money": ("price", "rise", "least", "most", "later", "ending", "payments", "stopping"),
    "wiring": ("besides", "live", "findings", "letter"),
    "house": ("holes", "walls", "floors", "lead", "cleaning"),
    "time": ("dates", "sure", "living"),
    "afterwards": ("promise", "damage", "firm", "earning"),
}
"""The parts of the comparison, and the keys of their rows."""

PARTS = {"money": "rows.money", "wiring": "rows.wiring", "house": "rows.house", "time": "rows.time",
         "afterwards": "rows.afterwards"}
"""The words over each part."""

QUESTIONS = {
    "price": "rows.price", "rise": "rows.rise", "least": "rows.least", "most": "rows.most", "later": "rows.later",
    "ending": "rows.ending", "payments": "rows.payments", "stopping": "rows.stopping", "besides": "rows.besides",
    "live": "rows.live", "findings": "rows.findings", "letter": "rows.letter", "holes": "rows.holes",
    "walls": "rows.walls", "floors": "rows.floors", "lead": "rows.lead", "cleaning": "rows.cleaning",
    "dates": "rows.dates", "sure": "rows.sure", "living": "rows.living", "promise": "rows.promise",
    "damage": "rows.damage", "firm": "rows.firm", "earning": "rows.earning"}
"""The words of each question, by the key of its row."""

KIT_ROWS = frozenset({"rise", "later", "stopping", "live", "letter", "holes", "walls", "floors", "cleaning"})
"""Rows whose answer hangs on a line of the kit even when no figure of it is printed."""


def rows(offer: Offer) -> tuple[Row, ...]:
    """The rows of an offer."""
    options = [ForRow(offer, money, offer.terms[money.key], offer.dates.options[money.key])
               for money in offer.outcome.options]
    return tuple(_row(offer, section, key, options) for section, keys in SECTIONS.items() for key in keys)


def number_of(key: str) -> int:
    """The place of a row on the page, from 1."""
    return ROWS.index(key) + 1


def _row(offer: Offer, section: str, key: str, options: Sequence[ForRow]) -> Row:
    cells = tuple(Cell(option.money.key, option.money.name, *ANSWERS[key](option)) for option in options)
    number = number_of(key)
    return Row(key, Figure(f"rows.{number}.number", number, "number", "Place of the row.", _OURS), section,
               QUESTIONS[key], _under(offer, key), cells, _sources(offer, key, cells),
               all(cells[0].says_the_same(cell) for cell in cells[1:]))


def _under(offer: Offer, key: str) -> tuple[str, Mapping[str, Slot]] | None:
    """What stands under a row and is said of more than one option."""
    if key == "lead" and offer.lead.assumed:
        return "rows.lead.law", {"feet": offer.lead.sheet}
    tracing = offer.outcome.tracing
    if key == "rise" and tracing is not None and not tracing.credited:
        return "rows.rise.tracing", {"price": tracing.price}
    if key == "sure":
        return ("rows.sure.uncounted", {}) if offer.finished is None else (
            "rows.sure.counted", {"some": offer.finished.in_time, "jobs": offer.finished.jobs})
    return None


_OURS = Source("published", "the order of the rows, the same for every option and every house")


def _sources(offer: Offer, key: str, cells: Sequence[Cell]) -> tuple[Source, ...]:
    """Who stands behind a row: one source of each kind, in the order in which they are met."""
    found: dict[str, Source] = {}
    for cell in cells:
        for slot in cell.slots.values():
            for one in slot if isinstance(slot, tuple) else (slot,):
                found.setdefault(one.source.kind, one.source)
    if key in KIT_ROWS:
        found.setdefault("price book", offer.outcome.options[0].each_point.source)
    if key == "letter" and offer.dates.deadline is not None:
        found.setdefault("survey", offer.dates.deadline.asks.source)
    if key == "sure" and offer.finished is not None:
        found.setdefault(offer.finished.jobs.source.kind, offer.finished.jobs.source)
    if key == "earning":
        found.setdefault("company", offer.firm.damage.source)
    if key == "lead":                       # the same in every house: a section on aided housing would tell of people
        found["rule"] = rule("lead-room-feet").source if "rule" in found else offer.lead.built_before.source
    return tuple(found.values())


def _shown(slots: Mapping[str, Slot]) -> dict[str, object]:
    def show(slot: Figure | Quote) -> object:
        return (slot.value, slot.unit) if isinstance(slot, Figure) else slot.text
    return {key: tuple(show(one) for one in slot) if isinstance(slot, tuple) else show(slot)
            for key, slot in slots.items()}


__all__ = ["PARTS", "ROWS", "SECTIONS", "Cell", "Row", "number_of", "rows"]
