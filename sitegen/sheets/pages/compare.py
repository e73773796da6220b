"""What sheet 3 says: the rows, the reader's own bids, and options that lead nowhere."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

from sitegen.figure import Figure, Quote, Source
from sitegen.offer.claims import told
from sitegen.offer.dates import EMPTY, LIVED_IN
from sitegen.offer.deciding import Deciding, deciding
from sitegen.offer.dominated import dominated
from sitegen.offer.offer import Offer
from sitegen.offer.rows import PARTS, Cell, Row, rows
from sitegen.offer.scope import ListRow, ScopeCell, ScopeRow
from sitegen.sheets.bids import ANSWERS, bid_figures, leaves
from sitegen.sheets.bids import looked_up as bid_looked_up
from sitegen.sheets.claim_words import CLAIM_WORDS, FITS_WORDS
from sitegen.sheets.counts import ROW_COUNT, counted
from sitegen.sheets.sums import SUMS


def compare(offer: Offer) -> dict[str, Any]:
    """Sheet 3.  `deciding`: what stands open; `sections`: key, rows and how many they are; `answer_words`: the key of
    the answer and what fills it; `dominated`: the names of options that lead nowhere; `scope`: each item with its
    words and its cells, alike neighbors together; `points`: the list by room; `bid_figures`: what the reader's own
    bids are worked with, `bid_looked_up` the same for the script, `bid_answers` those that cost something when they
    are no, `bid_leaves` by option those that it has as no."""
    found: dict[str, list[Any]] = {}
    whole = rows(offer)
    for row in whole:
        found.setdefault(row.section, []).append(row)
    behind, figures = dominated(offer), bid_figures(offer)
    return {"answers": {row.key: _answers(row) for some in found.values() for row in some},
            "deciding": [(line, HOLDS[line.holds], _decided(line)) for line in deciding(offer, whole)],
            "answer_words": _answer(offer), "every": EVERY.get(len(offer.outcome.options), "scope.all"),
            "scope": scope_groups(offer), "points": by_room(offer), "why_words": WHY, "sum_words": SUMS,
            "scope_count": counted("rows.count-items", len(offer.scope.rows)),
            "told_of": told(offer), "claim_words": CLAIM_WORDS, "fits_words": FITS_WORDS,
            "sections": list(found.items()), "part_words": PARTS, "line_words": SECTION_LINES,
            "section_counts": {key: counted(f"rows.count-{key}", len(some)) for key, some in found.items()},
            "row_count": ROW_COUNT,
            "bid_figures": figures, "bid_answers": ANSWERS, "bid_looked_up": bid_looked_up(figures),
            "bid_leaves": {option.key: leaves(offer, option) for option in offer.outcome.options},
            "dominated": [option.name for option in offer.outcome.options if option.key in behind]}


EVERY = {2: "scope.all.two", 3: "scope.all.three", 4: "scope.all.four"}
"""What stands before an answer that is that of every option, by how many there are."""

HOLDS = {"": "", EMPTY: "if-empty", LIVED_IN: "if-lived-in"}
"""The class of a line that holds for an empty house, or for one that is lived in."""

SECTION_LINES = {"money": "compare.line.money", "wiring": "compare.line.wiring", "house": "compare.line.house",
                 "time": "compare.line.time", "afterwards": "compare.line.afterwards"}
"""What the fold of each part of the comparison says of it."""


def _answer(offer: Offer) -> tuple[str, dict[str, str]]:
    """The answer of the sheet: who pays for old wiring that turns up, where that goes with the price today."""
    options, one = offer.outcome.options, offer.outcome.one_price
    lists = [option.name for option in options if not option.covers_all]
    if one is None or not lists or options[-1].key != one.key or len(lists) + 1 < len(options):
        return "compare.answer.plain", {}
    return "compare.answer", {"list": " or ".join(lists), "option": one.name}


WHY = {"seen-old": "scope.why.seen-old", "finding": "scope.why.finding", "asked-for": "scope.why.asked-for",
       "new-place": "scope.why.new-place"}
"""Why a point is on the list, and the words for it."""

Group = tuple[tuple[str, ...], ScopeCell, Figure, bool]


def scope_groups(offer: Offer) -> list[tuple[ScopeRow, str, str, list[Group]]]:
    """Each item of the scope with the keys of its name and its sentence, and its cells.

    Cells of neighbors that say the same are one: the names of its options, how many they are, and whether they are all.
    """
    return [(row, f"scope.item.{row.key}", f"scope.item.{row.key}.says", _groups(row)) for row in offer.scope.rows]


def _groups(row: ScopeRow) -> list[Group]:
    found = neighbors(row.cells)
    return [(tuple(cell.name for cell in some), some[0], across(f"scope.{row.key}", some), len(found) == 1)
            for some in found]


def _decided(line: Deciding) -> list[tuple[tuple[str, ...], Cell, Figure, bool]]:
    """The cells of a line of what decides, alike neighbors together, and whether they are all."""
    found: list[list[Cell]] = []
    for cell in line.cells:
        if found and line.alike(found[-1][0], cell):
            found[-1].append(cell)
        else:
            found.append([cell])
    return [(tuple(cell.name for cell in some), some[0], across(line.asks, some), len(found) == 1) for some in found]


def _answers(row: Row) -> list[tuple[tuple[str, ...], Cell, Figure]]:
    """The cells of a row of questions, alike neighbors together."""
    return [(tuple(cell.name for cell in some), some[0], across(f"rows.{row.number.raw()}", some))
            for some in neighbors(row.cells)]


C = TypeVar("C", ScopeCell, Cell)


def neighbors(cells: Sequence[C]) -> list[list[C]]:
    """Cells in their order, those that say the same as the one before them together with it."""
    found: list[list[C]] = []
    for cell in cells:
        if found and found[-1][0].says_the_same(cell):
            found[-1].append(cell)
        else:
            found.append([cell])
    return found


def across(stem: str, some: Sequence[ScopeCell] | Sequence[Cell]) -> Figure:
    """How many options a cell answers for."""
    return Figure(f"{stem}.{some[0].option}.span", len(some), "number", "Options that say the same.",
                  Source("worked out", "from the table"))


def by_room(offer: Offer) -> list[tuple[Quote, list[ListRow]]]:
    """The list room by room, in the order of the survey."""
    found: dict[str, tuple[Quote, list[ListRow]]] = {}
    for row in offer.scope.listed:
        found.setdefault(row.room.text, (row.room, []))[1].append(row)
    return list(found.values())
