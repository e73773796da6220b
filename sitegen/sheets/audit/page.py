"""A built page as the audit reads it: parsed once into tags and the words between them, which all rules use.

The pages are our own, so that one pattern tells a tag from words, at a fifth of what the parser of the standard
library takes; a test holds every tag and word that it finds on a demo house against that parser.

A page falls into what stands before `main`, `main`, and what follows.  The details of two jobs are often the same
but for their heads: a `main` that was read before is not read again, nor are the rules that look at it alone.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from functools import cached_property, lru_cache
from html import unescape
from itertools import chain
from typing import Any, NamedTuple, TypeVar

TOKEN = re.compile(r'(<!--.*?-->|<script\b[^>]*>.*?</script>|<style\b[^>]*>.*?</style>'
                   r'|<[a-zA-Z/!][^>"]*(?:"[^"]*"[^>"]*)*>)', re.DOTALL)
"""One tag; a comment, a script and a style count as one, with all that is in them."""

BROKEN = re.compile(r"<[a-zA-Z/][^\n\0]{0,60}")
"""The start of a tag that never ends."""

TAG = re.compile(r"<(/?)([a-zA-Z][^\s/>]*)")
QUOTED = re.compile(r'="[^"]*"')
CLASS = re.compile(r'\sclass="([^"]*)"')
ATTRIBUTE = re.compile(r'\s([a-zA-Z][a-zA-Z0-9:-]*)(?:="([^"]*)")?')
INLINE = frozenset({"data", "span", "a", "b", "i", "em", "strong", "code", "small", "sup", "sub", "output", "label"})
READ_ALOUD = ("aria-label", "alt")
GAP = "\0"
"""Stands between two blocks of text, and for what is no text of ours; white space never swallows it."""

FORM = "form" + GAP
"""The name of the element that is put around a sentence form of a chance; nobody can write it on a page."""

SENTENCE = re.compile(r"(?<=[.!?])\s+")
TAGS, MAINS = 4096, 48
"""How many tags and how many `main` are kept, for the pages that come after; two jobs have fewer `main`."""

Span = tuple[int, int]
T = TypeVar("T")


class Tag:
    """One tag: as it stands, its name in small letters, whether it opens an element, its class and attributes.

    `gap` is what it leaves in the text around it.
    """

    __slots__ = ("_attributes", "class_name", "gap", "name", "opens", "text")

    def __init__(self, text: str, name: str, opens: bool) -> None:
        self.text, self.name, self.opens = text, name, opens
        self.gap = "" if name in INLINE else GAP
        found = CLASS.search(text) if opens and "class=" in text else None
        self.class_name = found[1] if found else ""
        self._attributes: Mapping[str, str] | None = None

    @property
    def attributes(self) -> Mapping[str, str]:
        """Its attributes by name in small letters; read when they are asked for, since few are."""
        if self._attributes is None:
            found = ATTRIBUTE.findall(self.text) if self.opens else ()
            self._attributes = {name.lower(): unescape(value) if "&" in value else value for name, value in found}
        return self._attributes


class Finding(NamedTuple):
    """What breaks a rule at a tag of a part: the rule, what is there, and the way out."""

    at: int
    rule: str
    found: str
    remedy: str


@lru_cache(maxsize=TAGS)
def tag_of(text: str) -> Tag:
    """A tag, a comment, or the opening tag of a script or a style."""
    named = TAG.match(text)
    if named is None:
        return Tag(text, "", False)
    name = named[2].lower()
    if name in ("script", "style"):
        text = text[:text.index(">") + 1]
    return Tag(text, name, not named[1])


class Part:
    """A stretch of a page: its tags, the words before each of them and after the last, and tags that never end."""

    def __init__(self, html: str, form: re.Pattern[str] | None = None) -> None:
        if form is not None and ".spoken" in html:
            html = form.sub(lambda said: f"<{FORM}>{said[0]}</{FORM}>", html)
        pieces = TOKEN.split(html)
        said = GAP.join(pieces[::2])
        self.broken = BROKEN.findall(said) if "<" in said else []
        self.said: Sequence[str] = (unescape(said) if "&" in said else said).split(GAP)
        self.tags: Sequence[Tag] = [*map(tag_of, pieces[1::2])]
        self._known: dict[Callable[[Part], Any], Any] = {}

    def once(self, rule: Callable[[Part], T]) -> T:
        """What a rule says of this part alone, worked out once for as long as the part is kept."""
        if rule not in self._known:
            self._known[rule] = rule(self)
        said: T = self._known[rule]
        return said

    @cached_property
    def first(self) -> Mapping[Tag, int]:
        """Every different tag, and where it stands first."""
        return dict(zip(reversed(self.tags), range(len(self.tags) - 1, -1, -1), strict=True))

    @cached_property
    def names(self) -> Sequence[str]:
        """The name of every tag."""
        return [tag.name for tag in self.tags]

    @cached_property
    def source(self) -> str:
        """Every different tag as it stands, one after the other, without comments."""
        return "".join([tag.text for tag in self.first if tag.name])

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """The names of all tags, as in `<p`, and of all attributes: what is not in it need not be looked for."""
        return frozenset(QUOTED.sub("", self.source).lower().replace("<", " <").replace(">", " ").split())

    def every(self, tag: Tag) -> Iterator[int]:
        """Wherever a tag stands."""
        return (at for at, one in enumerate(self.tags) if one is tag)

    @cached_property
    def ids(self) -> Sequence[tuple[int, str]]:
        """Every id with its tag, in order, as often as it stands there."""
        wanted = {tag for tag in self.first if "id=" in tag.text and "id" in tag.attributes}
        return [(at, tag.attributes["id"]) for at, tag in enumerate(self.tags) if tag in wanted]

    def last_id(self, at: int) -> str | None:
        """The id that stands last up to a tag."""
        before = bisect_right(self.ids, at, key=lambda one: one[0])
        return self.ids[before - 1][1] if before else None

    # --- elements ---

    def elements(self, *names: str, inside: Span | None = None) -> Iterator[Span]:
        """Every element of these names, or those inside another, by their tags."""
        first, last = inside or (-1, len(self.tags))
        for at, name in enumerate(self.names[first + 1:last], first + 1):
            if name in names and self.tags[at].opens:
                yield at, self.end(at)

    def end(self, at: int) -> int:
        """The tag that closes the element of a tag; the tag itself where none does."""
        here, open_yet = at, 1
        while open_yet:
            try:
                here = self.names.index(self.names[at], here + 1)
            except ValueError:
                return at
            open_yet += 1 if self.tags[here].opens else -1
        return here

    def outermost(self, wanted: AbstractSet[Tag]) -> list[Span]:
        """The elements of these tags, without those inside of such."""
        found, after = [], -1
        for at, tag in enumerate(self.tags) if wanted else ():
            if tag in wanted and at > after:
                after = self.end(at)
                found.append((at, after))
        return found

    # --- words ---

    def words(self, inside: Span, but: Sequence[Span] = ()) -> str:
        """The words inside an element, as a reader sees them, but for those inside of some others."""
        return " ".join(self.join(self.without(but), *inside).replace(GAP, " ").split())

    def without(self, spans: Sequence[Span]) -> Sequence[str]:
        """The words before each tag, with a GAP for what is said inside of these elements."""
        if not spans:
            return self.said
        said = list(self.said)
        for first, last in spans:
            said[first + 1:last + 1] = [GAP] * (last - first)
        return said

    def join(self, said: Sequence[str], first: int, last: int) -> str:
        """What is said after one tag and before another, with a GAP between two blocks."""
        gaps = [tag.gap for tag in self.tags[first + 1:last]]
        return "".join(chain.from_iterable(zip(said[first + 1:last], gaps, strict=True))) + said[last]

    @cached_property
    def quoted(self) -> list[Span]:
        """The words of people, which are theirs: letters, and findings, each the plain head of an item of its list."""
        found = [*self.elements("blockquote")] if "<blockquote" in self.vocabulary else []
        for section in self.elements("section") if 'class="found"' in self.source else ():
            if self.tags[section[0]].class_name == "found":
                found += (head for head in self.elements("h3", inside=section) if not self.tags[head[0]].attributes)
        return found

    @cached_property
    def not_searched(self) -> list[Span]:
        """What is not searched: the words of people, and the sentence forms of a chance."""
        return [*self.quoted, *(self.elements(FORM) if f"<{FORM}" in self.vocabulary else ())]

    @cached_property
    def text(self) -> str:
        """All that a reader sees or hears, in small letters, block by block; without what is not searched."""
        seen = self.join(self.without(self.not_searched), -1, len(self.tags))
        return small(GAP.join([" ".join(seen.split()), *(said for _, said in self._aloud()), ""]))

    def blocks(self) -> Iterator[tuple[int, str]]:
        """Each block of `text` as it stands, with the tag before it; slow, so for what was found amiss alone."""
        said, at, run = self.without(self.not_searched), -1, ""
        for here, piece in enumerate(said):
            if not run.strip():
                at = here - 1
            *done, run = f"{run}{piece}{self.tags[here].gap if here < len(self.tags) else GAP}".split(GAP)
            yield from ((at, " ".join(words.split())) for words in done if words.strip())
        yield from self._aloud()

    def searched(self, at: int) -> bool:
        """Whether a tag stands in no words of people and in no form of a chance."""
        return not any(first <= at <= last for first, last in self.not_searched)

    def _aloud(self) -> Iterator[tuple[int, str]]:
        for name in READ_ALOUD:
            if name in self.vocabulary:
                wanted = {tag for tag in self.first if f"{name}=" in tag.text and name in tag.attributes}
                yield from ((at, tag.attributes[name]) for at, tag in enumerate(self.tags)
                            if tag in wanted and self.searched(at))


class Page:
    """One built page: the name of its file, and its parts; `form` is the sentence form that a chance may take."""

    def __init__(self, name: str, html: str, form: re.Pattern[str] | None = None) -> None:
        self.name = name
        start, end = html.find("<main"), html.rfind("</main>") + len("</main>")
        self.main = _main(html[start:end], form) if 0 <= start < end else None
        self.parts = (Part(html, form),) if self.main is None else (
            Part(html[:start], form), self.main, Part(html[end:], form))

    def place(self, part: Part, at: int) -> str:
        """The row, else the id, that stands last up to a tag of a part."""
        before = self.parts[:self.parts.index(part)]
        found = next((name for name in (part.last_id(at), *(one.last_id(len(one.tags)) for one in before[::-1]))
                      if name), "top")
        return "row " + found.removeprefix("compare-row-") if found.startswith("compare-row-") else found


@lru_cache(maxsize=MAINS)
def _main(html: str, form: re.Pattern[str] | None) -> Part:
    return Part(html, form)


def small(text: str) -> str:
    """Text in small letters, as phrases are looked for in it."""
    return text.lower().replace("’", "'")


def sentences(block: str) -> list[str]:
    """The sentences of a block."""
    return SENTENCE.split(block)


__all__ = ["FORM", "GAP", "Finding", "Page", "Part", "Span", "Tag", "sentences", "small"]
