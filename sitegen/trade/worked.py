"""The whole answer about endings under three beliefs, in a form that can be kept and read back.

Only what an answer is stands here, and nothing that works one out: reading a kept answer loads no arrays.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from sitegen.trade.feeds import HiddenPoints, hidden_points
from sitegen.trade.terms import Belief, Cents, House

VIEWS = ("judged", "half", "twice")
FACTORS = (Fraction(1), Fraction(1, 2), Fraction(2))
PERCENTILES = (0.1, 0.5, 0.9)
DOTS = tuple((i - 0.5) / 20 for i in range(1, 21))
"""Shares of the quantile dots: each dot stands for one of twenty equally likely endings."""


class Ending(Struct, frozen=True):
    """Where one option ends [cents]: P10, P50 and P90, the quantile dots, and the furthest it can go.

    `total` is to the same finish (old wires dead, walls ready to paint, floors sound; painting apart),
    `paid` is what the firm is paid of it.
    """

    total: tuple[Cents, Cents, Cents]
    quantile_dots: tuple[Cents, ...]
    least: Cents
    most: Cents
    paid: tuple[Cents, Cents, Cents]


class Comparison(Struct, frozen=True):
    """Chances under one belief: `cheapest[option]`, a tie going to the lower price today; `above[a, b]`, strict."""

    cheapest: Mapping[str, float]
    above: Mapping[tuple[str, str], float]


class Worked(Struct, frozen=True):
    """Endings by option under the first view; P10, P50 and P90 and the comparison under each view."""

    endings: dict[str, Ending]
    percentiles: dict[str, dict[str, tuple[Cents, Cents, Cents]]]
    comparisons: dict[str, Comparison]


def beliefs(house: House, belief: Belief) -> dict[str, HiddenPoints]:
    """What is hidden under each of VIEWS: as the firm judges, and with half and with twice as many old feeds."""
    return {view: hidden_points(house.feeds, belief.feeds.times(factor))
            for view, factor in zip(VIEWS, FACTORS, strict=True)}


def to_plain(worked: Worked) -> dict[str, Any]:
    """For keeping as JSON."""
    return {"endings": {key: asdict(ending) for key, ending in worked.endings.items()},
            "percentiles": worked.percentiles,
            "comparisons": {name: {"cheapest": dict(view.cheapest),
                                   "above": [[a, b, p] for (a, b), p in view.above.items()]}
                            for name, view in worked.comparisons.items()}}


def from_plain(plain: dict[str, Any]) -> Worked:
    """As kept by `to_plain`; raises KeyError, TypeError or ValueError when it was not."""
    return Worked(
        {key: Ending(total=three(row["total"]), quantile_dots=tuple(row["quantile_dots"]), least=row["least"],
                     most=row["most"], paid=three(row["paid"])) for key, row in plain["endings"].items()},
        {name: {key: three(row) for key, row in view.items()} for name, view in plain["percentiles"].items()},
        {name: Comparison(view["cheapest"], {(a, b): p for a, b, p in view["above"]})
         for name, view in plain["comparisons"].items()})


def three(row: Any) -> tuple[Cents, Cents, Cents]:
    """P10, P50 and P90 [cents]; raises TypeError or ValueError where there are not three whole numbers."""
    p10, p50, p90 = row
    return int(p10), int(p50), int(p90)
