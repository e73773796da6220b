"""The comparison of options on one house: published figures, counting, drawn houses, ties, and keeping it."""

from __future__ import annotations

import json
from fractions import Fraction
from itertools import permutations
from math import sqrt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.trade.blocked import Kind, kinds_of
from sitegen.trade.compare import Crossings
from sitegen.trade.endings import work_out, work_out_under
from sitegen.trade.feeds import Feed, FeedPrior, hidden_points
from sitegen.trade.scenarios import cases_of
from sitegen.trade.terms import Belief, Case, House, Later, Option, Spread, Walls
from sitegen.trade.worked import VIEWS, Comparison, Worked, from_plain, to_plain
from tests.trade import examples, oracle
from tests.trade.test_endings import (
    BELIEF,
    ERRORS,
    EXACT,
    HOUSES,
    SEED,
    beliefs,
    case_keys,
    distinct_options,
    options,
    small_houses,
    worked_of,
)

ONE, ITEM, WIRING = examples.ONE_PRICE, examples.PER_ITEM, examples.WIRING_ONLY
QUIET = settings(max_examples=60, deadline=None, derandomize=True)
COVERS_ALL_WITH_FLOORS = Option("covers", 31_000_00, True, pays_cases=frozenset({"rot", "utility"}),
                             later=frozenset({"floors", "plaster finish"}))


def compared(house: House, belief: Belief = BELIEF, count: int = 9) -> Comparison:
    """The engine's comparison of the ways of a house."""
    return worked_of(house, belief, count).comparisons["judged"]


def counts_exactly(house: House, belief: Belief = BELIEF, count: int = 2) -> None:
    """Hold the engine's comparison to exact counting, every pair and every option."""
    exact = oracle.tally(house, oracle.brute_endings(house, belief, count))
    found = compared(house, belief, count)
    assert dict(found.above) == pytest.approx({k: float(p) for k, p in exact.above.items()}, abs=EXACT, rel=0)
    assert dict(found.cheapest) == pytest.approx(
        {key: float(p) for key, p in exact.cheapest.items()}, abs=EXACT, rel=0)


@pytest.fixture(scope="module")
def worked() -> Worked:
    return work_out(examples.EXAMPLE_4_HOUSE, BELIEF)


@pytest.fixture(scope="module")
def drawn() -> dict[str, Any]:
    return oracle.simulate(examples.EXAMPLE_4_HOUSE, BELIEF, HOUSES, SEED + 1)


# -------------------------------------------------------------------------------------- published figures


def test_example_4(worked: Worked) -> None:
    """Each way of the whole house is cheapest, and above another, as often as published."""
    # Worked example 4 of the hidden-wiring model, invented prices: three places.
    judged = worked.comparisons["judged"]
    # The published chances are rounded each by itself, so 0.566 + 0.210 + 0.225 is 1.001.
    assert {key: round(p, 3) for key, p in judged.cheapest.items()} == examples.EXAMPLE_4_CHEAPEST
    above = {pair: round(judged.above[pair], 3) for pair in examples.EXAMPLE_4_ABOVE}
    assert above == examples.EXAMPLE_4_ABOVE
    assert sum(judged.cheapest.values()) == pytest.approx(1, abs=EXACT)


@pytest.mark.parametrize(("view", "factor"),
                         [("half", examples.HALF_AS_MANY), ("twice", examples.TWICE_AS_MANY)])
def test_example_4_half_and_twice(worked: Worked, view: str, factor: Fraction) -> None:
    """With half and with twice as many old feeds the marks and the chance above are the published ones."""
    # Worked example 4 of the hidden-wiring model, invented prices.
    above = worked.comparisons[view].above[ITEM, ONE]
    marks = tuple((cents + 50) // 100 * 100 for cents in worked.percentiles[view][ITEM])
    assert round(above, 3) == examples.EXAMPLE_4_PER_ITEM_ABOVE_ONE_PRICE[factor]
    assert marks == examples.EXAMPLE_4_PER_ITEM_MARKS[factor]


def test_one_shared_house() -> None:
    """Two lists that differ only in a later cost are compared on one house, not each by itself."""
    # By hand: the option that leaves a sure $100 to the homeowner is above wherever both stand, all of the time.
    later = (Later("clean", "house", Spread(100_00, 100_00, 100_00)),)
    options_now = (Option("bare", 1_000_00, False, 50_00, later=frozenset({"clean"})),
                Option("full", 1_001_00, False, 50_00))
    house = House((Feed("u", "not traced", unseen=5),), Walls(0, 0), Walls(0, 0), 3, Fraction(0), Fraction(1),
                  0, later=later, options=options_now)
    found = compared(house)
    assert found.above["bare", "full"] == pytest.approx(1, abs=EXACT)
    assert found.above["full", "bare"] == 0


def test_twice_as_many_kinds(worked: Worked) -> None:
    """Eighteen kinds of house instead of nine move no chance of the whole house by more than 2 in 100."""
    nine, eighteen = worked.comparisons["judged"], compared(examples.EXAMPLE_4_HOUSE, count=18)
    assert dict(eighteen.above) == pytest.approx(dict(nine.above), abs=0.02, rel=0)
    assert dict(eighteen.cheapest) == pytest.approx(dict(nine.cheapest), abs=0.02, rel=0)


# -------------------------------------------------------------------------------------------- drawn houses


def test_drawn_houses(worked: Worked, drawn: dict[str, Any]) -> None:
    """Of houses drawn at random each option is cheapest, and above another, as often as the engine says."""
    # A share drawn is binomial: within ERRORS times sqrt(p(1 - p)/n) of its own chance.
    judged = worked.comparisons["judged"]
    seen = oracle.chance_cheapest(examples.EXAMPLE_4_HOUSE, drawn)
    pairs = [(judged.cheapest[key], seen[key]) for key in seen]
    pairs += [(p, oracle.chance_above(drawn, *pair)) for pair, p in judged.above.items()]
    for p, share in pairs:
        assert abs(share - p) <= ERRORS * sqrt(p * (1 - p) / HOUSES)


def test_published_simulation(worked: Worked) -> None:
    """The published simulation of 200,000 houses finds each option cheapest as often, within sampling error."""
    # Worked example 4 of the hidden-wiring model, invented prices: simulated shares to three places.
    for key, share in examples.EXAMPLE_4_SIMULATED_CHEAPEST.items():
        p = worked.comparisons["judged"].cheapest[key]
        assert abs(share - p) <= ERRORS * sqrt(p * (1 - p) / HOUSES) + 0.0005


@pytest.mark.parametrize("case_cap", [None, 900_00])
def test_drawn_houses_with_other_terms(case_cap: int | None) -> None:
    """With other caps in each list, and a price for all that leaves floors, drawn houses compare the same."""
    rows = (examples.EXAMPLE_4_OPTIONS[0],
            replace(examples.EXAMPLE_4_OPTIONS[1], case_cap=case_cap, added_cap=15_000_00),
            replace(examples.EXAMPLE_4_OPTIONS[2], case_cap=1_500_00), COVERS_ALL_WITH_FLOORS)
    house = replace(examples.EXAMPLE_4_HOUSE, options=rows)
    seen, found = oracle.simulate(house, BELIEF, HOUSES, SEED + 2), compared(house)
    for pair in permutations([option.key for option in rows], 2):
        p, share = found.above[pair], oracle.chance_above(seen, *pair)
        assert abs(share - p) <= ERRORS * sqrt(p * (1 - p) / HOUSES)
    for key, share in oracle.chance_cheapest(house, seen).items():
        p = found.cheapest[key]
        assert abs(share - p) <= ERRORS * sqrt(p * (1 - p) / HOUSES)


# -------------------------------------------------------------------------------------------- exact counting


@given(house=small_houses, belief=beliefs, count=st.integers(1, 3))
@QUIET
def test_small_houses_counted(house: House, belief: Belief, count: int) -> None:
    """Whatever the terms, every chance of the comparison is that of exact counting, exact ties included."""
    counts_exactly(house, belief, count)


TWO_CASES = (Case("rot", Fraction(1, 4), Spread(100_00, 300_00, 500_00)),
             Case("pipe", Fraction(1, 3), Spread(200_00, 200_00, 600_00)))
BOTH = frozenset({"rot", "pipe"})


@given(rows=distinct_options, caps=st.lists(st.none() | st.integers(0, 6), min_size=4, max_size=4),
       covers=st.lists(st.booleans(), min_size=4, max_size=4))
@QUIET
def test_other_caps_on_cases_counted(rows: tuple[Option, ...], caps: list[int | None], covers: list[bool]) -> None:
    """Where the lists hold their cases to other caps, the cheapest of them is found scenario by scenario."""
    held = [None if cap is None else cap * 100_00 for cap in caps]
    rows = tuple(replace(option, covers_all=covers[i], pays_cases=BOTH, case_cap=held[i],
                         later=option.later & {"plaster"}) for i, option in enumerate(rows))
    house = House((Feed("u", "not traced", unseen=2), Feed("v", "not traced", unseen=1)), Walls(1, 0),
                  Walls(1, 1), 1, Fraction(1, 2), Fraction(3, 4), 100_00, TWO_CASES,
                  (Later("plaster", "opening", Spread(50_00, 100_00, 200_00)),), rows)
    counts_exactly(house)


def test_different_caps_set_the_lists_apart() -> None:
    """Lists that hold their cases to other caps are set apart by several sums, and still count exactly."""
    rows = (Option("a", 500_00, False, 100_00, 0, 0, BOTH, 200_00),
            Option("b", 700_00, False, 50_00, 0, 0, BOTH),
            Option("c", 900_00, True, pays_cases=BOTH, case_cap=300_00))
    feeds = (Feed("u", "not traced", unseen=3), Feed("v", "part", 1, 2, 1, 1))
    house = House(feeds, Walls(0, 0), Walls(0, 0), 1, Fraction(0), Fraction(1), 0, TWO_CASES, (), rows)
    crossings = Crossings(rows, {"c": 900_00}, cases_of(house).joint, views=1)
    assert len(set(crossings.gaps["a", "b"].tolist())) > 1
    counts_exactly(house)


@given(price=st.integers(0, 30), covers=st.booleans(), mine=case_keys, theirs=case_keys, third=case_keys)
@settings(QUIET, max_examples=30)
def test_three_lists_that_pay_for_other_cases_counted(price: int, covers: bool, mine: frozenset[str],
                                                      theirs: frozenset[str], third: frozenset[str]) -> None:
    """Three options that move apart, each paying for cases of its own, are compared as exact counting has it."""
    rows = (Option("a", 500_00, False, 100_00, 0, 50_00, mine, 300_00),
            Option("b", 700_00, False, 50_00, 100_00, 0, theirs),
            Option("c", 600_00, False, 0, 200_00, 100_00, third),
            Option("d", price * 100_00 + 50_00, covers, 0, 0, 0, BOTH, 300_00))
    house = House((Feed("u", "not traced", unseen=2), Feed("v", "part", 1, 1, 1, 1)), Walls(1, 0), Walls(0, 0), 1,
                  Fraction(0), Fraction(1), 0, TWO_CASES, (), rows)
    counts_exactly(house)


def test_a_price_for_all_with_a_later_cost() -> None:
    """An option that covers every point but leaves floors moves with the house, and still counts exactly."""
    house = House((Feed("u", "not traced", unseen=2),), Walls(1, 0), Walls(0, 0), 1, Fraction(1, 2),
                  Fraction(1), 100_00, TWO_CASES, (Later("floor", "sq ft", Spread(0, 100_00, 300_00)),),
                  (Option("one", 800_00, True, pays_cases=BOTH, case_cap=200_00, later=frozenset({"floor"}),
                          floor_area=3),
                   Option("list", 500_00, False, 200_00, 100_00, 100_00, later=frozenset({"floor"}), floor_area=3),
                   Option("plain", 1_100_00, True)))
    counts_exactly(house, count=3)


# ------------------------------------------------------------------------------------------------------ ties


@pytest.mark.parametrize("dear_covers", [True, False])
@pytest.mark.parametrize("cheap_covers", [True, False])
def test_a_tie_goes_to_the_lower_price_today(dear_covers: bool, cheap_covers: bool) -> None:
    """Of options that end alike the one with the lower price today is cheapest, and neither is above."""
    # By hand: 1,000 and a sure case of 100 is 1,100, whichever of them moves.
    house = House((Feed("u", "not traced", unseen=2),), Walls(0, 0), Walls(0, 0), 1, Fraction(0), Fraction(1),
                  0, (Case("rot", Fraction(1), Spread(100_00, 100_00, 100_00)),), (),
                  (Option("dear", 1_100_00, dear_covers),
                   Option("cheap", 1_000_00, cheap_covers, pays_cases=frozenset({"rot"}))))
    found = compared(house)
    assert found.above == {("dear", "cheap"): 0, ("cheap", "dear"): 0}
    assert found.cheapest == pytest.approx({"cheap": 1, "dear": 0}, abs=EXACT)


@given(house=small_houses, rows=options, belief=beliefs)
@QUIET
def test_chances_add_up(house: House, rows: tuple[Option, ...], belief: Belief) -> None:
    """One option and no more is cheapest, even among equal prices, and two are never each above the other."""
    found = compared(replace(house, options=rows), belief, 2)
    assert sum(found.cheapest.values()) == pytest.approx(1, abs=EXACT)
    assert min(found.cheapest.values()) >= -EXACT
    for a, b in permutations([option.key for option in rows], 2):
        assert found.above[a, b] + found.above[b, a] <= 1 + EXACT
        assert found.above[a, b] <= 1 - found.cheapest[a] + EXACT


def test_the_same_option_twice() -> None:
    """An option set beside itself is never above itself."""
    rows = (examples.EXAMPLE_4_OPTIONS[1], replace(examples.EXAMPLE_4_OPTIONS[1], key="again"))
    found = compared(replace(examples.EXAMPLE_4_HOUSE, options=rows), count=3)
    assert set(found.above.values()) == {0}


def test_a_traced_house_is_plain() -> None:
    """In a house traced new with one kind of house and no chance left each comparison is certain."""
    feeds = (Feed("a", "new", unseen=3),)
    options_now = tuple(replace(option, later=frozenset()) for option in examples.EXAMPLE_4_OPTIONS)
    bare = House(feeds, Walls(0, 0), Walls(0, 0), 0, Fraction(0), Fraction(0), 0, options=options_now)
    kind = Kind(1.0, (Fraction(1), Fraction(1)), (Fraction(1), Fraction(1)), {})
    found = work_out_under(bare, {"sure": {(0, 0): 1.0}}, [kind]).comparisons["sure"]
    assert found.cheapest == {ONE: 0, ITEM: 0, WIRING: 1}
    assert (found.above[ONE, ITEM], found.above[ITEM, WIRING], found.above[WIRING, ONE]) == (1, 1, 0)


def test_a_bungalow_cuts_the_other_way() -> None:
    """Traced new except one porch feed of three points, the list never ends above the one price."""
    # The hidden-wiring model: below the one price in every case.  Worked example 4's prices, invented.
    feeds = (Feed("rest", "new", unseen=20), Feed("porch", "not traced", unseen=3))
    house = replace(examples.EXAMPLE_4_HOUSE, feeds=feeds, tracing=545_00, cases=())
    found = compared(house)
    assert (found.above[ITEM, ONE], found.cheapest[ONE]) == (0, 0)      # nought itself, and no rest of sums of floats


def test_weights_of_any_belief_with_the_same_reach() -> None:
    """A comparison under two beliefs at once is, for each, the one that it has alone."""
    house = replace(examples.EXAMPLE_4_HOUSE, list_drops=5)
    other = FeedPrior(Fraction(1), Fraction(4), Fraction(1, 3))
    views = {"judged": hidden_points(house.feeds, BELIEF.feeds), "other": hidden_points(house.feeds, other)}
    moved = work_out_under(house, views, kinds_of(house, BELIEF, 3)).comparisons["other"]
    expected = compared(house, replace(BELIEF, feeds=other), 3)
    assert dict(moved.above) == pytest.approx(dict(expected.above), abs=EXACT)
    assert dict(moved.cheapest) == pytest.approx(dict(expected.cheapest), abs=EXACT)


# ----------------------------------------------------------------------------------------------- kept as JSON


def test_worked_is_kept_and_read_back(worked: Worked) -> None:
    """What was worked out is the same after it was kept as JSON and read back."""
    assert from_plain(json.loads(json.dumps(to_plain(worked)))) == worked
    assert set(worked.comparisons) == set(worked.percentiles) == set(VIEWS)
    assert {key: ending.total for key, ending in worked.endings.items()} == worked.percentiles["judged"]


@pytest.mark.parametrize("part", ["endings", "percentiles", "comparisons"])
def test_what_was_not_kept_is_refused(worked: Worked, part: str) -> None:
    """A kept answer with a part missing or of another form is refused, not guessed at."""
    plain = json.loads(json.dumps(to_plain(worked)))
    with pytest.raises((KeyError, TypeError, ValueError)):
        from_plain({key: value for key, value in plain.items() if key != part})
    broken = {"endings": {ONE: {"total": [1, 2]}}, "percentiles": {"judged": {ONE: [1, 2]}},
              "comparisons": {"judged": {}}}
    with pytest.raises((KeyError, TypeError, ValueError)):
        from_plain({**plain, part: broken[part]})
