"""A site put in the place of the last one: at once, and over nothing that a build did not write.

Each site carries a list of the files that its build wrote, by name; the list is no page and counts for nothing else.
A folder that holds anything beside is left as it is.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
from collections.abc import Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp

from sitegen.errors import BuildError
from sitegen.workspace import shown

MARK = ".built-by-sitegen"
"""The list, at the top of a site."""

HEAD = "A build wrote this folder and will replace it whole. What it wrote:"
NAMED = 6
"""As many strange files as are named in a message."""

SWAP, HERE = 2, -100
"""What asks the kernel to swap two names, the same for Linux and macOS; and "from here" for Linux (AT_FDCWD)."""


def write_mark(site: Path) -> None:
    """List the files of a site in it."""
    names = sorted(_names(site))
    (site / MARK).write_text("\n".join((HEAD, *names)) + "\n", "utf-8")


def strangers(site: Path, job: str, ours: Collection[str]) -> list[str]:
    """What stands in a folder that no build of this job wrote, by name; a folder ends with a stroke.

    `ours` are the files that a build writes now.  A site of a time before sites had a list is known by its names,
    each of which must be one of them, and by its pages, each of which must be of this job.
    """
    known, found = _listed(site), list(_names(site))
    if known is not None:
        return sorted(name for name in found if name not in known)
    if "index.html" not in found:
        return sorted(found)
    return sorted(name for name in found if name not in ours or (name.endswith(".html")
                                                                 and not _of(job, site / name)))


def refuse_strangers(site: Path, job: str, ours: Collection[str]) -> None:
    """Raise BuildError, with the names, where a folder holds what no build of this job wrote."""
    if site.is_symlink() or (site.exists() and not site.is_dir()):
        raise BuildError(f"{shown(site)} is in the way; move it.")
    found = strangers(site, job, ours) if site.exists() else []
    if found:
        more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
        raise BuildError(f"{shown(site)} holds what no build wrote: {', '.join(found[:NAMED])}{more}. A build replaces "
                         "the folder whole, so nothing was touched: move them out of it, then build again.")


@contextmanager
def beside(site: Path) -> Iterator[Path]:
    """An empty folder beside a site to make the next one in; what it holds in the end is taken away.

    Whoever asks holds the job's lock, so that what is left there of a build that was ended is nobody's: it is swept,
    and a last good site that stands in it is put back.
    """
    site.parent.mkdir(parents=True, exist_ok=True)
    sweep(site)
    made = Path(mkdtemp(prefix=f".{site.name}-", dir=site.parent))
    try:
        yield made
    finally:
        _put_back(site, made)
        shutil.rmtree(made, ignore_errors=True)


def sweep(site: Path) -> list[Path]:
    """Take away what builds of a job that were ended left beside its site; gives what was there."""
    left = [path for path in sorted(site.parent.glob(f".{site.name}-*"))
            if re.fullmatch(re.escape(f".{site.name}-") + "[a-z0-9_]{8}", path.name) and not path.is_symlink()]
    for path in left:
        _put_back(site, path)
        shutil.rmtree(path, ignore_errors=True)
    return left


def put(made: Path, site: Path, job: str) -> None:
    """Put a made site in the place of the last one, at once; `made` is in a folder that `beside` gave.

    Raises BuildError, and leaves the last one, where that holds what no build of this job wrote.
    """
    ours = frozenset(_names(made))
    refuse_strangers(site, job, ours)
    if not site.exists():
        made.rename(site)
        return
    if swap(made, site):
        if strangers(made, job, ours) and swap(made, site):    # somebody put a file there at the last moment
            refuse_strangers(site, job, ours)
        return
    site.rename(made.parent / "old")        # two steps: one that is ended between them is put back by the next
    made.rename(site)


def _put_back(site: Path, made: Path) -> None:
    if not site.exists() and (made / "old").is_dir():
        (made / "old").rename(site)


def swap(one: Path, other: Path) -> bool:
    """Swap two folders in one step; False where this system cannot."""
    if sys.platform == "win32":
        return False
    import ctypes
    libc, (first, second) = ctypes.CDLL(None, use_errno=True), (os.fsencode(one), os.fsencode(other))
    with suppress(AttributeError):
        if sys.platform == "darwin":
            return bool(libc.renamex_np(first, second, SWAP) == 0)
        return bool(libc.renameat2(HERE, first, HERE, second, SWAP) == 0)
    return False


def _names(site: Path) -> Iterator[str]:
    """The files of a folder by name, and each folder in it that holds none."""
    for folder, inner, files in os.walk(site):
        at = Path(folder)
        for name in files:
            path = (at / name).relative_to(site).as_posix()
            if path != MARK:
                yield path
        yield from ((at / name).relative_to(site).as_posix() + "/" for name in inner
                    if (at / name).is_symlink() or not any((at / name).iterdir()))


def _listed(site: Path) -> frozenset[str] | None:
    """The files that the list of a site names; None where it has none of ours."""
    try:
        head, *names = (site / MARK).read_text("utf-8").splitlines()
    except (OSError, ValueError):
        return None
    return frozenset(names) if head == HEAD else None


def _of(job: str, page: Path) -> bool:
    """Whether a page is one that a build of this job wrote."""
    try:
        return f'data-job="{job}-' in page.read_text("utf-8")
    except (OSError, ValueError):
        return False


__all__ = ["MARK", "beside", "put", "refuse_strangers", "strangers", "swap", "sweep",
           "write_mark"]
