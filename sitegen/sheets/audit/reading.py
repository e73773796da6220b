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
from html import unescape

from msgspec import Struct

from sitegen.errors import Breach
from sitegen.offer.offer import Offer
from sitegen.sheets.audit.page import ANY_TAG, GAP, INLINE, Page, small
from sitegen.sheets.audit.syllables import syllables

BODY, PLAIN = 7.0, 6.0
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

GRADE_RULE = "plain words: grade 7 at most, grade 6 for money and risk"
LENGTH_RULE = "no sentence over 25 words"
GRADE_REMEDY = "Use shorter words or shorter sentences here, or explain a trade word in content/glossary.md."
LENGTH_REMEDY = "Make two sentences of it."

STAND_IN = "number"
"""What stands for a number, a name or an explained trade word: one plain word of two syllables."""

MAIN = re.compile(r'<main\s+id="([^"]*)"[^>]*>')
TERM = re.compile(r"<dfn[^>]*>(.*?)</dfn>", re.DOTALL)
SECTION = re.compile(r'<h2[^>]*\sid="([^"]*)"[^>]*>.*?</h2>', re.DOTALL)
LEFT_OUT = re.compile(
    r'<(table|svg|h[1-6]|button|select)\b.*?</\1>|<data class="key".*?</data>|<span class="vh">.*?</span>'
    r'|<([a-z]+)\s+class="(?:[^"]* )?(?:law|citation|axis)(?: [^"]*)?".*?</\2>', re.DOTALL)
END = re.compile(r"([.!?][\"')]*) (?<!\s[A-Z]\. )")
"""The end of a sentence inside a block; not that of an initial, as in R. Marlow."""

STOPS = (".", "!", "?", ":", '."', ".)", "?)", '?"')
PIECES = re.compile(r"[a-z]+(?:'[a-z]+)?")


class _Table(dict[str, int]):
    """Syllables by word in small letters as it stands on a page, worked out once; none for a sign alone."""

    def __missing__(self, word: str) -> int:
        if any(letter in "0123456789@/" for letter in word):
            count = syllables(STAND_IN)
        else:
            count = sum(syllables(piece) for piece in PIECES.findall(word))
        self[word] = count
        return count


TABLE = _Table()


class Sentence(Struct, frozen=True):
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


def reading(offer: Offer, pages: Sequence[Page]) -> Iterator[Breach]:
    """Every sentence that is too long, and every section over its grade with its hardest sentence."""
    for name, texts in measured(offer, pages).items():
        for text in texts:
            yield from (Breach(name, text.place, LENGTH_RULE, f"{sentence.words} words: {sentence.text}", LENGTH_REMEDY)
                        for sentence in text.sentences if sentence.words > LONGEST)
        for text in joined(texts):
            if text.grade > text.limit:
                worst = max(text.sentences, key=lambda sentence: sentence.grade)
                yield Breach(name, text.place, GRADE_RULE,
                             f"grade {text.grade:.1f} where {text.limit:.0f} is the most. Hardest: {worst.text}",
                             GRADE_REMEDY)


def measured(offer: Offer, pages: Sequence[Page]) -> dict[str, list[Text]]:
    """The sections of every page, by its name, with their sentences counted."""
    read = [(page.name, place, limit, said) for page in pages for place, limit, said in _sections(page)]
    counts = iter(_counted([said for *_, some in read for said in some], _stand_ins(offer, pages)))
    found: dict[str, list[Text]] = {page.name: [] for page in pages}
    for name, place, limit, said in read:
        sentences = (Sentence(text, *next(counts)) for text in said)
        found[name].append(Text(place, limit, tuple(one for one in sentences if one.words)))
    return found


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


def _sections(page: Page) -> Iterator[tuple[str, float, list[str]]]:
    """The place, the highest grade and the sentences of each section of a page."""
    main = MAIN.search(page.ours)
    if main is None:
        return
    parts = SECTION.split(page.ours[main.end():page.ours.rfind("</main>")])
    for place, html in zip((main[1], *parts[1::2]), parts[::2], strict=True):
        plain = main[1] in PLAIN_SHEETS or place in PLAIN_SECTIONS or place.endswith(PLAIN_END)
        yield place, PLAIN if plain else BODY, _sentences(html)


def _sentences(html: str) -> list[str]:
    text = " ".join(ANY_TAG.sub(GAP, INLINE.sub("", LEFT_OUT.sub(GAP, html))).split())
    pieces = END.sub(rf"\1{GAP}", unescape(text) if "&" in text else text).split(GAP)
    return [piece.strip() for piece in pieces if piece.rstrip().endswith(STOPS) or piece.strip().count(" ") >= LABEL]


def _counted(sentences: Sequence[str], plain: Iterable[str]) -> Iterator[tuple[int, int]]:
    """Words and syllables of each sentence."""
    text = small("\n".join(sentences))
    for name in plain:
        if name in text:
            text = re.sub(rf"{re.escape(name)}(?:s|es)?(?![a-z0-9])", STAND_IN, text)
    for line in text.split("\n"):
        spoken = [count for count in map(TABLE.__getitem__, line.split()) if count]
        yield len(spoken), sum(spoken)


def _stand_ins(offer: Offer, pages: Sequence[Page]) -> list[str]:
    """Names and addresses, and the words of the glossary that are longer than what stands for them; longest first."""
    head, firm = offer.head, offer.firm
    names = {said.text for said in (head.address, head.by, firm.name, firm.address, firm.code, *firm.insurance,
                                    *(person.name for person in offer.people), *(room.name for room in offer.rooms))}
    names |= {said.text.split(",")[0] for said in head.signs}
    terms = {term for page in pages for term in TERM.findall(page.ours)}
    known = {small(text) for text in names | terms}
    return sorted((text for text in known if sum(TABLE[word] for word in text.split()) > TABLE[STAND_IN]),
                  key=lambda text: (-len(text), text))


__all__ = ["Sentence", "Text", "grade", "joined", "measured", "reading"]
