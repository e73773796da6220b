"""Branch circuits, protection, alarms, lights and the panel's place, as others state them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from msgspec.structs import replace

from sitegen.rules.read import given
from sitegen.trade.circuits import (
    CircuitRoom,
    CircuitRule,
    Individual,
    TownAlarms,
    alarms,
    general_circuits,
    individual_protections,
    least_circuits,
    lighting,
    neutral_at_switch,
    protections,
)
from sitegen.trade.panel import PanelPlace, PanelRule, panel_place_questions
from tests.published.rows import Row, rows


def found_alarms(rule: CircuitRule, kind: str, facts: dict[str, Any]) -> list[list[object]]:
    """Alarms of one kind as [place, storey]."""
    rooms = [CircuitRoom(name, of, 100, storey=storey) for name, of, storey in facts["rooms"]]
    town = TownAlarms(smoke=facts.get("town smoke", True))
    found = alarms(rule, rooms, facts.get("carbon", False), town)
    return [[one.place, one.storey] for one in found if one.kind == kind]


def light(rule: CircuitRule, kind: str) -> list[object]:
    found = lighting(rule, kind)
    return [found.needed, found.switched_receptacle]


def covered(rule: CircuitRule, amperes: int) -> Fraction:
    """The area for which one general circuit of this rating is enough, and for any more is not."""
    area = Fraction(rule.volts * amperes) / Fraction(rule.density)
    assert general_circuits(rule, area, amperes) == 1
    assert general_circuits(rule, area + Fraction(1, 100), amperes) == 2
    return area


def in_set(rule: CircuitRule, which: str) -> int:
    """One sort of the least set of circuits."""
    least = least_circuits(rule, 1500, 15, garage=True)
    return {"small appliance": least.small_appliance, "laundry": least.laundry, "bathroom": least.bathroom,
            "garage": least.garage}[which]


def result(rule: CircuitRule, row: Row) -> object:
    """What our functions give for a row."""
    facts = row.given
    calls: dict[str, Callable[[], object]] = {
        "general": lambda: general_circuits(rule, facts["area"], facts["amperes"]),
        "area covered": lambda: covered(rule, facts["amperes"]),
        "least set": lambda: least_circuits(rule, facts["area"], facts["amperes"], facts["garage"]).total,
        "protected": lambda: facts["key"] in protections(rule, facts["kind"]),
        "appliance protected": lambda: "ground-fault" in individual_protections(
            rule, Individual("", facts["kind"], "utility", 50, 2, receptacle=False)),
        "alarms": lambda: found_alarms(rule, "smoke", facts),
        "carbon alarms": lambda: found_alarms(rule, "carbon monoxide", facts),
        "fan box": lambda: facts["kind"] in rule.fan_boxes,
        "small-appliance room": lambda: facts["kind"] in rule.small_appliance_rooms,
        "dwellings": lambda: rule.dwellings,
        "own circuit": lambda: facts["kind"] in rule.own,
        "lighting": lambda: light(rule, facts["kind"]),
        "neutral": lambda: neutral_at_switch(rule, facts["kind"])}
    return calls[row.of]() if row.of in calls else in_set(rule, row.of)


@pytest.mark.parametrize("row", list(rows("circuits")))
def test_what_others_state_of_circuits(row: Row) -> None:
    """Our answer is the published one."""
    rule = given(CircuitRule, "circuit", row.given.get("edition", "2017"))
    if "volts" in row.given:
        rule = replace(rule, volts=row.given["volts"])
    if row.of == "panel":
        assert row.gives in panel_place_questions(given(PanelRule, "panel"), PanelPlace(**row.given))
    else:
        assert result(rule, row) == row.gives
