"""Scenarios of the cases: against every joint toss, one by one, and at their limits."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from fractions import Fraction
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.trade import scenarios
from sitegen.trade.scenarios import cases_of, joint_payments, payer_of, sums_paid
from sitegen.trade.sizes import TooLarge
from sitegen.trade.terms import Case, House, Option, Spread, Walls
from tests.trade import oracle
from tests.trade.large_house import CASES, large_house

EXACT = 1e-12
QUIET = settings(max_examples=100, deadline=None, derandomize=True)

costs = st.lists(st.integers(0, 6), min_size=3, max_size=3).map(sorted)
chances = st.sampled_from([Fraction(0), Fraction(1, 10), Fraction(1, 3), Fraction(1)])
grids = st.sampled_from([1, 37, 100_00])
some_cases = st.builds(
    lambda rows, grid: tuple(Case(f"case-{i}", chance, Spread(*(grid * cost for cost in three)))
                             for i, (chance, three) in enumerate(rows)),
    st.lists(st.tuples(chances, costs), max_size=4), grids)
some_options = st.lists(st.tuples(st.frozensets(st.integers(0, 4)), st.none() | st.integers(0, 12), grids),
                     min_size=1, max_size=4).map(lambda rows: tuple(
    Option(f"option-{i}", 0, True, pays_cases=frozenset(f"case-{case}" for case in keys),
        case_cap=None if cap is None else cap * grid) for i, (keys, cap, grid) in enumerate(rows)))


def counted(cases: tuple[Case, ...], options: Iterable[Option]) -> dict[tuple[int, ...], Fraction]:
    """What the options pay, joint toss by joint toss, with exact chances."""
    found: dict[tuple[int, ...], Fraction] = defaultdict(Fraction)
    for chance, toss in oracle.case_tosses(cases):
        found[tuple(oracle.case_share(option, toss) for option in options)] += chance
    return dict(found)


def house_with(cases: tuple[Case, ...], options: tuple[Option, ...]) -> House:
    return House((), Walls(0, 0), Walls(0, 0), 0, Fraction(0), Fraction(0), 0, cases, (), options)


@given(cases=some_cases, options=some_options)
@QUIET
def test_what_an_option_pays_as_counted(cases: tuple[Case, ...], options: tuple[Option, ...]) -> None:
    """Each option pays, up to its cap, what every joint toss gives; equal sums stand once, in order."""
    for option in options:
        found, exact = sums_paid(cases, payer_of(cases, option)), counted(cases, [option])
        assert [(paid,) for paid in found.paid[0].tolist()] == sorted(exact)
        assert found.chance.tolist() == pytest.approx([float(exact[paid]) for paid in sorted(exact)], abs=EXACT, rel=0)


@given(cases=some_cases, options=some_options)
@QUIET
def test_what_options_pay_beyond_the_first_as_counted(cases: tuple[Case, ...], options: tuple[Option, ...]) -> None:
    """Whatever the caps, the payments beyond the first option's have the chances that every joint toss gives."""
    exact: dict[tuple[int, ...], float] = defaultdict(float)
    for paid, chance in counted(cases, options).items():
        exact[tuple(cents - paid[0] for cents in paid)] += float(chance)
    found = joint_payments(cases, [payer_of(cases, option) for option in options])
    rows = list(zip(*found.paid.tolist(), strict=True))
    assert len(rows) == len(set(rows)) == len(exact)
    assert dict(zip(rows, found.chance.tolist(), strict=True)) == pytest.approx(exact, abs=EXACT, rel=0)


def test_options_that_pay_alike_are_told_apart_by_no_scenario() -> None:
    """Where all options pay for the same cases one scenario is left, however many cases there are."""
    house = large_house()
    alike = [payer_of(house.cases, house.options[1])] * 3
    assert joint_payments(house.cases, alike).paid.tolist() == [[0], [0], [0]]


def test_a_cap_that_no_sum_can_pass_is_none() -> None:
    """Two ways of which one has a cap beyond all of its cases pay alike."""
    # By hand: 600 is the most of both cases together, and the other case cannot come.
    cases = (Case("a", Fraction(1, 2), Spread(100_00, 200_00, 400_00)), Case("b", Fraction(1), Spread(0, 0, 200_00)),
             Case("c", Fraction(0), Spread(900_00, 900_00, 900_00)))
    keys = frozenset("abc")
    payers = {cap: payer_of(cases, Option("w", 0, True, pays_cases=keys, case_cap=cap))
              for cap in (None, 600_00, 599_99)}
    assert payers[None] == payers[600_00] == (frozenset("ab"), None)
    assert payers[599_99] == (frozenset("ab"), 599_99)


@pytest.mark.parametrize(("step", "most"), [(50_00, 1_500), (10_00, 7_000)])
def test_twenty_cases_in_round_sums(step: int, most: int) -> None:
    """Twenty cases fall in 4 to the 20 ways and in a few thousand sums, whose mean is that of the cases."""
    # By hand: the mean is the sum of each case's chance times 0.3, 0.4 and 0.3 of its three costs.
    house = large_house(step)
    found = sums_paid(house.cases, payer_of(house.cases, house.options[1]))
    mean = sum(case.chance * (3 * case.cost.low + 4 * case.cost.usual + 3 * case.cost.high) / 10
               for case in house.cases)
    assert len(house.cases) == CASES
    assert len(found) == cases_of(house).scenarios <= most
    assert float(found.chance @ found.paid[0]) == pytest.approx(float(mean), rel=1e-12)
    assert float(found.chance.sum()) == pytest.approx(1, abs=EXACT)


def test_too_many_scenarios_are_refused_with_their_number() -> None:
    """Twenty cases in odd cents are refused, at the case that passes the line, by how many scenarios there are."""
    with pytest.raises(TooLarge, match=r"can fall in \d{3},\d{3} ways .* at most 262,144 are worked out"):
        cases_of(large_house(step=1))
    with patch.object(scenarios, "MOST_SCENARIOS", 9), pytest.raises(ValueError, match=r"in 16 ways .* at most 9 are"):
        cases_of(house_with((Case("a", Fraction(1, 2), Spread(1, 2, 3)), Case("b", Fraction(1, 2), Spread(4, 8, 12))),
                            (Option("w", 0, True, pays_cases=frozenset("ab")),)))


def test_no_option_and_no_case() -> None:
    """Without an option or a case one scenario is left, in which nothing is paid."""
    assert cases_of(house_with((), ())).joint.paid.shape == (0, 1)
    alone = cases_of(house_with((), (Option("w", 0, True),)))
    assert (alone.scenarios, alone.joint.paid.tolist(), alone.joint.chance.tolist()) == (1, [[0]], [1.0])
