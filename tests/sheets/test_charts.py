"""The ladder and the spans: every mark where its sum belongs, on the finest scale that holds them all."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from sitegen.figure import int_of
from sitegen.sheets.charts import FOOT, MOST, STEPS, TOP, ladders, scale, spans
from sitegen.units import in_hundreds
from tests.built import HOUSES, offer

MARK = re.compile(r"M(\d+) ([\d.]+)h8v4h-8z")


@pytest.mark.parametrize("job", HOUSES)
def test_every_ending_has_its_mark_filled_at_or_under_the_line(job: str) -> None:
    """Twenty marks an option in order of price, at their heights on the printed scale; filled is no dearer than
    today."""
    outcome = offer(job).outcome
    drawn = ladders(outcome)
    foot, top = int_of(drawn.ticks[-1]), int_of(drawn.ticks[0])
    assert outcome.one_price
    price = int_of(outcome.one_price.price)
    for ladder, option in zip(drawn.each, outcome.options, strict=True):
        twenty = [int_of(figure) for figure in option.quantile_dots]
        assert len(twenty) == 20
        for path, here in ((ladder.full, lambda value: value <= price), (ladder.open, lambda value: value > price)):
            marks = MARK.findall(path)
            wanted = [(10 + 12 * i, value) for i, value in enumerate(twenty) if here(value)]
            assert [int(x) for x, _ in marks] == [x for x, _ in wanted]
            for (_, y), (_, value) in zip(marks, wanted, strict=True):
                assert float(y) + 2 == pytest.approx(FOOT - (value - foot) / (top - foot) * (FOOT - TOP), abs=.06)


@pytest.mark.parametrize("job", HOUSES)
def test_the_scale_ends_within_a_step_of_what_it_holds(job: str) -> None:
    """No ladder looks flat for want of a finer scale: its foot and its top lie less than a step beyond the endings."""
    outcome = offer(job).outcome
    drawn = ladders(outcome)
    ticks = [int_of(tick) for tick in drawn.ticks]
    values = [int_of(figure) for option in outcome.options for figure in (*option.quantile_dots,
                                                                          outcome.one_price.price)]  # type: ignore[union-attr]
    step = ticks[0] - ticks[1]
    assert {one - two for one, two in pairwise(ticks)} == {step}
    assert ticks[-1] <= min(values) < ticks[-1] + step
    assert ticks[0] - step < max(values) <= ticks[0]
    assert drawn.grid.count("M") == len(ticks) <= MOST + 1


@pytest.mark.parametrize(("low", "high", "foot", "step", "many"), [
    (2_630_000, 5_420_000, 2_000_000, 1_000_000, 4), (0, 1, 0, 50_000, 1), (100_000, 350_000, 100_000, 50_000, 5),
    (100_000, 350_001, 100_000, 100_000, 3), (0, 60_000_000, 0, 15_000_000, 4)])
def test_scales_worked_by_hand(low: int, high: int, foot: int, step: int, many: int) -> None:
    """The smallest whole step of which five hold both ends; beyond the list, whole multiples of its largest."""
    found = scale(low, high)
    assert (found.foot, found.step, found.many) == (foot, step, many)
    assert found.step in STEPS or found.step % STEPS[-1] == 0


def test_bars_of_the_same_printed_sum_are_as_long() -> None:
    """What tracing could change is drawn as printed: equal sums have equal bars, and a larger one a longer bar."""
    traced = [tracing for job in HOUSES if (tracing := offer(job).outcome.tracing)]
    assert traced
    for tracing in traced:
        long: dict[int, set[str]] = {}
        for span in spans(tracing.swings):
            end = re.search(r"H([\d.]+)", span.path)
            assert end
            long.setdefault(in_hundreds(int_of(span.swing.amount)), set()).add(end[1])
        assert all(len(ends) == 1 for ends in long.values())
        in_order = [float(next(iter(long[amount]))) for amount in sorted(long)]
        assert in_order == sorted(set(in_order))
