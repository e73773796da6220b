"""The load of several dwellings on one service: never less than the larger, never more than the sum by itself."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from sitegen.rules.read import given
from sitegen.trade.load_parts import Dwelling, Load, LoadRule, rating
from sitegen.trade.service_load import standard
from sitegen.trade.two_family import by_share, together

R17, R23 = (given(LoadRule, "load", edition) for edition in ("2017", "2023"))
RANGE, HEATER = Load("range", 9000, "range"), Load("heater", 4500, "water heater")
HEAT = Load("heat", 8000, "central heat")
loads_ = st.lists(st.builds(Load, st.just("load"), st.integers(500, 9000), st.sampled_from(
    ("fixed appliance", "water heater", "dryer", "cooling", "room heat", "boiler", "dishwasher"))), max_size=6)
dwellings_ = st.builds(lambda area, loads: Dwelling(area, tuple(loads)), st.integers(300, 3000), loads_)


@settings(max_examples=60)
@forall(dwellings_, dwellings_, st.integers(0, 800), loads_)
def test_a_second_dwelling_never_owes_less(one: Dwelling, other: Dwelling, stairs: int, shared: list[Load]) -> None:
    """Four appliances in all may count at 75 percent (220.53), which is the most that the sum can fall."""
    both = together(R23, (one, other), one.area + other.area + stairs, shared).total
    assert both >= max(standard(R23, one).total, standard(R23, other).total) * R23.fixed_share
    assert both <= standard(R23, one).total + standard(R23, other).total + stairs * R23.density + sum(
        Fraction(5, 4) * max(load.va, R23.dryer_least if load.kind == "dryer" else 0) for load in shared) + 4500


def test_two_flats_by_hand() -> None:
    """1,260 and 1,330 sq ft of 2,740, each a 9 kW range and a 4.5 kW heater, a shared boiler of 700 VA; NEC 2023.

    8,220 + 6,000 + 3,000 = 17,220; 3,000 + 35 % of 14,220 = 7,977; heaters 9,000; ranges 11,000 (column C, two);
    boiler 700 and a quarter of it 175: 28,852 VA, 120 A.
    """
    found = together(R23, (Dwelling(1260, (RANGE, HEATER)), Dwelling(1330, (RANGE, HEATER))), 2740,
                     (Load("boiler", 700, "boiler", 120),))
    assert (found.total, found.printed) == (28_852, 120)


def test_three_alike_only_where_the_code_lets_two_be() -> None:
    """Two dwellings, each with electric cooking and with heat or cooling (220.84(A), 220.85)."""
    warm, cold = Dwelling(1000, (RANGE, HEAT)), Dwelling(1000, (RANGE,))
    assert by_share(R23, (warm, warm), 2000, ()) is not None
    for dwellings in ((warm, cold), (warm,), (warm, warm, cold), (warm,) * 6, (warm, Dwelling(1000, (HEAT,)))):
        assert by_share(R23, dwellings, 6000, ()) is None


@pytest.mark.parametrize("count", [3, 4, 5])
def test_three_to_five_dwellings_come_to_their_share_by_hand(count: int) -> None:
    """Each 1,000 sq ft with a 9 kW range and 8 kW of heat, and one of 800: 24,500 for each and 23,900 for that, 45 % of
    all of it; 100 sq ft of stairs and a boiler of 700 VA in full (220.84)."""
    small = Dwelling(800, (RANGE, HEAT))
    found = by_share(R23, (*[Dwelling(1000, (RANGE, HEAT))] * (count - 1), small), 1000 * count - 100,
                     (Load("boiler", 700, "boiler", 120),))
    assert found is not None
    assert found.method == "three to five"
    assert found.total == Fraction(45, 100) * (24_500 * (count - 1) + 23_900) + 300 + 700


def test_two_counted_as_three_alike_come_to_what_three_alike_do() -> None:
    """Table 220.84 has one share for both, and what two dwellings share is added to either (220.85)."""
    one = Dwelling(1000, (RANGE, HEAT))
    two, three = by_share(R23, (one, one), 2000, ()), by_share(R23, (one, one, one), 3000, ())
    assert two is not None
    assert three is not None
    assert two.total == three.total


def test_of_two_that_differ_the_larger_is_taken_three_times() -> None:
    """1,000 and 800 sq ft, range and heat: 3 x (3,000 + 3,000 + 1,500 + 9,000 + 8,000) x 45 % = 33,075; stairs in full.
    """
    small = Dwelling(800, (RANGE, HEAT))
    found = by_share(R23, (Dwelling(1000, (RANGE, HEAT)), small), 1900, (Load("boiler", 700, "boiler", 120),))
    assert found is not None
    assert found.step("three alike").va == 33_075
    assert found.total == 33_075 + 300 + 700


def test_a_house_is_as_large_as_its_dwellings() -> None:
    """An area under their sum is refused, and so is no dwelling."""
    one = Dwelling(1000, (RANGE, HEAT))
    for call in (together, by_share):
        with pytest.raises(ValueError, match="holds its dwellings"):
            call(R23, (one, one), 1999, ())
    with pytest.raises(ValueError, match="holds its dwellings"):
        together(R23, (), 1000, ())


def test_wires_to_two_dwellings_take_the_general_table() -> None:
    """200 A: 3/0 copper or 250 kcmil aluminium (310.16), where all of one dwelling takes 2/0 or 4/0 (310.12)."""
    assert (rating(R17, 200, False).copper, rating(R17, 200, False).aluminium) == ("3/0 AWG", "250 kcmil")
    assert (rating(R17, 200).copper, rating(R17, 200).aluminium) == ("2/0 AWG", "4/0 AWG")
    assert set(R17.conductors) == set(R17.conductors_general)
    with pytest.raises(ValueError, match="more than the table"):
        rating(R17, 401, False)
