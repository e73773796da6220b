"""Links, ids and attributes: what lets all sheets stand in one document, from disk, under a strict policy."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from html import unescape

from sitegen.errors import Breach
from sitegen.sheets.audit.page import QUOTED, Finding, Page, Part, Tag

POINTS = re.compile(r'\s(href|src|srcset|action|formaction|poster|ping|xlink:href|data)="([^"]*)"')
SHEET = re.compile(r"([a-z0-9-]+\.html)#([a-z0-9-]+)")
CALL = re.compile(r"(?:tel|sms):\+?[0-9-]+|mailto:(?=[^@%]*[@%])[A-Za-z0-9.%+_~@-]+")
SEND = re.compile(r"mailto:\?subject=[A-Za-z0-9%._~-]*&body=[A-Za-z0-9%._~-]+")
"""A message of the reader's own, to nobody yet."""
FILES = (".css", ".js", ".webp", ".jpg")
ELSEWHERE = re.compile(r"[/\\]|[a-zA-Z]:[/\\]|[a-z][a-z0-9+.-]*:")
UNQUOTED = frozenset("=\"'")
"""What is left in a tag whose attributes do not stand in double quotes."""

LINK = "a link is name.html#anchor of this site"
ONCE = "an id stands once in the whole site"
STYLE = "no style attribute"
HANDLER = "no inline handler"
HOST = "nothing points outside the site"
QUOTES = "attributes stand in double quotes"


def links(pages: Sequence[Page], files: AbstractSet[str]) -> Iterator[Breach]:
    """Every link that leads nowhere or away, and every id that stands twice; `files` are all files of the site."""
    ids = {page.name: {name for part in page.parts for _, name in part.ids} for page in pages}
    judged: dict[tuple[str, str], tuple[str, str] | None] = {}
    for page in pages:
        for part in page.parts:
            for link in part.once(_pointing):
                if link not in judged:
                    judged[link] = _wrong(*link, ids, files)
                if wrong := judged[link]:
                    yield Breach(page.name, page.place(part, _first(part, *link)), wrong[0],
                                 f'{link[0]}="{link[1]}"', wrong[1])
    yield from _twice(pages)


def _pointing(part: Part) -> Sequence[tuple[str, str]]:
    """Every attribute that points somewhere, with its value, once."""
    return [*dict.fromkeys((name, unescape(value)) for name, value in POINTS.findall(part.source))]


def _first(part: Part, name: str, value: str) -> int:
    return min((at for tag, at in part.first.items() if tag.attributes.get(name) == value), default=0)


def _wrong(name: str, value: str, ids: Mapping[str, set[str]], files: AbstractSet[str]) -> tuple[str, str] | None:
    """The rule that a link breaks, and the way out; None when it is sound."""
    sheet = SHEET.fullmatch(value)
    if sheet and name == "href":
        if sheet[1] not in ids:
            return LINK, f"There is no sheet {sheet[1]}: name one that is built."
        if sheet[2] not in ids[sheet[1]]:
            return LINK, f"{sheet[1]} has no id {sheet[2]}: name one that is there."
        return None
    if (value.startswith("data:") or CALL.fullmatch(value) or SEND.fullmatch(value)
            or (value in files and value.endswith(FILES))):
        return None
    if ELSEWHERE.match(value):
        return HOST, "Leave it out, or put what it names into the site."
    return LINK, "Write the sheet's file, a #, and an id that stands on that sheet."


def _twice(pages: Sequence[Page]) -> Iterator[Breach]:
    first: dict[str, str] = {}
    for page in pages:
        for part in page.parts:
            for _, name in part.ids:
                if name in first:
                    yield Breach(page.name, name, ONCE, f"it stands on {first[name]} too",
                                 "Start the id with the name of its sheet.")
                first.setdefault(name, page.name)


def attributes(part: Part) -> Iterator[Finding]:
    """Every attribute that a strict policy refuses, and every tag that is not written as ours are."""
    if any(name == "style" or name.startswith("on") or not UNQUOTED.isdisjoint(name) for name in part.vocabulary):
        for tag in part.first:
            wrong = [*_refused(tag)] if tag.opens else []
            for at in part.every(tag) if wrong else ():
                yield from (Finding(at, rule, tag.text, remedy) for rule, remedy in wrong)
    for broken in part.broken:
        yield Finding(0, QUOTES, broken, 'Write name="value", and `&lt;` for a sign in words.')


def _refused(tag: Tag) -> Iterator[tuple[str, str]]:
    if not UNQUOTED.isdisjoint(QUOTED.sub("", tag.text)):
        yield QUOTES, 'Write name="value".'
    for name in tag.attributes:
        if name == "style":
            yield STYLE, "Give it a class, and style it beside its template."
        elif name.startswith("on"):
            yield HANDLER, "Mount it from a script beside its template."


__all__ = ["attributes", "links"]
