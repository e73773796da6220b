"""Invented jobs for the benches: the demo's job with other counts, looks, probes and prices, each sound."""

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
LINES = ("listed", "opened old", "opened new")


def make_jobs(home: Path, count: int, seed: int) -> list[Path]:
    """A workspace under `home` with `count` jobs, no two alike; a draw that has faults is drawn again."""
    shutil.copytree(DEMO, home, ignore=shutil.ignore_patterns("site", JOB))
    text = (DEMO / JOB / "job.yaml").read_text("utf-8")
    rng, folders, seen = random.Random(seed), [], set[str]()
    for number in range(count):
        folder = home / f"made-{number + 1:03d}"
        folder.mkdir()
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
    for feed in job["feeds"].values():
        if feed["looks"] == "not traced" and rng.random() < 0.3:
            feed.update(looks=rng.choice(("old", "new", "new ends")), seen="traced along its whole length")
    for room in job["rooms"]:
        for kind in room["now"]:
            more = rng.choice((-1, 0, 0, 1, 2))
            known = sum(int(room.get(line, {}).get(kind, 0)) for line in LINES)
            now = max(1, known, int(room["now"][kind]) + more)
            wanted = max(now, int(room["want"].get(kind, now)) + more)
            room["now"][kind], room["want"][kind] = str(now), str(wanted)
    for walls in job["drops"].values():
        probed = rng.randint(2, 9)
        walls.update(probed=str(probed), blocked=str(rng.randint(0, probed // 2)))
    for way in job["ways"]:
        price = int(way["price"].strip("$").replace(",", ""))
        way["price"] = f"${round(price * rng.uniform(0.85, 1.2), -2):,.0f}"
    return job


def _faults(home: Path, folder: Path) -> bool:
    try:
        load(home, folder, home)
    except Faults:
        return True
    return False
