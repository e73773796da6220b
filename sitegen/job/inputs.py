"""All files of one job: as far as they are sound, and sound and checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from sitegen.errors import Fault
from sitegen.job.books import CostBook, PriceBook
from sitegen.job.cards import Company, State, Town
from sitegen.job.document import Document, Path_
from sitegen.job.finished import Finished
from sitegen.job.kept import Kept
from sitegen.job.model import Job


class Sound(Struct, frozen=True):
    """What is sound of one file.  A field that is not sound is absent; items keep their place in the file."""

    document: Document
    values: Mapping[str, Any]
    places: Mapping[str, tuple[int, ...]]

    def has(self, *names: str) -> bool:
        """Whether all of these fields are sound, at least in part."""
        return all(name in self.values for name in names)

    def __getitem__(self, name: str) -> Any:
        return self.values[name]

    def items(self, name: str) -> Iterator[tuple[int, Any]]:
        """The sound items of a list, each with its place in the file."""
        return zip(self.places.get(name, range(len(self.values[name]))), self.values[name], strict=True)

    def fault(self, path: Path_, problem: str, remedy: str) -> Fault:
        """A fault at `path` of this file."""
        return self.document.fault(path, problem, remedy)


class Gathered(Struct, frozen=True):
    """All files of one job, as far as they are sound."""

    folder: Path
    job: Sound
    company: Sound
    book: Sound
    costs: Sound
    finished: Sound
    town: Sound
    state: Sound
    kept: tuple[Kept, ...] = ()


class Inputs(Struct, frozen=True):
    """All files of one job, sound and checked; `lines` gives the line of anything in `job.yaml`."""

    job: Job
    company: Company
    book: PriceBook
    costs: CostBook
    finished: Finished
    town: Town
    state: State
    folder: Path
    files: tuple[Path, ...]
    documents: Mapping[str, Document]
    kept: tuple[Kept, ...] = ()


__all__ = ["Gathered", "Inputs", "Sound"]
