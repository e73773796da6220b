"""The office's view of a job put together, from its files to tables."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from sitegen.build import worked
from sitegen.errors import Fault
from sitegen.figure import Figure, Quote, slug
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.context import Context
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.office.earns import Earned, earned
from sitegen.office.items import Title, item_name, item_table
from sitegen.office.lapses import lapses, planned_end
from sitegen.office.money import columns, money_table, order_table
from sitegen.office.moves import LARGER, SHOWN, moves
from sitegen.office.tables import WORKED, Cell, Table, money
from sitegen.review.faults import faults
from sitegen.survey.house import kit_of

ADDED = {"further-point": "Each further point", "further-feed": "Each feed for it", "blocked-drop": "A blocked drop"}
"""What may turn up at a set price."""


class Office(Struct, frozen=True):
    """What the office reads of one job: whose it is, the tables, and what is wrong with the job all the same."""

    head: tuple[Cell, ...]
    tables: tuple[Table, ...]
    faults: tuple[Fault, ...]


def office_of(home: Path, folder: Path, title: Title) -> Office:
    """Read and work out one job; raises Faults where its files are not sound.

    What is only worked out wrong stops nothing: a price under cost is what the office has to see.
    """
    inputs = load(home, folder, Path.cwd())
    context, offer = worked(inputs)
    return Office(tuple(_head(inputs, offer)), tuple(_tables(context, offer, title)), faults(offer, inputs))


def _head(inputs: Inputs, offer: Offer) -> Iterator[Cell]:
    yield "For the office of ", offer.firm.name, " alone. No homeowner reads this."
    yield offer.head.address, ", version ", offer.head.version, " of ", offer.dates.prepared
    if offer.head.demo:
        yield ("An invented house.",)
    cost_book = Quote(inputs.costs.edition, WORKED), Quote(inputs.costs.by, WORKED)
    price_book = Quote(inputs.book.edition, WORKED), Quote(inputs.book.by, WORKED)
    yield "Cost book ", cost_book[0], ", ", cost_book[1], "; price book ", price_book[0], ", ", price_book[1], "."


def _tables(context: Context, offer: Offer, title: Title) -> Iterator[Table]:
    inputs = context.inputs
    yield money_table(offer, inputs)
    yield order_table(offer)
    yield _moves_table(context, offer)
    for column in columns(offer):
        yield item_table(inputs, column, title)
    for option, _ in columns(offer):
        found = earned(inputs, kit_of(inputs, option.key), context.scope[option.key].counts,
                       context.house.openings_a_drop)
        if found:
            yield _earns_table(option, found, title)
    if offer.extras:
        yield _extras_table(offer)
    yield _lapses_table(context, offer)


def _moves_table(context: Context, offer: Offer) -> Table:
    found, more = moves(context), Figure("office.more", LARGER - 1, "share", "How much larger each is made.", WORKED)
    rows = []
    for option, _ in columns(offer):
        for at, one in enumerate(found[option.key][:SHOWN]):
            change = money(f"{option.key}.moves.{slug(one.what)}", one.change,
                           "The middle cost worked out anew, less the middle cost of today.")
            rows.append(((() if at else (option.name,)), (one.what,), (change,)))
    return Table(("What moves the middle cost most",), ((), ("Input",), ("Change",)), tuple(rows),
                 (("Each input ", more, " larger, one at a time, everything else as it is.",),))


def _earns_table(option: OptionMoney, found: tuple[Earned, ...], title: Title) -> Table:
    def row(one: Earned) -> tuple[Cell, ...]:
        name = f"{option.key}.earns.{one.key}{'-' + slug(one.kind) if one.kind else ''}"
        called: Cell = (ADDED[one.key] if one.key in ADDED else item_name(one.key, title),)
        if one.kind:
            called = (*called, ", ", Quote(one.kind, WORKED))
        each = (money(f"{name}.price", one.price, "Set price of one."),), (money(
            f"{name}.cost", one.cost, "Hours at the cost of labor, and material."),), (money(
                f"{name}.each", one.each, "Set price less cost."),)
        if one.count is None:
            return called, (), *each, ()
        count = Figure(f"office.{name}.count", one.count, "number", "How many are certain.", WORKED, private=True)
        return called, (count,), *each, (money(f"{name}.all", one.together, "As many times that."),)
    whole = money(f"{option.key}.earns.all", sum(one.together for one in found),
                  "The price today and what is added to it for certain, less the certain cost.")
    rows = (*(row(one) for one in found), (("All that is certain",), (), (), (), (), (whole,)))
    return Table((option.name, ": what each set price earns"),
                 ((), ("Count",), ("Price",), ("Cost",), ("Earns",), ("In all",)), rows,
                 (("A point by its own mix of kinds: with its drops, the holes that we close for these and, on the "
                   "list, its part of new circuits and of old ones cut dead.",),
                  ("Setting up pays for sheet and board, cleaning, and each time the plasterer comes.",)), total=True)


def _extras_table(offer: Offer) -> Table:
    return Table(("Extras",), ((), ("Price",), ("Cost",)), tuple(
        ((extra.what,), (extra.price,), ("no cost known",)) for extra in offer.extras),
                 (("The cost book has no hours and no material for extras.",),))


def _lapses_table(context: Context, offer: Offer) -> Table:
    found, end = lapses(context, offer.dates), planned_end(offer.dates)
    if not found:
        return Table(("What lapses before the work ends",), (), (), (("Nothing lapses before ", end, "."),))
    return Table(("What lapses before the work ends",), ((), ("Last day",)),
                 tuple((one.what, (one.last,)) for one in found),
                 (("The latest planned end is ", end, ", when the most in one house of ten turns up."),))


__all__ = ["Office", "office_of"]
