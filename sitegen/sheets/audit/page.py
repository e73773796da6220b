"""A built page as the audit reads it: its tags, its visible text, and where on it something stands.

One pass of patterns over HTML that we wrote ourselves; nothing here has to read anybody else's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import unescape

TAG = re.compile(r"<[a-zA-Z][^>]*>")
ANY_TAG = re.compile(r"<[^>]*>")
INLINE = re.compile(r"</?(?:data|span|a|b|i|em|strong|code|small|sup|sub|output|label)(?![a-z0-9])[^>]*>")
QUOTED = re.compile(r'="[^"]*"')
UNSEEN = re.compile(r"<!--.*?-->|<(style|script)\b[^>]*>.*?</\1>", re.DOTALL)
PEOPLE = re.compile(r'<blockquote.*?</blockquote>|<section class="found".*?</section>', re.DOTALL)
SAID = re.compile(r"<h3>.*?</h3>", re.DOTALL)
READ_ALOUD = re.compile(r'\s(?:aria-label|alt)="([^"]*)"')
ID = re.compile(r'\sid="([^"]*)"')
GAP = "\0"
"""Stands between two blocks of text, and for what is no text of ours; white space never swallows it."""

SENTENCE = re.compile(r"(?<=[.!?])\s+")


@dataclass
class Page:
    """One built page: the name of its file, its HTML, and the sentence forms that a chance may take on it."""

    name: str
    html: str
    forms: tuple[re.Pattern[str], ...] = ()

    @cached_property
    def ours(self) -> str:
        """The page with what nobody reads and the words of people blanked out, place for place."""
        seen = UNSEEN.sub(_blank, self.html)
        return PEOPLE.sub(lambda part: _blank(part) if part[0].startswith("<b") else SAID.sub(_blank, part[0]), seen)

    @cached_property
    def free(self) -> str:
        """The page as `ours`, without the sentences in which a chance may be spoken."""
        text = self.ours
        for form in self.forms:
            text = form.sub(_blank, text)
        return text

    @cached_property
    def text(self) -> str:
        """All that a reader sees or hears of `free`, in small letters, block by block."""
        return small(_plain(self.free) + GAP + unescape(GAP.join(READ_ALOUD.findall(self.free))) + GAP)

    @cached_property
    def tags(self) -> list[str]:
        """Every opening tag."""
        return TAG.findall(UNSEEN.sub("", self.html) if "<!--" in self.html else self.html)

    @cached_property
    def shapes(self) -> set[str]:
        """Every kind of tag on the page: its name and the names of its attributes, without their values."""
        return set(TAG.findall(QUOTED.sub("", "".join(self.tags))))

    @cached_property
    def ids(self) -> list[str]:
        """Every id, in order."""
        return ID.findall("".join(self.tags))

    def place(self, at: int) -> str:
        """The row, else the id, that stands last before a place in the page; the tag that starts there counts."""
        end = self.html.find(">", at) if self.html.startswith("<", at) else at
        ids = ID.findall(self.html, 0, end + 1)
        if not ids:
            return "top"
        last: str = ids[-1]
        return "row " + last.removeprefix("compare-row-") if last.startswith("compare-row-") else last

    def blocks(self) -> Iterator[tuple[int, str]]:
        """Where each block of the text of `free` starts, and the block; slow, so for what was found amiss alone."""
        at = 0
        for found in ANY_TAG.finditer(INLINE.sub(lambda tag: "\1" * len(tag[0]), self.free)):
            yield from self._block(at, found.start())
            at = found.end()
        yield from self._block(at, len(self.free))
        yield from ((said.start(), unescape(said[1])) for said in READ_ALOUD.finditer(self.free))

    def _block(self, start: int, end: int) -> Iterator[tuple[int, str]]:
        for part in re.finditer(f"[^{GAP}]+", self.free[start:end]):
            words = " ".join(unescape(INLINE.sub("", part[0])).split())
            if words:
                yield start + part.start() + len(part[0]) - len(part[0].lstrip()), words


def small(text: str) -> str:
    """Text in small letters, as phrases are looked for in it."""
    return text.lower().replace("’", "'")


def words_of(html: str) -> str:
    """The words of a piece of a page, as a reader sees them."""
    return _plain(html).replace(GAP, " ").strip()


def attributes(tag: str) -> Mapping[str, str]:
    """The attributes of one tag."""
    return dict(re.findall(r'\s([a-z][a-z0-9:-]*)(?:="([^"]*)")?', tag))


def sentences(block: str) -> list[str]:
    """The sentences of a block."""
    return SENTENCE.split(block)


def _plain(html: str) -> str:
    text = ANY_TAG.sub(GAP, INLINE.sub("", html))
    return " ".join((unescape(text) if "&" in text else text).split())


def _blank(found: re.Match[str]) -> str:
    return GAP * len(found[0])


__all__ = ["Page", "attributes", "sentences", "small", "words_of"]
