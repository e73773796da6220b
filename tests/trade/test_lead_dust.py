"""The federal lead rule: when the practices are owed, what then must be done, and by when."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.rules import read
from sitegen.trade import lead_duties as duties
from sitegen.trade.lead_dust import (
    OUTSIDE,
    FreeDocument,
    LeadHouse,
    LeadRule,
    PaintWork,
    Surface,
    frees,
    limit_of,
    one_job_through,
    verdict,
)

RULE = read.given(LeadRule, "lead")
QUIET = settings(max_examples=100, deadline=None, derandomize=True)
OLD = LeadHouse(1912)
START = date(2026, 12, 15)
REPORT = FreeDocument("written report", "inspector", "hall", frozenset({"wall", "ceiling"}))

areas = st.fractions(0, 3000, max_denominator=8)
surfaces = st.builds(lambda name, area, destroyed: Surface(name, area, destroyed and area > 0),
                     st.sampled_from(("wall", "ceiling", "baseboard")), areas, st.booleans())
places = st.sampled_from(("hall", "kitchen", OUTSIDE))
works = st.builds(lambda place, parts, prohibited, windows: PaintWork(place, tuple(parts), prohibited, windows),
                  places, st.lists(surfaces, max_size=4), st.booleans(), st.booleans())
houses = st.builds(LeadHouse, st.one_of(st.none(), st.integers(1880, 1977)), st.booleans())
days = st.dates(date(2026, 1, 1), date(2027, 12, 31))
lengths = st.fractions(0, 400, max_denominator=10)


def hall(*parts: Surface) -> PaintWork:
    """Work in the hall."""
    return PaintWork("hall", parts)


# ------------------------------------------------------------------------------------ is it owed


@given(houses, works, areas)
@QUIET
def test_more_painted_area_never_owes_less(house: LeadHouse, work: PaintWork, area: Fraction) -> None:
    """With another surface disturbed the area does not shrink, and what was owed stays owed."""
    more = replace(work, surfaces=(*work.surfaces, Surface("wall", area)))
    before, after = verdict(RULE, house, work), verdict(RULE, house, more)
    assert after.area >= before.area
    assert after.owed >= before.owed


@given(houses, places, st.booleans(), st.booleans())
@QUIET
def test_no_painted_area_owes_nothing(house: LeadHouse, place: str, prohibited: bool, windows: bool) -> None:
    """Where no painted surface is disturbed nothing is owed, whatever else is done."""
    for parts in ((), (Surface("wall", Fraction(0)),)):
        found = verdict(RULE, house, PaintWork(place, parts, prohibited, windows))
        assert (found.owed, found.reason, found.area) == (False, "nothing disturbed", 0)


@given(houses, works)
@QUIET
def test_demolition_is_always_owed_before_1978(house: LeadHouse, work: PaintWork) -> None:
    """Painted surface destroyed owes the practices however small, where no paper frees it."""
    broken = replace(work, surfaces=(*work.surfaces, Surface("wall", Fraction(1, 8), destroyed=True)))
    assert (verdict(RULE, house, broken).owed, verdict(RULE, house, broken).reason) == (True, "demolition")


@given(works, st.integers(1978, 2026))
@QUIET
def test_nothing_is_owed_from_1978(work: PaintWork, built: int) -> None:
    """Housing built in 1978 or later is outside the rule, whatever is done."""
    assert not verdict(RULE, LeadHouse(built), work).owed


@given(works)
@QUIET
def test_federal_help_never_raises_a_limit(work: PaintWork) -> None:
    """In subsidised housing no limit is higher, and what is owed elsewhere is owed there."""
    helped = replace(OLD, subsidised=True)
    assert limit_of(RULE, helped, work.place) <= limit_of(RULE, OLD, work.place)
    assert verdict(RULE, helped, work).owed >= verdict(RULE, OLD, work).owed


def test_a_paper_frees_only_when_it_covers_all_that_is_disturbed() -> None:
    """A report for wall and ceiling frees work on these; with a baseboard all painted area counts."""
    wall, board = Surface("wall", Fraction(900), destroyed=True), Surface("baseboard", Fraction(9))
    free = verdict(RULE, OLD, hall(wall), [REPORT])
    assert (free.owed, free.reason, free.not_freed) == (False, "written report", ())
    mixed = verdict(RULE, OLD, hall(wall, board), [REPORT])
    assert (mixed.owed, mixed.reason, mixed.area, mixed.not_freed) == (True, "demolition", 909, ("baseboard",))
    chips = FreeDocument("paint chips", "certified renovator", "hall", frozenset({"baseboard"}))
    assert verdict(RULE, OLD, hall(wall, board), [REPORT, chips]).reason == "written report"


@pytest.mark.parametrize("paper", [
    replace(REPORT, held=False),
    replace(REPORT, by="certified renovator"),
    replace(REPORT, kind="test kit"),
    replace(REPORT, place="kitchen"),
    replace(REPORT, components=frozenset({"ceiling"})),
])
def test_a_paper_frees_only_its_place_components_and_maker(paper: FreeDocument) -> None:
    """Held, made by whom the rule names, for this room and this component: else it frees nothing."""
    assert frees(REPORT, "hall", "wall")
    assert not frees(paper, "hall", "wall")


def test_the_reason_tells_what_takes_the_exemption_away() -> None:
    """Demolition comes first, then practices, windows, area, the smaller limit, the share of a small component."""
    small, large = Surface("wall", Fraction(300)), Surface("wall", Fraction(900))
    helped = replace(OLD, subsidised=True)
    sill = Surface("sill", Fraction(11), whole=Fraction(100))
    for house, work, reason in (
            (OLD, replace(hall(small), prohibited=True, windows=True), "prohibited practice"),
            (OLD, replace(hall(large), windows=True), "window replacement"),
            (helped, hall(large), "area"), (helped, hall(small), "subsidised limit"),
            (helped, hall(sill), "share of a small component"), (OLD, hall(sill), "under the limit")):
        assert verdict(RULE, house, work).reason == reason


def test_pieces_of_one_small_component_count_together() -> None:
    """Six sq in and six more of one sill of 100 are over a tenth."""
    six = Surface("sill", Fraction(6), whole=Fraction(100))
    helped = replace(OLD, subsidised=True)
    assert verdict(RULE, helped, hall(six)).reason == "under the limit"
    assert verdict(RULE, helped, hall(six, six)).reason == "share of a small component"


def test_what_cannot_be_is_refused() -> None:
    """Areas under zero or over the whole, nothing destroyed and unknown papers raise ValueError."""
    for args in ((Fraction(-1),), (Fraction(0), True), (Fraction(2), False, Fraction(1))):
        with pytest.raises(ValueError, match="wall"):
            Surface("wall", *args)
    with pytest.raises(ValueError, match="no paper"):
        frees(replace(REPORT, kind="hearsay"), "hall", "wall")


# ------------------------------------------------------------------------------------ what is one job


def test_a_month_after_the_end_more_work_is_a_job_of_its_own() -> None:
    """Work that ended on 15 December takes in what is done in the same room up to 14 January, 30 days later."""
    assert one_job_through(RULE, START) == date(2027, 1, 14)


# ------------------------------------------------------------------------------------ what then must be done


def test_steps_are_owed_just_with_the_practices() -> None:
    """Under the limit no step is owed; over it all of a room's, or those of the outside."""
    over = Surface("wall", Fraction(2881))
    assert duties.steps_owed(verdict(RULE, OLD, hall(Surface("wall", Fraction(1))))) == ()
    assert duties.steps_owed(verdict(RULE, OLD, hall(over))) == duties.INSIDE_STEPS
    assert duties.steps_owed(verdict(RULE, OLD, PaintWork(OUTSIDE, (over,)))) == duties.OUTSIDE_STEPS
    for steps in (duties.INSIDE_STEPS, duties.OUTSIDE_STEPS):
        assert len({step.key for step in steps}) == len(steps)
        assert (steps[0].key, steps[-1].key) == ("give the pamphlet", "copies given")


@given(lengths)
@QUIET
def test_each_cloth_wipes_less_than_forty(area: Fraction) -> None:
    """Up to 40 sq ft one cloth; above it the fewest equal sections that are each smaller than 40."""
    count = duties.cloths(RULE, area)
    if area > 40:
        assert area / count < 40 <= area / (count - 1)
    else:
        assert count == (1 if area else 0)


def test_cloths_of_two_rooms_by_hand() -> None:
    """A floor of 119, a counter of 10 and two sills take six; a floor of 40 with one sill two."""
    rooms = [duties.RoomToVerify((Fraction(119),), (Fraction(10),), 2), duties.RoomToVerify((Fraction(40),), (), 1)]
    assert duties.room_cloths(RULE, rooms) == 8


def test_impossible_floors_and_rooms_are_refused() -> None:
    """An area or a count under zero raises ValueError."""
    for call in (lambda: duties.cloths(RULE, Fraction(-1)),
                 lambda: duties.room_cloths(RULE, [duties.RoomToVerify((), (), -1)])):
        with pytest.raises(ValueError, match=r"."):
            call()


# ------------------------------------------------------------------------------------ the pamphlet and the records


def test_the_pamphlet_goes_from_too_early_to_done_and_again() -> None:
    """Before the window it waits, in it it is due, given it is done, and a start that slips asks for it again."""
    given_on = duties.Receipt("owner", "acknowledgement", date(2026, 10, 20))
    state = duties.pamphlet_state
    assert state(RULE, START, date(2026, 10, 15), None) == "due before the start"
    assert state(RULE, START, date(2026, 10, 16), None) == "due now"
    assert state(RULE, START, date(2026, 10, 20), given_on) == "done"
    assert state(RULE, START + timedelta(4), date(2026, 12, 1), given_on) == "done"
    assert state(RULE, START + timedelta(5), date(2026, 12, 1), given_on) == "give again"
    assert state(RULE, START, START, replace(given_on, day=START)) == "due now"
    with pytest.raises(ValueError, match="cannot be held"):
        state(RULE, START, date(2026, 10, 19), given_on)


@given(days, st.integers(-90, 90), st.sampled_from(duties.PROOFS["occupant"]))
@QUIET
def test_done_just_inside_the_window(start: date, offset: int, proof: duties.Proof) -> None:
    """Done means given 60 days to 1 day before the start, and mailed 60 to 7 days before."""
    day = start - timedelta(offset)
    receipt = duties.Receipt("occupant", proof, day)
    least = 7 if proof == "certificate of mailing" else 1
    assert (duties.pamphlet_state(RULE, start, max(day, start), receipt) == "done") == (least <= offset <= 60)


def test_an_owner_is_never_self_certified() -> None:
    """The firm's own certification proves giving to an occupant, never to the owner."""
    assert duties.Receipt("occupant", "self-certification", START).day == START
    with pytest.raises(ValueError, match="no proof"):
        duties.Receipt("owner", "self-certification", START)


@given(days, st.one_of(st.none(), days))
@QUIET
def test_records_and_copies(completed: date, invoiced: date | None) -> None:
    """Records last three years to the day or one more; copies never come later than the invoice or 30 days."""
    kept = duties.keep_until(RULE, completed)
    assert (kept.year, kept.month, kept.day) == (completed.year + 3, completed.month, completed.day)
    by = duties.copies_by(RULE, completed, invoiced)
    assert by <= completed + timedelta(30)
    assert by == completed + timedelta(30) or by == invoiced
    assert invoiced is None or by <= invoiced


def test_records_of_a_leap_day_last_a_day_longer() -> None:
    """A job completed on 29 February is kept to 1 March, never a day short."""
    assert duties.keep_until(RULE, date(2028, 2, 29)) == date(2031, 3, 1)
