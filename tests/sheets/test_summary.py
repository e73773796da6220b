"""The page to hand on: what was found, and nothing that is nobody else's business."""

from __future__ import annotations

import re

from sitegen.figure import day_of
from tests.built import House

MONTHS = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"


def _text(house: House) -> str:
    """The page as it is read: its main part and its foot."""
    page = house.pages["summary.html"]
    return " ".join(" ".join(tag.get_text(" ") for tag in page.select("main, footer")).split())


def test_it_holds_no_price(house: House) -> None:
    """Not one sum stands on it, nor a word for an option."""
    text = _text(house)
    assert "$" not in text
    assert [option.name for option in house.offer.outcome.options if option.name in text] == []


def test_it_names_no_person(house: House) -> None:
    """Nobody of the firm, nobody who signs and no finished job's owner stands on it."""
    text, offer = _text(house), house.offer
    people = {person.name.text for person in offer.people} | {one.text.split(",")[0] for one in offer.head.signs}
    assert people
    assert [name for name in people if name in text] == []


def test_it_names_no_day_but_its_own(house: House) -> None:
    """Its own day and the last one of the prices are the only dates, and tell nobody when it stands empty."""
    found = set(re.findall(rf"\b(?:{MONTHS}) \d+, \d{{4}}|\b(?:{MONTHS}) \d+\b", _text(house)))
    dates = house.offer.dates
    assert found == {f"{day:%b} {day.day}, {day.year}" for day in map(day_of, (dates.prepared, dates.prices_hold_to))}


def test_it_holds_every_finding_and_every_place_not_seen(house: House) -> None:
    """Each finding of the report under its number, and each place that nobody has seen."""
    text = _text(house)
    for finding in house.offer.found.findings:
        assert finding.says.text in text
        assert f"finding {finding.number.value}" in text
    for place in house.offer.head.not_seen:
        assert place.text in text
