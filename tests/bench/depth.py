"""How much stands open on a phone: screens of 844 px and words of each sheet at 390 px, with every fold closed.

    python -m tests.bench.depth site/alder-lane [sheet.html ...]
"""

from __future__ import annotations

import sys
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

WIDTH, HEIGHT = 390, 844
SHEETS = ("index.html", "report.html", "compare.html", "what-you-could-pay.html", "living.html", "rooms.html",
          "who.html")
MOST_FIRST, MOST_OTHER, MOST_SCREENS, MOST_WORDS = 4.0, 5.0, 32.0, 5000
"""Screens of the first sheet, of each other and of all together, and words of all."""

MEASURED = """() => [document.documentElement.scrollHeight,
  document.body.innerText.split(/\\s+/).filter(word => /[\\p{L}\\p{N}]/u.test(word)).length]"""
"""What is read: innerText leaves out what a closed fold holds, and what only a screen reader is told stays in."""


def as_opened(page: Page, file: Path) -> tuple[float, int]:
    """Screens and words of one sheet as it opens."""
    page.goto(file.as_uri())
    height, words = page.evaluate(MEASURED)
    return height / HEIGHT, words


def measured(browser: Browser, site: Path, sheets: tuple[str, ...] = SHEETS) -> dict[str, tuple[float, int]]:
    """Screens and words of each sheet of a site."""
    context = browser.new_context(viewport={"width": WIDTH, "height": HEIGHT})
    page = context.new_page()
    found = {name: as_opened(page, (site / name).resolve()) for name in sheets}
    context.close()
    return found


def main() -> None:
    """Print a line a sheet, and the sum."""
    site, sheets = Path(sys.argv[1]), tuple(sys.argv[2:]) or SHEETS
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium")
        found = measured(browser, site, sheets)
    for name, (screens, words) in found.items():
        print(f"{name:28} {screens:5.1f} screens {words:6} words")
    screens, words = sum(one for one, _ in found.values()), sum(one for _, one in found.values())
    print(f"{'together':28} {screens:5.1f} screens {words:6} words")


if __name__ == "__main__":
    main()
