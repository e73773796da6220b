"""How long something is good for: whole months, or days, counted from a day."""

from __future__ import annotations

from datetime import date, timedelta

MONTHS_A_YEAR = 12


def good_through(first: date, months: int = 0, days: int = 0) -> date:
    """The last day of so many calendar months and days from `first`.

    A month ends on the day of its number in the month that it leads to, or on that month's last day when it has no
    such day: one month from 31 January is good through 28 February.
    """
    year, month = divmod(first.month - 1 + months, MONTHS_A_YEAR)
    start = date(first.year + year, month + 1, 1)
    last = (start + timedelta(31)).replace(day=1) - timedelta(1)
    return min(last, start + timedelta(first.day - 1)) + timedelta(days)
