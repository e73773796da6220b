"""Totals that a pencil can follow: the lines of every sum add up to it, whatever the prices, kits and caps."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.errors import FigureError
from sitegen.figure import Figure, Source, int_of
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.sums import Line, with_sum
from tests.built import HOUSES, offer
from tests.helpers import DEMO, sitegen

HOUSE = "juniper-court"
"""The house with the fewest points, where an offer is soonest worked out."""

KNOWN = "spindle-row"
"""The house in which a case is known already."""

Lines = list[tuple[str, int, int]]


@cache
def inputs(job: str = HOUSE) -> Inputs:
    """One demo house as it is read."""
    return load(DEMO, DEMO / job, Path.cwd())


def lines(figure: Figure | None) -> Lines:
    """What, how many and at how much each, line by line."""
    assert figure is not None
    return [(line.what, int_of(line.count), int_of(line.each)) for line in figure.sum]


def adds_up(figure: Figure) -> bool:
    """Whether each line is count times price, and all of them come to the figure."""
    return sum(count * each for _, count, each in lines(figure)) == int_of(figure) and all(
        int_of(line.amount) == int_of(line.count) * int_of(line.each) for line in figure.sum)


def option(made: Offer, key: str) -> OptionMoney:
    """The money of one option."""
    return next(one for one in made.outcome.options if one.key == key)


def with_kit(name: str, job: str = HOUSE, prices: dict[str, Any] | None = None, own: int | None = None,
             **more: Any) -> Offer:
    """A demo house with another kit and, if given, a price of its own for the option of that kit."""
    one = inputs(job)
    kit = one.book.kits[name]
    if prices:
        assert kit.prices
        more["prices"] = kit.prices.model_copy(update=prices)
    book = one.book.model_copy(update={"kits": {**one.book.kits, name: kit.model_copy(update=more)}})
    rows = [row.model_copy(update={"price": own, "because": "It is made for a test."})
            if own is not None and row.kit == name else row for row in one.job.options]
    return offer_from(replace(one, book=book, job=one.job.model_copy(update={"options": rows})))


@pytest.mark.parametrize("job", HOUSES)
def test_every_sum_that_is_listed_adds_up(job: str) -> None:
    """In `figures --json` the amounts of each sum add up to the value to the cent, and each is count times price."""
    done = sitegen("figures", job, "--json", "--home", str(DEMO), cwd=DEMO)
    assert done.returncode == 0, done.stderr
    summed = [figure for figure in json.loads(done.stdout) if "sum" in figure]
    for figure in summed:
        assert sum(line["amount"] for line in figure["sum"]) == figure["value"], figure["name"]
        assert all(line["amount"] == line["count"] * line["each"] for line in figure["sum"]), figure["name"]
        assert all(line["what"].strip() and line["amount"] for line in figure["sum"]), figure["name"]
    names = {figure["name"] for figure in summed}
    for one in offer(job).outcome.options:
        assert {f"options.{one.key}.price", f"options.{one.key}.ending.p50"} <= names
        assert one.most_paid is None or one.most_paid.name in names


def test_a_figure_whose_lines_do_not_add_up_is_refused() -> None:
    """A total never stands beside lines that come to something else."""
    total = Figure("made.total", 10_00, "cents", "Made.", Source("survey", "made for a test"))
    assert adds_up(with_sum(total, (Line("price", 2, 4_00), Line("permit", 1, 2_00))))
    with pytest.raises(FigureError, match=r"^made\.total: the lines of its sum do not add up to it$"):
        with_sum(total, (Line("price", 2, 4_00), Line("permit", 1, 1_99)))


money = st.integers(0, 900_00)


@settings(max_examples=8, phases=(Phase.explicit, Phase.generate))     # an offer takes a second: none is shrunk
@given(money.filter(bool), money, money, money, st.sampled_from(("in the price", "at a set price")),
       st.sampled_from((None, 0, 300_00, 5_000_00)), st.sampled_from((None, 400_00)), st.sampled_from((None, 9_001_00)))
def test_sums_add_up_whatever_the_prices_and_the_kit(point: int, place: int, alarm: int, each: int, how: str,
                                                     added_cap: int | None, case_cap: int | None,
                                                     own: int | None) -> None:
    """Price, most and middle of a list add up on any set prices, caps and prices of the job's own."""
    made = option(with_kit("item-2026", own=own, new_places=how, each_point=each, not_over_for_more=added_cap,
                           not_over_for_cases=case_cap,
                           prices={"list_point": point, "new_place": place, "alarm": alarm}), "per-item")
    assert made.most_paid is not None
    for figure in (made.price, made.most_paid, made.p50):
        assert adds_up(figure), figure.name
    if own is not None:
        assert int_of(made.price) == own


def test_a_price_of_the_jobs_own_has_a_line_for_the_difference() -> None:
    """What the job adds to the price from the books, or takes off, stands in one line with its reason."""
    plain = option(offer(HOUSE), "per-item").price
    for own in (int_of(plain) + 123_45, int_of(plain) - 123_45):
        price = option(with_kit("item-2026", own=own), "per-item").price
        assert lines(price) == [*lines(plain), ("own-price", 1, own - int_of(plain))]
        assert str(price.sum[-1].of) == "It is made for a test."
    same = option(with_kit("item-2026", own=int_of(plain)), "per-item").price
    assert lines(same) == lines(plain)


def test_a_price_of_its_own_for_every_point_never_tells_the_proposal() -> None:
    """What is proposed from the firm's costs stands in no line beside a price of the job's own."""
    made = option(with_kit("one-2026", own=12_345_00), "fixed-guarantee").price
    assert lines(made) == [("own-price", 1, 12_345_00)]


def test_what_passes_a_cap_is_taken_off_in_a_line() -> None:
    """A list that adds at most $300 shows what more comes to and, in one line, what is over the cap."""
    free = lines(option(offer(HOUSE), "per-item").most_paid)
    added = sum(count * each for what, count, each in free if what.startswith(("added", "blocked")))
    assert added > 300_00
    capped = lines(option(with_kit("item-2026", not_over_for_more=300_00), "per-item").most_paid)
    assert ("over-the-cap", 1, 300_00 - added) in capped
    assert [line for line in capped if line[0] != "over-the-cap"] == free


def test_the_most_of_a_price_for_every_point_is_the_price_and_its_cap() -> None:
    """One price and its cap on cases are two lines."""
    made = option(offer(HOUSE), "fixed-guarantee")
    cap = int_of(made.case_cap) if made.case_cap else 0
    assert cap
    assert lines(made.most_paid) == [("price", 1, int_of(made.price)), ("cap-on-cases", 1, cap)]


def test_a_case_that_is_known_stands_by_its_name_in_every_sum_to_come() -> None:
    """A gas-light pipe that was found is a line of the most and of the middle of each option, at its usual amount."""
    case = next(case for case in inputs(KNOWN).book.cases if case.key == "gas-pipe")
    for one in offer(KNOWN).outcome.options:
        figures = [one.p50] if one.covers_all else [one.p50, one.most_paid]
        for figure in figures:
            assert ("known-case", 1, case.usual) in lines(figure), one.key
            named = next(line for line in figure.sum if line.what == "known-case")
            assert str(named.of) == (case.called or case.what)
        assert not any(line.what == "known-case" for line in one.price.sum)


def test_a_cap_on_cases_holds_what_is_known() -> None:
    """With $100 at most for all cases, the known one is shown whole and what is over the cap taken off."""
    case = next(case for case in inputs(KNOWN).book.cases if case.key == "gas-pipe")
    most = lines(option(with_kit("item-2026", KNOWN, not_over_for_cases=100_00), "per-item").most_paid)
    assert ("known-case", 1, case.usual) in most
    assert ("over-the-cap", 1, 100_00 - case.usual) in most


def test_new_places_at_a_set_price_stand_beside_the_price_in_what_is_to_come() -> None:
    """They leave the price today, and come to the same total in the middle and at the most."""
    plain = option(offer(HOUSE), "per-item")
    made = option(with_kit("item-2026", new_places="at a set price"), "per-item")
    places = {what: count * each for what, count, each in lines(plain.price)}["new-places"]
    assert int_of(made.price) == int_of(plain.price) - places
    assert ("places-to-come", 1, places) in lines(made.p50)
    assert made.p50.value == plain.p50.value
