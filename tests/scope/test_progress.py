"""How much work is done by each step: from the lines of the cost book, never more than is paid for in the end."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.job.books import Kit
from sitegen.job.load import load
from sitegen.offer.payments import work_done
from sitegen.scope.costs import CostLine
from sitegen.scope.progress import CLOSED, DEAD, END, parts_done, steps_of
from sitegen.survey.house import kit_of
from tests.helpers import DEMO, JOB

INPUTS = load(DEMO, DEMO / JOB, DEMO)
ONE, BARE = kit_of(INPUTS, "fixed-guarantee"), kit_of(INPUTS, "minimal-protection")
KEYS = ("list-points", "new-places", "drops", "circuits", "old-dead", "panel", "service", "alarms", "holes", "floors",
        "cleaning", "permit")
COSTS = st.lists(st.fractions(1, 900_000, max_denominator=8), min_size=len(KEYS), max_size=len(KEYS))


def lines(cents: dict[str, int]) -> tuple[CostLine, ...]:
    return tuple(CostLine(key, Fraction(1), Fraction(value)) for key, value in cents.items())


HAND = lines({"list-points": 4000, "drops": 1000, "panel": 1500, "old-dead": 500, "holes": 1500, "alarms": 500,
              "cleaning": 700, "floors": 300})


def test_an_empty_house_by_hand() -> None:
    """Of $100 are wiring before the plaster $30, drops $10, panel $15 and old wires $5, so 60 of 100 when these are
    dead; plaster is $15; devices, alarms, cleaning and the sheet are the last 25 of 100."""
    assert parts_done(HAND, ONE, Fraction(1, 4), lived_in=False) == {
        DEAD: Fraction(60, 100), CLOSED: Fraction(75, 100), END: Fraction(1)}


def test_a_house_that_is_lived_in_by_hand() -> None:
    """There the last hole is closed before the old wires go, at 70 of 100; $10 of devices and $5 of old wires are done
    when these are dead."""
    assert parts_done(HAND, ONE, Fraction(1, 4), lived_in=True) == {
        CLOSED: Fraction(70, 100), DEAD: Fraction(85, 100), END: Fraction(1)}


@given(COSTS, st.fractions(0, 1, max_denominator=8), st.sampled_from([ONE, BARE]), st.booleans(),
       st.integers(1, 10_000_000))
def test_work_done_rises_to_the_price_and_leaves_the_end_to_the_end(
        costs: list[Fraction], later: Fraction, one: Kit, lived_in: bool, price: int) -> None:
    """Nothing is done at the start and all at the end; cleaning, alarms and the sheet are never done before that."""
    made = tuple(CostLine(key, Fraction(1), cents) for key, cents in zip(KEYS, costs, strict=True))
    parts = parts_done(made, one, later, lived_in)
    assert tuple(parts) == steps_of(one.closes_holes == "us", lived_in)
    last = sum((line.cents for line in made if line.key in ("cleaning", "alarms", "floors")), Fraction(0))
    assert max(list(parts.values())[:-1]) <= 1 - last / sum((line.cents for line in made), Fraction(0))
    done = [step.done for step in work_done(price, parts)]
    assert (done[0], done[-1]) == (0, price)
    assert done == sorted(done)


def test_work_that_costs_nothing_has_no_parts() -> None:
    """No part of nothing is taken."""
    with pytest.raises(ValueError, match="costs nothing"):
        parts_done((), ONE, Fraction(1, 4), lived_in=False)
