"""Made jobs: what they say that no demo house says, and which pieces of words no template can render at all."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from markupsafe import Markup

import sitegen.sheets.words
from sitegen.figure import Figure, Quote
from sitegen.sheets.words import Slot
from tests.built import HOUSES, offer
from tests.golden import made
from tests.golden.pieces import our_words
from tests.golden.slots import FINDINGS, NAME, NOTICE, SAID, SEVERAL, TYPED, VIEW, WORDS, kind_of
from tests.golden.text import differs

NOT_RENDERED = {
    "chances.unknown": "one of the four forms of a chance; every chance of today's sheets has a judgement behind it",
    "rows.holes.every-you": "a price for every point closes its holes: the check of the price book refuses another",
    "rows.source.published": "no slot of a row has a source of this kind; a figure of any kind may come to have one",
}
"""Pieces that no job can bring to a page, and why they stand all the same."""

Fill = Callable[[str, tuple[str, ...], frozenset[str], Mapping[str, Slot]], Markup]


@dataclass
class Rendered:
    """What templates rendered: the new lines of each made job, and what filled the slots of each piece."""

    text: dict[str, str] = field(default_factory=dict)
    slots: dict[str, list[Mapping[str, Slot]]] = field(default_factory=dict)

    def keep(self, fill: Fill) -> Fill:
        """The same filling, noted."""
        def filling(key: str, parts: tuple[str, ...], wanted: frozenset[str], slots: Mapping[str, Slot]) -> Markup:
            self.slots.setdefault(key, []).append(slots)
            return fill(key, parts, wanted, slots)
        return filling


@pytest.fixture(scope="module")
def rendered(tmp_path_factory: pytest.TempPathFactory) -> Rendered:
    """Every demo house and every made job, rendered once by the real templates."""
    found, into = Rendered(), tmp_path_factory.mktemp("made")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sitegen.sheets.words, "_fill", found.keep(sitegen.sheets.words._fill))
        for job in HOUSES:
            made.writer().write(offer(job), into / job)
        found.text = {f"{case.name}.txt": made.new_text(made.pages_of(case, into)) for case in made.cases()}
    return found


def test_every_made_job_says_what_was_accepted(rendered: Rendered) -> None:
    """Lines that no demo house has, each figure by its name, pass the audit and are the text that was accepted."""
    assert not (diff := differs(made.FOLDER, rendered.text)), diff


def test_every_piece_is_rendered_by_a_template_or_named_here(rendered: Rendered) -> None:
    """Words that no house and no made job shows are dead, but for the few that are named with the reason."""
    assert sorted(set(our_words().html) - set(rendered.slots)) == sorted(NOT_RENDERED)


def test_every_slot_is_filled_with_what_it_is_made_for(rendered: Rendered) -> None:
    """A template that gives points for feeds, or days for a date, is found by the unit of what it gives."""
    wrong = {(key, slot, kind_of(key, slot)) for key, some in rendered.slots.items() for slots in some
             for slot, value in slots.items() if not _fits(value, kind_of(key, slot))}
    assert sorted(wrong) == []


def _fits(value: Slot, kind: str) -> bool:
    """Whether a value is of the kind that a slot takes; a year stands with a date where it needs to be told."""
    if isinstance(value, tuple):
        inside = Quote if kind == SEVERAL else Figure
        return kind in (SEVERAL, FINDINGS) and all(isinstance(one, inside) for one in value)
    if isinstance(value, Figure):
        return value.unit == kind or (value.unit, kind) == ("date, this year", "date")
    if isinstance(value, Quote):
        return kind == SAID
    return kind in ((NAME, WORDS, TYPED, NOTICE, VIEW) if isinstance(value, Markup) else (NAME,))


def test_a_swap_at_a_call_is_seen(tmp_path: Path) -> None:
    """Two slots of one unit given the wrong way round, in a piece that no demo house renders, change the text."""
    def swapped(key: str, parts: tuple[str, ...], wanted: frozenset[str], slots: Mapping[str, Slot]) -> Markup:
        if key == "rooms.lead.subsidised-limit":
            slots = {"area": slots["limit"], "limit": slots["area"]}
        return fill(key, parts, wanted, slots)
    fill = sitegen.sheets.words._fill
    case = next(case for case in made.cases() if case.name == "odd-rooms")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sitegen.sheets.words, "_fill", swapped)
        text = made.new_text(made.pages_of(case, tmp_path))
    assert text != (made.FOLDER / "odd-rooms.txt").read_text("utf-8")
