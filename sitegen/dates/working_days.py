"""Counting days on which a crew works: weekdays on which the firm is not closed."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, timedelta

SATURDAY = 5


def works_on(day: date, closed: Collection[date]) -> bool:
    """Whether a crew works on this day."""
    return day.weekday() < SATURDAY and day not in closed


def nth_working_day(start: date, count: int, closed: Collection[date]) -> date:
    """The day on which the `count`-th working day falls, `start` being the first if the crew works on it.

    `count` is at least 1; raises ValueError otherwise.
    """
    if count < 1:
        raise ValueError(f"the first working day is number 1; got {count}")
    day = start
    while True:
        count -= works_on(day, closed)
        if count <= 0:
            return day
        day += timedelta(days=1)


def working_days(since: date, until: date, closed: Collection[date]) -> int:
    """Working days from `since` on, before `until` [working days]; none where that is no later."""
    return sum(works_on(since + timedelta(i), closed) for i in range((until - since).days))
