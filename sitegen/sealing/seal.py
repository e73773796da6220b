"""Sealing: parts of a bundle to ciphertext that stands in one HTML document, and back again for checks.

AES-256-GCM (NIST SP 800-38D) under a key that HKDF-SHA256 (RFC 5869) makes from the key of the link and a salt that is
new each time, so that no two publications share a key and one link opens each of them in turn.  A part's place, the
count of parts, the format and the version are bound as additional data: no part can be put in the place of another.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import secrets
import zlib

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from msgspec import Struct

from sitegen.errors import BuildError
from sitegen.sealing.bundle import STEP, Bundle, Part

FORMAT = 1
"""The version of the sealed format; a stored publication of an older one opens with the script that it carries."""

SALT, TAG, LENGTH, NONCE = 32, 16, 4, 12
"""Bytes of the salt, of GCM's tag, of the length before what is sealed, and of a nonce."""


LEVEL = 6
"""How hard parts are compressed: 9 takes a third more time and saves a hundredth."""


class Sealed(Struct, frozen=True):
    """A sealed bundle: its salt, what binds its parts to one version of one job, the parts, and the SHA-256 of all of
    it, which tells damage from a wrong key."""

    salt: str
    bind: str
    parts: tuple[str, ...]
    sum: str


def seal(bundle: Bundle, key: str, job: str, version: int) -> Sealed:
    """Seal a bundle for the key of a link; every text of the result is base64 without padding, or hex."""
    salt = secrets.token_bytes(SALT)
    bind = hmac.new(key.encode(), f"{job}|{version}|{bundle.fingerprint}".encode(), "sha256").hexdigest()[:32]
    cipher, count = AESGCM(_derive(key, salt)), len(bundle.parts)
    parts = tuple(base64.b64encode(cipher.encrypt(_nonce(i), _padded(part), _bound(bind, i, count))).decode()
                  for i, part in enumerate(bundle.parts))
    salted = base64.b64encode(salt).decode().rstrip("=")
    return Sealed(salted, bind, parts, digest(salted, bind, parts))


def unseal(sealed: Sealed, key: str) -> tuple[bytes, ...]:
    """The parts as they were before sealing; raises BuildError for a wrong key or a changed byte."""
    cipher = AESGCM(_derive(key, base64.b64decode(sealed.salt + "=")))
    try:
        plain = [cipher.decrypt(_nonce(i), base64.b64decode(part, validate=True),
                                _bound(sealed.bind, i, len(sealed.parts))) for i, part in enumerate(sealed.parts)]
    except (InvalidTag, ValueError) as error:
        raise BuildError("the sealed parts do not open with this key, or were changed.") from error
    found = [text[LENGTH:LENGTH + int.from_bytes(text[:LENGTH])] for text in plain]
    return tuple(zlib.decompress(text) if i < 2 else text for i, text in enumerate(found))


def digest(salt: str, bind: str, parts: tuple[str, ...]) -> str:
    """The SHA-256 of everything sealed as it stands in the document, in hex."""
    return hashlib.sha256("|".join((salt, bind, *parts)).encode()).hexdigest()


def _derive(key: str, salt: bytes) -> bytes:
    return HKDF(SHA256(), 32, salt, f"sealed {FORMAT}".encode()).derive(key.encode())


def _nonce(place: int) -> bytes:
    return place.to_bytes(NONCE)


def _bound(bind: str, place: int, count: int) -> bytes:
    return f"{FORMAT}|{bind}|{place}|{count}".encode()


def _padded(part: Part) -> bytes:
    """Length, content and noughts, so that the ciphertext with its tag is a multiple of STEP."""
    content = zlib.compress(part.data, LEVEL) if part.compress else part.data
    text = len(content).to_bytes(LENGTH) + content
    return text + bytes(-(len(text) + TAG) % STEP)


__all__ = ["FORMAT", "Sealed", "digest", "seal", "unseal"]
