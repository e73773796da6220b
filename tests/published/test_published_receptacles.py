"""Receptacle counts worked out by others, and arithmetic on the rule."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from sitegen.rules.read import given
from sitegen.trade.receptacles import OutletRoom, ReceptacleRule, by_runs, counter, island, needs
from tests.published.rows import Row, rows


def room(kind: str, facts: dict[str, Any]) -> OutletRoom:
    """A room of this kind with the row's measures."""
    if kind == "foyer":
        return OutletRoom("", "hall", 0, 0, area=facts["area"],
                          foyer_walls=tuple(Fraction(one) for one in facts["walls"]))
    if kind == "hall":
        return OutletRoom("", "hall", 0, 0, length=Fraction(facts["length"]))
    return OutletRoom("", kind, 0, 0, basins=facts.get("basins", 1), bays=facts.get("bays", 1))


def result(rule: ReceptacleRule, row: Row) -> int:
    """What our functions give for a row."""
    if row.of == "runs":
        return by_runs(rule, [Fraction(run) for run in row.given["runs"]])
    if row.of == "island":
        return island(rule, *row.given["sides"]).count
    if row.of == "counter":
        return counter(rule, row.given["width"])
    return sum(need.count for need in needs(rule, room(row.of, row.given)))


@pytest.mark.parametrize("row", list(rows("receptacles")))
def test_a_count_worked_out_by_others(row: Row) -> None:
    """Our count is the published one."""
    assert result(given(ReceptacleRule, "receptacle", row.given.get("edition", "2020")), row) == row.gives
