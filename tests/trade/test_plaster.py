"""Patches, coats, waits and heat of plaster: at their limits and for any openings."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.rules.read import given as rule_of
from sitegen.trade.kinds import FINISHES
from sitegen.trade.plaster import (
    BANDS,
    COATS,
    KINDS,
    PLACES,
    SMALL_COATS,
    TROUBLE,
    Patch,
    PlasterRule,
    Prices,
    band,
    coat_names,
    coat_plan,
    least_total,
    left_to_skim,
    most_aggregate,
    patch_area,
    patch_price,
    rectangle,
    round_hole,
)
from sitegen.trade.plaster_drying import (
    earliest_paint,
    heat,
    heated,
    may_paint,
    plates_back,
    visits,
    waits,
)
from sitegen.trade.plaster_quantities import (
    charged_strip,
    crew_days,
    laths,
    net_area,
    take_off,
    volume,
    volume_to_order,
)

RULE = rule_of(PlasterRule, "plaster")
PRICES = Prices(plate=0, hand=95_00, large=260_00, ceiling=180_00, trip_minimum=350_00)
FINISHED = date(2026, 6, 3)
QUIET = settings(max_examples=80, deadline=None, derandomize=True)

inches = st.integers(1, 400).map(lambda n: Fraction(n, 8))
patches = st.builds(rectangle, inches, inches, st.sampled_from(PLACES), st.sampled_from(KINDS))
ascending = st.lists(st.integers(0, 400_00), min_size=3, max_size=3).map(sorted)
prices = st.builds(lambda wall, ceiling, trip: Prices(*wall, ceiling, trip),
                   ascending, st.integers(0, 400_00), st.integers(0, 900_00))
days = st.dates(date(2026, 1, 1), date(2027, 12, 31))


# ------------------------------------------------------------------------------------------- patches and prices


@given(found=st.lists(patches, max_size=8), more=patches, book=prices)
@QUIET
def test_one_more_opening_never_shrinks_area_or_price(found: list[Patch], more: Patch, book: Prices) -> None:
    """With one more opening the area grows, and no sum falls."""
    before, after = patch_price(found, book, RULE), patch_price([*found, more], book, RULE)
    assert patch_area([*found, more]) == patch_area(found) + more.area > patch_area(found)
    assert after.at_book >= before.at_book
    assert after.total >= before.total
    assert sum(after.counts.values()) == len(found) + 1


@given(width=inches, height=inches, wider=inches, kind=st.sampled_from(KINDS), book=prices)
@QUIET
def test_a_larger_wall_patch_never_costs_less(width: Fraction, height: Fraction, wider: Fraction, kind: str,
                                              book: Prices) -> None:
    """On a wall a wider patch of the same kind costs at least as much."""
    small, large = rectangle(width, height, "wall", kind), rectangle(width + wider, height, "wall", kind)
    assert BANDS.index(band(small, RULE)) <= BANDS.index(band(large, RULE))
    assert patch_price([small], book, RULE).at_book <= patch_price([large], book, RULE).at_book


@pytest.mark.parametrize(("patch", "due"), [
    (rectangle(Fraction(11, 4), Fraction(9, 2), kind="box"), "plate"),
    (rectangle(Fraction(9, 2), Fraction(11, 4), kind="box"), "plate"),
    (rectangle(3, 4, kind="box"), "hand"),
    (rectangle(2, 3, kind="access"), "hand"),
    (Patch(6, "wall", "box"), "hand"),
    (rectangle(12, 24), "hand"),
    (rectangle(12, Fraction(193, 8)), "large"),
    (round_hole(4), "ceiling"),
    (rectangle(24, 24, "ceiling"), "ceiling"),
])
def test_each_patch_has_one_band(patch: Patch, due: str) -> None:
    """A plate covers a measured box cut that lies behind it; two square feet is by hand, and more is large."""
    assert band(patch, RULE) == due


def test_sum_by_hand_of_a_house() -> None:
    """Three by hand, one large, two on ceilings and four plates sum to what the book says."""
    found = ([rectangle(3, 5)] * 3 + [rectangle(6, 60)] + [round_hole(4)] * 2
             + [rectangle(2, 3, kind="box")] * 4)
    got = patch_price(found, PRICES, RULE)
    assert got.counts == {"plate": 4, "hand": 3, "large": 1, "ceiling": 2}
    assert got.at_book == got.total == 3 * 95_00 + 260_00 + 2 * 180_00


def test_the_trip_minimum_comes_in_once_a_plasterer_comes() -> None:
    """One patch by hand costs the minimum; plates alone, or nothing, bring no plasterer and no minimum."""
    assert patch_price([rectangle(3, 5)], PRICES, RULE).total == 350_00
    assert patch_price([rectangle(2, 3, kind="box")], replace(PRICES, plate=4_00), RULE).total == 4_00
    assert patch_price([], PRICES, RULE).total == 0


def test_a_patch_or_price_that_cannot_be_is_refused() -> None:
    """No patch without area, on no floor, of no unknown kind; no price below zero or running down."""
    for bad in (lambda: rectangle(0, 3), lambda: Patch(9, "floor", "box"), lambda: Patch(9, "wall", "dent"),
                lambda: Patch(9, "wall", "box", (-3, -3)), lambda: Prices(0, 2, 1, 0, 0),
                lambda: Prices(0, 1, 2, -1, 0), lambda: Prices(0, 1, 2, 0, -1), lambda: Prices(-1, 1, 2, 0, 0)):
        with pytest.raises(ValueError, match="got"):
            bad()


# ---------------------------------------------------------------------------------------------------- the coats


@given(measured=st.integers(5, 40).map(lambda n: Fraction(n, 16)), thick=st.booleans(),
       names=st.sampled_from((COATS, SMALL_COATS)), down_to=st.sampled_from(("wood lath", "metal lath")))
@QUIET
def test_coats_sum_to_the_old_thickness(measured: Fraction, thick: bool, names: tuple[str, ...], down_to: str) -> None:
    """A patch ends flush: its coats, none of them empty, sum to what was measured, whatever that was."""
    finish = RULE.finish_inches[1] if thick and measured > Fraction(5, 16) else None
    plan = coat_plan(names, measured, RULE, down_to=down_to, finish=finish)
    assert sum(coat.inches for coat in plan.coats) == measured
    assert tuple(coat.name for coat in plan.coats) == names
    assert min(coat.inches for coat in plan.coats) > 0


@given(measured=st.integers(5, 40).map(lambda n: Fraction(n, 16)))
@QUIET
def test_a_patch_over_metal_lath_says_how_far_it_is_short(measured: Fraction) -> None:
    """Over metal lath a flush patch thinner than the least says by how much; on wood lath no standard says so."""
    least = least_total("metal lath", RULE)
    assert least is not None
    assert coat_plan(COATS, measured, RULE, down_to="metal lath").short_by == max(0, least - measured)
    assert coat_plan(COATS, measured, RULE).short_by == 0


def test_coats_of_three_quarters_by_hand() -> None:
    """Three quarters of an inch: 3/16 scratch, 1/2 brown, 1/16 finish."""
    plan = coat_plan(COATS, Fraction(3, 4), RULE)
    assert [coat.inches for coat in plan.coats] == [Fraction(3, 16), Fraction(1, 2), Fraction(1, 16)]


def test_a_finish_alone_goes_over_a_base_that_stands() -> None:
    """Where the old base stands the finish alone is laid; deeper than a finish may be, it is refused."""
    names = coat_names("old base", 20, RULE)
    assert names == ("finish",)
    assert coat_plan(names, Fraction(1, 8), RULE, down_to="old base").coats[0].inches == Fraction(1, 8)
    with pytest.raises(ValueError, match="finish coat"):
        coat_plan(names, Fraction(1, 4), RULE, down_to="old base")


@pytest.mark.parametrize(("across", "due"), [(Fraction(31, 8), SMALL_COATS), (4, COATS), (None, COATS)])
def test_a_hole_not_measured_counts_as_large(across: Fraction | int | None, due: tuple[str, ...]) -> None:
    """Under the limit two coats, from it on three, and three where nobody measured."""
    assert coat_names("wood lath", across, RULE) == due


def test_a_wall_too_thin_for_its_coats_is_refused() -> None:
    """A quarter inch holds scratch and finish, and leaves nothing for a brown coat."""
    with pytest.raises(ValueError, match="nothing for the brown coat"):
        coat_plan(COATS, Fraction(1, 4), RULE)
    with pytest.raises(ValueError, match="down to"):
        coat_names("brick", 5, RULE)
    with pytest.raises(ValueError, match="down to"):
        coat_names("wood lath", 0, RULE)


def test_no_limit_is_made_up_for_other_work() -> None:
    """Aggregate that the table does not name, or work that it lacks, is refused."""
    for work, aggregate in (("lime", "perlite"), ("two coats, masonry", "vermiculite")):
        with pytest.raises(ValueError, match="no limit"):
            most_aggregate(work, aggregate, RULE)


# ---------------------------------------------------------------------------------------- waits, paint and heat


@given(finished=days, finish=st.sampled_from(FINISHES))
@QUIET
def test_paint_waits_in_calendar_days(finished: date, finish: str) -> None:
    """Paint comes no sooner than the wait of its finish, in calendar days, and after the plates may go back."""
    paint = earliest_paint(finished, finish, RULE)
    assert paint == finished + timedelta(days=waits(finish, RULE).paint_days)
    assert finished < plates_back(finished, RULE)[0] <= plates_back(finished, RULE)[1] <= paint
    assert may_paint(finished, paint, finish, RULE.paint_moisture, RULE)
    assert not may_paint(finished, paint - timedelta(days=1), finish, 0, RULE)


def test_a_wait_that_is_no_whole_day_is_rounded_up() -> None:
    """Thirty hours after a finish is the second day after it."""
    assert plates_back(FINISHED, replace(RULE, plates_hours=(30, 49))) == (date(2026, 6, 5), date(2026, 6, 6))


@pytest.mark.parametrize(("finish", "names", "due"), [
    ("gypsum", COATS, (("base", 0), ("finish", 1))),
    ("gypsum", SMALL_COATS, (("base", 0), ("finish", 1))),
    ("lime", COATS, (("base", 0), ("float", 1), ("finish", 2))),
    ("setting", COATS, (("base and finish", 0),)),
    ("gypsum", ("finish",), (("finish", 0),)),
    ("gypsum", (), ()),
])
def test_visits_follow_the_wait_between_coats(finish: str, names: tuple[str, ...],
                                              due: tuple[tuple[str, int], ...]) -> None:
    """Gypsum takes a base day and a finish day, lime a floating between; a skim or setting compound one day."""
    assert visits(names, finish, RULE) == due


@pytest.mark.parametrize(("hours", "due"), [
    (8, (("base and finish", 0),)), (9, (("base", 0), ("finish", 1))), (32, (("base", 0), ("finish", 1))),
    (33, (("base", 0), ("finish", 2))),
])
def test_a_wait_longer_than_a_days_work_takes_another_day(hours: int, due: tuple[tuple[str, int], ...]) -> None:
    """A base coat begun in the morning takes its finish that evening, or in the working hours of a later day."""
    assert visits(COATS, "setting", replace(RULE, setting_next_coat_hours=hours)) == due


def test_veneer_heat_is_the_stricter_of_both_ends() -> None:
    """No source asks for more heat, less heat or more days than the one shown."""
    held = heat(RULE, veneer=True)
    assert held.most is not None
    for low, high in RULE.veneer_degrees.values():
        assert low <= held.least < held.most <= high
    assert all(before <= held.before for before in RULE.veneer_before_days.values())


def test_plaster_is_not_dry_before_it_goes_on() -> None:
    """A dry day before the base day is refused."""
    with pytest.raises(ValueError, match="cannot be dry"):
        heated(FINISHED, FINISHED - timedelta(days=1), heat(RULE))


# ---------------------------------------------------------------------------------------------- trouble words


def test_each_trouble_word_is_one_short_sentence() -> None:
    """Every word of trouble has one sentence of at most 25 words without a digit."""
    assert set(TROUBLE) == {"calcimine", "loose plaster", "wallpaper", "sand finish", "tile", "paneling", "second skin"}
    for word, trouble in TROUBLE.items():
        assert trouble.means.count(".") == 1, word
        assert trouble.means.endswith("."), word
        assert len(trouble.means.split()) <= 25, word
        assert not any(letter.isdigit() for letter in trouble.means), word


# ------------------------------------------------------------------------------------------------- quantities


@given(width=inches, height=inches, thickness=inches, more=inches)
@QUIET
def test_volume_is_thickness_times_area(width: Fraction, height: Fraction, thickness: Fraction, more: Fraction) -> None:
    """Volume grows in step with thickness and with area, and the volume to order is never less than in place."""
    area = rectangle(width, height).area
    assert volume(thickness + more, area) == volume(thickness, area) + volume(more, area)
    yards = Fraction(area) / 1296
    assert volume_to_order(yards, thickness, RULE) > volume(thickness, area) / 1728


@given(gross=st.integers(50, 200), openings=st.lists(st.integers(1, 10), max_size=5),
       custom=st.sampled_from(("half", "none under")))
@QUIET
def test_a_custom_never_deducts_more_than_the_openings(gross: int, openings: list[int], custom: str) -> None:
    """Whatever the custom, the charged area lies between the wall and the wall less its openings."""
    assert gross - sum(openings) <= net_area(gross, openings, RULE, custom=custom) <= gross


def test_an_opening_of_just_the_customs_size_is_deducted() -> None:
    """None under seven square yards is deducted, and one of seven is."""
    assert net_area(50, [7], RULE, custom="none under") == 43


@given(width=inches, length=inches)
@QUIET
def test_a_strip_is_charged_at_least_at_its_own_area(width: Fraction, length: Fraction) -> None:
    """A strip never costs less than its area, and a wide one just that."""
    assert charged_strip(width, length, RULE) >= width * length
    assert charged_strip(width + RULE.strip_inches, length, RULE) == (width + RULE.strip_inches) * length


def test_quantities_that_cannot_be_are_refused() -> None:
    """No lath without size, no wall below zero, no board thicker than its wall, no openings larger than it."""
    for bad in (lambda: laths(1, 0, 48, 1), lambda: volume(-1, 5), lambda: left_to_skim(Fraction(1, 2), 1),
                lambda: net_area(3, [10], RULE, custom="half"), lambda: net_area(3, [1], RULE, custom="all"),
                lambda: take_off([(3, -1)])):
        with pytest.raises(ValueError, match=r"\w"):
            bad()
    with pytest.raises(KeyError):
        crew_days(5, "one", RULE)
