"""What the plan of an option means in its rooms, as figures: days without outlets and lights, and how long sheet
lies."""

from __future__ import annotations

from msgspec import Struct

from sitegen.dates.dark import LONG, dark_days, sheet_lies
from sitegen.dates.plan_terms import Plan
from sitegen.figure import Figure
from sitegen.job.books import Kit
from sitegen.offer.context import Context
from sitegen.survey.lines import lines
from sitegen.units import date_unit


class Dark(Struct, frozen=True):
    """From old wires dead to new outlets and lights live, in the room where that takes longest [working days].

    `rooms` are those in which points that are there today are rewired; `whole` those of them in which all are, so that
    no outlet and no light is left; `long` whether it takes long enough for temporary power.
    """

    days: Figure
    rooms: Figure
    whole: Figure
    long: bool


class SheetLies(Struct, frozen=True):
    """The longest time that sheet lies in one room: from, to, and how long [days of the calendar]."""

    first: Figure
    last: Figure
    days: Figure


def dark_of(context: Context, name: str, kit: Kit, found: Plan, lived_in: bool) -> Dark | None:
    """How long rooms are without outlets and lights, as figures under a name; None where nothing that is there today
    is rewired."""
    every, dead = kit.covers == "every point", f"{name}.dead"
    now: dict[str, int] = {}
    done: dict[str, int] = {}
    for line in lines(context.inputs.job):
        now[line.room] = now.get(line.room, 0) + line.now
        done[line.room] = done.get(line.room, 0) + (line.rewired if every else line.listed)
    days = {room: count for room, count in dark_days(found.steps, lived_in,
                                                     frozenset(context.inputs.company.closed)).items()
            if count and done.get(room)}
    if not days:
        return None
    name, source = f"{name}.dark", context.make.book("kits")

    def rooms(word: str, count: int, method: str) -> Figure:
        return Figure(f"{name}.{word}", count, "rooms", method, context.make.survey("rooms"))
    longest = max(days.values())
    return Dark(Figure(f"{name}.days", longest, "working days", "Working days of the plan from the old wires of a room "
                       "cut off until its devices are set, in the room where it takes longest.", source,
                       (dead,)),
                rooms("rooms", len(days), "Rooms in which points that are there today are rewired."),
                rooms("whole", sum(done[room] == now[room] for room in days),
                      "Rooms in which all points that are there today are rewired."), longest > LONG)


def sheet_of(context: Context, name: str, found: Plan) -> SheetLies | None:
    """How long sheet lies in the room where it lies longest; None where no room is opened."""
    span = sheet_lies(found.steps)
    if span is None:
        return None
    first, last = span
    name, source, year = f"{name}.sheet", context.make.book("kits"), context.inputs.job.prepared.year
    start = Figure(f"{name}.first", first, date_unit(first, year), "First day on which the room is opened.", source,
                   ("dates.work-starts",))
    end = Figure(f"{name}.last", last, date_unit(last, year), "Day on which the room is cleaned and its sheet lifted.",
                 source, ("dates.work-starts",))
    return SheetLies(start, end, Figure(f"{name}.days", (last - first).days, "days",
                                        "Days of the calendar from the one to the other.", source,
                                        (start.name, end.name)))


__all__ = ["Dark", "SheetLies", "dark_of", "sheet_of"]
