"""Lead dust and floors of a job, option by option: where the lead rule is owed, and how much floor is left bare of
sheet.

Counted in a room is all painted surface that one job disturbs there: pieces cut out, their edges cut back, box cuts,
base boards taken off, a ceiling that is scraped, and other work there within thirty days.  Days do not part it: a room
that is opened, wired and closed over weeks counts once, with all of its work together (40 CFR 745.83).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from sitegen.job.books import Kit, PriceBook
from sitegen.job.model import Job, Room
from sitegen.survey.opened import RoomWork, by_all, by_list, rates_of, works
from sitegen.trade.floors import Place, RoomSheet, room_sheet
from sitegen.trade.lead_dust import (
    OUTSIDE,
    SQUARE_INCHES,
    FreeDocument,
    LeadHouse,
    LeadRule,
    PaintWork,
    Surface,
    Verdict,
    verdict,
)
from sitegen.trade.lead_duties import Check, check_of
from sitegen.trade.rounding import half_up

BOX = Fraction(1, 3)
"""Width of a box cut along the wall [ft]."""

SCRAPED = "calcimine"
"""The trouble word of a room whose ceiling is scraped or washed off before a patch can hold there."""

OUTDOORS = "outdoors"
PATHS = ("hall", "stairs", "pantry")
"""Rooms that the crew walks through to all others; a pantry of an old house is often the way to the back door."""

PATHS_TOO = "paths"
"""What a kit says that covers the floors beyond the rooms whose paint is cut."""



REPORTED = ("wall", "ceiling", "base board")
"""Components that a report on a room is taken to cover; what other work disturbs there it is not."""


class RoomDust(Struct, frozen=True):
    """One room under one option.

    `verdict`    whether the lead rule is owed there, and why
    `lead_safe`  whether it is worked in by the firm's own standard: sheet before the first cut, wet work, HEPA vacuum
                 and a check.  That is so wherever paint is disturbed that is assumed to hold lead, in every option and
                 below the law's limit too, which is not a health limit
    `check`      how its cleaning is checked; None where it is not worked in by that standard
    `laid`       whether taped sheet is laid; `sheet` how much of the floor it covers
    """

    work: RoomWork
    verdict: Verdict
    check: Check | None
    laid: bool
    sheet: RoomSheet

    @property
    def lead_safe(self) -> bool:
        """Whether the firm's own standard is kept there: its cleaning is checked, and so all before it is done."""
        return self.check is not None


def house_of_lead(job: Job) -> LeadHouse:
    """What of the house the lead rule turns on; a child is counted where nobody said."""
    return LeadHouse(job.house.built, job.lead.subsidised, False, job.lead.child_under_six != "no")


def papers_of(job: Job) -> tuple[FreeDocument, ...]:
    """The papers that free rooms: a report for what we cut in the rooms that it names, or in all."""
    lead = job.lead
    if lead.report is None:
        return ()
    free = [room for room in job.rooms if lead.tested == "all" or room.room in lead.free_rooms]
    places = dict.fromkeys(_place(room) for room in free if room.part is None)
    return tuple(FreeDocument("written report", "inspector", place, frozenset(REPORTED)) for place in places)


def _place(room: Room) -> str:
    """The place of work as the lead rule tells it: outside by what the room is used as, whatever it is called."""
    return OUTSIDE if room.kind == OUTDOORS else f"room {room.room}"


def dust(job: Job, book: PriceBook, kit: Kit, rule: LeadRule) -> dict[str, RoomDust]:
    """Every room in which an option opens something, by name, in the order of the survey.

    Sheet is laid wherever painted surface is cut, whatever the kit says; one that covers the paths too lays it in every
    room that it opens.
    """
    scope = by_all if kit.covers == "every point" else by_list
    house, papers = house_of_lead(job), papers_of(job)
    found = {}
    for name, work in works(job, book, scope, kit.cuts).items():
        parts = [room for room in job.rooms if room.room == name]
        owed = verdict(rule, house, PaintWork(_place(work.room), surfaces(job, book, work, parts)), papers)
        found[name] = RoomDust(work, owed, check_of(house, owed),
                               owed.area > 0 or kit.sheet == PATHS_TOO, _sheet(work, book, job, rule, parts))
    return found


def surfaces(job: Job, book: PriceBook, work: RoomWork, parts: Sequence[Room]) -> tuple[Surface, ...]:
    """Everything painted that is disturbed in one room; `parts` are its lines in the survey.

    A ceiling that is scraped counts whole, once anything is opened in it.  Of base boards the whole is known, for the
    limit by share: they run all round the room.
    """
    opened, over = work.opened, work.overhead
    high, size = book.rates.base_board * 12, work.room.size
    off = sum((room.base_board_off or Fraction(0) for room in parts), Fraction(0)) * 12 * high
    other = sum((room.other_work or Fraction(0) for room in parts), Fraction(0))
    ceiling = max(over, size[0] * size[1] * SQUARE_INCHES) if size and scraped(work, parts) else over
    found = [Surface("wall", opened.area - over, opened.destroyed and opened.area > over, chiselled=opened.chiselled),
             Surface("ceiling", ceiling, opened.destroyed and over > 0, chiselled=opened.chiselled)]
    if off:
        whole = max(off, 2 * sum(size, Fraction(0)) * 12 * high) if size else off
        found.append(Surface("base board", off, whole=whole))
    return (*found, Surface("other work", other)) if other else tuple(found)


def scraped(work: RoomWork, parts: Sequence[Room]) -> bool:
    """Whether the ceiling of a room is scraped: old paint there lets go, and something painted is opened in it."""
    return work.overhead > 0 and any(SCRAPED in (room.trouble or ()) for room in parts)


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


def _sheet(work: RoomWork, book: PriceBook, job: Job, rule: LeadRule, parts: Sequence[Room]) -> RoomSheet:
    """The sheet of a room from its holes and box cuts; where they are in the room nobody knows.

    Under a ceiling that is scraped it lies on the whole floor.
    """
    room = work.room
    assert room.size is not None
    if scraped(work, parts):
        return RoomSheet(room.size[0] * room.size[1], room.size[0] * room.size[1])
    rates = rates_of(book)
    wide = (rates.walls[room.walls or job.house.walls].wide + 2 * rates.cut_back) / 12
    over = min(work.ceiling, work.opened.openings)
    places = [Place("ceiling", wide)] * over + [Place("wall", wide)] * (work.opened.openings - over)
    places += [Place("wall", BOX)] * work.opened.boxes
    return room_sheet(room.size[0], room.size[1], [*places, *_boards(room.size, parts)], rule.sheet_feet)


def _boards(size: tuple[Fraction, Fraction], parts: Sequence[Room]) -> list[Place]:
    """Base boards taken off, as places along a wall: none is longer than the longest wall."""
    off, longest = sum((room.base_board_off or Fraction(0) for room in parts), Fraction(0)), max(size)
    whole, rest = divmod(off, longest)
    return [Place("wall", longest)] * int(whole) + ([Place("wall", rest)] if rest else [])


__all__ = ["RoomDust", "bare_floor", "dust", "floor_of", "house_of_lead", "papers_of", "scraped", "surfaces"]
