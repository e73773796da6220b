"""The Tonight line of sheet 1: each known hazard with what to do and whom to call, before what somebody typed."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from sitegen.offer.setting import HazardSeen
from sitegen.sheets.pages.start import TONIGHT, start
from sitegen.sheets.words import pieces
from tests.built import offer
from tests.helpers import ROOT

WORDS = pieces((ROOT / "content/sheets/start.md").read_text("utf-8"))
ASKS = ("call", "ask", "can help")
"""How the words name whom to turn to."""


def _keys(kind: str, fuel: bool) -> list[str]:
    """The keys of the words for one hazard of a demo house."""
    one = offer("juniper-court")
    head = replace(one.head, hazards=(HazardSeen(kind, ()),), fuel=fuel)
    return [key for said in start(replace(one, head=head))["tonight"] for key, _ in said]


@pytest.mark.parametrize("kind", TONIGHT)
@pytest.mark.parametrize("fuel", [True, False])
def test_every_hazard_says_whom_to_turn_to(kind: str, fuel: bool) -> None:
    """Nobody is left with a hazard and no one to call, and nothing is said that frightens without a way out."""
    keys = _keys(kind, fuel)
    assert keys
    assert any(word in " ".join(WORDS[key.removeprefix("start.")] for key in keys).lower() for word in ASKS)


def test_alarms_for_carbon_monoxide_are_named_where_fuel_is_burned() -> None:
    """A house without fuel or a garage is asked for smoke alarms alone."""
    assert _keys("no working alarm", True) == ["start.tonight.carbon monoxide"]
    assert _keys("no working alarm", False) == ["start.tonight.no working alarm"]


def test_a_live_gas_pipe_goes_to_the_gas_company_and_everything_on_it_waits() -> None:
    """The gas company is called now; cable and light wait for a cap and a test under pressure by somebody licensed."""
    said = WORDS["tonight.live gas pipe"]
    for words in ("Call your gas company now", "run no wiring near it", "hang no light on it", "licensed plumber",
                  "capped it and tested it under pressure"):
        assert words in said


def test_the_row_house_says_its_gas_pipe_first() -> None:
    """What a survey answered `yes` reaches sheet 1 without anybody typing it there."""
    said = start(offer("spindle-row"))["tonight"]
    assert [pieces[-1][0] for pieces in said] == [
        "start.tonight.live gas pipe", "start.tonight.hot cover", "start.tonight.carbon monoxide"]
