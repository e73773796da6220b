"""Blocked drops and the house from easy to hard: against exact counting, and at its limits."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from scipy import stats

from sitegen.trade.blocked import (
    Kind,
    at,
    kind_at,
    kinds_of,
    later_counts,
    openings,
    shape,
    split,
    usual_blocked,
)
from sitegen.trade.places import beta_binomials, blocked_chances
from sitegen.trade.rounding import half_up
from sitegen.trade.terms import Belief, House, Later, Option, Spread, Walls
from tests.trade import examples, oracle

EXACT = 1e-12
QUIET = settings(max_examples=60, deadline=None, derandomize=True)
HALF = Fraction(1, 2)
BELIEF = examples.EXAMPLE_4_BELIEF

bays = st.integers(0, 4)
walls = st.builds(lambda probed, blocked: Walls(probed, min(probed, blocked)), bays, bays)
spreads = st.lists(st.integers(0, 500_00), min_size=3, max_size=3).map(lambda v: Spread(*sorted(v)))
places = st.integers(1, 9).flatmap(lambda n: st.integers(0, n - 1).map(lambda i: Fraction(2 * i + 1, 2 * n)))
houses = st.builds(
    lambda inside, outside, drops, share, rate, floor, price: House(
        (), inside, outside, drops, Fraction(share, 10), Fraction(rate, 4), 0,
        later=tuple(Later(per, per, price) for per in ("opening", "sq ft", "house")),
        options=(Option("list", 0, False, floor_area=floor),),
    ),
    walls, walls, st.integers(0, 12), st.integers(0, 10), st.integers(0, 8), st.integers(0, 300), spreads,
)


# ------------------------------------------------------------------------------------ the three-point entry


@given(spread=spreads)
@QUIET
def test_three_points_are_read_back(spread: Spread) -> None:
    """A three-point entry gives its own three figures at .1, .5 and .9 of the way from easy to hard."""
    assert [at(spread, Fraction(tenth, 10)) for tenth in (1, 5, 9)] == [spread.low, spread.usual, spread.high]


@given(spread=spreads, s=places)
@QUIET
def test_three_points_between_and_beyond(spread: Spread, s: Fraction) -> None:
    """Between and beyond its points an entry lies on two straight lines, never under zero, halves upward."""
    assert at(spread, s) == oracle.spread_at(spread, s) >= 0


def test_three_points_by_hand() -> None:
    """An entry at the easiest and the hardest of nine kinds is carried on beyond its low and its high."""
    # By hand: 165 - (4/9)(55)/(2/5) = 103.888...; 165 + (4/9)(95)/(2/5) = 270.555...; floors go under zero.
    plaster, floors = Spread(110_00, 165_00, 260_00), Spread(0, 90, 3_10)
    assert [at(plaster, Fraction(i, 18)) for i in (1, 17)] == [103_89, 270_56]
    assert [at(floors, Fraction(i, 18)) for i in (1, 17)] == [0, 3_34]


@pytest.mark.parametrize(("value", "whole"), [(0, 0), ("1/2", 1), ("5/2", 3), ("7/3", 2), ("8/3", 3), (7, 7)])
def test_half_up(value: str | int, whole: int) -> None:
    """A half goes up, to the next number and not to the even one."""
    assert half_up(Fraction(value)) == whole


# ------------------------------------------------------------------------------------------ kinds of house


@pytest.mark.parametrize("count", [1, 3, 9, 18])
def test_kinds_are_equally_likely(count: int) -> None:
    """Kinds of house stand at the middles of equal slices from easy to hard and are equally likely."""
    house = examples.EXAMPLE_4_HOUSE
    kinds = kinds_of(house, BELIEF, count)
    assert [kind.weight for kind in kinds] == [1 / count] * count
    assert [replace(kind, weight=1.0) for kind in kinds] == [
        kind_at(house, BELIEF, s) for s in oracle.kinds(count)]


def test_nine_kinds_unless_told() -> None:
    """The house is read at nine kinds, from s = 1/18 to s = 17/18."""
    # The hidden-wiring model: nine equally likely kinds.
    kinds = kinds_of(examples.EXAMPLE_4_HOUSE, BELIEF)
    assert len(kinds) == 9
    assert kinds[0].inside == shape(Walls(5, 1), BELIEF, Fraction(1, 18))
    assert kinds[8].later == {"plaster finish": 270_56, "floors": 3_34, "deep clean": 1_255_56}


@pytest.mark.parametrize(("tenth", "x"), [(1, HALF), (3, Fraction(1, 4)), (5, 0), (9, -HALF), (10, "-5/8")])
def test_shape_by_hand(tenth: int, x: Fraction | str) -> None:
    """The shift runs straight from +1/2 in an easy house to -1/2 in a hard one and is carried on."""
    # The hidden-wiring model: beta(1 + blocked - x, 3 + probed - blocked + x); 5 probed, 1 blocked.
    a, b = shape(Walls(5, 1), BELIEF, Fraction(tenth, 10))
    assert (a, b) == (2 - Fraction(x), 7 + Fraction(x))


# ------------------------------------------------------------------------------------------- blocked drops


def blocked_drops(house: House, kind: Kind, points: int) -> list[float]:
    """Chance of 0, 1, 2 ... blocked drops in one kind of house when so many points are added."""
    [row] = blocked_chances(house, [kind], [points])
    return list(row[0].tolist())


@given(house=houses, s=places, points=st.integers(0, 8))
@QUIET
def test_counted_blocked_drops(house: House, s: Fraction, points: int) -> None:
    """Inside and outside walls together have the chances that counting both gives."""
    row = blocked_drops(house, kind_at(house, BELIEF, s), points)
    exact = oracle.blocked_chances(house, BELIEF, s, points)
    assert list(row) == pytest.approx([float(exact[n]) for n in range(len(row))], abs=EXACT, rel=0)
    assert len(row) == len(exact) == house.list_drops + points + 1


@given(drops=st.integers(0, 40), s=places)
@QUIET
def test_one_kind_of_wall(drops: int, s: Fraction) -> None:
    """With no outside walls blocked drops are one beta-binomial."""
    # Outside values: scipy.stats.betabinom.
    house = House((), Walls(5, 1), Walls(0, 0), drops, Fraction(0), Fraction(1), 0)
    a, b = shape(house.inside, BELIEF, s)
    outside = stats.betabinom(drops, float(a), float(b)).pmf(range(drops + 1))
    row = blocked_drops(house, kind_at(house, BELIEF, s), 0)
    assert list(row) == pytest.approx(outside, abs=EXACT, rel=0)


def test_no_drops_at_all() -> None:
    """Where there is no drop none is blocked."""
    house = House((), Walls(0, 0), Walls(0, 0), 0, Fraction(2, 5), Fraction(3, 4), 0)
    kind = kind_at(house, BELIEF, HALF)
    assert blocked_drops(house, kind, 0) == [1.0]
    assert (split(house, 0), openings(house, 0), usual_blocked(house, kind, 0)) == ((0, 0), 0, 0)


@given(house=houses, points=st.integers(0, 8))
@QUIET
def test_harder_houses_are_blocked_more(house: House, points: int) -> None:
    """In a harder house, and with one more probed bay found blocked, at least as many drops are blocked."""
    def within(kind: Kind, most: int) -> float:
        return sum(blocked_drops(house, kind, points)[:most + 1])

    worse = replace(house, inside=Walls(house.inside.probed + 1, house.inside.blocked + 1))
    steps = [*kinds_of(house, BELIEF, 3), kind_at(worse, BELIEF, Fraction(5, 6))]
    for easier, harder in pairwise(steps):
        for most in range(house.list_drops + points + 1):
            assert within(harder, most) <= within(easier, most) + EXACT


@given(house=houses, s=places, points=st.integers(0, 8))
@QUIET
def test_usual_blocked_is_the_mean(house: House, s: Fraction, points: int) -> None:
    """The usual count of blocked drops is the mean of their chances, halves upward."""
    exact = oracle.blocked_chances(house, BELIEF, s, points)
    mean = sum((count * p for count, p in exact.items()), Fraction(0))
    assert usual_blocked(house, kind_at(house, BELIEF, s), points) == oracle.half_up(mean)


# ------------------------------------------------------------------------------------------------- counts


@pytest.mark.parametrize(("points", "drops", "opened"),
                         [(0, (20, 13), 25), (5, (23, 15), 29), (30, (38, 25), 48)])
def test_split_and_openings_by_hand(points: int, drops: tuple[int, int], opened: int) -> None:
    """Points are one drop each; outside drops are rounded half up and openings are rounded up."""
    # By hand from worked example 4, invented house: 33 drops, 2 of 5 outside, 3/4 opening a drop.
    assert split(examples.EXAMPLE_4_HOUSE, points) == drops
    assert openings(examples.EXAMPLE_4_HOUSE, points) == opened
    by_room = replace(examples.EXAMPLE_4_HOUSE, list_openings=27)
    assert openings(by_room, points) == 27 + ceil(by_room.openings_a_drop * points)


@given(house=houses, s=places, points=st.integers(0, 8))
@QUIET
def test_later_costs_as_counted(house: House, s: Fraction, points: int) -> None:
    """A later cost is its price at `s` times openings, square feet, or the one house."""
    counts, kind = later_counts(house, house.options[0], points), kind_at(house, BELIEF, s)
    assert ({key: kind.later[key] * count for key, count in counts.items()}
            == oracle.later_cents(house.later, house, house.options[0], s, points))


def test_shift_of_the_firm() -> None:
    """A firm that sees no difference between easy and hard houses has the same drops in all of them."""
    flat = Belief(examples.PRIOR, shift=Fraction(0))
    kinds = kinds_of(examples.EXAMPLE_4_HOUSE, flat)
    assert len({(kind.inside, kind.outside) for kind in kinds}) == 1


@pytest.mark.parametrize("n", [0, 1, 7, 450])
def test_several_shapes_at_once(n: int) -> None:
    """Rows of several shapes worked out together are those of an outside library, for a house of any size."""
    # Outside values: scipy.stats.betabinom.
    shapes = np.array([[1.5, 6.5], [2.0, 7.0], [0.25, 0.25], [30.0, 2.0]])
    rows = beta_binomials(n, shapes[:, :1], shapes[:, 1:])
    assert rows == pytest.approx(np.array([stats.betabinom(n, a, b).pmf(range(n + 1)) for a, b in shapes]), abs=EXACT)


def test_shapes_without_weight_are_refused() -> None:
    """A house that a belief gives no weight to blocked drops, or to open ones, is refused."""
    house = House((), Walls(0, 0), Walls(0, 0), 3, Fraction(0), Fraction(1), 0)
    belief = Belief(examples.PRIOR, blocked_a=HALF, shift=Fraction(1))
    with pytest.raises(ValueError, match="beta_binomials needs"):
        blocked_chances(house, kinds_of(house, belief), [0])
