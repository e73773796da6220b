"""What each sheet's template may use: the documented context, and nothing else.

Every value comes from the Offer; a name that is not given here is an error when the template asks for it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from sitegen.ahead import never_ahead
from sitegen.figure import Figure, Source, int_of, worked_out
from sitegen.job.parts import DETAILS, ROWS
from sitegen.money import in_hundreds
from sitegen.offer import Offer
from sitegen.rows import rows
from sitegen.sheets.bids import ANSWERS, bid_figures
from sitegen.sheets.bids import looked_up as bid_looked_up
from sitegen.sheets.charts import ladders, spans
from sitegen.sheets.of_living import living
from sitegen.sheets.of_report import findings, report
from sitegen.sheets.of_rooms import rooms_sheet
from sitegen.sheets.turning import turnings
from sitegen.sheets.words import say
from sitegen.trade.parts import BreakEvenSaid, WayMoney


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its place for life, its file, the id of its main part, its title, and the scripts that it uses."""

    number: Figure
    file: str
    id: str
    title: str
    context: Callable[[Offer], dict[str, Any]]
    scripts: tuple[str, ...] = ()


def _start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `rise` by way key: the words for "can it rise"; `always`: a list that never or always costs less."""
    return {**findings(offer), "rise": {way.key: _rise(way) for way in offer.outcome.ways}, "row_count": ROW_COUNT,
            "always": next((even for even in offer.outcome.break_even if even.always), None)}


def _compare(offer: Offer) -> dict[str, Any]:
    """Sheet 3.  `sections`: key and rows; `never_ahead`: the names of ways that lead nowhere; `bid_figures`: what the
    reader's own bids are worked with, `bid_looked_up` the same for the script, `bid_answers` those that cost something
    when they are no."""
    found: dict[str, list[Any]] = {}
    for row in rows(offer):
        found.setdefault(row.section, []).append(row)
    behind, figures = never_ahead(offer), bid_figures(offer)
    return {"sections": list(found.items()), "lead_row": LEAD_ROW, "row_count": ROW_COUNT,
            "bid_figures": figures, "bid_answers": ANSWERS, "bid_looked_up": bid_looked_up(figures),
            "never_ahead": [way.name for way in offer.outcome.ways if way.key in behind]}


def _pay(offer: Offer) -> dict[str, Any]:
    """Sheet 4.  `ladders`, `turnings` and `spans` are drawings; `lists` the ways that sell a list; `later` what some
    way leaves to buy elsewhere, in the order of the price book; `just` the one count at which the feeds decide, if it
    is one; `elsewhere` by way what is bought for more than it rounds away."""
    outcome = offer.outcome
    return {"ladders": ladders(outcome), "turnings": turnings(outcome),
            "spans": spans(outcome.tracing.swings) if outcome.tracing else (),
            "bid_looked_up": bid_looked_up(bid_figures(offer)),
            "later": {item.key: item.called for way in outcome.ways for item in way.later},
            "live_feeds": [feed for feed in offer.found.each_feed if feed.known.value or feed.unseen.value],
            "lists": [way for way in outcome.ways if not way.covers_all], "one": outcome.one_price,
            "just": _just_between(outcome.break_even),
            "elsewhere": {way.key: [item for item in way.later if in_hundreds(int_of(item.usual))]
                          for way in outcome.ways},
            "most_earner": next((way for way in outcome.ways if offer.terms[way.key].we_earn == "most"), None)}


def _just_between(evens: Sequence[BreakEvenSaid]) -> Figure | None:
    """The count between "so many or fewer" and "so many or more" of the first list, where there is but one."""
    low, high = (evens[0].list_up_to, evens[0].price_from) if evens else (None, None)
    if low is None or high is None or int_of(high) - int_of(low) != 2:
        return None
    return worked_out("sheets.pay.even-just", int_of(low) + 1, "points",
                      "The one count at which it turns on the feeds.", low, high)


def _detail(offer: Offer) -> dict[str, Any]:
    """A detail.  `slots` is what its words may ask for."""
    return {"slots": {
        "feet": offer.lead.sheet, "lead_year": offer.lead.built_before, "cancel_days": offer.dates.cancel_days,
        "emergency": offer.head.emergency, "permit_price": offer.town.permit_price,
        "inspector_notice": _with_noun(offer.town.inspector_notice),
        "utility_notice": _with_noun(offer.town.utility_notice), "alarms": offer.town.alarms, "cable": offer.town.cable,
        "approvals": offer.town.approvals, "code": offer.firm.code, "permit": offer.firm.permit,
        "inspection": offer.firm.inspection, "prior_by": offer.outcome.prior.by,
        "feeds_open": offer.found.unsettled}}


def _with_noun(figure: Figure) -> Markup:
    """A count and what it counts."""
    return Markup("{} {}").format(say(figure), figure.noun())


def _who(offer: Offer) -> dict[str, Any]:
    """Sheet 8.  `earns`: the ways in the order in which the firm earns on them."""
    order = ("most", "middle", "least")
    return {"earns": sorted(offer.outcome.ways, key=lambda way: order.index(offer.terms[way.key].we_earn)),
            "one": offer.outcome.one_price}


def shared(offer: Offer, sheet: Sheet, details: dict[str, Sheet]) -> dict[str, Any]:
    """What every sheet has: the offer, itself, the lists of sheets and details, and its neighbours."""
    at = SHEETS.index(sheet) if sheet in SHEETS else -1
    return {"offer": offer, "head": offer.head, "firm": offer.firm, "sheet": sheet, "listed_sheets": LISTED,
            "sheet_count": SHEET_COUNT, "details": details,
            "before": SHEETS[at - 1] if at > 0 else None,
            "after": SHEETS[at + 1] if 0 <= at < len(SHEETS) - 1 else None,
            "parent": None if at >= 0 else next(one for one in SHEETS if one.id == "rooms")}


def _number(name: str, value: int) -> Figure:
    return Figure(name, value, "number", "Counted.", Source("published", "the plan of the sheets"))


def _rise(way: WayMoney) -> tuple[str, dict[str, Figure]]:
    """The words for "can it rise", and what fills them."""
    if way.covers_all:
        if not way.cases:
            return "your-changes", {}
        return ("no-cap", {}) if way.most_paid is None else ("to", {"most": way.most_paid})
    if way.added_cap is not None and (way.case_cap is not None or not way.cases):
        return "capped", {}
    return "no-cap", {}


ROW_COUNT = _number("rows.count", ROWS)
LEAD_ROW = 17

SHEETS: tuple[Sheet, ...] = (
    Sheet(_number("sheets.start.number", 1), "index.html", "start", "Start here", _start),
    Sheet(_number("sheets.report.number", 2), "report.html", "report", "Your report and your insurer", report),
    Sheet(_number("sheets.compare.number", 3), "compare.html", "compare", "Compare", _compare,
          ("bids", "bidform")),
    Sheet(_number("sheets.pay.number", 4), "what-you-could-pay.html", "pay", "What you could pay", _pay,
          ("bids", "bidladder", "stepper")),
    Sheet(_number("sheets.living.number", 5), "living.html", "living", "Living through it", living),
    Sheet(_number("sheets.rooms.number", 6), "rooms.html", "rooms", "Room by room", rooms_sheet, ("extras",)),
    Sheet(_number("sheets.who.number", 8), "who.html", "who", "Who we are and how we know", _who),
)

LISTED = tuple(sorted((
    *((sheet.number, sheet.title, f"{sheet.file}#{sheet.id}") for sheet in SHEETS),
    (_number("sheets.agreement.number", 7), "Agreement, on paper", "index.html#start-sign")),
    key=lambda entry: int_of(entry[0])))
"""The list at the end of every sheet: number, title and where it leads; the agreement is signed on paper, and the first
sheet says how."""

SHEET_COUNT = _number("sheets.count", len(LISTED))


DRAWINGS: dict[str, tuple[str, ...]] = {
    "alarms": ("alarm-places",),
    "cleaning": ("order",),
    "finding-old-feeds": ("feed",),
    "floors": ("layers",),
    "grounding": ("ground", "kinds"),
    "lead-safe": ("work-room",),
    "new-circuits": ("after",),
    "not-seen": ("blocked",),
    "openings": ("opening",),
    "panel-service": ("panels",),
    "papers": ("record",),
    "plaster": ("patch",),
    "tested-dead": ("testing",),
    "tight-boxes": ("tight-box",),
}
"""The drawings of a detail, by its key; a drawing stands on one sheet of the site."""


def detail_sheets(title: Callable[[str], str]) -> dict[str, Sheet]:
    """The sheets of details, by key; `title` reads the words of a title."""
    number = next(one.number for one in SHEETS if one.id == "rooms")
    return {key: Sheet(number, f"detail-{key}.html", f"detail-{key}", title(f"{key}.title"), _detail)
            for key in DETAILS}
