"""What a plan means in the rooms: how long points are dead before new ones are live, how long sheet lies."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date

from sitegen.dates.plan_terms import Kind, Step
from sitegen.dates.working_days import working_days

LONG = 3
"""Working days without outlets or lights from which a room needs temporary power (judgment, no source)."""


def dark_days(steps: Iterable[Step], lived_in: bool, closed: Collection[date]) -> dict[str, int]:
    """The working days of each room from the day its old points go dead until its new ones are set [working days].

    In an empty house they go when the old wires are cut; where people live, when the wiring of the room is done, since
    each box is taken over as its new cable comes.  The day on which devices are set counts no more.  A room without
    a visit for devices is left out.
    """
    made = tuple(steps)
    cut = [step.first for step in made if step.kind in (Kind.CUT, Kind.TEST_DEAD)]
    wired = {room: step.last for step in made if step.kind == Kind.ROUGH for room in step.rooms}
    found = {}
    for step in made:
        for room in step.rooms if step.kind == Kind.DEVICES else ():
            since = wired[room] if lived_in and room in wired else min(cut)
            found[room] = working_days(since, step.last, closed)
    return found


def sheet_lies(steps: Iterable[Step]) -> tuple[date, date] | None:
    """The longest time that sheet lies in a room: from its opening until it is cleaned; None where none is opened.

    Where people live each set of rooms is cleaned by itself; an empty house is cleaned at the end.
    """
    made = tuple(steps)
    last = [step.last for step in made if step.kind == Kind.CLEAN_LAST]
    cleaned = {room: step.last for step in made if step.kind == Kind.CLEAN_ROOMS for room in step.rooms}
    spans = [(step.first, cleaned.get(room, last[-1])) for step in made if step.kind == Kind.ROUGH
             for room in step.rooms]
    return max(spans, key=lambda span: (span[1] - span[0], span[0]), default=None)


__all__ = ["LONG", "dark_days", "sheet_lies"]
