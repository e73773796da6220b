"""Waits of plaster by what it is made of, when plates and paint may go on, and the warmth to hold."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from sitegen.trade.kinds import FINISHES
from sitegen.trade.plaster import Number, PlasterRule

WORK_DAY = 8
"""Hours of one day's work."""

@dataclass(frozen=True, slots=True)
class Waits:
    """Waits of one finish: to the next coat [hours], to the plates [hours, from and to], to paint [calendar days]."""

    next_coat_hours: Fraction
    plates_hours: tuple[int, int]
    paint_days: int


def waits(finish: str, rule: PlasterRule) -> Waits:
    """The waits of a finish; raises ValueError for one not in FINISHES (portland plaster has other rules)."""
    if finish not in FINISHES:
        raise ValueError(f"a finish is one of {', '.join(FINISHES)}; got {finish}")
    setting = finish == "setting"
    return Waits(Fraction(rule.setting_next_coat_hours if setting else rule.next_coat_hours[finish]),
                 rule.plates_hours, rule.setting_paint_days if setting else rule.paint_days[finish])


def visits(names: tuple[str, ...], finish: str, rule: PlasterRule) -> tuple[tuple[str, int], ...]:
    """The plasterer's days as (work, days after the first): "base", "float", "finish".

    Base coats of gypsum set on the day they go on.  Lime is floated again the day after browning, and the wait
    from there to its finish is taken to be the same.  A finish whose wait fits into a day's work goes on that day.
    """
    days = max(0, ceil((waits(finish, rule).next_coat_hours - WORK_DAY) / 24))
    if len(names) < 2:
        return (("finish", 0),) if names else ()
    if finish == "lime":
        return ("base", 0), ("float", days), ("finish", 2 * days)
    return (("base", 0), ("finish", days)) if days else (("base and finish", 0),)


def plates_back(finished: date, rule: PlasterRule) -> tuple[date, date]:
    """The first day on which plates may go back, and the day by which all may: whole days, rounded up."""
    first, last = rule.plates_hours
    return finished + timedelta(days=ceil(Fraction(first, 24))), finished + timedelta(days=ceil(Fraction(last, 24)))


def earliest_paint(finished: date, finish: str, rule: PlasterRule) -> date:
    """The first day on which paint may go on, in calendar days from the day the finish went on."""
    return finished + timedelta(days=waits(finish, rule).paint_days)


def may_paint(finished: date, day: date, finish: str, moisture: Number, rule: PlasterRule) -> bool:
    """Whether paint may go on on `day`, at a measured `moisture` [share]: both the wait and the meter must allow it."""
    return day >= earliest_paint(finished, finish, rule) and moisture <= rule.paint_moisture


@dataclass(frozen=True, slots=True)
class Heat:
    """Heat to hold [degrees F], from `before` days ahead of plastering to `after` days after it is dry."""

    least: int
    most: int | None
    before: int
    after: int


def heat(rule: PlasterRule, *, veneer: bool = False) -> Heat:
    """The heat to hold; for veneer plaster the stricter of every source.  Never over frost."""
    if not veneer:
        return Heat(rule.heat_degrees, None, rule.heat_days, rule.heat_days)
    ranges = rule.veneer_degrees.values()
    return Heat(max(low for low, _ in ranges), min(high for _, high in ranges),
                max(rule.veneer_before_days.values()), rule.heat_days)


def heated(base: date, dry: date, held: Heat) -> tuple[date, date]:
    """First and last day of heat; raises ValueError for plaster dry before it went on."""
    if dry < base:
        raise ValueError(f"plaster of {base} cannot be dry on {dry}")
    return base - timedelta(days=held.before), dry + timedelta(days=held.after)


def screened(day: int, night: int, rule: PlasterRule) -> bool:
    """Whether openings of the house are screened: day and night [degrees F] lie too far apart."""
    return abs(day - night) >= rule.swing_degrees
