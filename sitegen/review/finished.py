"""What finished jobs tell the office: how many there are, how the firm's judgement stood up, and the price book's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction

from sitegen.job.books import PriceBook
from sitegen.job.cards import Company, Prior
from sitegen.job.finished import Finished
from sitegen.survey.finished import done, finished_by
from sitegen.trade import finished as trade
from sitegen.trade.finished import Done

VERDICTS = {trade.FITS: "The judgement fits them.",
            trade.OFF: "That is fewer than chance explains: set the judgement anew, with a name and a day.",
            trade.WIDE: "That is more than chance explains: the judgement is wider than these jobs were."}


def told(company: Company, book: PriceBook, file: Finished) -> Iterator[str]:
    """Line by line what the office should know; all jobs of the file count, whatever their month."""
    jobs = [done(job) for job in finished_by(date.max, file)]
    if len(jobs) < trade.ENOUGH:
        yield (f"Finished jobs: {len(jobs)}. Not yet enough to count: sheets show counts from {trade.ENOUGH} on, and "
               "say until then that there are none.")
        return
    yield f"Finished jobs: {len(jobs)}. Sheets show what they say."
    yield from _judgement(company.prior, jobs)
    yield (f"Days worked over days planned: median {trade.slip(jobs, 0.5)}, P90 {trade.slip(jobs, trade.HIGH)}; "
           f"{trade.in_time(jobs)} of {len(jobs)} jobs took no more than planned.")
    for case in book.cases:
        yield (f"Case {case.key}: {trade.came_up(jobs, case.key)} of {len(jobs)} jobs; the price book has "
               f"{float(case.chance * 100):g} of 100.")


def _judgement(prior: Prior, jobs: Sequence[Done]) -> Iterator[str]:
    found = trade.fit(jobs, prior.old_feeds, prior.new_feeds)
    yield (f"Old feeds: {sum(job.old for job in jobs)} of {sum(job.old + job.new for job in jobs)}; the judgement of "
           f"{prior.by}, {prior.on.isoformat()}, starts from {_of_all(prior.old_feeds, prior.new_feeds)}.")
    yield (f"Inside P10 to P90 of that judgement, by job: {found.inside} of {len(jobs)}, {found.below} below and "
           f"{found.above} above; {found.expected:.1f} expected. {VERDICTS[found.verdict]}")
    yield (f"Blocked drops: {sum(job.blocked for job in jobs)} of {sum(job.fished for job in jobs)}; it starts from "
           f"{_of_all(prior.blocked_drops, prior.open_drops)}.")


def _of_all(some: Fraction, others: Fraction) -> str:
    return f"{float(some):g} of {float(some + others):g}"


__all__ = ["told"]
