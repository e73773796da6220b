"""What each sheet's template may use: the documented context, and nothing else.

Every value comes from the Offer.  A test compares the names that the templates use with the names given here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sitegen.figure import Figure, Source
from sitegen.job.model import ROWS
from sitegen.offer import Offer
from sitegen.rows import rows
from sitegen.sheets.charts import ladders, spans
from sitegen.trade.found import Finding

CLOSES = ("yes", "in part", "no")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its place for life, its file, the id of its main part, and its title."""

    number: Figure
    file: str
    id: str
    title: str
    context: Callable[[Offer], dict[str, Any]]


def _start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `rise` by way key: the words for "can it rise"; `closes` by finding: who closes it."""
    one = next((way for way in offer.outcome.ways if way.covers_all), None)
    return {"rise": {way.key: _rise(offer, way.key) for way in offer.outcome.ways},
            "closes": [(finding, _closes(offer, finding)) for finding in offer.found.findings],
            "one": one, "one_dates": offer.dates.ways[one.key] if one else None, "row_count": ROW_COUNT}


def _compare(offer: Offer) -> dict[str, Any]:
    """Sheet 3.  `sections`: key and rows."""
    found: dict[str, list[Any]] = {}
    for row in rows(offer):
        found.setdefault(row.section, []).append(row)
    return {"sections": list(found.items()), "lead_row": LEAD_ROW}


def _pay(offer: Offer) -> dict[str, Any]:
    """Sheet 4.  `ladders` and `spans` are drawings; `half_old`, `twice_old` the answer under other judgements."""
    outcome = offer.outcome
    return {"ladders": ladders(outcome), "spans": spans(outcome.tracing.swings) if outcome.tracing else (),
            "live_feeds": [feed for feed in offer.found.each_feed if feed.known.value or feed.unseen.value],
            "lists": [way for way in outcome.ways if not way.covers_all],
            "one": next((way for way in outcome.ways if way.covers_all), None),
            "most_earner": next(way for way in outcome.ways if offer.terms[way.key].we_earn == "most")
            if any(terms.we_earn == "most" for terms in offer.terms.values()) else None}


def shared(offer: Offer, sheet: Sheet) -> dict[str, Any]:
    """What every sheet has: the offer, itself, the list of sheets, and its neighbours in it."""
    at = SHEETS.index(sheet)
    return {"offer": offer, "head": offer.head, "firm": offer.firm, "sheet": sheet, "sheets": SHEETS,
            "before": SHEETS[at - 1] if at else None, "after": SHEETS[at + 1] if at + 1 < len(SHEETS) else None}


def _number(name: str, value: int) -> Figure:
    return Figure(name, value, "number", "Counted.", Source("published", "the plan of the sheets"))


def _rise(offer: Offer, key: str) -> tuple[str, dict[str, Figure]]:
    way = next(way for way in offer.outcome.ways if way.key == key)
    if way.covers_all:
        if not way.cases:
            return "your-changes", {}
        return ("no-cap", {}) if way.most_paid is None else ("to", {"most": way.most_paid})
    if way.added_cap is not None and (way.case_cap is not None or not way.cases):
        return "capped", {}
    return "no-cap", {}


def _closes(offer: Offer, finding: Finding) -> tuple[str, dict[str, str]]:
    """The words for who closes a finding, and the names of the ways by their answer."""
    by = {answer: [way.name for way in offer.outcome.ways if finding.closed[way.key] == answer] for answer in CLOSES}
    if not by["in part"] and not by["no"]:
        return "all", {}
    if not by["yes"] and not by["in part"]:
        return "none", {}
    slots = {"yes": by["yes"], "part": by["in part"], "open": by["no"]}
    given = {key: _listed(names) for key, names in slots.items() if names}
    return "-".join(given), given


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


ROW_COUNT = _number("rows.count", ROWS)
LEAD_ROW = 17

SHEETS: tuple[Sheet, ...] = (
    Sheet(_number("sheets.start.number", 1), "index.html", "start", "Start here", _start),
    Sheet(_number("sheets.compare.number", 3), "compare.html", "compare", "Compare", _compare),
    Sheet(_number("sheets.pay.number", 4), "what-you-could-pay.html", "pay", "What you could pay", _pay),
)

SHARED = ("offer", "head", "firm", "sheet", "sheets", "before", "after", "css")
OWN = {"start": ("rise", "closes", "one", "one_dates", "row_count"), "compare": ("sections", "lead_row"),
       "pay": ("ladders", "spans", "live_feeds", "lists", "one", "most_earner")}
