"""The load of a house of several dwellings on the service that feeds them all (NEC 220.40, 220.84, 220.85).

Each dwelling by itself is worked out as any house: its feeder by `optional` (220.82).  For the service 220.82 and
220.83 do not hold, which speak of one dwelling: the standard method does, over all of them together.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from sitegen.trade.load_parts import COOKING, COOLING, FIXED, HEAT, MOTORS, Demand, Dwelling, Load, LoadRule, Step
from sitegen.trade.service_load import charger_load, standard

TWO, FEW = 2, range(3, 6)
"""Dwellings that may be counted as three alike, and those for which Table 220.84 has the same share."""


def together(rule: LoadRule, dwellings: Sequence[Dwelling], area: int | Fraction, shared: Sequence[Load]) -> Demand:
    """The load of all dwellings and of what they share, by the standard method (Article 220, Part III).

    Parameters
    ----------
    rule : LoadRule
        Numbers of the edition in force.
    dwellings : sequence of Dwelling
        Each with its own loads and circuits.
    area : int or Fraction
        The whole house by its outside [sq ft]: what is shared counts as dwellings do, which owes more.
    shared : sequence of Load
        Loads of no dwelling by itself.

    Returns
    -------
    Demand
        Line by line [VA].

    Raises
    ------
    ValueError
        For no dwelling, an area under that of the dwellings, or from `cooking_demand`.

    Notes
    -----
    Appliances fastened in place, ranges and dryers are counted over the whole service: four appliances in all bring
    the 75 percent of 220.53.  Dryers count in full whatever their number, which owes more than Table 220.54.

    References
    ----------
    NEC 2017 to 2026, 220.40 and Part III, 220.53 (in 2026 under Article 120).
    """
    if not dwellings or area < sum(one.area for one in dwellings):
        raise ValueError("a house holds its dwellings")
    small = sum(max(one.small_appliance, rule.small_appliance_least) for one in dwellings)
    laundry = sum(max(one.laundry, rule.laundry_least) for one in dwellings)
    return standard(rule, Dwelling(area, (*(load for one in dwellings for load in one.loads), *shared), small, laundry))


def by_share(rule: LoadRule, dwellings: Sequence[Dwelling], area: int | Fraction,
             shared: Sequence[Load]) -> Demand | None:
    """Three to five dwellings by their share of all that is connected, or two counted as three alike (220.84, 220.85).

    Parameters
    ----------
    rule, dwellings, area, shared
        As in `together`.

    Returns
    -------
    Demand or None
        Line by line [VA], its method "three to five" or "three alike"; None for one dwelling and for more than five,
        and where one of them lacks electric cooking, or both electric heat and cooling (220.84(A)).

    Raises
    ------
    ValueError
        For an area under that of the dwellings.

    Notes
    -----
    Where two differ, the one with the larger load is taken three times: the text says `three identical units`.
    What is shared is added in full, which owes more than Part III (220.84(B)).

    References
    ----------
    NEC 2017 to 2023, 220.84(A) to (C), 220.85; 2026, 120.84 and 120.85, not seen.
    """
    if area < sum(one.area for one in dwellings):
        raise ValueError("a house holds its dwellings")
    if not (len(dwellings) == TWO or len(dwellings) in FEW) or not all(_may(one) for one in dwellings):
        return None
    each, section = [_parts(rule, one) for one in dwellings], f"{rule.code}.84"
    if two := len(dwellings) == TWO:
        each = [max(each, key=lambda steps: sum(step.connected for step in steps))] * 3
    counted = [replace(steps[0], connected=sum((step.connected for step in steps), Fraction(0)))
               for steps in zip(*each, strict=True)]
    whole = sum((step.connected for step in counted), Fraction(0))
    rest = Fraction(area - sum(one.area for one in dwellings)) * rule.density + sum(
        (Fraction(load.va) for load in shared), Fraction(0))
    share = whole * rule.three_share
    part = (Step("three alike", whole, share, f"{rule.code}.85, Table 220.84") if two else
            Step("three to five", whole, share, f"Table {section}"))
    steps = [*counted, part, Step("shared", rest, rest, f"{section}(B)")]
    return Demand(part.key, tuple(step for step in steps if step.connected), rule.volts)


def _may(one: Dwelling) -> bool:
    kinds = {load.kind for load in one.loads}
    return bool(kinds & set(COOKING)) and bool(kinds & {*HEAT, *COOLING, "heat pump"})


def _parts(rule: LoadRule, one: Dwelling) -> list[Step]:
    """What is connected in one dwelling, at nameplate; of heat and cooling the larger (220.84(C))."""
    def of(*kinds: str) -> Fraction:
        return sum((Fraction(load.va) for load in one.loads if load.kind in kinds), Fraction(0))
    section = f"{rule.code}.84(C)"
    found = {"lighting and receptacles": Fraction(one.area) * rule.density,
             "small appliances": Fraction(max(one.small_appliance, rule.small_appliance_least) * rule.small_appliance),
             "laundry": Fraction(max(one.laundry, rule.laundry_least) * rule.laundry), "cooking": of(*COOKING),
             "dryers": of("dryer"), "fixed appliances": of(*FIXED), "motors": of(*MOTORS),
             "vehicle chargers": charger_load(rule, one.loads),
             "heat or cool": of("heat pump") + max(of(*HEAT), of(*COOLING))}
    return [Step(key, va, None, section) for key, va in found.items()]


__all__ = ["by_share", "together"]
