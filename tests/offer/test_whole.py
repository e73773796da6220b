"""What is opened stands in the patch schedule and in the lead log, and what an option does more never costs less."""

from __future__ import annotations

import random

import pytest
from msgspec.structs import replace

from sitegen.build import context_of, offer_from
from sitegen.figure import Figure, fraction_of, int_of
from sitegen.job.inputs import Inputs
from sitegen.offer.offer import Offer
from sitegen.survey.rule_sets import rule_set
from tests.truth import made

SEEDS = range(7_000, 7_006)
MORE = ("alarms", "splices", "car outlets", "new place")
"""What is added to every option: things that its kit does beside points, or a new outlet."""


@pytest.mark.parametrize("seed", SEEDS)
def test_every_hole_stands_in_the_patch_schedule_and_in_the_lead_log(seed: int) -> None:
    """In a made job too, holes of the rooms are those of the option, each in one band of the schedule; and each room
    with a hole in old paint has its area, its limit and a verdict, and our own standard whatever the verdict is."""
    inputs = made(seed)
    offer, dust = offer_from(inputs), context_of(inputs, rule_set(inputs.town.code)).dust
    keys = {room.name.text: room.key for room in offer.rooms}
    for option in offer.outcome.options:
        care, worked = offer.protection.options[option.key], dust[option.key]
        opened = {keys[name]: room.work.opened.openings for name, room in worked.items()}
        assert {key: int_of(room.openings) for key, room in care.rooms.items()} == opened
        assert int_of(option.holes) == sum(opened.values()) == sum(int_of(band) for band in care.patches)
        for name, room in worked.items():
            logged = care.rooms[keys[name]]
            assert fraction_of(logged.area) >= 0
            if room.work.opened.area and offer.lead.assumed and name not in inputs.job.lead.free_rooms:
                assert logged.lead_safe


def with_more(inputs: Inputs, more: str) -> Inputs:
    """The same files, each option doing one thing more; the prices are those of the books."""
    job, book = inputs.job, inputs.book
    rows = [row.model_copy(update={"price": None, "because": None}) for row in job.options]
    if more == "new place":
        room = next(room for room in job.rooms if room.want.get("outlet"))
        want = {**room.want, "outlet": room.want["outlet"] + 1}
        rooms = [one.model_copy(update={"want": want}) if one is room else one for one in job.rooms]
        return replace(inputs, job=job.model_copy(update={"options": rows, "rooms": rooms}))
    kits = {name: kit.model_copy(update={
        "also_does": [*kit.also_does, more],
        "prices": kit.prices and kit.prices.model_copy(update={"splice": 240_00, "car_outlet": 1_150_00})})
        for name, kit in book.kits.items()}
    return replace(inputs, job=job.model_copy(update={"options": rows}), book=book.model_copy(update={"kits": kits}))


def bare(inputs: Inputs) -> Inputs:
    """A job that asks for everything, offered by kits that do points alone, at the prices from the books."""
    job = inputs.job
    splice = job.findings[0].model_copy(update={"number": 99, "about": "splice", "rooms": [job.rooms[0].room],
                                                "kinds": [], "left": None})
    car = job.loads[0].model_copy(update={"what": "outlet by the drive", "is_": "car outlet", "new": True, "count": 1})
    kits = {name: kit.model_copy(update={"also_does": []}) for name, kit in inputs.book.kits.items()}
    rows = [row.model_copy(update={"price": None, "because": None}) for row in job.options]
    return replace(inputs, book=inputs.book.model_copy(update={"kits": kits}), job=job.model_copy(update={
        "options": rows, "findings": [*job.findings, splice], "loads": [*job.loads, car]}))


def totals(offer: Offer) -> dict[str, int]:
    """Every total of every option [cents]."""
    found = {}
    for option in offer.outcome.options:
        figures: tuple[Figure | None, ...] = (option.price, option.p10, option.p50, option.p90, option.with_known,
                                              option.most_paid)
        found |= {figure.name: int_of(figure) for figure in figures if figure is not None}
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_a_scope_item_more_never_lowers_a_total(seed: int) -> None:
    """Alarms, a splice boxed, a car outlet or a new place leave no price, ending or most that is smaller, and no option
    costs the firm less."""
    inputs = bare(made(seed))
    more = with_more(inputs, random.Random(seed).choice(MORE))
    before, after = totals(offer_from(inputs)), totals(offer_from(more))
    assert {name for name in before if after[name] < before[name]} == set()
    costs = [{key: one.firm.cost[1] for key, one in context_of(files, rule_set(files.town.code)).scope.items()}
             for files in (inputs, more)]
    assert all(costs[1][key] >= cents for key, cents in costs[0].items())
