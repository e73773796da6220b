"""The one chart: the ladder.  Twenty short marks, cheapest ending to dearest, and a line at One price.

Its scale is that of every chart of sums: the finest whole step of which MOST hold everything.
"""

from __future__ import annotations

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Source, int_of, worked_out
from sitegen.offer.money import OptionMoney, Outcome, Swing
from sitegen.units import in_hundreds

WIDE, TOP, FOOT = 256, 4.0, 100.0
"""How wide a drawing is, and where the ends of its scale stand; it is 104 tall."""

STEPS = (50_000, 100_000, 200_000, 250_000, 500_000, 1_000_000, 2_000_000, 2_500_000, 5_000_000)
"""Whole steps of a scale [cents]; the smallest of which MOST hold everything."""

MOST = 5


class Scale(Struct, frozen=True):
    """From `foot` [cents] up in `many` steps [cents]; `grid` is a line at each."""

    foot: int
    step: int
    many: int

    @property
    def top(self) -> int:
        return self.foot + self.many * self.step

    @property
    def grid(self) -> Markup:
        return Markup("".join(f"M0 {TOP + i * (FOOT - TOP) / self.many:.4g}h{WIDE}" for i in range(self.many + 1)))

    def ticks(self, name: str, method: str, source: Source, *inputs: Figure) -> tuple[Figure, ...]:
        """The values of its lines as figures, from the top down."""
        return tuple(worked_out(f"{name}-{i + 1}", self.top - i * self.step, "cents, forecast", method, *inputs,
                                source=source) for i in range(self.many + 1))

    def height(self, value: int) -> float:
        """How far down the drawing a value stands."""
        return round(FOOT - (value - self.foot) / (self.top - self.foot) * (FOOT - TOP), 1)


def scale(low: int, high: int) -> Scale:
    """The finest scale of whole steps that holds both ends [cents]."""
    for step in STEPS:
        found = _in_steps(low, high, step)
        if found.many <= MOST:
            return found
    return _in_steps(low, high, STEPS[-1] * -(-(high - low) // (STEPS[-1] * (MOST - 1))))


def _in_steps(low: int, high: int, step: int) -> Scale:
    foot = low // step * step
    return Scale(foot, step, max(1, -(-(high - foot) // step)))


class Ladder(Struct, frozen=True):
    """One option's ladder: its option, and the drawing's paths."""

    option: OptionMoney
    line: Markup
    full: Markup
    open: Markup


class Ladders(Struct, frozen=True):
    """All options on one axis; `ticks` from the top down, evenly spaced, each with a line of `grid`."""

    ticks: tuple[Figure, ...]
    foot: Figure
    grid: Markup
    each: tuple[Ladder, ...]


class Span(Struct, frozen=True):
    """A dimension line as long as a swing."""

    swing: Swing
    path: Markup


def ladders(outcome: Outcome) -> Ladders:
    """Draw the twenty endings of every option on one axis, its scale in whole steps."""
    values = [int_of(figure) for option in outcome.options for figure in option.quantile_dots]
    price = int_of(outcome.one_price.price) if outcome.one_price else max(values)
    axis = scale(min(*values, price), max(*values, price))
    ends = [figure for option in outcome.options for figure in (option.quantile_dots[0], option.quantile_dots[-1])]
    ticks = axis.ticks("ladder.tick", "A whole step of the scale that holds every ending.",
                       Source("worked out", "from the twenty endings of all options"), *ends)
    return Ladders(ticks, ticks[-1], axis.grid, tuple(_ladder(option, price, axis) for option in outcome.options))


def spans(swings: tuple[Swing, ...]) -> tuple[Span, ...]:
    """A dimension line for every swing as it is printed, the widest a hundred units long."""
    widest = max((in_hundreds(int_of(swing.amount)) for swing in swings), default=1) or 1
    found = []
    for swing in swings:
        end = max(2.0, in_hundreds(int_of(swing.amount)) / widest * 100)
        found.append(Span(swing, Markup(f"M.5 4v14M.5 11H{end - .5:.4g}M{end - .5:.4g} 4v14")))
    return tuple(found)


def _ladder(option: OptionMoney, price: int, axis: Scale) -> Ladder:
    def mark(i: int, value: int) -> str:
        return f"M{10 + 12 * i} {axis.height(value) - 2:.4g}h8v4h-8z"
    values = [int_of(figure) for figure in option.quantile_dots]
    return Ladder(option, Markup(f"M0 {axis.height(price):.4g}h{WIDE}"),
                  Markup("".join(mark(i, value) for i, value in enumerate(values) if value <= price)),
                  Markup("".join(mark(i, value) for i, value in enumerate(values) if value > price)))
