"""The right to cancel: business days, observed days, and what a state's overlay can and cannot do."""

from __future__ import annotations

from datetime import date, timedelta

import holidays as outside
import pytest
from hypothesis import given as over
from hypothesis import strategies as st

from sitegen.dates.cancellation import (
    CancelOverlay,
    CancelRule,
    business_day_after,
    first_day_of_work,
    is_business_day,
    last_day_to_cancel,
    refund_by,
)
from sitegen.dates.holidays_us import HolidayRule, holidays, observed, office_closed
from sitegen.dates.overlay import Review, standing
from sitegen.rules.read import given

RULE = given(CancelRule, "cancel")
CALENDAR = given(HolidayRule, "holidays")
DAYS = st.dates(date(2021, 1, 1), date(2040, 12, 31))
REVIEWED = Review("A. Lawyer", date(2026, 3, 1))


def overlay(days: int = 3, holidays_count: bool = False, review: Review = REVIEWED) -> CancelOverlay:
    return CancelOverlay("a state", days, holidays_count, review)


@pytest.mark.parametrize("year", range(2024, 2031))
def test_holidays_are_those_of_an_outside_calendar(year: int) -> None:
    """Day for day the holidays on their own dates agree with a calendar kept by others."""
    assert set(holidays(CALENDAR, year)) == set(outside.US(years=year, observed=False))


@pytest.mark.parametrize("year", range(2021, 2041))
def test_kept_days_are_those_of_an_outside_calendar(year: int) -> None:
    """Holidays with the days on which offices keep them agree with a calendar kept by others."""
    assert {*holidays(CALENDAR, year), *observed(CALENDAR, year)} == set(outside.US(years=year))
    assert office_closed(CALENDAR, year, year) == set(outside.US(years=year))


def test_a_holiday_before_it_was_one_is_a_business_day() -> None:
    """June 19 is a holiday from 2021 on and not before."""
    assert "juneteenth" not in holidays(CALENDAR, 2020).values()
    assert holidays(CALENDAR, 2021)[date(2021, 6, 19)] == "juneteenth"


def test_new_year_can_be_kept_in_the_old_year() -> None:
    """New Year's Day 2022 was a Saturday, kept on 31 December 2021."""
    assert observed(CALENDAR, 2021)[date(2021, 12, 31)] == "new-year"
    assert date(2022, 1, 1) not in observed(CALENDAR, 2022)


def test_a_year_with_another_list_is_refused() -> None:
    """Before 1986 the list was another."""
    with pytest.raises(ValueError, match="1986"):
        holidays(CALENDAR, 1985)


def test_saturday_counts_and_sunday_does_not() -> None:
    """A Saturday is a business day, a Sunday never."""
    assert is_business_day(date(2026, 11, 28), RULE, CALENDAR)
    assert not is_business_day(date(2026, 11, 29), RULE, CALENDAR)


@over(DAYS, st.integers(1, 20), st.booleans())
def test_count_is_what_counting_on_fingers_gives(day: date, count: int, skip: bool) -> None:
    """Between the start and the last day lie just so many days that are neither Sunday nor holiday."""
    last = business_day_after(day, count, RULE, CALENDAR, skip_kept=skip)
    shut = {one for year in (day.year, day.year + 1) for one in outside.US(years=year, observed=skip)}
    between = [day + timedelta(i) for i in range(1, (last - day).days + 1)]
    assert sum(one.weekday() != 6 and one not in shut for one in between) == count
    assert last.weekday() != 6
    assert last not in shut


@over(DAYS, DAYS)
def test_count_runs_from_the_later_of_signing_and_copy(signed: date, delivered: date) -> None:
    """Which of the two came later does not matter, and the earlier one moves nothing."""
    one = last_day_to_cancel(signed, delivered, RULE, CALENDAR)
    assert one == last_day_to_cancel(delivered, signed, RULE, CALENDAR)
    assert one == last_day_to_cancel(max(signed, delivered), max(signed, delivered), RULE, CALENDAR)
    assert one.day >= max(signed, delivered) + timedelta(3)


@over(DAYS)
def test_the_later_of_two_counts_holds(signed: date) -> None:
    """Skipping observed days never brings the day forward, and the later count is the one given."""
    last = last_day_to_cancel(signed, signed, RULE, CALENDAR)
    assert last.actual <= last.kept_too == last.day
    assert first_day_of_work(last.day) == last.day + timedelta(1)


@over(DAYS, DAYS)
def test_a_later_signing_never_ends_earlier(one: date, other: date) -> None:
    """The last day never moves forward when the signature comes later."""
    first, second = (last_day_to_cancel(day, day, RULE, CALENDAR).day for day in sorted((one, other)))
    assert first <= second


@over(DAYS, st.integers(1, 10), st.booleans())
def test_a_state_never_shortens_the_federal_right(signed: date, days: int, holidays_count: bool) -> None:
    """Fewer days, or holidays that count, leave the federal day; more days are followed."""
    alone = last_day_to_cancel(signed, signed, RULE, CALENDAR)
    both = last_day_to_cancel(signed, signed, RULE, CALENDAR, overlay(days, holidays_count))
    assert both.day >= alone.day
    assert both.days == max(3, days)
    assert (both.day == alone.day) == (days <= 3)


def test_holidays_that_count_in_a_state() -> None:
    """The state's own count takes Thanksgiving as a business day; the federal one holds all the same."""
    last = last_day_to_cancel(date(2026, 11, 24), date(2026, 11, 24), RULE, CALENDAR, overlay(3, True))
    assert last.by_state == date(2026, 11, 27)
    assert last.day == date(2026, 11, 28)


def test_an_unreviewed_longer_right_is_given_and_said_to_be_unreviewed() -> None:
    """Nobody reviewed the five days: they are counted, and the overlay is not live."""
    last = last_day_to_cancel(date(2026, 4, 6), date(2026, 4, 6), RULE, CALENDAR, overlay(5, review=Review()))
    assert last.day == date(2026, 4, 11)
    assert (last.state.live, last.state.why) == (False, "not reviewed")


@pytest.mark.parametrize(("review", "day", "live", "why"), [
    (None, date(2026, 4, 1), False, "no overlay"),
    (Review(), date(2026, 4, 1), False, "not reviewed"),
    (Review("  ", date(2026, 3, 1)), date(2026, 4, 1), False, "not reviewed"),
    (Review("A. Lawyer"), date(2026, 4, 1), False, "not reviewed"),
    (REVIEWED, date(2026, 2, 28), False, "reviewed later"),
    (REVIEWED, date(2026, 3, 1), True, "live"),
    (REVIEWED, date(2027, 3, 1), True, "live"),
    (REVIEWED, date(2027, 3, 2), False, "review lapsed"),
    (Review("A. Lawyer", date(2024, 2, 29)), date(2025, 2, 28), True, "live"),
    (Review("A. Lawyer", date(2024, 2, 29)), date(2025, 3, 1), False, "review lapsed"),
])
def test_silence_is_not_permission(review: Review | None, day: date, live: bool, why: str) -> None:
    """An overlay is live for the twelve months after a named person reviewed it on a named day, and says why not."""
    found = standing(review, day)
    assert (found.live, found.why) == (live, why)


def test_no_days_to_cancel_is_no_overlay() -> None:
    """A count under 1 is refused."""
    with pytest.raises(ValueError, match="at least 1 day"):
        last_day_to_cancel(date(2026, 4, 6), date(2026, 4, 6), RULE, CALENDAR, overlay(0))


@over(DAYS)
def test_the_firm_gives_back_early_and_holds_notes_long(day: date) -> None:
    """The refund is counted without observed days, on the buyer's side."""
    assert refund_by(day, RULE, CALENDAR) == business_day_after(day, 10, RULE, CALENDAR)
