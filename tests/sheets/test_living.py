"""Living through it: what the sheet says of each demo house, and that it says it in the right order."""

from __future__ import annotations

import gzip
import re
from datetime import date, timedelta

import pytest
from bs4 import Tag
from msgspec.structs import replace

from sitegen.dates.plan_terms import Kind
from sitegen.figure import Figure, Quote, Source, day_of, int_of
from sitegen.offer.dates import MethodDates, StepSeen
from sitegen.offer.offer import Offer
from sitegen.sheets.days import FAMILY, JOINED, STEPS, WITH_DISCONNECT, blocks, outages
from sitegen.sheets.pages.living import CARE, PHASES, living
from sitegen.trade.floors import CARES
from sitegen.trade.lead_duties import INSIDE_STEPS, OUTSIDE_STEPS
from tests.built import HOUSES, built
from tests.helpers import ROOT

LARGEST_SHEET, LARGEST_STYLE = 13_500, 1_500
BOOK = Source("price book", "kits")


class House:
    """One demo house: its offer and its sheet."""

    def __init__(self, job: str) -> None:
        made = built(job)
        self.offer: Offer = made.offer
        self.html = (made.folder / "living.html").read_bytes()
        self.page = made.pages["living.html"]

    def section(self, key: str) -> Tag:
        """The section of a heading."""
        found = self.page.select_one(f'section[aria-labelledby="living-{key}"]')
        assert found is not None, key
        return found

    def text(self, key: str) -> str:
        """Its words on one line."""
        return re.sub(r"\s+", " ", self.section(key).get_text())

    def folds(self) -> list[Tag]:
        """Everything that stands closed until it is asked for."""
        return list(self.page.select("main details"))

    @property
    def shown(self) -> set[tuple[str, str]]:
        """Every figure of the sheet by name and value."""
        return {(str(tag["data-figure"]), str(tag["value"])) for tag in self.page.select("main data")}


@pytest.fixture(scope="module")
def houses() -> dict[str, House]:
    """All demo houses, built once."""
    return {job: House(job) for job in HOUSES}


@pytest.fixture(params=HOUSES)
def house(request: pytest.FixtureRequest, houses: dict[str, House]) -> House:
    """Each of them."""
    return houses[request.param]


def _raw(figure: Figure) -> tuple[str, str]:
    return figure.name, figure.raw()


# --- the whole sheet ---------------------------------------------------------------------------------------------


def test_the_answer_says_what_the_two_dates_are_and_favors_no_option(house: House) -> None:
    """The first sentences say when work starts and that each option has two dates, and name none; the question of who
    lives there follows, then the dates option by option."""
    answer = house.page.select_one(".answer")
    assert answer
    said = answer.get_text()
    assert all(words in said for words in ("Each option has two dates", "old wiring is dead", "work is finished"))
    assert not [option.name for option in house.offer.outcome.options if option.name in said]
    assert answer.find_next("h2") == house.section("when").find("h2")
    assert answer.find_next("fieldset") == house.page.select_one("fieldset[data-lives]")


def test_sections_stand_in_the_order_in_which_they_are_asked(house: House) -> None:
    """Dates, what moves them, days, power, people, lead, rooms, extras."""
    heads = [str(head["id"]) for head in house.page.select("main section > h2")]
    assert heads == [f"living-{key}" for key in ("when", "later", "days", "power", "out", "lead", "move", "choose")]


OPEN = ("living-when", "living-power", "living-out", "living-lead", "living-choose")
"""Sections in which something that decides how people will live stands outside of every fold."""


def test_what_decides_stands_open(house: House) -> None:
    """Both dates, days without power, cautions, and the first and last day to choose an extra: in no fold."""
    for fold in house.folds():
        assert not fold.select(".caution, .bars, .off")
    for key in OPEN:
        assert house.page.select(f'section[aria-labelledby="{key}"] > :not(details, h2)')
    days = sorted(day_of(extra.until) for extra in house.offer.extras)
    said = house.section("choose").select("section > p data")
    assert [str(tag["value"]) for tag in said] == [day.isoformat() for day in dict.fromkeys((days[0], days[-1]))]


def test_every_option_is_told_with_both_pairs_of_dates(house: House) -> None:
    """Empty and lived in are two methods: each option says dead and finished for both, lowest price first; the same
    one stands first in every house, so that the order tells nobody whether the house is empty."""
    parts = house.section("when").select("tbody")
    assert len(parts) == len(house.offer.outcome.options)
    for part, option in zip(parts, house.offer.outcome.options, strict=True):
        both = house.offer.dates.options[option.key].both
        assert [method.key for method in both] == ["empty", "lived-in"]
        head = part.find("th")
        assert head
        assert head.get_text() == option.name
        assert [str(tag["value"]) for tag in part.select("b data")] == [
            day.raw() for method in both for day in (method.dead, method.finished)]


def test_both_cases_stand_in_words_of_their_own(house: House) -> None:
    """Whatever one answer hides has its counterpart beside it, and says for which case it holds."""
    hidden = {name: house.page.select(f"main .{name}") for name in ("if-empty", "if-lived-in")}
    assert all(len(found) > 10 for found in hidden.values())
    for name, words in (("if-empty", ("empty",)), ("if-lived-in", ("people", "stay"))):
        for tag in hidden[name]:
            if "drawn" not in tag.get("class", []):      # a bar stands under the row that says what it shows
                said = tag.get_text().lower()
                assert any(word in said for word in words), said


def test_a_list_is_never_said_to_make_all_old_wires_dead(house: House) -> None:
    """Where an option sells a list, the page says that other old wires stay live."""
    some = any(not option.covers_all for option in house.offer.outcome.options)
    assert ("Old wiring that is not on an option's list stays live" in house.text("when")) is some


def test_days_in_hand_stand_by_each_first_date(house: House) -> None:
    """Where an owner was set a date, each first date says the working days in hand or late, in both cases."""
    deadline = house.offer.dates.deadline
    dated = deadline is not None and deadline.by is not None and house.offer.holder.owner_now
    for part, option in zip(house.section("when").select("tbody"), house.offer.outcome.options, strict=True):
        said = [tag.get_text() for tag in part.select("td .note")]
        counts = [method.in_hand or method.late for method in house.offer.dates.options[option.key].both]
        assert len(said) == (2 if dated else 0)
        for line, count in zip(said, counts, strict=False):
            assert count
            assert line.startswith("no day" if not count.value else count.say())


def test_what_turns_up_moves_the_dates_where_it_can(house: House) -> None:
    """In both cases the middle and the tenth house are said for each list that they move; a price for every point says
    the tenth."""
    told = house.section("later").select(".told > div")
    for row, option in zip(told, house.offer.outcome.options, strict=True):
        for line, when in zip(row.select("dd > p"), house.offer.dates.options[option.key].both, strict=True):
            moved = (when.dead_p90.value, when.finished_p90.value) != (when.dead.value, when.finished.value)
            assert bool(line.find("data")) is moved
            said = [str(tag["value"]) for tag in line.find_all("data")]
            if moved:
                assert str((when.finished_p90 if option.covers_all else when.finished_p50).raw()) in said


def test_each_case_says_its_days_and_one_wait_is_the_longest(house: House) -> None:
    """Every case that can stop work is there with its days, and every wait with its last day, one of them longest."""
    cases = {case.key: case for option in house.offer.outcome.options for case in option.cases}
    assert {_raw(case.days) for case in cases.values()} <= house.shown
    assert all(isinstance(case.days.value, int) and case.days.value > 0 for case in cases.values())
    assert {_raw(wait.over) for wait in house.offer.dates.waits} <= house.shown
    assert house.text("later").count(", the longest") == 1


# --- day by day --------------------------------------------------------------------------------------------------


def test_every_step_of_every_plan_is_inside_a_line(house: House) -> None:
    """Lines fold steps, they drop none: each step's first and last day lies in a line of its rooms."""
    year = day_of(house.offer.dates.prepared).year
    for when in house.offer.dates.options.values():
        for method in when.both:
            lived = method.key == "lived-in"
            told = blocks(method, lived, year)
            for step in method.steps:
                rooms = step.rooms if lived else ()
                spans = [(line.first.value, (line.last or line.first).value) for block in told if block.rooms == rooms
                         for line in block.lines]
                assert any(first <= step.first.value and step.last.value <= last for first, last in spans), step  # type: ignore[operator]


def test_a_lived_in_plan_goes_group_by_group(house: House) -> None:
    """With people in it, each set of rooms has its own block and days in work; an empty house has one list."""
    for option in house.offer.outcome.options:
        empty, lived = house.page.select(f"#living-days-{option.key} .course")
        groups = dict.fromkeys(step.rooms for step in house.offer.dates.options[option.key].both[1].steps if step.rooms)
        assert not empty.select(".shut")
        assert [tag.get_text() for tag in lived.select(".shut b")] == [
            ", ".join(room.text for room in rooms) for rooms in groups]


def test_a_year_is_said_once() -> None:
    """Worked by hand: the year stands with its first date, and again after a turn of the year."""
    def day(value: date) -> Figure:
        return Figure("a.day", value, "date", "Day.", BOOK)
    hall = (Quote("Hall", BOOK),)
    two = Figure("a.hours", 2, "hours", "Hours.", BOOK)
    steps = (StepSeen("rough", "crew", day(date(2026, 12, 30)), day(date(2027, 1, 4)), True, hall, two),
             StepSeen("photograph", "crew", day(date(2027, 1, 4)), day(date(2027, 1, 4)), False, hall, None),
             StepSeen("test dead", "crew", day(date(2027, 1, 5)), day(date(2027, 1, 5)), False, (), None))
    end = day(date(2027, 1, 5))
    method = MethodDates("lived-in", end, end, two, two, two, steps, None, end, end, end, end, None, None, None, None)
    rooms, whole = blocks(method, True, 2026)
    assert [figure.say() for figure in rooms.shut or ()] == ["Dec 30", "Jan 4, 2027"]
    line, = rooms.lines
    assert line.last
    assert (line.key, line.first.say(), line.last.say()) == (
        "living.step.rough-and-photograph", "Dec 30", "Jan 4, 2027")
    assert (line.power_off, line.each_day) == (two, True)
    assert [(one.key, one.first.say(), one.last) for one in whole.lines] == [("living.step.old-wires", "Jan 5", None)]
    assert [(one.key, one.hours) for one in outages(method, 2026)] == [("living.power.at.rough", two)]


# --- power -------------------------------------------------------------------------------------------------------


def test_medical_equipment_is_asked_first(house: House) -> None:
    """It is the first thing under power, asks everybody, says nothing of what was told, and ends with whom to ask."""
    first = house.section("power").find("p")
    assert first
    said = first.get_text()
    assert said.startswith("If anybody there needs powered medical equipment")
    assert "doctor" in said
    assert house.offer.head.phone.text in said


def test_what_cannot_lose_power_has_its_advice(house: House) -> None:
    """Each thing of the house that the survey names is there once, under our name for it, with something to do."""
    rows = house.section("power").select(".keeps > div")
    told = [said.text.lower() for said in house.offer.power.keep]
    named = [row.find("dt").get_text().lower() for row in rows]  # type: ignore[union-attr]
    assert named
    assert all(any(name.split()[0] in one for one in told) for name in named)
    assert all(len(row.find("dd").get_text().split()) > 5 for row in rows)  # type: ignore[union-attr]


def test_what_else_was_told_of_power_is_not_repeated() -> None:
    """A thing that may tell of the people there has no line: the page asks everybody to name it."""
    offer = built("alder-lane").offer
    home = replace(offer, power=replace(offer.power, keep=(Quote("insulin refrigerator", BOOK),
                                                          Quote("oxygen concentrator", BOOK))))
    assert living(home)["keeps"] == (("living.keep.refrigerator", "living.keep.cold"),)


def test_every_day_without_power_is_in_the_list(house: House) -> None:
    """The steps that take the power are all listed, and the most hours of one day are theirs, added up."""
    rows = house.section("power").select("dl.cols > div")
    table = house.section("power").select(".off tbody")
    for row, part, option in zip(rows, table, house.offer.outcome.options, strict=True):
        both = house.offer.dates.options[option.key].both
        for place, line, method in zip(row.select("dd > div"), part.select("tr:not(.of)"), both, strict=True):
            off = [step for step in method.steps if step.power_off]
            assert off
            assert len(place.select("li")) == len(off)
            hours: dict[date, int] = {}
            for step in off:
                first, last = day_of(step.first), day_of(step.last)
                for day in (first + timedelta(i) for i in range((last - first).days + 1)):
                    hours[day] = hours.get(day, 0) + int_of(step.power_off)
            assert [str(tag["value"]) for tag in line.select("data")][:2] == [method.power_off.raw(),
                                                                             str(max(hours.values()))]


def test_days_without_outlets_and_lights_are_said(house: House) -> None:
    """Each case of each option says for how many working days rooms wait for their new points, and temporary power is
    said where that is long."""
    waits = []
    for part, option in zip(house.section("power").select(".off tbody"), house.offer.outcome.options, strict=True):
        for line, method in zip(part.select("tr:not(.of)"), house.offer.dates.options[option.key].both, strict=True):
            said = line.select("td")[-1]
            waits.append(method.dark)
            assert said.get_text() == ("none" if method.dark is None else method.dark.days.say())
    assert ("temporary light" in house.text("power")) is any(dark.long for dark in waits if dark)


# --- lead, people, papers ----------------------------------------------------------------------------------------


def test_where_the_lead_steps_are_owed_or_why_not(house: House) -> None:
    """Each option names every room that owes the steps, and the area of the widest that does not; options that say the
    same stand together under both names, and each stands once.  No limit is said: a lower one would tell of people."""
    names = {room.key: room.name.text for room in house.offer.rooms}
    rows = house.section("lead").select("dl.cols > div")
    named = [(row, option) for option in house.offer.outcome.options for row in rows
             if option.name in row.select("dt")[0].get_text()]
    assert [option.key for _, option in named] == [option.key for option in house.offer.outcome.options]
    for row, option in named:
        care, said = house.offer.protection.options[option.key], row.get_text()
        owed = [names[key] for key, room in care.rooms.items() if room.owed]
        assert all(name in said for name in owed)
        assert ("start in no room" in said) == (not owed)
        under = [room for room in care.rooms.values() if room.reason == "under the limit"]
        values = [str(tag["value"]) for tag in row.find_all("data")]
        widest = max(under, key=lambda room: room.area.value)
        assert widest.area_feet.raw() in values
    assert not house.section("lead").select('data[data-figure*="limit"]')


def test_broken_out_plaster_brings_the_full_steps_in_every_option(house: House) -> None:
    """The page says so, and who decides; our own standard for every option stands open as a caution."""
    said = house.text("lead")
    assert "the law can ask for its full steps" in said
    assert "The EPA or your state decides" in said
    caution = house.section("lead").select_one(".caution")
    assert caution
    assert "one standard in every option" in caution.get_text()


def test_the_full_steps_are_written_out_where_they_are_owed(house: House) -> None:
    """All of them in the order of the work where a room owes them; one link leads to how they are done."""
    section = house.section("lead")
    owed = any(option.steps for option in house.offer.protection.options.values())
    assert section.select('a[href="detail-lead-safe.html#detail-lead-safe"]')
    if owed:
        phases = section.select(".keeps > div")
        said = sum(phase.find("dd").get_text().count(".") for phase in phases)  # type: ignore[union-attr, misc]
        assert said == max(len(option.steps) for option in house.offer.protection.options.values())


def test_children_and_pregnancy_end_with_whom_to_ask(house: House) -> None:
    """The caution is said for everybody: who keeps out, until when, and a doctor; of the people who live there nothing
    is said.  Asbestos has its own, and a landlord is asked to pass them on."""
    caution = house.section("out").select_one(".caution")
    assert caution
    said = caution.get_text()
    assert all(word in said for word in ("children under six", "pregnant", "doctor", "health department"))
    assert "until the check of the cleaning has passed" in said
    assert "asbestos inspector" in said
    assert "pets" in house.text("out")
    assert ("your tenants" in said) is house.offer.holder.rented


def test_the_pamphlet_window_and_who_gets_a_copy(house: House) -> None:
    """The three days of the window, the tenants' copy, and the seller until closing."""
    papers, holder = house.offer.protection.papers, house.offer.holder
    assert {_raw(day) for day in (papers.first, papers.mail_by, papers.hand_by, papers.records_years,
                                  papers.copies_days)} <= house.shown
    said = house.text("lead")
    assert ("your tenants a copy" in said) is (holder.rented and holder.owner_now)
    assert "a copy too" in said
    assert ("the owner is the seller" in said) is (holder.closing is not None)


# --- plaster, floors, extras -------------------------------------------------------------------------------------


def test_heat_and_paint(house: House) -> None:
    """The warmth and its days, and the day for paint of each option that plasters, in both cases."""
    offer = house.offer
    assert {_raw(offer.protection.heat), _raw(offer.protection.heat_days)} <= house.shown
    for row, option in zip(house.page.select("#living-plaster .told > div"), offer.outcome.options, strict=True):
        paint = [method.ready_for_paint for method in offer.dates.options[option.key].both]
        assert ("We do no plaster" in row.get_text()) is (paint[0] is None)
        said = [str(tag["value"]) for tag in row.find_all("data")]
        assert all(day is None or day.raw() in said for day in paint)


def test_wood_and_sheet_are_said_to_pull_apart(house: House) -> None:
    """The sheet of the law and the wood under it, and that the sheet is lifted soon; every floor has its care."""
    said = house.text("move")
    assert "conflict" in said
    assert "We cannot keep to that while holes are open" in said
    for option in house.offer.outcome.options:
        for method in house.offer.dates.options[option.key].both:
            if method.sheet and house.offer.protection.options[option.key].laid.value:
                assert _raw(method.sheet.last) in house.shown
    for floor in house.offer.protection.floors:
        assert floor in said.lower()


def test_extras_stand_by_their_last_day_with_a_reason(house: House) -> None:
    """Soonest first, those of a day together, each with its price and the reason in words."""
    rows = house.section("choose").select(".choose > div")
    days = [str(row.find("dt").find("data")["value"]) for row in rows]  # type: ignore[union-attr, index]
    assert days == sorted(set(days))
    assert sum(len(row.select("dd p")) for row in rows) == len(house.offer.extras)
    said = house.text("choose")
    for extra in house.offer.extras:
        assert extra.choose_by.text in said
        assert _raw(extra.price) in house.shown
        assert extra.until.raw() in days


# --- tables of words ---------------------------------------------------------------------------------------------


def test_whatever_a_plan_and_the_lead_rule_can_say_has_its_words() -> None:
    """Each kind of step, each step of the rule and each care of a floor has a key; holes are closed in coats."""
    told = {FAMILY.get(kind.value, kind.value) for kind in Kind} | set(JOINED.values()) | {WITH_DISCONNECT}
    assert told - set(STEPS) == {"close"}
    assert set(STEPS) <= told
    assert {step for steps in PHASES.values() for step in steps} == {one.key for one in (*INSIDE_STEPS, *OUTSIDE_STEPS)}
    assert set(CARE) == {care for cares in CARES.values() for care in cares}


# --- words and weight --------------------------------------------------------------------------------------------

WORDS = (ROOT / "content" / "sheets" / "living.md").read_text("utf-8")
NEVER = ("only", "best", "safe", "proven", "approved", "dust-free", "recommended", "should", "peace of mind")


def test_no_sentence_is_long_and_no_word_is_one_of_those_that_hurt() -> None:
    """At most 25 words a sentence, a slot counted as one, and none of the words that the sheets never use."""
    for piece in re.split(r"^# .*$", WORDS, flags=re.MULTILINE)[1:]:
        assert not re.search(rf"\b({'|'.join(NEVER)})\b", piece, flags=re.IGNORECASE), piece
        for sentence in re.split(r"(?<=[.?!:])\s+", piece.replace("*", "").strip()):
            assert len(sentence.split()) <= 25, sentence


def test_the_sheet_is_light(house: House) -> None:
    """The sheet, which carries no script of its own, and its style stay under their limits, compressed."""
    assert b"<script>" not in house.html
    assert len(gzip.compress(house.html, 9, mtime=0)) < LARGEST_SHEET
    style = b"".join((ROOT / "theme" / path).read_bytes() for path in ("parts/bars/bars.css", "sheets/living.css"))
    assert len(gzip.compress(style, 9, mtime=0)) < LARGEST_STYLE
