"""What reads the text of a field: the reader and the JSON Schema of one kind of text, side by side.

A reader turns text into an exact value or raises with two sentences: what is wrong, and the way out.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct
from pydantic_core import PydanticCustomError, core_schema

from sitegen.job.document import short


class TextType(Struct, frozen=True):
    """One kind of text, as it stands in the annotation of a field; pydantic asks it for both of its halves.

    `pattern` is for the whole text, in the syntax that Python and JSON Schema (ECMA-262) share.  An editor sees a
    YAML file with its guesses made, `1912` as a number and `yes` as a truth value: `types` are what it may take the
    text for.  `answers` are all that may stand there, `some` those of which several may, with commas between.
    """

    read: Callable[[Any], Any]
    pattern: str = ""
    example: str = ""
    types: tuple[str, ...] = ("string",)
    answers: tuple[str, ...] = ()
    some: tuple[str, ...] = ()

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> core_schema.CoreSchema:
        """The reader alone: what it gives is of the field's type already."""
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, core: object, handler: object) -> dict[str, Any]:
        """What an editor may find there; looser than the reader where a pattern cannot say it all."""
        if self.answers:
            guessed: list[bool | int] = [answer == "yes" for answer in self.answers if answer in ("yes", "no")]
            guessed += [int(answer) for answer in self.answers if answer.isdecimal()]
            return {"enum": [*self.answers, *guessed]}
        made: dict[str, Any] = {"type": self.types[0] if len(self.types) == 1 else list(self.types)}
        if self.pattern:
            made["pattern"] = f"^(?:{self.pattern})$"
            made["examples"] = [self.example]
        if "integer" in self.types:
            made["minimum"] = 0
        return made


def as_text(value: Any, code: str, needs: str, way_out: str) -> str:
    """The text of a field without space around it; refuses a list or a part in its place."""
    if not isinstance(value, str):
        kind = "a list" if isinstance(value, list) else "lines of their own below it"
        raise PydanticCustomError(code, "{problem}\n{remedy}",
                                  {"problem": f"Got {kind}, needs {needs}.", "remedy": way_out})
    return value.strip()


def refuse(code: str, got: str, needs: str, way_out: str) -> PydanticCustomError:
    """What is wrong with a text, to be raised: an empty one is said to be empty."""
    said = f"Got `{short(got)}`, needs {needs}." if got else f"Nothing stands here; it needs {needs}."
    return PydanticCustomError(code, "{problem}\n{remedy}",
                               {"problem": said, "remedy": way_out})


def one_of(*answers: str) -> TextType:
    """One of a few fixed answers."""
    listed = ", ".join(f"`{answer}`" for answer in answers)

    def answer(value: Any) -> str:
        text = as_text(value, "answer", f"one of {listed}", "Write one of them.")
        if text not in answers:
            raise refuse("answer", text, f"one of {listed}", "Write one of them as it stands here.")
        return text
    return TextType(answer, example=answers[0], answers=answers)


def several(*answers: str) -> TextType:
    """Any of a few fixed answers, on one line with commas between them."""
    listed, one = ", ".join(f"`{answer}`" for answer in answers), "|".join(answers)

    def several(value: Any) -> tuple[str, ...]:
        text = as_text(value, "several", f"any of {listed}", "Write them on one line with commas between.")
        found = tuple(part.strip() for part in text.split(","))
        for one in found:
            if one not in answers:
                raise refuse("several", one, f"any of {listed}", "Write them as they stand here.")
        return tuple(dict.fromkeys(found))
    return TextType(several, rf"(?:{one})(?:\s*,\s*(?:{one}))*", answers[0], some=answers)
