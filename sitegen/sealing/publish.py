"""Publishing a job: what was handed over, sealed or readable, at a path that nobody can guess; and taking it back."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from tempfile import mkdtemp

from msgspec import Struct
from msgspec.structs import replace

from sitegen.build import hand_over, writer
from sitegen.errors import BuildError, UsageError
from sitegen.figure import Figure, Source, day_of, int_of
from sitegen.job.cards import Company
from sitegen.job.load import card as card_of
from sitegen.offer.offer import Offer
from sitegen.placing import swap
from sitegen.sealing.bundle import bundle
from sitegen.sealing.card import at_the_foot, card
from sitegen.sealing.link import draw, link
from sitegen.sealing.pages import TURN, Gate, readable, shell, withdrawn
from sitegen.sealing.register import OPEN, SEALED, Publication, read, standing, write
from sitegen.sealing.seal import seal
from sitegen.sheets.site import SiteWriter
from sitegen.workspace import CARD, Workspace, shown

PAGE = "index.html"

LIMITS = {
    False: ("Whoever has a link can read the proposal, and it may be passed on to anybody.",
            "A copy cannot be taken back, and nobody sees who looked. The key stands in the link alone and in "
            "publications.json of the job.",
            "It opens over https or from disk; over plain http browsers give no cryptography."),
    True: ("Whoever has the address can read these pages, and so can whoever runs the host.",
           "A copy cannot be taken back, and nobody sees who looked."),
}
"""What is said each time, by whether the pages are readable."""


class Wanted(Struct, frozen=True):
    """How a job is to be published: readable or sealed, at a new path or the last one, where to, and on what day."""

    day: date
    readable: bool = False
    fresh: bool = False
    at: str | None = None
    to: Path | None = None


class Published(Struct, frozen=True):
    """A publication, its link, the page that was written, whether a build would give other pages today, and the card
    to print, which there is where the address of the host is known."""

    entry: Publication
    link: str
    page: Path
    moved: bool
    card: Path | None


def publish(workspace: Workspace, folder: Path, wanted: Wanted) -> Published:
    """Publish a job; the version that stands is kept first where it was not.

    The path and the key of the last publication of the same form are used again, so that one link leads to the newest
    version; the content is sealed under a key of its own each time.  Raises Faults for a job that cannot be built.
    """
    handed, before = hand_over(workspace, folder), read(folder)
    form = OPEN if wanted.readable else SEALED
    last = next((one for one in reversed(standing(before)) if one.form == form), None)
    token, key = (draw(), None if wanted.readable else draw()) if last is None or wanted.fresh else (
        last.token, last.key)
    at = wanted.at or (before[-1].at if before else None)
    into = (wanted.to or (Path(last.to) if last else workspace.public)).resolve()
    with_words, site, dates = writer(workspace), handed.kept / "site", handed.offer.dates
    if key is None:
        files = readable(site)
        mark = handed.site
    else:
        whole = link(at, token, key)
        foot = {"code": at_the_foot(whole, with_words)} if at else {}
        made = bundle(site, with_words.text(TURN, "\n"), seen_before(handed.offer, folder.name, with_words),
                      {"job": folder.name, "version": int_of(handed.offer.head.version)}, foot)
        mark = made.fingerprint
        sealed = seal(made, key, folder.name, int_of(handed.offer.head.version))
        files = {PAGE: shell(with_words, gate_of(workspace), made, sealed).encode("utf-8")}
    _put(into, token, files)
    entry = Publication(form, token, key, at, str(into), int_of(handed.offer.head.version), mark, handed.site,
                        wanted.day, day_of(dates.prices_hold_to), day_of(dates.sign_by))
    write(folder, (*before, entry))
    if last is not None and wanted.fresh:
        withdraw(workspace, folder, wanted.day, last.token)
    printed = card(folder, link(at, token, key), handed.offer, gate_of(workspace), with_words) if at else None
    return Published(entry, link(at, token, key), into / token / PAGE, handed.moved, printed)


def withdraw(workspace: Workspace, folder: Path, day: date, token: str | None = None) -> tuple[Publication, ...]:
    """Take back what stands of a job, or one of its paths: its files go, and a page without anything of the job stays.

    Raises UsageError where nothing stands.
    """
    known = read(folder)
    gone = tuple(one for one in standing(known) if token in (None, one.token))
    if not gone:
        raise UsageError(f"Nothing of {folder.name} is published. `sitegen published` lists what is.")
    page = withdrawn(writer(workspace), gate_of(workspace)).encode("utf-8")
    for one in gone:
        _put(Path(one.to), one.token, {PAGE: page})
    taken = {id(one) for one in gone}
    write(folder, tuple(replace(one, withdrawn=day) if id(one) in taken else one for one in known))
    return gone


def gate_of(workspace: Workspace) -> Gate:
    """The firm as its card names it; raises Faults where the card is not sound."""
    return Gate.of(card_of(Company, workspace.home / CARD, Path.cwd()))


def seen_before(offer: Offer, job: str, site: SiteWriter) -> dict[str, object]:
    """What the first page says on a device that last opened an older version, by that version; none of a first one."""
    version, words = offer.head.version, site.words
    said = {}
    for before in range(1, int_of(version)):
        figure = Figure(f"sealing.opened-{before}", before, "number", "The version that this device last opened.",
                        Source("worked out", "the reader's own device"))
        next_one = before == int_of(version) - 1
        newest = words.inline("sealed.seen.next") if next_one else words.inline("sealed.seen.older")
        said[str(before)] = (f'<p class="note">{words.inline("sealed.seen", before=figure, version=version)} '
                             f'<a href="index.html#start-changes">{newest}</a></p>')
    return {"seen": said, "job": job, "version": int_of(version)} if said else {}


def _put(into: Path, token: str, files: Mapping[str, bytes]) -> None:
    """Write a folder of files so that a reader finds the old one whole or the new one whole.

    One page that replaces one page does so by a single rename; a folder takes the place of a folder.  Raises
    BuildError where something that is no publication stands in the way.
    """
    target = into / token
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise BuildError(f"{shown(target)} is in the way; move it.")
    try:
        into.mkdir(parents=True, exist_ok=True)
        beside = Path(mkdtemp(prefix=".", dir=into))
        try:
            for name, data in files.items():
                _write(beside / name, data)
            beside.chmod(0o755)
            _exchange(beside, target, tuple(files))
        finally:
            shutil.rmtree(beside, ignore_errors=True)
    except OSError as error:
        raise BuildError(f"{shown(into)} cannot be written: {error.strerror or error}.") from error


def _write(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _exchange(made: Path, target: Path, names: tuple[str, ...]) -> None:
    """Put a folder in its place; the page of a folder that holds one page is replaced by itself."""
    if not target.exists():
        (made / PAGE).parent.rename(target)
        return
    if names == (PAGE,):
        (made / PAGE).replace(target / PAGE)
        for path in target.iterdir():
            if path.name != PAGE:
                path.unlink()
        return
    if not swap(made, target):              # what was there is taken away with the folder that was made beside it
        old = made.with_name(f"{made.name}-old")
        target.rename(old)
        made.rename(target)
        shutil.rmtree(old, ignore_errors=True)


__all__ = ["Published", "Wanted", "gate_of", "publish", "seen_before", "withdraw"]
