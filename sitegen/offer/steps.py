"""How many more turn out old, step by step: what every count comes to in each option, at usual costs.

A step is a count of old points off the list and of the feeds that are charged for them.  What is known today is the
first and the floor, every point that could be old the last.  Nothing here rests on what the firm believes is hidden
but one row of the short table, which stands at the middle of its judgement and says so.
"""

from __future__ import annotations

from msgspec.structs import replace

from sitegen.figure import Figure, Source, int_of, slug, worked_out
from sitegen.offer.context import Context
from sitegen.offer.money import (
    EXPLAINED,
    BreakEvenSaid,
    OptionMoney,
    StepCable,
    StepCell,
    StepLater,
    StepMark,
    StepOption,
    StepRow,
    Steps,
)
from sitegen.offer.sums import pair_at
from sitegen.trade import break_even as even
from sitegen.trade.blocked import usual_blocked
from sitegen.trade.break_even import Pair
from sitegen.trade.feeds import NEW_ENDS, points_alone, quantile
from sitegen.trade.terms import Option

PRICED = "cents, forecast"


def steps_of(context: Context, options: tuple[OptionMoney, ...], evens: tuple[BreakEvenSaid, ...]) -> Steps:
    """Every step of a house in every option, and the short table of a few."""
    terms = {option.key: option for option in context.house.options}
    feeds: dict[int, tuple[int, ...]] = {}
    for count, charged in sorted(context.hidden):
        feeds[count] = (*feeds.get(count, ()), charged)
    made = tuple(_option(context, option, terms[option.key], feeds) for option in options)
    rooms = context.make.survey("rooms")
    points, on = (Figure(f"steps.known.{unit}", value, unit, "Old points off the list, and their feeds, that are known "
                         "today: the first step.", rooms)
                  for unit, value in zip(("points", "feeds"), even.known_today(context.house.feeds), strict=True))
    most = Figure("steps.most.feeds", even.everything_old(context.hidden)[1], "feeds",
                  "Feeds charged when every point off the list that could be old is.", rooms, ("hidden.most",))
    return Steps(points, on, most, feeds, made, _rows(context, made, feeds, evens), _cables(context, rooms),
                 (_mark(context, "fewer", 0.1), _mark(context, "middle", 0.5), _mark(context, "more", 0.9)))


def _mark(context: Context, name: str, share: float) -> StepMark:
    """One count of the judgment with its likeliest feeds and its blocked drops."""
    points, feeds = pair_at(context, share)
    source = context.make.judgement()

    def figure(what: str, value: int, unit: str, method: str) -> Figure:
        return Figure(f"steps.{name}.{what}", value, unit, method, source, ("hidden.p50",), EXPLAINED)
    return StepMark(
        figure("points", points, "points", f"Old points off the list that {share:g} of the judgment is at or under."),
        figure("feeds", feeds, "feeds", "The feeds that so many points are likeliest to be on."),
        figure("blocked", usual_blocked(context.house, context.kind, points), "drops",
               "Blocked drops at their mean count when so many points turn up."))


def _option(context: Context, said: OptionMoney, option: Option, feeds: dict[int, tuple[int, ...]]) -> StepOption:
    """One option at every step; a price for every point comes to that price, and the cases that are known already,
    whatever turns up."""
    house, kind, stem = context.house, context.kind, f"steps.{option.key}"
    kits = context.make.book("kits")
    inputs = (said.price.name, said.each_point.name, said.each_feed.name, said.each_blocked.name,
              *((said.tracing.name,) if said.tracing else ()))
    paid = {} if option.covers_all else {
        (points, charged): Figure(
            f"{stem}.paid.p{points}.f{charged}", even.usual_paid(house, kind, option, (points, charged)), PRICED,
            "Paid to the firm when so many old points off the list turn up on so many feeds, blocked drops at their "
            "mean count, no case.", kits, inputs, EXPLAINED)
        for points, some in feeds.items() for charged in some}
    later = []
    for i, item in enumerate(context.inputs.book.later):
        if item.key in option.later:
            one, source = replace(option, later=frozenset({item.key})), context.make.book("later", i)
            later.append(StepLater(item.key, {points: Figure(
                f"{stem}.later.{item.key}.p{points}", even.usual_later(house, kind, one, points), PRICED,
                f"The usual price for one {item.per}, times its count when so many old points turn up.", source,
                (), EXPLAINED) for points in feeds}))
    return StepOption(option.key, said.name, _certain(context, said, option), paid, tuple(later))


def _certain(context: Context, said: OptionMoney, option: Option) -> Figure:
    """The price today, or what a price for every point comes to where a case is known already."""
    cents = even.usual_paid(context.house, context.kind, option, even.known_today(context.house.feeds))
    if not option.covers_all or cents == int_of(said.price):
        return said.price
    return Figure(f"steps.{option.key}.certain", cents, PRICED, "The price today, and the cases that are known already "
                  "at their usual amounts.", context.make.book("kits"), (said.price.name,), EXPLAINED)


def _rows(context: Context, options: tuple[StepOption, ...], feeds: dict[int, tuple[int, ...]],
          evens: tuple[BreakEvenSaid, ...]) -> tuple[StepRow, ...]:
    """The first step, where the list that is nearest to the one price turns, the middle as judged, half and twice of it
    or the nearest counts that the house can hold, and the last."""
    first, last, middle = min(feeds), max(feeds), quantile(points_alone(context.hidden), 0.5)
    turns = [figure for even_said in evens[:1] for figure in (even_said.list_up_to, even_said.price_from) if figure]
    half, twice = (min(feeds, key=lambda count: (abs(count - wanted), count)) for wanted in (middle // 2, 2 * middle))
    marks = (("known", first), ("half", half), ("middle", middle), ("twice", twice), ("all", last))
    counts = sorted({*(at for _, at in marks), *map(int_of, turns)})
    return tuple(_row(context, options, points, feeds[points], _why(marks, points, middle)) for points in counts)


def _why(marks: tuple[tuple[str, int], ...], points: int, middle: int) -> tuple[str, ...]:
    """Why a count stands in the table; half and twice of the middle count where the house can hold them."""
    found = [word for word, at in marks if at == points]
    exact = {"half": points == middle // 2 and bool(middle), "twice": points == 2 * middle and bool(middle)}
    return tuple(word for word in found if exact.get(word, True))


def _row(context: Context, options: tuple[StepOption, ...], points: int, feeds: tuple[int, ...],
         why: tuple[str, ...]) -> StepRow:
    source = context.make.judgement() if "middle" in why else context.make.survey("rooms")
    least, most = (Figure(f"steps.p{points}.feeds.{word}", value, "feeds", f"The {word} feeds that so many old points "
                          "off the list can be on.", source) for word, value in (("least", feeds[0]),
                                                                                 ("most", feeds[-1])))
    return StepRow(Figure(f"steps.p{points}.points", points, "points", "Old points off the list at one step.", source),
                   least, most, why, {option.key: (_cell(option, (points, feeds[0])),
                                                   _cell(option, (points, feeds[-1])))
                                      for option in options})


def _cell(option: StepOption, pair: Pair) -> StepCell:
    points, feeds = pair
    paid, later = option.paid_at(pair), option.later_at(points)
    return StepCell(paid, worked_out(
        f"steps.{option.key}.total.p{points}.f{feeds}", sum(map(int_of, (paid, *later))), PRICED,
        "To the same finish: what is paid to the firm and all that is bought elsewhere, at usual costs.", paid, *later,
        anchor=EXPLAINED))


def _cables(context: Context, source: Source) -> tuple[StepCable, ...]:
    """Every feed that could be found old: its name, and the points and the feeds that it brings with it."""
    names = {feed.key: feed.name for feed in context.found.each_feed}
    between = context.inputs.company.prior.new_ends_turn_out_old > 0
    return tuple(StepCable(
        slug(feed.name), names[slug(feed.name)],
        _brings(feed.name, "points", feed.unseen, source), _brings(feed.name, "feeds", int(not feed.known), source))
        for feed in even.unsettled(context.house.feeds) if between or feed.evidence != NEW_ENDS)


def _brings(name: str, unit: str, value: int, source: Source) -> Figure:
    return Figure(f"steps.cables.{slug(name)}.{unit}", value, unit, "What one feed adds when it is found old; a feed "
                  "with a point known to be old is charged already.", source, (f"feeds.{slug(name)}.unseen",))
