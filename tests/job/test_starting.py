"""What a new workspace starts with: every field of the model stands there, in its order, with its own sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from pydantic import BaseModel
from pydantic_core import PydanticCustomError

from sitegen.job.begin import CARDS, STARTING, begin
from sitegen.job.blanks import ALWAYS, EXAMPLES, NOTES
from sitegen.job.model import Job
from sitegen.job.outline import FieldOf, Kind, fields_of
from sitegen.job.parts import CLAIMS
from sitegen.job.schema import FILES
from tests.helpers import tree
from tests.job.test_schema import parts_of

UNUSED = re.compile(r"^( *)# (?= *(?:- |[a-z][a-z -]*:))", re.MULTILINE)
"""The mark before a field that may be left out; a note begins with a capital letter."""
GOES_ON = re.compile(r"\n {30,}# ")
"""Between the lines of a comment that takes more than one."""


@dataclass(frozen=True)
class Value:
    """One line of a file: its field when it has one of its own, what may stand there, what does, what is said of it."""

    line: str
    field: FieldOf | None
    kind: Kind
    text: str
    comment: str


@dataclass
class Open:
    """A part, list or map that a line stands in, with the keys that stand in it so far."""

    indent: int
    kind: Kind
    keys: list[str] = field(default_factory=list)


@dataclass
class Outline:
    """A file read by its lines and their indents, with fields that may be left out as if they were in use."""

    values: list[Value] = field(default_factory=list)
    opened: list[Open] = field(default_factory=list)

    @staticmethod
    def of(kind: str, text: str) -> Outline:
        """The outline of one kind of file."""
        made, top = Outline(), Open(-1, Kind("part", part=FILES[kind]))
        made.opened.append(top)
        stack = [top]
        for line in UNUSED.sub(r"\1", GOES_ON.sub(" ", text)).splitlines():
            said, _, comment = line.partition("#")
            if said.strip():
                made.add(stack, said.rstrip(), comment.strip())
        return made

    def add(self, stack: list[Open], said: str, comment: str) -> None:
        """One line, in what is open around it."""
        indent, body = len(said) - len(said.lstrip()), said.strip()
        self.leave(stack, indent)
        if body == "-" or body.startswith("- "):
            inner = stack[-1].kind.inner
            assert inner, said
            body, indent = body[2:], indent + 2
            if not inner.part:
                self.values.append(Value(said, None, inner, body, comment))
                return
            self.enter(stack, Open(indent - 1, inner))
        key, colon, text = body.partition(":")
        assert colon, said
        around, one = stack[-1], None
        if around.kind.part:
            one = {known.key: known for known in fields_of(around.kind.part)}.get(key)
            assert one, f"{said}: no field of {around.kind.part.__name__}"
        kind = one.kind if one else around.kind.inner
        assert kind, said
        around.keys.append(key)
        self.values.append(Value(said, one, kind, text.strip(), comment))
        self.enter(stack, Open(indent, kind))

    def leave(self, stack: list[Open], indent: int) -> None:
        """Close what a line of this indent is not in."""
        while stack[-1].indent >= indent:
            stack.pop()

    def enter(self, stack: list[Open], here: Open) -> None:
        stack.append(here)
        self.opened.append(here)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace just started."""
    folder = tmp_path_factory.mktemp("firm")
    begin(folder, "elm-street", False)
    return folder


@pytest.fixture(params=[*CARDS, "job"])
def made(request: pytest.FixtureRequest, home: Path) -> tuple[str, Outline]:
    """Each kind of file with what stands in it."""
    name = CARDS.get(request.param, "elm-street/job.yaml")
    return request.param, Outline.of(request.param, (home / name).read_text("utf-8"))


def reads(kind: Kind, text: str) -> bool:
    """Whether a field takes this text."""
    assert kind.text
    try:
        kind.text.read(text)
    except PydanticCustomError:
        return False
    return True


MANY = 20
"""More answers than are said beside each field: they stand once above its part, and an example beside it."""


def answers_of(value: Value, says: str) -> str:
    """All that may stand in a field of fixed answers, as it is said beside its sentence unless that names them."""
    kind, default = value.kind, value.field.default if value.field else None
    if kind.some:
        return f"any of: {', '.join(kind.some)}"
    if len(kind.answers) > MANY:
        return f"such as {value.comment.rpartition(' ')[2]}"
    usual = f"{'yes' if default else 'no'} if left out" if isinstance(default, bool) else ""
    most, last = ", ".join(kind.answers[:-1]), kind.answers[-1]
    if f"{most} or {last}" in says or f"{most}, or {last}" in says:
        return usual
    return f"one of: {', '.join(kind.answers)}" + (f"; {usual}" if usual else "")


def test_the_cards_are_written_as_they_stand(home: Path) -> None:
    """The folder holds the cards of a new workspace and nothing else, and they are copied to the byte."""
    assert set(tree(STARTING)) == set(CARDS.values())
    assert {name: text for name, text in tree(home).items() if name in tree(STARTING)} == tree(STARTING)


def test_every_field_stands_there_in_the_order_of_the_model(made: tuple[str, Outline]) -> None:
    """Every part of the model stands in its file, and wherever one stands so does each of its fields, in order."""
    kind, outline = made
    parts = [here for here in outline.opened if here.kind.part]
    assert {here.kind.part for here in parts} == set(parts_of(FILES[kind]))
    for here in parts:
        assert here.kind.part
        assert here.keys == [one.key for one in fields_of(here.kind.part)], here.kind.part.__name__


def test_every_comment_is_the_sentence_of_the_model(made: tuple[str, Outline]) -> None:
    """Beside a field stands what the model says of it; after that, all its answers or an example that it takes."""
    for value in made[1].values:
        says = value.field.says if value.field else ""
        assert value.comment.startswith(says), f"`{value.line.strip()}` has to say: {says}"
        hint = value.comment.removeprefix(says).removeprefix("; " if says else "")
        if value.kind.shape != "text" or (value.text and not hint):
            assert hint == "", value
        elif value.kind.answers or value.kind.some:
            assert hint == answers_of(value, says), value.line
        else:
            such, _, example = hint.partition("such as " if "such as " in hint else "there are: ")
            assert such == "", value
            assert reads(value.kind, example), f"{value.line}: {example}"


def paths_of(part: type[BaseModel], path: str = "") -> Iterator[str]:
    """The path of every field of a part, without the names of things in between."""
    for one in fields_of(part):
        here = f"{path}.{one.key}".lstrip(".")
        yield here
        inner = one.kind.part or (one.kind.inner.part if one.kind.inner else None)
        yield from paths_of(inner, here) if inner else ()


def test_examples_and_notes_of_a_new_job_are_those_of_its_fields() -> None:
    """No example or note is left behind when its field is renamed or taken out."""
    assert {*EXAMPLES, *NOTES, *ALWAYS} - set(paths_of(Job)) == set()


def test_every_value_that_stands_there_is_one_that_its_field_takes(made: tuple[str, Outline]) -> None:
    """What is filled in already, and the example of what may be left out, is read by the type of its field."""
    known = [value for value in made[1].values if value.text not in ("", "[]", "{}")]
    assert [value.line for value in known if not reads(value.kind, value.text)] == []


def test_many_answers_stand_once_and_each_example_is_one_of_them() -> None:
    """The claims are all named above the kits, in their order, and each example is one of them."""
    text = (STARTING / "price-book.yaml").read_text("utf-8")
    assert ", ".join(CLAIMS) in " ".join(text.replace("\n# ", " ").split())
    examples = re.findall(r"- claim: (\S+)", text)
    assert len(examples) == 3
    assert set(examples) <= set(CLAIMS)
