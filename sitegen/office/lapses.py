"""What lapses before the work is planned to end: licences, insurance, quotes, prices and judgements."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from msgspec import Struct

from sitegen.dates.overlay import MONTHS
from sitegen.dates.spans import good_through
from sitegen.figure import Figure, Source, day_of
from sitegen.offer.cited import Cited
from sitegen.offer.context import Context
from sitegen.offer.dates import Dates
from sitegen.office.tables import Cell


class Lapse(Struct, frozen=True):
    """One thing that holds for so long: what it is, and its last day."""

    what: Cell
    last: Figure


def planned_end(dates: Dates) -> Figure:
    """The latest day on which any option is finished, when the most in one house of ten turns up too."""
    return max((day for option in dates.options.values()
                for day in (option.finished, option.finished_p50, option.finished_p90)), key=day_of)


def lapses(context: Context, dates: Dates) -> tuple[Lapse, ...]:
    """Everything whose last day comes before the planned end, soonest first."""
    end = day_of(planned_end(dates))
    return tuple(sorted((one for one in _held(context, dates) if day_of(one.last) < end),
                        key=lambda one: day_of(one.last)))


def _held(context: Context, dates: Dates) -> Iterator[Lapse]:
    inputs, make = context.inputs, context.make
    for i, licence in enumerate(inputs.company.licences):
        yield Lapse(("Licence: ", make.quote("company", "licences", i, "kind"), " ",
                     make.quote("company", "licences", i, "number"), *_renewal(make, "licences", i)),
                    _day(f"licence-{i + 1}", licence.expires, "As printed on it.", make.company("licences", i)))
    for i, cover in enumerate(inputs.company.insurance):
        yield Lapse(("Insurance: ", make.quote("company", "insurance", i, "kind"), *_renewal(make, "insurance", i)),
                    _day(f"insurance-{i + 1}", cover.until, "Last day of cover.", make.company("insurance", i)))
    yield Lapse(("Prices of this version, until it is signed",), dates.prices_hold_to)
    yield from _asked(context, make)
    yield from _yearly(context, make)


def _renewal(make: Cited, *path: str | int) -> Cell:
    """What the card says is arranged for the time after the last day; nothing where it says nothing."""
    words = make.quote_if("company", *path, "renewal")
    return () if words is None else ("; after it: ", words)


def _asked(context: Context, make: Cited) -> Iterator[Lapse]:
    """The book and its quotes, each good for as long as the book itself says."""
    book = context.inputs.book
    for i, item in enumerate(book.later):
        yield Lapse(("Quote: ", make.quote("book", "later", i, "whose"), ", for: ",
                     make.quote("book", "later", i, "what")),
                    _good_for(f"quote-{item.key}", item.on, book.good_for, make.book("later", i)))
    yield Lapse(("Price book, edition ", make.quote("book", "edition")),
                _good_for("price-book", book.quoted, book.good_for, make.book("quoted")))


def _yearly(context: Context, make: Cited) -> Iterator[Lapse]:
    """What is judged or reviewed anew each year."""
    inputs = context.inputs
    yield Lapse(("Judgement of what is hidden, by ", make.quote("company", "prior", "by")),
                _year("judgement", inputs.company.prior.on, make.judgement()))
    if inputs.state.reviewed_on is not None:
        yield Lapse(("Review of the state's law",),
                    _year("state", inputs.state.reviewed_on, Source("company", "card of the state")))


def _good_for(name: str, since: date, span: tuple[int, int], source: Source) -> Figure:
    return _day(name, good_through(since, *span), "Good for as long as the price book says.", source)


def _year(name: str, since: date, source: Source) -> Figure:
    return _day(name, good_through(since, MONTHS), "Judged or reviewed anew after twelve months.", source)


def _day(name: str, day: date, method: str, source: Source) -> Figure:
    return Figure(f"office.lapses.{name}", day, "date", method, source, private=True)


__all__ = ["Lapse", "lapses", "planned_end"]
