"""How long a build takes, beside a plain MkDocs build of the same words.  Run by hand:

    python -m tests.bench.speed            (--quick for fewer repeats)

The three kinds of new process take turns in one run, so that a busy machine slows all alike.  Python's own
compiled files are there in all of them; "first run" means that our own cache folder is empty.
"""

from __future__ import annotations

import argparse
import json
import os
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

from bs4 import BeautifulSoup, Tag

from sitegen.job.document import read
from sitegen.job.load import load
from sitegen.survey.house import belief_of
from sitegen.trade import feeds
from sitegen.trade.terms import Belief, House
from tests.bench.made_jobs import make_jobs
from tests.helpers import DEMO, JOB, ROOT, demo_copy, house_in
from tests.job.test_document import LARGE
from tests.trade.large_house import large_house

BIN = Path(sys.executable).parent
EARLY = 20
"""Peak memory is read after this many jobs, and after all."""
BLOCKS = ("h1", "h2", "h3", "h4", "p", "li", "dt", "dd", "tr", "summary", "figcaption", "caption", "text")
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
        rows = [*processes(Path(folder), repeats), *endings_alone(alone),
                *large_files(Path(folder), alone), *many(Path(folder), jobs, given.seed)]
    load_now = ", ".join(f"{value:.1f}" for value in os.getloadavg())
    print(f"{os.cpu_count()} cores; load average at the end {load_now}")
    width = max(len(row[0]) for row in rows)
    for name, value, unit in rows:
        print(f"{name:<{width}}  {value:>9}  {unit}")


# -------------------------------------------------------------------------------- new processes


def processes(folder: Path, repeats: int) -> list[Row]:
    """Warm builds, first builds and plain MkDocs builds in turn."""
    home, warm = demo_copy(folder), folder / "warm"
    settings = folder / "plain" / "mkdocs.yml"

    def ours(cache: Path) -> None:
        _run([str(BIN / "sitegen"), "build", JOB], home, cache)

    def first() -> None:
        shutil.rmtree(folder / "empty", ignore_errors=True)
        (folder / "empty").mkdir()

    def plain() -> None:
        _run([str(BIN / "mkdocs"), "build", "-q", "-f", str(settings)], settings.parent, warm)

    ours(warm)
    pages, words = _plain_site(home / "site" / JOB, settings)
    plain()
    built = _words(path for path in (settings.parent / "site").rglob("*.html"))
    if abs(built - words) > words // 100:
        raise SystemExit(f"the plain build holds {built} words, ours {words}: the two do not compare")
    takes: dict[str, list[float]] = {"warm": [], "first": [], "plain": []}
    for _ in range(repeats):
        takes["warm"].append(_timed(lambda: ours(warm)))
        first()
        takes["first"].append(_timed(lambda: ours(folder / "empty")))
        takes["plain"].append(_timed(plain))
    if len(list((warm / "sitegen").iterdir())) != 1:
        raise SystemExit("sitegen/ was changed while this ran, so the builds were not warm; run it again")
    mid = {name: median(values) for name, values in takes.items()}
    least = {name: min(values) for name, values in takes.items()}
    size = f"{pages} pages, {words} words"
    return [(f"warm build, new process ({repeats} each)", f"{mid['warm']:.0f}",
             f"ms (least {least['warm']:.0f})"),
            ("first run, new process", f"{mid['first']:.0f}", f"ms (least {least['first']:.0f})"),
            (f"plain MkDocs ({size})", f"{mid['plain']:.0f}", f"ms (least {least['plain']:.0f})"),
            ("warm to plain", f"{mid['warm'] / mid['plain']:.2f}",
             f"times, {mid['warm'] - mid['plain']:+.0f} ms"),
            ("first to plain", f"{mid['first'] / mid['plain']:.2f}",
             f"times, {mid['first'] - mid['plain']:+.0f} ms")]


def _plain_site(site: Path, settings: Path) -> tuple[int, int]:
    """The words of a built site as Markdown, with the emptiest theme there can be: (pages, words)."""
    docs, theme = settings.parent / "docs", settings.parent / "theme"
    docs.mkdir(parents=True)
    theme.mkdir()
    pages = sorted(site.glob("*.html"))
    for page in pages:
        (docs / f"{page.stem}.md").write_text(_markdown(page.read_text("utf-8")), "utf-8")
    (theme / "main.html").write_text("{{ page.content }}", "utf-8")
    settings.write_text("site_name: plain\nplugins: []\ntheme:\n  name: null\n  custom_dir: theme\n", "utf-8")
    return len(pages), _words(docs.glob("*.md"))


def _words(paths: Any) -> int:
    """Words that a reader sees, marks of Markdown left out."""
    texts = (BeautifulSoup(path.read_text("utf-8"), "html.parser").get_text(" ") for path in paths)
    return sum(any(sign.isalnum() for sign in word) for text in texts for word in text.split())


def _markdown(html: str) -> str:
    """A page as headings, paragraphs, lists and tables, every word once."""
    body = BeautifulSoup(html, "html.parser").body
    assert body is not None
    parts: list[str] = []
    _parts(body, parts)
    return "\n\n".join(part for part in parts if part).replace("<", "&lt;") + "\n"


def _parts(element: Tag, parts: list[str]) -> None:
    loose: list[str] = []
    for child in element.children:
        if isinstance(child, Tag) and child.name in ("style", "script"):
            continue
        if isinstance(child, Tag) and (child.name in BLOCKS or child.find(BLOCKS)):
            parts.append(" ".join(" ".join(loose).split()))
            loose = []
            if child.name == "table":
                parts.append(_table(child))
            elif child.name in BLOCKS and not child.find(BLOCKS):
                said = " ".join(child.get_text(" ").split())
                mark = "#" * int(child.name[1]) + " " if child.name[0] == "h" else "- " * (child.name == "li")
                parts.append(mark + said if said else "")
            else:
                _parts(child, parts)
        else:
            loose.append(child.get_text(" "))
    parts.append(" ".join(" ".join(loose).split()))


def _table(table: Tag) -> str:
    rows = [[" ".join(cell.get_text(" ").split()).replace("|", "/") for cell in row.find_all(("th", "td"))]
            for row in table.find_all("tr")]
    width = max(len(row) for row in rows)
    lines = ["| " + " | ".join(row + [""] * (width - len(row))) + " |" for row in rows]
    caption = table.find("caption")
    head = " ".join(caption.get_text(" ").split()) + "\n\n" if caption else ""
    return head + "\n".join([lines[0], "|" + " --- |" * width, *lines[1:]])


def _run(command: list[str], cwd: Path, cache: Path) -> None:
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(cache)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    subprocess.run(command, cwd=cwd, env=env, check=True, stdout=subprocess.DEVNULL)


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
    kept = len(list((folder / "cold").rglob("endings-*.json")))
    if kept != len(made):
        raise SystemExit(f"{len(made)} jobs left {kept} endings: some were worked out once for two jobs")
    return [(f"{jobs} jobs in one process, a job and core", f"{found['wall'] / jobs:.1f}", "ms"),
            ("    the same in processor time", f"{found['cpu'] / jobs:.1f}", "ms"),
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
