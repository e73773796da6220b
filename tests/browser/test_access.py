"""The sheets for everyone: by keyboard alone, by axe, with larger text, with wider spacing, and without motion."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.seen import looked_at, opened, want_extra
from tests.browser.test_sheets import DETAIL, SHEETS, TARGETS, UNFOLD

EVERY = (*SHEETS, DETAIL)
FOCUSABLE = "a[href],button,input,select,textarea,summary,[tabindex]"
"""What Tab may come to; of radio buttons the one that is picked, or the first: arrow keys go on from there."""

UNSURE = {"compare.html": {"th-has-data-cells", "color-contrast"}, "what-you-could-pay.html": {"th-has-data-cells"}}
"""Where axe asks a person to look: cells over three columns, and text with a hanging indent.  The tests of tables and
of tokens look at both."""

OVER = """() => {
  const seen = [...document.querySelectorAll('body *')].filter(e => e.checkVisibility());   // not in a closed fold
  const wide = seen.filter(e => {
    const box = e.getBoundingClientRect();
    return box.width && (box.right > innerWidth + 0.5 || box.left < -0.5) && !e.closest('.vh, thead');
  });
  const cut = seen.filter(e => !e.closest('.vh, svg, thead') && e.clientWidth
    && getComputedStyle(e).overflow !== 'visible'
    && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1));
  return [...wide, ...cut].map(e => e.outerHTML.slice(0, 110));
}"""
"""What reaches past the side of the screen, and what is cut off by its own box."""

OVERLAP = """() => {
  scrollTo(0, 0);                             // what sticks lies over nothing there
  const lines = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walk.nextNode());) {
    const e = node.parentElement;
    if (!node.data.trim() || e.closest('.vh, svg, script, style, textarea, .total') || !e.checkVisibility()) continue;
    const head = e.closest('thead');          // on a phone the head of a long table is there for the ear alone
    if (head && getComputedStyle(head).position === 'absolute') continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects())
      if (box.width > 1) lines.push({box, text: node.data.trim().slice(0, 40)});
  }
  const found = [];
  lines.sort((a, b) => a.box.top - b.box.top);
  lines.forEach((one, i) => {
    for (let j = i + 1; j < lines.length && lines[j].box.top < one.box.bottom - 1; j++) {
      const a = one.box, b = lines[j].box;
      const x = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const y = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (x > 2 && y > 0.5 * Math.min(a.height, b.height)) found.push([one.text, lines[j].text]);
    }
  });
  return found;
}"""
"""Lines of text that lie over one another by more than half of their height."""

FOCUS = """focusable => {
  const e = document.activeElement;
  if (!e || e === document.body) return null;
  const style = getComputedStyle(e), box = e.getBoundingClientRect(), seen = [];
  const all = [...document.querySelectorAll(focusable)].filter(one => one.tabIndex >= 0 && one.checkVisibility()
    && (one.type !== 'radio' || one === (document.querySelector(`[name="${one.name}"]:checked`)
                                         || document.querySelector(`[name="${one.name}"]`))));
  for (const part of e.getClientRects()) {
    const [x, y] = [part.left + Math.min(8, part.width / 2), part.top + part.height / 2];
    const hit = document.elementFromPoint(x, y);
    seen.push(hit !== null && (e.contains(hit) || hit.contains(e) && !hit.matches('.total')));
  }
  return {at: all.indexOf(e), of: all.length, html: e.outerHTML.slice(0, 90), ring: style.outlineStyle,
          wide: parseFloat(style.outlineWidth), colour: style.outlineColor, ink: getComputedStyle(document.body).color,
          seen: seen.some(one => one), within: box.top >= -1 && box.top < innerHeight && box.left >= -1};
}"""
"""Where the focus is: its place among all that can have it, its ring, and whether anything lies over it."""


@cache
def axe() -> str:
    """The text of axe-core, as a wheel of the package index carries it."""
    found = find_spec("axe_playwright_python")
    assert found
    assert found.origin
    return next(Path(found.origin).parent.rglob("axe.min.js")).read_text("utf-8")


def findings(page: Page, options: str) -> dict[str, list[tuple[str, str, str]]]:
    """What axe finds on a page, and what it is not sure of: rule, first element and advice."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(axe() + ";0")
    found: dict[str, list[tuple[str, str, str]]] = page.evaluate("""options => axe.run(document, options).then(all => {
        const short = rules => rules.map(rule =>
            [rule.id, rule.nodes[0].html.slice(0, 120), rule.nodes[0].failureSummary || '']);
        return {wrong: short(all.violations), unsure: short(all.incomplete), right: short(all.passes)};
    })""", {"resultTypes": ["violations", "incomplete"], **({"runOnly": [options]} if options else {
        "rules": {"target-size": {"enabled": True}}})})
    return found


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1180])
@pytest.mark.parametrize("sheet", EVERY)
def test_axe_finds_nothing(browser: Browser, demo_site: Path, sheet: str, width: int, scheme: str) -> None:
    """All rules of axe find nothing in the light; in the dark its one rule of colours does, as no other reads them."""
    with looked_at(browser, demo_site / sheet, width, color_scheme=scheme) as page:
        found = findings(page, "color-contrast" if scheme == "dark" else "")
    assert found["wrong"] == []
    assert {rule for rule, *_ in found["unsure"]} <= UNSURE.get(sheet, set())
    assert len(found["right"]) >= (1 if scheme == "dark" else 30)


def test_axe_would_find_it(browser: Browser, tmp_path: Path) -> None:
    """A page with faint words, a bare picture and a nameless button is found wrong on all three."""
    page = tmp_path / "bad.html"
    page.write_text('<!doctype html><html lang="en"><head><meta charset="utf-8"><title>a</title></head><body><main>'
                    '<h1>a</h1><p style="color:#999;background:#fff">faint</p><img src="data:,"><button></button>'
                    "</main></body></html>", "utf-8")
    with opened(browser, page) as seen:
        wrong = {rule for rule, *_ in findings(seen.page, "")["wrong"]}
        assert wrong >= {"color-contrast", "image-alt", "button-name"}
        assert {rule for rule, *_ in findings(seen.page, "color-contrast")["wrong"]} == {"color-contrast"}


def walk(page: Page, most: int = 400) -> list[dict[str, Any]]:
    """Every place that Tab comes to, from the top of a page until the focus leaves it or is back at the first."""
    places: list[dict[str, Any]] = []
    page.evaluate("() => { document.activeElement.blur(); scrollTo(0, 0); getSelection().removeAllRanges(); }")
    while len(places) < most:
        page.keyboard.press("Tab")
        place = page.evaluate(FOCUS, FOCUSABLE)
        if place is None or (len(places) == place["of"] and place["at"] == places[0]["at"]):
            return places
        places.append(place)
    raise AssertionError(f"the focus does not leave the page: {places[-3:]}")


@pytest.mark.parametrize("width", [320, 1180])
@pytest.mark.parametrize("sheet", EVERY)
def test_the_keyboard_alone_comes_to_every_control(browser: Browser, demo_site: Path, sheet: str, width: int) -> None:
    """Tab comes to each control once, in the order of the sheet, with a ring of ink, in view and uncovered; then on."""
    with opened(browser, demo_site / sheet, width) as seen:
        page = seen.page
        if sheet == "rooms.html":
            want_extra(page)
            page.reload()                    # so that the walk begins at the top; what was chosen is kept
            assert page.locator(".total").is_visible()
        places = walk(page)
        assert len(places) >= 5
        assert [place["at"] for place in places] == list(range(places[0]["of"]))
        assert [place["html"] for place in places
                if place["ring"] != "solid" or place["wide"] < 3 or place["colour"] != place["ink"]] == []
        assert [place["html"] for place in places if not (place["seen"] and place["within"])] == []
        page.keyboard.press("Shift+Tab")
        if page.evaluate(FOCUS, FOCUSABLE) is None:         # back from the first, by way of no place
            page.keyboard.press("Shift+Tab")
        assert page.evaluate(FOCUS, FOCUSABLE)["at"] == places[-1]["at"]


def test_a_covered_focus_would_be_seen(browser: Browser, demo_site: Path) -> None:
    """Where something lies over the foot of the screen, the walk says so of what comes to stand under it."""
    with opened(browser, demo_site / "rooms.html", 320) as seen:
        page = seen.page
        want_extra(page)
        page.reload()
        page.add_style_tag(content=".total{position:fixed;bottom:0;height:50vh;width:100%;background:var(--paper)}")
        assert [place["html"] for place in walk(page) if not place["seen"]] != []


def test_the_keyboard_ticks_and_turns(browser: Browser, demo_site: Path) -> None:
    """A key writes how many are wanted, Enter follows a link, and the focus then begins in the sheet that opened."""
    with opened(browser, demo_site / "rooms.html", 390) as seen:
        page = seen.page
        page.locator("#rooms-every-extra summary").click()
        page.locator("#rooms-every-extra input").first.focus()
        page.keyboard.press("2")
        assert page.locator(".total").is_visible()
        page.locator("[data-turn=back]").focus()
        page.keyboard.press("Enter")
        page.wait_for_url("**/living.html#living")
        page.keyboard.press("Tab")
        assert page.evaluate("() => document.activeElement.closest('main')?.id") == "living"


SIZE = "() => parseFloat(getComputedStyle(document.body).fontSize)"


@pytest.mark.parametrize("width", [640, 1180])
@pytest.mark.parametrize("sheet", EVERY)
def test_text_twice_as_large_is_all_there(browser: Browser, demo_site: Path, sheet: str, width: int) -> None:
    """With the browser's text set to 200 % nothing is cut, lies over other words or reaches past the screen."""
    with opened(browser, demo_site / sheet, width) as seen:
        page, before = seen.page, seen.page.locator("body").inner_text()
        browser_of = page.context.new_cdp_session(page)
        browser_of.send("Page.setFontSizes", {"fontSizes": {"standard": 32}})
        assert page.evaluate(SIZE) == pytest.approx(34)
        assert (page.evaluate(OVER), page.evaluate(OVERLAP)) == ([], [])
        after = page.locator("body").inner_text().replace("Read at the table", "")
        lost = set(before.replace("Read at the table", "").split()) - set(after.split())
        assert lost == set()
        browser_of.send("Page.setFontSizes", {"fontSizes": {"standard": 16}})
        assert page.evaluate(SIZE) == pytest.approx(17)


BROKEN = """() => {
  const found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walk.nextNode());) {
    if (!node.parentElement.checkVisibility() || node.parentElement.closest('script,style,.vh,thead')) continue;
    for (const word of node.data.matchAll(/(?<!\\S)[\\w$,]{2,12}(?=[.,:;?!]?(?:\\s|$))/g)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const tops = [...range.getClientRects()].filter(box => box.width > 0).map(box => Math.round(box.top));
      if (tops.length > 1 && Math.max(...tops) - Math.min(...tops) > 4)
        found.push(word[0] + ' in ' + node.data.trim().slice(0, 60));
    }
  }
  return found;
}"""
"""Short words and numbers that are broken over two lines, and where."""

SPACING = ("*{line-height:1.5 !important;letter-spacing:.12em !important;word-spacing:.16em !important}"
           "p{margin-bottom:2em !important}")
"""The spacing that WCAG 1.4.12 lets a reader set."""


DOUBLED = "html{font-size:200% !important}"
"""A phone's own larger text: the page keeps its width and gets half as many letters on a line."""


@pytest.mark.parametrize(("width", "chosen"), [(320, ""), (320, SPACING), (390, SPACING), (1180, SPACING),
                                               (320, DOUBLED), (390, DOUBLED)])
@pytest.mark.parametrize("sheet", EVERY)
def test_narrow_spaced_or_doubled_it_loses_nothing(browser: Browser, demo_site: Path, sheet: str, width: int,
                                                   chosen: str) -> None:
    """In 320 px, with a reader's own spacing or text twice as large, all words are in view, uncut, clear of others."""
    with looked_at(browser, demo_site / sheet, width) as page:
        style = page.add_style_tag(content=chosen) if chosen else None
        assert (page.evaluate(OVER), page.evaluate(OVERLAP)) == ([], [])
        if chosen != DOUBLED:       # there a word may have no line that is long enough
            assert page.evaluate(BROKEN) == []
        if style:
            style.evaluate("one => one.remove()")


def test_lost_text_would_be_seen(browser: Browser, demo_site: Path) -> None:
    """A box that cuts its words, one that is too wide, and lines over one another are found."""
    with opened(browser, demo_site / DETAIL, 320) as seen:
        seen.page.add_style_tag(content=".answer{width:1.2em;overflow-wrap:anywhere}")
        assert seen.page.evaluate(BROKEN) != []
        seen.page.add_style_tag(content="h1{width:400px}h2{height:4px;overflow:hidden}.answer p+p{margin-top:-1.5em}")
        over = " ".join(seen.page.evaluate(OVER))
        assert "<h1" in over
        assert "<h2" in over
        seen.page.evaluate(UNFOLD)
        seen.page.add_style_tag(content=".steps li+li{margin-top:-1.5em}")
        assert seen.page.evaluate(OVERLAP) != []


@pytest.mark.parametrize("sheet", EVERY)
def test_nothing_moves(browser: Browser, demo_site: Path, sheet: str) -> None:
    """Where a reader asks for less motion, nothing on a sheet moves, fades or scrolls by itself."""
    with looked_at(browser, demo_site / sheet, 390, reduced_motion="reduce") as page:
        assert page.evaluate("() => matchMedia('(prefers-reduced-motion: reduce)').matches")
        moving = page.evaluate("""() => [document.documentElement, ...document.querySelectorAll('body *')]
            .filter(e => { const style = getComputedStyle(e);
                           return style.animationName !== 'none' || parseFloat(style.transitionDuration) > 0
                               || style.scrollBehavior === 'smooth'; })
            .map(e => e.outerHTML.slice(0, 90))""")
        assert (moving, page.evaluate("() => document.getAnimations().length")) == ([], 0)


def test_the_list_that_is_sent_has_targets_for_a_thumb(browser: Browser, demo_site: Path) -> None:
    """The button and the box that stand there once an extra is chosen are 44 px high at the least."""
    with opened(browser, demo_site / "rooms.html", 320) as seen:
        want_extra(seen.page)
        seen.page.evaluate("() => { document.querySelector('.send').dataset.sent = 'shown'; }")
        found = [one for one in seen.page.evaluate(TARGETS) if "my extras" in one["name"].lower()]
        assert len(found) == 1
        assert found[0]["height"] >= 44
        assert (seen.page.locator(".send textarea").bounding_box() or {})["height"] >= 44
