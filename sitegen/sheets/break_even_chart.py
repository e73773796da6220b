"""Where a list turns dearer than the one price: a bar for every count of old points, against a line.

A bar reaches from the fewest feeds that the points can be on to the most, filled at or under the line and hollow
above it, as the marks of the ladder are.
"""

from __future__ import annotations

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Source
from sitegen.offer.money import BreakEvenSaid, OptionMoney, Outcome, StepOption, Steps
from sitegen.sheets.charts import WIDE, Scale, scale

INSET = 5
"""Units left free at both ends, so that a bar is not taken for a sign of the scale."""

LEAST = 3.0
"""The least height of a bar: so a count that one sum answers is still seen."""


TURNS = {
    ("low", "high"): "pay.turning.low-high",
    ("low",): "pay.turning.low",
    ("high",): "pay.turning.high",
    (): "pay.turning.feeds",
}
"""The words for where a list turns, by which of the two counts there are."""


class BreakEvenChart(Struct, frozen=True):
    """One list against the one price: its drawing, its first and last totals, and the key of the words for where it
    turns."""

    option: OptionMoney
    line: Markup
    full: Markup
    open: Markup
    start: Figure
    end: Figure
    turns: str
    slots: dict[str, Figure]


class BreakEvenCharts(Struct, frozen=True):
    """All lists on one scale; `ticks` from the top down, evenly spaced, each with a line of `grid`."""

    ticks: tuple[Figure, ...]
    foot: Figure
    grid: Markup
    each: tuple[BreakEvenChart, ...]


def break_even_charts(outcome: Outcome) -> BreakEvenCharts | None:
    """Draw every list against the one price; None where no price covers all, or nothing more can turn up."""
    steps, one = outcome.steps, outcome.one_price
    evens = {even.key: even for even in outcome.break_even}
    options = [(option, step) for option, step in zip(outcome.options, steps.options, strict=True)
               if option.key in evens]
    if one is None or not options or not steps.many:
        return None
    bars = {step.key: _totals(steps, step) for _, step in options}
    price = next(step for step in steps.options if step.key == one.key).total_at((min(steps.can_be), 0))
    every = [value for totals in bars.values() for both in totals.values() for value in both]
    axis = scale(min(*every, price), max(*every, price))
    ticks = axis.ticks("sheets.pay.break-even-tick", "A whole step of the scale that holds every count.",
                       Source("worked out", "from the totals of the lists at usual costs"), one.price)
    first, last = steps.rows[0], steps.rows[-1]
    made = []
    for option, _ in options:
        key, slots = turns(evens[option.key])
        line, full, hollow = _drawn(bars[option.key], price, axis)
        made.append(BreakEvenChart(option, line, full, hollow, first.options[option.key][0].total,
                                   last.options[option.key][1].total, key, slots))
    return BreakEvenCharts(ticks, ticks[-1], axis.grid, tuple(made))


def _totals(steps: Steps, option: StepOption) -> dict[int, tuple[int, int]]:
    """The least and the most [cents] that a list comes to at each count of points."""
    found = {}
    for points, feeds in steps.can_be.items():
        totals = [option.total_at((points, charged)) for charged in feeds]
        found[points] = min(totals), max(totals)
    return found


def turns(even: BreakEvenSaid) -> tuple[str, dict[str, Figure]]:
    """The key of the words for where a list turns, and what fills them."""
    if even.settled:
        return "pay.turning.never" if even.usual_list else "pay.turning.always", {}
    slots = {name: figure for name, figure in (("low", even.list_up_to), ("high", even.price_from)) if figure}
    return TURNS[tuple(slots)], slots


def _drawn(totals: dict[int, tuple[int, int]], price: int, axis: Scale) -> tuple[Markup, Markup, Markup]:
    """The line of the one price; the bars at or under it; the bars above it."""
    y = axis.height
    first, last = min(totals), max(totals)
    width = min(WIDE / (last - first + 1) * .62, 12)
    pitch = (WIDE - width - 2 * INSET) / (last - first)     # the ends stand over their numbers

    def bar(points: int, low: float, high: float) -> str:
        x = INSET + (points - first) * pitch
        return f"M{x:.4g} {high:.4g}h{width:.3g}V{low:.4g}h-{width:.3g}z"
    full: list[str] = []
    hollow: list[str] = []
    for points, (low, high) in totals.items():
        foot_of, top_of = y(low), y(high)
        if high <= price or low > price:
            short = max(0.0, LEAST - (foot_of - top_of)) / 2
            (full if high <= price else hollow).append(bar(points, foot_of + short, top_of - short))
        else:
            full.append(bar(points, foot_of, y(price)))
            hollow.append(bar(points, y(price), top_of))
    return Markup(f"M0 {y(price):.4g}h{WIDE}"), Markup("".join(full)), Markup("".join(hollow))
