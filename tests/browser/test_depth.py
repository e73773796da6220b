"""What stands open on a phone: few screens and few words, with everything else in folds that open when asked for.

The limits are ours: readers of the first houses met 100 screens and 14,400 words a house, and were worn out.
"""

from __future__ import annotations

from playwright.sync_api import Browser

from tests.bench.depth import MOST_FIRST, MOST_OTHER, MOST_SCREENS, MOST_WORDS, measured
from tests.built import House

FIRST = "index.html"


def test_a_house_is_read_in_few_screens_and_words(browser: Browser, house: House) -> None:
    """At 390 x 844 the first sheet opens within 4 screens, each other within 5, all within 32 and 5,000 words."""
    found = measured(browser, house.folder)
    too_long = {name: round(screens, 1) for name, (screens, _) in found.items()
                if screens > (MOST_FIRST if name == FIRST else MOST_OTHER)}
    assert too_long == {}
    assert sum(screens for screens, _ in found.values()) <= MOST_SCREENS
    assert sum(words for _, words in found.values()) <= MOST_WORDS
