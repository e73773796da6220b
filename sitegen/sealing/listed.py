"""What is published, job by job, and what of it lapses when: for the office alone, since links are among it."""

from __future__ import annotations

from datetime import date

from msgspec import Struct, to_builtins

from sitegen.sealing.link import link
from sitegen.sealing.register import Publication, read, standing
from sitegen.workspace import Workspace


class Listed(Struct, frozen=True):
    """One publication of a job, and whether its prices have lapsed on the day of the list."""

    job: str
    entry: Publication
    link: str
    stands: bool
    lapsed: bool

    def __str__(self) -> str:
        entry = self.entry
        is_now = "standing" if self.stands else f"withdrawn {entry.withdrawn}" if entry.withdrawn else "replaced"
        prices = "prices lapsed after" if self.lapsed else "prices hold to"
        first = f"{self.job} version {entry.version}, {entry.form}, {is_now}, published {entry.published}"
        return "\n    ".join((first,
                              f"{prices} {entry.prices_hold_to}, sign by {entry.sign_by}",
                              f"{self.link if self.stands else entry.token}"))

    def as_json(self) -> dict[str, object]:
        """The same for a program."""
        found: dict[str, object] = to_builtins(self.entry)
        return {"job": self.job, **found, "link": self.link if self.stands else None, "lapsed": self.lapsed}


def listed(workspace: Workspace, day: date) -> tuple[Listed, ...]:
    """Every publication of a workspace by job, the oldest first; raises Faults where a register cannot be read."""
    return tuple(Listed(folder.name, entry, link(entry.at, entry.token, entry.key), entry in standing(known),
                        day > entry.prices_hold_to)
                 for folder in workspace.jobs() for known in (read(folder),) for entry in known)


__all__ = ["Listed", "listed"]
