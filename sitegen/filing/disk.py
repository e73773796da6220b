"""What reaches the disk for certain: writing, syncing and reading without following a link.

Supported are Linux, and macOS with its own full sync.  Windows can neither sync a folder nor lock as we do, and is
refused where the archive is opened.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

from sitegen.errors import BuildError
from sitegen.workspace import shown

try:
    import fcntl
except ImportError:                         # not on Windows
    FULL_SYNC = None
else:
    FULL_SYNC = getattr(fcntl, "F_FULLFSYNC", None)

FOLDER_MODE, FILE_MODE = 0o700, 0o600
NO_LINKS = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)


def folder(path: Path) -> None:
    """Make a folder for its owner alone, or take the one that is there; refuses a link or a file in its place."""
    try:
        path.mkdir(FOLDER_MODE)
    except FileExistsError:
        if not stat.S_ISDIR(path.lstat().st_mode):
            raise BuildError(f"{shown_link(path)} is in the way: it is no folder of the archive. Move it.") from None


def put(path: Path, data: bytes) -> None:
    """Write a new file for its owner alone, not yet synced; nothing is ever written over or through a link."""
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | NO_LINKS, FILE_MODE), "wb") as file:
        file.write(data)


def replace(path: Path, data: bytes) -> None:
    """Put a file in the place of another by one rename, so that a reader finds the old one or the new one whole."""
    beside = path.with_name(f".{path.name}.new")
    beside.unlink(missing_ok=True)
    put(beside, data)
    sync(beside)
    beside.replace(path)
    sync(path.parent)


def read(path: Path) -> bytes:
    """The bytes of a file; OSError where a link stands in its place."""
    with os.fdopen(os.open(path, os.O_RDONLY | NO_LINKS), "rb") as file:
        return file.read()


def sync(path: Path) -> None:
    """Have the bytes of a file, or the names in a folder, on the disk before anything goes on."""
    number = os.open(path, os.O_RDONLY | NO_LINKS)
    try:
        if FULL_SYNC is None:
            os.fsync(number)
        else:                               # fsync of macOS leaves bytes in the drive's own memory
            fcntl.fcntl(number, FULL_SYNC)
    finally:
        os.close(number)


def sync_tree(top: Path) -> None:
    """Sync every file under a folder, then the folders from the innermost out."""
    folders = [top]
    for path in inside(top):
        if path.is_dir():
            folders.append(path)
        else:
            sync(path)
    for one in reversed(folders):
        sync(one)


def inside(top: Path) -> Iterator[Path]:
    """Everything under a folder, a folder before what it holds, in order of name; raises BuildError for a link."""
    for entry in sorted(os.scandir(top), key=lambda one: one.name):
        path = Path(entry.path)
        if entry.is_symlink():
            raise BuildError(f"{shown_link(path)} is a link; only what stands there itself is filed.")
        yield path
        if entry.is_dir(follow_symlinks=False):
            yield from inside(path)


def shown_link(path: Path) -> str:
    """A path as a person would type it, with a link in it left as it is."""
    return f"{shown(path.parent)}/{path.name}"


__all__ = ["FILE_MODE", "FOLDER_MODE", "folder", "inside", "put", "read", "replace", "shown_link", "sync", "sync_tree"]
