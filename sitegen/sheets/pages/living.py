"""What sheet 5 says: dates as bars, days folded, power, lead dust and floors."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, Quote, day_of, fraction_of, slug
from sitegen.offer.offer import Offer
from sitegen.sheets.bars import bars
from sitegen.sheets.days import blocks, outages
from sitegen.sheets.pages.report import findings, listed


def living(offer: Offer) -> dict[str, Any]:
    """Sheet 5.  `bars` is a drawing; `each` option's days as lines."""
    year = day_of(offer.dates.prepared).year
    each = {option.key: {"blocks": blocks(offer.dates.options[option.key].chosen, offer.dates.lived_in, year),
                      "outages": outages(offer.dates.options[option.key].chosen, year),
                      "dust": _dust(offer, option.key)} for option in offer.outcome.options}
    care = [offer.protection.options[option.key] for option in offer.outcome.options]
    return {**findings(offer), "bars": bars(offer.outcome, offer.dates), "each": each,
            "keeps": [(said, next((key for key in KEEPS if key in said.text.lower()), "other"))
                      for said in offer.power.keep],
            "steps": next((_phases(one.steps) for one in care if one.steps), ()),
            "any_laid": any(one.laid.value for one in care),
            "plastered": any(option.ready_for_paint for option in offer.dates.options.values()),
            "wipes": next((extra for extra in offer.extras if extra.kind == "lead wipes"), None),
            "floors": _floors(offer), "choices": sorted(offer.extras, key=lambda extra: day_of(extra.until))}


KEEPS = ("refrigerator", "freezer", "boiler", "furnace", "sump", "internet", "alarm")
"""What cannot lose power and has words of its own."""

PHASES = (("papers", ("give the pamphlet", "records signed and kept", "copies given")),
          ("before", ("post the sign", "objects moved out or wrapped", "ducts covered", "windows closed, doors covered",
                      "floor sheet taped", "doors and windows near closed", "ground sheet laid",
                      "screen at a near property line")),
          ("while", ("no forbidden practices", "people and tools leave clean", "waste contained each day")),
          ("cleaning", ("chips and debris bagged", "sheet misted, folded dirty side in and bagged",
                        "walls vacuumed or wiped, high to low", "other surfaces vacuumed",
                        "other surfaces damp wiped", "floors mopped last")),
          ("check", ("looked over", "window sills verified", "floors and counters verified", "sign taken down")))
"""The steps of the lead rule, by when they are done."""


class Dust(Struct, frozen=True):
    """Lead dust of one option: the rooms where the steps are owed, each with its reason; the widest that is not."""

    owed: tuple[tuple[Quote, str], ...]
    widest: Quote | None
    area: Figure | None
    limit: Figure | None


def _dust(offer: Offer, option: str) -> Dust:
    names = {room.key: room.name for room in offer.rooms}
    rooms = offer.protection.options[option].rooms
    owed = tuple((names[key], slug(room.reason)) for key, room in rooms.items() if room.owed)
    under = [key for key, room in rooms.items() if room.reason == "under the limit"]
    if not under:
        return Dust(owed, None, None, None)
    widest = max(under, key=lambda key: fraction_of(rooms[key].area))
    return Dust(owed, names[widest], rooms[widest].area_feet, rooms[widest].limit_feet)


def _phases(steps: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The steps owed, by phase, as keys of words."""
    found = tuple((phase, tuple(slug(step) for step in steps if step in of)) for phase, of in PHASES)
    return tuple((phase, some) for phase, some in found if some)


def _floors(offer: Offer) -> list[tuple[str, list[str]]]:
    """The floors of this house that need the same care, and its kinds, as keys of words."""
    by_care: dict[str, list[str]] = {}
    for floor, cares in offer.protection.floors.items():
        for care in cares:
            by_care.setdefault(care, []).append(floor)
    found: dict[str, list[str]] = {}
    for care, floors in by_care.items():
        found.setdefault(listed(floors), []).append(slug(care))
    return list(found.items())
