"""What the archive stands on against published vectors: canonical JSON, Ed25519, SHA-512, and which bags are valid."""

from __future__ import annotations

import json
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Any

import bagit
import pytest
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from sitegen.filing import bag, keys, verify
from tests.filing.made import agreement, file, kept_of, workspace
from tests.published.rows import Row, rows


def _number(bits: str) -> str:
    """A double [its bits in hex] as canonical JSON."""
    value: float = struct.unpack(">d", bytes.fromhex(bits))[0]
    return rfc8785.dumps(value).decode()


def _signature(seed: str, public: str, message: str) -> str:
    """The signature of a seed, which holds for its message under the public key, and for no other message."""
    key, data = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(seed)), bytes.fromhex(message)
    theirs = keys.public(keys.pem(key.public_key()))
    assert theirs
    assert theirs.public_bytes_raw().hex() == public
    signature = key.sign(data)
    assert keys.holds(theirs, signature, data)
    assert not keys.holds(theirs, signature, data + b"\0")
    return signature.hex()


def _sum(text: str) -> str:
    return _line(text, "data/x").split()[0]


def _line(text: str, name: str) -> str:
    return bag.listing({name: text.encode()}).decode().removesuffix("\n")


CALLS: dict[str, Callable[..., Any]] = {
    "number": _number,
    "canonical": lambda **given: rfc8785.dumps(json.loads(given["json"])).decode(),
    "signature": _signature,
    "sum": _sum,
    "manifest line": _line,
    "declaration": lambda: bag.DECLARATION.decode(),
}


@pytest.mark.parametrize("row", [one for one in rows("archive") if one.values[0].of != "bag"])
def test_the_archive_gives_what_was_published(row: Row) -> None:
    """Canonical JSON, signatures, hashes and the lines of a manifest are those of the standards, to the byte."""
    assert CALLS[row.of](**row.given) == row.gives


@pytest.mark.parametrize("row", [one for one in rows("archive") if one.values[0].of == "bag"])
def test_a_bag_is_valid_where_the_standard_says_so_and_ours_is_stricter(row: Row, tmp_path: Path) -> None:
    """The bagit library and our own check judge the same bag as the row says, and ours never passes what it fails."""
    made = workspace(tmp_path)
    path = file(made, agreement(kept_of(made))).path
    do, _, name = row.given["after"].partition(" ")
    if do == "add":
        (path / name).write_bytes(b"more")
    elif do == "change":
        (path / name).write_bytes(bytes([(path / name).read_bytes()[0] ^ 1]) + (path / name).read_bytes()[1:])
    elif do == "remove":
        (path / name).unlink()
    trusted, wrong = verify.trusted_keys(made.archive, keys.signing(made).public_key())
    assert wrong == []
    got = {"standard": _valid(path), "ours": verify.check(path, trusted).findings == ()}
    assert got == row.gives
    assert got["standard"] or not got["ours"]


def _valid(path: Path) -> bool:
    try:
        bagit.Bag(str(path)).validate()
    except bagit.BagError:
        return False
    return True
