"""The sheet contract, held over the built demo site and over the templates and words that it is made from."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup, Comment, Doctype, NavigableString, Stylesheet, Tag
from jinja2 import Environment, UndefinedError, nodes
from msgspec import Struct

from sitegen.errors import BuildError, FigureError
from sitegen.figure import KINDS, Figure, Quote, Source
from sitegen.job.parts import ROWS
from sitegen.offer.claims import MOST, told
from sitegen.offer.deciding import deciding
from sitegen.offer.rows import SECTIONS
from sitegen.offer.rows import rows as comparison
from sitegen.offer.scope import OUT
from sitegen.scope.items import ITEMS
from sitegen.sheets.cache import Cache
from sitegen.sheets.sheets import LISTED, SHEETS
from sitegen.sheets.site import OWN_SCRIPTS, SHARED_SCRIPT
from sitegen.sheets.theme import anchor, environment
from sitegen.sheets.words import EXPLAINED, Words, say
from tests.built import House, Place, built
from tests.helpers import DEMO, JOB, ROOT, figures_of

MADE_IN_SHEETS = ("details.", "sheets.", "rows.count", "ladder.", "walk.")
"""Figures that are no part of an Offer: numbers of sheets and stops, how many rows there are, ticks of a scale."""

THEME = sorted((ROOT / "theme").rglob("*.html"))
CONTENT = sorted((ROOT / "content").rglob("*.md"))
SEEN = Source("survey", "line 4")


class Site:
    """The built demo: its pages parsed, its figures, and the words of people on it."""

    def __init__(self) -> None:
        house = built(JOB)
        self.folder, self.pages, self.offer = house.folder, house.pages, house.offer
        self.figures = {figure["name"]: figure for figure in figures_of(DEMO)}

    def tags(self) -> Iterator[tuple[str, Tag]]:
        """Every tag of every page."""
        for name, page in self.pages.items():
            for tag in page.find_all(True):
                yield name, tag

    def said(self) -> list[str]:
        """The words of people and the sections of rules that have a digit in them, longest first."""
        found = {said.text.strip().rstrip(".") for said in _said(self.offer)}
        found |= {figure.source.text.split(",")[0] for figure in self.offer.figures() if figure.source.kind == "rule"}
        return sorted((text for text in found if re.search(r"\d", text)), key=len, reverse=True)

    @property
    def rows(self) -> list[Tag]:
        """The rows of the comparison."""
        return self.pages["compare.html"].select("tr[id^=compare-row-]")


def _said(thing: Any) -> Iterator[Quote]:
    if isinstance(thing, Quote):
        yield thing
    elif isinstance(thing, Figure | Source):
        return
    elif isinstance(thing, Struct):
        for name in thing.__struct_fields__:
            yield from _said(getattr(thing, name))
    elif isinstance(thing, dict):
        for value in thing.values():
            yield from _said(value)
    elif isinstance(thing, tuple | list):
        for value in thing:
            yield from _said(value)


@pytest.fixture(scope="module")
def site() -> Site:
    """The demo, built once."""
    return Site()


# --- what dies under a strict policy ---------------------------------------------------------------------


def test_no_style_attribute_and_no_handler(site: Site) -> None:
    """Attributes that carry style or script die under a hashed policy, so there are none."""
    found = [(page, tag.name, name) for page, tag in site.tags() for name in tag.attrs
             if name == "style" or name.lower().startswith("on")]
    assert found == []


def test_every_script_can_be_mounted(site: Site) -> None:
    """A script holds features that are mounted on each sheet shown, once, and leaves no name behind."""
    for page, tag in site.tags():
        if tag.name == "script":
            if tag.has_attr("src"):
                own = OWN_SCRIPTS.get(str(site.pages[page].main["id"]))    # type: ignore[index]
                assert tag["src"] in (SHARED_SCRIPT, own), page
                assert page != "index.html"
                continue
            if tag.get("type") == "application/json":       # data that a script reads
                continue
            text = tag.get_text()
            assert text.startswith("(() => {"), page
            assert text.endswith("})();"), page
            assert re.search(r"mounts\.[a-z]+ = function \(sheet\)", text), page
            assert "sheet.dataset.mounted" in text, page


def test_ids_are_unique_over_the_whole_site(site: Site) -> None:
    """All sheets can stand in one document."""
    counted = Counter(tag["id"] for _, tag in site.tags() if tag.has_attr("id"))
    assert [name for name, times in counted.items() if times > 1] == []


def test_every_link_is_a_sheet_and_an_anchor_that_exist(site: Site) -> None:
    """A link is name.html#anchor, its target is on that page; else it is the style sheet, data:, tel:, sms: or an
    e-mail."""
    ids = {name: {tag["id"] for tag in page.find_all(id=True)} for name, page in site.pages.items()}
    for page, tag in site.tags():
        href = tag.get("href")
        if href is None or href == "data:," or (tag.name == "link" and href == "sheets.css"):
            continue
        if str(href).startswith(("tel:", "sms:")):
            assert re.fullmatch(r"(tel|sms):\+?[0-9-]+", str(href)), (page, href)
            continue
        if str(href).startswith("mailto:"):       # to somebody of the firm, or a message of the reader's own to nobody
            assert re.fullmatch(r"mailto:(\?subject=[\w%.~-]+&body=[\w%.~-]+|[\w.+-]+@[\w.-]+)",
                                str(href)), (page, href)
            continue
        found = re.fullmatch(r"([a-z0-9-]+\.html)#([a-z0-9-]+)", str(href))
        assert found, (page, href)
        assert found[2] in ids.get(found[1], set()), (page, href)
    assert (site.folder / "sheets.css").is_file()


def test_every_sheet_says_which_of_how_many_it_is(site: Site) -> None:
    """Head and title block count to the same number; a listed page has the list, any other leads to a listed one."""
    listed = {place.partition("#")[0] for _, _, place in LISTED}
    for name, page in site.pages.items():
        head = page.select(".head .where summary data, .head a.where data")
        block = page.select(".block dl > div:nth-of-type(2) data")
        assert [one["value"] for one in head] == [one["value"] for one in block], name
        if name not in listed:
            leads, = page.select(".head a.where")
            assert str(leads["href"]).partition("#")[0] in listed, name
            continue
        assert [int(tag.get_text()) for tag in page.select(".head .list li > span")] == list(
            range(1, int(str(head[1]["value"])) + 1)), name
        assert page.select_one(".head .list [aria-current]") is not None, name
        for seventh in page.select('.head .list a[href="agreement.html#agreement"]'):
            assert seventh.get_text() == "Agreement"


def test_paper_names_the_sheet_that_a_link_leads_to(site: Site) -> None:
    """Printed, a link to another sheet ends with the name of that sheet, and one within a sheet with nothing.

    A number could be taken for that of a sheet of paper.
    """
    css = (ROOT / "theme" / "css" / "base.css").read_text("utf-8")
    said = re.findall(r'main:not\(#([a-z]+)\) a:not\(\.row\)\[href\*="([a-z-]+)\."\]::after'
                      r'\{content:" \(see ([^)]+)\)"\}', css)
    assert [(name, title) for name, _, title in said] == [(sheet.id, sheet.title) for sheet in SHEETS]
    for name, file, _ in said:
        assert [sheet.id for sheet in SHEETS if f"{file}." in sheet.file] == [name]


def test_every_label_by_id_is_on_its_page(site: Site) -> None:
    """What an `aria-labelledby`, `aria-describedby` or `for` names stands on the same page."""
    for page, tag in site.tags():
        for name in ("aria-labelledby", "aria-describedby", "for", "headers"):
            value = tag.get(name, [])
            for one in value.split() if isinstance(value, str) else value:
                assert site.pages[page].find(id=one) is not None, (page, name, one)


def test_no_absolute_path_and_no_other_host(site: Site) -> None:
    """Nothing points at a root, at a disk or at another host, in pages or in styles."""
    for page, tag in site.tags():
        for name in ("href", "src", "srcset", "action", "data", "poster", "xlink:href"):
            assert not re.match(r"/|[a-z]+://|file:|[A-Za-z]:\\", str(tag.get(name, ""))), (page, tag.name, name)
    for path in site.folder.rglob("*"):
        if path.suffix in (".jpg", ".webp"):
            continue
        text = path.read_text("utf-8")
        assert str(site.folder.parent) not in text, path.name
        assert str(ROOT) not in text, path.name
        assert not re.search(r"url\(\s*['\"]?(/|[a-z]+:(?!,|image))|@import", text), path.name


# --- numbers ---------------------------------------------------------------------------------------------


def _visible(page: BeautifulSoup) -> str:
    """The text of a page without what stands in <data>, and the words that only a screen reader has."""
    parts = []
    for node in page.find_all(string=True):
        assert isinstance(node, NavigableString)
        if isinstance(node, Comment | Doctype | Stylesheet) or node.find_parent(["data", "style", "script"]):
            continue
        if node.find_parent(class_="citation"):         # a section of law or code, and when it was checked
            continue
        parts.append(str(node))
    parts += [str(tag[name]) for tag in page.find_all(True)
              for name in ("aria-label", "alt", "title") if name in tag.attrs]
    return re.sub(r"\s+", " ", " ".join(parts))


def test_every_digit_is_a_figure_or_the_words_of_people(site: Site) -> None:
    """A digit that a reader sees stands in a <data> element, or a person said it: address, licence, letter, phone."""
    for name, page in site.pages.items():
        text = _visible(page)
        for said in site.said():
            text = text.replace(re.sub(r"\s+", " ", said), "")
        assert re.findall(r".{0,30}\d.{0,10}", text) == [], name


def test_every_figure_on_a_page_is_listed_with_the_same_value(site: Site) -> None:
    """What stands on a page can be followed back: `sitegen figures --json` has it, with the same value."""
    missing, other = set(), set()
    for _, tag in site.tags():
        name = tag.get("data-figure")
        if name is None or str(name).startswith(MADE_IN_SHEETS):
            continue
        if name not in site.figures:
            missing.add(name)
        elif str(site.figures[str(name)]["value"]) != tag["value"]:
            other.add(name)
    assert (missing, other) == (set(), set())


def test_every_data_element_names_its_figure(site: Site) -> None:
    """A <data> element has a value, a figure's name and something to read."""
    found = [tag for _, tag in site.tags() if tag.name == "data"]
    assert len(found) > 100
    for tag in found:
        assert set(tag.attrs) - {"class"} == {"value", "data-figure"}, tag
        assert tag.get_text().strip(), tag


def test_no_private_figure_is_on_a_page(site: Site) -> None:
    """What is for the company's eyes is on no sheet."""
    private = {name for name, figure in site.figures.items() if figure["private"]}
    assert {str(tag.get("data-figure")) for _, tag in site.tags()} & private == set()


# --- fairness --------------------------------------------------------------------------------------------


def test_there_are_24_rows_in_order(site: Site) -> None:
    """The same rows in the same order for every house."""
    assert [row["id"] for row in site.rows] == [f"compare-row-{number}" for number in range(1, len(ROWS) + 1)]
    numbers = [row.select_one("th .n data") for row in site.rows]
    assert [tag.get_text() for tag in numbers if tag] == [str(number) for number in range(1, len(ROWS) + 1)]


def test_every_row_answers_for_every_option(site: Site) -> None:
    """A row has a question and answers in the order of the head; a cell says whose it is and is as wide as they are
    many, or is one that says it holds for all."""
    head = [option.name for option in site.offer.outcome.options]
    for row in site.rows:
        cells = row.find_all("td")
        question = row.select_one("th b")
        assert question, row["id"]
        assert question.get_text().endswith("?"), row["id"]
        named = [option.get_text().strip().split(", ") for cell in cells for option in cell.select(".option")]
        if named == [["All three options"]]:
            named = [head]
        assert [name for names in named for name in names] == head, row["id"]
        assert [int(cell.get("colspan", 1)) for cell in cells] == [len(names) for names in named], row["id"]
        for cell in cells:
            said = cell.find("p")
            assert said, row["id"]
            assert said.get_text().strip(), row["id"]


def test_every_item_of_the_scope_says_what_each_option_does(site: Site) -> None:
    """Each item of the scope table that this house has stands there in the order of the items, with one state for each
    option, and what is not in a price says so first."""
    items = site.pages["compare.html"].select("tr[id^=scope-]")
    assert [item["id"] for item in items] == [f"scope-{row.key}" for row in site.offer.scope.rows]
    places = [list(ITEMS).index(item) for row in site.offer.scope.rows for item in ITEMS if item.key == row.key]
    assert places == sorted(places)
    head = [option.name for option in site.offer.outcome.options]
    for item, row in zip(items, site.offer.scope.rows, strict=True):
        said = {name: cell for cell in item.find_all("td") for option in cell.select(".option")
                for name in (head if option.get_text().strip() == "All three options"
                             else option.get_text().strip().split(", "))}
        assert list(said) == head
        for cell in row.cells:
            assert said[cell.name].get_text(" ").count("This is not in it") == (cell.state == OUT), (row.key, cell.name)


def test_every_row_says_where_it_comes_from(site: Site) -> None:
    """Each row has a line that names who stands behind it."""
    for row in site.rows:
        source = row.select_one(".from-where")
        assert source, row["id"]
        assert re.fullmatch(r"From [^\s].+\.", source.get_text()), row["id"]


def test_options_stand_in_order_of_price_today(site: Site) -> None:
    """Lowest price today first, on every sheet that shows the options, and it is said so."""
    by_price = [option.name for option in sorted(site.offer.outcome.options, key=lambda option: option.price.value)]
    start, compare = site.pages["index.html"], site.pages["compare.html"]
    assert [th.get_text() for th in start.select(".prices tbody th")] == by_price
    tables = [[th.get_text() for th in table.select("thead th")] for table in compare.select("table.rows")]
    assert [names[1:] for names in tables] == [by_price] * (2 + len(SECTIONS))
    assert [h3.get_text() for h3 in compare.select(".each h3")] == by_price
    for page in (start, compare):
        assert "lowest price today first" in page.get_text().lower()
    rungs = [h3.get_text().split(",")[0] for h3 in site.pages["what-you-could-pay.html"].select(".rungs h3")]
    assert rungs == by_price


def test_what_is_true_for_and_against_each_option_stands_there(house: House) -> None:
    """Of each option the claims that are true stand there, three on a side at most, each tied to its row; where they
    are fewer, it is said that they are all."""
    articles, said = house.at("compare.html", ".each article"), told(house.offer)
    assert [article.h3.get_text() for article in articles if article.h3] == [
        option.name for option in house.offer.outcome.options]
    for article, one in zip(articles, said.values(), strict=True):
        for kind, claims in (("pro", one.good), ("con", one.drawbacks)):
            rows = [link.get_text() for link in article.select(f"ul.{kind} > li > a.row data")]
            assert rows == [claim.row.say() for claim in claims]
            assert len(rows) <= MOST
            for link in article.select(f"ul.{kind} > li > a.row"):
                assert house.pages["compare.html"].find(id=str(link["href"]).split("#")[1]), link
        fewer = min(len(one.good), len(one.drawbacks)) < MOST
        assert ("These are all that are true of this house" in article.get_text()) == fewer == one.fewer


def test_nothing_is_chosen_for_the_reader(site: Site) -> None:
    """No box is ticked, nothing stands in a tooltip, and a fold is one for depth."""
    for page, tag in site.tags():
        assert not {"checked", "selected"} & set(tag.attrs), (page, tag.name)
        nothing = "data-total" in tag.attrs or tag.get_attribute_list("class") == ["send"]      # a sum of nothing
        assert "hidden" not in tag.attrs or nothing, (page, tag.name)
        assert tag.name != "dialog", page
        assert tag.name != "details" or "depth" in tag.get_attribute_list("class"), page
        assert "title" not in tag.attrs, (page, tag.name)


def _unfolded(house: House, sheet: str, selector: str) -> Place:
    """A place of a sheet without what its folds hold; the summary of a fold is seen."""
    copied = BeautifulSoup(str(house.place(sheet, selector).tag), "html.parser")
    for fold in copied.select("details"):
        for inside in fold.find_all(True, recursive=False):
            if inside.name != "summary":
                inside.decompose()
    return Place(f"{house.job}, {sheet} {selector}, unfolded", copied)


def test_nothing_that_decides_stands_behind_a_fold(house: House) -> None:
    """The price today, the most, the likely end, what stays live, who closes the holes and the dates of each option
    are read on their sheets with every fold shut."""
    offer, first = house.offer, _unfolded(house, "index.html", "main")
    pay, living = _unfolded(house, "what-you-could-pay.html", "main"), _unfolded(house, "living.html", "main")
    decides = _unfolded(house, "compare.html", "table.decides")
    for at, option in enumerate(offer.outcome.options):
        dates = offer.dates.options[option.key]
        first.holds(option.price, option.p10, option.p90, dates.dead, dates.other.dead)
        pay.holds(option.p10, option.p50, option.p90, option.most_paid)
        living.holds(*(day for method in dates.both for day in (method.dead, method.finished)))
        for line in deciding(offer, comparison(offer)):
            shared = {figure.raw() for figure in line.cells[at].slots.values() if isinstance(figure, Figure)}
            there = {value for _, value, _ in decides.figures()}
            spoken = shared - there                 # a nought and a one are said in words
            assert spoken <= {"0", "1"}, (line.asks, option.key, spoken)
        _unfolded(house, "compare.html", "tr[data-decides=holes]").says(
            "We close" if offer.terms[option.key].closes_holes == "us" else "You close")


def test_a_fold_is_opened_on_paper() -> None:
    """Paper has nothing to press: what a fold holds is printed."""
    css = "".join(path.read_text("utf-8") for path in sorted((ROOT / "theme").rglob("*.css")))
    printed = "".join(re.findall(r"@media print\s*\{(.*)", css, flags=re.DOTALL))
    assert re.search(r"details[^{}]*::details-content|details[^{}]*>", printed)


def test_a_demo_says_so_on_every_sheet(site: Site) -> None:
    """An invented house is called invented on each sheet."""
    for name, page in site.pages.items():
        assert "are invented" in page.get_text(), name


# --- what the pages are made from ------------------------------------------------------------------------


def _template_text(path: Path) -> str:
    """The text nodes of a template, without what Jinja fills in."""
    bare = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", " ", path.read_text("utf-8"), flags=re.DOTALL)
    return " ".join(str(node) for node in BeautifulSoup(bare, "html.parser").find_all(string=True)
                    if not isinstance(node, Comment | Doctype))


@pytest.mark.parametrize("path", THEME, ids=lambda path: path.name)
def test_no_digit_is_typed_into_a_template(path: Path) -> None:
    """A number on a page comes from a Figure, never from a template."""
    assert re.findall(r".{0,20}\d.{0,10}", _template_text(path)) == []


@pytest.mark.parametrize("path", THEME, ids=lambda path: path.name)
def test_no_template_switches_escaping_off(path: Path) -> None:
    """What people write is always escaped."""
    text = path.read_text("utf-8")
    assert not re.search(r"\|\s*safe\b|autoescape|Markup", text)
    assert not re.search(r"\sstyle=|\son[a-z]+=", text)


@pytest.mark.parametrize("path", CONTENT, ids=lambda path: path.name)
def test_no_digit_is_typed_into_our_words(path: Path) -> None:
    """Words hold slots for numbers; keys, slots, list markers and the section numbers of a `source` apart."""
    text = re.sub(r"^# source$.*?(?=^# |\Z)", "", path.read_text("utf-8"), flags=re.MULTILINE | re.DOTALL) \
        if path.parent.name == "details" else path.read_text("utf-8")
    text = re.sub(r"\{[a-z_]+\}", "", re.sub(r"^(# .*$|\d+\. )", "", text, flags=re.MULTILINE))
    assert re.findall(r".{0,20}\d.{0,10}", text) == []


@pytest.fixture
def env(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Environment:
    """The template environment over one piece of words."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "content"
    folder.mkdir()
    (folder / "w.md").write_text("# price\nIt costs {price}.\n# two\nOne.\n\nTwo.\n", "utf-8")
    cache = Cache()
    return environment((tmp_path,), Words((folder,), cache), cache)


PRICE = Figure("options.per-item.price", 1_900_000, "cents", "Price.", SEEN)
PRIVATE = Figure("cost.hour", 9_000, "cents", "Cost.", SEEN, private=True)
CHANCE = Figure("house.chance", 0.25, "chance", "Judged.", SEEN)


@pytest.mark.parametrize("value", [12, 1.5, Fraction(1, 2), date(2026, 12, 1), True, None, "12 points", PRICE, PRIVATE,
                                   [1], {"a": 1}])
def test_a_bare_value_is_refused(env: Environment, value: object) -> None:
    """A number, a date, a truth value, text with a digit or an unsaid Figure cannot be printed by a template."""
    with pytest.raises(FigureError, match=r"^a template prints .*: numbers are Figures and pass through `say`"):
        env.from_string("{{ value }}").render(value=value)


@pytest.mark.parametrize("path", THEME, ids=lambda path: path.name)
def test_no_template_prints_a_constant_with_a_digit(path: Path) -> None:
    """A constant in braces would be escaped before Jinja's last look, so no template has one with a digit."""
    tree = Environment().parse(path.read_text("utf-8"))
    constants = [child for output in tree.find_all(nodes.Output) for child in output.nodes
                 if isinstance(child, nodes.Const)]
    assert [one.value for one in constants if re.search(r"\d", str(one.value))] == []


@pytest.mark.parametrize("path", THEME, ids=lambda path: path.name)
def test_no_template_prints_one_side_of_a_choice_alone(path: Path) -> None:
    """`{{ a if b }}` prints a missing value where `b` does not hold, and the page cannot be made."""
    tree = Environment().parse(path.read_text("utf-8"))
    assert [one.lineno for one in tree.find_all(nodes.CondExpr) if one.expr2 is None] == []


def test_a_number_typed_into_a_template_expression_is_refused(env: Environment) -> None:
    """A constant in braces is looked at like any value."""
    with pytest.raises(FigureError):
        env.from_string("{{ 12 }}").render()


@pytest.mark.parametrize("value", [12, "12", Quote("12", SEEN), None])
def test_only_a_figure_can_be_said(env: Environment, value: object) -> None:
    """The filter `say` refuses anything but a Figure."""
    with pytest.raises(BuildError, match=r"^only a Figure can be said; got "):
        env.from_string("{{ value|say }}").render(value=value)


@pytest.mark.parametrize("filled", ["{{ value|say }}", "{{ value|key_mark }}", "{{ words('w.price', price=value) }}"])
@pytest.mark.parametrize("value", [PRIVATE, CHANCE])
def test_a_private_figure_and_a_bare_chance_reach_no_page(env: Environment, filled: str, value: Figure) -> None:
    """Neither a private Figure nor a bare chance gets through any filter or slot."""
    with pytest.raises(FigureError, match=r"is private|is a chance"):
        env.from_string(filled).render(value=value)


@pytest.mark.parametrize("filled", ["{{ nobody }}", "{{ nobody.x }}", "{{ nobody|say }}", "{% if nobody %}x{% endif %}",
                                    "{% for x in nobody %}{% endfor %}"])
def test_a_missing_value_is_an_error(env: Environment, filled: str) -> None:
    """A name that nobody gave never prints as nothing."""
    with pytest.raises((UndefinedError, BuildError)):
        env.from_string(filled).render()


def test_a_figure_is_printed_one_option(env: Environment) -> None:
    """A figure that is said carries its exact value and its name, in a template and in words alike."""
    said = '<data value="1900000" data-figure="options.per-item.price">$19,000</data>'
    assert say(PRICE) == said
    assert env.from_string("{{ value|say }}").render(value=PRICE) == said
    assert env.from_string("{{ words('w.price', price=value) }}").render(value=PRICE) == f"It costs {said}."


def test_words_of_people_are_escaped(env: Environment) -> None:
    """What a person wrote is shown as written and never as markup."""
    said = Quote("<b>12</b> & \"q\"", SEEN)
    for filled in ("{{ value }}", "{{ words('w.price', price=value) }}"):
        assert "&lt;b&gt;12&lt;/b&gt; &amp; &#34;q&#34;" in env.from_string(filled).render(value=said)


@pytest.mark.parametrize(("filled", "says"), [
    ("{{ words('w.nothing') }}", "w.nothing"),
    ("{{ words('w.price') }}", "slots"), ("{{ words('w.two') }}", "one paragraph"),
    ("{{ words('w.price', price=value, more=value) }}", "slots"), ("{{ words('w.price', price='12') }}", "digit")])
def test_words_and_slots_must_agree(env: Environment, filled: str, says: str) -> None:
    """Unknown words, a slot too few or too many, and text with a digit in a slot are errors."""
    with pytest.raises(BuildError, match=says):
        env.from_string(filled).render(value=PRICE)


@pytest.mark.parametrize("text", ["/compare.html", "https://a.example", "compare.html#A", "a b", "../x.html", "x.js",
                                  "javascript:x", "tel:abc", "mailto:a"])
def test_a_link_is_ours(text: str) -> None:
    """Only name.html#anchor, an id or a number to call can be a link."""
    with pytest.raises(FigureError, match="is no link of ours"):
        anchor(text)


def test_every_source_of_a_row_leads_to_where_it_is_explained(site: Site) -> None:
    """From each row of the comparison, and from each sheet, it is one step to where its figures come from."""
    for row in site.rows:
        links = row.select(".from-where a[href]")
        assert links, row["id"]
        assert {str(link["href"]).split("#")[0] for link in links} <= {"what-you-could-pay.html", "who.html"}
    for name, page in site.pages.items():
        assert page.select('a[href="what-you-could-pay.html#pay-from"]'), name


def test_every_kind_of_source_is_explained_somewhere(site: Site) -> None:
    """Each kind of source that a figure can have has a place on a sheet, and that place is there."""
    assert set(EXPLAINED) == set(KINDS)
    for target in EXPLAINED.values():
        file, _, place = target.partition("#")
        assert site.pages[file].find(id=place) is not None, target
