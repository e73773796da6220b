"""What one field says against another, and all faults of all files in one pass."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.job import check
from tests.helpers import BadJob, bad_jobs, demo_copy, faults


@pytest.mark.parametrize("bad", [*bad_jobs("between.yaml"), *bad_jobs("many.yaml")], ids=lambda bad: bad.name)
def test_the_whole_message_is_said_at_the_right_line(tmp_path: Path, bad: BadJob) -> None:
    """A job that does not agree with itself gets exactly these messages, each at its line, and no others."""
    home = demo_copy(tmp_path)
    bad.make(home)
    assert sorted(faults(home)) == sorted(bad.expected(home))


def test_faults_of_six_files_come_in_one_pass(tmp_path: Path) -> None:
    """The job, the two books and the cards of company, town and state are all read before anything is said."""
    home = demo_copy(tmp_path)
    (bad,) = bad_jobs("many.yaml")
    bad.make(home)
    files = {fault.split(":")[0] for fault in faults(home)}
    assert files == {"alder-lane/job.yaml", "price-book.yaml", "cost-book.yaml", "company.yaml",
                     "towns/pellam-ford.yaml", "states/tessamin.yaml"}


def test_the_demo_has_no_faults(tmp_path: Path) -> None:
    """The demo workspace is sound, so every message of these tests comes from its edit."""
    assert faults(demo_copy(tmp_path)) == []


def test_every_check_is_hit_by_a_bad_job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No check stands untested: each gives a fault for at least one of the bad jobs."""
    hit: set[str] = set()

    def watched(name: str, one: check.Check) -> check.Check:
        def run(gathered: check.Gathered) -> object:
            found = list(one(gathered))
            if found:
                hit.add(name)
            return iter(found)
        return run  # type: ignore[return-value]
    names = {one.__name__ for _, one in check.CHECKS}
    monkeypatch.setattr(check, "CHECKS", [(needs, watched(one.__name__, one)) for needs, one in check.CHECKS])
    for bad in bad_jobs("between.yaml"):
        home = demo_copy(tmp_path / bad.name)
        bad.make(home)
        faults(home)
    assert names - hit == set()


def test_a_photograph_cannot_lead_outside_by_a_link(tmp_path: Path) -> None:
    """A symbolic link in the job's folder that leads out of it is no photograph of the job."""
    home = demo_copy(tmp_path)
    (tmp_path / "secret.jpg").write_bytes(b"x")
    (home / "alder-lane" / "hall.jpg").symlink_to(tmp_path / "secret.jpg")
    job = home / "alder-lane" / "job.yaml"
    job.write_text(job.read_text("utf-8") + "  - file: hall.jpg\n    of: the hall\n", "utf-8")
    line = len(job.read_text("utf-8").splitlines()) - 1
    assert faults(home) == [f"alder-lane/job.yaml:{line}: photographs[8].file: There is no file `hall.jpg` in the "
                            "job's folder. Copy it there, or mend its name."]
