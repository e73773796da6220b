"""The office's view of one job, as text and as the page beside it."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from sitegen.errors import Fault
from sitegen.office.make import Office, office_of
from sitegen.office.page import write
from sitegen.office.text import as_text
from sitegen.sheets.cache import Cache
from sitegen.sheets.words import Words
from sitegen.workspace import Workspace, resource


class Shown(Struct, frozen=True):
    """The view for a terminal, where its page is, and what is wrong with the job all the same."""

    text: str
    page: Path
    faults: tuple[Fault, ...]


def office(workspace: Workspace, folder: Path) -> Shown:
    """Work one job out for the office and write its page; raises Faults where its files are not sound."""
    found = view(workspace, folder)
    return Shown(as_text(found), write(workspace, folder, found), found.faults)


def view(workspace: Workspace, folder: Path) -> Office:
    """What the office reads of one job, with nothing written."""
    words = Words((resource("content"), workspace.home / "content"), Cache())
    return office_of(workspace.home, folder, words.title)


__all__ = ["Shown", "office", "view"]
