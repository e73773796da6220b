"""The wheel: installed alone into an empty environment it starts a workspace and builds the demo house."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from sitegen.sheets.sheets import SHEETS
from tests.helpers import DEMO, JOB, PATIENCE, ROOT, edit, tree

NEEDED = ("sitegen", "content", "theme", "pyproject.toml", "README.md")
SENTENCE = ("If you smell burning or", "If you smell burning, see sparks or")
MARK = ('<header class="head">', '<header class="head by-the-wheel">')


def run(*command: str | Path, cwd: Path) -> str:
    """What a command prints; it must succeed, and sees nothing of the tree that the tests run from."""
    env = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME")}
    done = subprocess.run([str(part) for part in command], cwd=cwd, text=True, check=False, capture_output=True,
                          timeout=PATIENCE, env={**env, "PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_NO_INPUT": "1"})
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="session")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The commands of an environment that holds a wheel of this tree, with a sentence and a part marked.

    The tree that the wheel was built from is gone when this returns.
    """
    base = tmp_path_factory.mktemp("wheel")
    source = base / "source"
    source.mkdir()
    for name in NEEDED:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(ROOT / name, source / name)
    edit(source / "content" / "sheets" / "start.md", *SENTENCE)
    edit(source / "theme" / "parts" / "head" / "head.html", *MARK)
    alone = ["--no-build-isolation"] if find_spec("hatchling") else []
    run(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", *alone, "-w", base / "dist", source, cwd=base)
    shutil.rmtree(source)
    run(sys.executable, "-m", "venv", "--without-pip", base / "env", cwd=base)
    commands = base / "env" / "bin"
    run(sys.executable, "-m", "pip", "--python", commands / "python", "install", "-q", "--no-compile",
        *(base / "dist").glob("sitegen-*.whl"), cwd=base)
    return commands


def test_the_wheel_alone_starts_a_workspace_and_builds_the_demo(installed: Path, tmp_path: Path) -> None:
    """From an empty folder `new` starts a workspace and `build` makes every page, with the wheel's words and theme."""
    written = run(installed / "sitegen", "new", JOB, cwd=tmp_path).splitlines()
    assert (written[0], written[-1]) == ("company.yaml", f"{JOB}/job.yaml")
    assert sorted(tree(tmp_path)) == sorted(written)
    for name in ("company.yaml", "price-book.yaml", "cost-book.yaml", f"{JOB}/job.yaml"):
        shutil.copy(DEMO / name, tmp_path / name)
    for name in ("towns", "states", f"{JOB}/photos", "people"):
        shutil.copytree(DEMO / name, tmp_path / name, dirs_exist_ok=True)
    assert run(installed / "sitegen", "build", JOB, cwd=tmp_path) == f"site/{JOB}/index.html\n"
    site = tree(tmp_path / "site" / JOB)
    assert set(site) >= {sheet.file for sheet in SHEETS} | {"sheets.css"}
    assert all(MARK[1].encode() in page for name, page in site.items() if name.endswith(".html"))
    assert SENTENCE[1].encode() in site["index.html"]
    _words_and_theme_lie_in(installed.parent, tmp_path)


def _words_and_theme_lie_in(environment: Path, cwd: Path) -> None:
    """The installed package holds every file of `content/` and `theme/`, and uses these."""
    ask = "from sitegen.workspace import resource; print(resource('content')); print(resource('theme'))"
    for folder in map(Path, run(environment / "bin" / "python", "-c", ask, cwd=cwd).splitlines()):
        assert folder.is_relative_to(environment)
        assert set(tree(folder)) == set(tree(ROOT / folder.name))
