"""What a load calculation is made of: its rule, its lines, and the tables for lighting and for cooking.

Sections are those of NEC Article 220; the 2026 edition keeps most of their decimals in Article 120.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import floor

from msgspec import Struct

from sitegen.trade.kinds import LOADS

Number = int | Fraction

COOKING = ("range", "wall oven", "cooktop")
FIXED = ("fixed appliance", "water heater")
HEAT = ("central heat", "room heat", "supplemental heat")
KINDS = LOADS
"""Kinds of load.  One `room heat` is one separately controlled heater; `motor` is any motor that is no appliance."""


class LoadRule(Struct, frozen=True):
    """Numbers of the load calculation in one edition; shares are of 1, loads in [VA].

    `density` is the one for services [VA a square foot]: since 2026 branch circuits are counted by another.
    `lighting_demand` maps the end of each tier to its share; `cooking_a`, `cooking_b` and `cooking_c` map a count of
    appliances to a share, a share and a demand; `conductors` maps a rating [A] to its copper and aluminium size.
    `surge` and `disconnect` are "yes", "no" or "ask" when the service equipment is replaced.
    """

    article: int
    density: Number
    lighting_section: str
    demand_section: str
    small_appliance: Number
    small_appliance_least: int
    laundry: Number
    laundry_least: int
    lighting_demand: Mapping[str, Number]
    fixed_count: int
    fixed_share: Number
    fixed_least: Number
    dryer_least: Number
    charger_least: Number
    charger_section: str
    cooking_least: Number
    cooking_small: Number
    cooking_large: Number
    cooking_full: Number
    cooking_most: Number
    cooking_more: Number
    cooking_a: Mapping[str, Number]
    cooking_b: Mapping[str, Number]
    cooking_c: Mapping[str, Number]
    motor_extra: Number
    neutral_share: Number
    optional_first: Number
    optional_rest: Number
    optional_heat: Number
    optional_many: int
    optional_many_heat: Number
    existing_first: Number
    existing_rest: Number
    measured_share: Number
    volts: int
    conductors: Mapping[str, tuple[str, str]]
    surge: str
    disconnect: str

    @property
    def code(self) -> str:
        """The code and the article, as a section begins."""
        return f"NEC {self.article}"


class Load(Struct, frozen=True):
    """One thing that draws power: its nameplate [VA], its kind (KINDS), and its volts (120 or 240).

    `motor` marks a fixed appliance that is mainly a motor.  Raises ValueError for an impossible one.
    """

    what: str
    va: Number
    kind: str
    volts: int = 240
    motor: bool = False

    def __post_init__(self) -> None:
        if self.kind not in KINDS or self.volts not in (120, 240) or self.va <= 0:
            raise ValueError(f"{self.what}: {self.va} VA, {self.kind}, {self.volts} V is no load of a house")

    @property
    def runs_a_motor(self) -> bool:
        """Whether the largest-motor rule looks at it."""
        return self.motor or self.kind in ("motor", "cooling", "heat pump")


class Dwelling(Struct, frozen=True):
    """A house: area by its outside [sq ft], its 20-A small-appliance and laundry circuits, and its loads.

    Open porches, garages and space that cannot be made into rooms stay out of the area.  Fewer circuits than the
    code asks for count as that many.
    """

    area: Number
    loads: tuple[Load, ...] = ()
    small_appliance: int = 0
    laundry: int = 0

    def __post_init__(self) -> None:
        if self.area <= 0 or self.small_appliance < 0 or self.laundry < 0:
            raise ValueError("a house has an area, and no count is below zero")


class Step(Struct, frozen=True):
    """One line of a calculation: what is connected [VA], and what it adds [VA] (None: a later line takes it in)."""

    key: str
    connected: Fraction
    va: Fraction | None
    section: str


class Demand(Struct, frozen=True):
    """A calculated load, line by line, at `volts` between the two ungrounded conductors."""

    method: str
    steps: tuple[Step, ...]
    volts: int

    @property
    def total(self) -> Fraction:
        """The whole [VA]."""
        return sum((step.va for step in self.steps if step.va is not None), Fraction(0))

    @property
    def amperes(self) -> Fraction:
        """The whole [A], exact."""
        return self.total / self.volts

    @property
    def printed(self) -> int:
        """The whole to the nearest ampere, halves upward, as Annex D prints it."""
        return floor(self.amperes + Fraction(1, 2))

    def step(self, key: str) -> Step:
        """The line of this key; raises KeyError if there is none."""
        return {step.key: step for step in self.steps}[key]


class Rating(Struct, frozen=True):
    """A service: its rating [A] and the least service conductors, copper and aluminium (NEC 310.12)."""

    amperes: int
    copper: str
    aluminium: str


def rating(rule: LoadRule, amperes: Number) -> Rating:
    """The least standard rating that carries this load; never under 100 A for a house (NEC 230.79(C)).

    Leaning to safety, a fraction of an ampere is kept, though NEC 220.5(B) lets less than half be dropped.  Raises
    ValueError above the largest rating of the table.
    """
    for size in sorted(rule.conductors, key=int):
        if amperes <= int(size):
            return Rating(int(size), *rule.conductors[size])
    raise ValueError(f"{amperes} A is more than the table of dwelling services holds")


def lighting_demand(rule: LoadRule, va: Number) -> Fraction:
    """Lighting, small appliances and laundry after the tiers of Table 220.42 (220.45 in 2023) [VA]."""
    tiers = sorted((int(end), share) for end, share in rule.lighting_demand.items() if end != "above")
    taken, whole = 0, Fraction(0)
    for end, share in tiers:
        whole += max(Fraction(0), min(Fraction(va), Fraction(end)) - taken) * share
        taken = end
    return whole + max(Fraction(0), Fraction(va) - taken) * rule.lighting_demand["above"]


def cooking_demand(rule: LoadRule, nameplates: Sequence[Number]) -> Fraction:
    """Demand of household cooking appliances on a service [VA] (Table 220.55 with Notes 1 to 3).

    The smaller of what the notes allow: those up to 8 3/4 kW by columns A and B (Note 3) or by column C, the larger
    ones by column C, with 5 percent more for each kW over 12 (Note 1), or over 12 on average with none taken as less
    than 12 (Note 2); or, when none is over 12 kW, all of them by column C.  Half a kW counts as a major fraction.
    Appliances of 1 3/4 kW or less count in full.  Raises ValueError over 27 kW, or for a count that the table
    carried here lacks.
    """
    counted = [Fraction(va) for va in nameplates if va > rule.cooking_least]
    tiny = sum((Fraction(va) for va in nameplates if va <= rule.cooking_least), Fraction(0))
    if not counted:
        return tiny
    if max(counted) > rule.cooking_most or str(len(counted)) not in rule.cooking_c:
        raise ValueError(f"Table 220.55 as carried here has no demand for {len(counted)} appliances of these ratings")
    small = [va for va in counted if va <= rule.cooking_large]
    large = [va for va in counted if va > rule.cooking_large]
    options = [_column_c(rule, large) + min(_columns_a_b(rule, small), _column_c(rule, small))]
    if max(counted) <= rule.cooking_full:
        options.append(_column_c(rule, counted))
    return tiny + min(options)


def _columns_a_b(rule: LoadRule, small: list[Fraction]) -> Fraction:
    a = [va for va in small if va < rule.cooking_small]
    b = [va for va in small if va >= rule.cooking_small]
    return sum((sum(group, Fraction(0)) * column[str(len(group))]
                for group, column in ((a, rule.cooking_a), (b, rule.cooking_b)) if group), Fraction(0))


def _column_c(rule: LoadRule, ratings: list[Fraction]) -> Fraction:
    if not ratings:
        return Fraction(0)
    mean = sum((max(va, Fraction(rule.cooking_full)) for va in ratings), Fraction(0)) / len(ratings)
    more = floor((mean - rule.cooking_full) / 1000 + Fraction(1, 2))
    return rule.cooking_c[str(len(ratings))] * (1 + Fraction(rule.cooking_more) * more)
