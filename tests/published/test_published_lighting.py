"""Light against what others printed, and recommendations as they stand with their sources, row by row."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from sitegen.rules.read import every_rule, given
from sitegen.trade import light_grid, lighting
from sitegen.trade.lighting import Fitting, LightLoss, LightRule
from sitegen.trade.rounding import half_up
from tests.published.rows import Row, held_by_rule, rows

RULE = given(LightRule, "lighting")
Given = dict[str, Any]
F = Fraction


def _loss(of: Given) -> LightLoss:
    if "depreciation" in of:
        return LightLoss(1 / F(of["depreciation"]))
    return LightLoss.maintenance(*(F(factor) for factor in of.get("maintenance", [])))


def _lumens(of: Given) -> Fraction:
    return Fitting(of.get("lamps", 1), of["lumens"], {}, 1).lumens


def _average(of: Given) -> Fraction:
    return lighting.average(of["lights"], _lumens(of), F(of["used"]), _loss(of), F(of["area"]))


def _whole(exact: Fraction, of: Given) -> Fraction | int:
    """Textbooks round to nearest; a maintained minimum rounds up."""
    if of["rounding"] == "none":
        return exact
    return half_up(exact) if of["rounding"] == "nearest" else lighting.whole_lights(exact, F(of.get("slack", 0)))


def _lights(of: Given) -> Fraction | int:
    return _whole(lighting.lights_exact(F(of["goal"]), _lumens(of), F(of["used"]), _loss(of), F(of["area"])), of)


def _most(of: Given) -> Fraction:
    return light_grid.most_apart(F(of["criterion"]), F(of["height"]))


def _grid(of: Given) -> Given:
    length, width = F(of["length"]), F(of["width"])
    grid = light_grid.fit_grid(length, width, of["needed"], _most(of) if "height" in of else None)
    spacing = grid.spacing(length, width)
    return {"rows": grid.rows, "columns": grid.columns, "along": spacing.along, "across": spacing.across}


def _watts(of: Given) -> Fraction:
    lumens = lighting.lights_exact(F(of["goal"]), 1, F(of["used"]), _loss(of), F(of["area"]))
    return lumens / of["lights"] / of["efficacy"]


def _target(of: Given) -> Given:
    found = lighting.target(of["space"], of["edition"], RULE)
    return {"value": found.value, "plane": found.plane}


def _no_target(of: Given) -> None:
    with pytest.raises(KeyError):
        lighting.target(of["space"], of["edition"], RULE)


def _hint(of: Given) -> Fraction:
    table: Any = every_rule()["lighting-downlight-hint"].held
    return min(of["ceiling"] * F(table["share of the ceiling"]), F(table["most feet"]))


def _hints_differ(of: Given) -> Fraction:
    plane: Any = every_rule()["lighting-downlight-hint-plane"].held
    electricians: Any = every_rule()["lighting-downlight-hint-electricians"].held
    hints = (_hint(of), plane * (of["ceiling"] - F(of["plane"])), F(electricians["feet apart"]))
    return max(hints) / min(hints)


CALLS: dict[str, Callable[[Given], Any]] = {
    "cavity ratio": lambda of: lighting.cavity_ratio(F(of["height"]), F(of["length"]), F(of["width"])),
    "cavity ratio, irregular": lambda of: lighting.cavity_ratio_of(F(of["height"]), of["perimeter"], of["area"]),
    "lumens of lights": lambda of: of["lights"] * _lumens(of),
    "light loss": lambda of: _loss(of).kept,
    "average": _average,
    "enough": lambda of: _average(of) >= of["goal"],
    "lights": _lights,
    "whole": lambda of: _whole(F(of["exact"]), of),
    "utilization": lambda of: of["measured"] / lighting.average(
        of["lights"], of["lumens"], 1, _loss(of), of["area"]),
    "lumens": lambda of: lighting.lights_exact(of["goal"], 1, 1, _loss(of), of["area"]),
    "watts each": _watts,
    "grid": _grid,
    "most apart": _most,
    "columns": lambda of: of["length"] / _most(of),
    "target": _target,
    "of a room": lambda of: lighting.target(of["space"], of["edition"], RULE).of_a_room,
    "no target": _no_target,
    "rule": held_by_rule,
    "hint": _hint,
    "hints differ": _hints_differ,
}


def _agrees(found: Any, published: Any, within: Fraction) -> bool:
    """Number by number; a mapping may publish less than was found, never more."""
    if isinstance(published, dict):
        return all(_agrees(found[key], value, within) for key, value in published.items())
    if isinstance(published, list):
        return len(found) == len(published) and all(map(_agrees, found, published, [within] * len(published)))
    if isinstance(published, bool) or published is None or isinstance(found, str):
        return bool(found is published or (isinstance(found, str) and found == published))
    return bool(abs(found - F(published)) <= within)


@pytest.mark.parametrize("row", list(rows("lighting")))
def test_light_comes_out_as_it_was_published(row: Row) -> None:
    """Each published ratio, average, count, grid and recommendation comes out as it was published."""
    if row.of == "not most apart":
        plane, ceiling, criterion = F(row.given["plane"]), row.given["ceiling"], F(row.given["criterion"])
        assert criterion * ceiling == row.gives, "this is how the mistake is made"
        assert light_grid.most_apart(criterion, ceiling - plane) < row.gives
        return
    assert _agrees(CALLS[row.of](row.given), row.gives, F(row.within or 0))
