"""The planned panel, or in a house of several dwellings one of each and one of what they share."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote, slug
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.offer.design.load_figures import LoadSeen, conductor_seen, load_seen
from sitegen.survey.dwellings import SHARED, WHOLE, HousePart, parts_of
from sitegen.survey.rule_sets import Code
from sitegen.trade.circuits import Individual, Least, general_circuits, individual, least_circuits
from sitegen.trade.load_parts import CHARGERS, COOKING, Dwelling, Load, cooking_demand, rating
from sitegen.trade.panel import Circuit, Panel, schedule
from sitegen.trade.service_load import optional
from sitegen.trade.sharing import Held, counted_area

GENERAL_AMPERES = 15
USUAL_ROOM = {**dict.fromkeys(COOKING, "kitchen"), "fixed appliance": "kitchen", "dishwasher": "kitchen",
              "dryer": "laundry", "window unit": "bedroom", "sump pump": "unfinished basement",
              **dict.fromkeys(CHARGERS, "garage")}
"""Kind of load -> the kind of room where it usually is; the others stand in a utility room."""

UNPLUGGED = ("water heater", "central heat", "room heat", "supplemental heat", "heat pump", "motor", "boiler")
"""Kinds of load that are wired in and have no receptacle."""


class CircuitSeen(Struct, frozen=True):
    """A row of a panel's schedule; `of` is the key of the part of the house, `held` its points room by room."""

    of: str
    spaces: tuple[Figure, ...]
    sort: str
    serves: tuple[Quote, ...]
    rating: Figure
    poles: Figure
    protections: tuple[str, ...]
    held: tuple[Held, ...]


class PanelSeen(Struct, frozen=True):
    """One planned panel: its part of the house and that part's name (None: the whole house, or what is shared).

    `load` is that of a dwelling by the optional method, `least` and `conductor` its feeder's; None for what is shared
    and where there is one dwelling, whose feeder is the service.  `spaces` None: nobody said how many it has.
    """

    key: str
    name: Quote | None
    load: LoadSeen | None
    least: Figure | None
    conductor: Quote | None
    circuits: tuple[CircuitSeen, ...]
    circuits_count: Figure
    spaces_used: Figure
    spaces: Figure | None
    short: int


def dwelling_of(part: HousePart) -> Dwelling:
    """A part as the load calculation reads it; each of several like things counts one by one."""
    return Dwelling(part.area, tuple(load for load, _ in part.loads))


def panels(inputs: Inputs, code: Code) -> tuple[PanelSeen, ...]:
    """Every panel of the plan; raises ValueError for loads that the tables carried here do not hold."""
    return tuple(_panel(inputs, code, part) for part in parts_of(inputs.job))


def panel_of(inputs: Inputs, code: Code, part: HousePart) -> Panel:
    """The schedule of the planned panel of one part."""
    return schedule(code.circuit, part.rooms, _least(code, part), GENERAL_AMPERES,
                    tuple(_single(code, load, where) for load, where in part.loads), _spaces(inputs, part)[0],
                    inputs.book.points_a_circuit)


def _least(code: Code, part: HousePart) -> Least:
    """The least circuits of a part: of what is shared, those that its rooms ask for."""
    kinds = {room.kind for room in part.rooms}
    if part.is_dwelling:
        return least_circuits(code.circuit, part.area, GENERAL_AMPERES, "garage" in kinds)
    rule = code.circuit
    area = sum(counted_area(room) for room in part.rooms if room.points)
    general = general_circuits(rule, area, GENERAL_AMPERES) if area else 0
    return Least(general, rule.small_appliance if kinds & set(rule.small_appliance_rooms) else 0,
                 rule.laundry if "laundry" in kinds else 0, rule.bathroom if "bathroom" in kinds else 0,
                 rule.garage if "garage" in kinds else 0)


def _single(code: Code, load: Load, where: str | None) -> Individual:
    demand = cooking_demand(code.load, [load.va]) if load.kind in COOKING else None
    return individual(code.circuit, load, where or USUAL_ROOM.get(load.kind, "utility"), load.kind not in UNPLUGGED,
                      demand)


def _spaces(inputs: Inputs, part: HousePart) -> tuple[int | None, tuple[str, ...]]:
    """How many places the planned panel of a part has, and where that stands."""
    panel = inputs.job.panel
    if part.key != WHOLE:
        return panel.spaces_of.get(part.key), ("panel", "spaces of", part.key)
    return (panel.spaces, ("panel", "spaces")) if panel.new_spaces is None else (
        panel.new_spaces, ("panel", "new spaces"))


def _panel(inputs: Inputs, code: Code, part: HousePart) -> PanelSeen:
    make, made = Cited(inputs), panel_of(inputs, code, part)
    word = f"service.{slug(part.key)}" if part.key != WHOLE else "service"

    def count(name: str, value: int, unit: str, method: str, *path: str) -> Figure:
        return Figure(f"{word}.{name}", value, unit, method, make.survey(*(path or ("panel",))))
    spaces, path = _spaces(inputs, part)
    load = least = conductor = None
    if part.key not in (WHOLE, SHARED):
        demand = optional(code.load, dwelling_of(part))
        needs = rating(code.load, demand.amperes)
        load = load_seen(make, code, f"{slug(part.key)}.optional", demand, ("house", "dwelling areas", part.key))
        least = Figure(f"{word}.least", needs.amperes, "amperes", "The least standard rating for the load by the "
                       "optional method.", make.survey("panel"), (load.amperes.name,))
        conductor = conductor_seen(code, needs, 0, True)
    return PanelSeen(
        part.key, Quote(part.key, make.survey("house", "dwelling areas")) if load else None, load, least, conductor,
        tuple(_circuit(make, word, part.key, i, row) for i, row in enumerate(made.circuits)),
        count("circuits", len(made.circuits), "circuits", "Circuits by area and required, and one for each large "
              "load."),
        count("spaces-used", made.used, "number", "Places that they take in the panel."),
        None if spaces is None else count("spaces", spaces, "number", "Places of the panel as it is planned.", *path),
        made.short or 0)


def _circuit(make: Cited, word: str, of: str, i: int, row: Circuit) -> CircuitSeen:
    name, source = f"{word}.circuit-{i + 1}", make.survey("rooms")

    def figure(called: str, value: int, unit: str) -> Figure:
        return Figure(f"{name}.{called}", value, unit, "The schedule of the planned panel.", source)
    return CircuitSeen(of, tuple(figure(f"space-{n + 1}", space, "number") for n, space in enumerate(row.spaces)),
                       row.sort, tuple(Quote(what, source) for what in row.serves),
                       figure("rating", row.rating, "amperes"), figure("poles", row.poles, "number"),
                       tuple(sorted(row.protections)), row.held)


__all__ = ["CircuitSeen", "PanelSeen", "dwelling_of", "panel_of", "panels"]
