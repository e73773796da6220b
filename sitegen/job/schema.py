"""The JSON Schema of each kind of file, for completion in an editor: pydantic's own, for text as YAML gives it.

What each field takes stands with its type (`text_type.py`).  The schema is looser than the reading, for an editor
sees a YAML file with its guesses made; `sitegen check` is the judge.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from sitegen.errors import UsageError
from sitegen.job.books import CostBook, PriceBook
from sitegen.job.cards import Company, State, Town
from sitegen.job.finished import Finished
from sitegen.job.model import Job

FILES: dict[str, type[BaseModel]] = {"job": Job, "company": Company, "price-book": PriceBook,
                                     "cost-book": CostBook, "finished": Finished, "town": Town, "state": State}


class _OfText(GenerateJsonSchema):
    """pydantic's generator, where a file is text: nothing is null, a default is no text, each key is checked."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def dict_schema(self, schema: core_schema.DictSchema) -> JsonSchemaValue:
        return {"type": "object", "propertyNames": self.generate_inner(schema["keys_schema"]),
                "additionalProperties": self.generate_inner(schema["values_schema"])}

    def field_title_should_be_set(self, schema: object) -> bool:
        return False


def schema(name: str) -> dict[str, Any]:
    """The JSON Schema of one kind of file; raises UsageError when there is no such kind."""
    if name not in FILES:
        raise UsageError(f"There is no schema `{name}`. Known: {', '.join(FILES)}.")
    made = FILES[name].model_json_schema(schema_generator=_OfText)
    return {"$schema": _OfText.schema_dialect, "$defs": {}, **made, "title": f"sitegen: {name}"}
