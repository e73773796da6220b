"""Extras by the number: sent on or copied as a text that names each, and what happens when a share fails."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from sitegen.units import dollars
from tests.browser.seen import opened, want_extra


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
        address = page.locator("footer.block dd").first.inner_text().removeprefix("Wiring of ")
        assert lines[0].startswith(f"These extras are for {address}, version ")
        assert page.locator("footer.block dd").nth(2).inner_text() in lines[0]
        assert "not an order" in lines[0]
        options = page.locator(".with-extras tbody tr")
        assert len(lines) == 1 + len(items) + 1 + options.count()
        for line, (item, count) in zip(lines[1:], items, strict=False):
            name, each = item.locator("label span").first.inner_text(), item.locator("data").first
            place = item.locator("xpath=ancestor::*[@data-place]").get_attribute("data-place")
            price = dollars(int(count) * int(each.get_attribute("value") or ""))
            assert line.startswith(f"{place}: {count} × {name}, {price}. Choose by ")
            assert re.search(r"Choose by \w+ \d+", line)
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
