"""What a version says wrong against the offers that were handed over before it, or as it: its number and its days.

Prices and the list are worked out, and held against them in `review/versions.py`.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.errors import Fault
from sitegen.job.inputs import Gathered
from sitegen.job.kept import Kept, days
from sitegen.job.registry import needs

PUT_BACK = "Put it back, or write the next `version:`; what was handed over is never changed."


@needs("job.version")
def _versions_agree_with_what_was_kept(all_: Gathered) -> Iterator[Fault]:
    """As much of it as is sound is held against the kept offers."""
    yield from _versions_count_up(all_)
    for one in all_.kept:
        if one.version == all_.job["version"] - 1 and all_.job.has("prepared"):
            yield from _later(all_, one)
        if one.version == all_.job["version"]:
            yield from _same_days(all_, one)


def _versions_count_up(all_: Gathered) -> Iterator[Fault]:
    version, kept = all_.job["version"], {one.version for one in all_.kept}
    if not version:
        yield all_.job.fault(("version",), "Versions begin with 1.", "Write `version: 1`.")
    if kept and version < max(kept):
        yield all_.job.fault(("version",), f"Version {max(kept)} was handed over already, and {version} is before it.",
                             f"Write `version: {max(kept) + 1}`.")
    for one in range(1, version):
        if one not in kept:
            yield all_.job.fault(("version",), f"Version {version} follows version {one}, which was not kept.",
                                 f"Put the files back as they were handed over, run `sitegen keep {all_.folder.name}`, "
                                 "then go on.")


def _later(all_: Gathered, one: Kept) -> Iterator[Fault]:
    if all_.job["prepared"] < one.days["prepared"]:
        yield all_.job.fault(("prepared",), f"{all_.job['prepared']} is before version {one.version} of "
                             f"{one.days['prepared']}.", "Dates run forward: write the day of this version.")


def _same_days(all_: Gathered, one: Kept) -> Iterator[Fault]:
    if not all_.job.has("prepared", "prices_hold_to", "start"):
        return
    start = all_.job["start"]
    now = days(all_.job["prepared"], all_.job["prices_hold_to"], start.sign_by, start.work_starts)
    for key, day in now.items():
        if one.days.get(key) != day:
            yield all_.job.fault(tuple(key.split(".")), f"Version {one.version} was handed over with "
                                 f"{one.days.get(key)}; here it is {day}.", PUT_BACK)
