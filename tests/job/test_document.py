"""A file as plain text values with lines: what is no plain form is refused, fast and in one message."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from sitegen.job.document import MOST_BYTES, MOST_VALUES, read, spoken
from tests.helpers import BadJob, bad_jobs, demo_copy, faults

BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 12))
NOT_PLAIN = "Write the value out; put it in quotes if it starts with & * or !."
EXAMPLE = "Start again from an example job."
LARGE = (b"[" * 200_000, b"{a: " * 200_000, b"- " * 200_000, b"a: " * 200_000, b"? " * 200_000, b"'" * 200_000,
         b"&a " * 200_000, b"!" * 200_000, b"k: [" + b"x, " * 200_000 + b"]",
         b"\n".join(b"%d: x" % n for n in range(90_000)))
"""Texts within the size of a file that a careless reader would take minutes over; the bench times them."""

WHOLE_FILES: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "job.yaml: The file is empty. Start from an example."),
    "blank": (b"\n  \n", "job.yaml: The file is empty. Start from an example."),
    "comment": (b"# a note\n", f"job.yaml:1: The file must be lines of the form `key: value`. {EXAMPLE}"),
    "words": (b"hello\n", f"job.yaml:1: The file must be lines of the form `key: value`. {EXAMPLE}"),
    "list": (b"- a\n- b\n", f"job.yaml:1: The file must be lines of the form `key: value`. {EXAMPLE}"),
    "binary": (b"job: x\n\xff\xfe\n", "job.yaml:2: This is not text in UTF-8. Save the file as plain text, UTF-8."),
    "nul": (b"job: x\na: b\0\n", "job.yaml:2: There is a control character in this line. Type the line again."),
    "brackets": (b"[" * 200_000, "job.yaml:1: Lists stand inside lists too deep. Nothing here needs more than 12 "
                                 "levels."),
    "odd key": (b"? [a, b]\n: c\n", "job.yaml:1: A key must be plain words. Write `key: value`."),
}


def said(path: Path, data: bytes) -> list[str]:
    """Every fault of one file."""
    path.write_bytes(data)
    return [str(fault) for fault in read(path, "job.yaml").faults]


@pytest.mark.parametrize("bad", bad_jobs("syntax.yaml"), ids=lambda bad: bad.name)
def test_the_whole_message_is_said_at_the_right_line(tmp_path: Path, bad: BadJob) -> None:
    """A form that is no plain YAML gets exactly these messages, at the line, and no others."""
    home = demo_copy(tmp_path)
    bad.make(home)
    assert sorted(faults(home)) == sorted(bad.expected(home))


@pytest.mark.parametrize("name", WHOLE_FILES)
def test_what_is_no_form_is_refused(tmp_path: Path, name: str) -> None:
    """An empty, binary or shapeless file is one fault that says what to do."""
    data, says = WHOLE_FILES[name]
    assert said(tmp_path / "job.yaml", data) == [says]


def test_a_file_of_50_megabytes_is_never_read(tmp_path: Path) -> None:
    """A file far too large is refused by its size, at once."""
    path = tmp_path / "job.yaml"
    with path.open("wb") as file:
        file.truncate(50 * 1024 * 1024)
    assert [str(fault) for fault in read(path, "job.yaml").faults] == [
        "job.yaml: The file holds 52,428,800 bytes; at most 1,000,000 are read. Keep photographs in files of their "
        "own."]


def test_a_file_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    """A missing file, and a folder of its name, are faults and no exceptions."""
    says = ["job.yaml: There is no such file, or it cannot be read. Make it, or mend its name or its permissions."]
    assert [str(fault) for fault in read(tmp_path / "job.yaml", "job.yaml").faults] == says
    assert [str(fault) for fault in read(tmp_path, "job.yaml").faults] == says


class Reads:
    """What is asked of the YAML library: events one by one, and whole trees, in which an alias would grow."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.events, self.trees = 0, 0
        parse, compose = yaml.parse, yaml.compose

        def parsed(*given: Any, **named: Any) -> Any:
            for event in parse(*given, **named):
                self.events += 1
                yield event

        def composed(*given: Any, **named: Any) -> Any:
            self.trees += 1
            return compose(*given, **named)
        patch.setattr(yaml, "parse", parsed)
        patch.setattr(yaml, "compose", composed)


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> Reads:
    """A count of what one file costs to read."""
    return Reads(monkeypatch)


def test_aliases_without_end_are_refused_at_once(tmp_path: Path, reads: Reads) -> None:
    """An alias bomb never grows: no tree is made of it, and each anchor and each alias is a fault of its line."""
    found = said(tmp_path / "job.yaml", BOMB.encode())
    assert reads.trees == 0
    assert reads.events < len(BOMB)
    assert found[0] == f"job.yaml:1: `&a0` names a part of the file to be used again. {NOT_PLAIN}"
    assert found[2] == f"job.yaml:2: `*a0` points at another part of the file. {NOT_PLAIN}"
    assert len(found) < 200


@pytest.mark.parametrize("data", LARGE)
def test_no_text_stalls_the_reader(tmp_path: Path, data: bytes, reads: Reads) -> None:
    """Whatever stands in a file within its size, the reader stops after so many keys and values, and says why."""
    assert len(data) < MOST_BYTES
    assert said(tmp_path / "job.yaml", data) != []
    assert reads.events <= MOST_VALUES + 2


def test_every_value_stays_text(tmp_path: Path) -> None:
    """No scalar is turned into a number, a date or a truth value by the reader."""
    path = tmp_path / "job.yaml"
    path.write_text("a: no\nb: 12:30\nc: 010\nd: 2026-01-01\ne: null\nf: [1, 2.5]\n", "utf-8")
    assert read(path, "job.yaml").data == {"a": "no", "b": "12:30", "c": "010", "d": "2026-01-01", "e": "null",
                                           "f": ["1", "2.5"]}


def test_every_value_has_its_line(tmp_path: Path) -> None:
    """The line of a value is that of its key; of what is not there, that of what is around it."""
    path = tmp_path / "job.yaml"
    path.write_text("\ufeffa: 1\nrooms:\n  - room: Hall\n    now: {outlet: 1}\n  - room: Bath\n", "utf-8")
    document = read(path, "job.yaml")
    assert document.faults == []
    assert document.line(("a",)) == 1
    assert document.line(("rooms", 0, "now", "outlet")) == 4
    assert document.line(("rooms", 1, "room")) == 5
    assert document.line(("rooms", 1, "size")) == 5
    assert document.line(("nothing",)) == 1
    assert spoken(("rooms", 1, "opened old", "outlet")) == "rooms[2].opened old.outlet"


def test_windows_line_ends_are_read(tmp_path: Path) -> None:
    """A file saved with carriage returns is the same file."""
    path = tmp_path / "job.yaml"
    path.write_bytes(b"a: 1\r\nb:\r\n  - c\r\n")
    assert read(path, "job.yaml").data == {"a": "1", "b": ["c"]}
