"""Every error that a user can meet.

    SitegenError                exit 1 unless said otherwise
    |- Faults                   what a job, price book, company or town card says wrong: all of it at once
    |- UsageError               exit 2: a command was called in a way that cannot work
    |  `- NoWorkspace           no company folder was found, or no such job in it
    |- BuildError               the site could not be made; nothing was written
    |  |- FigureError           a number reached a page without being a Figure, or a private one did
    |  `- AuditFailed           the pages break a rule of fairness, of words or of links: all that they break
    `- BrokenInstall            something that sitegen stands on is missing or too old

A fault is a plain record and not an exception, so that many can be gathered before anything is raised.  Only
`cli.py` turns any of these into text on a terminal and into an exit code.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct


class Fault(Struct, frozen=True, order=True):
    """One thing said wrong: where it stands, what is wrong with it, and the way out."""

    file: str
    line: int
    where: str
    problem: str
    remedy: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        where = f" {self.where}:" if self.where else ""
        return f"{place}:{where} {self.problem} {self.remedy}".rstrip()


class Breach(Struct, frozen=True, order=True):
    """One rule that a built page breaks: the sheet, the row or id, the rule, what stands there, and the way out."""

    sheet: str
    place: str
    rule: str
    found: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.sheet}, {self.place}: {self.rule}: {self.found} {self.remedy}"


class SitegenError(Exception):
    """The root of all errors that sitegen raises on purpose."""

    exit_code = 1


class Faults(SitegenError):
    """The files of a job cannot be used as they stand."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type[Faults], tuple[Sequence[Fault]]]:
        return Faults, (self.faults,)       # as it is handed from one process to another


class UsageError(SitegenError):
    """A command was called in a way that cannot work."""

    exit_code = 2


class NoWorkspace(UsageError):
    """No company folder was found, or no such job in it."""


class BuildError(SitegenError):
    """The site could not be made; nothing was written."""


class FigureError(BuildError):
    """A number reached a page without being a Figure, or a private one did."""


class AuditFailed(BuildError):
    """The pages were made and break rules; they were not put in place."""

    def __init__(self, breaches: Sequence[Breach]) -> None:
        self.breaches = tuple(sorted(set(breaches)))
        super().__init__("\n".join(str(breach) for breach in self.breaches))

    def __reduce__(self) -> tuple[type[AuditFailed], tuple[Sequence[Breach]]]:
        return AuditFailed, (self.breaches,)


class BrokenInstall(SitegenError):
    """Something that sitegen stands on is missing or too old."""


def article(kind: str) -> str:
    """A kind of point with its article."""
    return f"{'an' if kind[0].lower() in 'aeiou' else 'a'} `{kind}`"
