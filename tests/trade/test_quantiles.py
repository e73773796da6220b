"""Quantiles of a total and of the cases on top: against plain counting, in bins and blocks of every width."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.trade import endings, quantiles
from sitegen.trade.endings import work_out
from sitegen.trade.quantiles import Quantiles
from sitegen.trade.scenarios import Scenarios
from sitegen.trade.terms import Case, Spread
from tests.trade import examples, oracle

QUIET = settings(max_examples=100, deadline=None, derandomize=True)
SHARES = ((1, 10), (1, 2), (9, 10), (1, 40), (39, 40), (1, 3))

weights = st.lists(st.integers(0, 5), min_size=1, max_size=12).filter(any)
steps = st.sampled_from([1, 7, 100, 999])


@given(totals=st.lists(st.integers(0, 3000), min_size=12, max_size=12), views=st.tuples(weights, weights),
       costs=st.lists(st.integers(0, 9), min_size=1, max_size=6, unique=True).map(sorted), step=steps,
       odds=st.lists(st.integers(1, 5), min_size=6, max_size=6), bins=st.sampled_from([1, 2, 7, 64, 4096]),
       kept=st.sampled_from([0, 5, 10**6]), cut=st.integers(1, 12))
@QUIET
def test_counted_in_bins_of_any_width(totals: list[int], views: tuple[list[int], list[int]], costs: list[int],
                                      step: int, odds: list[int], bins: int, kept: int, cut: int) -> None:
    """The cent is that of plain counting, however wide the bins, on whatever grid the costs, in whatever pieces."""
    totals, costs = totals[:min(map(len, views))], [cost * step for cost in costs]
    views = tuple([w + (i == 0) for i, w in enumerate(view[:len(totals)])] for view in views)  # type: ignore[assignment]
    odds = odds[:len(costs)]
    cases = Scenarios(np.array(odds) / sum(odds), np.array([costs]))
    chances = np.array([np.array(view) / sum(view) for view in views])
    values, shares = np.array(totals), [[a / b for a, b in SHARES]] * 2
    with patch.multiple(quantiles, LEAST_BINS=bins, MOST_BINS=bins, MOST_KEPT=kept):
        reader = Quantiles((min(totals), max(totals)), cases, len(totals), shares)
        pieces = [slice(start, start + cut) for start in range(0, len(totals), cut)]
        for piece in pieces:
            reader.count(values[piece], chances[:, piece])
        reader.settle()
        for piece in pieces:
            at = reader.pick(values[piece])
            reader.keep(values[piece][at], chances[:, piece][:, at])
        found = reader.found()
    for view, row in zip(views, found, strict=True):
        exact: dict[int, Fraction] = defaultdict(Fraction)
        for total, weight in zip(totals, view, strict=True):
            for cost, odd in zip(costs, odds, strict=True):
                exact[total + cost] += Fraction(weight * odd, sum(view) * sum(odds))
        exact = defaultdict(Fraction, {cents: p for cents, p in exact.items() if p})
        assert row == tuple(oracle.quantile(exact, Fraction(*share)) for share in SHARES)


@pytest.mark.parametrize(("cost", "aside"), [(100_00, 0), (99_97, 1)])
def test_payments_in_round_sums_move_a_total_by_whole_bins(cost: int, aside: int) -> None:
    """Where the costs of cases share a round step the bins divide it, and no second bin is looked through."""
    cases = Scenarios(np.array([0.5, 0.3, 0.2]), np.array([[0, cost, 7 * cost]]))
    reader = Quantiles((0, 30_000_00), cases, 1000, [[0.5]])
    assert reader.aside == aside
    assert aside or not np.any(cases.paid % reader.width)


@pytest.mark.parametrize("low", [1_400_00, 1_399_37])
def test_a_house_is_the_same_however_it_is_read(low: int) -> None:
    """Wide bins, small blocks and few kept totals change no cent and no chance of a whole house."""
    # Costs of cases in round sums lie on the bins, those in odd cents between them.
    house = replace(examples.EXAMPLE_4_HOUSE, list_drops=4,
                    cases=(Case("asbestos", Fraction(1, 4), Spread(low, 2_600_00, 5_200_00)),
                           Case("rot", Fraction(1, 3), Spread(350_00, 800_00, 2_000_00))))
    plain = work_out(house, examples.EXAMPLE_4_BELIEF)
    with (patch.multiple(quantiles, LEAST_BINS=40, MOST_BINS=40, MOST_KEPT=2000),
          patch.object(endings, "AT_ONCE", 700)):
        other = work_out(house, examples.EXAMPLE_4_BELIEF)
    assert (other.endings, other.percentiles) == (plain.endings, plain.percentiles)
    for view, found in other.comparisons.items():
        assert found.above == pytest.approx(plain.comparisons[view].above, abs=1e-12, rel=0)
        assert found.cheapest == pytest.approx(plain.comparisons[view].cheapest, abs=1e-12, rel=0)


def test_one_total_and_one_payment() -> None:
    """Where nothing is left to chance every quantile is that one sum."""
    alone = Quantiles((700_00, 700_00), Scenarios(np.ones(1), np.array([[35_00]])), 1, [[0.025, 0.5, 0.975]])
    assert alone.only(700_00) == [(735_00, 735_00, 735_00)]
