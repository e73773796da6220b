"""What a dated plan is made from, and the steps that it is made of."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import StrEnum
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

Hours = Fraction | int


class Who(StrEnum):
    """Who does a step; nobody while plaster dries."""

    CREW = "crew"
    PLASTERER = "plasterer"
    INSPECTOR = "inspector"
    CLEANER = "cleaner"
    UTILITY = "utility"
    NOBODY = "nobody"


class Kind(StrEnum):
    """What a step is."""

    UTILITY_CUT = "utility cut"
    ELECTRODES = "electrodes"
    SERVICE = "service"
    DISCONNECT = "disconnect"
    RELEASE = "release"
    RECONNECT = "reconnect"
    PANEL = "panel"
    ROUGH = "rough"
    CUT = "cut"
    CAP = "cap"
    TEST_DEAD = "test dead"
    PHOTOGRAPH = "photograph"
    INSPECT_ROUGH = "inspect rough"
    INSPECT_PART = "inspect part"
    INSPECT_FINAL = "inspect final"
    CLOSE = "close"
    SCRATCH = "scratch"
    BASE = "base"
    BROWN = "brown"
    FINISH = "finish"
    DRY = "dry"
    DEVICES = "devices"
    CLEAN_ROOMS = "clean rooms"
    CLEAN_LAST = "clean last"
    VERIFY = "verify"


COATS = {1: (Kind.FINISH,), 2: (Kind.BASE, Kind.FINISH), 3: (Kind.SCRATCH, Kind.BROWN, Kind.FINISH)}
"""The plasterer's visits by their number."""


class RoomHours(Struct, frozen=True):
    """One room: crew hours before closing, for closing and for devices and plates; plasterer's hours in each coat.

    `coats` is empty, or as long as that of every other room; one of no hours is a visit all the same.
    """

    key: str
    rough: Hours
    devices: Hours
    close: Hours = 0
    coats: tuple[Hours, ...] = ()


class Work(Struct, frozen=True):
    """What the house takes.  Crew hours: the panel, cutting, capping and testing the old wires, and a new service.

    Cleaner's hours: the last cleaning, and in a lived-in house the clean-up of each group of rooms.
    `disconnect` is whether the new service brings a disconnect outside; its hours and those of the ground rods and the
    bond to the water pipe are in those of the service.
    """

    rooms: tuple[RoomHours, ...]
    panel: Hours
    cut: Hours
    cap: Hours
    test: Hours
    last_cleaning: Hours
    rooms_cleaning: Hours
    service: Hours = 0
    disconnect: bool = False


class Extra(Struct, frozen=True):
    """What turns up, spread evenly over the rooms: crew hours for points, feeds and blocked drops before closing,
    for closing and for devices; `coat` is plasterer's hours, in each coat."""

    points: Hours = 0
    feeds: Hours = 0
    blocked: Hours = 0
    close: Hours = 0
    devices: Hours = 0
    coat: Hours = 0


class People(Struct, frozen=True):
    """Hours a day of all of the crew together, of the plasterer and of the cleaner; the firm's and the inspection
    office's closed days besides weekends."""

    crew_day: Hours
    plasterer_day: Hours
    cleaner_day: Hours
    closed: frozenset[date] = frozenset()
    office_closed: frozenset[date] = frozenset()


class Waits(Struct, frozen=True):
    """Notice for an inspection and time between coats [working days]; cure before plates, and paint [calendar days].

    An inspector comes on the working day of that number after asking, at the earliest on the next; work that waits
    on it goes on the day after.  Between the last coat and the plates lie `cure` whole days.  The wall can be
    painted on calendar day `paint` after the last coat.
    """

    notice: int
    between_coats: int
    cure: int
    paint: int


class Method(Struct, frozen=True):
    """How the house is done.  `closes` is whether this option closes its holes; `by_photographs` whether the town lets
    them be closed on photographs; `power_off` the hours without power on each day of a kind of step."""

    lived_in: bool
    rooms_at_once: int
    closes: bool
    by_photographs: bool
    power_off: Mapping[str, Hours]


class Step(Struct, frozen=True):
    """A dated step: its kind; first and last day; room keys, empty for the whole house; who does it;
    hours without power on each of its days."""

    kind: Kind
    first: date
    last: date
    rooms: tuple[str, ...]
    who: Who
    power_off: Hours


class Plan(Struct, frozen=True):
    """Steps in order; the day on which the old wires are tested dead; the last day of all; the first day for paint,
    None if no plaster is laid; days with the crew in the house; hours without power on each day that has any."""

    steps: tuple[Step, ...]
    dead: date
    finished: date
    paint: date | None
    crew_days: int
    power_off: Mapping[date, Hours]


def with_extra(work: Work, extra: Extra) -> Work:
    """The work with what turns up, evenly over the rooms: then no room's hours move those of another."""
    if min(extra.points, extra.feeds, extra.blocked, extra.close, extra.devices, extra.coat) < 0 or not work.rooms:
        raise ValueError("a plan has at least one room, and nothing that turns up is negative")
    each = Fraction(1, len(work.rooms))
    coats = max(len(one.coats) for one in work.rooms)
    return replace(work, rooms=tuple(
        replace(one, rough=one.rough + each * (extra.points + extra.feeds + extra.blocked),
                devices=one.devices + each * extra.devices, close=one.close + each * extra.close,
                coats=tuple(hours + each * extra.coat for hours in one.coats or (0,) * coats))
        for one in work.rooms))


def check(work: Work, people: People, waits: Waits, method: Method) -> None:
    """Raises ValueError for what no plan can be made from."""
    hours = [work.panel, work.cut, work.cap, work.test, work.last_cleaning, work.rooms_cleaning,
             work.service]
    hours += [value for one in work.rooms for value in (one.rough, one.devices, one.close, *one.coats)]
    if min(*hours, waits.notice, waits.between_coats, waits.cure, waits.paint) < 0:
        raise ValueError("hours and days are not negative")
    if min(people.crew_day, people.plasterer_day, people.cleaner_day) <= 0:
        raise ValueError("everybody works some hours a day")
    lengths = {len(one.coats) for one in work.rooms}
    if len(lengths) != 1 or max(lengths) > max(COATS):
        raise ValueError(f"every room has the same number of coats, at most {max(COATS)}; got {sorted(lengths)}")
    if method.rooms_at_once < 1:
        raise ValueError("a lived-in house goes at least one room at a time")
    if unknown := set(method.power_off) - set(Kind):
        raise ValueError(f"no such step: {', '.join(sorted(unknown))}")
