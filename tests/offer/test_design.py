"""The electrical design of the demo houses, and the questions that it raises for the person in charge."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.figure import Figure, int_of
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.design import Design, design
from sitegen.offer.rooms import room_keys
from sitegen.review.questions import Question, questions
from sitegen.survey.dwellings import SHARED
from sitegen.survey.rule_sets import code
from tests.built import HOUSES
from tests.helpers import DEMO

EDITIONS = ("2017", "2020", "2023", "2026")


@lru_cache
def inputs_of(house: str) -> Inputs:
    return load(DEMO, DEMO / house, Path.cwd())


@lru_cache
def made(house: str, edition: str = "2023") -> Design:
    inputs = inputs_of(house)
    return design(inputs, code(edition), room_keys(inputs.job))


def asked(inputs: Inputs, edition: str = "2023") -> tuple[Question, ...]:
    """What is asked of a job in a town of this edition."""
    return questions(offer_from(replace(inputs, town=inputs.town.model_copy(update={"code": edition}))))


def says(found: tuple[Question, ...], words: str) -> list[Question]:
    return [question for question in found if words in question.says]


@pytest.mark.parametrize("house", HOUSES)
@pytest.mark.parametrize("edition", EDITIONS)
def test_every_edition_runs_on_every_house(house: str, edition: str) -> None:
    """A town's edition is a matter of its card: all four give a design, with as many circuits at least as required."""
    found = made(house, edition)
    for panel in found.service.panels:
        assert panel.circuits_count.value == len(panel.circuits)
        assert panel.spaces_used.value == sum(len(row.spaces) for row in panel.circuits)
        if panel.key != SHARED:
            assert sum(row.sort == "small appliance" for row in panel.circuits) >= 2
            assert sum(row.sort == "laundry" for row in panel.circuits) >= 1
    assert set(found.rooms) == set(room_keys(inputs_of(house).job).values())


@pytest.mark.parametrize("edition", ["2026"])
def test_the_edition_that_nobody_verified_says_so(edition: str) -> None:
    """Values of 2026 that were read in no print are marked, on the sheet and among the questions."""
    assert made("alder-lane", edition).service.unverified
    assert not made("alder-lane").service.unverified
    assert says(asked(inputs_of("alder-lane"), edition), "not verified")


def test_the_load_of_a_house_by_hand() -> None:
    """2,460 sq ft, a 12 kW range, a 5 kW dryer, a dishwasher, two window units and a boiler, by the optional method.

    7,380 + 3,000 + 1,500 + 12,000 + 5,000 + 1,200 + 700 = 30,780 VA; 10,000 + 40 % of 20,780 = 18,312; cooling 2,400
    more: 20,712 VA, 86.3 A at 240 V (NEC 2023, 220.82).
    """
    service = made("alder-lane").service
    assert service.planned.total.value == 20_712
    assert service.planned.amperes.value == 86
    assert service.least.value == 100


def test_the_neutral_of_a_house_by_hand() -> None:
    """Lighting 3,000 + 35 % of 8,880, 70 % of 8,000 and of 5,000, dishwasher, boiler, coolers, a quarter of the motor.

    6,108 + 5,600 + 3,500 + 1,200 + 700 + 2,400 + 300 = 19,808 VA, 82.5 A (NEC 220.61).
    """
    service = made("alder-lane").service
    assert service.neutral.total.value == 19_808
    assert service.neutral.amperes.value == 83


def test_what_new_service_equipment_brings_is_asked() -> None:
    """With a new rating a surge device and a disconnect are asked about, by edition; where it stays, neither."""
    one = inputs_of("alder-lane")
    assert one.job.panel.new_rating is not None
    stays = replace(one, job=one.job.model_copy(update={"panel": one.job.panel.model_copy(
        update={"rating": 200, "new_rating": None})}))
    for edition, surge, disconnect in (("2017", 0, 0), ("2020", 1, 1), ("2023", 1, 1), ("2026", 1, 1)):
        found = asked(one, edition)
        assert (len(says(found, "surge device")), len(says(found, "a disconnect outside"))) == (surge, disconnect)
        assert not says(asked(stays, edition), "surge device")
        assert not says(asked(stays, edition), "a disconnect outside")


def test_a_service_too_small_is_a_question_and_no_approval() -> None:
    """Today's 60 A are asked about; a larger rating takes the question away, and nothing is ever approved."""
    found = asked(inputs_of("alder-lane"))
    assert says(found, "carries 60 A")
    one = inputs_of("alder-lane")
    panel = one.job.panel.model_copy(update={"rating": 200})
    mended = replace(one, job=one.job.model_copy(update={"panel": panel}))
    assert not says(asked(mended), "carries")
    assert all("approv" not in str(question) for question in found)


def test_what_was_not_measured_at_the_panel_is_asked() -> None:
    """Clear space that nobody measured is a question each; measured and wide enough, none."""
    assert len(says(asked(inputs_of("spindle-row")), "not measured")) == 2 + 1
    assert not says(asked(inputs_of("alder-lane")), "not measured")


@pytest.mark.parametrize(("side", "needed", "words"), [
    ("clear_width", 30, "width in front of the panel"), ("clear_depth", 36, "depth in front of the panel"),
    ("clear_height", 78, "headroom")])
def test_each_clear_side_of_the_panel_is_asked_by_itself(side: str, needed: int, words: str) -> None:
    """30 inches wide, 36 deep and 6 1/2 feet high are enough, and an inch less of one is asked of that one alone."""
    # NEC 110.26(A), from memory.
    one = inputs_of("alder-lane")
    sides = {"clear_width": Fraction(30, 12), "clear_depth": Fraction(36, 12), "clear_height": Fraction(78, 12)}

    def short(**other: Fraction) -> list[str]:
        panel = one.job.panel.model_copy(update=sides | other)
        found = asked(replace(one, job=one.job.model_copy(update={"panel": panel})))
        return [question.says for question in says(found, "is short")]
    assert short() == []
    question, = short(**{side: Fraction(needed - 1, 12)})
    assert words in question


def test_a_panel_with_too_few_places_is_asked() -> None:
    """Circuits that do not fit are counted."""
    one = inputs_of("alder-lane")
    panel = one.job.panel.model_copy(update={"new_spaces": 12})
    found = asked(replace(one, job=one.job.model_copy(update={"panel": panel})))
    assert says(found, "take 21 places, and the panel is short of 9")


def test_spacing_by_the_towns_rule() -> None:
    """Where a town asks for the full rule a shortfall is a question; where it takes the same places it is only said."""
    full = says(asked(inputs_of("spindle-row")), "the spacing rule asks for")
    same = says(asked(inputs_of("alder-lane")), "the town lets it stand")
    assert any("Kitchen" in question.says for question in full)
    assert any("Living room" in question.says for question in same)
    assert not says(asked(inputs_of("alder-lane")), "the spacing rule asks for")


def test_outlets_of_a_measured_room_by_hand() -> None:
    """Runs of 18, 9 and 26 feet ask for 2 + 1 + 3 outlets (NEC 210.52(A)); five are planned."""
    room = made("alder-lane").rooms["living-room"].outlets
    assert (room.full.value, room.planned.value, room.short_of_full.value) == (6, 5, 1)
    assert room.measured


def test_light_of_a_room_by_hand() -> None:
    """A study of 10 by 12 feet, light at 8 1/2 feet over a plane of 2 1/2: ratio 5 x 6 x 22 / 120 = 5 1/2.

    Between .41 and .37 the coefficient is .39; 2,600 x .39 x .8 / 120 = 6.76 fc.
    """
    light = made("alder-lane").rooms["study"].light
    assert light is not None
    assert light.average.value == Fraction(34, 5)


def test_light_on_a_task_is_asked_about_and_no_count_of_ceiling_lights() -> None:
    """A kitchen with ceiling lights alone is asked what lights its counter; no handbook's average asks for holes."""
    found = asked(inputs_of("alder-lane"))
    assert says(found, "What lights the counter, the mirror or the washer?")
    assert says(found, "planned in: Kitchen.")
    assert not says(found, "recommended average")


def test_boxes_are_checked_with_the_thickest_wire() -> None:
    """Two cables of 12 AWG, clamps and one device: 4 + 1 + 1 + 2 allowances of 2 1/4 cu in are 18 (NEC 314.16)."""
    outlet = next(box for box in made("alder-lane").boxes if box.kind.text == "outlet")
    assert outlet.required.value == 18
    assert outlet.fits
    one = inputs_of("alder-lane")
    small = one.book.boxes | {"outlet": one.book.boxes["outlet"].model_copy(update={"holds": Fraction(14)})}
    found = asked(replace(one, book=one.book.model_copy(update={"boxes": small})))
    assert says(found, "The box of an `outlet` needs 18 cu in and holds 14. The smallest standard box that would do is "
                       "square 4 x 1 1/4.")


def test_a_long_run_takes_a_thicker_wire() -> None:
    """Sixty feet at 12 A on 14 AWG lose 2 x 12 x 60 x 3.14 / 1000 = 4.5 V, over 3 %; on 12 AWG 2.4 %."""
    storeys = {run.storey.value: run for run in made("alder-lane").runs}
    assert storeys[1].gauge.text == "14"
    assert storeys[2].gauge.text == "12"
    assert storeys[2].share.value == Fraction(24, 1000)


def test_alarms_of_a_house_with_three_bedrooms() -> None:
    """Each bedroom, outside the bedrooms, each other storey with rooms; carbon monoxide outside the bedrooms."""
    found = {(alarm.kind, alarm.place): alarm.count.value for alarm in made("alder-lane").alarms}
    assert found["smoke", "each bedroom"] == 3
    assert found["smoke", "outside bedrooms"] == 1
    assert found["carbon monoxide", "outside bedrooms"] == 1


@pytest.mark.parametrize("house", HOUSES)
def test_alarms_are_as_many_on_every_page(house: str) -> None:
    """An option that sets alarms counts those that the room sheet names: one that tells smoke and carbon monoxide does
    for both in one place, so that there are no more than places."""
    offer = offer_from(inputs_of(house))
    row = next(row for row in offer.scope.rows if row.key == "alarms")
    counted = {cell.slots["count"].value for cell in row.cells if isinstance(cell.slots.get("count"), Figure)}
    assert counted == {offer.design.alarm_devices.value}
    assert int_of(offer.design.alarm_devices) <= sum(int_of(alarm.count) for alarm in offer.design.alarms)


def test_a_house_of_two_households_is_asked_about() -> None:
    """What all share is fed by nobody's equipment (NEC 210.25(B)); of one household nothing is asked."""
    assert says(asked(inputs_of("garnet-street")), "from the equipment of no dwelling")
    assert not says(asked(inputs_of("alder-lane")), "from the equipment of no dwelling")


def test_what_the_code_asks_for_is_no_extra() -> None:
    """A surge device with new service equipment (230.67) and a box that carries a fan (314.27(C)) from 2020 on."""
    one = inputs_of("alder-lane")
    stays = replace(one, job=one.job.model_copy(update={"panel": one.job.panel.model_copy(
        update={"rating": 200, "new_rating": None})}))

    def extras(inputs: Inputs, edition: str) -> set[str]:
        made_ = offer_from(replace(inputs, town=inputs.town.model_copy(update={"code": edition})))
        return {extra.kind for extra in made_.extras}
    assert {"surge device", "fan box"} <= extras(one, "2017")
    assert not {"surge device", "fan box"} & extras(one, "2020")
    assert {"surge device", "fan box"} & extras(stays, "2023") == {"surge device"}
    rooms = [extra.model_copy(update={"rooms": ["bedroom", "hall"]}) if extra.is_ == "fan box" else extra
             for extra in one.book.extras]
    halls = replace(one, book=one.book.model_copy(update={"extras": rooms}))
    assert [extra.rooms for extra in offer_from(halls).extras if extra.kind == "fan box"] == [("hall",)]


def test_a_sunroom_has_outlets_along_its_walls_and_a_pantry_none_to_count() -> None:
    """A sun porch of 8 by 14 feet with two doorways of 3 has 38 ft of wall in at most two runs: three outlets at least.
    """
    # NEC 210.52(A): 38 less the 2 ft that a short run may hide, over 12
    rooms = made("alder-lane").rooms
    assert rooms["sun-porch"].outlets.full.value == 3
    assert rooms["pantry-and-back-hall"].outlets.full.value == 0
