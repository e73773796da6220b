"""What a household told stays in what is worked out: no page, which may be passed on, tells of the people of a house.

A child, a pregnancy and medical equipment move nothing that a reader sees.  Public aid moves where the lead rule's
full steps are owed, and no page says why.  Whether the house stands empty moves dates and the order of payments; sheet
5 says both cases in one and the same way.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.build import build
from sitegen.workspace import Workspace
from tests.helpers import JOB, JOB_FILE, demo_copy, edit, tree

AID = re.compile(r"\b(?:subsid\w*|vouchers?|HUD|24 CFR 35\.\d+|public money)\b")
"""What would tell of public aid, where it stands more often than in a house without."""


def site_of(folder: Path, **told: str) -> dict[str, bytes]:
    """The site of the demo house, with lines of its job told otherwise."""
    home = demo_copy(folder)
    for key, value in told.items():
        said = key.replace("_", " ")
        text = (home / JOB_FILE).read_text("utf-8")
        found = re.search(rf"(?m)^ *{said}: .*$", text)
        if found:
            edit(home / JOB_FILE, found[0], f"{found[0].split(said)[0]}{said}: {value}")
        else:
            edit(home / JOB_FILE, "\nhouse:\n", f"\n{said}: {value}\nhouse:\n")
    return tree(build(Workspace(home, folder / "site"), home / JOB).folder)


def main_of(page: bytes) -> str:
    """What a page says between its head and its foot, as it is read."""
    main = BeautifulSoup(page, "html.parser").find("main")
    assert main
    return re.sub(r"\s+", " ", main.get_text(" "))


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The site of a house of which nothing is told: no child, nobody pregnant, no equipment, no aid."""
    return site_of(tmp_path_factory.mktemp("plain"), child_under_six="no", pregnant="no", medical="no", subsidised="no")


@pytest.mark.parametrize(("fact", "said"), [
    ("child_under_six", "yes"), ("child_under_six", "not said"), ("pregnant", "yes"), ("pregnant", "not said"),
    ("medical", "yes"), ("medical", "not said")])
def test_a_child_a_pregnancy_and_medical_equipment_change_no_byte(tmp_path: Path, plain: dict[str, bytes], fact: str,
                                                                  said: str) -> None:
    """The same site, to the byte, whatever was told: precautions are said for everybody."""
    told = {"child_under_six": "no", "pregnant": "no", "medical": "no", "subsidised": "no", fact: said}
    assert site_of(tmp_path, **told) == plain


def test_public_aid_is_said_on_no_page(tmp_path: Path, plain: dict[str, bytes]) -> None:
    """Aid brings the full steps to more rooms, as worked out; every sentence that is new with it says what is done and
    not why, no limit differs, and no section of the law on aided housing is cited that is not cited anyway."""
    aided = site_of(tmp_path, child_under_six="no", pregnant="no", medical="no", subsidised="yes")
    assert set(aided) == set(plain)
    moved = [name for name in aided if name.endswith(".html") and main_of(aided[name]) != main_of(plain[name])]
    assert moved
    for name in moved:
        before, after = main_of(plain[name]), main_of(aided[name])
        assert AID.findall(after) == AID.findall(before), name
        new = set(re.split(r"(?<=[.?!:;]) ", after)) - set(re.split(r"(?<=[.?!:;]) ", before))
        for sentence in new:
            assert not re.search(r"\baid\b|\baided\b|public|federal help|clearance|tenant", sentence), (name, sentence)
        limits = [re.findall(r'value="([^"]+)" data-figure="[^"]*limit-feet"', site[name].decode())
                  for site in (plain, aided)]
        assert set(limits[1]) <= {"6"} >= set(limits[0]), name


def test_sheet_5_says_the_same_of_an_empty_house_and_of_one_with_people(tmp_path: Path) -> None:
    """Both cases stand in full and in one order, so that the sheet reads the same whichever the house is."""
    empty, lived = (site_of(tmp_path / said, lived_in=said) for said in ("no", "yes"))
    assert main_of(empty["living.html"]) == main_of(lived["living.html"])
    assert [name for name in empty if name.startswith("detail-") and main_of(empty[name]) != main_of(lived[name])] == []


def test_what_an_answer_hides_hides_the_other_case_alone(plain: dict[str, bytes]) -> None:
    """Nothing stands in both classes, and neither class is on anything that holds the other."""
    for name, data in plain.items():
        if name.endswith(".html"):
            page = BeautifulSoup(data, "html.parser")
            assert not page.select(".if-empty .if-lived-in, .if-lived-in .if-empty, .if-empty.if-lived-in"), name


def test_the_question_is_asked_once_and_nothing_is_chosen(plain: dict[str, bytes]) -> None:
    """Sheet 5 asks who lives there, with answers to tap of which none is set, and words for both cases until then."""
    page = BeautifulSoup(plain["living.html"], "html.parser")
    question, = page.select("fieldset[data-lives]")
    assert [str(one["value"]) for one in question.select("input")] == ["stays", "leaves", "unsure"]
    assert not question.select("[checked]")
