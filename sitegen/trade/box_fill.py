"""Box fill: the room that conductors, clamps and devices take in an outlet box, line by line.

NEC 314.16.  Counted in allowances, each the volume of one conductor of some gauge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from msgspec import Struct, field

Number = int | Fraction
Gauge = str


class BoxRule(Struct, frozen=True):
    """Section 314.16 of one edition.

    `volumes`                   by gauge (AWG 18 to 6): volume of one conductor [cu in], Table 314.16(B)
    `standard`                  by name: volume of a standard metal box [cu in], Table 314.16(A)
    `through_allowances`        for a conductor that runs through unbroken
    `long_loop_allowances`      for one that is coiled or looped in the box for a later joint
    `clamp_allowances`          for all clamps inside together
    `fitting_allowances`        for each stud or hickey
    `device_allowances`         for each device on one yoke
    `gang_allowances`           for each gang of a device that is wider than one
    `grounds_together`          grounding conductors that count as one
    `ground_allowances_beyond`  for each one above that; 0 before the 2020 edition
    """

    volumes: Mapping[Gauge, Number]
    standard: Mapping[str, Number]
    through_allowances: Number
    long_loop_allowances: Number
    clamp_allowances: Number
    fitting_allowances: Number
    device_allowances: Number
    gang_allowances: Number
    grounds_together: int
    ground_allowances_beyond: Number


class Device(Struct, frozen=True):
    """A switch or receptacle: the largest conductor that lands on it, and how many gangs wide it is."""

    largest: Gauge
    gangs: int = 1

    def __post_init__(self) -> None:
        if self.gangs < 1:
            raise ValueError(f"a device is one gang wide or more; got {self.gangs}")


class Contents(Struct, frozen=True):
    """What is in a box, conductors by gauge.  Pigtails that stay inside, plugs and outside connectors count nothing.

    `entering`    conductors from outside that end or are joined here
    `through`     conductors that run through without a joint
    `long_loops`  the same, with a loop left long enough to be cut and joined
    `clamps`      whether there is any clamp inside
    `fittings`    fixture studs and hickeys
    `devices`     switches, receptacles and the like
    `grounds`     equipment grounding conductors from outside
    """

    entering: Mapping[Gauge, int] = field(default_factory=dict)
    through: Mapping[Gauge, int] = field(default_factory=dict)
    long_loops: Mapping[Gauge, int] = field(default_factory=dict)
    clamps: bool = False
    fittings: int = 0
    devices: tuple[Device, ...] = ()
    grounds: Mapping[Gauge, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        counts = [count for group in self.groups for count in group.values()]
        if min([self.fittings, *counts]) < 0:
            raise ValueError("no box holds fewer than 0 of anything")

    @property
    def groups(self) -> tuple[Mapping[Gauge, int], ...]:
        """Its four sets of conductors."""
        return self.entering, self.through, self.long_loops, self.grounds


class Allowance(Struct, frozen=True):
    """One line of the sum: `count` allowances of `each` [cu in], that of gauge `gauge`.

    `what` is a key: entering, through, long-loop, clamps, fittings, device or grounds.
    """

    what: str
    gauge: Gauge
    count: Fraction
    each: Fraction

    @property
    def volume(self) -> Fraction:
        """What the line takes of the box: count times each [cu in], exact."""
        return self.count * self.each


class Verdict(Struct, frozen=True):
    """What a box has to hold against what it holds [cu in], and how that sum came about."""

    lines: tuple[Allowance, ...]
    required: Fraction
    volume: Fraction

    @property
    def fits(self) -> bool:
        """Whether the box is large enough; exactly full is allowed."""
        return self.required <= self.volume


def allowances(contents: Contents, rule: BoxRule) -> tuple[Allowance, ...]:
    """The lines of the sum in the order of 314.16(B)(1) to (5).

    Raises ValueError for a gauge without a volume, and for clamps or studs in a box without a conductor, where the
    rule has nothing to count by.  A second set of grounding conductors for isolated receptacles is not treated.
    """
    return tuple(line for line in _lines(contents, rule) if line.count)


def required_volume(contents: Contents, rule: BoxRule) -> Fraction:
    """Least volume of a box for these contents [cu in]; errors as for `allowances`."""
    return sum((line.volume for line in allowances(contents, rule)), Fraction(0))


def verdict(contents: Contents, volume: Number, rule: BoxRule) -> Verdict:
    """These contents in a box of this volume [cu in]: the one moulded or stamped in it, or a standard box's."""
    if volume <= 0:
        raise ValueError(f"a box has a volume above 0; got {volume}")
    return Verdict(allowances(contents, rule), required_volume(contents, rule), Fraction(volume))


def smallest_standard(required: Number, rule: BoxRule) -> str | None:
    """The smallest standard box that holds this much [cu in]; None if none does."""
    enough = [(volume, name) for name, volume in rule.standard.items() if volume >= required]
    return min(enough)[1] if enough else None


def _volume(gauge: Gauge, rule: BoxRule) -> Fraction:
    if gauge not in rule.volumes:
        raise ValueError(f"no volume is given for a conductor of gauge {gauge}")
    return Fraction(rule.volumes[gauge])


def _lines(contents: Contents, rule: BoxRule) -> Iterator[Allowance]:
    for what, group, each in (("entering", contents.entering, 1),
                              ("through", contents.through, rule.through_allowances),
                              ("long-loop", contents.long_loops, rule.long_loop_allowances)):
        for gauge, count in group.items():
            yield Allowance(what, gauge, Fraction(count * each), _volume(gauge, rule))
    if contents.clamps or contents.fittings:
        largest = _largest(contents.groups, rule)
        yield _of("clamps", largest, rule.clamp_allowances * contents.clamps, rule)
        yield _of("fittings", largest, rule.fitting_allowances * contents.fittings, rule)
    for device in contents.devices:
        each = rule.device_allowances if device.gangs == 1 else rule.gang_allowances * device.gangs
        yield _of("device", device.largest, each, rule)
    grounds = sum(contents.grounds.values())
    if grounds:
        beyond = max(0, grounds - rule.grounds_together) * Fraction(rule.ground_allowances_beyond)
        yield _of("grounds", _largest((contents.grounds,), rule), 1 + beyond, rule)


def _of(what: str, gauge: Gauge, count: Number, rule: BoxRule) -> Allowance:
    return Allowance(what, gauge, Fraction(count), _volume(gauge, rule))


def _largest(groups: tuple[Mapping[Gauge, int], ...], rule: BoxRule) -> Gauge:
    """The gauge with the largest volume among those of which there is one at least."""
    present = [gauge for group in groups for gauge, count in group.items() if count]
    if not present:
        raise ValueError("clamps and studs are counted by the largest conductor, and there is none")
    return max(present, key=lambda gauge: _volume(gauge, rule))
