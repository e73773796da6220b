"""The service and the panel: the calculated load, by which method, line by line, and the schedule of circuits."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source
from sitegen.job.document import Path_
from sitegen.job.inputs import Inputs
from sitegen.job.model import Job
from sitegen.offer.cited import Cited
from sitegen.offer.rules import stands_on
from sitegen.rules.read import every_rule
from sitegen.survey.alarms import circuit_rooms
from sitegen.survey.rule_sets import Code
from sitegen.trade.circuits import Individual, individual, least_circuits
from sitegen.trade.load_parts import CHARGERS, COOKING, Demand, Dwelling, Load, Rating, cooking_demand, rating
from sitegen.trade.panel import Circuit, Panel, PanelPlace, panel_place_questions, schedule
from sitegen.trade.service_load import existing, measured, neutral, optional, service_duties, standard
from sitegen.units import whole

GENERAL_AMPERES = 15
YEAR = "year"
USUAL_ROOM = {**dict.fromkeys(COOKING, "kitchen"), "fixed appliance": "kitchen", "dryer": "laundry",
              **dict.fromkeys(CHARGERS, "garage")}
"""Kind of load -> the kind of room where it usually is; the others stand in a utility room."""

UNPLUGGED = ("water heater", "central heat", "room heat", "supplemental heat", "heat pump", "motor")
"""Kinds of load that are wired in and have no receptacle."""


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


class CircuitSeen(Struct, frozen=True):
    """A row of the panel's schedule."""

    spaces: tuple[Figure, ...]
    sort: str
    serves: tuple[Quote, ...]
    rating: Figure
    poles: Figure
    protections: tuple[str, ...]


class Service(Struct, frozen=True):
    """The service today and as planned.

    `present` by the rule for an existing house, `planned` by the optional and the standard method, `by_peak` from a
    recorded peak if there is one, `neutral` the load of that wire by the standard method.  `enough_now` and
    `enough_then` compare amperes with the rating, no more.  `article` is that of the load calculation; `replaced`
    whether new service equipment is planned, and `duties` keys of what that brings with it; `short` places of the
    panel; `place` keys of questions about where it stands.
    """

    rating_now: Figure
    rating_then: Figure
    present: LoadSeen
    planned: LoadSeen
    standard: LoadSeen
    neutral: LoadSeen
    by_peak: LoadSeen | None
    least: Figure
    conductor: Quote
    enough_now: bool
    enough_then: bool
    circuits: tuple[CircuitSeen, ...]
    circuits_count: Figure
    spaces_used: Figure
    spaces: Figure
    spaces_short: bool
    unverified: bool
    households: Figure
    article: str
    replaced: bool
    duties: tuple[str, ...]
    short: int
    place: tuple[str, ...]


def dwelling(job: Job) -> Dwelling:
    """The house as the load calculation reads it; each of several like things counts one by one."""
    return Dwelling(job.house.area, tuple(load for load, _ in loads(job)))


def loads(job: Job) -> Iterator[tuple[Load, str]]:
    """Every load of the survey, and the kind of room that it is in."""
    for load in job.loads:
        for _ in range(load.count):
            yield Load(load.what, load.takes.volt_amperes(int(load.volts)), load.is_, int(load.volts)), \
                load.where or USUAL_ROOM.get(load.is_, "utility")


def panel_of(inputs: Inputs, code: Code) -> Panel:
    """The schedule of the planned panel."""
    job = inputs.job
    rooms = circuit_rooms(job)
    least = least_circuits(code.circuit, job.house.area, GENERAL_AMPERES, any(room.kind == "garage" for room in rooms))
    spaces = job.panel.new_spaces if job.panel.new_spaces is not None else job.panel.spaces
    singles = tuple(_single(code, load, where) for load, where in loads(job))
    return schedule(code.circuit, rooms, least, GENERAL_AMPERES, singles, spaces, inputs.book.points_a_circuit)


def _single(code: Code, load: Load, where: str) -> Individual:
    demand = cooking_demand(code.load, [load.va]) if load.kind in COOKING else None
    return individual(code.circuit, load, where, load.kind not in UNPLUGGED, demand)


def service(inputs: Inputs, code: Code) -> Service:
    """The service of a job; raises ValueError for loads that the tables carried here do not hold."""
    job, make = inputs.job, Cited(inputs)
    house, panel = dwelling(job), job.panel
    then = panel.new_rating if panel.new_rating is not None else panel.rating
    now_load, then_load = existing(code.load, house, False), optional(code.load, house)
    by_rule = standard(code.load, house)
    peak = None if job.measured_peak is None else measured(
        code.load, job.measured_peak, (), YEAR, 0, False)
    schedule_ = panel_of(inputs, code)
    spaces = panel.new_spaces if panel.new_spaces is not None else panel.spaces
    needs = rating(code.load, then_load.amperes)
    seen = [_seen(make, code, word, demand) for word, demand in
            (("present", now_load), ("optional", then_load), ("standard", by_rule),
             ("neutral", neutral(code.load, house)))]
    where_then = "rating" if panel.new_rating is None else "new rating"
    where_spaces = "spaces" if panel.new_spaces is None else "new spaces"

    def count(name: str, value: int, unit: str, method: str, *path: str) -> Figure:
        return Figure(f"service.{name}", value, unit, method, make.survey(*(path or ("panel",))))
    return Service(
        count("rating-now", panel.rating, "amperes", "As on its label.", "panel", "rating"),
        count("rating-then", then, "amperes", "As it is planned; the same where it stays.", "panel", where_then),
        seen[0], seen[1], seen[2], seen[3], None if peak is None else _seen(make, code, "peak", peak),
        Figure("service.least", needs.amperes, "amperes", "The least standard rating for the load by the optional "
               "method.", code_source("load-conductors", code), ("service.optional.amperes",)),
        _conductor(make, code, needs, then), now_load.amperes <= panel.rating, then_load.amperes <= then,
        tuple(_circuit(make, i, row) for i, row in enumerate(schedule_.circuits)),
        count("circuits", len(schedule_.circuits), "circuits", "Circuits by area and required, and one for each "
              "large load."),
        count("spaces-used", schedule_.used, "number", "Places that they take in the panel."),
        count("spaces", spaces, "number", "Places of the panel as it is planned.", "panel", where_spaces),
        bool(schedule_.short),
        _unverified(code), count("households", job.house.dwellings, "number", "Households that it is built for.",
                                "house", "dwellings"),
        code.load.code, panel.new_rating is not None, service_duties(code.load, panel.new_rating is not None),
        schedule_.short or 0, _place(job, code))


def _place(job: Job, code: Code) -> tuple[str, ...]:
    """Keys of the questions about where the panel stands."""
    panel = job.panel
    kind = next((room.kind for room in job.rooms if room.room == panel.where and room.kind), None)
    if panel.where == "outside":
        kind = "outdoors"
    wide, deep, high = (None if side is None else side * 12
                        for side in (panel.clear_width, panel.clear_depth, panel.clear_height))
    return tuple(panel_place_questions(code.panel, PanelPlace(
        width=wide, depth=deep, headroom=high, room_kind=kind,
        feed=None if panel.service == "not seen" else panel.service)))


def _unverified(code: Code) -> bool:
    return any(row.unverified_in(code.edition) for row in every_rule().values() if row.key.startswith("load-"))


def code_source(key: str, code: Code) -> Source:
    """Who stands behind a rule in this edition."""
    return stands_on(every_rule()[key], code.edition)


def _seen(make: Cited, code: Code, word: str, demand: Demand) -> LoadSeen:
    name = f"service.{word}"
    said = f"{code.edition} National Electrical Code, article {code.load.article}, method {demand.method}; " \
           f"loads: {make.survey('loads').text}"
    source = Source("rule", said)
    made = tuple(LoadLine(
        step.key, _va(f"{name}.line-{i + 1}.connected", step.connected, source),
        None if step.va is None else _va(f"{name}.line-{i + 1}.adds", step.va, source), Quote(step.section, source))
        for i, step in enumerate(demand.steps))
    rests_on: list[Path_] = [("measured peak",), ("loads",)] if demand.method == "measured" else [
        ("house", "area"), *(("loads", i, "takes") for i in range(len(make.inputs.job.loads))), ("loads",)]
    whole_of = Source("rule", said, make.not_seen(*rests_on))
    total = _va(f"{name}.total", demand.total, whole_of)
    return LoadSeen(demand.method, made, total, Figure(f"{name}.amperes", demand.printed, "amperes", "The total over "
                    "the volts between the two hot wires, to the nearest ampere.", whole_of, (total.name,)))


def _va(name: str, value: Fraction, source: Source) -> Figure:
    return Figure(name, whole(value), "volt-amperes", "A line of the load "
                  "calculation.", source)


def _conductor(make: Cited, code: Code, needs: Rating, then: int) -> Quote:
    chosen = rating(code.load, Fraction(then)) if then > needs.amperes else needs
    return Quote(f"{chosen.copper} copper or {chosen.aluminium} aluminium", code_source("load-conductors", code))


def _circuit(make: Cited, i: int, row: Circuit) -> CircuitSeen:
    name, source = f"service.circuit-{i + 1}", make.survey("rooms")

    def figure(word: str, value: int, unit: str) -> Figure:
        return Figure(f"{name}.{word}", value, unit, "The schedule of the planned panel.", source)
    return CircuitSeen(tuple(figure(f"space-{n + 1}", space, "number") for n, space in enumerate(row.spaces)), row.sort,
                       tuple(Quote(what, source) for what in row.serves), figure("rating", row.rating, "amperes"),
                       figure("poles", row.poles, "number"), tuple(sorted(row.protections)))


__all__ = ["CircuitSeen", "LoadLine", "LoadSeen", "Service", "code_source", "dwelling", "panel_of",
           "service"]
