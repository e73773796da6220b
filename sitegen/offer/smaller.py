"""The smaller answers at a set price: one finding by itself, and ungrounded outlets protected and marked."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.offer.sums import Line, with_sum
from sitegen.survey.lines import lines

OUTLET = "outlet"


class AloneSeen(Struct, frozen=True):
    """One finding answered by itself: its number, what is done, at which price, and what that leaves."""

    number: Figure
    price: Figure
    does: Quote
    leaves: Quote


class Smaller(Struct, frozen=True):
    """`protect` is the price for every outlet that a finding names or that is known to be old, `outlets` how many."""

    each: Figure | None
    outlets: Figure
    protect: Figure | None
    alone: tuple[AloneSeen, ...]


def smaller_of(inputs: Inputs, make: Cited) -> Smaller:
    """The smaller answers of a job."""
    count = sum(max(line.old, line.named) for line in lines(inputs.job) if line.kind == OUTLET)
    each = make.figure_if("smaller.protect-outlet", "book", "protect outlet")
    outlets = Figure("smaller.outlets", count, "points", "Outlets that are known to be old, or that a finding names.",
                     make.survey("rooms"))
    price = inputs.book.protect_outlet
    protect = None if price is None or not count else with_sum(
        Figure("smaller.protect", price * count, "cents", "Count times the set price for one.",
               make.book("protect outlet"), ("smaller.protect-outlet", "smaller.outlets")),
        (Line("protect-outlets", count, price),))
    return Smaller(each, outlets, protect, tuple(
        AloneSeen(Figure(f"findings.{finding.number}.number", finding.number, "number", "Item of the inspector's "
                         "report.", make.survey("findings", i)),
                  make.figure(f"findings.{finding.number}.alone", "survey", "findings", i, "alone", "price"),
                  make.quote("survey", "findings", i, "alone", "does"),
                  make.quote("survey", "findings", i, "alone", "leaves"))
        for i, finding in enumerate(inputs.job.findings) if finding.alone is not None))


__all__ = ["AloneSeen", "Smaller", "smaller_of"]
