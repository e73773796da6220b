"""Whether an archive stands as it was filed: one pass of SHA-512 over every file, signatures, keys, chain and head.

Stricter than a validator of bags: nothing may be added either, in a bag or beside one, and every list is spelled as we
spell it.  It changes nothing and raises nothing: what it finds names the bag, the file and what is wrong with it.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

import msgspec
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from msgspec import Struct

from sitegen.errors import BrokenInstall
from sitegen.filing import bag, disk, keys, ledger
from sitegen.filing.bag import Entry
from sitegen.filing.ledger import Line

BAGS, INCOMING, LOCK = "bags", ".incoming", ".lock"
ROOT = (BAGS, keys.FOLDER, ledger.NAME, LOCK)
"""What stands in the top of an archive, and nothing else."""

SHORTEST = 16
"""How many signs of a fingerprint tell it from every other: 64 bits."""

UNLISTED = (bag.TAGS, bag.SIGNATURE)


class Finding(Struct, frozen=True, order=True):
    """One thing that is not as it was filed; `bag` is empty for the archive itself."""

    bag: str
    file: str
    what: str

    def __str__(self) -> str:
        return ", ".join(part for part in (self.bag, self.file) if part) + f": {self.what}"


class Report(Struct, frozen=True):
    """What a check found, over how many bags and files, and the fingerprint that the ledger ends with."""

    findings: tuple[Finding, ...]
    bags: int
    files: int
    head: str


class Checked(Struct, frozen=True):
    """One bag: its entry and tag manifest as far as they can be read, its files, and what is wrong."""

    entry: Entry | None
    tagged: bytes | None
    files: int
    findings: tuple[Finding, ...]


def verify(archive: Path, today: Ed25519PublicKey | None, head: str | None = None,
           seen: Callable[[], object] = lambda: None) -> Report:
    """Check a whole archive.  `today` is the company's key where its workspace is at hand; `head` a fingerprint that
    somebody outside the office holds; `seen` is called after each bag."""
    findings = [*strays(archive)]
    trusted, about = trusted_keys(archive, today)
    findings += about
    try:
        lines, wrong = ledger.parse(disk.read(archive / ledger.NAME))
    except FileNotFoundError:
        lines, wrong = [], ["it is missing"] if _names(archive / BAGS) else []
    except OSError as error:
        lines, wrong = [], [f"it cannot be read: {error.strerror}"]
    findings += [Finding("", ledger.NAME, what) for what in wrong]
    names, files = _names(archive / BAGS), 0
    by_bag = {line.bag: line for line in lines}
    for name in names:
        one = check(archive / BAGS / name, trusted)
        findings += [*one.findings, *_chained(name, one, by_bag.get(name))]
        files += one.files
        seen()
    findings += [Finding(line.bag, "", "it is missing, though the ledger has a line for it")
                 for line in lines if line.bag not in names]
    if head is not None and not _leads_to(head, lines):
        findings.append(Finding("", ledger.NAME, f"no line of it has the fingerprint {head[:16]}..., so that it is not "
                                "the ledger that this was taken from, or is an older state of it"))
    return Report(tuple(sorted(set(findings))), len(names), files, ledger.head(lines))


def check(path: Path, trusted: Mapping[str, Ed25519PublicKey]) -> Checked:
    """Check one bag by itself, under the keys that are trusted, by their fingerprint."""
    found: list[tuple[str, str]] = []
    sums = dict(_sums(path, "", found))
    found += _listed(path, bag.TAGS, {name: sum_ for name, sum_ in sums.items()
                                      if not name.startswith(f"{bag.DATA}/") and name not in UNLISTED}, bag.LISTED)
    found += _listed(path, bag.MANIFEST, {name: sum_ for name, sum_ in sums.items()
                                          if name.startswith(f"{bag.DATA}/")}, None)
    tagged = _read(path / bag.TAGS)
    found += _signed(path, tagged, trusted)
    if _read(path / bag.DECLARED) not in (None, bag.DECLARATION):
        found.append((bag.DECLARED, "it is not the declaration that we write"))
    entry = _entry(path, found)
    if entry is not None and entry.record != sums.get(f"{bag.DATA}/{bag.RECORD}"):
        found.append((bag.ENTRY, "it is of another record than the one in the bag"))
    return Checked(entry, tagged, len(sums), tuple(Finding(path.name, file, what) for file, what in found))


def trusted_keys(archive: Path, today: Ed25519PublicKey | None) -> tuple[dict[str, Ed25519PublicKey], list[Finding]]:
    """The keys that the key of today leads to, by fingerprint, and what is wrong with the archive's keys.

    Without the workspace at hand, the key of today is the one that no note leaves.
    """
    top, found, known = archive / keys.FOLDER, list[Finding](), dict[str, Ed25519PublicKey]()
    notes: list[keys.Rotation] = []
    for name in _names(top):
        place = f"{keys.FOLDER}/{name}"
        data = _read(top / name)
        key, note = keys.public(data or b""), _note(data or b"")
        if key is not None and name == f"{keys.fingerprint(key)}.pem":
            known[keys.fingerprint(key)] = key
        elif note is not None and name == f"{keys.NOTE}-{note.number:04}.json":
            notes.append(note)
        else:
            found.append(Finding("", place, "it is no key and no note of a change of key as we write them"))
    if today is not None:
        tip = keys.fingerprint(today)
        if tip not in known:
            found.append(Finding("", keys.FOLDER, f"the key of the workspace, {tip[:16]}..., is not in the archive"))
    else:
        tips = sorted(known.keys() - {note.old for note in notes})
        tip = tips[0] if len(tips) == 1 else ""
        if len(tips) > 1:
            found.append(Finding("", keys.FOLDER, f"{len(tips)} keys are each the newest, and one can be"))
    reached = {tip} & known.keys()
    for note in sorted(notes, key=lambda one: -one.number):
        if _holds(note, known) and note.new in reached:
            reached.add(note.old)
        else:
            found.append(Finding("", f"{keys.FOLDER}/{keys.NOTE}-{note.number:04}.json",
                                 "both keys did not sign it, or the key of today does not lead to it"))
    found += [Finding("", f"{keys.FOLDER}/{one}.pem", "the key of today does not lead to this key")
              for one in sorted(known.keys() - reached)]
    return {one: known[one] for one in reached}, found


def strays(archive: Path) -> Iterator[Finding]:
    """What stands in the top of an archive, or among its bags, and does not belong there."""
    for entry in os.scandir(archive):
        if entry.is_symlink():
            yield Finding("", entry.name, "it is a link")
        elif entry.name == INCOMING or entry.name == f".{ledger.NAME}.new":
            yield Finding("", entry.name, "it was left by a filing that was cut short; the next one clears it away")
        elif entry.name not in ROOT:
            yield Finding("", entry.name, "it does not belong in an archive")
        elif entry.name == LOCK and (not entry.is_file() or entry.stat().st_size):
            yield Finding("", entry.name, "it is not the empty file that a lock is taken on")
    if (archive / BAGS).is_dir():
        for entry in os.scandir(archive / BAGS):
            if entry.is_symlink() or not entry.is_dir():
                yield Finding("", f"{BAGS}/{entry.name}", "it is no bag")


def second_opinion(archive: Path) -> Iterator[Finding]:
    """What the bagit library says of each bag; raises BrokenInstall where it is not installed."""
    try:
        import bagit  # type: ignore[import-untyped]
    except ImportError as error:
        raise BrokenInstall("The second opinion is that of the bagit library, which is not installed here: "
                            "`pip install bagit`. Our own check needs nothing more.") from error
    for name in _names(archive / BAGS):
        try:
            bagit.Bag(str(archive / BAGS / name)).validate()
        except (bagit.BagError, OSError, ValueError) as error:
            yield Finding(name, "", f"bagit: {' '.join(str(error).split())}")


def _leads_to(head: str, lines: Sequence[Line]) -> bool:
    """Whether a line has this fingerprint, of which at least SHORTEST signs have to be given."""
    given = "".join(head.split()).lower()
    return len(given) >= SHORTEST and any(line.fingerprint.startswith(given) for line in lines)


def _chained(name: str, one: Checked, line: Line | None) -> Iterator[Finding]:
    """What is wrong between a bag and its line."""
    if line is None:
        yield Finding(name, "", "it has no line in the ledger: the ledger was cut, or filing it was cut short, which "
                      "the next filing finishes")
        return
    if one.tagged is not None and hashlib.sha512(one.tagged).hexdigest() != line.tagmanifest:
        yield Finding(name, bag.TAGS, "it is not the one that the ledger has a line for")
    if one.entry is not None and (one.entry.number, one.entry.previous) != (line.number, line.previous):
        yield Finding(name, bag.ENTRY, "its place in the chain is another than the ledger's")


def _sums(top: Path, inner: str, found: list[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """The SHA-512 of every file, by its path in the bag."""
    count = 0
    for entry in os.scandir(top):
        count += 1
        name = f"{inner}{entry.name}"
        if entry.is_symlink():
            found.append((name, "it is a link"))
        elif entry.is_dir():
            yield from _sums(Path(entry.path), f"{name}/", found)
        elif not entry.is_file():
            found.append((name, "it is no file"))
        else:
            try:
                with open(entry.path, "rb", buffering=0) as file:   # noqa: PTH123 - half the time of Path.open
                    yield name, hashlib.sha512(file.readall()).hexdigest()
            except OSError as error:
                found.append((name, f"it cannot be read: {error.strerror}"))
    if not count:
        found.append((inner.rstrip("/") or ".", "it is an empty folder"))


def _listed(path: Path, manifest: str, sums: Mapping[str, str], must: tuple[str, ...] | None
            ) -> Iterator[tuple[str, str]]:
    """Where a manifest and the files that it is of differ."""
    data = _read(path / manifest)
    if data is None:
        yield manifest, "it is missing"
        return
    if data == bag.lines(sums) and (must is None or sorted(sums) == sorted(must)):
        return
    noted = dict[str, str]()
    for text in data.decode("utf-8", "replace").splitlines():
        sum_, gap, name = text.partition("  ")
        if gap and name not in noted:
            noted[name] = sum_
    differing = [(name, "it is missing" if name not in sums else f"{manifest} does not list it" if name not in noted
                  else "it was changed, or its line in the manifest was")
                 for name in sorted({*noted, *sums, *(must or ())}) if noted.get(name) != sums.get(name)]
    yield from differing
    if must is not None:
        yield from ((name, "it does not belong in a bag") for name in sorted(sums.keys() - {*must}))
        yield from ((name, "it is missing") for name in sorted({*must} - sums.keys()) if name not in noted)
    if data != bag.lines(noted):
        yield manifest, "it is not spelled as we write it"


def _signed(path: Path, tagged: bytes | None, trusted: Mapping[str, Ed25519PublicKey]) -> Iterator[tuple[str, str]]:
    key, signature = keys.public(_read(path / bag.SIGNED_BY) or b""), _read(path / bag.SIGNATURE)
    if key is None:
        yield bag.SIGNED_BY, "it is no public key as we write one"
    elif keys.fingerprint(key) not in trusted:
        yield bag.SIGNED_BY, f"it is signed with a key that is none of the company's, {keys.fingerprint(key)[:16]}..."
    if signature is None:
        yield bag.SIGNATURE, "it is missing"
    elif key is not None and tagged is not None and not keys.holds(key, signature, tagged):
        yield bag.SIGNATURE, f"it does not hold for {bag.TAGS}"


def _entry(path: Path, found: list[tuple[str, str]]) -> Entry | None:
    data = _read(path / bag.ENTRY)
    if data is None:
        return None
    try:
        entry = msgspec.json.decode(data, type=Entry)
    except (msgspec.MsgspecError, UnicodeDecodeError):
        found.append((bag.ENTRY, "it cannot be read"))
        return None
    if entry.written() != data:
        found.append((bag.ENTRY, "it is not spelled as we write it"))
    if entry.bag != path.name:
        found.append((bag.ENTRY, f"it is the entry of {entry.bag}"))
    return entry


def _note(data: bytes) -> keys.Rotation | None:
    try:
        note = msgspec.json.decode(data, type=keys.Rotation)
        return note if note.written() == data else None
    except (msgspec.MsgspecError, UnicodeDecodeError):
        return None


def _holds(note: keys.Rotation, known: Mapping[str, Ed25519PublicKey]) -> bool:
    try:
        return all(one in known and keys.holds(known[one], bytes.fromhex(by), note.signed())
                   for one, by in ((note.old, note.by_old), (note.new, note.by_new)))
    except ValueError:
        return False


def _names(top: Path) -> list[str]:
    """What stands in a folder, by name; nothing where it is none.  A link is never followed."""
    if top.is_symlink() or not top.is_dir():
        return []
    of_bags = top.name == BAGS
    return sorted(one.name for one in os.scandir(top)
                  if not one.is_symlink() and (one.is_dir() if of_bags else True))


def _read(path: Path) -> bytes | None:
    try:
        return disk.read(path)
    except OSError:
        return None


__all__ = ["BAGS", "INCOMING", "LOCK", "ROOT", "Checked", "Finding", "Report", "check", "second_opinion", "strays",
           "trusted_keys", "verify"]
