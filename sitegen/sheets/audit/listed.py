"""Wherever options are listed, the lowest price today comes first; wherever it is asked if a price can rise, it can."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from sitegen.errors import Breach
from sitegen.sheets.audit.claims import Claims
from sitegen.sheets.audit.page import Finding, Part, Span, small

ORDER_RULE = "lowest price today first"
RISE_RULE = "NO for `can it rise` only where no way up exists"

ENDS = {"th": ("thead", "tbody", "table"), "dt": ("dl",), "li": ("ul", "ol"), "h2": ("section",), "h3": ("section",),
        "h4": ("section",)}
"""Where a list of options ends, by the tag that its names stand in."""

WATCHED = frozenset(ENDS).union(*ENDS.values())
SAID_SO = re.compile(r"[Ll]owest (?:price )?today first")


def prices(claims: Claims) -> Iterator[Breach]:
    """Whether the offer itself names its options in order of price."""
    if [*claims.options] != claims.by_price:
        yield Breach("the offer", "options", ORDER_RULE,
                     f"the order is {', '.join(f'{option.name} {option.says}' for option in claims.options)}.",
                     "Sort the options by their price today.")


def order(claims: Claims, part: Part) -> Iterator[Finding]:
    """Options that are listed stand in order of price today; a table of all prices today says so."""
    names = [option.name for option in claims.by_price]
    starts = tuple(names)
    lists: dict[str, list[str]] = {tag: [] for tag in ENDS}
    named = any(small(name) in part.text for name in names)
    for at, name in part.once(_heads) if named else ():
        if name.startswith("/"):
            for tag, ends in ENDS.items():
                if name[1:] in ends:
                    lists[tag].clear()
        elif part.said[at + 1].lstrip().startswith(starts) and (option := _listed(part.said[at + 1], names)):
            listed = lists[name]
            if option in listed:
                listed.clear()
            listed.append(option)
            if listed != sorted(listed, key=names.index):
                yield Finding(at, ORDER_RULE, f"the order is {', '.join(listed)}.",
                              f"List the options as {', '.join(names)}.")
                listed.clear()
    figures = [f'data-figure="{option.figure}"' for option in claims.options]
    for first, last in part.once(_tables) if all(figure in part.source for figure in figures) else ():
        table = "".join([tag.text for tag in part.tags[first:last]])
        if all(figure in table for figure in figures) and not SAID_SO.search(part.words((first, last))):
            yield Finding(first, ORDER_RULE, "a table of all prices does not say so.",
                          "Write `Lowest today first` into its head.")


def _heads(part: Part) -> Sequence[tuple[int, str]]:
    """Every tag that may name an option before any other, and, with a stroke, every end of a list."""
    return [(at, tag.name if tag.opens else f"/{tag.name}") for at, tag in enumerate(part.tags) if tag.name in WATCHED
            if tag.opens == (tag.name in ENDS)]


def _listed(said: str, names: Sequence[str]) -> str | None:
    """The option that these words name, alone or before a comma or colon."""
    text = " ".join(said.split())
    return next((name for name in names if text.startswith(name) and text[len(name):].lstrip()[:1] in ("", ",", ":")),
                None)


def _tables(part: Part) -> Sequence[Span]:
    return [*part.elements("table")] if "<table" in part.vocabulary else []


def rise(part: Part) -> Iterator[Finding]:
    """Every answer under a head `Can it rise?` starts with YES: no way in use has no way up."""
    for table in part.once(_tables) if "rise?" in part.text else ():
        lines = [[part.words(cell) for cell in part.elements("th", "td", inside=row)]
                 for row in part.elements("tr", inside=table)]
        head = lines[0] if lines else []
        for at in [i for i, cell in enumerate(head) if re.search(r"\brise\?$", cell)]:
            for line in lines[1:]:
                if len(line) == len(head) and not re.match(r"YES\b", line[at]):
                    yield Finding(table[0], *says_no(line[0], line[at]))


def says_no(option: str, answer: str) -> tuple[str, str, str]:
    """The rule that a NO breaks, what it says, and the way out."""
    return RISE_RULE, f"{option} says: {answer}", ("Start with YES and what can raise it: your own changes can "
                                                   "raise any "
                                                "price.")


__all__ = ["order", "prices", "rise", "says_no"]
