"""The office's page: private, in one file, beside the job and nowhere else; the terminal says the same."""

from __future__ import annotations

import re
import subprocess
from functools import cache
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.build import build
from sitegen.errors import BuildError
from sitegen.figure import Figure, int_of
from sitegen.office.make import Office
from sitegen.office.page import CSS, PAGE, page, write
from sitegen.office.run import office, view
from sitegen.office.say import said
from sitegen.office.tables import Cell, Table, money
from sitegen.office.text import WIDE, as_text
from sitegen.units import dollars
from sitegen.workspace import Workspace
from tests.built import HOUSES, offer
from tests.helpers import DEMO, JOB, JOB_FILE, ROOT, demo_copy, edit, sitegen, tree

DEMO_SPACE = Workspace(DEMO, ROOT / "site")


@cache
def seen(job: str) -> Office:
    """What the office reads of one demo house, with nothing written."""
    return view(DEMO_SPACE, DEMO / job)


@cache
def soup(job: str) -> BeautifulSoup:
    """Its page, parsed."""
    return BeautifulSoup(page(DEMO, seen(job)), "html.parser")


def plain(cell: Cell) -> str:
    """A cell as it is read."""
    return "".join(said(part) for part in cell)


@pytest.mark.parametrize("job", HOUSES)
def test_the_page_says_private_first_and_asks_for_nothing_outside(job: str) -> None:
    """PRIVATE stands at its head, no address, script or file is named, and it may be shown in no search."""
    found = soup(job)
    assert found.body is not None
    assert found.body.get_text(" ", strip=True).startswith("PRIVATE")
    assert found.title is not None
    assert found.title.get_text().startswith("PRIVATE")
    assert found.find_all(["script", "link", "img", "iframe", "a", "base", "object"]) == []
    assert not re.search(r"https?:|url\(|@import|\ssrc=|\shref=|\sstyle=|\son[a-z]+=", str(found))
    policy = found.select_one('meta[http-equiv="Content-Security-Policy"]')
    assert policy is not None
    assert str(policy["content"]).startswith("default-src 'none'")


@pytest.mark.parametrize("job", HOUSES)
def test_the_page_and_the_terminal_say_the_same(job: str) -> None:
    """Every title, head, cell and note of every table, in the same order."""
    found, text = seen(job), as_text(seen(job))
    tables, shown = soup(job).select("table"), " ".join(soup(job).get_text().split())
    assert len(tables) == len(found.tables)
    for table, drawn in zip(found.tables, tables, strict=True):
        assert drawn.caption is not None
        assert drawn.caption.get_text() == plain(table.title)
        assert plain(table.title) in text.splitlines()
        assert [[cell.get_text() for cell in row.select("th,td")] for row in drawn.select("tbody tr")] == [
            [plain(cell) for cell in row] for row in table.rows]
        for note in table.notes:
            assert " ".join(plain(note).split()) in shown
            assert " ".join(plain(note).split()) in " ".join(text.split())


@pytest.mark.parametrize("job", HOUSES)
def test_the_tables_hold_the_offers_private_figures(job: str) -> None:
    """Cost, margin, chance of losing, prices that lose so often, the price from the books, the hours of each item."""
    shown = {str(data["data-figure"]): str(data["value"]) for data in soup(job).select("data")}
    private = [one for one in offer(job).figures() if one.private]
    assert private
    assert {one.name: one.raw() for one in private} == {one.name: shown.get(one.name) for one in private}


@pytest.mark.parametrize("job", HOUSES)
def test_no_line_is_longer_than_a_terminal(job: str) -> None:
    """Notes and names are folded."""
    lines = [line for table in seen(job).tables for line in as_text(Office((), (table,), ())).splitlines()]
    assert max(map(len, lines)) <= WIDE + 2


def test_a_table_is_laid_out_in_columns() -> None:
    """Names at the left, numbers at the right of their column, what is empty left empty, a rule over the sum."""
    def sums(cents: int) -> Cell:
        return (money("thing", cents, "Made."),)
    name = "A name of such a length that it goes on in a second line, to be read"
    table = Table(("Costs",), ((), ("Count",), ("Each",), ("By whom",)), (
        (("One",), sums(5_00), sums(1_234_00), ("us",)), ((name,), (), sums(-12_50), ()),
        (("All",), (), sums(900_00), ())), (("A note.",),), total=True)
    assert as_text(Office((), (table,), ())).split("\n\n", 1)[1] == "\n".join((
        "Costs",
        f"  {'':60}  Count     Each  By whom",
        f"  {'One':60}     $5   $1,234  us",
        "  A name of such a length that it goes on in a second line, to",
        f"  {'be read':60}         -$12.50",
        "  " + "-" * 85,
        f"  {'All':60}            $900",
        "  A note.", ""))


@pytest.mark.parametrize("job", HOUSES)
def test_what_the_middle_earns_sets_the_order(job: str) -> None:
    """Most first, each option once, by the middle margin that the first table shows."""
    table = next(one for one in seen(job).tables if plain(one.title).startswith("Order of earning"))
    margins = {option.name: offer(job).costs[option.key].margin[1] for option in offer(job).outcome.options}
    assert [plain(row[0]) for row in table.rows] == sorted(margins, key=lambda name: -int_of(margins[name]))
    assert [row[1] for row in table.rows] == [(margins[plain(row[0])],) for row in table.rows]


@pytest.mark.parametrize("job", HOUSES)
def test_hours_and_cost_by_scope_item_add_up(job: str) -> None:
    """Each line is hours over a crew of four at eight hours, and the last line is the sum of the others."""
    tables = [one for one in seen(job).tables if plain(one.title).endswith(": hours by scope item")]
    assert len(tables) == 3
    for table in tables:
        rows = [[cell[0].value for cell in row[1:] if isinstance(cell[0], Figure)] for row in table.rows]
        assert all(hours == days * 32 for hours, days, _ in rows)
        for column in range(3):
            assert sum(row[column] for row in rows[:-1]) == rows[-1][column]


def test_paper_says_private_on_every_sheet() -> None:
    """At the head of each printed page, not of the first alone."""
    assert '@top-right { content: "PRIVATE"' in CSS
    assert CSS in page(DEMO, seen(JOB))


def test_three_inputs_are_named_for_each_option() -> None:
    """The name of the option stands on the first of its lines."""
    table = next(one for one in seen(JOB).tables if plain(one.title).startswith("What moves"))
    assert [plain(row[0]) for row in table.rows] == ["Wiring only", "", "", "Per item", "", "", "One price", "", ""]


def test_an_extra_says_that_no_cost_is_known() -> None:
    """The cost book has nothing of extras."""
    table = next(one for one in seen(JOB).tables if plain(one.title) == "Extras")
    assert [plain(row[2]) for row in table.rows] == ["no cost known"] * len(offer(JOB).extras)


def test_an_own_price_stands_beside_the_books_with_its_reason() -> None:
    """How far it is, and why."""
    table = seen("juniper-court").tables[0]
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in table.rows}
    own = {option.key: option.price for option in offer("juniper-court").outcome.options}["fixed-guarantee"]
    book = offer("juniper-court").costs["fixed-guarantee"].book
    assert int_of(own) != int_of(book)
    assert rows["Own price less the books"] == ["", "", dollars(int_of(own) - int_of(book))]
    assert plain(table.notes[0]) == ("One price has a price of its own, because: It holds two days of testing every "
                                     "newer circuit as well, with a signed list of all its points.")
    assert "Own price less the books" not in {plain(row[0]) for row in seen(JOB).tables[0].rows}


def test_nothing_that_lapses_is_said_so(tmp_path: Path) -> None:
    """With every day far off there is one sentence and no table of days."""
    home = demo_copy(tmp_path)
    edit(home / JOB_FILE, "prices hold to: 2026-12-18", "prices hold to: 2027-11-18")
    edit(home / "company.yaml", "  on: 2026-01-12", "  on: 2026-10-12")
    table = view(Workspace(home, tmp_path / "site"), home / JOB).tables[-1]
    assert (table.heads, table.rows) == ((), ())
    assert plain(table.notes[0]).startswith("Nothing lapses before ")


# --- the command ---------------------------------------------------------------------------------------------


def test_the_command_prints_the_view_and_writes_the_page_alone(tmp_path: Path) -> None:
    """Exit 0, the view and the page's path on standard output, one file more; run again it is the same to the byte."""
    home = demo_copy(tmp_path)
    before = tree(home)
    done = sitegen("office", JOB, cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("PRIVATE\n")
    assert done.stdout.endswith(f"\n{JOB}/{PAGE}\n")
    after = tree(home)
    assert set(after) - set(before) == {f"{JOB}/{PAGE}"}
    assert {name: after[name] for name in before} == before
    assert sitegen("office", JOB, cwd=home).stdout == done.stdout
    assert tree(home) == after


def test_a_price_under_cost_is_shown_and_is_still_a_fault(tmp_path: Path) -> None:
    """What is worked out wrong is what the office has to see: the view, then the fault, exit 1."""
    home = demo_copy(tmp_path)
    edit(home / "cost-book.yaml", "labour an hour: $71.37", "labour an hour: $171.37")
    done = sitegen("office", JOB, cwd=home)
    assert done.returncode == 1
    assert "Houses in which it loses" in done.stdout
    assert "`per-item` is priced" in done.stderr
    assert (home / JOB / PAGE).is_file()


def test_files_that_are_not_sound_write_nothing(tmp_path: Path) -> None:
    """A fault of the fields stops before anything is worked out."""
    home = demo_copy(tmp_path)
    edit(home / "cost-book.yaml", "labour an hour: $71.37", "labour an hour: 71.37")
    done = sitegen("office", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert not (home / JOB / PAGE).exists()


def test_the_page_is_no_job_file_and_a_build_does_not_copy_it(tmp_path: Path) -> None:
    """A site is the same to the byte with the page beside the job, and holds no file of its name or words."""
    home = demo_copy(tmp_path)
    space = Workspace(home, tmp_path / "site")
    without = tree(build(space, home / JOB).folder)
    made = office(space, home / JOB).page
    assert made == home / JOB / PAGE
    built = build(space, home / JOB)
    assert tree(built.folder) == without
    assert PAGE not in without
    assert made not in built.inputs
    assert [path for path in (tmp_path / "site").rglob("*") if path.name == PAGE] == []
    assert space.jobs() == [(home / JOB).resolve()]


@pytest.mark.parametrize("name", ["site", "public"])
def test_no_page_lands_where_something_is_published(tmp_path: Path, name: str) -> None:
    """A job's folder that is what is published, or lies in it, is refused."""
    home = demo_copy(tmp_path)
    (home / JOB).rename(home / name)
    with pytest.raises(BuildError, match="is published; the office's page is private"):
        write(Workspace(home, home / "site"), (home / name).resolve(), seen(JOB))
    with pytest.raises(BuildError, match="is published"):
        write(Workspace(home, home), (home / "towns").resolve(), seen(JOB))
    assert [path for path in home.rglob("*") if path.name.endswith(PAGE)] == []


def test_what_stands_in_the_way_is_left(tmp_path: Path) -> None:
    """A link or a folder of that name is not written through or over."""
    home = demo_copy(tmp_path)
    aim = tmp_path / "elsewhere.html"
    aim.write_text("mine", "utf-8")
    (home / JOB / PAGE).symlink_to(aim)
    done = sitegen("office", JOB, cwd=home)
    assert (done.returncode, done.stderr) == (1, f"{JOB}/{PAGE} is in the way; move it.\n")
    assert aim.read_text("utf-8") == "mine"


def test_git_carries_no_page_of_the_demo_away() -> None:
    """The page of every demo house is ignored."""
    for job in HOUSES:
        done = subprocess.run(["git", "check-ignore", "-q", "--no-index", f"proposals/{job}/{PAGE}"], cwd=ROOT,
                              check=False)
        assert done.returncode == 0, job
