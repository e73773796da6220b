"""How long a build takes, beside a plain MkDocs build of the same words.  Run by hand:

    python -m tests.bench.speed            (--quick for fewer repeats)

The kinds of new process take turns in one run, so that a busy machine slows all alike, and are told by user CPU, which
waiting does not count in.  Python's own compiled files are there in all of them; "nothing changed" finds the site as it
was left, "made again" finds no site and makes it from what is kept, "audited again" means that no audit is kept, "one
house edited" that a count of a room was changed, "first run" that our own cache folder is empty.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from sitegen.job.document import read
from sitegen.job.load import load
from sitegen.survey.house import belief_of
from sitegen.trade import feeds
from sitegen.trade.terms import Belief, House
from tests.bench.made_jobs import make_jobs
from tests.bench.plain import plain_site, words_in
from tests.helpers import DEMO, JOB, ROOT, demo_copy, house_in
from tests.job.test_document import LARGE
from tests.trade.large_house import large_house

BIN = Path(sys.executable).parent
EARLY = 20
"""Peak memory is read after this many jobs, and after all."""
Row = tuple[str, str, str]


def main() -> None:
    """Measure everything and print one table."""
    asked = argparse.ArgumentParser(prog="python -m tests.bench.speed", description="How long a build takes.")
    asked.add_argument("-n", type=int, default=7, help="repeats of each new process")
    asked.add_argument("--jobs", type=int, default=200, help="jobs built in one process")
    asked.add_argument("--seed", type=int, default=1, help="of the invented jobs")
    asked.add_argument("--quick", action="store_true", help="3 repeats and 40 jobs")
    asked.add_argument("--batch", type=Path, help=argparse.SUPPRESS)
    given = asked.parse_args()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")          # as a build sets it, before it loads numpy
    if given.batch:
        print(json.dumps(batch(given.batch)))
        return
    repeats, jobs, alone = (3, 40, 3) if given.quick else (given.n, given.jobs, 9)
    with TemporaryDirectory(prefix="sitegen-bench-") as folder:
        # many jobs before the largest house: on Linux a child's peak of memory begins at that of its parent
        rows = [*processes(Path(folder), repeats), *many(Path(folder), jobs, given.seed), *endings_alone(alone),
                *large_files(Path(folder), alone)]
    load_now = ", ".join(f"{value:.1f}" for value in os.getloadavg())
    print(f"{os.cpu_count()} cores; load average at the end {load_now}")
    width = max(len(row[0]) for row in rows)
    for name, value, unit in rows:
        print(f"{name:<{width}}  {value:>9}  {unit}")


# -------------------------------------------------------------------------------- new processes


KINDS = {"same": "nothing changed", "warm": "made again, all kept", "audit": "audited again",
         "edited": "one house edited", "first": "first run", "plain": "plain MkDocs"}


def processes(folder: Path, repeats: int) -> list[Row]:
    """Each kind of build in a new process, in turn [ms of user CPU]; and each beside the plain one."""
    home, warm, empty = demo_copy(folder), folder / "warm", folder / "empty"
    settings, job = folder / "plain" / "mkdocs.yml", home / JOB / "job.yaml"
    text = job.read_text("utf-8")

    def ours(cache: Path) -> float:
        return _run([str(BIN / "sitegen"), "build", JOB], home, cache)

    def plain() -> float:
        return _run([str(BIN / "mkdocs"), "build", "-q", "-f", str(settings)], settings.parent, warm)

    ours(warm)
    pages, words = plain_site(home / "site" / JOB, settings)
    plain()
    built = words_in((settings.parent / "site").rglob("*.html"))
    if abs(built - words) > words // 100:
        raise SystemExit(f"the plain build holds {built} words, ours {words}: the two do not compare")
    takes: dict[str, list[float]] = {kind: [] for kind in KINDS}
    for number in range(repeats):
        takes["same"].append(ours(warm))
        shutil.rmtree(home / "site")
        takes["warm"].append(ours(warm))
        shutil.rmtree(home / "site")
        for path in warm.rglob("audit-*"):
            path.unlink()
        takes["audit"].append(ours(warm))
        wanted = re.search(r"want: \{outlet: ([0-9]+)", text)
        assert wanted is not None
        more = int(wanted[1]) + number + 1      # a place more: prices and endings are worked out afresh
        job.write_text(text.replace(wanted[0], f"want: {{outlet: {more}", 1), "utf-8")
        takes["edited"].append(ours(warm))
        job.write_text(text, "utf-8")
        shutil.rmtree(empty, ignore_errors=True)
        empty.mkdir()
        takes["first"].append(ours(empty))
        takes["plain"].append(plain())
    if len(list((warm / "sitegen").iterdir())) != 1:
        raise SystemExit("sitegen/ was changed while this ran, so the builds were not warm; run it again")
    mid = {kind: median(values) for kind, values in takes.items()}
    return [(f"{says} ({f'{pages} pages, {words} words' if kind == 'plain' else 'a new process'})", f"{mid[kind]:.0f}",
             f"ms, least {min(takes[kind]):.0f}; {mid[kind] / mid['plain']:.2f} times plain")
            for kind, says in KINDS.items()]


def _run(command: list[str], cwd: Path, cache: Path) -> float:
    """User CPU of the command and of the processes that it waited for [ms]."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(cache)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    subprocess.run(command, cwd=cwd, env=env, check=True, stdout=subprocess.DEVNULL)
    return (resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before) * 1000


def _timed(do: Callable[[], object]) -> float:
    start = time.perf_counter()
    do()
    return (time.perf_counter() - start) * 1000


# -------------------------------------------------------------------------------- in a process


def endings_alone(repeats: int) -> list[Row]:
    """The endings of the demo house, and of the largest that is carried, with nothing kept from before."""
    inputs = load(DEMO, DEMO / JOB, DEMO)
    belief = belief_of(inputs.company)
    few = min(repeats, 3)
    demo, large = _endings(house_in(inputs), belief, repeats), _endings(large_house(), belief, few)
    return [(f"endings alone ({repeats})", f"{median(demo):.1f}", f"ms (least {min(demo):.1f})"),
            (f"endings of the largest house ({few})", f"{median(large):.0f}", f"ms (least {min(large):.0f})"),
            ("peak memory with it", f"{_peak():.0f}", "MB")]


def _endings(house: House, belief: Belief, repeats: int) -> list[float]:
    from sitegen.trade.endings import work_out

    takes = []
    for _ in range(repeats):
        feeds.beta_binomial.cache_clear()
        feeds._subsets.cache_clear()
        takes.append(_timed(lambda: work_out(house, belief)))
    return takes


def large_files(folder: Path, repeats: int) -> list[Row]:
    """The slowest file to refuse among texts that a careless reader would take minutes over."""
    slowest, path = 0.0, folder / "large.yaml"
    for text in LARGE:
        path.write_bytes(text)
        slowest = max(slowest, min(_timed(lambda: read(path, path.name)) for _ in range(repeats)))
    return [(f"file of {max(map(len, LARGE)):,} bytes refused, the slowest of {len(LARGE)}", f"{slowest:.0f}", "ms")]


def many(folder: Path, jobs: int, seed: int) -> list[Row]:
    """Many jobs in one process, no two alike, with no endings kept."""
    home = folder / "made"
    made = make_jobs(home, jobs, seed)
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(folder / "cold")}
    done = subprocess.run([sys.executable, "-m", "tests.bench.speed", "--batch", str(home)], cwd=ROOT,
                          env=env, check=True, stdout=subprocess.PIPE, text=True)
    found = json.loads(done.stdout)
    start = time.perf_counter()
    _run([str(BIN / "sitegen"), "build", "--all", "--jobs", "2", "--home", str(home)], home, folder / "two")
    two = (time.perf_counter() - start) * 1000
    kept = len(list((folder / "cold").rglob("endings-*.json")))
    if kept != len(made):
        raise SystemExit(f"{len(made)} jobs left {kept} endings: some were worked out once for two jobs")
    return [(f"{jobs} jobs in one process, a job and core", f"{found['wall'] / jobs:.1f}", "ms"),
            ("    the same with --jobs 2, a job", f"{two / jobs:.1f}", "ms"),
            ("    in one process, in processor time", f"{found['cpu'] / jobs:.1f}", "ms"),
            ("    of that, endings", f"{found['endings'] / jobs:.1f}", "ms"),
            ("    of that, the audit", f"{found['audit'] / jobs:.1f}", "ms"),
            ("    the slowest job in processor time", f"{found['slowest']:.0f}", "ms"),
            (f"peak memory after {min(EARLY, jobs)} jobs", f"{found['early']:.1f}", "MB"),
            (f"peak memory after {jobs} jobs", f"{found['all']:.1f}", "MB")]


def batch(home: Path) -> dict[str, float]:
    """Builds every job of `home` here; times in ms (parts and slowest of the processor), peaks in MB."""
    from sitegen import build as line
    from sitegen.trade import endings as engine
    from sitegen.workspace import Workspace

    workspace, parts, takes = Workspace(home, home / "site"), {"endings": 0.0, "audit": 0.0}, []
    peaks: dict[int, float] = {}

    def counted(part: str, do: Callable[..., Any]) -> Callable[..., Any]:
        def done(*given: Any) -> Any:
            start = time.process_time()
            found = do(*given)
            parts[part] += (time.process_time() - start) * 1000
            return found
        return done

    engine.work_out, line.audit = counted("endings", engine.work_out), counted("audit", line.audit)
    began = time.perf_counter()
    for number, folder in enumerate(workspace.jobs(), 1):
        start = time.process_time()
        line.build(workspace, folder)
        takes.append((time.process_time() - start) * 1000)
        peaks[number] = _peak()
    return {"wall": (time.perf_counter() - began) * 1000, "cpu": sum(takes), **parts,
            "slowest": max(takes), "early": peaks[min(EARLY, len(takes))], "all": peaks[len(takes)]}


def _peak() -> float:
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return used / (1e6 if sys.platform == "darwin" else 1e6 / 1024)


if __name__ == "__main__":
    main()
