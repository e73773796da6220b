"""Rows 12 to 20 of the comparison: what they say follows from what is worked out."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from msgspec.structs import replace

from sitegen.figure import Figure, Quote, int_of
from sitegen.offer.offer import Offer
from sitegen.offer.protection import RoomCare
from sitegen.offer.rows import ROWS, Cell, rows
from sitegen.sheets.words import SLOT, pieces
from tests.built import HOUSES
from tests.built import offer as made
from tests.helpers import ROOT

WORDS = {f"rows.{key}": text for key, text in pieces((ROOT / "content/rows.md").read_text("utf-8")).items()}
OPTIONS = ("minimal-protection", "per-item", "fixed-guarantee")


def cells(offer: Offer, key: str) -> dict[str, Cell]:
    """The answers of one row, by option."""
    return {cell.option: cell for row in rows(offer) if row.key == key for cell in row.cells}


def with_rooms(offer: Offer, option: str, change: dict[str, object], only: frozenset[str] | None = None) -> Offer:
    """The offer with something changed in the rooms of one option, or in these of them; the count of owed follows."""
    care = offer.protection.options[option]
    found: dict[str, RoomCare] = {key: replace(room, **change) if only is None or key in only else room  # type: ignore[arg-type]
                                  for key, room in care.rooms.items()}
    owed = replace(care.owed, value=sum(room.owed for room in found.values()))
    options = {**offer.protection.options, option: replace(care, rooms=found, owed=owed)}
    return replace(offer, protection=replace(offer.protection, options=options))


@pytest.mark.parametrize("job", HOUSES)
def test_every_answer_fills_its_words_exactly(job: str) -> None:
    """The slots that a row gives are those that its words ask for, in every house."""
    for row in rows(made(job)):
        for cell in row.cells:
            assert set(SLOT.findall(WORDS[cell.words])) == set(cell.slots), cell.words


@pytest.mark.parametrize("job", HOUSES)
def test_holes_left_open_have_our_price_to_close_them(job: str) -> None:
    """Row 14 gives our price where the option leaves the holes open, and none where we close them."""
    offer = made(job)
    for key, cell in cells(offer, "holes").items():
        close = offer.protection.options[key].to_close
        assert cell.slots.get("close") == close
        assert (close is None) == (offer.terms[key].closes_holes == "us")
        assert cell.slots["holes"] == next(option.holes for option in offer.outcome.options if option.key == key)


@pytest.mark.parametrize("job", HOUSES)
def test_floors_say_what_is_laid_and_what_stays_bare(job: str) -> None:
    """Row 16 has the words of the kit, the rooms with taped sheet and the floor without it."""
    offer = made(job)
    for key, cell in cells(offer, "floors").items():
        care = offer.protection.options[key]
        bare = {"bare": care.bare} if care.bare.value else {}
        assert cell.slots == {"says": offer.terms[key].row_words["floors"], "laid": care.laid, **bare}
        assert cell.words == ("rows.floors.kit" if bare else "rows.floors.kit-none-bare")


@pytest.mark.parametrize("job", HOUSES)
def test_the_cut_that_is_shown_is_within_the_limit_and_in_no_room_that_owes(job: str) -> None:
    """Row 17 shows the widest cut among rooms that the limit alone keeps out, and never more than the limit."""
    offer = made(job)
    for key, cell in cells(offer, "lead").items():
        under = [room for room in offer.protection.options[key].rooms.values() if room.reason == "under the limit"]
        most, limit = cell.slots["most"], cell.slots["limit"]
        assert isinstance(most, Figure)
        assert isinstance(limit, Figure)
        assert most.value == max(room.area_feet.value for room in under)  # type: ignore[type-var]
        assert Fraction(most.value) <= int_of(limit)  # type: ignore[arg-type]


def test_where_the_law_asks_for_steps_the_rooms_are_counted_and_named() -> None:
    """In the row house plaster breaks out in the dining room, and other rooms are over the two square feet of housing
    with public aid: five in a list, three bedrooms more with every point.  Each option says how many, and which."""
    listed = ["Front hall", "Front parlor", "Back parlor", "Dining room", "Second floor front bedroom"]
    more = ["Second floor rear bedroom", "Third floor front bedroom", "Third floor rear bedroom"]
    offer = made("spindle-row")
    for key, cell in cells(offer, "lead").items():
        assert cell.words.startswith("rows.lead.some")
        owed, where = cell.slots["owed"], cell.slots["where"]
        assert isinstance(owed, Figure)
        assert isinstance(where, tuple)
        assert int_of(owed) == len(where) == sum(room.owed for room in offer.protection.options[key].rooms.values())
        assert [room.text for room in where if isinstance(room, Quote)] == (
            [*listed, *more] if key == "fixed-guarantee" else listed)


def test_rooms_that_a_paper_frees_are_named_in_the_option_that_opens_them() -> None:
    """The report frees five rooms of the row house; the price for every point opens three of them, a list none."""
    answers = cells(made("spindle-row"), "lead")
    assert [cell.words for cell in answers.values()] == ["rows.lead.some", "rows.lead.some", "rows.lead.some-freed"]
    freed = answers["fixed-guarantee"].slots["freed"]
    assert isinstance(freed, tuple)
    assert [room.text for room in freed if isinstance(room, Quote)] == ["Back entry", "Bath", "Small bath"]


def test_elsewhere_the_law_asks_for_steps_in_no_room() -> None:
    """In two other houses every cut is sawn whole and small, and the row says so in the same form for all options; in
    the first house two ceilings are scraped, and that is why they are named."""
    for cell in cells(made("alder-lane"), "lead").values():
        where = cell.slots["where"]
        assert isinstance(where, tuple)
        assert {room.text for room in where if isinstance(room, Quote)} == {"Upper hall", "Front bedroom"}
    for job in ("garnet-street", "juniper-court"):
        assert {cell.words for cell in cells(made(job), "lead").values()} == {"rows.lead.none"}


@pytest.mark.parametrize(("change", "words"), [
    ({"owed": True, "reason": "demolition"}, "rows.lead.every"),
    ({"owed": False, "reason": "written report"}, "rows.lead.freed"),
    ({"owed": False, "reason": "nothing disturbed"}, "rows.lead.nothing")])
def test_every_other_case_of_the_lead_row_has_its_words(change: dict[str, object], words: str) -> None:
    """All rooms owed, all freed, nothing painted cut: each has its own words with the slots that they ask for."""
    cell = cells(with_rooms(made("alder-lane"), "per-item", change), "lead")["per-item"]
    assert cell.words == words
    assert set(SLOT.findall(WORDS[words])) == set(cell.slots)


def test_a_freed_room_beside_others_keeps_the_form() -> None:
    """A freed room beside rooms under the limit, or beside rooms that owe, is named at the end."""
    free: dict[str, object] = {"owed": False, "reason": "written report"}
    house = made("garnet-street")
    key = next(iter(house.protection.options["per-item"].rooms))
    some = with_rooms(house, "per-item", free, frozenset({key}))
    cell = cells(some, "lead")["per-item"]
    assert cell.words == "rows.lead.none-freed"
    owed = with_rooms(with_rooms(house, "per-item", {"owed": True, "reason": "demolition"}), "per-item",
                      free, frozenset({key}))
    other = cells(owed, "lead")["per-item"]
    assert other.words == "rows.lead.every-freed"
    for each in (cell, other):
        assert set(SLOT.findall(WORDS[each.words])) == set(each.slots)


def test_a_house_that_was_tested_says_so() -> None:
    """Where a written test covers the house, no room is counted."""
    offer = made("alder-lane")
    tested = replace(offer, lead=replace(offer.lead, assumed=False))
    assert {cell.words for cell in cells(tested, "lead").values()} == {"rows.lead.tested"}


def test_a_house_too_new_for_the_rule_is_not_said_to_be_tested() -> None:
    """A house built in 1978 or later has no paper that clears it: the row says that the rule does not cover it."""
    offer = made("alder-lane")
    new = replace(offer, lead=replace(offer.lead, covered=False, assumed=False))
    for cell in cells(new, "lead").values():
        assert cell.words == "rows.lead.not-covered"
        assert set(SLOT.findall(WORDS[cell.words])) == set(cell.slots)


@pytest.mark.parametrize("job", HOUSES)
def test_the_end_moves_by_the_days_that_are_said(job: str) -> None:
    """Row 19 gives the later end with its working days where they are more than one, and for a list alone."""
    offer = made(job)
    for key, cell in cells(offer, "dates").items():
        dates = offer.dates.options[key]
        more = 0 if dates.more_days is None else int_of(dates.more_days)
        assert cell.slots["dead"] == dates.dead
        assert cell.slots["finished"] == dates.finished
        assert cell.slots.get("paint") == dates.ready_for_paint
        assert ("late" in cell.slots) == (more > 1)
        if more > 1:
            assert cell.slots["late"] == dates.finished_p50
            assert dates.finished_p50.value > dates.finished.value  # type: ignore[operator]


@pytest.mark.parametrize("job", HOUSES)
def test_days_without_power_come_from_the_plan_of_this_house(job: str) -> None:
    """Row 20 gives the days of the plan that this house takes, and of the other, as they are lived in or empty."""
    offer = made(job)
    for key, cell in cells(offer, "living").items():
        dates = offer.dates.options[key]
        assert cell.words == ("rows.living.lived-in" if offer.holder.lived_in else "rows.living.empty")
        assert cell.slots["days"] == dates.chosen.power_off
        assert cell.slots["other"] == dates.other.power_off
        assert dates.chosen.power_off.value == dates.power_off.value


def test_the_words_of_these_rows_are_short() -> None:
    """No sentence of the rows from `findings` to `living` has more than 25 words."""
    rows_ = ROWS[ROWS.index("findings"):ROWS.index("living") + 1]
    mine = {key: text for key, text in WORDS.items() if key.split(".")[1] in rows_}
    assert len(mine) > 25
    long = [sentence for text in mine.values() for sentence in re.split(r"(?<=[.?!:]) ", text)
            if len(sentence.split()) > 25]
    assert long == []


def test_no_form_of_these_rows_is_left_without_use() -> None:
    """Each variant that stands in the words for row `lead` can be met, by a house or by a case above."""
    met = {"rows.lead.not-covered", "rows.lead.tested", "rows.lead.every", "rows.lead.freed", "rows.lead.nothing",
           "rows.lead.none-freed", "rows.lead.every-freed"}
    met |= {cell.words for job in HOUSES for cell in cells(made(job), "lead").values()}
    assert {key for key in WORDS if key.startswith("rows.lead.")} - {"rows.lead.law"} == met
    assert set(OPTIONS) == set(cells(made("alder-lane"), "lead"))
