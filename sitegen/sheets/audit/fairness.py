"""The rules of fairness, held over the offer and over the pages that were made from it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from sitegen.errors import Breach
from sitegen.offer.claims import MOST
from sitegen.offer.rows import number_of
from sitegen.sheets.audit.claims import Claims, Remarks
from sitegen.sheets.audit.listed import says_no
from sitegen.sheets.audit.page import Page, Part, Span

COMPARE, EACH = "compare.html", "compare-each"
OFFER = "the offer"
DOMINATED = "compare-dominated"
"""The id of the sentence that names every option that is dominated."""

ROWS_RULE = "the same 24 rows in the same order"
CELLS_RULE = "a row answers for every option, or once for those that say the same"
REMARKS_RULE = "the good things and drawbacks that are true of an option, each tied to a row"
DOMINATED_RULE = "an option that is dominated is said to be so"

ROW = "compare-row-"
LINK = re.compile(rf"compare\.html#{ROW}(\d+)")
SIDES = {"pro": "good things", "con": "drawbacks"}
YES = re.compile(r"YES\b")
RISE_ROW = number_of("rise")


def fairness(claims: Claims, pages: Sequence[Page]) -> Iterator[Breach]:
    """Every breach of the rules about rows, good things and drawbacks, and options that are dominated."""
    yield from _remarks(claims)
    yield from _rows(claims)
    compare = next((page for page in pages if page.name == COMPARE), None)
    if compare is None:
        yield Breach(COMPARE, "top", ROWS_RULE, "there is no such sheet.", "Build the comparison.")
    else:
        part = compare.main or compare.parts[0]
        yield from _rows_shown(claims, part)
        yield from _remarks_shown(claims, part)
    yield from _dominated_said(claims, pages)


# --- rows -------------------------------------------------------------------------------------------------


def _rows(claims: Claims) -> Iterator[Breach]:
    numbers = [row.number for row in claims.rows]
    if numbers != list(range(1, claims.rows_wanted + 1)):
        yield Breach(OFFER, "rows", ROWS_RULE, f"the rows are {numbers}.", "Keep every row, in its place for life.")
    keys = tuple(option.key for option in claims.options)
    for row in claims.rows:
        if row.options != keys:
            yield Breach(OFFER, f"row {row.number}", CELLS_RULE, f"it answers for {', '.join(row.options)}.",
                         "Answer for each option, in order.")


def _rows_shown(claims: Claims, part: Part) -> Iterator[Breach]:
    shown = [(int(part.tags[row[0]].attributes["id"].removeprefix(ROW)), row) for row in part.elements("tr")
             if re.fullmatch(rf"{ROW}\d+", part.tags[row[0]].attributes.get("id", ""))]
    numbers = [number for number, _ in shown]
    if numbers != list(range(1, claims.rows_wanted + 1)):
        yield Breach(COMPARE, "rows", ROWS_RULE, f"the rows are {numbers}.", "Print every row, in its place for life.")
    for number, row in shown:
        yield from _cells(claims, part, number, row)


def _cells(claims: Claims, part: Part, number: int, row: Span) -> Iterator[Breach]:
    """What is wrong with the cells of one row; the second never answers NO."""
    place, names = f"row {number}", tuple(option.name for option in claims.options)
    cells = [*part.elements("td", inside=row)]
    heads = [[*_spans(part, cell, "option")] for cell in cells]
    asked = [part.words(span) for spans in heads for span in spans]
    answers = [part.words(cell, [*spans, *_spans(part, cell, "same")])
               for cell, spans in zip(cells, heads, strict=True)]
    groups = [tuple(together.split(", ")) for together in asked]
    if len(cells) == len(groups) == 1 and names and not set(names) & set(groups[0]):
        groups = [names]                        # one cell, headed by words for all of them
    if empty := [", ".join(group) for group, answer in zip(groups, answers, strict=False) if not answer]:
        yield Breach(COMPARE, place, CELLS_RULE, f"the cell of {', '.join(empty)} is empty.",
                     "Print an answer for each option.")
    options = [name for group in groups for name in group]
    if tuple(options) != names or len(asked) != len(cells):
        yield Breach(COMPARE, place, CELLS_RULE, f"it answers for {', '.join(options) or 'no option'}.",
                     f"Answer for {', '.join(names)}, in this order.")
    else:
        yield from _shared(claims, number, groups)
    for group, answer in zip(groups, answers, strict=False) if number == RISE_ROW else ():
        if not YES.match(answer):
            yield Breach(COMPARE, place, *says_no(", ".join(group), answer))


def _spans(part: Part, cell: Span, kind: str) -> Iterator[Span]:
    """What stands in a cell under a class of its own: whose answer it is, or that it is the same for all."""
    return (span for span in part.elements("span", inside=cell) if part.tags[span[0]].class_name == kind)


def _shared(claims: Claims, number: int, groups: Sequence[Sequence[str]]) -> Iterator[Breach]:
    """Options share a cell where each says the same as the one before it, and nowhere else."""
    alike = next((row.alike for row in claims.rows if row.number == number), ())
    at = 0
    for group in groups:
        if not all(alike[at:at + len(group) - 1]):
            yield Breach(COMPARE, f"row {number}", CELLS_RULE,
                         f"it says the same for {', '.join(group)}, and their answers differ.",
                         "Print a cell for each option.")
        at += len(group)


# --- good things and drawbacks ----------------------------------------------------------------------------


def _sides(claims: Claims) -> Mapping[str, Mapping[str, Remarks]]:
    return {"pro": {option.name: option.good for option in claims.options},
            "con": {option.name: option.drawbacks for option in claims.options}}


def _remarks(claims: Claims) -> Iterator[Breach]:
    """At most as many of each side as all options may have, each resting on a row."""
    for side, options in _sides(claims).items():
        for name, rows in options.items():
            if len(rows) > MOST:
                yield Breach(OFFER, EACH, REMARKS_RULE, f"{name}, {SIDES[side]}: {len(rows)}.",
                             f"Show {MOST} at most.")
            for row in rows:
                if not 1 <= row <= claims.rows_wanted:
                    yield Breach(OFFER, f"row {row}", REMARKS_RULE, f"{name}, {SIDES[side]}: one rests on no row.",
                                 f"Name one of rows 1 to {claims.rows_wanted}.")


def _remarks_shown(claims: Claims, part: Part) -> Iterator[Breach]:
    """The page prints the remarks of the offer, all of them and no more."""
    shown = {}
    for article in part.elements("article"):
        head = next(part.elements("h3", inside=article), None)
        if head:
            shown[part.words(head)] = {part.tags[at].class_name: [*_items(part, (at, end))]
                                       for at, end in part.elements("ul", inside=article)}
    for side, options in _sides(claims).items():
        for name, rows in options.items():
            there = shown.get(name, {}).get(side, [])
            if tuple(row for _, row in there) != rows or not all(says for says, _ in there):
                yield Breach(COMPARE, EACH, REMARKS_RULE, f"{name}: {len(there)} of {len(rows)} {SIDES[side]} stand "
                             "there as offered.", "Print every one, with the row that it rests on.")


def _items(part: Part, items: Span) -> Iterator[tuple[str, int]]:
    """What each item of a list says before the link to its row, and the row."""
    for item in part.elements("li", inside=items):
        for at, _ in part.elements("a", inside=item):
            if row := LINK.fullmatch(part.tags[at].attributes.get("href", "")):
                yield part.words((item[0], at)), int(row[1])
                break


# --- never ahead ------------------------------------------------------------------------------------------


def _dominated_said(claims: Claims, pages: Sequence[Page]) -> Iterator[Breach]:
    text = " ".join(part.words((at, part.end(at))) for page in pages for part in page.parts
                    for at, name in part.ids if name == DOMINATED)
    for option in claims.options:
        if option.behind and option.name not in text:
            yield Breach(COMPARE, DOMINATED, DOMINATED_RULE,
                         f"{option.name} never ends cheapest, leads on no row, and no page says so.",
                         f'Say so in an element with id="{DOMINATED}", or do not offer it.')


__all__ = ["DOMINATED", "fairness"]
