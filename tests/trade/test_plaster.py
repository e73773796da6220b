"""Patches, coats, waits and heat of plaster: at their limits and for any openings."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.rules.read import given as rule_of
from sitegen.trade.plaster import (
    BANDS,
    COATS,
    KINDS,
    PLACES,
    SMALL_COATS,
    Number,
    Patch,
    PlasterRule,
    Prices,
    band,
    coat_names,
    patch_area,
    patch_price,
    plaster_to_order,
)
from sitegen.trade.plaster_drying import visits

RULE = rule_of(PlasterRule, "plaster")
PRICES = Prices(plate=0, hand=95_00, large=260_00, ceiling=180_00, trip_minimum=350_00)
QUIET = settings(max_examples=80, deadline=None, derandomize=True)


def rectangle(width: Number, height: Number, place: str = "wall", kind: str = "access") -> Patch:
    """A patch `width` by `height` [in]."""
    return Patch(Fraction(width) * height, place, kind, (width, height))


inches = st.integers(1, 400).map(lambda n: Fraction(n, 8))
patches = st.builds(rectangle, inches, inches, st.sampled_from(PLACES), st.sampled_from(KINDS))
ascending = st.lists(st.integers(0, 400_00), min_size=3, max_size=3).map(sorted)
prices = st.builds(lambda wall, ceiling, trip: Prices(*wall, ceiling, trip),
                   ascending, st.integers(0, 400_00), st.integers(0, 900_00))


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
    (rectangle(24, 24, "ceiling"), "ceiling"),
])
def test_each_patch_has_one_band(patch: Patch, due: str) -> None:
    """A plate covers a measured box cut that lies behind it; two square feet is by hand, and more is large."""
    assert band(patch, RULE) == due


def test_sum_by_hand_of_a_house() -> None:
    """Three by hand, one large, two on ceilings and four plates sum to what the book says."""
    found = ([rectangle(3, 5)] * 3 + [rectangle(6, 60)] + [rectangle(4, 4, "ceiling")] * 2
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


def test_a_finish_alone_goes_over_a_base_that_stands() -> None:
    """Where the old base stands the finish alone is laid; on an unknown ground, or for no hole, nothing is guessed."""
    assert coat_names("old base", 20, RULE) == ("finish",)
    for down_to, across in (("brick", 5), ("wood lath", 0)):
        with pytest.raises(ValueError, match="down to"):
            coat_names(down_to, across, RULE)


@pytest.mark.parametrize(("across", "due"), [(Fraction(31, 8), SMALL_COATS), (4, COATS), (None, COATS)])
def test_a_hole_not_measured_counts_as_large(across: Fraction | int | None, due: tuple[str, ...]) -> None:
    """Under the limit two coats, from it on three, and three where nobody measured."""
    assert coat_names("wood lath", across, RULE) == due


# ---------------------------------------------------------------------------------------- waits, paint and heat


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


# ------------------------------------------------------------------------------------------------- quantities


# ------------------------------------------------------------------------------------------------- quantities


@given(width=inches, height=inches, thickness=inches, more=inches)
@QUIET
def test_plaster_to_order_grows_in_step(width: Fraction, height: Fraction, thickness: Fraction, more: Fraction) -> None:
    """It grows in step with thickness and with area, and is never less than what goes in place."""
    area = Fraction(width) * height
    both = plaster_to_order(area, thickness, RULE) + plaster_to_order(area, more, RULE)
    assert plaster_to_order(area, thickness + more, RULE) == both
    assert plaster_to_order(2 * area, thickness, RULE) == 2 * plaster_to_order(area, thickness, RULE)
    assert plaster_to_order(area, thickness, RULE) > area * thickness
