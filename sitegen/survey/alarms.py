"""The rooms as the code's rules of circuits and alarms read them, and the alarms that a rewire brings."""

from __future__ import annotations

from sitegen.job.model import Job
from sitegen.survey.lines import Line, lines
from sitegen.survey.rule_sets import Code
from sitegen.trade.circuits import Alarm, CircuitRoom, TownAlarms, alarms

OUTLET = "outlet"


def circuit_rooms(job: Job) -> tuple[CircuitRoom, ...]:
    """Rooms as the schedule reads them: their area, their points in the end, and which of these are outlets."""
    found: dict[str, CircuitRoom] = {}
    by_room: dict[str, list[Line]] = {}
    for line in lines(job):
        by_room.setdefault(line.room, []).append(line)
    for room in job.rooms:
        if room.kind is None or room.size is None:
            continue
        here = by_room.get(room.room, [])
        found[room.room] = CircuitRoom(room.room, room.kind, room.size[0] * room.size[1],
                                       sum(line.want for line in here), room.floor,
                                       sleeping=room.dwelling or "",
                                       outlets=sum(line.want for line in here if line.kind == OUTLET))
    return tuple(found.values())


def alarm_places(job: Job, code: Code) -> tuple[Alarm, ...]:
    """Alarms that a rewire under permit brings, each once."""
    return alarms(code.circuit, circuit_rooms(job), job.house.fuel_or_garage, TownAlarms())


def alarm_devices(job: Job, code: Code) -> int:
    """Alarms to be set [devices]: one that tells smoke and carbon monoxide does for both in one place."""
    return len({(alarm.place, alarm.storey, alarm.rooms) for alarm in alarm_places(job, code)})


__all__ = ["alarm_devices", "alarm_places", "circuit_rooms"]
