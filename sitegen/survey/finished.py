"""From the file of finished jobs to the jobs that are counted."""

from __future__ import annotations

from datetime import date

from sitegen.job.finished import INSIDE, Finished, FinishedJob
from sitegen.trade.finished import Done


def finished_by(day: date, file: Finished) -> tuple[FinishedJob, ...]:
    """The jobs that were finished by a day, oldest first: a version that is sent out again keeps its counts."""
    return tuple(sorted((job for job in file.jobs if job.finished <= day), key=lambda job: job.finished))


def done(job: FinishedJob) -> Done:
    """A finished job as the trade counts it [feeds, points, drops, days]."""
    return Done(job.option, job.old_feeds, job.new_feeds, job.over_the_list, job.drops_fished, job.drops_blocked,
                frozenset(job.cases), job.days_planned, job.days_worked, job.call_backs, INSIDE[job.inside_its_range])


__all__ = ["done", "finished_by"]
