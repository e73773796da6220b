"""The sheets of the demo house in a real browser: on a phone, at a desk, in the dark and on paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from sitegen.sheets.pages.detail import DETAILS
from sitegen.sheets.site import STYLES as STYLE_NAMES
from sitegen.units import dollars
from tests.browser.seen import looked_at, opened, want_extra
from tests.built import House

ROOT = Path(__file__).resolve().parents[2]
SHEETS = {"index.html": "start", "report.html": "report", "compare.html": "compare",
          "what-you-could-pay.html": "pay", "living.html": "living", "rooms.html": "rooms",
          "agreement.html": "agreement", "who.html": "who"}
DETAIL = "detail-plaster.html"
"""One of the details, which are all made by one template."""

EVERY = {**SHEETS, "paper.html": "paper", **{f"detail-{key}.html": f"detail-{key}" for key in DETAILS}}
BESIDE = {"yours.html": "yours", "walk.html": "walk"}
WIDTHS = (320, 390, 1180)
SCHEMES = ("light", "dark")
TABLE_ENDS, FIRST_ENDS = 2 * 844, 4 * 844      # px on a phone of 390 x 844
STYLES = [ROOT / "theme" / path for path in STYLE_NAMES]

TARGETS = """() => [...document.querySelectorAll(
    'a[href],button,input,select,textarea,summary,[role=button]')]
  .filter(e => e.getClientRects().length && e.checkVisibility()).map(e => {      // not in a closed fold
    const hit = e.closest('label') || e;      // a label hits its box
    const box = hit.getBoundingClientRect(), around = e.parentElement.innerText.trim();
    const inline = getComputedStyle(e).display === 'inline';
    return {name: e.innerText.trim(), width: box.width, height: box.height, inline,
            inText: inline && around.length > e.innerText.trim().length};
  })"""

TEXTS = """() => {
  const found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walk.nextNode());) {
    const e = node.parentElement;
    if (node.data.trim() && e.getClientRects().length && !e.closest('style,script'))
      found.push([node.data.trim(), parseFloat(getComputedStyle(e).fontSize)]);
  }
  return found;
}"""


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("sheet", [*SHEETS, DETAIL])
class TestEverySize:
    """Each sheet at each width, light and dark."""

    def test_opens_from_disk_without_an_error_or_a_request(self, browser: Browser, demo_site: Path,
                                                           sheet: str, width: int, scheme: str) -> None:
        """A sheet opens from disk, complains of nothing and asks the network for nothing."""
        with opened(browser, demo_site / sheet, width, color_scheme=scheme) as seen:
            assert seen.page.locator(f"main#{EVERY[sheet]} h1").is_visible()
            assert (seen.errors, seen.outside) == ([], [])

    def test_does_not_overflow_sideways(self, browser: Browser, demo_site: Path, sheet: str, width: int,
                                        scheme: str) -> None:
        """Nothing on a sheet reaches past the side of the screen."""
        with looked_at(browser, demo_site / sheet, width, color_scheme=scheme) as page:
            wide = page.evaluate("""() => [...document.querySelectorAll('body *')].filter(e => {
                const box = e.getBoundingClientRect();
                const past = box.right > innerWidth + 0.5 || box.left < -0.5;
                return box.width && past && e.checkVisibility() && !e.closest('.vh, thead');
            }).map(e => e.outerHTML.slice(0, 90))""")
            over = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
            assert (wide, max(over, 0)) == ([], 0)

    def test_targets_can_be_hit_with_a_thumb(self, browser: Browser, demo_site: Path, sheet: str, width: int,
                                             scheme: str) -> None:
        """A link that stands alone is 44 px high; none is under 24 px but a few words inside a sentence."""
        with looked_at(browser, demo_site / sheet, width, color_scheme=scheme) as page:
            targets = page.evaluate(TARGETS)
            assert len(targets) >= 4
            small = [(one["name"], one["width"], one["height"]) for one in targets if not one["inText"]
                     and (one["width"] < 24 or one["height"] < (24 if one["inline"] else 44))]
            assert small == []

    def test_text_is_large_enough(self, browser: Browser, demo_site: Path, sheet: str, width: int,
                                  scheme: str) -> None:
        """No text on a sheet is set smaller than 14 px."""
        with looked_at(browser, demo_site / sheet, width, color_scheme=scheme) as page:
            texts = page.evaluate(TEXTS)
            assert len(texts) > 50
            assert [(text, size) for text, size in texts if size < 14] == []


@pytest.mark.parametrize("sheet", [*SHEETS, DETAIL])
def test_left_alone_it_asks_for_nothing(browser: Browser, demo_site: Path, sheet: str) -> None:
    """A sheet that has been open for a while still complains of nothing and has asked the network for nothing."""
    with opened(browser, demo_site / sheet, 390) as seen:
        seen.page.wait_for_load_state("networkidle")
        assert (seen.errors, seen.outside) == ([], [])


def test_the_first_two_phone_screens_hold_the_prices(browser: Browser, house: House) -> None:
    """On a phone what can hurt tonight comes first, line by line; but for these lines the table of prices ends within
    two screens, and all that decides within four."""
    ask = "all => all.map(name => document.querySelector(name).getBoundingClientRect())"
    with opened(browser, house.folder / "index.html", 390) as seen:
        tonight, prices, after = seen.page.evaluate(ask, [".tonight", ".prices table", ".does"])
        assert tonight["bottom"] <= prices["top"] < prices["bottom"] <= after["top"]
        seen.page.locator(".tonight li").evaluate_all("all => all.forEach(one => one.remove())")
        prices, whole = seen.page.evaluate(ask, [".prices table", ".first"])
    print(house.job, prices["bottom"], whole["bottom"])
    assert prices["bottom"] < TABLE_ENDS
    assert whole["bottom"] <= FIRST_ENDS


UNFOLD = "() => [...document.querySelectorAll('details')].map(fold => { fold.open = true; }).length"
"""Open all folds; gives how many there are."""


def test_links_between_sheets_work(browser: Browser, demo_site: Path) -> None:
    """Every link from a sheet to a sheet can be hit; each place that they name, when clicked, opens and is there."""
    gone: set[str] = set()
    for sheet in (*SHEETS, DETAIL):
        with opened(browser, demo_site / sheet, 390) as seen:
            seen.page.evaluate(UNFOLD)
            links = seen.page.locator(":not([data-add]) > a[href*='.html']")    # that one opens a form
            hrefs = [links.nth(i).get_attribute("href") or "" for i in range(links.count())]
            assert sheet == DETAIL or {href.split("#")[0] for href in hrefs} >= set(SHEETS) - {sheet}
            first = {href: hrefs.index(href) for href in hrefs}
            for i in first.values():
                links.nth(i).click(trial=True)
            for href in set(hrefs) - gone:
                if seen.page.url.split("#")[0] != (demo_site / sheet).as_uri():
                    seen.page.goto((demo_site / sheet).as_uri())
                    seen.page.evaluate(UNFOLD)
                links.nth(first[href]).click()
                seen.page.wait_for_url(f"**/{href}")
                file, _, place = href.partition("#")
                assert seen.page.locator("main").get_attribute("id") == {**EVERY, **BESIDE}[file]
                assert seen.page.locator(f"[id='{place}']").count() == 1, href
            gone |= set(hrefs)
            left = [error for error in seen.errors if not error.endswith(".webp")]   # not yet here when we went on
            assert (left, seen.outside) == ([], [])


def _tokens(scheme: str) -> dict[str, str]:
    """The colours of base.css as they stand in one scheme; the dark ones are laid over the light ones."""
    css = STYLES[0].read_text("utf-8")
    light, dark = re.findall(r":root(?::not\(:has\(#agreement\)\))?\{([^}]*)\}", css)[:2]
    found = dict(re.findall(r"--(\w+):(#[0-9a-f]{3,6})\b", light))
    if scheme == "dark":
        found |= dict(re.findall(r"--(\w+):(#[0-9a-f]{3,6})\b", dark))
    return found


def _contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours by the formula of WCAG 2."""
    def luminance(colour: str) -> float:
        digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
        parts = [int(digits[i:i + 2], 16) / 255 for i in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("token", "least"),
                         [("ink", 4.5), ("soft", 4.5), ("old", 4.5), ("new", 4.5), ("edge", 3.0)])
def test_colours_have_contrast(browser: Browser, demo_site: Path, token: str, least: float,
                               scheme: str) -> None:
    """The colours of text stand out 4.5 to 1 and those of edges 3 to 1, on paper and on panel."""
    tokens = _tokens(scheme)
    with looked_at(browser, demo_site / "index.html", color_scheme=scheme) as page:
        used = page.evaluate("name => getComputedStyle(document.documentElement).getPropertyValue(name)",
                                  f"--{token}")
    assert used.strip() == tokens[token]
    ratios = {ground: _contrast(tokens[token], tokens[ground]) for ground in ("paper", "panel")}
    print(scheme, token, ratios)
    assert min(ratios.values()) >= least


def test_contrast_formula() -> None:
    """Black on white has the ratio 21, and #767676 on white the 4.54 that WCAG's own examples give."""
    assert _contrast("#000", "#fff") == pytest.approx(21)
    assert _contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_sheets_can_stand_in_one_document(browser: Browser, demo_site: Path, tmp_path: Path) -> None:
    """Set one after another in one document under all styles, ids stay unique and heights the same."""
    mains, alone = [], {}
    for sheet, name in EVERY.items():
        html = (demo_site / sheet).read_text("utf-8")
        mains.append(html[html.index("<main"):html.index("</main>") + len("</main>")])
        with looked_at(browser, demo_site / sheet) as page:
            alone[name] = page.locator("main").bounding_box()["height"]        # type: ignore[index]
    styles = "".join(style.read_text("utf-8") for style in STYLES)
    whole = tmp_path / "whole.html"
    whole.write_text('<!doctype html><html lang="en"><head><meta charset="utf-8">'
                     f'<style>{styles}</style></head><body>{"".join(mains)}</body></html>', "utf-8")
    with opened(browser, whole) as seen:
        ids = seen.page.evaluate("() => [...document.querySelectorAll('[id]')].map(e => e.id)")
        together = {name: seen.page.locator(f"main#{name}").bounding_box()["height"]    # type: ignore[index]
                    for name in EVERY.values()}
    print(alone, together)
    assert sorted(ids) == sorted(set(ids))
    assert together == pytest.approx(alone, abs=2)


@pytest.mark.parametrize("width", [320, 390, 768, 1180])
def test_rooms_in_a_list_stand_in_rows(browser: Browser, demo_site: Path, width: int) -> None:
    """In a list the lines of rooms stand one under the other, their names at one edge, in the order of the walk."""
    with looked_at(browser, demo_site / "rooms.html", width) as page:
        lists = page.evaluate("""() => [...document.querySelectorAll('.rooms')].map(list =>
            [...list.querySelectorAll('summary')].map(line => {
                const name = line.lastChild, range = document.createRange();
                range.selectNodeContents(name);
                const first = range.getClientRects()[0];
                return [Math.round(first.top), Math.round(first.left)]; }))""")
        assert len(lists) > 1
        for places in lists:
            assert places == sorted(places)
            columns = len({left for _, left in places})
            assert [left for _, left in places] == [places[i % columns][1] for i in range(len(places))]
            assert [top for top, _ in places] == [places[i - i % columns][0] for i in range(len(places))]


def test_extras_add_up_and_are_kept(browser: Browser, demo_site: Path) -> None:
    """Extras by the number add up to the cent, in their room and together, are added to each option, and stand there
    again on the next visit; a number that is none is told and counts as nothing."""
    with opened(browser, demo_site / "rooms.html", 390) as seen:
        page = seen.page
        room = page.locator("details:has(> .room .extras)").first
        room.locator("summary").click()
        field, output = room.locator(".extras input").first, page.locator(".total output")
        each = int(room.locator(".extras label data").first.get_attribute("value") or "")
        assert page.locator(".total").is_hidden()
        field.fill("3")
        assert room.locator(".sum output").inner_text() == dollars(3 * each)
        want_extra(page, "2")
        cents = 3 * each + 2 * int(page.locator("#rooms-every-extra label data").first.get_attribute("value") or "")
        for row in page.locator(".with-extras tbody tr").all():
            price = int(row.locator("data").get_attribute("value") or "")
            assert row.locator("output").inner_text() == dollars(price + cents)
        assert output.inner_text() == dollars(cents)
        page.reload()
        assert field.input_value() == "3"
        assert output.inner_text() == dollars(cents)
        room.locator("summary").click()
        field.fill("-1")
        assert room.locator(".odd").first.is_visible()
        assert output.inner_text() == dollars(cents - 3 * each)
        field.fill("")
        want_extra(page, "")
        assert page.locator(".total").is_hidden()
        assert (seen.errors, seen.outside) == ([], [])
