"""What the work costs the firm: private figures, refused by every page."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Source
from sitegen.job.inputs import Inputs
from sitegen.survey.lines import drops, lines
from sitegen.trade.rounding import half_up


class Costs(Struct, frozen=True):
    """Crew hours and cost of the list, and of every point that is not on newer cable; feeds and cases apart."""

    list_hours: Figure
    list_cost: Figure
    all_hours: Figure
    all_cost: Figure


def costs_of(inputs: Inputs, a_drop: Fraction) -> Costs:
    """Points, their drops and the patches of `a_drop` openings a drop, at the cost book's hours and materials."""
    listed = [(line.kind, line.by_list) for line in lines(inputs.job)]
    every = [(line.kind, line.by_all) for line in lines(inputs.job)]
    source = Source("company", f"cost book {inputs.costs.edition}, {inputs.costs.by}")
    figures = []
    for word, counts in (("list", listed), ("all", every)):
        hours, cost = _sum(inputs, counts, a_drop)
        figures += [Figure(f"costs.{word}-hours", hours, "crew hours", "Points, drops and patches at the cost book's "
                           "hours.", source, private=True),
                    Figure(f"costs.{word}-cost", cost, "cents", "The same hours at the cost of labour, and material.",
                           source, private=True)]
    return Costs(*figures)


def _sum(inputs: Inputs, counts: list[tuple[str, int]], a_drop: Fraction) -> tuple[Fraction, int]:
    """Crew hours, and their cost with the material [cents]."""
    book, fished = inputs.costs, drops(counts, inputs.book)
    work = [*((book.points[kind], Fraction(count)) for kind, count in counts), (book.drop, fished),
            (book.patch, fished * a_drop)]
    hours = sum((item.hours * number for item, number in work), Fraction(0))
    material = sum((item.material * number for item, number in work), Fraction(0))
    return hours, half_up(book.labour_an_hour * hours + material)
