"""Two prices of a hole: what a plasterer elsewhere asks and what we ask, for every option that leaves holes open."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from sitegen.build import context_of, offer_of
from sitegen.figure import int_of
from sitegen.job.load import load
from sitegen.offer.claims import holds
from sitegen.offer.offer import Offer
from sitegen.survey.rule_sets import rule_set
from sitegen.trade.blocked import openings
from sitegen.trade.rounding import half_up
from sitegen.workspace import Workspace
from tests.built import HOUSES, offer
from tests.helpers import DEMO, JOB, demo_copy, edit

PLASTER = "plaster-finish"


def changed(tmp_path: Path, *edits: tuple[str, str]) -> Offer:
    """The offer of the first demo house with its price book edited."""
    home = demo_copy(tmp_path)
    for old, new in edits:
        edit(home / "price-book.yaml", old, new)
    return offer_of(Workspace(home, tmp_path / "site"), home / JOB)


@pytest.mark.parametrize("job", HOUSES)
def test_holes_of_the_list_are_one_number_in_rows_and_in_sums(job: str) -> None:
    """What a plasterer elsewhere is counted with for the list is what its rooms add up to, on every sheet."""
    inputs = load(DEMO, DEMO / job, DEMO)
    house = context_of(inputs, rule_set(inputs.town.code)).house
    for option in offer(job).outcome.options:
        if not option.covers_all:
            assert openings(house, 0) == int_of(option.holes)


@pytest.mark.parametrize("job", HOUSES)
def test_every_option_that_leaves_holes_has_both_prices(job: str) -> None:
    """What we ask a hole is our price to close the holes of the list by their count, to a dollar; what a plasterer
    asks is that of the price book.  An option that closes its holes has neither."""
    made = offer(job)
    assert {one.option for one in made.closing} == {
        key for key, terms in made.terms.items() if terms.closes_holes == "homeowner"}
    for one in made.closing:
        close = made.protection.options[one.option].to_close
        holes = int_of(next(option.holes for option in made.outcome.options if option.key == one.option))
        assert close is not None
        assert abs(Fraction(int_of(close), holes) - int_of(one.ours)) <= 50
        assert int_of(one.ours) % 100 == 0
        assert (one.later, int_of(one.elsewhere)) == (PLASTER, 155_00)


@pytest.mark.parametrize("job", HOUSES)
def test_at_every_count_both_are_asked_for_as_many_holes(job: str) -> None:
    """At each count of old points we close as many holes as the plasterer elsewhere is counted with, at what a hole of
    the list comes to by its bands, and never for less than our minimum (invented prices)."""
    made, bands = offer(job), (28_00, 95_00, 240_00, 165_00)
    for one in made.closing:
        step = next(step for step in made.outcome.steps.options if step.key == one.option)
        bought = next(item for item in step.later if item.key == one.later)
        counts = [int_of(patches) for patches in made.protection.options[one.option].patches]
        each = Fraction(sum(count * price for count, price in zip(counts, bands, strict=True)), sum(counts))
        assert set(one.ours_at) == set(bought.usual) == set(made.outcome.steps.can_be)
        for points, figure in one.ours_at.items():
            holes = Fraction(int_of(bought.usual[points]), 155_00)
            assert holes.denominator == 1
            assert int_of(figure) == max(480_00, half_up(each * holes))
            assert figure.name == f"steps.{one.option}.closing.p{points}"


def test_the_first_house_by_hand() -> None:
    """All 34 holes of its list, room by room, are filled by hand at $95: so we ask $95 a hole, and $3,040 for 32."""
    one, = offer(JOB).closing
    assert int_of(one.ours) == 95_00
    # The list opens 34 holes, counted room by room; 10 more points at 3/4 of an opening each make 7 1/2, so 8 more.
    assert (int_of(one.ours_at[0]), int_of(one.ours_at[10])) == (34 * 95_00, 42 * 95_00)


def test_the_middle_with_our_price_by_hand() -> None:
    """At the middle count of 17 off the list, 34 holes and three quarters of 17, 12.75, make 47: at $95 in the place of
    $155 each the middle total is $2,820 lower."""
    made = offer(JOB)
    one, = made.closing
    option = next(option for option in made.outcome.options if option.key == one.option)
    assert int_of(made.outcome.hidden.p50) == 17
    assert one.middle is not None
    assert int_of(option.p50) - int_of(one.middle) == 47 * (155_00 - 95_00)


def test_no_option_is_praised_for_a_total_that_our_own_price_to_close_holes_undercuts(tmp_path: Path) -> None:
    """With us closing them the list that leaves its holes ends lowest in the middle, so it alone is said to cost least,
    and nobody is said to be cheapest more often than not; with our price above the plasterer's it is not so."""
    made, dear = offer(JOB), changed(tmp_path, ("hand: $95", "hand: $195"))
    options = [option.key for option in made.outcome.options]
    assert [key for key in options if holds(made, key, "lowest-middle-we-close")] == ["minimal-protection"]
    assert not any(holds(made, key, claim) for key in options for claim in ("lowest-middle", "cheapest-most"))
    assert [one.middle for one in dear.closing] == [None]
    assert [key for key in options if holds(dear, key, "lowest-middle-we-close")] == []
    assert [key for key in options if holds(dear, key, "lowest-middle")] == ["per-item"]


def test_a_minimum_is_asked_whole_however_few_the_holes(tmp_path: Path) -> None:
    """With a least of $9,000 for coming out, 34 holes come to $265 each, and no count comes to less than $9,000."""
    one, = changed(tmp_path, ("minimum: $480", "minimum: $9,000")).closing
    assert int_of(one.ours) == 265_00
    assert {int_of(figure) for figure in one.ours_at.values()} == {9_000_00}


def test_a_price_for_the_house_is_no_price_of_a_hole(tmp_path: Path) -> None:
    """Where the plasterer asks one sum for the house, there are no two prices of a hole to set side by side."""
    made = changed(tmp_path, ("called: plaster finish\n    per: opening", "called: plaster finish\n    per: house"))
    assert made.closing == ()
