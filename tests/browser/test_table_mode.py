"""At the table: larger type on a tablet that lies between people, turned by keys and swipes; and the list of extras."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from sitegen.units import dollars
from tests.browser.seen import opened, want_extra
from tests.browser.test_access import OVER, OVERLAP
from tests.browser.test_sheets import SHEETS, TARGETS

TABLET = {"has_touch": True, "is_mobile": True}
IN_MODE = "() => document.documentElement.classList.contains('at-table')"
BODY = "() => { const s = getComputedStyle(document.body); return [s.fontSize, s.lineHeight].map(parseFloat); }"
# A browser drops keys and touches until a page has painted once: nobody can answer what they do not see.
READY = ("() => document.documentElement.dataset.table === 'ready' && "
         "performance.getEntriesByName('first-contentful-paint').length > 0")
BUTTON = "[data-at-table]"


@contextmanager
def at_table(browser: Browser, file: Path, width: int = 1180, **options: Any) -> Iterator[Page]:
    """A sheet that is read at the table, by its button."""
    with opened(browser, file, width, **options) as seen:
        to_the_table(seen.page)
        yield seen.page
        assert (seen.errors, seen.outside) == ([], [])


def to_the_table(page: Page) -> None:
    """Press the button."""
    page.locator(BUTTON).click()
    assert page.evaluate(IN_MODE)


def file_of(page: Page) -> str:
    """The file that is open."""
    return page.url.split("#")[0].rsplit("/", 1)[1]


@pytest.mark.parametrize("width", [1024, 1180])
@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_at_the_table(browser: Browser, demo_site: Path, sheet: str, width: int) -> None:
    """One class sets 24 on 34 px; each word is still there, none is cut or covered, none under 14 px, targets hold."""
    with opened(browser, demo_site / sheet, width) as seen:
        page, before = seen.page, seen.page.locator("main").inner_text().split()
        to_the_table(page)
        assert page.evaluate("() => document.documentElement.className") == "at-table"
        assert page.evaluate(BODY) == pytest.approx([24, 34], abs=0.1)
        assert sorted(page.locator("main").inner_text().split()) == sorted(before)
        assert (page.evaluate(OVER), page.evaluate(OVERLAP)) == ([], [])
        assert [one for one in page.evaluate(TARGETS) if not one["inText"] and not one["inline"]
                and one["height"] < 44] == []
        assert (seen.errors, seen.outside) == ([], [])


def test_a_tablet_held_sideways_is_at_the_table(browser: Browser, demo_site: Path) -> None:
    """A touch screen in landscape of 1000 px and up begins there; upright, narrower, or with a mouse it does not."""
    sizes = {(1180, 820): True, (1000, 700): True, (999, 700): False, (1024, 1366): False, (844, 390): False}
    for options, wanted in ((TABLET, sizes), ({}, {(1180, 820): False})):
        with opened(browser, demo_site / "index.html", **options) as seen:
            for (width, height), in_mode in wanted.items():
                seen.page.set_viewport_size({"width": width, "height": height})
                seen.page.reload()
                assert (width, height, seen.page.evaluate(IN_MODE)) == (width, height, in_mode)
                assert seen.page.locator(BUTTON).is_visible() == (width >= 1000)


def test_it_turns_with_the_tablet_and_prints_as_ever(browser: Browser, demo_site: Path) -> None:
    """Turned upright the sheet is as before; on paper it is the same with and without."""
    with opened(browser, demo_site / "index.html", 1180, **TABLET) as seen:
        page = seen.page
        assert page.evaluate(IN_MODE)
        page.set_viewport_size({"width": 800, "height": 1180})
        page.wait_for_function(f"() => !({IN_MODE})()")
        assert page.evaluate(BODY)[0] == 17
        page.set_viewport_size({"width": 1180, "height": 800})
        page.wait_for_function(IN_MODE)
        assert page.evaluate(BODY)[0] == pytest.approx(24, abs=0.1)
        page.emulate_media(media="print")
        size = page.evaluate("() => getComputedStyle(document.querySelector('.facts dd')).fontSize")
        page.keyboard.press("Escape")
        assert page.evaluate("() => getComputedStyle(document.querySelector('.facts dd')).fontSize") == size


def test_it_is_kept_over_sheets_until_it_is_left(browser: Browser, demo_site: Path) -> None:
    """Keys go through the sheets in order and stop at the ends; Escape leaves, on every sheet, on a tablet too."""
    with opened(browser, demo_site / "index.html", 1180, **TABLET) as seen:
        page, files = seen.page, list(SHEETS)
        for now, after in pairwise(files):
            page.keyboard.press("ArrowRight")
            page.wait_for_url(f"**/{after}#{SHEETS[after]}")
            page.wait_for_function(READY)  # a key that comes before the page listens is nobody's choice
            assert page.evaluate(IN_MODE), now
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(100)
        assert file_of(page) == files[-1]
        page.keyboard.press("ArrowLeft")
        page.wait_for_url(f"**/{files[-2]}#*")
        page.wait_for_function(READY)
        page.keyboard.press("Escape")
        assert not page.evaluate(IN_MODE)
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(100)
        assert file_of(page) == files[-2]
        page.goto((demo_site / "index.html").as_uri())
        page.wait_for_function(f"() => !({IN_MODE})()")     # what was kept may reach a new page a moment later
        page.locator(BUTTON).click()
        page.goto((demo_site / "who.html").as_uri())
        page.wait_for_function(IN_MODE)


def test_what_is_chosen_in_one_page_holds_in_another_that_is_open(browser: Browser, demo_site: Path) -> None:
    """Two sheets side by side: taking one to the table takes the other, and leaving it there leaves it here."""
    with opened(browser, demo_site / "index.html", 1180) as seen:
        other = seen.page.context.new_page()
        other.goto((demo_site / "who.html").as_uri())
        other.wait_for_function(READY)
        seen.page.locator(BUTTON).click()
        other.wait_for_function(IN_MODE)
        other.keyboard.press("Escape")
        seen.page.wait_for_function(f"() => !({IN_MODE})()")


def test_arrow_keys_in_a_field_write(browser: Browser, demo_site: Path) -> None:
    """In a field, with another key held, and on a key that was used, arrows turn nothing; on a tick box they do."""
    with at_table(browser, demo_site / "rooms.html") as page:
        page.evaluate("""() => {
            const main = document.querySelector('main');
            main.prepend(Object.assign(document.createElement('input'), {type: 'checkbox', id: 'tick'}));
            for (const name of ['input', 'textarea', 'select']) main.prepend(document.createElement(name));
            main.prepend(Object.assign(document.createElement('p'), {contentEditable: 'true', innerText: 'a'}));
        }""")
        for name in ("input", "textarea", "select", "p[contenteditable]"):
            page.locator(f"main > {name}").first.focus()
            page.keyboard.press("ArrowRight")
            page.keyboard.press("ArrowLeft")
        page.locator("#tick").focus()
        for held in ("altKey", "ctrlKey", "metaKey", "shiftKey"):
            page.evaluate("held => document.activeElement.dispatchEvent(new KeyboardEvent('keydown', "
                          "{key: 'ArrowRight', bubbles: true, [held]: true}))", held)
        page.wait_for_timeout(150)
        assert file_of(page) == "rooms.html"
        page.keyboard.press("ArrowRight")
        page.wait_for_url("**/who.html#who")


def drag(page: Page, x: int, y: int, after_ms: int = 80) -> None:
    """One finger laid down in the middle, moved and lifted so much later by its own account, however busy we are."""
    touch, at = page.context.new_cdp_session(page), {"x": 600, "y": 400}
    start = page.evaluate("() => Date.now() / 1000")

    def send(kind: str, part: int, points: list[dict[str, int]]) -> None:
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points,
                                                "timestamp": start + after_ms * part / 2000})
    send("touchStart", 0, [at])
    for part in (1, 2):
        send("touchMove", part, [{"x": at["x"] + x * part // 2, "y": at["y"] + y * part // 2}])
    send("touchEnd", 2, [])


def test_a_swipe_turns(browser: Browser, demo_site: Path) -> None:
    """A level swipe to the left goes on, to the right back; a short, a slow or a slanting one turns nothing."""
    with opened(browser, demo_site / "report.html", 1180, **TABLET) as seen:
        page = seen.page
        for x, y, slow in ((-60, 0, 80), (-200, 150, 80), (0, -300, 80), (-200, 0, 900)):
            drag(page, x, y, slow)
        page.wait_for_timeout(150)
        assert file_of(page) == "report.html"
        drag(page, -200, 10)
        page.wait_for_url("**/compare.html#compare")
        page.wait_for_function(READY)
        drag(page, 200, -10)
        page.wait_for_url("**/report.html#report")
        page.wait_for_function(READY)
        page.keyboard.press("Escape")
        drag(page, -200, 10)
        page.wait_for_timeout(150)
        assert file_of(page) == "report.html"


def test_the_button_says_what_it_does_and_keeps_the_focus(browser: Browser, demo_site: Path) -> None:
    """By keyboard the button takes the sheet to the table and back, with its ring, and stays in view."""
    with opened(browser, demo_site / "compare.html", 1180, reduced_motion="reduce") as seen:
        page, button = seen.page, seen.page.locator(BUTTON)
        assert button.inner_text() == "Read at the table"
        button.focus()
        for says, wanted in (("Leave the table", True), ("Read at the table", False)):
            page.keyboard.press("Enter")
            assert page.evaluate(IN_MODE) == wanted
            assert button.inner_text() == says
            page.wait_for_function("""() => { const e = document.activeElement, box = e.getBoundingClientRect();
                return e.matches('[data-at-table]:focus-visible') && getComputedStyle(e).outlineWidth === '3px'
                    && box.top >= 0 && box.bottom <= innerHeight; }""")


@pytest.mark.parametrize("option", ["share", "clipboard", "neither"])
def test_extras_can_be_sent_or_copied(browser: Browser, demo_site: Path, option: str) -> None:
    """The list names job and version, each extra with its place, count, price and last day, the sum, and each option
    with it; nothing else."""
    stand_in = {"share": "navigator.share = async (what) => { window.sent = what; };",
                "clipboard": "navigator.share = undefined; Object.defineProperty(navigator, 'clipboard', "
                             "{value: {writeText: async (text) => { window.sent = {text}; }}});",
                "neither": "navigator.share = undefined; "
                           "Object.defineProperty(navigator, 'clipboard', {value: undefined});"}
    with opened(browser, demo_site / "rooms.html", 390, once=True) as seen:
        page = seen.page
        page.add_init_script(stand_in[option])
        page.reload()
        send = page.locator(".send .act")
        assert send.is_hidden()
        room = page.locator("details:has(> .room .extras)").first
        room.locator("summary").click()
        room.locator(".extras input").first.fill("2")
        want_extra(page)
        items = [(room.locator(".extras li").first, "2"), (page.locator("#rooms-every-extra li:has(input)").first, "1")]
        cents = sum(int(item.locator("data").first.get_attribute("value") or "") * int(count) for item, count in items)
        send.click()
        box = page.locator(".send textarea")
        text = box.input_value() if option == "neither" else page.evaluate("() => window.sent.text")
        lines = text.split("\n")
        print(text)
        assert lines[0].startswith(page.locator("footer.block dd").first.inner_text() + ", version ")
        assert page.locator("footer.block dd").nth(2).inner_text() in lines[0]
        assert "not an order" in lines[0]
        options = page.locator(".with-extras tbody tr")
        assert len(lines) == 1 + len(items) + 1 + options.count()
        for line, (item, count) in zip(lines[1:], items, strict=False):
            name, each = item.locator("label span").first.inner_text(), item.locator("data").first
            place = item.locator("xpath=ancestor::*[@data-place]").get_attribute("data-place")
            price = dollars(int(count) * int(each.get_attribute("value") or ""))
            assert line.startswith(f"{place}: {count} × {name}, {price}. Choose by ")
            assert re.search(r"Choose by \d+ \w+", line)
        assert lines[1 + len(items)] == f"Your extras together: {dollars(cents)}"
        for line, row in zip(lines[2 + len(items):], options.all(), strict=True):
            price = int(row.locator("data").get_attribute("value") or "")
            assert line == f"{row.locator('th').inner_text()}: {dollars(price + cents)}"
        status = page.locator(".send [role=status]").inner_text().strip()
        assert status == {"share": "", "clipboard": "The list is copied. You can paste it into a message.",
                          "neither": "Copy the text below."}[option]
        assert page.locator(".send textarea").is_visible() == (option == "neither")
        if option == "neither":
            assert page.evaluate("() => { const t = document.activeElement; return [t.tagName, t.selectionEnd - "
                                 "t.selectionStart]; }") == ["TEXTAREA", len(text)]
        want_extra(page, "")
        assert page.locator(".send [role=status]").inner_text().strip() == ""
        room.locator(".extras input").first.fill("")
        assert send.is_hidden()
        assert (seen.errors, seen.outside) == ([], [])


def test_a_share_that_is_called_off_or_fails(browser: Browser, demo_site: Path) -> None:
    """Called off by the reader it does nothing more; where sharing and copying both fail, the text stands there."""
    for name, shown in (("AbortError", False), ("NotAllowedError", True)):
        with opened(browser, demo_site / "rooms.html", 390, once=True) as seen:
            page = seen.page
            page.add_init_script(f"navigator.share = async () => {{ throw new DOMException('', '{name}'); }};"
                                 "Object.defineProperty(navigator, 'clipboard', {value: {writeText: async () => "
                                 "{ throw new DOMException('', 'NotAllowedError'); }}});")
            page.reload()
            want_extra(page)
            page.locator(".send .act").click()
            page.wait_for_timeout(100)
            assert page.locator(".send textarea").is_visible() == shown
            assert seen.errors == []
