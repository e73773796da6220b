"""The text of a new `job.yaml`: each field of the model with its own words beside it.

What is needed stands as `key:` with nothing after it, so `sitegen check` names every blank by its line.  What
may be left out stands behind a `#`; taking away the `#` and the space after it is enough to use it.  The kinds of
points, the finds that stop work and the kits come from the price book of the workspace.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct
from pydantic import BaseModel

from sitegen.job.books import PriceBook
from sitegen.job.grid import FIXED, NEEDED, columns
from sitegen.job.model import Job, Room, Start
from sitegen.job.outline import FieldOf, Kind, fields_of
from sitegen.job.parts import OPTIONS
from sitegen.trade.kinds import TROUBLE

COLUMN, WIDE = 34, 116

FEED, WAIT = "front-outlets", "new meter place"
ALWAYS = frozenset({"rooms.kind", "rooms.size"})
"""May be left out in some cases only, so a new job asks for it."""
EXAMPLES: dict[str, str] = {
    "options.payments.after": "{}",
    "town": "pellam-ford", "address": "12 Mill Lane, Pellam Ford", "surveyed by": "Priya Dunmore",
    "told": "house.built", "assumed": "loads.1.takes",
    "tonight": "Leave off the wall lights by the stove, their wires are cracked.",
    "hazards.is": "hot cover", "hazards.room": "Entry hall",
    "not seen": "behind the kitchen cabinets", "photographs.file": "hall.jpg", "photographs.of": "the hall panel",
    "photographs.finding": "3", "photographs.room": "Entry hall",
    "why now.asks": "Please have the old wiring repaired within 30 days.", "why now.before": "before winter",
    "signs.name": "Nora Castellane",
    "signs.as": "owner", "house.built": "1912", "house.storeys": "2", "lead.free rooms": "Entry hall",
    "lead.report": "A. Tester, 2026-10-01", "start.work starts": "2027-01-29", "start.waits": "10",
    "house.ceiling": "9 ft", "house.dwellings": "1",
    "house.bare floor": "860 sq ft", "panel.rating": "60 A", "panel.spaces": "8", "panel.where": "outside",
    "panel.meter wall": "the north wall, by the side door",
    "panel.new rating": "200 A", "panel.new spaces": "40", "panel.clear width": "36 in", "panel.clear depth": "44 in",
    "panel.clear height": "6 ft 8 in", "loads.what": "clothes dryer", "loads.takes": "5,000 VA", "loads.count": "1",
    "measured peak": "38 A", "cannot lose power": "refrigerator", "findings.rooms": "Entry hall",
    "findings.kinds": "outlet", "findings.left": "It is a plumber's work.", "findings.alone.price": "$260",
    "findings.alone.does": "We put a new box and a new light on the wire that is there.",
    "findings.alone.leaves": "The wire behind it stays as it is.", "rooms.sills": "2", "rooms.basins": "1",
    "rooms.counters": "6 ft + 3 ft 6 in", "rooms.height": "8 ft", "rooms.runs": "18 ft + 9 ft",
    "rooms.openings": "3", "rooms.area cut": "72 sq in", "rooms.base board off": "8 ft",
    "rooms.other work": "144 sq in", "rooms.at": "0 ft, 14 ft", "feeds.called": "Front outlets",
    "feeds.seen": "covers off at two outlets, old wires in one", "findings.number": "1", "findings.page": "12",
    "findings.says": "Knob-and-tube conductors visible in the basement.", "rooms.room": "Entry hall",
    "rooms.part": "window wall", "rooms.floor": "1", "rooms.now": "2", "rooms.want": "3", "rooms.listed": "1",
    "rooms.opened old": "1", "rooms.opened new": "1", "rooms.feeds": FEED,
    "options.kit": "one-price",
}
"""Path of a field without the names in between -> an example; a field that is not here takes its type's."""

NOTES: dict[str, str] = {
    "signs": "Copy the lines from the dash for each further person.",
    "tonight": "One dash for each thing, said calmly, with the reason.",
    "hazards": "Copy the lines from the dash for each. Sheet 1 says it tonight, with whom to call.",
    "not seen": "One dash for each place. Nobody reads silence as a promise.",
    "feeds": f"Copy the lines for each feed and name it: `{FEED}` is a sample.",
    "findings": "Copy the lines from the dash for each finding; `findings: []` if there is no report.",
    "loads": "Copy the lines from the dash for each thing, with what stands on its label.",
}


class Asked(Struct, frozen=True):
    """What the price book makes a job say: kinds of points, finds that stop work, kits by option."""

    points: tuple[str, ...]
    stops: tuple[str, ...]
    kits: Mapping[str, tuple[str, ...]]

    @staticmethod
    def by(book: PriceBook) -> Asked:
        """What this price book asks for; words of trouble are said of a room, not in the list that stops work."""
        stops = dict.fromkeys(key for case in book.cases for key in case.asked_in if key not in TROUBLE)
        options = dict.fromkeys((*(option for option in OPTIONS), *(kit.option for kit in book.kits.values())))
        kits = {option: tuple(name for name, kit in book.kits.items() if kit.option == option
                              and kit.we_would_sign_this)
                for option in options}
        return Asked(tuple(book.rates.drops_a_point), tuple(stops), kits)


def blank_job(job: str, asked: Asked, towns: list[str]) -> str:
    """The text of a new `job.yaml`."""
    head = ["# A new job. Fill every blank; `sitegen check " + job + "` says how many are left, and where.",
            "# A field behind a # may be left out: take away the # and the space after it to use it.", ""]
    options = [{"option": option, "kit": kits[0] if kits else None} for option, kits in asked.kits.items()]
    start = {"job": job, "version": "1", "feeds": {FEED: None}, "options": options}
    lines = (text for line in _Blanks(asked, towns).part(Job, "", start) for text in _in_column(line))
    return "\n".join([*head, *lines]) + "\n"


class _Blanks(Struct, frozen=True):
    """Writes the fields of a job, one part after another.

    `path` goes by the keys of fields, without the names of things in between; `start` is shaped like the file and
    holds what is known already.
    """

    asked: Asked
    towns: list[str]

    def part(self, part: type[BaseModel], path: str, start: Any) -> Iterator[str]:
        """The lines of a part, those of a field that may be left out behind a #."""
        for one in fields_of(part):
            here, value = f"{path}.{one.key}".lstrip("."), (start or {}).get(one.key)
            needed = one.needed or here in ALWAYS
            lines = [*self.before(here), *self.field(part, one, here, value, needed)]
            if not path and one.kind.shape != "text":
                yield ""
            yield from lines if needed else (f"# {line.removeprefix('# ')}" for line in lines)

    def before(self, here: str) -> Iterator[str]:
        """Lines above a field."""
        if here in NOTES:
            yield f"# {NOTES[here]}"
        if here == "rooms":
            yield f"# Kinds of points in the price book: {', '.join(self.asked.points)}."
            yield "# Copy the lines from the dash for each room, and take out the kinds that are not in it."
            yield "# Or write `rooms: rooms.csv` and save a spreadsheet beside this file as CSV, one line a room:"
            yield f"# Columns: {', '.join(NEEDED)}."
            yield from _wrapped("# Columns that may be left out: ", [name for name in FIXED if name not in NEEDED])
            yield "# A column `notes` is for you: no sheet shows it. Commas, semicolons or tabs may part the columns."
            yield f"# Then for each kind: {', '.join(columns(list(self.asked.points[:1]))[len(FIXED):])}."
        if here == "options":
            yield "# Kits in the price book that we would sign ourselves:"
            for option, kits in self.asked.kits.items():
                yield f"# For {option}: {', '.join(kits) or 'none'}."

    def field(self, part: type[BaseModel], one: FieldOf, here: str, value: Any, needed: bool) -> Iterator[str]:
        """The lines of one field, as if it were in use."""
        kind, inner = one.kind, one.kind.inner
        if kind.shape == "text":
            yield self.line(one, here, kind, value, needed, f"{one.key}: ", one.says)
            return
        yield _said(f"{one.key}:", one.says, "")
        if kind.part:
            inside = self.part(kind.part, here, value) if needed else self.filled(kind.part, here)
            yield from (f"  {line}" for line in inside)
        elif inner and inner.part and kind.shape == "map":
            for key in value:
                yield f"  {key}:"
                yield from (f"    {line}" for line in self.part(inner.part, here, None))
        elif inner and inner.part:
            for item in value or [None]:
                yield from _listed(self.part(inner.part, here, item) if needed else self.filled(inner.part, here))
        elif inner and kind.shape == "map":
            for key in self.keys(part):
                yield self.line(one, here, inner, None, needed, f"  {key}: ", "")
        elif inner:
            yield self.line(one, here, inner, None, needed, "  - ", "")

    def line(self, one: FieldOf, here: str, kind: Kind, value: str | None, needed: bool, before: str,
             says: str) -> str:
        """One value: as it is known, else a blank with a hint, else the example of what may be left out."""
        if value:
            return _said(before + value, says, "")
        hint = self.hint(here, kind, one) if needed or kind.answers or kind.some else ""
        return _said(before if needed else before + _example(here, kind), says, hint)

    def keys(self, part: type[BaseModel]) -> Iterable[str]:
        """The keys of a map of plain values, which the price book gives."""
        if part is Room:
            return self.asked.points
        return (WAIT,) if part is Start else self.asked.stops

    def filled(self, part: type[BaseModel], here: str) -> Iterator[str]:
        """A part that is left out as a whole, with examples in place of blanks."""
        for one in fields_of(part):
            yield _said(f"{one.key}: {_example(f'{here}.{one.key}', one.kind)}", one.says, "")

    def hint(self, here: str, kind: Kind, one: FieldOf) -> str:
        """What may stand in a blank."""
        if here == "options.kit":           # blank just where the price book has none for the option
            return f"the price book has no kit for it yet: add one there, such as {_example(here, kind)}"
        if here == "town" and self.towns:
            return f"there are: {', '.join(self.towns)}"
        if kind.answers:
            usual = f"; {'yes' if one.default else 'no'} if left out" if isinstance(one.default, bool) else ""
            if any(listed in one.says for listed in _options_to_list(kind.answers)) and one.kind is kind:
                return usual.removeprefix("; ")
            return f"one of: {', '.join(kind.answers)}{usual}"
        if kind.some:
            return f"any of: {', '.join(kind.some)}"
        return f"such as {_example(here, kind)}"


def _example(here: str, kind: Kind) -> str:
    return kind.example if kind.answers else EXAMPLES.get(here, kind.example)


def _options_to_list(answers: tuple[str, ...]) -> Iterator[str]:
    """How the words of a field may name all of its answers already."""
    for last in (" or ", ", or "):
        yield ", ".join(answers[:-1]) + last + answers[-1]


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


def _wrapped(head: str, names: Iterable[str]) -> Iterator[str]:
    """A comment with names, on as many lines as it takes."""
    yield from textwrap.wrap(f"{', '.join(names)}.", WIDE, initial_indent=head, subsequent_indent="# ",
                             break_long_words=False)


__all__ = ["Asked", "blank_job"]
