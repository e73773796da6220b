"""Each option of a job with its scope counted and its price: a sum of set prices, or proposed from the costs.

The order is that of the money: what is counted, what it costs, what the firm asks, what the homeowner pays in the end.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct
from msgspec.structs import replace

from sitegen.job.inputs import Inputs
from sitegen.scope.costs import CostLine, cost_lines, firm_cost
from sitegen.scope.counts import Counts, counts
from sitegen.scope.prices import PriceLine, places_to_come, price_lines, total
from sitegen.survey.alarms import alarm_devices
from sitegen.survey.dust import RoomDust
from sitegen.survey.house import Priced, kit_of, option_of
from sitegen.survey.lines import all_drops
from sitegen.survey.rule_sets import RuleSet, code
from sitegen.trade.firm import Aim, FirmEnding, FirmTerms, proposed
from sitegen.trade.terms import Cents, House

Work = Callable[[House, FirmTerms, Aim], FirmEnding]
"""What works out an option for the firm."""


class Offered(Struct, frozen=True):
    """One option as it is offered.

    `lines`    of its price; none where it is proposed
    `book`     [cents] the price from the books: the sum of the lines, or the proposal
    `priced`   [cents] the price today, which is that of the books unless the job has one of its own
    `costs`    lines of what it costs the firm, and `firm` what that comes to; private
    """

    key: str
    counts: Counts
    lines: tuple[PriceLine, ...]
    book: Cents
    priced: Priced
    costs: tuple[CostLine, ...]
    firm: FirmEnding


def aim_of(inputs: Inputs) -> Aim:
    """What the firm asks of a price for every point."""
    aim = inputs.costs.one_price
    return Aim(aim.loses_at_most, aim.earns_at_least)


def offered(inputs: Inputs, house: House, opened: Mapping[str, Mapping[str, RoomDust]], rules: RuleSet,
            work: Work) -> dict[str, Offered]:
    """Every option of the job, by key, in the order of the job."""
    alarms = alarm_devices(inputs.job, code(rules.edition))
    return {row.option: _offered(inputs, house, row.option, row.price,
                                 counts(inputs, kit_of(inputs, row.option), opened[row.option], rules, alarms), work)
            for row in inputs.job.options}


def firm_terms(inputs: Inputs, house: House, key: str, counted: Counts, asked: Cents | None) -> tuple[House, FirmTerms]:
    """The house as an option meets it, and its terms for the firm; a price of None is to be proposed."""
    kit = kit_of(inputs, key)
    also = places_to_come(kit, counted)
    here = house
    if kit.covers == "every point":         # it fishes every drop whatever is hidden
        here = replace(house, feeds=(), list_drops=all_drops(inputs.job, inputs.book))
    return here, FirmTerms(option_of(inputs, key, Priced(asked or 0, also), 0),
                           firm_cost(inputs, kit, counted, house.openings_a_drop),
                           None if asked is None else asked + also)


def _offered(inputs: Inputs, house: House, key: str, own: Cents | None, counted: Counts, work: Work) -> Offered:
    kit = kit_of(inputs, key)
    lines = () if kit.prices is None else price_lines(inputs, kit, counted)
    also = places_to_come(kit, counted)
    asked = own if own is not None else total(lines) if lines else None
    firm = work(*firm_terms(inputs, house, key, counted, asked), aim_of(inputs))
    book = total(lines) if lines else proposed(firm.limit, firm.cost[1], aim_of(inputs))
    return Offered(key, counted, lines, book, Priced(book if own is None else own, also),
                   cost_lines(inputs, kit, counted), firm)


__all__ = ["Offered", "Work", "aim_of", "firm_terms", "offered"]
