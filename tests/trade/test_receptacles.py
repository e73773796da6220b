"""Receptacle counts: runs, outlines, islands, and what a town makes of them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from sitegen.rules.read import given
from sitegen.trade.circuits import ROOM_KINDS
from sitegen.trade.receptacles import (
    BY_WALLS,
    OutletRoom,
    Outline,
    ReceptacleRule,
    answers,
    by_outline,
    by_runs,
    counter,
    house_questions,
    island,
    needs,
)

R17, R20, R23, R26 = (given(ReceptacleRule, "receptacle", edition) for edition in ("2017", "2020", "2023", "2026"))
feet = st.fractions(0, 60, max_denominator=12)


def covered(run: Fraction, count: int) -> bool:
    """Whether `count` receptacles spread evenly leave no point of a run farther than 6 ft from one."""
    return count > 0 and run / count / 2 <= 6


@forall(feet, feet)
def test_a_longer_run_never_needs_fewer(one: Fraction, other: Fraction) -> None:
    """Length only adds, along walls and counters."""
    low, high = sorted((one, other))
    assert by_runs(R20, [low]) <= by_runs(R20, [high])
    assert counter(R20, low) <= counter(R20, high)


@forall(feet.filter(lambda run: run >= 2))
def test_the_count_of_a_run_is_the_least_that_reaches_every_point(run: Fraction) -> None:
    """So many leave no point over 6 ft away, one fewer would (210.52(A)(1))."""
    count = by_runs(R20, [run])
    assert covered(run, count)
    assert not covered(run, count - 1)


@settings(max_examples=100)
@forall(st.lists(feet, max_size=6), st.lists(st.fractions(0, 6, max_denominator=12), min_size=1, max_size=6))
def test_an_outline_is_a_floor_of_every_room_that_it_can_be(runs: list[Fraction], breaks: list[Fraction]) -> None:
    """However the walls fall between the breaks, measuring them gives no fewer."""
    runs = runs[:len(breaks)]
    if sum(runs) + sum(breaks) > 0:
        assert by_outline(R20, Outline(sum(runs) + sum(breaks), tuple(breaks))) <= by_runs(R20, runs)


@forall(feet.filter(lambda run: run > 0))
def test_a_room_without_a_break_is_one_run(perimeter: Fraction) -> None:
    """A closed loop needs as many as a run of its whole perimeter."""
    assert by_outline(R20, Outline(perimeter)) == by_runs(R20, [perimeter])


def test_an_outline_takes_doors_away_and_runs_that_may_be_short() -> None:
    """52 ft with doors of 3 and 3 ft leave 46; up to 2 ft may lie in a short run: 44 ft ask for 4."""
    assert by_outline(R20, Outline(52, (3, 3))) == 4
    assert by_outline(R20, Outline(52)) == 5
    assert by_outline(R20, Outline(9, (3, 3))) == 0
    assert by_outline(R20, Outline(10, (3, 3))) == 1


def test_an_outline_says_that_it_was_not_measured() -> None:
    """A floor is marked; a room of which nothing is known asks for one, marked too."""
    measured, outline, unknown = (needs(R20, OutletRoom("", "bedroom", 0, 0, walls=walls))[0]
                                  for walls in ((12, 14), Outline(52, (3,)), None))
    assert (measured.count, measured.measured) == (3, True)
    assert (outline.count, outline.measured) == (5, False)
    assert (unknown.count, unknown.measured) == (1, False)


def test_what_a_town_asks_never_hides_the_shortfall_against_the_code() -> None:
    """Same places: as many as now, and how far the plan falls short of the rule; asked: both answers."""
    room = OutletRoom("parlor", "living room", now=2, planned=2, walls=(30, 25))
    same, = answers(R20, room, "same places")
    assert (same.minimum, same.short, same.full, same.short_of_full) == (2, 0, 6, 4)
    full, = answers(R20, room, "full")
    assert (full.minimum, full.short, full.short_of_full) == (6, 4, 4)
    assert answers(R20, room, "ask") == (full, same)
    with pytest.raises(ValueError, match="same places"):
        answers(R20, room, "none")


@forall(st.sampled_from(ROOM_KINDS), st.integers(0, 20), st.integers(0, 20), st.sampled_from((R17, R20, R23, R26)))
def test_a_room_is_short_by_what_the_plan_lacks(kind: str, now: int, planned: int, rule: ReceptacleRule) -> None:
    """Never below zero, and plan and shortfall reach the minimum."""
    for answer in answers(rule, OutletRoom("room", kind, now, planned), "ask"):
        assert answer.short == max(0, answer.minimum - planned)
        assert answer.short_of_full == max(0, answer.full - planned)
        assert answer.full == sum(need.count for need in answer.needs)
        assert all(need.section.startswith("NEC 210.52") for need in answer.needs)


def test_a_kitchen_has_walls_counters_and_an_island() -> None:
    """Each part is counted by its own rule and named."""
    room = OutletRoom("kitchen", "kitchen", 2, 8, walls=(10,), counters=(11, 12, 48, 60), islands=((72, 36),))
    assert [(need.reason, need.count) for need in needs(R20, room)] == [
        ("walls", 1), ("counter", 4), ("island, by area", 2)]


@forall(st.integers(1, 120), st.integers(1, 120))
def test_an_island_counts_by_its_edition(length: int, width: int) -> None:
    """2017 one each from 24 by 12 in; 2020 by area; since 2023 none; either side may be called its length."""
    area = Fraction(length * width, 144)
    assert island(R17, length, width).count == (max(length, width) >= 24 and min(length, width) >= 12)
    count = island(R20, length, width).count
    assert 9 + 18 * (count - 1) >= area
    assert count == 1 or 9 + 18 * (count - 2) < area
    assert island(R23, length, width).count == island(R26, length, width).count == 0
    assert island(R20, length, width) == island(R20, width, length)


def test_halls_and_foyers() -> None:
    """A hall from 10 ft on has one; without its length it counts as one; a foyer over 60 sq ft by its walls."""
    hall = OutletRoom("", "hall", 0, 0, length=10)
    assert [needs(R20, room)[0].count for room in (hall, OutletRoom("", "hall", 0, 0, length=9))] == [1, 0]
    unknown, = needs(R20, OutletRoom("", "hall", 0, 0))
    assert (unknown.count, unknown.measured) == (1, False)
    for area, count in ((60, 0), (61, 2), (None, 2)):
        need, = needs(R20, OutletRoom("", "hall", 0, 0, area=area, foyer_walls=(3, 8, 2)))
        assert (need.count, need.measured) == (count, area is not None)


def test_rooms_that_the_rule_leaves_out() -> None:
    """Stairs, closets, attics and utility rooms ask for none; a washer there asks for one, as do bath and garage."""
    assert [needs(R20, OutletRoom("", kind, 0, 0))[0].count for kind in ("bathroom", "garage", "outdoors")] == [1, 1, 2]
    for kind in ("stairs", "closet", "attic", "utility"):
        assert needs(R20, OutletRoom("", kind, 0, 0)) == ()
    assert [need.reason for need in needs(R20, OutletRoom("", "utility", 0, 0, laundry=True))] == ["laundry"]
    assert set(BY_WALLS) < set(ROOM_KINDS)


def test_a_house_is_asked_for_what_every_house_has() -> None:
    """Outdoors, laundry, bathroom and kitchen; a washer in the cellar is a laundry."""
    assert house_questions(()) == ("no-outdoors-listed", "no-laundry-listed", "no-bathroom-listed",
                                   "no-kitchen-listed")
    cellar = OutletRoom("cellar", "unfinished basement", 0, 0, laundry=True)
    assert house_questions((cellar, OutletRoom("bath", "bathroom", 0, 0))) == ("no-outdoors-listed",
                                                                               "no-kitchen-listed")


def test_impossible_rooms_are_refused() -> None:
    """An unknown kind, a measure below zero, doors longer than the walls."""
    for kind, now, walls in (("ballroom", 0, ()), ("bedroom", -1, ()), ("bedroom", 0, (-1,))):
        with pytest.raises(ValueError, match="below zero"):
            OutletRoom("room", kind, now, 0, walls=walls)
    for perimeter, breaks in ((0, ()), (10, (11,)), (10, (-1,))):
        with pytest.raises(ValueError, match="perimeter"):
            Outline(perimeter, breaks)
