"""Offers that were handed over, as the job's folder keeps them: read back, and never trusted when a byte has changed.

`offers/N/` holds `offer.json` (what was offered), `job.yaml` and `site/` as they were, and `kept.json` with the hash of
every one of these files.  They are written once, by `sitegen keep`, and by nothing else.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import msgspec
from msgspec import Struct

from sitegen.errors import Fault

FOLDER, OFFER, HASHES = "offers", "offer.json", "kept.json"
MEND = "Put the folder back as it was written; an offer that was handed over is never changed."


class Kept(Struct, frozen=True):
    """One offer as it was handed over.

    `days` by the key of the job file, `prices` [cents] by option, `listed` and `places` [points] by room and kind;
    `dead` and `finished` by option; `figures` is every figure that a sheet may print.  `payers` is who pays for each
    case, by option and case; empty where the version was kept before that was noted.
    """

    version: int
    days: dict[str, date]
    prices: dict[str, int]
    listed: dict[str, int]
    places: dict[str, int]
    dead: dict[str, date]
    finished: dict[str, date]
    figures: list[dict[str, object]] = []
    payers: dict[str, dict[str, str]] = {}


def days(prepared: date, hold_to: date, sign_by: date, starts: date) -> dict[str, date]:
    """The days that an offer names, by their key in the job file."""
    return {"prepared": prepared, "prices hold to": hold_to, "start.sign by": sign_by, "start.work starts": starts}


def read_kept(folder: Path, shown: str) -> tuple[tuple[Kept, ...], list[Fault]]:
    """Every kept offer of a job in the order of their versions, and what is wrong with them."""
    kept: list[Kept] = []
    faults: list[Fault] = []
    for path in sorted((folder / FOLDER).glob("*"), key=lambda path: (len(path.name), path.name)):
        if path.name.startswith("."):
            continue                        # one that is being written
        wrong = list(_changed(path))
        try:
            one = msgspec.json.decode((path / OFFER).read_bytes(), type=Kept)
            wrong += [] if str(one.version) == path.name else [f"{OFFER} is of version {one.version}"]
        except (OSError, msgspec.MsgspecError):
            wrong.append(f"{OFFER} cannot be read")
        faults += [Fault(f"{shown}/{FOLDER}/{path.name}", 0, "", f"Kept as it was handed over, but {what}.", MEND)
                   for what in wrong[:1]]
        if not wrong:
            kept.append(one)
    return tuple(kept), faults


def hashes(folder: Path) -> dict[str, str]:
    """The SHA-256 of every file of a kept offer but the list of them, by its path."""
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in sorted(folder.rglob("*")) if path.is_file() and path != folder / HASHES}


def _changed(folder: Path) -> Iterator[str]:
    try:
        noted = msgspec.json.decode((folder / HASHES).read_bytes(), type=dict[str, str])
    except (OSError, msgspec.MsgspecError):
        yield f"{HASHES} cannot be read"
        return
    found = hashes(folder)
    for name in sorted({*noted, *found}):
        if noted.get(name) != found.get(name):
            yield f"{name} is {'missing' if name not in found else 'new' if name not in noted else 'another'}"


__all__ = ["FOLDER", "HASHES", "OFFER", "Kept", "days", "hashes", "read_kept"]
