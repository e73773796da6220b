"""A file of blanks: each field of a model with its own words beside it, for a new job and a new workspace.

What is needed stands as `key:` with nothing after it, so `sitegen check` names every blank by its line.  What
may be left out stands behind a `#`; taking away the `#` and the space after it is enough to use it.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from sitegen.job.schema import FieldOf, Kind, fields_of

COLUMN, WIDE = 34, 116


class Such(str):
    """An example for one place of a file, where others stand for values."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Blanks:
    """Writes one file.  `start` is shaped like the file: text fills a blank, a Such is its example, keys are keys.

    `examples` and `notes` go by the path of a field without the names in between; `asked` are fields that may be
    left out and stand as blanks all the same.
    """

    start: Mapping[str, Any]
    examples: Mapping[str, str]
    notes: Mapping[str, str] = field(default_factory=dict)
    asked: frozenset[str] = frozenset()

    def text(self, part: type[BaseModel], head: Iterable[str]) -> str:
        """The whole file, with what each field says in a column of its own."""
        lines = (text for line in self.part(part, "", "", self.start) for text in _in_column(line))
        return "\n".join([*head, *lines]) + "\n"

    def part(self, part: type[BaseModel], path: str, indent: str, start: Any) -> Iterator[str]:
        given = start if isinstance(start, Mapping) else {}
        for one in fields_of(part):
            here, value = f"{path}.{one.key}".lstrip("."), given.get(one.key)
            needed = self.asks(one, here, value)
            lines = [*self.before(part, one, here), *self.one(part, one, here, value, needed)]
            if not path and one.kind.shape != "text":
                yield ""
            yield from (indent + line if line else line for line in
                        (lines if needed else [f"# {line.removeprefix('# ')}" for line in lines]))

    def asks(self, one: FieldOf, here: str, value: Any) -> bool:
        """Whether a field stands as a blank; one that may be left out does so where a value or example is given."""
        return one.needed or here in self.asked or isinstance(value, str | list)

    def before(self, part: type[BaseModel], one: FieldOf, here: str) -> Iterator[str]:
        """Lines above a field."""
        if here in self.notes:
            yield f"# {self.notes[here]}"

    def one(self, part: type[BaseModel], one: FieldOf, here: str, value: Any, needed: bool) -> Iterator[str]:
        kind = one.kind
        if kind.shape == "text":
            yield self.line(one, here, kind, value, needed, f"{one.key}: ", one.says)
            return
        if value == []:
            yield _said(f"{one.key}: []", one.says, "")
            return
        yield _said(f"{one.key}:", one.says, "")
        if kind.shape == "part" and kind.part:
            yield from (f"  {line}" for line in (self.part(kind.part, here, "", value) if needed else
                                                 self.filled(kind.part, here)))
        elif kind.shape == "list" and kind.inner and kind.inner.part:
            for item in value or [None]:
                yield from _listed(self.part(kind.inner.part, here, "", item) if needed else
                                   self.filled(kind.inner.part, here))
        elif kind.shape == "list" and kind.inner:
            for item in value or [None]:
                yield self.line(one, here, kind.inner, item, needed, "  - ", "")
        elif kind.inner and kind.inner.part:
            for key, item in (value or {}).items():
                yield f"  {key}:"
                yield from (f"    {line}" for line in self.part(kind.inner.part, here, "", item))
        elif kind.inner:
            for key in self.keys(part, one, value):
                yield self.line(one, here, kind.inner, (value or {}).get(key), needed, f"  {key}: ", "")

    def line(self, one: FieldOf, here: str, kind: Kind, value: Any, needed: bool, before: str, says: str) -> str:
        """One value: as it is given, else a blank with a hint, else the example of what may be left out."""
        if isinstance(value, str) and not isinstance(value, Such):
            return _said(before + value, says, "")
        if needed:
            return _said(before, says, self.hint(here, kind, one, value))
        hint = self.hint(here, kind, one, value) if kind.answers or kind.some else ""
        return _said(before + (value or self.example(here, kind)), says, hint)

    def keys(self, part: type[BaseModel], one: FieldOf, value: Any) -> Iterable[str]:
        """The keys of a map of plain values."""
        return value or ()

    def filled(self, part: type[BaseModel], here: str) -> Iterator[str]:
        """A part that is left out as a whole, with examples in place of blanks."""
        for one in fields_of(part):
            yield _said(f"{one.key}: {self.example(f'{here}.{one.key}', one.kind)}", one.says, "")

    def example(self, here: str, kind: Kind) -> str:
        return kind.answers[0] if kind.answers else self.examples.get(here, kind.example)

    def hint(self, here: str, kind: Kind, one: FieldOf, value: Any) -> str:
        """What may stand in a blank."""
        if kind.answers:
            usual = f"; {'yes' if one.default else 'no'} if left out" if isinstance(one.default, bool) else ""
            if any(listed in one.says for listed in _options_to_list(kind.answers)) and one.kind is kind:
                return usual.removeprefix("; ")
            return f"one of: {', '.join(kind.answers)}{usual}"
        if kind.some:
            return f"any of: {', '.join(kind.some)}"
        return f"such as {value or self.example(here, kind)}"


def _options_to_list(answers: tuple[str, ...]) -> Iterator[str]:
    """How the words of a field may name all of its answers already."""
    for last in (" or ", ", or "):
        yield ", ".join(answers[:-1]) + last + answers[-1]


def _listed(lines: Iterable[str]) -> Iterator[str]:
    """Lines of a part as one item of a list."""
    first = True
    for line in lines:
        dash = first and not line.startswith("#")
        yield ("  - " if dash else "    ") + line
        first = first and not dash


def _said(start: str, says: str, hint: str) -> str:
    """`key:` and what it says, with a mark between them until the column is known."""
    comment = "; ".join(part for part in (says, hint) if part)
    return f"{start.rstrip()}\0{comment}" if comment else start.rstrip()


def _in_column(line: str) -> list[str]:
    """What a line says in a column of its own; what does not fit goes below it."""
    start, _, comment = line.partition("\0")
    if not comment:
        return [start]
    at = max(COLUMN, len(start) + 2)
    first, *more = textwrap.wrap(comment, max(WIDE - at, 40), break_long_words=False, break_on_hyphens=False)
    return [f"{start:<{at}}# {first}", *(f"{'':<{at}}# {rest}" for rest in more)]


__all__ = ["Blanks", "Such"]
