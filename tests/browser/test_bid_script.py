"""The script that works bids on the page, run for real: both readings of a blank, and when a bid can be compared."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from playwright.sync_api import Browser, Page

from sitegen.sheets.site import SHARED_SCRIPT
from tests.browser import bid_rules
from tests.browser.bid_rules import ANSWERS, BLANKS, LOAD, TOO_MANY, Bid, Own, Spans, Usual, Worked, readings
from tests.browser.seen import opened
from tests.browser.test_bids import COMPARE, usual_of

HOUSE = Usual(14, (15, 21, 27), {
    "holes": (600_000, 600_000, 600_000), "floors": (90_050, 90_050, 90_050), "clean": (70_000, 70_000, 70_000),
    "permit": (18_500, 18_500, 18_500), "panel": None, "alarms": (0, 0, 0), "places": (0, 0, 0)})
WHOLE = Bid(2_000_000, 20, 50_000, more=False, holes=True, floors=True, clean=True, permit=True, panel=True,
            surprise=True)
"""A bid that says everything and has everything but points."""

QUIET = settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
ANSWER = st.sampled_from([True, False, None])
CENTS = st.none() | st.integers(0, 9_999_999)
BIDS = st.builds(Bid, CENTS, st.none() | st.integers(0, 80), CENTS, *[ANSWER] * 9, CENTS, CENTS, CENTS)
COSTS = st.none() | st.lists(st.integers(0, 1_000_000), min_size=3, max_size=3).map(lambda some: tuple(sorted(some)))
HOUSES = st.builds(
    lambda listed, old, later, feeds, blocked: Usual(listed, (old[0], old[1], old[2]), later, feeds, blocked),
    st.integers(0, 40), st.lists(st.integers(0, 40), min_size=3, max_size=3).map(sorted),
    st.fixed_dictionaries(dict.fromkeys(ANSWERS, COSTS)), st.just((2, 4, 6)), st.just((5, 9, 9)))

WORK = """text => { const [bids, usual] = JSON.parse(text);
  return JSON.stringify(bids.map(bid => engine.work(bid, usual))); }"""
"""As text both ways: value by value, thousands of bids would take many times as long to hand over."""

FURTHER = "([bid, usual]) => usual.old.map(old => engine.further(bid, usual, old))"
KEYS = Bid.__struct_fields__
READ = "() => [...document.querySelectorAll('[data-bids]')].map(engine.usual)"
SETS = """([sets, options]) => sets.map(set => {
  const all = Object.entries(set).map(([name, worked]) => ({ours: 0, name, ...worked}));
  const ours = options.map(([name, sum]) => ({ours: 1, name, spans: [0, 1, 2].map(() => ({low: sum, high: sum}))}));
  return {order: engine.inOrder([...all, ...ours]).map(one => one.name),
          cheapest: all.map(one => engine.cheapest(one, options.map(option => option[1])))};
})"""

Work = Callable[..., list[Worked]]


@pytest.fixture(scope="module")
def page(browser: Browser, demo_site: Path) -> Iterator[Page]:
    """The built sheet, with what its script works bids with."""
    with opened(browser, demo_site / COMPARE, 390, once=True) as seen:
        seen.page.evaluate(LOAD, (demo_site / SHARED_SCRIPT).read_text("utf-8"))
        yield seen.page


@pytest.fixture(scope="module")
def work(page: Page) -> Work:
    """Bids of one house, as the script of the page works them."""
    def worked(*bids: Bid, house: Usual = HOUSE) -> list[Worked]:
        found = page.evaluate(WORK, json.dumps([[plain(bid) for bid in bids], for_script(house)]))
        return [Worked(tuple(one["missing"]), spans(one["spans"]), tuple(one["unpriced"])) for one in json.loads(found)]
    return worked


def plain(bid: Bid) -> dict[str, Any]:
    """A bid by the names of the script."""
    return {key: getattr(bid, key) for key in KEYS}


def for_script(house: Usual) -> dict[str, Any]:
    """A house as the script reads one from the page: an answer without a figure is not there."""
    return {"listed": house.listed, "old": list(house.old), "feeds": list(house.feeds), "blocked": list(house.blocked),
            "later": {key: list(cost) for key, cost in house.later.items() if cost is not None},
            "ours": [{"name": own.name, "ending": list(own.ending), "bid": plain(own.bid)} for own in house.ours]}


def without_lead(house: dict[str, Any]) -> dict[str, Any]:
    """A house without what moves no sum of our own options."""
    for own in house["ours"]:
        own["bid"].pop("lead", None)
    return house


def spans(found: list[dict[str, int]]) -> Spans:
    """Spans of the script."""
    return tuple((one["low"], one["high"]) for one in found)


def ranked(page: Page, bids: dict[str, Worked], options: dict[str, int]) -> tuple[list[str], dict[str, bool]]:
    """The order of bids and options by the script, and which bids it says cost less than every option."""
    plain = {name: {"missing": one.missing, "unpriced": one.unpriced,
                    "spans": [{"low": low, "high": high} for low, high in one.spans]} for name, one in bids.items()}
    found = page.evaluate(SETS, [[plain], list(options.items())])[0]
    return found["order"], dict(zip(bids, found["cheapest"], strict=True))


def within(inner: Spans, outer: Spans) -> bool:
    """Whether each span lies within its fellow."""
    return all(one[0] >= other[0] and one[1] <= other[1] for one, other in zip(inner, outer, strict=True))


def grid() -> list[Bid]:
    """Every mix of blanks with a few sums and counts."""
    answer = (True, False, None)
    return [Bid(total, points, each, more, *answers, True, True, surprise, circuit, drop, cap)
            for total, points, each, more in product((None, 1_480_050), (None, 0, 19, 60), (None, 68_555), answer)
            for answers in product(answer, (True, False), (True, None), (True,), (True, None))
            for surprise, circuit, drop, cap in ((True, None, 9_900, None), (False, 55_555, None, 640_000),
                                                 (None, 70_000, 15_050, None), (False, None, 0, 0))]


def test_the_script_keeps_the_rules_to_the_cent(page: Page, work: Work) -> None:
    """The script gives every bid of the grid the spans, blanks, order and praise that the rules give."""
    bids, (usual, options) = grid(), usual_of()
    assert len(bids) >= 500
    assert [without_lead(one) for one in page.evaluate(READ)] == [without_lead(for_script(usual))]
    houses = (usual, replace(usual, old=(0, 0, 2), later=dict.fromkeys(ANSWERS)),
              replace(usual, listed=0, later={**usual.later, "floors": (0, 0, 0), "panel": None}))
    for house in houses:
        expected = [bid_rules.work(bid, house) for bid in bids]
        found = work(*bids, house=house)
        assert [(bid, one, other) for bid, one, other in zip(bids, found, expected, strict=True) if one != other] == []
        assert sum(bool(one.spans) for one in found) >= 500
    worked = [bid_rules.work(bid, usual) for bid in bids]
    for at in range(0, len(bids), 97):
        three = dict.fromkeys((at, (at * 7 + 5) % len(bids), (at * 31 + 11) % len(bids)))
        each = {f"bid {i}": worked[i] for i in three}
        order, cheapest = ranked(page, each, options)
        assert order == bid_rules.in_order(each, options)
        assert cheapest == {name: one.cheapest(tuple(options.values())) for name, one in each.items()}


def test_a_bid_that_says_all_is_its_total_and_its_further_points(work: Work) -> None:
    """Worked by hand: 14 listed and 21 old need 35 points, the bid lists 20, so 15 more at $500 each."""
    worked, = work(WHOLE)
    assert worked.missing == ()
    assert worked.unpriced == ()
    assert worked.spans == tuple((sum_, sum_) for sum_ in (2_450_000, 2_750_000, 3_050_000))


def test_what_a_bid_leaves_out_is_bought_at_the_usual_cost(work: Work) -> None:
    """Worked by hand: no holes, no floors, no cleaning and no permit add their four usual costs to every count."""
    worked, = work(replace(WHOLE, holes=False, floors=False, clean=False, permit=False))
    assert worked.spans[1] == (2_750_000 + 778_550, 2_750_000 + 778_550)


def test_a_blank_is_worked_both_ways(work: Work) -> None:
    """Worked by hand: a bid that does not say who closes the holes is a span as wide as closing them costs."""
    worked, = work(replace(WHOLE, holes=None))
    assert worked.missing == ("holes",)
    assert worked.spans[1] == (2_750_000, 3_350_000)


@QUIET
@given(BIDS, HOUSES)
def test_the_span_of_blanks_is_from_the_one_reading_to_the_other(work: Work, bid: Bid, house: Usual) -> None:
    """The span goes from all blanks in the bid to none in it, and holds every mixed reading between."""
    worked, *filled = work(bid, *readings(bid), house=house)
    if not worked.spans:
        return
    for one in filled:
        assert within(one.spans, worked.spans)
        assert all(low == high for low, high in one.spans)
    for at, (low, high) in enumerate(worked.spans):
        assert (low, high) == (min(one.spans[at][0] for one in filled), max(one.spans[at][1] for one in filled))


@QUIET
@given(BIDS, HOUSES, st.sampled_from(BLANKS), st.booleans())
def test_filling_a_blank_narrows(work: Work, bid: Bid, house: Usual, key: str, answer: bool) -> None:
    """An answer where a blank was widens no span, makes nothing more missing, and undoes no comparison."""
    before, after = work(replace(bid, **{key: None}), replace(bid, **{key: answer}), house=house)
    assert set(after.missing) <= set(before.missing)
    if before.spans:
        assert after.spans
        assert within(after.spans, before.spans)


@QUIET
@given(BIDS, HOUSES, st.integers(0, 80), st.integers(0, 9_999_999))
def test_filling_a_number_undoes_no_comparison(work: Work, bid: Bid, house: Usual, points: int, cents: int) -> None:
    """A total, a count of points or a price where a blank was makes nothing more missing."""
    for key, value in (("total", cents), ("points", points), ("each", cents)):
        before, after = work(replace(bid, **{key: None}), replace(bid, **{key: value}), house=house)
        assert set(after.missing) <= set(before.missing), key
        assert after.spans or not before.spans, key


@QUIET
@given(BIDS, HOUSES, st.integers(0, 80), st.integers(0, 80))
def test_more_points_listed_never_raises(work: Work, bid: Bid, house: Usual, one: int, other: int) -> None:
    """For the same money, a bid that lists more points ends no higher at any count."""
    few, many = work(*(replace(bid, points=points) for points in sorted((one, other))), house=house)
    if few.spans:
        assert len(many.spans) == len(few.spans)
        assert all(more[0] <= less[0] and more[1] <= less[1] for more, less in zip(many.spans, few.spans, strict=True))


@QUIET
@given(BIDS, HOUSES)
def test_more_old_points_never_lower(work: Work, bid: Bid, house: Usual) -> None:
    """From fewer old points to more, neither end of the span falls."""
    worked, = work(bid, house=house)
    assert [low for low, _ in worked.spans] == sorted(low for low, _ in worked.spans)
    assert [high for _, high in worked.spans] == sorted(high for _, high in worked.spans)


@pytest.mark.parametrize("key", ["total", "points", "each"])
def test_a_number_that_is_missing_has_no_second_reading(work: Work, key: str) -> None:
    """A total, a count of points or a price for a further point is never filled in for a bidder."""
    worked, = work(replace(WHOLE, **{key: None}))
    assert not worked.spans
    assert worked.missing == (key,)


def test_points_do_not_matter_where_the_bidder_pays_for_more(work: Work) -> None:
    """A bidder who pays for more old wiring is compared by the total, whatever is listed; so is one who lists all."""
    pays, lists, short = work(replace(WHOLE, more=True, points=None, each=None),
                              replace(WHOLE, points=41, each=None, more=None), replace(WHOLE, points=40, each=None))
    assert pays.spans == lists.spans == ((2_000_000, 2_000_000),) * 3
    assert short.missing == ("each",)


def test_more_than_half_of_the_answers_blank_cannot_be_compared(page: Page, work: Work) -> None:
    """With four of the nine answers blank a bid is compared; with one more it is not, and all are named."""
    assert len(BLANKS) == 2 * TOO_MANY + 1
    assert page.evaluate("() => engine.tooMany") == TOO_MANY
    some = replace(WHOLE, **dict.fromkeys(BLANKS[:TOO_MANY]))
    compared, not_yet = work(some, replace(some, **{BLANKS[TOO_MANY]: None}))
    assert compared.spans
    assert not not_yet.spans
    assert not_yet.missing == BLANKS[:TOO_MANY + 1]


def test_what_costs_nothing_here_is_not_missing(work: Work) -> None:
    """An answer that no later cost of this house hangs on is not asked for before a bid is compared."""
    free = replace(HOUSE, later={**HOUSE.later, "floors": (0, 0, 0)})
    assert work(replace(WHOLE, floors=None), house=free)[0].missing == ()


def test_what_has_no_figure_is_named_and_not_guessed(page: Page, work: Work) -> None:
    """Where we have no usual cost, a bid without the thing is worked without it, and is never called the cheapest."""
    whole, *without = work(WHOLE, *(replace(WHOLE, panel=answer) for answer in (False, None)))
    for worked in without:
        assert worked.unpriced == ("panel",)
        assert worked.spans == whole.spans
    _, cheapest = ranked(page, {"whole": whole, "no": without[0], "blank": without[1]}, {"option": 9_000_000})
    assert cheapest == {"whole": True, "no": False, "blank": False}


def test_a_circuit_or_a_bay_without_a_price_adds_nothing_and_is_named(work: Work) -> None:
    """Worked by hand: 15 more points of 21 need three of four circuits; seven bays stand beside them at the bid's own
    price, and a cap holds all of it."""
    house = replace(HOUSE, feeds=(3, 4, 5), blocked=(6, 7, 8))
    blank, priced, capped = work(WHOLE, replace(WHOLE, circuit=60_000, drop=10_000),
                                 replace(WHOLE, circuit=60_000, drop=10_000, cap=500_000), house=house)
    assert blank.unpriced == ("circuit", "drop")
    assert blank.spans[1] == (2_750_000, 2_750_000)
    assert priced.unpriced == ()
    assert priced.spans[1] == (2_750_000 + 3 * 60_000 + 7 * 10_000,) * 2
    assert capped.spans[1] == (2_500_000, 2_500_000)


def test_what_loads_our_totals_loads_a_bid(work: Work) -> None:
    """Worked by hand: surprises add $1,700 to our list in the middle, so they add as much to a bid that leaves them to
    the reader; a bidder who pays for them has none of it, and a blank goes from the one to the other."""
    own = Own("List", replace(WHOLE, total=1_000_000, points=14, each=40_000, surprise=False),
              (1_650_000, 2_010_000, 2_400_000))
    house = replace(HOUSE, ours=(own,))
    assert own.ending[1] == 1_000_000 + 21 * 40_000 + 170_000
    theirs, yours, blank = work(WHOLE, replace(WHOLE, surprise=False), replace(WHOLE, surprise=None), house=house)
    assert theirs.spans[1] == (2_750_000, 2_750_000)
    assert yours.spans[1] == (2_920_000, 2_920_000)
    assert blank.spans[1] == (2_750_000, 2_920_000)
    assert blank.missing == ("surprise",)


def test_a_good_rival_comes_first(page: Page, work: Work) -> None:
    """A bid that costs less in both readings stands before every option; one that costs more in both, behind."""
    good, bad, unclear = work(replace(WHOLE, total=1_500_000, holes=None, floors=None),
                              replace(WHOLE, total=2_600_000), Bid(1))
    order, cheapest = ranked(page, {"unclear": unclear, "bad": bad, "good": good}, {"a": 3_000_000, "b": 3_200_000})
    assert order == ["good", "a", "b", "bad", "unclear"]
    assert cheapest == {"unclear": False, "bad": False, "good": True}


@QUIET
@given(st.lists(BIDS, max_size=3), HOUSES, st.lists(st.integers(0, 9_999_999), min_size=1, max_size=3))
def test_the_cheapest_in_both_readings_always_comes_first(page: Page, work: Work, bids: list[Bid], house: Usual,
                                                          middles: list[int]) -> None:
    """No option stands before a bid that is said to cost less than each of them."""
    worked = {f"bid {i}": one for i, one in enumerate(work(*bids, house=house))}
    order, cheapest = ranked(page, worked, {f"option {i}": middle for i, middle in enumerate(middles)})
    for name, praised in cheapest.items():
        if praised:
            assert not any(before.startswith("option") for before in order[:order.index(name)])


def test_a_tie_goes_to_the_bid(page: Page, work: Work) -> None:
    """A bid at the very total of an option stands before it, and is not said to cost less."""
    worked, = work(replace(WHOLE, more=True))
    assert ranked(page, {"bid": worked}, {"option": 2_000_000}) == (["bid", "option"], {"bid": False})


def test_further_points_are_what_the_house_needs_beyond_the_bid(page: Page) -> None:
    """Our list and the old points off it, less what the bid lists; never fewer than none."""
    beyond = [page.evaluate(FURTHER, [plain(bid), for_script(HOUSE)]) for bid in (WHOLE, replace(WHOLE, points=60))]
    assert beyond == [[9, 15, 21], [0, 0, 0]]


def test_the_sheet_and_the_script_ask_the_same(page: Page) -> None:
    """The answers that the form asks for are those that the sum is worked with."""
    assert page.evaluate("() => engine.answers") == list(ANSWERS)
