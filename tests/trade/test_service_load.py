"""Service loads: what adds, what steps down by the code's own text, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from sitegen.rules.read import given
from sitegen.trade.load_parts import (
    COOKING,
    FIXED,
    KINDS,
    Demand,
    Dwelling,
    Load,
    LoadRule,
    cooking_demand,
    lighting_demand,
    rating,
)
from sitegen.trade.service_load import (
    existing,
    measured,
    neutral,
    optional,
    service_duties,
    standard,
)

EDITIONS = ("2017", "2020", "2023", "2026")
R17, R20, R23, R26 = (given(LoadRule, "load", edition) for edition in EDITIONS)
RULES = st.sampled_from((R17, R20, R23, R26))
loads_ = st.builds(Load, st.just("load"), st.integers(100, 20_000), st.sampled_from(KINDS), st.sampled_from((120, 240)),
                   st.booleans())
few = st.lists(loads_, max_size=6).map(tuple).filter(lambda all_: sum(load.kind in COOKING for load in all_) < 5)
areas = st.integers(200, 8000)


def fixed(va: int, volts: int = 240, motor: bool = False) -> Load:
    return Load("appliance", va, "fixed appliance", volts, motor)


def lowers(all_: tuple[Load, ...], new: Load, rule: LoadRule) -> bool:
    """Whether `new` is the fixed appliance that makes the code's 75 percent begin."""
    large = [load for load in all_ if load.kind in FIXED and load.va >= rule.fixed_least]
    return new.kind in FIXED and new.va >= rule.fixed_least and len(large) == rule.fixed_count - 1


@settings(max_examples=100)
@forall(RULES, areas, few, loads_)
def test_an_added_load_never_lowers_the_standard_total(rule: LoadRule, area: int, all_: tuple[Load, ...], new: Load,
                                                       ) -> None:
    """More load is more demand; the one exception is the code's own, the fourth fixed appliance (220.53)."""
    before = standard(rule, Dwelling(area, all_)).total
    after = standard(rule, Dwelling(area, (*all_, new))).total
    if lowers(all_, new, rule):
        quarter = sum(load.va for load in all_ if load.kind in FIXED and load.va >= rule.fixed_least) / Fraction(4)
        assert after >= before - quarter
    else:
        assert after >= before


@settings(max_examples=100)
@forall(RULES, areas, few, loads_)
def test_an_added_load_never_lowers_the_methods_with_tiers(rule: LoadRule, area: int, all_: tuple[Load, ...],
                                                           new: Load) -> None:
    """The same by the optional method but for its fourth heater (220.82(C)), and for an existing service always."""
    before, after = Dwelling(area, all_), Dwelling(area, (*all_, new))
    if not (new.kind == "room heat" and sum(load.kind == "room heat" for load in all_) == rule.optional_many - 1):
        assert optional(rule, after).total >= optional(rule, before).total
    for in_full in (True, False):
        assert existing(rule, after, False, in_full).total >= existing(rule, before, False, in_full).total


@settings(max_examples=100)
@forall(RULES, areas, few)
def test_a_demand_is_the_sum_of_its_lines(rule: LoadRule, area: int, all_: tuple[Load, ...]) -> None:
    """Every line names its section, none is empty, and a total stays between nothing and twice what is connected."""
    house = Dwelling(area, all_)
    most = 2 * sum(load.va for load in all_) + 5000 * len(all_) + 7200 * len(all_) + 3 * area + 4500
    for demand in (standard(rule, house), optional(rule, house), existing(rule, house, True), neutral(rule, house)):
        assert demand.total == sum(step.va for step in demand.steps if step.va is not None)
        assert all(step.section.startswith("NEC ") and step.connected > 0 for step in demand.steps)
        assert 0 < demand.total <= most
        assert demand.amperes * 240 == demand.total


@forall(RULES, areas, areas, few)
def test_a_larger_house_never_has_a_smaller_load(rule: LoadRule, one: int, other: int, all_: tuple[Load, ...]) -> None:
    """Area only adds, by every method."""
    small, large = Dwelling(min(one, other), all_), Dwelling(max(one, other), all_)
    for method in (standard, optional, neutral):
        assert method(rule, large).total >= method(rule, small).total


@forall(RULES, areas, few)
def test_new_heat_or_cooling_is_never_the_lighter_reading(rule: LoadRule, area: int, all_: tuple[Load, ...]) -> None:
    """220.83(B), and the cautious reading of (A), give the same total; the other reading gives no more."""
    house = Dwelling(area, all_)
    cautious = existing(rule, house, new_hvac=False).total
    assert existing(rule, house, new_hvac=True).total == cautious
    assert existing(rule, house, new_hvac=False, hvac_in_full=False).total <= cautious


def test_the_other_reading_of_existing_heat_counts_it_among_appliances() -> None:
    """10,000 VA of heat, more than the cooling, in a house past the first tier: 40 percent of it, or all."""
    house = Dwelling(2000, (Load("cooling", 6000, "cooling"), Load("heat", 10_000, "central heat")))
    full = existing(R17, house, False)
    among = existing(R17, house, False, hvac_in_full=False)
    assert full.total - among.total == 6000
    assert full.step("heat or cool").va == 10_000
    assert (full.step("first tier").connected, full.step("the rest").connected) == (8000, 2500)
    assert among.step("heat or cool among appliances").va is None
    with pytest.raises(ValueError, match="in full"):
        existing(R17, house, new_hvac=True, hvac_in_full=False)


def test_four_fixed_appliances_count_at_three_quarters_and_three_in_full() -> None:
    """220.53, and from 2020 on only appliances of 500 VA or more are counted to four."""
    three, small = (fixed(1000),) * 3, fixed(400)
    assert standard(R17, Dwelling(1000, three)).step("fixed appliances").va == 3000
    assert standard(R17, Dwelling(1000, (*three, small))).step("fixed appliances").va == 2550
    newer = standard(R20, Dwelling(1000, (*three, small)))
    assert newer.step("fixed appliances").va == 3000
    assert newer.step("small fixed appliances").va == 400
    assert standard(R20, Dwelling(1000, (*three, fixed(500)))).step("fixed appliances").va == 2625


def test_the_larger_of_heat_and_cooling_counts_with_its_motor() -> None:
    """5000 VA of cooling and its 25 percent outweigh 5100 VA of heat; 6300 VA of heat outweigh both (220.60)."""
    cooling = Load("cooling", 5000, "cooling")
    for heat, season, motor in ((5100, 5000, 1250), (6300, 6300, 0)):
        found = standard(R17, Dwelling(1000, (cooling, Load("heat", heat, "central heat"))))
        assert found.step("heat or cool").va == season
        assert found.total == 3000 + Fraction(4500 * 7, 20) + season + motor


def test_a_heat_pump_runs_in_both_seasons() -> None:
    """It adds to supplemental heat in winter and to other cooling in summer."""
    pump, heat = Load("pump", 4000, "heat pump"), Load("strips", 10_000, "supplemental heat")
    assert standard(R17, Dwelling(1000, (pump, heat))).step("heat or cool").va == 14_000
    assert optional(R17, Dwelling(1000, (pump, heat))).step("heat or cool").va == 10_500
    assert optional(R17, Dwelling(1000, (pump, Load("unit", 3000, "cooling")))).step("heat or cool").va == 7000


def test_heaters_step_down_at_the_fourth() -> None:
    """Three separately controlled heaters count at 65 percent, four at 40 (220.82(C))."""
    heaters = [Load("heater", 2000, "room heat")] * 4
    assert optional(R17, Dwelling(1000, tuple(heaters[:3]))).step("heat or cool").va == 3900
    assert optional(R17, Dwelling(1000, tuple(heaters))).step("heat or cool").va == 3200


def test_the_largest_motor_alone_counts_a_quarter_more() -> None:
    """Of two motors and a fixed appliance with one, only the largest (220.50)."""
    found = standard(R17, Dwelling(1000, (Load("pump", 800, "motor"), Load("fan", 600, "motor"),
                                          fixed(1000, 120, motor=True), fixed(4000))))
    assert found.step("largest motor").va == 250
    assert found.step("motors").va == 1400


def test_two_densities_in_2026() -> None:
    """A service counts 2 VA a square foot in 2026 and 3 before, under the article of its edition."""
    for rule, va, section in ((R17, 3000, "NEC 220.12"), (R20, 3000, "NEC 220.14(J)"), (R23, 3000, "NEC 220.41"),
                              (R26, 2000, "NEC 120.41")):
        step = standard(rule, Dwelling(1000)).step("lighting and receptacles")
        assert (step.connected, step.section) == (va, section)


def test_fewer_circuits_than_the_code_asks_count_as_that_many() -> None:
    """Two small-appliance circuits and one laundry circuit at least; more count as there are (220.52)."""
    assert standard(R17, Dwelling(1000)).step("small appliances").connected == 3000
    more = standard(R17, Dwelling(1000, small_appliance=3, laundry=2))
    assert more.step("small appliances").connected == 4500
    assert more.step("laundry").connected == 3000


def test_lighting_above_the_second_tier_counts_a_quarter() -> None:
    """3000 VA in full, then 35 percent to 120,000 VA, then 25 percent (Table 220.42)."""
    assert lighting_demand(R17, 2000) == 2000
    assert lighting_demand(R17, 120_000) == 3000 + 40_950
    assert lighting_demand(R17, 124_000) == 3000 + 40_950 + 1000


def test_cooking_takes_the_smaller_way_that_the_notes_allow() -> None:
    """Column C for one of 8 kW or for a small and a large; columns A and B for small ones; tiny ones in full."""
    assert cooking_demand(R17, [8000]) == 6400
    assert cooking_demand(R17, [3499, 3500]) == Fraction(8, 10) * 6999
    assert cooking_demand(R17, [12_000, 8000]) == 11_000
    assert cooking_demand(R17, [12_000, 3000]) == 8000 + 2400
    assert cooking_demand(R17, [13_000, 8000]) == 8400 + 6400
    assert cooking_demand(R17, [1750]) == 1750
    assert cooking_demand(R17, [1751]) == Fraction(8, 10) * 1751
    assert cooking_demand(R17, [8750, 8751]) == 7000 + 8000 - 4000
    assert cooking_demand(R17, []) == 0


def test_a_large_range_adds_five_percent_a_kilowatt() -> None:
    """Half a kW is a major fraction; unequal ones are averaged, none below 12 kW (Notes 1 and 2)."""
    assert cooking_demand(R17, [12_400]) == 8000
    assert cooking_demand(R17, [12_500]) == 8400
    assert cooking_demand(R17, [27_000]) == 8000 * Fraction(175, 100)
    assert cooking_demand(R17, [16_000, 9000]) == 11_000 * Fraction(110, 100)


def test_what_the_table_does_not_hold_is_refused() -> None:
    """Over 27 kW, or seven appliances."""
    with pytest.raises(ValueError, match="Table 220"):
        cooking_demand(R17, [27_001, 4000])
    with pytest.raises(ValueError, match="Table 220"):
        cooking_demand(R17, [4000] * 7)


def test_a_group_of_cooking_that_the_table_lacks_is_refused_in_words() -> None:
    """Ten appliances of which six share a column that is not carried for six: a ValueError that says so."""
    with pytest.raises(ValueError, match="6 appliances in one column"):
        cooking_demand(R23, [Fraction(3000)] * 6 + [Fraction(5000)] * 4)


def test_a_neutral_carries_no_load_at_240_volts_but_cooking_and_dryers() -> None:
    """70 percent of range and dryer demand, 120-V loads, a quarter of the largest 120-V motor (220.61)."""
    house = Dwelling(1500, (Load("range", 12_000, "range"), Load("dryer", 4000, "dryer"), fixed(4500),
                            Load("disposer", 900, "fixed appliance", 120, motor=True), Load("unit", 5000, "cooling")))
    found = neutral(R17, house)
    assert found.total == 5100 + 5600 + 3500 + 900 + 225


def test_a_measured_peak_needs_a_record_that_the_code_takes() -> None:
    """125 percent of the peak and of a season not in it, the new in full; 30 days not with power of one's own."""
    new = (Load("charger", 9600, "vehicle charger"),)
    assert measured(R17, 50, new, "30 days", season=4000).total == 15_000 + 5000 + 9600
    for record, own in (("a week", False), ("30 days", True)):
        with pytest.raises(ValueError, match="cannot stand"):
            measured(R17, 50, new, record, own_power=own)
    with pytest.raises(ValueError, match="cannot stand"):
        measured(R17, 0, new, "year")
    assert measured(R17, 50, new, "year", own_power=True).total == 24_600


def test_a_rating_is_the_next_standard_one_and_never_under_100() -> None:
    """A fraction of an ampere is not dropped; above 400 A the table ends."""
    assert [rating(R17, amperes).amperes for amperes in (1, 100, Fraction(1001, 10), 176, 400)] == [
        100, 100, 110, 200, 400]
    with pytest.raises(ValueError, match="more than the table"):
        rating(R17, Fraction(4001, 10))


@forall(st.fractions(0, 400), st.fractions(0, 400))
def test_a_rating_carries_the_load_and_grows_with_it(one: Fraction, other: Fraction) -> None:
    """No rating lies below its load, and a larger load never has a smaller one."""
    low, high = sorted((one, other))
    assert low <= rating(R17, low).amperes <= rating(R17, high).amperes


def test_a_service_that_stays_brings_no_duty() -> None:
    """Surge protection and disconnect come with replaced equipment, by edition."""
    assert service_duties(R23, replaced=False) == ()
    assert service_duties(R17, replaced=True) == ()
    assert service_duties(R26, replaced=True) == ("surge-protection", "emergency-disconnect")


def test_impossible_loads_and_houses_are_refused() -> None:
    """A kind that nobody knows, a load of nothing, a voltage no house has, a house without area."""
    for kind, va, volts in (("toaster", 100, 120), ("range", 0, 240), ("range", 100, 277)):
        with pytest.raises(ValueError, match="no load of a house"):
            Load("x", va, kind, volts)
    for area, small in ((0, 2), (100, -1)):
        with pytest.raises(ValueError, match="area"):
            Dwelling(area, small_appliance=small)


def test_amperes_are_printed_to_the_nearest_halves_upward() -> None:
    """77.5 A prints as 78, as in Annex D; a line that is not there is an error."""
    found = standard(R17, Dwelling(1500, (Load("range", 12_000, "range"), Load("dryer", 5500, "dryer"))))
    assert (found.amperes, found.printed) == (Fraction(155, 2), 78)
    assert Demand("none", (), 240).printed == 0
    with pytest.raises(KeyError):
        found.step("motors")


def test_a_charger_counts_its_least_only_where_the_edition_says() -> None:
    """7200 VA at least in 2023; the nameplate elsewhere."""
    house = Dwelling(1000, (Load("charger", 3800, "vehicle charger"),))
    assert [standard(rule, house).step("vehicle chargers").va for rule in (R17, R20, R23, R26)] == [
        3800, 3800, 7200, 3800]
    assert optional(R23, house).step("vehicle chargers").connected == 7200


def test_an_outlet_for_a_car_counts_as_a_charger() -> None:
    """An outlet that a car is charged from counts as a charger of its size does, in every method and its circuit."""
    def of(kind: str, volts: int = 240) -> Dwelling:
        return Dwelling(1000, (Load("car", 7680, kind, volts),))
    for method in (standard, optional, neutral):
        for volts in (120, 240):
            assert method(R23, of("car outlet", volts)) == method(R23, of("vehicle charger", volts))
