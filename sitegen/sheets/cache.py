"""A private folder for what is slow to make and never changes: words, compiled templates, endings, pictures.

The folder carries a stamp of everything that could make its content wrong, belongs to us alone, and is left
unused rather than trusted when it does not.
"""

from __future__ import annotations

import hashlib
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path

from sitegen.workspace import PACKAGE

INSTALLED = (".dist-info", ".egg-info")
"""The folders in which Python notes a package that is installed; their names hold its version."""


class Cache:
    """Text kept under the hash of what it was made from; `folder` is None when there is no place to trust."""

    def __init__(self) -> None:
        self.folder = _folder()

    def read(self, kind: str, *made_from: str) -> str | None:
        """What was kept for exactly these inputs, or None."""
        if self.folder is None:
            return None
        try:
            return (self.folder / _name(kind, made_from)).read_text("utf-8")
        except (OSError, UnicodeDecodeError):
            return None

    def write(self, kind: str, text: str, *made_from: str) -> None:
        """Keep `text`; quietly keeps nothing where it cannot."""
        if self.folder is None:
            return
        path = self.folder / _name(kind, made_from)
        beside = path.with_suffix(f".{os.getpid()}")
        try:
            beside.write_text(text, "utf-8")
            beside.replace(path)
        except OSError:
            beside.unlink(missing_ok=True)


    def kept(self, kind: str, make: Callable[[], str], *made_from: str) -> str:
        """What was kept for exactly these inputs; else what `make` gives now, kept from now on."""
        found = self.read(kind, *made_from)
        if found is None:
            self.write(kind, found := make(), *made_from)
        return found


def _name(kind: str, made_from: tuple[str, ...]) -> str:
    digest = hashlib.sha256("\0".join(made_from).encode()).hexdigest()
    return f"{kind}-{digest[:40]}.json"


def _folder() -> Path | None:
    base = os.environ.get("XDG_CACHE_HOME") or (Path.home() / ".cache")
    folder = Path(base) / "sitegen" / _stamp()
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        found = folder.stat()
    except OSError:
        return None
    private = stat.S_IMODE(found.st_mode) & 0o077 == 0
    return folder if private and found.st_uid == os.getuid() else None


def _stamp() -> str:
    """A hash of Python, of the version of every installed package, and of all our own sources.

    A change of any starts a new folder.  Names of folders say a package's version at a tenth of the cost of its notes.
    """
    found = sorted(path.name for folder in map(Path, sys.path) if folder.is_dir()
                   for path in folder.iterdir() if path.suffix in INSTALLED)
    digest = hashlib.sha256("\n".join((f"python {sys.version_info[:3]}", *found)).encode())
    for path in sorted(PACKAGE.rglob("*.py")):
        digest.update(path.relative_to(PACKAGE).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()[:24]
