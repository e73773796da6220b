"""What each option costs the firm and what it leaves: private figures, refused by every page."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.scope.costs import CostLine
from sitegen.scope.offered import Offered
from sitegen.survey.house import option_row
from sitegen.trade.firm import LOSSES
from sitegen.trade.rounding import half_up


class ItemCost(Struct, frozen=True):
    """One scope item: crew hours and cost."""

    key: str
    hours: Figure
    cost: Figure


class OptionCosts(Struct, frozen=True):
    """One option for the office alone.

    `cost`, `margin`  P10, P50 and P90; `loses` the chance of losing at the price today
    `least`  the prices that lose in 10, 20 and 30 of 100
    `book`   the price from the books
    `off`    how far a price of the job's own is above it, and `because` why; None where the books set the price
    """

    lines: tuple[ItemCost, ...]
    hours: Figure
    cost: tuple[Figure, ...]
    margin: tuple[Figure, ...]
    loses: Figure
    least: tuple[Figure, ...]
    book: Figure
    off: Figure | None
    because: Quote | None


def costs_of(inputs: Inputs, scope: dict[str, Offered]) -> dict[str, OptionCosts]:
    """The private figures of every option."""
    source = Source("company", f"cost book {inputs.costs.edition}, {inputs.costs.by}")
    return {key: _option(inputs, key, one, source) for key, one in scope.items()}


def order_of_earning(scope: dict[str, Offered]) -> dict[str, str]:
    """What the firm earns on each option in the middle house, beside the others: most, middle or least.

    The order alone may be said; the money is for the office.
    """
    ranked = sorted(scope, key=lambda key: (-scope[key].firm.margin[1], key))
    last = len(ranked) - 1
    return {key: "most" if at == 0 else "least" if at == last else "middle" for at, key in enumerate(ranked)}


def _option(inputs: Inputs, key: str, one: Offered, source: Source) -> OptionCosts:
    def money(name: str, value: int, method: str) -> Figure:
        return Figure(f"costs.{key}.{name}", value, "cents", method, source, private=True)

    def three(name: str, values: tuple[int, int, int], method: str) -> tuple[Figure, ...]:
        return tuple(money(f"{name}.{mark}", value, f"{method}; {said}.") for mark, value, said in zip(
            ("p10", "p50", "p90"), values, ("1 in 10 lower", "half lower", "1 in 10 higher"), strict=True))
    firm = one.firm
    at, row = option_row(inputs, key)
    return OptionCosts(
        tuple(_item(key, line, source) for line in one.costs),
        Figure(f"costs.{key}.hours", sum(line.hours for line in one.costs), "crew hours",
               "All that is certain, at the cost book's hours.", source, private=True),
        three("cost", firm.cost, "What the option costs us over every house that the survey leaves open, less what "
              "the homeowner pays of the cases"),
        three("margin", firm.margin, "Price and additions less the cost"),
        Figure(f"costs.{key}.loses", firm.loses, "chance", "Chance of losing money at the price today.", source,
               private=True),
        tuple(money(f"least-{round(100 * loss)}", value, f"The price that loses in at most {round(100 * loss)} of 100 "
                    "houses.") for loss, value in zip(LOSSES, firm.least, strict=True)),
        money("book", one.book, "The price from the books: the sum of set prices, or the proposal."),
        None if row.price is None else money("off", row.price - one.book, "A price of this job's own less the price "
                                             "from the books."),
        None if row.because is None else Cited(inputs).quote("survey", "options", at, "because"))


def _item(key: str, line: CostLine, source: Source) -> ItemCost:
    return ItemCost(line.key,
                    Figure(f"costs.{key}.{line.key}.hours", line.hours, "crew hours", "Count times the cost book's "
                           "hours.", source, private=True),
                    Figure(f"costs.{key}.{line.key}.cost", half_up(line.cents), "cents", "The same hours at the cost "
                           "of labour, and material.", source, private=True))


__all__ = ["ItemCost", "OptionCosts", "costs_of", "order_of_earning"]
