"""Bids of the reader's own, put on the same finish as our options: old wires dead, walls ready to paint, floors sound.

A blank stays a blank.  It is worked both ways, as in the bid and as not in it, and the answer is a span.  Nothing
here is a chance: the three counts of old points give three spans, and no more is said of them.

What is added to a bid's total:

- an answer *no*: what that costs when it is bought elsewhere, at the usual later cost of this house
- more old wiring, where the reader pays for it: every point that the house needs beyond those that the bid lists,
  at the bid's own price.  The house needs the points of our list and the old points off it
- a blank: nothing in the one reading, the same as *no* in the other

Three numbers have no second reading: the total, the points that the bid lists, and its price for a further point.
A figure of ours in their place would be a claim about the bidder, so a bid without one that it needs cannot be
compared yet.  Nor can a bid that leaves more than TOO_MANY answers blank: six answers move the sum, and past half of
them the span would say more about our costs than about the bid.

The page has the same in `theme/js/bids.js`; a test runs both over a grid of bids and compares them to the cent.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sitegen.trade.terms import Cents

ANSWERS = ("holes", "floors", "clean", "permit", "panel")
"""Answers that cost something when they are no, in the order of the form."""

BLANKS = ("more", *ANSWERS)
"""Answers that move the sum and can be left blank."""

TOO_MANY = 3
"""The most blanks among BLANKS with which a bid can still be compared."""


@dataclass(frozen=True, slots=True)
class Bid:
    """What the reader typed; None is a blank.

    `total`       [cents] the price of the bid
    `points`      [points] outlets, switches and lights that it lists
    `each_point`  [cents] for each further point
    `more`        whether the bidder pays when more old wiring turns up
    `lead`        whether it has lead steps beyond the law; asked and shown, and no part of any sum
    """

    total: Cents | None = None
    points: int | None = None
    each_point: Cents | None = None
    more: bool | None = None
    holes: bool | None = None
    floors: bool | None = None
    clean: bool | None = None
    permit: bool | None = None
    panel: bool | None = None
    lead: bool | None = None

    def answer(self, key: str) -> bool | None:
        """The answer of one of BLANKS."""
        found: bool | None = getattr(self, key)
        return found


@dataclass(frozen=True, slots=True)
class Usual:
    """What this house needs, as the build wrote it.

    `listed`  [points] on our list
    `old`     [points] old and off our list: one in ten houses hold fewer, half do, one in ten hold more
    `later`   [cents] the usual cost of each of ANSWERS bought elsewhere; None where we have no figure for it
    """

    listed: int
    old: tuple[int, int, int]
    later: Mapping[str, Cents | None]


@dataclass(frozen=True, slots=True)
class Span:
    """Both readings of the blanks [cents]: all of them in the bid, and none of them."""

    low: Cents
    high: Cents


@dataclass(frozen=True, slots=True)
class Worked:
    """A bid on the same finish.

    `missing`   what moves the sum and is not stated, in the order of the form
    `spans`     one for each of the three counts of old points; empty when the bid cannot be compared yet
    `unpriced`  of ANSWERS, those that are not in the bid, or may not be, and for which we have no figure: the spans
                are without them
    """

    missing: tuple[str, ...]
    spans: tuple[Span, ...]
    unpriced: tuple[str, ...]

    @property
    def comparable(self) -> bool:
        """Whether the bid can be set beside our options."""
        return bool(self.spans)

    def cheapest(self, middles: tuple[Cents, ...]) -> bool:
        """Whether the bid costs less than every option in both readings, at the middle count and with nothing
        unpriced."""
        return self.comparable and not self.unpriced and self.spans[1].high < min(middles)


def work(bid: Bid, usual: Usual) -> Worked:
    """One bid on the same finish."""
    missing = tuple(_missing(bid, usual))
    unpriced = tuple(key for key in ANSWERS if usual.later[key] is None and bid.answer(key) is not True)
    numbers = any(key in missing for key in ("total", "points", "each_point"))
    if bid.total is None or numbers or sum(key in BLANKS for key in missing) > TOO_MANY:
        return Worked(missing, (), unpriced)
    low = high = bid.total
    for key in ANSWERS:
        cost, answer = usual.later[key] or 0, bid.answer(key)
        low += cost if answer is False else 0
        high += 0 if answer is True else cost
    spans = []
    for old in usual.old:
        more = further(bid, usual, old) * (bid.each_point or 0)
        spans.append(Span(low + (more if bid.more is False else 0), high + (0 if bid.more is True else more)))
    return Worked(missing, tuple(spans), unpriced)


def further(bid: Bid, usual: Usual, old: int) -> int:
    """Points beyond those that the bid lists when `old` points are old off our list."""
    return max(0, usual.listed + old - (bid.points or 0))


def in_order(bids: Mapping[str, Worked], options: Mapping[str, Cents]) -> list[str]:
    """Names in order of the total to the same finish at the middle count, a bid by the middle of its span.

    A tie goes to the bid; bids that cannot be compared yet come last, as they were typed.
    """
    twice = {name: (worked.spans[1].low + worked.spans[1].high, 0) for name, worked in bids.items() if worked.spans}
    twice |= {name: (2 * middle, 1) for name, middle in options.items()}
    return [*sorted(twice, key=twice.__getitem__), *(name for name, worked in bids.items() if not worked.spans)]


def _missing(bid: Bid, usual: Usual) -> Iterator[str]:
    """What moves the sum on this house and is not stated."""
    if bid.total is None:
        yield "total"
    if bid.more is not True:
        if bid.points is None:
            yield "points"
        if bid.points is None or further(bid, usual, max(usual.old)):
            if bid.each_point is None:
                yield "each_point"
            if bid.more is None:
                yield "more"
    for key in ANSWERS:
        if bid.answer(key) is None and usual.later[key] != 0:
            yield key


__all__ = ["ANSWERS", "BLANKS", "TOO_MANY", "Bid", "Span", "Usual", "Worked", "further", "in_order", "work"]
