"""A site that is as a build would make it is left as it stands, and one that is not is made anew.

That an edit of each kind of input is seen is held by `test_changes.py`, through the same command.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from sitegen import build
from tests.helpers import JOB, demo_copy, sitegen, tree


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo workspace with its house built, and all that is kept in a cache of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(build, "_cache", lru_cache(build._cache.__wrapped__))
    home = demo_copy(tmp_path)
    assert sitegen("build", JOB, cwd=home).returncode == 0
    return home


def written(home: Path) -> dict[str, int]:
    """When each file of the site was last written, to tell whether it was written again."""
    site = home / "site" / JOB
    return {path.name: path.stat().st_mtime_ns for path in site.rglob("*") if path.is_file()}


def test_nothing_is_written_where_nothing_changed(home: Path) -> None:
    """The second build prints the page and leaves every file as it was."""
    before = written(home)
    done = sitegen("build", JOB, cwd=home)
    assert done.stdout == f"site/{JOB}/index.html\n"
    assert written(home) == before


@pytest.mark.parametrize("name", ["index.html", "sheets.css"])
def test_a_site_that_somebody_changed_is_made_again(home: Path, name: str) -> None:
    """A page or a style that is not as it was built comes back as it was."""
    before = tree(home / "site")
    path = home / "site" / JOB / name
    path.write_bytes(path.read_bytes() + b" ")
    sitegen("build", JOB, cwd=home)
    assert tree(home / "site") == before


def test_a_site_that_is_gone_is_made_again(home: Path) -> None:
    """A page that was taken away is there again."""
    before = tree(home / "site")
    (home / "site" / JOB / "who.html").unlink()
    sitegen("build", JOB, cwd=home)
    assert tree(home / "site") == before


def test_a_fault_is_said_again_though_the_last_good_site_stands(home: Path) -> None:
    """A job that has a fault now is refused each time, and its site stays as it was."""
    before, job = written(home), home / JOB / "job.yaml"
    job.write_text(job.read_text("utf-8").replace("version: 1", "version: none"), "utf-8")
    for _ in range(2):
        done = sitegen("build", JOB, cwd=home)
        assert (done.returncode, done.stdout) == (1, "")
        assert "version" in done.stderr
    assert written(home) == before


def test_a_paper_of_the_office_beside_the_job_changes_nothing(home: Path) -> None:
    """What a command wrote beside the job is no input of its site."""
    before = written(home)
    (home / JOB / "office.html").write_text("<p>For us alone.</p>", "utf-8")
    sitegen("build", JOB, cwd=home)
    assert written(home) == before
