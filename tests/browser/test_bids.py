"""Bids of the reader's own in a browser: typed, shown in every row and on the scale, kept on the phone alone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page

from sitegen.job.parts import ROWS
from sitegen.offer.rows import number_of
from sitegen.sheets.bids import bid_figures
from sitegen.units import forecast
from tests.browser.bid_rules import ANSWERS, Bid, Usual, work
from tests.browser.seen import opened
from tests.built import offer
from tests.helpers import JOB

COMPARE, PAY = "compare.html", "what-you-could-pay.html"
TEXTS = ("name", "total", "points", "each")
ASK = "not stated - ask"
GOOD = {"name": "Aunt May's", "total": "$31,900", "points": "45", "each": "450", "more": "no", "holes": "yes",
        "floors": "yes", "lead": "no", "clean": "yes", "permit": "yes", "panel": "yes"}
"""A bid that says all, and ends below every option of the demo house."""

THIN = {"total": "14,800.50", "points": "19", "each": "600", "more": "no", "floors": "no", "clean": "no"}
"""A bid with blanks that can still be compared."""

ROWS_OF = {"holes": ("holes", "walls"), "floors": ("floors",), "lead": ("lead",), "clean": ("cleaning",)}
"""The rows, by key, that one answer of the form answers by itself."""

NEVER_ASKED = ("least", "most", "payments", "stopping", "live", "findings", "letter", "dates", "sure", "living",
               "promise", "damage", "firm", "earning")
"""Rows for which the form asks nothing, so that each is a thing to ask."""


def usual_of() -> tuple[Usual, dict[str, int]]:
    """What the demo house needs, and the middle total of each option [cents], from its offer."""
    made = offer(JOB)
    given = {key: figure.value for key, figure in bid_figures(made).items()}
    assert all(isinstance(value, int) for value in given.values())
    later: dict[str, Any] = {key: given.get(key) for key in ANSWERS}
    return (Usual(given["listed"], (given["fewer"], given["middle"], given["more"]), later),      # type: ignore[arg-type]
            {option.name: option.p50.value for option in made.outcome.options})                              # type: ignore[misc]


def _add(page: Page, bid: dict[str, str]) -> Locator:
    """Type a bid as a reader would; gives its part of the form."""
    page.locator("#compare-bids [data-add] a").click()
    form = page.locator("#compare-bids fieldset").last
    for key, value in bid.items():
        _set(form, key, value)
    return form


def _set(form: Locator, key: str, value: str) -> None:
    """Type one answer, or choose it."""
    field = form.locator(f"[data-field={key}]")
    if key in TEXTS:
        field.fill(value)
        field.press("Tab")
    else:
        field.select_option(value)


def _lines(page: Page, name: str) -> dict[str, str]:
    """What stands for a bid in each row, by its key."""
    found: dict[str, str] = page.evaluate("""name => {
      const lines = {};
      let row;
      document.querySelectorAll('table.rows:not(.items) tbody tr:not(.part, .law)').forEach(line => {
        if (line.id) row = line.dataset.row;
        else if (line.querySelector('th').textContent === name) lines[row] = line.querySelector('td').textContent;
      });
      return lines;
    }""", name)
    return found


@pytest.mark.parametrize("width", [390, 1180])
def test_a_bid_stands_in_every_row(browser: Browser, demo_site: Path, width: int) -> None:
    """A bid is one more line in each of the 24 rows, with what the form says, else `not stated - ask`."""
    with opened(browser, demo_site / COMPARE, width) as seen:
        _add(seen.page, GOOD)
        _add(seen.page, THIN)
        good, thin = _lines(seen.page, GOOD["name"]), _lines(seen.page, "Bid B")
        assert list(good) == list(thin) == list(ROWS)
        assert good["price"] == "$31,900 for the 45 points that it lists."
        assert thin["price"] == "$14,800.50 for the 19 points that it lists."
        assert tuple(row for row in ROWS if good[row] == ASK) == NEVER_ASKED
        assert {row for row in ROWS if thin[row] == ASK} == {*NEVER_ASKED, "holes", "walls", "lead"}
        assert seen.page.locator("table.items .bid").count() == 0
        over = seen.page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
        assert (max(over, 0), seen.errors) == (0, [])


def test_a_blank_is_never_shown_as_no(browser: Browser, demo_site: Path) -> None:
    """A row of a blank says `not stated - ask`; told no, it says something else; told blank again, it asks again."""
    with opened(browser, demo_site / COMPARE) as seen:
        form = _add(seen.page, {**GOOD, **dict.fromkeys(ROWS_OF, "")})
        for key, rows in ROWS_OF.items():
            for row in rows:
                assert _lines(seen.page, GOOD["name"])[row] == ASK
            form.locator(f"[data-field={key}]").select_option("no")
            told = _lines(seen.page, GOOD["name"])
            assert all(not told[row].startswith(ASK) for row in rows)
            form.locator(f"[data-field={key}]").select_option("")
            assert all(_lines(seen.page, GOOD["name"])[row] == ASK for row in rows)
        assert "You buy" not in _lines(seen.page, GOOD["name"])["later"]


@pytest.mark.parametrize(("more", "each", "said"), [
    ("", "", ASK), ("no", "", f"You do. The price of each one, and what else can raise it: {ASK}."),
    ("", "450", f"$450 a further point. Who pays it, and what else can raise the price: {ASK}."),
    ("no", "450", f"You do, $450 a point, if more old wiring turns up. What else can raise it: {ASK}."),
    ("yes", "450", f"They pay for more old wiring. What else can raise it: {ASK}."),
    ("yes", "", f"They pay for more old wiring. What else can raise it: {ASK}.")])
def test_who_pays_for_more_is_said_or_asked(browser: Browser, demo_site: Path, more: str, each: str,
                                            said: str) -> None:
    """The row of what can raise a price says who pays for more old wiring, or that this is still to ask."""
    with opened(browser, demo_site / COMPARE) as seen:
        _add(seen.page, {"more": more, "each": each})
        assert _lines(seen.page, "Bid A")["rise"] == said


def test_of_the_lines_of_a_price_a_bid_says_points_permit_and_panel(browser: Browser, demo_site: Path) -> None:
    """Of the lines of the price a bid says its points, permit and panel, each alone; all other lines are to ask."""
    told = {"points": ("45", "The 45 that it lists."), "permit": ("no", "No permit or inspection is in the bid."),
            "panel": ("yes", "A new panel is in the bid.")}
    with opened(browser, demo_site / COMPARE) as seen:
        form = _add(seen.page, {})
        assert _lines(seen.page, "Bid A")["besides"] == ASK
        for key, (value, words) in told.items():
            _set(form, key, value)
            assert _lines(seen.page, "Bid A")["besides"] == f"{words} The other lines: {ASK}."
            _set(form, key, "")
        for key, (value, _) in told.items():
            _set(form, key, value)
        every = " ".join(words for _, words in told.values())
        assert _lines(seen.page, "Bid A")["besides"] == f"{every} The other lines: {ASK}."


def test_the_sum_on_the_page_is_that_of_the_rules(browser: Browser, demo_site: Path) -> None:
    """The row of the ending gives both readings at the middle count, and the ends over all three, to $100."""
    usual, _ = usual_of()
    bid = Bid(1_480_050, 19, 60_000, more=False, floors=False, clean=False)
    (fewer, _), middle, (_, more) = work(bid, usual).spans
    with opened(browser, demo_site / COMPARE) as seen:
        _add(seen.page, THIN)
        said = _lines(seen.page, "Bid A")["ending"]
    assert said.startswith(f"{forecast(middle[0])} to {forecast(middle[1])} ")
    assert f"From {forecast(fewer)} to {forecast(more)} " in said
    assert said.endswith("without: a new panel.")


def test_a_good_bid_comes_first_and_is_said_to(browser: Browser, demo_site: Path) -> None:
    """A bid cheaper than each option in both readings stands first and is said so; one too blank stands last."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        _add(seen.page, {"total": "900"})
        _add(seen.page, GOOD)
        order = seen.page.locator("#compare-bids .ordered li").all_inner_texts()
        assert order[0].startswith(f"{GOOD['name']}: ")
        assert "costs less than each of our options" in order[0]
        assert order[-1].startswith("Bid A: Cannot be compared yet: 8 answers missing. Ask: ")
        assert not any("costs less" in text for text in order[1:])
        sizes = seen.page.evaluate("""() => [...document.querySelectorAll('#compare-bids .ordered li b')].map(
            one => getComputedStyle(one).font)""")
        assert len(set(sizes)) == 1
        seen.page.goto((demo_site / PAY).as_uri())
        scale = seen.page.locator(".bidladder li").all_inner_texts()
        assert [text.split(":")[0] for text in scale] == [text.split(":")[0] for text in order]
        assert seen.page.locator(".bidladder li svg").count() == len(order) - 1
        assert "%" not in " ".join(scale)


def test_a_bid_is_kept_over_a_reload_and_forgotten_by_the_button(browser: Browser, demo_site: Path) -> None:
    """What was typed stands again after a reload, on this phone alone; one button forgets it and leaves no line."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        page = seen.page
        before = page.locator("body").inner_text()
        _add(page, GOOD)
        _add(page, THIN)
        lines = _lines(page, "Bid B")
        page.reload()
        assert _lines(page, "Bid B") == lines
        assert page.locator("#compare-bids fieldset").count() == 2
        assert page.locator("#compare-bids [data-field=total]").first.input_value() == GOOD["total"]
        stored = page.evaluate("() => Object.entries(localStorage)")
        assert [json.loads(value)[0]["name"] for key, value in stored if key.startswith("bids ")] == [GOOD["name"]]
        page.locator("#compare-bids [data-forget]").click()
        assert page.locator("body").inner_text() == before
        assert [key for key, _ in page.evaluate("() => Object.entries(localStorage)") if key.startswith("bids")] == []
        page.reload()
        assert page.locator("body").inner_text() == before
        assert page.evaluate("() => [document.cookie, sessionStorage.length]") == ["", 0]
        assert (seen.errors, seen.outside) == ([], [])


def test_nothing_leaves_the_machine(browser: Browser, demo_site: Path) -> None:
    """Typing, keeping and forgetting bids asks the network for nothing and puts nothing into an address."""
    asked: list[str] = []
    with opened(browser, demo_site / COMPARE, 390) as seen:
        seen.page.wait_for_load_state("networkidle")
        seen.page.on("request", lambda one: asked.append(one.url))
        form = _add(seen.page, GOOD)
        form.locator("[data-field=total]").press("Enter")
        form.locator("[data-remove]").click()
        assert seen.page.url.split("#")[0] == (demo_site / COMPARE).as_uri()
        assert (asked, seen.errors, seen.outside) == ([], [], [])
        assert seen.page.locator("#compare-bids form").count() == 0


@pytest.mark.parametrize(("field", "typed", "fault"), [
    ("total", "$14,800", False), ("total", " 14800.5 ", False), ("total", "14,80", True), ("total", "about 9000", True),
    ("total", "-5", True), ("total", "", False), ("each", "1.234", True), ("points", "19", False),
    ("points", "1.5", True), ("points", "many", True)])
def test_a_fault_is_said_in_words_beside_the_field(browser: Browser, demo_site: Path, field: str, typed: str,
                                                   fault: bool) -> None:
    """What cannot be read is said under its field and counts as a blank; a sum may have $ and commas."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        form = _add(seen.page, {field: typed})
        said = form.locator(f"[data-wrong={field}]")
        here = form.locator(f"[data-field={field}]")
        assert said.is_visible() == fault
        assert here.get_attribute("aria-invalid") == str(fault).lower()
        assert here.get_attribute("aria-describedby") == said.get_attribute("id")
        if fault:
            assert "Leave it blank" in said.inner_text()
            assert _lines(seen.page, "Bid A")["price"] == ASK


def test_what_a_reader_types_stays_words(browser: Browser, demo_site: Path) -> None:
    """Markup in a name is shown as it was typed and is never run, before and after a reload, on both sheets."""
    name = "<img src=x onerror=hit=1>"
    with opened(browser, demo_site / COMPARE, 390) as seen:
        _add(seen.page, {**GOOD, "name": name})
        for sheet in (COMPARE, PAY):
            seen.page.goto((demo_site / sheet).as_uri())
            assert name[:24] in seen.page.locator("main").inner_text()
            made = seen.page.evaluate("() => [document.querySelectorAll('main img[src=x]').length, window.hit]")
            assert made == [0, None]


def test_three_bids_by_keyboard_alone(browser: Browser, demo_site: Path) -> None:
    """Up to three bids are added, filled and taken out with keys alone, and focus is never lost."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        page = seen.page
        for i in range(3):
            page.locator("#compare-bids [data-add] a").focus()
            page.keyboard.press("Enter")
            assert page.evaluate("() => document.activeElement.dataset.field") == "name"
            page.keyboard.type(f"Bidder {'xyz'[i]}")
            page.keyboard.press("Tab")
            page.keyboard.type("20,000")
            for _ in range(3):
                page.keyboard.press("Tab")
            assert page.evaluate("() => document.activeElement.dataset.field") == "more"
            page.keyboard.press("ArrowDown")
        assert page.locator("#compare-bids [data-add]").is_hidden()
        assert page.locator("#compare-bids fieldset").count() == 3
        assert _lines(page, "Bidder z")["rise"].startswith("They pay for more old wiring.")
        page.locator("#compare-bids [data-remove]").nth(1).focus()
        page.keyboard.press("Enter")
        assert page.locator("#compare-bids fieldset legend").all_inner_texts() == ["Bidder x", "Bidder z"]
        assert page.evaluate("() => document.activeElement.matches('[data-add] a')")


def test_controls_can_be_hit_and_have_names(browser: Browser, demo_site: Path) -> None:
    """Every control of the form is 44 px high and has a label that says what it asks."""
    with opened(browser, demo_site / COMPARE, 320) as seen:
        _add(seen.page, THIN)
        found = seen.page.evaluate("""() => [...document.querySelectorAll(
            '#compare-bids :is(input, select, button, a)')].map(one => [one.getBoundingClientRect().height,
            (one.labels?.length ? one.labels[0].querySelector('span') : one).innerText.trim()])""")
        assert len(found) >= 14
        assert [one for one in found if one[0] < 44 or not one[1]] == []
        assert seen.page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0


def test_questions_to_ask_print(browser: Browser, demo_site: Path) -> None:
    """For each bid the questions of its blank rows print; with no bid, or scripts off, all 24, with empty lines."""
    shown = "one => one.map(line => [line.value, line.innerText, getComputedStyle(line, '::after').height])"
    for enabled in (True, False):
        with opened(browser, demo_site / COMPARE, java_script_enabled=enabled) as seen:
            seen.page.emulate_media(media="print")
            assert seen.page.locator("#compare-ask [data-blank] li").count() == 24
            assert seen.page.locator("#compare-ask [data-blank]").is_visible()
    with opened(browser, demo_site / COMPARE) as seen:
        _add(seen.page, GOOD)
        seen.page.emulate_media(media="print")
        assert seen.page.locator("#compare-ask [data-blank]").is_hidden()
        asked = seen.page.locator("[data-asks] li").evaluate_all(shown)
        questions = seen.page.locator("table.rows:not(.items) th b").all_inner_texts()
        still = {*NEVER_ASKED, "rise", "besides"}
        assert [line[0] for line in asked] == [number_of(row) for row in ROWS if row in still]
        assert [line[1] for line in asked] == [questions[line[0] - 1] for line in asked]
        assert all(float(line[2].removesuffix("px")) > 20 for line in asked)
        assert seen.page.locator("#compare-bids fieldset").is_hidden()


def test_with_scripts_off_the_link_leads_to_the_questions(browser: Browser, demo_site: Path) -> None:
    """Without scripts there is no form that does nothing: the link goes to the questions for paper."""
    with opened(browser, demo_site / COMPARE, 390, java_script_enabled=False) as seen:
        assert seen.page.locator("#compare-bids :is(input, select, button)").count() == 0
        seen.page.locator("#compare-bids [data-add] a").click()
        assert seen.page.url.endswith("#compare-ask")
        assert seen.page.locator("#compare-ask").is_visible()
