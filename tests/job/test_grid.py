"""Rooms from a spreadsheet: the same job, the same checks, and faults at the spreadsheet's own lines."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from sitegen.job.document import read
from sitegen.job.grid import FIXED, MOST_LINES, NEEDED, PAIRS, columns
from sitegen.job.load import load
from sitegen.job.model import Room
from sitegen.job.outline import fields_of
from tests.helpers import JOB, demo_copy, faults, read_job

KINDS = ["outlet", "switch", "ceiling light", "wall light"]
AT = f"{JOB}/rooms.csv"
MANY = len(columns(KINDS))


def as_csv(home: Path, separator: str = ",") -> str:
    """The demo's rooms as a spreadsheet."""
    out = io.StringIO()
    names = columns(KINDS)
    write = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    write.writerow(names)
    for room in read(home / JOB / "job.yaml", "").data["rooms"]:
        cells = [room.get(name, "") for name in FIXED]
        for name in names[len(FIXED):]:
            kind, _, word = name.rpartition(" ")
            cells.append(room.get(PAIRS[word], {}).get(kind, ""))
        write.writerow(cells)
    return out.getvalue()


def with_csv(tmp_path: Path, text: str | bytes | None = None, named: str = "rooms.csv") -> Path:
    """The demo with its rooms in a spreadsheet."""
    home = demo_copy(tmp_path)
    job = home / JOB / "job.yaml"
    lines = job.read_text("utf-8").splitlines(keepends=True)
    first = lines.index("rooms:\n")
    last = next(at for at in range(first + 1, len(lines)) if not lines[at].startswith("  "))
    text = as_csv(home) if text is None else text
    job.write_text("".join([*lines[:first], f"rooms: {named}\n", *lines[last:]]), "utf-8")
    (home / JOB / "rooms.csv").write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return home


def changed(tmp_path: Path, old: str, new: str) -> Path:
    """The demo's spreadsheet with one edit, which must fit once."""
    text = as_csv(demo_copy(tmp_path / "plain"))
    assert text.count(old) == 1, (old, text.count(old))
    return with_csv(tmp_path, text.replace(old, new))


def test_columns_are_the_plain_fields_of_a_room() -> None:
    """Every field of a room that is one text has a column, and the others are the pairs; what the model needs, and
    what the checks ask of a room's first line, are the columns that may not be missing."""
    fields = list(fields_of(Room))
    assert [field.key for field in fields if field.key not in PAIRS.values()] == list(FIXED)
    assert [field.key for field in fields if field.kind.shape == "text"] == list(FIXED)
    plain = [field for field in fields if field.key in FIXED]
    says = ["left out for a further part of the same room" in field.says for field in plain]
    assert [field.key for field, part in zip(plain, says, strict=True) if field.needed or part] == list(NEEDED)


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_spreadsheet_gives_an_equal_job(tmp_path: Path, separator: str, mark: str) -> None:
    """The demo's rooms written as CSV, with comma, semicolon or tab, give the same job as its YAML."""
    plain = read_job(demo_copy(tmp_path / "plain"))
    home = with_csv(tmp_path, mark + as_csv(demo_copy(tmp_path / "again"), separator))
    assert faults(home) == []
    assert read_job(home) == plain


@pytest.mark.parametrize("cased", [str.upper, str.title, lambda name: f"  {name.replace(' ', '  ')} "])
def test_headings_may_stand_in_any_letters(tmp_path: Path, cased: Callable[[str], str]) -> None:
    """Capitals and wide spaces in the first line change nothing."""
    header, rest = as_csv(demo_copy(tmp_path / "plain")).split("\r\n", 1)
    home = with_csv(tmp_path, ",".join(map(cased, header.split(","))) + "\r\n" + rest)
    assert faults(home) == []
    assert read_job(home) == read_job(demo_copy(tmp_path / "again"))


def test_a_kind_of_point_is_spelled_as_in_the_price_book(tmp_path: Path) -> None:
    """A kind that the book writes with capitals is found from a heading in small letters, and from any other."""
    home = with_csv(tmp_path, as_csv(demo_copy(tmp_path / "plain")).replace("switch", "DIMMER"))
    for file in ("price-book.yaml", "cost-book.yaml"):
        text = (home / file).read_text("utf-8")
        (home / file).write_text(re.sub(r"\bswitch:", "Dimmer:", text), "utf-8")
    assert {kind for room in read_job(home).rooms for kind in room.now} == {*KINDS, "Dimmer"} - {"switch"}


@pytest.mark.parametrize("name", ["notes", "NOTES", "Note"])
def test_notes_are_read_over(tmp_path: Path, name: str) -> None:
    """A column of notes may hold anything, a formula too, and is no part of the job."""
    lines = as_csv(demo_copy(tmp_path / "plain")).splitlines()
    noted = [f"{name},{lines[0]}", *(f'"=odd, {at}",{line}' for at, line in enumerate(lines[1:]))]
    home = with_csv(tmp_path, "\n".join(noted))
    assert faults(home) == []
    assert read_job(home) == read_job(demo_copy(tmp_path / "again"))


def test_unicode_text_of_a_spreadsheet_program_is_read(tmp_path: Path) -> None:
    """Tabs between cells in UTF-16 with its mark, as `Unicode text` is saved, give the same job."""
    home = with_csv(tmp_path, as_csv(demo_copy(tmp_path / "plain"), "\t").encode("utf-16"))
    assert read_job(home) == read_job(demo_copy(tmp_path / "again"))


def test_the_spreadsheet_is_one_of_the_files_of_a_job(tmp_path: Path) -> None:
    """What a job was read from holds the spreadsheet too."""
    home = with_csv(tmp_path)
    assert home / JOB / "rooms.csv" in load(home, home / JOB, home).files


def test_empty_lines_and_short_lines_are_read(tmp_path: Path) -> None:
    """A line of empty cells is no room, and empty cells at the end of a line may be left out."""
    lines = as_csv(demo_copy(tmp_path / "plain")).splitlines()
    lines = [lines[0], "," * len(FIXED), *(line.rstrip(",") for line in lines[1:]), ",,", ""]
    home = with_csv(tmp_path, "\n".join(lines))
    assert read_job(home) == read_job(demo_copy(tmp_path / "again"))


@pytest.mark.parametrize(("old", "new", "says"), [
    ("15 ft x 18 ft", "15 m x 18 m", ":3: size: Got `15 m x 18 m`, needs a size in feet such as 14 ft x 16 ft. "
                                     "Write length x width, both in feet."),
    ("Study,,other habitable room,1", "Study,,other habitable room,ground",
     ":5: floor: Got `ground`, needs a whole number, 0 or more. Write plain digits, such as 4."),
    ("Study,,", ",,", ":5: room: Nothing stands here; it needs words. Write them, or leave the whole line out if it "
                        "may be left out."),
    ('"24 ft, 0 ft",2,study', '"24 ft, 0 ft",2,studdy',
     ":5: outlet feed: No feed is called `studdy`. Did you mean `study`?"),
    ('"24 ft, 0 ft",2,study,4,,', '"24 ft, 0 ft",2,study,4,3,',
     ":5: outlet listed: 3 listed of 2 in Study. A list is of points that are there; new places go under `want`."),
    ('"20 ft, 15 ft",1,bath,1,,,1,', '"20 ft, 15 ft",1,bath,1,,,2,',
     ":14: outlet new: 2 opened of 1 in Bath. No more can be opened than are there; count again."),
    ('"24 ft, 0 ft",2,', '"24 ft, 0 ft",=1+1,',
     ":5: outlet now: `=1+1` looks like a formula. Write the value itself."),
    ('"24 ft, 0 ft",2,', '"24 ft, 0 ft",+2,',
     ":5: outlet now: `+2` looks like a formula. Write the value itself."),
    ("Kitchen,,", "@Kitchen,,", ":6: room: `@Kitchen` looks like a formula. Write the value itself."),
    ("room,part", "rom,part", ":1: rom: `rom` is no column here. Did you mean `room`?"),
    ("outlet now", "outlet then", ":1: outlet then: `outlet then` is no column here. Name it like `outlet now`, with "
                                  "one of now, feed, want, listed, old, new at the end."),
    ("switch now", "outlet now", ":1: outlet now: This column stands here twice. Keep one of them."),
    ("Study,,", "Study, north,,", f":5: {MANY + 1} cells stand under {MANY} columns. Put words that hold the separator "
                                  "in quotes."),
    ("Study,,other habitable room", "Study,,", ":5: Nothing says what `Study` is used as. Add `kind:`, such as "
                                               "bedroom, kitchen or hall."),
    ("10 ft x 12 ft,1,", "10 ft x 12 ft,one,", ":5: sills: Got `one`, needs a whole number, 0 or more. Write plain "
                                               "digits, such as 4."),
    ("6 ft + 3 ft 6 in + 2 ft", "6 + 3 + 2", ":6: counters: Got `6 + 3 + 2`, needs lengths such as 12 ft + 9 ft 6 in. "
                                             "Write each with its unit."),
    ('"13 ft, 18 ft"', "13 ft", ":6: at: Got `13 ft`, needs two lengths such as 0 ft, 14 ft. Write how far from the "
                                "left and how far from the front, both in feet."),
    ("size", "how large", ":1: how large: `how large` is no column here. Name it like `outlet now`, with one of now, "
                          "feed, want, listed, old, new at the end."),
    ("Attic room,,", '"Attic room,,', ":15: The file cannot be read past this line. Look for a quote that is "
                                     "not closed, or save it again as CSV."),
])
def test_a_fault_stands_at_the_line_and_column_of_the_spreadsheet(tmp_path: Path, old: str, new: str,
                                                                  says: str) -> None:
    """What is wrong in a cell is said in the words of the YAML rooms, at the spreadsheet's line and column."""
    said = faults(changed(tmp_path, old, new))
    missing = [f"{AT}:1: size: There is no such column. Add it to the first line."] if old == "size" else []
    assert said == [f"{AT}{says}", *missing]


@pytest.mark.parametrize(("text", "says"), [
    (b"", "The file is empty. Start from an example."),
    (b"room,floor,size\nKitch\xe9n,1,9x9\n", "This is not text in UTF-8. Save the file as plain text, UTF-8."),
    (b"room,floor,size\nHa\0ll,1,9x9\n", "There is a control character in this line. Type the line again."),
    (b",,,\n", "No column has a name. Name the columns in the first line."),
    (b"room,kind,floor,size\n" + b"Hall,hall,1,9 ft x 9 ft\n" * (MOST_LINES + 1),
     f"There are {MOST_LINES + 1} lines; at most {MOST_LINES} are read. Take out what is no room."),
    (b"room,floor,size\n" + b"x" * 1_000_000, "The file holds 1,000,016 bytes; at most 1,000,000 are read. Keep "
                                              "photographs in files of their own."),
])
def test_a_spreadsheet_that_cannot_be_read_is_one_fault(tmp_path: Path, text: bytes, says: str) -> None:
    """A file that is no spreadsheet of rooms is one fault, and nothing that only follows from it is said."""
    (said,) = faults(with_csv(tmp_path, text))
    assert said.startswith(AT)
    assert said.endswith(f" {says}")


@pytest.mark.parametrize(("named", "problem"), [
    ("room.csv", "There is no file `room.csv` in the job's folder."),
    ("../company.csv", "`../company.csv` is no file inside the job's folder."),
    ("/etc/hosts.csv", "`/etc/hosts.csv` is no file inside the job's folder."),
    ("link.csv", "There is no file `link.csv` in the job's folder.")])
def test_a_spreadsheet_stands_beside_the_job(tmp_path: Path, named: str, problem: str) -> None:
    """The file is one in the job's own folder; no path and no link leads out."""
    home = with_csv(tmp_path, named=named)
    (tmp_path / "outside.csv").write_text("room,floor,size\n", "utf-8")
    (home / JOB / "link.csv").symlink_to(tmp_path / "outside.csv")
    job = (home / JOB / "job.yaml").read_text("utf-8").splitlines()
    line = job.index(f"rooms: {named}") + 1
    assert faults(home) == [f"{JOB}/job.yaml:{line}: rooms: {problem} Save the spreadsheet there as CSV, or mend its "
                            "name."]
