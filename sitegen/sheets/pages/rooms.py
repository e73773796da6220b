"""What sheet 6 says of each room: plans, points, holes, lead, light, circuits and extras."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, Quote, fraction_of, int_of
from sitegen.offer.design.rooms import RoomDesign
from sitegen.offer.extras import Extra
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.protection import RoomCare
from sitegen.offer.rooms import RoomSeen
from sitegen.sheets.counts import counted
from sitegen.sheets.pages.detail import DETAILS
from sitegen.sheets.pages.report import listed
from sitegen.sheets.pages.rooms_words import BANDS, CLOSES, LEAD, OLD_WIRE, TABLES, WHO_CLOSES
from sitegen.sheets.plans import number_of, storeys, total


def rooms_sheet(offer: Offer) -> dict[str, Any]:
    """Sheet 6.  `storeys`: the plan of each, with its rooms; `lights`: whether the light of any is worked out; `about`:
    numbers of findings by part of the sheet; `runs`: by storey; `drawn`: the words on the plans; `keys`: tables of
    words; `troubles` and `wrapped`: rooms by what can cost more there; `closers`: options by who closes their holes;
    `counts`: how many stand behind the line of a fold."""
    plan = storeys(offer.rooms)
    names = {room.floor.raw(): room.storey for room in offer.rooms}
    mean = [(finding.number, {name.text for rooms in (finding.rooms, finding.leaves) for some in rooms.values()
                              for name in some}) for finding in offer.found.findings]
    walk = {room.key: _room(offer, room, at, mean) for at, room in enumerate(offer.rooms, 1)}
    return {"storeys": [(storey, [walk[room.key] for _, room in storey.rooms]) for storey in plan],
            "drawn": "rooms.drawn.all" if all(len(one.drawn) == len(one.rooms) for one in plan) else
                     "rooms.drawn.some" if any(one.drawn for one in plan) else "rooms.drawn.none", "keys": TABLES,
            "lights": any(offer.design.rooms[room.key].light for room in offer.rooms),
            "sections": sorted({said.text: said for room in offer.design.rooms.values()
                                for said in room.outlets.sections}.items()),
            "about": {about: [finding.number for finding in offer.found.findings if finding.about in of]
                      for about, of in ABOUT.items()},
            "limit": _limit(offer), "keeps": any(room.outlets.short_of_full.value and not room.outlets.short.value
                         for room in offer.design.rooms.values()),
            "extras_by": _extras_by(offer.extras), "one": offer.outcome.one_price,
            "placed": {extra.key for room in walk.values() for extra in room.extras},
            "troubles": [(word, here) for word in TABLES["trouble"]
                         if (here := [room for room in offer.rooms if word in room.trouble])],
            "wrapped": [room for room in offer.rooms if room.pipe_wrap],
            "closers": [(words, listed([option.name for option in offer.outcome.options
                                        if offer.terms[option.key].closes_holes == who]))
                        for who, words in WHO_CLOSES.items()
                        if any(offer.terms[option.key].closes_holes == who for option in offer.outcome.options)],
            "counts": _counts(offer),
            "runs": [(names[run.storey.raw()], run) for run in offer.design.runs],
            "lists": [option.name for option in offer.outcome.options if not option.covers_all],
            "listed": lambda names: listed(list(names))}


class OptionInRoom(Struct, frozen=True):
    """What one option does in a room; `care` is None where it opens nothing.  `closes`: the words for who closes the
    holes; `bands`: patches not filled by hand, with the words for some and for all of the holes."""

    name: str
    care: RoomCare | None
    closes: str
    bands: tuple[tuple[tuple[str, str], Figure], ...]


class LeadInRoom(Struct, frozen=True):
    """What the lead rule says of some options in a room, the key of its words and what fills them; `options` None for
    all."""

    options: str | None
    key: str
    slots: dict[str, Figure]


class RoomShown(Struct, frozen=True):
    """One room as the sheet shows it.  `holes`: the most that an option makes, with the words for it; `dead`: words on
    its old wire, and what fills them; `findings`: the numbers of the report that mean a point of it."""

    number: Figure
    room: RoomSeen
    design: RoomDesign
    now: Figure
    want: Figure
    old: Figure
    unseen: Figure
    options: tuple[OptionInRoom, ...]
    opened: bool
    holes: tuple[str, Figure]
    lead: tuple[LeadInRoom, ...]
    cables: tuple[Quote, ...]
    dead: tuple[str, dict[str, Figure]] | None
    has_light: bool
    findings: tuple[Figure, ...]
    extras: tuple[Extra, ...]


def _room(offer: Offer, room: RoomSeen, at: int, mean: list[tuple[Figure, set[str]]]) -> RoomShown:
    def points(word: str) -> Figure:
        return total(f"sheets.rooms.{room.key}.{word}", [getattr(kind, word) for kind in room.kinds], "Its points.")
    options = tuple(_option_in(offer, option, room) for option in offer.outcome.options)
    old, unseen = points("old"), points("unseen")
    return RoomShown(
        number_of(room, at), room, offer.design.rooms[room.key], points("now"), points("want"), old, unseen,
        options, any(option.care for option in options), _holes(room, options), _lead_in(options, _limit(offer)),
        tuple({kind.cable.text: kind.cable for kind in room.kinds if kind.cable}.values()),
        _dead_in(old, unseen) if offer.outcome.one_price else None,
        any("light" in kind.kind.text and kind.want.value for kind in room.kinds),
        tuple(number for number, names in mean if room.name.text in names),
        tuple(extra for extra in offer.extras if room.used_as in extra.rooms))


def _holes(room: RoomSeen, options: tuple[OptionInRoom, ...]) -> tuple[str, Figure]:
    """The most holes that an option makes in a room, and the words: all options make as many, or none makes more."""
    cares = [option.care for option in options]
    made = [int_of(care.openings) if care else 0 for care in cares]
    most = max((care.openings for care in cares if care), key=int_of, default=Figure(
        f"sheets.rooms.{room.key}.holes", 0, "openings", "No option opens a wall or ceiling here.", room.name.source))
    return "rooms.line.holes" if len(set(made)) == 1 else "rooms.line.most", most


def _counts(offer: Offer) -> dict[str, Figure]:
    """How many there are of what stands behind the lines of folds."""
    panels = offer.design.service.panels
    return {"details": counted("sheets.rooms.details", len(DETAILS)),
            "extras": counted("sheets.rooms.extras", len(offer.extras)),
            "boxes": counted("sheets.rooms.boxes", len(offer.design.boxes)),
            "alarms": offer.design.alarm_devices,
            "photographs": counted("sheets.rooms.photographs", sum(photo.elsewhere for photo in offer.photographs)),
            "panels": counted("sheets.rooms.panels", len(panels)),
            "circuits": counted("sheets.rooms.circuits", sum(int_of(panel.circuits_count) for panel in panels))}


def _option_in(offer: Offer, option: OptionMoney, room: RoomSeen) -> OptionInRoom:
    care = offer.protection.options[option.key].rooms.get(room.key)
    return OptionInRoom(option.name, care, CLOSES[offer.terms[option.key].closes_holes],
                        tuple((BANDS[key], band) for band in (care.bands if care else ())
                              if band.value and (key := band.name.rsplit(".", 1)[1]) != BY_HAND))


def _extras_by(extras: tuple[Extra, ...]) -> list[tuple[Figure, list[Extra]]]:
    """Extras by the last day to choose them, soonest first."""
    found: dict[str, tuple[Figure, list[Extra]]] = {}
    for extra in extras:
        found.setdefault(extra.until.raw(), (extra.until, []))[1].append(extra)
    return [found[day] for day in sorted(found)]


def _dead_in(old: Figure, unseen: Figure) -> tuple[str, dict[str, Figure]] | None:
    """The key of the words for which old wire of a room is cut off where every point is done, and what fills them."""
    slots = {word: count for word, count in (("old", old), ("unseen", unseen)) if count.value}
    return (OLD_WIRE[tuple(slots)], slots) if slots else None


def _limit(offer: Offer) -> Figure | None:
    """The area at which the lead rule starts in the first room that is cut; a room of another limit says its own.
    None where the rule does not cover the house at all."""
    if not offer.lead.covered:
        return None
    return next((care.limit_feet for option in offer.protection.options.values() for care in option.rooms.values()),
                None)


def _lead_in(options: tuple[OptionInRoom, ...], limit: Figure | None) -> tuple[LeadInRoom, ...]:
    """The rule's answers, options of one answer together, with the largest area among them."""
    found: dict[tuple[bool, str], list[OptionInRoom]] = {}
    for option in options:
        if option.care:
            found.setdefault((option.care.owed, option.care.reason), []).append(option)
    made = []
    for (owed, reason), same in found.items():
        most = max((option.care for option in same if option.care), key=lambda care: fraction_of(care.area))
        key, slots = LEAD[reason], {"area": most.area_feet, "limit": most.limit_feet} if reason in WITH_AREA else {}
        if reason == LOWER_LIMIT:           # whose number would tell of the people there
            del slots["limit"]
        if slots and not owed:
            if limit and most.limit_feet.value == limit.value:
                del slots["limit"]
            else:
                key = "rooms.lead.under-the-limit-of"
        made.append(LeadInRoom(listed([option.name for option in same]) if len(found) > 1 else None, key, slots))
    return tuple(made)


ABOUT = {"panel": ("panel", "service"), "alarms": ("alarms",), "old wire": ("old wire",)}
"""Findings that mean no room's points, by the part of the sheet that answers them."""

BY_HAND = "hand"
"""The band of most patches, of which a room says nothing."""

LOWER_LIMIT = "subsidised limit"
WITH_AREA = ("under the limit", "area", LOWER_LIMIT)
"""Reasons of the lead rule that name the area cut, and the limit of any house."""
