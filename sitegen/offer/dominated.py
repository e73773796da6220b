"""Whether an option is ahead of the others anywhere at all."""

from __future__ import annotations

from datetime import date

from sitegen.figure import Figure, fraction_of, int_of
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer


def dominated(offer: Offer) -> tuple[str, ...]:
    """The keys of the options that never end cheapest, to the nearest twentieth, and lead the others on no row.

    Rows count that can be counted: money, dates, points, holes, promises.  To lead is to be better than every
    other option, not as good; what a kit says in plain words weighs nothing here.
    """
    options = offer.outcome.options
    if len(options) < 2:
        return ()
    counts = {option.key: _counts(offer, option) for option in options}
    return tuple(option.key for option in options if _rounds_to_nought(option) and not any(
        all(mine < theirs[at] for key, theirs in counts.items() if key != option.key)
        for at, mine in enumerate(counts[option.key])))


def _rounds_to_nought(option: OptionMoney) -> bool:
    said = option.cheapest.judged
    return int_of(said.count) == 0 or said.bound == "fewer than"


def _counts(offer: Offer, option: OptionMoney) -> tuple[float, ...]:
    """What can be counted of one option, row by row; less is better."""
    terms, dates = offer.terms[option.key], offer.dates.options[option.key]

    def cap(figure: Figure | None) -> float:
        return float("inf") if figure is None else int_of(figure)

    def day(figure: Figure) -> int:
        return figure.value.toordinal() if isinstance(figure.value, date) else int_of(figure)

    old, work = int_of(terms.years_on_old_wire), int_of(terms.years_on_work)
    return (
        int_of(option.price),                                                          # price
        cap(option.most_paid) if option.covers_all else float("inf"),                     # most
        not option.covers_all,                                                         # rise, live and letter
        len(option.later),                                                             # later
        int_of(option.p10), int_of(option.p50), int_of(option.p90),                          # ending
        int_of(terms.before_work), -float(fraction_of(terms.held)),                 # payments
        -int_of(offer.found.closed[option.key]),                                       # findings
        int_of(option.holes), terms.closes_holes != "us",                              # holes
        int_of(offer.protection.options[option.key].bare),                                # floors
        day(dates.dead), day(dates.finished), int_of(dates.power_off),              # dates and living
        -work, -old, not terms.passes_on,                                           # promise
    )
