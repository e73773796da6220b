"""The commands as a person or a program meets them: exit codes, streams, and what is left on disk."""

from __future__ import annotations

import os
import pickle
import re
import shutil
import signal
from pathlib import Path

import pytest

from sitegen.errors import AuditFailed, Breach, BuildError, Fault, Faults, NoWorkspace
from sitegen.parallel import in_processes
from tests.helpers import JOB, JOB_FILE, demo_copy, edit, figures_of, process, sitegen, tree

FAULT = ("    kit: item-2026", "    kit: item-2026\n    price: 19,000")
SAID = "options[2].price: Got `19,000`, needs an amount such as $3,200 or $0.90. Write $19,000.\n"

ALIAS_BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 12))
BAD_FILES: dict[str, bytes] = {
    "empty": b"", "blank": b" \n\n", "comment": b"# nothing yet\n", "binary": bytes(range(256)) * 40,
    "nul": b"job: alder\0lane\n", "utf-16": "job: alder-lane\n".encode("utf-16"), "latin-1": b"address: caf\xe9\n",
    "brackets": b"[" * 200_000, "braces": b"job: " + b"{a: " * 200_000, "open quote": b'job: "alder\n',
    "dashes": b"- " * 100_000, "alias bomb": ALIAS_BOMB.encode(), "list": b"- one\n- two\n", "word": b"hello\n",
    "tag": b"job: !!python/object/apply:os.system [ls]\n", "merge": b"<<: *nobody\njob: x\n",
    "lists where maps": b"job: [1]\nrooms: {a: b}\nways: no\nfeeds: [x]\nfindings: 3\ntown: [a]\nstop work: x\n",
    "list items": b"rooms: [1, [2], null]\nways: [x, [y]]\nfeeds: {a: b, c: [d]}\nphotographs: [..]\n",
    "null values": b"job:\nrooms:\nways:\nfeeds:\nfindings:\ntown:\nstop work:\nsigns:\nhouse:\n",
    "two documents": b"job: a\n---\njob: b\n", "odd key": b"? [a, b]\n: c\n", "surrogate": b'job: "\\ud800"\n',
    "escaped control": b'address: "a\\0b\\x07"\n', "year nought": b"prepared: 0000-00-00\nsurveyed: 9999-12-31\n",
    "huge count": b"version: " + b"9" * 5_000 + b"\n", "directive": b"%YAML 9.9\n---\njob: x\n",
}


def test_a_sound_job_is_checked_and_its_questions_are_printed(tmp_path: Path) -> None:
    """`check` exits 0, says so and what the licensed person must be asked on standard output, and writes nothing."""
    home = demo_copy(tmp_path)
    before = tree(tmp_path)
    done = sitegen("check", cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    first, second, *asked = done.stdout.splitlines()
    assert first == f"{JOB}: no faults"
    assert second == "  For the licensed person in charge; nothing here is an approval:"
    assert asked
    assert all(re.fullmatch(r"  - \w.*[.?] \(.+\)", line) for line in asked)
    assert tree(tmp_path) == before


def test_a_job_with_nothing_to_ask_says_that_it_has_no_faults(tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                                              capsys: pytest.CaptureFixture[str]) -> None:
    """Without a question no heading for the licensed person is printed."""
    from sitegen import build
    from sitegen.cli import cli

    monkeypatch.setattr(build, "check", lambda *_: build.Checked((), ()))
    cli.main(["check", JOB, "--home", str(demo_copy(tmp_path))], standalone_mode=False)
    assert capsys.readouterr().out == f"{JOB}: no faults\n"


def test_a_fault_is_exit_1_and_on_standard_error(tmp_path: Path) -> None:
    """`check` names file, line, field, what it got, what it needs and the way out, on standard error alone."""
    home = demo_copy(tmp_path)
    edit(home / JOB_FILE, *FAULT)
    line = (home / JOB_FILE).read_text("utf-8").splitlines().index(FAULT[1].splitlines()[-1]) + 1
    done = process("check", JOB, cwd=home)
    assert (done.returncode, done.stdout, done.stderr) == (1, "", f"{JOB_FILE}:{line}: {SAID}")


def test_a_build_writes_a_site_and_prints_its_first_page(tmp_path: Path) -> None:
    """`build` exits 0, prints the page to open and leaves nothing else behind."""
    home = demo_copy(tmp_path)
    done = process("build", JOB, cwd=home)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"site/{JOB}/index.html\n", "")
    assert [path.name for path in (home / "site").iterdir()] == [JOB]
    assert set(tree(home / "site" / JOB)) >= {"index.html", "compare.html", "sheets.css"}


def test_a_build_run_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    """The same files give the same site, in another folder and another process, and over an older site."""
    one, two = demo_copy(tmp_path / "a"), demo_copy(tmp_path / "b-with-a-longer-name")
    for home, run in ((one, sitegen), (two, process)):
        assert run("build", JOB, cwd=home).returncode == 0
    assert tree(one / "site") == tree(two / "site")
    assert sitegen("build", JOB, cwd=one).returncode == 0
    assert tree(one / "site") == tree(two / "site")


def test_a_build_with_a_fault_leaves_the_last_good_site(tmp_path: Path) -> None:
    """Nothing is written when there is a fault, and the last good site stands byte for byte."""
    home = demo_copy(tmp_path)
    assert sitegen("build", JOB, cwd=home).returncode == 0
    edit(home / JOB_FILE, *FAULT)
    before = tree(tmp_path)
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.endswith(SAID)
    assert tree(tmp_path) == before
    assert [path.name for path in (home / "site").iterdir()] == [JOB]


def test_a_first_build_with_a_fault_makes_no_folder(tmp_path: Path) -> None:
    """A job with a fault that was never built leaves no `site` behind."""
    home = demo_copy(tmp_path)
    edit(home / JOB_FILE, *FAULT)
    assert sitegen("build", JOB, cwd=home).returncode == 1
    assert not (home / "site").exists()


def test_a_build_that_fails_half_option_leaves_the_last_good_site(tmp_path: Path) -> None:
    """A template that cannot be filled is exit 1 with one message; the last good site stands."""
    home = demo_copy(tmp_path)
    assert sitegen("build", JOB, cwd=home).returncode == 0
    (home / "theme" / "sheets").mkdir(parents=True)
    (home / "theme" / "sheets" / "pay.html").write_text("{{ nobody_gave_this }}\n", "utf-8")
    before = tree(tmp_path)
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert "nobody_gave_this" in done.stderr
    assert "Traceback" not in done.stderr
    assert tree(tmp_path) == before
    assert [path.name for path in (home / "site").iterdir()] == [JOB]


def test_one_bad_job_does_not_stop_the_next(tmp_path: Path) -> None:
    """`build --all` builds what is sound, says what is not, and the worst exit code stands."""
    home = demo_copy(tmp_path)
    bad = home / "a-bad-job"
    bad.mkdir()
    (bad / "job.yaml").write_text("job: a-bad-job\n", "utf-8")
    done = sitegen("build", "--all", cwd=home)
    assert (done.returncode, done.stdout) == (1, f"site/{JOB}/index.html\n")
    assert "a-bad-job/job.yaml:1: rooms: `rooms` is missing." in done.stderr
    assert [path.name for path in (home / "site").iterdir()] == [JOB]


def test_jobs_at_a_time_are_built_as_one_after_another(tmp_path: Path) -> None:
    """`--jobs` prints the same lines, says the same faults, gives the same bytes and the same exit code."""
    home = demo_copy(tmp_path)
    for name, fault in (("b-second", None), ("c-bad", FAULT)):
        shutil.copytree(home / JOB, home / name)
        edit(home / name / "job.yaml", f"job: {JOB}", f"job: {name}")
        if fault:
            edit(home / name / "job.yaml", *fault)
    one = process("build", "--all", cwd=home)
    first = tree(home / "site")
    shutil.rmtree(home / "site")
    two = process("build", "--all", "--jobs", "2", cwd=home)
    assert two == one
    assert (two.returncode, two.stdout) == (1, f"site/{JOB}/index.html\nsite/b-second/index.html\n")
    assert tree(home / "site") == first


def test_a_process_that_is_ended_from_outside_is_said() -> None:
    """Whoever ends a worker, such as a system short of memory, leaves an error with the job's name, and no hang."""
    with in_processes(_ended, [Path("one"), Path("two")], 2) as result, pytest.raises(BuildError, match="one: its "):
        result(Path("one"))


def _ended(folder: Path) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def test_errors_keep_what_they_say_from_one_process_to_another() -> None:
    """An error of a worker is the same on the other side."""
    for error in (Faults([Fault("job.yaml", 3, "rooms", "It is wrong.", "Mend it.")]), NoWorkspace("None here."),
                  AuditFailed([Breach("index", "start", "rule", "That.", "Mend it.")])):
        again = pickle.loads(pickle.dumps(error))
        assert (type(again), str(again), again.exit_code) == (type(error), str(error), error.exit_code)


@pytest.mark.parametrize("command", [("check", "elm-street"), ("build", "elm-street"), ("figures", "elm-street"),
                                     ("figures", "elm-street", "--json"), ("build", "../firm/../elsewhere"),
                                     ("check", "."), ("check", ""), ("check", "towns"), ("build", "x\ny")])
def test_an_unknown_job_is_exit_2(tmp_path: Path, command: tuple[str, ...]) -> None:
    """A JOB that is no folder of the workspace is wrong usage, and the jobs that there are get named."""
    home = demo_copy(tmp_path)
    done = sitegen(*command, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"There is no job `{command[1]}` in .. Jobs there: {JOB}.\n"
    assert not (home / "site").exists()


@pytest.mark.parametrize("command", [("check",), ("build", JOB), ("build", "--all"), ("figures", JOB)])
def test_no_workspace_is_exit_2(tmp_path: Path, command: tuple[str, ...]) -> None:
    """Away from any workspace the way out is named: change into one, or give --home."""
    done = sitegen(*command, cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == ("No company.yaml here or in any folder above. Change into a workspace, or name one with "
                           "--home.\n")


def test_a_home_that_is_no_workspace_is_exit_2(tmp_path: Path) -> None:
    """--home must name a folder with a company card."""
    done = process("check", "--home", str(tmp_path / "nowhere"), cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == ("nowhere is no workspace: it has no company.yaml. "
                           "`sitegen new JOB --home nowhere` starts one there.\n")


@pytest.mark.parametrize("command", [("build",), ("figures",), ("build", "--fast"), ("paint",),
                                     ("build", "--all", JOB), ("figures", JOB, "another")])
def test_wrong_usage_is_exit_2(tmp_path: Path, command: tuple[str, ...]) -> None:
    """A missing JOB, an unknown option or command, and --all beside a JOB are exit 2, on standard error."""
    home = demo_copy(tmp_path)
    done = sitegen(*command, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr
    assert "Traceback" not in done.stderr


def test_a_job_is_named_by_its_folder_too(tmp_path: Path) -> None:
    """JOB is a folder of the workspace, by name or by path, from any folder inside it."""
    home = demo_copy(tmp_path)
    for given, cwd in ((JOB, home / "towns"), (f"../{JOB}", home / "towns"), (".", home / JOB), (f"{JOB}/", home),
                       (str(home / JOB), home)):
        assert sitegen("check", given, cwd=cwd).stdout.startswith(f"{JOB}: no faults\n"), given


def test_every_figure_has_its_five_parts(tmp_path: Path) -> None:
    """`figures --json` is a list of objects with name, value, unit, method and source, each name once."""
    found = figures_of(demo_copy(tmp_path))
    for figure in found:
        assert {"name", "value", "unit", "method", "source"} <= set(figure), figure
        assert all(isinstance(figure[key], str) and figure[key].strip()
                   for key in ("name", "unit", "method", "source")), figure
        assert isinstance(figure["value"], int | float | str), figure
    names = [figure["name"] for figure in found]
    assert names == sorted(set(names))
    for option in ("minimal-protection", "per-item", "fixed-guarantee"):
        assert {f"options.{option}.price", *(f"options.{option}.ending.p{n}" for n in (10, 50, 90))} <= set(names)
    ending = {figure["name"]: figure["value"] for figure in found}
    assert ending["options.per-item.ending.p10"] <= ending["options.per-item.ending.p50"]
    assert ending["options.per-item.ending.p50"] <= ending["options.per-item.ending.p90"]


def test_every_input_of_a_figure_is_a_figure(tmp_path: Path) -> None:
    """A figure can be followed back: each name among its inputs is listed too."""
    found = figures_of(demo_copy(tmp_path))
    names = {figure["name"] for figure in found}
    assert {name for figure in found for name in figure["inputs"]} - names == set()


def test_figures_are_listed_for_people_too(tmp_path: Path) -> None:
    """Without --json each figure has its value, unit, method and source in two more lines."""
    home = demo_copy(tmp_path)
    done = sitegen("figures", JOB, cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    price = next(figure["value"] for figure in figures_of(home) if figure["name"] == "options.per-item.price")
    assert f"options.per-item.price = {price} [cents]\n    " in done.stdout


@pytest.mark.parametrize("name", BAD_FILES)
@pytest.mark.parametrize("file", [JOB_FILE, "price-book.yaml", "cost-book.yaml"])
def test_no_bad_file_ends_in_a_traceback(tmp_path: Path, file: str, name: str,
                                         capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever stands in a file, the command ends with messages about that file and exit 1."""
    home = demo_copy(tmp_path)
    (home / file).write_bytes(BAD_FILES[name])
    _expect_faults(home, file, capsys)


@pytest.mark.parametrize("file", ["company.yaml", "towns/pellam-ford.yaml", "states/tessamin.yaml"])
@pytest.mark.parametrize("name", ["empty", "binary", "list", "null values", "alias bomb"])
def test_no_bad_card_ends_in_a_traceback(tmp_path: Path, file: str, name: str,
                                         capsys: pytest.CaptureFixture[str]) -> None:
    """The cards of company, town and state are read as carefully as a job."""
    home = demo_copy(tmp_path)
    (home / file).write_bytes(BAD_FILES[name])
    _expect_faults(home, file, capsys)


def test_a_file_of_50_megabytes_is_not_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file far too large is refused by its size."""
    home = demo_copy(tmp_path)
    with (home / JOB_FILE).open("r+b") as file:
        file.truncate(50 * 1024 * 1024)
    _expect_faults(home, JOB_FILE, capsys)


def test_a_folder_in_place_of_a_file_is_a_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder called `price-book.yaml` is a fault and no traceback."""
    home = demo_copy(tmp_path)
    (home / "price-book.yaml").unlink()
    (home / "price-book.yaml").mkdir()
    _expect_faults(home, "price-book.yaml", capsys)


def _expect_faults(home: Path, file: str, capsys: pytest.CaptureFixture[str]) -> None:
    from sitegen.cli import cli

    with pytest.raises(SystemExit) as ended:
        cli.main(["check", JOB, "--home", str(home)], standalone_mode=False)
    said = capsys.readouterr()
    assert ended.value.code == 1
    assert said.out == ""
    lines = said.err.splitlines()
    assert any(f"{file}" in line for line in lines), said.err[:500]
    assert all(len(line) < 2_000 for line in lines)
