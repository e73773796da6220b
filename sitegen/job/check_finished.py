"""What the file of finished jobs says wrong, within a job and beside the price book."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.errors import Fault
from sitegen.job.inputs import Gathered
from sitegen.job.registry import is_whole, nearest, needs

LONGEST = 250
"""Days with a crew in one house that nobody has worked: a year of working days."""


@needs("finished.jobs", "book.cases")
def _cases_are_those_of_the_book(all_: Gathered) -> Iterator[Fault]:
    known = {case.key for _, case in all_.book.items("cases")}
    whole = is_whole(all_.book, "cases") and len(known) == len(all_.book["cases"])
    for i, job in all_.finished.items("jobs"):
        for j, key in enumerate(job.cases):
            if whole and key not in known:
                yield all_.finished.fault(("jobs", i, "cases", j), f"The price book has no case `{key}`.",
                                          nearest(key, known))
            if key in job.cases[:j]:
                yield all_.finished.fault(("jobs", i, "cases", j), f"`{key}` stands here twice.", "Keep one.")


@needs("company.record")
def _what_was_looked_at_is_finished(all_: Gathered) -> Iterator[Fault]:
    record = all_.company["record"]
    finished = len(all_.finished.document.data.get("jobs", []))     # one with a fault of its own is finished too
    if record is not None and record.jobs > finished:
        yield all_.company.fault(("record", "jobs"), f"{record.jobs} jobs were looked at, and finished.yaml has "
                                 f"{finished}.", "Give each finished job its block there.")


@needs("finished.jobs", "book.kits")
def _a_price_for_every_point_has_no_list(all_: Gathered) -> Iterator[Fault]:
    every = {kit.option for kit in all_.book["kits"].values() if kit.covers == "every point"}
    for i, job in all_.finished.items("jobs"):
        if job.over_the_list and job.option in every:
            yield all_.finished.fault(("jobs", i, "over the list"), "This option has no list.",
                                      "Write 0: its price is for every point.")


@needs("finished.jobs")
def _counts_of_a_job_fit(all_: Gathered) -> Iterator[Fault]:
    for i, job in all_.finished.items("jobs"):
        def fault(key: str, problem: str, remedy: str, at: int = i) -> Fault:
            return all_.finished.fault(("jobs", at, key), problem, remedy)
        if job.drops_blocked > job.drops_fished:
            yield fault("drops blocked", f"{job.drops_blocked} of {job.drops_fished} drops.",
                        "No more can have been blocked than were tried.")
        if not job.old_feeds + job.new_feeds:
            yield fault("old feeds", "A house without a feed.", "Count the feeds found old, and those found new.")
        if job.over_the_list and not job.old_feeds:
            yield fault("over the list", "Points were found old, but no feed was.", "Count the feed that they are on.")
        for key in ("days planned", "days worked"):
            if not 0 < getattr(job, key.replace(" ", "_")) <= LONGEST:
                yield fault(key, "No job takes so many days.", f"Write 1 or more, and not over {LONGEST}.")
        if job.built > job.finished.year:
            yield fault("built", "The house was built after the job was finished.", "Mend one of the two.")
