"""The firm's side of one hidden house: published figures, simulation, exact counting and rules."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.trade.firm import LOSSES, Aim, FirmCost, FirmEnding, FirmTerms, from_plain, proposed, to_plain
from sitegen.trade.firm_endings import firm_ending
from sitegen.trade.terms import Belief, House, Option
from tests.trade import examples, oracle

HOUSE, BELIEF = examples.EXAMPLE_4_HOUSE, examples.EXAMPLE_4_BELIEF
UNITS = {"each_point": 214_15, "each_feed": 333_09, "each_blocked": 116_59}
ONE = FirmCost(fixed=23_600_00, **UNITS)
ITEM = FirmCost(fixed=16_900_00, **UNITS)
AIM = Aim(Fraction(10, 100), Fraction(12, 100))
OPTIONS = {option.key: option for option in HOUSE.options}


def ending(cost: FirmCost, option: Option, house: House = HOUSE, price: int | None = None,
           belief: Belief = BELIEF, aim: Aim = AIM) -> FirmEnding:
    """What an option comes to for the firm; without a price, one is proposed."""
    return firm_ending(house, belief, FirmTerms(option, cost, price), aim)


# The model's worked example 5 (worked example, invented prices): the firm's side of example 4.

def test_the_cost_of_one_price_in_the_worked_example() -> None:
    """P10, P50 and P90 of the cost, and the prices that lose in 10, 20 and 30 of 100, to the cent."""
    found = ending(ONE, OPTIONS[examples.ONE_PRICE], price=35_600_00)
    assert found.cost == (2_901_548, 3_120_685, 3_344_109)
    assert dict(zip(LOSSES, found.least, strict=True)) == {0.1: 3_344_109, 0.2: 3_268_446, 0.3: 3_213_722}
    assert round(100 * found.loses, 4) == 0.7246


def test_the_cost_without_cases_in_the_worked_example() -> None:
    """The same house with no case to come."""
    found = ending(ONE, OPTIONS[examples.ONE_PRICE], replace(HOUSE, cases=()), 35_600_00)
    assert found.cost == (2_897_977, 3_115_692, 3_331_023)


def test_the_price_that_is_proposed_in_the_worked_example() -> None:
    """To lose in at most 10 of 100 asks $33,500, to earn 12 of 100 in the middle $35,462.33: so $35,500."""
    found = ending(ONE, OPTIONS[examples.ONE_PRICE])
    assert proposed(found.limit, 0, AIM) == 33_500_00
    assert proposed(found.limit, found.cost[1], AIM) == 35_500_00
    assert found.margin[1] == 35_500_00 - found.cost[1]


def test_the_margin_of_a_list_in_the_worked_example() -> None:
    """Per item earns more the more is old; what it charges for surprises is more than what they cost."""
    item = OPTIONS[examples.PER_ITEM]
    found = ending(ITEM, item, price=18_600_00)
    assert found.margin == (724_735, 943_247, 1_150_538)
    assert found.loses == 0


# ------------------------------------------------------------------------------------------- rules

cents = st.integers(0, 900).map(lambda n: n * 100)


@settings(max_examples=10, deadline=None, derandomize=True)
@given(cents, cents, cents, cents, st.none() | st.integers(0, 30).map(lambda n: n * 10_000))
def test_cost_margin_and_loss_against_every_house_counted(point: int, feed: int, drop: int, charge: int,
                                                          cap: int | None) -> None:
    """Against a brute force over a small house: quantiles to the cent, chance of losing to a hair."""
    house = replace(HOUSE, feeds=examples.EXAMPLE_1_FEEDS[5:], list_drops=3)
    option = Option("list", 0, False, charge, feed, drop, frozenset({"asbestos"}), 1_500_00, cap)
    cost = FirmCost(5_000_00, point, feed, drop)
    price = 5_400_00
    found = ending(cost, option, house, price)
    spread = oracle.firm_net(house, BELIEF, cost, option)
    for share, value in ((0.1, price - found.margin[2]), (0.5, price - found.margin[1]),
                         (0.9, price - found.margin[0])):
        assert value == oracle.quantile(spread, Fraction(share).limit_denominator(10))
    assert found.loses == pytest.approx(sum(chance for net, chance in spread.items() if net > price), abs=1e-12)


@pytest.mark.parametrize("more", ["fixed", "each_point", "each_feed", "each_blocked"])
def test_a_cost_more_never_lowers_what_a_price_must_cover(more: str) -> None:
    """Every part of the cost counts: adding to one raises the middle of the cost."""
    one = OPTIONS[examples.ONE_PRICE]
    assert ending(replace(ONE, **{more: getattr(ONE, more) + 50_00}), one).cost[1] > ending(ONE, one).cost[1]


def test_a_case_that_the_firm_pays_is_in_its_cost_and_one_over_the_cap_too() -> None:
    """The homeowner's cases cost the firm nothing without a cap; with one the firm pays what passes it."""
    pays_all = replace(OPTIONS[examples.ONE_PRICE], case_cap=None)
    free = ending(ONE, replace(pays_all, pays_cases=frozenset()))
    assert ending(ONE, pays_all).least[0] < ending(ONE, replace(pays_all, case_cap=0)).least[0] == free.least[0]


def test_an_aim_to_earn_the_whole_price_is_refused() -> None:
    """No price does that."""
    with pytest.raises(ValueError, match="below the whole"):
        proposed(0, 1, Aim(Fraction(1, 10), Fraction(1)))


def test_an_answer_is_kept_and_read_back() -> None:
    """What is kept as JSON is the same answer."""
    found = ending(ONE, OPTIONS[examples.ONE_PRICE])
    assert from_plain(to_plain(found)) == found
