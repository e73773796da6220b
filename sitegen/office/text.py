"""The office's view for a terminal: plain text, numbers aligned at their right."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from sitegen.office.make import Office
from sitegen.office.say import said
from sitegen.office.tables import Cell, Table

WIDE = 100
"""Longest line of words [characters]; what names a row may take NAME of them."""

NAME = 60
PRIVATE = "PRIVATE"


def as_text(office: Office) -> str:
    """The whole view."""
    head = "\n".join((PRIVATE, *(_said(line) for line in office.head)))
    return "\n\n".join((head, *("\n".join(_table(table)) for table in office.tables))) + "\n"


def _said(cell: Cell) -> str:
    return "".join(said(part) for part in cell)


def _table(table: Table) -> Iterator[str]:
    yield _said(table.title)
    rows = [[_said(cell) for cell in row] for row in table.rows]
    heads = [_said(cell) for cell in table.heads]
    right = [at in table.numbers for at in range(len(heads))]
    widths = [min(NAME, max(len(row[at]) for row in (heads, *rows))) for at in range(len(heads))]
    if any(heads):
        yield from _row(heads, widths, right)
    for at, row in enumerate(rows):
        if table.total and at == len(rows) - 1:
            yield "  " + "-" * (sum(widths) + 2 * (len(widths) - 1))
        yield from _row(row, widths, right)
    for note in table.notes:
        yield from (f"  {line}" for line in wrap(_said(note), WIDE))


def _row(cells: list[str], widths: list[int], right: list[bool]) -> Iterator[str]:
    """One row; a name that is too long goes on above the numbers."""
    first = wrap(cells[0], widths[0]) or [""]
    yield from (f"  {line}" for line in first[:-1])
    laid = [cell.rjust(width) if at_right else cell.ljust(width)
            for cell, width, at_right in zip([first[-1], *cells[1:]], widths, right, strict=True)]
    yield ("  " + "  ".join(laid)).rstrip()


__all__ = ["as_text"]
