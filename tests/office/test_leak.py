"""Nothing of what only the office reads is in a built site: no figure, no number of the cost book, no page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
import yaml

from sitegen.figure import Figure
from sitegen.office.page import PAGE, page
from sitegen.office.run import view
from sitegen.office.say import said
from sitegen.workspace import Workspace
from tests.built import HOUSES, built, offer
from tests.helpers import DEMO, JOB, ROOT, tree

TELLING, BARE = 4, 5
"""A decimal of fewer digits, or a bare whole number of fewer, stands anywhere by chance, as a year does: those are
looked for with their dollar sign or their unit alone."""

WORDS = ("cost book", "cost-book", "in_the_office", "PRIVATE", "abor an hour", "abour an hour", "crew hours",
         "Margin, middle", "Crew-days")
"""Words of the private side alone."""


def dollars(cents: int) -> set[str]:
    """An amount as a page or a script could hold it: to the cent, in whole dollars, and as bare cents."""
    whole, rest = divmod(abs(cents), 100)
    exact = {f"{sign}{one}.{rest:02}" for sign in ("", "$") for one in (f"{whole:,}", whole)} if rest else set()
    near = (abs(cents) + 50) // 100
    return exact | {str(abs(cents))} | {f"{sign}{one}" for sign in ("", "$")
                                        for one in (f"{near:,}", near, f"{whole:,}", whole)}


def numbers(value: Fraction) -> set[str]:
    """A measure as a fraction and as a decimal, exact and to one, two and three places; by itself and as hours."""
    forms = {f"{float(value):g}", *(f"{float(value):.{places}f}" for places in (1, 2, 3))}
    if value.denominator > 1:
        forms.add(f"{value.numerator}/{value.denominator}")
    return forms | {f"{form} {word}" for form in forms for word in ("crew hours", "hours of one person", "crew-days")}


def spelled(figure: Figure) -> set[str]:
    """A private figure as it could be spelled."""
    value = figure.value
    if figure.unit.startswith("cents"):
        assert isinstance(value, int)
        return dollars(value)
    if isinstance(value, float):
        return {repr(value), said(figure)} if value else set()
    return numbers(value) if isinstance(value, Fraction) else set()


def parts(thing: Any) -> Iterator[Any]:
    """Everything within tuples."""
    if isinstance(thing, tuple):
        for one in thing:
            yield from parts(one)
    else:
        yield thing


@cache
def private(job: str) -> dict[str, Figure]:
    """Every private figure of a house, of its offer and of the office's view."""
    found = view(Workspace(DEMO, ROOT / "site"), DEMO / job)
    tables = [part for table in found.tables for part in parts((table.heads, table.rows, table.notes))]
    return {one.name: one for one in (*offer(job).figures(), *tables) if isinstance(one, Figure) and one.private}


@cache
def public(job: str) -> frozenset[str]:
    """Every spelling of a figure that may be read: a private number that is the same as one gives nothing away."""
    found = set[str]()
    for one in offer(job).figures():
        if not one.private:
            if one.unit.startswith("cents") and isinstance(one.value, int):
                hundreds = (one.value + 5_000) // 10_000 * 10_000
                found |= dollars(one.value) | dollars(hundreds)
            elif isinstance(one.value, Fraction):
                found |= numbers(one.value)
            found.add(one.raw())
    return frozenset(found)


def written() -> set[str]:
    """Every number of the cost book as it could be spelled."""
    text = (DEMO / "cost-book.yaml").read_text("utf-8")
    found = set[str]()

    def walk(key: str, thing: Any) -> None:
        if isinstance(thing, dict):
            for name, inner in thing.items():
                walk(name, inner)
        elif str(thing).startswith("$"):
            found.update(dollars(int(Decimal(thing[1:].replace(",", "")) * 100)))
        elif key in ("hours", "after plaster"):
            found.update(numbers(Fraction(thing)))
    walk("", yaml.load(text, Loader=yaml.BaseLoader))
    return found


def telling(form: str) -> bool:
    """Whether a number would be known again: by its sign or unit, or since it is long enough."""
    digits = sum(one.isdigit() for one in form)
    return bool(re.search(r"\$[1-9]|[a-z]", form)) or digits >= (BARE if form.isdigit() else TELLING)


@cache
def read(job: str) -> dict[str, str]:
    """What of each file a reader or a program reads: text, attributes and scripts, without the shapes of drawings."""
    found = {}
    for name, sheet in built(job).pages.items():
        shapes = {id(tag) for svg in sheet.find_all("svg") for tag in (svg, *svg.find_all(True))}
        attributes = [str(value) for tag in sheet.find_all(True) if id(tag) not in shapes
                      for value in tag.attrs.values()]
        texts = [str(text) for text in sheet.find_all(string=True) if text.parent and text.parent.name != "style"]
        found[name] = "\n".join((*texts, *attributes))
    scripts = {path.name: path.read_text("utf-8") for path in built(job).folder.rglob("*.js")}
    assert "index.html" in found
    return found | scripts


def standing(job: str, forms: set[str]) -> set[tuple[str, str]]:
    """Where in a site any of these stands as a whole number, by file, unless a public figure is the same."""
    whole = whole_number(forms - public(job))
    return {(name, found) for name, text in read(job).items() for found in whole.findall(text)}


def whole_number(forms: set[str]) -> re.Pattern[str]:
    """Any of these that is telling, where it is no part of a longer number."""
    wanted = sorted((form for form in forms if telling(form)), key=len, reverse=True)
    return re.compile(rf"(?<![\d.,])(?:{'|'.join(map(re.escape, wanted))})(?!\d|[.,]\d)")


def test_what_is_looked_for() -> None:
    """An amount to the cent, in dollars and in bare cents, hours as they are written; no year and no short number."""
    def those(forms: set[str]) -> set[str]:
        return {form for form in forms if telling(form)}
    assert those(dollars(71_37)) == {"71.37", "$71.37", "$71"}
    assert {"33,158.25", "$33158.25", "$33,158", "33,158", "33158", "3315825"} <= those(dollars(33_158_25))
    assert {"159/4", "39.75", "39.8 crew hours"} <= those(numbers(Fraction(159, 4)))
    assert {"71.37", "$1,150", "5/4 crew hours", "14 crew hours"} <= those(written())
    assert those({"2023", "$0", "9.5", "1/4"}) == set()


def test_what_a_page_says_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """The search sees a public price once it is taken for a private one, in text, and no part of a longer number."""
    monkeypatch.setitem(globals(), "public", lambda job: frozenset())
    price = offer(JOB).outcome.options[0].price
    assert ("index.html", price.say()) in standing(JOB, {price.say()})
    assert ("index.html", price.raw()) in standing(JOB, {price.raw()})
    assert ("index.html", price.raw()[:-1]) not in standing(JOB, {price.raw()[:-1]})


def test_the_same_search_finds_every_private_amount_on_the_offices_own_page() -> None:
    """What is looked for in a site is what would stand there."""
    html = page(DEMO, view(Workspace(DEMO, ROOT / "site"), DEMO / JOB))
    amounts = [one for one in private(JOB).values() if one.unit == "cents" and one.value]
    assert len(amounts) > 100
    assert [one.name for one in amounts if not whole_number(spelled(one)).search(html)] == []


@pytest.mark.parametrize("job", HOUSES)
def test_no_private_figure_is_in_a_site(job: str) -> None:
    """Not by its value in any spelling, nor by its name, nor by the sentence that says how it came about."""
    found = private(job)
    assert {"costs", "office"} <= {name.split(".")[0] for name in found}
    assert standing(job, {form for one in found.values() for form in spelled(one)}) == set()
    names = {one.name for one in found.values()} | {one.method for one in found.values() if len(one.method) > 20}
    for file, data in tree(built(job).folder).items():
        assert [name for name in names if name.encode() in data] == [], file


@pytest.mark.parametrize("job", HOUSES)
def test_no_number_of_the_cost_book_is_in_a_site(job: str) -> None:
    """Amounts, and hours with their unit."""
    assert standing(job, written()) == set()


@pytest.mark.parametrize("job", HOUSES)
def test_no_word_of_the_offices_is_in_a_site_and_no_page_of_it(job: str) -> None:
    """Neither the words of the private side nor a file of its name."""
    site = tree(built(job).folder)
    assert [name for name in site if PAGE in name or "cost" in name] == []
    assert {(name, word) for name, data in site.items() for word in WORDS
            if word.encode() in data} == set()
