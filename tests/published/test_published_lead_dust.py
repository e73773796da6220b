"""Worked answers to the federal lead rule, its boundaries and its dates."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest

from sitegen.rules.read import every_rule, given
from sitegen.trade import lead_duties as duties
from sitegen.trade.lead_dust import (
    OUTSIDE,
    FreeDocument,
    LeadHouse,
    LeadRule,
    PaintWork,
    Surface,
    Verdict,
    one_job_through,
    verdict,
)
from sitegen.trade.openings import rectangle
from tests.published.rows import Row, rows

RULE = given(LeadRule, "lead")
OLD = LeadHouse(1912)


def _wall(area: str, place: str = "room") -> PaintWork:
    return PaintWork(place, (Surface("wall", Fraction(area)),))


def _found(of: dict[str, Any]) -> tuple[LeadHouse, Verdict]:
    pieces = [rectangle(Fraction(w), Fraction(h)) for w, h in of.get("pieces", ())] or [Fraction(of["area"])]
    whole = Fraction(of["whole"]) if "whole" in of else None
    place = of.get("place", "room")
    work = PaintWork(place, tuple(Surface("wall", area, of.get("destroyed", False), whole, of.get("chiselled", False))
                                   for area in pieces),
                     of.get("prohibited", False), of.get("windows", False))
    house = LeadHouse(of.get("built", 1912), of.get("subsidised", False), of.get("elderly", False),
                      of.get("child", True))
    papers = [FreeDocument(kind, by, place, frozenset(parts), held) for kind, by, parts, held in of.get("papers", ())]
    return house, verdict(RULE, house, work, papers)


def _verdict(of: dict[str, Any]) -> list[Any]:
    _, found = _found(of)
    return [found.owed, found.reason]


def _verdicts(of: dict[str, Any]) -> dict[str, bool]:
    return {place: verdict(RULE, OLD, _wall(area, place)).owed for place, area in of.items()}


def _of(count: int, each: str, place: str = "room") -> Verdict:
    return verdict(RULE, OLD, PaintWork(place, (Surface("wall", Fraction(each)),) * count))


def _sides(of: dict[str, Any]) -> list[Any]:
    found = verdict(RULE, OLD, PaintWork(OUTSIDE, tuple(Surface("wall", Fraction(area)) for area in of["sides"])))
    return [found.owed, found.reason, str(found.area)]


def _most_within(of: dict[str, Any]) -> int:
    assert _of(1, of["each"]).limit == of["limit"]
    return next(count for count in range(10_000) if _of(count + 1, of["each"]).owed)


def _same_job(of: dict[str, Any]) -> bool:
    first = date.fromisoformat(of["first"])
    return first + timedelta(of["days"]) <= one_job_through(RULE, first)


def _pamphlet_state(of: dict[str, Any]) -> str:
    receipt = duties.Receipt(of["whom"], of["proof"], date.fromisoformat(of["day"]))
    start, today = date.fromisoformat(of["start"]), date.fromisoformat(of["today"])
    return duties.pamphlet_state(RULE, start, today, receipt)


def _pamphlet_days(of: dict[str, Any]) -> list[str]:
    days = duties.pamphlet_days(RULE, date.fromisoformat(of["start"]))
    return [day.isoformat() for day in (days.first, days.mail_by, days.hand_by)]


def _copies_by(of: dict[str, Any]) -> str:
    invoiced = of["invoiced"] and date.fromisoformat(of["invoiced"])
    return duties.copies_by(RULE, date.fromisoformat(of["completed"]), invoiced).isoformat()


def _order(of: dict[str, Any]) -> bool:
    keys = [step.key for step in duties.INSIDE_STEPS]
    places = [keys.index(step) for step in of["steps"]]
    return places == sorted(places)


CALLS: dict[str, Callable[[dict[str, Any]], Any]] = {
    "verdict": _verdict,
    "rule": lambda of: every_rule()[of["key"]].value(),
    "check": lambda of: duties.check_of(*_found(of)),
    "verdicts": _verdicts,
    "sides": _sides,
    "piece": lambda of: rectangle(Fraction(of["width"]), Fraction(of["height"])),
    "holes": lambda of: _of(of["count"], of["each"]).area,
    "most within": _most_within,
    "same job": _same_job,
    "pamphlet days": _pamphlet_days,
    "pamphlet state": _pamphlet_state,
    "proofs": lambda of: list(duties.PROOFS[of["whom"]]),
    "recipients": lambda of: list(duties.recipients(of["owner lives there"])),
    "cloths": lambda of: duties.cloths(RULE, Fraction(of["area"])),
    "room cloths": lambda of: duties.room_cloths(
        RULE, [duties.RoomToVerify(tuple(map(Fraction, of["floors"])),
                                   tuple(map(Fraction, of.get("counters", ()))), of["sills"])]),
    "keep until": lambda of: duties.keep_until(RULE, date.fromisoformat(of["completed"])).isoformat(),
    "copies by": _copies_by,
    "order of steps": _order,
    "outside steps": lambda of: [step.key for step in duties.OUTSIDE_STEPS if "745.85(b)" in step.section
                                 and step.key != "sign taken down"],
}


@pytest.mark.parametrize("row", list(rows("lead-dust")))
def test_published_lead_case(row: Row) -> None:
    """Each worked answer, boundary and date of the lead rule comes out as it was published."""
    found = CALLS[row.of](row.given)
    if isinstance(found, Fraction):
        assert abs(found - Fraction(row.gives)) <= Fraction(row.within or 0)
    else:
        assert found == row.gives
