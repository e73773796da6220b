"""Folds: closed at first, opened by a tap or by a link to what stands inside, with no script, and open on paper."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.browser.seen import looked_at, opened
from tests.browser.test_access import DOUBLED, OVER, OVERLAP, SPACING
from tests.browser.test_main_path import words
from tests.browser.test_sheets import UNFOLD
from tests.built import House

FOLDED = ("compare.html", "what-you-could-pay.html")
"""The sheets that have folds, in the order of their names."""

INSIDE = """() => [...document.querySelectorAll('details')].map(fold => {
  const parts = [...fold.querySelectorAll('p, td, th')].filter(one => !one.closest('.bids'));
  const read = fold.cloneNode(true);
  read.querySelectorAll('.bids').forEach(one => one.remove());
  return {open: fold.open, parts: parts.length, seen: parts.filter(one => one.checkVisibility()
    && one.getBoundingClientRect().height > 0).length, text: read.textContent.replace(/\\s+/g, ' ').trim()};
})"""
"""Each fold: whether it is open, how many parts it has inside, and how many of them are seen; without the form of bids,
which paper has as lines to write on."""

HEIGHTS = "() => [...document.querySelectorAll('summary')].map(one => one.getBoundingClientRect().height)"


def test_every_fold_is_on_a_sheet_that_is_tested(house: House) -> None:
    """No sheet but those tested here has a fold, and each of these has some."""
    assert tuple(name for name in house.pages if house.pages[name].select("details")) == FOLDED


@pytest.mark.parametrize("sheet", FOLDED)
def test_a_fold_is_closed_until_it_is_tapped(browser: Browser, demo_site: Path, sheet: str) -> None:
    """Without scripts nothing in a fold is seen at first; a tap on its line, or a key, opens it and closes it again."""
    with opened(browser, demo_site / sheet, 390, java_script_enabled=False) as seen:
        page = seen.page
        folds = page.locator("details")
        assert folds.count() >= 1
        assert not any(fold["open"] or fold["seen"] for fold in page.evaluate(INSIDE))
        folds.first.locator("summary").click()
        first, *others = page.evaluate(INSIDE)
        assert (first["open"], first["seen"]) == (True, first["parts"])
        assert not any(fold["open"] for fold in others)
        folds.first.locator("summary").press("Enter")
        assert not any(fold["open"] or fold["seen"] for fold in page.evaluate(INSIDE))


@pytest.mark.parametrize("sheet", FOLDED)
def test_a_link_to_what_stands_inside_opens_a_fold(browser: Browser, demo_site: Path, tmp_path: Path,
                                                   sheet: str) -> None:
    """Without scripts a link to an anchor in a fold, from the sheet or from another, opens that fold and goes there."""
    for path in demo_site.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    mark = "() => document.querySelector('details :is(p, table)').id = 'inside'"
    with opened(browser, tmp_path / sheet, 390) as seen:
        seen.page.evaluate(mark)
        text = seen.page.content().replace("</main>", '<p><a id="go-in" href="#inside">in</a></p></main>')
    (tmp_path / sheet).write_text(text, "utf-8")
    with opened(browser, tmp_path / sheet, 390, java_script_enabled=False) as seen:
        seen.page.locator("#go-in").click()
        assert _shown(seen.page)
        seen.page.goto((tmp_path / "who.html").as_uri())
        seen.page.goto((tmp_path / sheet).as_uri() + "#inside")
        assert _shown(seen.page)


def _shown(page: Page) -> bool:
    """Whether the fold of the anchor alone is open, and the anchor on the screen."""
    assert [fold["open"] for fold in page.evaluate(INSIDE)].count(True) == 1
    return bool(page.evaluate("""() => {
        const one = document.querySelector('#inside'), box = one.getBoundingClientRect();
        return one.closest('details').open && one.checkVisibility() && box.top >= 0 && box.top < innerHeight; }"""))


def test_every_question_is_a_tap_away_and_leads_back(browser: Browser, demo_site: Path) -> None:
    """Without scripts the list of questions leads to a row in its fold, which opens; the row leads back to the list,
    and so does a line of what decides to its row."""
    with opened(browser, demo_site / "compare.html", 390, java_script_enabled=False) as seen:
        page = seen.page
        page.locator("#compare-all > summary").click()
        page.locator('#compare-questions a[href$="#compare-row-16"]').click()
        row = page.locator("#compare-row-16")
        assert row.locator("td").first.is_visible()
        page.locator("#compare-all > summary").evaluate("one => { one.parentElement.open = false; }")
        row.locator('a[href$="#compare-questions"]').click()
        assert page.locator("#compare-questions a").first.is_visible()
        page.locator("[data-decides=holes] a").click()
        assert page.locator("#compare-row-13 td").first.is_visible()
        page.goto((demo_site / "compare.html").as_uri() + "#compare-bids")
        assert page.locator("#compare-bids-title").is_visible()


@pytest.mark.parametrize("enabled", [True, False])
@pytest.mark.parametrize("sheet", FOLDED)
def test_every_fold_is_open_on_paper(browser: Browser, demo_site: Path, sheet: str, enabled: bool) -> None:
    """Printed with every fold closed on the screen, with scripts or without, all that folds hold is on the paper."""
    with opened(browser, demo_site / sheet, 710, java_script_enabled=enabled) as seen:
        page = seen.page
        page.emulate_media(media="print")
        folds = page.evaluate(INSIDE)
        assert folds
        assert [fold["text"] for fold in folds if fold["open"] or fold["seen"] < fold["parts"]] == []
        pdf = PdfReader(io.BytesIO(page.pdf(format="Letter")))
        printed = "".join(words("".join(one.extract_text() for one in pdf.pages)))
        assert [fold["text"] for fold in folds for word in words(fold["text"]) if word not in printed] == []
        page.emulate_media(media="screen")
        assert not any(fold["open"] or fold["seen"] for fold in page.evaluate(INSIDE))


def test_a_fold_that_stays_shut_on_paper_would_be_seen(browser: Browser, demo_site: Path) -> None:
    """Without the rule of the style a closed fold shows nothing on paper, and the test above says so."""
    with opened(browser, demo_site / FOLDED[0], 710) as seen:
        seen.page.add_style_tag(content="details.depth::details-content{content-visibility:hidden !important}")
        seen.page.emulate_media(media="print")
        assert all(fold["seen"] == 0 < fold["parts"] for fold in seen.page.evaluate(INSIDE))


@pytest.mark.parametrize("width", [320, 390, 1180])
@pytest.mark.parametrize("sheet", FOLDED)
def test_a_fold_can_be_hit_with_a_thumb(browser: Browser, demo_site: Path, sheet: str, width: int) -> None:
    """The line that opens a fold is 44 px high."""
    with looked_at(browser, demo_site / sheet, width) as page:
        heights = page.evaluate(HEIGHTS)
        assert heights
        assert min(heights) >= 44


@pytest.mark.parametrize(("width", "chosen"), [(320, ""), (320, SPACING), (390, DOUBLED), (1180, "")])
@pytest.mark.parametrize("sheet", FOLDED)
def test_what_an_open_fold_shows_is_all_there(browser: Browser, demo_site: Path, sheet: str, width: int,
                                              chosen: str) -> None:
    """With every fold open nothing is cut, lies over other words or reaches past the screen."""
    with opened(browser, demo_site / sheet, width) as seen:
        assert seen.page.evaluate(UNFOLD) >= 1
        if chosen:
            seen.page.add_style_tag(content=chosen)
        assert (seen.page.evaluate(OVER), seen.page.evaluate(OVERLAP)) == ([], [])
