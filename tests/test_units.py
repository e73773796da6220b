"""Whole cents inside, dollars outside, forecasts to a hundred dollars."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.units import dollars, forecast


@pytest.mark.parametrize(("cents", "said"), [
    (0, "$0"), (1, "$0.01"), (90, "$0.90"), (100, "$1"), (123_456_789, "$1,234,567.89"), (-100, "-$1"),
    (-1, "-$0.01"), (99_999, "$999.99"), (100_000, "$1,000")])
def test_dollars_show_cents_only_where_there_are_some(cents: int, said: str) -> None:
    """A price has its thousands set apart, two digits of cents or none, and its sign before the dollar."""
    assert dollars(cents) == said


@pytest.mark.parametrize(("cents", "said"), [
    (4_999, "$0"), (5_000, "$100"), (14_999, "$100"), (15_000, "$200"), (3_764_999, "$37,600"),
    (3_765_000, "$37,700"), (0, "$0")])
def test_a_forecast_is_to_the_nearest_hundred_dollars(cents: int, said: str) -> None:
    """Halves go upward."""
    assert forecast(cents) == said


@given(st.integers(0, 10**9))
def test_a_forecast_is_never_more_than_fifty_dollars_off(cents: int) -> None:
    """Rounding moves an amount by $50 at most and leaves whole hundreds."""
    said = int(forecast(cents).removeprefix("$").replace(",", "")) * 100
    assert abs(said - cents) <= 5_000
    assert said % 10_000 == 0


@given(st.integers(-(10**9), 10**9))
def test_a_price_reads_back_to_the_same_cents(cents: int) -> None:
    """No cent is lost on the way to the page."""
    sign, _, digits = dollars(cents).partition("$")
    whole, _, rest = digits.replace(",", "").partition(".")
    assert (int(whole) * 100 + int(rest or 0)) * (-1 if sign else 1) == cents
