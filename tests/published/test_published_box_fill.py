"""Box fill against the code's tables and against sums that others printed, row by row."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from sitegen.rules.read import every_rule, given
from sitegen.trade import box_fill
from sitegen.trade.box_fill import BoxRule, Contents, Device
from tests.published.rows import Row, rows

Given = dict[str, Any]
TABLES = given(BoxRule, "boxes", "2023")


def _both(of: Given) -> tuple[Contents, BoxRule]:
    """What is in the box, and the edition by which it is counted."""
    what = {key: value for key, value in of.items() if key not in ("edition", "volume", "devices")}
    devices = tuple(Device(gauge, gangs) for gauge, gangs in of.get("devices", []))
    return Contents(**what, devices=devices), given(BoxRule, "boxes", of["edition"])


def _by_line(of: Given, of_line: Callable[[box_fill.Allowance], Fraction]) -> dict[str, Fraction]:
    found: dict[str, Fraction] = {}
    for line in box_fill.allowances(*_both(of)):
        found[line.what] = found.get(line.what, Fraction(0)) + of_line(line)
    return found


def _most(of: Given) -> int:
    """The most conductors of one gauge with which a standard box still fits."""
    volume = TABLES.standard[of["name"]]
    return next(count for count in range(100) if not box_fill.verdict(
        Contents(entering={of["gauge"]: count + 1}), volume, TABLES).fits)


def _fits(of: Given) -> bool:
    contents, rule = _both(of)
    return box_fill.verdict(contents, of["volume"], rule).fits


CALLS: dict[str, Callable[[Given], Any]] = {
    "required volume": lambda of: box_fill.required_volume(*_both(of)),
    "allowances": lambda of: _by_line(of, lambda line: line.count),
    "lines": lambda of: _by_line(of, lambda line: line.volume),
    "fits": _fits,
    "standard volume": lambda of: TABLES.standard[of["name"]],
    "most conductors": _most,
    "smallest standard": lambda of: box_fill.smallest_standard(box_fill.required_volume(*_both(of)), TABLES),
    "rule": lambda of: every_rule()[of["key"]].held,
}


@pytest.mark.parametrize("row", list(rows("box-fill")))
def test_box_fill_comes_out_as_it_was_published(row: Row) -> None:
    """Each published volume, count and verdict comes out as it was published."""
    found = CALLS[row.of](row.given)
    if isinstance(found, bool | str):
        assert found == row.gives
    elif isinstance(found, dict):
        assert found == {key: Fraction(value) for key, value in row.gives.items()}
    else:
        assert abs(found - Fraction(row.gives)) <= Fraction(row.within or 0)
