"""What the work costs the firm stays with the firm: no byte of a built site comes from the cost book."""

from __future__ import annotations

import base64
import re
from pathlib import Path

from sitegen.build import build, offer_of
from sitegen.workspace import Workspace
from tests.helpers import DEMO, JOB, demo_copy, tree

FIRST, STEP = 9_135_713, 1_234_321
"""Cents of the first planted amount, and from one to the next: $91,357.13, $103,700.34 and so on."""

DATES = ("date", "date, this year")
"""Units of a figure that is a day."""


def plant(home: Path, hours: bool = True) -> list[int]:
    """Put an odd amount for every amount of the cost book, odd words and, unless not wanted, odd hours; gives the
    cents."""
    planted: list[int] = []

    def amount(_: re.Match[str]) -> str:
        planted.append(FIRST + STEP * len(planted))
        return _dollars(planted[-1])
    path = home / "cost-book.yaml"
    text = re.sub(r"\$[\d,]+(?:\.\d\d)?", amount, path.read_text("utf-8"))
    if hours:
        text = re.sub(r"(?m)^( *hours:).*$", r"\1 7919/4093", text)
    text = re.sub(r"(?m)^(edition|by):.*$", r"\1: Quillfeather \1", text)
    path.write_text(text, "utf-8")
    return planted


def own_prices(home: Path) -> None:
    """Give every option of the job a price of its own, so that none is proposed from the cost book."""
    path = home / JOB / "job.yaml"
    path.write_text(re.sub(r"(?m)^(    kit: \S+)$", r"\1\n    price: $31,000\n    because: It is made for a test.",
                           path.read_text("utf-8")), "utf-8")


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
    own_prices(home)
    planted = plant(home)
    assert len(planted) == (DEMO / "cost-book.yaml").read_text("utf-8").count("$")
    site = tree(build(Workspace(home, tmp_path / "site"), home / JOB).folder)
    assert "index.html" in site
    looked_for = {one for cents in planted for one in spellings(cents)} | {b"7919", b"4093", b"Quillfeather"}
    looked_for |= set(in_base64(b"Quillfeather"))
    found = {name: sorted(one for one in looked_for if one in data) for name, data in site.items()}
    assert {name: some for name, some in found.items() if some} == {}
    assert not [name for name in site if "cost" in name]


def test_the_money_of_the_cost_book_changes_no_byte_of_a_site(tmp_path: Path) -> None:
    """Where no price is proposed from it, a site is the same to the byte whatever the work costs the firm, so that
    nothing can be worked out from it."""
    sites = []
    for name in ("as it is", "planted"):
        home = demo_copy(tmp_path / name)
        own_prices(home)
        if name == "planted":
            plant(home, hours=False)
        sites.append(tree(build(Workspace(home, tmp_path / name / "site"), home / JOB).folder))
    assert sites[0] == sites[1]


def test_the_hours_of_the_cost_book_move_dates_and_days_alone(tmp_path: Path) -> None:
    """The plan rests on the crew's hours: they show in dates, counts of days and which cuts of power share a day."""
    found = []
    for name in ("as it is", "planted"):
        home = demo_copy(tmp_path / name)
        own_prices(home)
        if name == "planted":
            plant(home)
        found.append({one.name: one for one in offer_of(Workspace(home, tmp_path / "site"), home / JOB).figures()})
    plain, planted = found
    assert set(plain) == set(planted)
    moved = [one for name, one in plain.items()
             if one.raw() != planted[name].raw() and not name.startswith("costs.")]
    assert any(one.unit in DATES for one in moved)
    longest = {one.name for one in moved if one.name.endswith(".longest-off")}
    assert {one.unit for one in moved if one.name not in longest} <= {*DATES, "days", "working days"}
