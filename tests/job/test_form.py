"""The clipboard form: the job on paper, in its own order, on six pages at the most."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import Browser

from sitegen.job.blanks import Asked
from sitegen.job.books import PriceBook
from sitegen.job.form import NOT_ASKED, PAGES_OF_ROOMS, ROOMS_A_PAGE, form
from sitegen.job.load import card
from sitegen.job.model import Job, Room
from sitegen.job.outline import fields_of
from sitegen.trade.kinds import ABOUT
from tests.helpers import DEMO, demo_copy, sitegen

WIDE = 703
"""186 mm, what is printed across the paper [px]."""
MARGINS = 2 * 11 / 25.4 * 96
"""Above and below what is printed, as the form's own rule for the page gives them [px]."""


@pytest.fixture(scope="module")
def page() -> str:
    """The form for the demo's price book."""
    asked = Asked.by(card(PriceBook, DEMO / "price-book.yaml", DEMO))
    return form("mill-lane", asked.points, asked.stops)


def test_the_command_writes_the_form_beside_the_job(tmp_path: Path, page: str) -> None:
    """`new JOB --form` writes job.yaml and form.html and prints both."""
    home = demo_copy(tmp_path)
    done = sitegen("new", "mill-lane", "--form", cwd=home)
    assert (done.returncode, done.stdout, done.stderr) == (0, "mill-lane/job.yaml\nmill-lane/form.html\n", "")
    assert (home / "mill-lane" / "form.html").read_text("utf-8") == page


def test_the_form_follows_the_file(page: str) -> None:
    """Every field of a job stands on the form with its words, in the order of the file."""
    text = BeautifulSoup(page, "html.parser")
    said = [tag.get_text() for tag in text.select("h2, .fs > .f > b, body > .f > b")]
    top = [field.key for field in fields_of(Job) if field.key not in NOT_ASKED]
    at = -1
    for key in top:
        at = next(i for i in range(at + 1, len(said)) if said[i] == key or said[i].startswith(f"{key} "))
    whole = text.get_text(" ")
    for field in fields_of(Job):
        if field.key not in (*NOT_ASKED, "rooms"):
            assert field.says in whole, field.key


def test_the_form_stands_alone(page: str) -> None:
    """One page with no script, no style attribute, nothing fetched, and a language and a title."""
    text = BeautifulSoup(page, "html.parser")
    assert text.select("script, link, img, iframe, [style], [src], [href], [onclick]") == []
    assert "url(" not in page
    assert "@import" not in page
    assert text.html is not None
    assert text.html["lang"] == "en"
    assert text.title is not None


def test_fixed_answers_are_boxes_to_tick(page: str) -> None:
    """Each fixed answer of a plain field has a box of its own."""
    text = BeautifulSoup(page, "html.parser")
    ticks = {tag.b.get_text(): [one.get_text() for one in tag.select(".o")] for tag in text.select(".f.t") if tag.b}
    assert ticks["who"] == ["insurer", "lender", "buyer's inspection", "insulation crew", "nobody"]
    assert ticks["vermiculite"] == ["yes", "no", "not seen", "capped untested"]
    assert all(tag.select_one(".b") for tag in text.select(".o"))


def test_the_grid_asks_for_every_line_of_every_kind(page: str) -> None:
    """Points go down and rooms across: now, feed, want, listed, opened old and opened new for each kind."""
    grids = BeautifulSoup(page, "html.parser").select(".grid")
    assert len(grids) * ROOMS_A_PAGE >= 14 + 2
    for grid in grids:
        bands = grid.select("tbody")
        heads = [tag.get_text() for tag in bands[0].select("th")]
        assert heads == ["room", "part", "kind", "floor", "size", "sills", "basins", "trouble", "pipe wrap"]
        assert all(f"rooms.{field.key}" in NOT_ASKED for field in fields_of(Room)
                   if field.kind.shape == "text" and field.key not in heads)
        assert [band.select_one("th.k").get_text() for band in bands[1:]] == ["outlet", "switch", "ceiling light",
                                                                             "wall light"]
        for band in bands[1:]:
            assert [tag.get_text() for tag in band.select("th.d")] == ["now", "feed", "want", "listed", "opened old",
                                                                      "opened new"]
            assert all(len(row.select("td")) == ROOMS_A_PAGE for row in band.select("tr"))


def test_nothing_is_asked_that_a_walk_cannot_answer(page: str) -> None:
    """What is left to the desk is a field of the job, may be left out of it, and has no place on the form."""
    whole = BeautifulSoup(page, "html.parser").get_text(" ")
    for path in NOT_ASKED:
        top, _, key = path.partition(".")
        field = next(one for one in fields_of(Job) if one.key == top)
        part = field.kind.part or (field.kind.inner.part if field.kind.inner else None)
        if key:
            assert part is not None
            field = next(one for one in fields_of(part) if one.key == key)
        assert not field.needed, path
        assert field.says not in whole, path
        assert f">{field.key}<" not in page or key in ("walls", "flooring"), path  # asked once, for the house


def test_a_finding_is_asked_what_it_is_about(page: str) -> None:
    """The table of findings has a column for what each is about, with the answers above it, and none for an option."""
    text = BeautifulSoup(page, "html.parser")
    head = next(tag for tag in text.select("h2") if tag.get_text().startswith("findings "))
    note, table = head.find_next("p"), head.find_next("table")
    assert note is not None
    assert table is not None
    assert [tag.get_text() for tag in table.select("th")] == ["number", "page", "says", "about", "rooms", "kinds"]
    assert f"About: {', '.join(ABOUT)}." in note.get_text()


def test_the_form_asks_what_we_could_not_see(page: str) -> None:
    """The sentence stands above lines to write on."""
    assert page.count("What we could not see:") == 1


def test_words_of_the_price_book_cannot_become_tags() -> None:
    """A kind of point is text, whatever is written in it."""
    page = form("mill-lane", ["<b>lamp</b> & co"], ["<i>pipe"])
    assert "<b>lamp" not in page
    assert "&lt;b&gt;lamp&lt;/b&gt; &amp; co" in page
    assert "&lt;i&gt;pipe" in page


@pytest.mark.parametrize("font", ["as it is", "serif", "monospace"])
@pytest.mark.parametrize(("paper", "high"), [("Letter", 11 * 96), ("A4", 297 / 25.4 * 96)])
def test_the_form_prints_on_six_pages(tmp_path: Path, browser: Browser, page: str, paper: str, high: float,
                                      font: str) -> None:
    """On Letter and on A4, in whatever font, it takes at most six pages, each page of rooms fits on one sheet, and
    nothing is wider than the paper."""
    file = tmp_path / "form.html"
    file.write_text(page, "utf-8")
    shown = browser.new_page(java_script_enabled=True, viewport={"width": WIDE, "height": 1000})
    shown.goto(file.as_uri())
    shown.emulate_media(media="print")
    if font != "as it is":
        shown.add_style_tag(content=f"html {{ font-family: {font} }}")
    assert shown.evaluate("document.documentElement.scrollWidth") <= WIDE
    narrow = shown.evaluate("[...document.querySelectorAll('.r')].filter(one => one.offsetWidth < 75).length")
    assert narrow == 0
    grids = shown.evaluate("[...document.querySelectorAll('.grid')].map(one => [one.offsetHeight, "
                           "getComputedStyle(one).breakBefore])")
    assert len(grids) == PAGES_OF_ROOMS
    for tall, begins in grids:
        assert tall <= high - MARGINS
        assert begins == "page"
    pdf = shown.pdf(format=paper)
    shown.close()
    assert PAGES_OF_ROOMS < len(re.findall(rb"/Type\s*/Page\b", pdf)) <= 6
