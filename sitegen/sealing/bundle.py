"""A built site as the parts that are sealed: the first page by itself, all others together, and every photograph.

The parts are told from the pages as they stand in their folder, and from nothing else, so that the same site gives the
same bytes: their SHA-512 is the fingerprint of a version, and it is what a signature refers to.
"""

from __future__ import annotations

import hashlib
import html
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

from msgspec import Struct

from sitegen.errors import BuildError

FIRST, STYLE, SCRIPT = "index", "sheets.css", "sheets.js"
STEP = 3072
"""Every part is padded to a multiple of this [bytes], which is a multiple of 3 too: base64 of it has no spare bits."""

PICTURE = re.compile(r'<picture>\s*<source type="image/webp" srcset="([a-z0-9-]+\.webp)">\s*<img src="[a-z0-9-]+\.jpg"',
                     re.ASCII)
NAMES = re.compile(r' data-figure="[^"]*"')
"""Names of figures: they lead whoever works on a proposal to its method, and no reader sees them."""

NOTHING = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw=="
"""One point without color, which stands in the place of a photograph until it is opened."""

FOLDS, END = '<div class="folded">', "</main>"
"""Where the first page's folds begin, which follow with the other pages so that what stands open is read sooner; and
where its main part ends."""

TITLE, BODY = re.compile(r"<title>(.*?)</title>", re.DOTALL), re.compile(r"<body>\n?(.*)</body>", re.DOTALL)
STYLES = re.compile(r"<style>(.*?)</style>", re.DOTALL)
LAST_SCRIPT = re.compile(r"<script([^>]*)>((?:(?!</script>).)*)</script>\s*\Z", re.DOTALL)
SOURCE = re.compile(r'src="([a-z0-9-]+\.js)"')


class Part(Struct, frozen=True):
    """One part: its bytes before sealing, and whether they are worth compressing."""

    data: bytes
    compress: bool


class Bundle(Struct, frozen=True):
    """The parts of a site in order: the first page, all others, then photographs.

    `styles` and `scripts` are the texts that a page of it runs, for the hashes of the policy; `unlinked` is the second
    part without what holds the link.
    """

    parts: tuple[Part, ...]
    styles: tuple[str, ...]
    scripts: tuple[str, ...]
    unlinked: bytes

    @property
    def fingerprint(self) -> str:
        """The SHA-512 of all parts without the link, each with its length before it."""
        digest = hashlib.sha512()
        for data in (self.parts[0].data, self.unlinked, *(part.data for part in self.parts[2:])):
            digest.update(len(data).to_bytes(8) + data)
        return digest.hexdigest()


class _Page(Struct, frozen=True):
    title: str
    body: str
    style: str | None
    script: str | None
    asks: tuple[str, ...]


def bundle(site: Path, turn: str, opened: Mapping[str, object], said: Mapping[str, object],
           linked: Mapping[str, str] = MappingProxyType({})) -> Bundle:
    """The bundle of a built site.  `turn` is the script that leads from page to page; `opened` is what the first part
    needs to know beside its page, `said` what the second does.  `linked` is what holds the link itself: it is sealed
    with the second part and left out of the fingerprint, since a fresh link is no other version.

    Raises BuildError where the folder holds no site that we wrote.
    """
    pages = {path.stem: _page(path) for path in sorted(site.glob("*.html"))}
    first = pages.pop(FIRST, None)
    if first is None or first.style is None or first.script is None:
        raise BuildError(f"{site} is no built site: its first page is not there.")
    photographs = sorted(path for path in site.glob("*.webp"))
    places = {path.name: 2 + i for i, path in enumerate(photographs)}
    style, script = (site / STYLE).read_text("utf-8"), (site / SCRIPT).read_text("utf-8")
    open_part, folds, foot = _taken_apart(_sealed(first.body, places))
    opening = {"title": first.title, "body": open_part, "style": first.style, "script": first.script, **opened}
    own = {stem: "\n".join((site / name).read_text("utf-8") for name in page.asks if name != SCRIPT)
           for stem, page in pages.items() if set(page.asks) - {SCRIPT}}
    rest = {"style": style, "own": own, "script": script, "turn": turn, **said, "folds": folds, "foot": foot,
            "pages": {stem: [page.title, _sealed(page.body, places)] for stem, page in pages.items()}}
    unlinked = _json(rest)
    whole = unlinked[:-1] + b"," + _json(dict(linked))[1:] if linked else unlinked
    pictures = (Part(path.read_bytes(), False) for path in photographs)
    return Bundle((Part(_json(opening), True), Part(whole, True), *pictures), (first.style, style),
                  (first.script, script, turn, *own.values()), unlinked)

def _taken_apart(body: str) -> tuple[str, str, str]:
    """The first page's body up to its folds, these, and what stands after its main part."""
    main, _, foot = body.partition(END)
    before, mark, folds = main.partition(FOLDS)
    return before + END, mark + folds, foot


def _page(path: Path) -> _Page:
    text = path.read_text("utf-8")
    title, body, style = TITLE.search(text), BODY.search(text), STYLES.search(text)
    if title is None or body is None:
        raise BuildError(f"{path} is no page of ours.")
    left, scripts, asks = last_scripts(body[1])
    return _Page(html.unescape(title[1]), left, style[1] if style else None, scripts[0] if scripts else None, asks)


def last_scripts(body: str) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """A body without the scripts that it ends with, the texts of these, and the files that they stand in."""
    texts: list[str] = []
    files: list[str] = []
    while found := LAST_SCRIPT.search(body):
        body, source = body[:found.start()], SOURCE.search(found[1])
        if source:
            files.insert(0, source[1])
        else:
            texts.insert(0, found[2])
    return body, tuple(texts), tuple(files)


def _sealed(body: str, places: Mapping[str, int]) -> str:
    """A page's body with photographs named by their part, and without the names of figures."""
    def photograph(found: re.Match[str]) -> str:
        return f'<picture><img data-part="{places[found[1]]}" src="{NOTHING}"'
    return NAMES.sub("", PICTURE.sub(photograph, body))


def _json(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode("utf-8")


def outside(text: str) -> Iterator[str]:
    """Every address of another file that a body would ask for; a sealed page asks for none."""
    yield from re.findall(r'\b(?:src|srcset|poster)="(?!data:)([^"]*)"', text)


__all__ = ["NOTHING", "STEP", "Bundle", "Part", "bundle", "outside"]
