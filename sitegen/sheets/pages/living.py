"""What sheet 5 says: dates as bars, days folded, power, lead dust and floors."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, Quote, day_of, fraction_of
from sitegen.offer.dates import (
    ASBESTOS,
    BOARD,
    CANCEL,
    EMPTY,
    LIVED_IN,
    PERMIT,
    UTILITY,
    MethodDates,
    OptionDates,
)
from sitegen.offer.extras import Extra
from sitegen.offer.offer import Offer
from sitegen.offer.protection import OptionCare
from sitegen.sheets.bars import bars
from sitegen.sheets.days import Block, Outage, blocks, outages
from sitegen.sheets.pages.report import findings, listed
from sitegen.units import Value


def living(offer: Offer) -> dict[str, Any]:
    """Sheet 5.  `bars` is a drawing; `each` option's days as lines by both methods; `wait_long` whether rooms wait so
    long for their new points that they need something for the time."""
    care = [offer.protection.options[option.key] for option in offer.outcome.options]
    methods = [method for dates in offer.dates.options.values() for method in dates.both]
    return {**findings(offer), "bars": bars(offer.outcome, offer.dates), "cases": CASES,
            "each": {key: _days(dates, day_of(offer.dates.prepared).year)
                     for key, dates in offer.dates.options.items()},
            "dust": _alike(offer),
            "keeps": tuple(dict.fromkeys(KEEPS[name] for said in offer.power.keep
                                         for name in KEEPS if name in said.text.lower())),
            "steps": next((_phases(one.steps) for one in care if one.steps), ()),
            "wait_long": any(method.dark.long for method in methods if method.dark),
            "any_list": any(not option.covers_all for option in offer.outcome.options),
            "any_laid": any(one.laid.value for one in care),
            "plastered": any(option.ready_for_paint for option in offer.dates.options.values()),
            "wipes": next((extra for extra in offer.extras if extra.kind == "lead wipes"), None),
            "wait_words": WAITS, "given_words": GIVEN, "floors": _floors(offer), "choices": _choices(offer)}


class Case(Struct, frozen=True):
    """An empty house, or one with people in it: the class that hides it, and the key of its words."""

    hidden: str
    words: str


CASES = {EMPTY: Case("if-empty", "living.case.empty"), LIVED_IN: Case("if-lived-in", "living.case.lived-in")}
"""The two ways in which a house can be while we work, by the key of the method."""


class Course(Struct, frozen=True):
    """One option by one method: its days as lines, and what takes the power."""

    method: MethodDates
    blocks: tuple[Block, ...]
    outages: tuple[Outage, ...]


def _days(dates: OptionDates, year: int) -> tuple[Course, ...]:
    return tuple(Course(method, blocks(method, method.key == LIVED_IN, year), outages(method, year))
                 for method in dates.both)


def _choices(offer: Offer) -> list[tuple[Figure, list[Extra]]]:
    """The extras by their last day, the soonest first."""
    found: dict[Value, tuple[Figure, list[Extra]]] = {}
    for extra in sorted(offer.extras, key=lambda extra: day_of(extra.until)):
        found.setdefault(extra.until.value, (extra.until, []))[1].append(extra)
    return list(found.values())


KEEPS = {
    "refrigerator": ("living.keep.refrigerator", "living.keep.cold"),
    "freezer": ("living.keep.freezer", "living.keep.cold"),
    "boiler": ("living.keep.boiler", "living.keep.heat"),
    "furnace": ("living.keep.furnace", "living.keep.heat"),
    "sump": ("living.keep.sump", "living.keep.water"),
    "internet": ("living.keep.internet", "living.keep.phone"),
    "alarm": ("living.keep.alarm", "living.keep.watched"),
}
"""What of a house cannot lose power, by the word that names it: the keys of our name for it and of what to do.  What
else was told is not repeated, since it may say something of the people who live there."""

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
    "subsidised limit": "living.lead.reason.area",
    "share of a small component": "living.lead.reason.share",
}
"""Why the steps of the lead rule are owed in a room of a job, and the words of it; which limit it is says whether
public money helps, so that both limits have the same words."""

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


def _alike(offer: Offer) -> list[tuple[str, Dust, OptionCare]]:
    """Lead dust of the options, those that say the same together under both names."""
    found: dict[object, tuple[list[str], Dust, OptionCare]] = {}
    for option in offer.outcome.options:
        dust, care = _dust(offer, option.key), offer.protection.options[option.key]
        counts = (dust.area, care.safe)
        says = (dust.owed, dust.widest, *(figure and figure.value for figure in counts))
        found.setdefault(says, ([], dust, care))[0].append(option.name)
    return [(listed(names), dust, care) for names, dust, care in found.values()]


def _dust(offer: Offer, option: str) -> Dust:
    names = {room.key: room.name for room in offer.rooms}
    rooms = offer.protection.options[option].rooms
    why = dict.fromkeys(REASONS[room.reason] for room in rooms.values() if room.owed)
    owed = tuple((reason, tuple(names[key] for key, room in rooms.items()
                                if room.owed and REASONS[room.reason] == reason)) for reason in why)
    under = [key for key, room in rooms.items() if room.reason == "under the limit"]
    if not under:
        return Dust(owed, None, None)
    widest = max(under, key=lambda key: fraction_of(rooms[key].area))
    return Dust(owed, names[widest], rooms[widest].area_feet)


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
