"""From what the survey wrote down to the terms that the calculations read: sharing out and adding up, no more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.job.books import Case as BookCase
from sitegen.job.books import Kit, PriceBook
from sitegen.job.cards import Company
from sitegen.job.load import Inputs
from sitegen.job.model import Job, Room
from sitegen.trade.blocked import half_up
from sitegen.trade.break_even import unsettled
from sitegen.trade.feeds import NEW, OLD, Feed, FeedPrior
from sitegen.trade.kinds import TROUBLE
from sitegen.trade.terms import Belief, Case, House, Later, Spread, Walls, Way

LATER_PER = {"opening": "opening", "sq ft outside the sheet": "sq ft", "house": "house"}


@dataclass(frozen=True, slots=True)
class Line:
    """One kind of point in one room [points]: how many, and how they were left by the survey.

    What is listed is taken to be first the boxes seen old, then those not opened, last those seen new.
    """

    room: str
    kind: str
    feed: str
    looks: str
    now: int
    want: int
    listed: int
    opened_old: int
    opened_new: int

    @property
    def known(self) -> int:
        """Opened and seen old, and not on the list."""
        return max(0, self.opened_old - self.listed)

    @property
    def unseen(self) -> int:
        """Neither opened nor seen, and not on the list."""
        closed = self.now - self.opened_old - self.opened_new
        return max(0, closed - max(0, self.listed - self.opened_old))

    @property
    def new_places(self) -> int:
        """Places wanted beyond those there today."""
        return max(0, self.want - self.now)

    @property
    def old(self) -> int:
        """Known to be old: on a feed traced old, or opened and seen old."""
        return self.now if self.looks == OLD else self.opened_old

    @property
    def newer(self) -> int:
        """Known to be newer: on a feed seen new its whole length, or opened and seen new."""
        return self.now if self.looks == NEW else self.opened_new

    @property
    def rewired(self) -> int:
        """Points there today that a price for every point does again: all but those on a feed seen new."""
        return 0 if self.looks == NEW else self.now

    @property
    def by_list(self) -> int:
        """Points that a list does: those on it, and the new places."""
        return self.listed + self.new_places

    @property
    def by_all(self) -> int:
        """Points that a price for every point does: those rewired, and the new places."""
        return self.rewired + self.new_places


def lines(job: Job, rooms: Iterable[Room] | None = None) -> Iterator[Line]:
    """Every kind of point of every room, or of these."""
    for room in job.rooms if rooms is None else rooms:
        for kind in dict.fromkeys((*room.now, *room.want)):
            feed = room.feeds.get(kind, "")
            yield Line(room.room, kind, feed, job.feeds[feed].looks if feed else "", room.now.get(kind, 0),
                       room.want.get(kind, room.now.get(kind, 0)), room.listed.get(kind, 0),
                       room.opened_old.get(kind, 0), room.opened_new.get(kind, 0))


def drops(counts: Iterable[tuple[str, int]], book: PriceBook) -> Fraction:
    """Drops [drops] for so many points of each kind at the book's rates, not rounded."""
    return sum((book.rates.drops_a_point[kind] * count for kind, count in counts), Fraction(0))


def feeds_of(job: Job) -> tuple[Feed, ...]:
    """The feeds of the house with their points shared out."""
    counts = {name: [0, 0, 0, 0] for name in job.feeds}
    for line in lines(job):
        if line.feed:
            for i, more in enumerate((line.known, line.unseen, line.opened_old, line.opened_new)):
                counts[line.feed][i] += more
    return tuple(Feed(name, feed.looks, *counts[name]) for name, feed in job.feeds.items())


def belief_of(company: Company) -> Belief:
    """The firm's judgement."""
    prior = company.prior
    return Belief(FeedPrior(prior.old_feeds, prior.new_feeds, prior.new_ends_turn_out_old,
                            prior.part_feed_old, prior.part_feed_new),
                  prior.blocked_drops, prior.open_drops, prior.hard_house_shift)


def list_drops(job: Job, book: PriceBook) -> int:
    """Drops of the list and of the new places [drops]: the book's rates summed, rounded once, halves up."""
    return half_up(drops(((line.kind, line.by_list) for line in lines(job)), book))


def all_drops(job: Job, book: PriceBook) -> int:
    """Drops when every point is rewired [drops]: those not on newer cable, and the new places."""
    return half_up(drops(((line.kind, line.by_all) for line in lines(job)), book))


def worked_rooms(job: Job) -> tuple[Room, ...]:
    """Rooms that have a listed point or a new place; a further part of a room counts with it."""
    names = {line.room for line in lines(job) if line.by_list}
    return tuple(room for room in job.rooms if room.room in names and room.size is not None)


def case_chance(case: BookCase, job: Job) -> Fraction:
    """*no* to all that it hangs on: none; a *yes*: known today; else the firm's chance.

    A trouble word of a room leaves the chance standing; without such a room there is none.
    """
    trouble = {word for room in job.rooms for word in room.trouble or ()}
    here = {word: "not seen" if word in trouble else "no" for word in TROUBLE}
    answers = [(job.stop_work | here)[key] for key in case.asked_in]
    if "yes" in answers:
        return Fraction(1)
    if answers and "not seen" not in answers:
        return Fraction(0)
    return case.chance


def kit_of(inputs: Inputs, way: str) -> Kit:
    """The kit that the job buys one way by."""
    return next(inputs.book.kits[price.kit] for price in inputs.job.ways if price.way == way)


def house_of(inputs: Inputs, openings_a_drop: Fraction, floors: Mapping[str, int]) -> House:
    """Everything about the house that an ending turns on; `floors` [sq ft] left bare, by way."""
    job, book = inputs.job, inputs.book
    feeds = feeds_of(job)
    open_feeds = len(unsettled(feeds))
    tracing = book.tracing.visit + book.tracing.each_feed * open_feeds if open_feeds else 0
    cases = tuple(Case(case.key, chance, Spread(case.low, case.usual, case.high))
                  for case in book.cases if (chance := case_chance(case, job)))
    later = tuple(Later(item.key, LATER_PER[item.per], Spread(item.low, item.usual, item.high))
                  for item in book.later)
    return House(feeds, Walls(job.drops.inside.probed, job.drops.inside.blocked),
                 Walls(job.drops.outside.probed, job.drops.outside.blocked), list_drops(job, book),
                 job.house.points_on_outside_walls, openings_a_drop, tracing, cases, later,
                 tuple(_way(inputs, price.way, price.price, floors[price.way]) for price in job.ways))


def _way(inputs: Inputs, key: str, price: int, floor: int) -> Way:
    kit = kit_of(inputs, key)
    return Way(key, price, kit.covers == "every point", kit.each_point, kit.each_feed, kit.each_blocked_drop,
               frozenset(case for case, payer in kit.cases.items() if payer == "homeowner"),
               kit.not_over_for_cases, kit.not_over_for_more, frozenset(kit.later), floor)
