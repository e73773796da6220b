"""The first job of a firm: the workspace that is started around it, its blanks, and where none is started."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from sitegen.job.begin import CARDS
from sitegen.job.books import PriceBook
from sitegen.job.document import read
from sitegen.job.fields import money, money_or_none
from sitegen.job.gaps import FEW
from sitegen.job.outline import Kind, fields_of
from sitegen.job.parts import OPTIONS
from sitegen.job.schema import FILES
from tests.helpers import DEMO, demo_copy, edit, faults, sitegen, tree
from tests.job.test_schema import every_field

NEW = "elm-street"
FILES_OF_NEW = [*CARDS.values(), f"{NEW}/job.yaml"]
KINDS = {**{name: kind for kind, name in CARDS.items()}, f"{NEW}/job.yaml": "job"}
AMOUNTS = (money, money_or_none)
OTHER = {("job", "who"): "nobody", ("job", "evidence"): "not traced", ("cost-book", "labour an hour"): "$45"}
"""What is written where the first answer would ask for more than the blanks, or cost more than the prices beside it."""


def begun(tmp_path: Path, *more: str) -> Path:
    """An empty folder in which `new` was run."""
    home = tmp_path / "firm"
    home.mkdir()
    done = sitegen("new", NEW, *more, cwd=home)
    assert done.returncode == 0, done.stderr
    return home


def blanks(path: Path) -> dict[int, tuple[str | int, ...]]:
    """The line of every value of a file that stands empty, with its path."""
    document, found = read(path, ""), dict[int, tuple[str | int, ...]]()

    def walk(value: object, at: tuple[str | int, ...]) -> None:
        pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        for key, inner in pairs:
            walk(inner, (*at, key))
        if value == "":
            found[document.line(at)] = at
    walk(document.data, ())
    return found


def kind_at(file: str, path: tuple[str | int, ...]) -> Kind:
    """What the field at a path takes."""
    here = Kind("part", part=FILES[file])
    for step in path:
        if here.part:
            here = next(one.kind for one in fields_of(here.part) if one.key == step)
        else:
            assert here.inner
            here = here.inner
    return here


def value_for(file: str, path: tuple[str | int, ...], said: str) -> str:
    """The first of fixed answers, else the example that stands beside the blank."""
    other = OTHER.get((file, str(path[-1])))
    if other or (answers := kind_at(file, path).answers):
        return other or answers[0]
    found = re.search(r"(?:such as|there are:) (?!.* such as )(.+)$", said)
    assert found, (file, path, said)
    return found[1]


def fill(home: Path) -> None:
    """Write into every blank of every file what its type and the words beside it ask for."""
    for name, file in KINDS.items():
        lines = (home / name).read_text("utf-8").splitlines()
        for line, path in blanks(home / name).items():
            start, mark, says = lines[line - 1].partition("#")
            assert mark, lines[line - 1]
            for more in lines[line:]:
                if not re.match(r" {30,}# ", more):
                    break
                says += " " + more.strip().removeprefix("# ")
            lines[line - 1] = f'{start.rstrip()} "{value_for(file, path, says)}"  {mark}'
        (home / name).write_text("\n".join(lines) + "\n", "utf-8")


def test_a_first_job_starts_a_workspace(tmp_path: Path) -> None:
    """Standard output names each file written and no other, standard error what to fill in first."""
    home = tmp_path / "firm"
    home.mkdir()
    done = sitegen("new", NEW, "--form", cwd=home)
    assert (done.returncode, done.stdout.splitlines()) == (0, [*FILES_OF_NEW, f"{NEW}/form.html"])
    assert sorted(tree(home)) == sorted(done.stdout.splitlines())
    assert done.stderr.startswith("A new workspace: ")
    assert all(name in done.stderr for name in FILES_OF_NEW)
    assert len(done.stderr.splitlines()) == 1


def counted(home: Path) -> list[str]:
    """What is said of the files with more than a few blanks: how many, how many of them prices, and the first."""
    said = []
    for name, file in KINDS.items():
        empty = blanks(home / name)
        prices = sum((text := kind_at(file, path).text) is not None and text.read in AMOUNTS for path in empty.values())
        of_them = f", {prices} of them {'a price' if prices == 1 else 'prices'}" if prices else ""
        if len(empty) > FEW:
            said.append(f"{name}:{min(empty)}: {len(empty)} values have to be filled in{of_them}; the first is in this "
                        "line. Beside each stands what it takes.")
    return said


def test_the_blanks_of_a_new_workspace_are_one_line_a_file(tmp_path: Path) -> None:
    """`check` counts the blanks of each file in one line that names the first, with the prices among them."""
    home = begun(tmp_path)
    cards = (CARDS["town"], CARDS["state"])     # not known before the job names its town
    assert sorted(faults(home, NEW)) == sorted(said for said in counted(home) if not said.startswith(cards))


def test_a_few_blanks_are_named_one_by_one(tmp_path: Path) -> None:
    """Where a file has few blanks left each has a line of its own, with its field."""
    home = begun(tmp_path)
    fill(home)
    edit(home / CARDS["price-book"], 'minimum: "$480"', "minimum:")
    edit(home / CARDS["price-book"], 'large: "$240"', "large:")
    assert [re.sub(":[0-9]+:", ":", fault) for fault in faults(home, NEW)] == [
        f"price-book.yaml: patches.{key}: Nothing stands here; it needs an amount such as $3,200 or $0.90. Write a "
        "dollar sign, then digits; no minus and no words." for key in ("large", "minimum")]


def test_the_books_begin_with_all_but_what_the_firm_alone_knows(tmp_path: Path) -> None:
    """Hours, counts, sizes and words stand in both books; every price is a blank, and so are days, names, chances and
    what the firm must promise or decide itself."""
    home = begun(tmp_path)
    asked = {"edition", "by", "quoted", "on", "whose", "chance", "credited", "we would sign this", "years on work",
             "years on old wire", "passes on", "loses at most", "earns at least"}
    for kind in ("price-book", "cost-book"):
        for path in blanks(home / CARDS[kind]).values():
            text = kind_at(kind, path).text
            assert text
            assert text.read in AMOUNTS or path[-1] in asked or "cases" in path, path
    book = read(home / CARDS["price-book"], "").data
    amounts = re.findall(r"(?m)^ *([a-z][a-z ]*): (\$[0-9,]+)", (home / CARDS["price-book"]).read_text("utf-8"))
    assert amounts == [("before work", "$0")] * len(book["kits"])
    assert not re.findall(r"(?m)^ *[a-z][a-z ]*: \$", (home / CARDS["cost-book"]).read_text("utf-8"))


def test_filling_the_blanks_is_enough(tmp_path: Path) -> None:
    """When every blank is filled by its type, the job passes `check` and its site is built into the workspace."""
    home = begun(tmp_path)
    fill(home)
    assert faults(home, NEW) == []
    done = sitegen("check", cwd=home)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{NEW}: no faults\n")
    done = sitegen("build", NEW, cwd=home)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"site/{NEW}/index.html\n", "")


def test_a_second_job_starts_in_the_workspace_begun(tmp_path: Path) -> None:
    """With its price book filled in, the workspace takes further jobs and its cards stay as they are."""
    home = begun(tmp_path)
    fill(home)
    before = tree(home)
    done = sitegen("new", "oak-street", cwd=home / NEW)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"{home}/oak-street/job.yaml\n", "")
    assert {name: text for name, text in tree(home).items() if name in before} == before


def test_what_a_new_workspace_names_agrees(tmp_path: Path) -> None:
    """Kinds of points, cases, later costs, kits and cards are named alike wherever they are named."""
    home = begun(tmp_path)
    book, costs, town, job = (yaml.safe_load((home / name).read_text("utf-8")) for name in
                              (CARDS["price-book"], CARDS["cost-book"], CARDS["town"], f"{NEW}/job.yaml"))
    kinds = list(book["rates"]["drops a point"])
    assert kinds == list(costs["points"]) == list(job["rooms"][0]["now"])
    assert kinds == list(book["boxes"]) == list(book["rates"]["box cut"])
    assert (home / "states" / f"{town['state']}.yaml").is_file()
    cases, later = [case["key"] for case in book["cases"]], {item["key"] for item in book["later"]}
    assert [kit["option"] for kit in book["kits"].values()] == list(reversed(OPTIONS))
    for kit in book["kits"].values():
        assert list(kit["cases"]) == cases
        assert set(kit["later"]) <= later
    assert {row["kit"]: row["option"] for row in job["options"]} == {key: kit["option"] for key,
                                                                     kit in book["kits"].items()}
    assert [stop for case in book["cases"] for stop in case.get("asked in", ())] == list(job["stop work"])


@pytest.mark.parametrize("kind", CARDS)
def test_a_card_mentions_every_field_with_its_words(tmp_path: Path, kind: str) -> None:
    """Every field of a card and of its parts stands in a new one, with its description beside it."""
    text = (begun(tmp_path) / CARDS[kind]).read_text("utf-8")
    said = re.sub(r"\s+", " ", re.sub(r"\n[ #]*# (?! *(- )?[a-z -]+:)", " ", text))
    for part, field in every_field(kind):
        assert re.search(rf"^[ #]*(- )?{re.escape(field.key)}:", text, re.MULTILINE), f"{part}.{field.key}"
        assert field.says in said, f"{part}.{field.key}: {field.says}"


def test_what_a_card_may_leave_out_is_right_when_it_is_used(tmp_path: Path) -> None:
    """Taking the # away from every field of the price book that may be left out gives a book that is sound."""
    home = begun(tmp_path)
    fill(home)
    path = home / CARDS["price-book"]
    text = re.sub(r"(?m)^( {,6})# (?=(?:  )*(?:- [A-Za-z]|[a-z][a-z -]*:))", r"\1", path.read_text("utf-8"))
    path.write_text(text, "utf-8")
    data: dict[str, Any] = read(path, "").data
    book = PriceBook.model_validate(data)
    assert book.extras
    assert book.protect_outlet == 8_500
    assert book.points_a_circuit == 10
    for kit in book.kits.values():
        assert kit.also_does == ["panel"]
        assert sum(kit.payments.after.values()) + kit.payments.held_to_the_end == 1
        assert ("holes closed" in kit.payments.after) == (kit.closes_holes == "us")


@pytest.mark.parametrize("name", FILES_OF_NEW)
def test_nothing_is_written_over(tmp_path: Path, name: str) -> None:
    """Where any file of a new workspace is there already nothing is written, with exit 2 and the way out."""
    home = tmp_path / "firm"
    (home / name).parent.mkdir(parents=True)
    (home / name).write_text("mine", "utf-8")
    done = sitegen("new", NEW, cwd=home)
    assert (done.returncode == 2) == (name != CARDS["company"])
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    assert tree(home) == {name: b"mine"}


def test_a_workspace_that_cannot_be_written_is_taken_away_again(tmp_path: Path) -> None:
    """When one file cannot be written none is left behind."""
    home = tmp_path / "firm"
    home.mkdir()
    (home / "towns").write_text("mine", "utf-8")
    done = sitegen("new", NEW, cwd=home)
    assert (done.returncode, done.stdout) == (2, "")
    assert tree(home) == {"towns": b"mine"}


def test_a_name_that_is_no_job_starts_nothing(tmp_path: Path) -> None:
    """A bad name is refused before anything is written."""
    assert sitegen("new", "../elm", cwd=tmp_path).returncode == 2
    assert tree(tmp_path) == {}


@pytest.mark.parametrize("there", ["empty", "missing", "missing, and the folder above it"])
def test_home_names_where_a_workspace_starts(tmp_path: Path, there: str) -> None:
    """The README's command starts a workspace in a folder that is empty or not there yet, and says how to go on."""
    home = Path("above/firm" if "above" in there else "firm")
    if there == "empty":
        (tmp_path / home).mkdir()
    done = sitegen("new", NEW, "--form", "--home", str(home), cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == [f"{home}/{name}" for name in (*FILES_OF_NEW, f"{NEW}/form.html")]
    assert f"`sitegen check {NEW} --home {home}`" in done.stderr
    assert sitegen("check", NEW, "--home", str(home), cwd=tmp_path).returncode == 1


@pytest.mark.parametrize(("home", "way_out"), [
    ("firm/towns", "It lies in the workspace firm: name that one."),
    ("note.txt", "It is a file: name a folder."),
    ("elsewhere", "`sitegen new JOB --home elsewhere` starts one there."),
])
def test_a_home_that_is_no_workspace_is_refused_with_the_way_out(tmp_path: Path, home: str, way_out: str) -> None:
    """A folder inside a workspace, a file, and one that is not there are each told from the others."""
    demo_copy(tmp_path)
    (tmp_path / "note.txt").write_text("mine", "utf-8")
    done = sitegen("check", NEW, "--home", home, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (2, f"{home} is no workspace: it has no company.yaml. {way_out}\n")


def test_no_workspace_starts_inside_another_or_in_a_clone(tmp_path: Path) -> None:
    """Below a workspace the job goes into that one; in a clone none is started, found or named."""
    home = demo_copy(tmp_path)
    done = sitegen("new", NEW, cwd=home / "towns")
    assert (done.returncode, done.stderr) == (0, "")
    assert (home / NEW / "job.yaml").is_file()
    assert not (home / "towns" / "company.yaml").exists()
    before = sorted(DEMO.parent.glob("*"))
    for cwd, more in ((DEMO.parent / "tests", ()), (tmp_path, ("--home", str(DEMO.parent / "tests")))):
        done = sitegen("new", NEW, *more, cwd=cwd)
        assert (done.returncode, done.stdout) == (2, "")
    assert sorted(DEMO.parent.glob("*")) == before
    assert not (DEMO.parent / "tests" / "company.yaml").exists()
