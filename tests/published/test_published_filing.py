"""Signatures, canonical JSON, hashes and the form of a bag as the archive makes them: what their authors published."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from sitegen.filing import bag, keys
from tests.published.rows import Row, rows

READ = bytes.fromhex


def _sign(secret: str, public: str, message: str) -> str:
    """The signature, once it holds for the public key printed and for no other message."""
    signature = Ed25519PrivateKey.from_private_bytes(READ(secret)).sign(READ(message))
    printed = Ed25519PublicKey.from_public_bytes(READ(public))
    assert keys.holds(printed, signature, READ(message))
    assert not keys.holds(printed, signature, READ(message) + b"\0")
    return signature.hex()


CALLS: dict[str, Callable[..., object]] = {
    "sign": _sign,
    "canonical": lambda text: rfc8785.dumps(json.loads(text)).decode("utf-8"),
    "sha512": lambda text: bag.listing({"of": text.encode()}).decode().split()[0],
    "manifest": lambda path, text: bag.listing({path: text.encode()}).decode(),
    "declares": lambda: bag.DECLARATION.decode(),
    "lists": lambda file: file in bag.LISTED,
}


@pytest.mark.parametrize("row", rows("filing"))
def test_what_filing_stands_on_gives_what_was_published(row: Row) -> None:
    """Each comes out as printed, to the byte."""
    given: dict[str, Any] = row.given
    assert CALLS[row.of](**given) == row.gives
