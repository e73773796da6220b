"""What many tests need: a copy of the demo workspace, an edit of one of its files, a command run for real."""

from __future__ import annotations

import gc
import json
import os
import re
import shutil
import subprocess
import sys
from contextlib import chdir, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from typing import Any

import yaml

from sitegen import build as sitegen_build
from sitegen.cli import main
from sitegen.errors import Faults
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.job.model import Job
from sitegen.survey.rule_sets import rule_set
from sitegen.trade.terms import House

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "proposals"
JOB = "alder-lane"
JOB_FILE = f"{JOB}/job.yaml"
BAD_JOBS = Path(__file__).parent / "bad_jobs"
PATIENCE = 600
"""How long a process may take [s], on a machine that is busy with other things."""


def demo_copy(tmp_path: Path) -> Path:
    """The demo workspace with one of its houses, JOB, copied where a test may change it."""
    home = tmp_path / "firm"
    others = [path.parent.name for path in DEMO.glob("*/job.yaml") if path.parent.name != JOB]
    built = ("site", "public", "archive", "office.html")
    shutil.copytree(DEMO, home, ignore=shutil.ignore_patterns(*built, *others))
    return home


def edit(path: Path, old: str, new: str) -> None:
    """Replace `old`, which must stand exactly once in the file, by `new`."""
    text = path.read_text("utf-8")
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {path.name}"
    path.write_text(text.replace(old, new), "utf-8")


def faults(home: Path, job: str = JOB) -> list[str]:
    """Every fault of a job as it would be printed from inside the workspace; empty when there is none."""
    try:
        load(home, home / job, home)
    except Faults as error:
        return [str(fault) for fault in error.faults]
    return []


@dataclass(frozen=True)
class BadJob:
    """Edits to the demo, and every fault that they must bring, with its line given by the text of the line."""

    name: str
    edits: tuple[dict[str, str], ...]
    says: tuple[str, ...]

    def make(self, home: Path) -> None:
        """Apply the edits."""
        for one in self.edits:
            edit(home / one["in"], one["old"], one["new"])

    def expected(self, home: Path) -> list[str]:
        """The whole messages; `<<text>>` stands for the number of the one line that holds that text.

        `<<text @ 2>>` is two lines further down, for a line that has no text of its own.
        """
        return [re.sub(r"^(\S+?):<<(.+?)>>", lambda found: self._line(home, found), said) for said in self.says]

    @staticmethod
    def _line(home: Path, found: re.Match[str]) -> str:
        text, _, further = found[2].partition(" @ ")
        lines = (home / found[1]).read_text("utf-8").splitlines()
        at = [number for number, line in enumerate(lines, 1) if text in line]
        assert len(at) == 1, f"{text!r} stands in lines {at} of {found[1]}"
        return f"{found[1]}:{at[0] + int(further or 0)}"


def bad_jobs(file: str) -> list[BadJob]:
    """The cases of one file of `bad_jobs/`."""
    cases: dict[str, Any] = yaml.safe_load((BAD_JOBS / file).read_text("utf-8"))
    return [BadJob(name, tuple(case["edits"]), tuple(case["says"] or ())) for name, case in cases.items()]


@dataclass(frozen=True)
class Done:
    """How a command ended: its exit code, and what it wrote to standard output and to standard error."""

    returncode: int
    stdout: str
    stderr: str


def sitegen(*arguments: str, cwd: Path) -> Done:
    """The command in this process, as from a folder, with nothing made ready before that a process would not have."""
    out, err, code = StringIO(), StringIO(), 0
    was, often = sys.argv, gc.get_threshold()
    sitegen_build._writer.cache_clear()
    try:
        sys.argv = ["sitegen", *arguments]
        with chdir(cwd), redirect_stdout(out), redirect_stderr(err):
            main()
    except SystemExit as ended:
        code = int(ended.code or 0)
    finally:
        sys.argv = was
        gc.set_threshold(*often)
    return Done(code, out.getvalue(), err.getvalue())


def process(*arguments: str, cwd: Path) -> Done:
    """The command in a process of its own."""
    done = subprocess.run([sys.executable, "-m", "sitegen.cli", *arguments], cwd=cwd, text=True, check=False,
                          capture_output=True, timeout=PATIENCE, env={**os.environ, "PYTHONPATH": str(ROOT)})
    return Done(done.returncode, done.stdout, done.stderr)


def tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, with its bytes."""
    return {path.relative_to(folder).as_posix(): path.read_bytes()
            for path in sorted(folder.rglob("*")) if path.is_file()}


def figures_of(home: Path) -> list[dict[str, Any]]:
    """What `sitegen figures --json` prints for the demo job of a workspace."""
    done = sitegen("figures", JOB, "--json", "--home", str(home), cwd=home)
    assert done.returncode == 0, done.stderr
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return found


def read_job(home: Path, job: str = JOB) -> Job:
    """A sound job of a workspace as it is read."""
    return load(home, home / job, home).job


def house_in(inputs: Inputs) -> House:
    """What an ending turns on, with the price and the bare floor of each option, as a build works them out."""
    return sitegen_build.context_of(inputs, rule_set(inputs.town.code)).house
