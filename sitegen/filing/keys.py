"""The company's signing key (Ed25519, RFC 8032), its public halves in the archive, and the notes that lead from key to
key.

The private key is `signing-key.pem` in the workspace, outside the archive and of everything that is published.  The
archive holds every public key under its own fingerprint, and for each rotation a note that both keys signed, so that
from the key of today every older one is reached.  A retired private key is not kept: nothing needs it.
"""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path

import msgspec
import rfc8785
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
    load_pem_public_key,
)
from msgspec import Struct

from sitegen.errors import BuildError, UsageError
from sitegen.filing import disk
from sitegen.workspace import Workspace

NAME, NEXT = "signing-key.pem", ".signing-key.next.pem"
FOLDER, NOTE = "keys", "rotation"
FORMAT = 1


class Rotation(Struct, frozen=True, forbid_unknown_fields=True):
    """One change of key: fingerprints of the old and the new one, the day, and both signatures [hex] of the rest."""

    format: int
    number: int
    day: date
    old: str
    new: str
    by_old: str = ""
    by_new: str = ""

    def signed(self) -> bytes:
        """What both keys sign: everything but the signatures, as canonical JSON."""
        return rfc8785.dumps({"format": self.format, "number": self.number, "day": self.day.isoformat(),
                              "old": self.old, "new": self.new})

    def written(self) -> bytes:
        """The note as it is filed."""
        plain = {**msgspec.json.decode(self.signed()), "by_old": self.by_old, "by_new": self.by_new}
        return rfc8785.dumps(plain) + b"\n"


def pem(key: Ed25519PublicKey) -> bytes:
    """A public key as it is filed, which stock tools read."""
    return key.public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo)


def fingerprint(key: Ed25519PublicKey) -> str:
    """The SHA-256 of the 32 bytes of a public key, in hex: its name in the archive."""
    return hashlib.sha256(key.public_bytes(Encoding.Raw, PublicFormat.Raw)).hexdigest()


def public(data: bytes) -> Ed25519PublicKey | None:
    """The key of a PEM file of ours, None for any other bytes: one key has one spelling."""
    try:
        key = load_pem_public_key(data)
    except (ValueError, TypeError):
        return None
    return key if isinstance(key, Ed25519PublicKey) and pem(key) == data else None


def holds(key: Ed25519PublicKey, signature: bytes, data: bytes) -> bool:
    """Whether a key signed these bytes."""
    try:
        key.verify(signature, data)
    except InvalidSignature:
        return False
    return True


def private(path: Path) -> Ed25519PrivateKey:
    """The private key of a file; raises BuildError for one that is none of ours, or that others may read."""
    data = disk.read(path)
    if path.stat().st_mode & 0o077:
        raise BuildError(f"{disk.shown_link(path)} can be read by others: `chmod 600` it, and if anybody may have read "
                         "it, change it with `sitegen archive key --rotate`.")
    try:
        key = load_pem_private_key(data, None)
    except (ValueError, TypeError) as error:
        raise BuildError(f"{disk.shown_link(path)} is no signing key; put back the file as it was.") from error
    if not isinstance(key, Ed25519PrivateKey):
        raise BuildError(f"{disk.shown_link(path)} is no Ed25519 key; put back the file as it was.")
    return key


def signing(workspace: Workspace) -> Ed25519PrivateKey:
    """The key that signs today; raises UsageError where there is none yet."""
    path = workspace.home / NAME
    if not path.exists() and not path.is_symlink():
        raise UsageError("There is no signing key yet. `sitegen archive key` makes one.")
    return private(path)


def make(workspace: Workspace, archive: Path) -> Ed25519PublicKey:
    """The first key of an archive that is locked; raises UsageError where there is one, which is never written over."""
    path = workspace.home / NAME
    if path.exists() or path.is_symlink():
        raise UsageError(f"{disk.shown_link(path)} is there already and stays. `--rotate` changes to a new key.")
    if known := sorted(one.name for one in (archive / FOLDER).glob("*.pem")):
        raise UsageError(f"The archive has {len(known)} key(s) already, and {NAME} is not in the workspace. Put it "
                         "back from where you keep a copy: a new key would not continue this archive.")
    key = Ed25519PrivateKey.generate()
    _draw(workspace.home / NEXT, key)
    file_public(archive, key.public_key())
    _into_place(workspace)
    return key.public_key()


def rotate(workspace: Workspace, archive: Path, day: date) -> Rotation:
    """Change to a new key: its private half is written first, then what leads to it, and only then the old one goes."""
    old, new = signing(workspace), Ed25519PrivateKey.generate()
    _draw(workspace.home / NEXT, new)
    number = len(list((archive / FOLDER).glob(f"{NOTE}-*.json"))) + 1
    bare = Rotation(FORMAT, number, day, fingerprint(old.public_key()), fingerprint(new.public_key()))
    note = msgspec.structs.replace(bare, by_old=old.sign(bare.signed()).hex(), by_new=new.sign(bare.signed()).hex())
    file_public(archive, new.public_key())
    disk.replace(archive / FOLDER / f"{NOTE}-{number:04}.json", note.written())
    _into_place(workspace)
    return note


def recover(workspace: Workspace, archive: Path) -> None:
    """Finish a key that was being made or changed when the machine stopped, or take back what never came to count."""
    beside = workspace.home / NEXT
    if not beside.exists():
        return
    try:
        new = fingerprint(private(beside).public_key())
    except BuildError:                      # it was not whole yet, so that nothing leads to it
        beside.unlink()
        return
    notes = [one for one in (archive / FOLDER).glob(f"{NOTE}-*.json") if f'"{new}"'.encode() in disk.read(one)]
    first = (archive / FOLDER / f"{new}.pem").exists() and not (workspace.home / NAME).exists()
    if notes or first:
        _into_place(workspace)
        return
    (archive / FOLDER / f"{new}.pem").unlink(missing_ok=True)
    beside.unlink()


def file_public(archive: Path, key: Ed25519PublicKey) -> None:
    """Keep a public key in the archive, under its fingerprint."""
    disk.folder(archive / FOLDER)
    disk.sync(archive)
    disk.replace(archive / FOLDER / f"{fingerprint(key)}.pem", pem(key))


def _draw(path: Path, key: Ed25519PrivateKey) -> None:
    path.unlink(missing_ok=True)
    disk.put(path, key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    disk.sync(path)
    disk.sync(path.parent)


def _into_place(workspace: Workspace) -> None:
    (workspace.home / NEXT).replace(workspace.home / NAME)
    disk.sync(workspace.home)


__all__ = ["FOLDER", "NAME", "NEXT", "NOTE", "Rotation", "file_public", "fingerprint", "holds", "make", "pem",
           "private", "public", "recover", "rotate", "signing"]
