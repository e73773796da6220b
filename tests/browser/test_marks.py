"""Marks for the reader's own page where they belong: a row, a room, an extra, an option; and what the stepper keeps."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from sitegen.job.parts import ROWS
from tests.browser.seen import opened, unfold
from tests.browser.test_sheets import TARGETS, UNFOLD
from tests.built import House

YOURS, PAY, WALK = "yours.html", "what-you-could-pay.html", "walk.html"
PLACES = {"row": ("compare.html", "[data-row=rise] .ask"), "room": ("rooms.html", ".room > [data-ask]"),
          "extra of a room": ("rooms.html", ".room .extras [data-ask]"),
          "extra": ("rooms.html", ".inside > .extras > [data-ask]")}
"""What can be asked about, with the page and the place that has its words."""


@pytest.mark.parametrize("what", PLACES)
def test_what_is_asked_about_stands_on_the_readers_page(browser: Browser, demo_site: Path, what: str) -> None:
    """A tap puts the words on the reader's page and says so; a second takes them off again."""
    sheet, selector = PLACES[what]
    with opened(browser, demo_site / sheet, 390) as seen:
        page = seen.page
        unfold(page, selector)
        place = page.locator(selector).first
        words, pin = place.get_attribute("data-ask") or "", place.locator("> .pin")
        assert len(words) > 3
        assert (pin.inner_text(), pin.get_attribute("aria-pressed")) == ("Ask about this", "false")
        pin.click()
        assert pin.get_attribute("aria-pressed") == "true"
        page.goto((demo_site / YOURS).as_uri())
        asked = page.locator("[data-gather=asked] li")
        assert asked.count() == 1
        assert asked.inner_text().startswith(words)
        page.goto((demo_site / sheet).as_uri())
        unfold(page, selector)
        pin.click()
        page.goto((demo_site / YOURS).as_uri())
        assert asked.count() == 0
        assert (seen.errors, seen.outside) == ([], [])


def test_every_row_room_extra_and_option_has_its_mark(house: House) -> None:
    """Each row can be asked about in its own words, each room and extra by its name, and each option chosen by its."""
    rows = house.at("compare.html", "tr[id^=compare-row-] .ask")
    assert [row["data-ask"] for row in rows] == [row.b.get_text() for row in rows if row.b]
    assert len(rows) == len(ROWS)
    options = house.at("compare.html", ".each article")
    assert [(str(one["data-choose"]), str(one["data-named"])) for one in options] == [
        (option.key, option.name) for option in house.offer.outcome.options]
    rooms = house.at("rooms.html", ".room > [data-ask]")
    assert sorted(str(room["data-ask"]) for room in rooms) == sorted(room.name.text for room in house.offer.rooms)
    extras = house.at("rooms.html", "#rooms-every-extra li")
    assert sorted(str(one["data-ask"]) for one in extras) == sorted(one.what.text for one in house.offer.extras)
    for one in house.at("rooms.html", ".room .extras li"):
        assert any(str(one["data-ask"]).endswith(f": {extra.what.text}") for extra in house.offer.extras)


def test_an_option_is_marked_beside_its_good_points(browser: Browser, demo_site: Path) -> None:
    """One option at a time, none at first; the reader's page has the same mark."""
    with opened(browser, demo_site / "compare.html", 390) as seen:
        page = seen.page
        unfold(page, ".each article")
        pins = page.locator(".each [data-choose] > .pin")
        assert [one.get_attribute("aria-pressed") for one in pins.all()] == ["false"] * pins.count()
        pins.nth(1).click()
        pins.nth(0).click()
        assert [one.get_attribute("aria-pressed") for one in pins.all()] == ["true", *["false"] * (pins.count() - 1)]
        key = page.locator(".each [data-choose]").first.get_attribute("data-choose")
        page.goto((demo_site / YOURS).as_uri())
        assert page.locator(f"[data-choose={key}] .pin").get_attribute("aria-pressed") == "true"


@pytest.mark.parametrize("sheet", ["compare.html", "rooms.html"])
def test_marks_can_be_hit_and_stand_for_a_script_alone(browser: Browser, demo_site: Path, sheet: str) -> None:
    """At 320 px, all folds open, every mark is 44 px high, has a name of its own and runs over nothing; without scripts
    and on paper there is none."""
    with opened(browser, demo_site / sheet, 320) as seen:
        page = seen.page
        page.evaluate(UNFOLD)
        pins = page.locator("main .pin")
        assert pins.count() > 10
        assert min(pins.evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")) >= 44
        names = pins.evaluate_all("all => all.map(one => one.getAttribute('aria-label'))")
        assert len(set(names)) == len(names)
        assert [one["name"] for one in page.evaluate(TARGETS) if not one["inText"] and not one["inline"]
                and one["height"] < 44] == []
        assert page.evaluate("() => document.documentElement.scrollWidth") == 320
        page.emulate_media(media="print")
        assert not any(one.is_visible() for one in pins.all())
    with opened(browser, demo_site / sheet, 320, java_script_enabled=False) as seen:
        assert seen.page.locator(".pin").count() == 0


def state(page: Page) -> tuple[list[str], list[bool], list[str]]:
    """What the stepper shows: its counts, what is struck out, and each total."""
    return (page.locator("[data-steps] input[type=number]").evaluate_all("all => all.map(one => one.value)"),
            page.locator("[data-item] input").evaluate_all("all => all.map(one => one.checked)"),
            page.locator("[data-steps] [data-option] data").all_inner_texts())


def test_the_stepper_stands_as_it_was_left_until_all_is_cleared(browser: Browser, demo_site: Path) -> None:
    """Count and strikes stand again after a reload and on the walk; the reader's page clears them; a page that is
    looked at keeps nothing."""
    kept = "() => Object.keys(localStorage).filter(place => place.startsWith('steps '))"
    with opened(browser, demo_site / PAY, 390) as seen:
        page = seen.page
        unfold(page, "[data-steps]")
        first = state(page)
        assert page.evaluate(kept) == []
        page.locator("[data-step=points] .further").click()
        page.locator("[data-step=points] .further").click()
        page.locator("[data-item] input").first.check()
        left = state(page)
        assert left != first
        page.reload()
        unfold(page, "[data-steps]")
        assert state(page) == left
        page.goto((demo_site / WALK).as_uri())
        assert state(page) == left
        page.goto((demo_site / YOURS).as_uri())
        for _ in range(2):
            page.locator("[data-clear]").click()
        assert page.evaluate(kept) == []
        page.goto((demo_site / PAY).as_uri())
        unfold(page, "[data-steps]")
        assert state(page) == first
        assert (seen.errors, seen.outside) == ([], [])


@pytest.mark.parametrize("was", ['{"points":9999,"feeds":1}', '{"points":"x","out":["no-such"]}', "null", "7", "{"])
def test_what_does_not_fit_is_not_taken_up(browser: Browser, demo_site: Path, was: str) -> None:
    """A count that this house cannot have, or words that are none of ours, leave the stepper as it begins."""
    with opened(browser, demo_site / PAY, 390) as seen:
        page = seen.page
        unfold(page, "[data-steps]")
        first = state(page)
        page.evaluate("was => localStorage.setItem('steps ' + document.querySelector('main').dataset.job, was)", was)
        page.reload()
        unfold(page, "[data-steps]")
        assert state(page) == first
        assert seen.errors == []
