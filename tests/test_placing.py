"""A build replaces what a build wrote and nothing else, at once, one at a time, and leaves nothing of itself behind."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen import placing
from sitegen.errors import BuildError
from sitegen.lock import held
from sitegen.placing import MARK, beside, put, strangers, write_mark
from tests.bench.kills import kills
from tests.helpers import JOB, demo_copy, sitegen, tree

PAGE = f'<main data-job="{JOB}-1">'


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace whose house is built, for tests that leave it as it is."""
    home = demo_copy(tmp_path_factory.mktemp("placing"))
    assert sitegen("build", JOB, cwd=home).returncode == 0
    return home


def _site(folder: Path, marked: bool = True, **files: str) -> Path:
    folder.mkdir(parents=True)
    for name, text in (files or {"index": PAGE}).items():
        (folder / f"{name}.html").write_text(text, "utf-8")
    if marked:
        write_mark(folder)
    return folder


def _swapped(site: Path, job: str = JOB) -> None:
    """Put another site in the place of one."""
    with beside(site) as room:
        _site(room / "new", index=PAGE + "new")
        put(room / "new", site, job)


@pytest.mark.parametrize("name", ["notes.txt", ".git/HEAD", "photos/hall.jpg", ".DS_Store"])
def test_a_file_that_no_build_wrote_is_named_and_left(firm: Path, name: str) -> None:
    """A site in which somebody keeps something of their own is refused with its name, and nothing in it is touched."""
    own = firm / "site" / JOB / name
    own.parent.mkdir(exist_ok=True)
    own.write_text("mine", "utf-8")
    before = tree(firm / "site")
    done = sitegen("build", JOB, cwd=firm)
    assert (done.returncode, done.stdout) == (1, "")
    assert f"holds what no build wrote: {name}." in done.stderr
    assert tree(firm / "site") == before
    own.unlink()
    if own.parent != firm / "site" / JOB:
        own.parent.rmdir()
    assert sitegen("build", JOB, cwd=firm).returncode == 0


def test_a_folder_that_was_never_ours_is_left(tmp_path: Path) -> None:
    """A folder of a job's name that no build made is refused, though a page of that name stands in it."""
    home = demo_copy(tmp_path)
    mine = home / "site" / JOB
    mine.mkdir(parents=True)
    (mine / "index.html").write_text("<h1>My own page</h1>", "utf-8")
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, "holds what no build wrote: index.html." in done.stderr) == (1, True)
    assert (mine / "index.html").read_text("utf-8") == "<h1>My own page</h1>"


def test_an_empty_folder_is_taken(tmp_path: Path) -> None:
    """Nothing is lost in a folder that holds nothing."""
    home = demo_copy(tmp_path)
    (home / "site" / JOB).mkdir(parents=True)
    assert sitegen("build", JOB, cwd=home).returncode == 0


def test_a_site_of_before_there_was_a_list_is_known(firm: Path) -> None:
    """A site whose files are all such as a build of this job writes is built again, and has its list from then on."""
    (firm / "site" / JOB / MARK).unlink()
    assert sitegen("build", JOB, cwd=firm).returncode == 0
    assert (firm / "site" / JOB / MARK).is_file()


def test_a_site_of_another_job_is_not_taken_for_ours(tmp_path: Path) -> None:
    """Without a list, the pages say of which job they are."""
    site = _site(tmp_path / "site" / JOB, marked=False, index='<main data-job="elm-street-1">')
    assert strangers(site, JOB, {"index.html"}) == ["index.html"]


def test_the_list_names_each_file_of_a_site_and_nothing_else(firm: Path) -> None:
    """What the list of a built site says is what stands in its folder."""
    site = firm / "site" / JOB
    head, *names = (site / MARK).read_text("utf-8").splitlines()
    assert head == placing.HEAD
    assert names == sorted(set(tree(site)) - {MARK})


def test_a_link_out_of_the_site_is_not_followed(tmp_path: Path) -> None:
    """A link in a site is a stranger, and what it leads to stays."""
    site, other = _site(tmp_path / "site" / JOB), tmp_path / "papers"
    other.mkdir()
    (other / "deed.txt").write_text("mine", "utf-8")
    (site / "papers").symlink_to(other)
    with pytest.raises(BuildError, match="papers/"):
        _swapped(site)
    assert (other / "deed.txt").read_text("utf-8") == "mine"


def test_what_is_kept_has_no_list(tmp_path: Path) -> None:
    """The pages that are kept of an offer are the pages alone."""
    home = demo_copy(tmp_path)
    assert sitegen("keep", JOB, cwd=home).returncode == 0
    kept = tree(home / JOB / "offers" / "1" / "site")
    assert (MARK in kept, "index.html" in kept) == (False, True)


@pytest.fixture(params=["at once", "in two steps"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """How a system puts a folder in the place of another."""
    if request.param == "in two steps":
        monkeypatch.setattr(placing, "swap", lambda one, other: False)
    return str(request.param)


@pytest.mark.usefixtures("way")
def test_a_site_is_replaced_whole(tmp_path: Path) -> None:
    """The new site stands in the place of the last one, and nothing is left beside it."""
    site = _site(tmp_path / "site" / JOB)
    _swapped(site)
    assert tree(site)["index.html"] == (PAGE + "new").encode()
    assert [path.name for path in site.parent.iterdir()] == [JOB]


def test_on_this_system_a_swap_is_one_step(tmp_path: Path) -> None:
    """The call of the kernel is found here, so that the two steps are for other systems."""
    one, other = _site(tmp_path / "one", a="1"), _site(tmp_path / "other", b="2")
    assert placing.swap(one, other) is True
    assert ("b.html" in tree(one), "a.html" in tree(other)) == (True, True)


def test_what_an_ended_build_left_is_swept_and_the_last_good_site_put_back(tmp_path: Path) -> None:
    """A build that was ended between its two steps leaves the last good site, which the next one puts back."""
    site = tmp_path / "site" / JOB
    left = site.parent / f".{JOB}-ab12_xyz"
    _site(left / "old", index=PAGE + "last good")
    other = site.parent / f".{JOB}-street-ab12_xyz"
    other.mkdir()
    with beside(site):
        assert tree(site)["index.html"] == (PAGE + "last good").encode()
    assert sorted(path.name for path in site.parent.iterdir()) == [other.name, JOB]


def test_of_two_builds_one_waits(tmp_path: Path) -> None:
    """Who holds the lock of a job is alone; another waits, and is told who is at it."""
    lock = tmp_path / "lock"
    with held(lock, "a build"), pytest.raises(BuildError, match="Somebody else is at it: a build"), \
            held(lock, "a build", patience=0.2):
        raise AssertionError("held twice")
    with held(lock, "a build", patience=0):
        assert lock.exists()


@pytest.mark.usefixtures("way")
def test_a_build_that_is_ended_anywhere_leaves_a_whole_site(tmp_path: Path) -> None:
    """Ended at any change of a file, a build leaves the last site or the next one, whole, and nothing afterwards."""
    home = demo_copy(tmp_path)
    killed = list(kills(home, range(0, 400, 29)))
    assert len(killed) > 3
    assert [one for one in killed if one.wrong] == []
