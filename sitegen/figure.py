"""The atom that everything rests on: a value that knows its unit, how it came about and who stands behind it."""

from __future__ import annotations

import re
from datetime import date, datetime
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from sitegen.errors import FigureError
from sitegen.units import UNITS, Value

NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z0-9]+(?:-[a-z0-9]+)*)*")

KINDS = ("survey", "price book", "company", "town card", "rule", "finished jobs", "published", "judgement",
         "worked out")


class NotSeen(Struct, frozen=True):
    """That a value of the survey was not seen: `how` it came, told by the homeowner or assumed by us, and the paths in
    the job file that say so; `part` where only a part of a sum came that way."""

    how: str
    paths: tuple[str, ...]
    part: bool = False

    def __str__(self) -> str:
        return f"{'in part ' if self.part else ''}{self.how}, not seen ({', '.join(self.paths)})"


class Source(Struct, frozen=True):
    """Who or what stands behind a value: one of KINDS, and the line, key, section or name; of a line of the survey
    also whether it was not seen."""

    kind: str
    text: str
    not_seen: NotSeen | None = None

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise FigureError(f"a source is one of {', '.join(KINDS)}; got {self.kind}")
        if not self.text.strip():
            raise FigureError(f"a source of kind {self.kind} says nothing")

    def __str__(self) -> str:
        """The source on one line, as the company reads it."""
        return f"{self.kind}: {self.text}" + (f"; {self.not_seen}" if self.not_seen else "")


class SumLine(Struct, frozen=True):
    """One line of a sum: what, how many, at how much each, and what that comes to [cents].

    `what` is a short key that names the line, `of` the kind of thing where that is part of the name.
    """

    what: str
    count: Figure
    each: Figure
    amount: Figure
    of: Quote | None = None

    def as_json(self) -> dict[str, object]:
        """The line as `sitegen figures --json` gives it."""
        said = self.what.replace("-", " ")
        return {"what": said if self.of is None else f"{said}: {self.of}", "count": self.count.value,
                "each": self.each.value, "amount": self.amount.value}


class Figure(Struct, frozen=True):
    """A value with everything that is needed to follow it back.

    `name`    dotted path, such as `options.per-item.ending.p90`
    `value`   exact: whole cents, counts, days, dates, fractions; a float for a chance alone
    `unit`    one spelling from units.UNITS
    `method`  a sentence; `anchor` is where it is explained, as sheet.html#anchor
    `inputs`  names of the figures that it came from
    `private` for the company's eyes: never on a sheet
    `sum`     lines that add up to the value, where it is a total that a pencil can follow
    """

    name: str
    value: Value
    unit: str
    method: str
    source: Source
    inputs: tuple[str, ...] = ()
    anchor: str = ""
    private: bool = False
    sum: tuple[SumLine, ...] = ()

    def __post_init__(self) -> None:
        if self.sum and sum(int_of(line.amount) for line in self.sum) != self.value:
            raise FigureError(f"{self.name}: the lines of its sum do not add up to it")
        if not NAME.fullmatch(self.name):
            raise FigureError(f"a figure's name is a dotted path of lower-case words; got {self.name!r}")
        unit = UNITS.get(self.unit)
        if unit is None:
            raise FigureError(f"{self.name}: no such unit as {self.unit!r}")
        if isinstance(self.value, bool | datetime) or not isinstance(self.value, unit.types):
            raise FigureError(f"{self.name}: {self.value!r} is not a value in {self.unit}")
        if not self.method.strip():
            raise FigureError(f"{self.name}: no method")

    def say(self) -> str:
        """The value as a person reads it."""
        printed = UNITS[self.unit].printed
        if self.private:
            raise FigureError(f"{self.name} is private and may not reach a page")
        if printed is None:
            raise FigureError(f"{self.name} is a chance: it takes one of the sentence forms, not a bare number")
        return printed(self.value)

    def noun(self) -> str:
        """The word for the unit, one or many."""
        unit = UNITS[self.unit]
        return unit.one if self.value == 1 else unit.many

    def raw(self) -> str:
        """The value as a machine reads it."""
        return self.value.isoformat() if isinstance(self.value, date) else str(self.value)

    def as_json(self) -> dict[str, object]:
        """The figure as `sitegen figures --json` gives it."""
        value = self.value
        lines = {"sum": [line.as_json() for line in self.sum]} if self.sum else {}
        return {"name": self.name, "value": value if isinstance(value, int | float) else self.raw(),
                "unit": self.unit, "method": self.method,
                "source": str(self.source), "inputs": list(self.inputs),
                "private": self.private, **lines}

    def named(self, name: str, unit: str | None = None) -> Figure:
        """The same value under another name, or spoken in another unit."""
        return replace(self, name=name, unit=unit or self.unit, inputs=(self.name,))


class Quote(Struct, frozen=True):
    """What a person said or wrote, printed as it came and escaped: an address, a quote, a phone number."""

    text: str
    source: Source

    def __str__(self) -> str:
        return self.text


def worked_out(name: str, value: Value, unit: str, method: str, *inputs: Figure, anchor: str = "",
               source: Source | None = None) -> Figure:
    """A figure that comes from other figures."""
    names = tuple(figure.name for figure in inputs)
    return Figure(name, value, unit, method, source or Source("worked out", "from " + ", ".join(names)), names,
                  anchor, any(figure.private for figure in inputs))


def int_of(figure: Figure) -> int:
    """The whole number in a figure of counts or cents."""
    assert isinstance(figure.value, int)
    return figure.value


def fraction_of(figure: Figure) -> Fraction:
    """The exact number in a figure of a measure or a share."""
    assert isinstance(figure.value, int | Fraction)
    return Fraction(figure.value)


def day_of(figure: Figure) -> date:
    """The day in a figure of a date."""
    assert isinstance(figure.value, date)
    return figure.value


def slug(text: str) -> str:
    """Any words as one part of a figure's name or of an id."""
    return "-".join(re.findall(r"[a-z0-9]+", text.lower())) or "x"


__all__ = ["KINDS", "Figure", "NotSeen", "Quote", "Source", "SumLine", "day_of", "fraction_of", "int_of", "slug",
           "worked_out"]
