"""The right to cancel against counts that others published or that the definition gives, row by row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from sitegen.dates import cancellation as law
from sitegen.dates.holidays_us import HolidayRule, holidays, observed
from sitegen.dates.overlay import Review, standing
from sitegen.offer.rules import rule
from sitegen.rules.read import given
from tests.published.rows import Row, rows

RULE, CALENDAR = given(law.CancelRule, "cancel"), given(HolidayRule, "holidays")


def _last(signed: date, delivered: date | None = None, **state: Any) -> law.LastDay:
    added = law.CancelOverlay("a state", state["days"], state.get("holidays count", False), Review()) if state else None
    return law.last_day_to_cancel(signed, delivered or signed, RULE, CALENDAR, added)


CALLS: dict[str, Callable[..., Any]] = {
    "actual": lambda signed: _last(signed).actual,
    "last day": lambda **what: _last(**what).day,
    "business day": lambda day: law.is_business_day(day, RULE, CALENDAR),
    "careful business day": lambda day: law.is_business_day(day, RULE, CALENDAR, skip_kept=True),
    "rule": lambda key: rule(key).value,
    "refund by": lambda notice: law.refund_by(notice, RULE, CALENDAR),
    "not earlier": lambda signed: _last(signed).day >= law.business_day_after(signed, 3, RULE, CALENDAR),
    "first work": law.first_day_of_work,
    "live": lambda by, reviewed, day: standing(Review(by, reviewed), day).live,
    "holiday": lambda day: holidays(CALENDAR, day.year).get(day),
    "kept": lambda day: observed(CALENDAR, day.year).get(day),
}


def _meant(value: Any) -> Any:
    """Days stand as text."""
    try:
        return date.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        return value


@pytest.mark.parametrize("row", rows("cancellation"))
def test_cancellation_gives_what_others_counted(row: Row) -> None:
    """Every published count, and every fact of the trade, comes out of our functions."""
    got, due = CALLS[row.of](**{name: _meant(value) for name, value in row.given.items()}), _meant(row.gives)
    assert got == due
    assert type(got) is type(due)
