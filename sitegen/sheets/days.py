"""The steps of a plan as lines that a person can read: group by group of rooms, steps that belong together in one."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from sitegen.figure import Figure, Quote, day_of
from sitegen.offer.dates import MethodDates, StepSeen
from sitegen.units import date_unit

FAMILY = {**dict.fromkeys(("utility cut", "electrodes", "service", "disconnect", "release", "reconnect"),
                          "new service"),
          "cut": "old wires", "cap": "old wires", "test dead": "old wires", "scratch": "plaster", "base": "plaster",
          "brown": "plaster", "finish": "plaster", "dry": "plaster", "clean last": "last cleaning",
          "verify": "last cleaning"}
"""Steps that are told in one line when they follow each other; other kinds stand for themselves."""

JOINED = {("rough", "photograph"): "rough and photograph", ("devices", "clean rooms"): "devices and clean"}
"""Two kinds of step that are told as one when they follow each other."""

STEPS = {
    "rough": "living.step.rough",
    "rough and photograph": "living.step.rough-and-photograph",
    "photograph": "living.step.photograph",
    "new service": "living.step.new-service",
    "new service, disconnect": "living.step.new-service-disconnect",
    "panel": "living.step.panel",
    "old wires": "living.step.old-wires",
    "inspect rough": "living.step.inspect-rough",
    "inspect part": "living.step.inspect-part",
    "inspect final": "living.step.inspect-final",
    "plaster": "living.step.plaster",
    "devices": "living.step.devices",
    "devices and clean": "living.step.devices-and-clean",
    "clean rooms": "living.step.clean-rooms",
    "last cleaning": "living.step.last-cleaning",
}
"""The words of a line.  Holes are closed in coats of plaster: no plan has a step for it alone."""

POWER_OFF = {
    "service": "living.power.at.service",
    "rough": "living.power.at.rough",
    "panel": "living.power.at.panel",
    "cut": "living.power.at.cut",
    "devices": "living.power.at.devices",
}
"""The steps that can take the power, and the words for what it is off for."""


WITH_DISCONNECT = "new service, disconnect"
"""What a new service is told as where it brings a disconnect outside."""


class Line(Struct, frozen=True):
    """One line: what, as the key of its words; from and to, None for one day; hours without power, and whether on
    several days."""

    key: str
    first: Figure
    last: Figure | None
    power_off: Figure | None
    each_day: bool


class Block(Struct, frozen=True):
    """Lines that belong together.  `rooms` is empty for the whole house; else they are shut from and to two days."""

    rooms: tuple[Quote, ...]
    shut: tuple[Figure, Figure] | None
    lines: tuple[Line, ...]


class Outage(Struct, frozen=True):
    """Days on which one kind of step takes the power: the key of its words, from and to, hours on each day."""

    key: str
    first: Figure
    last: Figure | None
    hours: Figure


def blocks(method: MethodDates, lived_in: bool, year: int) -> tuple[Block, ...]:
    """A plan as blocks in the order of their first day; a date has its year where that is not the last one named."""
    groups: list[tuple[tuple[Quote, ...], list[StepSeen]]] = []
    for step in method.steps:
        rooms = step.rooms if lived_in else ()
        had = next((steps for named, steps in groups if named and named == rooms), None)
        if had is None and not rooms and groups and not groups[-1][0]:
            had = groups[-1][1]
        if had is None:
            had = []
            groups.append((rooms, had))
        had.append(step)
    calendar = _Calendar(year)
    return tuple(_block(rooms, steps, calendar) for rooms, steps in groups)


def outages(method: MethodDates, year: int) -> tuple[Outage, ...]:
    """Every step that takes the power, in order."""
    calendar = _Calendar(year)
    return tuple(Outage(POWER_OFF[step.kind], *calendar.span(step.first, step.last), step.power_off)
                 for step in method.steps if step.power_off is not None)


def _block(rooms: tuple[Quote, ...], steps: list[StepSeen], calendar: _Calendar) -> Block:
    shut = None
    if rooms:
        first = calendar.say(min((step.first for step in steps), key=day_of))
        shut = (first, calendar.same(max((step.last for step in steps), key=day_of)))
    told = []
    for key, some in _lines(steps):
        off = next((step for step in some if step.power_off), None)
        if any(step.kind == "disconnect" for step in some):
            key = WITH_DISCONNECT
        told.append(Line(STEPS[key], *calendar.span(some[0].first, max((step.last for step in some), key=day_of)),
                         off.power_off if off else None, bool(off and off.many)))
    return Block(rooms, shut, tuple(told))


def _lines(steps: Iterable[StepSeen]) -> list[tuple[str, list[StepSeen]]]:
    found: list[tuple[str, list[StepSeen]]] = []
    for step in steps:
        key = FAMILY.get(step.kind, step.kind)
        joined = JOINED.get((found[-1][0], key)) if found else None
        if found and (joined or found[-1][0] == key):
            found[-1] = (joined or key, [*found[-1][1], step])
        else:
            found.append((key, [step]))
    return found


class _Calendar:
    """Says a year once: a date has its year where it is not that of the date before."""

    def __init__(self, year: int) -> None:
        self.year = year

    def say(self, figure: Figure) -> Figure:
        shown = self.same(figure)
        self.year = day_of(figure).year
        return shown

    def same(self, figure: Figure) -> Figure:
        """Said after others, without moving the year on."""
        return replace(figure, unit=date_unit(day_of(figure), self.year))

    def span(self, first: Figure, last: Figure) -> tuple[Figure, Figure | None]:
        """From and to; the second is None on one day."""
        shown = self.say(first)
        return shown, None if last.value == first.value else self.say(last)


__all__ = ["Block", "Line", "Outage", "blocks", "outages"]
