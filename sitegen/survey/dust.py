"""Lead dust and floors of a job, option by option: where the lead rule is owed, and how much floor is left bare of
sheet."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from sitegen.job.books import Kit, PriceBook
from sitegen.job.model import Job, Room
from sitegen.survey.opened import RoomWork, by_all, by_list, works
from sitegen.trade.floors import Place, RoomSheet, room_sheet
from sitegen.trade.lead_dust import FreeDocument, LeadHouse, LeadRule, PaintWork, Surface, Verdict, verdict
from sitegen.trade.rounding import half_up

BOX = Fraction(1, 3)
"""Width of a box cut along the wall [ft]."""

PATHS = ("hall", "stairs")
"""Rooms that the crew walks through to all others."""

EVERY_ROOM = "every room"


class RoomDust(Struct, frozen=True):
    """One room under one option.

    `verdict`  whether the lead rule is owed there, and why
    `laid`     whether taped sheet is laid; `sheet` how much of the floor it covers
    """

    work: RoomWork
    verdict: Verdict
    laid: bool
    sheet: RoomSheet


def house_of_lead(job: Job) -> LeadHouse:
    """What of the house the lead rule turns on; a child is counted where nobody said."""
    return LeadHouse(job.house.built, job.lead.subsidised, False, job.lead.child_under_six != "no")


def papers_of(job: Job) -> tuple[FreeDocument, ...]:
    """The papers that free rooms: a report for walls and ceilings of the rooms that it names, or of all."""
    lead = job.lead
    rooms = [room.room for room in job.rooms] if lead.tested == "all" else list(lead.free_rooms)
    if lead.report is None:
        return ()
    return tuple(FreeDocument("written report", "inspector", room, frozenset({"wall", "ceiling"})) for room in rooms)


def dust(job: Job, book: PriceBook, kit: Kit, rule: LeadRule) -> dict[str, RoomDust]:
    """Every room in which an option opens something, by name, in the order of the survey."""
    scope = by_all if kit.covers == "every point" else by_list
    house, papers = house_of_lead(job), papers_of(job)
    found = {}
    for name, work in works(job, book, scope, kit.cuts).items():
        opened = work.opened
        surfaces = (Surface("wall", opened.area - work.overhead, opened.destroyed),
                    Surface("ceiling", work.overhead, opened.destroyed and work.overhead > 0))
        owed = verdict(rule, house, PaintWork(name, surfaces), papers)
        found[name] = RoomDust(work, owed, owed.owed or kit.sheet == EVERY_ROOM, _sheet(work, book, job, rule))
    return found


def bare_floor(job: Job, kit: Kit, rooms: Mapping[str, RoomDust]) -> int:
    """Floor that an option leaves bare of sheet, in rooms that it opens and in halls and stairs [sq ft].

    Basement and attic are left out.  What the survey measured wins.
    """
    if job.house.bare_floor is not None:
        return job.house.bare_floor
    total = Fraction(0)
    for room in job.rooms:
        if room.size is None or not 1 <= room.floor <= job.house.storeys:
            continue
        area = room.size[0] * room.size[1]
        if room.room in rooms:
            here = rooms[room.room]
            total += here.sheet.outside if here.laid else area
        elif room.kind in PATHS:
            total += area
    return half_up(total)


def floor_of(job: Job, room: Room) -> str:
    """What the floor of a room is made of."""
    return room.flooring or job.house.flooring


def _sheet(work: RoomWork, book: PriceBook, job: Job, rule: LeadRule) -> RoomSheet:
    """The sheet of a room from its holes and box cuts; where they are in the room nobody knows."""
    room = work.room
    assert room.size is not None
    wide = book.rates.walls[room.walls or job.house.walls].wide
    over = min(work.ceiling, work.opened.openings)
    places = [Place("ceiling", wide)] * over + [Place("wall", wide)] * (work.opened.openings - over)
    places += [Place("wall", BOX)] * work.opened.boxes
    return room_sheet(room.size[0], room.size[1], places, rule.sheet_feet)


__all__ = ["RoomDust", "bare_floor", "dust", "floor_of", "house_of_lead", "papers_of"]
