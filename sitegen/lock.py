"""One at a time: a lock that a process holds on a file, given back by the system when the process ends in any way."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sitegen.errors import BuildError

PATIENCE = 60.0
"""Seconds that one build waits for another of the same job, which takes two."""

BETWEEN = 0.1
"""Seconds between two looks whether the other is done."""

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextmanager
def held(path: Path, what: str, patience: float = PATIENCE) -> Iterator[None]:
    """Hold the lock on `path`, which is made where it is not there; `what` says what nobody else may do meanwhile.

    Waits for whoever has it, up to `patience` [s]; raises BuildError after that.  A file system without locks holds
    nobody up.
    """
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        for left in range(round(patience / BETWEEN), -1, -1):
            try:
                _take(handle)
                break
            except (BlockingIOError, PermissionError):      # the second is what Windows says
                if not left:
                    raise BuildError(f"Somebody else is at it: {what}. Try again when that is done.") from None
                time.sleep(BETWEEN)
            except OSError:
                break
        yield
    finally:
        with suppress(OSError):
            os.close(handle)                # which gives the lock back


__all__ = ["held"]
