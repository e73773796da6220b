"""A bag that leaves the archive is checked with stock tools, and two records are told apart."""

from __future__ import annotations

import re
import subprocess
import zipfile
from pathlib import Path

import bagit
import pytest

from sitegen.filing import ledger
from sitegen.workspace import Workspace
from tests.filing import made
from tests.filing.test_add import LATER
from tests.helpers import Done, sitegen, tree


@pytest.fixture
def firm(tmp_path: Path) -> Workspace:
    """A workspace with an agreement and a change order filed."""
    firm = made.workspace(tmp_path)
    record = made.agreement(made.kept_of(firm))
    made.file(firm, record)
    made.file(firm, made.change(record), LATER)
    return firm


def archive(firm: Workspace, *arguments: str) -> Done:
    """`sitegen archive` in the workspace."""
    return sitegen("archive", *arguments, cwd=firm.home)


@pytest.fixture
def unpacked(firm: Workspace) -> Path:
    """The folder that a zip of the first bag is unpacked into."""
    assert archive(firm, "export", "1", "--to", "one.zip").returncode == 0
    with zipfile.ZipFile(firm.home / "one.zip") as packed:
        packed.extractall(firm.home.parent / "elsewhere")
    return firm.home.parent / "elsewhere"


def commands(unpacked: Path) -> list[str]:
    """The commands that the letter tells a reader to type."""
    return re.findall(r"^ {7}((?:sha512sum|openssl) .*)$", (unpacked / "letter.txt").read_text("utf-8"), re.MULTILINE)


def typed(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """A command of the letter as a reader types it."""
    return subprocess.run(["bash", "-o", "pipefail", "-c", command], cwd=folder, text=True, capture_output=True,
                          check=False, timeout=60)


def test_an_exported_bag_is_the_filed_one(firm: Workspace, unpacked: Path) -> None:
    """Each file has the bytes that were filed, and the bagit library accepts what was unpacked."""
    top = unpacked / "00001-elm-street-agreement"
    assert tree(top) == tree(firm.archive / "bags" / top.name)
    assert bagit.Bag(str(top)).validate()


def test_the_letter_works_as_it_is_typed(firm: Workspace, unpacked: Path) -> None:
    """The three commands of the letter pass on a sound bag, and each that has to fails on a changed one."""
    top, letter = unpacked / "00001-elm-street-agreement", (unpacked / "letter.txt").read_text("utf-8")
    sums, signature, key = commands(unpacked)
    assert typed(sums, top).returncode == 0
    assert "Signature Verified Successfully" in typed(signature, top).stdout
    assert typed(key, top).stdout.split()[0] in letter
    assert ledger.read(firm.archive)[0].fingerprint in letter
    (top / "data" / "record.json").write_bytes(b"{}")
    assert typed(sums, top).returncode != 0
    (top / "tagmanifest-sha512.txt").write_bytes(b"")
    assert typed(signature, top).returncode != 0


def test_the_same_bag_gives_the_same_zip(firm: Workspace) -> None:
    """Two exports are the same to the byte, and nothing is written over."""
    assert [archive(firm, "export", "1", "--to", name).returncode for name in ("a.zip", "b.zip")] == [0, 0]
    assert (firm.home / "a.zip").read_bytes() == (firm.home / "b.zip").read_bytes()
    assert archive(firm, "export", "2", "--to", "a.zip").returncode == 2
    assert (firm.home / "a.zip").read_bytes() == (firm.home / "b.zip").read_bytes()


def test_a_bag_that_was_changed_is_not_exported(firm: Workspace) -> None:
    """What does not verify does not leave the house."""
    (firm.archive / "bags" / "00001-elm-street-agreement" / "bagit.txt").write_text("", "utf-8")
    done = archive(firm, "export", "1", "--to", "one.zip")
    assert done.returncode == 1
    assert "bagit.txt" in done.stderr
    assert not (firm.home / "one.zip").exists()


def test_two_records_are_compared_for_a_person(firm: Workspace) -> None:
    """Price, extras, scope, days and words that differ are said with before and after; the same says so."""
    offer = made.signable(version=2, work_starts=made.date(2026, 6, 8), choices=(made.choice(price=1_900_000),))
    record = made.agreement(made.keep(firm.home / made.JOB, offer), extras=[], total=1_900_000)
    record["payments"][-1]["cents"] -= 2 * 41_000
    made.file(firm, record)
    done = archive(firm, "compare", "00001-elm-street-agreement", "3")
    lines = done.stdout.splitlines()
    assert {"version: 1 -> 2", "total: $19,420 -> $19,000", "extra porch-light: 2 -> nothing",
            "work starts: 2026-06-01 -> 2026-06-08", "paid after start: $1,860 -> $1,900"} <= set(lines)
    assert not any(line.startswith(("statement", "scope", "signed")) for line in lines)
    assert "total: $19,420 -> $20,350" in archive(firm, "compare", "1", "2").stdout.splitlines()
    assert archive(firm, "compare", "1", "1").stderr == "They say the same.\n"
    assert archive(firm, "compare", "1", "9").returncode == 2
