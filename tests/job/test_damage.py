"""Damaged files: whatever is done to a file of a workspace, reading it ends in faults that help, or in sound inputs."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from sitegen.errors import Fault, Faults
from sitegen.job import load
from sitegen.job.document import BREAK, Document
from tests.helpers import JOB, JOB_FILE, demo_copy

FILES = (JOB_FILE, "price-book.yaml", "company.yaml", "towns/pellam-ford.yaml", "states/tessamin.yaml",
         "cost-book.yaml")
EACH = 100
"""Damaged copies of each file; the number of a copy is its seed, so that a failure can be made again."""

NASTY = (
    "", " ", "~", "null", "no", "yes", "0", "-1", "-$5", "$0", "$999999999", "$1,00", "1e999", "NaN", ".inf",
    "0x10", "9" * 400, "x" * 3_000, "\u202e\u0664", "\ud7ff", "\U0001f525" * 50, "é", "'", '"', "`", "``", "[", "]",
    "{", "}", "{}", "[]", "[[]]", "{a: b}", "[a, {b: c}]", "&a b", "*a", "!!int 3", "!x y", "|", ">", ">-", "- a",
    "? a", "a: b", "a: b: c", "# gone", "---", "...", "%YAML 1.1", "<<", "=", "@x", "2026-02-30", "0001-01-01",
    "9999-12-31", "12:30", "0 of 5", "7 of 5", "5/0", "0/1", "999999/1", "0 ft x 0 ft", "999 ft x 999 ft",
    "1 sq ft", "../../etc/passwd", "rooms.csv", "../rooms.csv", ".csv", "con", "a" * 61, "a-b", "per-item", "us",
    "part", "old", "none", "nobody", "not seen", "{x}", "%s", "\\0", '"\\ud800"', '"\\x00"', "\t", "a\tb", "\x0b",
    "\x85", "\u2028")
PLAIN = tuple(text for text in NASTY if not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f]", text))
"""The nasty values that can be written as YAML text at all."""


def _lines(text: str, rng: random.Random, change: Callable[[list[str], int], None]) -> bytes:
    lines = text.splitlines(keepends=True)
    for _ in range(rng.choice((1, 1, 1, 2, 5))):
        if len(lines) > 1:
            change(lines, rng.randrange(len(lines)))
    return "".join(lines).encode()


def flipped(text: str, rng: random.Random) -> bytes:
    """Some bits are turned over, wherever they stand."""
    data = bytearray(text.encode())
    for _ in range(rng.choice((1, 1, 2, 8, 60))):
        data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    return bytes(data)


def replaced(text: str, rng: random.Random) -> bytes:
    """A few characters are others, of those that mean something in a form."""
    data = list(text)
    for _ in range(rng.choice((1, 1, 2, 6))):
        data[rng.randrange(len(data))] = rng.choice(":-#{}[],'\"|>&*!%@`?\n\t $.0~=\r\x85\u2028")
    return "".join(data).encode()


def cut(text: str, rng: random.Random) -> bytes:
    """The file ends early, or begins late, or a piece is missing."""
    a, b = sorted((rng.randrange(len(text)), rng.randrange(len(text))))
    return rng.choice((text[:a], text[a:], text[:a] + text[b:], text[a:b])).encode()


def dropped(text: str, rng: random.Random) -> bytes:
    """Lines are missing."""
    return _lines(text, rng, lambda lines, at: lines.__delitem__(at))


def doubled(text: str, rng: random.Random) -> bytes:
    """Lines stand twice, one below the other or anywhere."""
    return _lines(text, rng, lambda lines, at: lines.insert(rng.choice((at, rng.randrange(len(lines)))), lines[at]))


def swapped(text: str, rng: random.Random) -> bytes:
    """Lines stand in each other's place."""
    def change(lines: list[str], at: int) -> None:
        other = rng.choice((max(at - 1, 0), rng.randrange(len(lines))))
        lines[at], lines[other] = lines[other], lines[at]
    return _lines(text, rng, change)


def indented(text: str, rng: random.Random) -> bytes:
    """Lines are set in too far or not far enough, some with a tab."""
    def change(lines: list[str], at: int) -> None:
        lines[at] = rng.choice(("", " ", "  ", "   ", "    ", "      ", "\t", "  - ", "- ")) + lines[at].lstrip(" -")
    return _lines(text, rng, change)


def valued(text: str, rng: random.Random) -> bytes:
    """Values are others, as text in the place of the old one."""
    def change(lines: list[str], at: int) -> None:
        lines[at] = re.sub(r"(?<=[:-] )\S.*", lambda _: rng.choice(NASTY), lines[at], count=1)
    return _lines(text, rng, change)


def _places(value: Any) -> Iterator[tuple[Any, Any]]:
    """Every place of a value: what holds it, and its key or number there."""
    entries: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in entries:
        yield value, key
        yield from _places(item)


def _deep(depth: int, rng: random.Random) -> Any:
    made: Any = "x"
    for _ in range(depth):
        made = rng.choice(([made], {"a": made}, [made, made] if depth < 8 else [made]))
    return made


def _other_shape(old: Any, rng: random.Random) -> Any:
    if isinstance(old, dict):
        return rng.choice((list(old.values()), list(old), [old], {}, "x", [[key, item] for key, item in old.items()]))
    if isinstance(old, list):
        return rng.choice(({str(i): item for i, item in enumerate(old)}, [], {}, [old], old + old, old[::-1], "x"))
    return rng.choice(([old], {str(old): old}, [[old]], {"": old}, [], {}))


def reshaped(text: str, rng: random.Random) -> bytes:
    """Lists stand for maps and maps for lists, keys have other names, and things hang too deep."""
    data = yaml.load(text, Loader=yaml.BaseLoader)
    for _ in range(rng.choice((1, 1, 1, 2, 4, 12))):
        places = list(_places(data))
        if not places:
            break
        holder, key = rng.choice(places)
        what = rng.randrange(6)
        if what == 0:
            holder[key] = rng.choice(PLAIN)
        elif what == 1:
            holder[key] = _deep(rng.choice((1, 2, 5, 10, 14, 40)), rng)
        elif what == 2:
            del holder[key]
        elif what == 3 and isinstance(holder, dict):
            new = rng.choice((key + "s", key[:-1], key.upper(), key.replace(" ", "_"), "", "0", rng.choice(PLAIN)))
            kept = {new if old == key else old: item for old, item in holder.items()}
            holder.clear()
            holder.update(kept)
        elif what == 4:
            _, (other, place) = key, rng.choice(places)
            holder[key] = yaml.load(yaml.safe_dump(other[place]), Loader=yaml.BaseLoader)
        else:
            holder[key] = _other_shape(holder[key], rng)
    flow = rng.choice((None, False))
    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True, default_flow_style=flow).encode()


DAMAGES = (flipped, replaced, cut, dropped, doubled, swapped, indented, valued, reshaped, reshaped)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demo for all damages, mended after each."""
    return demo_copy(tmp_path_factory.mktemp("damage"))


def wrong_with(fault: Fault, home: Path) -> list[str]:
    """What keeps a fault from helping whoever reads it."""
    path = home / fault.file
    text = path.read_bytes().decode("utf-8", "replace") if path.is_file() else ""
    most = len(BREAK.split(text))
    wrong = []
    if not fault.file.endswith((".yaml", ".csv")):
        wrong.append("it names no file")
    if not 0 <= fault.line <= most or (fault.line and not text):
        wrong.append(f"line {fault.line} of {most}")
    for said in (fault.problem, fault.remedy):
        if not re.search(r"\w.*[.?!]$", said):
            wrong.append(f"no sentence: {said!r}")
    if not str(fault).isprintable() or len(str(fault)) > 1_500:
        wrong.append(f"not one line for a terminal: {str(fault)[:200]!r}, {len(str(fault))} characters")
    return wrong


def outcome(home: Path) -> tuple[str, list[str]]:
    """How reading the demo's job ends, and what is wrong with that."""
    try:
        made = load.load(home, home / JOB, home)
    except Faults as error:
        wrong = [f"{fault}: {why}" for fault in error.faults for why in wrong_with(fault, home)]
        return "faults", wrong if error.faults else ["faults without a fault"]
    except Exception as error:
        return "crash", [f"{type(error).__name__}: {error}"]
    return "sound", [] if isinstance(made, load.Inputs) else ["no inputs"]


@pytest.mark.parametrize("file", FILES)
def test_only_helpful_faults_or_sound_inputs_come_of_damage(file: str, home: Path,
                                                            monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing but faults with file, line, problem and remedy, or sound inputs, comes of a damaged file."""
    text, read, kept = (home / file).read_text("utf-8"), load.read, dict[Path, Document]()

    def read_once(path: Path, shown: str) -> Document:
        if path == home / file or not path.is_file():
            return read(path, shown)
        return kept[path] if path in kept else kept.setdefault(path, read(path, shown))
    monkeypatch.setattr(load, "read", read_once)
    wrong, ends = list[str](), list[str]()
    for number in range(EACH):
        rng, damage = random.Random(f"{file} {number}"), DAMAGES[number % len(DAMAGES)]
        (home / file).write_bytes(damage(text, rng))
        end, found = outcome(home)
        ends.append(end)
        wrong.extend(f"{damage.__name__} {number}: {one}" for one in found)
    (home / file).write_text(text, "utf-8")
    assert "\n".join(wrong) == ""
    assert ends.count("faults") > EACH / 3, "the damage is too small to look at anything"
    assert outcome(home) == ("sound", [])


def test_three_damaged_files_are_read_together(home: Path, tmp_path: Path) -> None:
    """Damage to several files at once ends in the same way."""
    for number in range(60):
        rng, both = random.Random(f"all {number}"), tmp_path / str(number)
        shutil.copytree(home, both)
        for file in rng.sample(FILES, 3):
            (both / file).write_bytes(rng.choice(DAMAGES)((home / file).read_text("utf-8"), rng))
        assert outcome(both)[1] == [], f"all {number}"
