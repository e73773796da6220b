"""Which wait sets the start: permit, utility, board, notice, subcontractor, or the right to cancel."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date, timedelta

from msgspec import Struct

from sitegen.dates.working_days import nth_working_day

WORKING, CALENDAR = "working", "calendar"


class Wait(Struct, frozen=True):
    """Something that has to be over before work starts: working or calendar days from the day asked, or until a
    day, such as the last day to cancel, when `until` is given."""

    key: str
    days: int = 0
    kind: str = CALENDAR
    until: date | None = None


class Start(Struct, frozen=True):
    """The wait that ends last, its last day, and the first working day after it."""

    key: str
    over: date
    start: date


def wait_over(wait: Wait, asked: date, closed: Collection[date]) -> date:
    """The last day of a wait that begins when it is asked for; raises ValueError for negative days or another kind."""
    if wait.days < 0 or wait.kind not in (WORKING, CALENDAR):
        raise ValueError(f"{wait.key}: a wait is so many working or calendar days; got {wait.days} {wait.kind}")
    if wait.until is not None:
        return wait.until
    if wait.kind == CALENDAR or not wait.days:
        return asked + timedelta(wait.days)
    return nth_working_day(asked + timedelta(1), wait.days, closed)


def longest_wait(waits: Sequence[Wait], asked: date, closed: Collection[date]) -> Start:
    """The wait that sets the start, the first of those that end together, and the earliest day on which work starts.

    All waits run side by side from the day `asked`.  Raises ValueError for no wait.
    """
    if not waits:
        raise ValueError("at least the right to cancel is waited for")
    over = [wait_over(wait, asked, closed) for wait in waits]
    last = max(over)
    return Start(waits[over.index(last)].key, last, nth_working_day(max(last, asked) + timedelta(1), 1, closed))
