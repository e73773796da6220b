"""The ledger: one line a bag, each with the fingerprint of the line before, so that the last one stands for all.

A fingerprint is the SHA-512 of a line as it stands, without its end of line.  Whoever holds the newest one outside the
office can tell whether anything filed until then was changed, taken out, put in between or rolled back.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path

import msgspec
import rfc8785
from msgspec import Struct, to_builtins

from sitegen.errors import BuildError
from sitegen.filing import disk
from sitegen.filing.bag import Entry

NAME = "ledger.jsonl"
NOTHING = "0" * 128
"""What stands before the first line."""

MEND = "Nothing is filed until it is put back as it was written; `sitegen archive verify` says all that differs."


class Line(Struct, frozen=True, forbid_unknown_fields=True):
    """One bag: its number from 1, its folder, the SHA-512 of its tag manifest, the fingerprint of the line before."""

    number: int
    bag: str
    tagmanifest: str
    previous: str

    def written(self) -> bytes:
        """The line as it is written, without its end."""
        return rfc8785.dumps(to_builtins(self))

    @property
    def fingerprint(self) -> str:
        """What the next line, and a person outside, refers to it by."""
        return hashlib.sha512(self.written()).hexdigest()

    @classmethod
    def of(cls, entry: Entry, tagged: bytes) -> Line:
        """The line of a bag, which follows from the bag alone."""
        return cls(entry.number, entry.bag, hashlib.sha512(tagged).hexdigest(), entry.previous)


def head(lines: Sequence[Line]) -> str:
    """The fingerprint of a ledger."""
    return lines[-1].fingerprint if lines else NOTHING


def parse(data: bytes) -> tuple[list[Line], list[str]]:
    """The lines of a ledger as far as they can be read, and everything that is wrong with them."""
    lines: list[Line] = []
    wrong: list[str] = []
    if data and not data.endswith(b"\n"):
        wrong.append("its last line has no end")
    for number, text in enumerate(data.split(b"\n")[:-1] if data.endswith(b"\n") else data.split(b"\n") if data else [],
                                  1):
        try:
            line = msgspec.json.decode(text, type=Line)
        except (msgspec.MsgspecError, UnicodeDecodeError):
            wrong.append(f"line {number} cannot be read")
            continue
        if line.written() != text:
            wrong.append(f"line {number} is not spelled as we write it")
        if line.number != number:
            wrong.append(f"line {number} says that it is number {line.number}")
        if line.previous != head(lines):
            wrong.append(f"line {number} does not follow from the line before")
        lines.append(line)
    return lines, wrong


def read(archive: Path) -> list[Line]:
    """Every line of a ledger that is sound; raises BuildError for one that is not, and gives none where none is."""
    try:
        data = disk.read(archive / NAME)
    except FileNotFoundError:
        return []
    lines, wrong = parse(data)
    if wrong:
        raise BuildError(f"{disk.shown_link(archive / NAME)}: {wrong[0]}. {MEND}")
    return lines


def write(archive: Path, lines: Sequence[Line]) -> None:
    """Write a ledger whole: beside, synced, renamed, and its folder synced."""
    disk.replace(archive / NAME, b"".join(line.written() + b"\n" for line in lines))


__all__ = ["NAME", "NOTHING", "Line", "head", "parse", "read", "write"]
