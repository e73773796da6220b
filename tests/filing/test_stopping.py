"""Whatever moment a machine stops at, the archive stands as it was or has the new record whole."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from sitegen.errors import BuildError
from sitegen.filing import disk, keys, store
from sitegen.filing.add import Given, add
from sitegen.filing.verify import verify
from sitegen.workspace import Workspace
from tests.filing import made
from tests.filing.stopping import Disk, killed, touching, write
from tests.helpers import tree

LEFT = "cut short"
"""What a check says of what a filing left, before the next command clears it away or finishes it."""


def at(top: Path) -> Workspace:
    """The workspace under a folder."""
    return Workspace(top / "firm", top / "firm" / "site")


@pytest.fixture
def top() -> Iterator[Path]:
    """A folder, in memory where the system has one there: thousands of small files are made and taken away."""
    memory = Path("/dev/shm")
    with TemporaryDirectory(dir=memory if os.access(memory, os.W_OK) else None) as name:
        yield Path(name).resolve()


@pytest.fixture
def filed(top: Path) -> tuple[Path, Path]:
    """A workspace with one record filed, and a second record."""
    firm = made.workspace(top / "before")
    made.file(firm, made.agreement(made.kept_of(firm)))
    record = made.write(top / "second.json", made.agreement(made.kept_of(firm), lives="lived-in"))
    return top / "before", record


def fresh(before: Path, top: Path) -> Path:
    """A copy of the workspace for one more try."""
    again = top / "again"
    shutil.rmtree(again, ignore_errors=True)
    shutil.copytree(before, again)
    return again


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
                                                                        top: Path) -> None:
    """Killed at each of at least 100 touches of the disk, the archive verifies, and filing again works."""
    before, record = filed
    outcomes: list[str] = []
    while True:
        again = fresh(before, top)
        if not killed(partial(file, again, record), len(outcomes) + 1):
            break
        outcomes.append(sound(again, record))
    assert set(outcomes) == {"gone", "whole"}
    assert outcomes == sorted(outcomes), "once a record is whole it stays"
    assert len(outcomes) >= 100
    assert sound(again, record) == "whole"


@pytest.mark.parametrize("first", [True, False], ids=["made", "changed"])
def test_a_key_that_is_made_or_changed_is_never_lost_halfway(filed: tuple[Path, Path], top: Path, first: bool) -> None:
    """Killed at each touch of the disk, the company can still sign, and the archive verifies with the key it has."""
    before, record = filed
    if first:
        shutil.rmtree(at(before).archive)
        (at(before).home / keys.NAME).unlink()

    def work(firm: Workspace) -> None:
        with store.opened(firm) as archive:
            if first:
                keys.make(firm, archive.path)
            else:
                keys.rotate(firm, archive.path, made.DAY)
    points, had = 0, set[int]()
    while True:
        again = fresh(before, top)
        stopped = killed(partial(work, at(again)), points + 1)
        with store.opened(at(again)) as archive:
            there = (at(again).home / keys.NAME).exists()
            had.add(len(list((archive.path / keys.FOLDER).glob("*.pem"))))
        if not there:
            work(at(again))
        assert findings(again) == []
        file(again, record)
        assert findings(again) == []
        if not stopped:
            break
        points += 1
    assert points > 10
    assert had == ({0, 1} if first else {1, 2}), "the old state or the new one, and each was seen"


@pytest.mark.parametrize("error", [errno.ENOSPC, errno.EROFS, errno.EACCES])
def test_a_disk_that_refuses_loses_nothing(filed: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, error: int
                                           ) -> None:
    """A full disk or a folder that cannot be written, at any file of a bag: one clear line, and all as it was."""
    before, record = filed
    was, put, refused = tree(at(before).archive), disk.put, 0
    while True:
        left = [refused]

        def failing(path: Path, data: bytes, left: list[int] = left) -> None:
            if left[0] == 0:
                raise OSError(error, os.strerror(error), str(path))
            left[0] -= 1
            put(path, data)
        monkeypatch.setattr(disk, "put", failing)
        said = ""
        try:
            file(before, record)
        except BuildError as refusal:
            said = str(refusal)
        monkeypatch.setattr(disk, "put", put)
        if not said:
            break
        assert os.strerror(error) in said
        assert "\n" not in said
        with store.opened(at(before)) as archive:
            count = len(archive.lines)
        if count == 1:
            assert tree(at(before).archive) == was
        assert findings(before) == []
        refused += 1
        if count == 2:
            break                           # it was filed, and the line that the disk refused is written since
    assert refused > 20


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


def test_lost_power_leaves_the_old_archive_or_the_new_one(filed: tuple[Path, Path], top: Path) -> None:
    """Keeping only what a sync promised, every step leaves one of the two, and a record that was filed is there."""
    outcomes = lost_power(*filed, top / "after")
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
def test_a_wrong_order_is_caught(filed: tuple[Path, Path], top: Path, monkeypatch: pytest.MonkeyPatch,
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
    outcomes = lost_power(*filed, top / "after", judge)
    assert set(outcomes) - {"gone", "whole"} or outcomes[-2:] != ["whole", "whole"]
