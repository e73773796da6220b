"""What an archive holds, read back: the entries in the order of the ledger, and the records of one job."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import msgspec
from msgspec import Struct

from sitegen.errors import BuildError, UsageError
from sitegen.filing import bag, disk, ledger
from sitegen.filing.bag import Entry
from sitegen.filing.record import Agreement, Cancellation, Change, Payment, Read, taken
from sitegen.filing.verify import BAGS


class Filed(Struct, frozen=True):
    """One bag: where it stands, its entry, and the record in it."""

    path: Path
    entry: Entry
    read: Read


class Job(Struct, frozen=True):
    """All that is filed of one agreement: itself, its change orders in order, and its cancellation."""

    agreement: Filed
    changes: tuple[Filed, ...] = ()
    cancelled: Filed | None = None

    @property
    def signed(self) -> Agreement:
        """The agreement as it was signed."""
        assert isinstance(self.agreement.read.record, Agreement)
        return self.agreement.read.record

    @property
    def orders(self) -> tuple[Change, ...]:
        """The change orders, the oldest first."""
        return tuple(one.read.record for one in self.changes if isinstance(one.read.record, Change))

    @property
    def cancellation(self) -> Cancellation | None:
        """How it was cancelled, None where it stands."""
        record = None if self.cancelled is None else self.cancelled.read.record
        return record if isinstance(record, Cancellation) else None

    @property
    def newest(self) -> Filed:
        """The agreement, or the last change order: what a change order changes."""
        return self.changes[-1] if self.changes else self.agreement

    @property
    def sums(self) -> tuple[str, ...]:
        """What a later record can refer to: the SHA-512 of the agreement and of each change order."""
        return tuple(one.read.sum for one in (self.agreement, *self.changes))

    @property
    def payments(self) -> list[Payment]:
        """What is paid when, as it was agreed last."""
        return self.orders[-1].payments if self.changes else self.signed.payments

    @property
    def total(self) -> int:
        """What it comes to with every change order [cents]."""
        return self.orders[-1].total if self.changes else self.signed.total


def entries(archive: Path) -> tuple[Entry, ...]:
    """Every entry in the order of the ledger; raises BuildError where one cannot be read."""
    found = []
    for line in ledger.read(archive):
        path = archive / BAGS / line.bag / bag.ENTRY
        try:
            found.append(msgspec.json.decode(disk.read(path), type=Entry))
        except (OSError, msgspec.MsgspecError) as error:
            raise BuildError(f"{disk.shown_link(path)} cannot be read: {error}. {ledger.MEND}") from error
    return tuple(found)


def filed(archive: Path, entry: Entry) -> Filed:
    """One bag with its record; raises Faults or BuildError where it cannot be read."""
    path = archive / BAGS / entry.bag
    record = path / bag.DATA / bag.RECORD
    try:
        return Filed(path, entry, taken(disk.read(record), record))
    except OSError as error:
        raise BuildError(f"{disk.shown_link(record)} cannot be read: {error.strerror}. {ledger.MEND}") from error


def jobs(archive: Path, known: Sequence[Entry], job: str) -> tuple[Job, ...]:
    """The agreements of a job, the oldest first, each with what was filed of it since."""
    found: dict[str, Job] = {}
    root: dict[str, str] = {}
    for entry in known:
        if entry.job != job:
            continue
        one = filed(archive, entry)
        record = one.read.record
        if isinstance(record, Agreement):
            found[one.read.sum], root[one.read.sum] = Job(one), one.read.sum
            continue
        if record.prior not in root:
            raise BuildError(f"{entry.bag} is of an agreement that is not filed. {ledger.MEND}")
        of = root[one.read.sum] = root[record.prior]
        if isinstance(record, Change):
            found[of] = msgspec.structs.replace(found[of], changes=(*found[of].changes, one))
        else:
            found[of] = msgspec.structs.replace(found[of], cancelled=one)
    return tuple(found.values())


def named(archive: Path, given: str) -> Filed:
    """The bag of this name or number; raises UsageError where there is none."""
    known = entries(archive)
    for entry in known:
        if given in (entry.bag, str(entry.number), f"{entry.number:05}"):
            return filed(archive, entry)
    raise UsageError(f"There is no bag `{given}`. `sitegen archive list` names all {len(known)}.")


__all__ = ["Filed", "Job", "entries", "filed", "jobs", "named"]
