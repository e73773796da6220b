"""What the office is told of its finished jobs: whether they can be counted, and how the judgement stood up."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.helpers import demo_copy, edit, sitegen


def told(home: Path) -> list[str]:
    """The lines of `sitegen finished`."""
    done = sitegen("finished", cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout.splitlines()


def test_the_office_is_told_how_its_judgement_stood_up(tmp_path: Path) -> None:
    """Counts beside what the card and the price book believe, a line a topic and a line a case."""
    assert told(demo_copy(tmp_path)) == [
        "Finished jobs: 43. Sheets show what they say.",
        "Old feeds: 228 of 445; the judgement of Gus Osterby, 2026-01-12, starts from 2 of 4.",
        "Inside P10 to P90 of that judgement, by job: 39 of 43, 1 below and 3 above; 37.4 expected. The judgement "
        "fits them.",
        "Blocked drops: 331 of 1704; it starts from 1 of 4.",
        "Days worked over days planned: median 0, P90 3; 22 of 43 jobs took no more than planned.",
        "Case asbestos: 0 of 43 jobs; the price book has 6 of 100.",
        "Case service: 4 of 43 jobs; the price book has 14 of 100.",
        "Case gas-pipe: 3 of 43 jobs; the price book has 5 of 100.",
        "Case rot: 2 of 43 jobs; the price book has 8 of 100.",
        "Case calcimine: 11 of 43 jobs; the price book has 30 of 100.",
        "Case loose-plaster: 9 of 43 jobs; the price book has 25 of 100."]


@pytest.mark.parametrize(("old", "new", "says"), [
    ("1/2", "6", "That is fewer than chance explains: set the judgement anew, with a name and a day."),
    ("1", "1", "That is more than chance explains: the judgement is wider than these jobs were.")])
def test_a_judgement_that_does_not_fit_is_said_to_be_off(tmp_path: Path, old: str, new: str, says: str) -> None:
    """Nothing is changed for the firm: it is told, and sets its judgement itself."""
    home = demo_copy(tmp_path)
    edit(home / "company.yaml", "  old feeds: 2", f"  old feeds: {old}")
    edit(home / "company.yaml", "  new feeds: 2", f"  new feeds: {new}")
    assert told(home)[2].endswith(says)


@pytest.mark.parametrize("count", [0, 9])
def test_too_few_jobs_are_not_counted(tmp_path: Path, count: int) -> None:
    """Under ten jobs the office is told when counts begin, and no count."""
    home = demo_copy(tmp_path)
    path = home / "finished.yaml"
    head, *blocks = re.split(r"(?=^  - finished)", path.read_text("utf-8"), flags=re.MULTILINE)
    path.write_text(head + "".join(blocks[:count]), "utf-8")
    if not count:
        path.unlink()
    assert told(home) == [f"Finished jobs: {count}. Not yet enough to count: sheets show counts from 10 on, and say "
                          "until then that there are none."]


def test_faults_of_all_three_files_are_told_at_once(tmp_path: Path) -> None:
    """What is wrong with the card, the price book and the finished jobs comes in one pass, each at its line."""
    home = demo_copy(tmp_path)
    edit(home / "company.yaml", "  old feeds: 2", "  old feeds: two")
    edit(home / "price-book.yaml", "chance: 14 of 100", "chance: often")
    edit(home / "finished.yaml", "jobs:\n", "jobs:\n  - finished: soon\n")
    done = sitegen("finished", cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert {line.split(":")[0] for line in done.stderr.splitlines()} == {"company.yaml", "price-book.yaml",
                                                                         "finished.yaml"}
