"""Rooms from a spreadsheet: a CSV beside the job becomes the same plain data that the model reads from YAML.

Columns are the plain fields of a room, most of which may be left out, then one for each pair such as `outlet now`;
their names may stand in capitals.  A column `notes` is for whoever walked the house: it is read over, and no sheet
shows it.  A fault in a room carries the spreadsheet's own file, line and column.
"""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePath
from typing import Any

from msgspec import field

from sitegen.errors import Fault
from sitegen.job.document import Document, Path_, spoken, text_of
from sitegen.job.fields import inside_path
from sitegen.job.model import Room

MOST_LINES = 400
NEEDED = ("room", "kind", "floor", "size")
"""What every room has to say, so a spreadsheet without the column cannot be right."""
PAIRS = {"now": "now", "feed": "feeds", "want": "want", "listed": "listed", "old": "opened old",
         "new": "opened new"}
"""Last word of a column -> the room's field that it belongs to."""
FIXED = tuple(key for name, info in Room.model_fields.items()
              if (key := info.alias or name) not in PAIRS.values())
"""The plain fields of a room, in the order of the model: all but those that have columns for each kind of point."""
WORDS = {fieldname: word for word, fieldname in PAIRS.items()}
FORMULA = ("=", "+", "@")
NOTES = ("notes", "note")
"""Columns of the surveyor's own words, which go nowhere."""

SEPARATORS = ("\t", ";", ",")
"""What may stand between cells: the first of these that the first line holds."""


class GridDocument(Document):
    """A job file whose rooms stand in a spreadsheet: faults of a room are said at its line there.

    `spoiled` holds the paths that a fault of the spreadsheet already speaks of.
    """

    grid: str = ""
    path: Path | None = None
    rows: list[int] = field(default_factory=list)
    spoiled: set[Path_] = field(default_factory=set)

    def fault(self, path: Path_, problem: str, remedy: str) -> Fault:
        """A fault at `path`, in the spreadsheet when it is of one room."""
        if len(path) > 1 and path[0] == "rooms" and isinstance(path[1], int) and path[1] < len(self.rows):
            return Fault(self.grid, self.rows[path[1]], _column(path[2:]), problem, remedy)
        return Fault(self.file, self.line(path), spoken(path), problem, remedy)


def columns(kinds: list[str]) -> list[str]:
    """The columns of a spreadsheet for these kinds of points."""
    return [*FIXED, *(f"{kind} {word}" for kind in kinds for word in PAIRS)]


def with_rooms(document: Document, folder: Path, kinds: Iterable[str] = ()) -> Document:
    """The document with the rooms of its spreadsheet, if it names one; else the document itself.

    `kinds` are the kinds of points of the price book, as they are spelled there.
    """
    named = document.data.get("rooms")
    if not isinstance(named, str) or not named.strip().lower().endswith(".csv"):
        return document
    made = GridDocument(document.file, dict(document.data), document.values, document.keys, list(document.faults))
    problem = ""
    try:
        path = folder / inside_path(named)
        if not path.is_file() or not path.resolve().is_relative_to(folder.resolve()):
            problem = f"There is no file `{named}` in the job's folder."
    except ValueError:
        problem = f"`{named[:60]}` is no file inside the job's folder."
    made.spoiled.add(("rooms",))  # until the spreadsheet has been read
    if problem:
        made.faults.append(made.fault(("rooms",), problem, "Save the spreadsheet there as CSV, or mend its name."))
        return made
    made.grid, made.path = str(PurePath(document.file).parent / PurePath(named.strip())), path
    read = Document(made.grid)
    text = text_of(path, read)
    made.faults.extend(read.faults)
    if text is not None:
        _read(text, made, {kind.lower(): kind for kind in kinds})
    return made


def _read(text: str, made: GridDocument, kinds: Mapping[str, str]) -> None:
    first = text.lstrip().split("\n", 1)[0]
    separator = next((one for one in SEPARATORS if one in first), ",")
    lines: list[tuple[int, list[str]]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    before = 0
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                lines.append((before + 1, [cell.strip() for cell in cells]))
            before = reader.line_num
    except csv.Error:
        made.faults.append(Fault(made.grid, max(before, reader.line_num), "", "The file cannot be read past this line.",
                                 "Look for a quote that is not closed, or save it again as CSV."))
        return
    if not lines:
        made.faults.append(Fault(made.grid, 1, "", "No column has a name.", "Name the columns in the first line."))
        return
    (at, written), rows = lines[0], lines[1:]
    header = [_named(name, kinds) for name in written]
    wrong = _header(made.grid, at, header)
    if len(rows) > MOST_LINES:
        wrong.append(Fault(made.grid, rows[MOST_LINES][0], "", f"There are {len(rows)} lines; at most {MOST_LINES} "
                           "are read.", "Take out what is no room."))
    for line, cells in rows:
        if len(cells) > len(header):
            wrong.append(Fault(made.grid, line, "", f"{len(cells)} cells stand under {len(header)} columns.",
                               "Put words that hold the separator in quotes."))
    made.faults.extend(wrong)
    if wrong:
        return
    made.spoiled.clear()
    made.rows = [line for line, _ in rows]
    made.data["rooms"] = [_room(i, header, cells, made) for i, (_, cells) in enumerate(rows)]


def _named(heading: str, kinds: Mapping[str, str]) -> str:
    """The column that a heading names, in whatever letters: a kind of point is spelled as in the price book."""
    name = " ".join(heading.lower().split())
    kind, _, word = name.rpartition(" ")
    if name in FIXED or name in NOTES:
        return name
    return f"{kinds.get(kind, kind)} {word}" if kind and word in PAIRS else heading


def _header(file: str, line: int, header: list[str]) -> list[Fault]:
    faults, missing = [], [name for name in NEEDED if name not in header]
    for at, name in enumerate(header):
        kind, _, word = name.rpartition(" ")
        if name in header[:at]:
            faults.append(Fault(file, line, name, "This column stands here twice.", "Keep one of them."))
        elif name not in (*FIXED, *NOTES) and not (kind and word in PAIRS):
            near = difflib.get_close_matches(name, FIXED, 1, 0.6)
            missing = [one for one in missing if one not in near]
            way_out = f"Did you mean `{near[0]}`?" if near else "Name it like `outlet now`, with one of now, feed, " \
                                                                "want, listed, old, new at the end."
            said = f"`{name[:60]}` is no column here." if name else f"Column {at + 1} has no name."
            faults.append(Fault(file, line, name[:60], said, way_out))
    return faults + [Fault(file, line, name, "There is no such column.", "Add it to the first line.")
                     for name in missing]


def _room(i: int, header: list[str], cells: list[str], made: GridDocument) -> dict[str, Any]:
    room: dict[str, Any] = {"now": {}, "feeds": {}, "want": {}}
    for name, cell in zip(header, cells + [""] * (len(header) - len(cells)), strict=False):
        if name in NOTES:
            continue
        kind, _, word = name.rpartition(" ")
        line, kind = PAIRS.get(word, ""), kind.strip()
        path: Path_ = ("rooms", i, name) if name in FIXED else ("rooms", i, line, kind)
        if cell.startswith(FORMULA):
            made.spoiled.add(path)
            made.faults.append(made.fault(path, f"`{cell[:40]}` looks like a formula.", "Write the value itself."))
        if name in ("room", "floor") or (cell and name in FIXED):
            room[name] = cell
        elif cell:
            room.setdefault(line, {})[kind] = cell
    return room


def _column(path: Path_) -> str:
    """The name of the column that a path in a room stands for."""
    if len(path) == 2 and path[0] in WORDS:
        return f"{path[1]} {WORDS[str(path[0])]}"
    return spoken(path)
