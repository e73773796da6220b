"""What the work costs the firm stays with the firm.

No amount of the cost book stands in a site.  Its money reaches a site in two ways and no more: through the one price
that it proposes, rounded up to whole hundreds, and what follows from that price, which the sum of a price by hand
shows too; and through the order in which the firm earns on the options.  Its hours also reach the plan: dates and days.
"""

from __future__ import annotations

import base64
import re
from fractions import Fraction
from pathlib import Path

from bs4 import BeautifulSoup

from sitegen.build import build, offer_of
from sitegen.figure import int_of
from sitegen.offer.every import every_figure
from sitegen.offer.offer import Offer
from sitegen.trade.rounding import half_up
from sitegen.workspace import Workspace
from tests.helpers import DEMO, JOB, JOB_FILE, demo_copy, edit, tree

FIRST, STEP = 9_135_713, 1_234_321
"""Cents of the first planted amount, and from one to the next: $91,357.13, $103,700.34 and so on."""

DATES = ("date", "date, this year")
"""Units of a figure that is a day."""


ONE, LISTS = "one-2026", ("wiring-2026", "item-2026")
"""The kits of the demo house: the price for every point, and those that sell a list."""

DEAR = 90_000_000_000
"""Cents of a price that is above what anything planted costs."""


def plant(home: Path) -> list[int]:
    """Put an odd amount for every amount of the cost book, odd words and odd hours; gives the cents."""
    planted: list[int] = []

    def amount(_: re.Match[str]) -> str:
        planted.append(FIRST + STEP * len(planted))
        return _dollars(planted[-1])
    path = home / "cost-book.yaml"
    text = re.sub(r"\$[\d,]+(?:\.\d\d)?", amount, path.read_text("utf-8"))
    text = re.sub(r"(?m)^(edition|by):.*$", r"\1: Quillfeather \1", text)
    path.write_text(text, "utf-8")
    plant_hours(home)
    return planted


def pay_at_the_end(home: Path) -> None:
    """Ask nearly all of every price at the end, so that no payment runs ahead of the work, whatever it takes."""
    path = home / "price-book.yaml"
    text = re.sub(r"(?m)^(      after: {old wires dead: )\d+ of 100(?:(, holes closed: )\d+ of 100)?}\n"
                  r"      held to the end: \d+ of 100$",
                  lambda found: f"{found[1]}1 of 100" + (f"{found[2]}1 of 100}}" if found[2] else "}")
                  + f"\n      held to the end: {98 if found[2] else 99} of 100", path.read_text("utf-8"))
    assert text != path.read_text("utf-8")
    path.write_text(text, "utf-8")


def plant_hours(home: Path) -> None:
    """Put odd hours for all hours of the cost book."""
    path = home / "cost-book.yaml"
    text, count = re.subn(r"(?m)^( *hours:).*$", r"\1 7919/4093", path.read_text("utf-8"))
    assert count
    path.write_text(text, "utf-8")


def _dollars(cents: int) -> str:
    return f"${cents // 100:,}.{cents % 100:02}"


def in_base64(data: bytes) -> list[bytes]:
    """The part of the base64 of anything that holds `data` which is the same whatever stands around it."""
    found = []
    for before in range(3):
        whole = base64.b64encode(b"\0" * before + data)
        first = -(-before * 8 // 6)  # the characters that hold a bit of what stands before
        found.append(whole[first:(before + len(data)) * 8 // 6])
    return found


def spellings(cents: int) -> set[bytes]:
    """Every way in which an amount could have reached a file."""
    dollars, digits = _dollars(cents)[1:], f"{cents // 100}.{cents % 100:02}"
    texts = {dollars, digits, dollars[:-3], digits[:-3], digits.replace(".", ","), str(cents), str(cents // 100)}
    numbers = {f"{value:{form}}".encode() for value in (cents, cents // 100) if value > 0xffff for form in "xX"}
    plain = {text.encode() for text in texts}
    hexes = {text.hex() for text in plain}
    return {*plain, *numbers, *(text.encode() for text in hexes), *(text.upper().encode() for text in hexes),
            *(one for text in plain for one in in_base64(text))}


def test_spellings_find_what_they_look_for() -> None:
    """An amount is found in text, as bare digits, as cents, in hexadecimal and in base64 at each alignment."""
    looked_for = spellings(9_135_713)
    assert {b"91,357.13", b"91357.13", b"9135713", b"91357", b"8b6661", b"39312c3335372e3133"} <= looked_for
    for around in (b"", b"a", b"ab", b"abc"):
        assert any(one in base64.b64encode(around + b"91,357.13" + around) for one in looked_for)


def test_no_amount_of_the_cost_book_is_in_any_byte_of_a_site(tmp_path: Path) -> None:
    """Odd amounts planted in every place of the cost book are in no file of the site, in no spelling."""
    home = demo_copy(tmp_path)
    planted = plant(home)
    for kit in LISTS:                       # a list that is priced under its cost is a fault; the one price is proposed
        with_price(home, kit, DEAR)
    pay_at_the_end(home)
    assert len(planted) == (DEMO / "cost-book.yaml").read_text("utf-8").count("$")
    site = tree(build(Workspace(home, tmp_path / "site"), home / JOB).folder)
    assert "index.html" in site
    looked_for = {one for cents in planted for one in spellings(cents)} | {b"7919", b"4093", b"Quillfeather"}
    looked_for |= set(in_base64(b"Quillfeather"))
    found = {name: sorted(one for one in looked_for if one in data) for name, data in site.items()}
    assert {name: some for name, some in found.items() if some} == {}
    assert not [name for name in site if "cost" in name]


def reprice(home: Path, by: Fraction) -> None:
    """Every amount of the cost book times a factor, to the cent; its hours stay."""
    path = home / "cost-book.yaml"
    text = re.sub(r"\$([\d,]+(?:\.\d\d)?)", lambda found: _dollars(
        half_up(Fraction(found[1].replace(",", "")) * 100 * by)), path.read_text("utf-8"))
    path.write_text(text, "utf-8")


def with_price(home: Path, kit: str, cents: int) -> None:
    """Give the option of a kit a price by hand, so that no book gives it."""
    edit(home / JOB_FILE, f"    kit: {kit}\n",
         f"    kit: {kit}\n    price: {_dollars(cents)}\n    because: It is made for a test.\n")


def home_at(folder: Path, by: Fraction = Fraction(1), price: int | None = None) -> Path:
    """The demo workspace with its cost book's money times a factor, and the one price by hand or proposed."""
    home = demo_copy(folder)
    reprice(home, by)
    if price is not None:
        with_price(home, ONE, price)
    return home


def offered(home: Path) -> Offer:
    """What a home offers for the demo house."""
    return offer_of(Workspace(home, home.parent / "site"), home / JOB)


def told_of(made: Offer) -> dict[str, str]:
    """Every figure that may be read, by name, without the lines of sums."""
    return {one.name: one.raw() for one in every_figure(made) if not one.private and ".sum-" not in one.name}


def earning(made: Offer) -> dict[str, str]:
    """On which option the firm earns most, in the middle, and least."""
    return {key: terms.we_earn for key, terms in made.terms.items()}


PRICE = 44_500_00


def test_two_cost_books_that_propose_one_price_and_one_order_make_one_site(tmp_path: Path) -> None:
    """Money of the cost book that moves neither the proposed price nor the order of earning moves no byte."""
    homes = {name: home_at(tmp_path / name, by) for name, by in (("as it is", Fraction(1)),
                                                                ("a little dearer", Fraction(10_001, 10_000)))}
    books = {(home / "cost-book.yaml").read_text("utf-8") for home in homes.values()}
    offers = [offered(home) for home in homes.values()]
    assert len(books) == 2
    assert len({made.outcome.one_price.price.value for made in offers if made.outcome.one_price}) == 1
    assert earning(offers[0]) == earning(offers[1])
    sites = [tree(build(Workspace(home, home.parent / "site"), home / JOB).folder) for home in homes.values()]
    assert sites[0] == sites[1]


def test_with_the_price_by_hand_money_of_the_cost_book_moves_the_order_of_earning_alone(tmp_path: Path) -> None:
    """Where a job has the price for every point by hand, sites of two cost books are the same to the byte as long as
    the firm earns in the same order; and where it does not, no figure differs."""
    homes = {name: home_at(tmp_path / name, by, PRICE) for name, by in (
        ("as it is", Fraction(1)), ("a cent in the dollar", Fraction(101, 100)), ("a quarter", Fraction(1, 4)))}
    offers = {name: offered(home) for name, home in homes.items()}
    assert len({tuple(sorted(told_of(made).items())) for made in offers.values()}) == 1
    assert earning(offers["as it is"]) == earning(offers["a cent in the dollar"]) != earning(offers["a quarter"])
    sites = {name: tree(build(Workspace(home, tmp_path / name / "site"), home / JOB).folder)
             for name, home in homes.items()}
    assert sites["as it is"] == sites["a cent in the dollar"]
    moved = {name for name, data in sites["as it is"].items() if sites["a quarter"][name] != data}
    assert {name for name in moved if name.endswith(".html")} <= SAY_WHO_EARNS
    for name in moved:
        assert without_earning(sites["as it is"][name]) == without_earning(sites["a quarter"][name]), name


SAY_WHO_EARNS = {"compare.html", "what-you-could-pay.html", "who.html", "walk.html", "paper.html"}
"""Sheets that say on which option the firm earns most, or how a price adds up."""


def without_earning(data: bytes) -> str:
    """A page without the places that say what the firm earns on each option beside the others, and how prices add
    up."""
    page = BeautifulSoup(data, "html.parser")
    for place in page.select("tr[data-row=earning], tr[data-decides=earning], [data-says=earning], "
                             "section[aria-labelledby=who-earns], "
                             "#pay-earner, section[aria-labelledby=compare-sums] details"):
        place.decompose()
    return str(page)


def test_the_money_of_the_cost_book_is_in_the_proposed_price_and_what_follows_from_it(tmp_path: Path) -> None:
    """Where the price is proposed, another cost book gives another one price; and with that price by hand and the old
    cost book every figure is the same, so that nothing else of the book can be worked out from a site."""
    dearer = offered(home_at(tmp_path / "dearer", Fraction(6, 5)))
    plain = offered(home_at(tmp_path / "plain"))
    asked = {made.outcome.one_price.price.value for made in (plain, dearer) if made.outcome.one_price}
    assert len(asked) == 2
    one = dearer.outcome.one_price
    assert one
    by_hand = offered(home_at(tmp_path / "by hand", price=int_of(one.price)))
    assert told_of(by_hand) == told_of(dearer)


def test_the_hours_of_the_cost_book_move_dates_and_days_alone(tmp_path: Path) -> None:
    """The plan rests on the crew's hours: with the price by hand they show in dates, counts of days and which cuts of
    power share a day, beside the order of earning and the proposal in the sum of that price."""
    found = []
    for name in ("as it is", "planted"):
        home = demo_copy(tmp_path / name)
        for kit in (*LISTS, ONE):
            with_price(home, kit, DEAR)
        pay_at_the_end(home)
        if name == "planted":
            plant_hours(home)
        found.append({one.name: one for one in offered(home).figures() if not one.private})
    plain, planted = found
    assert set(plain) == set(planted)
    moved = [one for name, one in plain.items() if one.raw() != planted[name].raw() and ".sum-" not in name]
    assert any(one.unit in DATES for one in moved)
    longest = {one.name for one in moved if one.name.endswith(".longest-off")}
    assert {one.unit for one in moved if one.name not in longest} <= {*DATES, "days", "working days"}
