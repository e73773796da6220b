"""Jobs built at the same time, each process building one after another.

Processes are started afresh and not forked, which is the same on every system; each reads rules, words and templates
once for all the jobs that fall to it.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path
from typing import TypeVar

from sitegen.errors import BuildError

T = TypeVar("T")


@contextmanager
def in_processes(do: Callable[[Path], T], folders: Sequence[Path], count: int) -> Iterator[Callable[[Path], T]]:
    """`do` for these folders, worked out in `count` processes; what is given back waits for one folder's result.

    An error that `do` raises for a folder is raised when that folder is asked for.  Raises BuildError where a process
    was ended from outside.
    """
    with ProcessPoolExecutor(min(count, len(folders)), get_context("spawn"), gc.set_threshold,
                             gc.get_threshold()) as pool:
        waiting = {folder: pool.submit(do, folder) for folder in folders}

        def result(folder: Path) -> T:
            try:
                return waiting[folder].result()
            except BrokenProcessPool as error:
                raise BuildError(f"{folder.name}: its process was ended from outside; is there memory for so many "
                                 "at a time?") from error
        try:
            yield result
        finally:
            pool.shutdown(cancel_futures=True)


__all__ = ["in_processes"]
