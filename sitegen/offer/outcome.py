"""The money of the whole offer: the ways in order, what is hidden, break-even, tracing, and whose judgement."""

from __future__ import annotations

from sitegen.figure import Figure, Said, Source, int_of, slug, worked_out
from sitegen.offer.chances import Chance, Counted, chance
from sitegen.offer.context import Bench
from sitegen.offer.money import EXPLAINED, NAMES, BreakEvenSaid, Hidden, Outcome, Prior, Swing, Tracing
from sitegen.offer.steps import steps_of
from sitegen.offer.way_money import three_views, way_money
from sitegen.trade import break_even as even
from sitegen.trade.feeds import points_alone, quantile


def outcome(bench: Bench) -> Outcome:
    """Everything about money."""
    ways = tuple(sorted((way_money(bench, way) for way in bench.house.ways), key=lambda way: int_of(way.price)))
    evens = _break_even(bench)
    return Outcome(ways, _hidden(bench), evens, _bare_above_item(bench), _record(bench),
                   _tracing(bench),
                   Figure("endings.inside", 16, "number", "Endings from the third to the eighteenth of twenty "
                          "lie between 1 in 10 below and 1 in 10 above.", bench.make.judgement()), _prior(bench),
                   steps_of(bench, ways, evens))


def _bare_above_item(bench: Bench) -> Chance | None:
    keys = {way.key for way in bench.house.ways}
    if not {"minimal-protection", "per-item"} <= keys:
        return None
    return chance("ways.minimal-protection.above-per-item",
                  three_views(bench, lambda c: c.above["minimal-protection", "per-item"]),
                  "Chance that Wiring only ends above Per item on one and the same house.", bench.make.judgement())


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
    one = bench.house.one_price
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


def _record(bench: Bench) -> Counted | None:
    record = bench.inputs.company.record
    if record is None:
        return None
    source = Source("finished jobs", bench.make.company("record").text)
    return Counted(Figure("record.above", record.above, "number", "Jobs in which Per item would have ended above "
                          "One price.", source),
                   Figure("record.jobs", record.jobs, "number", "Finished jobs that were looked at.", source),
                   Said(record.which, source))


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
