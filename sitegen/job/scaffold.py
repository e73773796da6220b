"""A new job: `job.yaml` with a blank for each value that is needed and the model's own words beside it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from sitegen.errors import UsageError
from sitegen.job.blanks import WIDE, Blanks
from sitegen.job.books import PriceBook
from sitegen.job.fields import name as short_name
from sitegen.job.form import form
from sitegen.job.grid import FIXED, NEEDED, columns
from sitegen.job.load import card
from sitegen.job.model import Job, Room, Start
from sitegen.job.parts import OPTIONS
from sitegen.job.schema import FieldOf, Kind
from sitegen.trade.kinds import TROUBLE
from sitegen.workspace import PACKAGE, Workspace, is_clone, shown

NOT_JOBS = ("towns", "states", "site", "content", "theme", "public", "archive")
"""Folders of a workspace that hold something else."""

FEED, WAIT = "front-outlets", "new meter place"
ALWAYS = frozenset({"rooms.kind", "rooms.size"})
"""May be left out in some cases only, so a new job asks for it."""
EXAMPLES: dict[str, str] = {
    "town": "pellam-ford", "address": "12 Mill Lane, Pellam Ford", "surveyed by": "Priya Dunmore",
    "version": "1", "told": "lead.child under six", "assumed": "house.built",
    "tonight": "Leave off the wall lights by the stove, their wires are cracked.",
    "not seen": "behind the kitchen cabinets", "photographs.file": "hall.jpg", "photographs.of": "the hall panel",
    "why now.asks": "Please have the old wiring repaired within 30 days.", "signs.name": "Nora Castellane",
    "signs.as": "owner", "house.built": "1912", "house.storeys": "2", "lead.free rooms": "Entry hall",
    "lead.report": "A. Tester, 2026-10-01", "start.work starts": "2027-01-29", "start.waits": "10",
    "house.ceiling": "9 ft", "house.dwellings": "1",
    "house.bare floor": "860 sq ft", "panel.rating": "60 A", "panel.spaces": "8", "panel.where": "outside",
    "panel.new rating": "200 A", "panel.new spaces": "40", "panel.clear width": "36 in", "panel.clear depth": "44 in",
    "panel.clear height": "6 ft 8 in", "loads.what": "clothes dryer", "loads.takes": "5,000 VA", "loads.count": "1",
    "measured peak": "38 A", "cannot lose power": "refrigerator", "findings.rooms": "Entry hall",
    "findings.kinds": "outlet", "findings.left": "It is a plumber's work.", "rooms.sills": "2", "rooms.basins": "1",
    "rooms.counters": "6 ft + 3 ft 6 in", "rooms.height": "8 ft", "rooms.runs": "18 ft + 9 ft",
    "rooms.openings": "3", "rooms.area cut": "72 sq in", "rooms.at": "0 ft, 14 ft", "feeds.called": "Front outlets",
    "feeds.seen": "covers off at two outlets, old wires in one", "findings.number": "1", "findings.page": "12",
    "findings.says": "Knob-and-tube conductors visible in the basement.", "rooms.room": "Entry hall",
    "rooms.part": "window wall", "rooms.floor": "1", "rooms.now": "2", "rooms.want": "3", "rooms.listed": "1",
    "rooms.opened old": "1", "rooms.opened new": "1", "rooms.feeds": FEED,
}
"""Path of a field without the names in between -> an example; a field that is not here takes its type's."""

NOTES: dict[str, str] = {
    "signs": "Copy the lines from the dash for each further person.",
    "tonight": "One dash for each thing, said calmly, with the reason.",
    "not seen": "One dash for each place. Nobody reads silence as a promise.",
    "feeds": f"Copy the lines for each feed and name it: `{FEED}` is a sample.",
    "findings": "Copy the lines from the dash for each finding; `findings: []` if there is no report.",
    "loads": "Copy the lines from the dash for each thing, with what stands on its label.",
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What the price book makes a job say: kinds of points, finds that stop work, kits by option."""

    points: tuple[str, ...]
    stops: tuple[str, ...]
    kits: Mapping[str, tuple[str, ...]]

    @staticmethod
    def by(book: PriceBook) -> Asked:
        """What this price book asks for; words of trouble are said of a room, not in the list that stops work."""
        stops = dict.fromkeys(key for case in book.cases for key in case.asked_in if key not in TROUBLE)
        kits = {option: tuple(name for name, kit in book.kits.items() if kit.option == option
                              and kit.we_would_sign_this)
                for option in OPTIONS}
        return Asked(tuple(book.rates.drops_a_point), tuple(stops), kits)


def new(workspace: Workspace, job: str, with_form: bool, base: Path) -> list[Path]:
    """Start a job and give the files written; an existing file is never written over (UsageError)."""
    allowed(workspace.home, job, with_form)
    asked = Asked.by(card(PriceBook, workspace.home / "price-book.yaml", base))
    towns = sorted(path.stem for path in (workspace.home / "towns").glob("*.yaml"))
    return write(texts(workspace.home, job, with_form, asked, towns), workspace.home / job)


def allowed(home: Path, job: str, with_form: bool) -> None:
    """Raise UsageError where a job cannot start: its name, a clone, a link, or what is there already."""
    try:
        if short_name(job) != job or job in NOT_JOBS:
            raise ValueError
    except ValueError:
        raise UsageError(f"`{job}` cannot be the name of a job. Write small letters, digits and dashes, such as "
                         f"mill-lane; not {', '.join(NOT_JOBS)}.") from None
    _refuse_clone(home, job)
    folder = home / job
    file, page = folder / "job.yaml", folder / "form.html"
    if folder.resolve().parent != home.resolve():
        raise UsageError(f"{shown(folder)} leads out of the workspace. Choose another name.")
    if file.exists() and not with_form:
        raise UsageError(f"There is a job in {shown(folder)} already. Fill in {shown(file)}, or choose another name.")
    if with_form and page.exists():
        raise UsageError(f"There is a form in {shown(page)} already. Print it, or delete it to have a new one.")


def texts(home: Path, job: str, with_form: bool, asked: Asked, towns: list[str]) -> dict[Path, str]:
    """The files of a new job that are not there yet."""
    file, made = home / job / "job.yaml", dict[Path, str]()
    if not file.exists():
        made[file] = scaffold(job, asked, towns)
    if with_form:
        made[home / job / "form.html"] = form(job, asked.points, asked.stops)
    return made


def write(files: Mapping[Path, str], folder: Path) -> list[Path]:
    """Write all files, none of them over another; when one cannot be written the others are taken away again."""
    written: list[Path] = []
    try:
        for path, text in files.items():
            path.parent.mkdir(exist_ok=True)
            with path.open("x", encoding="utf-8", newline="\n") as out:
                written.append(path)
                out.write(text)
    except OSError as error:
        for path in written:
            path.unlink()
        raise UsageError(f"{shown(folder)} cannot be written: {error.strerror}. Choose another name, or mend the "
                         "folder's permissions.") from None
    return written


def _refuse_clone(home: Path, job: str) -> None:
    """A real house never lands among files that git carries away."""
    for folder in (home.resolve(), *home.resolve().parents):
        if folder == PACKAGE.parent or is_clone(folder):
            demo = shown(folder / "proposals")
            raise UsageError(
                f"{shown(home)} lies in a clone of sitegen, and git would carry a real house away with it. Make a "
                f"workspace of your own: change into an empty folder outside the clone and run `sitegen new {job}` "
                f"there. Or copy {demo} to a folder outside the clone (`cp -r {demo} ~/firm`), put your firm in its "
                f"company.yaml, price-book.yaml and cost-book.yaml, then `sitegen new {job} --home ~/firm`.")


def scaffold(job: str, asked: Asked, towns: list[str]) -> str:
    """The text of a new `job.yaml`."""
    head = ["# A new job. Fill every blank, then `sitegen check " + job + "` names each one that is left by its line.",
            "# A field behind a # may be left out: take away the # and the space after it to use it.", ""]
    options = [{"option": option, "kit": kits[0] if (kits := asked.kits[option]) else None} for option in OPTIONS]
    start = {"job": job, "version": "1", "feeds": {FEED: None}, "options": options}
    return _Job(start, EXAMPLES, NOTES, ALWAYS, asked, towns).text(Job, head)


@dataclass(frozen=True, slots=True)
class _Job(Blanks):
    price_book: Asked = Asked((), (), {})
    towns: list[str] = field(default_factory=list)

    def before(self, part: type[BaseModel], one: FieldOf, here: str) -> Iterator[str]:
        yield from Blanks.before(self, part, one, here)
        if here == "rooms":
            yield f"# Kinds of points in the price book: {', '.join(self.price_book.points)}."
            yield "# Copy the lines from the dash for each room, and take out the kinds that are not in it."
            yield "# Or write `rooms: rooms.csv` and save a spreadsheet beside this file as CSV, one line a room:"
            yield f"# Columns: {', '.join(NEEDED)}."
            yield from _wrapped("# Columns that may be left out: ", [name for name in FIXED if name not in NEEDED])
            yield f"# Then for each kind: {', '.join(columns(list(self.price_book.points[:1]))[len(FIXED):])}."
        if here == "options":
            yield "# Kits in the price book that we would sign ourselves:"
            for option, kits in self.price_book.kits.items():
                yield f"# For {option}: {', '.join(kits) or 'none'}."

    def keys(self, part: type[BaseModel], one: FieldOf, value: Any) -> Iterable[str]:
        """The keys of a map, which the price book gives."""
        if part is Room:
            return self.price_book.points
        return (WAIT,) if part is Start else self.price_book.stops

    def hint(self, here: str, kind: Kind, one: FieldOf, value: Any) -> str:
        if here == "town" and self.towns:
            return f"there are: {', '.join(self.towns)}"
        return Blanks.hint(self, here, kind, one, value)


def _wrapped(head: str, names: Iterable[str]) -> Iterator[str]:
    """A comment with names, on as many lines as it takes."""
    yield from textwrap.wrap(f"{', '.join(names)}.", WIDE, initial_indent=head, subsequent_indent="# ",
                             break_long_words=False)


__all__ = ["Asked", "allowed", "new", "scaffold", "texts", "write"]
