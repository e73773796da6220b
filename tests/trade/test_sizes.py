"""How large a house is, known before it is worked out: counted, refused, and the largest one carried."""

from __future__ import annotations

import tracemalloc
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import Any
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from msgspec.structs import replace

from sitegen.trade import compare, sizes
from sitegen.trade.blocked import KINDS, kinds_of
from sitegen.trade.endings import size_of, work_out, work_out_under
from sitegen.trade.feeds import Feed
from sitegen.trade.places import lay_out
from sitegen.trade.sizes import Size, TooLarge
from sitegen.trade.terms import Belief, House
from sitegen.trade.worked import DOTS, PERCENTILES, Worked, beliefs
from tests.trade import examples, oracle
from tests.trade.large_house import FEEDS, POINTS, large_house
from tests.trade.test_endings import beliefs as any_beliefs
from tests.trade.test_endings import small_houses

BELIEF = examples.EXAMPLE_4_BELIEF
HOUSES, SEED, ERRORS = 50_000, 20261127, 4.5
"""Houses drawn, and sampling errors allowed, as in the tests of the endings."""

MOST_MEMORY = 260_000_000
"""Bytes that the endings may take at their peak: with the interpreter and numpy itself, under 300 MB."""


# ------------------------------------------------------------------------------------------ counted, refused


@given(house=small_houses, belief=any_beliefs)
@settings(max_examples=60, deadline=None, derandomize=True)
def test_the_size_is_that_of_what_is_laid_out(house: House, belief: Belief) -> None:
    """Places are counted without a chance, and are as many as are laid out for all three beliefs together."""
    places = lay_out(house, list(beliefs(house, belief).values()), kinds_of(house, belief))
    sums = [{oracle.case_share(option, toss) for _, toss in oracle.case_tosses(house.cases)}
            for option in house.options]
    assert size_of(house, belief) == Size(len(places), max(map(len, sums)))


def test_the_size_of_the_whole_house() -> None:
    """Example 4 has nine kinds of house, its pairs, and as many blocked drops as there are drops and none."""
    # By hand: three cases of worked example 4 come to 4 x 4 x 4 sums at most; 33 drops on the list.
    size = size_of(examples.EXAMPLE_4_HOUSE, BELIEF)
    pairs = beliefs(examples.EXAMPLE_4_HOUSE, BELIEF)["judged"]
    assert size.places == KINDS * sum(33 + points + 1 for points, _ in pairs)
    assert size.scenarios <= 64
    assert size.outcomes == size.places * size.scenarios


def test_a_house_over_the_budget_is_refused_with_its_size() -> None:
    """A house of 3,000 points on 300 feeds is refused by its places, before a chance is worked out."""
    house = replace(large_house(), feeds=tuple(Feed(str(i), "not traced", unseen=1 + i % 19) for i in range(300)))
    places = size_of(house, BELIEF).places
    assert places > sizes.MOST_PLACES
    with pytest.raises(TooLarge, match=f"this house has {places:,} places .* at most 30,000,000 are worked out"):
        work_out(house, BELIEF)


def test_places_times_scenarios_and_thresholds_are_refused_too() -> None:
    """What is refused is told with the number that is over, and it is an error of value."""
    house = examples.EXAMPLE_4_HOUSE
    size = size_of(house, BELIEF)
    with (patch.object(sizes, "MOST_OUTCOMES", size.outcomes - 1),
          pytest.raises(ValueError, match=f"{size.outcomes:,} places times scenarios")):
        work_out(house, BELIEF)
    with (patch.object(compare, "MOST_CELLS", 5),
          pytest.raises(ValueError, match=r"sides of thresholds .* at most 5 are")):
        work_out(house, BELIEF)
    with patch.object(sizes, "MOST_OUTCOMES", size.outcomes):
        assert work_out(house, BELIEF)


# ---------------------------------------------------------------------------------------------- the largest


@dataclass(frozen=True, slots=True)
class Carried:
    house: House
    worked: Worked
    peak: int


@pytest.fixture(scope="module")
def carried() -> Carried:
    """The largest house worked out, and the most memory that it took [bytes].

    What is hidden, a few MB, is worked out before: to trace each of its numbers would take a minute.
    """
    house = large_house()
    views, kinds = beliefs(house, BELIEF), kinds_of(house, BELIEF)
    tracemalloc.start()
    worked = work_out_under(house, views, kinds)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return Carried(house, worked, peak)


def test_the_largest_house_is_as_large_as_said(carried: Carried) -> None:
    """It has 300 points on 60 feeds and 20 cases, more than ten million places and thousands of scenarios."""
    house, size = carried.house, size_of(carried.house, BELIEF)
    assert (sum(feed.unseen for feed in house.feeds), len(house.feeds), len(house.cases)) == (POINTS, FEEDS, 20)
    assert size.places > 10_000_000
    assert size.scenarios > 5_000


def test_the_largest_house_stays_within_its_memory(carried: Carried) -> None:
    """Nothing holds all places at once, let alone all places in all scenarios."""
    assert carried.peak < MOST_MEMORY


def test_the_largest_house_against_drawn_houses(carried: Carried) -> None:
    """Every mark and every comparison of it is that of houses drawn at random, within sampling errors."""
    house, worked = carried.house, carried.worked
    drawn: dict[str, Any] = oracle.simulate(house, BELIEF, HOUSES, SEED)
    for option in house.options:
        ending, totals = worked.endings[option.key], drawn["total"][option.key]
        for u, x in zip((*DOTS, *PERCENTILES), (*ending.quantile_dots, *ending.total), strict=True):
            allowed = ERRORS * sqrt(u * (1 - u) / HOUSES)
            assert np.mean(totals <= x) >= u - allowed
            assert np.mean(totals < x) <= u + allowed
        for u, x in zip(PERCENTILES, ending.paid, strict=True):
            assert np.mean(drawn["paid"][option.key] <= x) >= u - ERRORS * sqrt(u * (1 - u) / HOUSES)
        assert ending.least <= totals.min() <= totals.max() <= ending.most
    judged = worked.comparisons["judged"]
    pairs = [(judged.cheapest[key], share) for key, share in oracle.chance_cheapest(house, drawn).items()]
    pairs += [(p, oracle.chance_above(drawn, *pair)) for pair, p in judged.above.items()]
    assert all(abs(p - share) <= ERRORS * sqrt(p * (1 - p) / HOUSES) for p, share in pairs)
    assert sum(judged.cheapest.values()) == pytest.approx(1, abs=1e-12)


def test_the_largest_house_where_the_lists_pay_for_other_cases() -> None:
    """Lists that pay for two cases more and less are compared on the largest house as on drawn ones."""
    house = large_house(step=50_00, differ=2)
    house = replace(house, feeds=tuple(replace(feed, unseen=Fraction(feed.unseen, 3).__ceil__())
                                       for feed in house.feeds))
    judged = work_out(house, BELIEF).comparisons["judged"]
    drawn = oracle.simulate(house, BELIEF, HOUSES, SEED + 1)
    for pair, p in judged.above.items():
        assert abs(p - oracle.chance_above(drawn, *pair)) <= ERRORS * sqrt(p * (1 - p) / HOUSES)
    for key, share in oracle.chance_cheapest(house, drawn).items():
        p = judged.cheapest[key]
        assert abs(p - share) <= ERRORS * sqrt(p * (1 - p) / HOUSES)
