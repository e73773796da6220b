"""The list and the circuits as the survey left them: points line by line, and their sums by circuit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from sitegen.job.books import PriceBook
from sitegen.job.model import Finding, Job, Room
from sitegen.trade.feeds import NEW, OLD, Feed
from sitegen.trade.rounding import half_up

POINTS = ("points", "protection")
"""What a finding is about that means points."""


class Line(Struct, frozen=True):
    """One kind of point in one room [points]: how many, and how they were left by the survey.

    What is listed is taken to be first the boxes seen old, then those not opened, last those seen new.  `findings`
    are the numbers of the findings that name these points, `named` how many of them are meant.  `in_open` says that
    its room has open framing, in which nothing is fished and no hole is cut.
    """

    room: str
    kind: str
    feed: str
    evidence: str
    now: int
    want: int
    listed: int
    opened_old: int
    opened_new: int
    findings: tuple[int, ...] = ()
    named: int = 0
    in_open: bool = False

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
    def short(self) -> int:
        """Points that the list would hold by itself, and does not."""
        return max(0, by_itself(self) - self.listed)

    @property
    def new_places(self) -> int:
        """Places wanted beyond those there today."""
        return max(0, self.want - self.now)

    @property
    def old(self) -> int:
        """Known to be old: opened and seen old, and on a feed traced old all but what was opened and seen new."""
        return self.now - self.opened_new if self.evidence == OLD else self.opened_old

    @property
    def newer(self) -> int:
        """Known to be newer: on a feed seen new its whole length, or opened and seen new."""
        return self.now if self.evidence == NEW else self.opened_new

    @property
    def rewired(self) -> int:
        """Points there today that a price for every point does again: all but those on a feed seen new."""
        return 0 if self.evidence == NEW else self.now

    @property
    def by_list(self) -> int:
        """Points that a list does: those on it, and the new places."""
        return self.listed + self.new_places

    @property
    def by_all(self) -> int:
        """Points that a price for every point does: those rewired, and the new places."""
        return self.rewired + self.new_places


def lines(job: Job, rooms: Iterable[Room] | None = None) -> Iterator[Line]:
    """Every kind of point of every room, or of these rooms of the job.

    What is on the list is what the job says; where it says nothing, the list holds every point that is known to be
    old and every point that a finding names (`by_itself`).
    """
    found = _by_room(job)
    for room in job.rooms if rooms is None else rooms:
        yield from found[id(room)]


_kept: list[tuple[Job, dict[int, tuple[Line, ...]]]] = []
"""The lines of the last job that was asked for: a build asks some thousand times, and a job does not change."""


def _by_room(job: Job) -> dict[int, tuple[Line, ...]]:
    if not (_kept and _kept[0][0] is job):
        in_open = {room.room for room in job.rooms if room.open_framing}
        _kept[:] = [(job, {id(room): tuple(_lines(job, room, room.room in in_open)) for room in job.rooms})]
    return _kept[0][1]


def _lines(job: Job, room: Room, in_open: bool) -> Iterator[Line]:
    for kind in dict.fromkeys((*room.now, *room.want)):
        feed = room.feeds.get(kind, "")
        now = room.now.get(kind, 0)
        here = Line(room.room, kind, feed, job.feeds[feed].evidence if feed else "", now, room.want.get(kind, now),
                    0, room.opened_old.get(kind, 0), room.opened_new.get(kind, 0), in_open=in_open)
        means = {finding.number: meant_by(finding, here) for finding in job.findings}
        here = replace(here, findings=tuple(number for number, count in means.items() if count),
                       named=max(means.values(), default=0))
        yield replace(here, listed=room.listed.get(kind, by_itself(here)))


def by_itself(line: Line) -> int:
    """Points of a line that the list holds unless the job says otherwise [points]: those known to be old or named."""
    return max(0 if line.evidence == NEW else line.old, line.named)


def meant_by(finding: Finding, line: Line) -> int:
    """Points of a line that a finding means [points].

    A finding about points means those that may be without ground: none on a feed seen new its whole length, and none
    that was opened and seen new.  One about protection means them whatever their age.
    """
    if finding.about not in POINTS or (finding.rooms and line.room not in finding.rooms) or (
            finding.kinds and line.kind not in finding.kinds) or line.evidence == NEW:
        return 0
    return line.now if finding.about == "protection" else line.now - line.opened_new


def drops(counts: Iterable[tuple[Line, int]], book: PriceBook) -> Fraction:
    """Drops [drops] for so many points of each line at the book's rates, not rounded; none in open framing."""
    return sum((book.rates.drops_a_point[line.kind] * count for line, count in counts if count and not line.in_open),
               Fraction(0))


def feeds_of(job: Job) -> tuple[Feed, ...]:
    """The feeds of the house with their points shared out."""
    counts = {name: [0, 0, 0, 0] for name in job.feeds}
    for line in lines(job):
        if line.feed:
            for i, more in enumerate((line.known, line.unseen, line.opened_old, line.opened_new)):
                counts[line.feed][i] += more
    return tuple(Feed(name, feed.evidence, *counts[name]) for name, feed in job.feeds.items())


def points_of(job: Job) -> tuple[dict[str, int], dict[str, int]]:
    """Points on the list, and new places, by room and kind [points]; none that are nought."""
    listed, places = dict[str, int](), dict[str, int]()
    for line in lines(job):
        for found, count in ((listed, line.listed), (places, line.new_places)):
            if count:
                key = f"{line.room}: {line.kind}"
                found[key] = found.get(key, 0) + count
    return listed, places


def list_drops(job: Job, book: PriceBook) -> int:
    """Drops of the list and of the new places [drops]: the book's rates summed, rounded once, halves up."""
    return half_up(drops(((line, line.by_list) for line in lines(job)), book))


def all_drops(job: Job, book: PriceBook) -> int:
    """Drops when every point is rewired [drops]: those not on newer cable, and the new places."""
    return half_up(drops(((line, line.by_all) for line in lines(job)), book))


def worked_rooms(job: Job) -> tuple[Room, ...]:
    """Rooms that have a listed point or a new place; a further part of a room counts with it."""
    names = {line.room for line in lines(job) if line.by_list}
    return tuple(room for room in job.rooms if room.room in names and room.size is not None)
