"""Room by room: outlets against the code's spacing, circuits, protection, light, boxes and the drop of voltage."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Quote
from sitegen.job.books import Box
from sitegen.job.inputs import Inputs
from sitegen.job.model import Room
from sitegen.offer.cited import Cited
from sitegen.offer.design.service import CircuitSeen, code_source
from sitegen.survey.lines import lines
from sitegen.survey.rule_sets import Code
from sitegen.trade.box_fill import Contents, Device, Verdict, smallest_standard, verdict
from sitegen.trade.circuits import lighting, neutral_at_switch, protections
from sitegen.trade.lighting import Fitting, LightLoss, LitRoom, average_of
from sitegen.trade.receptacles import Answer, OutletRoom, Outline, answers
from sitegen.trade.voltage_drop import BRANCH_GAUGES, Choice, branch_gauge
from sitegen.units import whole

OUTLET, CEILING = "outlet", "ceiling light"
DOORS = (Fraction(3), Fraction(3))
"""Breaks taken where no run was measured: two doorways of 3 feet."""

LIT = ("living room", "dining room", "kitchen", "bedroom", "bathroom", "hall", "stairs", "laundry",
       "other habitable room", "pantry", "sunroom")
"""Kinds of rooms of which the light is worked out."""

VOLTS, SHARE_OF_BREAKER = 120, Fraction(4, 5)
BREAKER = 15


class LightSeen(Struct, frozen=True):
    """The light of a room from its ceiling lights alone: an average [fc] of an empty room.

    Nothing is held against it: what handbooks name for a counter, a mirror or a page is light on that place, from
    whatever gives it, and their least averages are no reason to cut a ceiling.
    """

    average: Figure


class OutletsSeen(Struct, frozen=True):
    """Outlets of a room against the code's spacing: the full rule, what the town asks, and how many are planned.

    `answers` are the trade's own, one for each spacing rule that the town leaves open.
    """

    planned: Figure
    full: Figure
    short_of_full: Figure
    short: Figure
    measured: bool
    sections: tuple[Quote, ...]
    answers: tuple[Answer, ...]


class RoomDesign(Struct, frozen=True):
    """One room of the design.  `circuits` are the first spaces of those that serve it."""

    outlets: OutletsSeen
    circuits: tuple[Figure, ...]
    protections: tuple[str, ...]
    light: LightSeen | None
    light_needed: str
    neutral: str


class BoxSeen(Struct, frozen=True):
    """The box that we set for one kind of point: what it has to hold against what it holds [cu in].

    `larger` the smallest standard metal box that would hold it, by name; None if none does.
    """

    kind: Quote
    required: Figure
    volume: Figure
    fits: bool
    larger: str | None


class RunSeen(Struct, frozen=True):
    """The usual run to one storey: its length, the voltage lost at four fifths of the breaker, and its wire.

    `required` is the smallest that the breaker allows.
    """

    storey: Figure
    feet: Figure
    share: Figure
    gauge: Quote
    required: str
    recommended: bool


def design_rooms(inputs: Inputs, code: Code, circuits: tuple[CircuitSeen, ...],
                 keys: Mapping[str, str]) -> dict[str, RoomDesign]:
    """Every room by its key, in the order of the survey."""
    first: dict[str, Room] = {}
    for room in inputs.job.rooms:
        first.setdefault(room.room, room)
    return {keys[name]: _room(inputs, code, room, keys[name], circuits) for name, room in first.items()}


def _room(inputs: Inputs, code: Code, room: Room, key: str, circuits: tuple[CircuitSeen, ...]) -> RoomDesign:
    assert room.kind is not None
    on = tuple(row.spaces[0] for row in circuits if any(name.text == room.room for name in row.serves))
    return RoomDesign(_outlets(inputs, code, room, key), on, tuple(sorted(protections(code.circuit, room.kind))),
                      _light(inputs, code, room, key), lighting(code.circuit, room.kind).needed,
                      neutral_at_switch(code.circuit, room.kind))


def receptacle_answers(inputs: Inputs, code: Code, room: Room) -> tuple[Answer, ...]:
    """A room under the town's spacing rule."""
    assert room.kind is not None
    assert room.size is not None
    here = [line for line in lines(inputs.job) if line.room == room.room and line.kind == OUTLET]
    perimeter = 2 * (room.size[0] + room.size[1])
    walls = room.runs if room.runs is not None else Outline(perimeter, DOORS)
    long = max(room.size) if room.kind == "hall" else None
    return answers(code.receptacle, OutletRoom(
        room.room, room.kind, sum(line.now for line in here), sum(line.want for line in here), walls,
        tuple(length * 12 for length in room.counters or ()), basins=room.basins if room.kind == "bathroom" else 1,
        length=long), inputs.town.spacing)


def _outlets(inputs: Inputs, code: Code, room: Room, key: str) -> OutletsSeen:
    found = receptacle_answers(inputs, code, room)
    town = found[-1]
    source = code_source("receptacle-reach", code)

    def figure(word: str, value: int, method: str) -> Figure:
        return Figure(f"rooms.{key}.outlets.{word}", value, "receptacles", method, source,
                      ("rules.receptacle-reach",))
    full = figure("full", town.full, "Least count by the code's spacing, along measured runs of wall, or along the "
                  "room's perimeter with two doorways taken off.")
    return OutletsSeen(
        figure("planned", town.planned, "Outlets wanted in the end."), full,
        figure("short-of-full", town.short_of_full, "By how many the plan misses the full rule."),
        figure("short", max(answer.short for answer in found), "By how many the plan misses what the town asks."),
        town.measured, tuple(Quote(section, source) for section in dict.fromkeys(need.section for need in town.needs)),
        found)


def light_of(inputs: Inputs, code: Code, room: Room) -> Fraction | None:
    """What the ceiling lights of a room come to on average [fc]; None where there is none, or no coefficient."""
    assert room.size is not None
    count = sum(line.want for line in lines(inputs.job) if line.room == room.room and line.kind == CEILING)
    if not count or room.kind not in LIT:
        return None
    light = inputs.book.light
    table = {int(ratio): share for ratio, share in light.reaches.items()}
    try:
        return average_of(count, LitRoom(max(room.size), min(room.size), room.height or inputs.job.house.ceiling,
                                         code.light.work_plane, light.hangs),
                          Fitting(1, light.lumens, table, light.spacing), LightLoss.maintenance(light.kept))
    except ValueError:          # outside the fitting's own table no figure is better than a guess
        return None


def _light(inputs: Inputs, code: Code, room: Room, key: str) -> LightSeen | None:
    found = light_of(inputs, code, room)
    if found is None:
        return None
    return LightSeen(Figure(f"rooms.{key}.light.average", _tenths(found), "footcandles", "Lights x lumens x share that "
                            "reaches the work plane x share kept, over the floor; an average of an empty room.",
                            Cited(inputs).book("light")))


def boxes(inputs: Inputs, code: Code) -> tuple[BoxSeen, ...]:
    """The box of each kind of point in the price book."""
    source, book = code_source("boxes-volumes", code), Cited(inputs).book("boxes")
    found, gauge = [], widest_gauge(inputs, code)
    for i, (kind, box) in enumerate(inputs.book.boxes.items()):
        done = box_verdict(box, gauge, code)
        found.append(BoxSeen(Quote(kind, book), Figure(f"boxes.{i + 1}.required", whole(done.required), "cubic inches",
                             "Wires, grounds, clamps and devices, at the volume of each.", source,
                             ("rules.boxes-clamp-allowances", "rules.boxes-device-allowances")),
                             Figure(f"boxes.{i + 1}.volume", whole(done.volume), "cubic inches", "As marked on it.",
                                    book), done.fits, smallest_standard(done.required, code.box)))
    return tuple(found)


def widest_gauge(inputs: Inputs, code: Code) -> str:
    """The thickest wire that any storey takes: boxes are checked with it."""
    gauges = {run_choice(inputs.book.cable_from_panel[room.floor], code).gauge for room in inputs.job.rooms}
    return min(gauges, key=int, default=BRANCH_GAUGES[0])


def box_verdict(box: Box, gauge: str, code: Code) -> Verdict:
    """What the wires of a box take: two wires and a ground in each cable, of this gauge."""
    return verdict(Contents({gauge: 2 * box.cables}, clamps=box.clamps, devices=(Device(gauge),) * box.devices,
                            grounds={gauge: box.cables}), box.holds, code.box)


def runs(inputs: Inputs, code: Code) -> tuple[RunSeen, ...]:
    """The usual run to each storey that has a room."""
    source, book = code_source("conductors-stranded", code), Cited(inputs).book("cable from panel")
    storeys = sorted({room.floor for room in inputs.job.rooms})
    found = []
    for storey in storeys:
        feet = inputs.book.cable_from_panel[storey]
        choice = run_choice(feet, code)
        found.append(RunSeen(
            Figure(f"runs.{storey}.storey", storey, "number", "Storey; the basement is nought.", book),
            Figure(f"runs.{storey}.feet", whole(feet), "feet", "Usual length from the panel to the middle of the "
                   "storey.", book),
            Figure(f"runs.{storey}.share", round(choice.share, 3), "share", "Voltage lost at four fifths of the "
                   "breaker, there and back.", source, ("rules.conductors-branch-share",)),
            Quote(choice.gauge, source), choice.required, choice.recommended is not None))
    return tuple(found)


def run_choice(feet: Fraction, code: Code) -> Choice:
    """The wire for a run of this length at four fifths of the breaker."""
    return branch_gauge(BREAKER, BREAKER * SHARE_OF_BREAKER, feet, VOLTS, code.conductor)


def _tenths(value: Fraction) -> int | Fraction:
    return whole(round(value * 10) / Fraction(10))


__all__ = ["BoxSeen", "LightSeen", "OutletsSeen", "RoomDesign", "RunSeen", "box_verdict", "boxes", "design_rooms",
           "light_of", "receptacle_answers", "run_choice", "runs", "widest_gauge"]
