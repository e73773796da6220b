"""Branch circuits of a rewired house: how many, how protected, which alarms and lights, and the panel's schedule."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.trade.kinds import ROOMS
from sitegen.trade.load_parts import CHARGERS, HEAT, Load, Number

ROOM_KINDS = ROOMS
NO_STOREY = ("attic", "garage", "porch", "outdoors")
"""Kinds that do not make a storey of their own where alarms are counted."""

CONTINUOUS = (*HEAT, *CHARGERS, "water heater")
"""Kinds of load whose circuit is rated at 125 percent (from memory: NEC 422.13, 424.4(B), 625.42)."""


class CircuitRule(Struct, frozen=True):
    """Numbers and lists for branch circuits in one edition: rows `circuit-...` of `rules/circuits.yaml`.

    Parameters
    ----------
    density : int or Fraction
        General lighting [VA/sq ft], 220.12, 220.14(J), 220.41, 120.13; services have one of their own.
    volts : int
        General circuits are counted at this voltage [V], 220.5(A).
    small_appliance, laundry, bathroom, garage : int
        Least circuits of each sort [circuits], 210.11(C)(1) to (4).
    required_rating : int
        Rating of those circuits [A], 210.11(C).
    range_least, range_from : int or Fraction
        Least circuit [A] of a range from this nameplate on [VA], 210.19(A)(3), from memory.
    sizes : tuple of int
        Breakers for one load [A], 240.6(A), from memory.
    continuous_share : int or Fraction
        Share of 1 that circuits of CONTINUOUS loads carry, 422.13, 424.4(B), 625.42, from memory.
    arc_fault, ground_fault, ground_fault_counters, tamper_resistant : tuple of str
        Kinds of rooms, 210.12, 210.8(A), 406.12; counters: only receptacles there.
    ground_fault_volts : int
        Ground fault reaches receptacles up to this [V], 210.8(A).
    appliance_ground_fault : tuple of str
        Kinds of loads, 210.8(D).
    smoke_places, carbon_places : tuple of str
        Places of alarms, IRC R314.3 as adopted, R315.3 from memory.
    light_always, light_if_used, light_by_receptacle : tuple of str
        Kinds of rooms, 210.70(A), (A)(3), (A)(1).
    neutral_at_switches, fan_boxes, small_appliance_rooms : tuple of str
        Kinds of rooms, 404.2(C), 314.27(C), 210.52(B)(1).
    own : tuple of str
        Kinds of loads with a circuit of their own, 422.12.
    dwellings : int
        Dwellings that one circuit serves at most, 210.25(A).

    References
    ----------
    NEC 2017 to 2026 and IRC, model text.  Which values of 2026 nobody has verified stands in the rows.
    """

    density: Number
    volts: int
    small_appliance: int
    laundry: int
    bathroom: int
    garage: int
    required_rating: int
    range_least: int
    range_from: Number
    sizes: tuple[int, ...]
    continuous_share: Number
    arc_fault: tuple[str, ...]
    ground_fault: tuple[str, ...]
    ground_fault_counters: tuple[str, ...]
    ground_fault_volts: int
    appliance_ground_fault: tuple[str, ...]
    tamper_resistant: tuple[str, ...]
    smoke_places: tuple[str, ...]
    carbon_places: tuple[str, ...]
    light_always: tuple[str, ...]
    light_if_used: tuple[str, ...]
    light_by_receptacle: tuple[str, ...]
    neutral_at_switches: tuple[str, ...]
    fan_boxes: tuple[str, ...]
    own: tuple[str, ...]
    dwellings: int
    small_appliance_rooms: tuple[str, ...]


class CircuitRoom(Struct, frozen=True):
    """A room for circuits: its kind (ROOM_KINDS), area [sq ft], points, storey (0 basement).

    `outlets` of its points are receptacles.  `sleeping` names the sleeping area of a bedroom; bedrooms of a storey
    without one form one area.  Raises ValueError for an unknown kind, a count below zero, or more outlets than points.
    """

    name: str
    kind: str
    area: Number
    points: int = 0
    storey: int = 1
    sleeping: str = ""
    outlets: int = 0

    def __post_init__(self) -> None:
        _known(self.kind)
        if self.area < 0 or not 0 <= self.outlets <= self.points:
            raise ValueError(f"{self.name}: area and points are not below zero, and outlets are among the points")


class Least(Struct, frozen=True):
    """The least number of circuits of each sort [circuits]."""

    general: int
    small_appliance: int
    laundry: int
    bathroom: int
    garage: int

    @property
    def total(self) -> int:
        """The sum of the five sorts [circuits]; individual circuits are not in it."""
        return self.general + self.small_appliance + self.laundry + self.bathroom + self.garage


def general_circuits(rule: CircuitRule, area: Number, amperes: int) -> int:
    """General lighting circuits of one rating that an area asks for, rounded up (NEC 210.11(A)).

    Parameters
    ----------
    rule, area : CircuitRule, int or Fraction
        Numbers of the edition in force; floor [sq ft].
    amperes : int
        Rating of the circuits [A].

    Returns
    -------
    int
        The least number [circuits].

    Raises
    ------
    ValueError
        For an area or a rating not above 0.

    Notes
    -----
    No 80 percent factor, no demand factor; the load is to be shared evenly (210.11(B)).

    References
    ----------
    NEC 2017, 220.12; 2020, 220.14(J); 2023, 220.41; 2026, 120.13 (unverified).  No row: 210.11(A), (B).
    """
    if area <= 0 or amperes <= 0:
        raise ValueError("area and rating are above zero")
    return ceil(Fraction(rule.density) * area / (rule.volts * amperes))


def least_circuits(rule: CircuitRule, area: Number, amperes: int, garage: bool) -> Least:
    """The least set for a house: general lighting and those of NEC 210.11(C).

    Parameters
    ----------
    rule, area, amperes
        As in `general_circuits`.
    garage : bool
        Whether there is a garage with power.

    Returns
    -------
    Least
        Circuits by sort [circuits].

    Raises
    ------
    ValueError
        For an area or a rating not above 0.

    References
    ----------
    NEC 2017 to 2026, 210.11(C)(1) to (4).
    """
    return Least(general_circuits(rule, area, amperes), rule.small_appliance, rule.laundry, rule.bathroom,
                 rule.garage if garage else 0)


def protections(rule: CircuitRule, kind: str) -> frozenset[str]:
    """How 120-V, 15- and 20-A circuits and receptacles of this kind of room are protected.

    Parameters
    ----------
    rule, kind : CircuitRule, str
        Lists of the edition in force; one of ROOM_KINDS.

    Returns
    -------
    frozenset of str
        Of "arc-fault", "ground-fault", "ground-fault at counters", "tamper-resistant".

    Raises
    ------
    ValueError
        For an unknown kind.

    Notes
    -----
    Receptacles within 6 ft of a sink are ground-fault protected in any room: not told here.  Local amendments are
    common.

    References
    ----------
    NEC 2017 to 2026, 210.8(A), 210.12, 406.12; the first two of 2026 unverified.
    """
    _known(kind)
    lists = (("arc-fault", rule.arc_fault), ("ground-fault", rule.ground_fault),
             ("ground-fault at counters", rule.ground_fault_counters), ("tamper-resistant", rule.tamper_resistant))
    return frozenset(key for key, kinds in lists if kind in kinds)


class Individual(Struct, frozen=True):
    """A circuit for one load: rating [A], poles, and whether the load is plugged into a receptacle."""

    what: str
    kind: str
    room_kind: str
    rating: int
    poles: int
    receptacle: bool


def individual(rule: CircuitRule, load: Load, room_kind: str, receptacle: bool, demand: Number | None = None,
               ) -> Individual:
    """The circuit of its own for one load: the next size above its amperes.

    Parameters
    ----------
    rule, load : CircuitRule, Load
        Numbers of the edition in force; nameplate [VA] and volts [V].
    room_kind, receptacle : str, bool
        One of ROOM_KINDS; whether the load is plugged in.
    demand : int, Fraction or None
        Takes the nameplate's place [VA], such as that of a range by Table 220.55.

    Returns
    -------
    Individual
        Rating [A] and poles.

    Raises
    ------
    ValueError
        For a load above the largest size, or an unknown kind of room.

    Notes
    -----
    Heat, water heaters and vehicle chargers at 125 percent; a range of 8 3/4 kW nameplate or more at least 40 A.
    Cooling equipment states its own largest breaker, which rules.

    References
    ----------
    NEC 2017 to 2026, 210.19(A)(3), 240.6(A), 422.13, 424.4(B), 625.42, all from memory.
    """
    _known(room_kind)
    share = rule.continuous_share if load.kind in CONTINUOUS else 1
    amperes = Fraction(load.va if demand is None else demand) * share / load.volts
    if load.kind == "range" and load.va >= rule.range_from:
        amperes = max(amperes, Fraction(rule.range_least))
    sizes = [size for size in sorted(rule.sizes) if size >= amperes]
    if not sizes:
        raise ValueError(f"{load.what}: {float(amperes):.0f} A is above the largest breaker for one load")
    return Individual(load.what, load.kind, room_kind, sizes[0], 1 if load.volts == rule.volts else 2, receptacle)


def individual_protections(rule: CircuitRule, one: Individual) -> frozenset[str]:
    """How a circuit for one load is protected: arc-fault at 120 V up to 20 A, the rest where there is a receptacle.

    Returns of "arc-fault", "ground-fault", "tamper-resistant".  Ground fault also by the list of appliances, plugged in
    or not (210.8(D) in 2023; 2026 unverified).  Raises ValueError for an unknown kind of room.
    """
    room, found = protections(rule, one.room_kind), set()
    low = one.poles == 1 and one.rating <= rule.required_rating
    if low and "arc-fault" in room:
        found.add("arc-fault")
    reached = low or rule.ground_fault_volts >= 2 * rule.volts
    if (one.receptacle and reached and "ground-fault" in room) or one.kind in rule.appliance_ground_fault:
        found.add("ground-fault")
    if one.receptacle and one.rating <= rule.required_rating and "tamper-resistant" in room:
        found.add("tamper-resistant")
    return frozenset(found)


class Alarm(Struct, frozen=True):
    """An alarm: "smoke" or "carbon monoxide", at which place, on which storey, for which rooms.

    `dwelling` is the name of the one that it is of, in a house of several; empty for what all share.
    """

    kind: str
    place: str
    storey: int
    rooms: tuple[str, ...]
    dwelling: str = ""


class TownAlarms(Struct, frozen=True):
    """What a town makes of the alarm rules: whether a rewire brings them, and alarms that it adds."""

    smoke: bool = True
    carbon: bool = True
    more: tuple[Alarm, ...] = ()


def alarms(rule: CircuitRule, rooms: Sequence[CircuitRoom], carbon: bool, town: TownAlarms) -> tuple[Alarm, ...]:
    """Alarms that a rewire under permit brings to one dwelling (IRC R314, R315).

    Parameters
    ----------
    rule, rooms : CircuitRule, sequence of CircuitRoom
        Places of alarms; every room of the dwelling.
    carbon : bool
        Whether something burns fuel, or a garage is attached.
    town : TownAlarms
        What the town makes of the rules.

    Returns
    -------
    tuple of Alarm
        Each once.  Smoke: each bedroom, outside each sleeping area, each storey that has none yet.  Carbon monoxide:
        outside each sleeping area.

    References
    ----------
    IRC R314.3, model text as adopted; IRC R315.3, from memory.
    """
    found = [*(_by_place("smoke", rule.smoke_places, rooms) if town.smoke else ()),
             *(_by_place("carbon monoxide", rule.carbon_places, rooms) if carbon and town.carbon else ()), *town.more]
    return tuple(dict.fromkeys(found))


def _by_place(kind: str, places: Sequence[str], rooms: Sequence[CircuitRoom]) -> Iterable[Alarm]:
    beds = [room for room in rooms if room.kind == "bedroom"]
    areas: dict[tuple[int, str], list[str]] = {}
    for bed in beds:
        areas.setdefault((bed.storey, bed.sleeping), []).append(bed.name)
    if "each bedroom" in places:
        yield from (Alarm(kind, "each bedroom", bed.storey, (bed.name,)) for bed in beds)
    if "outside bedrooms" in places:
        yield from (Alarm(kind, "outside bedrooms", storey, tuple(names)) for (storey, _), names in areas.items())
    if "each storey" in places:
        have = {storey for storey, _ in areas} if "outside bedrooms" in places else set()
        storeys = {room.storey for room in rooms if room.kind not in NO_STOREY} - have
        yield from (Alarm(kind, "each storey", storey, ()) for storey in sorted(storeys))


class Lighting(Struct, frozen=True):
    """Whether a room needs a lighting outlet ("yes", "if used", "no"), and whether a switched receptacle may do."""

    needed: str
    switched_receptacle: bool
    section: str


def lighting(rule: CircuitRule, kind: str) -> Lighting:
    """The lighting outlet that NEC 210.70 asks of a kind of room; "if used": for storage or with equipment.

    `outdoors` is the outer side of each entrance at grade, vehicle doors apart.  NEC 2017 to 2026, 210.70(A), (A)(1),
    (A)(3); 2026 unverified.  Raises ValueError for an unknown kind.
    """
    _known(kind)
    if kind in rule.light_always:
        return Lighting("yes", kind in rule.light_by_receptacle, "NEC 210.70(A)")
    if kind in rule.light_if_used:
        return Lighting("if used", False, "NEC 210.70(A)(3)")
    return Lighting("no", False, "NEC 210.70(A)")


def neutral_at_switch(rule: CircuitRule, kind: str) -> str:
    """Whether a rewire brings the grounded conductor to light switches: "neutral-needed", else "neutral-ask".

    NEC 2017 to 2026, 404.2(C).  Raises ValueError for an unknown kind of room (ROOM_KINDS).
    """
    _known(kind)
    return "neutral-needed" if kind in rule.neutral_at_switches else "neutral-ask"


def _known(kind: str) -> None:
    if kind not in ROOM_KINDS:
        raise ValueError(f"{kind!r} is no kind of room")
