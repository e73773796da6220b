"""The reader's own page: what other pages mark is gathered there, shared as text, and cleared with one button."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, Page

from tests.browser.seen import opened
from tests.browser.test_sheets import TARGETS

KEPT = "() => Object.keys(localStorage)"
NO_SHARE = "() => { delete Navigator.prototype.share; navigator.clipboard.writeText = () => Promise.reject(Error()); }"
"""A browser that can neither share nor copy, so that the text stands on the page."""


def sent(page: Page) -> str:
    """The text that the page would send."""
    page.evaluate(NO_SHARE)
    page.locator("[data-share]").click()
    return page.locator("[data-send] textarea").input_value()


def test_what_is_marked_elsewhere_is_gathered_and_shared(browser: Browser, demo_site: Path) -> None:
    """An extra, a question and an option stand there with their prices, and nothing that was not marked."""
    with opened(browser, demo_site / "rooms.html", 390) as seen:
        page = seen.page
        page.locator("#rooms-every-extra summary").click()
        page.locator("#rooms-every-extra .extras input").first.fill("2")
        extra = page.locator("#rooms-every-extra .extras label span").first.inner_text()
        page.goto((demo_site / "yours.html").as_uri())
        assert page.locator("[data-choose] .pin[aria-pressed=true]").count() == 0
        option = page.locator("[data-choose]").nth(1)
        option.locator(".pin").click()
        page.locator(".own textarea").fill("Who is the plasterer?")
        page.locator(".own button").click()
        text = sent(page)
        assert extra in text
        assert "- Who is the plasterer?" in text
        assert f"- {option.locator('b').inner_text()}, $" in text
        assert page.locator("[data-choose] b").first.inner_text() not in text
        page.reload()
        assert page.locator("[data-gather=asked] li").count() == 1
        page.locator("[data-gather=asked] .pin").click()
        assert page.locator("[data-gather=asked] li").count() == 0
        assert (seen.errors, seen.outside) == ([], [])


def test_one_option_is_marked_at_a_time_and_none_at_first(browser: Browser, demo_site: Path) -> None:
    """A mark moves with the next one, and a second tap takes it off."""
    with opened(browser, demo_site / "yours.html", 390) as seen:
        pins = seen.page.locator("[data-choose] .pin")

        def pressed() -> list[int]:
            return [at for at in range(pins.count()) if pins.nth(at).get_attribute("aria-pressed") == "true"]
        assert pressed() == []
        pins.nth(0).click()
        assert pressed() == [0]
        pins.nth(2).click()
        assert pressed() == [2]
        pins.nth(2).click()
        assert pressed() == []


def test_all_is_cleared_at_the_second_tap(browser: Browser, demo_site: Path) -> None:
    """The first tap asks, the second forgets every mark of the house, those of other pages too, and says so."""
    with opened(browser, demo_site / "rooms.html", 390) as seen:
        page = seen.page
        page.locator("#rooms-every-extra summary").click()
        page.locator("#rooms-every-extra .extras input").first.fill("2")
        page.goto((demo_site / "yours.html").as_uri())
        page.locator("[data-choose] .pin").first.click()
        clear = page.locator("[data-clear]")
        clear.click()
        assert len(page.evaluate(KEPT)) >= 2
        clear.click()
        assert page.evaluate(KEPT) == []
        assert page.locator("[data-send] .cleared").is_visible()
        assert page.locator("[data-choose] .pin[aria-pressed=true]").count() == 0
        assert page.locator("[data-gather=extras] li.in").count() == 0


def test_without_scripts_it_says_what_to_do(browser: Browser, demo_site: Path) -> None:
    """With scripts off nothing can be gathered: the page says so, shows no button that does nothing, and the lists."""
    with opened(browser, demo_site / "yours.html", 390, java_script_enabled=False) as seen:
        page = seen.page
        assert page.locator("p.off").is_visible()
        assert page.locator("[data-gather=extras] li").first.is_visible()
        assert not any(page.locator(one).is_visible() for one in (".own", "[data-send]"))


def test_its_buttons_are_as_tall_as_a_finger(browser: Browser, demo_site: Path) -> None:
    """At 320 px every target is 44 px tall at least, and nothing runs over."""
    with opened(browser, demo_site / "yours.html", 320) as seen:
        assert [one["name"] for one in seen.page.evaluate(TARGETS)
                if not one["inText"] and one["height"] < 44] == []
        assert seen.page.evaluate("() => document.documentElement.scrollWidth") == 320
