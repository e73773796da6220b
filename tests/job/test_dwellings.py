"""A house of several dwellings says what is whose, or is refused in plain words with the way out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.helpers import DEMO, edit, faults

JOB = "garnet-street"
LIVING = "  - room: Lower living room\n    kind: living room\n    dwelling: lower\n"
STAIRS = "  - room: Front stairs\n    kind: stairs\n"
AREAS = "  dwelling areas: {lower: 1260 sq ft, upper: 1330 sq ft}\n"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The demo workspace with the house of two flats, where a test may change it."""
    others = [path.parent.name for path in DEMO.glob("*/job.yaml") if path.parent.name != JOB]
    shutil.copytree(DEMO, tmp_path / "firm", ignore=shutil.ignore_patterns("site", "public", "archive", "office.html",
                                                                          *others))
    return tmp_path / "firm"


@pytest.mark.parametrize(("old", "new", "says"), [
    (AREAS, "", "2 dwellings are counted, and 0 have a name and an area."),
    (AREAS, "  dwelling areas: {lower: 1260 sq ft}\n", "2 dwellings are counted, and 1 have a name and an area."),
    (AREAS, "  dwelling areas: {lower: 1260 sq ft, upper: 1500 sq ft}\n", "more than the house's 2,740"),
    (AREAS, "  dwelling areas: {lower: 1260 sq ft, shared: 1330 sq ft}\n", "is no dwelling"),
    ("  dwellings: 2\n" + AREAS, "  dwellings: 1\n" + AREAS, "The house has one dwelling, and its area stands under"),
    ("  dwellings: 2\n" + AREAS, "  dwellings: 1\n", "The house has one dwelling, and this names `lower`."),
    ("  dwellings: 2\n" + AREAS, "  dwellings: 0\n", "No household lives in this house."),
    (LIVING, LIVING.replace("    dwelling: lower\n", ""), "is a `living room`, and nothing says whose."),
    (LIVING, LIVING.replace("lower\n", "lowr\n"), "No dwelling is called `lowr`. Did you mean `lower`?"),
    (STAIRS, STAIRS + "    dwelling: middle\n", "No dwelling is called `middle`."),
    ("    dwelling: upper\n    is: range", "    dwelling: uper\n    is: range", "Did you mean `upper`?"),
    ("shared: 12}", "cellar: 12}", "No dwelling is called `cellar`."),
])
def test_what_is_whose_is_said_or_refused(home: Path, old: str, new: str, says: str) -> None:
    """Each thing forgotten or misspelled is one plain fault, so that no circuit is drawn into another's dwelling."""
    edit(home / JOB / "job.yaml", old, new)
    assert any(says in fault for fault in faults(home, JOB)), faults(home, JOB)


@pytest.mark.parametrize("new", [STAIRS + "    dwelling: shared\n", STAIRS + "    dwelling: upper\n"])
def test_a_word_may_say_shared_or_a_dwelling(home: Path, new: str) -> None:
    """Left out means shared; the word itself, or a dwelling whose stairs they are, is as good."""
    edit(home / JOB / "job.yaml", STAIRS, new)
    assert faults(home, JOB) == []


def test_a_part_of_a_room_is_of_the_rooms_dwelling(home: Path) -> None:
    """A further line of a room may not say another dwelling."""
    part = "  - room: Lower living room\n    part: bay\n    dwelling: upper\n    floor: 1\n    now: {wall light: 1}\n" \
           "    feeds: {wall light: lower-lights}\n    want: {wall light: 1}\n"
    edit(home / JOB / "job.yaml", "  - room: Lower dining room\n", part + "  - room: Lower dining room\n")
    assert any("is of another dwelling than the room" in fault for fault in faults(home, JOB))


def test_a_dwelling_without_a_room_is_refused(home: Path) -> None:
    """A name that no room bears is one too many."""
    edit(home / JOB / "job.yaml", "  dwellings: 2\n" + AREAS,
         "  dwellings: 3\n  dwelling areas: {lower: 1260 sq ft, upper: 1330 sq ft, attic: 100 sq ft}\n")
    assert any("No room is of the dwelling `attic`." in fault for fault in faults(home, JOB))
