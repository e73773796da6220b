"""Whatever moment a machine stops at, the archive stands as it was or has the new record whole."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from sitegen.errors import BuildError
from sitegen.filing import keys, store
from sitegen.filing.add import Given, add
from sitegen.filing.verify import verify
from sitegen.workspace import Workspace
from tests.filing import made
from tests.filing.stopping import Disk, killed, touching, write

LEFT = "cut short"
"""What a check says of what a filing left, before the next command clears it away or finishes it."""


def at(top: Path) -> Workspace:
    """The workspace under a folder."""
    return Workspace(top / "firm", top / "firm" / "site")


@pytest.fixture
def filed(tmp_path: Path) -> tuple[Path, Path]:
    """A workspace with one record filed, and a second record."""
    firm = made.workspace(tmp_path / "before")
    made.file(firm, made.agreement(made.kept_of(firm)))
    record = made.write(tmp_path / "second.json", made.agreement(made.kept_of(firm), lives="lived-in"))
    return tmp_path / "before", record


def findings(top: Path) -> list[str]:
    """What a check of the archive finds."""
    firm = at(top)
    return [str(one) for one in verify(firm.archive, keys.signing(firm).public_key()).findings]


@pytest.fixture(autouse=True)
def no_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    """No sync reaches this machine's own disk, which would take most of the time."""
    monkeypatch.setattr(os, "fsync", lambda number: None)


def file(top: Path, record: Path) -> object:
    """File a record that a device saved."""
    return add(at(top), Given(record, made.CLOCK, made.DAY))


def sound(top: Path, record: Path) -> str:
    """What became of the second record: `gone` or `whole`; anything between is said, and filing it again works.

    Before anything is finished or cleared away, nothing but what was left by the filing may be found.
    """
    if rest := [one for one in findings(top) if LEFT not in one]:
        return f"found: {rest[0]}"
    firm = at(top)
    try:
        with store.opened(firm) as archive:
            count = len(archive.lines)
        if rest := findings(top):
            return f"found after: {rest[0]}"
        if count == 1:
            file(top, record)
    except BuildError as error:
        return f"refused: {error}"
    if rest := findings(top):
        return f"found at last: {rest[0]}"
    return {1: "gone", 2: "whole"}[count]


def test_a_process_that_is_killed_leaves_the_old_archive_or_the_new_one(filed: tuple[Path, Path],
                                                                        tmp_path: Path) -> None:
    """Killed at each of at least 100 touches of the disk, the archive verifies, and filing again works."""
    before, record = filed
    outcomes: list[str] = []
    while True:
        top = tmp_path / "killed"
        shutil.rmtree(top, ignore_errors=True)
        shutil.copytree(before, top)
        if not killed(partial(file, top, record), len(outcomes) + 1):
            break
        outcomes.append(sound(top, record))
    assert set(outcomes) == {"gone", "whole"}
    assert outcomes == sorted(outcomes), "once a record is whole it stays"
    assert len(outcomes) >= 100
    assert sound(top, record) == "whole"


def lost_power(before: Path, record: Path, into: Path, judge: Callable[[Path, Path], str] = sound) -> list[str]:
    """What becomes of a record when power is lost ahead of each touch of the disk, in both worst cases, and after."""
    disk, outcomes, judged = Disk(before), list[str](), dict[str, str]()
    busy = [False]

    def look() -> None:
        if busy[0]:
            return
        busy[0] = True
        disk.look()
        for names_survive in (False, True):
            left = disk.after(names_survive=names_survive)
            state = repr(left)              # most touches leave on the disk what the one before left
            if state not in judged:
                write(left, into)
                judged[state] = judge(into, record)
            outcomes.append(judged[state])
        busy[0] = False

    def synced(number: int) -> None:
        if not busy[0]:
            disk.synced(number)
    try:
        with touching(look, synced):
            file(before, record)
        look()
    finally:
        disk.close()
    return outcomes


def test_lost_power_leaves_the_old_archive_or_the_new_one(filed: tuple[Path, Path], tmp_path: Path) -> None:
    """Keeping only what a sync promised, every step leaves one of the two, and a record that was filed is there."""
    outcomes = lost_power(*filed, tmp_path / "after")
    assert set(outcomes) == {"gone", "whole"}
    assert len(outcomes) >= 100
    assert outcomes[-2:] == ["whole", "whole"]


def _nothing(one: store.Filing) -> None:
    """A step that is left out."""


def _no_names(one: store.Filing) -> None:
    """A line in the ledger without the name of its bag on the disk."""
    store.disk.sync(one.archive)


WRONG: dict[str, tuple[Callable[[store.Filing], None], ...]] = {
    "nothing of the bag is synced": (_nothing, *store.ORDER[1:]),
    "the ledger comes before the bag": (store.ORDER[0], store.ORDER[3], store.ORDER[1], store.ORDER[2]),
    "the folder of bags is not synced": (*store.ORDER[:2], _no_names, store.ORDER[3]),
}


@pytest.mark.parametrize("order", WRONG.values(), ids=[one.replace(" ", "-") for one in WRONG])
def test_a_wrong_order_is_caught(filed: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                 order: tuple[Callable[[store.Filing], None], ...]) -> None:
    """Each of three wrong orders loses a record or breaks the archive at some step, and the replay sees it."""
    right = store.ORDER
    monkeypatch.setattr(store, "ORDER", order)

    bad: list[str] = []

    def judge(top: Path, record: Path) -> str:
        if bad:
            return bad[0]                   # it is caught: no need to look further
        monkeypatch.setattr(store, "ORDER", right)
        try:
            said = sound(top, record)
            bad.extend({said} - {"gone", "whole"})
            return said
        finally:
            monkeypatch.setattr(store, "ORDER", order)
    outcomes = lost_power(*filed, tmp_path / "after", judge)
    assert set(outcomes) - {"gone", "whole"} or outcomes[-2:] != ["whole", "whole"]
