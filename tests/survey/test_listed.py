"""What is on the list by itself: every point known to be old, and every one that a finding names."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.job.load import load
from sitegen.job.model import Finding, Job
from sitegen.survey.lines import Line, by_itself, lines, meant_by
from sitegen.trade.feeds import EVIDENCE, NEW, OLD
from tests.helpers import DEMO

HOME = Path(__file__).parents[1] / "example_house"
JOB: Job = load(HOME, HOME / "quill-street", HOME).job


def finding(about: str = "points", number: int = 1, **more: Any) -> Finding:
    """A finding, as a job file gives it."""
    return Finding.model_validate({"number": str(number), "page": "2", "says": "Old.", "about": about, **more})


def job(*findings: Finding, room: str = "Front parlor", **more: Any) -> Job:
    """The example with these findings alone, no list of its own, and other words in one room."""
    rooms = [one.model_copy(update={"listed": {}, **(more if one.room == room else {})}) for one in JOB.rooms]
    return JOB.model_copy(update={"findings": list(findings), "rooms": rooms})


def listed(of: Job, room: str) -> dict[str, int]:
    """How many of each kind of a room are on the list."""
    return {line.kind: line.listed for line in lines(of) if line.room == room and line.listed}


def test_what_was_seen_old_is_on_the_list() -> None:
    """The parlor's switch and ceiling light are on the old feed and one of its three outlets was opened and seen old;
    nobody knows of the others."""
    assert listed(job(), "Front parlor") == {"outlet": 1, "switch": 1, "ceiling light": 1}
    assert listed(job(), "Pantry") == listed(job(), "Kitchen") == {}


def test_what_a_finding_names_is_on_the_list() -> None:
    """A finding of outlets in the parlor and the pantry puts all of them there, and none of another room or kind."""
    named = job(finding(rooms=["Front parlor", "Pantry"], kinds=["outlet"]))
    assert listed(named, "Front parlor") == {"outlet": 3, "switch": 1, "ceiling light": 1}
    assert listed(named, "Pantry") == {"outlet": 1}
    assert listed(named, "Bath") == {}


def test_a_finding_about_points_spares_those_seen_new() -> None:
    """An outlet that was opened and seen new has its ground; one about protection means it all the same."""
    seen = {"opened_old": {}, "opened_new": {"outlet": 1}}
    assert listed(job(finding(), **seen), "Front parlor")["outlet"] == 2
    assert listed(job(finding("protection"), **seen), "Front parlor")["outlet"] == 3


@pytest.mark.parametrize("about", ["panel", "service", "alarms", "old wire", "new places", "other"])
def test_a_finding_that_is_not_about_points_puts_none_there(about: str) -> None:
    """The list is the same as without it."""
    assert [line.listed for line in lines(job(finding(about)))] == [line.listed for line in lines(job())]


def test_two_findings_of_the_same_points_count_them_once() -> None:
    """The line names both, and holds the points of the larger."""
    line = next(line for line in lines(job(finding(number=1), finding(number=2, rooms=["Front parlor"])))
                if (line.room, line.kind) == ("Front parlor", "outlet"))
    assert (line.findings, line.named, line.listed) == ((1, 2), 3, 3)


def test_a_job_may_list_more_or_fewer() -> None:
    """What the job says of a kind stands; fewer than by itself is short by the difference, and other kinds keep
    theirs."""
    rooms = [room.model_copy(update={"listed": {"outlet": 3, "switch": 0}}) for room in JOB.rooms
             if room.room == "Front parlor"]
    found = lines(JOB.model_copy(update={"findings": [], "rooms": rooms}))
    assert {line.kind: (line.listed, line.short) for line in found} == {
        "outlet": (3, 0), "switch": (0, 1), "ceiling light": (1, 0)}


def test_what_a_demo_house_leaves_out_is_short_and_has_its_reason() -> None:
    """The wall lights of the row house are known to be old, left off the list, and said why."""
    row = load(DEMO, DEMO / "spindle-row", DEMO).job
    short = {(line.room, line.kind): line.short for line in lines(row) if line.short}
    assert short == {("Front parlor", "wall light"): 2}
    assert [(one.room, one.kind) for one in row.left_out] == list(short)


counts = st.integers(0, 6)


@given(st.sampled_from(EVIDENCE), counts, counts, counts, counts, st.sampled_from(("points", "protection", "panel")))
def test_by_itself_a_list_never_holds_more_than_is_there(evidence: str, now: int, old: int, new: int, listed_: int,
                                                         about: str) -> None:
    """It holds what is known to be old and what is named, no point that is not there, and none on a feed seen new; a
    finding more never takes one off."""
    old = min(old, now)
    line = Line("Hall", "outlet", "feed", evidence, now, now, listed_, old, min(new, now - old))
    named = Line("Hall", "outlet", "feed", evidence, now, now, listed_, old, min(new, now - old), (1,),
                 meant_by(finding(about), line))
    for one in (line, named):
        assert 0 <= by_itself(one) <= now
        assert one.short == max(0, by_itself(one) - listed_)
        assert evidence != NEW or by_itself(one) == 0
        assert evidence != OLD or by_itself(one) >= now - one.opened_new
    assert by_itself(named) >= by_itself(line)
