"""General light of one room by the lumen method: how many lights, where, and how bright on average.

The method holds for an empty box-shaped room under a regular grid of like lights, and gives an average only.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.trade.light_grid import Grid, Number, Spacing, fit_grid, most_apart

EDITIONS = {"IES handbook 1950s": "targets_ies_1950s", "IESNA summary (weak)": "targets_iesna_summary",
            "trade quote (weak)": "targets_trade_quote"}
"""Who recommends: the name that stands beside a target, and the rule that holds it."""

Targets = Mapping[str, tuple[Number, str]]


class LightRule(Struct, frozen=True):
    """Recommendations; none of them is a limit of law.

    `work_plane`  height at which light is judged where nobody says otherwise [ft]
    `targets_*`   by space: average light [fc] and the plane on which it is meant
    """

    work_plane: Number
    targets_ies_1950s: Targets
    targets_iesna_summary: Targets
    targets_trade_quote: Targets


class Target(Struct, frozen=True):
    """Light to aim for [fc] in one space, by one edition, on the plane for which it was written.

    `height` of that plane above the floor [ft]; None where the plane is the task itself and has to be measured.
    A value for a task is light on a counter, a mirror or a page; it is no average of a room.
    """

    space: str
    edition: str
    value: Number
    plane: str
    height: Number | None

    @property
    def of_a_room(self) -> bool:
        """Whether the average of a room may be held against it."""
        return self.height is not None


def target(space: str, edition: str, rule: LightRule) -> Target:
    """What one edition recommends for a space; raises KeyError for an edition or a space that it does not name.

    Editions differ several times over, so no space has one number.
    """
    value, plane = getattr(rule, EDITIONS[edition])[space]
    heights: dict[str, Number] = {"floor": 0, "not stated": rule.work_plane}
    return Target(space, edition, value, plane, heights.get(plane))


class LightLoss(Struct, frozen=True):
    """Share of a new lamp's light that is kept, in 0 to 1.

    Two customs write it down: a maintenance factor, which multiplies, and a depreciation factor of 1 or more,
    which divides.  1.2 is not 0.8; so a loss is made by name and never from a bare number.
    """

    kept: Fraction

    def __post_init__(self) -> None:
        if not 0 < self.kept <= 1:
            raise ValueError(f"lamps keep a share between 0 and 1 of their light; got {self.kept}")

    @staticmethod
    def maintenance(*factors: Number) -> LightLoss:
        """From maintenance factors of at most 1 (ageing lamps, dirt, and so on), multiplied; none of them: no loss."""
        kept = Fraction(1)
        for factor in factors:
            if not 0 < factor <= 1:
                raise ValueError(f"a maintenance factor lies between 0 and 1; got {factor}")
            kept *= factor
        return LightLoss(kept)


class LitRoom(Struct, frozen=True):
    """A box-shaped room [ft]: `drop` from ceiling to the middle of the lights, `plane` from floor to where work is."""

    length: Number
    width: Number
    ceiling: Number
    plane: Number
    drop: Number = 0

    def __post_init__(self) -> None:
        if min(self.length, self.width) <= 0 or min(self.plane, self.drop) < 0 or self.height <= 0:
            raise ValueError(f"no room for light between the lights and the work plane: {self}")

    @property
    def height(self) -> Fraction:
        """From the work plane up to the lights [ft]."""
        return Fraction(self.ceiling) - self.drop - self.plane

    @property
    def area(self) -> Fraction:
        """Floor [sq ft]."""
        return Fraction(self.length) * self.width


class Fitting(Struct, frozen=True):
    """One kind of light as its sheet describes it.

    `coefficients`  share of its light that reaches the work plane, by room cavity ratio, for reflectances as they
                    are in this room
    `criterion`     spacing criterion: spacing over height above the work plane, at most
    """

    lamps: int
    lumens_a_lamp: Number
    coefficients: Mapping[int, Number]
    criterion: Number

    def __post_init__(self) -> None:
        if min(self.lamps, self.lumens_a_lamp, self.criterion) <= 0:
            raise ValueError("a light has lamps, lumens and a spacing criterion above 0")

    @property
    def lumens(self) -> Fraction:
        """Light of all its lamps when new [lm]."""
        return Fraction(self.lumens_a_lamp) * self.lamps


class LightPlan(Struct, frozen=True):
    """The light of one room.

    `cavity_ratio`, `coefficient`  shape of the room and what its fitting yields in it
    `exact`, `needed`              lights that the target takes, and the same as a whole number
    `slack`                        share of the target that may be missing, as the caller chose
    `grid`, `spacing`              where they hang [ft]
    `average`                      maintained average on the work plane [fc]
    `most_apart`                   widest spacing that the fitting allows here [ft]
    `enough`, `spacing_met`        the two verdicts
    """

    cavity_ratio: Fraction
    coefficient: Fraction
    exact: Fraction
    needed: int
    slack: Fraction
    grid: Grid
    spacing: Spacing
    average: Fraction
    most_apart: Fraction
    enough: bool
    spacing_met: bool


def cavity_ratio(height: Number, length: Number, width: Number) -> Fraction:
    """Room cavity ratio of a box: 5 H (L + W) / (L W), all in one unit of length.

    `height` from the work plane to the lights; with the height of another cavity it gives the ratio of that one.
    Raises ValueError for a room without floor.  Source: California 2016 Title 24, Table 140.6-F.
    """
    return cavity_ratio_of(height, 2 * (Fraction(length) + width), Fraction(length) * width)


def cavity_ratio_of(height: Number, perimeter: Number, area: Number) -> Fraction:
    """Room cavity ratio of an irregular room: 2.5 H P / A, in one unit of length; source as for a box."""
    if height < 0 or min(perimeter, area) <= 0:
        raise ValueError("a room has a floor, a wall around it, and a height that is not below 0")
    return Fraction(5, 2) * height * perimeter / area


def coefficient_at(table: Mapping[int, Number], ratio: Number) -> Fraction:
    """Coefficient of utilization at a room cavity ratio, read straight between two rows of a fitting's own table.

    Raises ValueError outside the table: nothing is carried on beyond what was measured.
    """
    below = max((row for row in table if row <= ratio), default=None)
    above = min((row for row in table if row >= ratio), default=None)
    if below is None or above is None:
        raise ValueError(f"room cavity ratio {float(ratio):.2f} lies outside the fitting's table")
    if min(table[below], table[above]) <= 0:
        raise ValueError("a coefficient of utilization is above 0")
    if below == above:
        return Fraction(table[below])
    return table[below] + (Fraction(ratio) - below) / (above - below) * (table[above] - Fraction(table[below]))


def average(lights: int, lumens: Number, used: Number, loss: LightLoss, area: Number) -> Fraction:
    """Maintained average E = N x lumens x CU x LLF / area.

    `lumens` of one light, `used` its coefficient of utilization; gives footcandles for square feet, lux for square
    metres.  Raises ValueError for what cannot be.  Source: lumen method, UFC 3-520-01 and textbooks.
    """
    if lights < 0 or min(lumens, used, area) <= 0:
        raise ValueError("lumens, coefficient and area are above 0, lights not below")
    return lights * Fraction(lumens) * used * loss.kept / area


def lights_exact(goal: Number, lumens: Number, used: Number, loss: LightLoss, area: Number) -> Fraction:
    """Lights that bring the average to `goal`, not rounded; units as in `average`."""
    if goal <= 0:
        raise ValueError(f"light to aim for is above 0; got {goal}")
    return goal / average(1, lumens, used, loss, area)


def whole_lights(exact: Number, slack: Number = 0) -> int:
    """Whole lights for a maintained minimum: rounded up, as textbooks, which round to nearest, do not.

    `slack` is the share of the target that may be missing.  A printed example calls 36 fc met by 35.69 fc; that
    takes a slack of 1/100, and whoever grants it says so.  Raises ValueError for a slack outside 0 to 1.
    """
    if not 0 <= slack < 1:
        raise ValueError(f"slack is a share of the target, from 0 to under 1; got {slack}")
    return max(1, ceil(Fraction(exact) * (1 - Fraction(slack))))


def average_of(lights: int, room: LitRoom, fitting: Fitting, loss: LightLoss) -> Fraction:
    """What lights already placed come to on average in an empty room [fc]; raises ValueError outside the table."""
    used = coefficient_at(fitting.coefficients, cavity_ratio(room.height, room.length, room.width))
    return average(lights, fitting.lumens, used, loss, room.area)


def plan(room: LitRoom, fitting: Fitting, loss: LightLoss, goal: Number, slack: Number = 0,
         grid: Grid | None = None) -> LightPlan:
    """Lights for a room [fc, ft], or, with `grid`, what lights that are already placed come to.

    An old house often has one ceiling light a room: pass `Grid(1, 1)`, and the verdicts say whether it is enough and
    whether it reaches the walls.  Raises ValueError for a room outside the fitting's table.
    """
    ratio = cavity_ratio(room.height, room.length, room.width)
    used = coefficient_at(fitting.coefficients, ratio)
    exact = lights_exact(goal, fitting.lumens, used, loss, room.area)
    needed, most = whole_lights(exact, slack), most_apart(fitting.criterion, room.height)
    placed = grid or fit_grid(room.length, room.width, needed, most)
    spacing = placed.spacing(room.length, room.width)
    return LightPlan(ratio, used, exact, needed, Fraction(slack), placed, spacing,
                     average(placed.count, fitting.lumens, used, loss, room.area), most,
                     placed.count >= needed, spacing.within(most))
