"""What a bid comes to on the same finish, worked from the rules alone, for the script of the page to be held against.

A bid without a blank has one sum: its total; what old wiring, circuits and blocked bays add at its own prices; unless
its bidder pays for surprises, what these and a hard house add to the option of ours that shares the risk and the holes
alike; a cap on all that is added; and the usual cost of each answer *no*.  A blank has two readings, so a bid with
blanks has the sums of all its readings, from the lowest to the highest.  None is a blank.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from sitegen.sheets.bids import ANSWERS

BLANKS = ("more", "surprise", *ANSWERS)
"""Answers that move the sum and can be left blank."""

NUMBERS = ("total", "points", "each")
"""What has no second reading: a figure of ours in its place would be a claim about the bidder."""

TOO_MANY = 4
"""The most blanks among BLANKS with which a bid can still be compared: past half of them, the span would say more
about our costs than about the bid."""


LOAD = """(script) => { window.engine = eval(script.trim().replace(/\\}\\)\\(\\);$/, 'return bids;})()')); }"""
"""Given the script that pages share, has `engine` stand for what it works bids with."""


class Bid(Struct, frozen=True):
    """What a reader typed: cents, points, cents for each further point, circuit and blocked bay, the cap, whether the
    bidder pays for more old wiring and for surprises, answers."""

    total: int | None = None
    points: int | None = None
    each: int | None = None
    more: bool | None = None
    holes: bool | None = None
    floors: bool | None = None
    clean: bool | None = None
    permit: bool | None = None
    panel: bool | None = None
    alarms: bool | None = None
    places: bool | None = None
    surprise: bool | None = None
    circuit: int | None = None
    drop: int | None = None
    cap: int | None = None
    lead: bool | None = None


Three = tuple[int, int, int]


class Own(Struct, frozen=True):
    """One option of ours: read as a bid, and where it ends at each count."""

    name: str
    bid: Bid
    ending: Three


class Usual(Struct, frozen=True):
    """What a house needs: points on our list; old points off it, their feeds and the blocked drops in three counts; the
    usual cost of each answer at each; and our own options."""

    listed: int
    old: Three
    later: Mapping[str, Three | None]
    feeds: Three = (0, 0, 0)
    blocked: Three = (0, 0, 0)
    ours: tuple[Own, ...] = ()


Spans = tuple[tuple[int, int], ...]


class Worked(Struct, frozen=True):
    """What is not stated, the lowest and highest sum at each count or nothing, and what we have no figure for."""

    missing: tuple[str, ...]
    spans: Spans
    unpriced: tuple[str, ...]

    def cheapest(self, options: tuple[int, ...]) -> bool:
        """Whether every reading at the middle count is under every option, with nothing left without a figure."""
        return bool(self.spans) and not self.unpriced and all(self.spans[1][1] < option for option in options)


def further(bid: Bid, house: Usual, old: int) -> int:
    """Old points that the house has beyond those that the bid rewires."""
    return max(house.listed + old - (bid.points or 0), 0)


def readings(bid: Bid) -> list[Bid]:
    """Every bid without a blank answer that this one can be read as."""
    blank = [key for key in BLANKS if getattr(bid, key) is None]
    return [replace(bid, **dict(zip(blank, answers, strict=True)))
            for answers in product((True, False), repeat=len(blank))]


def added(bid: Bid, house: Usual, at: int) -> int:
    """What more old wiring, its circuits and blocked bays add [cents] at one of the three counts."""
    more = 0 if bid.more else further(bid, house, house.old[at])
    circuits = -(-house.feeds[at] * min(more, max(1, house.old[at])) // max(1, house.old[at]))
    return more * (bid.each or 0) + circuits * (bid.circuit or 0) + house.blocked[at] * (bid.drop or 0)


def bought(bid: Bid, house: Usual, at: int) -> int:
    """What the answers *no* cost elsewhere [cents]."""
    costs = (house.later[key] for key in ANSWERS if getattr(bid, key) is False)
    return sum(cost[at] for cost in costs if cost)


def load(bid: Bid, house: Usual, at: int) -> int:
    """What surprises, tracing and a hard house add [cents], as to the option of ours that is alike."""
    alike = sorted((one for one in house.ours if one.bid.more == bid.more), key=lambda one: one.bid.holes != bid.holes)
    if bid.surprise or not alike:
        return 0
    own = alike[0]
    return own.ending[at] - (own.bid.total or 0) - added(own.bid, house, at) - bought(own.bid, house, at)


def cost(bid: Bid, house: Usual, at: int) -> int:
    """The one sum [cents] of a bid without a blank at one of the three counts."""
    rise = added(bid, house, at) + load(bid, house, at)
    return (bid.total or 0) + (rise if bid.cap is None else min(rise, bid.cap)) + bought(bid, house, at)


def missing(bid: Bid, house: Usual) -> tuple[str, ...]:
    """What moves the sum in this house and is not stated, in the order of the form."""
    reader_may_pay = bid.more is not True
    short = reader_may_pay and (bid.points is None or further(bid, house, max(house.old)) > 0)
    moves = {"total": True, "points": reader_may_pay, "each": short, "more": True, "surprise": True,
             **{key: (house.later[key] or (0, 1, 0))[1] != 0 for key in ANSWERS}}
    return tuple(key for key, does in moves.items() if does and getattr(bid, key) is None)


def work(bid: Bid, house: Usual) -> Worked:
    """One bid on the same finish."""
    lacks = missing(bid, house)
    unpriced = [key for key in ANSWERS if house.later[key] is None and getattr(bid, key) is not True]
    if bid.more is not True:
        unpriced += [key for key, counts in (("circuit", house.feeds), ("drop", house.blocked))
                     if getattr(bid, key) is None and max(counts) > 0]
    spans: Spans = ()
    if not set(lacks) & set(NUMBERS) and len(lacks) <= TOO_MANY:
        settled = replace(bid, **{key: True for key in BLANKS if getattr(bid, key) is None and key not in lacks})
        sums = [[cost(one, house, at) for one in readings(settled)] for at in range(3)]
        spans = tuple((min(some), max(some)) for some in sums)
    return Worked(lacks, spans, tuple(unpriced))


def in_order(bids: Mapping[str, Worked], options: Mapping[str, int]) -> list[str]:
    """Names by the middle of the sum at the middle count, a tie to the bid; what cannot be compared comes last."""
    placed = [(sum(one.spans[1]) / 2, 0, name) for name, one in bids.items() if one.spans]
    placed += [(float(sum_), 1, name) for name, sum_ in options.items()]
    return [*(name for *_, name in sorted(placed, key=lambda one: one[:2])),
            *(name for name, one in bids.items() if not one.spans)]
