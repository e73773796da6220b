"""How long a price is good for, by hand."""

from __future__ import annotations

from datetime import date

import pytest

from sitegen.dates.spans import good_through


@pytest.mark.parametrize(("first", "months", "days", "last"), [
    (date(2026, 9, 14), 12, 0, date(2027, 9, 14)),
    (date(2026, 9, 14), 0, 90, date(2026, 12, 13)),
    (date(2026, 1, 31), 1, 0, date(2026, 2, 28)),
    (date(2028, 2, 29), 12, 0, date(2029, 2, 28)),
    (date(2026, 12, 31), 2, 0, date(2027, 2, 28)),
    (date(2026, 11, 30), 1, 0, date(2026, 12, 30)),
    (date(2026, 5, 1), 0, 0, date(2026, 5, 1)),
])
def test_the_last_day_by_hand(first: date, months: int, days: int, last: date) -> None:
    """Months keep the number of the day, or end with a month that has no such day; days are counted one by one."""
    assert good_through(first, months, days) == last
