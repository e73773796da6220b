"""Whether a way of buying is ahead of the others anywhere at all."""

from __future__ import annotations

from datetime import date

from sitegen.figure import Figure, fraction_of, int_of
from sitegen.offer.money import WayMoney
from sitegen.offer.offer import Offer


def never_ahead(offer: Offer) -> tuple[str, ...]:
    """The keys of the ways that never end cheapest, to the nearest twentieth, and lead the others on no row.

    Rows count that can be counted: money, dates, points, holes, promises.  To lead is to be better than every
    other way, not as good; what a kit says in plain words weighs nothing here.
    """
    ways = offer.outcome.ways
    if len(ways) < 2:
        return ()
    counts = {way.key: _counts(offer, way) for way in ways}
    return tuple(way.key for way in ways if _rounds_to_nought(way) and not any(
        all(mine < theirs[at] for key, theirs in counts.items() if key != way.key)
        for at, mine in enumerate(counts[way.key])))


def _rounds_to_nought(way: WayMoney) -> bool:
    said = way.cheapest.judged
    return int_of(said.count) == 0 or said.bound == "fewer than"


def _counts(offer: Offer, way: WayMoney) -> tuple[float, ...]:
    """What can be counted of one way, row by row; less is better."""
    terms, dates = offer.terms[way.key], offer.dates.ways[way.key]

    def cap(figure: Figure | None) -> float:
        return float("inf") if figure is None else int_of(figure)

    def day(figure: Figure) -> int:
        return figure.value.toordinal() if isinstance(figure.value, date) else int_of(figure)

    old, work = int_of(terms.years_on_old_wire), int_of(terms.years_on_work)
    return (
        int_of(way.price),                                                          # row 1
        cap(way.most_paid) if way.covers_all else float("inf"),                     # rows 2 and 3
        not way.covers_all,                                                         # rows 4, 9, 10 and 13
        len(way.later),                                                             # row 5
        int_of(way.p10), int_of(way.p50), int_of(way.p90),                          # row 6
        int_of(terms.before_work), -float(fraction_of(terms.held)),                 # row 7
        -int_of(offer.found.closed[way.key]),                                       # row 12
        int_of(way.holes), terms.closes_holes != "us",                              # row 14
        int_of(offer.protection.ways[way.key].bare),                                # row 16
        day(dates.dead), day(dates.finished), int_of(dates.power_off),              # rows 19 and 20
        -work, -old, not terms.passes_on,                                           # row 21
    )
