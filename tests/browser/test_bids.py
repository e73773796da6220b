"""Bids of the reader's own in a browser: typed, shown in every row and on the scale, kept on the phone alone."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page

from sitegen.figure import int_of
from sitegen.job.parts import ROWS
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.rows import number_of
from sitegen.sheets.bids import bid_figures, leaves
from sitegen.sheets.site import SHARED_SCRIPT
from sitegen.units import dollars, forecast
from tests.browser.bid_rules import ANSWERS, LOAD, Bid, Own, Three, Usual, work
from tests.browser.seen import opened, unfold
from tests.built import HOUSES, built, offer
from tests.helpers import JOB

COMPARE, PAY = "compare.html", "what-you-could-pay.html"
TEXTS = ("name", "dated", "license", "total", "points", "each", "circuit", "drop", "cap", "promise", "dates")
ASK = "not stated - ask"
GOOD = {"name": "Aunt May's", "total": "$31,900", "points": "45", "each": "450", "circuit": "0", "drop": "0",
        "more": "no", "surprise": "yes", "holes": "yes", "floors": "yes", "lead": "no", "clean": "yes", "permit": "yes",
        "panel": "yes", "alarms": "yes", "places": "yes"}
"""A bid that says nearly all, and ends below every option of the demo house."""

THIN = {"total": "14,800.50", "points": "19", "each": "600", "more": "no", "floors": "no", "clean": "no",
        "alarms": "yes", "places": "no", "panel": "yes"}
"""A bid with blanks that can still be compared."""

ROWS_OF = {"holes": ("holes", "walls"), "floors": ("floors",), "lead": ("lead",), "clean": ("cleaning",)}
"""The rows, by key, that one answer of the form answers by itself."""

IN_WORDS = ("payments", "stopping", "live", "findings", "letter", "dates", "sure", "living", "promise", "damage",
            "firm", "earning")
"""Rows that the form asks in the words of the comparison, for an answer in the bidder's own."""

UNTOLD = ("most", *IN_WORDS)
"""Rows of a bid that names no cap and answers nothing in words: each is a thing to ask."""


def usual_of(job: str = JOB) -> tuple[Usual, dict[str, int]]:
    """What a demo house needs, and the middle total of each option [cents], from its offer."""
    made = offer(job)
    given: dict[str, Any] = {key: figure.value for key, figure in bid_figures(made).items()}

    def three(stem: str, middle: str) -> Three:
        return given[f"fewer{stem}"], given[middle], given[f"more{stem}"]
    later = {key: (given.get(f"{key}-fewer", given[key]), given[key], given.get(f"{key}-more", given[key]))
             if key in given else ((0, 0, 0) if key in ("alarms", "places") else None) for key in ANSWERS}
    ours = tuple(Own(option.name, own_bid(made, option), (int_of(option.p10), int_of(option.p50), int_of(option.p90)))
                 for option in made.outcome.options)
    return (Usual(given["listed"], three("", "middle"), later, three("-feeds", "middle-feeds"),
                  three("-blocked", "middle-blocked"), ours),
            {option.name: int_of(option.p50) for option in made.outcome.options})


def own_bid(made: Offer, option: OptionMoney) -> Bid:
    """One of our own options, read as a bid."""
    left = leaves(made, option)
    return Bid(int_of(option.price), int_of(made.found.listed), int_of(option.each_point), more=option.covers_all,
               circuit=int_of(option.each_feed), drop=None if option.covers_all else int_of(option.each_blocked),
               surprise=False, **{key: key not in left for key in ANSWERS})


def _add(page: Page, bid: dict[str, str]) -> Locator:
    """Type a bid as a reader would; gives its part of the form."""
    unfold(page, "#compare-bids")
    page.locator("#compare-bids [data-add] a").click()
    form = page.locator("#compare-bids fieldset").last
    for key, value in bid.items():
        _set(form, key, value)
    return form


def _set(form: Locator, key: str, value: str) -> None:
    """Type one answer, or choose it."""
    field = form.locator(f"[data-field={key}]")
    if field.locator("xpath=ancestor::details").count():
        form.locator("details").evaluate("fold => { fold.open = true; }")
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
        assert good["price"] == "$31,900 for the 45 old ones that it rewires."
        assert thin["price"] == "$14,800.50 for the 19 old ones that it rewires."
        assert tuple(row for row in ROWS if good[row] == ASK) == UNTOLD
        assert {row for row in ROWS if thin[row] == ASK} == {*UNTOLD, "holes", "walls", "lead"}
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


MOST, PRICES = "the most that it can add", "the price of one more old point, new circuits, blocked wall bays"


@pytest.mark.parametrize(("told", "said"), [
    ({}, ASK),
    ({"more": "no"}, f"You pay for more old wiring. Not stated - ask: {PRICES}, who pays for surprises, {MOST}."),
    ({"each": "450"}, "Each more old one costs $450. Not stated - ask: who pays for more old wiring, new circuits, "
                      f"blocked wall bays, who pays for surprises, {MOST}."),
    ({"more": "no", "each": "450", "circuit": "500", "drop": "0", "surprise": "no", "cap": "9,000"},
     "You pay for more old wiring. Each more old one costs $450. Each new circuit costs $500. Each blocked wall bay "
     "costs $0. You pay for surprises. All of these add $9,000 at most."),
    ({"more": "yes", "surprise": "no"}, "They pay for more old wiring. You pay for surprises. Not stated - ask: "
                                        f"{MOST}."),
    ({"more": "yes", "surprise": "yes"}, "They pay for more old wiring. They pay for surprises.")])
def test_what_can_raise_a_bid_is_said_or_asked(browser: Browser, demo_site: Path, told: dict[str, str],
                                               said: str) -> None:
    """The row of what can raise a price says who pays, at what prices and up to what, or that this is still to ask."""
    with opened(browser, demo_site / COMPARE) as seen:
        _add(seen.page, told)
        assert _lines(seen.page, "Bid A")["rise"] == said


@pytest.mark.parametrize(("told", "said"), [
    ({"total": "20,000"}, ASK), ({"total": "20,000", "cap": "2,500"}, "$22,500, plus what you choose to add."),
    ({"total": "20,000", "more": "yes", "surprise": "yes"}, "$20,000, plus what you choose to add.")])
def test_the_most_is_worked_out_where_the_answers_give_it(browser: Browser, demo_site: Path, told: dict[str, str],
                                                          said: str) -> None:
    """A cap, or a bidder who pays for all that turns up, gives the most that one could pay; nothing else does."""
    with opened(browser, demo_site / COMPARE) as seen:
        _add(seen.page, told)
        lines = _lines(seen.page, "Bid A")
        assert lines["most"] == said
        assert lines["least"] == "$20,000, if nothing more is old and no surprise comes up."


def test_an_answer_in_words_stands_in_its_row(browser: Browser, demo_site: Path) -> None:
    """The form asks in the words of the comparison, and what the bidder said stands in that row as it was typed."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        form = _add(seen.page, {"promise": "Five years on <b>all</b> work", "dates": "March 3", "license": "E-77"})
        lines = _lines(seen.page, "Bid A")
        assert (lines["promise"], lines["dates"]) == ("Five years on <b>all</b> work", "March 3")
        assert lines["firm"] == f"Their license number is E-77. {ASK}"
        questions = dict(seen.page.locator("table.rows:not(.items) tr[data-row]").evaluate_all(
            "rows => rows.map(row => [row.dataset.row, row.querySelector('th b').textContent])"))
        for key in IN_WORDS:
            assert form.locator(f"label:has([data-field={key}]) span").inner_text() == questions[key]


@pytest.mark.parametrize("job", HOUSES)
def test_our_own_options_typed_in_as_bids_end_where_ours_end(browser: Browser, job: str) -> None:
    """What loads our totals loads a bid's: each option of ours, typed in as a bid, ends at its own figures to the
    cent, and is said to end where it ends."""
    made, site = offer(job), built(job).folder
    answer = {True: "yes", False: "no"}
    with opened(browser, site / COMPARE, 390, once=True) as seen:
        seen.page.evaluate(LOAD, (site / SHARED_SCRIPT).read_text("utf-8"))
        form = _add(seen.page, {})
        for option in made.outcome.options:
            bid = own_bid(made, option)
            for key in ("total", "points", "each", "circuit", "drop"):
                value = getattr(bid, key)
                _set(form, key, "" if value is None else str(value) if key == "points" else dollars(value))
            for key in ("more", "surprise", *ANSWERS):
                if form.locator(f"[data-field={key}]").count():
                    _set(form, key, answer[getattr(bid, key)])
            cap = option.case_cap if option.covers_all else None
            _set(form, "cap", dollars(int_of(cap)) if cap else "")
            spans = seen.page.evaluate("""() => engine.one(JSON.parse(localStorage.getItem('bids ' + document
              .querySelector('[data-bids]').dataset.bids))[0], 0, 'Bid', engine.usual(document
              .querySelector('[data-bids]'))).spans.flatMap(span => [span.low, span.high])""")
            ends = [int_of(one) for one in (option.p10, option.p50, option.p90)]
            assert spans == [one for one in ends for _ in range(2)], option.name
            said = form.locator(".worked").inner_text()
            assert f"{forecast(ends[1])} at the middle count" in said or f"It comes to {forecast(ends[1])}, " in said
            assert option.name in said, "it is not said what loads the bid"


def test_of_the_lines_of_a_price_a_bid_says_points_permit_and_panel(browser: Browser, demo_site: Path) -> None:
    """Of the lines of the price a bid says its points, permit and panel, each alone; all other lines are to ask."""
    told = {"points": ("45", "It rewires 45 old ones."), "permit": ("no", "No permit or inspection is in the bid."),
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
    bid = Bid(1_480_050, 19, 60_000, more=False, floors=False, clean=False, alarms=True, places=False, panel=True)
    (fewer, _), middle, (_, more) = work(bid, usual).spans
    with opened(browser, demo_site / COMPARE) as seen:
        _add(seen.page, THIN)
        said = _lines(seen.page, "Bid A")["ending"]
    assert said.startswith(f"It comes to {forecast(middle[0])} to {forecast(middle[1])} at the middle count")
    assert f"With fewer or more, it comes to {forecast(fewer)} to {forecast(more)}." in said
    assert said.endswith("This sum is without new circuits, blocked wall bays.")


def test_a_good_bid_comes_first_and_is_said_to(browser: Browser, demo_site: Path) -> None:
    """A bid cheaper than each option in both readings stands first and is said so; one too blank stands last."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        _add(seen.page, {"total": "900"})
        _add(seen.page, GOOD)
        order = seen.page.locator("#compare-bids .ordered li").all_inner_texts()
        assert order[0].startswith(f"{GOOD['name']}: ")
        assert "costs less than each of our options" in order[0]
        assert order[-1].startswith("Bid A: We cannot compare it yet, because 11 answers are missing. Ask about ")
        assert not any("costs less" in text for text in order[1:])
        sizes = seen.page.evaluate("""() => [...document.querySelectorAll('#compare-bids .ordered li b')].map(
            one => getComputedStyle(one).font)""")
        assert len(set(sizes)) == 1
        seen.page.goto((demo_site / PAY).as_uri())
        names = seen.page.locator(".money li b").all_inner_texts()
        assert sorted(names) == sorted(text.split(":")[0] for text in order)
        assert names[-2:] == ["Bid A", GOOD["name"]]
        assert seen.page.locator(".money li svg").count() == len(order) - 1


def test_bids_stand_in_the_picture_of_money_on_its_scale(browser: Browser, demo_site: Path) -> None:
    """With bids inside its scale the picture stands as the build drew it; a bid beyond it lengthens the scale for all,
    and every mark is where its sum belongs."""
    paths = """() => [...document.querySelectorAll('.money li:not([data-bid]) path')]
      .map(one => one.getAttribute('d'))"""
    with opened(browser, demo_site / PAY, 390, java_script_enabled=False) as seen:
        drawn = seen.page.locator(".money path").evaluate_all("all => all.map(one => one.getAttribute('d'))")
        ends = seen.page.locator(".money-ends").inner_text()
    with opened(browser, demo_site / COMPARE, 390) as seen:
        page = seen.page
        form = _add(page, {**GOOD, "points": "28"})
        page.goto((demo_site / PAY).as_uri())
        assert page.evaluate(paths) == drawn
        assert page.locator(".money-ends").inner_text() == ends
        page.goto((demo_site / COMPARE).as_uri())
        unfold(page, "#compare-bids")
        form = page.locator("#compare-bids fieldset").last
        _set(form, "total", "95,000")
        page.goto((demo_site / PAY).as_uri())
        assert page.evaluate(paths) != drawn
        top = page.locator(".money-ends data").last.evaluate("one => Number(one.value)")
        foot = page.locator(".money-ends data").first.evaluate("one => Number(one.value)")
        assert top >= 9_500_000
        price = int_of(offer(JOB).outcome.options[0].price)
        ring = float(page.evaluate(paths)[1].split(" ")[0][1:]) + 5
        assert abs(ring - (8 + (price - foot) / (top - foot) * 286)) < .11


BROKEN = r"""() => [...document.querySelectorAll('#compare-bids label span')].flatMap(span => {
  const found = [], range = document.createRange(), texts = document.createTreeWalker(span, NodeFilter.SHOW_TEXT);
  for (let text = texts.nextNode(); text; text = texts.nextNode()) {
    for (const word of text.data.matchAll(/\S+/g)) {
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      if (range.getClientRects().length > 1) found.push(word[0]);
    }
  }
  return found;
})"""
"""Words of labels that stand on two lines."""


@pytest.mark.parametrize("width", [320, 390, 1180])
def test_no_word_breaks_inside_a_field(browser: Browser, demo_site: Path, width: int) -> None:
    """At any width each word of a label stands on one line, and a choice shows its longest answer whole."""
    with opened(browser, demo_site / COMPARE, width) as seen:
        for _ in range(3):
            form = _add(seen.page, THIN)
            form.locator("details").evaluate("fold => { fold.open = true; }")
        broken = seen.page.evaluate(BROKEN)
        assert broken == []
        short = seen.page.evaluate("""() => [...document.querySelectorAll('#compare-bids select')].filter(one =>
          one.clientWidth < 140).length""")
        assert short == 0
        assert seen.page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0


def test_open_questions_become_a_message(browser: Browser, demo_site: Path) -> None:
    """What a bid does not say stands as a message of whole questions, which the reader can change, copy, or hand to
    their own texts or mail; nothing is sent by the page."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        page = seen.page
        _add(page, GOOD)
        box = page.locator("[data-asks] textarea")
        questions = page.locator("table.rows:not(.items) tr[data-row]").evaluate_all(
            "rows => rows.map(row => [row.dataset.row, row.querySelector('th b').textContent])")
        text = box.input_value()
        still = [question for key, question in questions if key in {*UNTOLD, "rise", "besides"}]
        assert [line[2:] for line in text.splitlines() if line.startswith("- ")] == still
        box.fill("Please send me a date. $5 & more?")
        links = page.locator("[data-asks] [data-to]").evaluate_all("all => all.map(one => one.getAttribute('href'))")
        said = "Please%20send%20me%20a%20date.%20%245%20%26%20more%3F"
        assert links[0] == f"sms:?&body={said}"
        assert links[1].startswith(f"mailto:?body={said}&subject=Questions")
        assert (seen.outside, seen.errors) == ([], [])


def test_one_sum_is_said_once(browser: Browser, demo_site: Path) -> None:
    """A bid whose two ends are the same is said once, in the form and in the order."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        form = _add(seen.page, {**GOOD, "total": "41,000", "more": "yes"})
        assert form.locator(".worked").inner_text() == "It comes to $41,000, however many old points turn up."
        _add(seen.page, {**GOOD, "points": "28"})
        for text in seen.page.locator("#compare-bids .ordered li").all_inner_texts():
            ends = re.search(r"(\$[\d,]+) (?:to|and) (\$[\d,]+)", text)
            assert not ends or ends[1] != ends[2]


def test_a_bid_is_kept_over_a_reload_and_forgotten_by_the_button(browser: Browser, demo_site: Path) -> None:
    """What was typed stands again after a reload, on this phone alone; one button forgets it and leaves no line."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        page = seen.page
        unfold(page, "#compare-bids")
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
        unfold(page, "#compare-bids")
        page.locator("#compare-bids [data-forget]").click()
        assert page.locator("body").inner_text() == before
        assert [key for key, _ in page.evaluate("() => Object.entries(localStorage)") if key.startswith("bids")] == []
        page.reload()
        unfold(page, "#compare-bids")
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
            assert "leave the field blank" in said.inner_text()
            assert _lines(seen.page, "Bid A")["price"] == ASK


def test_what_a_reader_types_stays_words(browser: Browser, demo_site: Path) -> None:
    """Markup in a name is shown as it was typed and is never run, before and after a reload, on both sheets."""
    name = "<img src=x onerror=hit=1>"
    with opened(browser, demo_site / COMPARE, 390) as seen:
        _add(seen.page, {**GOOD, "name": name})
        for sheet in (COMPARE, PAY):
            seen.page.goto((demo_site / sheet).as_uri())
            if sheet == COMPARE:
                unfold(seen.page, "[data-row=price]")
                assert name[:24] in seen.page.locator("table.rows .bid th").first.inner_text()
                unfold(seen.page, "#compare-bids")
            assert name[:24] in seen.page.locator("main").inner_text()
            made = seen.page.evaluate("() => [document.querySelectorAll('main img[src=x]').length, window.hit]")
            assert made == [0, None]


def test_three_bids_by_keyboard_alone(browser: Browser, demo_site: Path) -> None:
    """Up to three bids are added, filled and taken out with keys alone, and focus is never lost."""
    with opened(browser, demo_site / COMPARE, 390) as seen:
        page = seen.page
        page.locator("#compare-own > summary").focus()
        page.keyboard.press("Enter")
        for i in range(3):
            page.locator("#compare-bids [data-add] a").focus()
            page.keyboard.press("Enter")
            assert page.evaluate("() => document.activeElement.dataset.field") == "name"
            page.keyboard.type(f"Bidder {'xyz'[i]}")
            for _ in range(3):
                page.keyboard.press("Tab")
            page.keyboard.type("20,000")
            while page.evaluate("() => document.activeElement.dataset.field") != "more":
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
        _add(seen.page, THIN).locator("details").evaluate("fold => { fold.open = true; }")
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
        still = {*UNTOLD, "rise", "besides"}
        assert [line[0] for line in asked] == [number_of(row) for row in ROWS if row in still]
        assert [line[1] for line in asked] == [questions[line[0] - 1] for line in asked]
        assert all(float(line[2].removesuffix("px")) > 20 for line in asked)
        assert seen.page.locator("#compare-bids fieldset").is_hidden()


def test_with_scripts_off_the_link_leads_to_the_questions(browser: Browser, demo_site: Path) -> None:
    """Without scripts there is no form that does nothing: the link goes to the questions for paper."""
    with opened(browser, demo_site / COMPARE, 390, java_script_enabled=False) as seen:
        assert seen.page.locator("#compare-bids :is(input, select, button)").count() == 0
        unfold(seen.page, "#compare-bids")
        seen.page.locator("#compare-bids [data-add] a").click()
        assert seen.page.url.endswith("#compare-ask")
        assert seen.page.locator("#compare-ask").is_visible()
