"""The template environment: everything escaped, a missing value an error, a number printed one way only."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined, nodes
from jinja2.compiler import CodeGenerator, Frame
from markupsafe import Markup, escape

from sitegen.errors import FigureError
from sitegen.figure import Figure, Quote
from sitegen.offer.chances import Chance, Counted
from sitegen.sheets.cache import Cache
from sitegen.sheets.counts import counted
from sitegen.sheets.words import Slot, Words, cite, exactly, key_mark, looked_up, say, twentieths, unbroken

GLOSSARY = "glossary."
"""What the keys of the words of the trade begin with."""


class Anchor(str):
    """A file name, an id or a link of ours: the only text with digits in it that a template may print."""

    __slots__ = ()


INDENT = re.compile(r"^[ \t]+", re.MULTILINE)
ANCHOR = re.compile(r"(?:[a-z0-9-]+\.(?:html|css|webp|jpg))?(?:#[a-z0-9-]+)?|[a-z0-9-]+|(?:tel|sms):\+?[0-9-]+"
                    r"|mailto:[A-Za-z0-9.+_-]+@[A-Za-z0-9.-]+")


def anchor(text: str) -> Anchor:
    """Text as an anchor; raises FigureError for anything else than a name.html#id, an id or a number to call."""
    if not ANCHOR.fullmatch(text):
        raise FigureError(f"`{text}` is no link of ours; links are name.html#anchor")
    return Anchor(text)


def web(said: Quote | str) -> Markup:
    """Words with addresses in them, which stand without their scheme and may break after a slash alone."""
    return Markup(re.sub(r"https?://", "", str(escape(said))).replace("/", "/<wbr>"))


def tel(said: Quote) -> Anchor:
    """The link that calls a number."""
    return anchor("tel:" + "-".join(re.findall(r"\d+", said.text)))


def mail(letter: Markup, subject: Markup) -> Anchor:
    """The link that puts a letter into an e-mail of the reader's own, to nobody yet."""
    return Anchor(f"mailto:?subject={quote(str(subject.striptags()), safe='')}&body={_plain(letter)}")


def _plain(letter: Markup) -> str:
    """A letter of paragraphs without its tags, spelled for a link."""
    parts = (Markup(part).striptags() for part in str(letter).split("</p>"))
    return quote("\n\n".join(part for part in parts if part), safe="")


def sms(said: Quote) -> Anchor:
    """The link that writes a text message to a number."""
    return anchor(tel(said).replace("tel:", "sms:"))


def mail_to(said: Quote) -> Anchor:
    """The link that writes to an address."""
    return Anchor(f"mailto:{quote(said.text, safe='@')}")


def only_what_is_safe(value: Any) -> Any:
    """Jinja's last look at everything that a template prints.

    Markup comes from our own filters, Quote from people, Anchor from us.  Plain words may pass when no digit is
    in them; a bare number, a date, a truth value or a Figure that was not said may not.
    """
    if isinstance(value, Markup | Quote | Anchor):
        return value.text if isinstance(value, Quote) else value
    if isinstance(value, str) and not re.search(r"\d", value):
        return value
    if isinstance(value, StrictUndefined):
        return value
    kind = "a Figure that was not said" if isinstance(value, Figure) else f"{value!r}"
    raise FigureError(f"a template prints {kind}: numbers are Figures and pass through `say`, words of people are "
                      f"Quotes")


class _LateConstants(CodeGenerator):
    """Leaves constants in braces to the running template, so that they meet `only_what_is_safe` like any value."""

    def _output_child_to_const(self, node: nodes.Expr, frame: Frame, finalize: Any) -> str:
        if isinstance(node, nodes.TemplateData):
            return super()._output_child_to_const(node, frame, finalize)
        raise nodes.Impossible


class _Flush(FileSystemLoader):
    """Templates without their indents: they are for us, and on a page they are bytes that a phone waits for."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        text, path, fresh = super().get_source(environment, template)
        return INDENT.sub("", text), path, fresh


class _Environment(Environment):
    code_generator_class = _LateConstants


def bare(folders: tuple[Path, ...], cache: Cache) -> Environment:
    """An environment that looks at everything it prints, and has no way yet to print a number."""
    return _Environment(
        loader=_Flush([str(folder) for folder in folders]), autoescape=True, undefined=StrictUndefined,
        finalize=only_what_is_safe, trim_blocks=True, lstrip_blocks=True, auto_reload=False,
        bytecode_cache=FileSystemBytecodeCache(str(cache.folder)) if cache.folder else None)


def environment(folders: tuple[Path, ...], words: Words, cache: Cache) -> Environment:
    """One environment for all jobs of a process."""
    env = bare(folders, cache)
    env.filters.update(say=say, exactly=exactly, noun=Figure.noun, key_mark=key_mark, anchor=anchor, tel=tel,
                       mail=mail, sms=sms, mail_to=mail_to,
                       chance=_chance(words), looked_up=looked_up, unbroken=unbroken, web=web,
                       cite=lambda source: cite(source, words))
    env.globals.update(words=_words(words.inline), given=_words(words.given),
                       glossary=_glossary(words),
                       glossary_count=counted("sheets.who.words", len(_glossary(words))))
    return env


def _glossary(words: Words) -> tuple[str, ...]:
    """The words of the trade that the glossary explains, in its order."""
    return tuple(key.removeprefix(GLOSSARY) for key in words.html if key.startswith(GLOSSARY))


def _words(read: Callable[..., Markup]) -> Callable[..., Markup]:
    def of(key: str, given: dict[str, Slot] | None = None, **slots: Slot) -> Markup:
        return read(key, **(given or {}), **slots)
    return of


def _chance(words: Words) -> Callable[[Chance | Counted | None], Markup]:
    """A chance in one of the four forms: counted, counted but few, judged in three views, or not known."""
    def said(chance: Chance | Counted | None) -> Markup:
        if chance is None:
            return words.inline("chances.unknown")
        if isinstance(chance, Counted):
            return words.inline("chances.few" if chance.few else "chances.counted", above=chance.above,
                                jobs=chance.jobs, which=chance.which)
        return words.inline("chances.judged", judged=twentieths(chance.judged, "about"), half=twentieths(chance.half),
                            twice=twentieths(chance.twice), whole=chance.whole)
    return said
