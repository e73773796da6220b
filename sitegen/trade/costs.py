"""What the work costs the firm: private figures, refused by every page."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from sitegen.figure import Figure, Source
from sitegen.job.books import CostBook, PointCost
from sitegen.job.load import Inputs
from sitegen.trade.blocked import half_up
from sitegen.trade.feeds import NEW
from sitegen.trade.survey import lines


@dataclass(frozen=True, slots=True)
class Costs:
    """Crew hours and cost of the list, and of every point that is not on newer cable; feeds and cases apart."""

    list_hours: Figure
    list_cost: Figure
    all_hours: Figure
    all_cost: Figure


def costs_of(inputs: Inputs) -> Costs:
    """Points, their drops and the patches of their openings at the cost book's hours and materials."""
    looks = {name: feed.looks for name, feed in inputs.job.feeds.items()}
    listed = [(line.kind, line.listed + line.new_places) for line in lines(inputs.job)]
    every = [(line.kind, (0 if looks.get(line.feed) == NEW else line.now) + line.new_places)
             for line in lines(inputs.job)]
    source = Source("company", f"cost book {inputs.costs.edition}, {inputs.costs.by}")
    figures = []
    for word, counts in (("list", listed), ("all", every)):
        hours, cost = _sum(inputs, counts)
        figures += [Figure(f"costs.{word}-hours", hours, "crew hours", "Points, drops and patches at the cost book's "
                           "hours.", source, private=True),
                    Figure(f"costs.{word}-cost", cost, "cents", "The same hours at the cost of labour, and material.",
                           source, private=True)]
    return Costs(*figures)


def _sum(inputs: Inputs, counts: list[tuple[str, int]]) -> tuple[Fraction, int]:
    book, rates = inputs.costs, inputs.book.rates
    hours = material = Fraction(0)
    for kind, count in counts:
        drops = rates.drops_a_point[kind] * count
        for number, item in ((Fraction(count), book.points[kind]), (drops, book.drop),
                             (drops * rates.openings_a_drop, book.patch)):
            more = _one(item, number)
            hours, material = hours + more[0], material + more[1]
    return hours, _cents(book, hours, material)


def _one(item: PointCost, number: Fraction) -> tuple[Fraction, Fraction]:
    return item.hours * number, item.material * number


def _cents(book: CostBook, hours: Fraction, material: Fraction) -> int:
    return half_up(book.labour_an_hour * hours + material)
