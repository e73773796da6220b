"""What finished jobs say, as figures: raw counts over raw totals, and the judgement beside them.

Where fewer than ENOUGH jobs are finished there is none of this, and the sheets say that there is no count yet.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Source
from sitegen.job.finished import FinishedJob
from sitegen.job.inputs import Inputs
from sitegen.offer.chances import ENOUGH as TO_LEAN_ON
from sitegen.offer.cited import Cited
from sitegen.survey.finished import done, finished_by
from sitegen.trade import finished as trade
from sitegen.trade.finished import Done
from sitegen.units import Value


class OutOf(Struct, frozen=True):
    """So many of so many."""

    some: Figure
    all: Figure


class OverList(Struct, frozen=True):
    """Points found old over the list, in the jobs that had one: at most so many in half of them, and in nine of ten."""

    jobs: Figure
    half: Figure
    most: Figure


class FitSeen(Struct, frozen=True):
    """How the judgement of feeds stood up: jobs inside its range, below and above it, and the exact count expected.

    `verdict` is one of FITS, OFF and WIDE; `few` where so few jobs could not show a small error.
    """

    inside: Figure
    below: Figure
    above: Figure
    expected: Figure
    verdict: str
    few: bool


class FinishedSeen(Struct, frozen=True):
    """What the finished jobs say.  `ranges` is None where no range was given, `over_list` where no list was sold."""

    jobs: Figure
    since: Figure
    first_built: Figure
    last_built: Figure
    sold_as: dict[str, Figure]
    feeds: OutOf
    feeds_believed: OutOf
    drops: OutOf
    drops_believed: OutOf
    cases: dict[str, Figure]
    over_list: OverList | None
    ranges: OutOf | None
    in_time: Figure
    late: Figure
    called_back: Figure
    fit: FitSeen


class _Desk(Struct, frozen=True):
    """What the makers below share."""

    source: Source
    belief: Source

    def figure(self, name: str, value: Value, unit: str, method: str, *inputs: str) -> Figure:
        return Figure(f"finished.{name}", value, unit, method, self.source, inputs)

    def some(self, name: str, some: int, all_: int, unit: str, method: str) -> OutOf:
        return OutOf(self.figure(f"{name}.some", some, unit, method),
                       self.figure(f"{name}.all", all_, unit, "Of so many."))

    def believed(self, name: str, some: Fraction, others: Fraction, method: str) -> OutOf:
        return OutOf(Figure(f"finished.{name}.some", some, "quantity", method, self.belief),
                       Figure(f"finished.{name}.all", some + others, "quantity", "Of so many.", self.belief))


def finished_of(inputs: Inputs, make: Cited) -> FinishedSeen | None:
    """What the jobs finished by the day of this version say; None where they are too few to count."""
    file = finished_by(inputs.job.prepared, inputs.finished)
    if len(file) < trade.ENOUGH:
        return None
    desk, jobs = _Desk(make.finished("jobs"), make.judgement()), [done(job) for job in file]
    prior = inputs.company.prior
    every = {kit.option for kit in inputs.book.kits.values() if kit.covers == "every point"}     # these have no list
    return FinishedSeen(
        desk.figure("jobs", len(jobs), "jobs", "Finished jobs, none left out."),
        desk.figure("since", file[0].finished, "month", "Month of the first of them."),
        *_built(desk, file),
        {option: desk.figure(f"sold-as.{option}", trade.sold_as(jobs, option), "jobs", "Finished jobs that were sold "
                             "as this option.") for option in (row.option for row in inputs.job.options)},
        desk.some("feeds", sum(job.old for job in jobs), sum(job.old + job.new for job in jobs), "feeds",
                  "Feeds found old by the end."),
        desk.believed("feeds.believed", prior.old_feeds, prior.new_feeds, "Old feeds that the judgement starts from."),
        desk.some("drops", sum(job.blocked for job in jobs), sum(job.fished for job in jobs), "drops",
                  "Drops that were blocked."),
        desk.believed("drops.believed", prior.blocked_drops, prior.open_drops, "Blocked drops that it starts from."),
        {case.key: desk.figure(f"cases.{case.key}", trade.came_up(jobs, case.key), "jobs",
                               "Finished jobs in which this case came up.") for case in inputs.book.cases},
        _over_list(desk, [job for job in jobs if job.option not in every]), _ranges(desk, jobs),
        desk.figure("in-time", trade.in_time(jobs), "jobs", "Jobs that took no more days than planned."),
        desk.figure("late", max(0, trade.slip(jobs, trade.HIGH)), "days", "Nine jobs of ten took at most so many days "
                    "more than planned."),
        desk.figure("called-back", sum(job.call_backs > 0 for job in jobs), "jobs", "Jobs to which the firm was "
                    "called back within a year."),
        _fit(desk, jobs, prior.old_feeds, prior.new_feeds))


def _built(desk: _Desk, file: Sequence[FinishedJob]) -> tuple[Figure, Figure]:
    decades = [job.built for job in file]
    return (desk.figure("built.first", min(decades), "year", "First year of the earliest decade of these houses."),
            desk.figure("built.last", max(decades), "year", "First year of the latest."))


def _over_list(desk: _Desk, jobs: Sequence[Done]) -> OverList | None:
    if not jobs:
        return None
    return OverList(
        desk.figure("over-list.jobs", len(jobs), "jobs", "Finished jobs that were sold by a list."),
        desk.figure("over-list.half", trade.over_list(jobs, 0.5), "points", "Points found old over the list: in half "
                    "of these jobs so many or fewer."),
        desk.figure("over-list.most", trade.over_list(jobs, trade.HIGH), "points", "The same in nine of ten."))


def _ranges(desk: _Desk, jobs: Sequence[Done]) -> OutOf | None:
    given = [job.inside for job in jobs if job.inside is not None]
    return desk.some("ranges", sum(given), len(given), "jobs", "Jobs that cost what lay inside the range given before "
                     "work.") if given else None


def _fit(desk: _Desk, jobs: Sequence[Done], old: Fraction, new: Fraction) -> FitSeen:
    found, believed = trade.fit(jobs, old, new), ("finished.feeds.believed.some", "finished.feeds.believed.all")
    inside, below, above = (
        desk.figure(f"fit.{word}", count, "jobs", f"Jobs whose old feeds lie {where} P10 to P90 of the beta-binomial "
                    "that the judgement gives for their number of feeds, before a look.", *believed)
        for word, count, where in (("inside", found.inside, "inside"), ("below", found.below, "below"),
                                   ("above", found.above, "above")))
    expected = desk.figure("fit.expected", Fraction(round(found.expected * 10), 10), "quantity", "Jobs that would lie "
                           "inside on average, were the judgement right: the sum of the exact chances, to a tenth.",
                           *believed)
    return FitSeen(inside, below, above, expected, found.verdict, len(jobs) < TO_LEAN_ON)


__all__ = ["FinishedSeen", "FitSeen", "OutOf", "OverList", "finished_of"]
