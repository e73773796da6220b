"""The sheets in their order, each with its place for life and what its template may use.

Every value comes from the Offer; a name that is not given here is an error when the template asks for it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, int_of
from sitegen.offer.offer import Offer
from sitegen.sheets.counts import counted
from sitegen.sheets.pages.agreement import agreement
from sitegen.sheets.pages.compare import compare
from sitegen.sheets.pages.detail import DETAILS, detail
from sitegen.sheets.pages.living import living
from sitegen.sheets.pages.paper import paper
from sitegen.sheets.pages.pay import pay
from sitegen.sheets.pages.report import report
from sitegen.sheets.pages.rooms import rooms_sheet
from sitegen.sheets.pages.start import start
from sitegen.sheets.pages.summary import summary
from sitegen.sheets.pages.walk import walk
from sitegen.sheets.pages.who import who
from sitegen.sheets.pages.yours import yours


class Sheet(Struct, frozen=True):
    """One sheet: its place for life, its file, the id of its main part, its title, whether it takes questions, and
    whether it leaves out who is behind it."""

    number: Figure
    file: str
    id: str
    title: str
    context: Callable[[Offer], dict[str, Any]]
    asks: bool = False
    names_nobody: bool = False


def shared(offer: Offer, sheet: Sheet, details: dict[str, Sheet]) -> dict[str, Any]:
    """What every sheet has: the offer, itself, the lists of sheets and details, and its neighbours."""
    at = IN_ORDER.index(sheet) if sheet in IN_ORDER else -1
    return {"offer": offer, "head": offer.head, "firm": offer.firm, "sheet": sheet, "listed_sheets": LISTED,
            "is_listed": at >= 0, "sheet_count": SHEET_COUNT, "details": details,
            "before": IN_ORDER[at - 1] if at > 0 else None,
            "after": IN_ORDER[at + 1] if 0 <= at < len(IN_ORDER) - 1 else None,
            "parent": None if at >= 0 else next((one for one in SHEETS if one.number is sheet.number), SHEETS[0])}


SHEETS: tuple[Sheet, ...] = (
    Sheet(counted("sheets.start.number", 1), "index.html", "start", "Start here", start),
    Sheet(counted("sheets.report.number", 2), "report.html", "report", "Your report and letter", report),
    Sheet(counted("sheets.compare.number", 3), "compare.html", "compare", "Compare", compare, True),
    Sheet(counted("sheets.pay.number", 4), "what-you-could-pay.html", "pay", "What you could pay", pay),
    Sheet(counted("sheets.living.number", 5), "living.html", "living", "Living through it", living),
    Sheet(counted("sheets.rooms.number", 6), "rooms.html", "rooms", "Room by room", rooms_sheet, True),
    Sheet(counted("sheets.agreement.number", 7), "agreement.html", "agreement", "Agreement", agreement),
    Sheet(counted("sheets.who.number", 8), "who.html", "who", "Who we are and how we know", who),
)

BESIDE: tuple[Sheet, ...] = (
    Sheet(SHEETS[0].number, "yours.html", "yours", "Your own page", yours, True),
    Sheet(SHEETS[0].number, "walk.html", "walk", "At the table", walk),
    Sheet(SHEETS[1].number, "summary.html", "summary", "A page to hand on", summary, names_nobody=True),
)
"""Pages beside the eight: each has the number of the one that it belongs to."""

AGREEMENT = next(sheet for sheet in SHEETS if sheet.id == "agreement")

PAPER = Sheet(AGREEMENT.number, "paper.html", "paper", "What decides, on paper", paper)
"""What decides, as one document for one print; it stands beside the agreement."""

IN_ORDER = tuple(sorted(SHEETS, key=lambda sheet: int_of(sheet.number)))
"""The eight pages as one leads to the next."""

LISTED = tuple((sheet.number, sheet.title, f"{sheet.file}#{sheet.id}") for sheet in IN_ORDER)
"""The list in the head of every sheet: number, title and where it leads."""

SHEET_COUNT = counted("sheets.count", len(LISTED))


def detail_sheets(title: Callable[[str], str]) -> dict[str, Sheet]:
    """The sheets of details, by key; `title` reads the words of a title."""
    number = next(one.number for one in SHEETS if one.id == "rooms")
    return {key: Sheet(number, f"detail-{key}.html", f"detail-{key}", title(f"{key}.title"), detail)
            for key in DETAILS}
