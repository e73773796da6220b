"""A page says that its prices have lapsed from the day after their last one, by the clock of its reader."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.built import House
from tests.golden import made

SAID = "These prices held until Dec 11, 2026. That day is over, so please ask us for new ones before you decide."


@pytest.fixture(scope="module")
def real(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a made job that is no demo."""
    case = next(case for case in made.cases() if case.sets["job.yaml"].get("demo") == "no")
    into = tmp_path_factory.mktemp("real")
    made.pages_of(case, into)
    return into / f"{case.name}-site"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page of a reader whose day is set."""
    opened = browser.new_page()
    yield opened
    opened.close()


def lines(page: Page, sheet: Path, now: datetime) -> list[str]:
    """What stands on a sheet of lapsed prices when it is opened at this time of the reader."""
    page.clock.set_fixed_time(now)
    page.goto(sheet.as_uri())
    return page.locator("main .lapsed").all_inner_texts()


@pytest.mark.parametrize("sheet", ["index.html", "what-you-could-pay.html"])
def test_the_line_stands_from_the_day_after(page: Page, real: Path, sheet: str) -> None:
    """On the last day itself nothing is said, a minute after its midnight the line stands, and for years after."""
    assert lines(page, real / sheet, datetime(2026, 12, 11, 23, 59)) == []
    assert lines(page, real / sheet, datetime(2026, 12, 12, 0, 1)) == [SAID]
    assert lines(page, real / sheet, datetime(2028, 3, 1, 12, 0)) == [SAID]
    assert page.locator("main h1 + .lapsed").count() == 1


def test_a_demo_house_says_nothing_years_after(page: Page, house: House) -> None:
    """An invented house is looked at long after its day, and no line stands there."""
    assert lines(page, house.folder / "index.html", datetime(2030, 1, 1, 12, 0)) == []
