"""Waits of plaster by what it is made of, when plates and paint may go on, and the warmth to hold."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.trade.kinds import FINISHES
from sitegen.trade.plaster import PlasterRule

WORK_DAY = 8
"""Hours of one day's work."""

class Waits(Struct, frozen=True):
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


class Heat(Struct, frozen=True):
    """Heat to hold [degrees F], from `before` days ahead of plastering to `after` days after it is dry."""

    least: int
    before: int
    after: int


def heat(rule: PlasterRule) -> Heat:
    """The heat to hold.  Never over frost."""
    return Heat(rule.heat_degrees, rule.heat_days, rule.heat_days)
