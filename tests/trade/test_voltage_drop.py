"""Voltage drop: the sum, how far a gauge reaches, and the gauge for a branch circuit."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.rules import read
from sitegen.trade.voltage_drop import (
    BRANCH_GAUGES,
    ConductorRule,
    Strand,
    at_celsius,
    branch_gauge,
    drop,
    drop_by_k,
    longest_run,
    resistance,
    share_of,
    smallest_size,
)

QUIET = settings(max_examples=80, deadline=None, derandomize=True)
RULE = read.given(ConductorRule, "conductors")
lengths = st.integers(0, 300)
loads = st.integers(1, 300).map(lambda tenths: Fraction(tenths, 10))
ohms = st.integers(1, 500).map(lambda hundredths: Fraction(hundredths, 100))
strands: st.SearchStrategy[Strand] = st.sampled_from(["stranded", "solid"])


def test_a_run_in_a_house_worked_by_hand() -> None:
    """60 feet of 14 AWG at 10 A: 2 x 60 x 3.14 x 10 / 1000 = 3.768 V, or 3.14 % of 120."""
    lost = drop(60, 10, resistance("14", "stranded", RULE))
    assert lost == Fraction("3.768")
    assert share_of(lost, 120) == Fraction("0.0314")


def test_the_breaker_is_a_limit_and_the_drop_a_recommendation() -> None:
    """A near load takes what the breaker asks, a far one a thicker gauge, a very far one what no gauge here gives."""
    near, far, beyond = (branch_gauge(15, 12, feet, 120, RULE) for feet in (40, 60, 200))
    assert (near.required, near.recommended, near.gauge) == ("14", "14", "14")
    assert (far.required, far.recommended, far.gauge) == ("14", "12", "12")
    assert (beyond.required, beyond.recommended, beyond.gauge) == ("14", None, "10")
    assert far.share == far.drop / 120 <= RULE.branch_share < beyond.share
    assert branch_gauge(20, 1, 1, 120, RULE).required == "12"
    assert branch_gauge(30, 1, 1, 120, RULE).required == "10"


def test_a_drop_of_just_the_share_is_within_it() -> None:
    """With the recommended share set to what 14 AWG loses here, 14 AWG is recommended."""
    rule = replace(RULE, branch_share=share_of(drop(60, 12, RULE.stranded["14"]), 120))
    assert branch_gauge(15, 12, 60, 120, rule).recommended == "14"


def test_breakers_are_as_240_4_d_has_them() -> None:
    """A breaker between two sizes takes the thicker gauge; above 30 A none of the three will do."""
    assert branch_gauge(16, 0, 0, 120, RULE).required == "12"
    assert branch_gauge(25, 0, 0, 120, RULE).required == "10"
    with pytest.raises(ValueError, match="may have a breaker"):
        branch_gauge(31, 0, 0, 120, RULE)
    for load in (-1, 16):
        with pytest.raises(ValueError, match="does not carry"):
            branch_gauge(15, load, 10, 120, RULE)


def test_the_table_for_stranded_is_the_safer() -> None:
    """Where both tables have a gauge, stranded wire loses more; and each gauge less than the next thinner one."""
    assert set(RULE.solid) <= set(RULE.stranded)
    for gauge, solid in RULE.solid.items():
        assert solid < RULE.stranded[gauge]
    for table in (RULE.stranded, RULE.solid, RULE.alternating):
        values = list(table.values())
        assert values == sorted(values, reverse=True)


def test_what_is_from_memory_is_marked() -> None:
    """Solid wire, cross-sections, the growth with temperature and the notes on drop were not seen in print."""
    rules = read.every_rule()
    marked = {field for field in ConductorRule.__struct_fields__
              if rules[f"conductors-{field.replace('_', '-')}"].memory}
    assert marked == {"solid", "circular_mils", "base_celsius", "coefficient", "branch_share", "total_share"}


def test_resistance_at_the_tables_temperature_is_the_tables() -> None:
    """At 75 degrees nothing changes, warmer is more, and a line that would fall to nothing is refused."""
    assert at_celsius(2, 75, RULE) == 2
    assert at_celsius(2, 60, RULE) < 2 < at_celsius(2, 90, RULE)
    for value, celsius in ((2, -300), (0, 75)):
        with pytest.raises(ValueError, match="above 0"):
            at_celsius(value, celsius, RULE)


def test_impossible_circuits_are_refused() -> None:
    """Negative lengths, no resistance, no voltage, no gauge, no load: an error and not a number."""
    for feet, amperes, value in ((-1, 1, 1), (1, -1, 1), (1, 1, 0)):
        with pytest.raises(ValueError, match="below 0"):
            drop(feet, amperes, value)
    for mils, k in ((0, 1), (1, 0)):
        with pytest.raises(ValueError, match="cross-section"):
            drop_by_k(1, 1, mils, k)
    with pytest.raises(ValueError, match="voltage"):
        share_of(1, 0)
    with pytest.raises(ValueError, match="no resistance"):
        resistance("22", "stranded", RULE)
    with pytest.raises(ValueError, match="no resistance"):
        resistance("6", "solid", RULE)
    for amperes, share in ((0, 1), (1, 0)):
        with pytest.raises(ValueError, match="above 0"):
            longest_run(amperes, 1, 120, share)
    with pytest.raises(ValueError, match="no size"):
        smallest_size(401, {"4": 100, "400 kcmil": 400})


@QUIET
@given(lengths, st.integers(1, 100), loads, ohms)
def test_a_longer_run_never_loses_less(feet: int, more: int, amperes: Fraction, value: Fraction) -> None:
    """Nor does a larger load or a larger resistance."""
    lost = drop(feet, amperes, value)
    assert drop(feet + more, amperes, value) > lost
    assert drop(feet, amperes + more, value) >= lost
    assert drop(feet, amperes, value + more) >= lost


@QUIET
@given(loads, ohms, st.sampled_from([120, 240]), st.integers(1, 10))
def test_the_longest_run_is_the_longest(amperes: Fraction, value: Fraction, volts: int, percent: int) -> None:
    """At its end just this share is lost, and a foot further more."""
    share = Fraction(percent, 100)
    feet = longest_run(amperes, value, volts, share)
    assert share_of(drop(feet, amperes, value), volts) == share
    assert share_of(drop(feet + 1, amperes, value), volts) > share


@QUIET
@given(lengths, loads, st.sampled_from(sorted(RULE.circular_mils)))
def test_k_is_a_resistance_in_other_words(feet: int, amperes: Fraction, gauge: str) -> None:
    """The shorthand agrees with the table for stranded wire to 2 %."""
    table = drop(feet, amperes, RULE.stranded[gauge])
    short = drop_by_k(feet, amperes, RULE.circular_mils[gauge], RULE.k)
    assert abs(table - short) <= table / 50


@QUIET
@given(st.integers(1, 30), lengths, st.data(), strands)
def test_the_chosen_gauge_is_the_smallest_that_does(breaker: int, feet: int, data: st.DataObject,
                                                    strand: Strand) -> None:
    """No smaller gauge has both the breaker and the drop, and the choice never undercuts the breaker's."""
    amperes = data.draw(st.integers(0, breaker))
    found = branch_gauge(breaker, amperes, feet, 120, RULE, strand)

    def good(gauge: str) -> bool:
        lost = drop(feet, amperes, resistance(gauge, strand, RULE))
        return RULE.overcurrent[gauge] >= breaker and lost <= 120 * RULE.branch_share

    fit = [gauge for gauge in BRANCH_GAUGES if good(gauge)]
    assert found.recommended == (fit[0] if fit else None)
    assert found.gauge == (fit[0] if fit else BRANCH_GAUGES[-1])
    assert RULE.overcurrent[found.gauge] >= RULE.overcurrent[found.required] >= breaker


@QUIET
@given(st.integers(1, 400))
def test_the_smallest_size_is_the_smallest(amperes: int) -> None:
    """Of a table of ratings: it is enough, and no smaller rating is."""
    ratings = {"4": 100, "3": 110, "2": 125, "2/0": 200, "4/0": 250, "400 kcmil": 400}
    size = smallest_size(amperes, ratings)
    assert ratings[size] >= amperes
    assert all(rating < amperes for rating in ratings.values() if rating < ratings[size])
