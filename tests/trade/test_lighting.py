"""General light of a room: the sums, the two customs of depreciation, the grid, and the two verdicts."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.rules import read
from sitegen.trade import light_grid, lighting
from sitegen.trade.light_grid import Grid
from sitegen.trade.lighting import EDITIONS, Fitting, LightLoss, LightRule, LitRoom, plan

QUIET = settings(max_examples=80, deadline=None, derandomize=True)
RULE = read.given(LightRule, "lighting")
HALF = Fraction(1, 2)

TABLE = {row: Fraction(hundredths, 100)
         for row, hundredths in enumerate((95, 86, 77, 68, 61, 55, 50, 45, 41, 38, 35))}
"""Made up for these tests: a light whose coefficient falls more slowly than its room cavity ratio rises."""

LIGHT = Fitting(lamps=1, lumens_a_lamp=1500, coefficients=TABLE, criterion=Fraction(3, 2))
LOSS = LightLoss.maintenance(Fraction(4, 5))

feet = st.integers(16, 60).map(lambda halves: Fraction(halves, 2))
rooms = st.builds(lambda length, width: LitRoom(length, width, 8, Fraction(5, 2)), feet, feet)
parts = st.integers(1, 100).map(lambda hundredths: Fraction(hundredths, 100))
grids = st.builds(Grid, st.integers(1, 5), st.integers(1, 5))
goals = st.integers(1, 50)


def test_a_bedroom_worked_by_hand() -> None:
    """12 by 15 feet under 8: ratio 5 x 5.5 x 27 / 180 = 4.125, coefficient .61 - .06 / 8, six lights for 20 fc."""
    found = plan(LitRoom(15, 12, 8, Fraction(5, 2)), LIGHT, LOSS, 20)
    assert (found.cavity_ratio, found.coefficient) == (Fraction("4.125"), Fraction("0.6025"))
    assert found.exact == Fraction(20 * 180) / (1500 * Fraction("0.6025") * Fraction("0.8")) == Fraction(1200, 241)
    assert (found.needed, found.grid) == (5, Grid(2, 3))
    assert (found.spacing.along, found.spacing.across) == (5, 6)
    assert found.average == Fraction("24.1")
    assert (found.most_apart, found.enough, found.spacing_met) == (Fraction("8.25"), True, True)


def test_one_ceiling_light_is_judged_as_it_hangs() -> None:
    """A 1 x 1 grid gives its average, and both verdicts say what it lacks; in a small room it may do."""
    lone = plan(LitRoom(15, 12, 8, Fraction(5, 2)), LIGHT, LOSS, 20, grid=Grid(1, 1))
    assert (lone.average, lone.enough, lone.spacing_met) == (Fraction(241, 60), False, False)
    small = plan(LitRoom(8, 8, 8, Fraction(5, 2)), LIGHT, LOSS, 5, grid=Grid(1, 1))
    assert (small.needed, small.enough, small.spacing_met) == (1, True, True)


def test_spacing_counts_from_the_work_plane() -> None:
    """A room 9 feet square under 8 fails with one light, though 1.5 times the ceiling's 8 feet would pass it."""
    room = LitRoom(9, 9, 8, Fraction(5, 2))
    found = plan(room, LIGHT, LOSS, 1, grid=Grid(1, 1))
    assert found.most_apart == Fraction(33, 4) < 9 < LIGHT.criterion * room.ceiling
    assert not found.spacing_met
    just = plan(LitRoom(Fraction(33, 4), 8, 8, Fraction(5, 2)), LIGHT, LOSS, 1, grid=Grid(1, 1))
    assert just.spacing_met, "as wide as is allowed is allowed"


def test_lights_that_hang_lower_spread_less() -> None:
    """The drop comes off the height for both the ratio and the spacing."""
    hung = plan(LitRoom(15, 12, 10, Fraction(5, 2), drop=2), LIGHT, LOSS, 20)
    flush = plan(LitRoom(15, 12, 8, Fraction(5, 2)), LIGHT, LOSS, 20)
    assert hung == flush


def test_a_factor_that_divides_is_no_maintenance_factor() -> None:
    """A factor of 1.2 multiplies nothing, and no lamp keeps nothing or more than all of its light."""
    for wrong in (Fraction(6, 5), Fraction(0), Fraction(-1, 2)):
        with pytest.raises(ValueError, match="maintenance"):
            LightLoss.maintenance(wrong)
    for kept in (Fraction(0), Fraction(6, 5)):
        with pytest.raises(ValueError, match="share"):
            LightLoss(kept)
    assert LightLoss.maintenance().kept == 1


def test_a_table_is_read_straight_between_rows_and_not_beyond() -> None:
    """On a row its own value, between two the straight line, outside an error."""
    assert lighting.coefficient_at(TABLE, 3) == Fraction("0.68")
    assert lighting.coefficient_at(TABLE, Fraction(11, 4)) == Fraction("0.7025")
    assert lighting.coefficient_at({2: 1, 6: HALF}, 3) == Fraction(7, 8)
    for outside in (Fraction(-1, 10), Fraction(101, 10)):
        with pytest.raises(ValueError, match="outside"):
            lighting.coefficient_at(TABLE, outside)
    with pytest.raises(ValueError, match="outside"):
        lighting.coefficient_at({}, 1)
    with pytest.raises(ValueError, match="above 0"):
        lighting.coefficient_at({1: 0}, 1)


def test_a_count_rounds_up_unless_slack_is_granted() -> None:
    """8.07 lights are 9; whoever grants a hundredth of the light gets 8, and the plan keeps what was granted."""
    assert lighting.whole_lights(Fraction("8.07")) == 9
    assert lighting.whole_lights(Fraction("8.07"), Fraction(1, 100)) == 8
    assert lighting.whole_lights(8) == 8
    assert lighting.whole_lights(Fraction(1, 1000)) == 1
    for slack in (Fraction(-1, 100), 1):
        with pytest.raises(ValueError, match="slack"):
            lighting.whole_lights(8, slack)
    room = LitRoom(30, 15, 8, Fraction(5, 2))
    lamp = Fitting(2, 1800, {2: Fraction("0.68"), 3: Fraction("0.68")}, Fraction(3, 2))
    tight = plan(room, lamp, LightLoss.maintenance(Fraction("0.82")), 36, grid=Grid(2, 4))
    slack = plan(room, lamp, LightLoss.maintenance(Fraction("0.82")), 36, Fraction(1, 100), Grid(2, 4))
    assert (tight.needed, tight.enough, tight.slack) == (9, False, 0)
    assert (slack.needed, slack.enough, slack.slack) == (8, True, Fraction(1, 100))
    assert tight.average == slack.average < 36


def test_impossible_rooms_lights_and_grids_are_refused() -> None:
    """No floor, no height, no lumens, no lights: an error and not a number."""
    for room in ((0, 10, 8, 2), (10, 0, 8, 2), (10, 10, 2, 2), (10, 10, 8, -1), (10, 10, 8, 2, 6), (10, 10, 8, 2, -1)):
        with pytest.raises(ValueError, match="no room"):
            LitRoom(*room)
    for lamps, lumens, criterion in ((0, 1, 1), (1, 0, 1), (1, 1, 0)):
        with pytest.raises(ValueError, match="a light has"):
            Fitting(lamps, lumens, TABLE, criterion)
    for rows, columns in ((0, 1), (1, 0)):
        with pytest.raises(ValueError, match="a grid has"):
            Grid(rows, columns)
    for length, width, needed, most in ((0, 1, 1, 1), (1, 0, 1, 1), (1, 1, 0, 1), (1, 1, 1, 0)):
        with pytest.raises(ValueError, match="a grid needs"):
            light_grid.fit_grid(length, width, needed, most)
    for height, perimeter, area in ((-1, 1, 1), (1, 0, 1), (1, 1, 0)):
        with pytest.raises(ValueError, match="floor"):
            lighting.cavity_ratio_of(height, perimeter, area)
    for lights, lumens, used, area in ((-1, 1, 1, 1), (1, 0, 1, 1), (1, 1, 0, 1), (1, 1, 1, 0)):
        with pytest.raises(ValueError, match="above 0"):
            lighting.average(lights, lumens, used, LOSS, area)
    with pytest.raises(ValueError, match="aim"):
        lighting.lights_exact(0, 1, 1, LOSS, 1)
    for criterion, height in ((0, 1), (1, 0)):
        with pytest.raises(ValueError, match="criterion"):
            light_grid.most_apart(criterion, height)
    with pytest.raises(ValueError, match="outside"):
        plan(LitRoom(4, 4, 12, Fraction(5, 2)), LIGHT, LOSS, 5)


def test_a_target_always_says_whose_and_on_which_plane() -> None:
    """Value, edition and plane come together; the plane's height is known, or None where the task is measured."""
    floor = lighting.target("living room", "trade quote (weak)", RULE)
    assert (floor.value, floor.plane, floor.height) == (3, "floor", 0)
    usual = lighting.target("living room", "IES handbook 1950s", RULE)
    assert (usual.value, usual.plane, usual.height) == (5, "not stated", Fraction(5, 2))
    assert lighting.target("kitchen counter", "IES handbook 1950s", RULE).height is None
    assert lighting.target("dining", "trade quote (weak)", RULE).height is None
    for space, edition in (("ballroom", "IES handbook 1950s"), ("dining", "IES handbook")):
        with pytest.raises(KeyError):
            lighting.target(space, edition, RULE)


def test_a_weak_edition_says_so() -> None:
    """What a page of the trade quotes bears the word weak in its name and in its source."""
    rules = read.every_rule()
    for name, field in EDITIONS.items():
        assert ("weak" in name) == ("weak" in rules[f"lighting-{field.replace('_', '-')}"].source)


@QUIET
@given(st.integers(0, 20), st.integers(1, 9000), st.integers(1, 9000), parts, parts, feet)
def test_more_lumens_never_dimmer(lights: int, lumens: int, more: int, used: Fraction, kept: Fraction,
                                  area: Fraction) -> None:
    """The average grows with the lumens, and never falls."""
    loss = LightLoss.maintenance(kept)
    assert (lighting.average(lights, lumens, used, loss, area)
            <= lighting.average(lights, lumens + more, used, loss, area))


@QUIET
@given(rooms, feet, feet, grids)
def test_a_larger_room_is_never_brighter_with_the_same_lights(room: LitRoom, more: Fraction, wider: Fraction,
                                                              grid: Grid) -> None:
    """Though the coefficient rises with the room, the same lights give less on average."""
    larger = LitRoom(room.length + more, room.width + wider, room.ceiling, room.plane)
    small, large = plan(room, LIGHT, LOSS, 5, grid=grid), plan(larger, LIGHT, LOSS, 5, grid=grid)
    assert large.coefficient >= small.coefficient
    assert large.average < small.average


@QUIET
@given(rooms, goals)
def test_a_plan_meets_what_it_was_asked_for(room: LitRoom, goal: int) -> None:
    """Average and spacing are met, and one light fewer than needed would be too dim."""
    found = plan(room, LIGHT, LOSS, goal)
    assert found.enough
    assert found.spacing_met
    assert found.average >= goal
    assert found.needed - 1 < found.exact <= found.needed <= found.grid.count
    assert found.average / found.grid.count * (found.needed - 1) < goal


@QUIET
@given(feet, feet, st.integers(1, 40), st.none() | st.integers(4, 12))
def test_no_other_grid_is_more_even(length: Fraction, width: Fraction, needed: int, most: int | None) -> None:
    """Against every grid of up to 45 rows and columns: none that suffices keeps its closest lights further apart."""
    found = light_grid.fit_grid(length, width, needed, most)

    def closest(grid: Grid) -> tuple[Fraction, int, int]:
        return -min(length / grid.columns, width / grid.rows), grid.count, grid.rows

    def suffices(grid: Grid) -> bool:
        return grid.count >= needed and (most is None or max(length / grid.columns, width / grid.rows) <= most)

    every = [Grid(rows, columns) for rows, columns in product(range(1, 46), repeat=2)]
    assert found == min(filter(suffices, every), key=closest)


@QUIET
@given(feet, feet, feet)
def test_both_forms_of_the_cavity_ratio_agree_on_a_box(height: Fraction, length: Fraction, width: Fraction) -> None:
    """5 H (L + W) / (L W) is 2.5 H P / A of the same room."""
    assert lighting.cavity_ratio(height, length, width) == 5 * height * (length + width) / (length * width)
    assert lighting.cavity_ratio(height, length, width) == lighting.cavity_ratio_of(
        height, 2 * (length + width), length * width)


@QUIET
@given(st.integers(1, 50), st.integers(1, 4000), parts, parts, st.integers(1, 900))
def test_the_sum_reads_the_same_both_ways(lights: int, lumens: int, used: Fraction, kept: Fraction, area: int) -> None:
    """From an average back to lights."""
    loss = LightLoss.maintenance(kept)
    got = lighting.average(lights, lumens, used, loss, area)
    assert lighting.lights_exact(got, lumens, used, loss, area) == lights
