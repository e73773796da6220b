"""What decides stands open: no fold alone holds it, on any of the seven sheets of any demo house."""

from __future__ import annotations

from collections.abc import Iterator

from bs4 import BeautifulSoup

from tests.built import House


def opened(house: House, sheet: str) -> BeautifulSoup:
    """A page as it opens: of each fold its line alone."""
    page = BeautifulSoup(str(house.pages[sheet]), "html.parser")
    for fold in page.select("details"):
        for inside in fold.find_all(recursive=False):
            if inside.name != "summary":
                inside.decompose()
    return page


def open_figures(house: House, *sheets: str) -> set[str]:
    """Names of the figures that stand open on these pages."""
    return {str(tag["data-figure"]) for sheet in sheets for tag in opened(house, sheet).select("main data")}


def decides(house: House) -> Iterator[tuple[str, set[str]]]:
    """What decides about each option, and the figures of which one must stand open."""
    for option in house.offer.outcome.options:
        dates = house.offer.dates.options[option.key]
        yield f"{option.key}: price", {option.price.name}
        yield f"{option.key}: likely end", {option.p10.name}
        yield f"{option.key}: likely end, high", {option.p90.name}
        if option.covers_all and option.cases and option.most_paid is not None:
            yield f"{option.key}: the most", {option.most_paid.name}
        yield f"{option.key}: old wires dead", {dates.dead.name}
        yield f"{option.key}: old wires dead, lived in the other way", {dates.other.dead.name}


def test_the_first_sheet_opens_with_what_decides(house: House) -> None:
    """Prices, likely ends, the dates of both ways of living, the emergency number and the right to cancel."""
    there = open_figures(house, "index.html")
    missing = [what for what, names in decides(house) if not names & there]
    assert missing == []
    assert "rules.emergency-number" in there
    assert "cancel.business-days" in there


def test_the_comparison_opens_with_what_decides(house: House) -> None:
    """The same stands open side by side, but for the day of the other way of living."""
    there = open_figures(house, "compare.html")
    assert [what for what, names in decides(house) if not names & there and "other" not in what] == []


def test_what_can_raise_a_price_stands_open_on_the_sheet_of_money(house: House) -> None:
    """Each set price of what may turn up, and each cap, of each option."""
    there = open_figures(house, "what-you-could-pay.html")
    for option in (option for option in house.offer.outcome.options if not option.covers_all):
        for name in ("each-point", "each-feed", "each-blocked-drop"):
            figure = f"options.{option.key}.{name}"
            if any(one.name == figure for one in house.offer.figures()):
                assert figure in there, figure


def test_who_earns_what_stands_open(house: House) -> None:
    """Sheet 8 names the order of earning without a tap."""
    page = opened(house, "who.html")
    text = " ".join(page.select_one("main").get_text(" ").split())     # type: ignore[union-attr]
    assert all(option.name in text for option in house.offer.outcome.options)
    assert "earn" in text
