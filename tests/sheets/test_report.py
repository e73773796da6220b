"""Sheet 2 over the four demo houses: findings and what closes them, the letters, and what stays open."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from urllib.parse import unquote

import pytest
from bs4 import BeautifulSoup, Tag

from sitegen.figure import int_of
from sitegen.offer.offer import Offer
from sitegen.sheets.pages.report import CLOSES, HOW, OLD_WIRE, PROOF, TO
from sitegen.sheets.pages.start import ASKS
from sitegen.sheets.sheets import SHEETS
from sitegen.sheets.words import pieces
from sitegen.survey.findings import DETAILS_OF, PROOF_OF
from tests.built import HOUSES, built
from tests.helpers import ROOT

REPORT = next(sheet for sheet in SHEETS if sheet.id == "report")


@dataclass(frozen=True)
class Seen:
    """One house: its offer, and its second sheet."""

    offer: Offer
    page: BeautifulSoup

    def items(self) -> list[Tag]:
        """The findings as the sheet lists them."""
        return self.page.select(".found > ol > li")


@cache
def seen(job: str) -> Seen:
    """A house, built once."""
    made = built(job)
    return Seen(made.offer, made.pages[REPORT.file])


def text(tag: Tag) -> str:
    """What a reader reads of a tag, on one line."""
    return " ".join(tag.get_text().split())


@pytest.mark.parametrize("job", HOUSES)
def test_every_finding_stands_there_by_its_number_in_the_inspectors_words(job: str) -> None:
    """The list has each finding of the report once, with its own number, in the order of the report."""
    house = seen(job)
    found = [(text(item.select_one(".key data") or item.select_one("data.key") or item), text(item.h3))
             for item in house.items() if item.h3]
    assert found == [(f"finding {finding.number.say()}", finding.says.text) for finding in house.offer.found.findings]


@pytest.mark.parametrize("job", HOUSES)
def test_every_option_answers_every_finding_once(job: str) -> None:
    """Under each finding each option stands once, with the answer that is worked out for it."""
    house = seen(job)
    names = [option.name for option in house.offer.outcome.options]
    for item, finding in zip(house.items(), house.offer.found.findings, strict=True):
        said: dict[str, str] = {}
        for line in item.select(".by > div"):
            options, answer = line.dt, line.dd
            assert options
            assert answer
            for name in names if text(options) == "All options" else text(options).split(", "):
                assert name not in said
                said[name] = text(answer).lower()
        assert said == {option.name: finding.closed[option.key] for option in house.offer.outcome.options}


@pytest.mark.parametrize("job", HOUSES)
def test_every_room_that_an_option_does_or_leaves_is_named_in_its_line(job: str) -> None:
    """A room in which a point is done, in part done or left is named once, under that word, and no other room is."""
    house = seen(job)
    for item, finding in zip(house.items(), house.offer.found.findings, strict=True):
        for line in item.select(".by > div"):
            said = {part.split(":")[0]: part.split(": ")[1].rstrip(".").split(", ")
                    for part in map(text, line.select(".does span"))}
            keys = [option.key for option in house.offer.outcome.options
                    if line.dt and (text(line.dt) == "All options" or option.name in text(line.dt).split(", "))]
            assert keys
            for key in keys:
                done = {room.text for room in finding.rooms[key]}
                left = {room.text for room in finding.leaves[key]}
                wanted = {"We do all of it here": done - left, "We do some of it here": done & left,
                          "We leave it as it is here": left - done}
                assert {word: set(rooms) for word, rooms in said.items()} == {k: v for k, v in wanted.items() if v}


@pytest.mark.parametrize("job", HOUSES)
def test_a_list_never_claims_more_of_old_wire_than_its_points(job: str) -> None:
    """Of old wire a list says that the rest can stay live; a price for every point says that we will test it dead."""
    house = seen(job)
    covers = {option.name: option.covers_all for option in house.offer.outcome.options}
    looked = 0
    for item, finding in zip(house.items(), house.offer.found.findings, strict=True):
        for line in item.select(".by > div") if finding.about == "old wire" else ():
            assert line.dt
            every = {covers[name] for name in text(line.dt).split(", ")}
            assert len(every) == 1
            assert ("test it dead" in text(line)) == every.pop()
            assert ("can stay live" in text(line)) != ("test it dead" in text(line))
            looked += 1
    assert looked or job == "juniper-court"


@pytest.mark.parametrize("job", HOUSES)
def test_the_rings_at_the_top_hold_each_finding_once_an_option(job: str) -> None:
    """The table of rings puts each number under the answer of each option, lowest price today first."""
    house = seen(job)
    lines = house.page.select(".tally tbody tr")
    assert [text(line.th) for line in lines if line.th] == [option.name for option in house.offer.outcome.options]
    for option, line in zip(house.offer.outcome.options, lines, strict=True):
        cells = [[int(str(ring["value"])) for ring in cell.select("data.key")] for cell in line.find_all("td")]
        assert cells == [[int_of(finding.number) for finding in house.offer.found.findings
                          if finding.closed[option.key] == answer] for answer in CLOSES]


@pytest.mark.parametrize("job", HOUSES)
def test_what_no_option_closes_whole_is_gathered_with_its_reason(job: str) -> None:
    """Each finding that no option fixes whole stands by its number before the list and leads to its reason, which no
    fold hides; no other one does."""
    house = seen(job)
    said = {int(str(ring["value"])): str(link["href"]) for link in house.page.select(".stays a")
            for ring in link.select("data.key")}
    open_ = [finding for finding in house.offer.found.findings if "yes" not in finding.closed.values()]
    assert said == {number: f"report.html#report-finding-{number}"
                    for number in (int_of(finding.number) for finding in open_)}
    for finding in open_:
        assert finding.left
        (summary,) = house.page.select(f"#report-finding-{int_of(finding.number)} summary")
        assert finding.left.text in text(summary)
    assert ("Each finding is fixed in full by at least one option" in text(house.page)) == (not open_)


def test_the_houses_differ_in_what_stays_open() -> None:
    """One house leaves a finding in part and one wholly, so both reasons are tried."""
    said = text(seen("garnet-street").page)
    assert "Here is why no option fixes it whole. We label every circuit" in said
    assert "This is not part of our work. It is insulation." in said


@pytest.mark.parametrize("job", HOUSES)
def test_there_is_a_letter_for_each_option_with_its_own_work_and_days(job: str) -> None:
    """Each option has a letter with its start, its date and its end, and a list names its rooms and counts its
    points."""
    house = seen(job)
    letters = house.page.select(".letters > div")
    assert [text(letter.summary) for letter in letters if letter.summary] == [
        f"Read the letter with {option.name}" for option in house.offer.outcome.options]
    for option, letter in zip(house.offer.outcome.options, letters, strict=True):
        shown = {str(tag["data-figure"]) for tag in letter.select(".letter data")}
        dates = house.offer.dates.options[option.key]
        found = house.offer.found
        wanted = {house.offer.dates.work_starts.name, dates.dead.name, dates.finished.name, found.new_places.name}
        count = found.rewired if option.covers_all else found.listed
        if int_of(count) == 1:
            assert "one outlet, switch or light" in text(letter)
        else:
            wanted.add(count.name)
        assert wanted <= shown
        assert ("does not say that all old wiring in the house is dead" in text(letter)) == (not option.covers_all)
        rooms = re.search(r"The rooms are (.*?)\.", text(letter))
        assert (rooms is None) == option.covers_all
        if rooms:
            assert len(rooms[1].split(", ")) == int_of(found.list_rooms)


@pytest.mark.parametrize("job", HOUSES)
def test_a_licensed_person_signs_each_letter_with_a_number(job: str) -> None:
    """Under each letter stand the electrician in charge and the number of the electrical license, from the card."""
    house = seen(job)
    firm = house.offer.firm
    for letter in house.page.select(".letter"):
        last = text(letter.select("p")[-1])
        assert last.startswith(f"For signature: {firm.signer.name}, electrician in charge")
        assert firm.signs_with.text in last


@pytest.mark.parametrize("job", HOUSES)
def test_no_letter_has_a_price(job: str) -> None:
    """A letter has no sum of money in it, whatever is asked for it."""
    house = seen(job)
    money = {figure.name for figure in house.offer.figures() if figure.unit.startswith("cents")}
    letters = house.page.select(".letters")
    assert len(letters) == 1
    assert {str(tag["data-figure"]) for tag in letters[0].select("data")} & money == set()
    assert "$" not in text(letters[0])


@pytest.mark.parametrize(("job", "to"), [("alder-lane", "To the insurer of"), ("spindle-row", "To the lender for"),
                                         ("garnet-street", "To the buyers and their agent"),
                                         ("juniper-court", "To whom it may concern")])
def test_a_letter_is_addressed_to_who_asks(job: str, to: str) -> None:
    """Insurer, lender, buyers or nobody: each letter of a house begins with whoever asked there."""
    firsts = [text(letter.p) for letter in seen(job).page.select(".letter") if letter.p]
    assert len(firsts) == 3
    assert all(first.startswith(to) for first in firsts)


@pytest.mark.parametrize("job", HOUSES)
def test_who_is_late_is_told_to_ask_for_more_time(job: str) -> None:
    """The days of each option stand open; an owner with a date reads beside them whether it is met, and is told to ask
    for more time where it is not."""
    house, deadline = seen(job), seen(job).offer.dates.deadline
    rows = house.page.select("table.days tbody tr")
    assert not any("details" in [tag.name for tag in row.parents] for row in rows)
    for row, option in zip(rows, house.offer.outcome.options, strict=True):
        dates = house.offer.dates.options[option.key]
        assert row.th
        assert text(row.th) == option.name
        assert {str(tag["data-figure"]) for tag in row.select("data")} == {dates.dead.name, dates.finished.name}
    notes = [text(row.select("td")[2]) for row in rows if len(row.select("td")) > 2]
    if deadline is None or not house.offer.holder.owner_now:
        assert notes == []
        return
    late = [house.offer.dates.options[option.key].dead.value > deadline.by.value
            for option in house.offer.outcome.options]  # type: ignore[operator]
    assert notes == ["Late: ask for more time" if one else "In time" for one in late]
    assert "ask them if the list is enough" in text(house.page)


@pytest.mark.parametrize("job", HOUSES)
def test_a_letter_is_one_tap_from_being_sent(job: str) -> None:
    """Under each letter a link holds the whole of it for an e-mail, and names nobody."""
    for letter in seen(job).page.select(".letters > div"):
        whole = "\n\n".join(text(part) for part in letter.select(".letter p"))
        (mail,) = (str(link["href"]) for link in letter.select(".send a"))
        assert mail.startswith("mailto:?subject=Wiring%20at%20")
        assert unquote(mail.partition("body=")[2]) == whole


@pytest.mark.parametrize("job", HOUSES)
def test_four_questions_are_ready_for_the_call(job: str) -> None:
    """Whoever calls has four questions, each of them one; who is called is named where somebody asked, and no owner
    without an insurer who asks is told of "your insurer"."""
    house = seen(job)
    (call,) = house.page.select("section[aria-labelledby=report-call]")
    questions = [text(item) for item in call.select("ol > li")]
    assert len(questions) == 4
    assert all(question.endswith("?") for question in questions)
    deadline = house.offer.dates.deadline
    asks = deadline.who if deadline else "nobody"
    assert ("your insurer" in text(call)) == (asks == "insurer")
    assert ("your lender" in text(call)) == (asks == "lender")


@pytest.mark.parametrize("job", HOUSES)
def test_no_letter_is_said_to_bind_anybody(job: str) -> None:
    """The sheet says that no electrician's letter binds, that the inspector decides, and to ask."""
    said = text(seen(job).page)
    for words in ("No letter from an electrician binds an insurer", "the inspector, who decides",
                  "Some insurers refuse a house with old wiring", "Ask yours"):
        assert words in said


def test_four_other_choices_stay() -> None:
    """Protect and mark, do a part, look further, wait: each with what it leaves."""
    page = seen("alder-lane").page
    choices = page.select("section[aria-labelledby=report-four] .four > div")
    assert [text(choice.dt).split()[0] for choice in choices if choice.dt] == ["Protect", "Do", "Look", "Wait,"]
    assert all(choice.dd and text(choice.dd) for choice in choices)


def test_every_key_of_evidence_and_every_asker_has_its_words() -> None:
    """What the crosswalk and the job can say, the sheets can print, insulation crew and service among it."""
    assert set(PROOF) == {key for keys in PROOF_OF.values() for key in keys}
    asks = {"insurer", "lender", "buyer's inspection", "insulation crew", "nobody"}
    assert (set(TO), set(ASKS)) == (asks, asks - {"nobody"})
    assert {OLD_WIRE, *HOW} == set(DETAILS_OF) - {"points", "protection", "new places", "other"}


def test_no_sentence_of_this_sheet_is_long() -> None:
    """No sentence of ours has more than 25 words."""
    words = pieces((ROOT / "content/sheets/report.md").read_text("utf-8"))
    long = [sentence for piece in words.values() for sentence in re.split(r"(?<=[.?!:]) ", piece)
            if len(sentence.split()) > 25]
    assert long == []
