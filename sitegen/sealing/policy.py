"""The content policy of a page that leaves the house: what it may run and show, by the hash of each text."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable


def policy(scripts: Iterable[str], styles: Iterable[str], *, folder: bool = False) -> str:
    """A Content-Security-Policy (CSP Level 3) that allows these texts and nothing else.

    `folder` where the pages also ask for the files beside them.  There is no connect-src, so that no script can send
    anything anywhere.
    """
    own = ["'self'"] if folder else []
    images = " ".join((*own, "data:", *([] if folder else ["blob:"])))
    return "; ".join(("default-src 'none'", f"script-src {_of(scripts, own)}", f"style-src {_of(styles, own)}",
                      f"img-src {images}", "base-uri 'none'", "form-action 'none'"))


def hashed(text: str) -> str:
    """The hash of a text as a policy names it."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _of(texts: Iterable[str], own: list[str]) -> str:
    return " ".join((*own, *dict.fromkeys(hashed(text) for text in texts))) or "'none'"


__all__ = ["hashed", "policy"]
