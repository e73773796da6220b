"""Where the lights of a room hang: a regular grid, its spacing, and how wide that may be.

All lengths of a call in one unit.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from msgspec import Struct

Number = int | Fraction


class Grid(Struct, frozen=True):
    """Lights in rows along the length of a room: `rows` across its width, `columns` along its length."""

    rows: int
    columns: int

    def __post_init__(self) -> None:
        if min(self.rows, self.columns) < 1:
            raise ValueError(f"a grid has a row and a column at least; got {self.rows} x {self.columns}")

    @property
    def count(self) -> int:
        """Lights in it."""
        return self.rows * self.columns

    def spacing(self, length: Number, width: Number) -> Spacing:
        """Its spacing in a room of this length and width, in their unit."""
        return Spacing(Fraction(length) / self.columns, Fraction(width) / self.rows)


class Spacing(Struct, frozen=True):
    """Distance between lights along and across a room; a lone light has its mirror image behind the wall."""

    along: Fraction
    across: Fraction

    def within(self, most: Number) -> bool:
        """Whether neither direction is wider than this."""
        return max(self.along, self.across) <= most


def most_apart(criterion: Number, height: Number) -> Fraction:
    """Widest spacing of lights: spacing criterion times height above the work plane, in the unit of `height`.

    Never times the ceiling height.  Source: IES definition of the luminaire spacing criterion.
    """
    if min(criterion, height) <= 0:
        raise ValueError("the criterion and the height above the work plane are above 0")
    return Fraction(criterion) * height


def fit_grid(length: Number, width: Number, needed: int, most: Number | None = None) -> Grid:
    """The grid of at least `needed` lights that suits a room, none further apart than `most`.

    Of all such grids, the one whose closest neighbours hang furthest apart, hence the most even; at a tie the one
    with fewer lights, then with fewer rows.  Raises ValueError for a room without floor.
    """
    if needed < 1 or min(length, width) <= 0 or (most is not None and most <= 0):
        raise ValueError("a grid needs a light, a floor and a spacing above 0")

    def order(grid: Grid) -> tuple[Fraction, int, int]:
        spacing = grid.spacing(length, width)
        return -min(spacing.along, spacing.across), grid.count, grid.rows

    return min(_grids(length, width, needed, most), key=order)


def _grids(length: Number, width: Number, needed: int, most: Number | None) -> Iterator[Grid]:
    """Every count of rows that may be of use, with the fewest columns that then suffice."""
    rows, columns = (1, 1) if most is None else (ceil(width / Fraction(most)), ceil(length / Fraction(most)))
    for row in range(rows, max(rows, needed) + 1):
        yield Grid(row, max(columns, -(-needed // row)))
