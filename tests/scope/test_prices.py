"""The price of a list is its scope at set prices, line by line, as a pencil adds it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.build import context_of
from sitegen.job.books import Kit, SetPrices
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.scope.counts import Counts
from sitegen.scope.prices import places_to_come, price_lines, total
from sitegen.survey.house import kit_of
from sitegen.survey.rule_sets import rule_set

HOME = Path(__file__).parents[1] / "example_house"
INPUTS: Inputs = load(HOME, HOME / "quill-street", HOME)
ITEM: Kit = kit_of(INPUTS, "per-item")
COUNTS: Counts = context_of(INPUTS, rule_set(INPUTS.town.code)).scope["per-item"].counts
PERMIT = 185_00
"""What the town asks for a permit, as its card says."""

DEVICES = ("panel", "service", "alarm", "set_up")
money = st.integers(0, 5_000_00)


def kit(new_places: str = "in the price", **prices: Any) -> Kit:
    """The kit of the list with these set prices; what is not named costs nothing."""
    base: dict[str, Any] = {"list_point": 520_00, "kinds": {}, "new_place": 420_00, **dict.fromkeys(DEVICES, 0)}
    return ITEM.model_copy(update={"prices": SetPrices.model_construct(**{**base, **prices}),
                                   "new_places": new_places})


def lines(one: Kit) -> dict[tuple[str, str], tuple[int, int]]:
    """Count and set price of every line of the price, by its item and its kind."""
    return {(line.key, line.kind): (line.count, line.each) for line in price_lines(INPUTS, one, COUNTS)}


def test_the_price_of_the_example_by_pencil() -> None:
    """Twenty points at $520 are $10,400, fourteen new places at $420 are $5,880, and the permit is $185: $16,465."""
    found = price_lines(INPUTS, kit(), COUNTS)
    assert [(line.key, line.count, line.each, line.amount) for line in found] == [
        ("list-points", 20, 520_00, 10_400_00), ("new-places", 14, 420_00, 5_880_00), ("permit", 1, PERMIT, PERMIT)]
    assert total(found) == 16_465_00


def test_everything_that_has_a_set_price_has_its_line() -> None:
    """With a panel at $2,900, a service at $2,200, seven alarms at $150 and set-up at $700: $23,315."""
    one = kit(panel=2_900_00, service=2_200_00, alarm=150_00, set_up=700_00)
    assert lines(one) == {("list-points", ""): (20, 520_00), ("new-places", ""): (14, 420_00),
                          ("panel", ""): (1, 2_900_00), ("service", ""): (1, 2_200_00), ("alarms", ""): (7, 150_00),
                          ("set-up", ""): (1, 700_00), ("permit", ""): (1, PERMIT)}
    assert total(price_lines(INPUTS, one, COUNTS)) == 16_465_00 + 2_900_00 + 2_200_00 + 7 * 150_00 + 700_00


def test_a_kind_with_a_price_of_its_own_has_a_line_of_its_own() -> None:
    """Three ceiling lights at $610 leave seventeen points at $520; a kind that the list has not has no line."""
    one = kit(kinds={"ceiling light": 610_00, "wall light": 300_00})
    assert lines(one)["list-points", ""] == (17, 520_00)
    assert lines(one)["list-points", "ceiling light"] == (3, 610_00)
    assert ("list-points", "wall light") not in lines(one)
    assert total(price_lines(INPUTS, one, COUNTS)) == 16_465_00 + 3 * (610_00 - 520_00)


@pytest.mark.parametrize("held", [0, 5, 14])
def test_new_places_at_a_set_price_stand_beside_the_price_today(held: int) -> None:
    """Those that the price does not hold leave it, and come to the same beside it."""
    some = replace(COUNTS, places_held=held)
    one = kit("at a set price")
    found = price_lines(INPUTS, one, some)
    assert sum(line.count for line in found if line.key == "new-places") == held
    assert places_to_come(one, some) == (14 - held) * 420_00
    assert total(found) + places_to_come(one, some) == 16_465_00
    assert places_to_come(kit(), COUNTS) == 0


def test_a_kit_without_set_prices_has_no_sum() -> None:
    """A price for every point is no sum of set prices."""
    every = kit_of(INPUTS, "fixed-guarantee")
    with pytest.raises(ValueError, match="no sum"):
        price_lines(INPUTS, every, COUNTS)
    assert places_to_come(every, COUNTS) == 0


@given(money, money, st.tuples(money, money, money, money),
       st.dictionaries(st.sampled_from(("outlet", "switch", "ceiling light", "wall light")), money),
       st.sampled_from(("in the price", "at a set price")), st.integers(0, 20), st.integers(0, 1))
def test_a_price_is_counts_times_set_prices_and_never_falls_with_what_it_holds(
        point: int, place: int, devices: tuple[int, ...], kinds: dict[str, int], how: str, more: int,
        panel: int) -> None:
    """Whatever the set prices, the lines come to the dot product of counts and prices, and a place or a panel more
    adds its set price and nothing else."""
    one = kit(how, list_point=point, new_place=place, kinds=kinds, **dict(zip(DEVICES, devices, strict=True)))
    had = replace(COUNTS, panel=0)
    has = replace(COUNTS, panel=panel, places={"outlet": COUNTS.places["outlet"] + more})

    def sum_of(counted: Counts) -> int:
        return total(price_lines(INPUTS, one, counted)) + places_to_come(one, counted)
    points = sum(count * kinds.get(kind, point) for kind, count in COUNTS.points.items())
    assert sum_of(had) == points + 14 * place + devices[1] + 7 * devices[2] + devices[3] + PERMIT
    assert sum_of(has) - sum_of(had) == more * place + panel * devices[0]
    assert all(line.count > 0 and line.each > 0 for line in price_lines(INPUTS, one, has))
