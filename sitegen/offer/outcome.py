"""The money of the whole offer: the options in order, what is hidden, break-even, tracing, and whose judgement."""

from __future__ import annotations

from sitegen.figure import Figure, Quote, Source, int_of, slug, worked_out
from sitegen.offer.chances import Chance, Counted, chance
from sitegen.offer.context import Context
from sitegen.offer.money import EXPLAINED, BreakEvenSaid, Hidden, Outcome, Prior, Swing, Tracing
from sitegen.offer.option_money import option_money, three_views
from sitegen.offer.steps import steps_of
from sitegen.survey.finished import finished_by
from sitegen.survey.house import tracing_price
from sitegen.trade import break_even as even
from sitegen.trade.feeds import points_alone, quantile
from sitegen.trade.finished import ENOUGH
from sitegen.trade.terms import Option


def outcome(context: Context) -> Outcome:
    """Prices and endings of all options, by price today, with hidden points, break-even and tracing [cents, points]."""
    options = tuple(sorted((option_money(context, option) for option in context.house.options),
                           key=lambda option: int_of(option.price)))
    evens = _break_even(context)
    return Outcome(options, _hidden(context), evens, _first_above_last(context), _record(context),
                   _tracing(context),
                   Figure("endings.inside", 16, "number", "Endings from the third to the eighteenth of twenty "
                          "lie between 1 in 10 below and 1 in 10 above.", context.make.judgement()), _prior(context),
                   steps_of(context, options, evens))


def _lists(context: Context) -> list[Option]:
    """The options that sell a list, lowest price today first."""
    return sorted((option for option in context.house.options if not option.covers_all),
                  key=lambda option: option.price)


def _first_above_last(context: Context) -> Chance | None:
    """How often the cheapest list today ends above the dearest, where there are two or more."""
    lists = _lists(context)
    if len(lists) < 2:
        return None
    low, high = lists[0].key, lists[-1].key
    return chance(f"options.{low}.above-{high}", three_views(context, lambda c: c.above[low, high]),
                  f"Chance that {context.name(low)} ends above {context.name(high)} on one and the same house.",
                  context.make.judgement())


def _hidden(context: Context) -> Hidden:
    alone, source = points_alone(context.hidden), context.make.judgement()

    def mark(name: str, share: float, words: str) -> Figure:
        return Figure(f"hidden.{name}", quantile(alone, share), "points",
                      f"Old points off the list, feed by feed; {words}.", source, ("found.known-off-list",),
                      EXPLAINED)
    return Hidden(context.found.known_off_list.named("hidden.known"),
                  worked_out("hidden.most", max(alone), "points", "Every point off the list that could be old is.",
                             context.found.known_off_list, context.found.unseen_off_list),
                  mark("p10", 0.1, "1 in 10 houses hold fewer"), mark("p50", 0.5, "half hold fewer"),
                  mark("p90", 0.9, "1 in 10 hold more"))


def _break_even(context: Context) -> tuple[BreakEvenSaid, ...]:
    one = context.house.one_price
    rows = []
    for option in sorted(context.house.options, key=lambda option: option.price):
        if one is None or option.covers_all:
            continue
        where = even.break_even(context.house, context.kind, context.hidden, option, one)

        def figure(name: str, value: int | None, words: str, key: str = option.key) -> Figure | None:
            return None if value is None else Figure(
                f"break-even.{key}.{name}", value, "points", f"Old points off the list at which {words}, everything "
                "else at its usual; from prices alone.", context.make.book("kits"),
                (f"options.{key}.price", f"options.{one.key}.price"), EXPLAINED)
        low = where.list_up_to
        at_usual = (low == where.most, where.price_from == min(context.hidden)[0])
        above = context.worked.comparisons["judged"].above
        rows.append(BreakEvenSaid(
            option.key, context.name(option.key), figure("list-up-to", low, "or fewer the list is cheaper"),
            figure("price-from", where.price_from, "or more the one price is cheaper"),
            always_list=at_usual[0] and not above[option.key, one.key],
            always_price=at_usual[1] and not above[one.key, option.key],
            usual_list=at_usual[0], usual_price=at_usual[1]))
    return tuple(reversed(rows))


def _tracing(context: Context) -> Tracing | None:
    book, make = context.inputs.book, context.make
    lists, price = _lists(context), tracing_price(context.inputs)
    if not lists or not price:
        return None
    option = lists[-1]
    names = {feed.key: feed for feed in context.found.each_feed}
    prices = f"options.{option.key}.each-point", f"options.{option.key}.each-feed"
    swings = [Swing(slug(feed.name), names[slug(feed.name)].name, names[slug(feed.name)].unseen, Figure(
        f"tracing.{slug(feed.name)}.swing", even.swing(context.house, context.kind, option, feed), "cents, forecast",
        f"The total of {context.name(option.key)} with this feed found old, less the total with it found new; all "
        "else known today, usual costs.", make.book("kits"), prices, EXPLAINED))
        for feed in even.unsettled(context.house.feeds)]
    visit = make.figure("tracing.visit", "book", "tracing", "visit")
    each = make.figure("tracing.each-feed", "book", "tracing", "each feed")
    return Tracing(worked_out("tracing.price", price, "cents",
                              "The visit, and each feed that is not settled.", visit, each, context.found.unsettled),
                   visit, each, book.tracing.credited,
                   tuple(sorted(swings, key=lambda swing: (-int_of(swing.amount), swing.key))))


def _record(context: Context) -> Counted | None:
    record = context.inputs.company.record
    inputs = context.inputs
    if record is None or len(finished_by(inputs.job.prepared, inputs.finished)) < ENOUGH:
        return None
    source = Source("finished jobs", context.make.company("record").text)
    return Counted(Figure("record.above", record.above, "number", "Jobs in which Per item would have ended above "
                          "One price.", source),
                   Figure("record.jobs", record.jobs, "number", "Finished jobs that were looked at.", source),
                   Quote(record.which, source))


def _prior(context: Context) -> Prior:
    prior, source = context.inputs.company.prior, context.make.judgement()
    return Prior(Quote(prior.by, source),
                 Figure("prior.on", prior.on, "date", "When the judgement was set.", source),
                 Figure("prior.old-feeds", prior.old_feeds, "quantity", "Old feeds that we start as if we had traced.",
                        source),
                 Figure("prior.feeds", prior.old_feeds + prior.new_feeds, "quantity",
                        "Feeds that we start as if we had traced.", source),
                 Figure("prior.new-ends", prior.new_ends_turn_out_old, "share",
                        "Feeds new at both ends that turn out old between.", source), source)
