"""Whether a job's site is already what a build would make: told by the bytes of all that a build reads, and its own.

A year's jobs are built again with one command, and most of them have not changed.  A site is known again by a hash of
every file of the job, of the workspace's cards, books, words and theme, of ours, and of the program with all installed
packages, together with the fingerprint of the site itself; nothing is told by a date.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from sitegen.placing import MARK, strangers
from sitegen.sheets.cache import Cache
from sitegen.workspace import Workspace, resource

FIRST = "index.html"
CARDS = ("*.yaml", "towns/*.yaml", "states/*.yaml", "content/**/*", "theme/**/*")
"""What a workspace holds for all of its jobs, from its top."""

PAPERS = ("office.html", "form.html", "card.html", "publications.json")
"""What the commands write beside a job, which no build reads."""


def built(workspace: Workspace, folder: Path, make: Callable[[], Path]) -> Path:
    """The folder of a job's site: as it stands where nothing changed, else as `make` builds it now."""
    cache, target = Cache(), workspace.output / folder.name
    key = stamp(workspace, folder)
    mark = cache.read("built", key, str(target))
    with suppress(OSError):                     # another build may put its own there meanwhile
        if mark is not None and (target / FIRST).is_file() and mark == fingerprint(target) and _alone(target):
            return target
    made = make()
    if key == stamp(workspace, folder):         # a file that changed meanwhile is built the next time
        cache.write("built", fingerprint(made), key, str(target))
    return made


def _alone(site: Path) -> bool:
    """Whether a site has its list, and nothing beside it: what is not as a build leaves it is built again, or refused
    with what is in the way."""
    return (site / MARK).is_file() and not strangers(site, site.name, ())


def stamp(workspace: Workspace, folder: Path) -> str:
    """A hash of the names and bytes of everything that a build of this job reads, but for the program itself, which
    the cache is kept by."""
    digest = hashlib.sha256()
    for top, path in _read(workspace, folder):
        name, data = path.relative_to(top).as_posix().encode(), path.read_bytes()
        digest.update(len(name).to_bytes(8) + name + len(data).to_bytes(8) + data)
    return digest.hexdigest()


def fingerprint(folder: Path) -> str:
    """A hash of the names and bytes of all files of a site, in order of name; what lists them is none of it."""
    digest = hashlib.sha512()
    for path in sorted(path for path in folder.rglob("*") if path.is_file() and path != folder / MARK):
        name, data = path.relative_to(folder).as_posix().encode(), path.read_bytes()
        digest.update(len(name).to_bytes(8) + name + len(data).to_bytes(8) + data)
    return digest.hexdigest()


def _read(workspace: Workspace, folder: Path) -> Iterator[tuple[Path, Path]]:
    """Every file that a build of a job may read, with the folder that its name is told from."""
    home = workspace.home
    for top, patterns in ((home, CARDS), (folder, ("**/*",)), (resource("content"), ("**/*",)),
                          (resource("theme"), ("**/*",)), (Path(__file__).parent / "rules", ("**/*.yaml",))):
        for pattern in patterns:
            yield from ((top, path) for path in sorted(top.glob(pattern))
                        if path.is_file() and path.name not in PAPERS)


__all__ = ["built", "fingerprint", "stamp"]
