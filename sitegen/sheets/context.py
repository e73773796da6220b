"""What each sheet's template may use: the documented context, and nothing else.

Every value comes from the Offer; a name that is not given here is an error when the template asks for it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from sitegen.ahead import never_ahead
from sitegen.dates.schedule import WayDates
from sitegen.design.rooms import RoomDesign
from sitegen.figure import Figure, Said, Source, int_of, slug
from sitegen.job.parts import DETAILS, ROWS
from sitegen.offer import Extra, Offer
from sitegen.protection import RoomCare
from sitegen.rows import rows
from sitegen.sheets.bars import bars, day_of
from sitegen.sheets.bids import ANSWERS, bid_figures
from sitegen.sheets.bids import looked_up as bid_looked_up
from sitegen.sheets.charts import ladders, spans
from sitegen.sheets.days import blocks, longest, outages
from sitegen.sheets.plans import number_of, storeys, total
from sitegen.sheets.turning import turnings
from sitegen.trade.found import Finding
from sitegen.trade.parts import WayMoney
from sitegen.trade.rooms import RoomSeen

CLOSES = ("yes", "in part", "no")
HOW = frozenset({"old wire", "panel", "service", "alarms"})
"""What a finding is about where words, and not rooms, say what a way does."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its place for life, its file, the id of its main part, its title, and the scripts that it uses."""

    number: Figure
    file: str
    id: str
    title: str
    context: Callable[[Offer], dict[str, Any]]
    scripts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Does:
    """What ways that do the same do about a finding: the answer, the key of its words, and rooms by how far."""

    ways: tuple[str, ...]
    closes: str
    how: str | None
    rooms: tuple[tuple[str, tuple[Said, ...]], ...]


@dataclass(frozen=True, slots=True)
class Letter:
    """The letter of one way: its dates, the rooms of its list, and whether it is done by the date that was set."""

    way: WayMoney
    dates: WayDates
    rooms: tuple[Said, ...]
    in_time: bool | None


def _start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `rise` by way key: the words for "can it rise"; `always`: a list that never or always costs less."""
    return {**_findings(offer), "rise": {way.key: _rise(way) for way in offer.outcome.ways}, "row_count": ROW_COUNT,
            "always": next((even for even in offer.outcome.break_even if even.always_list or even.always_price), None)}


def _report(offer: Offer) -> dict[str, Any]:
    """Sheet 2.  `each` finding with what each way does; `tally`: by way, the numbers by their answer; `stays`: findings
    that no way closes whole; `letters`: one for each way; `asks`: whose date it is, or nobody's."""
    deadline = offer.dates.deadline
    return {**_findings(offer), "each": [(finding, _does(offer, finding)) for finding in offer.found.findings],
            "tally": [(way.name, [[finding.number for finding in offer.found.findings
                                   if finding.closed[way.key] == answer] for answer in CLOSES])
                      for way in offer.outcome.ways],
            "stays": [finding for finding in offer.found.findings if "yes" not in finding.closed.values()],
            "letters": [_letter(offer, way) for way in offer.outcome.ways],
            "asks": deadline.who if deadline else "nobody"}


def _findings(offer: Offer) -> dict[str, Any]:
    """`closes`: each finding and the words for who closes it; `one` and `one_dates`: the way that covers all."""
    one = offer.outcome.one_price
    return {"closes": [(finding, _closes(offer, finding)) for finding in offer.found.findings],
            "one": one, "one_dates": offer.dates.ways[one.key] if one else None}


def _compare(offer: Offer) -> dict[str, Any]:
    """Sheet 3.  `sections`: key and rows; `never_ahead`: the names of ways that lead nowhere; `bid_figures`: what the
    reader's own bids are worked with, `bid_looked_up` the same for the script, `bid_answers` those that cost something
    when they are no."""
    found: dict[str, list[Any]] = {}
    for row in rows(offer):
        found.setdefault(row.section, []).append(row)
    behind = never_ahead(offer)
    return {"sections": list(found.items()), "lead_row": LEAD_ROW, "row_count": ROW_COUNT,
            "bid_figures": bid_figures(offer), "bid_answers": ANSWERS,
            "bid_looked_up": bid_looked_up(bid_figures(offer)),
            "never_ahead": [way.name for way in offer.outcome.ways if way.key in behind]}


def _pay(offer: Offer) -> dict[str, Any]:
    """Sheet 4.  `ladders`, `turnings` and `spans` are drawings; `lists` the ways that sell a list; `later` what some
    way leaves to buy elsewhere, in the order of the price book."""
    outcome = offer.outcome
    return {"ladders": ladders(outcome), "turnings": turnings(outcome),
            "spans": spans(outcome.tracing.swings) if outcome.tracing else (),
            "bid_looked_up": bid_looked_up(bid_figures(offer)),
            "later": {item.key: item.called for way in outcome.ways for item in way.later},
            "live_feeds": [feed for feed in offer.found.each_feed if feed.known.value or feed.unseen.value],
            "lists": [way for way in outcome.ways if not way.covers_all], "one": outcome.one_price,
            "most_earner": next((way for way in outcome.ways if offer.terms[way.key].we_earn == "most"), None)}


def _living(offer: Offer) -> dict[str, Any]:
    """Sheet 5.  `bars` is a drawing; `each` way's days as lines; `cases` add days in every way, whoever pays."""
    year = day_of(offer.dates.prepared).year
    each = {way.key: {"blocks": blocks(offer.dates.ways[way.key].chosen, offer.dates.lived_in, year),
                      "outages": outages(offer.dates.ways[way.key].chosen, year),
                      "longest": longest(offer.dates.ways[way.key].chosen),
                      "dust": _dust(offer, way.key)} for way in offer.outcome.ways}
    cases = {case.key: case for way in offer.outcome.ways for case in way.cases}
    care = [offer.protection.ways[way.key] for way in offer.outcome.ways]
    return {**_findings(offer), "bars": bars(offer.outcome, offer.dates), "each": each, "cases": list(cases.values()),
            "keeps": [(said, next((key for key in KEEPS if key in said.text.lower()), "other"))
                      for said in offer.power.keep],
            "steps": next((_phases(one.steps) for one in care if one.steps), ()),
            "any_laid": any(one.laid.value for one in care),
            "plastered": any(way.ready_for_paint for way in offer.dates.ways.values()),
            "wipes": next((extra for extra in offer.extras if "wipes" in extra.key), None),
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


@dataclass(frozen=True, slots=True)
class Dust:
    """Lead dust of one way: the rooms where the steps are owed, each with its reason; the widest that is not."""

    owed: tuple[tuple[Said, str], ...]
    widest: Said | None
    area: Figure | None
    limit: Figure | None


def _dust(offer: Offer, way: str) -> Dust:
    names = {room.key: room.name for room in offer.rooms}
    rooms = offer.protection.ways[way].rooms
    owed = tuple((names[key], slug(room.reason)) for key, room in rooms.items() if room.owed)
    under = [key for key, room in rooms.items() if room.reason == "under the limit"]
    if not under:
        return Dust(owed, None, None, None)
    widest = max(under, key=lambda key: Fraction(rooms[key].area.value))  # type: ignore[arg-type]
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
        found.setdefault(_listed(floors), []).append(slug(care))
    return list(found.items())


def _rooms(offer: Offer) -> dict[str, Any]:
    """Sheet 6.  `walk`: every room; `storeys`: the plan; `lights`: editions of the handbook; `feet`: runs by storey."""
    plan = storeys(offer.rooms)
    places = {offer.design.rooms[room.key].light for room in offer.rooms} - {None}
    names = {room.floor.raw(): room.storey for room in offer.rooms}
    return {"storeys": plan, "walk": [_room(offer, room, at) for at, room in enumerate(offer.rooms, 1)],
            "drawn": "all" if all(len(one.drawn) == len(one.rooms) for one in plan) else
                     "some" if any(one.drawn for one in plan) else "none",
            "lights": sorted({light.edition.text: light.edition for light in places if light}.items()),
            "sections": sorted({said.text: said for room in offer.design.rooms.values()
                                for said in room.outlets.sections}.items()),
            "limit": _limit(offer), "keeps": any(room.outlets.short_of_full.value and not room.outlets.short.value
                         for room in offer.design.rooms.values()),
            "extras_by": _extras_by(offer.extras), "one": offer.outcome.one_price,
            "runs": [(names[run.storey.raw()], run) for run in offer.design.runs],
            "lists": [way.name for way in offer.outcome.ways if not way.covers_all],
            "listed": lambda names: _listed(list(names))}


@dataclass(frozen=True, slots=True)
class WayInRoom:
    """What one way does in a room; `care` is None where it opens nothing.  `bands`: patches not filled by hand."""

    name: str
    care: RoomCare | None
    closes: str
    bands: tuple[tuple[str, Figure], ...]


@dataclass(frozen=True, slots=True)
class LeadInRoom:
    """What the lead rule says of some ways in a room, the key of its words and what fills them; `ways` None for all."""

    ways: str | None
    key: str
    slots: dict[str, Figure]


@dataclass(frozen=True, slots=True)
class RoomShown:
    """One room as the sheet shows it.  `dead`: words on its old wire, and what fills them."""

    number: Figure
    room: RoomSeen
    design: RoomDesign
    now: Figure
    want: Figure
    old: Figure
    unseen: Figure
    ways: tuple[WayInRoom, ...]
    opened: bool
    lead: tuple[LeadInRoom, ...]
    cables: tuple[Said, ...]
    dead: tuple[str, dict[str, Figure]] | None
    has_light: bool
    extras: tuple[tuple[Said, Extra], ...]


def _room(offer: Offer, room: RoomSeen, at: int) -> RoomShown:
    def points(word: str) -> Figure:
        return total(f"sheets.rooms.{room.key}.{word}", [getattr(kind, word) for kind in room.kinds], "Its points.")
    ways = tuple(_way_in(offer, way, room) for way in offer.outcome.ways)
    old, unseen = points("old"), points("unseen")
    return RoomShown(
        number_of(room, at), room, offer.design.rooms[room.key], points("now"), points("want"), old, unseen,
        ways, any(way.care for way in ways), _lead_in(ways, _limit(offer)),
        tuple({kind.cable.text: kind.cable for kind in room.kinds if kind.cable}.values()),
        _dead_in(old, unseen) if offer.outcome.one_price else None,
        any("light" in kind.kind.text and kind.want.value for kind in room.kinds),
        tuple((Said(extra.key.replace("-", " "), extra.what.source), extra) for extra in offer.extras
              if room.used_as in extra.rooms))


def _way_in(offer: Offer, way: WayMoney, room: RoomSeen) -> WayInRoom:
    care = offer.protection.ways[way.key].rooms.get(room.key)
    return WayInRoom(way.name, care, "us" if offer.terms[way.key].closes_holes == "us" else "you",
                     tuple((key, band) for band in (care.bands if care else ())
                           if band.value and (key := band.name.rsplit(".", 1)[1]) != BY_HAND))


def _extras_by(extras: tuple[Extra, ...]) -> list[tuple[Figure, list[Extra]]]:
    """Extras by the last day to choose them, soonest first."""
    found: dict[str, tuple[Figure, list[Extra]]] = {}
    for extra in extras:
        found.setdefault(extra.until.raw(), (extra.until, []))[1].append(extra)
    return [found[day] for day in sorted(found)]


def _dead_in(old: Figure, unseen: Figure) -> tuple[str, dict[str, Figure]] | None:
    """The words for which old wire of a room is cut off where every point is done, and what fills them."""
    slots = {word: count for word, count in (("old", old), ("unseen", unseen)) if count.value}
    return ("both" if len(slots) > 1 else next(iter(slots)), slots) if slots else None


def _limit(offer: Offer) -> Figure | None:
    """The area at which the lead rule starts in the first room that is cut; a room of another limit says its own."""
    return next((care.limit_feet for way in offer.protection.ways.values() for care in way.rooms.values()), None)


def _lead_in(ways: tuple[WayInRoom, ...], limit: Figure | None) -> tuple[LeadInRoom, ...]:
    """The rule's answers, ways of one answer together, with the largest area among them."""
    found: dict[tuple[bool, str], list[WayInRoom]] = {}
    for way in ways:
        if way.care:
            found.setdefault((way.care.owed, way.care.reason), []).append(way)
    made = []
    for (owed, reason), same in found.items():
        most = max((way.care for way in same if way.care), key=_area)
        key, slots = slug(reason), {"area": most.area_feet, "limit": most.limit_feet} if reason in WITH_AREA else {}
        if slots and not owed:
            if limit and most.limit_feet.value == limit.value:
                del slots["limit"]
            else:
                key += "-of"
        made.append(LeadInRoom(_listed([way.name for way in same]) if len(found) > 1 else None, key, slots))
    return tuple(made)


def _area(care: RoomCare) -> Fraction:
    assert isinstance(care.area.value, int | Fraction)
    return Fraction(care.area.value)


BY_HAND = "hand"
"""The band of most patches, of which a room says nothing."""

WITH_AREA = ("under the limit", "area", "subsidised limit", "share of a small component")
"""Reasons of the lead rule that name the area cut and the limit."""


def _detail(offer: Offer) -> dict[str, Any]:
    """A detail.  `slots` is what its words may ask for."""
    return {"slots": {
        "feet": offer.lead.sheet, "lead_year": offer.lead.built_before, "cancel_days": offer.dates.cancel_days,
        "emergency": offer.head.emergency, "permit_price": offer.town.permit_price,
        "permit_days": offer.town.permit_days, "inspector_notice": offer.town.inspector_notice,
        "utility_notice": offer.town.utility_notice, "alarms": offer.town.alarms, "cable": offer.town.cable,
        "approvals": offer.town.approvals, "code": offer.firm.code, "permit": offer.firm.permit,
        "inspection": offer.firm.inspection, "prior_by": offer.outcome.prior.by,
        "feeds_open": offer.found.unsettled}}


def _who(offer: Offer) -> dict[str, Any]:
    """Sheet 8.  `earns`: the ways in the order in which the firm earns on them."""
    order = ("most", "middle", "least")
    return {"earns": sorted(offer.outcome.ways, key=lambda way: order.index(offer.terms[way.key].we_earn)),
            "one": offer.outcome.one_price}


def shared(offer: Offer, sheet: Sheet, details: dict[str, Sheet]) -> dict[str, Any]:
    """What every sheet has: the offer, itself, the lists of sheets and details, and its neighbours."""
    at = SHEETS.index(sheet) if sheet in SHEETS else -1
    return {"offer": offer, "head": offer.head, "firm": offer.firm, "sheet": sheet, "sheets": SHEETS,
            "details": details, "before": SHEETS[at - 1] if at > 0 else None,
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


def _does(offer: Offer, finding: Finding) -> list[Does]:
    """What each way does about a finding; ways that do the same stand together, in order of price today."""
    found: dict[tuple[object, ...], list[str]] = {}
    for way in offer.outcome.ways:
        done, left = ({room.text: room for room in rooms[way.key]} for rooms in (finding.rooms, finding.leaves))
        parts = (("done", tuple(room for name, room in done.items() if name not in left)),
                 ("some", tuple(room for name, room in done.items() if name in left)),
                 ("not", tuple(room for name, room in left.items() if name not in done)))
        how = None
        if finding.about in HOW:
            how = "not" if finding.closed[way.key] == "no" else finding.about.replace(" ", "-")
            if finding.about == "old wire" and how != "not":
                how += "-every" if way.covers_all else "-list"
        found.setdefault((finding.closed[way.key], how, tuple(part for part in parts if part[1])), []).append(way.name)
    return [Does(tuple(names), *key) for key, names in found.items()]  # type: ignore[arg-type]


def _letter(offer: Offer, way: WayMoney) -> Letter:
    """What the letter of one way says; `in_time` is whether it is done by the date that somebody set."""
    dates, deadline = offer.dates.ways[way.key], offer.dates.deadline
    rooms = tuple(room.name for room in offer.rooms
                  if any(int_of(kind.listed) or int_of(kind.want) > int_of(kind.now) for kind in room.kinds))
    in_time = None if deadline is None or not offer.holder.owner_now else day_of(dates.dead) <= day_of(deadline.by)
    return Letter(way, dates, rooms, in_time)


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
    Sheet(_number("sheets.compare.number", 3), "compare.html", "compare", "Compare", _compare,
          ("bids", "bidform")),
    Sheet(_number("sheets.pay.number", 4), "what-you-could-pay.html", "pay", "What you could pay", _pay,
          ("bids", "bidladder", "stepper")),
    Sheet(_number("sheets.living.number", 5), "living.html", "living", "Living through it", _living),
    Sheet(_number("sheets.rooms.number", 6), "rooms.html", "rooms", "Room by room", _rooms, ("extras",)),
    Sheet(_number("sheets.who.number", 8), "who.html", "who", "Who we are and how we know", _who),
)


DRAWINGS: dict[str, tuple[str, ...]] = {
    "alarms": ("alarm-places",),
    "cleaning": ("order",),
    "finding-old-feeds": ("feed",),
    "floors": ("layers",),
    "grounding": ("kinds",),
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
