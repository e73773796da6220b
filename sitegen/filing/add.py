"""Filing a record: held against all that it stands on, then put into a bag with it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

from msgspec import Struct

from sitegen.errors import UsageError
from sitegen.filing import bag, disk, held_later
from sitegen.filing.filed import Job, entries, jobs
from sitegen.filing.held import LAPSED, Offered, Wrong, held, lapsed, offered
from sitegen.filing.record import Agreement, Cancellation, Change, Read, read, refused
from sitegen.filing.store import Archive, Filed, Wanted, opened, put
from sitegen.job.document import read as read_yaml
from sitegen.job.document import taken_apart
from sitegen.workspace import CARD, Workspace, shown

SCANS = {".pdf": b"%PDF-", ".jpg": b"\xff\xd8\xff", ".jpeg": b"\xff\xd8\xff", ".png": b"\x89PNG\r\n\x1a\n",
         ".tif": b"", ".tiff": b""}
"""What a scan of a signed paper may be, and how such a file begins; a TIFF has two ways."""
MOST_SCAN = 100_000_000

BOOKS = ("company.yaml", "price-book.yaml")
"""What goes into a bag as it stands on the day of filing; what things cost the firm never does."""


class Given(Struct, frozen=True):
    """What a command gives: the record, now and the day of filing, a scan, why lapsed terms are held to."""

    record: Path
    now: datetime
    day: date
    scan: Path | None = None
    honor: str | None = None


class _Held(Struct, frozen=True):
    """What a record was held against, all that is wrong with it, and what of it only a reason lets pass."""

    wrong: tuple[Wrong, ...]
    offer: Offered | None = None
    late: Wrong | None = None


def add(workspace: Workspace, given: Given) -> Filed:
    """File one record; raises Faults with all that is wrong with it, and nothing is written."""
    found = read(given.record)
    scan = None if given.scan is None else _scan(given.scan)
    if given.honor is not None and not given.honor.strip():
        raise UsageError("--honor takes a reason, which is kept with the record.")
    with opened(workspace) as archive:
        against = _held(workspace, archive, found, given)
        wrong = [*against.wrong]
        if against.late is not None and given.honor is None:
            where, what = against.late
            wrong.append((where, f"{what} --honor \"reason\" files it all the same, with the reason."))
        if wrong:
            raise refused(given.record, wrong)
        record = found.record
        contents: dict[str, bytes | Path] = {bag.RECORD: found.canonical}
        if against.offer is not None:
            contents |= dict(_offer(against.offer)) | dict(_books(workspace, against.offer))
        if scan is not None and given.scan is not None:
            contents[f"scan{given.scan.suffix.lower()}"] = scan
        honored = None if against.late is None or given.honor is None else " ".join(given.honor.split())
        return put(archive, Wanted(record.job, record.version, record.kind, given.day, found.sum, firm_of(workspace),
                                   honored), contents)


def _held(workspace: Workspace, archive: Archive, found: Read, given: Given) -> _Held:
    record, known = found.record, entries(archive.path)
    wrong: list[Wrong] = [("", f"It is filed already, in {one.bag}.") for one in known if one.record == found.sum]
    folder = workspace.home / record.job
    if not (folder / "job.yaml").is_file() or folder.is_symlink():
        return _Held((*wrong, ("job", f"There is no job `{record.job}` in {shown(workspace.home)}.")))
    if isinstance(record, Agreement):
        offer, missing = offered(folder, record.version)
        wrong += missing
        if offer is None:
            return _Held(tuple(wrong))
        late = lapsed(record, offer.signable)
        return _Held((*wrong, *held(found, record, offer, given.now, given.scan is not None)), offer,
                     None if late is None else (LAPSED, late))
    job = next((one for one in jobs(archive.path, known, record.job) if record.prior in one.sums), None)
    if job is None:
        return _Held((*wrong, ("prior", f"No record {record.prior[:16]}... of {record.job} is filed.")))
    return _later(found, record, job, given, wrong)


def _later(found: Read, record: Change | Cancellation, job: Job, given: Given, wrong: list[Wrong]) -> _Held:
    if isinstance(record, Change):
        return _Held((*wrong, *held_later.change(found, record, job, given.now)))
    late = held_later.late(record, job)
    return _Held((*wrong, *held_later.cancellation(found, record, job, given.now)), None,
                 None if late is None else ("said_at", late))


def _offer(offer: Offered) -> Iterator[tuple[str, Path]]:
    """The offer as it was handed over, whole."""
    for path in disk.inside(offer.folder):
        if not path.is_dir():
            yield f"offer/{path.relative_to(offer.folder).as_posix()}", path


def _books(workspace: Workspace, offer: Offered) -> Iterator[tuple[str, bytes]]:
    """The cards and the price book as they stand today, and those of the town and the state of the kept job."""
    for name in BOOKS:
        if (workspace.home / name).is_file():
            yield f"books/{name}", disk.read(workspace.home / name)
    town = read_yaml(offer.folder / "job.yaml", "job.yaml").data.get("town")
    card = workspace.home / "towns" / f"{town}.yaml"
    if isinstance(town, str) and bag.SAFE.fullmatch(town) and card.is_file():
        data = disk.read(card)
        yield f"books/towns/{town}.yaml", data
        state = taken_apart(data.decode("utf-8", "replace"), card.name).data.get("state")
        of_state = workspace.home / "states" / f"{state}.yaml"
        if isinstance(state, str) and bag.SAFE.fullmatch(state) and of_state.is_file():
            yield f"books/states/{state}.yaml", disk.read(of_state)


def _scan(path: Path) -> bytes:
    """The bytes of a scan; raises UsageError for a file that is none."""
    begins = SCANS.get(path.suffix.lower())
    if begins is None:
        raise UsageError(f"{disk.shown_link(path)} is no scan: it takes {', '.join(SCANS)}.")
    try:
        if path.stat().st_size > MOST_SCAN:
            raise UsageError(f"{disk.shown_link(path)} is larger than {MOST_SCAN // 1_000_000} MB; scan it smaller.")
        data = disk.read(path)
    except OSError as error:
        raise UsageError(f"{disk.shown_link(path)} cannot be read: {error.strerror}.") from error
    if not data.startswith(begins) or not data:
        raise UsageError(f"{disk.shown_link(path)} is not what its name says; scan the paper again.")
    return data


def firm_of(workspace: Workspace) -> str:
    """The company's name as its card has it; empty where the card has none."""
    name = read_yaml(workspace.home / CARD, CARD).data.get("name")
    return name if isinstance(name, str) else ""


__all__ = ["Given", "add", "firm_of"]
