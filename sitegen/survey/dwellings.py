"""The parts of a house that no branch circuit may join: each dwelling, and what all of them share (NEC 210.25)."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.job.model import Job
from sitegen.survey.alarms import circuit_rooms
from sitegen.survey.rule_sets import Code
from sitegen.trade.circuits import CircuitRoom
from sitegen.trade.load_parts import Load
from sitegen.trade.service_load import service_duties

SHARED = "shared"
"""The word for what belongs to no dwelling by itself; a field that is left out means the same."""

WHOLE = ""
"""The key of the one part of a house of one dwelling."""


DISCONNECT, FEW = "emergency-disconnect", 2
"""The duty that brings a disconnect outside, and the most dwellings of a house that has it."""


class HousePart(Struct, frozen=True):
    """One part: a dwelling by its name, SHARED, or WHOLE; its floor area [sq ft], rooms and loads.

    The area of what is shared is what the dwellings leave of the house's, and may be nought.
    """

    key: str
    area: int
    rooms: tuple[CircuitRoom, ...]
    loads: tuple[tuple[Load, str | None], ...]

    @property
    def is_dwelling(self) -> bool:
        """Whether somebody lives in it by themselves."""
        return self.key != SHARED


def parts_of(job: Job) -> tuple[HousePart, ...]:
    """The house as one part, or each dwelling in the order of its areas and then what they share, if there is any."""
    rooms, loads = circuit_rooms(job), tuple(loads_of(job))
    if job.house.dwellings == 1:
        return (HousePart(WHOLE, job.house.area, rooms, tuple((load, where) for load, where, _ in loads)),)
    whose = {room.room: room.dwelling for room in reversed(job.rooms) if room.kind is not None}
    found = []
    for key in (*job.house.dwelling_areas, SHARED):
        area = job.house.dwelling_areas.get(key, job.house.area - sum(job.house.dwelling_areas.values()))
        part = HousePart(key, area, tuple(room for room in rooms if (whose[room.name] or SHARED) == key),
                         tuple((load, where) for load, where, of in loads if of == key))
        if part.is_dwelling or part.rooms or part.loads:
            found.append(part)
    return tuple(found)


def duties_of(job: Job, code: Code) -> tuple[str, ...]:
    """What new service equipment brings with it, where the plan has some, as keys of `service_duties`.

    The disconnect outside is asked of one- and two-family dwellings alone (NEC 230.85).
    """
    found = service_duties(code.load, job.panel.new_rating is not None)
    return tuple(key for key in found if job.house.dwellings <= FEW or not key.startswith(DISCONNECT))


def loads_of(job: Job) -> Iterator[tuple[Load, str | None, str]]:
    """Every load of the survey, the kind of room that it is said to be in, and the part of the house it is of."""
    for load in job.loads:
        for _ in range(load.count):
            yield (Load(load.what, load.takes.volt_amperes(int(load.volts)), load.is_, int(load.volts)), load.where,
                   load.dwelling or SHARED)


def feeds_between(job: Job) -> tuple[str, ...]:
    """Circuits of today that serve points of two parts, by name."""
    whose = {room.room: room.dwelling or SHARED for room in reversed(job.rooms) if room.kind is not None}
    found: dict[str, set[str]] = {}
    for room in job.rooms:
        for kind, feed in room.feeds.items():
            if room.now.get(kind):
                found.setdefault(feed, set()).add(whose.get(room.room, SHARED))
    return tuple(feed for feed, of in found.items() if len(of) > 1)


__all__ = ["DISCONNECT", "SHARED", "WHOLE", "HousePart", "duties_of", "feeds_between", "loads_of", "parts_of"]
