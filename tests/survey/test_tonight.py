"""What is known and can hurt tonight is said on sheet 1 by a rule: from answers of the survey, each kind once."""

from __future__ import annotations

from typing import Any

import pytest

from sitegen.job.load import load
from sitegen.job.model import Finding, Hazard, Job
from sitegen.sheets.pages.start import TONIGHT
from sitegen.survey.tonight import hazards
from sitegen.trade.kinds import FOUND_HAZARDS, HAZARDS, STOP_HAZARDS
from tests.helpers import DEMO

INPUTS = load(DEMO, DEMO / "juniper-court", DEMO)
JOB: Job = INPUTS.job
"""A house of which no such thing is known."""


def kinds(**changed: Any) -> list[str]:
    """The hazards of this house with some of its fields changed."""
    return [one.kind for one in hazards(JOB.model_copy(update=changed), INPUTS.book)]


def test_nothing_known_is_nothing_said() -> None:
    """A house of which no hazard is known gets no such line."""
    assert kinds() == []


def test_every_kind_can_be_given_and_has_words() -> None:
    """A kind comes from a survey or from the price book, and sheet 1 has words for each."""
    assert {*FOUND_HAZARDS, *STOP_HAZARDS} - {"nothing tonight"} == set(HAZARDS) == set(TONIGHT)


@pytest.mark.parametrize(("answer", "kind"), [(answer, kind) for answer, kind in INPUTS.book.hurts_tonight.items()])
def test_a_find_that_is_there_is_said_by_what_the_book_calls_it(answer: str, kind: str) -> None:
    """`yes` counts by its kind in the price book; `not seen` and `no` are not known hazards."""
    stops = JOB.stop_work
    assert kinds(stop_work={**stops, answer: "yes"}) == ([] if kind == "nothing tonight" else [kind])
    assert kinds(stop_work={**stops, answer: "not seen"}) == []


@pytest.mark.parametrize("kind", FOUND_HAZARDS)
def test_what_the_survey_found_is_said_with_its_room(kind: str) -> None:
    """A hazard of the survey stands with the room that it is in, two rooms of one kind together."""
    found = [Hazard.model_validate({"is": kind, "room": room}) for room in ("Kitchen", "Bath")]
    said = hazards(JOB.model_copy(update={"hazards": found}), INPUTS.book)
    assert [(one.kind, one.rooms) for one in said] == [(kind, ("Kitchen", "Bath"))]


@pytest.mark.parametrize(("about", "kind"), [("alarms", "no working alarm"), ("splice", "live splice")])
def test_a_finding_of_the_report_can_be_a_hazard(about: str, kind: str) -> None:
    """A finding about alarms or an open splice is a hazard until it is answered; one about a panel is none."""
    def one(said: str) -> list[Finding]:
        return [Finding.model_validate({"number": "1", "page": "1", "says": "Seen.", "about": said})]
    assert kinds(findings=one(about)) == [kind]
    assert kinds(findings=one("panel")) == []


def test_insulation_waits_while_any_point_may_be_old() -> None:
    """A crew that asks for a letter means that insulation is due, unless every point was seen new."""
    assert kinds(why_now=JOB.why_now.model_copy(update={"who": "insulation crew"})) == ["insulation due"]
    new = {name: feed.model_copy(update={"evidence": "new"}) for name, feed in JOB.feeds.items()}
    rooms = [room.model_copy(update={"opened_old": {}}) for room in JOB.rooms]
    assert kinds(why_now=JOB.why_now.model_copy(update={"who": "insulation crew"}), feeds=new, rooms=rooms) == []


def test_the_live_gas_pipe_of_the_row_house_comes_first() -> None:
    """The demo house with a live stub says so before all else, then the warm switch, then the alarms."""
    row = load(DEMO, DEMO / "spindle-row", DEMO)
    assert [one.kind for one in hazards(row.job, row.book)] == ["live gas pipe", "hot cover", "no working alarm"]
