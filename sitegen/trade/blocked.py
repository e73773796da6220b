"""Drops that turn out blocked, and how easy or hard the house as a whole is.

Blocked bays go together, so the count is beta-binomial on drops and not a sum of independent tosses.  One
house, somewhere from easy to hard, moves blocked drops, plaster, dust and floors at once.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from msgspec import Struct

from sitegen.trade.feeds import beta_binomial, quantile
from sitegen.trade.rounding import half_up
from sitegen.trade.terms import Belief, Cents, House, Option, Spread, Walls

Shape = tuple[Fraction, Fraction]

KINDS = 9
"""Kinds of house, equally likely, at s = 1/18, 3/18 ... 17/18; fewer make comparisons lumpy."""


class Kind(Struct, frozen=True):
    """One kind of house: its share of all, the shape of its blocked drops, and its later prices [cents]."""

    weight: float
    inside: Shape
    outside: Shape
    later: dict[str, Cents]


def at(spread: Spread, s: Fraction) -> Cents:
    """A three-point entry read at `s`, from easy (0) to hard (1) [cents, half up, never under zero].

    Straight lines through (.1, low), (.5, usual), (.9, high), carried on beyond both ends.
    """
    low, usual, high = spread.low, spread.usual, spread.high
    if s <= Fraction(1, 2):
        value = usual + (s - Fraction(1, 2)) * (usual - low) / Fraction(2, 5)
    else:
        value = usual + (s - Fraction(1, 2)) * (high - usual) / Fraction(2, 5)
    return max(0, half_up(Fraction(value)))


def shape(walls: Walls, belief: Belief, s: Fraction) -> Shape:
    """The beta of blocked drops in a house at `s`, after what was probed."""
    x = belief.shift * (Fraction(1, 2) - s) / Fraction(2, 5)
    return belief.blocked_a + walls.blocked - x, belief.blocked_b + walls.probed - walls.blocked + x


def kinds_of(house: House, belief: Belief, count: int = KINDS) -> tuple[Kind, ...]:
    """The house at `count` equally likely places between easy and hard."""
    return tuple(kind_at(house, belief, Fraction(2 * i + 1, 2 * count), 1 / count) for i in range(count))


def kind_at(house: House, belief: Belief, s: Fraction, weight: float = 1.0) -> Kind:
    """The house as it is when it stands at `s`."""
    return Kind(weight, shape(house.inside, belief, s), shape(house.outside, belief, s),
                {later.key: at(later.price, s) for later in house.later})


def split(house: House, points: int) -> tuple[int, int]:
    """Drops inside and outside walls [drops] when `points` are added to the list, one drop each."""
    drops = house.list_drops + points
    outside = half_up(house.outside_share * drops)
    return drops - outside, outside


def usual_blocked(house: House, kind: Kind, points: int) -> int:
    """The mean count of blocked drops, rounded half up [drops]."""
    return _usual_blocked(*split(house, points), kind.inside, kind.outside)


@lru_cache(maxsize=4096)
def _usual_blocked(inside: int, outside: int, one: Shape, other: Shape) -> int:
    (a, b), (c, d) = one, other
    return half_up(inside * a / (a + b) + outside * c / (c + d))


def blocked_at(house: House, belief: Belief, share: float) -> int:
    """The count of blocked drops among those that are sure which this share of houses does not go over [drops].

    Over all kinds of house, and what probing leaves open in each.
    """
    inside, outside = split(house, 0)
    found = [0.0] * (inside + outside + 1)
    for kind in kinds_of(house, belief):
        others = beta_binomial(outside, *kind.outside)
        for i, one in enumerate(beta_binomial(inside, *kind.inside)):
            for j, other in enumerate(others):
                found[i + j] += kind.weight * one * other
    return quantile(dict(enumerate(found)), share)


def openings(house: House, points: int) -> int:
    """Openings in walls and ceilings [openings] when `points` are added, those of the list as its rooms count them."""
    if house.list_openings is not None:
        return house.list_openings - (-house.openings_a_drop * points // 1)
    return -(-house.openings_a_drop * (house.list_drops + points) // 1)


def later_counts(house: House, option: Option, points: int) -> dict[str, int]:
    """What each later cost is multiplied by: openings, square feet that the option leaves bare, or one house."""
    units = {"opening": openings(house, points), "sq ft": option.floor_area, "house": 1}
    return {item.key: units[item.per] for item in house.later}
