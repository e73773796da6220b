"""The cipher and the making of keys as the library gives them: the vectors that their authors published."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF

from tests.published.rows import Row, rows

READ = bytes.fromhex
CALLS: dict[str, Callable[..., str]] = {
    "gcm": lambda key, iv, text, bound: AESGCM(READ(key)).encrypt(READ(iv), READ(text), READ(bound)).hex(),
    "hkdf": lambda key, salt, info, length: HKDF(SHA256(), length, READ(salt), READ(info)).derive(READ(key)).hex(),
}


@pytest.mark.parametrize("row", rows("sealing"))
def test_the_library_gives_what_was_published(row: Row) -> None:
    """What sealing stands on comes out as printed, tag and all."""
    given: dict[str, Any] = row.given
    assert CALLS[row.of](**given) == row.gives
