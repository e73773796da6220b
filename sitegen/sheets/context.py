"""What each sheet's template may use: the documented context, and nothing else.

Every value comes from the Offer; a name that is not given here is an error when the template asks for it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sitegen.figure import Figure, Source
from sitegen.job.parts import DETAILS, ROWS
from sitegen.offer import Offer
from sitegen.rows import rows
from sitegen.sheets.audit.fairness import never_ahead
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
            "one": one, "one_dates": offer.dates.ways[one.key] if one else None, "row_count": ROW_COUNT,
            "always": next((even for even in offer.outcome.break_even if even.always_list or even.always_price), None)}


def _compare(offer: Offer) -> dict[str, Any]:
    """Sheet 3.  `sections`: key and rows."""
    found: dict[str, list[Any]] = {}
    for row in rows(offer):
        found.setdefault(row.section, []).append(row)
    return {"sections": list(found.items()), "lead_row": LEAD_ROW,
            "never_ahead": [way.name for way in offer.outcome.ways if way.key in never_ahead(offer)]}


def _pay(offer: Offer) -> dict[str, Any]:
    """Sheet 4.  `ladders` and `spans` are drawings; `half_old`, `twice_old` the answer under other judgements."""
    outcome = offer.outcome
    return {"ladders": ladders(outcome), "spans": spans(outcome.tracing.swings) if outcome.tracing else (),
            "live_feeds": [feed for feed in offer.found.each_feed if feed.known.value or feed.unseen.value],
            "lists": [way for way in outcome.ways if not way.covers_all],
            "one": next((way for way in outcome.ways if way.covers_all), None),
            "most_earner": next(way for way in outcome.ways if offer.terms[way.key].we_earn == "most")
            if any(terms.we_earn == "most" for terms in offer.terms.values()) else None}


def _report(offer: Offer) -> dict[str, Any]:
    """Sheet 2.  `closes` as on sheet 1; `open_findings` are those that no way closes whole."""
    one = next((way for way in offer.outcome.ways if way.covers_all), None)
    return {"closes": [(finding, _closes(offer, finding)) for finding in offer.found.findings],
            "open_findings": [finding.number for finding in offer.found.findings
                              if "yes" not in finding.closed.values()],
            "one": one, "one_dates": offer.dates.ways[one.key] if one else None}


def _rooms(offer: Offer) -> dict[str, Any]:
    """Sheet 6.  `general` are the extras that belong to no room of the house."""
    names = {room.name.text for room in offer.rooms}
    return {"general": [extra for extra in offer.extras if extra.where.text not in names]}


def _detail(offer: Offer) -> dict[str, Any]:
    """A detail.  `slots` is what its words may ask for; `findings` those that it answers, by detail."""
    slots: dict[str, Any] = {
        "feet": offer.lead.sheet, "lead_year": offer.lead.built_before, "cancel_days": offer.dates.cancel_days,
        "emergency": offer.head.emergency, "permit_price": offer.town.permit_price,
        "permit_days": offer.town.permit_days, "inspector_notice": offer.town.inspector_notice,
        "utility_notice": offer.town.utility_notice, "alarms": offer.town.alarms, "cable": offer.town.cable,
        "approvals": offer.town.approvals, "code": offer.firm.code, "permit": offer.firm.permit,
        "inspection": offer.firm.inspection, "prior_by": offer.outcome.prior.by,
        "feeds_open": offer.found.unsettled}
    slots["tracing_price"] = offer.outcome.tracing.price if offer.outcome.tracing else offer.found.unsettled
    return {"slots": slots, "findings": {key: [finding.number for finding in offer.found.findings
                                               if key in finding.answered_by] for key in DETAILS}}


def _who(offer: Offer) -> dict[str, Any]:
    """Sheet 8.  `earns`: the ways in the order in which the firm earns on them."""
    order = ("most", "middle", "least")
    ways = sorted(offer.outcome.ways, key=lambda way: order.index(offer.terms[way.key].we_earn))
    return {"earns": ways, "one": next((way for way in offer.outcome.ways if way.covers_all), None)}


def shared(offer: Offer, sheet: Sheet, details: dict[str, Sheet]) -> dict[str, Any]:
    """What every sheet has: the offer, itself, the lists of sheets and details, and its neighbours."""
    at = SHEETS.index(sheet) if sheet in SHEETS else -1
    return {"offer": offer, "head": offer.head, "firm": offer.firm, "sheet": sheet, "sheets": SHEETS,
            "details": details, "before": SHEETS[at - 1] if at > 0 else None,
            "after": SHEETS[at + 1] if 0 <= at < len(SHEETS) - 1 else None,
            "parent": None if at >= 0 else next(one for one in SHEETS if one.id == "rooms")}


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
    Sheet(_number("sheets.report.number", 2), "report.html", "report", "Your report and your insurer", _report),
    Sheet(_number("sheets.compare.number", 3), "compare.html", "compare", "Compare", _compare),
    Sheet(_number("sheets.pay.number", 4), "what-you-could-pay.html", "pay", "What you could pay", _pay),
    Sheet(_number("sheets.rooms.number", 6), "rooms.html", "rooms", "Room by room", _rooms),
    Sheet(_number("sheets.who.number", 8), "who.html", "who", "Who we are and how we know", _who),
)


def detail_sheets(title: Callable[[str], str]) -> dict[str, Sheet]:
    """The sheets of details, by key; `title` reads the words of a title."""
    number = SHEETS[-2].number
    return {key: Sheet(number, f"detail-{key}.html", f"detail-{key}", title(f"{key}.title"), _detail)
            for key in DETAILS}
