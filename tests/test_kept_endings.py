"""Endings are worked out once and kept: numpy is loaded where they are not, and nowhere else."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitegen import build as line
from sitegen.errors import BuildError
from sitegen.job.load import load
from sitegen.survey.house import belief_of
from sitegen.trade import endings
from sitegen.trade.terms import Belief, House
from sitegen.trade.worked import Worked, from_plain
from sitegen.workspace import Workspace
from tests.helpers import DEMO, JOB, ROOT, demo_copy, house_in

IN_A_NEW_PROCESS = """
import json, os, sys
from pathlib import Path
from sitegen.build import build
from sitegen.workspace import Workspace
imported = "numpy" in sys.modules
home = Path(sys.argv[1])
build(Workspace(home, home / "site"), home / sys.argv[2])
print(json.dumps([imported, "numpy" in sys.modules, os.environ.get("OPENBLAS_NUM_THREADS")]))
"""


def build_in_a_new_process(home: Path, cache: Path) -> list[object]:
    """Whether numpy is loaded once the build is imported, and once it is done, and the threads that it was given."""
    env = {name: value for name, value in os.environ.items() if name != "OPENBLAS_NUM_THREADS"}
    done = subprocess.run([sys.executable, "-c", IN_A_NEW_PROCESS, str(home), JOB], cwd=home, text=True, check=True,
                          capture_output=True, timeout=120,
                          env={**env, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(cache)})
    found: list[object] = json.loads(done.stdout)
    return found


@pytest.fixture
def empty_cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[None]:
    """Nothing kept, and a folder of this test's own to keep things in."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    line._cache.cache_clear()
    yield
    line._cache.cache_clear()


def test_numpy_is_loaded_only_where_no_endings_are_kept(tmp_path: Path) -> None:
    """Neither importing the build nor a build whose endings are kept loads numpy; one without them does, unthreaded."""
    home, cache = demo_copy(tmp_path), tmp_path / "cache"
    cache.mkdir()
    assert build_in_a_new_process(home, cache) == [False, True, "1"]
    [kept] = cache.rglob("endings-*.json")
    assert build_in_a_new_process(home, cache) == [False, False, None]
    kept.write_text("{}", "utf-8")
    assert build_in_a_new_process(home, cache) == [False, True, "1"]
    assert isinstance(from_plain(json.loads(kept.read_text("utf-8"))), Worked)


@pytest.mark.usefixtures("empty_cache")
def test_a_house_that_is_too_large_is_a_build_error(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A house over the budget cannot be built, and the error gives its size; nothing is written."""
    monkeypatch.setattr("sitegen.trade.sizes.MOST_PLACES", 1000)
    with pytest.raises(BuildError, match=r"this house has [\d,]+ places .* at most 1,000 are worked out"):
        line.build(Workspace(DEMO, tmp_path / "site"), DEMO / JOB)
    assert not (tmp_path / "site").exists()


@pytest.mark.usefixtures("empty_cache")
def test_another_house_has_endings_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is kept is found again for the same house and belief, and for no other house."""
    work_out, asked = endings.work_out, list[House]()

    def counted(house: House, belief: Belief) -> Worked:
        asked.append(house)
        return work_out(house, belief)

    monkeypatch.setattr(endings, "work_out", counted)
    for job in (JOB, JOB, "juniper-court", JOB):
        inputs = load(DEMO, DEMO / job, DEMO)
        line._worked(house_in(inputs), belief_of(inputs.company))
    assert len(asked) == 2
