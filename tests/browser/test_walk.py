"""The walk at the table: one stop at a time on a wide screen, by keys, swipes, buttons and list; its place is kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from sitegen.sheets.pages.walk import STOPS
from tests.browser.seen import opened

# A browser drops keys and touches until a page has painted once: nobody can answer what they do not see.
READY = ("() => document.documentElement.dataset.walk === 'ready' && "
         "performance.getEntriesByName('first-contentful-paint').length > 0")
KEYS = [key for key, *_ in STOPS]
WIDE, TABLET = 1180, {"has_touch": True, "is_mobile": True}


@contextmanager
def walked(browser: Browser, site: Path, width: int = WIDE, **options: Any) -> Iterator[Page]:
    """The walk, ready to be walked."""
    with opened(browser, site / "walk.html", width, **options) as seen:
        seen.page.wait_for_function(READY)
        yield seen.page
        assert (seen.errors, seen.outside) == ([], [])


def at(page: Page) -> str:
    """The one stop that is seen."""
    seen = [key for key in KEYS if page.locator(f"#walk-at-{key}").is_visible()]
    assert len(seen) == 1, seen
    return seen[0]


def drag(page: Page, x: int, y: int, after_ms: int = 80) -> None:
    """One finger laid down in the middle, moved and lifted so much later by its own account, however busy we are."""
    touch, place = page.context.new_cdp_session(page), {"x": 600, "y": 400}
    start = page.evaluate("() => Date.now() / 1000")

    def send(kind: str, part: int, points: list[dict[str, int]]) -> None:
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points,
                                                "timestamp": start + after_ms * part / 2000})
    send("touchStart", 0, [place])
    for part in (1, 2):
        send("touchMove", part, [{"x": place["x"] + x * part // 2, "y": place["y"] + y * part // 2}])
    send("touchEnd", 2, [])


def test_about_twelve_stops_begin_tonight_and_end_with_a_copy() -> None:
    """What can hurt tonight comes first; time to think, the right to cancel and a copy to leave come last."""
    assert 10 <= len(KEYS) <= 14
    assert (KEYS[0], KEYS[-1]) == ("tonight", "close")


def test_keys_and_buttons_go_stop_by_stop_and_no_further(browser: Browser, demo_site: Path) -> None:
    """Arrows and both buttons walk all stops in their order; at either end nothing is beyond, and its button is off."""
    with walked(browser, demo_site) as page:
        seen = [at(page)]
        assert page.locator("[data-go=back]").is_disabled()
        for number in range(1, len(KEYS)):
            if number % 2:
                page.keyboard.press("ArrowRight")
            else:
                page.locator("[data-go=on]").click()
            seen.append(at(page))
        assert seen == KEYS
        assert page.locator("[data-go=on]").is_disabled()
        page.keyboard.press("ArrowRight")
        assert at(page) == KEYS[-1]
        page.keyboard.press("ArrowLeft")
        assert at(page) == KEYS[-2]


def test_it_resumes_where_it_stood_and_the_list_goes_anywhere(browser: Browser, demo_site: Path) -> None:
    """Opened again it stands at the same stop; the list of stops leads to each; a link to a stop opens that stop."""
    with walked(browser, demo_site) as page:
        page.locator("[data-bar] summary").click()
        page.locator("[data-bar] li a").nth(KEYS.index("dates")).click()
        assert at(page) == "dates"
        page.reload()
        page.wait_for_function(READY)
        assert at(page) == "dates"
        page.goto((demo_site / "walk.html").as_uri() + "#walk-at-price")
        page.wait_for_function(READY)
        assert at(page) == "price"


def test_a_swipe_turns_and_a_scroll_does_not(browser: Browser, demo_site: Path) -> None:
    """A level swipe to the left goes on, to the right back; a short, a slow or a slanting one turns nothing."""
    with walked(browser, demo_site, **TABLET) as page:
        drag(page, -200, 10)
        assert at(page) == KEYS[1]
        for x, y, slow in ((-60, 0, 80), (-200, 150, 80), (0, -300, 80), (-200, 0, 900)):
            drag(page, x, y, slow)
        assert at(page) == KEYS[1]
        drag(page, 200, -10)
        assert at(page) == KEYS[0]


def test_an_option_is_set_aside_and_brought_back(browser: Browser, demo_site: Path) -> None:
    """Its column leaves every stop, the others stay side by side, and a second tap brings it back."""
    with walked(browser, demo_site) as page:
        page.locator("[data-bar] summary").click()
        page.locator("[data-bar] li a").nth(KEYS.index("price")).click()
        heads = page.locator("#walk-at-price thead [data-of-option]")
        names = heads.all_inner_texts()
        aside = page.locator("[data-away]").nth(1)
        aside.click()
        assert [heads.nth(i).is_visible() for i in range(heads.count())] == [i != 1 for i in range(len(names))]
        assert aside.get_attribute("aria-label") == f"Bring back: {names[1]}"
        aside.click()
        assert all(heads.nth(i).is_visible() for i in range(heads.count()))


def test_arrows_in_a_field_write_and_turn_nothing(browser: Browser, demo_site: Path) -> None:
    """At the stop of the stepper an arrow in its field belongs to the field, and the count stands when it is left."""
    with walked(browser, demo_site) as page:
        page.goto((demo_site / "walk.html").as_uri() + "#walk-at-more")
        page.wait_for_function(READY)
        field = page.locator("#walk-at-more input[type=number]").first
        field.press("ArrowLeft")
        field.press("ArrowUp")
        assert at(page) == "more"
        count = field.input_value()
        assert count != "0"
        page.locator("[data-go=on]").click()
        page.locator("[data-go=back]").click()
        assert field.input_value() == count


@pytest.mark.parametrize(("width", "scripts"), [(390, True), (1180, False)])
def test_elsewhere_the_stops_stand_one_below_the_other(browser: Browser, demo_site: Path, width: int,
                                                       scripts: bool) -> None:
    """On a phone, and without scripts, all stops are read by scrolling, nothing runs over, and no bar is there."""
    with opened(browser, demo_site / "walk.html", width, java_script_enabled=scripts) as seen:
        page = seen.page
        assert all(page.locator(f"#walk-at-{key}").is_visible() for key in KEYS)
        assert not page.locator("[data-bar]").is_visible()
        assert page.evaluate("() => document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("key", KEYS)
def test_each_stop_fits_a_tablet_and_its_type_is_large(browser: Browser, demo_site: Path, key: str) -> None:
    """At 1180 px nothing runs over, the type of the body is 21 px at least, and every bar button is 44 px tall."""
    with walked(browser, demo_site) as page:
        page.goto((demo_site / "walk.html").as_uri() + f"#walk-at-{key}")
        page.wait_for_function(READY)
        assert page.evaluate("() => document.documentElement.scrollWidth") == WIDE
        assert page.evaluate("() => parseFloat(getComputedStyle(document.body).fontSize)") >= 21
        tall = page.locator("[data-bar] button:visible").evaluate_all(
            "all => all.map(one => one.getBoundingClientRect().height)")
        assert min(tall) >= 44
