"""The oracles against the model's worked examples: only when they agree may they judge the engine."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.trade.feeds import Feed, FeedPrior
from sitegen.trade.terms import Belief, Case, House, Later, Option, Spread, Walls
from tests.trade import examples, oracle

HOUSES, SEED = 200_000, 20261110
DOLLAR = 100


def _marks(chances: dict[int, Any]) -> tuple[int, ...]:
    return tuple(oracle.quantile(chances, mark) for mark in examples.MARKS)


def _hidden(feeds: tuple[Feed, ...], prior: FeedPrior = examples.PRIOR) -> dict[int, Fraction]:
    return oracle.points_only(oracle.brute_hidden_points(feeds, prior))


def _mean(chances: dict[int, Fraction]) -> Fraction:
    return sum((points * chance for points, chance in chances.items()), Fraction(0))


def _never_lower(lower: dict[int, Fraction], higher: dict[int, Fraction]) -> bool:
    """Whether `higher` is at least as likely as `lower` to pass every mark."""
    def up_to(chances: dict[int, Fraction], x: int) -> Fraction:
        return sum((chance for value, chance in chances.items() if value <= x), Fraction(0))

    return all(up_to(higher, x) <= up_to(lower, x) for x in {*lower, *higher})


def _changed(place: int, feed: Feed) -> tuple[Feed, ...]:
    feeds = list(examples.EXAMPLE_4_FEEDS)
    feeds[place] = feed
    return tuple(feeds)


def _places(evidence: str) -> list[int]:
    return [i for i, feed in enumerate(examples.EXAMPLE_4_FEEDS) if feed.evidence == evidence and feed.unseen]


# --------------------------------------------------------------------------------------------- examples 1, 2


def test_example_1_old_feeds() -> None:
    """How many untraced feeds are old is beta-binomial on feeds, with O and N of the same house added."""
    found_old, found_new = oracle.habit(examples.EXAMPLE_1_FEEDS)
    a, b = examples.PRIOR.old + found_old, examples.PRIOR.new + found_new
    chances = [round(float(oracle.beta_binomial(j, 3, a, b)), 6) for j in range(4)]
    assert (found_old, found_new) == (3, 2)
    assert tuple(chances) == examples.EXAMPLE_1_OLD_FEEDS


def test_example_1_hidden_points() -> None:
    """Each untraced feed adds all of its points or none, on top of the points known to be old."""
    hidden = _hidden(examples.EXAMPLE_1_FEEDS)
    assert {points: round(float(chance), 6) for points, chance in hidden.items()} == examples.EXAMPLE_1_HIDDEN
    assert sum(hidden.values()) == 1
    assert _marks(hidden) == examples.EXAMPLE_1_MARKS


def test_example_1_charged_feeds() -> None:
    """Three old feeds are charged for certain, and one more for each untraced feed that is old."""
    charged: dict[int, Fraction] = defaultdict(Fraction)
    for (_, feeds), chance in oracle.brute_hidden_points(examples.EXAMPLE_1_FEEDS, examples.PRIOR).items():
        charged[feeds] += chance
    assert [round(float(charged[3 + j]), 6) for j in range(4)] == list(examples.EXAMPLE_1_OLD_FEEDS)


@pytest.mark.parametrize(
    ("case", "marks", "coverage"),
    [
        (examples.SINGLE_POINTS, examples.SINGLE_POINTS_MARKS, examples.SINGLE_POINTS_COVERAGE),
        (examples.FIVE_POINTS, None, examples.FIVE_POINTS_COVERAGE),
    ],
)
def test_coverage_of_a_lumpy_count(case: Any, marks: Any, coverage: float) -> None:
    """The range from P10 to P90 of a lumpy count holds more than 80 in 100."""
    tries, a, b = case
    chances = {hits: oracle.beta_binomial(hits, tries, a, b) for hits in range(tries + 1)}
    low, usual, high = _marks(chances)
    assert marks is None or (low, usual, high) == marks
    assert round(float(sum(chances[hits] for hits in range(low, high + 1))), 3) == coverage


def test_example_2_part_feed() -> None:
    """A partly opened feed is mostly all one thing: two alike say much, one of each says little."""
    two, one, none = (
        [round(float(chance), 3) for chance, _ in oracle.feed_outcomes(feed, examples.PRIOR)]
        for feed in (
            examples.EXAMPLE_2_TWO_OF_TWO,
            examples.EXAMPLE_2_ONE_OF_TWO,
            examples.EXAMPLE_2_NONE_OF_TWO,
        )
    )
    assert two[6] == none[0] == examples.EXAMPLE_2_ALL_OR_NONE
    assert (min(one), max(one)) == examples.EXAMPLE_2_FLAT


@given(count=st.integers(1, 6), a=st.integers(1, 9), b=st.integers(1, 9))
@settings(max_examples=30, deadline=None)
def test_one_point_a_feed_is_the_plain_beta_binomial(count: int, a: int, b: int) -> None:
    """With one point a feed, none found, H is beta-binomial(T; a, b), each point one charged feed."""
    prior = FeedPrior(Fraction(a, 2), Fraction(b, 2), Fraction(0))
    hidden = oracle.brute_hidden_points([Feed(str(i), "not traced", unseen=1) for i in range(count)], prior)
    assert hidden == {(j, j): oracle.beta_binomial(j, count, prior.old, prior.new) for j in range(count + 1)}


# ------------------------------------------------------------------------------------------------ example 3


def test_example_3() -> None:
    """With three kinds of house given outright, an exact plain loop gives the published ending."""
    chances: dict[int, Fraction] = defaultdict(Fraction)
    hidden = oracle.brute_hidden_points(examples.EXAMPLE_3_FEEDS, examples.EXAMPLE_3_PRIOR)
    for kind, weight in enumerate(examples.EXAMPLE_3_WEIGHTS):
        a, b = examples.EXAMPLE_3_BLOCKED_SHARE[kind]
        for (points, charged), chance in hidden.items():
            drops = examples.EXAMPLE_3_LIST_DROPS + points
            for blocked in range(drops + 1):
                cents = examples.EXAMPLE_3_PRICE + examples.EXAMPLE_3_TRACING + examples.EXAMPLE_3_LATER[kind]
                cents += examples.EXAMPLE_3_EACH_POINT * points + examples.EXAMPLE_3_EACH_FEED * charged
                cents += examples.EXAMPLE_3_EACH_BLOCKED * blocked
                chances[cents] += weight * chance * oracle.beta_binomial(blocked, drops, a, b)
    above = sum(chance for cents, chance in chances.items() if cents > examples.EXAMPLE_3_LINE)
    assert sum(chances.values()) == 1
    assert _marks(chances) == examples.EXAMPLE_3_MARKS
    assert round(float(above), 3) == examples.EXAMPLE_3_ABOVE_LINE


# ------------------------------------------------------------------------------------------------ example 4


@pytest.fixture(scope="module")
def drawn() -> dict[str, Any]:
    return oracle.simulate(examples.EXAMPLE_4_HOUSE, examples.EXAMPLE_4_BELIEF, HOUSES, SEED)


@pytest.fixture(scope="module")
def counted() -> dict[str, Any]:
    return oracle.brute_arrays(examples.EXAMPLE_4_HOUSE, examples.EXAMPLE_4_BELIEF)


def _to_the_dollar(marks: tuple[int, ...]) -> tuple[int, ...]:
    return tuple((cents + 50) // DOLLAR * DOLLAR for cents in marks)


def test_example_4_hidden_points() -> None:
    """Points known today are the least that can be added, and every unseen point the most."""
    hidden = _hidden(examples.EXAMPLE_4_FEEDS)
    assert oracle.habit(examples.EXAMPLE_4_FEEDS) == examples.EXAMPLE_4_HABIT
    assert (min(hidden), max(hidden)) == examples.EXAMPLE_4_HIDDEN_ENDS
    assert _marks(hidden) == examples.EXAMPLE_4_HIDDEN_MARKS
    assert sum(hidden.values()) == 1


def test_example_4_counted_endings(counted: dict[str, Any]) -> None:
    """Counting every outcome of the whole house gives the published endings to the dollar."""
    for key, marks in examples.EXAMPLE_4_MARKS.items():
        assert _to_the_dollar(oracle.three_marks(counted["total"][key], counted["chance"])) == marks
    assert counted["chance"].sum() == pytest.approx(1, abs=1e-10)
    assert {key: counted["total"][key].max() for key in examples.EXAMPLE_4_MOST} == examples.EXAMPLE_4_MOST


def test_example_4_counted_comparisons(counted: dict[str, Any]) -> None:
    """The options are compared on one and the same house: above is strict, a tie goes to the lower price."""
    above = {pair: round(oracle.chance_above(counted, *pair), 3) for pair in examples.EXAMPLE_4_ABOVE}
    cheapest = oracle.chance_cheapest(examples.EXAMPLE_4_HOUSE, counted)
    assert above == examples.EXAMPLE_4_ABOVE
    assert {key: round(chance, 3) for key, chance in cheapest.items()} == examples.EXAMPLE_4_CHEAPEST


@pytest.mark.parametrize("factor", [examples.HALF_AS_MANY, examples.TWICE_AS_MANY])
def test_example_4_half_and_twice(factor: Fraction) -> None:
    """Half and twice as many old feeds scale a and e and leave b as it is."""
    belief = Belief(
        feeds=replace(
            examples.PRIOR, old=examples.PRIOR.old * factor, new_ends_old=examples.PRIOR.new_ends_old * factor
        )
    )
    counted = oracle.brute_arrays(examples.EXAMPLE_4_HOUSE, belief)
    marks = oracle.three_marks(counted["total"][examples.PER_ITEM], counted["chance"])
    above = oracle.chance_above(counted, examples.PER_ITEM, examples.ONE_PRICE)
    assert _to_the_dollar(marks) == examples.EXAMPLE_4_PER_ITEM_MARKS[factor]
    assert round(above, 3) == examples.EXAMPLE_4_PER_ITEM_ABOVE_ONE_PRICE[factor]


def test_example_4_drawn_endings(drawn: dict[str, Any]) -> None:
    """Houses drawn at random end within 60 dollars of the published simulation."""
    assert oracle.three_marks(drawn["H"]) == examples.EXAMPLE_4_HIDDEN_MARKS
    one_price = examples.ONE_PRICE
    assert oracle.three_marks(drawn["total"][one_price]) == examples.EXAMPLE_4_MARKS[one_price]
    for key, published in examples.EXAMPLE_4_SIMULATED_MARKS.items():
        marks = oracle.three_marks(drawn["total"][key])
        assert max(abs(one - other) for one, other in zip(marks, published, strict=True)) <= 60 * DOLLAR


def test_example_4_drawn_comparisons(drawn: dict[str, Any]) -> None:
    """Houses drawn at random compare the options as published, within 5 in 1,000."""
    for pair, published in examples.EXAMPLE_4_ABOVE.items():
        assert oracle.chance_above(drawn, *pair) == pytest.approx(published, abs=0.005)
    cheapest = oracle.chance_cheapest(examples.EXAMPLE_4_HOUSE, drawn)
    assert cheapest == pytest.approx(examples.EXAMPLE_4_SIMULATED_CHEAPEST, abs=0.005)


def test_drawn_and_counted_agree_on_each_part(drawn: dict[str, Any], counted: dict[str, Any]) -> None:
    """Feeds, points and blocked drops move together in the drawn houses as they do when counted."""
    chance = counted["chance"]
    for name in ("H", "F", "blocked"):
        mean = np.average(counted[name], weights=chance)
        spread = np.sqrt(np.average((counted[name] - mean) ** 2, weights=chance))
        assert drawn[name].mean() == pytest.approx(mean, abs=5 * spread / np.sqrt(HOUSES))
        assert drawn[name].std() == pytest.approx(spread, rel=0.02)
    for one, other in (("H", "F"), ("H", "blocked"), ("F", "blocked")):
        together = np.average(counted[one] * counted[other], weights=chance)
        assert np.mean(drawn[one] * drawn[other]) == pytest.approx(together, rel=0.01)


def test_break_even_turns_on_feeds_too() -> None:
    """Seventeen old points on seven feeds can cost more than nineteen on four."""
    house = examples.EXAMPLE_4_HOUSE
    one_price, per_item = house.options[0], house.options[1]

    def usual_ending(points: int, charged: int) -> Fraction:
        drops = house.list_drops + points
        outside = oracle.half_up(house.outside_share * drops)
        blocked = Fraction(2, 9) * (drops - outside) + Fraction(2, 6) * outside
        costs = oracle.later_cents(house.later, house, per_item, Fraction(1, 2), points)
        fixed = oracle.work_share(per_item, house, points, charged, 0)
        return fixed + sum(costs[key] for key in per_item.later) + per_item.each_blocked * blocked

    assert usual_ending(*examples.EXAMPLE_4_PER_ITEM_DEARER) > one_price.price
    assert usual_ending(*examples.EXAMPLE_4_PER_ITEM_CHEAPER) < one_price.price


# ---------------------------------------------------------------------- five rules, whatever the numbers


def test_one_more_old_box_never_lowers_hidden_points() -> None:
    """One more old among the same opened boxes never lowers H."""
    feed = examples.EXAMPLE_4_FEEDS[1]
    steps = [replace(feed, known=old, opened_old=old, opened_new=2 - old) for old in range(3)]
    for fewer, more in pairwise(steps):
        assert _never_lower(_hidden(_changed(1, fewer)), _hidden(_changed(1, more)))


@pytest.mark.parametrize("place", _places("not traced") + _places("new ends"))
def test_a_feed_traced_new_never_raises_hidden_points(place: int) -> None:
    """A feed that is traced and found new never raises H."""
    traced = replace(examples.EXAMPLE_4_FEEDS[place], evidence="new")
    assert _never_lower(_hidden(_changed(place, traced)), _hidden(examples.EXAMPLE_4_FEEDS))


@pytest.mark.parametrize("place", [i for i, feed in enumerate(examples.EXAMPLE_4_FEEDS) if feed.unseen])
def test_listing_a_point_never_raises_hidden_points(place: int) -> None:
    """A point that goes on the list never raises H."""
    feed = examples.EXAMPLE_4_FEEDS[place]
    listed = _hidden(_changed(place, replace(feed, unseen=feed.unseen - 1)))
    assert _never_lower(listed, _hidden(examples.EXAMPLE_4_FEEDS))


@pytest.mark.parametrize("place", _places("not traced"))
def test_one_box_on_an_untraced_feed_moves_hidden_points(place: int) -> None:
    """One box opened old on an untraced feed raises H, and one opened new lowers it."""
    feed = examples.EXAMPLE_4_FEEDS[place]
    rest = replace(feed, evidence="part", unseen=feed.unseen - 1)
    before = _mean(_hidden(examples.EXAMPLE_4_FEEDS))
    assert _mean(_hidden(_changed(place, replace(rest, known=1, opened_old=1)))) > before
    assert _mean(_hidden(_changed(place, replace(rest, opened_new=1)))) < before


# -------------------------------------------------------------------------------------- small houses, money


def _small_house(**changes: Any) -> House:
    """A shed: one old feed, one untraced, one partly opened, so that it can be followed by hand."""
    house = House(
        feeds=(
            Feed("old", "old", known=1),
            Feed("untraced", "not traced", unseen=2),
            Feed("part", "part", unseen=1, opened_old=1, opened_new=1),
        ),
        inside=Walls(2, 1),
        outside=Walls(0, 0),
        list_drops=2,
        outside_share=Fraction(1, 2),
        openings_a_drop=Fraction(3, 4),
        tracing=300_00,
        cases=(
            Case("rot", Fraction(1, 4), Spread(100_00, 200_00, 400_00)),
            Case("pipe", Fraction(1), Spread(50_00, 60_00, 70_00)),
            Case("never", Fraction(0), Spread(9_000_00, 9_000_00, 9_000_00)),
        ),
        later=(
            Later("plaster", "opening", Spread(10_00, 20_00, 40_00)),
            Later("floor", "sq ft", Spread(0, 90, 310)),
            Later("clean", "house", Spread(100_00, 150_00, 300_00)),
        ),
        options=(
            Option("one", 2_000_00, True, 1_00, 1_00, 1_00, frozenset({"rot", "pipe", "never"}), 250_00),
            Option("list", 1_000_00, False, 100_00, 50_00, 20_00, frozenset({"rot"}), None, 360_00,
                frozenset({"plaster", "floor", "clean"}), 10),
        ),
    )
    return replace(house, **changes)


BELIEF = Belief(feeds=examples.PRIOR)


def test_small_house_adds_up_exactly() -> None:
    """The chances of all endings add up to exactly one, and give back the hidden points they came from."""
    house = _small_house()
    endings = oracle.brute_endings(house, BELIEF)
    hidden: dict[tuple[int, int], Any] = defaultdict(Fraction)
    for ending in endings:
        hidden[ending.hidden, ending.charged] += ending.chance
    assert sum(ending.chance for ending in endings) == 1
    assert hidden == oracle.brute_hidden_points(house.feeds, BELIEF.feeds)


def test_an_option_that_covers_all_adds_cases_only() -> None:
    """With every point covered only cases are added, held to their cap, and no tracing is bought."""
    totals = {ending.total["one"] for ending in oracle.brute_endings(_small_house(), BELIEF)}
    cases = {50, 60, 70} | {150, 160, 170} | {250}
    assert totals == {(2_000 + dollars) * DOLLAR for dollars in cases}


def test_cap_on_what_is_added_leaves_tracing_cases_and_later_costs_alone() -> None:
    """The cap on added work holds points, feeds and blocked drops together and nothing else."""
    house = _small_house()
    most = max(ending.paid["list"] for ending in oracle.brute_endings(house, BELIEF))
    assert most == 1_000_00 + 360_00 + 300_00 + 400_00
    uncapped = replace(house, options=(house.options[0], replace(house.options[1], added_cap=None)))
    most = max(ending.paid["list"] for ending in oracle.brute_endings(uncapped, BELIEF))
    assert most == 1_000_00 + (4 * 100_00 + 3 * 50_00 + 6 * 20_00) + 300_00 + 400_00


def test_later_costs_are_the_whole_difference_between_finish_and_firm() -> None:
    """What the same finish costs beyond what the firm is paid is unit price at `s` times quantity."""
    endings = oracle.brute_endings(_small_house(), BELIEF, kinds_of_house=1)
    for ending in endings:
        openings = -(-3 * (2 + ending.hidden) // 4)
        assert ending.total["list"] - ending.paid["list"] == openings * 20_00 + 10 * 90 + 150_00
        assert ending.total["one"] == ending.paid["one"]


def test_one_toss_is_shared_by_all_options() -> None:
    """When two options pay the same case they pay it in the same houses."""
    house = _small_house(feeds=(), tracing=0, list_drops=0)
    house = replace(house, later=(), options=tuple(replace(option, later=frozenset()) for option in house.options))
    shares = defaultdict(set)
    for ending in oracle.brute_endings(house, BELIEF, kinds_of_house=1):
        shares[ending.total["list"] - 1_000_00].add(ending.total["one"] - 2_000_00)
    assert shares[0] == {50_00, 60_00, 70_00}
    assert shares[200_00] == {250_00}


@pytest.mark.parametrize("count", [1, 3, 9])
@pytest.mark.parametrize("spread", [Spread(110_00, 165_00, 260_00), Spread(0, 90, 310), Spread(1, 2, 4)])
def test_three_point_entries_in_fractions_and_in_whole_numbers(count: int, spread: Spread) -> None:
    """A three-point entry lies on two straight lines carried on beyond, never under zero, half a cent up."""
    exact = [oracle.spread_at(spread, s) for s in oracle.kinds(count)]
    assert exact == oracle.spreads_at_kinds(spread, count).tolist()
    assert [oracle.spread_at(spread, Fraction(s, 10)) for s in (1, 5, 9)] == [
        spread.low, spread.usual, spread.high
    ]
    assert min(exact) >= 0


def test_a_hard_house_has_more_blocked_drops() -> None:
    """The shift runs straight from +1/2 at s = .1 to -1/2 at s = .9, so hard houses are blocked more."""
    walls, belief = Walls(5, 1), BELIEF
    for s, x in ((Fraction(1, 10), Fraction(1, 2)), (Fraction(1, 2), 0), (Fraction(9, 10), Fraction(-1, 2))):
        chances = oracle.wall_chances(walls, 3, belief, s)
        assert chances == [oracle.beta_binomial(hits, 3, 2 - x, 7 + Fraction(x)) for hits in range(4)]


def test_a_tie_for_cheapest_goes_to_the_lower_price_today() -> None:
    """Of two options that end alike the one with the lower price today is the cheapest."""
    options = (Option("dear", 500_00, True), Option("cheap", 400_00, False))
    house = _small_house(feeds=(), tracing=100_00, list_drops=0, cases=(), later=(), options=options)
    result = oracle.tally(house, oracle.brute_endings(house, BELIEF))
    drawn = oracle.simulate(house, BELIEF, 100, SEED)
    assert result.cheapest == {"dear": 0, "cheap": 1}
    assert result.above == {("dear", "cheap"): 0, ("cheap", "dear"): 0}
    assert oracle.chance_cheapest(house, drawn) == {"dear": 0.0, "cheap": 1.0}


def test_quantile_allows_a_hair_below_the_mark() -> None:
    """The quantile is the smallest x with F(x) >= u - 1e-12, not one beyond it for a rounding error."""
    assert oracle.quantile({1: 0.1 + 0.2, 2: 0.7}, 0.3) == 1
    assert oracle.quantile({1: 0.3 - 5e-13, 2: 0.7}, 0.3) == 1
    assert oracle.quantile({1: 0.3 - 2e-12, 2: 0.7}, 0.3) == 2
    assert oracle.quantile({1: Fraction(1, 3), 2: Fraction(2, 3)}, Fraction(1, 3)) == 1


def test_three_ways_of_counting_agree_on_a_small_house() -> None:
    """Rows one by one, rows in arrays and drawn houses are one and the same model."""
    house = _small_house()
    rows = oracle.tally(house, oracle.brute_endings(house, BELIEF, 3))
    arrays = oracle.brute_arrays(house, BELIEF, 3)
    drawn = oracle.simulate(house, BELIEF, HOUSES, SEED, 3)
    for key in ("one", "list"):
        for name, exact in (("total", rows.total[key]), ("paid", rows.paid[key])):
            assert oracle.chances_of(arrays[name][key], arrays["chance"]) == pytest.approx(exact, abs=1e-12)
            seen = oracle.chances_of(drawn[name][key])
            assert set(seen) <= set(exact)
            assert max(abs(seen.get(cents, 0) - chance) for cents, chance in exact.items()) < 0.006
    above = float(rows.above["list", "one"])
    assert oracle.chance_above(arrays, "list", "one") == pytest.approx(above, abs=1e-12)
    assert oracle.chance_above(drawn, "list", "one") == pytest.approx(above, abs=0.006)


def feeds_of_any_looks() -> st.SearchStrategy[tuple[Feed, ...]]:
    """Up to six small feeds of any looks."""
    size = st.integers(0, 3)
    plain = st.builds(Feed, st.just("f"), st.sampled_from(["new", "new ends", "not traced"]), unseen=size)
    old = st.builds(Feed, st.just("f"), st.just("old"), known=size, unseen=size)
    part = st.builds(
        lambda known, unseen, listed, new: Feed("f", "part", known, unseen, known + listed, new),
        st.integers(0, 2), size, st.integers(0, 1), st.integers(0, 2),
    ).filter(lambda feed: feed.opened_old + feed.opened_new > 0)
    return st.lists(st.one_of(plain, old, part), max_size=6).map(tuple)


@given(feeds=feeds_of_any_looks(), a=st.integers(1, 6), b=st.integers(1, 6), e=st.integers(0, 10))
@settings(max_examples=40, deadline=None, derandomize=True)
def test_drawn_feeds_agree_with_counted_feeds(feeds: tuple[Feed, ...], a: int, b: int, e: int) -> None:
    """Drawing a habit for the house and tossing each feed gives the chances that counting subsets gives."""
    prior = FeedPrior(Fraction(a, 2), Fraction(b, 2), Fraction(e, 10))
    exact = oracle.brute_hidden_points(feeds, prior)
    added = oracle.draw_added(feeds, prior, 20_000, np.random.default_rng(SEED))
    pairs = added.sum(axis=1) * 100 + (added > 0).sum(axis=1)
    seen = oracle.chances_of(pairs)
    assert sum(exact.values()) == 1
    assert set(seen) <= {points * 100 + charged for points, charged in exact}
    assert max(abs(seen.get(h * 100 + f, 0) - chance) for (h, f), chance in exact.items()) < 0.018


# --------------------------------------------------------------------------------------- the richer world


@pytest.mark.parametrize("easy_first", [True, False])
def test_a_richer_house_is_surveyed_honestly(easy_first: bool) -> None:
    """The truth lies between what is known today and that with every unseen point added."""
    rng = np.random.default_rng(SEED)
    for _ in range(300):
        feeds, truth = oracle.richer_house(rng, easy_first=easy_first)
        sure = sum(feed.known + (feed.unseen if feed.evidence == "old" else 0) for feed in feeds)
        loose = sum(feed.unseen for feed in feeds if feed.evidence in {"part", "new ends", "not traced"})
        assert len(feeds) == oracle.BENCH_FEEDS
        assert sure <= truth <= sure + loose
        for feed in feeds:
            assert (feed.evidence == "part") == (feed.opened_old + feed.opened_new > 0)
            assert feed.known <= feed.opened_old
            assert feed.evidence in {"part", "old"} or feed.known == 0
