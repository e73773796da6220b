"""How hard the words of a page are to read: a grade for each section, and no sentence that is too long.

The grade is that of Flesch and Kincaid: 0.39 x words a sentence + 11.8 x syllables a word - 15.59.  It knows nothing
of what the words say, and it is rough on short text: a section under FEWEST words is measured with its neighbour.

Left out: headings and labels, tables, drawings and their scales (class `axis`), statutory text (class `law`),
sources (class `citation`), and the words of people.  A number, a name, an address or a link counts as one plain
word.  So does a trade word that is explained: one that stands in a `dfn` of the glossary on sheet 8.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from msgspec import Struct

from sitegen.errors import Breach
from sitegen.sheets.audit.claims import Claims
from sitegen.sheets.audit.page import GAP, Page, Part, Tag, small
from sitegen.sheets.audit.syllables import syllables

BODY, PLAIN = 8.0, 7.0
"""The highest grade of a section, and of one that speaks of money or risk."""

PLAIN_SHEETS = frozenset({"start", "report", "compare", "pay"})
PLAIN_SECTIONS = frozenset({"living-lead", "living-power", "living-out", "who-earns", "who-promise"})
PLAIN_END = "-caution"
"""The end of the name of a section that warns, on the sheet of a detail."""

LONGEST = 25
"""Words in a sentence, at most."""

FEWEST = 30
"""Words that a grade is taken of, at least."""

LABEL = 5
"""Words without a stop after them, at most, that are a label and no sentence."""

GRADE_RULE = "plain words: grade 8 at most, grade 7 for money and risk"
LENGTH_RULE = "no sentence over 25 words"
GRADE_REMEDY = "Use shorter words or shorter sentences here, or explain a trade word in content/glossary.md."
LENGTH_REMEDY = "Make two sentences of it."

STAND_IN = "number"
"""What stands for a number, a name or an explained trade word: one plain word of two syllables."""

LEFT_OUT = frozenset({"table", "svg", "h1", "h2", "h3", "h4", "h5", "h6", "button", "select"})
LEFT_OUT_CLASSES = frozenset({"law", "citation", "axis"})
LEFT_OUT_INLINE = frozenset({("data", "key"), ("span", "vh")})
TAIL = re.compile(r"(?:s|es)?(?![a-z0-9])")
"""What may follow a name that is one word."""

END = re.compile(r"([.!?][\"')]*) (?<!\s[A-Z]\. )")
"""The end of a sentence inside a block; not that of an initial, as in R. Marlow."""

STOPS = (".", "!", "?", ":", '."', ".)", "?)", '?"')
PIECES = re.compile(r"[a-z]+(?:'[a-z]+)?")


ODD = re.compile(r"[0-9@/]")
WORDS = 8192
"""How many words are kept with their syllables."""


@lru_cache(maxsize=WORDS)
def spoken(word: str) -> int:
    """Syllables of a word in small letters as it stands on a page; none for a sign alone."""
    return syllables(STAND_IN) if ODD.search(word) else sum(map(syllables, PIECES.findall(word)))


class Sentence(NamedTuple):
    """A sentence as it stands on the page, its words and its syllables."""

    text: str
    words: int
    spoken: int

    @property
    def grade(self) -> float:
        """The grade of this sentence alone: good for finding the hardest, and for nothing else."""
        return grade(1, self.words, self.spoken)


class Text(Struct, frozen=True):
    """Sentences that are measured together: where the first stands, and the highest grade that they may have."""

    place: str
    limit: float
    sentences: tuple[Sentence, ...]

    @property
    def words(self) -> int:
        """How many words there are."""
        return sum(sentence.words for sentence in self.sentences)

    @property
    def grade(self) -> float:
        """The grade of these sentences."""
        return grade(len(self.sentences), self.words, sum(sentence.spoken for sentence in self.sentences))


def grade(sentences: int, words: int, spoken: int) -> float:
    """The Flesch-Kincaid grade of so many sentences, words and syllables."""
    return 0.39 * words / sentences + 11.8 * spoken / words - 15.59


def reading(claims: Claims, pages: Sequence[Page]) -> Iterator[Breach]:
    """Every sentence that is too long, and every section over its grade with its hardest sentence."""
    for name, texts in measured(claims, pages).items():
        for text in texts:
            yield from (Breach(name, text.place, LENGTH_RULE, f"{sentence.words} words: {sentence.text}", LENGTH_REMEDY)
                        for sentence in text.sentences if sentence.words > LONGEST)
        for text in joined(texts):
            if text.grade > text.limit:
                worst = max(text.sentences, key=lambda sentence: sentence.grade)
                yield Breach(name, text.place, GRADE_RULE,
                             f"grade {text.grade:.1f} where {text.limit:.0f} is the most. Hardest: {worst.text}",
                             GRADE_REMEDY)


def measured(claims: Claims, pages: Sequence[Page]) -> dict[str, list[Text]]:
    """The sections of every page, by its name, with their sentences counted."""
    plain = _stand_ins(claims, pages)
    return {page.name: [*_texts(page.main, plain)] if page.main else [] for page in pages}


def _texts(main: Part, plain: Sequence[str]) -> Iterator[Text]:
    sections = main.once(_sections)
    counts = iter(_counted([text for _, _, said in sections for text in said], plain))
    for place, limit, said in sections:
        sentences = [Sentence(text, *next(counts)) for text in said]
        yield Text(place, limit, tuple(one for one in sentences if one.words))


def joined(texts: Iterable[Text]) -> list[Text]:
    """Sections of one page, the short ones with the next of the same limit; a last short one with the one before.

    Where all that is held to PLAIN is short, it is read with the rest; a page under FEWEST words has no grade.
    """
    found: list[Text] = []
    rest: list[Text] = []
    for limit in (PLAIN, BODY):
        done, rest = rest, []
        for text in texts:
            if text.limit == limit and text.sentences:
                if done and done[-1].words < FEWEST:
                    text = Text(done[-1].place, limit, done.pop().sentences + text.sentences)
                done.append(text)
        if done and done[-1].words < FEWEST:
            rest = [done.pop()]
            if done:
                done[-1] = Text(done[-1].place, limit, done[-1].sentences + rest.pop().sentences)
        found += done
    return found


def _sections(main: Part) -> Sequence[tuple[str, float, list[str]]]:
    """The place, the highest grade and the sentences of each section of a page."""
    said = main.without([*main.quoted, *main.outermost(_left_out(main))])
    begins = [(0, main.tags[0].attributes.get("id", "")),
              *((at, name) for at, name in main.ids if main.tags[at].name == "h2")]
    ends = [*(at for at, _ in begins[1:]), len(main.tags) - 1]
    found = []
    for (at, place), end in zip(begins, ends, strict=True):
        plain = begins[0][1] in PLAIN_SHEETS or place in PLAIN_SECTIONS or place.endswith(PLAIN_END)
        found.append((place, PLAIN if plain else BODY, prose(main.join(said, at, end))))
    return found


def _left_out(main: Part) -> set[Tag]:
    """The tags of what is no prose of ours."""
    names = {tag.class_name for tag in main.first}
    classes = {name for name in names if not LEFT_OUT_CLASSES.isdisjoint(name.split())}
    return {tag for tag in main.first if tag.opens and (
        tag.name in LEFT_OUT or tag.class_name in classes or (tag.name, tag.class_name) in LEFT_OUT_INLINE)}


def prose(said: str) -> list[str]:
    """The sentences of a stretch of words, without its labels."""
    text = " ".join(said.split())
    pieces = [piece.strip() for piece in END.sub(rf"\1{GAP}", text).split(GAP) if len(piece) > 1]
    return [piece for piece in pieces if piece.endswith(STOPS) or piece.count(" ") >= LABEL]


def _counted(sentences: Sequence[str], plain: Iterable[str]) -> Iterator[tuple[int, int]]:
    """Words and syllables of each sentence."""
    text = small("\n".join(sentences))
    for name in plain:
        if name in text:
            first, *rest = text.split(name)
            text = first + "".join(STAND_IN + piece[tail.end():] if (tail := TAIL.match(piece)) else name + piece
                                   for piece in rest)
    for line in text.split("\n"):
        counts = [count for count in map(spoken, line.split()) if count]
        yield len(counts), sum(counts)


def _stand_ins(claims: Claims, pages: Sequence[Page]) -> list[str]:
    """Names and addresses, and the words of the glossary that are longer than what stands for them; longest first."""
    known = {small(text) for text in claims.names} | {term for page in pages for part in page.parts
                                                      for term in part.once(_terms)}
    return sorted((text for text in known if sum(map(spoken, text.split())) > spoken(STAND_IN)),
                  key=lambda text: (-len(text), text))


def _terms(part: Part) -> Sequence[str]:
    return [small(part.words(term)) for term in part.elements("dfn")] if "<dfn" in part.vocabulary else []


__all__ = ["LEFT_OUT", "LEFT_OUT_CLASSES", "LEFT_OUT_INLINE", "Sentence", "Text", "grade", "joined", "measured",
           "prose", "reading"]
