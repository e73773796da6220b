"""The scope table: every item answers for every option, and what is taken from a kit leaves cell, price and cost."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.figure import Figure, int_of
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.offer import Offer
from sitegen.offer.rows import rows
from sitegen.offer.scope import CELLS, EACH, IN, OUT, ScopeCell
from sitegen.scope.items import ITEMS
from tests.built import HOUSES, House, offer
from tests.helpers import DEMO, JOB

LISTS = ("minimal-protection", "per-item")


@cache
def inputs() -> Inputs:
    """The first demo house as it is read."""
    return load(DEMO, DEMO / JOB, Path.cwd())


def cell(made: Offer, item: str, key: str) -> ScopeCell:
    """What one option does of one item."""
    row = next(row for row in made.scope.rows if row.key == item)
    return next(cell for cell in row.cells if cell.option == key)


def price(made: Offer, key: str) -> int:
    """What an option asks today [cents]."""
    return next(int_of(one.price) for one in made.outcome.options if one.key == key)


def cost(made: Offer, key: str) -> int:
    """What an option costs the firm in the middle house [cents]."""
    return int_of(made.costs[key].cost[1])


def with_kits(**more: Any) -> Offer:
    """The first demo house with something else in the kits of both lists."""
    book = inputs().book
    kits = {name: kit.model_copy(update=more) if kit.covers == "the list" else kit for name, kit in book.kits.items()}
    return offer_from(replace(inputs(), book=book.model_copy(update={"kits": kits})))


def with_room(room: str, **more: Any) -> Offer:
    """The first demo house with something else in one room."""
    job = inputs().job
    rooms = [one.model_copy(update=more) if one.room == room and one.part is None else one for one in job.rooms]
    return offer_from(replace(inputs(), job=job.model_copy(update={"rooms": rooms})))


def test_every_item_has_who_answers_for_it() -> None:
    """No item is without its cell, and no cell without its item; no key stands twice."""
    assert list(CELLS) == [item.key for item in ITEMS]
    assert len(CELLS) == len(ITEMS)


@pytest.mark.parametrize("job", HOUSES)
def test_every_item_answers_for_every_option(job: str) -> None:
    """Each row has one cell for each option, in their order, each in the price, at a set price, or not in it."""
    made = offer(job)
    keys = [one.key for one in made.outcome.options]
    assert made.scope.rows
    for row in made.scope.rows:
        assert [one.option for one in row.cells] == keys, row.key
        assert {one.state for one in row.cells} <= {IN, EACH, OUT}
        assert not (row.protection and any(one.state == OUT for one in row.cells
                                           if row.key not in ("grounding", "surge"))), row.key
    assert [row.key for row in made.scope.rows] == [item.key for item in ITEMS if item.key in {
        row.key for row in made.scope.rows}]


@pytest.mark.parametrize("job", HOUSES)
def test_a_count_in_the_table_is_the_count_in_the_price(job: str) -> None:
    """What a cell of a list counts is what its line of the price counts."""
    made = offer(job)
    for one in made.outcome.options:
        for line in one.price.sum:
            found = cell(made, line.what, one.key).slots.get("count") if line.what in ("new-places", "alarms") else None
            if isinstance(found, Figure):
                assert int_of(found) == int_of(line.count), (one.key, line.what)


def test_taking_the_panel_out_of_a_kit_changes_its_cell_its_price_and_its_cost() -> None:
    """Without the panel both lists ask exactly its set price less and cost the firm less; its row says that it is not
    in them, and One price stays as it was."""
    plain, without = offer(JOB), with_kits(also_does=["service", "alarms"])
    for kit in inputs().book.kits.values():
        if kit.option in LISTS:
            assert kit.prices
            assert price(plain, kit.option) - price(without, kit.option) == kit.prices.panel > 0
            panel = next(line for line in plain.costs[kit.option].lines if line.key == "panel")
            assert cost(plain, kit.option) - cost(without, kit.option) == int_of(panel.cost)
            assert (cell(plain, "panel", kit.option).state, cell(without, "panel", kit.option).state) == (IN, OUT)
    one = "fixed-guarantee"
    assert price(plain, one) == price(without, one)
    assert cell(without, "panel", one).says_the_same(cell(plain, "panel", one))


def test_two_more_kitchen_outlets_cost_two_new_places() -> None:
    """Both lists ask two set prices of a place more; their table and the list hold two places more; One price asks
    no less."""
    kitchen = next(room for room in inputs().job.rooms if room.room == "Kitchen")
    plain, more = offer(JOB), with_room("Kitchen", want={**kitchen.want, "outlet": kitchen.want["outlet"] + 2})
    for kit in inputs().book.kits.values():
        if kit.option in LISTS:
            assert kit.prices
            assert price(more, kit.option) - price(plain, kit.option) == 2 * kit.prices.new_place
            assert cost(more, kit.option) > cost(plain, kit.option)
    assert price(more, "fixed-guarantee") >= price(plain, "fixed-guarantee")
    assert int_of(more.scope.listed_count) == int_of(plain.scope.listed_count) + 2
    was, now = (cell(made, "new-places", "per-item").slots["count"] for made in (plain, more))
    assert isinstance(was, Figure)
    assert isinstance(now, Figure)
    assert int_of(now) == int_of(was) + 2


@pytest.mark.parametrize("item", ["panel", "service", "alarms"])
def test_a_scope_item_more_never_lowers_a_total(item: str) -> None:
    """Without a thing no option asks less, costs the firm less or ends lower than with it, but those that had it."""
    plain = offer(JOB)
    without = with_kits(also_does=[one for one in ("panel", "service", "alarms") if one != item])
    for has, had in zip(plain.outcome.options, without.outcome.options, strict=True):
        assert has.key == had.key
        for more, less in ((has.price, had.price), (has.p10, had.p10), (has.p50, had.p50), (has.p90, had.p90)):
            assert int_of(more) >= int_of(less), (has.key, item)
        assert cost(plain, has.key) >= cost(without, has.key)


def test_scope_table_of_each_page(house: House) -> None:
    """Each item of the scope stands once in the comparison, in the order of the offer, and each of its cells names the
    options that it is for: each option once in a row, or all of them together."""
    names = [one.name for one in house.offer.outcome.options]
    rows = house.at("compare.html", "table.items tbody tr")
    assert [row["id"] for row in rows] == [f"scope-{row.key}" for row in house.offer.scope.rows]
    for row in rows:
        cells = row.select("td")
        said = [span.get_text(" ", strip=True) for one in cells for span in one.select(".option")]
        assert len(said) == len(cells)
        named = names if said == ["All three options"] else [name for one in said for name in one.split(", ")]
        assert named == names, row["id"]
        assert sum(int(str(one.get("colspan", 1))) for one in cells) == len(names)


def test_the_list_of_each_page(house: House) -> None:
    """Each row of the list stands once under its room, with as many in all as are said to be on it."""
    rows = house.at("compare.html", ".points tbody tr:not(.room)")
    counts = [int(str(data["value"])) for row in rows for data in row.select("td:nth-of-type(1) data")]
    assert len(counts) == len(rows) == len(house.offer.scope.listed)
    assert sum(counts) == int_of(house.offer.scope.listed_count)
    rooms = Counter(tag.get_text(strip=True) for tag in house.at("compare.html", ".points tr.room"))
    assert set(rooms) == {row.room.text for row in house.offer.scope.listed}
    assert set(rooms.values()) == {1}


@pytest.mark.parametrize("held", [None, 0, 3])
def test_a_price_holds_the_new_places_that_the_job_says(held: int | None) -> None:
    """Where a kit adds new places at a set price, a job may say how many its price holds: they are in its sum, the
    table and the first row name them, and all others come on top at the set price."""
    job, book = inputs().job, inputs().book
    kits = {name: kit.model_copy(update={"new_places": "at a set price"}) if kit.option == "per-item" else kit
            for name, kit in book.kits.items()}
    options = [one.model_copy(update={"places_in_the_price": held}) if one.option == "per-item" else one
               for one in job.options]
    made = offer_from(replace(inputs(), book=book.model_copy(update={"kits": kits}),
                              job=job.model_copy(update={"options": options})))
    each = next(kit.prices.new_place for kit in kits.values() if kit.option == "per-item" and kit.prices is not None)
    wanted = int_of(made.found.new_places)
    assert wanted > 3
    assert price(offer(JOB), "per-item") - price(made, "per-item") == (wanted - (held or 0)) * each
    money = next(one for one in made.outcome.options if one.key == "per-item")
    whole = next(one for one in offer(JOB).outcome.options if one.key == "per-item")
    assert money.with_known is not None
    assert int_of(money.with_known) == int_of(whole.with_known or whole.price)
    shown = cell(made, "new-places", "per-item")
    said = {name: int_of(slot) for name, slot in shown.slots.items() if isinstance(slot, Figure)}
    assert shown.state == EACH
    assert said == ({"each": each, "count": wanted - held, "held": held} if held else {"each": each, "count": wanted})
    first = next(row for row in rows(made) if row.key == "price")
    answer = next(one for one in first.cells if one.option == "per-item")
    places = answer.slots["places"]
    assert isinstance(places, Figure)
    assert int_of(places) == (held or 0)
