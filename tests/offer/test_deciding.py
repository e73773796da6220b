"""What decides: the short table over the comparison says what the rows say, and no less of it."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from sitegen.figure import Quote, int_of
from sitegen.offer.deciding import LINES, Deciding, deciding
from sitegen.offer.offer import Offer
from sitegen.offer.row_answers import Slot
from sitegen.offer.rows import Cell, rows
from sitegen.sheets.words import SLOT, pieces
from tests.built import HOUSES, House
from tests.built import offer as made
from tests.helpers import ROOT

WORDS = {f"deciding.{key}": text for key, text in pieces((ROOT / "content/deciding.md").read_text("utf-8")).items()}
ONE = "fixed-guarantee"


def lines(offer: Offer) -> dict[str, Deciding]:
    """The lines of an offer, by the key of their name."""
    return {line.asks: line for line in deciding(offer, rows(offer))}


def cells(offer: Offer, asks: str) -> dict[str, Cell]:
    """The cells of one line, by option."""
    return {cell.option: cell for cell in lines(offer)[asks].cells}


@pytest.mark.parametrize("job", HOUSES)
def test_every_line_answers_for_every_option_and_fills_its_words(job: str) -> None:
    """The same lines in the same order in every house, a cell for each option, each with the slots it asks for."""
    offer = made(job)
    assert [line.asks for line in deciding(offer, rows(offer))] == [asks for asks, *_ in LINES]
    for line in lines(offer).values():
        assert [cell.option for cell in line.cells] == [option.key for option in offer.outcome.options]
        for cell in line.cells:
            assert set(SLOT.findall(WORDS[cell.words])) == set(cell.slots), cell.words


@pytest.mark.parametrize("job", HOUSES)
def test_what_it_says_is_what_the_whole_row_says(job: str) -> None:
    """Each figure of a short answer stands in the rows of that option too, but for what is known already."""
    offer = made(job)
    whole: dict[str, list[Slot]] = {}
    for row in rows(offer):
        for cell in row.cells:
            whole.setdefault(cell.option, []).extend(cell.slots.values())
    for line in lines(offer).values():
        for cell in line.cells:
            assert [slot for slot in cell.slots.values() if slot not in whole[cell.option]] == [], line.asks


@pytest.mark.parametrize("job", HOUSES)
def test_the_least_is_at_most_the_most(job: str) -> None:
    """From the price with what is known to the most that is paid, and no sum stands before a lesser one."""
    for cell in cells(made(job), "deciding.most").values():
        low, high = cell.slots["price"], cell.slots["most"]
        assert not isinstance(low, tuple | Quote)
        assert not isinstance(high, tuple | Quote)
        assert int_of(low) <= int_of(high)


def test_each_surprise_is_named_once_with_who_pays_for_it() -> None:
    """Those that every option leaves to the reader come first, then those of some options alone, by their names."""
    first, second = lines(made("alder-lane"))["deciding.rise"].notes
    assert (first[0], second[0]) == ("deciding.rise.cases", "deciding.rise.cases-also")
    assert isinstance(second[1]["list"], Quote)
    assert second[1]["list"].text == "Wiring only or Per item"
    named = [case.text for _, slots in (first, second) for case in slots["cases"]]   # type: ignore[union-attr]
    assert sorted(named) == sorted(case.called.text for case in made("alder-lane").outcome.cases)
    calm = made("alder-lane")
    options = tuple(replace(option, cases=()) if option.key == ONE else option for option in calm.outcome.options)
    notes = lines(replace(calm, outcome=replace(calm.outcome, options=options)))["deciding.rise"].notes
    assert [key for key, _ in notes] == ["deciding.rise.cases-some"]


def test_options_share_a_cell_only_where_their_rows_are_alike() -> None:
    """Two lists say the same of what stays live; of the price they do not, and their figures stand apart."""
    found = lines(made("alder-lane"))
    low, item, one = found["deciding.live"].cells
    assert found["deciding.live"].alike(low, item)
    assert not found["deciding.live"].alike(item, one)
    low, item, _ = found["deciding.price"].cells
    assert not found["deciding.price"].alike(low, item)


def test_each_line_leads_to_its_row_and_each_row_back_to_the_questions(house: House) -> None:
    """A line is a link to the row that says it whole; a row leads back to the list of questions, and that to each."""
    page = house.pages["compare.html"]
    ids = {str(row["id"]): str(row["data-row"]) for row in page.select("tr[id^=compare-row-]")}
    for line, (_, key, *_) in zip(page.select("table.decides tr[data-decides]"), LINES, strict=True):
        link = line.select_one("th a[href]")
        assert link
        assert ids[str(link["href"]).partition("#")[2]] == key == line["data-decides"]
    listed = [str(link["href"]).partition("#")[2] for link in page.select("#compare-questions a")]
    assert listed == list(ids)
    backs = page.select('tr[id^=compare-row-] a[href="compare.html#compare-questions"]')
    assert len(backs) == len(ids)
    for name in ("compare-questions", "compare-bids", "compare-scope", "compare-list", *ids):
        there = page.find(id=name)
        assert there
        assert there.find_parent("details"), name


def test_the_two_lines_of_dates_say_for_which_house_they_hold(house: House) -> None:
    """One holds for an empty house and one for one that is lived in; both stand there."""
    rows_of = house.pages["compare.html"].select("table.decides tr.if-empty, table.decides tr.if-lived-in")
    assert [row["class"] for row in rows_of] == [["if-empty"], ["if-lived-in"]]
