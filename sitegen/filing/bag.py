"""One bag (BagIt 1.0, RFC 8493): the record and all that it stands on, hashed, listed and signed.

    bagit.txt, bag-info.txt      the declaration, and what is in it for whoever finds it
    data/                        what is filed
    manifest-sha512.txt          every file of data/
    entry.json, signed-by.pem    the link of the chain, and the public key
    tagmanifest-sha512.txt       every file above that is not in data/
    tagmanifest.sig              64 bytes: the Ed25519 signature of the tag manifest, byte for byte

A tag manifest cannot list its own signature.  The standard lets a bag hold tag files that no manifest lists, so that
it stays a valid bag; `verify` allows exactly this one, and the signature vouches for itself.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from msgspec import Struct, to_builtins

from sitegen.errors import BuildError
from sitegen.filing import disk, keys

DECLARED, INFO, MANIFEST, TAGS, SIGNATURE = ("bagit.txt", "bag-info.txt", "manifest-sha512.txt",
                                             "tagmanifest-sha512.txt", "tagmanifest.sig")
ENTRY, SIGNED_BY, DATA, RECORD = "entry.json", "signed-by.pem", "data", "record.json"
LISTED = tuple(sorted((DECLARED, INFO, MANIFEST, ENTRY, SIGNED_BY)))
"""What the tag manifest lists, no more and no less."""

DECLARATION = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
FORMAT = 1

SAFE = re.compile(r"(?!\.{1,2}(/|$))[^/\\%\x00-\x1f\x7f]+(/(?!\.{1,2}(/|$))[^/\\%\x00-\x1f\x7f]+)*")
"""A path inside data/ that needs no escape in a manifest and cannot lead out."""


class Entry(Struct, frozen=True, forbid_unknown_fields=True):
    """The link of the chain that a bag carries under its signature: its line of the ledger follows from it.

    `record` is the SHA-512 of the record filed, `previous` the fingerprint of the ledger before, `honored` why prices
    that had lapsed were held to.
    """

    format: int
    number: int
    bag: str
    job: str
    version: int
    kind: str
    day: date
    record: str
    previous: str
    honored: str | None = None

    def written(self) -> bytes:
        """The entry as it is filed: canonical JSON."""
        return rfc8785.dumps(to_builtins(self))


def name_of(number: int, job: str, kind: str) -> str:
    """The name of a bag's folder; its number keeps the order."""
    return f"{number:05}-{job}-{kind}"


def write(top: Path, entry: Entry, contents: Mapping[str, bytes | Path], firm: str, key: Ed25519PrivateKey) -> bytes:
    """Write a bag into a folder that is not there yet, not synced; gives its tag manifest.

    `contents` is what stands under data/, by path: bytes, or the file to copy.  Raises BuildError for a name that a
    manifest cannot hold plainly, or a link among the files.
    """
    top.mkdir(disk.FOLDER_MODE)
    (top / DATA).mkdir(disk.FOLDER_MODE)
    payload: dict[str, bytes] = {}
    for name, given in sorted(contents.items()):
        if not SAFE.fullmatch(name):
            raise BuildError(f"`{name}` cannot be filed under that name; rename it.")
        payload[f"{DATA}/{name}"] = given if isinstance(given, bytes) else disk.read(given)
    size = sum(len(data) for data in payload.values())
    tags = {DECLARED: DECLARATION, INFO: info(entry, firm, size, len(payload)), MANIFEST: listing(payload),
            ENTRY: entry.written(), SIGNED_BY: keys.pem(key.public_key())}
    tagged = listing(tags)
    for name, data in (payload | tags | {TAGS: tagged, SIGNATURE: key.sign(tagged)}).items():
        _folders(top, Path(name).parent)
        disk.put(top / name, data)
    return tagged


def info(entry: Entry, firm: str, size: int, count: int) -> bytes:
    """The description of a bag; it knows no day but that of its entry."""
    said = {"Source-Organization": " ".join(firm.split()), "Bagging-Date": entry.day.isoformat(),
            "External-Identifier": entry.bag, "External-Description": f"{entry.job} version {entry.version}, "
            f"{entry.kind}", "Payload-Oxum": f"{size}.{count}"}
    return "".join(f"{label}: {value}\n" for label, value in said.items()).encode("utf-8")


def listing(files: Mapping[str, bytes]) -> bytes:
    """A manifest: one line a file in order of name, its SHA-512 and its path."""
    return lines({name: hashlib.sha512(data).hexdigest() for name, data in files.items()})


def lines(sums: Mapping[str, str]) -> bytes:
    """A manifest of hashes that are known."""
    return "".join(f"{sums[name]}  {name}\n" for name in sorted(sums)).encode("utf-8")


def _folders(top: Path, inner: Path) -> None:
    for part in (*reversed(inner.parents), inner):
        if not (top / part).is_dir():
            (top / part).mkdir(disk.FOLDER_MODE)


__all__ = ["DATA", "DECLARATION", "DECLARED", "ENTRY", "FORMAT", "INFO", "LISTED", "MANIFEST", "RECORD", "SAFE",
           "SIGNATURE", "SIGNED_BY", "TAGS", "Entry", "info", "lines", "listing", "name_of", "write"]
