"""Voltage drop and the tables of conductors against what others printed, row by row."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from sitegen.rules.read import every_rule, given
from sitegen.trade import voltage_drop
from sitegen.trade.voltage_drop import ConductorRule
from tests.published.rows import Row, held_by_rule, rows

RULE = given(ConductorRule, "conductors")
Given = dict[str, Any]


def _drop(of: Given) -> Fraction:
    ohms = Fraction(of["ohms"]) if "ohms" in of else voltage_drop.resistance(of["gauge"], of["strand"], RULE)
    return voltage_drop.drop(of["feet"], of["amperes"], ohms)


def _gauge(of: Given) -> Given:
    found = voltage_drop.branch_gauge(**{key: of[key] for key in ("breaker", "amperes", "feet", "volts", "strand")},
                                      rule=RULE)
    return {"required": found.required, "recommended": found.recommended, "gauge": found.gauge}


def _smallest(of: Given) -> str:
    table: Any = every_rule()[of["key"]].held
    return str(min((rating, size) for size, rating in table.items() if rating >= of["amperes"])[1])


CALLS: dict[str, Callable[[Given], Any]] = {
    "drop": _drop,
    "share": lambda of: voltage_drop.share_of(Fraction(of["lost"]), of["volts"]),
    "share of drop": lambda of: voltage_drop.share_of(_drop(of), of["volts"]),
    "longest run": lambda of: Fraction(of["share"]) * of["volts"] / voltage_drop.drop(1, of["amperes"], of["ohms"]),
    "gauge": _gauge,
    "smallest size": _smallest,
    "share of rating": lambda of: of["amperes"] * held_by_rule({"key": "conductors-dwelling-service-share"}),
    "rule": held_by_rule,
}


@pytest.mark.parametrize("row", list(rows("voltage-drop")))
def test_voltage_drop_comes_out_as_it_was_published(row: Row) -> None:
    """Each published drop, share, gauge and cell of a table comes out as it was published."""
    found = CALLS[row.of](row.given)
    if isinstance(found, str | dict):
        assert found == row.gives
    else:
        assert abs(found - Fraction(row.gives)) <= Fraction(row.within or 0)
