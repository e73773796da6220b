"""The electrical design of a job, checked against the code: figures for the sheets, questions for the person in charge.

Nothing here approves anything.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from sitegen.figure import Figure, Quote, slug
from sitegen.job.inputs import Inputs
from sitegen.offer.design.rooms import BoxSeen, RoomDesign, RunSeen, boxes, design_rooms, runs
from sitegen.offer.design.service import Service, code_source, service
from sitegen.survey.alarms import alarm_devices, alarm_places
from sitegen.survey.rule_sets import Code


class AlarmSeen(Struct, frozen=True):
    """Alarms of one kind in one kind of place: how many, and for which rooms."""

    kind: str
    place: str
    count: Figure
    rooms: tuple[Quote, ...]


class Design(Struct, frozen=True):
    """The electrical design under one edition: service, rooms by key, boxes, runs of cable, alarms by place.

    `alarm_devices` is how many alarms are set, where one that tells smoke and carbon monoxide does for both.
    """

    edition: str
    service: Service
    rooms: dict[str, RoomDesign]
    boxes: tuple[BoxSeen, ...]
    runs: tuple[RunSeen, ...]
    alarms: tuple[AlarmSeen, ...]
    alarm_devices: Figure


def design(inputs: Inputs, code: Code, keys: Mapping[str, str]) -> Design:
    """The design of a job; `keys` gives each room's key by its name."""
    made = service(inputs, code)
    return Design(code.edition, made, design_rooms(inputs, code, made.circuits, keys), boxes(inputs, code),
                  runs(inputs, code), _alarms(inputs, code), _devices(inputs, code))


def _devices(inputs: Inputs, code: Code) -> Figure:
    return Figure("alarms.devices", alarm_devices(inputs.job, code), "number",
                  "Alarms to be set: one that tells smoke and carbon monoxide does for both in one place.",
                  code_source("circuit-smoke-places", code))


def _alarms(inputs: Inputs, code: Code) -> tuple[AlarmSeen, ...]:
    """Alarms that a rewire under permit brings; the town's card says in words what it makes of them."""
    found: dict[tuple[str, str], list[tuple[str, ...]]] = {}
    for alarm in alarm_places(inputs.job, code):
        found.setdefault((alarm.kind, alarm.place), []).append(alarm.rooms)
    source = code_source("circuit-smoke-places", code)
    return tuple(AlarmSeen(kind, place, Figure(f"alarms.{slug(kind)}.{slug(place)}", len(rooms), "number",
                                               "Places that the model code asks for with such a permit.", source),
                           tuple(Quote(name, source) for names in rooms for name in names))
                 for (kind, place), rooms in found.items())


__all__ = ["AlarmSeen", "Design", "design"]
