"""Break-even, the most one could pay, and what tracing would settle: no opinion on what is hidden."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.trade.break_even import (
    BreakEven,
    break_even,
    everything_old,
    known_today,
    middle,
    swing,
    unsettled,
    usual_later,
    usual_paid,
    usual_total,
)
from sitegen.trade.feeds import Feed, FeedPrior, hidden_points
from sitegen.trade.terms import Case, House, Option, Spread
from tests.trade import examples, oracle
from tests.trade.test_endings import small_houses

QUIET = settings(max_examples=60, deadline=None, derandomize=True)
HALF = Fraction(1, 2)
BELIEF, HOUSE = examples.EXAMPLE_4_BELIEF, examples.EXAMPLE_4_HOUSE
ONE, ITEM, WIRING = HOUSE.options
PAIRS = hidden_points(HOUSE.feeds, BELIEF.feeds)
MIDDLE = middle(HOUSE, BELIEF)


def counted_usual(house: House, option: Option, pair: tuple[int, int]) -> int:
    """The total at its usual [cents], by the oracle: s = 1/2, mean of blocked drops half up, certain cases alone."""
    points, charged = pair
    chances = oracle.blocked_chances(house, BELIEF, HALF, points)
    blocked = oracle.half_up(sum((count * p for count, p in chances.items()), Fraction(0)))
    costs = oracle.later_cents(house.later, house, option, HALF, points)
    certain = oracle.case_share(option, {case.key: case.cost.usual for case in house.cases if case.chance == 1})
    return (oracle.work_share(option, house, points, charged, blocked) + certain
            + sum(costs[key] for key in option.later))


# ------------------------------------------------------------------------------------------------- totals


@given(house=small_houses, points=st.integers(0, 6), feeds=st.integers(0, 3))
@QUIET
def test_usual_totals_as_counted(house: House, points: int, feeds: int) -> None:
    """A usual total is the middle house with the mean of blocked drops and the cases that are known, held to caps."""
    kind = middle(house, BELIEF)
    for option in house.options:
        total = usual_total(house, kind, option, (points, feeds))
        assert total == counted_usual(house, option, (points, feeds))
        assert total == usual_paid(house, kind, option, (points, feeds)) + usual_later(house, kind, option, points)


def test_usual_total_by_hand() -> None:
    """Seventeen points on seven feeds bring the list of points to $35,758.30 when all is usual."""
    # By hand from worked example 4, invented prices: 50 drops, 30 in and 20 out, 2/9 and 2/6 of them blocked
    # is 13.3, so 13.  18,600 + 1,210 + 17 x 520 + 7 x 540 + 13 x 165 + 700 + 537 x 0.90 = 35,758.30.
    cents = 18_600_00 + 1_210_00 + 17 * 520_00 + 7 * 540_00 + 13 * 165_00 + 700_00 + 537 * 90
    assert usual_total(HOUSE, MIDDLE, ITEM, (17, 7)) == cents


def test_a_case_that_is_known_is_in_every_usual_total() -> None:
    """A live gas-light pipe that was seen adds its usual amount wherever the homeowner pays, up to the cap."""
    gas = Case("gas", Fraction(1), Spread(300_00, 550_00, 1_200_00))
    house = replace(HOUSE, cases=(gas,))
    pays = replace(ITEM, pays_cases=frozenset({"gas"}))
    one = replace(ONE, pays_cases=frozenset({"gas"}), case_cap=400_00)
    without = usual_total(HOUSE, MIDDLE, ITEM, (5, 2))
    assert usual_total(house, MIDDLE, pays, (5, 2)) == without + 550_00
    assert usual_total(house, MIDDLE, one, (5, 2)) == ONE.price + 400_00
    assert usual_total(house, MIDDLE, replace(pays, pays_cases=frozenset()), (5, 2)) == without


# --------------------------------------------------------------------------------------------- break-even


def test_example_4() -> None:
    """Up to 16 old points per item is cheaper, from 20 on the one price is, and 30 can turn up."""
    # The hidden-wiring model on worked example 4, invented prices: "20 or more old ... 16 or fewer".
    assert break_even(HOUSE, MIDDLE, PAIRS, ITEM, ONE) == BreakEven(list_up_to=16, price_from=20, most=30)


def test_example_4_turns_on_feeds() -> None:
    """Seventeen points on seven feeds end above the one price, and nineteen on four below it."""
    # Worked example 4 of the hidden-wiring model, invented prices.
    above, below = examples.EXAMPLE_4_PER_ITEM_DEARER, examples.EXAMPLE_4_PER_ITEM_CHEAPER
    assert {above, below} <= set(PAIRS)
    assert usual_total(HOUSE, MIDDLE, ITEM, above) > ONE.price > usual_total(HOUSE, MIDDLE, ITEM, below)


@given(house=small_houses)
@QUIET
def test_break_even_by_its_words(house: House) -> None:
    """On however many feeds, so many or fewer cost no more by the list, so many or more by the price."""
    pairs = hidden_points(house.feeds, BELIEF.feeds)
    listed, priced = house.options[:2]
    margin = {pair: counted_usual(house, listed, pair) - counted_usual(house, priced, pair) for pair in pairs}
    counts = {points for points, _ in pairs}
    low = [h for h in counts if all(m <= 0 for (points, _), m in margin.items() if points <= h)]
    high = [h for h in counts if all(m >= 0 for (points, _), m in margin.items() if points >= h)]
    assert break_even(house, middle(house, BELIEF), pairs, listed, priced) == BreakEven(
        max(low, default=None), min(high, default=None), max(counts))


def test_never_and_always() -> None:
    """A list dearer from the first point on has no count up to which it is cheaper, and the reverse."""
    # By hand: 90,000 is above, and 1 below, any list of worked example 4's house.
    dear, cheap = replace(ONE, price=90_000_00), replace(ONE, price=1_00)
    assert break_even(HOUSE, MIDDLE, PAIRS, ITEM, dear) == BreakEven(30, None, 30)
    assert break_even(HOUSE, MIDDLE, PAIRS, ITEM, cheap) == BreakEven(None, 5, 30)


def test_equal_all_the_way() -> None:
    """Two options that cost the same throughout are each no dearer from end to end."""
    assert break_even(HOUSE, MIDDLE, PAIRS, ITEM, replace(ITEM, key="again")) == BreakEven(30, 5, 30)


@given(a=st.integers(1, 9), b=st.integers(1, 9), e=st.integers(1, 9))
@settings(max_examples=10, deadline=None, derandomize=True)
def test_no_prior_moves_it(a: int, b: int, e: int) -> None:
    """What the firm believes is hidden moves no break-even."""
    pairs = hidden_points(HOUSE.feeds, FeedPrior(Fraction(a), Fraction(b), Fraction(e, 10)))
    assert break_even(HOUSE, MIDDLE, pairs, ITEM, ONE) == break_even(HOUSE, MIDDLE, PAIRS, ITEM, ONE)


def test_what_cannot_come_moves_no_break_even() -> None:
    """Feeds that the firm is certain are new between count in no break-even and in no most."""
    pairs = hidden_points(HOUSE.feeds, replace(BELIEF.feeds, new_ends_old=Fraction(0)))
    # By hand from worked example 4: 30 points less the bath's 4.
    assert break_even(HOUSE, MIDDLE, pairs, ITEM, ONE).most == 26


# ----------------------------------------------------------------------------- known today, all old, tracing


def test_known_today_and_everything_old() -> None:
    """Known today are points opened or traced old; everything old is every point not traced new."""
    # Worked example 4 of the hidden-wiring model, invented house: from 5 known to 30; feeds counted by hand.
    assert known_today(HOUSE.feeds) == (5, 2)
    assert everything_old(PAIRS) == (30, 9)
    assert (known_today(HOUSE.feeds)[0], everything_old(PAIRS)[0]) == examples.EXAMPLE_4_HIDDEN_ENDS


@given(house=small_houses)
@QUIET
def test_known_today_is_the_fewest(house: House) -> None:
    """What is known today is the fewest that can turn up, and everything old the most, feeds with them."""
    pairs = hidden_points(house.feeds, replace(BELIEF.feeds, new_ends_old=HALF))
    assert known_today(house.feeds) == min(pairs)
    assert everything_old(pairs) == (max(points for points, _ in pairs), max(feeds for _, feeds in pairs))


def test_unsettled() -> None:
    """Tracing settles eight feeds: not traced, part or new ends with a point that nobody saw."""
    # Worked example 4 of the hidden-wiring model, invented prices: $450 + 8 feeds at $95 = $1,210.
    names = {feed.name for feed in unsettled(HOUSE.feeds)}
    assert len(names) == 8
    assert HOUSE.tracing == 450_00 + len(names) * 95_00
    assert names.isdisjoint({"down-lights", "front-outlets", "kitchen", "basement"})


@pytest.mark.parametrize("feed", unsettled(HOUSE.feeds), ids=lambda feed: feed.name)
@pytest.mark.parametrize("option", HOUSE.options, ids=lambda option: option.key)
def test_swing(feed: Feed, option: Option) -> None:
    """One feed found old against found new moves a total by its points, its feed and what goes with them."""
    def traced(evidence: str) -> tuple[int, int]:
        found = replace(feed, evidence=evidence, unseen=feed.unseen if evidence == "old" else 0)
        return known_today([found if other is feed else other for other in HOUSE.feeds])

    if feed.known:      # found new beyond what was seen old: the feed stays charged for what is known
        expected = (counted_usual(HOUSE, option, traced("old"))
                    - counted_usual(HOUSE, option, known_today(HOUSE.feeds)))
    else:
        expected = counted_usual(HOUSE, option, traced("old")) - counted_usual(HOUSE, option, traced("new"))
    assert swing(HOUSE, MIDDLE, option, feed) == expected
    assert (expected == 0) if option.covers_all else (expected >= feed.unseen * option.each_point)
