"""The agreement signed on a tablet with a pen, what comes out of it, and the same page without scripts and on paper."""

from __future__ import annotations

import hashlib
import io
import json
import re
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from unicodedata import normalize

import msgspec
import pytest
import rfc8785
from bs4 import BeautifulSoup
from playwright.sync_api import Browser, Locator, Page
from pypdf import PdfReader

from sitegen.figure import int_of
from sitegen.offer.signable import Signable
from sitegen.sheets.sheets import AGREEMENT
from tests.bench.depth import HEIGHT, WIDTH, as_opened
from tests.browser.seen import opened
from tests.built import House, built
from tests.helpers import JOB

TABLET = 820
MOST_SCREENS, MOST_PAGES = 5, 12
"""Screens of a phone as the page opens, and pages of Letter that one agreement takes with all that is signed."""

ONE = "fixed-guarantee"


@pytest.fixture(scope="module")
def alder() -> House:
    """The demo house of two owners."""
    return built(JOB)


def data_of(house: House) -> tuple[Signable, str]:
    """What the page holds for its script, and its SHA-512."""
    script = house.pages[AGREEMENT.file].select_one("#agreement-data")
    assert script
    data = script.get_text().encode()
    return msgspec.json.decode(data, type=Signable), hashlib.sha512(data).hexdigest()


def draw(page: Page, canvas: Locator) -> None:
    """Two strokes with the pointer."""
    canvas.scroll_into_view_if_needed()
    at = canvas.bounding_box()
    assert at
    for start in (.2, .6):
        page.mouse.move(at["x"] + at["width"] * start, at["y"] + at["height"] * .3)
        page.mouse.down()
        for step in range(1, 6):
            page.mouse.move(at["x"] + at["width"] * (start + .04 * step), at["y"] + at["height"] * (.3 + .08 * step))
        page.mouse.up()


def choose(page: Page, option: str = ONE) -> None:
    """Mark an option and say that people live there."""
    page.check(f"#agreement input[value={option}]")
    page.check("#agreement [data-lives] input[value=stays]")


def read_mark(page: Page, option: str = ONE) -> str:
    """The mark, read where it is printed: inside the chosen agreement."""
    page.locator(f"#agreement-of-{option} > summary").click()
    text = page.locator(f"#agreement-of-{option} .copy-mark").inner_text()
    found = re.search(r"\b[A-Z]{6}\b", text)
    assert found
    return found[0]


def tick_all(page: Page) -> None:
    """Tick every box and answer every question of the steps; what may wait is said to wait."""
    for box in page.locator("[data-steps] li input[type=checkbox]").all():
        box.check()
    for radio in page.locator("[data-steps] li label:last-child input[type=radio]").all():
        radio.check()


def sign(page: Page, names: int) -> None:
    """Draw for each of those who sign."""
    for at in range(names):
        draw(page, page.locator("[data-steps] .pad canvas").nth(at))


def saved(page: Page, selector: str, into: Path) -> bytes:
    """What a link of the page saves."""
    with page.expect_download() as waited:
        page.click(selector)
    waited.value.save_as(into)
    return into.read_bytes()


def signed(page: Page, option: str = ONE) -> None:
    """Everything from the choice to the end, as at a table."""
    choose(page, option)
    page.click("[data-way=screen]")
    page.fill("[data-consent]", read_mark(page, option).lower())
    tick_all(page)
    sign(page, 3)
    page.click("[data-steps] button[type=submit]")
    page.wait_for_selector("[data-signed].shown")


def test_all_owners_sign_on_a_tablet_and_the_record_is_what_they_saw(browser: Browser, alder: House,
                                                                    tmp_path: Path) -> None:
    """The record is canonical, of this offer, with the chosen part whole, the sum with extras, every statement with its
    time, and the strokes of each signature in whole numbers of the box."""
    data, offer = data_of(alder)
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        page.locator("#agreement-extras > summary").click()
        page.locator("#agreement-extras input").first.fill("2")
        signed(page)
        text = saved(page, "[data-save-record]", tmp_path / "record.json")
        copy = saved(page, "[data-save-copy]", tmp_path / "copy.html").decode()
        says = page.locator("[data-signed]").inner_text()
        with page.context.expect_page() as another:
            page.click("[data-open-copy]")
        assert another.value.locator("svg path").count() == len(data.signers) + 1
        assert (seen.errors, [url for url in seen.outside if not url.startswith("blob:")]) == ([], [])
    record: dict[str, Any] = json.loads(text)
    assert rfc8785.dumps(record) == text
    chosen, = [one for one in data.choices if one.option == ONE]
    assert record["choice"] == json.loads(msgspec.json.encode(chosen))
    extra = data.extras[0]
    assert record["extras"] == [{"count": 2, "key": extra.key}]
    assert record["total"] == chosen.price + 2 * extra.each == sum(due["cents"] for due in record["payments"])
    assert [due["cents"] for due in record["payments"]][:-1] == [due.cents for due in chosen.payments][:-1]
    assert {key: record[key] for key in ("format", "kind", "job", "version", "offer", "option", "lives", "way")} == {
        "format": 1, "kind": "agreement", "job": JOB, "version": 1, "offer": offer, "option": ONE, "lives": "lived-in",
        "way": "screen"}
    assert [(one["key"], one["says"]) for one in record["statements"]] == [
        (one.key, one.says) for one in data.statements]
    assert {one["state"] for one in record["statements"]} == {"done", "due-before-start"}
    assert all((one["at"] is None) == (one["state"] == "due-before-start") for one in record["statements"])
    assert [one["key"] for one in record["rises"]] == [rise.key for rise in chosen.rises]
    assert record["consent"]["mark"].isalpha()
    assert [(one["who"], one["name"]) for one in record["signatures"]] == [
        *(("owner", name) for name in data.signers), ("firm", data.salesperson.split(",")[0])]
    for one in record["signatures"]:
        assert (one["by"], len(one["strokes"])) == ("drawn", 2)
        assert all(0 <= x <= 1000 and 0 <= y <= 400 for stroke in one["strokes"] for x, y in stroke)
        assert all(isinstance(at, int) for stroke in one["strokes"] for point in stroke for at in point)
        assert datetime.fromisoformat(one["at"]).tzinfo
    assert record["cancel_by"] == _last_day(data, datetime.fromisoformat(record["signed_at"]).date()).isoformat()
    short = " ".join(re.findall("....", hashlib.sha256(text).hexdigest()[:16]))
    assert short in says
    _holds(copy, record, short)


def _last_day(data: Signable, day: date) -> date:
    left = data.cancel_days
    while left:
        day += timedelta(1)
        left -= day.weekday() != 6 and day not in data.holidays
    return day


def _holds(copy: str, record: dict[str, Any], short: str) -> None:
    """Fail unless the signed copy has no script and holds all that was signed."""
    page = BeautifulSoup(copy, "html.parser")
    assert not page.find_all(["script", "link", "img", "iframe"])
    assert not [tag for tag in page.find_all(True) if any(name.startswith("on") for name in tag.attrs)]
    text = "".join(page.get_text(" ").split())
    for line in (*record["choice"]["scope"], *record["statements"], *record["choice"]["rises"]):
        assert "".join(line["says"].split()) in text
    assert f"${record['total'] // 100:,}" in text
    assert short.replace(" ", "") in text
    assert len(page.select("svg path")) == len(record["signatures"])
    assert len(page.select(".notice")) == 2


@pytest.mark.parametrize(("day", "last", "not_counted"), [
    ("2026-11-24", "2026-11-28", ["2026-11-26"]), ("2026-11-25", "2026-11-30", ["2026-11-26", "2026-11-29"]),
    ("2026-12-24", "2026-12-29", ["2026-12-25", "2026-12-27"]),
    ("2026-12-31", "2027-01-05", ["2027-01-01", "2027-01-03"])])
def test_days_are_counted_on_the_screen_as_by_the_calendar(browser: Browser, alder: House, day: str, last: str,
                                                          not_counted: list[str]) -> None:
    """Dated counts of 16 CFR 429.0(f) worked by hand: Saturday counts, Sunday, Thanksgiving, Christmas and New Year do
    not; the page names both kinds of days."""
    with opened(browser, alder.folder / AGREEMENT.file, TABLET, once=True) as seen:
        seen.page.clock.set_fixed_time(f"{day}T15:00:00")
        seen.page.reload()
        signed(seen.page)
        says = seen.page.locator("[data-signed]").inner_text()
        assert seen.page.evaluate("new Date().getDate()") == int(day[-2:])
    def spoken(one: str) -> str:
        made = date.fromisoformat(one)
        return f"{made:%A, %b} {made.day}"
    made = date.fromisoformat(last)
    assert f"{made:%b} {made.day}, {made.year}" in says
    counts, _, others = says.partition("do not count:")
    assert spoken(last) in counts
    assert all(spoken(one) in others for one in not_counted)


def test_a_closed_tab_loses_nothing(browser: Browser, alder: House) -> None:
    """What was chosen, ticked and drawn is there after a reload, and so is the record once all have signed."""
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        choose(page)
        page.click("[data-way=screen]")
        page.fill("[data-consent]", read_mark(page))
        tick_all(page)
        sign(page, 1)
        before = page.evaluate("localStorage.getItem('agreement ' + document.querySelector('main').dataset.job)")
        page.reload()
        assert page.locator("[data-steps]").is_visible()
        assert page.is_checked(f"#agreement input[value={ONE}]")
        assert page.locator("[data-steps] li input:checked").count() > 4
        sign(page, 3)
        page.click("[data-steps] button[type=submit]")
        page.wait_for_selector("[data-signed].shown")
        page.reload()
        page.wait_for_selector("[data-signed].shown")
        assert json.loads(before)["names"][0]["strokes"]
        assert seen.errors == []


def test_nothing_is_made_while_something_is_open(browser: Browser, alder: House) -> None:
    """Without the mark, a tick or a signature there is no record, and the page names what is open."""
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        page.click("[data-way=screen]")
        assert page.locator("[data-first]").is_visible()
        assert not page.locator("[data-steps]").is_visible()
        choose(page)
        page.click("[data-way=screen]")
        page.fill("[data-consent]", "QQQQQQ")
        assert page.locator("[data-step=consent] .wrong").is_visible()
        tick_all(page)
        sign(page, 2)
        page.click("[data-steps] button[type=submit]")
        says = page.locator("[data-left]").inner_text()
        assert page.locator("[data-step=consent] legend").inner_text() in says
        assert alder.offer.firm.name.text in says
        assert not page.locator("[data-signed]").is_visible()


def test_another_choice_takes_signatures_back(browser: Browser, alder: House) -> None:
    """Who signed one agreement did not sign another: its ticks and strokes are gone, and names stay."""
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        choose(page)
        page.click("[data-way=screen]")
        page.fill("[data-consent]", read_mark(page))
        tick_all(page)
        sign(page, 3)
        page.check("#agreement input[value=per-item]")
        assert page.locator("[data-step=rises] input:checked").count() == 0
        page.click("[data-steps] button[type=submit]")
        assert page.locator("[data-left]").is_visible()
        assert not page.locator("[data-signed]").is_visible()


def test_a_name_may_be_typed_in_place_of_a_drawing(browser: Browser, alder: House, tmp_path: Path) -> None:
    """Who cannot draw types, and the record says so."""
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        choose(page)
        page.click("[data-way=screen]")
        page.fill("[data-consent]", read_mark(page))
        tick_all(page)
        sign(page, 3)
        page.locator(".pad .typed input").first.check()
        page.click("[data-steps] button[type=submit]")
        page.wait_for_selector("[data-signed].shown")
        record = json.loads(saved(page, "[data-save-record]", tmp_path / "record.json"))
    assert [(one["by"], bool(one["strokes"])) for one in record["signatures"]] == [
        ("typed", False), ("drawn", True), ("drawn", True)]


def test_it_starts_from_what_the_reader_marked(browser: Browser, alder: House) -> None:
    """An option marked on the reader's own page and extras marked room by room stand here with their sum."""
    data, _ = data_of(alder)
    extra, job = data.extras[0], "alder-lane-1"
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        assert page.locator("#agreement input:checked").count() == 0
        page.evaluate("([job, key]) => { localStorage.setItem('yours ' + job, JSON.stringify({ choice: 'per-item' }));"
                      "localStorage.setItem('extras ' + job, JSON.stringify({ [key]: 3, ['x--' + key]: 3 })); }",
                      [job, extra.key])
        page.reload()
        assert page.is_checked("#agreement input[value=per-item]")
        price, = [one.price for one in data.choices if one.option == "per-item"]
        assert f"${(price + 3 * extra.each) // 100:,}" in page.locator(".comes-to .all").inner_text()


def test_a_change_order_is_signed_from_the_record(browser: Browser, alder: House, tmp_path: Path) -> None:
    """A line at the price of the book and one in words of their own give a new total, on the last payment; the record
    of it is canonical and names the bytes of the one before, and a second change starts from the first."""
    data, _ = data_of(alder)
    point, = [one.each_point for one in alder.offer.outcome.options if one.key == "per-item"]
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        page = seen.page
        signed(page, "per-item")
        first = saved(page, "[data-save-record]", tmp_path / "record.json")
        page.reload()
        page.wait_for_selector("[data-signed].shown")
        for number in (1, 2):
            change(page, tmp_path / "record.json" if number == 1 else tmp_path / "change-1.json")
            text = saved(page, "[data-save-change]", tmp_path / f"change-{number}.json")
            record: dict[str, Any] = json.loads(text)
            before: dict[str, Any] = json.loads(first)
            assert rfc8785.dumps(record) == text
            assert (record["kind"], record["number"], record["job"]) == ("change", number, JOB)
            assert record["prior"] == hashlib.sha512(first).hexdigest()
            assert [(one["item"], one["count"], one["each"], one["cents"]) for one in record["what"]] == [
                ("added-point", 3, int_of(point), 3 * int_of(point)), ("other", 1, -10_050, -10_050)]
            assert record["cents"] == 3 * int_of(point) - 10_050
            assert record["total"] == before["total"] + record["cents"] == sum(
                one["cents"] for one in record["payments"])
            assert (record["added_days"], record["because"]) == (2, "The study was old.")
            assert len(record["signatures"]) == len(data.signers) + 1
            first = text
        assert seen.errors == []


def change(page: Page, prior: Path) -> None:
    """Fill in and sign a change order from a record, as a file that was saved."""
    page.evaluate("document.querySelector('#agreement-change').open = true")
    page.set_input_files("[data-prior]", prior)
    page.click("[data-more-lines]")
    lines = page.locator("[data-lines] fieldset")
    lines.nth(0).locator("select").select_option("added-point")
    lines.nth(0).locator("[data-count-of]").fill("3")
    lines.nth(1).locator("select").select_option("other")
    lines.nth(1).locator("[data-says]").fill("No outlet in the closet")
    lines.nth(1).locator("[data-count-of]").fill("1")
    lines.nth(1).locator("[data-each-of]").fill("-100.50")
    page.fill("[name=agreement-because]", "The study was old.")
    page.fill("[name=agreement-days]", "2")
    for canvas in page.locator("[data-order] canvas").all():
        draw(page, canvas)
    page.click("[data-order] button[type=submit]")
    page.wait_for_selector("[data-changed].shown")


@pytest.mark.parametrize("text", ['{"job":"another-lane","kind":"agreement","payments":[]}', "no record", "[]"])
def test_a_file_that_is_no_record_of_this_house_changes_nothing(browser: Browser, alder: House, tmp_path: Path,
                                                               text: str) -> None:
    """The page says so, and shows no form."""
    path = tmp_path / "record.json"
    path.write_text(text, "utf-8")
    with opened(browser, alder.folder / AGREEMENT.file, TABLET) as seen:
        seen.page.locator("#agreement-change > summary").click()
        seen.page.set_input_files("[data-prior]", path)
        seen.page.wait_for_selector("[data-not].shown")
        assert not seen.page.locator("[data-order]").is_visible()
        assert seen.errors == []


# --- without scripts, and on paper ------------------------------------------------------------------------


def test_every_agreement_is_whole_without_scripts(browser: Browser, house: House) -> None:
    """Each option's agreement opens by a tap and shows its price, scope, payments, terms and both notices."""
    data, _ = data_of(house)
    with opened(browser, house.folder / AGREEMENT.file, WIDTH, java_script_enabled=False) as seen:
        page = seen.page
        assert not page.locator("[data-way]").first.is_visible() if page.locator("[data-way]").count() else True
        for choice in data.choices:
            page.locator(f"#agreement-of-{choice.option} > summary").click()
            text = " ".join(page.locator(f"#agreement-of-{choice.option}").inner_text().split())
            for says in (*(line.says for line in choice.scope), *(due.says for due in choice.payments),
                         *(rise.says for rise in choice.rises)):
                assert " ".join(says.split()) in text, says
        whole = " ".join(page.locator("#agreement").inner_text().split())
        for line in data.terms:
            assert " ".join(line.split(": ", 1)[-1].split())[-60:] in whole, line
        page.locator("#agreement-notices > summary").click()
        assert page.locator(".notice").count() == 2
        assert page.locator(".notice").last.is_visible()


def test_it_opens_within_five_screens_of_a_phone(browser: Browser, house: House) -> None:
    """Its words are a contract and are not counted with those of the sheets; its screens are held like theirs."""
    with opened(browser, house.folder / AGREEMENT.file, WIDTH) as seen:
        seen.page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
        screens, _ = as_opened(seen.page, house.folder / AGREEMENT.file)
    assert screens <= MOST_SCREENS


def printed(browser: Browser, house: House, option: str) -> list[str]:
    """The text of each page of the agreement for one option."""
    with opened(browser, house.folder / AGREEMENT.file, 710) as seen:
        seen.page.check(f"#agreement input[value={option}]")
        pages = PdfReader(io.BytesIO(seen.page.pdf(format="Letter", prefer_css_page_size=True))).pages
        return [" ".join(normalize("NFKC", page.extract_text()).split()) for page in pages]


def test_the_agreement_for_one_option_is_one_paper(browser: Browser, house: House) -> None:
    """At most twelve pages with its signatures, initials, both notices and the form for a change; no other option's."""
    options = house.offer.outcome.options
    for option in options:
        pages = printed(browser, house, option.key)
        assert len(pages) <= MOST_PAGES, option.key
        whole = " ".join(pages)
        assert whole.count("I HEREBY CANCEL THIS TRANSACTION") == 2
        assert option.price.say() in whole
        assert not [other.name for other in options
                    if other is not option and f"The agreement for {other.name}" in whole]
        at = next(i for i, page in enumerate(pages) if "You, the buyer, may cancel" in page and "Printed name" in page)
        assert all(name.text in pages[at] for name in house.offer.agreement.signers)
        assert all(house.offer.head.address.text in page for page in pages)


SIZE = """() => [...document.querySelectorAll('#agreement .notice p, #agreement .statement')].map(one => {
  const style = getComputedStyle(one); return [parseFloat(style.fontSize) * .75, Number(style.fontWeight)]; })"""


def test_words_of_law_are_bold_and_ten_points_at_least_in_print(browser: Browser, alder: House) -> None:
    """16 CFR 429.1(a) and (b): bold face of ten points at least, the state's text at its own size."""
    with opened(browser, alder.folder / AGREEMENT.file, 710) as seen:
        seen.page.emulate_media(media="print")
        found = seen.page.evaluate(SIZE)
        large = seen.page.evaluate("() => [...document.querySelectorAll('#agreement .law.size-large')]"
                                   ".map(one => parseFloat(getComputedStyle(one).fontSize) * .75)")
    assert len(found) > 10
    assert all(size >= 10 and weight >= 700 for size, weight in found)
    assert min(large) >= max(duty.size for duty in alder.offer.agreement.state.duties)


@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_two_people_see_the_same_picture(browser: Browser, alder: House, scheme: str) -> None:
    """The page is light whatever the device likes, so that all sign what all saw."""
    with opened(browser, alder.folder / AGREEMENT.file, TABLET, color_scheme=scheme) as seen:
        ground = seen.page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(250, 247, 240)"


def test_the_price_of_moving_midway_is_printed_from_the_book(alder: House) -> None:
    """The one price and what the book asks for moving to it stand on the form for a change."""
    moving = alder.offer.agreement.moving
    one = alder.offer.outcome.one_price
    assert moving is not None
    assert one is not None
    assert int_of(moving) == int_of(one.price) + 180_000
    alder.place(AGREEMENT.file, "#agreement-change").holds(moving)
