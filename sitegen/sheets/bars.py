"""The schedule as bars on one axis of time: old wires of an option live, then dead, then all finished; in an empty
house, and with people in it.

The drawing stands in percent of its width, so that marks keep their shape at any width.
"""

from __future__ import annotations

from datetime import date, timedelta

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Source, day_of, worked_out
from sitegen.offer.dates import Dates, MethodDates
from sitegen.offer.money import OptionMoney, Outcome
from sitegen.units import date_unit

COLUMNS = 3
"""The axis is cut in so many equal parts, each of whole weeks."""

DAYS_A_WEEK = 7
TOP, HEIGHT, ROOM = 4, 12, 22
"""Top and height of a bar, and height of its drawing [px]."""


class Bar(Struct, frozen=True):
    """One option: both of its methods, the empty house first whichever it is, each with its drawing."""

    option: OptionMoney
    drawn: tuple[tuple[MethodDates, Markup], ...]


class Bars(Struct, frozen=True):
    """All options on one axis; `ticks` are the first days of its parts."""

    ticks: tuple[Figure, ...]
    each: tuple[Bar, ...]


class Axis(Struct, frozen=True):
    """From a Monday over whole weeks, as many in each part."""

    start: date
    weeks: int

    def at(self, day: date, *, after: bool = False) -> float:
        """Where a day begins, or ends, in percent of the axis."""
        return round(((day - self.start).days + after) * 100 / (self.weeks * DAYS_A_WEEK), 2)


def bars(outcome: Outcome, dates: Dates) -> Bars:
    """Draw every option by both methods on one axis that holds them all."""
    ends = [method.finished for option in dates.options.values() for method in option.both]
    axis = axis_of(day_of(dates.work_starts), max(day_of(end) for end in ends))
    step = timedelta(weeks=axis.weeks // COLUMNS)
    ticks, year = [], day_of(dates.prepared).year
    for i in range(COLUMNS):
        day = axis.start + i * step
        ticks.append(worked_out(f"sheets.living.tick-{i + 1}", day, date_unit(day, year),
                                "A Monday, after whole weeks from the week of the start.", dates.work_starts, *ends,
                                source=Source("worked out", "from the dates of all options")))
        year = day.year
    start = day_of(dates.work_starts)
    return Bars(tuple(ticks), tuple(
        Bar(option, tuple((method, _svg(axis, start, method)) for method in dates.options[option.key].both))
        for option in outcome.options))


def axis_of(start: date, end: date) -> Axis:
    """The shortest axis that holds both days."""
    monday = start - timedelta(start.weekday())
    weeks = -(-((end - monday).days + 1) // DAYS_A_WEEK)
    return Axis(monday, -(-weeks // COLUMNS) * COLUMNS)


def _svg(axis: Axis, start: date, method: MethodDates) -> Markup:
    """Hatched while the old wires are live, a cross where they are dead, plain until a heavy line where all is
    finished."""
    parts = "".join(f'<line x1="{100 * i / COLUMNS:.4g}%" x2="{100 * i / COLUMNS:.4g}%" y1="0" y2="{ROOM}"/>'
                    for i in range(COLUMNS))
    first, middle = axis.at(start), TOP + HEIGHT // 2
    dead, done = (axis.at(day_of(day), after=True) for day in (method.dead, method.finished))
    return Markup(
        f'<g class="thirds">{parts}</g>'
        f'<rect class="hot" x="{first:g}%" y="{TOP}" width="{dead - first:.4g}%" height="{HEIGHT}"/>'
        f'<rect class="rest" x="{dead:g}%" y="{TOP}" width="{done - dead:.4g}%" height="{HEIGHT}"/>'
        f'<svg class="killed" x="{dead:g}%" y="{middle}"><path class="halo" d="M-6-6 6 6M6-6-6 6"/>'
        '<path d="M-6-6 6 6M6-6-6 6"/></svg>'
        f'<svg class="ended" x="{done:g}%" y="0"><path d="M0 0v{ROOM - 2}"/></svg>')
