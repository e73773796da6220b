"""Nothing that is kept between builds hides a change: each kind of input is edited, and the page changes."""

from __future__ import annotations

import shutil
from functools import lru_cache
from pathlib import Path

import pytest
from PIL import Image

from sitegen import build
from sitegen.rules import read as rules
from sitegen.sheets import cache
from sitegen.sheets.cache import Cache
from sitegen.workspace import PACKAGE
from tests.helpers import JOB, JOB_FILE, ROOT, demo_copy, edit, sitegen, tree

EDITS = {
    "the job": (JOB_FILE, "address: 61 Alder Lane", "address: 63 Alder Lane"),
    "the price book": ("price-book.yaml", "protect outlet: $85", "protect outlet: $86"),
    "the company": ("company.yaml", "name: Osterby Electric LLC", "name: Osterby Wiring LLC"),
    "the cost book": ("cost-book.yaml", "hours a day: 8", "hours a day: 7"),
    "the town": ("towns/pellam-ford.yaml", "No board has to agree.", "One board has agreed."),
    "the state": ("states/tessamin.yaml", "cancel within: 3", "cancel within: 4"),
    "a word": ("content/sheets/start.md", "get everyone out and call", "leave and call"),
    "a template": ("theme/parts/head/head.html", '<header class="head">', '<header class="head"><!-- -->'),
    "a style": ("theme/css/base.css", "body{container-type", "body{orphans:3;container-type"),
    "a style that a part has": ("theme/parts/bars/bars.css", ".bars{border-bottom", ".bars{orphans:3;border-bottom"),
    "a script": ("theme/js/core.js", '"use strict";', '"use strict"; const changed = true;'),
    "a drawing": ("theme/drawings/feed.svg", 'cx="203" cy="99"', 'cx="204" cy="99"'),
    "the marks of a drawing": ("theme/parts/marks/marks.html", 'r="7.5"', 'r="7"'),
}
"""A file of the workspace, or one of ours that it lays its own over; what stands there; what is put in its place."""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo workspace with its house built, and a photograph in it, and all that is kept in a cache of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(build, "_cache", lru_cache(build._cache.__wrapped__))
    home = demo_copy(tmp_path)
    Image.new("RGB", (40, 30), (200, 180, 150)).save(home / JOB / "hall.png")
    with (home / JOB_FILE).open("a", encoding="utf-8") as file:
        file.write("  - {file: hall.png, of: The hall}\n")
    return home


def _built(home: Path) -> dict[str, bytes]:
    done = sitegen("build", JOB, cwd=home)
    assert done.stderr == ""
    return tree(home / "site")


def test_each_kind_of_input_is_read_anew(home: Path) -> None:
    """An edit of any file that a page stands on changes the site, and taking it back gives the same bytes again."""
    before = _built(home)
    assert _built(home) == before
    for what, (name, old, new) in EDITS.items():
        path = home / name
        if laid_over := not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, path)
        was = path.read_text("utf-8")
        edit(path, old, new)
        assert _built(home) != before, what
        path.write_text(was, "utf-8")
        if laid_over:
            path.unlink()
    Image.new("RGB", (40, 30), (0, 180, 150)).save(home / JOB / "hall.png")
    assert {name.split("/")[-1] for name, data in _built(home).items() if data != before[name]} == {
        "photo-8.webp", "photo-8.jpg"}


def test_a_rule_is_read_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was kept gives the rules of the files, damaged or not; a number that changes in a file is the one read."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    read = rules.every_rule.__wrapped__
    monkeypatch.setattr(rules, "_keep", rules._afresh)
    afresh, kept = read(), Cache()
    monkeypatch.setattr(rules, "_keep", kept.kept)
    assert read() == afresh
    assert read() == afresh
    assert kept.folder is not None
    (one,) = kept.folder.glob("rules-*.json")
    one.write_text("{", "utf-8")
    assert read() == afresh
    folder = tmp_path / "rules"
    shutil.copytree(rules.FOLDER, folder)
    monkeypatch.setattr(rules, "FOLDER", folder)
    assert read() == afresh
    edit(folder / "general.yaml", "cancel-business-days:\n  value: 3\n", "cancel-business-days:\n  value: 5\n")
    assert {key for key, row in read().items() if row != afresh[key]} == {"cancel-business-days"}


@pytest.mark.parametrize("change", ["a source", "a new source", "a package", "Python"])
def test_what_is_kept_is_left_when_what_it_was_made_by_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                                               change: str) -> None:
    """A source file of ours, another version of a package or another Python starts a folder of its own."""
    package, packages = tmp_path / "sitegen", tmp_path / "packages"
    shutil.copytree(PACKAGE, package, ignore=shutil.ignore_patterns("__pycache__"))
    (packages / "jinja2-3.1.6.dist-info").mkdir(parents=True)
    monkeypatch.setattr(cache, "PACKAGE", package)
    monkeypatch.syspath_prepend(packages)
    before = cache._stamp()
    assert cache._stamp() == before
    if change == "a source":
        edit(package / "units.py", "from __future__ import annotations\n", "from __future__ import annotations  # \n")
    elif change == "a new source":
        (package / "more.py").write_text("", "utf-8")
    elif change == "a package":
        (packages / "jinja2-3.1.6.dist-info").rename(packages / "jinja2-3.1.7.dist-info")
    else:
        monkeypatch.setattr("sys.version_info", (3, 99, 0))
    assert cache._stamp() != before
