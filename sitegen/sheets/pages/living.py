"""What sheet 5 says: dates as bars, days folded, power, lead dust and floors."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, Quote, day_of, fraction_of, int_of
from sitegen.offer.dates import ASBESTOS, BOARD, CANCEL, PERMIT, UTILITY
from sitegen.offer.offer import Offer
from sitegen.offer.protection import OptionCare
from sitegen.sheets.bars import bars
from sitegen.sheets.days import blocks, outages
from sitegen.sheets.pages.report import findings, listed


def living(offer: Offer) -> dict[str, Any]:
    """Sheet 5.  `bars` is a drawing; `each` option's days as lines; `darkest` the
    longest wait of rooms for their new points."""
    year = day_of(offer.dates.prepared).year
    each = {option.key: {"blocks": blocks(offer.dates.options[option.key].chosen, offer.dates.lived_in, year),
                      "outages": outages(offer.dates.options[option.key].chosen, year)}
            for option in offer.outcome.options}
    care = [offer.protection.options[option.key] for option in offer.outcome.options]
    return {**findings(offer), "bars": bars(offer.outcome, offer.dates), "each": each,
            "dust": _alike(offer),
            "keeps": [(said, next((KEEPS[name] for name in KEEPS if name in said.text.lower()), "living.keep.other"))
                      for said in offer.power.keep],
            "steps": next((_phases(one.steps) for one in care if one.steps), ()),
            "darkest": max((one.dark for one in offer.dates.options.values() if one.dark),
                           key=lambda dark: int_of(dark.days), default=None),
            "any_laid": any(one.laid.value for one in care),
            "plastered": any(option.ready_for_paint for option in offer.dates.options.values()),
            "wipes": next((extra for extra in offer.extras if extra.kind == "lead wipes"), None),
            "medical": MEDICAL[offer.power.medical], "wait_words": WAITS, "given_words": GIVEN,
            "floors": _floors(offer), "choices": sorted(offer.extras, key=lambda extra: day_of(extra.until))}


KEEPS = {
    "refrigerator": "living.keep.refrigerator",
    "freezer": "living.keep.freezer",
    "boiler": "living.keep.boiler",
    "furnace": "living.keep.furnace",
    "sump": "living.keep.sump",
    "internet": "living.keep.internet",
    "alarm": "living.keep.alarm",
}
"""What cannot lose power and has words of its own, by the word that names it."""

MEDICAL = {"yes": "living.medical.yes", "no": "living.medical.no", "not said": "living.medical.not-said"}
"""What was told of medical equipment, and the words of it."""

WAITS = {
    CANCEL: "living.later.wait.cancel",
    PERMIT: "living.later.wait.permit",
    BOARD: "living.later.wait.board",
    UTILITY: "living.later.wait.utility",
    ASBESTOS: "living.later.wait.asbestos",
}
"""What the start waits for, and its words; a wait of the job's own has the job's."""

GIVEN = {"owner": "living.papers.given.owner", "occupant": "living.papers.given.occupant"}
"""Who signed for the pamphlet, and the words of it."""

REASONS = {
    "demolition": "living.lead.reason.demolition",
    "chiselled edges": "living.lead.reason.chiselled-edges",
    "area": "living.lead.reason.area",
    "subsidised limit": "living.lead.reason.subsidised-limit",
    "share of a small component": "living.lead.reason.share",
}
"""Why the steps of the lead rule are owed in a room of a job, and the words of it."""

PHASES = {
    "living.phase.papers": {
        "give the pamphlet": "living.lead.step.give-the-pamphlet",
        "records signed and kept": "living.lead.step.records-signed-and-kept",
        "copies given": "living.lead.step.copies-given",
    },
    "living.phase.before": {
        "post the sign": "living.lead.step.post-the-sign",
        "objects moved out or wrapped": "living.lead.step.objects-moved-out-or-wrapped",
        "ducts covered": "living.lead.step.ducts-covered",
        "windows closed, doors covered": "living.lead.step.windows-closed-doors-covered",
        "floor sheet taped": "living.lead.step.floor-sheet-taped",
        "doors and windows near closed": "living.lead.step.doors-and-windows-near-closed",
        "ground sheet laid": "living.lead.step.ground-sheet-laid",
        "screen at a near property line": "living.lead.step.screen-at-a-near-property-line",
    },
    "living.phase.while": {
        "no forbidden practices": "living.lead.step.no-forbidden-practices",
        "people and tools leave clean": "living.lead.step.people-and-tools-leave-clean",
        "waste contained each day": "living.lead.step.waste-contained-each-day",
    },
    "living.phase.cleaning": {
        "chips and debris bagged": "living.lead.step.chips-and-debris-bagged",
        "sheet misted, folded dirty side in and bagged":
            "living.lead.step.sheet-misted-folded-dirty-side-in-and-bagged",
        "walls vacuumed or wiped, high to low": "living.lead.step.walls-vacuumed-or-wiped-high-to-low",
        "other surfaces vacuumed": "living.lead.step.other-surfaces-vacuumed",
        "other surfaces damp wiped": "living.lead.step.other-surfaces-damp-wiped",
        "floors mopped last": "living.lead.step.floors-mopped-last",
    },
    "living.phase.check": {
        "looked over": "living.lead.step.looked-over",
        "window sills verified": "living.lead.step.window-sills-verified",
        "floors and counters verified": "living.lead.step.floors-and-counters-verified",
        "sign taken down": "living.lead.step.sign-taken-down",
    },
}
"""The steps of the lead rule and their words, under the words of when they are done."""

CARE = {
    "lift sheet soon": "living.floors.lift-sheet-soon",
    "no tape on fresh finish": "living.floors.no-tape-on-fresh-finish",
    "sanding may not be left": "living.floors.sanding-may-not-be-left",
    "sanding is lead work": "living.floors.sanding-is-lead-work",
    "dents": "living.floors.dents",
    "cracks": "living.floors.cracks",
    "tape lifts it": "living.floors.tape-lifts-it",
    "beater bar": "living.floors.beater-bar",
    "mop": "living.floors.mop",
}
"""The care that a floor needs, and its words."""


class Dust(Struct, frozen=True):
    """Lead dust of one option: the rooms where the steps are owed, by the key of their reason's words; the widest that
    is not."""

    owed: tuple[tuple[str, tuple[Quote, ...]], ...]
    widest: Quote | None
    area: Figure | None
    limit: Figure | None


def _alike(offer: Offer) -> list[tuple[str, Dust, OptionCare]]:
    """Lead dust of the options, those that say the same together under both names."""
    found: dict[object, tuple[list[str], Dust, OptionCare]] = {}
    for option in offer.outcome.options:
        dust, care = _dust(offer, option.key), offer.protection.options[option.key]
        counts = (dust.area, dust.limit, care.safe, care.cloths, care.cleared)
        says = (dust.owed, dust.widest, *(figure and figure.value for figure in counts))
        found.setdefault(says, ([], dust, care))[0].append(option.name)
    return [(listed(names), dust, care) for names, dust, care in found.values()]


def _dust(offer: Offer, option: str) -> Dust:
    names = {room.key: room.name for room in offer.rooms}
    rooms = offer.protection.options[option].rooms
    why = dict.fromkeys(room.reason for room in rooms.values() if room.owed)
    owed = tuple((REASONS[reason], tuple(names[key] for key, room in rooms.items()
                                         if room.owed and room.reason == reason)) for reason in why)
    under = [key for key, room in rooms.items() if room.reason == "under the limit"]
    if not under:
        return Dust(owed, None, None, None)
    widest = max(under, key=lambda key: fraction_of(rooms[key].area))
    return Dust(owed, names[widest], rooms[widest].area_feet, rooms[widest].limit_feet)


def _phases(steps: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The steps owed, by phase, as keys of words."""
    found = tuple((phase, tuple(of[step] for step in steps if step in of)) for phase, of in PHASES.items())
    return tuple((phase, some) for phase, some in found if some)


def _floors(offer: Offer) -> list[tuple[str, list[str]]]:
    """The floors of this house that need the same care, and its kinds, as keys of words."""
    by_care: dict[str, list[str]] = {}
    for floor, cares in offer.protection.floors.items():
        for care in cares:
            by_care.setdefault(care, []).append(floor)
    found: dict[str, list[str]] = {}
    for care, floors in by_care.items():
        found.setdefault(listed(floors), []).append(CARE[care])
    return list(found.items())
