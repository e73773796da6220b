"""A job that offers two options and one that offers four: sheets hold as many columns as there are options."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from sitegen.build import build
from sitegen.offer.rows import SECTIONS
from sitegen.workspace import Workspace
from tests.browser.seen import one_page
from tests.browser.test_access import OVER, OVERLAP, findings
from tests.browser.test_main_path import OVERLAPS
from tests.browser.test_sheets import SHEETS, UNFOLD
from tests.helpers import JOB, JOB_FILE, demo_copy, edit

NAMES = {2: ("Wiring only", "One price"), 4: ("Wiring only", "Per item", "Holes open", "One price")}
"""What the options of each job are called."""

ITEM, OPEN = "  item-2026:\n", "  # --- Wiring only"
"""Where the kit of one option begins in the demo's price book, and what comes after it."""


@dataclass(frozen=True)
class Offered:
    """A built job, and the names of its options."""

    folder: Path
    names: tuple[str, ...]


@pytest.fixture(scope="module", params=NAMES)
def offered(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Offered:
    """The first demo house with one option fewer, and with one more that is data alone: it leaves its holes open."""
    into = tmp_path_factory.mktemp("counts")
    home = demo_copy(into)
    if request.param == 2:
        edit(home / JOB_FILE, "  - option: per-item\n    kit: item-2026\n", "")
    else:
        edit(home / JOB_FILE, "    kit: item-2026\n",
             "    kit: item-2026\n  - option: holes-open\n    kit: open-2026\n")
        book = (home / "price-book.yaml").read_text("utf-8")
        kit = book[book.index(ITEM):book.index(OPEN)]
        for old, new in (("item-2026", "open-2026"), ("option: per-item", "option: holes-open\n    called: Holes open"),
                         ("list point: $595", "list point: $599"), ("later: [", "later: [plaster-finish, "),
                         ("closes holes: us", "closes holes: homeowner"), ("    finish: gypsum\n", ""),
                         ("{old wires dead: 60 of 100, holes closed: 15 of 100}", "{old wires dead: 75 of 100}"),
                         ("Each hole is closed with flat, troweled, bare plaster, and you paint.",
                          "Each hole stays open behind a cover plate until somebody plasters it.")):
            assert kit.count(old) == 1, old
            kit = kit.replace(old, new)
        (home / "price-book.yaml").write_text(book.replace(OPEN, kit + OPEN), "utf-8")
    return Offered(build(Workspace(home, into / "site"), home / JOB).folder, NAMES[request.param])


def test_each_table_has_a_column_for_each_option(browser: Browser, offered: Offered) -> None:
    """Each table of the comparison names the options over its columns, and each row answers for all of them."""
    with one_page(browser, 1180) as page:
        page.goto((offered.folder / "compare.html").as_uri())
        assert page.locator("table.rows").count() == 2 + len(SECTIONS)
        for table in page.locator("table.rows").all():
            assert tuple(table.locator("thead th").all_text_contents()[1:]) == offered.names
            spans = table.locator("tbody tr:not(.law)").evaluate_all(
                "all => all.map(row => [...row.querySelectorAll('td')].reduce((sum, cell) => sum + cell.colSpan, 0))")
            assert set(spans) == {len(offered.names)}


@pytest.mark.parametrize("width", [320, 390, 1180])
def test_every_sheet_has_room_for_them(browser: Browser, offered: Offered, width: int) -> None:
    """On a phone and at a desk, with folds closed and open, nothing is cut, reaches past the screen or overlaps."""
    with one_page(browser, width) as page:
        for sheet in SHEETS:
            page.goto((offered.folder / sheet).as_uri())
            for _ in range(2):
                assert (page.evaluate(OVER), page.evaluate(OVERLAP), page.evaluate(OVERLAPS)) == ([], [], []), sheet
                page.evaluate(UNFOLD)


def test_axe_finds_nothing_in_the_tables(browser: Browser, offered: Offered) -> None:
    """The comparison and the stepper hold for a reader of the screen, whatever the count of options."""
    with one_page(browser, 1180) as page:
        for sheet in ("compare.html", "what-you-could-pay.html"):
            page.goto((offered.folder / sheet).as_uri())
            assert findings(page, "")["wrong"] == []


def test_the_stepper_answers_for_each_and_our_price_for_holes_for_those_that_leave_them(
        browser: Browser, offered: Offered) -> None:
    """Each option has its row in the stepper; our price to close holes moves those alone that leave them open."""
    moved = [name for name in offered.names if name in ("Wiring only", "Holes open")]
    read = "all => all.map(row => [row.querySelector('th').textContent, row.querySelectorAll('data')[1].value])"
    with one_page(browser, 390) as page:
        page.goto((offered.folder / "what-you-could-pay.html").as_uri())
        page.locator("#pay-set > summary").click()
        rows = page.locator("[data-steps] [data-option]")
        before = rows.evaluate_all(read)
        assert tuple(name for name, _ in before) == offered.names
        page.locator("[data-closer=ours] input").check()
        assert [name for (name, was), (_, now) in zip(before, rows.evaluate_all(read), strict=True)
                if was != now] == moved
