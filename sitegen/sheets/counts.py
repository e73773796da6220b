"""Numbers of the sheets themselves: how many there are, and how many rows the comparison has."""

from __future__ import annotations

from sitegen.figure import Figure, Source
from sitegen.offer.rows import ROWS


def counted(name: str, value: int) -> Figure:
    """A number of the plan of the sheets."""
    return Figure(name, value, "number", "Counted.", Source("published", "the plan of the sheets"))


ROW_COUNT = counted("rows.count", len(ROWS))
