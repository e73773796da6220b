"""Invented jobs for the benches: the demo's job with other counts, evidence and probes, each sound;
the books price each of them anew."""

from __future__ import annotations

import random
import shutil
from pathlib import Path
from typing import Any

import yaml

from sitegen.errors import Faults
from sitegen.job.load import load
from tests.helpers import DEMO, JOB

MOST_TRIES = 20
MOVES = 10
"""Points moved from one room and kind to another, so that a house stays as large as the demo."""
LINES = ("listed", "opened old", "opened new")


def make_jobs(home: Path, count: int, seed: int) -> list[Path]:
    """A workspace under `home` with `count` jobs, no two alike; a draw that has faults is drawn again."""
    houses = [path.parent.name for path in DEMO.glob("*/job.yaml")]
    shutil.copytree(DEMO, home, ignore=shutil.ignore_patterns("site", *houses))
    text = (DEMO / JOB / "job.yaml").read_text("utf-8")
    rng, folders, seen = random.Random(seed), [], set[str]()
    for number in range(count):
        folder = home / f"made-{number + 1:03d}"
        shutil.copytree(DEMO / JOB, folder, ignore=shutil.ignore_patterns("*.yaml", "*.csv"))
        for _ in range(MOST_TRIES):
            job = _varied(yaml.load(text, Loader=yaml.BaseLoader), folder.name, rng)
            told_apart = repr({**job, "job": ""})
            (folder / "job.yaml").write_text(yaml.safe_dump(job, sort_keys=False), "utf-8")
            if told_apart not in seen and not _faults(home, folder):
                break
        else:
            raise SystemExit(f"no sound job in {MOST_TRIES} draws: the demo has changed, mend made_jobs.py")
        seen.add(told_apart)
        folders.append(folder)
    return folders


def _varied(job: dict[str, Any], name: str, rng: random.Random) -> dict[str, Any]:
    """Changes `job`, whose scalars are all text, in place."""
    job["job"] = name
    job["address"] = f"{name.removeprefix('made-')} Made Street, Pellam Ford"
    for feed in job["feeds"].values():
        if feed["evidence"] == "not traced" and rng.random() < 0.3:
            feed.update(evidence=rng.choice(("old", "new", "new ends")), seen="traced along its whole length")
    places = [(room, kind) for room in job["rooms"] for kind in room["now"]]
    for _ in range(MOVES):
        spare = [place for place in places if int(place[0]["now"][place[1]]) > max(1, _told(*place))]
        for (room, kind), more in ((rng.choice(spare), -1), (rng.choice(places), 1)):
            for line in ("now", "want"):
                room[line][kind] = str(int(room[line][kind]) + more)
    for walls in job["drops"].values():
        probed = rng.randint(2, 9)
        walls.update(probed=str(probed), blocked=str(rng.randint(0, probed // 2)))
    return job


def _told(room: dict[str, Any], kind: str) -> int:
    """Points of one kind of which the survey says more than that they are there."""
    return sum(int(room.get(line, {}).get(kind, 0)) for line in LINES)


def _faults(home: Path, folder: Path) -> bool:
    try:
        load(home, folder, home)
    except Faults:
        return True
    return False
