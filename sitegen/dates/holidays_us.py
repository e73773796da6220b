"""Federal holidays of the United States, and the days on which offices keep those that fall on a weekend."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from msgspec import Struct

SATURDAY, SUNDAY = 5, 6

EARLIEST = 1986
"""First year in which the holidays were those of today, less Juneteenth."""


class HolidayRule(Struct, frozen=True):
    """The holidays of 5 USC 6103.

    `fixed`: month and day.  `floating`: month, weekday from Monday 0, and which of the month, -1 being the last.
    `since`: first year of one that was added.  Shifts [days] of the day on which offices keep one that falls on a
    Saturday or a Sunday.
    """

    fixed: Mapping[str, tuple[int, int]]
    floating: Mapping[str, tuple[int, int, int]]
    since: Mapping[str, int]
    saturday_shift: int
    sunday_shift: int


def holidays(rule: HolidayRule, year: int) -> dict[date, str]:
    """The holidays of a year on their own days, whatever weekday that is, with their keys.

    Raises ValueError for a year before 1986, when the list was another.  Source: 5 USC 6103(a).
    """
    if year < EARLIEST:
        raise ValueError(f"the list of holidays is that of {EARLIEST} and later; got {year}")
    found = {date(year, month, day): key for key, (month, day) in rule.fixed.items()}
    found |= {_nth(year, *floating): key for key, floating in rule.floating.items()}
    return {day: key for day, key in sorted(found.items()) if year >= rule.since.get(key, EARLIEST)}


def observed(rule: HolidayRule, year: int) -> dict[date, str]:
    """The days of a year on which offices keep a holiday that falls on a weekend, and which; no other days.

    New Year's Day can be kept on the last day of the year before.  Raises ValueError for a year before 1986.
    Source: 5 USC 6103(b), 38 CFR 20.306.
    """
    shift = {SATURDAY: rule.saturday_shift, SUNDAY: rule.sunday_shift}
    every = {**holidays(rule, year), **holidays(rule, year + 1)}
    kept = {day + timedelta(shift[day.weekday()]): key for day, key in every.items() if day.weekday() in shift}
    return {day: key for day, key in kept.items() if day.year == year}


def office_closed(rule: HolidayRule, first: int, last: int) -> frozenset[date]:
    """Every holiday and observed day from the year `first` to the year `last`: when an inspection office is shut.

    Towns have lists of their own: this is what holds where a town's card says nothing.
    """
    return frozenset(day for year in range(first, last + 1)
                     for day in {**holidays(rule, year), **observed(rule, year)})


def _nth(year: int, month: int, weekday: int, which: int) -> date:
    """The `which`-th such weekday of a month, from its end when negative."""
    if which > 0:
        first = date(year, month, 1)
        return first + timedelta((weekday - first.weekday()) % 7 + 7 * (which - 1))
    last = (date(year, month, 28) + timedelta(4)).replace(day=1) - timedelta(1)
    return last - timedelta((last.weekday() - weekday) % 7 + 7 * (-which - 1))
