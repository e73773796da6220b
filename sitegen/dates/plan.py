"""The dated plan of one option: from hours of work, notice for inspections and drying times to dates.

An empty house is done all at once, a lived-in one a few rooms at a time.  One line of work: the crew, the plasterer,
the inspector and the cleaner follow each other, so more hours or a later start never bring a date forward.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import date, timedelta
from fractions import Fraction

from sitegen.dates.plan_terms import (
    COATS,
    Extra,
    Hours,
    Kind,
    Method,
    People,
    Plan,
    RoomHours,
    Step,
    Waits,
    Who,
    Work,
    check,
    with_extra,
)
from sitegen.dates.working_days import nth_working_day, works_on


def plan(start: date, work: Work, people: People, waits: Waits, method: Method, extra: Extra | None = None) -> Plan:
    """The dated plan from the first working day at or after `start`, and with what turns up if `extra` is given.

    An empty house: all rooms opened at once, panel, old wires cut, capped and tested dead, inspection, closing,
    plaster, devices, final inspection, last cleaning, verification.  Lived in: the panel first, then a few rooms at a
    time, each group inspected before it is closed and cleaned after its devices, the old wires at the end.  A new
    service comes first of all, with the panel; the utility's cut and connection stand beside it.  Whatever the
    weekends, a lived-in house is not promised before the same house standing empty.

    Raises ValueError for no room, a negative number, a day without hours, rooms with different numbers of coats or
    with more than three, no room at once, or power off in an unknown kind of step.
    """
    work = with_extra(work, extra or Extra())
    check(work, people, waits, method)
    steps = _empty(_Line(start, people, waits, method), work)
    if method.lived_in:
        steps = _lived_in(_Line(start, people, waits, method), work, steps[-1].last)
    last_coats = [step.last for step in steps if step.who == Who.PLASTERER]
    return Plan(steps, next(step.last for step in steps if step.kind == Kind.TEST_DEAD), steps[-1].last,
                max(last_coats) + timedelta(waits.paint) if last_coats else None,
                len(days_of((step for step in steps if step.who == Who.CREW), people.closed)),
                hours_off(steps, people.closed))


def days_of(steps: Iterable[Step], closed: Collection[date]) -> tuple[date, ...]:
    """The working days on which at least one of these steps goes on, in order."""
    every = {step.first + timedelta(i) for step in steps for i in range((step.last - step.first).days + 1)}
    return tuple(sorted(day for day in every if works_on(day, closed)))


def hours_off(steps: Iterable[Step], closed: Collection[date]) -> dict[date, Hours]:
    """The hours without power [hours] of each working day that has any, in order; steps that share a day add up."""
    off: dict[date, Hours] = {}
    for step in steps:
        for day in days_of((step,), closed) if step.power_off else ():
            off[day] = off.get(day, 0) + step.power_off
    return dict(sorted(off.items()))


class _Line:
    """Where the work stands: a day, the crew's hours used of it, and the steps so far."""

    def __init__(self, start: date, people: People, waits: Waits, method: Method) -> None:
        self.people, self.waits, self.method = people, waits, method
        self.day, self.used = nth_working_day(start, 1, people.closed), Fraction(0)
        self.steps: list[Step] = []

    def crew(self, kind: Kind, hours: Hours, rooms: Sequence[RoomHours] = ()) -> None:
        """Hours of the crew from where the work stands.

        Of no hours, photographs and the test stand on the day that is reached; other steps are left out.
        """
        if not hours and kind not in (Kind.PHOTOGRAPH, Kind.TEST_DEAD):
            return
        a_day, left = Fraction(self.people.crew_day), Fraction(hours)
        if left and self.used == a_day:
            self._next_day()
        first = self.day
        while left > a_day - self.used:
            left -= a_day - self.used
            self._next_day()
        self.used += left
        self._add(kind, first, self.day, rooms, Who.CREW)

    def others(self, kind: Kind, who: Who, hours: Hours, a_day: Hours, rooms: Sequence[RoomHours] = (),
               start: date | None = None, not_before: date | None = None) -> None:
        """Whole days of somebody else from `start`, else from the first day of which the crew has used nothing.

        They end not before a day if one is given.
        """
        days = max(1, -(-Fraction(hours) // Fraction(a_day)))
        first = nth_working_day(start or self.day + timedelta(bool(self.used)), 1, self.people.closed)
        while not_before and nth_working_day(first, days, self.people.closed) < not_before:
            first = nth_working_day(first + timedelta(1), 1, self.people.closed)
        self.day, self.used = nth_working_day(first, days, self.people.closed), Fraction(self.people.crew_day)
        self._add(kind, first, self.day, rooms, who)

    def inspect(self, kind: Kind, rooms: Sequence[RoomHours] = ()) -> date:
        """Asks for an inspection of what is done; gives the first day on which work that waits on it may go on."""
        if self.method.by_photographs and kind != Kind.INSPECT_FINAL:
            self.crew(Kind.PHOTOGRAPH, 0, rooms)
            return self.day
        shut = {*self.people.closed, *self.people.office_closed}
        asked = nth_working_day(self.day + timedelta(1), max(1, self.waits.notice), self.people.office_closed)
        day = nth_working_day(asked, 1, shut)
        self._add(kind, day, day, rooms, Who.INSPECTOR)
        return day + timedelta(1)

    def wait(self, day: date) -> None:
        """The crew does not go on before this day."""
        if day > self.day:
            self.day, self.used = nth_working_day(day, 1, self.people.closed), Fraction(0)

    def close(self, rooms: Sequence[RoomHours]) -> date:
        """Closes and plasters; gives the first day on which plates may go on."""
        if not self.method.closes:
            return self.day
        self.crew(Kind.CLOSE, sum(one.close for one in rooms), rooms)
        coats = [sum(hours) for hours in zip(*(one.coats for one in rooms if one.coats), strict=True)]
        if not any(coats):
            return self.day
        for i, hours in enumerate(coats):
            start = nth_working_day(self.day + timedelta(1), max(1, self.waits.between_coats), self.people.closed)
            self.others(COATS[len(coats)][i], Who.PLASTERER, hours, self.people.plasterer_day, rooms,
                        start if i else None)
        if self.waits.cure:
            self._add(Kind.DRY, self.day + timedelta(1), self.day + timedelta(self.waits.cure), rooms, Who.NOBODY)
        return self.day + timedelta(self.waits.cure + 1)

    def service(self, work: Work) -> None:
        """A new service from a day of its own on which the utility and the office work too, so that the power that is
        cut in the morning can be back the same evening; of no hours it is left out.

        The electrodes are set and bonded on its first day, and the disconnect, where there is one, on its last, both by
        the crew within its hours: the inspector has to see them.  The inspector releases it, by appointment, and the
        utility connects it again, on its last day or the next on which both work.
        """
        if not work.service:
            return
        shut = {*self.people.closed, *self.people.office_closed}
        first = nth_working_day(self.day + timedelta(bool(self.used)), 1, shut)
        self.wait(first)
        self._add(Kind.UTILITY_CUT, first, first, (), Who.UTILITY)
        self._add(Kind.ELECTRODES, first, first, (), Who.CREW)
        self.crew(Kind.SERVICE, work.service)
        if work.disconnect:
            self._add(Kind.DISCONNECT, self.day, self.day, (), Who.CREW)
        self.wait(nth_working_day(self.day, 1, shut))
        self._add(Kind.RELEASE, self.day, self.day, (), Who.INSPECTOR)
        self._add(Kind.RECONNECT, self.day, self.day, (), Who.UTILITY)

    def kill_old(self, work: Work) -> None:
        """The old wires cut, their ends capped, then tested dead."""
        for kind, hours in ((Kind.CUT, work.cut), (Kind.CAP, work.cap), (Kind.TEST_DEAD, work.test)):
            self.crew(kind, hours)

    def finish(self, work: Work, not_before: date | None = None) -> None:
        """Final inspection, last cleaning, and its verification on the cleaner's last day."""
        passed = self.inspect(Kind.INSPECT_FINAL)
        self.others(Kind.CLEAN_LAST, Who.CLEANER, work.last_cleaning, self.people.cleaner_day, (), passed, not_before)
        self._add(Kind.VERIFY, self.day, self.day, (), Who.CREW)

    def in_order(self) -> tuple[Step, ...]:
        """The steps by their first day, those of one day as they were planned."""
        return tuple(sorted(self.steps, key=lambda step: step.first))

    def _next_day(self) -> None:
        self.day, self.used = nth_working_day(self.day + timedelta(1), 1, self.people.closed), Fraction(0)

    def _add(self, kind: Kind, first: date, last: date, rooms: Sequence[RoomHours], who: Who) -> None:
        self.steps.append(Step(kind, first, last, tuple(one.key for one in rooms), who,
                               self.method.power_off.get(kind, 0)))


def _empty(line: _Line, work: Work) -> tuple[Step, ...]:
    """All rooms at once; a panel that stays on its service is changed when the new cables are there."""
    line.service(work)
    if work.service:
        line.crew(Kind.PANEL, work.panel)
    line.crew(Kind.ROUGH, sum(one.rough for one in work.rooms), work.rooms)
    if not work.service:
        line.crew(Kind.PANEL, work.panel)
    line.kill_old(work)
    line.wait(line.inspect(Kind.INSPECT_ROUGH, work.rooms))
    line.wait(line.close(work.rooms))
    line.crew(Kind.DEVICES, sum(one.devices for one in work.rooms), work.rooms)
    line.finish(work)
    return line.in_order()


def _lived_in(line: _Line, work: Work, not_before: date | None) -> tuple[Step, ...]:
    """A few rooms at a time; the devices of a group are set when the next is open, while its inspection is awaited."""
    line.service(work)
    line.crew(Kind.PANEL, work.panel)
    at_once, before, plates = line.method.rooms_at_once, work.rooms[:0], line.day
    for i in range(0, len(work.rooms), at_once):
        group = work.rooms[i:i + at_once]
        line.crew(Kind.ROUGH, sum(one.rough for one in group), group)
        may_close = line.inspect(Kind.INSPECT_PART, group)
        _devices_and_clean(line, work, before, plates)
        line.wait(may_close)
        before, plates = group, line.close(group)
    _devices_and_clean(line, work, before, plates)
    line.kill_old(work)
    line.finish(work, not_before)
    return line.in_order()


def _devices_and_clean(line: _Line, work: Work, rooms: tuple[RoomHours, ...], plates: date) -> None:
    if rooms:
        line.wait(plates)
        line.crew(Kind.DEVICES, sum(one.devices for one in rooms), rooms)
        line.others(Kind.CLEAN_ROOMS, Who.CLEANER, work.rooms_cleaning, line.people.cleaner_day, rooms)
