"""What an agreement is held against before it is filed: the offer that was handed over, to the byte and to the cent.

Nothing that the record says is taken over: total, payments, statements, days and names are worked out again from
`offers/N/agreement.json`, and all that differs is said in one pass, with both figures.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from sitegen.dates.cancellation import CancelOverlay, CancelRule, last_day_to_cancel
from sitegen.dates.holidays_us import HolidayRule
from sitegen.dates.overlay import Review
from sitegen.filing import disk
from sitegen.filing.record import Agreement, Payment, Read, Signature
from sitegen.job.kept import FOLDER, read_kept
from sitegen.offer.signable import BEFORE_START, FORMAT, NAME, Choice, Signable, mark_of
from sitegen.rules.read import given
from sitegen.units import dollars
from sitegen.workspace import shown

CLOCKS_APART = timedelta(minutes=15)
"""How far the clock of a tablet may run ahead of the office's before a record counts as one of the future."""

LEAST_POINTS = 2
"""A drawn signature is a line: less is a touch by mistake."""

LAPSED = "signed_at"

Wrong = tuple[str, str]
"""Where in a record, and what is wrong there."""


class Offered(Struct, frozen=True):
    """One offer as it was handed over: its folder, what may be signed, the same as plain data, and its fingerprint."""

    folder: Path
    signable: Signable
    plain: dict[str, Any]
    sum: str


def offered(folder: Path, version: int) -> tuple[Offered | None, list[Wrong]]:
    """The kept offer of a version of a job, or why a record of it cannot be held against anything."""
    kept = folder / FOLDER / str(version)
    if not kept.is_dir() or kept.is_symlink():
        return None, [("version", f"Version {version} of {folder.name} was never kept, so that nobody was handed it.")]
    _, faults = read_kept(folder, shown(folder))
    wrong = [("version", f"{one.file}: {one.problem}") for one in faults if one.file.endswith(f"/{kept.name}")]
    try:
        data = disk.read(kept / NAME)
        signable = msgspec.json.decode(data, type=Signable)
    except FileNotFoundError:
        return None, [*wrong, ("offer", f"{shown(kept)} holds no {NAME}: it was kept before an offer could be signed.")]
    except (OSError, msgspec.MsgspecError) as error:
        return None, [*wrong, ("offer", f"{shown(kept)}/{NAME} cannot be read: {error}.")]
    return Offered(kept, signable, msgspec.json.decode(data), hashlib.sha512(data).hexdigest()), wrong


def held(read: Read, record: Agreement, offer: Offered, now: datetime, scan: bool) -> Iterator[Wrong]:
    """Everything in which an agreement is not what was offered, or is not signed as it has to be."""
    signable = offer.signable
    yield from _differs("job", record.job, signable.job)
    yield from _differs("version", record.version, signable.version)
    if signable.format != FORMAT:
        yield "offer", f"Its offer has format {signable.format}, and we can hold records against {FORMAT}."
    if record.offer != offer.sum:
        yield "offer", (f"It is of the offer {record.offer[:16]}..., and version {signable.version} as handed over is "
                        f"{offer.sum[:16]}....")
    choice = next((one for one in signable.choices if one.option == record.option), None)
    if choice is None:
        yield "option", (f"It is `{record.option}`, and the offer has "
                         f"{', '.join(one.option for one in signable.choices)}.")
    else:
        if choice.refused is not None:
            yield "option", f"The state does not allow `{record.option}`: {choice.refused}"
        yield from _money(record, choice, signable)
        yield from _chosen(read, record, choice, offer)
    yield from _statements(record, signable)
    yield from _days(record, signable)
    yield from future(read.plain, now)
    yield from _signing(record, offer, scan)


def lapsed(record: Agreement, signable: Signable) -> str | None:
    """Why the prices, or the dates, did not hold any more on the day of signing; None where both did."""
    day = record.signed_at.date()
    if day > signable.hold_to:
        return f"It was signed on {day}, and prices hold to {signable.hold_to}."
    if day > signable.sign_by:
        return f"It was signed on {day}, and its dates hold for a signature by {signable.sign_by}."
    return None


def _money(record: Agreement, choice: Choice, signable: Signable) -> Iterator[Wrong]:
    sold, added = {one.key: one for one in signable.extras}, 0
    keys = [one.key for one in record.extras]
    for key in sorted({key for key in keys if keys.count(key) > 1}):
        yield "extras", f"`{key}` stands in it twice."
    if keys != sorted(keys):
        yield "extras", f"They stand as {', '.join(keys)}, and a record has them as {', '.join(sorted(keys))}."
    for one in record.extras:
        extra = sold.get(one.key)
        if extra is None:
            yield "extras", f"It has `{one.key}`, which was not offered."
            continue
        if one.count > extra.most:
            yield "extras", f"It has {one.count} of `{one.key}`, and the offer at most {extra.most}."
        added += extra.each * one.count
    if record.total != choice.price + added:
        yield "total", f"It says {dollars(record.total)}, and the offer comes to {dollars(choice.price + added)}."
    last = len(choice.payments) - 1
    due = [Payment(one.after, one.cents + (added if i == last else 0)) for i, one in enumerate(choice.payments)]
    if record.payments != due:
        yield "payments", f"It says {paid(record.payments)}, and the offer {paid(due)}."


def paid(payments: Sequence[Payment]) -> str:
    """A plan of payments as it stands in a message."""
    return "; ".join(f"{dollars(one.cents)} after {one.after}" for one in payments) or "nothing"


def _chosen(read: Read, record: Agreement, choice: Choice, offer: Offered) -> Iterator[Wrong]:
    """The choice is copied whole, so that it is compared as plain data, field by field."""
    kept: dict[str, Any] = next(one for one in offer.plain["choices"] if one["option"] == choice.option)
    said: dict[str, Any] = read.plain["choice"]
    for key in sorted({*kept, *said}):
        if said.get(key) != kept.get(key):
            yield f"choice.{key}", f"It says {_short(said.get(key))}, and the offer {_short(kept.get(key))}."
    yield from _same("rises", [one.key for one in record.rises], [one.key for one in choice.rises])


def _statements(record: Agreement, signable: Signable) -> Iterator[Wrong]:
    yield from _same("statements", [one.key for one in record.statements], [one.key for one in signable.statements])
    shown_as = {one.key: one for one in signable.statements}
    for i, one in enumerate(record.statements):
        where, kept = f"statements[{i}]", shown_as.get(one.key)
        if kept is None:
            continue
        if one.says != kept.says:
            yield where, f"`{one.key}` says {_short(one.says)}, and was shown as {_short(kept.says)}."
        if one.state == BEFORE_START and kept.due != BEFORE_START:
            yield where, f"`{one.key}` is put off until before the start, and is owed at signing."
        if (one.state == "done") != (one.at is not None):
            yield where, f"`{one.key}` is {one.state} and has {'no' if one.at is None else 'a'} time."


def _days(record: Agreement, signable: Signable) -> Iterator[Wrong]:
    signed, copy = record.signed_at.date(), record.copy_in_hand_at.date()
    if signed < signable.prepared:
        yield LAPSED, f"It was signed on {signed}, before the offer was made on {signable.prepared}."
    yield from _differs("work_starts", record.work_starts, signable.work_starts)
    last = cancel_by(signed, copy, signable)
    if last is not None and record.cancel_by != last:
        yield "cancel_by", f"It says {record.cancel_by}, and counted from {max(signed, copy)} it is {last}."
    if lapsed(record, signable) is None and record.work_starts <= record.cancel_by:
        yield "work_starts", (f"It is {record.work_starts}, and the right to cancel ends with {record.cancel_by}: no "
                              "work before that.")
    for where, at in (("copy_in_hand_at", record.copy_in_hand_at), *_times(record)):
        if at.date() < signable.prepared:
            yield where, f"It is of {at.isoformat()}, before the offer was made on {signable.prepared}."
    for where, at in _times(record):
        if at > record.signed_at:
            yield where, f"It is of {at.isoformat()}, after the signing at {record.signed_at.isoformat()}."


def cancel_by(signed: date, copy: date, signable: Signable) -> date | None:
    """The last day to cancel; None for days that no rule of ours reaches back to, which are wrong by themselves."""
    if min(signed, copy) < signable.prepared - timedelta(366) or max(signed, copy).year > signable.hold_to.year + 50:
        return None
    overlay = CancelOverlay(signable.state.name, signable.cancel_days, False, Review())
    return last_day_to_cancel(signed, copy, given(CancelRule, "cancel"), given(HolidayRule, "holidays"), overlay).day


def _times(record: Agreement) -> Iterator[tuple[str, datetime]]:
    yield from ((f"statements[{i}].at", one.at) for i, one in enumerate(record.statements) if one.at is not None)
    yield from ((f"rises[{i}].at", one.at) for i, one in enumerate(record.rises))
    yield from ((f"signatures[{i}].at", one.at) for i, one in enumerate(record.signatures))
    if record.consent is not None:
        yield "consent.at", record.consent.at


def future(plain: Any, now: datetime, where: str = "") -> Iterator[Wrong]:
    """Every time of a record, wherever it stands, that is later than now."""
    if isinstance(plain, dict):
        for key, value in plain.items():
            place = f"{where}.{key}".lstrip(".")
            if isinstance(value, str) and (key == "at" or key.endswith("_at")):
                if msgspec.convert(value, datetime) > now + CLOCKS_APART:
                    yield place, f"It is of {value}, which is in the future."
            elif key != "choice":
                yield from future(value, now, place)
    elif isinstance(plain, list):
        for i, value in enumerate(plain):
            yield from future(value, now, f"{where}[{i}]")


def _signing(record: Agreement, offer: Offered, scan: bool) -> Iterator[Wrong]:
    signable, paper = offer.signable, record.way == "paper"
    if paper != scan:
        yield "way", ("It was signed on paper: give the scan with --paper." if paper else
                      "It was signed on a screen, so that there is no scan to file.")
    if not paper and not signable.state.open:
        yield "way", f"Signing on a screen is not open in {signable.state.name}; it takes paper."
    if not paper and record.consent is None:
        yield "consent", "Nobody agreed to a record on a screen, so that it takes paper."
    if record.consent is not None and record.consent.mark != mark_of(record.offer):
        yield "consent.mark", f"It is {record.consent.mark}, and the copy that was read has {mark_of(record.offer)}."
    yield from owners(record.signatures, signable.signers)
    yield from signed(record.signatures, ("paper",) if paper else ("drawn", "typed"))


def owners(signatures: Sequence[Signature], due: Sequence[str]) -> Iterator[Wrong]:
    """Whether every owner signed, in their order, and somebody for the company."""
    names = [one.name for one in signatures if one.who == "owner"]
    if [*map(_name, names)] != [*map(_name, due)]:
        yield "signatures", f"It is signed by {_names(names)}, and the offer names {_names(due)}."
    if not any(one.who == "firm" for one in signatures):
        yield "signatures", "Nobody signed for the company."


def signed(signatures: Sequence[Signature], ways: tuple[str, ...]) -> Iterator[Wrong]:
    """What is wrong with how signatures were given."""
    for i, one in enumerate(signatures):
        points = sum(len(stroke) for stroke in one.strokes)
        drawn = max((len(set(stroke)) for stroke in one.strokes), default=0)
        if one.by not in ways:
            yield f"signatures[{i}].by", f"It is {one.by}, and has to be {' or '.join(ways)}."
        if one.by == "drawn" and drawn < LEAST_POINTS:
            yield f"signatures[{i}].strokes", f"{one.name} drew {points} points and no line, and a signature is a line."
        if one.by != "drawn" and points:
            yield f"signatures[{i}].strokes", f"{one.name} signed {one.by} and has {points} points drawn."
        if not one.name.strip():
            yield f"signatures[{i}].name", "It has no name."


def _differs(where: str, said: object, kept: object) -> Iterator[Wrong]:
    if said != kept:
        yield where, f"It says {said}, and the offer {kept}."


def _same(where: str, said: Sequence[str], kept: Sequence[str]) -> Iterator[Wrong]:
    """Keys that have to be the same ones in the same order."""
    if missing := [one for one in kept if one not in said]:
        yield where, f"{', '.join(missing)} is missing."
    if more := [one for one in said if one not in kept]:
        yield where, f"{', '.join(more)} was never shown."
    if not missing and not more and [*said] != [*kept]:
        yield where, f"They stand as {', '.join(said)}, and were shown as {', '.join(kept)}."


def _name(text: str) -> str:
    return " ".join(text.split()).casefold()


def _names(some: Sequence[str]) -> str:
    return " and ".join(some) or "nobody"


def _short(value: object) -> str:
    text = " ".join(str(value).split())
    return f"`{text if len(text) <= 80 else f'{text[:77]}...'}`"


__all__ = ["CLOCKS_APART", "LAPSED", "Offered", "Wrong", "cancel_by", "future", "held", "lapsed", "offered", "owners",
           "paid", "signed"]
