"""A load calculation as figures, line by line."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source
from sitegen.job.document import Path_
from sitegen.offer.cited import Cited
from sitegen.offer.rules import stands_on
from sitegen.rules.read import every_rule
from sitegen.survey.rule_sets import Code
from sitegen.trade.load_parts import Demand, Rating, rating
from sitegen.units import whole


class LoadLine(Struct, frozen=True):
    """One line of a load calculation: what is connected, and what it adds; None where a later line takes it in."""

    key: str
    connected: Figure
    adds: Figure | None
    section: Quote


class LoadSeen(Struct, frozen=True):
    """One method: its lines, its total and its amperes, to the nearest."""

    method: str
    lines: tuple[LoadLine, ...]
    total: Figure
    amperes: Figure


def code_source(key: str, code: Code) -> Source:
    """Who stands behind a rule in this edition."""
    return stands_on(every_rule()[key], code.edition)


HOUSE_AREA: Path_ = ("house", "area")


def load_seen(make: Cited, code: Code, word: str, demand: Demand, area: Path_ = HOUSE_AREA) -> LoadSeen:
    """A demand as figures called `service.<word>`; `area` is the line of the job that its floor area comes from."""
    name = f"service.{word}"
    said = f"{code.edition} National Electrical Code, article {code.load.article}, method {demand.method}; " \
           f"loads: {make.survey('loads').text}"
    source = Source("rule", said)
    made = tuple(LoadLine(
        step.key, _va(f"{name}.line-{i + 1}.connected", step.connected, source),
        None if step.va is None else _va(f"{name}.line-{i + 1}.adds", step.va, source), Quote(step.section, source))
        for i, step in enumerate(demand.steps))
    rests_on: list[Path_] = [("measured peak",), ("loads",)] if demand.method == "measured" else [
        area, *(("loads", i, "takes") for i in range(len(make.inputs.job.loads))), ("loads",)]
    whole_of = Source("rule", said, make.not_seen(*rests_on))
    total = _va(f"{name}.total", demand.total, whole_of)
    return LoadSeen(demand.method, made, total, Figure(f"{name}.amperes", demand.printed, "amperes", "The total over "
                    "the volts between the two hot wires, to the nearest ampere.", whole_of, (total.name,)))


def conductor_seen(code: Code, needs: Rating, then: int, one_dwelling: bool) -> Quote:
    """The least conductors for what is planned or needed, whichever is more."""
    chosen = rating(code.load, Fraction(then), one_dwelling) if then > needs.amperes else needs
    return Quote(f"{chosen.copper} copper or {chosen.aluminium} aluminum",
                 code_source("load-conductors" if one_dwelling else "load-conductors-general", code))


def _va(name: str, value: Fraction, source: Source) -> Figure:
    return Figure(name, whole(value), "volt-amperes", "A line of the load "
                  "calculation.", source)


__all__ = ["LoadLine", "LoadSeen", "code_source", "conductor_seen", "load_seen"]
