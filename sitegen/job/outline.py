"""The fields of a part as a person meets them, read from the model: for a new job, its form and the tests.

A build does not need it, nor does the schema.
"""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

from msgspec import Struct
from pydantic import BaseModel

from sitegen.job.text_type import TextType


class Kind(Struct, frozen=True):
    """What a field takes: text of one type, a part with fields of its own, a list or a map of a kind."""

    shape: str
    text: TextType | None = None
    part: type[BaseModel] | None = None
    inner: Kind | None = None

    @property
    def answers(self) -> tuple[str, ...]:
        """All texts that may stand there; none where any may."""
        return self.text.answers if self.text else ()

    @property
    def some(self) -> tuple[str, ...]:
        """The texts of which several may stand there."""
        return self.text.some if self.text else ()

    @property
    def example(self) -> str:
        """An example of the text."""
        return self.text.example if self.text else ""


class FieldOf(Struct, frozen=True):
    """One field: its key in the file, what it says, what it takes, whether it may be left out."""

    key: str
    says: str
    kind: Kind
    needed: bool
    default: Any


def fields_of(part: type[BaseModel]) -> Iterator[FieldOf]:
    """Every field of a part, in the order of the file."""
    for name, info in part.model_fields.items():
        yield FieldOf(info.alias or name, info.description or "", _kind(info.annotation, info.metadata),
                      info.is_required(), None if info.is_required() else info.get_default())


def _kind(annotation: Any, metadata: list[Any] | tuple[Any, ...] = ()) -> Kind:
    if get_origin(annotation) is Annotated:
        annotation, *metadata = get_args(annotation)
    for one in metadata:
        if isinstance(one, TextType):
            return Kind("text", one)
    arguments = get_args(annotation)
    if get_origin(annotation) in (Union, types.UnionType):
        return _kind(next(arm for arm in arguments if arm is not type(None)))
    if get_origin(annotation) is list:
        return Kind("list", inner=_kind(arguments[0]))
    if get_origin(annotation) is dict:
        return Kind("map", inner=_kind(arguments[1]))
    assert issubclass(annotation, BaseModel), annotation
    return Kind("part", part=annotation)
