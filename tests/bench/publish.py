"""What publishing costs beyond the build: processor time of each of many jobs, sealed, against the same jobs built.

By hand: `python -m tests.bench.publish [COUNT]`.  Both are measured in one process and one run, job by job in turn, on
copies of the demo house with an address of their own; nothing is asserted.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from shutil import copytree
from statistics import median
from tempfile import TemporaryDirectory
from time import process_time

from sitegen.build import build
from sitegen.sealing.publish import Wanted, publish
from sitegen.workspace import Workspace
from tests.helpers import JOB, demo_copy

DAY = date(2026, 11, 20)


def main(count: int) -> None:
    """Print the middle and the mean of what publishing adds to a build [ms of processor time a job]."""
    with TemporaryDirectory() as folder:
        home = demo_copy(Path(folder))
        workspace = Workspace(home, Path(folder) / "site")
        jobs = [home / f"job-{i}" for i in range(count)]
        for i, job in enumerate(jobs):
            copytree(home / JOB, job)
            text = (job / "job.yaml").read_text("utf-8")
            text = text.replace("61 Alder Lane", f"{100 + i} Alder Lane").replace(f"job: {JOB}", f"job: job-{i}")
            (job / "job.yaml").write_text(text, "utf-8")
        built, both = [], []
        for job in jobs:
            build(workspace, job)           # what is kept between builds is kept for both
            start = process_time()
            build(workspace, job)
            built.append(process_time() - start)
            start = process_time()
            publish(workspace, job, Wanted(DAY))
            both.append(process_time() - start)
        more = [1000 * (one - other) for one, other in zip(both, built, strict=True)]
        print(f"{count} jobs: build {1000 * median(built):.0f} ms, published {1000 * median(both):.0f} ms, "
              f"more {median(more):.0f} ms in the middle, {sum(more) / count:.0f} ms on average")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50)
