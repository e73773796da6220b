"""Every piece of words, shown by a house or not: its slots are filled, its text is as accepted, its page is audited."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import copy
from itertools import combinations
from pathlib import Path

import pytest
from markupsafe import Markup

from sitegen.errors import Breach
from sitegen.figure import Figure
from sitegen.sheets.audit import breaches
from sitegen.sheets.audit.claims import claims_of
from sitegen.sheets.audit.page import Page
from sitegen.sheets.audit.reading import reading
from sitegen.sheets.pages.detail import DETAILS
from sitegen.sheets.words import SLOT, Words
from tests.built import built, offer
from tests.golden.pieces import FILE, filled, is_one_paragraph, lines_of, our_words, rendered
from tests.golden.slots import BY_PIECE, SLOTS, UnknownSlot, kind_of
from tests.golden.test_golden import FOLDER
from tests.helpers import JOB

SHEETS = {"start": "index", "report": "report", "compare": "compare", "pay": "what-you-could-pay", "living": "living",
          "lives": "living",
          "rooms": "rooms", "who": "who", "rows": "compare", "scope": "compare",
          "claims": "compare", "bids": "compare", "chances": "what-you-could-pay",
          "photographs": "rooms", "drawings": "rooms", "glossary": "who", "detail": "rooms", "explain": "report",
          "houses": "index", "paper": "paper", "deciding": "compare", "walk": "walk", "yours": "yours",
          "sealed": "index", "summary": "summary", "agreement": "agreement", "terms": "agreement"}
"""The sheet on which the pieces of a file stand; those of a detail stand whole on its own sheet in every house."""

PLAIN = {"living": ("lead", "power", "medical", "keep", "out"), "who": ("earns", "chose", "promise", "stop", "damage")}
"""Pieces of a file that speak of money or risk, by how their keys begin; whole sheets of it the audit knows."""


@pytest.fixture(scope="module")
def pages(demo_site: Path) -> dict[str, str]:
    """The pages of the demo house, among which the pieces are put."""
    return {path.name: path.read_text("utf-8") for path in sorted(demo_site.glob("*.html"))}


def words_of(html: dict[str, str]) -> Words:
    """Words of these pieces alone, by key."""
    words = copy(our_words())
    words.html, words._apart, words._forms = html, {}, {}
    return words


def words_with(changed: Mapping[str, str]) -> Words:
    """Our words with some pieces of other HTML."""
    return words_of({**our_words().html, **changed})


def audited(pages: Mapping[str, str], words: Words) -> list[Breach]:
    """What the rules for pages say of every piece, each on its own sheet, and of how hard the pieces are to read."""
    with_them = {name: html.replace("</main>", "".join(_sections(name, rendered(words))) + "</main>")
                 for name, html in pages.items()}
    read = [Page(name, html) for name, html in with_them.items()]
    files = {path.name for path in built(JOB).folder.iterdir()}
    return sorted({*breaches(offer(JOB), with_them, files, words.html["chances.judged"]),
                   *reading(claims_of(offer(JOB)), read)})


def _sections(page: str, pieces: Mapping[str, Markup]) -> Iterator[str]:
    """The pieces of a page in sections of pieces whose keys begin alike; those of rows in a table, as on the sheet."""
    groups: dict[str, list[str]] = {}
    for key, html in pieces.items():
        file, *rest = key.split(".")
        if file not in DETAILS and f"{SHEETS[file]}.html" == page:
            plain = rest[0] in PLAIN.get(file, ())
            group = f"made-{file}-{rest[0] if plain or len(rest) > 1 else 'words'}{'-caution' if plain else ''}"
            groups.setdefault(group, []).append(
                f"<table><tr><td>{html}</td></tr></table>" if file in ("rows", "deciding") else
                f"<p>{html}</p>" if is_one_paragraph(our_words().html[key]) else html)
    for group, some in groups.items():
        yield f'<h2 id="{group}">Made</h2>' + "".join(some)


def test_every_slot_stands_where_its_piece_has_it() -> None:
    """Each Figure that fills a slot stands in the rendered piece under its own name, as often as the slot does."""
    words = our_words()
    for key, html in rendered(words).items():
        for slot, value in filled(key, words.html[key]).items():
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Figure):
                    assert html.count(f'data-figure="{one.name}"') == words.html[key].count(f"{{{slot}}}"), (key, slot)


def test_every_piece_passes_the_audit(pages: dict[str, str]) -> None:
    """No word that hurts, no chance in another form, no link that leads nowhere, nothing too hard in any piece."""
    assert [str(one) for one in audited(pages, our_words())] == []


def test_a_wrong_piece_that_no_house_shows_is_found(pages: dict[str, str]) -> None:
    """Each rule finds its wrong piece: a phrase, a chance, a sentence too long, one too hard, and a link."""
    wrong = {"living.keep.other": "<p>It is guaranteed to be off.</p>",
             "rows.rise.your-changes": "<p>It is proven.</p>",
             "pay.steps.none": "<p>At 5 of 20 chances it goes off.</p>",
             "report.cannot.insulation": f"<p>It is {'off and ' * 14}on.</p>",
             "rooms.lead.area": f"<p>{'Refrigeration necessitates uninterrupted electricity. ' * 8}</p>",
             "start.closes.all": '<p>See <a href="rooms.html#rooms-nowhere">there</a>.</p>'}
    assert {(one.sheet, one.rule) for one in audited(pages, words_with(wrong))} == {
        ("living.html", "no phrase that hurts"), ("compare.html", "no phrase that hurts"),
        ("what-you-could-pay.html", "a chance stands in one of its sentence forms"),
        ("report.html", "no sentence over 25 words"), ("index.html", "a link is name.html#anchor of this site"),
        ("rooms.html", "plain words: grade 8 at most, grade 7 for money and risk")}


def test_two_slots_that_change_places_are_seen() -> None:
    """In every piece that has two slots, each two of them swapped give another text than the one accepted."""
    ours, accepted = our_words().html, _accepted()
    swaps = {key: list(combinations(sorted(set(SLOT.findall(html))), 2)) for key, html in ours.items()}
    assert sum(map(len, swaps.values())) > 300
    for at in range(max(map(len, swaps.values()))):
        changed = {key: _swapped(ours[key], *some[at]) for key, some in swaps.items() if at < len(some)}
        lines = lines_of(rendered(words_of(changed)))
        assert [(key, swaps[key][at]) for key in changed if lines[key] == accepted[key]] == []


def _swapped(html: str, one: str, other: str) -> str:
    """A piece with two of its slots in each other's place."""
    return html.replace(f"{{{one}}}", "{}").replace(f"{{{other}}}", f"{{{one}}}").replace("{}", f"{{{other}}}")


def test_a_word_that_is_changed_is_seen() -> None:
    """Another word in a piece that no house shows gives another text than the one accepted."""
    changed = lines_of(rendered(words_with({"living.keep.cold": "<p>Keep the door shut.</p>"})))
    assert [key for key, lines in _accepted().items() if changed[key] != lines] == ["living.keep.cold"]


def _accepted() -> dict[str, list[str]]:
    """The lines of every piece as they were accepted."""
    found: dict[str, list[str]] = {}
    for line in (FOLDER / FILE).read_text("utf-8").splitlines():
        if line.startswith("    "):
            found[next(reversed(found))].append(line.strip())
        else:
            found[line] = []
    return found


def test_the_table_of_slots_has_what_stands_in_the_words_and_no_more() -> None:
    """Every slot of the words is in the table, and what the table says of a slot is true of some piece."""
    used = {(key, slot) for key, html in our_words().html.items() for slot in SLOT.findall(html)}
    assert {slot for _, slot in used} == set(SLOTS)
    assert [(start, slot) for start, said in BY_PIECE.items() for slot in said
            if not any(key.startswith(start) and slot == named for key, named in used)] == []


def test_a_slot_that_nobody_knows_is_refused() -> None:
    """A new slot has to be said of: a unit or a kind."""
    with pytest.raises(UnknownSlot, match=r"`start\.fire` has a slot \{siren\}"):
        kind_of("start.fire", "siren")
