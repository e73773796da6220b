"""Plaster against what others printed, and against facts of the trade, row by row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from sitegen.rules.read import given
from sitegen.trade import plaster
from sitegen.trade import plaster_drying as drying
from sitegen.trade import plaster_quantities as quantities
from sitegen.trade.plaster import COATS, PlasterRule
from tests.published.rows import Row, comes_out, meant, refused, rows

RULE = given(PlasterRule, "plaster")


def _heat(veneer: bool) -> list[int | None]:
    held = drying.heat(RULE, veneer=veneer)
    return [held.least, held.most, held.before, held.after]


CALLS: dict[str, Callable[..., Any]] = {
    "coats": lambda down_to, across: list(plaster.coat_names(down_to, across, RULE)),
    "coat inches": lambda measured, coat: next(
        one.inches for one in plaster.coat_plan(COATS, measured, RULE).coats if one.name == coat),
    "coats sum": lambda measured, finish=None: sum(
        one.inches for one in plaster.coat_plan(COATS, measured, RULE, finish=finish).coats),
    "finish allowed": lambda inches: not refused(lambda: plaster.coat_plan(COATS, 1, RULE, finish=inches)),
    "least total": lambda base: plaster.least_total(base, RULE),
    "short by": lambda measured, down_to: plaster.coat_plan(COATS, measured, RULE, down_to=down_to).short_by,
    "aggregate": lambda work, aggregate, **more: plaster.most_aggregate(work, aggregate, RULE, **more),
    "too much": lambda amount, most: plaster.too_much(amount, most, RULE),
    "slow to set": lambda hours: plaster.slow_to_set(hours, RULE),
    "next coat hours": lambda finish: drying.waits(finish, RULE).next_coat_hours,
    "visits": lambda finish, across, take: [
        list(visit) for visit in drying.visits(plaster.coat_names("wood lath", across, RULE), finish, RULE)[:take]],
    "waits refused": lambda finish: refused(lambda: drying.waits(finish, RULE)),
    "paint days": lambda finish: drying.waits(finish, RULE).paint_days,
    "earliest paint": lambda finished, finish: drying.earliest_paint(
        date.fromisoformat(finished), finish, RULE).isoformat(),
    "may paint": lambda finished, day, finish, moisture: drying.may_paint(
        date.fromisoformat(finished), date.fromisoformat(day), finish, moisture, RULE),
    "plates back": lambda finished: [
        day.isoformat() for day in drying.plates_back(date.fromisoformat(finished), RULE)],
    "plates hours": lambda: list(drying.waits("gypsum", RULE).plates_hours),
    "heat": _heat,
    "heat least": lambda veneer: drying.heat(RULE, veneer=veneer).least,
    "heated": lambda base, dry: [day.isoformat() for day in drying.heated(
        date.fromisoformat(base), date.fromisoformat(dry), drying.heat(RULE))],
    "veneer range": lambda of: list(RULE.veneer_degrees[of]),
    "screened": lambda day, night: drying.screened(day, night, RULE),
    "order": lambda square_yards, inches, metal_lath: quantities.volume_to_order(
        square_yards, inches, RULE, metal_lath=metal_lath),
    "volume": lambda inches, square_inches: quantities.volume(inches, square_inches) / 12 ** 3,
    "laths": quantities.laths,
    "modules": quantities.lath_modules,
    "square feet": lambda lines: quantities.take_off(lines) * 9,
    "square yards": quantities.take_off,
    "net": lambda gross, openings, custom: quantities.net_area(gross, openings, RULE, custom=custom),
    "strip": lambda width, length: quantities.charged_strip(width, length, RULE),
    "covered": quantities.covered,
    "crew days": lambda square_yards, coats: list(quantities.crew_days(square_yards, coats, RULE)),
    "crew days most": lambda square_yards, coats: quantities.crew_days(square_yards, coats, RULE)[1],
    "box needs work": lambda setback, gap: plaster.box_needs_work(setback, gap, RULE),
    "round": lambda across: plaster.round_hole(across).area,
    "band": lambda width, height, place, kind: plaster.band(plaster.rectangle(width, height, place, kind), RULE),
    "skim": plaster.left_to_skim,
    "trouble stops": lambda word: plaster.TROUBLE[word].stops,
}


@pytest.mark.parametrize("row", [*rows("plaster")])
def test_plaster_gives_what_others_worked_out(row: Row) -> None:
    """Every published case, and every fact of the trade, comes out of our functions."""
    comes_out(CALLS[row.of](**meant(row.given)), row)
