"""One option in money: its price today, how it can rise, and where it ends."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from sitegen.figure import Figure, Quote, int_of, slug
from sitegen.offer.chances import Chance, chance
from sitegen.offer.context import Context
from sitegen.offer.money import ENDING, EXPLAINED, CaseMoney, LaterMoney, OptionMoney
from sitegen.offer.sums import (
    Line,
    at_the_middle,
    middle_pair,
    of_pair,
    of_price,
    source_of_price,
    with_sum,
)
from sitegen.survey.house import option_row
from sitegen.trade import break_even as even
from sitegen.trade.feeds import points_alone, quantile
from sitegen.trade.terms import Option
from sitegen.trade.worked import DOTS, VIEWS, Comparison, Ending

Pick = Callable[[Comparison], float]


def option_money(context: Context, option: Option) -> OptionMoney:
    make, key = context.make, option.key
    name = option_row(context.inputs, key)[1].kit
    price = with_sum(Figure(f"options.{key}.price", option.price, "cents", _price_method(context, key),
                            source_of_price(context, key)), of_price(context, key))
    tracing = None if option.covers_all or not context.house.tracing else Figure(
        f"options.{key}.tracing", context.house.tracing, "cents", "The visit and each feed that is not settled.",
        make.book("tracing"), ("tracing.price",))

    def book(field: str) -> Figure:
        return make.figure(f"options.{key}.{slug(field)}", "book", "kits", name, field)

    def book_if(field: str) -> Figure | None:
        return make.figure_if(f"options.{key}.{slug(field)}", "book", "kits", name, field)
    ending = context.worked.endings[key]
    totals, paid = _endings(context, option, ending)
    line = (context.house.one_price or option).price
    under = sum(value <= line for value in ending.quantile_dots)
    known = _with_known(context, option, price)
    return OptionMoney(
        key, context.name(key), option.covers_all, price, known, _least_paid(context, option, known),
        each_point=book("each point"),
        each_feed=book("each feed"),
        each_blocked=book("each blocked drop"),
        case_cap=book_if("not over for cases"),
        added_cap=book_if("not over for more"),
        cases=_cases(context, option), later=_later(context, option), tracing=tracing,
        most_paid=_most_paid(context, option, price),
        p10=totals[0], p50=totals[1], p90=totals[2], paid_p10=paid[0], paid_p50=paid[1], paid_p90=paid[2],
        quantile_dots=tuple(Figure(f"options.{key}.ending.dot-{i}", value, "cents, forecast",
                            f"{ENDING}: the ending that {i - 0.5:g} of 20 fall under.", make.judgement(),
                            anchor=EXPLAINED) for i, value in enumerate(ending.quantile_dots, 1)),
        dots_under=Figure(f"options.{key}.dots-under", under, "number",
                           "How many of the twenty endings are at or under One price today.", make.judgement()),
        dots_above=Figure(f"options.{key}.dots-above", len(DOTS) - under, "number",
                           "How many of the twenty endings are above One price today.", make.judgement()),
        places_held=Figure(f"options.{key}.places-held", context.scope[key].counts.places_held, "places",
                           "New places that the price holds.", make.survey("rooms"), ("found.new-places",)),
        half=_other(context, key, "half"), twice=_other(context, key, "twice"),
        cheapest=chance(f"options.{key}.cheapest", three_views(context, lambda c: c.cheapest[key]),
                        "Chance that this option ends cheapest of all on one and the same house.",
                        make.judgement()),
        above_one_price=_above(context, key), holes=_holes(context, option))


def _price_method(context: Context, key: str) -> str:
    """How the price today came about, in a sentence."""
    one = context.scope[key]
    if option_row(context.inputs, key)[1].price is not None:
        return "A price of this job's own, with its reason."
    return ("What the option holds, each at its set price." if one.lines else
            "Proposed from what every point, place and surprise costs us, rounded up to whole hundreds of dollars.")


def _endings(context: Context, option: Option, ending: Ending) -> tuple[list[Figure], list[Figure]]:
    source = context.make.judgement()
    inputs = (f"options.{option.key}.price", "hidden.p50")
    said = ("1 in 10 end lower", "half end lower", "1 in 10 end higher")
    middle = middle_pair(context)
    totals = [Figure(f"options.{option.key}.ending.{mark}", value, "cents, forecast", f"{ENDING}; {words}.", source,
                     inputs, EXPLAINED) for mark, value, words in zip(("p10", "p50", "p90"), ending.total, said,
                                                                      strict=True)]
    totals[1] = at_the_middle(context, option, totals[1], middle)
    paid = [Figure(f"options.{option.key}.paid.{mark}", value, "cents, forecast",
                   f"The same without what is bought elsewhere; {words}.", source, inputs, EXPLAINED)
            for mark, value, words in zip(("p10", "p50", "p90"), ending.paid, said, strict=True)]
    return totals, paid


def _with_known(context: Context, option: Option, price: Figure) -> Figure | None:
    """What an option comes to with all that is known today: old points off its list, known cases, places to come."""
    known = even.known_today(context.house.feeds)
    lines = tuple(line for line in of_pair(context, option, (0, 0) if option.covers_all else known, elsewhere=False)
                  if line.what != "blocked-drops")
    total = sum(line.count * line.each for line in lines)
    if total == option.price:
        return None
    return with_sum(Figure(f"options.{option.key}.with-known", total, "cents", "The price, and all that is known "
                           "already and is not in it, at its set or usual price; without blocked drops.",
                           context.make.book("kits"), (price.name, "hidden.known"), EXPLAINED), lines)


def _least_paid(context: Context, option: Option, known: Figure | None) -> Figure | None:
    """What is known already with each case that is known at the least that it costs."""
    less = sum(case.cost.usual - case.cost.low for case in context.house.cases
               if case.chance == 1 and case.key in option.pays_cases)
    if known is None or not less:
        return known
    return Figure(f"options.{option.key}.least-paid", int_of(known) - less, "cents", "The price, and all that is known "
                  "already and is not in it, at its set price or the least that it costs; without blocked drops.",
                  context.make.book("cases"), (known.name,), EXPLAINED)


def _most_paid(context: Context, option: Option, price: Figure) -> Figure | None:
    name = f"options.{option.key}.most-paid"
    if option.covers_all:
        if option.case_cap is None and option.pays_cases:
            return None
        return with_sum(Figure(name, option.price + (option.case_cap or 0), "cents", "The price and the cap on all "
                               "cases together.", context.make.book("kits"), (price.name,)),
                        (Line("price", 1, option.price), Line("cap-on-cases", 1, option.case_cap or 0)))
    pair = even.everything_old(context.hidden)
    return with_sum(Figure(name, even.usual_paid(context.house, context.kind, option, pair), "cents, forecast",
                           "Every point off the list that could be old is, blocked drops at their mean count, and "
                           "the cases that are known already at their usual amounts.", context.make.book("kits"),
                           (price.name, "hidden.most"), EXPLAINED), of_pair(context, option, pair, elsewhere=False))


def _cases(context: Context, option: Option) -> tuple[CaseMoney, ...]:
    said = {case.key: (i, case) for i, case in enumerate(context.inputs.book.cases)}
    rows = []
    for case in context.house.cases:
        if case.key in option.pays_cases:
            i, book = said[case.key]
            source = context.make.book("cases", i)
            rows.append(CaseMoney(case.key, Quote(book.what, source), Quote(book.called or book.what, source), Figure(
                f"cases.{case.key}.usual", case.cost.usual, "cents", "What the case costs as likely as not.",
                source), case.chance == 1, Figure(f"cases.{case.key}.days", book.days, "days",
                                                  "Days that the case adds to the plan.", source)))
    return tuple(rows)


def _later(context: Context, option: Option) -> tuple[LaterMoney, ...]:
    middle = quantile(points_alone(context.hidden), 0.5)
    rows = []
    for i, item in enumerate(context.inputs.book.later):
        if item.key in option.later:
            one = replace(option, later=frozenset({item.key}))
            source = context.make.book("later", i)
            said = Quote(item.what, source), Quote(item.called or item.what, source)
            rows.append(LaterMoney(item.key, item.stands_for, *said, Figure(
                f"options.{option.key}.later.{item.key}", even.usual_later(context.house, context.kind, one, middle),
                "cents, forecast", f"The usual price for one {item.per}, times its count when the middle number "
                "of old points turns up.", source, ("hidden.p50",), EXPLAINED)))
    return tuple(rows)


def _other(context: Context, key: str, view: str) -> tuple[Figure, Figure]:
    low, _, high = context.worked.percentiles[view][key]
    many = "half" if view == "half" else "twice"
    return tuple(Figure(  # type: ignore[return-value]
        f"options.{key}.ending.{view}.{mark}", value, "cents, forecast",
        f"The same with {many} as many old feeds in the firm's judgement.", context.make.judgement(),
        anchor=EXPLAINED) for mark, value in (("p10", low), ("p90", high)))


def _above(context: Context, key: str) -> Chance | None:
    priced = context.house.one_price
    if priced is None or priced.key == key:
        return None
    one = priced.key
    return chance(f"options.{key}.above-one-price", three_views(context, lambda c: c.above[key, one]),
                  f"Chance that {context.name(key)} ends above {context.name(one)} on one and the same house.",
                  context.make.judgement())


def three_views(context: Context, pick: Pick) -> tuple[float, float, float]:
    judged, half, twice = (pick(context.worked.comparisons[view]) for view in VIEWS)
    return judged, half, twice


def _holes(context: Context, option: Option) -> Figure:
    rooms = context.dust[option.key].values()
    return Figure(f"options.{option.key}.holes", sum(room.work.opened.openings for room in rooms), "holes",
                  "Openings of each room, rounded up there, or counted on the plan; without what is added.",
                  context.make.book("rates", "walls"), (context.found.list_drops.name,))
