"""Voltage lost along a circuit, and the smallest gauge for a branch circuit.

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

    `stranded`, `solid`    resistance at 75 degrees C [ohm per 1,000 ft], chapter 9 Table 8
    `overcurrent`          largest breaker or fuse [A], 240.4(D)
    `branch_share`         drop that is recommended at most, as a share of the circuit's voltage
    """

    stranded: Mapping[Gauge, Number]
    solid: Mapping[Gauge, Number]
    overcurrent: Mapping[Gauge, Number]
    branch_share: Number


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

    `feet` one way, `ohms` per 1,000 ft.  Raises ValueError below 0.  Source: NEC chapter 9, Table 8; 210.19 note.
    """
    if min(feet, amperes) < 0 or ohms <= 0:
        raise ValueError("length and current are not below 0, resistance is above")
    return 2 * Fraction(feet) * ohms * amperes / 1000


def share_of(volts_lost: Number, volts: Number) -> Fraction:
    """A drop as a share of the circuit's voltage."""
    if volts <= 0:
        raise ValueError(f"a circuit has a voltage above 0; got {volts}")
    return Fraction(volts_lost) / volts


def resistance(gauge: Gauge, strand: Strand, rule: ConductorRule) -> Fraction:
    """Resistance of a gauge of copper [ohm per 1,000 ft].

    House cable of 14 to 10 AWG is solid; the table for stranded wire is the larger, hence the safer.
    Raises ValueError for a gauge that the table lacks.
    """
    table = rule.stranded if strand == "stranded" else rule.solid
    if gauge not in table:
        raise ValueError(f"no resistance is given for {strand} {gauge} AWG")
    return Fraction(table[gauge])


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
