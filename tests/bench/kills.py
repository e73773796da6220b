"""Builds that are ended at any change of a file, by hand: `python -m tests.bench.kills [500]`.

Each must leave the last site or the next one, whole, and the build after it must leave nothing else beside.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from itertools import cycle
from pathlib import Path
from tempfile import TemporaryDirectory

from msgspec import Struct

from sitegen import placing
from sitegen.build import build
from sitegen.workspace import find
from tests.helpers import JOB, JOB_FILE, demo_copy, edit, tree

ADDRESSES = ("61 Alder Lane", "63 Alder Lane")


class Killed(Struct, frozen=True):
    """A build ended at a change of a file, counted from nought, and what was wrong afterwards, if anything was."""

    change: int
    wrong: str


def _events(limit: int) -> Callable[[str, object], None]:
    """What ends this process at its `limit`th change of a file, of whatever kind."""
    count = iter(range(limit))

    def seen(event: str, arguments: object) -> None:
        mode = str(arguments[1]) if event == "open" and isinstance(arguments, tuple) else ""
        changes = set(mode) & set("wx+") or event in ("os.rename", "os.mkdir", "os.remove", "os.rmdir")
        if changes and next(count, None) is None:
            os._exit(9)
    return seen


def _ended_at(home: Path, limit: int) -> int:
    """Build in a process of its own that is ended at its `limit`th change of a file; gives its exit code."""
    child = os.fork()
    if not child:
        sys.addaudithook(_events(limit))
        try:
            build(find(str(home)), home / JOB)
        except BaseException:
            os._exit(1)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def kills(home: Path, changes: Iterable[int]) -> Iterator[Killed]:
    """Builds of a demo workspace, each ended at one of `changes`, until one is left to its end."""
    sites = {}
    site = home / "site" / JOB
    for old, new in ((ADDRESSES[0], ADDRESSES[0]), ADDRESSES):
        edit(home / JOB_FILE, old, new)
        build(find(str(home)), home / JOB)
        sites[new] = tree(site)
    for change, (old, new) in zip(changes, cycle((ADDRESSES[::-1], ADDRESSES)), strict=False):
        edit(home / JOB_FILE, old, new)
        code = _ended_at(home, change)
        wrong = "" if not site.exists() or tree(site) in sites.values() else "the site is neither the last nor the next"
        build(find(str(home)), home / JOB)
        if tree(site) != sites[new]:
            wrong = "the next build gives another site"
        elif [path.name for path in (home / "site").iterdir()] != [JOB]:
            wrong = "something is left beside the site"
        if not code:
            return
        yield Killed(change, wrong)


def main(most: int) -> None:
    """Print how many builds were ended, one way of swapping after the other, and what was wrong."""
    done: list[Killed] = []
    for swap in cycle((placing.swap, lambda one, other: False)):
        placing.swap = swap
        with TemporaryDirectory() as folder:
            done += kills(demo_copy(Path(folder)), range(1_000))
        if len(done) >= most:
            break
    print(f"{len(done)} builds ended; wrong afterwards: {[one for one in done if one.wrong]}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
