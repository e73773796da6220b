"""Each finding of the inspector against each option: worked out from the points that an option does."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given as over
from hypothesis import strategies as st

from sitegen.job.books import Kit
from sitegen.job.load import load
from sitegen.job.model import Finding, Job
from sitegen.offer.found import found
from sitegen.survey.findings import DETAILS_OF, POINTS, PROOF_OF, closing, meant
from sitegen.survey.house import kit_of
from sitegen.trade.kinds import ABOUT

HOME = Path(__file__).parents[1] / "example_house"
INPUTS = load(HOME, HOME / "quill-street", HOME)
JOB: Job = INPUTS.job
ONE, ITEM, BARE = "fixed-guarantee", "per-item", "minimal-protection"
KITS: dict[str, Kit] = {option: kit_of(INPUTS, option) for option in (ONE, ITEM, BARE)}
NOTHING_ELSE = {option: kit.model_copy(update={"also_does": []}) for option, kit in KITS.items()}
ROOMS = [room.room for room in JOB.rooms]
NEW_ROOMS = {"Kitchen", "Basement"}
"""All of their points are on feeds seen new their whole length."""


def finding(about: str, **more: Any) -> Finding:
    """A finding about something, as a job file gives it."""
    return Finding.model_validate({"number": "1", "page": "2", "says": "Old.", "about": about, **more})


def options(one: Finding, job: Job = JOB, kits: dict[str, Kit] | None = None) -> tuple[str, str, str]:
    """How One price, Per item and Wiring only close it."""
    kits = kits or KITS
    every, listed, bare = (closing(one, job, kits[option]).closes for option in (ONE, ITEM, BARE))
    return every, listed, bare


def test_outlets_of_the_whole_house_counted_by_hand() -> None:
    """A finding of one kind means that kind wherever it is not on a feed seen new; a list does some of it."""
    one = finding("points", kinds=["outlet"])
    assert sum(line.now for line in meant(one, JOB)) == 23
    assert {line.room for line in meant(one, JOB)} == set(ROOMS) - NEW_ROOMS
    assert options(one) == ("yes", "in part", "in part")
    listed = closing(one, JOB, KITS[ITEM])
    assert listed.rooms == ("Front hall", "Front parlor", "Back parlor", "Dining room", "Upper hall", "Front bedroom",
                            "Middle bedroom", "Back bedroom")
    assert listed.leaves == ("Back parlor", "Dining room", "Pantry", "Front porch", "Front bedroom", "Back bedroom",
                             "Bath", "Attic room")
    assert closing(one, JOB, KITS[ONE]).rooms == tuple(room for room in ROOMS if room not in NEW_ROOMS)
    assert closing(one, JOB, KITS[ONE]).leaves == ()


@pytest.mark.parametrize(("rooms", "kinds", "lists"), [
    (["Dining room"], ["ceiling light"], "yes"), (["Bath"], ["outlet"], "no"),
    (["Front hall", "Dining room"], ["ceiling light"], "yes"), (["Front hall", "Bath"], ["outlet"], "in part"),
    (["Back parlor"], ["outlet"], "in part"), (["Front parlor"], [], "yes"), (["Front hall"], [], "in part")])
@pytest.mark.parametrize("about", POINTS)
def test_points_and_protection_are_closed_where_all_that_is_meant_is_done(about: str, rooms: list[str],
                                                                          kinds: list[str], lists: str) -> None:
    """Counted by hand: the list closes a finding whole, in part or not, as the points that it means are on it."""
    assert options(finding(about, rooms=rooms, kinds=kinds)) == ("yes", lists, lists)


def test_points_that_are_new_already_are_answered_by_no_option() -> None:
    """A finding of points that are all on newer cable means none of them, and no option closes it."""
    one = finding("points", rooms=["Kitchen"])
    assert meant(one, JOB) == ()
    assert options(one) == ("no", "no", "no")


@pytest.mark.parametrize(("rooms", "kinds", "closes", "leaves"), [
    (["Front bedroom"], [], "yes", ()), (["Front bedroom"], ["outlet"], "yes", ()),
    (["Front bedroom"], ["switch"], "no", ("Front bedroom",)), (["Bath"], [], "no", ("Bath",)),
    (["Front bedroom", "Bath"], [], "in part", ("Bath",)), ([], [], "yes", ()), ([], ["switch"], "no", ())])
def test_new_places_are_in_every_price(rooms: list[str], kinds: list[str], closes: str,
                                       leaves: tuple[str, ...]) -> None:
    """Each room that the finding names has to get a place; without rooms one anywhere is an answer."""
    one = finding("new places", rooms=rooms, kinds=kinds)
    assert options(one) == (closes,) * 3
    assert {closing(one, JOB, kit).leaves for kit in KITS.values()} == {leaves}


def test_old_wire_is_closed_by_a_price_for_every_point_alone() -> None:
    """A list that does some point answers in part; one with nothing on it does not answer."""
    one = finding("old wire", rooms=["Basement"])
    assert options(one) == ("yes", "in part", "in part")
    empty = JOB.model_copy(update={"rooms": [room.model_copy(update={"listed": dict.fromkeys(room.now, 0)})
                                              for room in JOB.rooms]})
    assert options(one, empty) == ("yes", "no", "no")


@pytest.mark.parametrize("about", ["panel", "service", "alarms"])
def test_the_panel_the_service_and_alarms_are_closed_by_what_a_kit_does(about: str) -> None:
    """What a kit also does closes its finding whole, and a kit without it does not answer."""
    assert options(finding(about), kits=NOTHING_ELSE) == ("no", "no", "no")
    does = {option: kit.model_copy(update={"also_does": [about]}) for option, kit in KITS.items()}
    assert options(finding(about), kits=does) == ("yes", "yes", "yes")


@pytest.mark.parametrize(("rooms", "kinds", "closes", "leaves"), [
    (["Front bedroom"], [], "no", ("Front bedroom",)), (["Front bedroom"], ["outlet"], "yes", ()),
    (["Front bedroom", "Bath"], ["outlet"], "in part", ("Bath",)), (["Bath"], ["outlet"], "no", ("Bath",))])
def test_a_splice_goes_into_the_box_of_a_new_point(rooms: list[str], kinds: list[str], closes: str,
                                                   leaves: tuple[str, ...]) -> None:
    """Where no kit sets a box over it, a splice is answered by a new point of the kind named, in its own room."""
    one = finding("splice", rooms=rooms, kinds=kinds)
    assert options(one, kits=NOTHING_ELSE) == (closes,) * 3
    assert {closing(one, JOB, kit).leaves for kit in NOTHING_ELSE.values()} == {leaves}


def test_a_splice_is_closed_by_a_kit_that_sets_a_box_over_it() -> None:
    """It is closed whole in each room that the finding names, whatever new points there are."""
    kit = KITS[ITEM].model_copy(update={"also_does": ["splices"]})
    for kinds in ([], ["outlet"]):
        found = closing(finding("splice", rooms=["Bath", "Front hall"], kinds=kinds), JOB, kit)
        assert (found.closes, found.rooms, found.leaves) == ("yes", ("Front hall", "Bath"), ())


def test_a_breaker_in_a_new_panel_guards_what_stays_on_newer_cable() -> None:
    """Panel work that protects answers a finding of protection, though the outlet is not on the list: where its circuit
    is newer cable as far as anybody saw, where the kit says so, and where there is a new panel."""
    def guarded(evidence: str, does: tuple[str, ...] = ("panel", "protection"), job: Job = JOB) -> tuple[str, bool]:
        one = finding("protection", rooms=["Bath"], kinds=["outlet"])
        feeds = {name: feed.model_copy(update={"evidence": evidence}) for name, feed in job.feeds.items()}
        rooms = [room.model_copy(update={"listed": {"outlet": 0}} if room.room == "Bath" else {}) for room in job.rooms]
        answer = closing(one, job.model_copy(update={"feeds": feeds, "rooms": rooms}),
                         KITS[ITEM].model_copy(update={"also_does": list(does)}))
        return answer.closes, answer.at_panel
    assert guarded("new") == guarded("new ends") == ("yes", True)
    assert guarded("old") == guarded("not traced") == ("no", False)
    assert guarded("new ends", ("panel",)) == ("no", False)
    old = JOB.model_copy(update={"panel": JOB.panel.model_copy(update={"new_spaces": None})})
    assert guarded("new ends", job=old) == ("no", False)


def test_other_things_are_answered_by_no_option() -> None:
    """What is no wiring of ours needs its reason."""
    assert options(finding("other")) == ("no", "no", "no")


@pytest.mark.parametrize(("about", "rooms", "plain", "left"), [
    ("alarms", [], "yes", "in part"), ("points", ["Dining room"], "yes", "in part"), ("other", [], "no", "no"),
    ("new places", ["Front bedroom", "Bath"], "in part", "in part")])
def test_what_is_left_with_a_reason_is_never_closed_whole(about: str, rooms: list[str], plain: str, left: str) -> None:
    """A reason turns whole into in part and changes nothing else."""
    kit = KITS[ONE].model_copy(update={"also_does": ["alarms"]})
    bare, said = finding(about, rooms=rooms), finding(about, rooms=rooms, left="A plumber's work.")
    assert (closing(bare, JOB, kit).closes, closing(said, JOB, kit).closes) == (plain, left)
    assert closing(bare, JOB, kit).rooms == closing(said, JOB, kit).rooms


def test_the_example_as_it_is_handed_on() -> None:
    """The five findings of the example house, closed as counted by hand, with details and evidence for each."""
    closed = [(int(str(one.number.value)), tuple(one.closed[option] for option in (ONE, ITEM)), one.about)
              for one in found(INPUTS).findings]
    assert closed == [(1, ("yes", "in part"), "points"), (2, ("yes", "in part"), "old wire"),
                      (3, ("yes", "yes"), "points"), (4, ("yes", "no"), "protection"), (5, ("yes", "yes"), "alarms")]


def test_everything_that_a_finding_can_be_about_has_its_details_and_evidence() -> None:
    """No word of a job is without an answer here."""
    assert set(DETAILS_OF) == set(PROOF_OF) == set(ABOUT)


@over(st.sampled_from(ABOUT), st.sets(st.sampled_from(ROOMS)),
      st.sets(st.sampled_from(("outlet", "switch", "wall light"))))
def test_a_price_for_every_point_closes_no_less_than_a_list(about: str, rooms: set[str], kinds: set[str]) -> None:
    """Whatever is found, the one price answers at least as well, and only rooms that are named are spoken of."""
    one = finding(about, rooms=sorted(rooms), kinds=sorted(kinds))
    every, listed = (closing(one, JOB, KITS[option]) for option in (ONE, ITEM))
    order = ("yes", "in part", "no")
    assert order.index(every.closes) <= order.index(listed.closes)
    assert set(every.leaves) <= set(listed.leaves)
    for answer in (every, listed):
        assert {*answer.rooms, *answer.leaves} <= (rooms or set(ROOMS))
        if about in POINTS:
            assert (answer.closes == "no") == (not answer.rooms)
            assert (answer.closes == "yes") == (bool(answer.rooms) and not answer.leaves)
