"""One direction of flow, held by reading the imports of every module."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from tests.helpers import ROOT

SITEGEN = ROOT / "sitegen"
FILES = sorted(SITEGEN.rglob("*.py"))
ATOMS = ("errors", "units", "figure", "workspace")
"""What stands on nothing and is everybody's: errors, units, the atom, a company's folder."""

LAYERS = {**dict.fromkeys(ATOMS, 0), "rules": 1, "trade": 1, "dates": 2, "job": 3, "survey": 4, "scope": 5, "offer": 6,
          "review": 7, "sheets": 8, "parallel": 9, "unchanged": 8, "lock": 1, "placing": 1, "build": 9, "office": 9,
          "sealing": 9, "filing": 9, "cli": 10}
SHEETS_MAY = "offer"
"""The one room that sheets read."""

ARRAYS = {"trade/compare.py", "trade/endings.py", "trade/firm_endings.py",
          "trade/places.py", "trade/quantiles.py", "trade/scenarios.py"}
"""What works the endings out, and is loaded where none are kept."""

NO_FILES_NO_CLOCK = {"os", "pathlib", "time", "io", "shutil", "tempfile", "glob", "subprocess", "random", "socket"}


def _name(path: Path) -> str:
    return path.relative_to(SITEGEN).as_posix()


@cache
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
    """A module imports its own layer or a lower one, without exception."""
    if path == SITEGEN / "__init__.py":
        return
    assert [module for module, _ in _ours(path) if _layer(module) > _layer(_name(path))] == []


@pytest.mark.parametrize("room", ["rules", "trade"])
def test_a_room_that_could_be_published_by_itself_imports_nothing_of_ours(room: str) -> None:
    """The pure calculators know no Figure, no job and no HTML, and the rules are read without any of them."""
    outside = {(_name(path), module) for path in (SITEGEN / room).rglob("*.py") for module, _ in _ours(path)
               if not module.startswith(f"{room}.") and module != room}
    assert outside == set()


def test_dates_import_the_trade_and_themselves_alone() -> None:
    """Calendars and plans take results of the trade, and know no Figure and no job."""
    assert {module.split(".")[0] for path in (SITEGEN / "dates").rglob("*.py") for module, _ in _ours(path)} <= {
        "dates", "trade"}


@pytest.mark.parametrize("path", sorted((SITEGEN / "sheets").rglob("*.py")), ids=_name)
def test_sheets_read_the_offer_and_nothing_else(path: Path) -> None:
    """Sheets import the Offer and its parts, beside the atoms and each other."""
    rooms = {module.split(".")[0] for module, _ in _ours(path)}
    assert rooms <= {SHEETS_MAY, "sheets", *ATOMS}


def test_no_circle_of_files() -> None:
    """Following imports from file to file never leads back."""
    leads = {_name(path).removesuffix(".py").removesuffix("/__init__").replace("/", "."):
             {module for module, names in _ours(path)} | {f"{module}.{name}" for module, names in _ours(path)
                                                          for name in names} for path in FILES}
    done: set[str] = set()

    def follow(module: str, trail: tuple[str, ...]) -> None:
        assert module not in trail, " -> ".join((*trail, module))
        if module in done or module not in leads:
            return
        for one in sorted(leads[module]):
            follow(one, (*trail, module))
        done.add(module)
    for module in sorted(leads):
        follow(module, ())


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
    """Nothing but `cli.py`, and that of the archive, prints, uses click, or ends the process."""
    assert {module.split(".")[0] for module, _ in _imports(path)} & {"click"} == set()
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in {"print", "exit", "quit"}
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "sys":
            assert node.attr not in {"exit", "stdout", "stderr"}


def test_the_endings_alone_import_numpy_and_nothing_imports_scipy() -> None:
    """Numpy is known to the arrays of the endings, and they to each other and to the build, which loads them late."""
    def importing(*heavy: str) -> set[str]:
        return {_name(path) for path in FILES for module, _ in _imports(path) if module.split(".")[0] in heavy}

    loaders = {_name(path) for path in FILES for module, _ in _ours(path) if f"{module.replace('.', '/')}.py" in ARRAYS}
    top = {node.module for node in _tree(SITEGEN / "build.py").body if isinstance(node, ast.ImportFrom)}
    assert importing("numpy") == ARRAYS - {"trade/endings.py"}
    assert importing("scipy", "pandas") == set()
    assert loaders == ARRAYS - {"trade/places.py"} | {"build.py"}
    assert "sitegen.trade.endings" not in top


def test_the_archive_is_reached_by_its_own_commands_alone() -> None:
    """No build and no page knows of filing, which reads none of what makes pages."""
    into = {(_name(path), module) for path in FILES for module, _ in _ours(path)
            if module.startswith("filing") and not _name(path).startswith("filing/")}
    rooms = {module.split(".")[0] for path in (SITEGEN / "filing").rglob("*.py") for module, _ in _ours(path)}
    assert into == {("cli.py", "filing.cli")}
    assert rooms <= {"filing", "offer", "job", "dates", "rules", *ATOMS}


@pytest.mark.parametrize("file", ["cli.py", "filing/cli.py"])
def test_the_command_line_imports_late(file: str) -> None:
    """A file of commands imports at its top only what `--help` needs."""
    top = [node for node in _tree(SITEGEN / file).body if isinstance(node, ast.ImportFrom)]
    ours = {node.module for node in top if node.module and node.module.startswith("sitegen")}
    assert ours == {"sitegen.errors", "sitegen.workspace"}
