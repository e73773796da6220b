"""The ten questions, answered where a reader looks first: one or two taps from a page, then within two screens.

What each answer says is held by `tests/sheets/test_ten_questions.py`; this holds where it is met on a phone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import pytest
from playwright.sync_api import Browser

from sitegen.offer.rows import number_of
from tests.browser.seen import one_page
from tests.built import House

SCREEN = 844
"""Height of the phone [px]."""

LIST = ("#compare-all > summary",)


class Way(NamedTuple):
    """Where a reader starts, what they tap one after the other, and what has to be met there."""

    page: str
    taps: Sequence[str]
    answer: str


def _row(key: str) -> Way:
    number = number_of(key)
    return Way("compare.html", (*LIST, f'#compare-questions a[href$="#compare-row-{number}"]'),
               f"#compare-row-{number} td >> nth=-1")


WAYS = {
    "1 the most that I could pay": Way("index.html", ('.next a[href$="#pay"]',), ".money li >> nth=-1"),
    "2 what can raise the price": _row("rise"),
    "3 the least that I could do": Way("index.html", ('a[href="report.html#report-four"]',), ".four dt >> nth=0"),
    "4 what stays in my walls": _row("live"),
    "5 when it is dead and done": Way("index.html", ('.next a[href$="#report-letter"]',), ".days tr >> nth=-1"),
    "6 who paints, and when": _row("dates"),
    "7 at which number it turns": Way("index.html", ('.next a[href$="#pay"]',), ".evens >> nth=0"),
    "8 a count, or whose opinion": Way("report.html", (".head summary", '.head a[href$="#pay-from"]'),
                                       "#pay-from-judgement"),
    "9 how I can cancel": Way("index.html", ("#start-how > summary",), "#start-how p >> nth=-1"),
    "10 what of a bid that is silent": Way("index.html", ('.next a[href$="#compare-bids"]',), ".bids [data-add] a"),
}


@pytest.mark.parametrize("question", WAYS)
def test_an_answer_is_met_within_two_screens(browser: Browser, house: House, question: str) -> None:
    """Each tap hits a thing that is seen; after the last one the whole answer stands within two screens."""
    way = WAYS[question]
    with one_page(browser) as page:
        page.goto((house.folder / way.page).as_uri())
        for tap in way.taps:
            page.locator(tap).first.click()
        answer = page.locator(way.answer)
        answer.wait_for(state="visible")
        box = answer.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] > 0
        assert box["y"] + box["height"] <= 2 * SCREEN
