"""A company's own folder: how it and its jobs are found, what it may lay over ours, and where its sites go."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sitegen.errors import NoWorkspace
from sitegen.workspace import Workspace, find, is_clone, nowhere, resource
from tests.helpers import DEMO, JOB, PATIENCE, ROOT, demo_copy, sitegen, tree


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A workspace outside any clone."""
    return demo_copy(tmp_path)


def pages(home: Path) -> dict[str, str]:
    """Every page of the demo house built in a workspace, by the command."""
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    return {name: page.decode() for name, page in tree(home / "site" / JOB).items() if name.endswith(".html")}


def test_one_file_of_words_laid_over_ours(home: Path) -> None:
    """The workspace's `content/sheets/start.md` is used for ours, and every other file of words stays ours."""
    before = pages(home)
    theirs = home / "content" / "sheets" / "start.md"
    theirs.parent.mkdir(parents=True)
    text = (resource("content") / "sheets" / "start.md").read_text("utf-8")
    stop = "If you smell burning or"
    assert text.count(stop) == 1
    theirs.write_text(text.replace(stop, "If you smell burning, see sparks or"), "utf-8")
    after = pages(home)
    assert stop in before["index.html"]
    assert "If you smell burning, see sparks or" in after["index.html"]
    assert {name for name in before if before[name] != after[name]} == {
        name for name in before if stop in before[name]}
    assert after["index.html"].replace("burning, see sparks or", "burning or") == before["index.html"]


def test_one_part_of_the_theme_laid_over_ours(home: Path) -> None:
    """The workspace's `theme/parts/head/head.html` stands on every page, and all around it stays ours."""
    before = pages(home)
    theirs = home / "theme" / "parts" / "head" / "head.html"
    theirs.parent.mkdir(parents=True)
    text = (resource("theme") / "parts" / "head" / "head.html").read_text("utf-8")
    theirs.write_text(text.replace('<header class="head">', '<header class="head ours">'), "utf-8")
    after = pages(home)
    assert set(after) == set(before)
    for name, page in after.items():
        assert page.count('<header class="head ours">') == 1, name
        assert page.replace('<header class="head ours">', '<header class="head">') == before[name]


def test_ours_is_untouched_where_nothing_is_laid_over(home: Path) -> None:
    """Empty folders `content/` and `theme/` in a workspace change no byte of a site."""
    before = pages(home)
    for name in ("content", "theme"):
        (home / name).mkdir()
    assert pages(home) == before


def test_a_job_is_found_by_name_and_by_path(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A name, a path from here and a whole path all lead to one folder; a job elsewhere is none of ours."""
    monkeypatch.chdir(home / "towns")
    workspace = find(None)
    for given in (JOB, f"../{JOB}", str(home / JOB), f"{JOB}/"):
        assert workspace.job(given) == home / JOB
    for given in ("elm-street", "towns", ".", "", str(DEMO / JOB)):
        with pytest.raises(NoWorkspace, match=rf"Jobs there: {JOB}\."):
            workspace.job(given)
    assert workspace.jobs() == [home / JOB]


def test_a_workspace_is_found_upward(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From any depth the nearest company card counts, --home counts before it, and without one there is none."""
    deep = home / JOB / "photographs" / "attic"
    deep.mkdir(parents=True)
    for here in (home, home / JOB, deep):
        monkeypatch.chdir(here)
        assert find(None) == Workspace(home, home / "site")
        assert nowhere(None) is None
    inner = deep / "inner"
    shutil.copytree(DEMO / "towns", inner / "towns")
    shutil.copy(DEMO / "company.yaml", inner)
    monkeypatch.chdir(inner / "towns")
    assert find(None).home == inner
    assert find(str(home)).home == home
    monkeypatch.chdir(tmp_path)
    with pytest.raises(NoWorkspace, match=r"No company\.yaml here or in any folder above"):
        find(None)
    assert nowhere(None) == tmp_path
    assert nowhere(str(tmp_path / "not-there")) == tmp_path / "not-there"
    assert nowhere(str(home / "not-there")) is None


def test_in_a_clone_the_demo_is_the_default(monkeypatch: pytest.MonkeyPatch) -> None:
    """From the top of the clone and below it the demo workspace is found, and its sites go to `site/` at the top."""
    assert is_clone(ROOT)
    for here in (ROOT, ROOT / "tests", DEMO, DEMO / JOB):
        monkeypatch.chdir(here)
        assert find(None) == Workspace(DEMO, ROOT / "site")
        assert nowhere(None) is None


def test_what_a_workspace_builds_goes_into_it(home: Path, tmp_path: Path) -> None:
    """A site goes to the workspace's own `site/`, wherever the command runs, and beside it stands a lock alone."""
    before = tree(tmp_path)
    (tmp_path / "elsewhere").mkdir()
    done = sitegen("build", JOB, "--home", str(home), cwd=tmp_path / "elsewhere")
    assert (done.returncode, done.stdout) == (0, f"{home}/site/{JOB}/index.html\n")
    new = set(tree(tmp_path)) - set(before)
    assert new
    assert {name for name in new if not name.startswith(f"firm/site/{JOB}/")} <= {
        "firm/.sitegen/.gitignore", f"firm/.sitegen/{JOB}.lock"}


def test_what_the_demo_builds_is_ignored_by_git(tmp_path: Path) -> None:
    """In a copy of the clone the demo's site goes to `site/` at the top, and git sees no change."""
    clone = tmp_path / "clone"
    for name in ("sitegen", "content", "theme", "proposals"):
        shutil.copytree(ROOT / name, clone / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / ".gitignore", clone)
    git(clone, "init", "-q")
    git(clone, "add", ".")
    done = subprocess.run([sys.executable, "-m", "sitegen.cli", "build", JOB], cwd=clone, text=True, check=False,
                          capture_output=True, timeout=PATIENCE, env={**os.environ, "PYTHONPATH": str(clone)})
    assert (done.returncode, done.stdout, done.stderr) == (0, f"site/{JOB}/index.html\n", "")
    assert (clone / "site" / JOB / "index.html").is_file()
    assert not (clone / "proposals" / "site").exists()
    assert [line for line in git(clone, "status", "--short").splitlines() if not line.startswith("A ")] == []


def test_a_real_job_never_lands_among_tracked_files(tmp_path: Path) -> None:
    """`new` in the clone is refused with exit 2, writes nothing, and its way out works as it is told."""
    before = git(ROOT, "ls-files", "--others", "--exclude-standard", "proposals")
    done = sitegen("new", "mill-lane", cwd=DEMO)
    assert (done.returncode, done.stdout) == (2, "")
    assert "git would carry a real house away" in done.stderr
    assert git(ROOT, "ls-files", "--others", "--exclude-standard", "proposals") == before
    told = re.search(r"change into an empty folder outside the clone and run `sitegen (new mill-lane)`", done.stderr)
    assert told
    done = sitegen(*told[1].split(), cwd=tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "mill-lane" / "job.yaml").is_file()


def git(folder: Path, *arguments: str) -> str:
    """What git says of a folder."""
    return subprocess.run(["git", "-C", str(folder), *arguments], text=True, check=True, capture_output=True).stdout
