"""How much of an option's work is done by each step of the job, as a part of what the whole of it costs the firm.

A payment may not run ahead of the work.  What the parts come from is private; nothing here may reach a sheet.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from sitegen.job.books import Kit
from sitegen.scope.costs import CostLine

DEAD, CLOSED, END = "old wires dead", "holes closed", "all finished"
"""Steps that a payment can wait for.  The last is the end of all: inspected, cleaned, checked, papers handed over."""

ROUGH = ("drops", "circuits", "panel", "service", "splices", "car-outlets", "permit")
"""Cost lines that are done before any hole is closed."""

POINTS = ("list-points", "new-places")
"""Cost lines of which a part, by hours and material alike, comes after the plaster: devices and plates."""


def steps_of(closes: bool, lived_in: bool) -> tuple[str, ...]:
    """The steps that payments wait for, in the order of the work.

    An empty house has its old wires cut before anything is closed; where people live, the old wires go last of all.
    """
    if not closes:
        return DEAD, END
    return (CLOSED, DEAD, END) if lived_in else (DEAD, CLOSED, END)


def parts_done(lines: Iterable[CostLine], kit: Kit, after_plaster: Fraction, lived_in: bool) -> dict[str, Fraction]:
    """The part of all work that is done by each step, in order; 1 at the end.

    Alarms, the sheet, which is done when it is lifted, cleaning, its check and the papers count at the end alone;
    devices before it only where people live, since they are set before the last old wire is cut.
    Raises ValueError for work that costs nothing.
    """
    cents = {line.key: line.cents for line in lines}
    whole = sum(cents.values(), Fraction(0))
    if whole <= 0:
        raise ValueError("work that costs nothing is not done in parts")
    points = sum((cents.get(key, Fraction(0)) for key in POINTS), Fraction(0))
    old, holes = (cents.get(key, Fraction(0)) for key in ("old-dead", "holes"))
    rough = points * (1 - after_plaster) + sum((cents.get(key, Fraction(0)) for key in ROUGH), Fraction(0))
    each = {DEAD: old + (points * after_plaster if lived_in else 0), CLOSED: holes}
    found, done = {}, rough
    for step in steps_of(kit.closes_holes == "us", lived_in)[:-1]:
        done += each[step]
        found[step] = done / whole
    return {**found, END: Fraction(1)}


__all__ = ["CLOSED", "DEAD", "END", "parts_done", "steps_of"]
