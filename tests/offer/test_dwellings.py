"""No circuit of a design serves two dwellings, or one and what all share; every point stands on exactly one."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.design.service import Service, service
from sitegen.review.faults import unworkable
from sitegen.review.questions import questions
from sitegen.survey.alarms import alarm_devices, alarm_places
from sitegen.survey.dwellings import SHARED, WHOLE, feeds_between, parts_of
from sitegen.survey.lines import lines
from sitegen.survey.rule_sets import code
from sitegen.trade.kinds import EDITIONS
from tests.built import HOUSES
from tests.helpers import DEMO

TWO = "garnet-street"


@lru_cache
def inputs_of(house: str) -> Inputs:
    return load(DEMO, DEMO / house, Path.cwd())


def with_job(inputs: Inputs, **fields: object) -> Inputs:
    """The same job with other fields."""
    return replace(inputs, job=inputs.job.model_copy(update=fields))


def holds(inputs: Inputs, found: Service) -> None:
    """Every point of the job on exactly one circuit; every circuit in one part of the house."""
    wanted = Counter[str]()
    for line in lines(inputs.job):
        wanted[line.room] += line.want
    on = Counter[str]()
    whose = {room.room: room.dwelling or SHARED for room in reversed(inputs.job.rooms) if room.kind is not None}
    for panel in found.panels:
        for row in panel.circuits:
            assert row.of == panel.key
            for one in row.held:
                on[one.room] += one.points
                assert panel.key in (WHOLE, whose[one.room])
            assert {one.room for one in row.held if one.points} <= {name.text for name in row.serves}
            if row.sort != "individual" and panel.key != WHOLE:
                parts = {whose[name.text] for name in row.serves}
                assert parts <= {panel.key}
                assert len(parts) <= code("2023").circuit.dwellings
    assert +on == +wanted


@pytest.mark.parametrize("house", HOUSES)
@pytest.mark.parametrize("edition", EDITIONS)
def test_every_point_of_a_job_stands_on_one_circuit_of_one_part(house: str, edition: str) -> None:
    """NEC 210.25(A), (B), on every demo house and in every edition."""
    holds(inputs_of(house), service(inputs_of(house), code(edition)))


@settings(max_examples=40, deadline=None)
@forall(st.data())
def test_whatever_is_whose_no_circuit_joins_two(data: st.DataObject) -> None:
    """Rooms and loads given to either dwelling or to both, at random, and any limit of points."""
    inputs = inputs_of(TWO)
    of = st.sampled_from(("lower", "upper", SHARED, None))
    rooms = [room.model_copy(update={"dwelling": data.draw(of)}) for room in inputs.job.rooms]
    loads = [one.model_copy(update={"dwelling": data.draw(of)}) for one in inputs.job.loads]
    made = with_job(inputs, rooms=rooms, loads=loads)
    made = replace(made, book=made.book.model_copy(update={"points_a_circuit": data.draw(st.integers(1, 20))}))
    found = service(made, code("2023"))
    holds(made, found)
    assert sum(row.sort == "individual" for row in found.circuits) == sum(one.count for one in loads)
    for panel in found.panels:
        if panel.key != SHARED:
            assert sum(row.sort == "small appliance" for row in panel.circuits) == 2
            assert sum(row.sort == "bathroom" for row in panel.circuits) == 1


def alarms_of(inputs: Inputs, name: str) -> list[tuple[str, int, tuple[str, ...]]]:
    """The smoke alarms of one dwelling, or of what all share."""
    return [(one.place, one.storey, one.rooms) for one in alarm_places(inputs.job, code("2023"))
            if one.kind == "smoke" and one.dwelling == name]


def test_each_of_two_flats_has_a_set_of_alarms_of_its_own() -> None:
    """Each bedroom and outside them, in each flat; the cellar that both use has one, the stairs between none."""
    inputs = inputs_of(TWO)
    for name, storey in (("lower", 1), ("upper", 2)):
        beds = tuple(room.room for room in inputs.job.rooms if room.dwelling == name and room.kind == "bedroom")
        assert alarms_of(inputs, name) == [*(("each bedroom", storey, (bed,)) for bed in beds),
                                           ("outside bedrooms", storey, beds)]
    assert alarms_of(inputs, "") == [("each storey", 0, ())]
    assert alarm_devices(inputs.job, code("2023")) == 7


def test_dwellings_side_by_side_share_no_alarm() -> None:
    """Two that stand on the same two storeys, with bedrooms above in one of them alone: each storey counts in each."""
    inputs = inputs_of(TWO)
    moved = {"Upper living room": 1, "Upper dining room": 1, "Upper kitchen": 1, "Lower back bedroom": 2}
    rooms = [room.model_copy(update={"floor": moved.get(room.room, room.floor)}) for room in inputs.job.rooms]
    made = with_job(inputs, rooms=rooms)
    assert ("each storey", 1, ()) in alarms_of(made, "upper")
    assert [one for one in alarms_of(made, "lower") if one[0] == "outside bedrooms"] == [
        ("outside bedrooms", 1, ("Lower front bedroom",)), ("outside bedrooms", 2, ("Lower back bedroom",))]
    assert alarm_devices(made.job, code("2023")) == 9


def test_two_flats_have_three_panels() -> None:
    """One of each dwelling with its load by 220.82 and a feeder by 310.12; one of what they share, with neither."""
    found = service(inputs_of(TWO), code("2023"))
    assert [(panel.key, panel.load is not None, panel.short) for panel in found.panels] == [
        ("lower", True, 0), ("upper", True, 0), (SHARED, False, 0)]
    # 3,780 + 4,500 + 9,000 + 4,500 = 21,780; 10,000 + 40 % of 11,780 = 14,712 VA, 61 A
    lower = found.panels[0]
    assert lower.load is not None
    assert (lower.load.total.value, lower.load.amperes.value) == (14_712, 61)
    assert lower.conductor is not None
    assert lower.conductor.text == "4 AWG copper or 2 AWG aluminum"
    assert {name.text for row in found.panels[2].circuits for name in row.serves} == {
        "boiler", "Basement", "Front stairs", "Back stairs"}


def test_the_service_of_two_flats_is_counted_as_one_of_two() -> None:
    """By the standard method over both, not by 220.82 or 220.83, and on wires of the general table."""
    found = service(inputs_of(TWO), code("2023"))
    assert {found.present.method, found.planned.method, found.standard.method} == {"standard"}
    assert found.planned.total.value == 28_852
    assert found.conductor.text == "3/0 AWG copper or 250 kcmil aluminum"


def test_two_flats_that_heat_and_cook_may_be_counted_as_three_alike() -> None:
    """Where it is less and each has electric cooking and cooling (220.85).

    Three like the upper: 3 x (3,990 + 4,500 + 9,000 + 4,500 + 9,000) x 45 % = 41,836 1/2, stairs 450, boiler 700.  By
    the standard method 28,852 - 175 + 18,000 + 2,250 = 48,927.
    """
    inputs = inputs_of(TWO)
    cool = [one.model_copy(update={"what": f"cooling {of}", "is_": "cooling", "dwelling": of, "takes": one.takes})
            for one in inputs.job.loads[:1] for of in ("lower", "upper")]
    found = service(with_job(inputs, loads=[*inputs.job.loads, *cool]), code("2023"))
    assert (found.planned.method, found.planned.total.value) == ("three alike", Fraction(85_973, 2))
    assert (found.standard.method, found.standard.total.value) == ("standard", 48_927)


def asked(inputs: Inputs) -> list[str]:
    return [str(question) for question in questions(offer_from(inputs))]


def test_what_several_households_leave_open_is_asked() -> None:
    """Where the shared panel stands and on whose meter, who reaches which breakers; of one household none of it."""
    said = asked(inputs_of(TWO))
    assert [one for one in said if "on whose meter? (NEC 210.25(B))" in one]
    assert [one for one in said if "reaches the breakers of its own dwelling" in one]
    assert not [one for one in said if "how many it has" in one]
    assert [one for one in said if one.startswith("The plan has 3 panels, each at")]
    assert not [one for one in asked(inputs_of("alder-lane")) if "dwelling" in one]
    bare = with_job(inputs_of(TWO), panel=inputs_of(TWO).job.panel.model_copy(update={"spaces_of": {}}))
    assert len([one for one in asked(bare) if "how many it has" in one]) == 3
    small = with_job(inputs_of(TWO), panel=inputs_of(TWO).job.panel.model_copy(update={"spaces_of": {
        "lower": 8, "upper": 20, SHARED: 12}}))
    says = "Panel of `lower`: The circuits take 11 places, and the panel is short of 3."
    assert [one for one in asked(small) if one.startswith(says)]


def test_a_circuit_of_today_that_joins_two_is_asked_about() -> None:
    """Its points in two dwellings, or in one and on the stairs."""
    inputs = inputs_of(TWO)
    assert feeds_between(inputs.job) == ()
    rooms = [room.model_copy(update={"dwelling": "upper"}) if room.room == "Lower bath" else room
             for room in inputs.job.rooms]
    stairs = [room.model_copy(update={"feeds": dict.fromkeys(room.feeds, "upper-lights")})
              if room.room == "Back stairs" else room for room in inputs.job.rooms]
    assert feeds_between(with_job(inputs, rooms=rooms).job) == ()
    assert feeds_between(with_job(inputs, rooms=stairs).job) == ("upper-lights",)
    assert [one for one in asked(with_job(inputs, rooms=stairs)) if one.startswith("Upper flat lights serves more")]


def test_one_dwelling_is_one_part() -> None:
    """A house of one household has one panel, without a name."""
    part, = parts_of(inputs_of("alder-lane").job)
    assert (part.key, part.area) == (WHOLE, 2460)
    panel, = service(inputs_of("alder-lane"), code("2023")).panels
    assert (panel.key, panel.name, panel.load) == (WHOLE, None, None)


@pytest.mark.parametrize("takes", [{"is_": "range", "count": 3}, {"is_": "central heat", "count": 20}])
def test_loads_that_no_table_holds_are_refused_with_the_way_out(takes: dict[str, object]) -> None:
    """Six ranges on one service, or more amperes than the table of sizes has: a fault at the loads, never a guess."""
    inputs = inputs_of(TWO)
    loads = [one.model_copy(update=takes) if one.is_ == "range" else one for one in inputs.job.loads]
    fault, = unworkable(with_job(inputs, loads=loads))
    assert fault.where == "loads"
    assert "No service is drawn from a guess" in fault.remedy
    assert unworkable(inputs) == ()
