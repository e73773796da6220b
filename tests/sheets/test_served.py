"""What `serve` shows: the site, or the faults of the job as a page, replaced when they are mended."""

from __future__ import annotations

from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.build import build
from sitegen.errors import AuditFailed, Breach, BuildError, Fault, Faults
from sitegen.sheets import mkdocs_site
from sitegen.sheets.served import Served, page_of
from sitegen.sheets.sheets import SHEETS
from sitegen.workspace import find
from tests.helpers import JOB, JOB_FILE, demo_copy, edit, sitegen, tree

FAULT = Fault("elm/job.yaml", 7, "house.built", "Got `<old>`, needs a year.", "Look at the deed.")


def text(error: Exception) -> str:
    """What a person reads of the page for an error."""
    return " ".join(BeautifulSoup(page_of(error), "html.parser").main.get_text(" ").split())  # type: ignore[union-attr]


def test_each_fault_stands_with_its_file_its_line_and_the_way_out() -> None:
    """Faults are counted and grouped by file; one is spoken of as one, and what was typed stands as it was typed."""
    said = text(Faults([FAULT]))
    assert said.startswith("This job is not built yet One thing has to be mended.")
    assert said.endswith("elm/job.yaml line 7, house.built Got `<old>`, needs a year. Look at the deed.")
    both = text(Faults([FAULT, Fault("towns/elm.yaml", 0, "", "There is no such file.", "Make it.")]))
    assert "2 things have to be mended." in both
    assert both.endswith("towns/elm.yaml the whole file There is no such file. Make it.")


@pytest.mark.parametrize(("error", "says"), [
    (AuditFailed([Breach("index.html", "#a", "no digit", "It says 3.", "Make it a Figure.")]),
     "One rule for pages has to be mended."),
    (BuildError("The house is too large."), "The house is too large."),
    (KeyError("boxes"), "Something went wrong inside sitegen, and not in your files"),
])
def test_every_other_error_is_told_without_a_traceback(error: Exception, says: str) -> None:
    """Pages that break a rule, a build that cannot be and an error that nobody foresaw are each a page of words."""
    assert says in text(error)
    assert "Traceback" not in page_of(error)


def test_faults_take_the_place_of_every_page_until_they_are_mended(tmp_path: Path,
                                                                   monkeypatch: pytest.MonkeyPatch) -> None:
    """A save with a fault shows it under every name; the next good save shows the site, and the built one stays."""
    home, steps = demo_copy(tmp_path), list[dict[str, bytes]]()

    def run(again: object, root: Path, watched: list[Path], port: int) -> None:
        assert callable(again)
        assert {path.name for path in watched} >= {JOB, "company.yaml", "price-book.yaml", "towns", "states"}
        steps.append(tree(root))
        edit(home / JOB_FILE, "built: 1912", "built: lately")
        again()
        steps.append(tree(root))
        edit(home / JOB_FILE, "built: lately", "built: 1912")
        again()
        steps.append(tree(root))
    monkeypatch.setattr(mkdocs_site, "serve", run)
    done = sitegen("serve", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (0, "http://127.0.0.1:8000/index.html\n")
    good, wrong, mended = steps
    assert good == mended == tree(home / "site" / JOB)
    assert {sheet.file for sheet in SHEETS} <= set(wrong)
    assert all(b"house.built" in page for page in wrong.values())
    assert "house.built" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_job_that_was_never_sound_is_served_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Faults at the start do not stop `serve`, and no site is written for them."""
    home, seen = demo_copy(tmp_path), list[str]()
    edit(home / JOB_FILE, "built: 1912", "built: lately")
    monkeypatch.setattr(mkdocs_site, "serve", lambda again, root, watched, port: seen.append(
        (root / "index.html").read_text("utf-8")))
    assert sitegen("serve", JOB, cwd=home).returncode == 0
    assert "house.built" in seen[0]
    assert not (home / "site" / JOB).exists()


def test_a_site_takes_the_place_of_another_whole(tmp_path: Path) -> None:
    """What stood in the folder before, folders too, is gone when a site is shown."""
    home = demo_copy(tmp_path)
    (tmp_path / "shown" / "old").mkdir(parents=True)
    (tmp_path / "shown" / "old" / "page.html").write_text("old", "utf-8")
    built = build(find(str(home)), home / JOB)
    Served(tmp_path / "shown").show(built.folder)
    assert tree(tmp_path / "shown") == tree(built.folder)
