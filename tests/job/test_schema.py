"""The schema for editors, and the words of the model that it is made from."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest
import yaml
from jsonschema import Draft202012Validator
from pydantic import BaseModel
from pydantic_core import PydanticCustomError

from sitegen.errors import UsageError
from sitegen.job.fields import CODES
from sitegen.job.outline import FieldOf, Kind, fields_of
from sitegen.job.schema import FILES, schema
from sitegen.job.text_type import TextType
from tests.helpers import DEMO, sitegen

DEMO_FILES = {"job": "alder-lane/job.yaml", "company": "company.yaml", "price-book": "price-book.yaml",
              "cost-book": "cost-book.yaml", "finished": "finished.yaml", "town": "towns/pellam-ford.yaml",
              "state": "states/tessamin.yaml"}


class Loader(yaml.SafeLoader):
    """What `yaml.safe_load` takes a file for, with dates left as strings."""


Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if tag != "tag:yaml.org,2002:timestamp"]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()}


def as_an_editor_sees(text: str) -> Any:
    """The file with YAML's guesses made; a key is a string to JSON, so the key `on` is one again."""
    def keys(value: Any) -> Any:
        if isinstance(value, dict):
            return {"on" if key is True else str(key): keys(inner) for key, inner in value.items()}
        return [keys(item) for item in value] if isinstance(value, list) else value
    return keys(yaml.load(text, Loader=Loader))


def parts_of(part: type[BaseModel], seen: set[type[BaseModel]] | None = None) -> Iterator[type[BaseModel]]:
    """A model and every part in it, each once."""
    seen = set() if seen is None else seen
    if part in seen:
        return
    seen.add(part)
    yield part
    for field in fields_of(part):
        kind: Kind | None = field.kind
        while kind is not None:
            if kind.part:
                yield from parts_of(kind.part, seen)
            kind = kind.inner


def every_field(name: str) -> list[tuple[str, FieldOf]]:
    """Every field of one kind of file, nested parts too, with the name of its part."""
    return [(part.__name__, field) for part in parts_of(FILES[name]) for field in fields_of(part)]


@pytest.mark.parametrize("name", FILES)
def test_the_demo_holds_to_its_schema(name: str) -> None:
    """What `sitegen check` takes, an editor takes too."""
    made = schema(name)
    Draft202012Validator.check_schema(made)
    found = Draft202012Validator(made).iter_errors(as_an_editor_sees((DEMO / DEMO_FILES[name]).read_text("utf-8")))
    assert [f"{error.json_path}: {error.message}" for error in found] == []


@pytest.mark.parametrize(("old", "new", "where"), [
    ("kit: item-2026", "kit: item-2026\n    price: 19,000", "$.options[1].price"),
    ("version: 1", "version: one", "$.version"),
    ("prepared: 2026-11-18", "prepared: tomorrow", "$.prepared"), ("who: insurer", "who: uncle", "$['why now'].who"),
    ("town: pellam-ford", "town: Pellam Ford", "$.town"), ("version: 1", "version:", "$.version"),
    ("demo: yes", "colour: blue", "$"), ("address: 61 Alder Lane, Pellam Ford\n", "", "$")])
def test_what_is_wrong_is_wrong_in_an_editor(old: str, new: str, where: str) -> None:
    """An amount, count, date, answer, name, blank, unknown or missing key is marked where it stands."""
    text = (DEMO / DEMO_FILES["job"]).read_text("utf-8")
    assert text.count(old) == 1
    data = as_an_editor_sees(text.replace(old, new))
    assert [error.json_path for error in Draft202012Validator(schema("job")).iter_errors(data)] == [where]


def test_rooms_may_be_a_spreadsheet_in_an_editor_too() -> None:
    """`rooms` takes a list or the name of a CSV file, and no other words."""
    data = as_an_editor_sees((DEMO / DEMO_FILES["job"]).read_text("utf-8"))
    checked = Draft202012Validator(schema("job"))
    assert checked.is_valid({**data, "rooms": "rooms.csv"})
    assert not checked.is_valid({**data, "rooms": "rooms.xlsx"})


@pytest.mark.parametrize("name", FILES)
def test_every_field_says_what_it_is(name: str) -> None:
    """The model is the documentation: every field of every part has a description, and the schema carries it."""
    assert [f"{part}.{field.key}" for part, field in every_field(name) if not field.says.strip()] == []
    made = schema(name)
    objects = {FILES[name].__name__: made, **made["$defs"]}
    for part, field in every_field(name):
        assert objects[part]["properties"][field.key]["description"] == field.says


def every_type() -> list[TextType]:
    """Every text type that a field, a key of a map or an item of a list is declared with, each once."""
    found: dict[TextType, None] = {}

    def look(annotation: Any) -> None:
        for more in getattr(annotation, "__metadata__", ()):
            found.update({more: None} if isinstance(more, TextType) else {})
        for inner in get_args(annotation):
            look(inner)
    for part in dict.fromkeys(part for file in FILES.values() for part in parts_of(file)):
        for hint in get_type_hints(part, include_extras=True).values():
            look(hint)
    return list(found)


def refusal_of(kind: TextType, value: Any) -> str:
    """The code of the error that a type raises for a value; empty when it is read."""
    try:
        kind.read(value)
    except PydanticCustomError as error:
        return error.type
    return ""


def code_of(kind: TextType) -> str:
    """The code of the errors of a type, as its refusal of a list gives it."""
    return refusal_of(kind, ["a list"])


def test_every_type_of_field_is_known() -> None:
    """Every code of a field has a type that is used, and each type's example is read and keeps to its schema."""
    kinds = every_type()
    assert {code_of(kind) for kind in kinds} == set(CODES)
    for kind in kinds:
        assert refusal_of(kind, kind.example) == ""
        Draft202012Validator(kind.__get_pydantic_json_schema__(None, None)).validate(kind.example)


LOOSER = {"day", "chance", "length", "lengths"}
"""Where a pattern cannot say it all: a date that exists, a chance of at most 1, nought over a number."""
SLIPS = "01239,.$+-/x: aZftinsqcuVA\u0663"


def slips(text: str) -> Iterator[str]:
    """Every text that is one letter more, less or other than this one."""
    for at in range(len(text) + 1):
        yield text[:at] + text[at + 1:]
        for letter in SLIPS:
            yield text[:at] + letter + text[at:]
            yield text[:at] + letter + text[at + 1:]


def test_an_editor_takes_what_the_reader_takes() -> None:
    """Of all texts one slip away from its example, the schema of a type marks those that the reader refuses."""
    for kind in every_type():
        marked = Draft202012Validator(kind.__get_pydantic_json_schema__(None, None))
        for text in {slip for slip in slips(kind.example) if slip == slip.strip()}:
            refused = refusal_of(kind, text)
            assert marked.is_valid(text) == (not refused) or refused in LOOSER, (code_of(kind), text)


def test_the_command_prints_the_schema(tmp_path: Path) -> None:
    """`schema job` prints JSON on standard output from any folder; an unknown name is exit 2 and names the known."""
    done = sitegen("schema", "job", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout) == schema("job")
    done = sitegen("schema", "house", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"There is no schema `house`. Known: {', '.join(FILES)}.\n"
    with pytest.raises(UsageError):
        schema("house")
