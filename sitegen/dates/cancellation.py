"""Until when a contract signed at home can be cancelled, and when what was paid goes back.

Whether a sale is covered at all is not decided here: treat any signing at home as covered, also when the owner
asked the firm to come.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from msgspec import Struct

from sitegen.dates.holidays_us import HolidayRule, holidays, observed
from sitegen.dates.overlay import Review, Standing, standing


class CancelRule(Struct, frozen=True):
    """The federal rule: rows of `rules/contracts.yaml` and `rules/general.yaml`, `cancel-` and the field's name.

    Parameters
    ----------
    business_days : int
        Days to cancel [business days], 16 CFR 429.1(a).
    closed_weekday : int
        The one weekday that is no business day, from Monday 0, 16 CFR 429.0(f): Sunday.
    refund_business_days : int
        Days to give back what was paid [business days], 16 CFR 429.1(g).
    note_business_days : int
        Days through which no note is passed on [business days], 16 CFR 429.1(h), from memory.

    References
    ----------
    16 CFR part 429; 429.1(a) as of 2021-02-25.
    """

    business_days: int
    closed_weekday: int
    refund_business_days: int


class CancelOverlay(Struct, frozen=True):
    """What a state adds to the federal rule.

    Parameters
    ----------
    state : str
        Its name.
    cancel_days : int
        Days to cancel [business days of the state].
    holidays_count : bool
        Whether a holiday counts as a business day there.
    review : Review
        Who read the state's law, and when.
    """

    state: str
    cancel_days: int
    holidays_count: bool
    review: Review


class LastDay(Struct, frozen=True):
    """The right to cancel ends at midnight, at the end of `day`.

    `counted_from` is the later of signing and delivery of the full copy; `days` the business days that count most.
    `actual` skips holidays on their own days, `kept_too` also the days on which offices keep them, both with the
    federal business day; `by_state` is the state's own count, None without an overlay; `day` is the latest of them.
    `state` says whether the overlay may be leaned on.  The day is safe without one as far as federal law goes.
    """

    day: date
    counted_from: date
    days: int
    actual: date
    kept_too: date
    by_state: date | None
    state: Standing


def is_business_day(day: date, rule: CancelRule, calendar: HolidayRule, *, skip_kept: bool = False) -> bool:
    """Whether this is a business day: any day but a Sunday and a federal holiday; a Saturday is one.

    Parameters
    ----------
    day : date
        The day asked about.
    rule, calendar : CancelRule, HolidayRule
        The weekday that is none, and the federal holidays.
    skip_kept : bool
        Also take out the days on which offices keep a holiday of the weekend.

    Returns
    -------
    bool
        True for a business day.

    Raises
    ------
    ValueError
        From `holidays`, for a year before 1986.

    References
    ----------
    16 CFR 429.0(f); the holidays 5 USC 6103(a), kept days 5 USC 6103(b).
    """
    if day.weekday() == rule.closed_weekday or day in holidays(calendar, day.year):
        return False
    return not (skip_kept and day in observed(calendar, day.year))


def business_day_after(day: date, count: int, rule: CancelRule, calendar: HolidayRule, *,
                       skip_kept: bool = False) -> date:
    """The `count`-th business day after a day, which itself is day nought.

    Parameters
    ----------
    day : date
        Day nought, business day or not.
    count : int
        How many [business days], at least 1.
    rule, calendar, skip_kept
        As in `is_business_day`.

    Returns
    -------
    date
        The last of them.

    Raises
    ------
    ValueError
        For a count under 1, or a year before 1986.

    References
    ----------
    16 CFR 429.0(f).
    """
    return _nth_after(day, count, lambda one: is_business_day(one, rule, calendar, skip_kept=skip_kept))


def last_day_to_cancel(signed: date, delivered: date, rule: CancelRule, calendar: HolidayRule,
                       overlay: CancelOverlay | None = None) -> LastDay:
    """The last day on which the contract can be cancelled, until its midnight.

    Parameters
    ----------
    signed : date
        The last signature.
    delivered : date
        The day on which the full copy was in the buyer's hands.
    rule, calendar : CancelRule, HolidayRule
        The federal rule and the federal holidays.
    overlay : CancelOverlay or None
        What the state adds; None where nobody wrote anything.

    Returns
    -------
    LastDay
        The day, and the counts that it is the latest of [business days].

    Raises
    ------
    ValueError
        For an overlay without a day, or a year before 1986.

    Notes
    -----
    A state that gives more days is followed even while nobody has reviewed it: a longer right harms no buyer.  A state
    that gives fewer, or counts holidays, never shortens the federal right.  The text speaks of no observed days, so the
    later count, which skips them, holds.  Whether the sale is covered at all is not decided here.

    References
    ----------
    16 CFR 429.0(f), 429.1(a).
    """
    start = max(signed, delivered)
    days = max(rule.business_days, overlay.cancel_days if overlay else 0)
    actual = business_day_after(start, days, rule, calendar)
    kept_too = business_day_after(start, days, rule, calendar, skip_kept=True)
    by_state = None if overlay is None else _by_state(start, overlay, rule, calendar)
    latest = max(actual, kept_too, *([] if by_state is None else [by_state]))
    return LastDay(latest, start, days, actual, kept_too, by_state,
                   standing(None if overlay is None else overlay.review, start))


def first_day_of_work(last: date) -> date:
    """The first day on which work, an order or a permit may begin.

    Parameters
    ----------
    last : date
        The last day to cancel.

    Returns
    -------
    date
        The calendar day after it, working day or not.

    Notes
    -----
    A waiver for an emergency is no way round it here; an insurer's deadline is no emergency.
    """
    return last + timedelta(1)


def refund_by(notice: date, rule: CancelRule, calendar: HolidayRule) -> date:
    """The last day for giving back all that was paid.

    Parameters
    ----------
    notice : date
        The day on which the notice of cancellation came.
    rule, calendar : CancelRule, HolidayRule
        The federal rule and the federal holidays.

    Returns
    -------
    date
        The last day, `rule.refund_business_days` on [business days].

    Notes
    -----
    Counted without the observed days: the firm's own deadline is the earlier one.

    References
    ----------
    16 CFR 429.1(g).
    """
    return business_day_after(notice, rule.refund_business_days, rule, calendar)


def _by_state(start: date, overlay: CancelOverlay, rule: CancelRule, calendar: HolidayRule) -> date:
    """The state's own count; its holidays are taken as the federal ones, kept days too."""
    def counts(day: date) -> bool:
        if overlay.holidays_count:
            return day.weekday() != rule.closed_weekday
        return is_business_day(day, rule, calendar, skip_kept=True)

    return _nth_after(start, overlay.cancel_days, counts)


def _nth_after(day: date, count: int, counts: Callable[[date], bool]) -> date:
    if count < 1:
        raise ValueError(f"a right to cancel has at least 1 day; got {count}")
    while count:
        day += timedelta(1)
        count -= counts(day)
    return day
