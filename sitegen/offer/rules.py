"""A rule of law or code as a figure, with the section that it stands on as its source."""

from __future__ import annotations

from sitegen.figure import Figure, Source
from sitegen.rules.read import Rule, every_rule

DECIDE = (
    "cancel-business-days", "lead-built-before", "lead-room-feet", "lead-subsidised-room-feet", "lead-outside-feet",
    "lead-subsidised-outside-feet", "lead-sheet-feet", "lead-cloth-feet", "lead-pamphlet-days", "lead-mail-days",
    "lead-copies-days", "lead-records-years", "receptacle-reach", "plaster-heat-degrees", "plaster-heat-days")
"""Rules that decide something in a house and that its owner may want to read; the others stand in
`sitegen figures`."""


def stands_on(row: Rule, edition: str | None = None) -> Source:
    """Section, day checked and source of a rule, and whether anybody saw it in print."""
    return Source("rule", row.stands_on(edition))


def rule(key: str, edition: str | None = None) -> Figure:
    """The rule of this name as a figure; raises KeyError for one that no file holds."""
    row = every_rule()[key]
    return Figure(f"rules.{key}", row.value(edition), row.unit, row.says, stands_on(row, edition))
