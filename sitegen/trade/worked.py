"""The whole answer about endings under three beliefs, in a form that can be kept and read back."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from sitegen.trade.blocked import kinds_of
from sitegen.trade.compare import Comparison, Crossings
from sitegen.trade.endings import Ending, Tables, Weighed, lay_out
from sitegen.trade.feeds import HiddenPoints, hidden_points
from sitegen.trade.terms import Belief, Cents, House

VIEWS = ("judged", "half", "twice")
FACTORS = (Fraction(1), Fraction(1, 2), Fraction(2))


class Worked(Struct, frozen=True):
    """Endings by option; P10, P50 and P90 and the comparison under each of VIEWS."""

    endings: dict[str, Ending]
    tenths: dict[str, dict[str, tuple[Cents, Cents, Cents]]]
    comparisons: dict[str, Comparison]


def beliefs(house: House, belief: Belief) -> tuple[HiddenPoints, ...]:
    """What is hidden as the firm judges, and with half and with twice as many old feeds."""
    return tuple(hidden_points(house.feeds, belief.feeds.times(factor)) for factor in FACTORS)


def work_out(house: House, belief: Belief) -> Worked:
    """Everything about the endings of one house."""
    hidden = beliefs(house, belief)
    reach = {pair: 1.0 for view in hidden for pair in view}
    tables = Tables(lay_out(house, reach, kinds_of(house, belief)))
    views = [Weighed(tables, view) for view in hidden]
    crossings = Crossings(tables)
    keys = [option.key for option in house.options]
    judged = {key: views[0].ending(key) for key in keys}
    return Worked(judged,
                  {name: {key: judged[key].total if view is views[0] else view.tenths(key) for key in keys}
                   for name, view in zip(VIEWS, views, strict=True)},
                  {name: crossings.under(view) for name, view in zip(VIEWS, views, strict=True)})


def to_plain(worked: Worked) -> dict[str, Any]:
    """For keeping as JSON."""
    return {"endings": {key: asdict(ending) for key, ending in worked.endings.items()},
            "tenths": worked.tenths,
            "comparisons": {name: {"cheapest": dict(view.cheapest),
                                   "above": [[a, b, p] for (a, b), p in view.above.items()]}
                            for name, view in worked.comparisons.items()}}


def from_plain(plain: dict[str, Any]) -> Worked:
    """As kept by `to_plain`; raises KeyError, TypeError or ValueError when it was not."""
    return Worked(
        {key: Ending(total=_three(row["total"]), twenty=tuple(row["twenty"]), least=row["least"],
                     most=row["most"], paid=_three(row["paid"])) for key, row in plain["endings"].items()},
        {name: {key: _three(row) for key, row in view.items()} for name, view in plain["tenths"].items()},
        {name: Comparison(view["cheapest"], {(a, b): p for a, b, p in view["above"]})
         for name, view in plain["comparisons"].items()})


def _three(row: Any) -> tuple[Cents, Cents, Cents]:
    p10, p50, p90 = row
    return int(p10), int(p50), int(p90)
