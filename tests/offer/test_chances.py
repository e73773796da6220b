"""A chance as it is spoken: twentieths, halves upward, and never certain unless it is."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.figure import Source
from sitegen.offer.chances import WHOLE, chance, twentieths
from tests.trade import oracle

QUIET = settings(max_examples=100, deadline=None, derandomize=True)
SOURCE = Source("judgement", "worked example, invented")


@pytest.mark.parametrize(
    ("p", "spoken"),
    [(0.0, (0, "")), (1e-300, (1, "fewer than")), (0.0249, (1, "fewer than")), (0.025, (1, "")),
     (0.0749, (1, "")), (0.075, (2, "")), (0.5, (10, "")), (0.525, (11, "")), (0.974, (19, "")),
     (0.975, (19, "more than")), (0.9999, (19, "more than")), (1.0, (20, ""))],
)
def test_twentieths(p: float, spoken: tuple[int, str]) -> None:
    """Counts are rounded half up, with a bound where nought or twenty would say too much."""
    # The hidden-wiring model: "fewer than 1" when that is nought and the chance is not, never "20 of 20"
    # unless certain.  Bounds by hand: 1/40 and 39/40.
    assert twentieths(p) == spoken


@given(p=st.floats(0, 1, allow_subnormal=False))
@QUIET
def test_never_more_than_is_so(p: float) -> None:
    """Nought is said of the impossible only, twenty of the certain only, and a bound tells the truth."""
    count, bound = twentieths(p)
    assert (count == 0) == (p == 0)
    assert (count == WHOLE) == (p >= 1 - 1e-12)
    if bound == "fewer than":
        assert (count, p < 1 / 40) == (1, True)
    elif bound == "more than":
        assert (count, p * WHOLE > count) == (19, True)
    else:
        assert abs(count - p * WHOLE) <= 0.5 + 1e-12


@given(thousandths=st.integers(25, 974))
@QUIET
def test_rounded_as_counted(thousandths: int) -> None:
    """Between its bounds a spoken count is twenty times the chance, halves upward."""
    assert twentieths(thousandths / 1000) == (oracle.half_up(Fraction(thousandths, 1000) * WHOLE), "")


def test_a_rounding_hair_is_still_certain() -> None:
    """A chance that falls short of one by no more than a rounding hair is spoken as certain."""
    assert twentieths(1 - 1e-13) == (20, "")
    assert twentieths(1 - 1e-9) == (19, "more than")


@given(views=st.tuples(*[st.floats(0, 1)] * 3))
@QUIET
def test_three_views(views: tuple[float, float, float]) -> None:
    """A judged chance carries three views, each its own count, and keeps what it was counted from."""
    said = chance("options.one.cheapest", views, "Chance on one house.", SOURCE)
    assert [view.exact.value for view in said.views] == list(views)
    assert [(view.count.value, view.bound) for view in said.views] == [twentieths(p) for p in views]
    assert [view.exact.name for view in said.views] == [
        "options.one.cheapest", "options.one.cheapest.half", "options.one.cheapest.twice"]
    assert all(view.count.inputs == (view.exact.name,) for view in said.views)
    assert said.whole.value == WHOLE


def test_rounding_beyond_the_ends_is_held() -> None:
    """A sum that rounding carried past nought or one is held to it."""
    said = chance("a.b", (-1e-16, 1 + 1e-15, 0.5), "Chance on one house.", SOURCE)
    assert [view.exact.value for view in said.views] == [0.0, 1.0, 0.5]
    assert [(view.count.value, view.bound) for view in said.views] == [(0, ""), (20, ""), (10, "")]
