"""Folds: closed at first, opened by a tap or by a link to what stands inside, with no script, and open on paper."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.browser.seen import opened
from tests.browser.test_access import DOUBLED, OVER, OVERLAP, SPACING
from tests.browser.test_main_path import words
from tests.browser.test_sheets import DETAIL, SHEETS, UNFOLD
from tests.built import House

FOLDED = (*SHEETS, DETAIL)
"""The pages whose folds are tested: every sheet, and one of the details, which are all made by one template."""

BAR = "walk.html"
"""The walk has a fold in its bar alone, which stands there for a script on a wide screen: `test_walk.py`."""

INSIDE = """() => [...document.querySelectorAll('main details:not(.bids details)')].map(fold => {
  const parts = [...fold.querySelectorAll('p, td, th, li, dd')].filter(one => one.closest('details') === fold
    && !one.closest('.bids, .asks, .send, .stepping, .axis, .changing, [hidden]'));
  return {name: fold.id || fold.querySelector('summary').innerText, open: fold.open, there: fold.checkVisibility(),
    parts: parts.length, seen: parts.filter(one => one.checkVisibility()
    && one.getBoundingClientRect().height > 0).length};
})"""
"""Each fold of a page itself: its name, whether it is open and is there at all, how many parts it has inside beside
those of folds in it, and how many of them are seen; without the form of bids, which paper has as lines to write on, the
stepper, a change on a screen and what else a script alone shows, and the marks of a scale, which stand where their
value is."""

SCREEN_ONLY = ".bids, .changing, .stepping, .vh, .asks, .send, .pin, .listed > nav { display: none !important }"
"""What belongs to the screen or the ear: forms, buttons, and the list of questions, which paper has in their order."""

STYLE = """css => {
  const sheet = document.createElement('style'); sheet.textContent = css; document.head.append(sheet); }"""
"""Lays a style over the page, with scripts or without: the browser's own call waits for an event of the page."""

READ = """() => [...document.querySelectorAll('main details:not(.bids details)')].map(fold => [fold.id,
  fold.innerText.replace(/\\s+/g, ' ').trim()])"""

SHUT = "() => document.querySelectorAll('main details').forEach(fold => { fold.open = false; })"

HEIGHTS = "() => [...document.querySelectorAll('summary')].map(one => one.getBoundingClientRect().height)"


def test_every_fold_is_on_a_page_that_is_tested(house: House) -> None:
    """No page but those tested here has a fold of its own, each of these has some; every page of the list of
    pages has one in its head."""
    own = {name for name in house.pages if house.pages[name].select("main details")}
    assert {name for name in own if not name.startswith("detail-")} == {*SHEETS, BAR}
    assert {name for name in own if name.startswith("detail-")} == {
        name for name in house.pages if name.startswith("detail-")}
    assert {name for name in house.pages if house.pages[name].select(".head details")} == {*SHEETS}


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_list_of_pages_is_a_tap_away(browser: Browser, demo_site: Path, sheet: str) -> None:
    """Without scripts a tap on the head of a listed page opens the list of all, and each of its lines can be hit."""
    with opened(browser, demo_site / sheet, 320, java_script_enabled=False) as seen:
        lines = seen.page.locator(".head .list li")
        assert not lines.first.is_visible()
        seen.page.locator(".head summary").click()
        assert all(lines.nth(at).is_visible() for at in range(lines.count()))
        links = seen.page.locator(".head nav a")
        heights = links.evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")
        assert len(heights) > len(SHEETS)
        assert min(heights) >= 44


@pytest.mark.parametrize("sheet", FOLDED)
def test_a_fold_is_closed_until_it_is_tapped(browser: Browser, demo_site: Path, sheet: str) -> None:
    """Without scripts nothing in a fold is seen at first; a tap on its line, or a key, opens it and closes it again."""
    with opened(browser, demo_site / sheet, 390, java_script_enabled=False) as seen:
        page = seen.page
        folds = page.locator("main details")
        assert folds.count() >= 1
        assert not any(fold["open"] or fold["seen"] for fold in page.evaluate(INSIDE))
        folds.first.locator("> summary").click()
        first, *others = page.evaluate(INSIDE)
        assert (first["open"], first["seen"]) == (True, first["parts"])
        assert not any(fold["open"] for fold in others)
        folds.first.locator("> summary").press("Enter")
        assert not any(fold["open"] or fold["seen"] for fold in page.evaluate(INSIDE))


@pytest.mark.parametrize("sheet", FOLDED)
def test_a_link_to_what_stands_inside_opens_a_fold(browser: Browser, demo_site: Path, tmp_path: Path,
                                                   sheet: str) -> None:
    """Without scripts a link to an anchor in a fold, from the sheet or from another, opens that fold and goes there."""
    for path in demo_site.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    mark = """() => { [...document.querySelectorAll('main details :is(p, table, li, dd)')].find(one =>
        !one.closest('details').parentElement.closest('details') && !one.closest('[hidden]')).id = 'inside'; }"""
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
        page.evaluate(STYLE, SCREEN_ONLY)
        page.evaluate(UNFOLD)
        read = page.evaluate(READ)
        page.evaluate(SHUT)
        page.emulate_media(media="print")
        folds = page.evaluate(INSIDE)
        assert folds
        assert sum(fold["parts"] for fold in folds) >= 2
        assert [fold["name"] for fold in folds if not fold["there"]] == (
            ["compare-all"] if sheet == "compare.html" else [])
        assert [fold["name"] for fold in folds if fold["there"] and (
            fold["open"] or fold["seen"] < fold["parts"])] == []
        pdf = PdfReader(io.BytesIO(page.pdf(format="Letter")))
        printed = "".join(words("".join(one.extract_text() for one in pdf.pages)))
        assert [(name, word) for name, text in read if name != "compare-all"
                for word in words(text) if word not in printed] == []
        page.emulate_media(media="screen")
        assert not any(fold["open"] or fold["seen"] for fold in page.evaluate(INSIDE))


def test_a_fold_that_stays_shut_on_paper_would_be_seen(browser: Browser, demo_site: Path) -> None:
    """Without the rule of the style a closed fold shows nothing on paper, and the test above says so."""
    with opened(browser, demo_site / "what-you-could-pay.html", 710) as seen:
        seen.page.add_style_tag(content="details.depth::details-content{content-visibility:hidden !important}")
        seen.page.emulate_media(media="print")
        folds = seen.page.evaluate(INSIDE)
        assert sum(fold["parts"] for fold in folds) > len(folds)
        assert all(fold["seen"] == 0 for fold in folds)


@pytest.mark.parametrize("width", [320, 390, 1180])
@pytest.mark.parametrize("sheet", FOLDED)
def test_a_fold_can_be_hit_with_a_thumb(browser: Browser, demo_site: Path, sheet: str, width: int) -> None:
    """The line that opens a fold is 44 px high, that of a fold inside of another too."""
    with opened(browser, demo_site / sheet, width) as seen:
        page = seen.page
        assert page.evaluate(UNFOLD) >= 1
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
