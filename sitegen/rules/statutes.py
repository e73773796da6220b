"""Words of law that an agreement prints as they stand, and drafts of what states ask of one.

`texts/` holds words with their section and source; `states/` a file a state, which nobody reviewed and which opens
nothing: whoever writes a state's card begins with it, and a card that lacks one of its duties is not whole.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml
from msgspec import DecodeError, Struct, convert, json

from sitegen.rules import read

FOLDER = Path(__file__).parent


class Text(Struct, frozen=True):
    """Paragraphs of a law, with its section and where they were read; `memory` where some were not seen in print."""

    section: str
    source: str
    memory: bool
    text: tuple[str, ...]


class DraftDuty(Struct, frozen=True):
    """What a state asks: in our words, and in its own where they were seen; size [points], place, own signature."""

    key: str
    asks: str
    text: str | None
    where: str
    source: str
    size: int | None
    place: str | None
    signed: bool
    booklet: str | None


class Draft(Struct, frozen=True):
    """What was read of one state; always a draft."""

    name: str
    draft: bool
    duties: tuple[DraftDuty, ...]


@lru_cache(maxsize=1)
def statutes() -> dict[str, Text]:
    """Every text of federal law, by its key."""
    return {key: convert(row, Text) for key, row in _read("texts")["federal"].items()}


@lru_cache(maxsize=1)
def drafts() -> dict[str, Draft]:
    """Every draft of a state's duties, by the state's name."""
    found = (convert(row, Draft) for row in _read("states").values())
    return {one.name: one for one in found}


def _read(folder: str) -> dict[str, Any]:
    texts = {path.stem: path.read_text("utf-8") for path in sorted((FOLDER / folder).glob("*.yaml"))}

    def parsed() -> str:
        return json.encode({name: yaml.load(text, Loader=yaml.CSafeLoader) for name, text in texts.items()}).decode()
    found: dict[str, Any]
    try:
        found = json.decode(read.kept(f"rules-{folder}", parsed, *texts, *texts.values()))
    except DecodeError:                     # a damaged file is as good as none
        found = json.decode(parsed())
    return found


__all__ = ["Draft", "DraftDuty", "Text", "drafts", "statutes"]
