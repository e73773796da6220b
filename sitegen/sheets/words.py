"""Our own words: Markdown files of keyed pieces with slots, turned to HTML once and filled with figures.

A file under `content/` is a list of pieces: a line `# key`, then the words.  What stands above the first key is
a note to the writer.  A slot `{name}` takes a Figure, a Quote, or several of either; no number is written in the
words themselves.

Nothing and one have sentences of their own: `# key if days is none`, `# key if old is one and unseen is none`.  The
first form of a key whose counts are these stands for it, with some of its slots or none.  What is one, and what other
forms a language has, is said by its plural rules.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path

from markupsafe import Markup, escape
from msgspec import Struct

from sitegen.errors import BuildError
from sitegen.figure import Figure, Quote, Source, int_of
from sitegen.offer.chances import Spoken
from sitegen.sheets.cache import Cache
from sitegen.sheets.plural import forms, takes
from sitegen.units import dollars

Slot = Figure | Quote | Markup | str | tuple[Figure, ...] | tuple[Quote, ...]
KEY = re.compile(r"^# +(.+?) *$", re.MULTILINE)
SLOT = re.compile(r"\{([a-z_]+)\}")
FORM, SPOKEN = " if ", forms()
COUNTED = re.compile(r"\d+$")
CODE = re.compile(r"\b(?:[A-Z]{1,3}-\d+|(?:\d{3}-)?\d{3}-\d{4})\b")
"""A licence or a phone number: it stays on one line."""


NOT_SEEN = {("told", False): "we were told this", ("assumed", False): "we assumed this",
            ("told", True): "in part as we were told", ("assumed", True): "in part assumed"}
"""What stands after a figure of the survey that nobody saw, by how it came and whether it is only a part."""


def say(figure: object) -> Markup:
    """A figure as it stands on a page, and after it whether nobody saw it; refuses anything else, and a private one."""
    if not isinstance(figure, Figure):
        raise BuildError(f"only a Figure can be said; got {figure!r}")
    said, unseen = _element(figure, figure.say()), figure.source.not_seen
    return said if unseen is None else Markup("{} ({})").format(said, NOT_SEEN[unseen.how, unseen.part])


def exactly(figure: Figure) -> Markup:
    """A total of money to the cent, where a page shows the lines that add up to it; a forecast is rounded elsewhere."""
    figure.say()                            # refuses what is private
    return _element(figure, dollars(int_of(figure)))


def looked_up(figures: Iterable[object], stem: str) -> Markup:
    """Figures for a script to look up, in one attribute: what their names begin with, then the rest and the value.

    Figures whose names count on by one stand behind one name, each with what it has more than the one before it:
    `p7.f2=100+50` is p7.f2 and p7.f3.  Refuses anything but whole Figures under that stem that may reach a page.
    """
    found, after, last = stem, "", 0
    for figure in figures:
        if not (isinstance(figure, Figure) and figure.name.startswith(f"{stem}.") and isinstance(figure.value, int)):
            raise BuildError(f"only whole Figures under {stem} can be looked up there; got {figure!r}")
        figure.say()                        # refuses what is private, and what is not said as a bare number
        found += f"+{figure.value - last}" if figure.name == after else f" {figure.name[len(stem) + 1:]}={figure.value}"
        after, last = COUNTED.sub(lambda count: str(int(count[0]) + 1), figure.name), figure.value
    return escape(found)


def key_mark(figure: Figure) -> Markup:
    """The number of a finding in its ring: one number for life."""
    return _element(figure, Markup('<span class="vh">finding </span>{}').format(figure.say()), Markup(' class="key"'))


def twentieths(spoken: Spoken, without: str = "") -> Markup:
    """A count of twentieths with its bound, or with a word where it has none; for the form of a judgement alone."""
    count, before = _element(spoken.count, spoken.count.raw()), spoken.bound or without
    return Markup("{} {}").format(before, count) if before else count


def _element(figure: Figure, shown: str, more: str = "") -> Markup:
    """The one way in which a figure stands in HTML."""
    return Markup(f'<data{escape(more)} value="{escape(figure.raw())}" data-figure="{escape(figure.name)}">'
                  f"{escape(shown)}</data>")      # a tenth of the time of Markup.format: a build has 1,700 of these


PAY, WHO = "what-you-could-pay.html#pay-from", "who.html#who-"
EXPLAINED = {
    "survey": f"{PAY}-survey", "price book": f"{PAY}-prices", "judgement": f"{PAY}-judgement", "worked out": PAY,
    "rule": f"{WHO}rules", "town card": f"{WHO}rules", "company": f"{WHO}licences",
    "finished jobs": f"{WHO}finished", "published": f"{WHO}method"}
"""Where each kind of source is explained."""


SOURCES = {kind: key for key in (
    "rows.source.survey", "rows.source.price book", "rows.source.company", "rows.source.town card",
    "rows.source.judgement", "rows.source.finished jobs", "rows.source.worked out", "rows.source.published")
    for kind in (key.rpartition(".")[2],)}
"""The words for each kind of source but a rule, which is said by its section."""


def cite(source: Source, names: Words) -> Markup:
    """Who stands behind a row, in a few words that lead to where it is explained; a rule by its section."""
    said = escape(source.text.split(",")[0]) if source.kind == "rule" else names.inline(SOURCES[source.kind])
    return Markup('<a class="row" href="{}">{}</a>').format(EXPLAINED[source.kind], said)


def show(slot: Slot) -> Markup:
    """The markup of what fills a slot: a figure, quote, text, or several; raises BuildError for text with a digit."""
    if isinstance(slot, Markup):
        return slot
    if isinstance(slot, Figure):
        return say(slot)
    if isinstance(slot, Quote):
        return unbroken(slot)
    if isinstance(slot, str):
        if re.search(r"\d", slot):
            raise BuildError(f"`{slot}` has a digit in it: numbers are Figures")
        return escape(slot)
    if slot and isinstance(slot[0], Figure):
        return Markup(" ").join(key_mark(one) for one in slot if isinstance(one, Figure))
    return Markup("; ").join(unbroken(Quote(one.text.strip().rstrip("."), one.source)) for one in slot
                             if isinstance(one, Quote))


def unbroken(said: Quote) -> Markup:
    """What somebody said, each code and phone number on one line; for the text of a page, not for an attribute."""
    return Markup(CODE.sub(lambda found: f'<span class="nb">{found[0]}</span>', str(escape(said.text))))


class _Piece(Struct, frozen=True):
    """A piece taken apart once: its text, every second part the name of a slot; as a whole, and without its tags."""

    block: tuple[str, ...]
    inline: tuple[str, ...] | None
    slots: frozenset[str]


class Words:
    """Every piece of words, by `file.key`."""

    def __init__(self, folders: tuple[Path, ...], cache: Cache) -> None:
        files = {path.stem: path for folder in folders for path in sorted(folder.rglob("*.md"))}
        sources = {stem: path.read_text("utf-8") for stem, path in files.items()}
        stored = cache.read("words", *sources.values())
        self.html: dict[str, str] = json.loads(stored) if stored else _render(sources)
        if stored is None:
            cache.write("words", json.dumps(self.html), *sources.values())
        self._apart: dict[str, _Piece] = {}
        self._forms = _forms(self.html)

    def _form(self, key: str, slots: Mapping[str, Slot]) -> str:
        """The key of the form that these counts ask for: the piece's own, or one for none or for one."""
        for form, counts in self._forms.get(key, ()):
            if all(_is(slots.get(name), spoken) for name, spoken in counts.items()):
                return form
        return key

    def _piece(self, key: str) -> _Piece:
        if key not in self._apart:
            if key not in self.html:
                raise BuildError(f"there are no words for `{key}`")
            html = self.html[key]
            block = tuple(SLOT.split(html))
            one = html.count("<p>") == 1 and html.startswith("<p>")
            self._apart[key] = _Piece(block, tuple(SLOT.split(html[3:-4])) if one else None, frozenset(block[1::2]))
        return self._apart[key]

    def block(self, key: str, **slots: Slot) -> Markup:
        """The words as they are, paragraphs and all."""
        form = self._form(key, slots)
        return _fill(form, self._piece(form).block, self._piece(key).slots, slots)

    def inline(self, key: str, **slots: Slot) -> Markup:
        """The words of one paragraph without its tags."""
        form = self._form(key, slots)
        parts = self._piece(form).inline
        if parts is None:
            raise BuildError(f"`{form}` is not one paragraph of words")
        return _fill(form, parts, self._piece(key).slots, slots)

    def given(self, key: str, **available: Slot) -> Markup:
        """The words as they are, with as many of the available slots as they ask for."""
        wanted = self._piece(key).slots
        return self.block(key, **{name: slot for name, slot in available.items() if name in wanted})

    def title(self, key: str) -> str:
        """A few words without slots, as plain text."""
        return str(self.inline(key).striptags())


def _fill(key: str, parts: tuple[str, ...], wanted: frozenset[str], slots: Mapping[str, Slot]) -> Markup:
    if wanted != slots.keys():
        raise BuildError(f"the words `{key}` have slots {sorted(wanted)}; got {sorted(slots)}")
    if not slots:
        return Markup(parts[0])
    filled = list(parts)
    filled[1::2] = [show(slots[name]) for name in parts[1::2]]
    return Markup("".join(filled))


def _is(slot: Slot | None, spoken: str) -> bool:
    """Whether what fills a slot is a whole count that takes a form."""
    count = slot.value if isinstance(slot, Figure) else None
    return isinstance(count, int | Fraction) and count.denominator == 1 and takes(count.numerator, spoken)


def _forms(keys: Iterable[str]) -> dict[str, list[tuple[str, dict[str, str]]]]:
    """The forms of each key for some counts, in their order: the whole heading, and what each slot must be."""
    found: dict[str, list[tuple[str, dict[str, str]]]] = {}
    for heading in keys:
        key, mark, counts = heading.partition(FORM)
        if mark:
            pairs = (one.partition(" is ") for one in counts.split(" and "))
            found.setdefault(key, []).append((heading, {slot: word for slot, _, word in pairs}))
    return found


def pieces(text: str) -> dict[str, str]:
    """The pieces of one file, by key."""
    parts = KEY.split(text)
    return {key: body.strip() for key, body in zip(parts[1::2], parts[2::2], strict=True)}


def _render(sources: Mapping[str, str]) -> dict[str, str]:
    from markdown import Markdown
    markdown = Markdown()
    html: dict[str, str] = {}
    for stem, text in sources.items():
        for key, body in pieces(text).items():
            markdown.reset()
            html[f"{stem}.{key}"] = markdown.convert(body)
    return html
