"""One way of buying in money: its price today, how it can rise, and where it ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sitegen.figure import Figure, Said, Source, slug
from sitegen.offer.chances import Chance, chance
from sitegen.offer.context import Bench
from sitegen.offer.money import ENDING, EXPLAINED, NAMES, CaseMoney, LaterMoney, WayMoney
from sitegen.trade import break_even as even
from sitegen.trade.compare import Comparison
from sitegen.trade.endings import TWENTY, Ending
from sitegen.trade.feeds import points_alone, quantile
from sitegen.trade.terms import Way
from sitegen.trade.worked import VIEWS

Pick = Callable[[Comparison], float]


def way_money(bench: Bench, way: Way) -> WayMoney:
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
    line = (bench.house.one_price or way).price
    under = sum(value <= line for value in ending.twenty)
    return WayMoney(
        key, NAMES[key], way.covers_all, price,
        each_point=_book(bench, name, key, "each point", way.each_point),
        each_feed=_book(bench, name, key, "each feed", way.each_feed),
        each_blocked=_book(bench, name, key, "each blocked drop", way.each_blocked),
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
        cheapest=chance(f"ways.{key}.cheapest", three_views(bench, lambda c: c.cheapest[key]),
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
            rows.append(CaseMoney(case.key, Said(book.what, source), Said(book.called or book.what, source), Figure(
                f"cases.{case.key}.usual", case.cost.usual, "cents", "What the case costs as likely as not.",
                source), case.chance == 1, Figure(f"cases.{case.key}.days", book.days, "days",
                                                  "Days that the case adds to the plan.", source)))
    return tuple(rows)


def _later(bench: Bench, way: Way) -> tuple[LaterMoney, ...]:
    middle = quantile(points_alone(bench.hidden), 0.5)
    rows = []
    for i, item in enumerate(bench.inputs.book.later):
        if item.key in way.later:
            one = replace(way, later=frozenset({item.key}))
            source = bench.make.book("later", i)
            rows.append(LaterMoney(item.key, Said(item.what, source), Said(item.called or item.what, source), Figure(
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
    priced = bench.house.one_price
    if priced is None or priced.key == key:
        return None
    one = priced.key
    return chance(f"ways.{key}.above-one-price", three_views(bench, lambda c: c.above[key, one]),
                  f"Chance that {NAMES[key]} ends above {NAMES[one]} on one and the same house.",
                  bench.make.judgement())


def three_views(bench: Bench, pick: Pick) -> tuple[float, float, float]:
    judged, half, twice = (pick(bench.worked.comparisons[view]) for view in VIEWS)
    return judged, half, twice


def _holes(bench: Bench, way: Way) -> Figure:
    rooms = bench.dust[way.key].values()
    return Figure(f"ways.{way.key}.holes", sum(room.work.opened.openings for room in rooms), "holes",
                  "Openings of each room, rounded up there, or counted on the plan; without what is added.",
                  bench.make.book("rates", "walls"), (bench.found.list_drops.name,))
