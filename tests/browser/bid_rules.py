"""What a bid comes to on the same finish, worked from the rules alone, for the script of the page to be held against.

A bid without a blank has one sum: its total, the usual cost of each answer *no*, and where the reader pays for more
old wiring, its price for every point that the house needs beyond those that it lists.  A blank has two readings, so a
bid with blanks has the sums of all its readings, from the lowest to the highest.  None is a blank.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from sitegen.sheets.bids import ANSWERS

BLANKS = ("more", *ANSWERS)
"""Answers that move the sum and can be left blank."""

NUMBERS = ("total", "points", "each")
"""What has no second reading: a figure of ours in its place would be a claim about the bidder."""

TOO_MANY = 3
"""The most blanks among BLANKS with which a bid can still be compared: past half of the six, the span would say more
about our costs than about the bid."""


class Bid(Struct, frozen=True):
    """What a reader typed: cents, points, cents for each further point, whether the bidder pays for more, answers."""

    total: int | None = None
    points: int | None = None
    each: int | None = None
    more: bool | None = None
    holes: bool | None = None
    floors: bool | None = None
    clean: bool | None = None
    permit: bool | None = None
    panel: bool | None = None
    lead: bool | None = None


class Usual(Struct, frozen=True):
    """What a house needs: points on our list, old points off it in three counts, the usual cost of each answer."""

    listed: int
    old: tuple[int, int, int]
    later: Mapping[str, int | None]


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
    """Points that the house needs beyond those that the bid lists."""
    return max(house.listed + old - (bid.points or 0), 0)


def readings(bid: Bid) -> list[Bid]:
    """Every bid without a blank answer that this one can be read as: first all in it, last none of them."""
    blank = [key for key in BLANKS if getattr(bid, key) is None]
    return [replace(bid, **dict(zip(blank, answers, strict=True)))
            for answers in product((True, False), repeat=len(blank))]


def ends(bid: Bid) -> tuple[Bid, Bid]:
    """The first and the last of all readings."""
    blank = [key for key in BLANKS if getattr(bid, key) is None]
    return replace(bid, **dict.fromkeys(blank, True)), replace(bid, **dict.fromkeys(blank, False))


def cost(bid: Bid, house: Usual, old: int) -> int:
    """The one sum [cents] of a bid without a blank when `old` points are old off our list."""
    bought = sum(house.later[key] or 0 for key in ANSWERS if not getattr(bid, key))
    return (bid.total or 0) + bought + (0 if bid.more else further(bid, house, old) * (bid.each or 0))


def missing(bid: Bid, house: Usual) -> tuple[str, ...]:
    """What moves the sum in this house and is not stated, in the order of the form."""
    reader_may_pay = bid.more is not True
    short = reader_may_pay and (bid.points is None or further(bid, house, max(house.old)) > 0)
    moves = {"total": True, "points": reader_may_pay, "each": short, "more": short,
             **{key: house.later[key] != 0 for key in ANSWERS}}
    return tuple(key for key, does in moves.items() if does and getattr(bid, key) is None)


def work(bid: Bid, house: Usual) -> Worked:
    """One bid on the same finish."""
    lacks = missing(bid, house)
    unpriced = tuple(key for key in ANSWERS if house.later[key] is None and getattr(bid, key) is not True)
    spans: Spans = ()
    if not set(lacks) & set(NUMBERS) and len(lacks) <= TOO_MANY:
        low, high = ends(bid)
        spans = tuple((cost(low, house, old), cost(high, house, old)) for old in house.old)
    return Worked(lacks, spans, unpriced)


def in_order(bids: Mapping[str, Worked], options: Mapping[str, int]) -> list[str]:
    """Names by the middle of the sum at the middle count, a tie to the bid; what cannot be compared comes last."""
    placed = [(sum(one.spans[1]) / 2, 0, name) for name, one in bids.items() if one.spans]
    placed += [(float(sum_), 1, name) for name, sum_ in options.items()]
    return [*(name for *_, name in sorted(placed, key=lambda one: one[:2])),
            *(name for name, one in bids.items() if not one.spans)]
