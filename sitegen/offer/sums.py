"""Totals that a pencil can follow: lines of count times price that add up to the total, to the cent."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, SumLine, int_of
from sitegen.offer.context import Context
from sitegen.survey.house import kit_of, option_row
from sitegen.trade import break_even as even
from sitegen.trade.blocked import later_counts, usual_blocked
from sitegen.trade.break_even import Pair
from sitegen.trade.feeds import points_alone, quantile
from sitegen.trade.terms import Cents, Option


class Line(Struct, frozen=True):
    """One line before it is made of figures: what, how many, at how much each [cents], and the kind it is of."""

    what: str
    count: int
    each: Cents
    of: Quote | None = None


def with_sum(figure: Figure, lines: Iterator[Line] | tuple[Line, ...]) -> Figure:
    """A total with its lines; what comes to nothing has none.  Raises FigureError where they do not add up to it."""
    made = tuple(_made(figure, i, line) for i, line in enumerate((line for line in lines if line.count * line.each), 1))
    return Figure(figure.name, figure.value, figure.unit, figure.method, figure.source, figure.inputs, figure.anchor,
                  figure.private, made)


def _made(figure: Figure, i: int, line: Line) -> SumLine:
    stem, source = f"{figure.name}.sum-{i}", figure.source
    return SumLine(line.what, Figure(f"{stem}.count", line.count, "number", "How many.", source),
                   Figure(f"{stem}.each", line.each, "cents", "The price of one.", source),
                   Figure(f"{stem}.amount", line.count * line.each, "cents", "Count times price.", source,
                          (f"{stem}.count", f"{stem}.each")), line.of)


def of_price(context: Context, key: str) -> Iterator[Line]:
    """The lines of a price today: its scope at set prices, or the one price; and what a price of the job's own adds.

    A price of the job's own for every point is one line, also where it is the proposal: what stood beside it, or did
    not, would tell what the work costs us.
    """
    one = context.scope[key]
    at, row = option_row(context.inputs, key)
    kits = context.make.book("kits", row.kit)
    for line in one.lines:
        if line.kind:                       # a kind of point with a price of its own
            yield Line("points-of-kind", line.count, line.each, Quote(line.kind, kits))
        else:
            yield Line(line.key, line.count, line.each)
    if row.price is None:
        if not one.lines:
            yield Line("every-point", 1, one.book)
        return
    own = row.price - (one.book if one.lines else 0)
    if own:
        yield Line("own-price", 1, own, context.make.quote("survey", "options", at, "because"))


def of_pair(context: Context, option: Option, pair: Pair, elsewhere: bool) -> Iterator[Line]:
    """The lines of what an option comes to when `pair` turns up and all is usual, with what is bought elsewhere or
    without it; the same sum as `trade.break_even.usual_paid` and `usual_later` [cents]."""
    yield Line("price", 1, option.price)
    yield Line("places-to-come", 1, option.also)
    yield from _added(context, option, pair)
    yield from _known(context, option)
    if elsewhere:
        counts = later_counts(context.house, option, pair[0])
        for i, item in enumerate(context.inputs.book.later):
            if item.key in option.later:
                called = Quote(item.called or item.what, context.make.book("later", i))
                yield Line("elsewhere", counts[item.key], context.kind.later[item.key], called)


def _added(context: Context, option: Option, pair: Pair) -> Iterator[Line]:
    """What turns up, held to the cap, and finding out where it is not taken off."""
    if option.covers_all:
        return
    points, feeds = pair
    lines = (Line("added-points", points, option.each_point), Line("added-circuits", feeds, option.each_feed),
             Line("blocked-drops", usual_blocked(context.house, context.kind, points), option.each_blocked))
    yield from lines
    total = sum(line.count * line.each for line in lines)
    if option.added_cap is not None and total > option.added_cap:
        yield Line("over-the-cap", 1, option.added_cap - total)
    yield Line("tracing", 1, context.house.tracing)


def _known(context: Context, option: Option) -> Iterator[Line]:
    """The cases that are known already, held to the cap."""
    said = {case.key: (i, case) for i, case in enumerate(context.inputs.book.cases)}
    total = 0
    for case in context.house.cases:
        if case.chance == 1 and case.key in option.pays_cases:
            i, book = said[case.key]
            total += case.cost.usual
            yield Line("known-case", 1, case.cost.usual, Quote(book.called or book.what, context.make.book("cases", i)))
    if (held := even.known_cases(context.house, option)) != total:
        yield Line("over-the-cap", 1, held - total)


def at_the_middle(context: Context, option: Option, figure: Figure, pair: Pair) -> Figure:
    """A forecast with the lines of its middle case, and what the rest of the judgement moves it by."""
    lines = tuple(of_pair(context, option, pair, elsewhere=True))
    rest = int_of(figure) - sum(line.count * line.each for line in lines)
    return with_sum(figure, (*lines, Line("rest-of-judgement", 1, rest)))


def middle_pair(context: Context) -> Pair:
    """The middle count of hidden points, and the feeds that it is likeliest to be on."""
    return pair_at(context, 0.5)


def pair_at(context: Context, share: float) -> Pair:
    """The count of hidden points that a share of the judgment is at or under, and the feeds that it is likeliest to be
    on."""
    count = quantile(points_alone(context.hidden), share)
    return max((pair for pair in context.hidden if pair[0] == count), key=lambda pair: (context.hidden[pair], pair))


def source_of_price(context: Context, key: str) -> Source:
    """Who stands behind a price today: the kit's set prices, our own costs for a price for every point, or the job's
    line where it has a price of its own."""
    at, row = option_row(context.inputs, key)
    if row.price is not None:
        return Source("price book", f"kit {row.kit}; {context.make.survey('options', at, 'price').text}")
    if kit_of(context.inputs, key).prices is not None:
        return context.make.book("kits", row.kit, "prices")
    return Source("price book", f"kit {row.kit}; proposed from our own costs, which are not shown")


__all__ = ["Line", "at_the_middle", "middle_pair", "of_pair", "of_price", "pair_at", "source_of_price", "with_sum"]
