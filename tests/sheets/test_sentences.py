"""Whole sentences: what is a fragment, what is a paragraph, and our list of verbs held against a tagger of English.

The tagger is HanTa, with the English model that comes with it; it knows nothing of our words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

import pytest
from HanTa.HanoverTagger import HanoverTagger
from markdown import markdown

from sitegen.sheets.audit.page import Page
from sitegen.sheets.audit.sentences import ENDS, FINITE_RULE, MEDIAN_RULE, finite, fragments, paragraphs, short
from sitegen.sheets.audit.verbs import BASES, NOUNS_TOO, VERBS
from sitegen.sheets.words import pieces
from tests.built import House
from tests.helpers import ROOT

EXPLAINS = ("detail-*.html",)
"""Pages that explain, as patterns of names of files: there no paragraph is a row of short sentences either."""

STRICT = ("details/*.md", "glossary.md", "sheets/explain.md")
"""Files of our words, under content/, of which every sentence has a verb by our own list, with a stop or without."""

NO_PROSE = frozenset({"title", "source"})
"""Pieces of a detail that are a heading or a source."""

SHORT_ANSWERS = (
    "drawings.md *.key", "deciding.md *", "scope.md places.some", "rows.md damage", "sheets/bids.md total-alone",
    "sheets/bids.md rise-*", "sheets/bids.md buy-ask", "sheets/bids.md other-lines", "sheets/bids.md message-close",
    "sheets/report.md page", "sheets/report.md letter.asked-words", "sheets/living.md dark", "sheets/who.md references",
    "sheets/start.md tonight")
"""Pieces with a stop that are no sentence, by file and key: lines of a key, cells of a table, a question, a thank-you;
and two whose verb stands between slots."""

RUN_IN = re.compile(r"^\*\*[^*]+[.?!]\*\*\s*")
"""The heading at the head of a paragraph, or the plain answer before the words of a cell."""

FINITE_TAGS = frozenset({"VVZ", "VVD", "VVB", "VBB", "VBZ", "VBD", "VDB", "VDZ", "VDD", "VHB", "VHZ", "VHD", "VM0"})
"""The tags of finite verbs; the bare form of an order is one of them."""

AGREE, MOST_LENIENT = 0.94, 0.03
"""The least share of sentences on which list and tagger agree, and the most in which the list alone sees a verb."""


def main_of(html: str) -> list[tuple[str, str]]:
    """The rule and the words of every finding of a page that holds this."""
    page = Page("x.html", f'<main id="x">{html}</main>')
    assert page.main
    return [(found.rule, found.found) for found in [*fragments(page.main), *short(page.main)]]


@cache
def tagger() -> HanoverTagger:
    """The tagger with its English model."""
    return HanoverTagger("morphmodel_en.pgz")


def tagged(sentence: str) -> bool:
    """Whether the tagger sees a finite verb."""
    words = re.findall(r"[A-Za-z]+(?:['’][a-z]+)?|[0-9$.,]+|[.,;:?!]", sentence)
    return any(tag in FINITE_TAGS for _, _, tag in tagger().tag_sent(words))


# --- what is a sentence -----------------------------------------------------------------------------------


@pytest.mark.parametrize("said", [
    "Closed by One price.", "Closed by all three options.", "In part by Wiring only, Per item and One price.",
    "Some done in: the hall.", "Lived in, dead on the last day.", "Not by the others.", "In the middle.",
    "Once the holes, the floors and the old wire.", "All of the old cable, with no ground.", "Two rooms from above.",
    "A cover over each hole.", "The cuts, the lists and the tests.", "Old wire, cut at both ends and tested dead."])
def test_a_fragment_has_no_verb(said: str) -> None:
    """Notes, labels with a stop, and participles alone."""
    assert not finite(said)


@pytest.mark.parametrize("said", [
    "One price fixes this.", "All three options fix this.", "Each hole stays open behind a cover plate.",
    "Ask our electrician.", "Please leave the cover on.", "Do not sand a patch next to old paint.",
    "The permit costs $185.", "We cut the old circuits that your price covers.", "The inspector decides.",
    "Before the first cut, tape the plastic down.", "It’s yours to share.", "You’ll hear from us.",
    "Holes stay open until a plasterer comes.", "We opened eight of them.", "What is it?"])
def test_a_sentence_has_a_verb(said: str) -> None:
    """Statements, orders and questions, long or short."""
    assert finite(said)


# --- what is a paragraph ----------------------------------------------------------------------------------

WHOLE = "We look at each box in the room before we cut the first hole in it."


def test_a_paragraph_of_fragments_is_named() -> None:
    """One without any verb is found; beside one sentence with a verb a fragment passes."""
    assert main_of("<p>Closed by One price.</p>") == [(FINITE_RULE, "Closed by One price.")]
    assert main_of(f"<p>{WHOLE} Not by the others.</p><p>{WHOLE}</p>") == []


def test_the_middle_sentence_of_a_paragraph_has_eight_words() -> None:
    """Short sentences in a row are found, with how long the middle one is; one short line alone is none."""
    said = "We cut it. We cap it. We test it all once more with you in the room."
    assert main_of(f"<p>{said}</p>") == [(MEDIAN_RULE, f"3 words: {said}")]
    assert main_of("<p>The inspector decides.</p>") == []
    assert main_of("<p>We tape it down. We fold the dirty side of it in again.</p>") == [
        (MEDIAN_RULE, "6.5 words: We tape it down. We fold the dirty side of it in again.")]


def test_a_list_is_one_paragraph() -> None:
    """All items of a list are measured together, those of a list inside it too; the next one is another paragraph."""
    html = f"<ol><li>We cap it.</li><li>{WHOLE}<ul><li>{WHOLE}</li></ul></li></ol>"
    page = Page("x.html", f"<main><p>{WHOLE}</p>{html}<p>{WHOLE}</p></main>")
    assert page.main
    assert [len(said) for _, said in paragraphs(page.main)] == [1, 3, 1]
    assert main_of(html) == []
    assert [rule for rule, _ in main_of("<ul><li>Closed by One price.</li><li>In the middle.</li></ul>")] == [
        FINITE_RULE, MEDIAN_RULE]


@pytest.mark.parametrize("html", [
    "<h2>Closed by One price.</h2>", "<table><tr><td>Closed by One price.</td></tr></table>",
    '<p class="law">Closed by One price.</p>', '<p class="note citation">Closed by One price.</p>',
    "<blockquote><p>Closed by One price.</p></blockquote>", "<p>Not seen</p>", '<p class="named">Closed by One.</p>',
    "<figure><figcaption><ol><li>Old wire, cut.</li></ol></figcaption></figure>"])
def test_what_is_not_our_prose_is_left_out(html: str) -> None:
    """Headings, tables, law, sources, words of people, labels, and the name and key of a drawing."""
    assert main_of(html) == []


def test_the_head_and_the_foot_are_no_prose() -> None:
    """The parts around `main` hold links and the title block."""
    page = Page("x.html", f"<header><p>Closed by One price.</p></header><main><p>{WHOLE}</p></main>")
    assert [found for part in page.parts for found in fragments(part)] == []


# --- our own words ----------------------------------------------------------------------------------------


def test_the_pages_held_are_whole_sentences(house: House) -> None:
    """No paragraph of any page is a fragment, and none of a page that explains a row of short sentences."""
    held = sorted(house.folder.glob("*.html"))
    assert len(held) > 24
    found, explains = [], 0
    for path in held:
        main = Page(path.name, path.read_text("utf-8")).main
        assert main
        found += [(path.name, one.rule, one.found) for one in fragments(main)]
        if any(fnmatch(path.name, one) for one in EXPLAINS):
            explains += 1
            found += [(path.name, one.rule, one.found) for one in short(main)]
    assert explains > 16
    assert found == []


def worded(*, run_in: bool = True) -> Iterator[tuple[str, str]]:
    """Every sentence of our words, a slot being one word, with the file of the piece and its key; without the headings
    that run into a paragraph, if so asked."""
    for path in sorted((ROOT / "content").rglob("*.md")):
        for key, body in pieces(path.read_text("utf-8")).items():
            told = body if run_in else RUN_IN.sub("", body)
            page = Page(key, f"<main>{markdown(re.sub(r'{[a-z_]+}', '9', told))}</main>")
            assert page.main
            name = path.relative_to(ROOT / "content").as_posix()
            yield from ((f"{name} {key}", one) for _, said in paragraphs(page.main) for one in said)


def test_every_sentence_of_the_words_held_has_a_verb() -> None:
    """Also of the pieces that no demo house shows, sentence by sentence; a verb between slots may be seen by the tagger
    alone."""
    strict = [(where, said) for where, said in worded() if any(fnmatch(where.split()[0], one) for one in STRICT)
              and where.split()[1] not in NO_PROSE]
    assert len(strict) > 300
    assert [(where, said) for where, said in strict if not finite(said) and re.search("[a-z]", said)] == []
    held = [(where, said) for where, said in worded(run_in=False) if said.endswith(ENDS) and re.search("[a-z]", said)
            and where.split()[1] not in NO_PROSE and not any(fnmatch(where, one) for one in SHORT_ANSWERS)]
    assert len(held) > 1200
    assert [(where, said) for where, said in held if not finite(said) and not tagged(said)] == []


def test_the_list_of_verbs_agrees_with_a_tagger(demo_site: Path) -> None:
    """On nearly every sentence of our words and of a demo house; where they differ the list is seldom the lenient."""
    said = {one for _, one in worded() if one.endswith((".", "?"))}
    for path in sorted(demo_site.glob("*.html")):
        main = Page(path.name, path.read_text("utf-8")).main
        assert main
        said |= {one for _, some in paragraphs(main) for one in some if one.endswith((".", "?"))}
    assert len(said) > 1500
    lenient = sorted(one for one in said if finite(one) and not tagged(one))
    strict = sorted(one for one in said if tagged(one) and not finite(one))
    assert len(lenient) <= MOST_LENIENT * len(said), lenient
    assert 1 - (len(lenient) + len(strict)) / len(said) >= AGREE, strict


def test_no_verb_stands_on_two_lists() -> None:
    """A verb is spelled like a noun of ours or it is not."""
    assert not VERBS & NOUNS_TOO
    assert BASES == VERBS | NOUNS_TOO
