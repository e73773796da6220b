"""The main path once more on WebKitGTK, since many readers' phones are WebKit."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from sitegen.sheets.pages.walk import STOPS
from sitegen.sheets.site import SHARED_STYLE
from sitegen.units import dollars
from tests.browser.test_folds import INSIDE
from tests.browser.test_sheets import DETAIL, SHEETS, UNFOLD
from tests.browser.webkit import WebKit, listening, started

EVERY = {**SHEETS, DETAIL: DETAIL.removesuffix(".html")}
OPEN = "return document.readyState === 'complete' && location.pathname.endsWith('/' + arguments[0])"


@pytest.fixture(scope="module")
def webkit(tmp_path_factory: pytest.TempPathFactory) -> Iterator[WebKit]:
    """One window for all tests here."""
    with started(tmp_path_factory.mktemp("webkit")) as window:
        print(window.name)
        yield window


@pytest.fixture(scope="module")
def site(demo_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo house, each page of which keeps what it complains of."""
    return listening(demo_site, tmp_path_factory.mktemp("listening") / "site")


@pytest.fixture(autouse=True)
def afresh(webkit: WebKit, site: Path) -> None:
    """Nothing kept from the test before."""
    webkit.open(site / "index.html")
    webkit.run("localStorage.clear()")


@pytest.mark.parametrize("width", [390, 1180])
def test_each_sheet_opens(webkit: WebKit, site: Path, width: int) -> None:
    """Each sheet opens from disk at its own heading, complains of nothing and does not reach past the screen."""
    webkit.size(width, 800)
    for sheet, name in EVERY.items():
        webkit.open(site / sheet)
        assert webkit.get(f"/element/{webkit.find(f'main#{name} h1')}/displayed")
        assert len(webkit.text("main")) > 500
        assert webkit.run("return document.documentElement.scrollWidth") <= width, sheet
        assert webkit.run("return wrong") == [], sheet


def test_a_complaint_would_be_seen(webkit: WebKit, site: Path, tmp_path: Path) -> None:
    """A script that throws, a promise that fails, a picture that is missing and a word to the console are kept."""
    page = tmp_path / "bad" / "page.html"
    text = (site / DETAIL).read_text("utf-8")
    page.parent.mkdir()
    page.write_text(text.replace("</main>", "<img src='none.png' alt='none'><script>console.error('said');"
                                 "Promise.reject('failed');null.thrown</script></main>"), "utf-8")
    webkit.open(page)
    for word in ("said", "failed", "Script error", "none.png"):       # from disk it keeps an error's words to itself
        webkit.until("return wrong.some(one => one.includes(arguments[0]))", word)


def test_links_go_and_come_back(webkit: WebKit, site: Path) -> None:
    """A real click opens the next sheet, and Back and Forward go between them."""
    webkit.size(390, 800)
    webkit.open(site / "index.html")
    webkit.click("[data-turn=on]")
    webkit.until(OPEN, "report.html")
    webkit.post("/back")
    webkit.until(OPEN, "index.html")
    webkit.post("/forward")
    webkit.until(OPEN, "report.html")
    assert webkit.run("return wrong") == []


def test_extras_add_up_and_are_kept(webkit: WebKit, site: Path) -> None:
    """Two extras add up to the cent, are there after a reload, and stand in a list that can be had as text."""
    webkit.size(390, 800)
    webkit.open(site / "rooms.html")
    cents = webkit.run("return [...document.querySelectorAll('#rooms-every-extra input')].slice(0, 2).map(field => {"
                       "field.closest('details').open = true; field.value = 1;"
                       "field.dispatchEvent(new Event('input', {bubbles: true}));"
                       "return Number(field.closest('li').querySelector('data').value); })")
    assert len(cents) == 2
    assert webkit.text(".total") == f"Your extras together: {dollars(sum(cents))}"
    webkit.post("/refresh")
    assert webkit.text(".total") == f"Your extras together: {dollars(sum(cents))}"
    webkit.run("navigator.share = undefined; Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    webkit.click(".send .act")
    text = webkit.run("return document.querySelector('.send textarea').value").split("\n")
    assert text[3] == f"Your extras together: {dollars(sum(cents))}"
    assert webkit.run("return wrong") == []


def test_at_the_table(webkit: WebKit, site: Path) -> None:
    """Arrow keys walk the stops there and back, one seen at a time, nothing runs over, and the place is kept."""
    webkit.size(1180, 820)
    webkit.open(site / "walk.html")
    seen = "return [...document.querySelectorAll('.stop')].filter(one => one.offsetHeight).map(one => one.id)"
    first, second, third = (f"walk-at-{key}" for key, *_ in STOPS[:3])
    for key, stop in (("ArrowRight", second), ("ArrowRight", third), ("ArrowLeft", second)):
        webkit.press(key)
        assert webkit.run(seen) == [stop]
        assert webkit.run("return document.documentElement.scrollWidth") <= 1180
    webkit.open(site / "walk.html")
    assert webkit.run(seen) == [second]
    assert first != second
    assert webkit.run("return wrong") == []


def test_a_row_on_a_phone_is_still_a_row(webkit: WebKit, site: Path) -> None:
    """At 390 px a row of the comparison is laid anew, each answer under its option, and a screen reader hears a
    table."""
    webkit.open(site / "compare.html")
    webkit.run(f"return ({UNFOLD})()")
    row = "tr#compare-row-3"
    webkit.size(1180, 800)
    assert webkit.style(f"{row} td", "display") == "table-cell"
    webkit.size(390, 800)
    assert webkit.style(f"{row} td", "display") == "grid"
    boxes = webkit.run("return [...document.querySelectorAll(arguments[0])].map(e => { const box = "
                       "e.getBoundingClientRect(); return [box.left, box.right, box.top, box.bottom]; })", f"{row} td")
    assert len(boxes) == 3
    assert all(0 <= left < right <= 390 for left, right, *_ in boxes)
    assert all(over[3] <= under[2] + 1 for over, under in pairwise(boxes))
    table = "#compare-money table"
    options = webkit.run("return [...document.querySelectorAll(arguments[0])].map(e => e.innerText.trim())",
                         f"{row} .option")
    heads = webkit.run("return [...document.querySelectorAll(arguments[0])].slice(1).map(e => e.textContent.trim())",
                       f"{table} thead th")
    assert options == heads
    roles = {table: "table", row: "row", f"{row} th": "rowheader", f"{row} td": "cell",
             f"{table} thead th": "columnheader"}
    assert {part: webkit.role(part) for part in roles} == roles


def test_a_fold_opens_for_a_tap_a_link_and_paper(webkit: WebKit, site: Path, tmp_path: Path) -> None:
    """A fold is closed at first; a tap opens it, a link to what stands in it does, and the rules for paper open all.

    The driver prints nothing, so the rules for paper are laid on a copy as rules for everything.
    """
    webkit.size(390, 800)
    inside = f"return ({INSIDE})()"
    webkit.open(site / "compare.html")
    assert not any(fold["open"] or fold["seen"] for fold in webkit.run(inside))
    webkit.click("main details summary")
    first, *others = webkit.run(inside)
    assert (first["open"], first["seen"]) == (True, first["parts"])
    assert not any(fold["open"] for fold in others)
    webkit.run("location.hash = 'compare-row-24'")
    webkit.until("return document.getElementById('compare-row-24').closest('details').open")
    assert sum(fold["open"] for fold in webkit.run(inside)) == 2
    paper = shutil.copytree(site, tmp_path / "paper")
    style = (paper / SHARED_STYLE).read_text("utf-8")
    assert "@media print{" in style
    (paper / SHARED_STYLE).write_text(style.replace("@media print{", "@media all{"), "utf-8")
    webkit.open(paper / "compare.html")
    folds = [fold for fold in webkit.run(inside) if fold["there"]]
    assert folds
    assert [fold["name"] for fold in folds if fold["open"] or fold["seen"] < fold["parts"]] == []
