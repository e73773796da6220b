"""A new job: its blanks, its words, and where it may not land."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
import yaml

from sitegen.job.books import PriceBook
from sitegen.job.document import read
from sitegen.job.load import load
from sitegen.job.model import Job
from sitegen.job.parts import OPTIONS
from sitegen.job.scaffold import NOT_JOBS
from sitegen.trade.kinds import TROUBLE
from tests.helpers import DEMO, JOB, ROOT, demo_copy, edit, faults, sitegen, tree
from tests.job.test_schema import every_field

NEW = "mill-lane"
VALUES = {
    "prepared": "2026-11-18", "prices hold to": "2026-12-18", "town": "pellam-ford", "address": "12 Mill Lane",
    "surveyed": "2026-11-17", "surveyed by": "Priya Dunmore", "who": "nobody", "name": "Ada Quill", "as": "owner",
    "built": "1912", "area": "2,140 sq ft", "storeys": "2", "points on outside walls": "2 of 5", "tested": "none",
    "subsidised": "no", "child under six": "no", "pregnant": "not said", "sign by": "2026-11-23",
    "work starts": "2026-12-02", "ceiling": "9 ft", "walls": "plaster on wood lath", "flooring": "thin strip",
    "fuel or garage": "yes", "holds": "fuses", "rating": "60 A", "spaces": "8", "where": "Entry hall",
    "service": "overhead", "medical": "not said", "about": "points", "kind": "hall",
    "evidence": "not traced", "probed": "4", "blocked": "1",
    "number": "1", "page": "2", "says": "Old wires.", "room": "Entry hall", "floor": "1", "size": "9 ft x 14 ft",
    "price": "$9,000", "-": "behind the stove",
}
"""A valid value for each key that `new` leaves blank."""


def start(tmp_path: Path, *more: str) -> Path:
    """A workspace with a job just begun."""
    home = demo_copy(tmp_path)
    done = sitegen("new", NEW, *more, cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[0] == f"{NEW}/job.yaml"
    return home


def blanks(home: Path) -> dict[int, tuple[str, ...]]:
    """The line of every value that stands empty, with its path, as the reader of the file sees it."""
    document = read(home / NEW / "job.yaml", "")
    found = {}

    def walk(value: object, path: tuple[str | int, ...]) -> None:
        if isinstance(value, dict):
            for key, inner in value.items():
                walk(inner, (*path, key))
        elif isinstance(value, list):
            for at, inner in enumerate(value):
                walk(inner, (*path, at))
        elif value == "":
            found[document.line(path)] = tuple(str(part) for part in path)
    walk(document.data, ())
    return found


def value_for(path: tuple[str, ...]) -> str:
    """What a test writes into the blank at `path`."""
    if path[0] == "rooms" and len(path) == 4:
        return {"now": "1", "want": "2", "feeds": "front-outlets"}[path[2]]
    if path[0] == "stop work":
        return "not seen"
    return VALUES["-" if path[-1].isdigit() else path[-1]]


def fill(home: Path) -> None:
    """Write a valid value into every blank."""
    job = home / NEW / "job.yaml"
    lines = job.read_text("utf-8").splitlines()
    for line, path in blanks(home).items():
        start, mark, says = lines[line - 1].partition("#")
        assert mark, lines[line - 1]
        lines[line - 1] = f"{start.rstrip()} {value_for(path)}  # {says.strip()}"
    job.write_text("\n".join(lines) + "\n", "utf-8")


def test_the_blanks_of_a_new_job_are_one_line(tmp_path: Path) -> None:
    """A job just begun has one fault: how many blanks it has, and the line of the first."""
    home = start(tmp_path)
    empty = blanks(home)
    (said,) = faults(home, NEW)
    assert said.startswith(f"{NEW}/job.yaml:{min(empty)}: {len(empty)} values have to be filled in; the first ")
    assert sitegen("check", NEW, cwd=home).stderr == f"{said}\n"


def test_a_filled_job_is_sound(tmp_path: Path) -> None:
    """When every blank holds a valid value the job passes `check` as it stands."""
    home = start(tmp_path)
    fill(home)
    assert faults(home, NEW) == []
    job = load(home, home / NEW, home).job
    assert (job.job, job.version, job.demo) == (NEW, 1, False)
    assert [price.option for price in job.options] == list(OPTIONS)


def test_every_blank_has_its_example_or_its_answers(tmp_path: Path) -> None:
    """Beside each blank stands an example, the fixed answers, or what there is to choose from."""
    home = start(tmp_path)
    text = (home / NEW / "job.yaml").read_text("utf-8")
    for line in blanks(home):
        said = " ".join(text.splitlines()[line - 1:line + 3])
        assert re.search(r"such as|one of:|there are:|old, new, part|fuses or breakers|points, new places", said), said


def test_a_house_of_fourteen_rooms_is_an_evenings_typing(tmp_path: Path) -> None:
    """Fourteen rooms with every kind of point, thirteen feeds and eight findings need at most 360 values."""
    times = {"rooms": 14, "feeds": 13, "findings": 8}
    needed = [times.get(path[0], 1) for path in blanks(start(tmp_path)).values()]
    assert sum(needed) <= 360
    assert needed.count(14) > 14            # each room has more to say than its name


def test_a_new_job_mentions_every_field_with_its_words(tmp_path: Path) -> None:
    """Every field of the job and of its parts stands in a new job, with its description beside it."""
    text = (start(tmp_path) / NEW / "job.yaml").read_text("utf-8")
    said = re.sub(r"\s+", " ", re.sub(r"\n *# (?=[a-z])", " ", text))
    for part, field in every_field("job"):
        assert re.search(rf"^[ #]*(- )?{re.escape(field.key)}:", text, re.MULTILINE), f"{part}.{field.key}"
        assert field.says in said, f"{part}.{field.key}: {field.says}"


def test_what_may_be_left_out_is_right_when_it_is_used(tmp_path: Path) -> None:
    """Taking the # away from every field that may be left out gives a file that the model reads."""
    home = start(tmp_path)
    fill(home)
    job = home / NEW / "job.yaml"
    text = job.read_text("utf-8")
    before = len(re.findall(r"(?m)^ *# ", text))
    job.write_text(re.sub(r"(?m)^( {,6})# (?=(?:  )*(?:- [A-Za-z]|[a-z][a-z -]*:))", r"\1", text), "utf-8")
    assert len(re.findall(r"(?m)^ *# ", job.read_text("utf-8"))) < before - 20
    document = read(job, "job.yaml")
    assert document.faults == []
    made = Job.model_validate(document.data)
    for name, info in Job.model_fields.items():
        assert info.is_required() or name in made.model_fields_set, name


def test_the_price_book_is_named(tmp_path: Path) -> None:
    """Kinds of points, finds that stop work and kits come from the workspace's own price book."""
    home = demo_copy(tmp_path)
    edit(home / "price-book.yaml", "wall light: 1}", "wall light: 1, porch light: 2}")
    edit(home / "price-book.yaml", "asked in: [gas-light pipe]", "asked in: [speaking tube]")
    sitegen("new", NEW, cwd=home)
    text = (home / NEW / "job.yaml").read_text("utf-8")
    data = yaml.safe_load(text)
    book = PriceBook.model_validate(read(home / "price-book.yaml", "").data)
    assert list(data["rooms"][0]["now"]) == list(book.rates.drops_a_point)
    assert "# Kinds of points in the price book: outlet, switch, ceiling light, wall light, porch light.\n" in text
    assert "speaking tube" in data["stop work"]
    asked = {key for case in book.cases for key in case.asked_in}
    assert asked & set(TROUBLE)
    assert set(data["stop work"]) == asked - set(TROUBLE)
    for row in data["options"]:
        assert book.kits[row["kit"]].option == row["option"]
    for name, kit in book.kits.items():
        assert (f"{name}" in text) == kit.we_would_sign_this


def test_an_option_without_a_kit_is_told_so(tmp_path: Path) -> None:
    """Where the price book has no kit that we would sign for an option, its blank says where one is made, and the
    example is one of a kit."""
    home = demo_copy(tmp_path)
    book = home / "price-book.yaml"
    edit(book, "    covers: every point\n    cuts: sawn whole\n    sheet: paths\n    we would sign this: yes",
         "    covers: every point\n    cuts: sawn whole\n    sheet: paths\n    we would sign this: no")
    sitegen("new", NEW, cwd=home)
    text = (home / NEW / "job.yaml").read_text("utf-8")
    said = re.sub(r"\s+# ", " ", text[text.index("  - option: fixed-guarantee"):])
    assert "kit: kit of the price book; the price book has no kit for it yet: add one there, such as one-price" in said
    assert "front-outlets" not in text[text.index("options:"):]
    assert "kit: item-2026" in text


def test_a_job_is_never_written_over(tmp_path: Path) -> None:
    """A job that is there is left byte for byte, with exit 2 and the way out; so is a form."""
    home = demo_copy(tmp_path)
    before = tree(home)
    done = sitegen("new", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"There is a job in {JOB} already. Fill in {JOB}/job.yaml, or choose another name.\n"
    assert tree(home) == before
    assert sitegen("new", JOB, "--form", cwd=home).stdout == f"{JOB}/form.html\n"
    assert {name: was for name, was in tree(home).items() if name in before} == before
    after = tree(home)
    done = sitegen("new", JOB, "--form", cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (f"There is a form in {JOB}/form.html already. Print it, or delete it to have a new one.\n")
    assert tree(home) == after


@pytest.mark.parametrize("name", ["Mill Lane", "../mill", "/tmp/mill", "", ".", *NOT_JOBS])
def test_a_name_that_is_no_job_is_refused(tmp_path: Path, name: str) -> None:
    """A job's name is a short name inside the workspace and no folder with another use."""
    home = demo_copy(tmp_path)
    before = tree(tmp_path)
    done = sitegen("new", name, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"`{name}` cannot be the name of a job. ")
    assert tree(tmp_path) == before


def test_a_link_out_of_the_workspace_is_refused(tmp_path: Path) -> None:
    """A folder that is a link to elsewhere gets no job."""
    home = demo_copy(tmp_path)
    (tmp_path / "elsewhere").mkdir()
    (home / NEW).symlink_to(tmp_path / "elsewhere")
    assert sitegen("new", NEW, cwd=home).returncode == 2
    assert tree(tmp_path / "elsewhere") == {}


def test_a_file_where_the_folder_would_be_is_said(tmp_path: Path) -> None:
    """A file with the job's name is left alone, with exit 2."""
    home = demo_copy(tmp_path)
    (home / NEW).write_text("mine", "utf-8")
    done = sitegen("new", NEW, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"{NEW} cannot be written: ")
    assert (home / NEW).read_text("utf-8") == "mine"


def test_a_real_house_never_lands_in_this_clone(tmp_path: Path) -> None:
    """In the demo workspace of this clone, found or named, nothing is written and the way out is told."""
    for cwd, more in ((ROOT, ()), (DEMO / "towns", ()), (tmp_path, ("--home", str(DEMO)))):
        done = sitegen("new", NEW, *more, cwd=cwd)
        assert (done.returncode, done.stdout) == (2, "")
        assert "lies in a clone of sitegen" in done.stderr
        assert "cp -r" in done.stderr
        assert f"`sitegen new {NEW} --home ~/firm`" in done.stderr
        assert not (DEMO / NEW).exists()


def test_a_real_house_never_lands_in_another_clone(tmp_path: Path) -> None:
    """Any clone is known by its shape, and a workspace set into one is refused too; a home outside is taken."""
    clone = tmp_path / "clone"
    shutil.copytree(DEMO, clone / "proposals")
    (clone / "sitegen").mkdir()
    inner = clone / "mine"
    shutil.copytree(DEMO, inner)
    for cwd, more in ((clone, ()), (inner, ())):
        assert sitegen("new", NEW, *more, cwd=cwd).returncode == 2
    home = demo_copy(tmp_path)
    done = sitegen("new", NEW, "--home", str(home), cwd=clone)
    assert (done.returncode, done.stderr) == (0, "")
    assert (home / NEW / "job.yaml").is_file()


def test_a_price_book_with_a_fault_is_said_first(tmp_path: Path) -> None:
    """Nothing is written when the price book cannot be read; its faults are said with exit 1."""
    home = demo_copy(tmp_path)
    edit(home / "price-book.yaml", "quoted: 2026-09-14", "quoted: lately")
    done = sitegen("new", NEW, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert "price-book.yaml:" in done.stderr
    assert not (home / NEW).exists()
