"""Every key of our words can be searched for: it stands whole, in quotes, in the code or in a template that uses it."""

from __future__ import annotations

from functools import cache

import pytest

from tests.golden.pieces import our_words
from tests.helpers import ROOT

FILES = ("bids", "chances", "compare", "living", "pay", "photographs", "report", "rooms", "rows", "start", "who")


@cache
def source() -> str:
    """All our code and templates."""
    return "\n".join(path.read_text("utf-8") for folder in ("sitegen", "theme")
                     for path in sorted((ROOT / folder).rglob("*")) if path.suffix in {".py", ".html"})


@pytest.mark.parametrize("file", FILES)
def test_every_key_stands_whole_where_it_is_used(file: str) -> None:
    """Nobody has to guess how a key is put together."""
    assert [key for key in our_words().html
            if key.startswith(f"{file}.") and f'"{key}"' not in source() and f"'{key}'" not in source()] == []
