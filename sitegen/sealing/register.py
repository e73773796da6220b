"""What was published of a job, in its own folder: each publication with its link, its version and its fingerprint.

`publications.json` holds the keys of links, so it is for the office alone and is written with nobody else's leave to
read it.  Jobs share no register: two hundred of them can be published side by side.
"""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path
from tempfile import NamedTemporaryFile

import msgspec
from msgspec import Struct
from msgspec.json import encode
from msgspec.json import format as indent

from sitegen.errors import Fault, Faults
from sitegen.sealing.link import is_drawn
from sitegen.workspace import shown

NAME = "publications.json"
SEALED, OPEN = "sealed", "open"


class Publication(Struct, frozen=True, forbid_unknown_fields=True):
    """One version as it was published.

    `token` is its folder and `key` what opens it, None where its pages are readable; `at` the address of the folder of
    all publications, None where nobody said; `to` the folder that it was written into.  `fingerprint` is the SHA-512 of
    the bundle before sealing, `site` that of the pages it was made from.  `published` and `withdrawn` are days.
    """

    form: str
    token: str
    key: str | None
    at: str | None
    to: str
    version: int
    fingerprint: str
    site: str
    published: date
    prices_hold_to: date
    sign_by: date
    withdrawn: date | None = None


def read(folder: Path) -> tuple[Publication, ...]:
    """Every publication of a job, the oldest first; raises Faults where the register cannot be read."""
    path = folder / NAME
    try:
        found = msgspec.json.decode(path.read_bytes(), type=tuple[Publication, ...])
    except FileNotFoundError:
        return ()
    except (OSError, msgspec.MsgspecError) as error:
        raise Faults([_fault(path, f"It cannot be read: {error}.")]) from error
    if not all(is_drawn(one.token) and (one.key is None or is_drawn(one.key)) for one in found):
        raise Faults([_fault(path, "It names a token or a key that no publication can have.")])
    return found


def write(folder: Path, publications: tuple[Publication, ...]) -> None:
    """Write the register whole or not at all, readable by its owner alone."""
    text = indent(encode(publications, order="sorted"), indent=1) + b"\n"
    with NamedTemporaryFile(dir=folder, prefix=f".{NAME}-", delete=False) as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    Path(file.name).replace(folder / NAME)


def standing(publications: tuple[Publication, ...]) -> tuple[Publication, ...]:
    """The newest of each path that was not withdrawn."""
    newest = {one.token: one for one in publications}
    return tuple(one for one in newest.values() if one.withdrawn is None)


def _fault(path: Path, problem: str) -> Fault:
    return Fault(shown(path), 0, "", problem, "Put back the file as it was written; it is never changed by hand.")


__all__ = ["NAME", "OPEN", "SEALED", "Publication", "read", "standing", "write"]
