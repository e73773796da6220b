"""Links, ids and attributes: what lets all sheets stand in one document, from disk, under a strict policy."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

from sitegen.errors import Breach
from sitegen.sheets.audit.page import TAG, Page, attributes

POINTS = re.compile(r'\s(href|src|srcset|action|formaction|poster|ping|xlink:href|data)="([^"]*)"')
SHEET = re.compile(r"([a-z0-9-]+\.html)#([a-z0-9-]+)")
CALL = re.compile(r"tel:\+?[0-9-]+")
FILES = (".css", ".js", ".webp", ".jpg")
ELSEWHERE = re.compile(r"[/\\]|[a-zA-Z]:[/\\]|[a-z][a-z0-9+.-]*:")

LINK = "a link is name.html#anchor of this site"
ONCE = "an id stands once in the whole site"
STYLE = "no style attribute"
HANDLER = "no inline handler"
HOST = "nothing points outside the site"
QUOTES = "attributes stand in double quotes"


def links(pages: Sequence[Page], files: AbstractSet[str]) -> Iterator[Breach]:
    """Every breach of the sheet contract; `files` are the names of all files of the site."""
    ids = {page.name: set(page.ids) for page in pages}
    good: set[str] = set()
    for page in pages:
        for name, value in POINTS.findall("".join(page.tags)):
            if value not in good:
                wrong = _wrong(name, value, ids, files)
                if wrong is None:
                    good.add(value)
                else:
                    at = page.html.find(f'{name}="{value}"')
                    yield Breach(page.name, page.place(page.html.rfind("<", 0, at)), wrong[0],
                                 f'{name}="{value}"', wrong[1])
        yield from _attributes(page)
    yield from _twice(pages)


def _wrong(name: str, value: str, ids: Mapping[str, set[str]], files: AbstractSet[str]) -> tuple[str, str] | None:
    """The rule that a link breaks, and the way out; None when it is sound."""
    sheet = SHEET.fullmatch(value)
    if sheet and name == "href":
        if sheet[1] not in ids:
            return LINK, f"There is no sheet {sheet[1]}: name one that is built."
        if sheet[2] not in ids[sheet[1]]:
            return LINK, f"{sheet[1]} has no id {sheet[2]}: name one that is there."
        return None
    if value.startswith("data:") or CALL.fullmatch(value) or (value in files and value.endswith(FILES)):
        return None
    if ELSEWHERE.match(value):
        return HOST, "Leave it out, or put what it names into the site."
    return LINK, "Write the sheet's file, a #, and an id that stands on that sheet."


def _attributes(page: Page) -> Iterator[Breach]:
    bad = {shape for shape in page.shapes
           if "=" in shape or any(name == "style" or name.startswith("on") for name in shape[1:-1].lower().split()[1:])}
    if not bad:
        return
    for found in TAG.finditer(page.ours):
        shape = re.sub(r'="[^"]*"', "", found[0])
        if shape not in bad:
            continue
        place = page.place(found.start())
        if "=" in shape:
            yield Breach(page.name, place, QUOTES, found[0], 'Write name="value".')
        for name in attributes(found[0].lower()):
            if name == "style":
                yield Breach(page.name, place, STYLE, found[0], "Give it a class, and style it beside its template.")
            elif name.startswith("on"):
                yield Breach(page.name, place, HANDLER, found[0], "Mount it from a script beside its template.")


def _twice(pages: Sequence[Page]) -> Iterator[Breach]:
    first: dict[str, str] = {}
    for page in pages:
        for name in page.ids:
            if name in first:
                yield Breach(page.name, name, ONCE, f"it stands on {first[name]} too",
                             "Start the id with the name of its sheet.")
            first.setdefault(name, page.name)


__all__ = ["links"]
