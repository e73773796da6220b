"""What a survey says of the house that no sheet decides: it goes to the licensed person as a question."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.figure import Quote
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.trade.load_parts import HEAT

BALLOON, FILLED, BOILER = "balloon", "filled", "boiler"
CARS = {"vehicle charger": "vehicle-charger", "car outlet": "car-outlet"}
"""What a car is charged from -> the key of what is asked of it."""


class Asked(Struct, frozen=True):
    """Something to be asked: the key of its words, and the survey's own word that goes into them."""

    key: str
    about: Quote | None = None


def asked_of(inputs: Inputs, make: Cited) -> tuple[Asked, ...]:
    """Everything of the survey that raises a question of its own."""
    return tuple(_asked(inputs, make))


def _asked(inputs: Inputs, make: Cited) -> Iterator[Asked]:
    house, panel = inputs.job.house, inputs.job.panel
    if house.framing == BALLOON:
        yield Asked("balloon-framing")
    if house.outside_walls == FILLED:
        yield Asked("filled-walls")
    for i, load in enumerate(inputs.job.loads):
        if load.is_ == BOILER:
            yield Asked("own-circuit", make.quote("survey", "loads", i, "what"))
        if load.is_ in CARS:
            yield Asked(CARS[load.is_], make.quote("survey", "loads", i, "what"))
    if not any(load.is_ in (BOILER, *HEAT, "heat pump") for load in inputs.job.loads):
        yield Asked("heating-unlisted")
    for i, room in enumerate(inputs.job.rooms):
        if room.kind == "porch" and room.sills:
            yield Asked("porch-closed-in", make.quote("survey", "rooms", i, "room"))
    if panel.new_rating is not None:
        if panel.meter_wall is None:
            yield Asked("meter-wall-unknown")
        else:
            yield Asked("meter-wall", make.quote("survey", "panel", "meter wall"))


__all__ = ["BALLOON", "FILLED", "Asked", "asked_of"]
