"""Bids of the reader's own: both readings of a blank, what a filled blank does, and when a bid can be compared."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.sheets import bids as on_the_sheet
from sitegen.trade.bids import ANSWERS, BLANKS, TOO_MANY, Bid, Span, Usual, further, in_order, work

HOUSE = Usual(14, (15, 21, 27), {"holes": 600_000, "floors": 90_050, "clean": 70_000, "permit": 18_500, "panel": None})
WHOLE = Bid(2_000_000, 20, 50_000, more=False, holes=True, floors=True, clean=True, permit=True, panel=True)
"""A bid that says everything and has everything but points."""

ANSWER = st.sampled_from([True, False, None])
CENTS = st.none() | st.integers(0, 9_999_999)
BIDS = st.builds(Bid, CENTS, st.none() | st.integers(0, 80), CENTS, *[ANSWER] * 7)
COSTS = st.none() | st.integers(0, 1_000_000)
HOUSES = st.builds(
    lambda listed, old, later: Usual(listed, (old[0], old[1], old[2]), later), st.integers(0, 40),
    st.lists(st.integers(0, 40), min_size=3, max_size=3).map(sorted),
    st.fixed_dictionaries(dict.fromkeys(ANSWERS, COSTS)))


def _within(inner: tuple[Span, ...], outer: tuple[Span, ...]) -> bool:
    return all(one.low >= other.low and one.high <= other.high for one, other in zip(inner, outer, strict=True))


def test_a_bid_that_says_all_is_its_total_and_its_further_points() -> None:
    """Worked by hand: 14 listed and 21 old need 35 points, the bid lists 20, so 15 more at $500 each."""
    worked = work(WHOLE, HOUSE)
    assert worked.missing == ()
    assert worked.unpriced == ()
    assert worked.spans == tuple(Span(sum_, sum_) for sum_ in (2_450_000, 2_750_000, 3_050_000))


def test_what_a_bid_leaves_out_is_bought_at_the_usual_cost() -> None:
    """Worked by hand: no holes, no floors, no cleaning and no permit add their four usual costs to every count."""
    worked = work(replace(WHOLE, holes=False, floors=False, clean=False, permit=False), HOUSE)
    assert worked.spans[1] == Span(2_750_000 + 778_550, 2_750_000 + 778_550)


def test_a_blank_is_worked_both_ways() -> None:
    """Worked by hand: a bid that does not say who closes the holes is a span as wide as closing them costs."""
    worked = work(replace(WHOLE, holes=None), HOUSE)
    assert worked.missing == ("holes",)
    assert worked.spans[1] == Span(2_750_000, 3_350_000)


@given(BIDS, HOUSES)
def test_the_span_of_blanks_is_from_the_one_reading_to_the_other(bid: Bid, house: Usual) -> None:
    """The span goes from all blanks in the bid to none in it, and holds every mixed reading between."""
    spans = work(bid, house).spans
    if not spans:
        return
    blanks = [key for key in BLANKS if bid.answer(key) is None]
    for answers in product((True, False), repeat=len(blanks)):
        filled = work(replace(bid, **dict(zip(blanks, answers, strict=True))), house).spans
        assert _within(filled, spans)
        assert all(span.low == span.high for span in filled)
        for reading, end in ((all(answers), "low"), (not any(answers), "high")):
            if reading:
                assert [getattr(span, end) for span in filled] == [getattr(span, end) for span in spans]


@given(BIDS, HOUSES, st.sampled_from(BLANKS), st.booleans())
def test_filling_a_blank_narrows(bid: Bid, house: Usual, key: str, answer: bool) -> None:
    """An answer where a blank was widens no span, makes nothing more missing, and undoes no comparison."""
    before, after = work(replace(bid, **{key: None}), house), work(replace(bid, **{key: answer}), house)
    assert set(after.missing) <= set(before.missing)
    if before.comparable:
        assert after.comparable
        assert _within(after.spans, before.spans)


@given(BIDS, HOUSES, st.integers(0, 80), st.integers(0, 9_999_999))
def test_filling_a_number_undoes_no_comparison(bid: Bid, house: Usual, points: int, cents: int) -> None:
    """A total, a count of points or a price where a blank was makes nothing more missing."""
    for key, value in (("total", cents), ("points", points), ("each_point", cents)):
        before, after = work(replace(bid, **{key: None}), house), work(replace(bid, **{key: value}), house)
        assert set(after.missing) <= set(before.missing), key
        assert after.comparable or not before.comparable, key


@given(BIDS, HOUSES, st.integers(0, 80), st.integers(0, 80))
def test_more_points_listed_never_raises(bid: Bid, house: Usual, one: int, other: int) -> None:
    """For the same money, a bid that lists more points ends no higher at any count."""
    few, many = (work(replace(bid, points=points), house).spans for points in sorted((one, other)))
    if few:
        assert len(many) == len(few)
        assert all(more.low <= less.low and more.high <= less.high for more, less in zip(many, few, strict=True))


@given(BIDS, HOUSES)
def test_more_old_points_never_lower(bid: Bid, house: Usual) -> None:
    """From fewer old points to more, neither end of the span falls."""
    spans = work(bid, house).spans
    assert [span.low for span in spans] == sorted(span.low for span in spans)
    assert [span.high for span in spans] == sorted(span.high for span in spans)


@pytest.mark.parametrize("key", ["total", "points", "each_point"])
def test_a_number_that_is_missing_has_no_second_reading(key: str) -> None:
    """A total, a count of points or a price for a further point is never filled in for a bidder."""
    worked = work(replace(WHOLE, **{key: None}), HOUSE)
    assert not worked.comparable
    assert worked.missing == (key,)


def test_points_do_not_matter_where_the_bidder_pays_for_more() -> None:
    """A bidder who pays for more old wiring is compared by the total, whatever is listed; so is one who lists all."""
    total = (Span(2_000_000, 2_000_000),) * 3
    assert work(replace(WHOLE, more=True, points=None, each_point=None), HOUSE).spans == total
    assert work(replace(WHOLE, points=41, each_point=None, more=None), HOUSE).spans == total
    assert work(replace(WHOLE, points=40, each_point=None), HOUSE).missing == ("each_point",)


def test_more_than_half_of_the_answers_blank_cannot_be_compared() -> None:
    """With TOO_MANY of the six answers blank a bid is compared; with one more it is not, and all are named."""
    assert len(BLANKS) == 2 * TOO_MANY
    some = replace(WHOLE, **dict.fromkeys(BLANKS[:TOO_MANY]))
    one_more = replace(some, **{BLANKS[TOO_MANY]: None})
    assert work(some, HOUSE).comparable
    assert not work(one_more, HOUSE).comparable
    assert work(one_more, HOUSE).missing == BLANKS[:TOO_MANY + 1]


def test_what_costs_nothing_here_is_not_missing() -> None:
    """An answer that no later cost of this house hangs on is not asked for before a bid is compared."""
    free = replace(HOUSE, later={**HOUSE.later, "floors": 0})
    assert work(replace(WHOLE, floors=None), free).missing == ()


def test_what_has_no_figure_is_named_and_not_guessed() -> None:
    """Where we have no usual cost, a bid without the thing is worked without it, and is never called the cheapest."""
    for answer in (False, None):
        worked = work(replace(WHOLE, panel=answer), HOUSE)
        assert worked.unpriced == ("panel",)
        assert worked.spans == work(WHOLE, HOUSE).spans
        assert not worked.cheapest((9_000_000,))
    assert work(WHOLE, HOUSE).cheapest((9_000_000,))


def test_a_good_rival_comes_first() -> None:
    """A bid that costs less in both readings stands before every option; one that costs more in both, behind."""
    options = {"a": 3_000_000, "b": 3_200_000}
    good = work(replace(WHOLE, total=1_500_000, holes=None, floors=None), HOUSE)
    assert good.cheapest((3_000_000, 3_200_000))
    bad = work(replace(WHOLE, total=2_600_000), HOUSE)
    unclear = work(Bid(1), HOUSE)
    assert in_order({"unclear": unclear, "bad": bad, "good": good}, options) == ["good", "a", "b", "bad", "unclear"]
    assert not bad.cheapest((3_000_000, 3_200_000))


@given(st.lists(BIDS, max_size=3), HOUSES, st.lists(st.integers(0, 9_999_999), min_size=1, max_size=3))
def test_the_cheapest_in_both_readings_always_comes_first(bids: list[Bid], house: Usual, middles: list[int]) -> None:
    """No option stands before a bid that is said to cost less than each of them."""
    worked = {f"bid {i}": work(bid, house) for i, bid in enumerate(bids)}
    order = in_order(worked, {f"option {i}": middle for i, middle in enumerate(middles)})
    for name, one in worked.items():
        if one.cheapest(tuple(middles)):
            assert not any(before.startswith("option") for before in order[:order.index(name)])


def test_a_tie_goes_to_the_bid() -> None:
    """A bid at the very total of an option stands before it, and is not said to cost less."""
    worked = work(replace(WHOLE, more=True), HOUSE)
    assert in_order({"bid": worked}, {"option": 2_000_000}) == ["bid", "option"]
    assert not worked.cheapest((2_000_000,))


def test_further_points_are_what_the_house_needs_beyond_the_bid() -> None:
    """Our list and the old points off it, less what the bid lists; never fewer than none."""
    assert [further(WHOLE, HOUSE, old) for old in (15, 21, 27)] == [9, 15, 21]
    assert further(replace(WHOLE, points=60), HOUSE, 27) == 0


def test_the_sheet_and_the_trade_ask_the_same() -> None:
    """The answers that the form asks for are those that the sum is worked with."""
    assert on_the_sheet.ANSWERS == ANSWERS
