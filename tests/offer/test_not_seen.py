"""What somebody told us and what we assumed: every figure of such a line says so, on a sheet and in the list."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.figure import Figure, NotSeen
from sitegen.job.load import load
from sitegen.offer.cited import within
from sitegen.offer.offer import Offer
from sitegen.sheets.words import say
from tests.helpers import DEMO

INPUTS = load(DEMO, DEMO / "alder-lane", DEMO)


def with_lines(**named: list[str]) -> dict[str, Figure]:
    """The figures of the demo house with these lines called told or assumed, by name."""
    made: Offer = offer_from(replace(INPUTS, job=INPUTS.job.model_copy(update=named)))
    return {figure.name: figure for figure in made.figures()}


@pytest.mark.parametrize(("above", "is_within"), [
    ("rooms.3.now.outlet", True), ("rooms.3.now", True), ("rooms[3].now", True), ("rooms.3", True), ("rooms", True),
    ("rooms.31", False), ("rooms.3.no", False), ("rooms.3.now.outlet.more", False), ("rooms.2", False)])
def test_a_line_stands_within_the_path_that_names_it(above: str, is_within: bool) -> None:
    """A path names its own line and all below it, counted from one, with dots or as a message writes it."""
    assert within(("rooms", 2, "now", "outlet"), above) == is_within


def test_nothing_is_marked_where_all_was_seen() -> None:
    """A house whose every line was seen has no figure that says otherwise."""
    assert not [figure for figure in with_lines().values() if figure.source.not_seen]


def test_a_figure_of_a_line_that_was_told_or_assumed_knows_it() -> None:
    """A line by itself marks the figures that are that line, and sums of several lines are marked in part."""
    figures = with_lines(told=["house.built", "rooms.1.now"], assumed=["loads.1.takes"])
    marked = {name: figure.source.not_seen for name, figure in figures.items() if figure.source.not_seen}
    assert marked.pop("house.built") == NotSeen("told", ("house.built",))
    rooms = {name for name in marked if name.startswith("rooms.")}
    assert rooms
    assert all(name.startswith("rooms.entry-hall.") and name.endswith(".now") for name in rooms)
    loads = {name: marked[name] for name in marked if name not in rooms}
    assert {name.split(".")[1] for name in loads} == {"present", "optional", "standard", "neutral"}
    assert set(loads.values()) == {NotSeen("assumed", ("loads.1.takes",), part=True)}


def test_what_is_told_and_what_is_assumed_of_one_sum_are_both_named() -> None:
    """The source of a sum names every line of it that nobody saw; what was assumed is said."""
    total = with_lines(told=["house.area"], assumed=["loads.2"])["service.optional.total"]
    assert total.source.not_seen == NotSeen("assumed", ("loads.2", "house.area"), part=True)
    assert str(total.source).endswith("; in part assumed, not seen (loads.2, house.area)")


@pytest.mark.parametrize(("how", "part", "said"), [
    ("told", False, "we were told this"), ("assumed", False, "we assumed this"),
    ("told", True, "in part as we were told"), ("assumed", True, "in part assumed")])
def test_a_page_says_it_after_the_figure(how: str, part: bool, said: str) -> None:
    """The words stand behind the figure wherever it is said, and a figure that was seen has none."""
    seen = with_lines()["house.built"]
    assert say(seen).endswith("</data>")
    unseen = replace(seen, source=replace(seen.source, not_seen=NotSeen(how, ("house.built",), part)))
    assert say(unseen) == f"{say(seen)} ({said})"
