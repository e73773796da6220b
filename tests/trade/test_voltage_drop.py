"""Voltage drop: the sum, and the gauge for a branch circuit."""

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
    branch_gauge,
    drop,
    resistance,
    share_of,
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
    for table in (RULE.stranded, RULE.solid):
        values = list(table.values())
        assert values == sorted(values, reverse=True)


def test_what_is_from_memory_is_marked() -> None:
    """Solid wire and the note on drop were not seen in print."""
    rules = read.every_rule()
    marked = {field for field in ConductorRule.__struct_fields__
              if rules[f"conductors-{field.replace('_', '-')}"].memory}
    assert marked == {"solid", "branch_share"}


def test_impossible_circuits_are_refused() -> None:
    """Negative lengths, no resistance, no voltage, no gauge, no load: an error and not a number."""
    for feet, amperes, value in ((-1, 1, 1), (1, -1, 1), (1, 1, 0)):
        with pytest.raises(ValueError, match="below 0"):
            drop(feet, amperes, value)
    with pytest.raises(ValueError, match="voltage"):
        share_of(1, 0)
    with pytest.raises(ValueError, match="no resistance"):
        resistance("22", "stranded", RULE)
    with pytest.raises(ValueError, match="no resistance"):
        resistance("6", "solid", RULE)


@QUIET
@given(lengths, st.integers(1, 100), loads, ohms)
def test_a_longer_run_never_loses_less(feet: int, more: int, amperes: Fraction, value: Fraction) -> None:
    """Nor does a larger load or a larger resistance."""
    lost = drop(feet, amperes, value)
    assert drop(feet + more, amperes, value) > lost
    assert drop(feet, amperes + more, value) >= lost
    assert drop(feet, amperes, value + more) >= lost


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
