"""What a change order and a cancellation are held against: the agreement that they name, and what was filed of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

import msgspec

from sitegen.dates.cancellation import CancelRule, refund_by
from sitegen.dates.holidays_us import HolidayRule
from sitegen.filing import bag, disk
from sitegen.filing.filed import Job
from sitegen.filing.held import Wrong, future, owners, paid, signed
from sitegen.filing.record import Cancellation, Change, Payment, Read
from sitegen.offer.signable import NAME, Signable
from sitegen.rules.read import given
from sitegen.units import dollars

EARLIEST = 2000
"""No refund is counted from before this year: a record of one is wrong by itself."""


def change(read: Read, record: Change, job: Job, now: datetime) -> Iterator[Wrong]:
    """Everything in which a change order does not follow from the agreement and the orders before it."""
    yield from _of(record, job)
    if job.cancelled is not None:
        yield "prior", f"The agreement was cancelled, in {job.cancelled.entry.bag}."
    if record.prior != job.newest.read.sum:
        yield "prior", f"It changes {record.prior[:16]}..., and the last is {job.newest.read.sum[:16]}... in " + (
            f"{job.newest.entry.bag}.")
    if record.option != job.signed.option:
        yield "option", f"It is `{record.option}`, and `{job.signed.option}` was signed."
    if record.number != len(job.changes) + 1:
        yield "number", f"It is number {record.number}, and {len(job.changes)} were filed before it."
    for i, one in enumerate(record.what):
        if one.cents != one.count * one.each:
            yield f"what[{i}].cents", (f"It says {dollars(one.cents)}, and {one.count} at {dollars(one.each)} are "
                                       f"{dollars(one.count * one.each)}.")
    yield from _prices(record, job)
    cents = sum(one.count * one.each for one in record.what)
    if record.cents != cents:
        yield "cents", f"It says {dollars(record.cents)}, and its lines come to {dollars(cents)}."
    if record.total != job.total + cents:
        yield "total", f"It says {dollars(record.total)}, and {dollars(job.total)} before it come to " + (
            f"{dollars(job.total + cents)}.")
    if record.total < 0:
        yield "total", f"It says {dollars(record.total)}, and nobody pays less than nothing."
    due = [*job.payments[:-1], Payment(job.payments[-1].after, job.payments[-1].cents + cents)]
    if record.payments != due:
        yield "payments", f"It says {paid(record.payments)}, and with its price on the last they are {paid(due)}."
    before = job.orders[-1].signed_at if job.changes else job.signed.signed_at
    if record.signed_at < before:
        yield "signed_at", f"It is of {record.signed_at.isoformat()}, before {before.isoformat()} which it changes."
    yield from future(read.plain, now)
    yield from signed(record.signatures, ("drawn", "typed", "paper"))
    for i, signature in enumerate(record.signatures):
        if signature.at > record.signed_at:
            yield f"signatures[{i}].at", f"It is of {signature.at.isoformat()}, after {record.signed_at.isoformat()}."
    yield from owners(record.signatures, [one.name for one in job.signed.signatures if one.who == "owner"])


def cancellation(read: Read, record: Cancellation, job: Job, now: datetime) -> Iterator[Wrong]:
    """Everything in which a cancellation does not follow from the agreement; whether it came in time is `late`."""
    yield from _of(record, job)
    if job.cancelled is not None:
        yield "prior", f"The agreement was cancelled already, in {job.cancelled.entry.bag}."
    if record.said_at < job.signed.signed_at:
        yield "said_at", (f"It is of {record.said_at.isoformat()}, before the signing at "
                          f"{job.signed.signed_at.isoformat()}.")
    if record.refund > job.total:
        yield "refund", f"It says {dollars(record.refund)}, more than the total of {dollars(job.total)}."
    last = refund_day(record.said_at.date())
    if last is not None and record.refund_by != last:
        yield "refund_by", f"It says {record.refund_by}, and counted from {record.said_at.date()} it is {last}."
    yield from future(read.plain, now)
    yield from signed(record.signatures, ("drawn", "typed", "paper"))


def late(record: Cancellation, job: Job) -> str | None:
    """Why a cancellation is none by right; None where it came in time."""
    day = record.said_at.date()
    if day <= job.signed.cancel_by:
        return None
    return f"It was said on {day}, and the last day to cancel was {job.signed.cancel_by}."


def refund_day(said: date) -> date | None:
    """The last day for giving back what was paid."""
    if not EARLIEST <= said.year < date.max.year:
        return None
    return refund_by(said, given(CancelRule, "cancel"), given(HolidayRule, "holidays"))


def _prices(record: Change, job: Job) -> Iterator[Wrong]:
    """An extra that was offered has its price of then; what the offer has no set price for is agreed by signing."""
    data = disk.read(job.agreement.path / bag.DATA / "offer" / NAME)
    sold = {one.key: one.each for one in msgspec.json.decode(data, type=Signable).extras}
    for i, one in enumerate(record.what):
        if abs(one.each) != sold.get(one.item, abs(one.each)):
            yield f"what[{i}].each", (f"It says {dollars(one.each)} for `{one.item}`, and the offer "
                                      f"{dollars(sold[one.item])}.")


def _of(record: Change | Cancellation, job: Job) -> Iterator[Wrong]:
    if record.version != job.signed.version:
        yield "version", f"It says {record.version}, and the agreement is of version {job.signed.version}."


__all__ = ["cancellation", "change", "late", "refund_day"]
