"""What each way costs today, how it can rise, and where it ends: the money of the offer, as figures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sitegen.figure import Figure, Said, Source, slug, worked_out
from sitegen.job.load import Inputs
from sitegen.job.sources import Sources
from sitegen.trade import break_even as even
from sitegen.trade.blocked import Kind, openings
from sitegen.trade.chances import Chance, chance
from sitegen.trade.compare import Comparison
from sitegen.trade.endings import TWENTY, Ending
from sitegen.trade.feeds import HiddenPoints, points_alone, quantile
from sitegen.trade.found import Found
from sitegen.trade.terms import House, Way
from sitegen.trade.worked import VIEWS, Worked

Pick = Callable[[Comparison], float]

NAMES = {"fixed-guarantee": "One price", "per-item": "Per item", "minimal-protection": "Wiring only"}
EXPLAINED = "what-you-could-pay.html#pay-from"
ENDING = ("Price, what is added, cases and later costs on one and the same hidden house, worked out exactly "
          "over every house that the survey leaves open")


@dataclass(frozen=True, slots=True)
class CaseMoney:
    """A case that can raise a price: what it is, its usual amount, and whether it is known already."""

    key: str
    what: Said
    usual: Figure
    known: bool


@dataclass(frozen=True, slots=True)
class LaterMoney:
    """What the homeowner buys elsewhere: what, and its usual amount when the middle count of points turns up."""

    key: str
    what: Said
    usual: Figure


@dataclass(frozen=True, slots=True)
class WayMoney:
    """One way of buying in money.

    `most_paid` is what the firm is paid when every unseen point is old and all is usual, or for a price that
    covers everything its price and the cap; None when nothing holds it.  `marks_*` count the twenty endings.
    """

    key: str
    name: str
    covers_all: bool
    price: Figure
    each_point: Figure
    each_feed: Figure
    each_blocked: Figure
    case_cap: Figure | None
    added_cap: Figure | None
    cases: tuple[CaseMoney, ...]
    later: tuple[LaterMoney, ...]
    tracing: Figure | None
    most_paid: Figure | None
    p10: Figure
    p50: Figure
    p90: Figure
    paid_p10: Figure
    paid_p50: Figure
    paid_p90: Figure
    twenty: tuple[Figure, ...]
    marks_under: Figure
    marks_above: Figure
    half: tuple[Figure, Figure]
    twice: tuple[Figure, Figure]
    cheapest: Chance
    above_one_price: Chance | None
    holes: Figure


@dataclass(frozen=True, slots=True)
class BreakEvenSaid:
    """The count of old points off the list at which a list and the one price cost the same."""

    key: str
    name: str
    list_up_to: Figure | None
    price_from: Figure | None
    always_list: bool
    always_price: bool


@dataclass(frozen=True, slots=True)
class Swing:
    """How far one feed moves the per-item total, found old against found new."""

    key: str
    name: Said
    unseen: Figure
    amount: Figure


@dataclass(frozen=True, slots=True)
class Hidden:
    """Old points off the list: known, most, and how many there are likely to be."""

    known: Figure
    most: Figure
    p10: Figure
    p50: Figure
    p90: Figure


@dataclass(frozen=True, slots=True)
class Tracing:
    """Finding out as a choice of its own; `swings` feed by feed, widest first."""

    price: Figure
    visit: Figure
    each_feed: Figure
    credited: bool
    swings: tuple[Swing, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """The money of the whole offer; `ways` come in order of price today."""

    ways: tuple[WayMoney, ...]
    hidden: Hidden
    break_even: tuple[BreakEvenSaid, ...]
    bare_above_item: Chance | None
    tracing: Tracing | None
    inside: Figure
    prior: Prior


@dataclass(frozen=True, slots=True)
class Prior:
    """The firm's judgement as it is spoken."""

    by: Said
    on: Figure
    old: Figure
    all: Figure
    new_ends: Figure
    source: Source


@dataclass(frozen=True, slots=True)
class Bench:
    """What the makers below share."""

    inputs: Inputs
    make: Sources
    house: House
    kind: Kind
    hidden: HiddenPoints
    worked: Worked
    found: Found


def outcome(bench: Bench) -> Outcome:
    """Everything about money."""
    ways = tuple(sorted((_way(bench, way) for way in bench.house.ways), key=lambda way: int_of(way.price)))
    return Outcome(ways, _hidden(bench), _break_even(bench), _bare_above_item(bench), _tracing(bench),
                   Figure("endings.inside", 16, "number", "Endings from the third to the eighteenth of twenty "
                          "lie between 1 in 10 below and 1 in 10 above.", bench.make.judgement()), _prior(bench))


def _way(bench: Bench, way: Way) -> WayMoney:
    make, key = bench.make, way.key
    at = next(i for i, price in enumerate(bench.inputs.job.ways) if price.way == key)
    name = bench.inputs.job.ways[at].kit
    price = Figure(f"ways.{key}.price", way.price, "cents", "The price of this proposal, as signed today.",
                   Source("price book", f"kit {name}, {make.survey('ways', at, 'price').text}"))
    tracing = None if way.covers_all or not bench.house.tracing else Figure(
        f"ways.{key}.tracing", bench.house.tracing, "cents", "The visit and each feed that is not settled.",
        make.book("tracing"), ("tracing.price",))
    ending = bench.worked.endings[key]
    totals, paid = _endings(bench, way, ending)
    line = next((other.price for other in bench.house.ways if other.covers_all), way.price)
    under = sum(value <= line for value in ending.twenty)
    return WayMoney(
        key, NAMES[key], way.covers_all, price,
        *(_book(bench, name, key, field, value) for field, value in (
            ("each point", way.each_point), ("each feed", way.each_feed),
            ("each blocked drop", way.each_blocked))),
        case_cap=_cap(bench, name, key, "not over for cases", way.case_cap),
        added_cap=_cap(bench, name, key, "not over for more", way.added_cap),
        cases=_cases(bench, way), later=_later(bench, way), tracing=tracing,
        most_paid=_most_paid(bench, way, price),
        p10=totals[0], p50=totals[1], p90=totals[2], paid_p10=paid[0], paid_p50=paid[1], paid_p90=paid[2],
        twenty=tuple(Figure(f"ways.{key}.ending.mark-{i}", value, "cents, forecast",
                            f"{ENDING}: the ending that {i - 0.5:g} of 20 fall under.", make.judgement(),
                            anchor=EXPLAINED) for i, value in enumerate(ending.twenty, 1)),
        marks_under=Figure(f"ways.{key}.marks-under", under, "number",
                           "How many of the twenty endings are at or under One price today.", make.judgement()),
        marks_above=Figure(f"ways.{key}.marks-above", len(TWENTY) - under, "number",
                           "How many of the twenty endings are above One price today.", make.judgement()),
        half=_other(bench, key, "half"), twice=_other(bench, key, "twice"),
        cheapest=chance(f"ways.{key}.cheapest", _three(bench, lambda c: c.cheapest[key]),
                        "Chance that this way ends cheapest of the three on one and the same house.",
                        make.judgement()),
        above_one_price=_above(bench, key), holes=_holes(bench, way))


def _endings(bench: Bench, way: Way, ending: Ending) -> tuple[list[Figure], list[Figure]]:
    source = bench.make.judgement()
    inputs = (f"ways.{way.key}.price", "hidden.p50")
    said = ("1 in 10 end lower", "half end lower", "1 in 10 end higher")
    totals = [Figure(f"ways.{way.key}.ending.{mark}", value, "cents, forecast", f"{ENDING}; {words}.", source,
                     inputs, EXPLAINED) for mark, value, words in zip(("p10", "p50", "p90"), ending.total, said,
                                                                      strict=True)]
    paid = [Figure(f"ways.{way.key}.paid.{mark}", value, "cents, forecast",
                   f"The same without what is bought elsewhere; {words}.", source, inputs, EXPLAINED)
            for mark, value, words in zip(("p10", "p50", "p90"), ending.paid, said, strict=True)]
    return totals, paid


def _most_paid(bench: Bench, way: Way, price: Figure) -> Figure | None:
    name = f"ways.{way.key}.most-paid"
    if way.covers_all:
        if way.case_cap is None and way.pays_cases:
            return None
        return Figure(name, way.price + (way.case_cap or 0), "cents", "The price and the cap on all cases together.",
                      bench.make.book("kits"), (price.name,))
    pair = even.everything_old(bench.hidden)
    return Figure(name, even.usual_paid(bench.house, bench.kind, way, pair), "cents, forecast",
                  "Every point off the list that could be old is, blocked drops at their mean count, tracing "
                  "paid, no case.", bench.make.book("kits"), (price.name, "hidden.most"), EXPLAINED)


def _cases(bench: Bench, way: Way) -> tuple[CaseMoney, ...]:
    said = {case.key: (i, case) for i, case in enumerate(bench.inputs.book.cases)}
    rows = []
    for case in bench.house.cases:
        if case.key in way.pays_cases:
            i, book = said[case.key]
            source = bench.make.book("cases", i)
            rows.append(CaseMoney(case.key, Said(book.what, source), Figure(
                f"cases.{case.key}.usual", case.cost.usual, "cents", "What the case costs as likely as not.",
                source), case.chance == 1))
    return tuple(rows)


def _later(bench: Bench, way: Way) -> tuple[LaterMoney, ...]:
    middle = quantile(points_alone(bench.hidden), 0.5)
    rows = []
    for i, item in enumerate(bench.inputs.book.later):
        if item.key in way.later:
            one = Way(way.key, 0, way.covers_all, later=frozenset({item.key}))
            source = bench.make.book("later", i)
            rows.append(LaterMoney(item.key, Said(item.what, source), Figure(
                f"ways.{way.key}.later.{item.key}", even.usual_later(bench.house, bench.kind, one, middle),
                "cents, forecast", f"The usual price for one {item.per}, times its count when the middle number "
                "of old points turns up.", source, ("hidden.p50",), EXPLAINED)))
    return tuple(rows)


def _book(bench: Bench, kit: str, key: str, field: str, value: int) -> Figure:
    return Figure(f"ways.{key}.{slug(field)}", value, "cents", f"Set price for {field}, when more old wiring "
                  "turns up.", bench.make.book("kits", kit, field))


def _cap(bench: Bench, kit: str, key: str, field: str, value: int | None) -> Figure | None:
    if value is None:
        return None
    return Figure(f"ways.{key}.{slug(field)}", value, "cents", "The most that can be added, all together.",
                  bench.make.book("kits", kit, field))


def _other(bench: Bench, key: str, view: str) -> tuple[Figure, Figure]:
    low, _, high = bench.worked.tenths[view][key]
    many = "half" if view == "half" else "twice"
    return tuple(Figure(  # type: ignore[return-value]
        f"ways.{key}.ending.{view}.{mark}", value, "cents, forecast",
        f"The same with {many} as many old feeds in the firm's judgement.", bench.make.judgement(),
        anchor=EXPLAINED) for mark, value in (("p10", low), ("p90", high)))


def _above(bench: Bench, key: str) -> Chance | None:
    one = next((way.key for way in bench.house.ways if way.covers_all), None)
    if one is None or one == key:
        return None
    return chance(f"ways.{key}.above-one-price", _three(bench, lambda c: c.above[key, one]),
                  f"Chance that {NAMES[key]} ends above {NAMES[one]} on one and the same house.",
                  bench.make.judgement())


def _bare_above_item(bench: Bench) -> Chance | None:
    keys = {way.key for way in bench.house.ways}
    if not {"minimal-protection", "per-item"} <= keys:
        return None
    return chance("ways.minimal-protection.above-per-item",
                  _three(bench, lambda c: c.above["minimal-protection", "per-item"]),
                  "Chance that Wiring only ends above Per item on one and the same house.", bench.make.judgement())


def _three(bench: Bench, pick: Pick) -> tuple[float, float, float]:
    judged, half, twice = (pick(bench.worked.comparisons[view]) for view in VIEWS)
    return judged, half, twice


def _holes(bench: Bench, way: Way) -> Figure:
    rate = bench.make.book("rates", "openings a drop")
    if way.covers_all:
        drops = bench.found.all_drops
        return Figure(f"ways.{way.key}.holes", -(-int_of(drops) * bench.house.openings_a_drop // 1), "holes",
                      "Drops of all rewired points and new places, times the book's openings a drop, rounded up.",
                      rate, (drops.name,))
    return Figure(f"ways.{way.key}.holes", openings(bench.house, 0), "holes",
                  "Drops of the list and the new places, times the book's openings a drop, rounded up.", rate,
                  (bench.found.list_drops.name,))


def _hidden(bench: Bench) -> Hidden:
    alone, source = points_alone(bench.hidden), bench.make.judgement()

    def mark(name: str, share: float, words: str) -> Figure:
        return Figure(f"hidden.{name}", quantile(alone, share), "points",
                      f"Old points off the list, feed by feed; {words}.", source, ("found.known-off-list",),
                      EXPLAINED)
    return Hidden(bench.found.known_off_list.named("hidden.known"),
                  worked_out("hidden.most", max(alone), "points", "Every point off the list that could be old is.",
                             bench.found.known_off_list, bench.found.unseen_off_list),
                  mark("p10", 0.1, "1 in 10 houses hold fewer"), mark("p50", 0.5, "half hold fewer"),
                  mark("p90", 0.9, "1 in 10 hold more"))


def _break_even(bench: Bench) -> tuple[BreakEvenSaid, ...]:
    one = next((way for way in bench.house.ways if way.covers_all), None)
    rows = []
    for way in sorted(bench.house.ways, key=lambda way: way.price):
        if one is None or way.covers_all:
            continue
        where = even.break_even(bench.house, bench.kind, bench.hidden, way, one)

        def figure(name: str, value: int | None, words: str, key: str = way.key) -> Figure | None:
            return None if value is None else Figure(
                f"break-even.{key}.{name}", value, "points", f"Old points off the list at which {words}, everything "
                "else at its usual; from prices alone.", bench.make.book("kits"),
                (f"ways.{key}.price", "ways.fixed-guarantee.price"), EXPLAINED)
        low = where.list_up_to
        rows.append(BreakEvenSaid(
            way.key, NAMES[way.key], figure("list-up-to", low, "or fewer the list is cheaper"),
            figure("price-from", where.price_from, "or more the one price is cheaper"),
            always_list=low == where.most, always_price=where.price_from == min(bench.hidden)[0]))
    return tuple(reversed(rows))


def _tracing(bench: Bench) -> Tracing | None:
    book, make = bench.inputs.book, bench.make
    way = next((way for way in bench.house.ways if way.key == "per-item"), None)
    if way is None or not bench.house.tracing:
        return None
    names = {feed.key: feed for feed in bench.found.each_feed}
    swings = [Swing(slug(feed.name), names[slug(feed.name)].name, names[slug(feed.name)].unseen, Figure(
        f"tracing.{slug(feed.name)}.swing", even.swing(bench.house, bench.kind, way, feed), "cents, forecast",
        "The per-item total with this feed found old, less the total with it found new; all else known today, "
        "usual costs.", make.book("kits"), ("ways.per-item.each-point", "ways.per-item.each-feed"), EXPLAINED))
        for feed in even.unsettled(bench.house.feeds)]
    visit = Figure("tracing.visit", book.tracing.visit, "cents", "Coming out to trace.", make.book("tracing", "visit"))
    each = Figure("tracing.each-feed", book.tracing.each_feed, "cents", "For each feed that is traced.",
                  make.book("tracing", "each feed"))
    return Tracing(worked_out("tracing.price", bench.house.tracing, "cents",
                              "The visit, and each feed that is not settled.", visit, each, bench.found.unsettled),
                   visit, each, book.tracing.credited,
                   tuple(sorted(swings, key=lambda swing: (-int_of(swing.amount), swing.key))))


def _prior(bench: Bench) -> Prior:
    prior, source = bench.inputs.company.prior, bench.make.judgement()
    return Prior(Said(prior.by, source),
                 Figure("prior.on", prior.on, "date", "When the judgement was set.", source),
                 Figure("prior.old-feeds", prior.old_feeds, "quantity", "Old feeds that we start as if we had traced.",
                        source),
                 Figure("prior.feeds", prior.old_feeds + prior.new_feeds, "quantity",
                        "Feeds that we start as if we had traced.", source),
                 Figure("prior.new-ends", prior.new_ends_turn_out_old, "share",
                        "Feeds new at both ends that turn out old between.", source), source)


def int_of(figure: Figure) -> int:
    """The whole number in a figure of counts or cents."""
    assert isinstance(figure.value, int)
    return figure.value
