"""What each field takes, read from the model: for a schema that editors complete from, a new job and a form.

The schema is looser than the reading, for an editor sees a YAML file with its guesses made: `yes` may be a truth
value by then, and `1912` a number.  `sitegen check` is the judge.
"""

from __future__ import annotations

import inspect
import types
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator

from sitegen.errors import UsageError
from sitegen.job.books import CostBook, PriceBook
from sitegen.job.cards import Company, State, Town
from sitegen.job.model import Job

FILES: dict[str, type[BaseModel]] = {"job": Job, "company": Company, "price-book": PriceBook,
                                     "cost-book": CostBook, "town": Town, "state": State}
DRAFT = "https://json-schema.org/draft/2020-12/schema"

_MONEY = r"\$([0-9]{1,3}(,[0-9]{3})+|[0-9]{1,9})(\.[0-9]{2})?"
_NAME = "[a-z0-9]+(-[a-z0-9]+)*"

TEXTS: dict[str, tuple[tuple[str, ...], str, str]] = {
    "words": (("string", "number", "boolean"), "", "a few words"),
    "count": (("integer", "string"), "[0-9]{1,3}(,[0-9]{3})*|[0-9]{1,7}", "4"),
    "money": (("string",), _MONEY, "$3,200"),
    "_money_or_none": (("string",), f"{_MONEY}|none", "$3,200"),
    "day": (("string",), "[0-9]{4}-[0-9]{2}-[0-9]{2}", "2026-12-31"),
    "chance": (("string",), "[0-9]{1,6} of [1-9][0-9]{0,5}", "6 of 100"),
    "share": (("string", "integer"), "[0-9]{1,6}((/| of )[1-9][0-9]{0,5})?", "2 of 5"),
    "size": (("string",), r"[0-9.]+ ?(ft)? ?x ?[0-9.]+ ?(ft)?", "14 ft x 16 ft"),
    "area": (("string",), "[0-9]{1,3}(,[0-9]{3})* sq ft|[0-9]{1,6} sq ft", "2,140 sq ft"),
    "length": (("string",), r"[0-9./ ]+(ft|in)( ?[0-9./ ]+in)?", "9 ft 4 in"),
    "lengths": (("string",), r"[0-9./ ftin+]+", "12 ft + 9 ft"),
    "place": (("string",), r"[0-9.]+ ?ft, ?[0-9.]+ ?ft", "0 ft, 14 ft"),
    "square_inches": (("string",), r"[0-9,.]+ ?sq in", "24 sq in"),
    "cubic_inches": (("string",), r"[0-9,.]+ ?cu in", "18 cu in"),
    "amperes": (("string",), r"[0-9,]+ ?A", "100 A"),
    "volt_amperes": (("string",), r"[0-9,]+ ?VA", "4,500 VA"),
    "several": (("string",), "", ""),
    "name": (("string", "integer"), _NAME, "front-outlets"),
    "phone": (("string", "integer"), r"\+?[0-9() -]{3,20}", "555-0100"),
    "web_address": (("string",), "https://.+", "https://licences.example"),
    "inside_path": (("string",), "[A-Za-z0-9._ /-]+", "hall.jpg"),
}
"""Field type -> what an editor may take its text for, the pattern of the text (empty for any), an example."""


@dataclass(frozen=True, slots=True)
class Kind:
    """What a field takes: text read by one field type, a part with fields of its own, a list or a map of a kind."""

    shape: str
    reads: str = ""
    answers: tuple[str, ...] = ()
    some: tuple[str, ...] = ()
    part: type[BaseModel] | None = None
    inner: Kind | None = None
    key: Kind | None = None

    @property
    def example(self) -> str:
        """An example of the text."""
        return (*self.answers, *self.some)[0] if self.answers or self.some else TEXTS[self.reads][2]


@dataclass(frozen=True, slots=True)
class FieldOf:
    """One field as a person meets it: its key in the file, what it says, what it takes, whether it may be left out."""

    key: str
    says: str
    kind: Kind
    needed: bool
    default: Any
    may_be_file: str


def fields_of(part: type[BaseModel]) -> Iterator[FieldOf]:
    """Every field of a part, in the order of the file."""
    for name, info in part.model_fields.items():
        extra = info.json_schema_extra if isinstance(info.json_schema_extra, dict) else {}
        yield FieldOf(info.alias or name, info.description or "", _kind(info.annotation, info.metadata),
                      info.is_required(), None if info.is_required() else info.get_default(),
                      str(extra.get("file", "")))


def _kind(annotation: Any, metadata: list[Any] | tuple[Any, ...] = ()) -> Kind:
    if get_origin(annotation) is Annotated:
        annotation, *metadata = get_args(annotation)
    for one in metadata:
        if isinstance(one, BeforeValidator):
            return _text(one.func)
    arguments = get_args(annotation)
    if get_origin(annotation) in (Union, types.UnionType):
        return _kind(next(arm for arm in arguments if arm is not type(None)))
    if get_origin(annotation) is list:
        return Kind("list", inner=_kind(arguments[0]))
    if get_origin(annotation) is dict:
        return Kind("map", inner=_kind(arguments[1]), key=_kind(arguments[0]))
    assert issubclass(annotation, BaseModel), annotation
    return Kind("part", part=annotation)


def _text(reader: Any) -> Kind:
    if reader.__name__ == "yes_no":
        return Kind("text", "yes_no", ("yes", "no"))
    if reader.__name__ == "answer":  # made by fields.one_of, which keeps its answers
        return Kind("text", "answer", tuple(inspect.getclosurevars(reader).nonlocals["answers"]))
    if reader.__name__ == "several":
        return Kind("text", "several", some=tuple(inspect.getclosurevars(reader).nonlocals["answers"]))
    return Kind("text", reader.__name__)


def schema(name: str) -> dict[str, Any]:
    """The JSON Schema of one kind of file; raises UsageError when there is no such kind."""
    if name not in FILES:
        raise UsageError(f"There is no schema `{name}`. Known: {', '.join(FILES)}.")
    parts: dict[str, Any] = {}
    return {"$schema": DRAFT, "title": f"sitegen: {name}", **_object(FILES[name], parts),
            "$defs": dict(sorted(parts.items()))}


def _object(part: type[BaseModel], parts: dict[str, Any]) -> dict[str, Any]:
    fields = list(fields_of(part))
    says = {"description": " ".join(doc.split())} if (doc := part.__dict__.get("__doc__")) else {}
    return {**says, "type": "object", "additionalProperties": False,
            "properties": {field.key: {"description": field.says, **_one_or_file(field, parts)} for field in fields},
            "required": [field.key for field in fields if field.needed]}


def _one_or_file(field: FieldOf, parts: dict[str, Any]) -> dict[str, Any]:
    made = _schema(field.kind, parts)
    if not field.may_be_file:
        return made
    return {"anyOf": [made, {"type": "string", "pattern": rf"\.{field.may_be_file}$"}]}


def _schema(kind: Kind, parts: dict[str, Any]) -> dict[str, Any]:
    if kind.part is not None:
        name = kind.part.__name__
        if name not in parts:
            parts[name] = {}
            parts[name] = _object(kind.part, parts)
        return {"$ref": f"#/$defs/{name}"}
    if kind.shape == "list" and kind.inner:
        return {"type": "array", "items": _schema(kind.inner, parts)}
    if kind.shape == "map" and kind.inner and kind.key:
        return {"type": "object", "propertyNames": _schema(kind.key, parts),
                "additionalProperties": _schema(kind.inner, parts)}
    if kind.some:
        one = "|".join(kind.some)
        return {"type": "string", "pattern": f"^({one})(, ?({one}))*$", "examples": [kind.example]}
    if kind.answers:
        guessed: list[bool | int] = [answer == "yes" for answer in kind.answers if answer in ("yes", "no")]
        guessed += [int(answer) for answer in kind.answers if answer.isdecimal()]
        return {"enum": [*kind.answers, *guessed]}
    taken, pattern, example = TEXTS[kind.reads]
    made: dict[str, Any] = {"type": taken[0] if len(taken) == 1 else list(taken)}
    if pattern:
        made["pattern"] = f"^({pattern})$"
    if "integer" in taken:
        made["minimum"] = 0
    return made if kind.reads == "words" else {**made, "examples": [example]}
