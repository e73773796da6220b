"""Pages and figures as readable text: one line a sentence or table row, each figure with its name.

A figure stands as `[what is read | its name]`, a drawing by its description, what a script fills or a chart draws as
it stands in the page.  Nothing else of the mark-up is kept, so that a diff of these files is what a reader would see.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from difflib import unified_diff
from html.parser import HTMLParser
from pathlib import Path

from sitegen.figure import Figure

LINES = frozenset({"h1", "h2", "h3", "h4", "p", "li", "dt", "dd", "tr", "figcaption", "caption", "summary", "title",
                   "desc", "label", "legend", "button", "option", "div", "section", "article", "nav", "ol", "ul", "dl",
                   "table", "main", "footer", "header", "figure", "svg", "fieldset", "template", "thead", "tbody",
                   "body"})
"""Elements before and after which a line ends."""

HEADS = {"h1": "# ", "h2": "## ", "h3": "### ", "h4": "#### ", "li": "- "}
ACCEPT = "Read it; if it is meant, run `python -m tests.golden` and commit the files with the change."

LEFT_OUT = frozenset({"script", "style"})
SENTENCE = re.compile(r"(?<=[.?!])\s+(?=[\"“(\[]?[A-Z0-9])")


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.lines: list[str] = []
        self.here: list[str] = []
        self.head, self.figure, self.muted = "", "", 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag in LEFT_OUT:
            self.muted += 1
        if tag in LINES:
            self._end()
            self.head = HEADS.get(tag, "")
        if tag in ("td", "th") and self.here:
            self.here.append(" | ")
        if tag == "br":
            self.here.append(" ")
        if tag == "data":
            self.figure = str(given["data-figure"])
            self.here.append("[")
        for name in ("aria-label", "data-figures", "data-ending"):
            if given.get(name):
                self.here.append(f" ({name}: {given[name]}) ")
        if tag == "span" and given.get("data-slot"):
            self.here.append(f"<{given['data-slot']}>")

    def handle_endtag(self, tag: str) -> None:
        if tag in LEFT_OUT:
            self.muted -= 1
        if tag == "data":
            self.here.append(f" | {self.figure}]")
        if tag in LINES:
            self._end()

    def handle_data(self, data: str) -> None:
        if not self.muted:
            self.here.append(data)

    def _end(self) -> None:
        text = " ".join("".join(self.here).split())
        self.here.clear()
        if text:
            self.lines += [self.head + sentence for sentence in SENTENCE.split(text)]
            self.head = ""


def page_text(html: str) -> str:
    """One page as lines."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return "\n".join(reader.lines) + "\n"


def figures_text(figures: Iterable[Figure]) -> str:
    """All figures of an offer: name, value, unit, then method, source and what it came from.

    A chance stands to ten places: beyond these the order in which a processor adds floats shows.
    """
    lines = []
    for figure in figures:
        row = figure.as_json()
        private = "  (private)" if figure.private else ""
        value = round(row["value"], 10) if isinstance(row["value"], float) else row["value"]
        lines += [f"{figure.name} = {value} [{figure.unit}]{private}",
                  f"    {figure.method}  <- {row['source']}" + (f"  <- {', '.join(figure.inputs)}" if figure.inputs
                                                                 else "")]
    return "\n".join(lines) + "\n"


def differs(folder: Path, now: Mapping[str, str]) -> str:
    """How the texts of a folder differ from those that were accepted; empty where they are the same."""
    stands, called = {path.name: path.read_text("utf-8") for path in sorted(folder.glob("*.txt"))}, folder.name
    if sorted(now) != sorted(stands):
        return f"{called}: files came or went, {sorted({*now} ^ {*stands})}. {ACCEPT}"
    diff = [line for name in now if now[name] != stands[name]
            for line in unified_diff(stands[name].splitlines(), now[name].splitlines(), f"{called}/{name}, accepted",
                                     f"{called}/{name}, now", lineterm="", n=0)]
    return "\n".join([*diff[:80], ACCEPT]) if diff else ""
