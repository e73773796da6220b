"""Rows of the comparison: what they say follows from what is worked out."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from msgspec.structs import replace

from sitegen.figure import Figure, Quote, int_of
from sitegen.offer.offer import Offer
from sitegen.offer.protection import RoomCare
from sitegen.offer.rows import ROWS, Cell, rows
from sitegen.sheets.words import FORM, SLOT, pieces
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
    """The row of holes gives our price where the option leaves the holes open, and none where we close them."""
    offer = made(job)
    for key, cell in cells(offer, "holes").items():
        close = offer.protection.options[key].to_close
        assert cell.slots.get("close") == close
        assert (close is None) == (offer.terms[key].closes_holes == "us")
        assert cell.slots["holes"] == next(option.holes for option in offer.outcome.options if option.key == key)


@pytest.mark.parametrize("job", HOUSES)
def test_floors_say_what_is_laid_and_what_stays_bare(job: str) -> None:
    """The row of floors has the words of the kit, the rooms with taped sheet and the floor without it."""
    offer = made(job)
    for key, cell in cells(offer, "floors").items():
        care = offer.protection.options[key]
        bare = {"bare": care.bare} if care.bare.value else {}
        assert cell.slots == {"says": offer.terms[key].row_words["floors"], "laid": care.laid, **bare}
        assert cell.words == ("rows.floors.kit" if bare else "rows.floors.kit-none-bare")


@pytest.mark.parametrize("job", HOUSES)
def test_the_cut_that_is_shown_is_within_the_limit_and_in_no_room_that_owes(job: str) -> None:
    """The row of lead dust shows the widest cut among rooms that the limit alone keeps out, and never more."""
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
    """The report frees five rooms of the row house; each option names those that it opens, in the order of the survey,
    and the price for every point opens more of them than a list."""
    offer, named = made("spindle-row"), dict[str, list[str]]()
    for key, cell in cells(offer, "lead").items():
        opened = offer.protection.options[key].rooms
        freed = [room.name.text for room in offer.rooms
                 if room.key in opened and opened[room.key].reason == "written report"]
        said = cell.slots.get("freed", ())
        assert isinstance(said, tuple)
        named[key] = [room.text for room in said if isinstance(room, Quote)]
        assert named[key] == freed
        assert cell.words == ("rows.lead.some-freed" if freed else "rows.lead.some")
    assert set(named["per-item"]) < set(named["fixed-guarantee"]) < {room.text for room in offer.lead.free_rooms}


def test_a_house_of_which_no_paper_frees_a_room_says_nothing_of_one() -> None:
    """Without the report the row house says in which rooms the law asks for steps, and no more."""
    offer = made("spindle-row")
    freed = frozenset(key for key, room in offer.protection.options["per-item"].rooms.items()
                      if room.reason == "written report")
    assert freed
    cell = cells(with_rooms(offer, "per-item", {"reason": "under the limit"}, freed), "lead")["per-item"]
    assert cell.words == "rows.lead.some"
    assert set(SLOT.findall(WORDS[cell.words])) == set(cell.slots)


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
def test_the_dates_are_those_of_the_plan(job: str) -> None:
    """The row of dates gives when old wires are dead and when all is finished, in an empty house and in one that is
    lived in, and when plaster may be painted."""
    offer = made(job)
    for key, cell in cells(offer, "dates").items():
        dates, covers = offer.dates.options[key], key == "fixed-guarantee"
        empty, lived = (dates.other, dates) if offer.dates.lived_in else (dates, dates.other)
        paint = {} if dates.ready_for_paint is None else {"paint": dates.ready_for_paint}
        assert cell.slots == {"dead": empty.dead, "finished": empty.finished, "dead_lived": lived.dead,
                              "finished_lived": lived.finished, **paint}
        assert cell.words == f"rows.dates.{'every' if covers else 'list'}{'-paint' if paint else ''}" + (
            "-lived" if paint and offer.dates.lived_in else "")


@pytest.mark.parametrize("job", HOUSES)
def test_what_moves_the_end_is_said_by_how_far(job: str) -> None:
    """The row of how sure the dates are gives the middle and the tenth house where what is hidden can move them, for a
    list alone, and the longest case."""
    offer = made(job)
    for key, cell in cells(offer, "sure").items():
        dates = offer.dates.options[key]
        moved = key != "fixed-guarantee" and dates.finished_p90.value > dates.finished.value  # type: ignore[operator]
        assert ("middle" in cell.slots, "late" in cell.slots) == (moved, moved)
        if moved:
            assert cell.slots["middle"] == dates.finished_p50
            assert cell.slots["late"] == dates.finished_p90
            assert dates.finished.value <= dates.finished_p50.value <= dates.finished_p90.value  # type: ignore[operator]
        assert offer.outcome.cases
        days = cell.slots["days"]
        assert isinstance(days, Figure)
        assert int_of(days) == max(int_of(case.days) for case in offer.outcome.cases)


def test_dates_that_nothing_can_move_say_so() -> None:
    """With no case in the book and nothing hidden that could move it, the row expects no surprise."""
    offer = made("alder-lane")
    options = tuple(replace(option, cases=()) for option in offer.outcome.options)
    calm = replace(offer, outcome=replace(offer.outcome, options=options))
    found = {key: cell.words for key, cell in cells(calm, "sure").items()}
    assert found == {"minimal-protection": "rows.sure.more", "per-item": "rows.sure.more",
                     "fixed-guarantee": "rows.sure.nothing"}


@pytest.mark.parametrize("job", HOUSES)
def test_how_sure_the_dates_are_is_counted_in_finished_jobs(job: str) -> None:
    """Under the row stands in how many of the finished jobs the days planned were kept, or that there are too few."""
    offer = made(job)
    (sure,) = (row for row in rows(offer) if row.key == "sure")
    assert offer.finished is not None
    assert sure.under == ("rows.sure.counted", {"some": offer.finished.in_time, "jobs": offer.finished.jobs})
    assert offer.finished.jobs.source in sure.sources
    (unsure,) = (row for row in rows(replace(offer, finished=None)) if row.key == "sure")
    assert unsure.under == ("rows.sure.uncounted", {})


@pytest.mark.parametrize("job", HOUSES)
def test_every_line_of_the_scope_is_counted_once_in_its_row(job: str) -> None:
    """In the price, at a set price and not in it: the three counts are all lines of the scope table."""
    offer = made(job)
    for key, cell in cells(offer, "besides").items():
        states = [scoped.state for row in offer.scope.rows for scoped in row.cells if scoped.option == key]
        counted = [int_of(slot) for name in ("within", "each", "out") if isinstance(slot := cell.slots[name], Figure)]
        assert counted == [states.count(state) for state in ("in", "each", "out")]
        assert sum(counted) == len(offer.scope.rows)


@pytest.mark.parametrize("job", HOUSES)
def test_what_is_known_today_is_in_the_row_of_the_price(job: str) -> None:
    """An option whose price lacks what is known already says what it comes to with it, in the rows of the price and of
    the least; one that lacks nothing does not."""
    offer = made(job)
    for option in offer.outcome.options:
        assert cells(offer, "price")[option.key].slots.get("with_known") == option.with_known
        assert cells(offer, "least")[option.key].slots.get("least") == option.least_paid


def test_the_least_has_a_known_surprise_at_the_least_that_it_costs() -> None:
    """A gas pipe that is known to be live costs $300 to $1,200, usually $550, so that the least is $250 under what all
    that is known usually comes to (invented prices); no ending is lower."""
    for option in made("spindle-row").outcome.options:
        assert option.least_paid is not None
        assert option.with_known is not None
        assert int_of(option.with_known) - int_of(option.least_paid) == 250_00
        assert int_of(option.least_paid) <= int_of(option.quantile_dots[0])


@pytest.mark.parametrize("job", HOUSES)
def test_days_without_power_come_from_the_plan_of_this_house(job: str) -> None:
    """The row of living there gives the days of the plan of an empty house, and those of one that is lived in."""
    offer = made(job)
    for key, cell in cells(offer, "living").items():
        dates = offer.dates.options[key]
        by = {one.key: one.power_off.value for one in (dates.chosen, dates.other)}
        assert cell.words == "rows.living.kit"
        assert isinstance(cell.slots["days"], Figure)
        assert isinstance(cell.slots["other"], Figure)
        assert (cell.slots["days"].value, cell.slots["other"].value) == (by["empty"], by["lived-in"])
        assert by[dates.chosen.key] == dates.power_off.value


def test_the_words_of_these_rows_are_short() -> None:
    """No sentence of a row has more than 25 words."""
    assert {key.split(".")[1].partition(FORM)[0] for key in WORDS} >= set(ROWS)
    long = [sentence for text in WORDS.values() for sentence in re.split(r"(?<=[.?!:]) ", re.sub("<[^>]*>", "", text))
            if len(sentence.split()) > 25]
    assert long == []


def test_no_form_of_these_rows_is_left_without_use() -> None:
    """Each variant that stands in the words for row `lead` can be met, by a house or by a case above."""
    met = {"rows.lead.not-covered", "rows.lead.tested", "rows.lead.every", "rows.lead.freed", "rows.lead.nothing",
           "rows.lead.none-freed", "rows.lead.every-freed"}
    met |= {"rows.lead.some"} | {cell.words for job in HOUSES for cell in cells(made(job), "lead").values()}
    keys = {key.partition(FORM)[0] for key in WORDS if key.startswith("rows.lead.")}
    assert keys - {"rows.lead.law", "rows.lead.law-aided"} == met
    assert set(OPTIONS) == set(cells(made("alder-lane"), "lead"))
