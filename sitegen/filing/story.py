"""The life of a job as its filed records tell it: in order of the days, with the running total and what is due."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec import Struct

from sitegen.filing.bag import Entry
from sitegen.filing.filed import Job
from sitegen.filing.record import Signature
from sitegen.units import dollars


class Event(Struct, frozen=True, order=True):
    """One thing of a job: its day, its place among others of that day, and what it is."""

    day: date
    place: int
    what: str

    def __str__(self) -> str:
        return f"  {self.day}  {self.what}"


def story(jobs: Sequence[Job], today: date) -> Iterator[str]:
    """What is filed of a job, an agreement at a time, as lines for a person."""
    for job in jobs:
        record, entry = job.signed, job.agreement.entry
        standing = "cancelled" if job.cancelled else "standing"
        yield f"{record.job} version {record.version}, {standing}, {dollars(job.total)} in all"
        yield from map(str, sorted(_events(job, today)))
        if entry.honored is not None:
            yield f"  The prices had lapsed and were held to: {entry.honored}"


def _events(job: Job, today: date) -> Iterator[Event]:
    record = job.signed
    yield Event(record.signed_at.date(), 0, f"signed on {record.way} by {_who(record.signatures)}: `{record.option}`, "
                f"{dollars(record.total)}; in {job.agreement.entry.bag}")
    yield from _changes(job)
    if job.cancellation is not None and job.cancelled is not None:
        yield from _cancelled(job, today)
        return
    for day, place, what in (*_due(job), (record.cancel_by, 2, "last day to cancel")):
        yield Event(day, place, f"{what}, {'past' if day < today else 'to come'}")
    for one in record.statements:
        if one.state != "done":
            yield Event(record.work_starts, 3, f"`{one.key}` is due before this day; " + (
                "nothing filed says that it was done" if record.work_starts <= today else "to come"))


def _changes(job: Job) -> Iterator[Event]:
    """Each change order, and what the job comes to from it on."""
    for kept, one in zip(job.changes, job.orders, strict=True):
        what = "; ".join(f"{line.count} x {line.says}" for line in one.what)
        days = f", {one.added_days:+} days" if one.added_days else ""
        yield Event(one.signed_at.date(), 1, f"change order {one.number}: {what}: {dollars(one.cents)}{days}, which "
                    f"makes {dollars(one.total)}; in {kept.entry.bag}")


def _due(job: Job) -> Iterator[tuple[date, int, str]]:
    """The days that the agreement names; change orders say by how many days they moved them, not which."""
    record = job.signed
    yield record.work_starts, 4, "work starts"
    added = sum(one.added_days for one in job.orders)
    moved = f", and {added:+} days by change orders" if added else ""
    for one in record.choice["days"]:
        if one["lives"] == record.lives:
            yield date.fromisoformat(one["dead"]), 5, f"the old wires are dead{moved}"
            yield date.fromisoformat(one["finished"]), 6, f"all is finished{moved}"


def _cancelled(job: Job, today: date) -> Iterator[Event]:
    record, kept = job.cancellation, job.cancelled
    assert record is not None
    assert kept is not None
    said, last = record.said_at.date(), job.signed.cancel_by
    in_time = f"in time, by {last}" if said <= last else f"after the last day, {last}"
    reason = f"; accepted: {kept.entry.honored}" if kept.entry.honored is not None else ""
    yield Event(said, 7, f"cancelled by {record.by}, {in_time}{reason}: {record.how} In {kept.entry.bag}")
    yield Event(record.refund_by, 8, f"{dollars(record.refund)} goes back by this day, "
                f"{'past' if record.refund_by < today else 'to come'}")


def _who(signatures: Sequence[Signature]) -> str:
    return ", ".join(f"{one.name} for the company" if one.who == "firm" else one.name for one in signatures)


def listed(entry: Entry) -> str:
    """One bag as a line of a list."""
    honored = f", held to for: {entry.honored}" if entry.honored is not None else ""
    return f"{entry.bag}  {entry.job} version {entry.version}, {entry.kind}, filed {entry.day}{honored}"


__all__ = ["Event", "listed", "story"]
