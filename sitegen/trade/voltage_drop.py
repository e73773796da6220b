"""Voltage lost along a circuit, how far a gauge reaches, and the smallest gauge for a branch circuit.

Single-phase two-wire circuits.  The shares recommended are notes of the code, not limits; 240.4(D) is a limit.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

from msgspec import Struct

Number = int | Fraction
Gauge = str
Strand = Literal["stranded", "solid"]

BRANCH_GAUGES = ("14", "12", "10")
"""Copper of general branch circuits in a house, smallest first."""


class ConductorRule(Struct, frozen=True):
    """Copper conductors, by gauge.

    `stranded`, `solid`    resistance at `base_celsius` [ohm per 1,000 ft], chapter 9 Table 8
    `alternating`          the same for alternating current in PVC conduit, Table 9
    `circular_mils`        cross-section [cmil]
    `k`                    resistance of a mil-foot [ohm cmil per ft]
    `coefficient`          growth of resistance per degree Celsius above `base_celsius`
    `overcurrent`          largest breaker or fuse [A], 240.4(D)
    `branch_share`         drop that is recommended at most, as a share of the circuit's voltage
    `total_share`          the same for feeder and branch circuit together
    """

    stranded: Mapping[Gauge, Number]
    solid: Mapping[Gauge, Number]
    alternating: Mapping[Gauge, Number]
    circular_mils: Mapping[Gauge, Number]
    k: Number
    base_celsius: Number
    coefficient: Number
    overcurrent: Mapping[Gauge, Number]
    branch_share: Number
    total_share: Number


class Choice(Struct, frozen=True):
    """A gauge for a branch circuit.

    `required`     smallest that the breaker allows: a limit
    `recommended`  smallest of these that also keeps the drop within the share; None if even the largest does not
    `gauge`        the recommended one, or else the largest
    `drop`, `share`  volts lost with it, and as a share of the voltage
    """

    required: Gauge
    recommended: Gauge | None
    gauge: Gauge
    drop: Fraction
    share: Fraction


def drop(feet: Number, amperes: Number, ohms: Number) -> Fraction:
    """Volts lost there and back: 2 L R I / 1000 [V].

    `feet` one option, `ohms` per 1,000 ft.  Raises ValueError below 0.  Source: NEC chapter 9, Table 8; 210.19 note.
    """
    if min(feet, amperes) < 0 or ohms <= 0:
        raise ValueError("length and current are not below 0, resistance is above")
    return 2 * Fraction(feet) * ohms * amperes / 1000


def drop_by_k(feet: Number, amperes: Number, circular_mils: Number, k: Number) -> Fraction:
    """Volts lost by the shorthand of estimators, 2 K L I / cmil [V]; `feet` one option."""
    if min(circular_mils, k) <= 0:
        raise ValueError("cross-section and K are above 0")
    return drop(feet, amperes, 1000 * Fraction(k) / circular_mils)


def share_of(volts_lost: Number, volts: Number) -> Fraction:
    """A drop as a share of the circuit's voltage."""
    if volts <= 0:
        raise ValueError(f"a circuit has a voltage above 0; got {volts}")
    return Fraction(volts_lost) / volts


def at_celsius(ohms: Number, celsius: Number, rule: ConductorRule) -> Fraction:
    """Resistance of copper at another temperature than the table's: R [1 + a (T - 75)], unit of `ohms`.

    Raises ValueError where the straight line would fall to nothing, far below any weather.
    """
    factor = 1 + Fraction(rule.coefficient) * (Fraction(celsius) - rule.base_celsius)
    if factor <= 0 or ohms <= 0:
        raise ValueError("resistance stays above 0")
    return ohms * factor


def resistance(gauge: Gauge, strand: Strand, rule: ConductorRule) -> Fraction:
    """Resistance of a gauge of copper [ohm per 1,000 ft].

    House cable of 14 to 10 AWG is solid; the table for stranded wire is the larger, hence the safer.
    Raises ValueError for a gauge that the table lacks.
    """
    table = rule.stranded if strand == "stranded" else rule.solid
    if gauge not in table:
        raise ValueError(f"no resistance is given for {strand} {gauge} AWG")
    return Fraction(table[gauge])


def longest_run(amperes: Number, ohms: Number, volts: Number, share: Number) -> Fraction:
    """The longest run, one option, that loses no more than this share of the voltage [ft], not rounded.

    Raises ValueError for a load or a share that is not above 0.
    """
    if min(amperes, share) <= 0:
        raise ValueError("load and share are above 0")
    return Fraction(share) * volts / drop(1, amperes, ohms)


def branch_gauge(breaker: Number, amperes: Number, feet: Number, volts: Number, rule: ConductorRule,
                 strand: Strand = "stranded") -> Choice:
    """The smallest of 14, 12 and 10 AWG copper for a breaker [A], and for a load [A] at the end of a run [ft].

    Raises ValueError for a breaker that 10 AWG may not have, and for a load above the breaker.
    """
    if not 0 <= amperes <= breaker:
        raise ValueError(f"a breaker of {breaker} A does not carry {amperes} A")
    allowed = [gauge for gauge in BRANCH_GAUGES if rule.overcurrent[gauge] >= breaker]
    if not allowed:
        raise ValueError(f"no gauge up to {BRANCH_GAUGES[-1]} AWG may have a breaker of {breaker} A")
    lost = {gauge: drop(feet, amperes, resistance(gauge, strand, rule)) for gauge in allowed}
    good = [gauge for gauge in allowed if share_of(lost[gauge], volts) <= rule.branch_share]
    chosen = good[0] if good else allowed[-1]
    return Choice(allowed[0], good[0] if good else None, chosen, lost[chosen], share_of(lost[chosen], volts))


def smallest_size(amperes: Number, ratings: Mapping[Gauge, Number]) -> Gauge:
    """The size with the smallest rating that is enough, from any table of ratings by size [A].

    Raises ValueError above the end of the table.
    """
    enough = [(rating, size) for size, rating in ratings.items() if rating >= amperes]
    if not enough:
        raise ValueError(f"no size of the table carries {amperes} A")
    return min(enough)[1]
