"""What a survey says of the house and no sheet decides is asked of the licensed person, with its section."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.job.load import load
from sitegen.job.model import Load
from sitegen.offer.asked import CARS, asked_of
from sitegen.offer.cited import Cited
from sitegen.review.questions import ASKED, questions
from tests.helpers import DEMO

INPUTS = load(DEMO, DEMO / "alder-lane", DEMO)
HEATING = ("own-circuit", "heating-unlisted")
"""Keys of what heats the house, asked in every job: tested by themselves."""


def asked(house: dict[str, Any] | None = None, panel: dict[str, Any] | None = None) -> list[str]:
    """Keys of the questions of the demo house with other words on its walls or its panel, but those on its heating; its
    service is new."""
    job = INPUTS.job
    changed = replace(INPUTS, job=job.model_copy(update={
        "house": job.house.model_copy(update=house or {}), "panel": job.panel.model_copy(update=panel or {})}))
    return [one.key for one in asked_of(changed, Cited(changed)) if one.key not in HEATING]


@pytest.mark.parametrize(("framing", "key"), [("balloon", ["balloon-framing"]), ("platform", []), ("not seen", [])])
def test_walls_that_run_open_bring_the_fire_stops_up(framing: str, key: list[str]) -> None:
    """Balloon framing asks who seals each hole through a plate (NEC 300.21, from memory)."""
    assert asked({"framing": framing}, {"meter_wall": None, "new_rating": None}) == key


@pytest.mark.parametrize(("walls", "key"), [("filled", ["filled-walls"]), ("to be filled", []), ("not filled", []),
                                            ("not seen", [])])
def test_filled_walls_are_asked_about(walls: str, key: list[str]) -> None:
    """Insulation round old wire is against NEC 394.12(5), from memory; what is yet to come is said on sheet 1."""
    assert asked({"outside_walls": walls}, {"new_rating": None}) == key


@pytest.mark.parametrize("kind", CARS)
def test_what_a_car_is_charged_from_is_asked_about(kind: str) -> None:
    """Its own equipment and an outlet for its cord each bring the questions of NEC 625, from memory."""
    load = Load.model_validate({"what": "by the drive", "is": kind, "takes": "32 A"})
    changed = replace(INPUTS, job=INPUTS.job.model_copy(update={"loads": [*INPUTS.job.loads, load]}))
    assert [str(one.about) for one in asked_of(changed, Cited(changed)) if one.key == CARS[kind]] == ["by the drive"]


def test_what_heats_the_house_is_asked_about() -> None:
    """A boiler has a circuit and a switch of its own (NEC 422.12); where no heat is listed, which it is is asked."""
    def keys(loads: list[Load]) -> list[tuple[str, str]]:
        changed = replace(INPUTS, job=INPUTS.job.model_copy(update={"loads": loads}))
        return [(one.key, str(one.about)) for one in asked_of(changed, Cited(changed)) if one.key in HEATING]
    assert keys(INPUTS.job.loads) == [("own-circuit", "boiler")]
    assert keys([]) == [("heating-unlisted", "None")]
    assert keys([Load.model_validate({"what": "heater", "is": "room heat", "takes": "1,500 VA"})]) == []


@pytest.mark.parametrize(("kind", "sills", "key"), [("porch", 4, ["porch-closed-in"]), ("porch", 0, []),
                                                    ("sunroom", 4, [])])
def test_a_porch_with_windows_is_asked_about(kind: str, sills: int, key: list[str]) -> None:
    """One closed in with glass is a sunroom (NEC 210.12, 210.52(A)); an open one is a porch."""
    rooms = [room.model_copy(update={"kind": kind, "sills": sills}) if room.room == "Sun porch" else room
             for room in INPUTS.job.rooms]
    changed = replace(INPUTS, job=INPUTS.job.model_copy(update={"rooms": rooms}))
    assert [one.key for one in asked_of(changed, Cited(changed)) if one.key == "porch-closed-in"] == key


def test_a_new_service_asks_on_which_wall_the_meter_stands() -> None:
    """With a new service its wall is asked of the utility, known or not; with the old one nothing is asked."""
    assert asked() == ["meter-wall-unknown"]
    assert asked(panel={"meter_wall": "the north wall"}) == ["meter-wall"]
    assert asked(panel={"meter_wall": "the north wall", "new_rating": None}) == []


def test_every_question_of_the_survey_has_its_words_and_its_section() -> None:
    """The wall's own name stands in its question, and each names a section that nobody here saw as from memory."""
    job = INPUTS.job.model_copy(update={"panel": INPUTS.job.panel.model_copy(update={"meter_wall": "the north wall"})})
    said = [str(one) for one in questions(offer_from(replace(INPUTS, job=job)))]
    assert [one for one in said if one.startswith("The meter stands on this wall: the north wall.")]
    assert all(section.startswith("NEC") for _, section in ASKED.values())
