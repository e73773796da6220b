"""A price of a job's own is said with how far it is from the books, and why."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.build import check
from sitegen.workspace import Workspace
from tests.built import HOUSES
from tests.helpers import DEMO, JOB, JOB_FILE, demo_copy, edit, sitegen

KIT = "    kit: item-2026\n"


def said(tmp_path: Path, price: str) -> tuple[str, ...]:
    """What is said of the demo house when Per item has this price of its own."""
    home = demo_copy(tmp_path)
    edit(home / JOB_FILE, KIT, f"{KIT}    price: {price}\n    because: Its attic is open.\n")
    return check(Workspace(home, tmp_path / "site"), home / JOB).own_prices


@pytest.mark.parametrize(("price", "far"), [
    ("$31,200", "$545 above the $30,655 of the books"), ("$30,600.50", "$54.50 under the $30,655 of the books"),
    ("$30,655", "the same as from the books")])
def test_how_far_an_own_price_is_and_why(tmp_path: Path, price: str, far: str) -> None:
    """Above, under or the same, to the cent, with the reason that the job gives."""
    assert said(tmp_path, price) == (f"Per item has a price of its own, {price}, {far}: Its attic is open.",)


def test_check_prints_one_line_for_each_own_price() -> None:
    """`check` says it before what the licensed person is asked, and nothing of it where the books set all prices."""
    for job in HOUSES:
        done = sitegen("check", job, "--home", str(DEMO), cwd=DEMO)
        own = [line for line in done.stdout.splitlines() if "has a price of its own" in line]
        assert len(own) == (DEMO / job / "job.yaml").read_text("utf-8").split("\noptions:")[1].count("    price: ")
        assert done.stdout.splitlines()[1:1 + len(own)] == own
