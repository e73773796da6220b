"""The one chart: the ladder.  Twenty short marks, cheapest ending to dearest, and a line at One price."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sitegen.figure import Figure, Source, int_of, worked_out
from sitegen.trade.parts import Outcome, Swing, WayMoney

WIDE, TOP, FOOT = 256, 4.0, 100.0
"""How wide a drawing is, and where the ends of its scale stand; it is 104 tall."""

STEPS = (50_000, 100_000, 200_000, 250_000, 400_000, 500_000, 800_000, 1_000_000, 2_000_000, 5_000_000)


@dataclass(frozen=True, slots=True)
class Ladder:
    """One way's ladder: its way, and the drawing's paths."""

    way: WayMoney
    line: Markup
    full: Markup
    open: Markup


@dataclass(frozen=True, slots=True)
class Ladders:
    """All ways on one axis; `ticks` from the top down, evenly spaced."""

    ticks: tuple[Figure, ...]
    foot: Figure
    each: tuple[Ladder, ...]


@dataclass(frozen=True, slots=True)
class Span:
    """A dimension line as long as a swing."""

    swing: Swing
    path: Markup


def ladders(outcome: Outcome) -> Ladders:
    """Draw the twenty endings of every way on one axis, its scale in whole steps."""
    values = [int_of(figure) for way in outcome.ways for figure in way.twenty]
    price = int_of(outcome.one_price.price) if outcome.one_price else max(values)
    foot, step = _scale(min(*values, price), max(*values, price))
    top = foot + 3 * step
    source = Source("worked out", "from the twenty endings of all ways")
    ends = [figure for way in outcome.ways for figure in (way.twenty[0], way.twenty[-1])]
    ticks = tuple(worked_out(f"ladder.tick-{i + 1}", top - i * step, "cents, forecast",
                             "A whole step of the scale that holds every ending.", *ends, source=source)
                  for i in range(4))
    return Ladders(ticks, ticks[-1], tuple(_ladder(way, price, foot, top) for way in outcome.ways))


def spans(swings: tuple[Swing, ...]) -> tuple[Span, ...]:
    """A dimension line for every swing, the widest a hundred units long."""
    widest = max((int_of(swing.amount) for swing in swings), default=1) or 1
    found = []
    for swing in swings:
        end = max(2.0, int_of(swing.amount) / widest * 100)
        found.append(Span(swing, Markup(f"M.5 4v14M.5 11H{end - .5:.4g}M{end - .5:.4g} 4v14")))
    return tuple(found)


def _scale(low: int, high: int) -> tuple[int, int]:
    """The foot and the step [cents] of a scale of three steps that holds both ends."""
    for step in STEPS:
        foot = low // step * step
        if foot + 3 * step >= high:
            return foot, step
    step = -(-(high - low // STEPS[-1] * STEPS[-1]) // 3)
    return low // STEPS[-1] * STEPS[-1], step


def at_height(value: int, foot: int, top: int) -> float:
    """How far down the drawing a value stands, on a scale from `foot` to `top`."""
    return round(FOOT - (value - foot) / (top - foot) * (FOOT - TOP), 1)


def _ladder(way: WayMoney, price: int, foot: int, top: int) -> Ladder:
    def mark(i: int, value: int) -> str:
        return f"M{10 + 12 * i} {at_height(value, foot, top) - 2:.4g}h8v4h-8z"
    values = [int_of(figure) for figure in way.twenty]
    return Ladder(way, Markup(f"M0 {at_height(price, foot, top):.4g}h{WIDE}"),
                  Markup("".join(mark(i, value) for i, value in enumerate(values) if value <= price)),
                  Markup("".join(mark(i, value) for i, value in enumerate(values) if value > price)))
