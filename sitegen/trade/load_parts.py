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
CHARGERS = ("vehicle charger", "car outlet")
"""What a car is charged from: its own equipment, or an outlet for a cord; both count alike (NEC 220.57, 625.42)."""

FIXED = ("fixed appliance", "water heater", "dishwasher")
MOTORS = ("motor", "sump pump", "boiler")
"""Motors and what is mainly one: counted in full, as the cautious reading of NEC 220.50 and 220.53."""

COOLING = ("cooling", "window unit")
HEAT = ("central heat", "room heat", "supplemental heat")
KINDS = LOADS
"""Kinds of load.  One `room heat` is one separately controlled heater; `motor` is any motor that is no appliance."""


class LoadRule(Struct, frozen=True):
    """Numbers of the load calculation in one edition: rows of `rules/loads.yaml`, `load-` and the field's name.

    Parameters
    ----------
    article : int
        Article of the calculation: 220, in 2026 120.
    density : int or Fraction
        Lighting and receptacles on a service [VA/sq ft]; since 2026 branch circuits are counted by another.
    lighting_section, demand_section, charger_section : str
        Sections of the density, of the tiers, and of vehicle chargers (the last from memory).
    small_appliance, laundry : int or Fraction
        Each such circuit [VA], 220.52(A), (B).
    small_appliance_least, laundry_least : int
        The fewest of them that count [circuits], 210.11(C)(1), (2).
    lighting_demand : mapping of str to int or Fraction
        End of each tier [VA], or "above" -> share of 1, Table 220.42 (2023: 220.45).
    fixed_count, fixed_share, fixed_least : int or Fraction
        So many appliances [appliances] of at least so much [VA] count at this share of 1, 220.53.
    dryer_least, charger_least : int or Fraction
        The least demand of a dryer, 220.54, and of a vehicle charger, 220.57 [VA].
    cooking_least, cooking_small, cooking_large, cooking_full, cooking_most : int or Fraction
        Nameplates that Table 220.55 parts at [VA]: into it, column A below, A and B up to, C as it is up to, its end.
        `cooking_small` from memory.
    cooking_more : int or Fraction
        Share of 1 by which column C grows with each kW above `cooking_full`, Note 1.
    cooking_a, cooking_b, cooking_c : mapping of str to int or Fraction
        Count of appliances -> share of 1, share of 1, demand [VA]; counts 1 to 5 and 10, mostly from memory.
    motor_extra : int or Fraction
        What the largest motor counts more, share of 1, 220.50, 430.24.
    neutral_share : int or Fraction
        Share of 1 of cooking and dryers on the neutral, 220.61.
    optional_first, optional_rest, existing_first, existing_rest : int or Fraction
        First tier [VA] and share of 1 of the rest, 220.82(B), 220.83.
    optional_heat, optional_many, optional_many_heat : int or Fraction
        Share of 1 of heat; from so many separately controlled heaters [heaters] on, this share of 1, 220.82(C).
    measured_share : int or Fraction
        Share of 1 that a measured peak counts, 220.87.
    volts : int
        Between the ungrounded conductors [V], 220.5(A).
    conductors, conductors_general : mapping of str to (str, str)
        Rating [A] -> copper and aluminium size: Table 310.12 of 2020 for all of one dwelling, Table 310.16 else.
    three_share : int or Fraction
        Share of 1 of three dwellings alike, Table 220.84, for two by 220.85.
    surge, disconnect : str
        "yes", "no" or "ask" when the service equipment is replaced, 230.67, 230.85.

    References
    ----------
    NEC 2017 to 2026.  Which values of 2026 nobody has verified stands in the rows under `unverified`.
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
    conductors_general: Mapping[str, tuple[str, str]]
    three_share: Number
    surge: str
    disconnect: str

    @property
    def code(self) -> str:
        """The code and the article, as a section begins."""
        return f"NEC {self.article}"


class Load(Struct, frozen=True):
    """One thing that draws power.

    Parameters
    ----------
    what : str
        Its name.
    va : int or Fraction
        Nameplate [VA], above 0.
    kind : str
        One of KINDS.
    volts : int
        120 or 240 [V].
    motor : bool
        Whether a fixed appliance is mainly a motor.

    Raises
    ------
    ValueError
        For another kind, other volts, or a nameplate not above 0.
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
        """Whether the largest-motor rule (NEC 220.50) looks at it: marked `motor`, a motor, cooling or a heat pump."""
        return self.motor or self.kind in (*MOTORS, *COOLING, "heat pump")


class Dwelling(Struct, frozen=True):
    """A house as the load calculation sees it.

    Parameters
    ----------
    area : int or Fraction
        By its outside [sq ft]; open porches, garages and space that cannot be made into rooms stay out.
    loads : tuple of Load
        Its loads [VA].
    small_appliance, laundry : int
        20-A circuits [circuits]; fewer than the code asks for count as that many.

    Raises
    ------
    ValueError
        For an area not above 0, or a count below 0.
    """

    area: Number
    loads: tuple[Load, ...] = ()
    small_appliance: int = 0
    laundry: int = 0

    def __post_init__(self) -> None:
        if self.area <= 0 or self.small_appliance < 0 or self.laundry < 0:
            raise ValueError("a house has an area, and no count is below zero")


class Step(Struct, frozen=True):
    """One line of a calculation: what is connected [VA], and what it adds [VA] (None: a later line takes it in).

    `key` is the key of its words, `section` the section of the code as it is printed.
    """

    key: str
    connected: Fraction
    va: Fraction | None
    section: str


class Demand(Struct, frozen=True):
    """A calculated load, line by line.

    Parameters
    ----------
    method : str
        "standard", "neutral", "optional", "existing" or "measured".
    steps : tuple of Step
        Its lines [VA]; lines with nothing connected are left out.
    volts : int
        Between the two ungrounded conductors [V].
    """

    method: str
    steps: tuple[Step, ...]
    volts: int

    @property
    def total(self) -> Fraction:
        """The sum of what the lines add [VA], exact."""
        return sum((step.va for step in self.steps if step.va is not None), Fraction(0))

    @property
    def amperes(self) -> Fraction:
        """`total` over `volts` [A], exact."""
        return self.total / self.volts

    @property
    def printed(self) -> int:
        """`amperes` to the nearest ampere [A], halves upward, as Annex D prints it."""
        return floor(self.amperes + Fraction(1, 2))

    def step(self, key: str) -> Step:
        """The line of this key; raises KeyError if there is none."""
        return {step.key: step for step in self.steps}[key]


class Rating(Struct, frozen=True):
    """A service or feeder: its rating [A] and the least conductors for it, copper and aluminium."""

    amperes: int
    copper: str
    aluminium: str


def rating(rule: LoadRule, amperes: Number, one_dwelling: bool = True) -> Rating:
    """The least standard rating that carries this load; never under 100 A for a house (NEC 230.79(C)).

    Parameters
    ----------
    rule : LoadRule
        Numbers of the edition in force; of them `conductors` and `conductors_general`.
    amperes : int or Fraction
        The load [A].
    one_dwelling : bool
        Whether the conductors carry all of one dwelling and nothing else: else the smaller sizes of Table 310.12 are
        not theirs (310.12(A), (B)).

    Returns
    -------
    Rating
        Rating [A] and conductor sizes.

    Raises
    ------
    ValueError
        Above the largest rating of the table.

    Notes
    -----
    Leaning to safety, a fraction of an ampere is kept, though NEC 220.5(B) lets less than half be dropped.

    References
    ----------
    NEC 2020, Tables 310.12 and 310.16.  No row in `rules/loads.yaml`: 220.5(B), 230.79(C).
    """
    table = rule.conductors if one_dwelling else rule.conductors_general
    for size in sorted(table, key=int):
        if amperes <= int(size):
            return Rating(int(size), *table[size])
    raise ValueError(f"{amperes} A is more than the table of dwelling services holds")


def lighting_demand(rule: LoadRule, va: Number) -> Fraction:
    """Lighting, small appliances and laundry after the tiers of Table 220.42 (220.45 in 2023).

    Parameters
    ----------
    rule : LoadRule
        Numbers of the edition in force; of them `lighting_demand`.
    va : int or Fraction
        The three together, as connected [VA].

    Returns
    -------
    Fraction
        Their demand [VA], exact.

    References
    ----------
    NEC 2017 and 2020, Table 220.42; 2023, Table 220.45; 2026, 120.45 (unverified).
    """
    tiers = sorted((int(end), share) for end, share in rule.lighting_demand.items() if end != "above")
    taken, whole = 0, Fraction(0)
    for end, share in tiers:
        whole += max(Fraction(0), min(Fraction(va), Fraction(end)) - taken) * share
        taken = end
    return whole + max(Fraction(0), Fraction(va) - taken) * rule.lighting_demand["above"]


def cooking_demand(rule: LoadRule, nameplates: Sequence[Number]) -> Fraction:
    """Demand of household cooking appliances on a service (Table 220.55 with Notes 1 to 3).

    Parameters
    ----------
    rule : LoadRule
        Numbers of the edition in force.
    nameplates : sequence of int or Fraction
        Ranges, wall ovens and cooktops [VA].

    Returns
    -------
    Fraction
        Their demand [VA], exact.

    Raises
    ------
    ValueError
        Over 27 kW, or for a count that the table carried here lacks.
        The same for ten appliances of which a group put in one column has such a count.

    Notes
    -----
    The smaller of what the notes allow: those up to 8 3/4 kW by columns A and B (Note 3) or by column C, the larger
    ones by column C, with 5 percent more for each kW over 12 (Note 1), or over 12 on average with none taken as less
    than 12 (Note 2); or, when none is over 12 kW, all of them by column C.  Half a kW counts as a major fraction.
    Appliances of 1 3/4 kW or less count in full.

    References
    ----------
    NEC 2017 to 2026, Table 220.55, Notes 1 to 3; columns A to C mostly from memory.
    """
    counted = [Fraction(va) for va in nameplates if va > rule.cooking_least]
    tiny = sum((Fraction(va) for va in nameplates if va <= rule.cooking_least), Fraction(0))
    if not counted:
        return tiny
    if max(counted) > rule.cooking_most or str(len(counted)) not in rule.cooking_c:
        raise ValueError(f"Table 220.55 as carried here has no demand for {len(counted)} appliances of these ratings")
    small = [va for va in counted if va <= rule.cooking_large]
    large = [va for va in counted if va > rule.cooking_large]
    allowed = [_column_c(rule, large) + min(_columns_a_b(rule, small), _column_c(rule, small))]
    if max(counted) <= rule.cooking_full:
        allowed.append(_column_c(rule, counted))
    return tiny + min(allowed)


def _of_count(column: Mapping[str, Number], count: int) -> Number:
    """The entry of a column for so many appliances; raises ValueError for a count that is not carried here."""
    if str(count) not in column:
        raise ValueError(f"Table 220.55 as carried here has no demand for {count} appliances in one column")
    return column[str(count)]


def _columns_a_b(rule: LoadRule, small: list[Fraction]) -> Fraction:
    a = [va for va in small if va < rule.cooking_small]
    b = [va for va in small if va >= rule.cooking_small]
    return sum((sum(group, Fraction(0)) * _of_count(column, len(group))
                for group, column in ((a, rule.cooking_a), (b, rule.cooking_b)) if group), Fraction(0))


def _column_c(rule: LoadRule, ratings: list[Fraction]) -> Fraction:
    if not ratings:
        return Fraction(0)
    mean = sum((max(va, Fraction(rule.cooking_full)) for va in ratings), Fraction(0)) / len(ratings)
    more = floor((mean - rule.cooking_full) / 1000 + Fraction(1, 2))
    return _of_count(rule.cooking_c, len(ratings)) * (1 + Fraction(rule.cooking_more) * more)
