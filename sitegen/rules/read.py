"""Numbers from law and code as figures, each with edition, section, and the day it was checked."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from sitegen.figure import Figure, Source

FILE = Path(__file__).with_name("federal.yaml")
FIELDS = ("value", "unit", "says", "edition", "section", "checked", "recheck", "source", "memory")


@lru_cache(maxsize=1)
def _rules() -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = yaml.load(FILE.read_text("utf-8"), Loader=yaml.CSafeLoader)
    return found


def rule(key: str) -> Figure:
    """The rule of this name as a figure; raises KeyError for one that is not in the file."""
    row = _rules()[key]
    memory = " (from memory)" if row["memory"] else ""
    return Figure(f"rules.{key}", row["value"], row["unit"], row["says"],
                  Source("rule", f"{row['section']}, checked {row['checked']}{memory}; {row['source']}"))


def rules() -> tuple[Figure, ...]:
    """Every rule."""
    return tuple(rule(key) for key in _rules())
