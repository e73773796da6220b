"""The commands of the archive as an office types them."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from sitegen.workspace import Workspace
from tests.filing import made
from tests.helpers import Done, sitegen, tree


@pytest.fixture
def firm(tmp_path: Path) -> Workspace:
    """A workspace whose archive is empty."""
    return made.workspace(tmp_path)


def archive(firm: Workspace, *arguments: str) -> Done:
    """`sitegen archive` in the workspace."""
    return sitegen("archive", *arguments, cwd=firm.home)


def signed(firm: Workspace, **other: Any) -> str:
    """The path of a sound agreement of last May."""
    return str(made.write(firm.home.parent / "signed.json", made.agreement(made.kept_of(firm), **other)))


def test_a_record_is_filed_listed_shown_and_verified(firm: Workspace) -> None:
    """From the record to the check: each command says the same bag, and the head that filing printed holds."""
    added = archive(firm, "add", signed(firm))
    bag, head = added.stdout.split()
    assert (added.returncode, bag) == (0, "archive/bags/00001-elm-street-agreement")
    assert archive(firm, "list").stdout.startswith("00001-elm-street-agreement  elm-street version 1, agreement, filed")
    assert [one["record"] for one in json.loads(archive(firm, "list", "--json").stdout)] == [
        json.loads((firm.home / bag / "entry.json").read_bytes())["record"]]
    told = archive(firm, "show", "elm-street").stdout
    assert ("  2026-05-06  signed on screen by Ada Invented, Ben Invented, Cy Invented for the company: `per-item`, "
            "$19,420") in told
    checked = archive(firm, "verify", "--head", head, "--second-opinion")
    assert (checked.returncode, checked.stdout) == (0, f"{head}\n")
    assert "1 bags, 26 files, 0 findings" in checked.stderr


def test_what_was_changed_is_said_and_ends_with_one(firm: Workspace) -> None:
    """A changed file is named on standard output and the command ends with 1."""
    bag = archive(firm, "add", signed(firm)).stdout.split()[0]
    page = firm.home / bag / "data/offer/site/index.html"
    page.write_bytes(page.read_bytes() + b" ")
    done = archive(firm, "verify", "--second-opinion")
    assert done.returncode == 1
    assert done.stdout.splitlines()[0] == ("00001-elm-street-agreement, data/offer/site/index.html: it was changed, or "
                                           "its line in the manifest was")
    assert "bagit: " in done.stdout


def test_a_record_that_is_refused_ends_with_one(firm: Workspace) -> None:
    """All that is wrong stands on standard error, a line each."""
    done = archive(firm, "add", signed(firm, total=5, work_starts="2026-06-02"))
    assert (done.returncode, done.stdout, len(done.stderr.splitlines())) == (1, "", 2)


def test_lapsed_prices_take_the_reason_of_the_command_line(firm: Workspace) -> None:
    """`--honor` files what came too late, and the list says why."""
    record = signed(firm, signed_at="2026-06-04T18:00:00-05:00", cancel_by="2026-06-08")
    assert archive(firm, "add", record).returncode == 1
    assert archive(firm, "add", record, "--honor", "They were away.").returncode == 0
    assert archive(firm, "list").stdout.rstrip().endswith("held to for: They were away.")


def test_a_record_of_the_future_is_refused_by_the_clock(firm: Workspace) -> None:
    """The command asks the clock: what is signed in another century is of the future."""
    done = archive(firm, "add", signed(firm, signed_at="2126-05-06T18:30:00-05:00"))
    assert done.returncode == 1
    assert "in the future" in done.stderr


def test_the_key_is_made_once_and_changed_on_demand(tmp_path: Path) -> None:
    """Making it twice is refused and changes nothing; a change leaves bags of the old key verified."""
    firm = made.workspace(tmp_path)
    before = (firm.home / "signing-key.pem").read_bytes()
    again = archive(firm, "key")
    assert (again.returncode, again.stdout) == (2, "")
    assert (firm.home / "signing-key.pem").read_bytes() == before
    archive(firm, "add", signed(firm))
    for _ in range(2):
        assert archive(firm, "key", "--rotate").returncode == 0
    assert (firm.home / "signing-key.pem").read_bytes() != before
    assert archive(firm, "verify").returncode == 0
    assert len(list((firm.archive / "keys").iterdir())) == 5


def test_a_key_that_is_there_begins_a_new_archive(firm: Workspace) -> None:
    """A company whose archive is begun again signs it with the key that it has."""
    firm.archive.rename(firm.home.parent / "elsewhere")
    assert archive(firm, "add", signed(firm)).returncode == 0
    assert archive(firm, "verify").returncode == 0


def test_a_lost_key_is_not_replaced_in_silence(firm: Workspace) -> None:
    """Where the archive knows a key and the workspace has none, no other one is made."""
    (firm.home / "signing-key.pem").unlink()
    done = archive(firm, "key")
    assert done.returncode == 2
    assert "would not continue this archive" in done.stderr
    assert archive(firm, "add", signed(firm)).returncode == 2


def test_a_key_that_others_may_read_signs_nothing(firm: Workspace) -> None:
    """A key with another's leave to read is refused with the way out."""
    (firm.home / "signing-key.pem").chmod(0o644)
    done = archive(firm, "add", signed(firm))
    assert done.returncode == 1
    assert "chmod 600" in done.stderr
    assert tree(firm.archive / "bags") == {}


def test_the_story_of_a_job_says_what_was_changed_and_cancelled(firm: Workspace) -> None:
    """`show` has the total after each change order, and how a cancellation stood to its last day."""
    record = made.agreement(made.kept_of(firm))
    later = datetime(2026, 6, 10, tzinfo=made.HERE)
    made.file(firm, record)
    made.file(firm, made.change(record), later)
    told = archive(firm, "show", "elm-street").stdout
    assert told.splitlines()[0] == "elm-street version 1, standing, $20,350 in all"
    assert "change order 1: 3 x Receptacles in the den: $930, +1 days, which makes $20,350" in told
    assert "`lead-booklet` is due before this day" in told
    made.file(firm, made.cancellation(record), later + timedelta(1))
    told = archive(firm, "show", "elm-street").stdout
    assert "cancelled by Ada Invented, in time, by 2026-05-09" in told
    assert "$0 goes back by this day" in told


def test_nothing_filed_is_said(firm: Workspace) -> None:
    """An empty archive lists nothing, shows nothing, and verifies."""
    assert archive(firm, "list").stderr == "Nothing is filed yet.\n"
    assert archive(firm, "show", "elm-street").returncode == 2
    assert archive(firm, "verify").returncode == 0


PAPER = ("--version", "1", "--option", "per-item", "--extra", "porch-light=2", "--lives", "empty",
         "--signed-at", "2026-05-06T18:30:00-05:00", "--copy-at", "2026-05-06T17:50:00-05:00",
         "--owner", "Ada Invented", "--owner", "Ben Invented", "--firm", "Cy Invented", "--later", "lead-booklet")
"""What is typed from a paper that two owners signed."""


def test_a_paper_is_filed_from_what_it_says(firm: Workspace) -> None:
    """What is read off the paper gives the record that a tablet would have, but for how it was signed."""
    scan = firm.home / "scan.png"
    scan.write_bytes(b"\x89PNG\r\n\x1a\n invented")
    assert archive(firm, "paper", "elm-street", *PAPER, "--ticked", "all", "--to", "paper.json").returncode == 0
    record = json.loads((firm.home / "paper.json").read_bytes())
    same = made.agreement(made.kept_of(firm))
    assert {key for key in same if record[key] != same[key]} == {"consent", "rises", "signatures", "statements", "way"}
    assert archive(firm, "add", "paper.json").returncode == 1
    done = archive(firm, "add", "paper.json", "--paper", "scan.png")
    assert done.returncode == 0, done.stderr
    assert (firm.home / done.stdout.split()[0] / "data/scan.png").read_bytes() == scan.read_bytes()
    assert "signed on paper by Ada Invented, Ben Invented, Cy Invented" in archive(firm, "show", "elm-street").stdout


def test_a_tick_that_the_paper_lacks_is_missing(firm: Workspace) -> None:
    """Only what is said to be ticked is in the record, and filing names the rest."""
    (firm.home / "scan.pdf").write_bytes(b"%PDF-1.7 invented")
    archive(firm, "paper", "elm-street", *PAPER, "--ticked", "agreement-read", "--to", "paper.json")
    done = archive(firm, "add", "paper.json", "--paper", "scan.pdf")
    assert done.returncode == 1
    assert "rises: more-old, case-vermiculite is missing." in done.stderr
    assert "statements: copy-in-hand is missing." in done.stderr


@pytest.mark.parametrize("wrong", [("--option", "gone"), ("--extra", "gazebo=1"), ("--extra", "bell"),
                                   ("--ticked", "gone"), ("--signed-at", "yesterday"),
                                   ("--signed-at", "2026-05-06T18:30:00")], ids="=".join)
def test_what_is_typed_wrong_is_said(firm: Workspace, wrong: tuple[str, str]) -> None:
    """A key that the offer has not, or a time without zone, is refused and no record is written."""
    assert archive(firm, "paper", "elm-street", *PAPER, *wrong, "--to", "paper.json").returncode == 2
    assert not (firm.home / "paper.json").exists()


def test_a_scan_is_what_its_name_says(firm: Workspace) -> None:
    """A file of another kind is not filed as a scan."""
    for name in ("scan.exe", "scan.pdf"):
        (firm.home / name).write_bytes(b"MZ")
        assert archive(firm, "add", signed(firm), "--paper", name).returncode == 2
    assert tree(firm.archive / "bags") == {}
