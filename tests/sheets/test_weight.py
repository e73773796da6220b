"""What a site weighs, sheet by sheet, for each demo house; over its budget it fails.

    python -m pytest tests/sheets/test_weight.py -s        shows the table

Bytes are those of gzip at its best level, file by file, as a server would send them.
"""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

from sitegen.placing import MARK
from sitegen.sheets.cache import Cache
from sitegen.sheets.sheets import AGREEMENT, BESIDE, LISTED, PAPER
from sitegen.sheets.site import FEATURES, OWN_FEATURES, OWN_SCRIPTS, SHARED_SCRIPT, SHARED_STYLE, SiteWriter
from tests.built import House
from tests.helpers import DEMO, tree

FIRST_SHEET, SCRIPTS_IN_ALL = 14_000, 12_000
"""Bytes: the first sheet in one request, and all scripts together."""

LISTED_SHEETS, ONE_DETAIL, ALL_DETAILS, BESIDE_THEM = 120_000, 5_500, 60_000, 12_000
"""Bytes without photographs: the sheets of the list but the agreement, with the style and the script that all share,
which is what a reader asks for who opens every one of them; one detail, which is what a further tap asks for; all
details together; and the walk at the table with the reader's own page."""

AGREEMENT_PAGE, SIGNING, PRINT, HANDED_ON, SHARING = 20_000, 9_000, 13_000, 2_500, 2_000
"""Bytes of what is asked for by who means to sign, print or share: the agreement, which holds a whole contract for each
option and the data of all; the script that takes signatures; what decides as one print; the page to hand on; and the
script by which two owners share their marks."""

PHOTOGRAPHS = (".webp", ".jpg")
FONTS = (".woff", ".woff2", ".ttf", ".otf", ".eot")
ASKS = r"""(?:src|srcset|poster|data|action|formaction|ping|background)\s*=|url\((?!#)|@import|@font-face"""

CALLS = r"\bfetch\(|XMLHttpRequest|sendBeacon|WebSocket|EventSource|importScripts|\bimport\("


def gzipped(data: bytes) -> int:
    """The bytes of `data` under gzip."""
    return len(gzip.compress(data, 9, mtime=0))


def files(house: House) -> dict[str, bytes]:
    """Every file of a site but its photographs and the list of its files, which no reader asks for."""
    return {name: data for name, data in tree(house.folder).items() if not name.endswith(PHOTOGRAPHS) and name != MARK}


def all_scripts() -> bytes:
    """One script that holds every feature that sheets share once, as it stands where all sheets are one document."""
    return str(SiteWriter(DEMO, Cache()).script(FEATURES)).encode()


def own_scripts() -> dict[str, bytes]:
    """The scripts of single sheets, by file."""
    writer = SiteWriter(DEMO, Cache())
    return {file: str(writer.script(OWN_FEATURES[sheet])).encode() for sheet, file in OWN_SCRIPTS.items()}


def test_a_site_is_within_its_budget(house: House) -> None:
    """The first sheet, all scripts, the eight sheets with what they share, the details, and the pages beside them."""
    each = {name: gzipped(data) for name, data in files(house).items()}
    details = [size for name, size in each.items() if name.startswith("detail-")]
    beside = [each[sheet.file] for sheet in BESIDE if sheet.id != "summary"]
    apart = (AGREEMENT.file, OWN_SCRIPTS[AGREEMENT.id], PAPER.file, "summary.html", OWN_SCRIPTS["yours"])
    listed = sum(each.values()) - sum(details) - sum(beside) - sum(each[name] for name in apart)
    scripts = gzipped(all_scripts())
    print(f"\n{house.job}: bytes, gzip")
    for name, size in {**each, "all scripts, once": scripts, "the eight sheets and what they share": listed,
                       "all details": sum(details), "the pages beside": sum(beside),
                       "the whole site": sum(each.values())}.items():
        print(f"  {size:>8,}  {name}")
    assert each["index.html"] < FIRST_SHEET
    assert scripts < SCRIPTS_IN_ALL
    assert {place.partition("#")[0] for _, _, place in LISTED} < set(each)
    assert listed < LISTED_SHEETS
    assert max(details) < ONE_DETAIL
    assert sum(details) < ALL_DETAILS
    assert sum(beside) < BESIDE_THEM
    limits = zip(apart, (AGREEMENT_PAGE, SIGNING, PRINT, HANDED_ON, SHARING), strict=True)
    assert [name for name, most in limits if each[name] >= most] == []


def test_every_script_of_a_page_is_among_those_weighed(house: House) -> None:
    """No script stands on a page, or in the file that pages share, but the features that are weighed."""
    weighed = all_scripts().decode()
    for name, page in house.pages.items():
        for script in page.find_all("script"):
            if script.has_attr("src"):
                assert script["src"] in (SHARED_SCRIPT, *OWN_SCRIPTS.values()), name
                continue
            if script.get("type") == "application/json":
                continue
            for line in script.get_text().splitlines():
                assert line in weighed, (name, line)
    for line in files(house)[SHARED_SCRIPT].decode().splitlines():
        assert line in weighed, line
    for name, data in own_scripts().items():
        assert files(house)[name] == data
    assert {Path(name).suffix for name in files(house)} == {".html", ".css", ".js"}


def test_the_first_sheet_is_one_request(house: House) -> None:
    """The first sheet carries all that it needs to be read: no style sheet, picture, script or frame of its own."""
    first = house.pages["index.html"]
    assert [tag for tag in first.find_all("link") if tag.get("href") != "data:,"] == []
    assert first.find_all(["img", "iframe", "object", "embed", "video", "audio", "source"]) == []
    assert len(first.find_all("style")) == 1
    assert re.findall(ASKS, (house.folder / "index.html").read_text("utf-8")) == []


def test_another_sheet_asks_for_what_is_shared_alone(house: House) -> None:
    """Every sheet but the first asks for the style and the script that all share, and for one of its own at most."""
    for name, page in house.pages.items():
        own = [OWN_SCRIPTS[sheet] for sheet in OWN_SCRIPTS if name == f"{sheet}.html"]
        asked = [] if name == "index.html" else [SHARED_SCRIPT, *own]
        assert [script["src"] for script in page.select("script[src]")] == asked, name
        if name != "index.html":
            assert [tag["href"] for tag in page.find_all("link") if tag["href"] != "data:,"] == [SHARED_STYLE], name


def test_nothing_is_asked_of_another_host_and_no_font_is_sent(house: House) -> None:
    """No file asks for anything by a whole address, and no font file or font face is there."""
    for name, data in files(house).items():
        text = data.decode()
        assert not name.endswith(FONTS), name
        assert "@font-face" not in text, name
        assert re.findall(rf"(?:{ASKS}|href=)\s*[\"']?(?:[a-z]+:)?//", text) == [], name
        assert not re.search(CALLS, text), name


@pytest.mark.parametrize("text", ['<img src="https://a.example/x.png">', "url(//a.example/x.woff)", '<a href="//b">',
                                  '@import "https://a.example/x.css"'])
def test_what_asks_another_host_would_be_seen(text: str) -> None:
    """The pattern of the test above finds each way of asking elsewhere."""
    assert re.search(rf"(?:{ASKS}|href=)\s*[\"']?(?:[a-z]+:)?//", text)
