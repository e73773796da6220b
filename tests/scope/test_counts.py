"""What an option does, counted: the example house by hand, and rules that hold in every demo house."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen.build import context_of
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.context import Context
from sitegen.scope.counts import Counts, counts
from sitegen.survey.house import kit_of
from sitegen.survey.rule_sets import rule_set
from tests.built import HOUSES, offer
from tests.helpers import DEMO

HOME = Path(__file__).parents[1] / "example_house"
INPUTS: Inputs = load(HOME, HOME / "quill-street", HOME)
RULES = rule_set(INPUTS.town.code)
CONTEXT: Context = context_of(INPUTS, RULES)
ONE, ITEM, BARE = "fixed-guarantee", "per-item", "minimal-protection"


def counted(key: str) -> Counts:
    """What one option does in the example house."""
    return CONTEXT.scope[key].counts


def test_a_list_counted_by_hand() -> None:
    """The list of the example: 14 outlets, 3 switches and 3 lights, 14 new outlets, 32 1/2 drops on five feeds, and
    3, 5, 3, 5, 2, 3, 3 and 3 holes in eight rooms."""
    found = counted(ITEM)
    assert found.points == {"outlet": 14, "switch": 3, "ceiling light": 3}
    assert found.places == {"outlet": 14}
    assert (found.all_points, found.all_places) == (20, 14)
    assert found.drops == 14 + 3 + Fraction(3, 2) + 14
    assert found.feeds == 5                 # front-outlets, down-lights, back-outlets, up-front- and up-back-outlets
    assert (found.rooms, found.holes) == (8, 3 + 5 + 3 + 5 + 2 + 3 + 3 + 3)


def test_every_point_counted_by_hand() -> None:
    """All but the points of the kitchen and the basement, which are on cable seen new: 23 outlets, 14 switches, 12
    ceiling lights and a wall light, with 58 drops on ten feeds in twelve rooms."""
    found = counted(ONE)
    assert found.points == {"outlet": 23, "switch": 14, "ceiling light": 12, "wall light": 1}
    assert found.places == {"outlet": 14}
    assert found.drops == 23 + 14 + 6 + 1 + 14
    assert (found.feeds, found.rooms, found.laid) == (10, 12, 12)


def test_a_house_of_two_flats_gets_a_panel_for_each_and_one_for_both() -> None:
    """Three panels are set, cost three times the hours, and are asked for three times."""
    inputs = load(DEMO, DEMO / "garnet-street", DEMO)
    for one in context_of(inputs, rule_set(inputs.town.code)).scope.values():
        assert one.counts.panel == 3
        cost = next(line for line in one.costs if line.key == "panel")
        assert cost.hours == 3 * inputs.costs.panel.hours
        assert [line.count for line in one.lines if line.key == "panel"] in ([], [3])


def test_alarms_counted_by_hand() -> None:
    """One in each of three bedrooms, one outside them, and one on each of the other storeys: basement, first and
    attic; smoke and carbon monoxide are told by one device where both belong in one place."""
    assert {counted(key).alarms for key in (ONE, ITEM, BARE)} == {3 + 1 + 3}


def test_what_is_laid_closed_and_cleaned_is_what_the_kit_says() -> None:
    """Per item lays sheet in its eight rooms, closes 27 holes in two visits a half room each, and cleans the storeys
    that it works on; Wiring only lays and closes nothing, and cleans its eight rooms."""
    item, bare = counted(ITEM), counted(BARE)
    assert (item.laid, item.patched, item.cleaned) == (8, 27, 12)       # all but attic and basement
    assert item.visits == 2 * Fraction(1, 8) * 8                        # two coats, in an empty house all rooms at once
    assert (bare.laid, bare.patched, bare.visits, bare.cleaned) == (8, 0, 0, 8)     # sheet is laid in every option
    assert bare.holes == item.holes


def test_in_a_house_that_is_lived_in_the_plasterer_comes_more_often() -> None:
    """Two rooms at a time are eight rooms in four turns, of two coats each."""
    job = INPUTS.job.model_copy(update={"lived_in": True})
    lived = context_of(replace(INPUTS, job=job), RULES)
    assert lived.scope[ITEM].counts.visits == 2 * Fraction(8, 2)
    assert lived.scope[ITEM].counts.holes == counted(ITEM).holes


@pytest.mark.parametrize(("field", "also", "counts_of"), [
    ("new_spaces", "panel", "panel"), ("new_rating", "service", "service")])
def test_a_panel_and_a_service_are_new_where_the_plan_has_one_and_the_kit_does_it(field: str, also: str,
                                                                                  counts_of: str) -> None:
    """Neither the plan alone nor the kit alone makes one new."""
    kit = kit_of(INPUTS, ITEM)
    rooms = CONTEXT.dust[ITEM]

    def made(planned: bool, done: bool) -> int:
        panel = INPUTS.job.panel if planned else INPUTS.job.panel.model_copy(update={field: None})
        job = INPUTS.job.model_copy(update={"panel": panel})
        inputs = replace(INPUTS, job=job)
        does = [one for one in kit.also_does if one != also] + [also] * done
        found: int = getattr(counts(inputs, kit.model_copy(update={"also_does": does}), rooms, RULES, 7), counts_of)
        return found
    assert [made(planned, done) for planned in (True, False) for done in (True, False)] == [1, 0, 0, 0]


@pytest.mark.parametrize("job", HOUSES)
def test_a_price_for_every_point_does_no_less_than_a_list(job: str) -> None:
    """Of nothing does it do less, and new places are the same in every option; but for what a finding adds to the list
    on newer cable."""
    inputs = load(DEMO, DEMO / job, DEMO)
    scope = context_of(inputs, rule_set(inputs.town.code)).scope
    every, *_ = [one.counts for key, one in scope.items() if kit_of(inputs, key).covers == "every point"]
    for one in scope.values():
        assert one.counts.places == every.places
        assert one.counts.rooms <= every.rooms
        assert one.counts.holes <= every.holes
        assert one.counts.feeds <= every.feeds
        assert one.counts.all_points <= every.all_points


@pytest.mark.parametrize("job", HOUSES)
def test_the_list_on_the_page_holds_what_is_priced(job: str) -> None:
    """The rows of the list add up to the points and places that every list counts."""
    made = offer(job)
    inputs = load(DEMO, DEMO / job, DEMO)
    for key, one in context_of(inputs, rule_set(inputs.town.code)).scope.items():
        if kit_of(inputs, key).covers == "the list":
            assert made.scope.listed_count.value == one.counts.all_points + one.counts.all_places
