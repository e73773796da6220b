"""Price, cost and margin of every option side by side, and the order in which they earn."""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.figure import Figure, Quote, Source, int_of
from sitegen.job.inputs import Inputs
from sitegen.offer.costs import OptionCosts
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.office.tables import Cell, Table
from sitegen.trade.firm import LOSSES

Column = tuple[OptionMoney, OptionCosts]
MARKS = ("low", "middle", "high")
"""What P10, P50 and P90 are called."""


def columns(offer: Offer) -> tuple[Column, ...]:
    """Every option with its costs, in order of price today."""
    return tuple((option, offer.costs[option.key]) for option in offer.outcome.options)


def money_table(offer: Offer, inputs: Inputs) -> Table:
    """What each option is priced at, what it costs, what it leaves, and the prices that lose so often."""
    found = columns(offer)
    options, costs = [option for option, _ in found], [cost for _, cost in found]
    rows = [_row(("Price today",), [one.price for one in options]),
            _row(("Price from the books",), [one.book for one in costs])]
    if any(one.off for one in costs):
        rows.append(_row(("Own price less the books",), [one.off for one in costs]))
    for i, mark in enumerate(MARKS):
        rows.append(_row(("Cost, ", mark), [one.cost[i] for one in costs]))
    for i, mark in enumerate(MARKS):
        rows.append(_row(("Margin, ", mark), [one.margin[i] for one in costs]))
    rows.append(_row(("Houses in which it loses",), [one.loses for one in costs]))
    for i, loss in enumerate(LOSSES):
        chance = Figure(f"office.loses-{i + 1}", loss, "chance", "Chance of losing at which a price is told.", SETTING,
                        private=True)
        rows.append(_row(("Price that loses in ", chance), [one.least[i] for one in costs]))
    return Table(("Price, cost and margin",), ((), *((option.name,) for option, _ in found)), tuple(rows),
                 (*(_own(option, one) for option, one in found if one.because), *_notes(inputs)))


def _row(name: Cell, values: Sequence[Figure | None]) -> tuple[Cell, ...]:
    return (name, *(() if value is None else (value,) for value in values))


SETTING = Source("company", "set in the office's view")


def _own(option: OptionMoney, costs: OptionCosts) -> Cell:
    assert isinstance(costs.because, Quote)
    return option.name, " has a price of its own, because: ", costs.because


def _notes(inputs: Inputs) -> tuple[Cell, ...]:
    def chance(name: str, value: float, method: str) -> Figure:
        return Figure(f"office.{name}", value, "chance", method, SETTING, private=True)
    low, high = chance("low", 0.1, "Share of houses under the low."), chance("high", 0.1, "And above the high.")
    aim = inputs.costs.one_price
    loses = chance("aim-loses", float(aim.loses_at_most), "The aim of the cost book.")
    earns = Figure("office.aim-earns", aim.earns_at_least, "share", "The aim of the cost book.", SETTING, private=True)
    return (("Low: ", low, " houses come lower. Middle: half do. High: ", high, " come higher."),
            ("Cost is what the option costs us, with the cases that we pay; margin is price and additions less it.",),
            ("A price for every point is proposed to lose in at most ", loses, " houses, and to leave ", earns,
             " of itself in the middle one."))


def order_table(offer: Offer) -> Table:
    """The options by what they leave in the middle house; the homeowner reads the order and not the money."""
    found = sorted(columns(offer), key=lambda column: -int_of(column[1].margin[1]))
    rows = tuple(((option.name,), (costs.margin[1],)) for option, costs in found)
    return Table(("Order of earning, by the middle margin",), ((), ("Margin, middle",)), rows,
                 (("The comparison, and who we are, tell the homeowner this order.",),))


__all__ = ["Column", "columns", "money_table", "order_table"]
