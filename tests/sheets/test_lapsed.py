"""A page that is opened after its prices lapsed can say so; an invented house never does."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.sheets.site import FEATURES, SHARED_SCRIPT
from tests.built import House
from tests.golden import made
from tests.golden.made import writer
from tests.sheets.test_weight import FIRST_SHEET

WITH_PRICES = ("index.html", "compare.html", "what-you-could-pay.html", "living.html", "rooms.html")


@pytest.fixture(scope="module")
def real(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The pages of a made job that is no demo."""
    case = next(case for case in made.cases() if case.sets["job.yaml"].get("demo") == "no")
    return made.pages_of(case, tmp_path_factory.mktemp("real"))


def test_sheets_with_prices_have_the_words_and_the_script(real: dict[str, str]) -> None:
    """On each sheet with prices the words lie ready, with the last day as a figure; no other page has them.  The script
    is in the first sheet itself, and in the file that every other one asks for."""
    for name, html in real.items():
        lines = BeautifulSoup(html, "html.parser").select("main template[data-lapsed]")
        assert len(lines) == (name in WITH_PRICES), name
        assert ("mounts.lapsed" in html) == (name == "index.html"), name
        assert (f'<script src="{SHARED_SCRIPT}" async>' in html) == (name != "index.html"), name
        for line in lines:
            (day,) = line.select("data")
            assert (day["value"], day.decode_contents()) == ("2026-12-11", "Dec 11, 2026")
    assert "mounts.lapsed" in str(writer().script(FEATURES))


def test_the_day_stands_with_its_year_without_any_script(real: dict[str, str]) -> None:
    """Under the title of sheet 1 and in the title block of every sheet, on paper too, the last day has its year."""
    for name, html in real.items():
        page = BeautifulSoup(html, "html.parser")
        assert "Dec 11, 2026" in page.select_one("footer.block").get_text(), name     # type: ignore[union-attr]
    first = BeautifulSoup(real["index.html"], "html.parser").main
    assert first
    assert "Its prices are good through Dec 11, 2026." in first.get_text()


def test_the_first_sheet_of_a_real_job_is_within_its_budget(real: dict[str, str]) -> None:
    """The line costs a demo house nothing and a real one little."""
    assert len(gzip.compress(real["index.html"].encode(), 9, mtime=0)) < FIRST_SHEET


def test_an_invented_house_never_shows_as_lapsed(house: House) -> None:
    """Its prices are nobody's, and it may be looked at for years."""
    assert [path.name for path in Path(house.folder).glob("*.html") if "data-lapsed>" in path.read_text("utf-8")] == []
