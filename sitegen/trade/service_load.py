"""Load of a one-family house on its service: standard, optional, existing dwelling, and by measurement.

Sections are those of NEC Article 220; the 2026 edition keeps most of their decimals in Article 120.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from sitegen.trade.load_parts import (
    CHARGERS,
    COOKING,
    COOLING,
    FIXED,
    HEAT,
    MOTORS,
    Demand,
    Dwelling,
    Load,
    LoadRule,
    Number,
    Step,
    cooking_demand,
    lighting_demand,
)

RECORDS = ("year", "30 days")
"""The two records of demand that NEC 220.87 takes."""


def standard(rule: LoadRule, dwelling: Dwelling) -> Demand:
    """The load of a house on its service by the standard method (Article 220, Part III).

    Parameters
    ----------
    rule : LoadRule
        Numbers of the edition in force.
    dwelling : Dwelling
        The house: area [sq ft] and loads [VA].

    Returns
    -------
    Demand
        Line by line [VA]; `amperes` and `printed` give it at the service's volts [A].

    Raises
    ------
    ValueError
        From `cooking_demand`, for cooking appliances that the table carried here lacks.

    Notes
    -----
    Of heating and cooling the one that adds more counts, with its part in the largest motor (220.60).  A fourth
    fixed appliance can LOWER the total: from four on all of them count at 75 percent (220.53).

    References
    ----------
    NEC 2017 to 2026, in 2026 under Article 120: area 220.12, 220.14(J), 220.41, 120.41; tiers 220.42, 220.45, 120.45;
    220.52, 220.53, 220.54, 220.55 (columns A to C partly from memory), 220.50, 430.24; chargers 220.14(A), 220.57 (from
    memory).  No row in `rules/loads.yaml`: 220.51, 220.60.
    """
    loads, code = dwelling.loads, rule.code
    steps = [*_lighting(rule, dwelling), *_fixed(rule, loads), _dryers(rule, loads), _cooking(rule, loads),
             _step("motors", f"{code}.50", _of(loads, *MOTORS)),
             _step("vehicle chargers", rule.charger_section, charger_load(rule, loads))]
    season, motor = max((_hvac(loads, which) for which in ("heat", "cool")),
                        key=lambda pair: pair[0] + pair[1] * Fraction(rule.motor_extra))
    steps += [_step("heat or cool", f"{code}.51, {code}.60", season),
              Step("largest motor", motor, motor * rule.motor_extra, f"{code}.50, 430.24")]
    return Demand("standard", _nonzero(steps), rule.volts)


def neutral(rule: LoadRule, dwelling: Dwelling) -> Demand:
    """The largest unbalanced load on the neutral, by the standard method whatever the other conductors use (220.61).

    Parameters
    ----------
    rule, dwelling : LoadRule, Dwelling
        Numbers of the edition in force; the house: area [sq ft] and loads [VA].

    Returns
    -------
    Demand
        Line by line [VA]; `amperes` divides by the volts between the ungrounded conductors [A].

    Raises
    ------
    ValueError
        From `cooking_demand`, for cooking appliances that the table carried here lacks.

    Notes
    -----
    Cooking appliances and dryers count at 70 percent of their demand, other 240-V loads not at all.  Of the 120-V
    heating and cooling the larger counts; the largest 120-V motor is taken from both seasons, which owes more.  A 120-V
    vehicle charger counts at its nameplate, without the least demand of the edition.

    References
    ----------
    NEC 2017 to 2026, 220.61; the lines before it as in `standard`.
    """
    at_120 = tuple(load for load in dwelling.loads if load.volts == 120 and load.kind not in (*COOKING, "dryer"))
    share = _fixed_share(rule, dwelling.loads)
    fixed = [load for load in at_120 if load.kind in FIXED]
    section = f"{rule.code}.61"
    season = max(_hvac(at_120, which)[0] for which in ("heat", "cool"))
    motor = max((Fraction(load.va) for load in at_120 if load.runs_a_motor), default=Fraction(0))
    steps = [*_lighting(rule, dwelling)]
    for one in (_cooking(rule, dwelling.loads), _dryers(rule, dwelling.loads)):
        demand = one.va or Fraction(0)
        steps.append(Step(one.key, demand, demand * rule.neutral_share, section))
    steps += [Step("fixed appliances", _sum(fixed), sum((load.va * (share if _counts(rule, load) else Fraction(1))
                                                        for load in fixed), Fraction(0)), section),
              _step("motors", section, _of(at_120, *MOTORS)),
              _step("vehicle chargers", section, _of(at_120, *CHARGERS)),
              _step("heat or cool", section, season),
              Step("largest motor", motor, motor * rule.motor_extra, section)]
    return Demand("neutral", _nonzero(steps), rule.volts)


def optional(rule: LoadRule, dwelling: Dwelling) -> Demand:
    """The load of a house by the optional method (220.82), for a service of 100 A or more.

    Parameters
    ----------
    rule, dwelling : LoadRule, Dwelling
        Numbers of the edition in force; the house: area [sq ft] and loads [VA].

    Returns
    -------
    Demand
        Line by line [VA]; `amperes` and `printed` give it at the service's volts [A].

    Notes
    -----
    All but heat and cooling: the first tier in full, the rest at 40 percent, at nameplate, a vehicle charger at the
    least demand of the edition or more.  Then the larger of cooling and heat.  Kinds of heat that can run together are
    added, the cautious reading.  A fourth separately controlled heater can LOWER the total: from four on they count at
    40 percent and not at 65.  That the service has 100 A or more is for the caller to see.

    References
    ----------
    NEC 2017 to 2026, 220.82(B), 220.82(C); 2026 120.82(B), its part (C) unverified.
    """
    rooms = [load for load in dwelling.loads if load.kind == "room heat"]
    many = rule.optional_many_heat if len(rooms) >= rule.optional_many else rule.optional_heat
    pump = _of(dwelling.loads, "heat pump")
    slow = _of(dwelling.loads, "central heat", "supplemental heat")
    heat = pump + slow * rule.optional_heat + _sum(rooms) * many
    cool = pump + _of(dwelling.loads, *COOLING)
    kept = (pump + slow + _sum(rooms), heat) if heat > cool else (cool, cool)
    section = f"{rule.code}.82"
    steps = [*_parts(rule, dwelling, section), *_tiers(_general(rule, dwelling), rule.optional_first,
             rule.optional_rest, f"{section}(B)"), Step("heat or cool", *kept, f"{section}(C)")]
    return Demand("optional", _nonzero(steps), rule.volts)


def existing(rule: LoadRule, dwelling: Dwelling, new_hvac: bool, hvac_in_full: bool = True) -> Demand:
    """Whether the present service of an existing house is large enough: loads there and loads to come (220.83).

    Parameters
    ----------
    rule, dwelling : LoadRule, Dwelling
        Numbers of the edition in force; the house with the loads there and the loads to come [VA].
    new_hvac : bool
        Whether heat or cooling is added: (B) holds, else (A).
    hvac_in_full : bool
        Without new heat or cooling: count what is there in full, the cautious reading of (A), which is silent on it,
        or among the appliances (False).  With (B) the larger of the two counts in full.

    Returns
    -------
    Demand
        Line by line [VA]; to be compared with the present rating by `amperes` [A].

    Raises
    ------
    ValueError
        When new heat or cooling is not to count in full.

    References
    ----------
    NEC 2017 to 2026, 220.83(A), (B); the first tier of 2026 unverified.
    """
    if new_hvac and not hvac_in_full:
        raise ValueError("new heat or cooling counts in full: 220.83(B)")
    season = max(_hvac(dwelling.loads, which)[0] for which in ("heat", "cool"))
    section = f"{rule.code}.83({'B' if new_hvac else 'A'})"
    among = Fraction(0) if hvac_in_full else season
    steps = [*_parts(rule, dwelling, section),
             *([] if hvac_in_full else [Step("heat or cool among appliances", season, None, section)]),
             *_tiers(_general(rule, dwelling) + among, rule.existing_first, rule.existing_rest, section),
             _step("heat or cool", section, season - among)]
    return Demand("existing", _nonzero(steps), rule.volts)


def measured(rule: LoadRule, peak: Number, new: Iterable[Load], record: str, season: Number = 0,
             own_power: bool = False) -> Demand:
    """The load from a record of demand: 125 percent of the peak, and what is new in full (220.87).

    Parameters
    ----------
    rule : LoadRule
        Numbers of the edition in force.
    peak : int or Fraction
        The highest demand recorded [A at the service's volts], above 0.
    new : iterable of Load
        Loads to come [VA].
    record : str
        One of RECORDS: a year of 15-minute means, or 30 days without a gap on the leg that carries more, lived in.
    season : int or Fraction
        Heat or cooling that ran in no part of the record [VA].
    own_power : bool
        Whether the house makes or shaves its own power.

    Returns
    -------
    Demand
        Line by line [VA].

    Raises
    ------
    ValueError
        For another record, a peak of nothing, a season below 0, or a 30-day record of a house with its own power.

    References
    ----------
    NEC 2017 to 2026, 220.87.
    """
    if record not in RECORDS or peak <= 0 or season < 0 or (record == "30 days" and own_power):
        raise ValueError(f"a record of {record} cannot stand for this house (220.87)")
    at_peak, section = Fraction(peak) * rule.volts, f"{rule.code}.87"
    steps = [Step("measured peak", at_peak, at_peak * rule.measured_share, section),
             Step("heat or cool not in the record", Fraction(season), Fraction(season) * rule.measured_share, section),
             _step("new loads", section, _sum(new))]
    return Demand("measured", _nonzero(steps), rule.volts)


def service_duties(rule: LoadRule, replaced: bool) -> tuple[str, ...]:
    """What replacing the service equipment brings with it, as keys; a key with `ask` is a question to the town.

    Parameters
    ----------
    rule, replaced : LoadRule, bool
        Numbers of the edition in force; whether the service equipment is replaced.

    Returns
    -------
    tuple of str
        Of "surge-protection" and "emergency-disconnect", each as it is or with "-ask"; empty when nothing is replaced.

    References
    ----------
    NEC 2017 to 2026, 230.67, 230.85; 2026 unverified.  The 2020 text of 230.85 does not speak of replacing: ask.
    """
    answers = (("surge-protection", rule.surge), ("emergency-disconnect", rule.disconnect))
    return tuple(key if answer == "yes" else f"{key}-ask" for key, answer in answers if replaced and answer != "no")


def _step(key: str, section: str, va: Fraction) -> Step:
    return Step(key, va, va, section)


def _nonzero(steps: Iterable[Step]) -> tuple[Step, ...]:
    return tuple(step for step in steps if step.connected)


def _sum(loads: Iterable[Load]) -> Fraction:
    return sum((Fraction(load.va) for load in loads), Fraction(0))


def _of(loads: Iterable[Load], *kinds: str) -> Fraction:
    return _sum(load for load in loads if load.kind in kinds)


def _basics(rule: LoadRule, dwelling: Dwelling) -> tuple[Fraction, Fraction, Fraction]:
    """General lighting, small appliances and laundry, as connected [VA]."""
    return (Fraction(dwelling.area) * rule.density,
            Fraction(max(dwelling.small_appliance, rule.small_appliance_least) * rule.small_appliance),
            Fraction(max(dwelling.laundry, rule.laundry_least) * rule.laundry))


def _basic_steps(rule: LoadRule, dwelling: Dwelling) -> list[Step]:
    area, small, laundry = _basics(rule, dwelling)
    return [Step("lighting and receptacles", area, None, rule.lighting_section),
            Step("small appliances", small, None, f"{rule.code}.52(A)"),
            Step("laundry", laundry, None, f"{rule.code}.52(B)")]


def _lighting(rule: LoadRule, dwelling: Dwelling) -> list[Step]:
    whole = sum(_basics(rule, dwelling), Fraction(0))
    return [*_basic_steps(rule, dwelling),
            Step("lighting demand", whole, lighting_demand(rule, whole), rule.demand_section)]


def _counts(rule: LoadRule, load: Load) -> bool:
    """Whether a fixed appliance is large enough for the 75 percent rule; smaller ones count in full."""
    return load.kind in FIXED and load.va >= rule.fixed_least


def _fixed_share(rule: LoadRule, loads: Iterable[Load]) -> Fraction:
    many = sum(_counts(rule, load) for load in loads) >= rule.fixed_count
    return Fraction(rule.fixed_share) if many else Fraction(1)


def _fixed(rule: LoadRule, loads: tuple[Load, ...]) -> list[Step]:
    large = _sum(load for load in loads if _counts(rule, load))
    section = f"{rule.code}.53"
    return [Step("fixed appliances", large, large * _fixed_share(rule, loads), section),
            _step("small fixed appliances", section, _of(loads, *FIXED) - large)]


def _dryers(rule: LoadRule, loads: Iterable[Load]) -> Step:
    dryers = [load for load in loads if load.kind == "dryer"]
    demand = sum((max(Fraction(load.va), Fraction(rule.dryer_least)) for load in dryers), Fraction(0))
    return Step("dryers", _sum(dryers), demand, f"{rule.code}.54")


def _cooking(rule: LoadRule, loads: Iterable[Load]) -> Step:
    nameplates = [Fraction(load.va) for load in loads if load.kind in COOKING]
    return Step("cooking", sum(nameplates, Fraction(0)), cooking_demand(rule, nameplates), f"{rule.code}.55")


def charger_load(rule: LoadRule, loads: Iterable[Load]) -> Fraction:
    """Vehicle chargers, each at the least demand of the edition or more [VA] (220.57)."""
    return sum((max(Fraction(load.va), Fraction(rule.charger_least)) for load in loads
                if load.kind in CHARGERS), Fraction(0))


def _hvac(loads: tuple[Load, ...], season: str) -> tuple[Fraction, Fraction]:
    """What runs in the cold or in the hot season, and the largest motor of the house then [VA]."""
    kinds = (*HEAT, "heat pump") if season == "heat" else (*COOLING, "heat pump")
    running = [load for load in loads if load.kind in kinds or load.kind not in (*HEAT, "heat pump", *COOLING)]
    motor = max((Fraction(load.va) for load in running if load.runs_a_motor), default=Fraction(0))
    return _of(loads, *kinds), motor


def _general(rule: LoadRule, dwelling: Dwelling) -> Fraction:
    return sum((part.connected for part in _parts(rule, dwelling, "")), Fraction(0))


def _parts(rule: LoadRule, dwelling: Dwelling, section: str) -> list[Step]:
    """All but heat and cooling at nameplate, for the methods with tiers."""
    loads = dwelling.loads
    parts = {"cooking": _of(loads, *COOKING), "dryers": _of(loads, "dryer"), "fixed appliances": _of(loads, *FIXED),
             "motors": _of(loads, *MOTORS), "vehicle chargers": charger_load(rule, loads)}
    return [*_basic_steps(rule, dwelling), *(Step(key, va, None, section) for key, va in parts.items())]


def _tiers(whole: Fraction, first: Number, rest: Number, section: str) -> list[Step]:
    low = min(whole, Fraction(first))
    return [_step("first tier", section, low), Step("the rest", whole - low, (whole - low) * rest, section)]
