"""The proposal on paper: at most eight pages that decide, each with the address and the version, nothing torn."""

from __future__ import annotations

import io
import re

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from sitegen.offer.rows import rows
from tests.browser.seen import opened
from tests.built import House

MOST = 8
"""Pages of Letter paper."""

CAN_PRINT = """() => {
  const torn = [], main = document.querySelector('#paper');
  for (const one of main.querySelectorAll('tbody, tr, .short div'))
    if (getComputedStyle(one).breakInside !== 'avoid' && one.closest('.asked') && one.matches('tbody'))
      torn.push(one.textContent);
  for (const one of main.querySelectorAll('h2'))
    if (getComputedStyle(one).breakAfter !== 'avoid') torn.push(one.textContent);
  return torn;
}"""
"""Questions that may be torn from their answers, and headings from what follows."""

SIZES = """() => [...document.querySelectorAll('#paper *')].filter(one => !one.closest('svg, .vh')
  && [...one.childNodes].some(node => node.nodeType === 3 && node.textContent.trim()))
  .map(one => parseFloat(getComputedStyle(one).fontSize) * .75)"""
"""The size of all that is read [points]."""


def printed(browser: Browser, house: House) -> list[str]:
    """The text of each page, its spaces evened out."""
    with opened(browser, house.folder / "paper.html", 710) as seen:
        pages = PdfReader(io.BytesIO(seen.page.pdf(format="Letter", prefer_css_page_size=True))).pages
        return [" ".join(page.extract_text().split()) for page in pages]


def test_what_decides_takes_at_most_eight_pages_each_with_its_address_and_version(browser: Browser,
                                                                                 house: House) -> None:
    """Each page has the address, the version and its number of all; the last one ends the document."""
    pages = printed(browser, house)
    assert len(pages) <= MOST
    offer = house.offer
    for at, text in enumerate(pages, 1):
        assert f"{at} / {len(pages)}" in text
        assert offer.head.address.text in text
        assert re.search(rf"Version\W+{offer.head.version.say()}\b", text), text
        assert offer.dates.prepared.say() in text.replace(" ", " ")


def test_no_heading_stands_last_on_a_page_and_no_question_without_its_answer(browser: Browser, house: House) -> None:
    """Headings keep with their text and rows with their question, by rule and on the printed pages."""
    with opened(browser, house.folder / "paper.html", 710) as seen:
        seen.page.emulate_media(media="print")
        assert seen.page.evaluate(CAN_PRINT) == []
    headings = [tag.get_text(" ", strip=True) for tag in house.pages["paper.html"].select("main h2")]
    for text in printed(browser, house):
        body = re.split(r"\bJob\b", text)[0].rstrip()
        assert not [heading for heading in headings if body.endswith(heading)], text


def test_every_question_and_every_option_is_on_the_paper(browser: Browser, house: House) -> None:
    """All rows of the comparison stand with their answers, and once more with a place for another bid's."""
    page = house.pages["paper.html"]
    asked = len(rows(house.offer))
    assert len(page.select(".asked tbody")) == asked
    assert len(page.select(".bid tbody tr")) == asked + 3
    whole = " ".join(printed(browser, house))
    assert [option.name for option in house.offer.outcome.options if option.name not in whole] == []


def test_paper_is_read_without_a_glass(browser: Browser, house: House) -> None:
    """Nothing is under nine points, and what is no note, number or heading of a column is eleven."""
    with opened(browser, house.folder / "paper.html", 710) as seen:
        seen.page.emulate_media(media="print")
        sizes = seen.page.evaluate(SIZES)
    assert min(sizes) >= 9 - .01
    assert sum(size >= 11 - .01 for size in sizes) > len(sizes) / 2


@pytest.mark.parametrize("word", ["tap", "click", "button", "scroll"])
def test_no_word_is_true_on_a_screen_alone(house: House, word: str) -> None:
    """Paper says nothing of what only a screen does."""
    text = house.pages["paper.html"].select_one("main")
    assert text
    assert not re.search(rf"\b{word}s?\b", text.get_text(" "), re.IGNORECASE)
