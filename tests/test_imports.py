"""One direction of flow, held by reading the imports of every module."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.helpers import ROOT

SITEGEN = ROOT / "sitegen"
FILES = sorted(SITEGEN.rglob("*.py"))
LAYERS = {"errors": 0, "money": 0, "units": 0, "figure": 0, "workspace": 0, "job": 1, "rules": 2, "trade": 2,
          "dates": 3, "ruleset": 3, "setting": 3, "protection": 4, "design": 4, "paying": 4, "review": 4, "offer": 4,
          "rows": 4, "ahead": 4, "sheets": 5, "build": 6, "cli": 7}
FIELDS_OF_JOB = {"job/parts.py": {"trade.feeds", "trade.kinds"}, "job/fields.py": {"trade.terms"},
                 "job/check_rooms.py": {"trade.feeds"}, "job/check_job.py": {"trade.kinds"},
                 "job/check_cards.py": {"trade.old_wiring"}, "job/scaffold.py": {"trade.kinds"},
                 "job/starts.py": {"trade.kinds"}}
"""Names of the trade that a field may take its answers from: plain constants and types, nothing worked out."""

SHEETS_MAY = ("ahead", "errors", "figure", "money", "workspace", "offer", "rows", "sheets", "trade.outcome",
              "trade.parts", "trade.found", "trade.chances", "trade.rooms", "dates.schedule", "protection",
              "design", "paying")
NO_FILES_NO_CLOCK = {"os", "pathlib", "time", "io", "shutil", "tempfile", "glob", "subprocess", "random", "socket"}


def _name(path: Path) -> str:
    return path.relative_to(SITEGEN).as_posix()


def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def _imports(path: Path) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every module that a file imports, wherever in the file, with the names taken from it."""
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, ()
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{_name(path)} imports relatively"
            yield node.module or "", tuple(alias.name for alias in node.names)


def _ours(path: Path) -> Iterator[tuple[str, tuple[str, ...]]]:
    for module, names in _imports(path):
        if module == "sitegen":
            yield from ((name, ()) for name in names)
        elif module.startswith("sitegen."):
            yield module.removeprefix("sitegen."), names


def _layer(module: str) -> int:
    return LAYERS[module.split("/")[0].split(".")[0]]


@pytest.mark.parametrize("path", FILES, ids=_name)
def test_no_module_imports_upward(path: Path) -> None:
    """A module imports its own layer or a lower one; a field of a job may take plain names of the trade."""
    if path == SITEGEN / "__init__.py":
        return
    mine = _layer(_name(path))
    allowed = FIELDS_OF_JOB.get(_name(path), set())
    upward = [module for module, _ in _ours(path) if _layer(module) > mine and module not in allowed]
    assert upward == []


def test_what_a_field_takes_from_the_trade_rests_on_nothing() -> None:
    """The modules of the trade that job/ takes names from import nothing of ours but each other."""
    for module in sorted(set.union(*FIELDS_OF_JOB.values())):
        path = SITEGEN / f"{module.replace('.', '/')}.py"
        assert [name for name, _ in _ours(path) if not name.startswith("trade.")] == [], module


@pytest.mark.parametrize("path", sorted((SITEGEN / "sheets").rglob("*.py")), ids=_name)
def test_sheets_read_the_offer_and_nothing_of_the_job(path: Path) -> None:
    """Sheets import the offer, its figures and its parts; of the job, the count of rows and keys of details."""
    for module, names in _ours(path):
        if module == "job.parts":
            assert set(names) <= {"ROWS", "DETAILS"}
        else:
            assert any(module == may or module.startswith(f"{may}.") for may in SHEETS_MAY), module


def test_one_file_alone_imports_mkdocs() -> None:
    """MkDocs is known to `sheets/mkdocs_site.py` and to no other module."""
    who = {_name(path) for path in FILES for module, _ in _imports(path) if module.split(".")[0] == "mkdocs"}
    assert who == {"sheets/mkdocs_site.py"}


@pytest.mark.parametrize("path", [*sorted((SITEGEN / "trade").rglob("*.py")),
                                  *sorted((SITEGEN / "dates").rglob("*.py"))], ids=_name)
def test_trade_and_dates_touch_no_files_and_no_clock(path: Path) -> None:
    """What the trade works out depends on its arguments alone."""
    assert {module.split(".")[0] for module, _ in _imports(path)} & NO_FILES_NO_CLOCK == set()
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            assert node.func.attr not in {"now", "today", "utcnow", "read_text", "write_text"}, node.func.attr
        if isinstance(node, ast.Name):
            assert node.id not in {"open", "input"}, node.id


@pytest.mark.parametrize("path", [path for path in FILES if path.name != "cli.py"], ids=_name)
def test_only_the_command_line_prints_or_exits(path: Path) -> None:
    """Nothing but `cli.py` prints, uses click, or ends the process."""
    assert {module.split(".")[0] for module, _ in _imports(path)} & {"click"} == set()
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in {"print", "exit", "quit"}
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "sys":
            assert node.attr not in {"exit", "stdout", "stderr"}


def test_no_numpy_and_no_scipy() -> None:
    """Exact sums are faster than importing numpy, so nothing here does."""
    heavy = {"numpy", "scipy", "pandas"}
    assert [_name(path) for path in FILES for module, _ in _imports(path) if module.split(".")[0] in heavy] == []


def test_the_command_line_imports_late() -> None:
    """`cli.py` imports at its top only what `--help` needs."""
    top = [node for node in _tree(SITEGEN / "cli.py").body if isinstance(node, ast.ImportFrom)]
    ours = {node.module for node in top if node.module and node.module.startswith("sitegen")}
    assert ours == {"sitegen.errors", "sitegen.workspace"}
