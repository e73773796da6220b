"""The two secrets of a publication and the link that carries them.

Both are drawn from the system's secure source and written in an alphabet that a text message, a capital letter at the
start of a line, and a person who types it from paper leave whole: 26 signs of 32 are 130 bits.
"""

from __future__ import annotations

import secrets
from urllib.parse import urlsplit

from sitegen.errors import UsageError

ALPHABET = "abcdefghijkmnpqrstuvwxyz23456789"
"""Small letters and digits without l, o, 0 and 1, which are read for one another."""

LENGTH = 26
"""Signs of a token and of a key: 5 bits each."""


def draw() -> str:
    """A new token or key of LENGTH signs."""
    return "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))


def is_drawn(text: str) -> bool:
    """Whether a text can be a token or a key; nothing else becomes the name of a folder."""
    return len(text) == LENGTH and set(text) <= set(ALPHABET)


def link(at: str | None, token: str, key: str | None) -> str:
    """The link to a publication: under the address `at` of the folder on its host, else from that folder on.

    The key stands behind the #, which a browser never sends.
    """
    base = f"{at.rstrip('/')}/" if at else ""
    return f"{base}{token}/{f'#{key}' if key else ''}"


def address(at: str) -> str:
    """The address of a folder on a host as it was given; raises UsageError for one that no browser opens safely.

    Over plain http a browser gives no cryptography, so that a sealed page cannot open there.
    """
    split = urlsplit(at)
    if split.scheme != "https" or not split.netloc or split.query or split.fragment:
        raise UsageError(f"`{at}` is no address for proposals. Write one that begins with https:// and ends with the "
                         "folder, such as https://proposals.example/.")
    return at


__all__ = ["ALPHABET", "LENGTH", "address", "draw", "is_drawn", "link"]
