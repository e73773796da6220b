"""What the office reads, before it is laid out: tables of cells, the same for the terminal and for the page."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Source
from sitegen.office.say import Part
from sitegen.trade.rounding import half_up

Cell = tuple[Part, ...]
"""Parts that stand one after another; empty for a cell that says nothing."""

WORKED = Source("worked out", "from the cost book and the price book")


class Table(Struct, frozen=True):
    """One table: its title, heads, rows whose first cell names them, and notes below.

    `total` when the last row is a sum of the others
    """

    title: Cell
    heads: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[Cell, ...] = ()
    total: bool = False

    @property
    def numbers(self) -> frozenset[int]:
        """Which columns hold numbers, by place from nought: they stand at the right."""
        return frozenset(at for row in self.rows for at, cell in enumerate(row) if is_number(cell))


def money(name: str, cents: Fraction | int, method: str, source: Source = WORKED) -> Figure:
    """A private amount, rounded to the cent."""
    return Figure(f"office.{name}", half_up(Fraction(cents)), "cents", method, source, private=True)


def is_number(cell: Cell) -> bool:
    """Whether a cell is a number alone, and stands at the right."""
    return bool(cell) and isinstance(cell[0], Figure)


__all__ = ["WORKED", "Cell", "Table", "is_number", "money"]
