"""Two records of a job side by side, for a person: what is another in price, extras, scope, words and dates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sitegen.errors import UsageError
from sitegen.filing.filed import Filed
from sitegen.filing.record import Agreement, Cancellation, Change, Payment
from sitegen.units import dollars

NOT_THERE = "nothing"


def compare(one: Filed, other: Filed) -> Iterator[str]:
    """What differs between two records, a line each; raises UsageError for records of two jobs."""
    if one.entry.job != other.entry.job:
        raise UsageError(f"{one.entry.bag} is of {one.entry.job} and {other.entry.bag} of {other.entry.job}: two "
                         "records of one job can be compared.")
    was, now = _said(one), _said(other)
    for key in [*was, *(key for key in now if key not in was)]:
        before, after = was.get(key, NOT_THERE), now.get(key, NOT_THERE)
        if before != after:
            yield f"{key}: {before} -> {after}"


def _said(kept: Filed) -> dict[str, str]:
    """All that a record says which another can say otherwise, by what it is, in the order of a reader."""
    record = kept.read.record
    if isinstance(record, Agreement):
        return _agreement(record)
    if isinstance(record, Change):
        return _change(record)
    return _cancellation(record)


def _agreement(record: Agreement) -> dict[str, str]:
    choice = record.choice
    said = {"kind": "agreement", "version": str(record.version), "option": record.option,
            "total": dollars(record.total), "price of the option": dollars(choice["price"]),
            "the most that it can come to": _money(choice["most"])}
    said |= {f"extra {one.key}": str(one.count) for one in record.extras}
    said |= _paid(record.payments)
    said |= {f"scope: {line['name']}": f"{line['state']}, {line['says']}" for line in choice["scope"]}
    said |= {f"list: {line['room']}, {line['kind']}, {line['why']}": f"{line['count']} at {_money(line['each'])}"
             for line in choice["listed"]}
    said |= {f"can raise the price: {one['key']}": one["says"] for one in choice["rises"]}
    said |= {"how the house is lived in": record.lives, "signed": str(record.signed_at.date()),
             "last day to cancel": str(record.cancel_by), "work starts": str(record.work_starts)}
    said |= _days(choice["days"], record.lives)
    said |= {f"statement {one.key}": f"{one.says} ({one.state})" for one in record.statements}
    return {**said, "signed by": ", ".join(one.name for one in record.signatures)}


def _change(record: Change) -> dict[str, str]:
    said = {"kind": "change", "version": str(record.version), "total": dollars(record.total),
            "change order": str(record.number), "added to the price": dollars(record.cents)}
    said |= {f"changed: {one.item}": f"{one.count} x {one.says} at {dollars(one.each)}" for one in record.what}
    said |= _paid(record.payments)
    return {**said, "signed": str(record.signed_at.date()), "added days": str(record.added_days),
            "because": record.because, "signed by": ", ".join(one.name for one in record.signatures)}


def _cancellation(record: Cancellation) -> dict[str, str]:
    return {"kind": "cancellation", "version": str(record.version), "cancelled": str(record.said_at.date()),
            "how": record.how, "by": record.by, "refund": dollars(record.refund), "refund by": str(record.refund_by)}


def _paid(payments: Sequence[Payment]) -> dict[str, str]:
    return {f"paid after {one.after}": dollars(one.cents) for one in payments}


def _days(days: Sequence[Mapping[str, Any]], lives: str) -> dict[str, str]:
    found = next((one for one in days if one["lives"] == lives), None)
    return {} if found is None else {"old wires dead": found["dead"], "all finished": found["finished"]}


def _money(cents: int | None) -> str:
    return "no set sum" if cents is None else dollars(cents)


__all__ = ["compare"]
