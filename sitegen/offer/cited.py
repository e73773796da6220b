"""What a job's files say, with who stands behind it: a Source for any line, and figures and quotes made in one way.

A figure of a book is the value at its path: its method is the model's own sentence, its unit that of its type unless
one is given, its source the line.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from functools import lru_cache
from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, NotSeen, Quote, Source
from sitegen.job.document import Path_, spoken
from sitegen.job.inputs import Inputs

UNITS = {int: "cents", Fraction: "share"}
"""The unit of a value by its type, where none is given; a day is a date."""


class Cited(Struct, frozen=True):
    """The files of a job, each line with its source."""

    inputs: Inputs

    def survey(self, *path: str | int) -> Source:
        """A line of the job file, which knows whether anybody saw what stands there."""
        job = self.inputs.job
        return Source("survey", f"{job.surveyed_by}, {job.surveyed.isoformat()}; {self._line('job', path)}",
                      self.not_seen(path))

    def not_seen(self, *paths: Path_) -> NotSeen | None:
        """Whether a value of the job file was told or assumed, or a part of one that is made of several.

        What was assumed goes before what was told.
        """
        job = self.inputs.job
        if not job.assumed and not job.told:
            return None
        found = [(how, path) for how, named in (("assumed", job.assumed), ("told", job.told)) for path in named
                 if any(within(one, path) for one in paths)]
        return NotSeen(found[0][0], tuple(path for _, path in found), len(paths) > 1) if found else None

    def book(self, *path: str | int) -> Source:
        """A line of the price book."""
        book = self.inputs.book
        return Source("price book", f"edition {book.edition}, {book.by}, {book.quoted.isoformat()}; "
                      f"{self._line('book', path)}")

    def company(self, *path: str | int) -> Source:
        """A line of the company's card."""
        return Source("company", self._line("company", path))

    def finished(self, *path: str | int) -> Source:
        """A line of the file of finished jobs."""
        return Source("finished jobs", self._line("finished", path))

    def town(self, *path: str | int) -> Source:
        """A line of the town card."""
        return Source("town card", self._line("town", path))

    def judgement(self) -> Source:
        """The firm's judgement of what is hidden: whose, and when."""
        prior = self.inputs.company.prior
        return Source("judgement", f"{prior.by}, {prior.on.isoformat()}, not a count; "
                      f"{self._line('company', ('prior',))}")

    def figure(self, name: str, file: str, *path: str | int, unit: str = "") -> Figure:
        """The value at a path of `file` (survey, book, company or town) as a figure.

        Raises KeyError for a path that the model does not know.
        """
        value, says = self._found(file, path)
        assert isinstance(value, int | Fraction | date), path
        kind = "date" if isinstance(value, date) else UNITS[type(value)]
        return Figure(name, value, unit or kind, f"{says[:1].upper()}{says[1:]}.", self.source(file, *path))

    def figure_if(self, name: str, file: str, *path: str | int, unit: str = "") -> Figure | None:
        """The same, or None where the file says nothing there."""
        return None if self._found(file, path)[0] is None else self.figure(name, file, *path, unit=unit)

    def quote(self, file: str, *path: str | int) -> Quote:
        """The words at a path of `file`, as somebody wrote them."""
        return Quote(str(self._found(file, path)[0]), self.source(file, *path))

    def quote_if(self, file: str, *path: str | int) -> Quote | None:
        """The same, or None where the file says nothing there."""
        return None if self._found(file, path)[0] is None else self.quote(file, *path)

    def source(self, file: str, *path: str | int) -> Source:
        """Who stands behind a line of `file`."""
        made: Source = getattr(self, file)(*path)
        return made

    def _found(self, file: str, path: Path_) -> tuple[Any, str]:
        """The value at a path, and the sentence of the last field on the way."""
        here, says = getattr(self.inputs, "job" if file == "survey" else file), ""
        for step in path:
            if hasattr(type(here), "model_fields"):
                field, says = _fields(type(here))[str(step)]  # type: ignore[arg-type]
                here = getattr(here, field)
            else:
                here = here[step]
        return here, says

    def _line(self, name: str, path: Path_) -> str:
        document = self.inputs.documents[name]
        return f"{document.file.rsplit('/', 1)[-1]} line {document.line(path)}"


def dotted(path: str) -> str:
    """A path with dots alone, since brackets in a list of YAML have to stand in quotes: `rooms.3.now`."""
    return path.replace("[", ".").replace("]", "")


def within(path: Path_, above: str) -> bool:
    """Whether a path of the job file is this one, as somebody wrote it, or stands below it."""
    return f"{dotted(spoken(path))}.".startswith(f"{dotted(above)}.")


@lru_cache(maxsize=64)
def _fields(part: Any) -> Mapping[str, tuple[str, str]]:
    """Each field of a part by its key in a file: its name and its sentence."""
    return {info.alias or name: (name, info.description or "") for name, info in part.model_fields.items()}


__all__ = ["Cited", "within"]
