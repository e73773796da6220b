"""What sheets say of finished jobs: raw counts of the file, or that there is none yet, and never both."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml
from scipy.stats import betabinom

from sitegen.build import build, offer_of
from sitegen.figure import Figure
from sitegen.offer.finished import FinishedSeen
from sitegen.offer.offer import Offer
from sitegen.workspace import Workspace
from tests.built import HOUSES, House, built, offer
from tests.helpers import DEMO, JOB, JOB_FILE, demo_copy, edit

NO_COUNT = re.compile(r"no counts? (?:yet|to lean on)|not (?:tested|checked) (?:yet )?against finished jobs")
COUNT = re.compile(r"\bof (?:our|our last|the|these) \d+ (?:finished )?jobs|\d+ of \d+ jobs")


def written() -> list[dict[str, Any]]:
    """The demo's file as another reader of YAML sees it."""
    jobs: list[dict[str, Any]] = yaml.safe_load((DEMO / "finished.yaml").read_text("utf-8"))["jobs"]
    return jobs


def seen(job: str = JOB) -> FinishedSeen:
    found = offer(job).finished
    assert found
    return found


def at(home: Path) -> Offer:
    return offer_of(Workspace(home, home / "site"), home / JOB)


def keep(home: Path, count: int) -> None:
    """Leave so many of the demo's finished jobs in its copy."""
    path = home / "finished.yaml"
    head, *blocks = re.split(r"(?=^  - finished)", path.read_text("utf-8"), flags=re.MULTILINE)
    path.write_text(head + "".join(blocks[:count]), "utf-8")


def test_the_demo_has_forty_three_invented_jobs() -> None:
    """The file says in its first line that all of it is made up, and how many options they were sold as."""
    assert (DEMO / "finished.yaml").read_text("utf-8").startswith("# Invented: ")
    assert Counter(job["option"] for job in written()) == {"fixed-guarantee": 21, "per-item": 17,
                                                           "minimal-protection": 5}


def test_every_count_is_the_raw_count_of_the_file() -> None:
    """Options, feeds, drops, cases, ranges and days are sums over the file, and nothing is rescaled."""
    found, jobs = seen(), written()

    def total(*keys: str) -> int:
        return sum(job[key] for job in jobs for key in keys)
    assert found.jobs.value == len(jobs) == 43
    assert {key: figure.value for key, figure in found.sold_as.items()} == Counter(job["option"] for job in jobs)
    assert (found.feeds.some.value, found.feeds.all.value) == (total("old feeds"), total("old feeds", "new feeds"))
    assert (found.drops.some.value, found.drops.all.value) == (total("drops blocked"), total("drops fished"))
    came = Counter(case for job in jobs for case in job.get("cases", ()))
    assert {key: figure.value for key, figure in found.cases.items() if figure.value} == came
    assert found.in_time.value == sum(job["days worked"] <= job["days planned"] for job in jobs)
    assert found.called_back.value == sum(job["call-backs"] > 0 for job in jobs)
    assert found.ranges
    answers = Counter(str(job["inside its range"]) for job in jobs)
    assert (found.ranges.some.value, found.ranges.all.value) == (answers["True"], answers["True"] + answers["False"])
    assert found.over_list
    assert found.over_list.jobs.value == sum(job["option"] != "fixed-guarantee" for job in jobs)


def test_the_judgement_stands_beside_the_counts_and_is_not_changed_by_them() -> None:
    """The prior of the company's card is what every belief of the offer rests on, and it is printed by its own name."""
    prior = yaml.safe_load((DEMO / "company.yaml").read_text("utf-8"))["prior"]
    said, found = offer(JOB).outcome.prior, seen()
    for old, all_ in ((said.old, said.all), (found.feeds_believed.some, found.feeds_believed.all)):
        assert (old.value, all_.value) == (prior["old feeds"], prior["old feeds"] + prior["new feeds"])
        assert old.source == all_.source == said.source
    assert found.drops_believed.some.value == prior["blocked drops"]
    assert said.source.kind == "judgement"


def test_jobs_inside_the_judgement_are_those_of_scipys_quantiles() -> None:
    """With 2 old feeds in 4 believed, each job is held against scipy's P10 to P90 and its exact chance."""
    inside, below, above, expected = 0, 0, 0, 0.0
    for job in written():
        law = betabinom(job["old feeds"] + job["new feeds"], 2, 2)
        low, high = (int(law.ppf(share - 1e-12)) for share in (0.1, 0.9))
        inside += low <= job["old feeds"] <= high
        below += job["old feeds"] < low
        above += job["old feeds"] > high
        expected += law.cdf(high) - (law.cdf(low - 1) if low else 0)
    fit = seen().fit
    assert (fit.inside.value, fit.below.value, fit.above.value) == (inside, below, above)
    assert fit.expected.value == Fraction(round(expected * 10), 10)


def figures() -> Iterator[Figure]:
    return (figure for figure in offer(JOB).figures() if figure.name.startswith("finished."))


def test_each_count_names_the_file_and_its_line() -> None:
    """A figure of finished jobs has them as its source, with the line of the file; one of belief has the judgement."""
    line = (DEMO / "finished.yaml").read_text("utf-8").splitlines().index("jobs:") + 1
    for figure in figures():
        if ".believed." in figure.name:
            assert figure.source.kind == "judgement"
        else:
            assert (figure.source.kind, figure.source.text) == ("finished jobs", f"finished.yaml line {line}")


@pytest.mark.parametrize("job", HOUSES)
def test_no_page_says_that_there_is_no_count_beside_one(job: str) -> None:
    """With counts on the sheets, nothing on any of them says that there is none."""
    house = built(job)
    assert [name for name, page in house.pages.items() if NO_COUNT.search(page.get_text(" ", strip=True))] == []


@pytest.mark.parametrize(("sheet", "where", "says"), [
    ("who.html", "section[aria-labelledby=who-finished]", ("43", "228 of 445", "39 of 43", "37.4", "22 of 43")),
    ("what-you-could-pay.html", "section[aria-labelledby=pay-again]", ("last 43 finished jobs", "228 of 445")),
    ("living.html", "#living-sure", ("22 of our last 43 finished jobs", "at most 3 days more")),
    ("living.html", "section[aria-labelledby=living-later]", ("came up in 3 of our 43 jobs",
                                                              "came up in none of our 43 jobs"))])
def test_the_counts_stand_where_the_judgement_is_said(sheet: str, where: str, says: tuple[str, ...]) -> None:
    """Sheet 8 has them all, sheet 4 those of feeds and ranges, sheet 5 those of dates and of each case."""
    (place,) = built(JOB).at(sheet, where)
    text = " ".join(place.get_text(" ", strip=True).split())
    assert [one for one in says if one not in text] == []


@pytest.fixture(scope="module", params=[9, 0])
def uncounted(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> House:
    """The demo with too few finished jobs, and with no file of them."""
    home = demo_copy(tmp_path_factory.mktemp("few"))
    keep(home, request.param)
    if not request.param:
        (home / "finished.yaml").unlink()
    return House(JOB, build(Workspace(home, home / "site"), home / JOB).folder)


def test_too_few_jobs_are_said_once_a_sheet_and_counted_nowhere(uncounted: House) -> None:
    """Sheets 4 and 8 say once that there is no count yet; no sheet counts a finished job."""
    texts = {name: " ".join(page.get_text(" ", strip=True).split()) for name, page in uncounted.pages.items()}
    assert {name: len(NO_COUNT.findall(text)) for name, text in texts.items() if NO_COUNT.search(text)} == {
        "what-you-could-pay.html": 1, "who.html": 1}
    assert [name for name, text in texts.items() if COUNT.search(text)] == []
    assert [name for name, page in uncounted.pages.items() if page.select("[data-figure^='finished.']")] == []


def test_ten_jobs_are_enough_and_nine_are_not(tmp_path: Path) -> None:
    """From ten jobs on there is a count."""
    home = demo_copy(tmp_path)
    keep(home, 10)
    found = at(home).finished
    assert found
    assert found.jobs.value == 10
    keep(home, 9)
    assert at(home).finished is None


def test_a_version_counts_the_jobs_that_were_finished_by_its_day(tmp_path: Path) -> None:
    """A job that is closed later does not change what an older version says; the month of its own day counts."""
    home = demo_copy(tmp_path)
    path = home / "finished.yaml"
    block = re.split(r"(?=^  - finished)", path.read_text("utf-8"), flags=re.MULTILINE)[1]
    day = re.search(r"^prepared: (\d{4}-\d{2})", (home / JOB_FILE).read_text("utf-8"), re.MULTILINE)
    assert day
    for month, count in (("2026-12", 43), (day[1], 44)):
        path.write_text((DEMO / "finished.yaml").read_text("utf-8")
                        + block.replace("finished: 2022-03", f"finished: {month}"), "utf-8")
        found = at(home).finished
        assert found
        assert found.jobs.value == count


def test_a_record_is_shown_with_the_jobs_that_it_counts(tmp_path: Path) -> None:
    """What jobs would have cost is said where finished jobs are counted."""
    home = demo_copy(tmp_path)
    edit(home / "company.yaml", "closed:\n", "record:\n  jobs: 43\n  above: 20\n  which: all of them.\nclosed:\n")
    record = at(home).outcome.record
    assert record
    assert (record.above.value, record.jobs.value) == (20, 43)
