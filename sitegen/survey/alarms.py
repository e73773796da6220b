"""The rooms as the code's rules of circuits and alarms read them, and the alarms that a rewire brings."""

from __future__ import annotations

from msgspec.structs import replace

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
    """Alarms that a rewire under permit brings, each once.

    The rules speak of a dwelling: where there are several, each has a set of its own, whatever the storeys they share.
    Of what all use, a storey on which nobody lives has an alarm too, which is more than the model text asks.
    """
    rooms, fuel = circuit_rooms(job), job.house.fuel_or_garage
    if job.house.dwellings == 1:
        return alarms(code.circuit, rooms, fuel, TownAlarms())
    found = [replace(alarm, dwelling=name) for name in job.house.dwelling_areas
             for alarm in alarms(code.circuit, _of(rooms, name), fuel, TownAlarms())]
    lived_on = {room.storey for room in rooms if room.sleeping in job.house.dwelling_areas}
    shared = alarms(code.circuit, tuple(room for room in rooms if room.sleeping not in job.house.dwelling_areas), fuel,
                    TownAlarms())
    return (*found, *(alarm for alarm in shared if alarm.rooms or alarm.storey not in lived_on))


def _of(rooms: tuple[CircuitRoom, ...], dwelling: str) -> tuple[CircuitRoom, ...]:
    return tuple(room for room in rooms if room.sleeping == dwelling)


def alarm_devices(job: Job, code: Code) -> int:
    """Alarms to be set [devices]: one that tells smoke and carbon monoxide does for both in one place."""
    return len({(alarm.dwelling, alarm.place, alarm.storey, alarm.rooms) for alarm in alarm_places(job, code)})


__all__ = ["alarm_devices", "alarm_places", "circuit_rooms"]
