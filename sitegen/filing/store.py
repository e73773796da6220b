"""Filing a bag so that a machine that stops at any moment leaves the archive as it was, or with the new bag whole.

Lock; recover; write the bag beside, in `.incoming/`; verify it there; then the steps of ORDER: everything of it on the
disk, one rename that is the commit, the names around it on the disk, and last its line in the ledger, which follows
from the bag alone.  A bag without its line is therefore finished and never guessed at.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from msgspec import Struct

from sitegen.errors import BuildError
from sitegen.filing import bag, disk, keys, ledger, verify
from sitegen.filing.bag import Entry
from sitegen.filing.ledger import Line
from sitegen.filing.verify import BAGS, INCOMING, LOCK
from sitegen.workspace import Workspace

try:
    import fcntl
except ImportError:                         # not on Windows
    fcntl = None  # type: ignore[assignment]


class Archive(Struct, frozen=True):
    """An archive that this process holds locked, whole and recovered, and the lines of its ledger."""

    workspace: Workspace
    path: Path
    lines: tuple[Line, ...]


class Wanted(Struct, frozen=True):
    """What a bag is filed as; `firm` is the company's name, `honored` why lapsed prices were held to."""

    job: str
    version: int
    kind: str
    day: date
    record: str
    firm: str
    honored: str | None = None


class Filed(Struct, frozen=True):
    """A bag that is filed: its entry, its folder, and the fingerprint that the ledger now ends with."""

    entry: Entry
    path: Path
    head: str


class Filing(Struct, frozen=True):
    """A bag that is written beside, and where it goes."""

    archive: Path
    name: str
    lines: tuple[Line, ...]

    @property
    def beside(self) -> Path:
        """Where it stands until the commit."""
        return self.archive / INCOMING / self.name


def _settle(one: Filing) -> None:
    """Every file and folder of the bag on the disk, the innermost first."""
    disk.sync_tree(one.beside)


def _commit(one: Filing) -> None:
    """The one rename that makes it filed."""
    one.beside.rename(one.archive / BAGS / one.name)


def _hold(one: Filing) -> None:
    """Its name on the disk."""
    disk.sync(one.archive / BAGS)
    disk.sync(one.archive)


def _note(one: Filing) -> None:
    """Its line in the ledger."""
    ledger.write(one.archive, one.lines)


ORDER: tuple[Callable[[Filing], None], ...] = (_settle, _commit, _hold, _note)
"""The steps after a bag was written and verified; another order can lose a record, which a test proves."""


@contextmanager
def opened(workspace: Workspace) -> Iterator[Archive]:
    """Hold the archive of a workspace alone, after finishing or clearing away what was cut short.

    Raises BuildError where another process holds it, where something is in the way, and where it is not as it was
    filed; and for every error of the disk, with one line.
    """
    path = workspace.archive
    with plain_errors(path), _locked(path):
        for name in (BAGS, keys.FOLDER):
            disk.folder(path / name)
        disk.sync(path)
        yield Archive(workspace, path, _recovered(workspace, path))


def put(archive: Archive, wanted: Wanted, contents: Mapping[str, bytes | Path]) -> Filed:
    """File one bag in an archive that is held; `contents` is what stands under data/, by path."""
    key, number = keys.signing(archive.workspace), len(archive.lines) + 1
    path = archive.path
    if not archive.lines and not any((path / keys.FOLDER).iterdir()):
        keys.file_public(path, key.public_key())        # a new archive of a company that has its key already
    entry = Entry(bag.FORMAT, number, bag.name_of(number, wanted.job, wanted.kind), wanted.job, wanted.version,
                  wanted.kind, wanted.day, wanted.record, ledger.head(archive.lines), wanted.honored)
    try:
        disk.folder(path / INCOMING)
        tagged = bag.write(path / INCOMING / entry.bag, entry, contents, wanted.firm, key)
        trusted, wrong = verify.trusted_keys(path, key.public_key())
        wrong += verify.check(path / INCOMING / entry.bag, trusted).findings
        if wrong:
            raise BuildError(f"Nothing was filed. {wrong[0]}.")
        lines = (*archive.lines, Line.of(entry, tagged))
        for step in ORDER:
            step(Filing(path, entry.bag, lines))
    finally:
        _clear(path)
    return Filed(entry, path / BAGS / entry.bag, ledger.head(lines))


@contextmanager
def looked_at(path: Path) -> Iterator[None]:
    """Read an archive while nobody files in it, as far as this system locks; several can look at once.

    Needs no leave to write.  Raises BuildError where another process files just now, and for every error of the disk.
    """
    lock = path / LOCK
    with plain_errors(path):
        if fcntl is None or not lock.is_file() or lock.is_symlink():
            yield
            return
        number = os.open(lock, os.O_RDONLY | disk.NO_LINKS)
        try:
            _take(number, fcntl.LOCK_SH, path)
            yield
        finally:
            os.close(number)


def _take(number: int, kind: int, path: Path) -> None:
    try:
        fcntl.flock(number, kind | fcntl.LOCK_NB)
    except BlockingIOError as error:
        raise BuildError(f"Another command is filing in {disk.shown_link(path)}, or looks at it. Nothing was changed; "
                         "run this again when it is done.") from error


@contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """An error of the disk becomes one line that says which file and what."""
    try:
        yield
    except OSError as error:
        at = error.filename if isinstance(error.filename, str) else str(path)
        raise BuildError(f"{disk.shown_link(Path(at))} cannot be used: {error.strerror or error}. Nothing that was "
                         "filed is lost.") from error


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    if fcntl is None:
        raise BuildError("The archive needs a system that locks files and syncs folders: Linux or macOS.")
    disk.folder(path)
    disk.sync(path.parent)
    lock = os.open(path / LOCK, os.O_RDWR | os.O_CREAT | disk.NO_LINKS, disk.FILE_MODE)
    try:
        _take(lock, fcntl.LOCK_EX, path)
        yield
    finally:
        os.close(lock)


def _recovered(workspace: Workspace, path: Path) -> tuple[Line, ...]:
    """The lines of the ledger, after finishing a bag that has none yet; raises BuildError for what cannot be."""
    _clear(path)
    keys.recover(workspace, path)
    lines = ledger.read(path)
    named, there = {line.bag for line in lines}, {one.name for one in (path / BAGS).iterdir()}
    if lost := sorted(named - there):
        raise BuildError(f"{lost[0]} is missing from the archive. {ledger.MEND}")
    new = sorted(there - named)
    if new:
        # a name that is there need not be on the disk yet: what finishes a bag owes it the same as what files it
        disk.sync(path / BAGS)
        disk.sync(path)
    for name in new:
        trusted, _ = verify.trusted_keys(path, None)
        one = verify.check(path / BAGS / name, trusted)
        follows = one.entry is not None and (one.entry.number, one.entry.previous) == (len(lines) + 1,
                                                                                        ledger.head(lines))
        if one.entry is None or one.tagged is None or one.findings or not follows:
            what = one.findings[0] if one.findings else f"{name}: it does not follow from the ledger"
            raise BuildError(f"{what}. {ledger.MEND}")
        lines.append(Line.of(one.entry, one.tagged))
    if new:
        ledger.write(path, lines)
    return tuple(lines)


def _clear(path: Path) -> None:
    """Take away what a filing left beside; nothing that was filed is ever there."""
    beside = path / INCOMING
    if beside.is_symlink() or beside.is_file():
        beside.unlink()
    elif beside.exists():
        shutil.rmtree(beside)
    for left in (path / f".{ledger.NAME}.new", *(path / keys.FOLDER).glob(".*.new")):
        left.unlink(missing_ok=True)


__all__ = ["ORDER", "Archive", "Filed", "Filing", "Wanted", "looked_at", "opened", "plain_errors", "put"]
