"""A process that is killed at its Nth touch of the disk, and a machine that loses power there.

Every opening for writing, folder, rename, removal and change of mode is seen by an audit hook, which also sees what
libraries do; syncs are seen by putting ours in the place of `os.fsync`.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

EVENTS = {"os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.chmod", "os.link", "os.truncate"}
KILLED = 71
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC

_listeners: list[Callable[[], None]] = []
_hooked: list[bool] = []


def _hook(event: str, given: tuple[object, ...]) -> None:
    if not _listeners:
        return
    writes = event == "open" and isinstance(given[2], int) and bool(given[2] & WRITES)
    if event in EVENTS or writes:
        for listener in tuple(_listeners):
            listener()


@contextmanager
def touching(before: Callable[[], None], synced: Callable[[int], None] = lambda number: None) -> Iterator[None]:
    """Call `before` ahead of each touch of the disk, and `synced` with the open file after each sync."""
    if not _hooked:
        sys.addaudithook(_hook)             # a hook cannot be taken out again, so that one serves all tests
        _hooked.append(True)
    real = os.fsync

    def fsync(number: int) -> None:
        before()
        synced(number)                      # what a sync promises is worked out, so that none is made
    _listeners.append(before)
    os.fsync = fsync
    try:
        yield
    finally:
        os.fsync = real
        _listeners.remove(before)


def killed(work: Callable[[], object], nth: int) -> bool:
    """Do some work in a process of its own that ends at its Nth touch of the disk; whether it came so far."""
    child = os.fork()
    if child == 0:
        left = [nth]

        def count() -> None:
            left[0] -= 1
            if left[0] == 0:
                os._exit(KILLED)
        code = 1
        try:
            with touching(count):
                work()
            code = 0
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(status)
    assert code in (0, KILLED), f"the work itself failed with {code}"
    return code == KILLED


class Disk:
    """What a disk is sure to hold of a folder: of each file the bytes, of each folder the names, of its last sync.

    A name is held with what it led to when its folder was synced; an inode is kept open, so that no other gets its
    number.
    """

    def __init__(self, top: Path) -> None:
        self.top = top
        self.bytes: dict[int, bytes] = {}
        self.names: dict[int, dict[str, tuple[int, bool]]] = {}
        self._open: dict[int, int] = {}
        for path in (top, *top.rglob("*")):
            self._hold(path)
            self._sync(path)

    def close(self) -> None:
        """Let go of every inode."""
        for number in self._open.values():
            os.close(number)

    def look(self) -> None:
        """Hold every inode that is there now."""
        for path in self.top.rglob("*"):
            self._hold(path)

    def synced(self, number: int) -> None:
        """An open file or folder was synced."""
        path = Path(f"/proc/self/fd/{number}").readlink()
        if path.is_relative_to(self.top):
            self.look()
            self._sync(path)

    def _hold(self, path: Path) -> None:
        node = path.lstat().st_ino
        if node not in self._open:
            self._open[node] = os.open(path, os.O_RDONLY | os.O_NOFOLLOW)

    def _sync(self, path: Path) -> None:
        node = path.lstat().st_ino
        if path.is_dir():
            self.names[node] = self._names(path)
        else:
            self.bytes[node] = path.read_bytes()

    def after(self, *, names_survive: bool) -> dict[str, bytes | None]:
        """What the worst case leaves, by path, None for a folder: synced names and bytes alone, or every name and
        synced bytes alone."""
        live = {path.lstat().st_ino: path for path in (self.top, *self.top.rglob("*"))} if names_survive else {}
        return dict(self._left(self.top.lstat().st_ino, "", live))

    def _left(self, node: int, inside: str, live: dict[int, Path]) -> Iterator[tuple[str, bytes | None]]:
        names = self._names(live[node]) if node in live else self.names.get(node, {})
        for name, (inner, is_folder) in sorted(names.items()):
            yield f"{inside}{name}", None if is_folder else self.bytes.get(inner, b"")
            if is_folder:
                yield from self._left(inner, f"{inside}{name}/", live)

    @staticmethod
    def _names(path: Path) -> dict[str, tuple[int, bool]]:
        return {one.name: (one.inode(), one.is_dir(follow_symlinks=False)) for one in os.scandir(path)}


def write(state: dict[str, bytes | None], into: Path) -> None:
    """Write what a disk was left with."""
    shutil.rmtree(into, ignore_errors=True)
    into.mkdir(0o700)
    for name, data in state.items():
        if data is None:
            (into / name).mkdir(0o700)
        else:
            (into / name).touch(0o600)
            (into / name).write_bytes(data)
