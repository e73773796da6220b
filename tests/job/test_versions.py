"""Offers that were handed over: kept once and whole, never changed, and what a later version says against them."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.placing import MARK
from tests.helpers import JOB, JOB_FILE, demo_copy, edit, faults, figures_of, sitegen, tree

KEPT = f"{JOB}/offers/1"


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace in which version 1 of the demo house was kept; copied where a test changes it."""
    home = demo_copy(tmp_path_factory.mktemp("kept"))
    done = sitegen("keep", JOB, cwd=home)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"{KEPT}\n", "")
    return home


def checked(home: Path) -> list[str]:
    """Every fault of the job, also those that are worked out, without file and line."""
    return [re.sub(r"^\S+:\d+: ", "", line) for line in sitegen("check", JOB, cwd=home).stderr.splitlines()]


@pytest.fixture
def home(first: Path, tmp_path: Path) -> Path:
    """The workspace, to be changed."""
    shutil.copytree(first, tmp_path / "firm")
    return tmp_path / "firm"


def test_the_offer_is_kept_with_its_pages_its_file_and_its_figures(first: Path) -> None:
    """`offers/1/` holds the site and the job file to the byte, and every figure that a sheet may print, and no other
    part of the workspace has changed."""
    kept = tree(first / KEPT)
    assert kept["job.yaml"] == (first / JOB_FILE).read_bytes()
    assert {name.removeprefix("site/"): page for name, page in kept.items() if name.startswith("site/")} == \
        {name: data for name, data in tree(first / "site" / JOB).items() if name != MARK}
    offer = json.loads(kept["offer.json"])
    said = {figure["name"]: figure["value"] for figure in figures_of(first)}
    assert offer["prices"] == {option: said[f"options.{option}.price"] for option in offer["prices"]}
    assert len(offer["prices"]) == 3
    assert not any(figure["private"] for figure in offer["figures"])
    assert set(json.loads(kept["kept.json"])) == set(kept) - {"kept.json"}
    assert faults(first) == []


def test_a_version_is_kept_once(home: Path) -> None:
    """A second `keep` of one version is wrong usage, and leaves every byte."""
    before = tree(home / KEPT)
    done = sitegen("keep", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"{KEPT} is there already: version 1 was kept, and stays as it is.\n"
    assert tree(home / KEPT) == before


def test_a_job_with_faults_is_not_kept(tmp_path: Path) -> None:
    """What could not be built was not handed over."""
    home = demo_copy(tmp_path)
    edit(home / JOB_FILE, "built: 1912", "built: lately")
    assert sitegen("keep", JOB, cwd=home).returncode == 1
    assert not (home / JOB / "offers").exists()


@pytest.mark.parametrize(("old", "new", "says"), [
    ("kit: item-2026", "kit: item-2026\n    price: $33,500\n    because: It was asked.", "options[2]: Version 1 was "
     "handed over at $30,655; `per-item` is $33,500 here."),
    ("prices hold to: 2026-12-18", "prices hold to: 2026-12-31", "prices hold to: Version 1 was handed over with "
     "2026-12-18; here it is 2026-12-31."),
    ("sign by: 2026-11-23", "sign by: 2026-11-20", "start.sign by: Version 1 was handed over with 2026-11-23; here it "
     "is 2026-11-20."),
])
def test_a_kept_version_with_other_terms_is_refused(home: Path, old: str, new: str, says: str) -> None:
    """Prices, days and points of a version that was handed over stand as they were, or the version is another."""
    edit(home / JOB_FILE, old, new)
    assert checked(home) == [
        f"{says} Put it back, or write the next `version:`; what was handed over is never changed."]
    assert sitegen("build", JOB, cwd=home).returncode == 1


def test_a_kept_version_with_another_list_is_refused(home: Path) -> None:
    """A place more moves the list and the prices that hold it, and each is said."""
    edit(home / JOB_FILE, "want: {outlet: 2, switch: 2, ceiling light: 1}",
         "want: {outlet: 3, switch: 2, ceiling light: 1}")
    said = checked(home)
    assert any(fault.startswith("rooms: Version 1 was handed over with another list.") for fault in said)
    assert len([fault for fault in said if fault.startswith("options[")]) >= 2


def test_a_version_counts_up_and_its_day_runs_forward(home: Path) -> None:
    """Version 2 may follow version 1 that was kept, not before its day; then no earlier one may be built."""
    edit(home / JOB_FILE, "version: 1", "version: 2")
    edit(home / JOB_FILE, "prepared: 2026-11-18", "prepared: 2026-11-17")
    assert [re.sub(r"^\S+:\d+: ", "", fault) for fault in faults(home)] == [
        "prepared: 2026-11-17 is before version 1 of 2026-11-18. Dates run forward: write the day of this version."]
    edit(home / JOB_FILE, "prepared: 2026-11-17", "prepared: 2026-11-19")
    assert sitegen("keep", JOB, cwd=home).stdout == f"{JOB}/offers/2\n"
    edit(home / JOB_FILE, "version: 2", "version: 1")
    edit(home / JOB_FILE, "prepared: 2026-11-19", "prepared: 2026-11-18")
    assert [re.sub(r"^\S+:\d+: ", "", fault) for fault in faults(home)] == [
        "version: Version 2 was handed over already, and 1 is before it. Write `version: 3`."]


@pytest.mark.parametrize(("file", "text", "what"), [
    ("offer.json", "{}", "offer.json is another"), ("job.yaml", "job: x", "job.yaml is another"),
    ("site/index.html", None, "site/index.html is missing"), ("site/more.html", "x", "site/more.html is new"),
    ("kept.json", "[]", "kept.json cannot be read"),
])
def test_nothing_kept_is_quietly_changed(home: Path, file: str, text: str | None, what: str) -> None:
    """A kept file that is another, missing or new is a fault of its folder, with the way out, and no traceback."""
    path = home / KEPT / file
    if text is None:
        path.unlink()
    else:
        path.write_text(text, "utf-8")
    assert faults(home) == [f"{KEPT}: Kept as it was handed over, but {what}. Put the folder back as it was written; "
                            "an offer that was handed over is never changed."]


def test_a_second_version_gives_the_same_bytes_each_time(home: Path) -> None:
    """The kept offers are inputs like any other: built twice, version 2 is the same, and it says what changed."""
    edit(home / JOB_FILE, "version: 1", "version: 2")
    edit(home / JOB_FILE, "prepared: 2026-11-18", "prepared: 2026-11-19")
    edit(home / JOB_FILE, "kit: item-2026", "kit: item-2026\n    price: $33,500\n    because: It was asked.")
    sites = []
    for _ in range(2):
        done = sitegen("build", JOB, cwd=home)
        assert done.returncode == 0, done.stderr
        sites.append(tree(home / "site" / JOB))
    assert sites[0] == sites[1]
    page = sites[0]["index.html"].decode()
    for name, said in (("changes.per-item.price", "$30,655"), ("options.per-item.price", "$33,500")):
        assert re.search(rf'data-figure="{name}">{re.escape(said)}<', page[page.index("start-changes"):])


def test_every_other_price_that_changed_is_said(home: Path) -> None:
    """A set price, an extra, a usual price and a limit of the book: each as it was in the version before and as it is,
    and a limit that is gone is said to be gone."""
    edit(home / JOB_FILE, "version: 1", "version: 2")
    edit(home / JOB_FILE, "prepared: 2026-11-18", "prepared: 2026-11-19")
    book = home / "price-book.yaml"
    limit = re.search(r"    not over for cases: \$(.+)\n", book.read_text("utf-8"))
    assert limit is not None
    for old, new in (("    each point: $355\n", "    each point: $365\n"), (limit[0], "    not over for cases: none\n"),
                     ("    usual: $2,700\n", "    usual: $2,750\n"), ("    price: $95\n", "    price: $99\n")):
        edit(book, old, new)
    done = sitegen("build", JOB, cwd=home)
    assert done.returncode == 0, done.stderr
    page = BeautifulSoup((home / "site" / JOB / "index.html").read_text("utf-8"), "html.parser")
    said = [" ".join(line.get_text().split()) for line in page.select("section:has(> #start-changes) li")]
    text = " ".join(said)
    for sentence in ("Wiring only, each more outlet, switch or light that proves old was $355, and it is $365 now",
                     f"One price, surprises could cost you ${limit[1]} at most. Now there is no limit",
                     "The usual price of old pipe wrap or loose fill was $2,700, and it is $2,750 now",
                     "The price of each option is the same", "An extra has another price: A dimmer",
                     "It was $95, and it is $99 now"):
        assert sentence in text, said


def test_who_pays_for_a_surprise_is_compared_too(home: Path) -> None:
    """Rot was in One price and is the homeowner's now, and in Per item the other way round; no other case is named."""
    edit(home / JOB_FILE, "version: 1", "version: 2")
    edit(home / JOB_FILE, "prepared: 2026-11-18", "prepared: 2026-11-19")
    book = home / "price-book.yaml"
    one, _, rest = book.read_text("utf-8").partition("  item-2026:\n")
    item, _, wiring = rest.partition("  wiring-2026:\n")
    one, item = one.replace("rot: us", "rot: homeowner"), item.replace("rot: homeowner", "rot: us")
    book.write_text(f"{one}  item-2026:\n{item}  wiring-2026:\n{wiring}", "utf-8")
    done = sitegen("build", JOB, cwd=home)
    assert done.returncode == 0, done.stderr
    page = BeautifulSoup((home / "site" / JOB / "index.html").read_text("utf-8"), "html.parser")
    said = [" ".join(line.get_text().split()) for line in page.select("section:has(> #start-changes) li")]
    assert [line for line in said if "for this surprise" in line] == [
        "With Per item, you were to pay for this surprise: rotten framing. We pay for it now.",
        "With One price, we were to pay for this surprise: rotten framing. You pay for it now."]
