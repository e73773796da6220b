"""A private figure is said by the office alone: its own words, and the refusal of everything that makes sheets."""

from __future__ import annotations

import ast
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from jinja2 import TemplateError

from sitegen.errors import FigureError, SitegenError
from sitegen.figure import Figure, Quote, Source
from sitegen.office.page import TEMPLATE, environment, in_the_office, page
from sitegen.office.run import view
from sitegen.office.say import said
from sitegen.sheets.cache import Cache
from sitegen.sheets.site import SiteWriter
from sitegen.units import Value
from sitegen.workspace import Workspace
from tests.helpers import DEMO, JOB, ROOT

SEEN = Source("company", "cost book")
SHEETS = SiteWriter(DEMO, Cache()).env
"""The environment that every sheet of the demo is made by."""


def private(value: Value, unit: str) -> Figure:
    """A figure for the company's eyes."""
    return Figure("costs.thing", value, unit, "Worked out.", SEEN, private=True)


@pytest.mark.parametrize(("value", "unit", "says"), [
    (952_17, "cents", "$952.17"), (99_999, "cents", "$999.99"), (1_000_49, "cents", "$1,000"),
    (1_000_50, "cents", "$1,001"), (-1_458_52, "cents", "-$1,459"), (-427_70, "cents", "-$427.70"), (0, "cents", "$0"),
    (Fraction(159, 4), "crew hours", "39.8"), (Fraction(8), "crew hours", "8.0"), (Fraction(1, 12), "quantity", "0.1"),
    (Fraction(12, 100), "share", "12%"), (3, "number", "3"), (date(2026, 12, 18), "date, this year", "Dec 18, 2026"),
    (0.0, "chance", "0 of 100"), (0.0004, "chance", "under 0.1 of 100"), (0.0012, "chance", "0.1 of 100"),
    (0.1, "chance", "10 of 100"), (0.237, "chance", "23.7 of 100"), (1.0, "chance", "100 of 100")])
def test_how_the_office_reads_a_value(value: Value, unit: str, says: str) -> None:
    """Dollars whole from a thousand, hours to a tenth, a chance of a hundred, days with their year."""
    assert said(private(value, unit)) == says


def test_words_with_a_digit_are_refused_and_those_of_people_are_not() -> None:
    """Numbers are Figures here too."""
    assert said("Price today") == "Price today"
    assert said(Quote("2 rooms", SEEN)) == "2 rooms"
    with pytest.raises(FigureError, match=r"^`2 rooms` has a digit in it: numbers are Figures$"):
        said("2 rooms")


def test_what_people_wrote_is_escaped_on_the_page() -> None:
    """No word of a file becomes markup."""
    assert in_the_office(Quote("<b>&", SEEN)) == "&lt;b&gt;&amp;"
    assert in_the_office(private(952_17, "cents")) == '<data value="95217" data-figure="costs.thing">$952.17</data>'


@pytest.mark.parametrize("text", ["{{ value|say }}", "{{ value|exactly }}", "{{ value }}", "{{ value|key_mark }}",
                                  "{{ words('sheets.x', value=value) }}", "{{ value|in_the_office }}"])
def test_the_environment_of_the_sheets_refuses_a_private_figure(text: str) -> None:
    """By every way that it has to print a figure, and it does not know the office's."""
    with pytest.raises((SitegenError, TemplateError)):
        SHEETS.from_string(text).render(value=private(952_17, "cents"))


def test_the_environment_of_the_sheets_cannot_make_the_offices_page() -> None:
    """Even with all that the page is made of: the template is there, the way to say a private figure is not."""
    office = view(Workspace(DEMO, ROOT / "site"), DEMO / JOB)
    assert "in_the_office" in environment(DEMO).filters
    assert "PRIVATE" in page(DEMO, office)          # which also leaves the compiled template in the shared cache
    with pytest.raises(TemplateError, match="in_the_office"):
        SHEETS.get_template(TEMPLATE).render(office=office, css="")


def test_only_the_office_knows_how_a_private_figure_is_said() -> None:
    """No module outside the office but the command line imports anything of it, and that imports what runs it alone."""
    found = {}
    for path in sorted((ROOT / "sitegen").rglob("*.py")):
        if path.is_relative_to(ROOT / "sitegen" / "office"):
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else \
                [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            found.update({(path.name, name): None for name in names if name.startswith("sitegen.office")})
    assert list(found) == [("cli.py", "sitegen.office.run")]
    assert Path(TEMPLATE).parts[0] == "office"
