"""What needs no opinion on what is hidden: break-even, the most one could pay, and what tracing would settle.

Everything here stands at its usual: the house in the middle between easy and hard, blocked drops at their mean
count, and of the cases those alone that are known already, at their usual amounts.  Cases that may still come are
named beside these figures, never mixed into them.
"""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction

from msgspec import Struct

from sitegen.trade.blocked import Kind, kind_at, later_counts, usual_blocked
from sitegen.trade.feeds import NEW_ENDS, NOT_TRACED, OLD, PART, Feed
from sitegen.trade.terms import Belief, Cents, House, Option

Pair = tuple[int, int]
"""Old points not on the list, and feeds charged for them."""


class BreakEven(Struct, frozen=True):
    """Where a list of points and one price for the house cost the same, in old points not on the list.

    `list_up_to`     [points] so many or fewer: the list is cheaper or equal, on however many feeds; None if never
    `price_from`     [points] so many or more: the one price is cheaper or equal, on however many feeds; None if never
    `most`           [points] the most that can turn up
    """

    list_up_to: int | None
    price_from: int | None
    most: int


def middle(house: House, belief: Belief) -> Kind:
    """The house in the middle between easy and hard."""
    return kind_at(house, belief, Fraction(1, 2))


def known_cases(house: House, option: Option) -> Cents:
    """What the homeowner pays for the cases that are known already, at their usual amounts, held to the cap [cents]."""
    usual = sum(case.cost.usual for case in house.cases if case.chance == 1 and case.key in option.pays_cases)
    return usual if option.case_cap is None else min(usual, option.case_cap)


def usual_paid(house: House, kind: Kind, option: Option, pair: Pair) -> Cents:
    """What is paid in the end [cents] when `pair` turns up and all is usual: with known cases, and no other."""
    certain = option.price + option.also + known_cases(house, option)
    if option.covers_all:
        return certain
    points, feeds = pair
    added = option.each_point * points + option.each_feed * feeds + option.each_blocked * usual_blocked(house, kind,
                                                                                                        points)
    return certain + house.tracing + (added if option.added_cap is None else min(added, option.added_cap))


def usual_later(house: House, kind: Kind, option: Option, points: int) -> Cents:
    """What is bought elsewhere in the end [cents] when `points` turn up and all is usual."""
    counts = later_counts(house, option, points)
    return sum(kind.later[item.key] * counts[item.key] for item in house.later if item.key in option.later)


def usual_total(house: House, kind: Kind, option: Option, pair: Pair) -> Cents:
    """The total to the same finish [cents] when `pair` turns up and all is usual: known cases, no other."""
    return usual_paid(house, kind, option, pair) + usual_later(house, kind, option, pair[0])


def break_even(house: House, kind: Kind, pairs: Collection[Pair], listed: Option, priced: Option) -> BreakEven:
    """Where `listed` and `priced` cost the same, over the (points, feeds) that this house can hold."""
    cheaper, dearer = set[int](), set[int]()
    later = {points: usual_later(house, kind, listed, points) - usual_later(house, kind, priced, points)
             for points in {points for points, _ in pairs}}
    for pair in pairs:
        margin = usual_paid(house, kind, listed, pair) - usual_paid(house, kind, priced, pair) + later[pair[0]]
        if margin > 0:
            dearer.add(pair[0])
        if margin < 0:
            cheaper.add(pair[0])
    points = sorted({points for points, _ in pairs})
    list_side = [h for h in points if not any(d <= h for d in dearer)]
    price_side = [h for h in points if not any(c >= h for c in cheaper)]
    return BreakEven(list_side[-1] if list_side else None, price_side[0] if price_side else None, points[-1])


def everything_old(pairs: Collection[Pair]) -> Pair:
    """Every point that could be old is, on as many feeds as can hold them."""
    return max(pairs)


def known_today(feeds: Collection[Feed]) -> Pair:
    """What is known to be old today and is not in the list's price, and the feeds that it charges."""
    certain = [feed.known + (feed.unseen if feed.evidence == OLD else 0) for feed in feeds]
    return sum(certain), sum(points > 0 for points in certain)


def unsettled(feeds: Collection[Feed]) -> tuple[Feed, ...]:
    """The feeds that tracing would settle: not traced, part or new ends, with a point that nobody saw."""
    return tuple(feed for feed in feeds if feed.evidence in (NOT_TRACED, PART, NEW_ENDS) and feed.unseen)


def swing(house: House, kind: Kind, option: Option, feed: Feed) -> Cents:
    """How far one feed moves an option's total [cents], found old against found new; all else known today, usual."""
    points, feeds = known_today(house.feeds)
    more = feed.unseen, int(not feed.known)
    return (usual_total(house, kind, option, (points + more[0], feeds + more[1]))
            - usual_total(house, kind, option, (points, feeds)))
