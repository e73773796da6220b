"""A new job: `job.yaml` with a blank for each value that is needed and the model's own words beside it.

What is needed stands as `key:` with nothing after it, so `sitegen check` names every blank by its line.  What
may be left out stands behind a `#`; taking away the `#` and the space after it is enough to use it.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel

from sitegen.errors import UsageError
from sitegen.job.fields import name as short_name
from sitegen.job.form import form
from sitegen.job.grid import columns
from sitegen.job.load import card
from sitegen.job.model import WAYS, Finding, Job, Price, PriceBook, Room
from sitegen.job.schema import FieldOf, Kind, fields_of
from sitegen.workspace import PACKAGE, Workspace, shown

NOT_JOBS = ("towns", "states", "site", "content", "theme", "public", "archive")
"""Folders of a workspace that hold something else."""

COLUMN, WIDE = 34, 116
FEED = "front-outlets"
ALWAYS = ("rooms.size",)
"""May be left out in some cases only, so a new job asks for it."""
EXAMPLES: dict[str, str] = {
    "town": "pellam-ford", "address": "12 Mill Lane, Pellam Ford", "surveyed by": "Priya Dunmore",
    "version": "1", "told": "lead.child under six", "assumed": "house.built",
    "tonight": "Leave off the wall lights by the stove, their wires are cracked.",
    "not seen": "behind the kitchen cabinets", "photographs.file": "hall.jpg", "photographs.of": "the hall panel",
    "why now.asks": "Please have the old wiring repaired within 30 days.", "signs.name": "Nora Castellane",
    "signs.as": "owner", "house.built": "1912", "house.storeys": "2", "lead.free rooms": "Entry hall",
    "lead.report": "A. Tester, 2026-10-01", "start.waits on": "the permit", "feeds.called": "Front outlets",
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
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What the price book makes a job say: kinds of points, finds that stop work, kits by way."""

    points: tuple[str, ...]
    stops: tuple[str, ...]
    kits: Mapping[str, tuple[str, ...]]

    @staticmethod
    def by(book: PriceBook) -> Asked:
        """What this price book asks for."""
        stops = dict.fromkeys(key for case in book.cases for key in case.asked_in)
        kits = {way: tuple(name for name, kit in book.kits.items() if kit.way == way and kit.we_would_sign_this)
                for way in WAYS}
        return Asked(tuple(book.rates.drops_a_point), tuple(stops), kits)


def new(workspace: Workspace, job: str, with_form: bool, base: Path) -> list[Path]:
    """Start a job and give the files written; an existing file is never written over (UsageError)."""
    try:
        if short_name(job) != job or job in NOT_JOBS:
            raise ValueError
    except ValueError:
        raise UsageError(f"`{job}` cannot be the name of a job. Write small letters, digits and dashes, such as "
                         f"mill-lane; not {', '.join(NOT_JOBS)}.") from None
    _refuse_clone(workspace.home, job)
    folder = workspace.home / job
    file, page = folder / "job.yaml", folder / "form.html"
    if folder.resolve().parent != workspace.home.resolve():
        raise UsageError(f"{shown(folder)} leads out of the workspace. Choose another name.")
    if file.exists() and not with_form:
        raise UsageError(f"There is a job in {shown(folder)} already. Fill in {shown(file)}, or choose another name.")
    if with_form and page.exists():
        raise UsageError(f"There is a form in {shown(page)} already. Print it, or delete it to have a new one.")
    asked = Asked.by(card(PriceBook, workspace.home / "price-book.yaml", base))
    towns = sorted(path.stem for path in (workspace.home / "towns").glob("*.yaml"))
    written: dict[Path, str] = {}
    if not file.exists():
        written[file] = scaffold(job, asked, towns)
    if with_form:
        written[page] = form(job, asked.points, asked.stops)
    try:
        folder.mkdir(exist_ok=True)
        for path, text in written.items():
            with path.open("x", encoding="utf-8", newline="\n") as out:
                out.write(text)
    except OSError as error:
        raise UsageError(f"{shown(folder)} cannot be written: {error.strerror}. Choose another name, or mend the "
                         "folder's permissions.") from None
    return list(written)


def _refuse_clone(home: Path, job: str) -> None:
    """A real house never lands among files that git carries away."""
    for folder in (home.resolve(), *home.resolve().parents):
        if folder == PACKAGE.parent or ((folder / "proposals" / "company.yaml").is_file()
                                        and (folder / "sitegen").is_dir()):
            raise UsageError(
                f"{shown(home)} lies in a clone of sitegen, and git would carry a real house away with it. Make a "
                f"workspace of your own: copy {shown(PACKAGE.parent / 'proposals')} to a folder outside the clone "
                f"(`cp -r {shown(PACKAGE.parent / 'proposals')} ~/firm`), put your firm in its company.yaml, "
                f"price-book.yaml and cost-book.yaml, then `sitegen new {job} --home ~/firm`.")


def scaffold(job: str, asked: Asked, towns: list[str]) -> str:
    """The text of a new `job.yaml`."""
    head = ["# A new job. Fill every blank, then `sitegen check " + job + "` names each one that is left by its line.",
            "# A field behind a # may be left out: take away the # and the space after it to use it.", ""]
    lines = (text for line in _Writer(job, asked, towns).part(Job, "", "") for text in _in_column(line))
    return "\n".join([*head, *lines]) + "\n"


@dataclass(frozen=True, slots=True)
class _Writer:
    job: str
    asked: Asked
    towns: list[str]

    def part(self, part: type[BaseModel], path: str, indent: str) -> Iterator[str]:
        for field in fields_of(part):
            lines = [*self.before(part, field, path), *self.one(part, field, path)]
            if not path and field.kind.shape != "text":
                yield ""
            yield from (indent + line if line else line for line in
                        (lines if self.asks(field, path) else [f"# {line.removeprefix('# ')}" for line in lines]))

    @staticmethod
    def asks(field: FieldOf, path: str) -> bool:
        return field.needed or f"{path}.{field.key}" in ALWAYS

    def before(self, part: type[BaseModel], field: FieldOf, path: str) -> Iterator[str]:
        if not path and field.key in NOTES:
            yield f"# {NOTES[field.key]}"
        if part is Job and field.key == "rooms":
            yield f"# Kinds of points in the price book: {', '.join(self.asked.points)}."
            yield "# Copy the lines from the dash for each room, and take out the kinds that are not in it."
            yield "# Or write `rooms: rooms.csv` and save a spreadsheet beside this file as CSV, one line a room:"
            yield f"# Columns: {', '.join(columns([]))}."
            yield f"# Then for each kind: {', '.join(columns(list(self.asked.points[:1]))[len(columns([])):])}."
        if part is Job and field.key == "ways":
            yield "# Kits in the price book that we would sign ourselves:"
            for way, kits in self.asked.kits.items():
                yield f"# For {way}: {', '.join(kits) or 'none'}."

    def one(self, part: type[BaseModel], field: FieldOf, path: str) -> Iterator[str]:
        here = f"{path}.{field.key}".lstrip(".")
        kind = field.kind
        if kind.shape == "text":
            filled = self.job if here == "job" else "1" if here == "version" else ""
            value = filled or ("" if self.asks(field, path) else self.example(here, kind))
            yield _said(f"{field.key}: {value}", field.says, "" if filled else self.hint(here, kind, field))
            return
        yield _said(f"{field.key}:", field.says, "")
        if kind.shape == "part" and kind.part:
            yield from self.part(kind.part, here, "  ")
        elif kind.shape == "list" and kind.inner and part is Job and kind.inner.part is Price:
            for way in WAYS:
                yield from _listed(self.way(way))
        elif kind.shape == "list" and kind.inner and kind.inner.part:
            yield from _listed(self.part(kind.inner.part, here, "") if field.needed else
                               self.filled(kind.inner.part, here))
        elif kind.shape == "list" and kind.inner:
            example = self.example(here, kind.inner)
            yield _said("  - " + ("" if field.needed else example), "",
                        self.hint(here, kind.inner, field))
        elif kind.inner and kind.inner.part:
            yield f"  {FEED}:"
            yield from (f"    {line}" for line in self.part(kind.inner.part, here, ""))
        elif kind.inner:
            for key in self.keys(part, field):
                yield _said(f"  {key}: " + ("" if field.needed else self.example(here, kind.inner)), "",
                            self.hint(here, kind.inner, field))

    def keys(self, part: type[BaseModel], field: FieldOf) -> tuple[str, ...]:
        """The keys of a map, which the price book or the ways give."""
        if part is Room:
            return self.asked.points
        return WAYS if part is Finding else self.asked.stops

    def way(self, way: str) -> Iterator[str]:
        kits = self.asked.kits[way]
        values = {"way": way, "kit": kits[0] if kits else ""}
        for field in fields_of(Price):
            value = values.get(field.key, "")
            yield _said(f"{field.key}: {value}", field.says, "" if value else f"such as {field.kind.example}")

    def filled(self, part: type[BaseModel], here: str) -> Iterator[str]:
        """A part that is left out as a whole, with examples in place of blanks."""
        for field in fields_of(part):
            yield _said(f"{field.key}: {self.example(f'{here}.{field.key}', field.kind)}", field.says, "")

    def example(self, here: str, kind: Kind) -> str:
        return kind.answers[0] if kind.answers else EXAMPLES.get(here, kind.example)

    def hint(self, here: str, kind: Kind, field: FieldOf) -> str:
        if kind.answers:
            usual = f"; {'yes' if field.default else 'no'} if left out" if isinstance(field.default, bool) else ""
            if all(answer in field.says for answer in kind.answers) and field.kind is kind:
                return usual.removeprefix("; ")
            return f"one of: {', '.join(kind.answers)}{usual}"
        if here == "town" and self.towns:
            return f"there are: {', '.join(self.towns)}"
        return f"such as {self.example(here, kind)}" if self.asks(field, here.rpartition(".")[0]) else ""


def _listed(lines: Iterable[str]) -> Iterator[str]:
    """Lines of a part as one item of a list."""
    first = True
    for line in lines:
        dash = first and not line.startswith("#")
        yield ("  - " if dash else "    ") + line
        first = first and not dash


def _said(start: str, says: str, hint: str) -> str:
    """`key:` and what it says, with a mark between them until the column is known."""
    comment = "; ".join(part for part in (says, hint) if part)
    return f"{start.rstrip()}\0{comment}" if comment else start.rstrip()


def _in_column(line: str) -> list[str]:
    """What a line says in a column of its own; what does not fit goes below it."""
    start, _, comment = line.partition("\0")
    if not comment:
        return [start]
    at = max(COLUMN, len(start) + 2)
    first, *more = textwrap.wrap(comment, max(WIDE - at, 40), break_long_words=False, break_on_hyphens=False)
    return [f"{start:<{at}}# {first}", *(f"{'':<{at}}# {rest}" for rest in more)]


__all__ = ["Asked", "new", "scaffold"]
