"""The details: what each may say, and the drawings that it shows."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from sitegen.figure import Figure
from sitegen.offer.offer import Offer
from sitegen.sheets.words import say

DETAILS: dict[str, tuple[str, ...]] = {
    "old-wiring": ("kinds",),
    "finding-old-feeds": ("feed",),
    "new-circuits": ("after",),
    "panel-service": ("panels",),
    "grounding": ("ground",),
    "alarms": ("alarm-places",),
    "floors": ("layers",),
    "openings": ("opening",),
    "plaster": ("patch",),
    "tight-boxes": ("tight-box",),
    "lead-safe": ("work-room",),
    "tested-dead": ("testing",),
    "cleaning": ("order",),
    "permits": (),
    "before-start": (),
    "papers": ("record",),
    "not-seen": ("blocked",),
}
"""Every detail in its order, with its drawings; its words are in content/details/."""


WITHOUT, DANGER = "detail.without", "detail.danger"
"""What stands over the piece `leaves` of a detail: what stays without the work, or how dangerous it is."""

LEAVES = {"old-wiring": DANGER}

EXPLAINS = {"finding-old-feeds": "old-wiring", "new-circuits": "ground"}
"""The explainer that stands on a detail, by its file in theme/parts/explain/."""


def detail(offer: Offer) -> dict[str, Any]:
    """A detail.  `slots` is what its words may ask for."""
    return {"slots": {
        "feet": offer.lead.sheet, "lead_year": offer.lead.built_before, "hot": offer.lead.heat_gun,
        "cancel_days": offer.dates.cancel_days,
        "emergency": offer.head.emergency, "permit_price": offer.town.permit_price,
        "inspector_notice": _with_noun(offer.town.inspector_notice),
        "utility_notice": _with_noun(offer.town.utility_notice), "alarms": offer.town.alarms, "cable": offer.town.cable,
        "approvals": offer.town.approvals, "code": offer.firm.code, "permit": offer.firm.permit,
        "inspection": offer.firm.inspection, "prior_by": offer.outcome.prior.by,
        "feeds_open": offer.found.unsettled}}


def _with_noun(figure: Figure) -> Markup:
    """A count and what it counts."""
    return Markup("{} {}").format(say(figure), figure.noun())
