"""Worked example 4 of the hidden-wiring model, invented prices, read from files and worked out to the end."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.survey.house import belief_of
from sitegen.trade.blocked import kinds_of
from sitegen.trade.break_even import known_today
from sitegen.trade.endings import work_out_under
from sitegen.trade.feeds import hidden_points, points_alone, quantile
from sitegen.trade.terms import House
from sitegen.trade.worked import Comparison, Worked
from tests.helpers import house_in
from tests.trade import examples

HOME = Path(__file__).parents[1] / "example_house"
DOLLAR = 100
TO_THE_CENT = {
    examples.PER_ITEM: (32_335_91, 36_988_30, 41_664_61),
    examples.WIRING_ONLY: (32_179_25, 37_868_30, 44_680_98),
}


def as_published(inputs: Inputs) -> House:
    """The house of the files with its holes rounded over the house at once, as the example has them; what we show is
    rounded up in each room, so that the holes of a list are one number wherever they are counted."""
    return replace(house_in(inputs), list_openings=None)


@pytest.fixture(scope="module")
def inputs() -> Inputs:
    return load(HOME, HOME / "quill-street", HOME)


@pytest.fixture(scope="module")
def worked(inputs: Inputs) -> Worked:
    house, belief = as_published(inputs), belief_of(inputs.company)
    return work_out_under(house, {"judged": hidden_points(house.feeds, belief.feeds)}, kinds_of(house, belief))


@pytest.fixture(scope="module")
def comparison(worked: Worked) -> Comparison:
    return worked.comparisons["judged"]


def test_the_files_give_the_house_of_the_example(inputs: Inputs) -> None:
    """A survey shares out its counts among the feeds exactly as the example counts them by hand."""
    house = as_published(inputs)
    by_key = {option.key: option for option in house.options}
    later = {item.key: (item.per, item.price) for item in house.later}
    published = {item.key.replace(" ", "-"): (item.per, item.price) for item in examples.EXAMPLE_4_LATER}
    assert replace(house, options=(), later=()) == replace(examples.EXAMPLE_4_HOUSE, options=(), later=())
    assert later == published
    for option in examples.EXAMPLE_4_OPTIONS:
        assert by_key[option.key] == replace(option, later=frozenset(key.replace(" ", "-") for key in option.later))


def test_the_company_card_gives_the_belief_of_the_example(inputs: Inputs) -> None:
    """The whole judgement of what is hidden stands on the company's card."""
    assert belief_of(inputs.company) == examples.EXAMPLE_4_BELIEF


def test_drops_floor_and_tracing(inputs: Inputs) -> None:
    """Drops are rounded once, the bare floor is what the survey measured, and tracing is a visit and each feed not
    settled."""
    house = as_published(inputs)
    assert house_in(inputs).list_openings == 3 + 5 + 3 + 5 + 2 + 3 + 3 + 3
    assert (house.list_drops, house.openings_a_drop, house.tracing) == (33, Fraction(3, 4), 1_210 * DOLLAR)
    assert {option.floor_area for option in house.options} == {537}


def test_points_of_the_house(inputs: Inputs) -> None:
    """The example has 14 rooms, 68 points, 20 of them listed, and 14 new places."""
    rooms = inputs.job.rooms
    now, listed, want = (sum(sum(getattr(room, line).values()) for room in rooms)
                         for line in ("now", "listed", "want"))
    assert (len(rooms), now, listed, want - now) == (14, 68, 20, 14)


def test_hidden_points(inputs: Inputs) -> None:
    """Old points off the list run from those known today to every one that could be old."""
    house = as_published(inputs)
    alone = points_alone(hidden_points(house.feeds, belief_of(inputs.company).feeds))
    assert tuple(quantile(alone, float(mark)) for mark in examples.MARKS) == examples.EXAMPLE_4_HIDDEN_MARKS
    assert (min(alone), max(alone)) == examples.EXAMPLE_4_HIDDEN_ENDS
    assert known_today(house.feeds)[0] == examples.EXAMPLE_4_HIDDEN_ENDS[0]


def test_one_price_moves_with_the_cases_alone(worked: Worked) -> None:
    """One price ends at its price unless a case comes, and never above its cap on cases."""
    ending = worked.endings[examples.ONE_PRICE]
    assert ending.total == examples.EXAMPLE_4_MARKS[examples.ONE_PRICE]
    assert ending.most == examples.EXAMPLE_4_MOST[examples.ONE_PRICE]


@pytest.mark.parametrize("option", [examples.PER_ITEM, examples.WIRING_ONLY])
def test_marks_of_the_lists(worked: Worked, option: str) -> None:
    """P10, P50 and P90 to the same finish are exact to the cent, and round to what is printed."""
    marks = worked.percentiles["judged"][option]
    assert marks == TO_THE_CENT[option]
    assert all(abs(mark - printed) <= DOLLAR // 2
               for mark, printed in zip(marks, examples.EXAMPLE_4_MARKS[option], strict=True))


def test_how_often_each_option_is_cheapest(comparison: Comparison) -> None:
    """All options stand on one hidden house, so exactly one of them is the cheapest at every place."""
    assert sum(comparison.cheapest.values()) == pytest.approx(1, abs=1e-9)
    assert comparison.cheapest == pytest.approx(examples.EXAMPLE_4_CHEAPEST, abs=6e-4)


def test_how_often_one_option_ends_above_another(comparison: Comparison) -> None:
    """An option is above another where its total is strictly higher on the same house."""
    for pair, chance in examples.EXAMPLE_4_ABOVE.items():
        assert comparison.above[pair] == pytest.approx(chance, abs=6e-4)


@pytest.mark.parametrize("factor", [examples.HALF_AS_MANY, examples.TWICE_AS_MANY])
def test_half_and_twice_as_many_old_feeds(inputs: Inputs, factor: Fraction) -> None:
    """Another belief on the same house ends at the published marks."""
    house, belief = as_published(inputs), belief_of(inputs.company)
    view = {"other": hidden_points(house.feeds, belief.feeds.times(factor))}
    worked = work_out_under(house, view, kinds_of(house, belief))
    above = worked.comparisons["other"].above[examples.PER_ITEM, examples.ONE_PRICE]
    assert above == pytest.approx(examples.EXAMPLE_4_PER_ITEM_ABOVE_ONE_PRICE[factor], abs=6e-4)
    assert all(abs(mark - printed) <= DOLLAR // 2 for mark, printed in
               zip(worked.endings[examples.PER_ITEM].total, examples.EXAMPLE_4_PER_ITEM_MARKS[factor], strict=True))
