"""Values that nobody has filled in yet: many of one file are said in one line, few of them one by one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sitegen.errors import Fault
from sitegen.job.fields import CODES

FEW = 5
"""As many blanks of one file as are said one by one; a new file has more, and nobody reads a hundred lines."""


def is_blank(error: Mapping[str, Any]) -> bool:
    """Whether one error of a model is a field in which nothing stands."""
    given = error.get("input")
    return error["type"] in CODES and isinstance(given, str) and not given.strip()


def together(blanks: Iterable[tuple[Fault, str]]) -> list[Fault]:
    """The faults for blanks, each with its code: one by one, or where a file has many one fault at its first."""
    by_file: dict[str, list[tuple[Fault, str]]] = {}
    for fault, code in blanks:
        by_file.setdefault(fault.file, []).append((fault, code))
    said: list[Fault] = []
    for file, some in by_file.items():
        if len(some) <= FEW:
            said += [fault for fault, _ in some]
            continue
        prices = sum(code == "money" for _, code in some)
        of_them = f", {prices} of them {'a price' if prices == 1 else 'prices'}" if prices else ""
        said.append(Fault(file, min(fault.line for fault, _ in some), "",
                          f"{len(some)} values have to be filled in{of_them}; the first is in this line.",
                          "Beside each stands what it takes."))
    return said


__all__ = ["FEW", "is_blank", "together"]
