"""Made jobs: what they say that no demo house says, and which pieces of words no template can render at all."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from markupsafe import Markup
from msgspec.structs import replace

import sitegen.sheets.words
from sitegen.figure import Figure, Quote
from sitegen.sealing.card import at_the_foot, card
from sitegen.sealing.pages import shell, withdrawn
from sitegen.sealing.publish import gate_of, seen_before
from sitegen.sealing.seal import seal
from sitegen.sheets.words import FORM, Slot
from sitegen.units import UNITS
from sitegen.workspace import Workspace
from tests.built import HOUSES, offer
from tests.golden import made
from tests.golden.pieces import our_words
from tests.golden.slots import FINDINGS, NAME, NOTICE, SAID, SEVERAL, TYPED, VIEW, WORDS, kind_of
from tests.golden.text import differs, page_text
from tests.helpers import DEMO
from tests.sealing.made import small_bundle
from tests.sealing.test_seal import KEY

NOT_RENDERED = {
    "chances.unknown": "one of the four forms of a chance; every chance of today's sheets has a judgement behind it",
    "rooms.panel.surge-ask": "every edition carried here says whether a surge device comes with a new service",
    "deciding.holes.every-you": "a price for every point closes its holes, as in the rows",
    "rows.holes.every-you": "a price for every point closes its holes: the check of the price book refuses another",
    "rows.source.published": "no slot of a row has a source of this kind; a figure of any kind may come to have one",
}
"""Pieces that no job can bring to a page, and why they stand all the same."""

NOT_YET = frozenset({
    "claims.fewest-dark", "claims.fewest-holes", "claims.fits.elsewhere", "claims.fits.fewest-dark",
    "claims.fits.fewest-holes", "claims.fits.first-finished", "claims.fits.highest-middle", "claims.fits.last-dead",
    "claims.fits.last-finished", "claims.fits.lowest-middle", "claims.fits.lowest-middle-we-close",
    "claims.fits.most-dark", "claims.fits.most-holes", "claims.fits.no-wire-promise", "claims.fits.sheet",
    "claims.last-dead", "claims.last-finished", "claims.lowest-middle-we-close", "claims.most-dark",
    "deciding.rise.cases-some", "living.choose.one", "living.later.every-finish", "living.lead.reason.share",
    "living.lead.step.doors-and-windows-near-closed", "living.lead.step.ground-sheet-laid",
    "living.lead.step.screen-at-a-near-property-line", "pay.even.just", "pay.ladder.sum", "pay.money.marks.capped",
    "pay.money.most.price", "pay.money.sum", "pay.turning.feeds", "pay.turning.high", "pay.turning.low", "report.some",
    "rooms.lead.share", "rooms.line.three-to-five", "rooms.load.three-to-five", "rows.earning.middle-uncounted-covers",
    "rows.lead.freed", "rows.sure.more-lived", "scope.all.four", "scope.all.two", "scope.sum.cap-on-cases",
    "scope.sum.protect-outlets", "start.answer.depends-circuits", "start.answer.depends-high",
    "start.answer.depends-low", "start.answer.list", "start.closes.part-one", "start.title.more", "start.title.two",
    "terms.parties.sells", "walk.tonight.none", "who.finished.open-none"})
"""Pieces that a job can bring to a page and none of the made ones does yet; each is filled with made values and audited
by `tests/sheets/test_every_key.py` all the same.  One that comes to be shown has to leave this list."""

VALUE = re.compile(r"\[([^\[\]|]*) \| [a-z0-9.-]+\]")
"""A figure of a page in the golden text: what is read, and its name."""

Fill = Callable[[str, tuple[str, ...], frozenset[str], Mapping[str, Slot]], Markup]


@dataclass
class Rendered:
    """What templates rendered: the new lines of each made job, and what filled the slots of each piece."""

    text: dict[str, str] = field(default_factory=dict)
    slots: dict[str, list[Mapping[str, Slot]]] = field(default_factory=dict)
    lines: dict[str, list[str]] = field(default_factory=dict)

    def read(self, job: str, pages: Mapping[str, str]) -> dict[str, str]:
        """The same pages, their lines noted as a person reads them: without what a script alone does, and scales."""
        for name, html in pages.items():
            self.lines[f"{job}/{name}"] = [VALUE.sub(r"\1", line) for line in page_text(html).splitlines()
                                         if not line.startswith("(data-") and not SCALE.search(line)]
        return dict(pages)

    def keep(self, fill: Fill) -> Fill:
        """The same filling, noted."""
        def filling(key: str, parts: tuple[str, ...], wanted: frozenset[str], slots: Mapping[str, Slot]) -> Markup:
            self.slots.setdefault(key, []).append(slots)
            return fill(key, parts, wanted, slots)
        return filling


def _around(into: Path) -> None:
    """What stands around a sealed proposal: gate, card, the foot of the paper, and what a third version says."""
    writer, gate, first = made.writer(), gate_of(Workspace(DEMO, into)), offer(HOUSES[0])
    third = replace(first, head=replace(first.head, version=replace(first.head.version, value=3)))
    seen_before(third, HOUSES[0], writer)
    small = small_bundle(into / "small")
    shell(writer, gate, small, seal(small, KEY, "small", 1))
    withdrawn(writer, gate)
    card(into, at_the_foot("https://proposals.example/", writer), first, gate, writer)


@pytest.fixture(scope="module")
def rendered(tmp_path_factory: pytest.TempPathFactory) -> Rendered:
    """Every demo house and every made job, rendered once by the real templates."""
    found, into = Rendered(), tmp_path_factory.mktemp("made")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sitegen.sheets.words, "_fill", found.keep(sitegen.sheets.words._fill))
        for job in HOUSES:
            made.writer().write(offer(job), into / job)
            found.read(job, {path.name: path.read_text("utf-8") for path in sorted((into / job).glob("*.html"))})
        _around(into)
        found.text = {f"{case.name}.txt": made.new_text(found.read(case.name, made.pages_of(case, into)))
                      for case in made.cases()}
    return found


def test_every_made_job_says_what_was_accepted(rendered: Rendered) -> None:
    """Lines that no demo house has, each figure by its name, pass the audit and are the text that was accepted."""
    assert not (diff := differs(made.FOLDER, rendered.text)), diff


def test_every_piece_is_rendered_by_a_template_or_named_here(rendered: Rendered) -> None:
    """Words that no house and no made job shows are dead, but for those that are named with the reason.

    A form for none or for one stands for its key wherever that is rendered and its counts are so.
    """
    shown = {key.partition(FORM)[0] for key in rendered.slots}
    missing = {key.partition(FORM)[0] for key in our_words().html} - shown
    assert missing == {*NOT_RENDERED, *NOT_YET}


def test_made_jobs_bring_half_of_the_forms_for_none_and_for_one_to_a_page(rendered: Rendered) -> None:
    """Of the pieces with such forms, jobs of noughts and of ones render at least one form of every two."""
    forms = {key.partition(FORM)[0] for key in our_words().html if FORM in key}
    shown = {key.partition(FORM)[0] for key in rendered.slots if FORM in key}
    assert 2 * len(forms & shown) >= len(forms), sorted(forms - shown)


SCALE = re.compile(r"^\[\d+ \| [a-z.]+\] old points off the list \[")
"""The two ends of a scale with its name between them, which is no sentence."""

NOUNS = "|".join(re.escape(unit.many) for unit in UNITS.values() if unit.many and unit.many != unit.one)
WRONG = re.compile(rf"(?<![\d.,$-])(?:1 (?:{NOUNS}|are|were|have|more are)|0 (?:{NOUNS}|are|were|old|more))\b")
"""A count of one before a word for many, and a nought that a person would not say."""


def test_no_page_says_one_points_or_that_nought_are_old(rendered: Rendered) -> None:
    """On the pages of the noughts and the ones, and of every other house, nothing reads as a form filled in."""
    bad = {(name, found[0], line) for name, lines in rendered.lines.items() for line in lines
           if (found := WRONG.search(line))}
    assert sorted(bad) == []


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
    """Two slots of one unit given the wrong way round change the text of a made job."""
    def swapped(key: str, parts: tuple[str, ...], wanted: frozenset[str], slots: Mapping[str, Slot]) -> Markup:
        if key == "rows.lead.some":
            slots = {**slots, "most": slots["limit"], "limit": slots["most"]}
        return fill(key, parts, wanted, slots)
    fill = sitegen.sheets.words._fill
    case = next(case for case in made.cases() if case.name == "odd-rooms")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sitegen.sheets.words, "_fill", swapped)
        text = made.new_text(made.pages_of(case, tmp_path))
    assert text != (made.FOLDER / "odd-rooms.txt").read_text("utf-8")
