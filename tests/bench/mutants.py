"""Whether the tests notice when a calculation is wrong: small changes to its modules, one at a time.  Run by hand:

    python -m tests.bench.mutants                                  (200 of all changes, by a fixed seed)
    python -m tests.bench.mutants --sample 40 sitegen/trade/panel.py
    python -m tests.bench.mutants sitegen/trade/panel.py:12        (changes by their number, as printed)

The tree is copied and a change is made in the copy.  Tests run in a process forked from this one, which holds pytest
and what the tests need but nothing of sitegen; those that mirror or import the module first, then the others that it
reaches, to the first that fails.  A change that takes much more processor time than the tests should is noticed too.
What lives is printed with its line: a rule without a test, code without effect, or a change that changes nothing.
"""

from __future__ import annotations

import argparse
import importlib
import json
import os
import random
import resource
import shutil
import signal
import sys
import traceback
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time

import pytest
from hypothesis import Phase, settings

from tests.bench.mutations import Mutation, mutated, mutations
from tests.bench.reach import Reach

ROOT = Path(__file__).resolve().parents[2]
MUTATED = ("sitegen/trade/*.py", "sitegen/dates/*.py", "sitegen/survey/*.py", "sitegen/offer/design/*.py",
           "sitegen/offer/rows.py", "sitegen/offer/row_answers.py", "sitegen/offer/protection.py",
           "sitegen/offer/option_money.py", "sitegen/review/*.py", "sitegen/sheets/audit/*.py")
"""Modules that the run samples, as globs from the top of the tree."""

TESTS = ("tests/trade/test_*.py", "tests/dates/test_*.py", "tests/survey/test_*.py", "tests/offer/test_*.py",
         "tests/review/test_*.py", "tests/published/test_*.py",
         "tests/golden/test_*.py", "tests/sheets/test_*.py", "tests/test_*.py")
NOT_RUN = ("tests/test_wheel.py", "tests/test_cli.py", "tests/test_workspace.py", "tests/sheets/test_html.py",
           "tests/sheets/test_weight.py", "tests/sheets/test_photos.py")
"""Tests of other things than calculations, or of processes and packages of their own."""

COPIED = ("sitegen", "content", "theme", "proposals", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")
HELD = ("hypothesis", "yaml", "pydantic", "jinja2", "markdown", "mkdocs.config.defaults", "bs4", "PIL.Image",
        "playwright.sync_api", "numpy", "scipy.stats", "jsonschema")
"""Imported once, before any process is forked."""

FIRST, SLACK, MEMORY = 10, 3, 4 << 30
"""Processor time that a run may take: FIRST seconds and SLACK times what its tests take on sound code; memory [B]."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """A change of a module."""

    path: str
    change: Mutation

    def __str__(self) -> str:
        was, now = (" ".join(text.split())[:110] for text in (self.change.was, self.change.now))
        return f"{self.path}:{self.change.number}  line {self.change.line}: {was}  ->  {now}"


@dataclass(slots=True, eq=False)
class Watch:
    """A plugin of pytest: processor time of each file of tests [s], and the first test that failed."""

    seconds: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    failed: str | None = None
    clock: float = 0

    def pytest_collection_finish(self) -> None:
        self.clock = process_time()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        now = process_time()
        self.seconds[report.nodeid.partition("::")[0]] += now - self.clock
        self.clock = now
        if report.failed:
            self.failed = self.failed or report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.failed = self.failed or report.nodeid


class Copy:
    """The copy of the tree, in which tests run and one file at a time is changed."""

    def __init__(self, scratch: Path) -> None:
        self.scratch, self.top, self.seconds = scratch, scratch / "tree", dict[str, float]()
        self.top.mkdir()
        for name in COPIED:
            copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy2
            copy(ROOT / name, self.top / name)

    def noticed(self, mutant: Mutant, stages: Iterable[Iterable[str]]) -> str | None:
        """What notices a change: a test, or "time"; None where nothing does."""
        return next((found for tests in stages if (found := self._by(mutant, tests)) is not None), None)

    def _by(self, mutant: Mutant, stage: Iterable[str]) -> str | None:
        self._sound([test for test in stage if test not in self.seconds])
        tests = sorted(stage, key=lambda test: self.seconds[test])
        if not tests:
            return None
        path = self.top / mutant.path
        sound, stat = path.read_text("utf-8"), path.stat()
        path.write_text(mutated(sound, mutant.change.number), "utf-8")
        os.utime(path, (stat.st_atime, stat.st_mtime + 60))     # so that no compiled file is taken for it
        try:
            return self._run(tests, FIRST + SLACK * sum(self.seconds[test] for test in tests)).failed
        finally:
            path.write_text(sound, "utf-8")
            os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))

    def _sound(self, tests: list[str]) -> None:
        """Run tests on sound code: they must pass; their times are kept, and Python's compiled files."""
        if not tests:
            return
        done = self._run(tests, None)
        if done.failed is not None:
            sys.exit(f"{done.failed} fails on sound code:\n{(self.scratch / 'out').read_text('utf-8')[-3000:]}")
        self.seconds.update(dict.fromkeys(tests, 0.0) | done.seconds)

    def _run(self, tests: list[str], limit: float | None) -> Watch:
        """Run tests in a process of their own, for so many seconds of processor time at most."""
        result, work = self.scratch / "result", self.scratch / "work"
        result.unlink(missing_ok=True)
        shutil.rmtree(work, ignore_errors=True)
        work.mkdir()
        child = os.fork()
        if child == 0:
            try:
                self._child(tests, limit, result, work)
            except BaseException:
                traceback.print_exc()
            finally:
                os._exit(0)
        ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        if result.exists():
            return Watch(**json.loads(result.read_text("utf-8")))
        if -ended in (signal.SIGXCPU, signal.SIGALRM, signal.SIGKILL) and limit is not None:
            return Watch(failed=f"time: over {limit:.0f} s")
        return Watch(failed=f"the process that ended with {ended}")

    def _child(self, tests: list[str], limit: float | None, result: Path, work: Path) -> None:
        os.chdir(self.top)
        sys.path[:] = [str(self.top), *(path for path in sys.path if path and Path(path).resolve() != ROOT)]
        for name in [name for name in sys.modules if name.partition(".")[0] == "tests"]:
            del sys.modules[name]
        os.environ.update(XDG_CACHE_HOME=str(work / "cache"), PYTHONPATH=str(self.top))
        if limit is not None:
            sys.dont_write_bytecode = True
            resource.setrlimit(resource.RLIMIT_CPU, (int(limit), int(limit) + 5))
            signal.alarm(int(limit) * 200)
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        out = os.open(self.scratch / "out", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        for stream in (1, 2):
            os.dup2(out, stream)
        watch = Watch()
        code = pytest.main(["-x", "-q", "--tb=short", "--hypothesis-profile=mutants", f"--basetemp={work / 'tmp'}",
                            "-W", "ignore::pytest.PytestAssertRewriteWarning", *tests], plugins=[watch])
        sys.stdout.flush()
        home = str(getattr(sys.modules.get("sitegen"), "__file__", self.top))
        if not home.startswith(str(self.top)):
            watch.failed = f"sitegen came from {home}"
        elif code != pytest.ExitCode.OK:
            watch.failed = watch.failed or f"pytest ended with {code}"
        part = result.with_suffix(".part")
        part.write_text(json.dumps({"seconds": watch.seconds, "failed": watch.failed}), "utf-8")
        part.rename(result)


def main() -> None:
    """Make the changes, and say how many live and which."""
    asked = argparse.ArgumentParser(prog="python -m tests.bench.mutants",
                                    description="How many small changes to the calculations no test notices.")
    asked.add_argument("what", nargs="*", default=MUTATED, help="globs of modules, or MODULE:NUMBER of a change")
    asked.add_argument("--sample", type=int, default=200, help="how many changes; 0 for all")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--not", dest="without", nargs="*", default=(), help="globs of modules left out")
    given = asked.parse_args()
    mutants = _sampled(tuple(_mutants(given.what, given.without)), given.sample, given.seed)
    if not mutants:
        sys.exit("nothing to change")
    for name in HELD:
        importlib.import_module(name)
    settings.register_profile("mutants", derandomize=True, deadline=None, phases=(Phase.explicit, Phase.generate))
    with TemporaryDirectory(prefix="sitegen-mutants-") as folder:
        _report(mutants, dict(_run(mutants, Path(folder))))


def _mutants(what: Iterable[str], without: Iterable[str]) -> Iterator[Mutant]:
    left_out = {path for glob in without for path in _files(glob)}
    for glob, _, number in (text.partition(":") for text in what):
        for path in sorted({*_files(glob)} - left_out):
            for change in mutations((ROOT / path).read_text("utf-8")):
                if not number or change.number == int(number):
                    yield Mutant(path, change)


def _files(glob: str) -> list[str]:
    found = sorted(path.relative_to(ROOT).as_posix() for path in ROOT.glob(glob))
    if not found:
        print(f"error: no file is {glob}; it is left out", file=sys.stderr)
    return found


def _sampled(mutants: tuple[Mutant, ...], count: int, seed: int) -> list[Mutant]:
    rng = random.Random(seed)
    found = list(mutants) if not 0 < count < len(mutants) else rng.sample(mutants, count)
    return sorted(found, key=lambda mutant: (mutant.path, mutant.change.number))


def _run(mutants: list[Mutant], scratch: Path) -> Iterator[tuple[Mutant, str | None]]:
    """Each mutant with what noticed it."""
    not_run = {test for glob in NOT_RUN for test in _files(glob)}
    every = sorted({test for glob in TESTS for test in _files(glob)} - not_run)
    reach = Reach(ROOT, every)
    copy = Copy(scratch)
    for i, mutant in enumerate(mutants):
        by = copy.noticed(mutant, reach.stages(mutant.path))
        print(f"{i + 1}/{len(mutants)} {mutant}\n      {'LIVES' if by is None else by}", flush=True)
        yield mutant, by


def _report(mutants: list[Mutant], noticed: dict[Mutant, str | None]) -> None:
    """A line a module, the list of what lives, and the share."""
    lives = [mutant for mutant in mutants if noticed[mutant] is None]
    print(f"\n{'module':<40}{'changes':>8}{'noticed':>8}{'live':>6}")
    for path in dict.fromkeys(mutant.path for mutant in mutants):
        here = [noticed[mutant] for mutant in mutants if mutant.path == path]
        print(f"{path:<40}{len(here):>8}{len(here) - here.count(None):>8}{here.count(None):>6}")
    print("", *lives, sep="\n")
    print(f"\n{len(lives)} of {len(mutants)} live: {100 * len(lives) / len(mutants):.1f} %")


if __name__ == "__main__":
    main()
