"""The first job of a firm: where there is no workspace yet, one is started around it.

Its cards are the files of `starting/`, written as they stand there; nothing that is there already is written over.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sitegen.errors import UsageError
from sitegen.job.blanks import Asked
from sitegen.job.document import read
from sitegen.job.scaffold import allowed, texts, write
from sitegen.workspace import shown

STARTING = Path(__file__).parent / "starting"
"""The cards of a new workspace, in folders as it has them.

They are commented YAML with a blank for each value that is needed, and names that agree with each other, so that
filling the blanks is enough.  Each field stands there with the sentence of the model, and a test holds them to it.
"""

CARDS = {"company": "company.yaml", "price-book": "price-book.yaml", "cost-book": "cost-book.yaml",
         "finished": "finished.yaml", "town": "towns/our-town.yaml", "state": "states/our-state.yaml"}
"""Kind of file -> where a new workspace has it."""

LATER = "finished"
"""The kind of file that a first job does without."""


def begin(home: Path, job: str, with_form: bool) -> list[Path]:
    """Start a workspace in `home` with a first job and give the files written; writes all of them or none."""
    allowed(home, job, with_form)
    cards = {home / name: (STARTING / name).read_text("utf-8") for name in CARDS.values()}
    for path in cards:
        if path.exists() or path.is_symlink():
            raise UsageError(f"There is no company.yaml here, but there is {shown(path)}, and a new workspace would "
                             "not agree with it. Move it away, or start in an empty folder.")
    asked = _asked(read(STARTING / CARDS["price-book"], CARDS["price-book"]).data)
    return write({**cards, **texts(home, job, with_form, asked, [Path(CARDS["town"]).stem])}, home)


def _asked(book: Mapping[str, Any]) -> Asked:
    """What a price book makes a job say while its values are blanks: it has one kit for each option."""
    return Asked(tuple(book["rates"]["drops a point"]),
                 tuple(stop for case in book["cases"] for stop in case.get("asked in", ())),
                 {kit["option"]: (name,) for name, kit in book["kits"].items()})


def what_first(home: Path, job: str) -> str:
    """What to fill in first, for whoever has just started a workspace."""
    cards = ", ".join(shown(home / name) for kind, name in CARDS.items() if kind != LATER)
    at = "" if home == Path.cwd().resolve() else f" --home {shown(home)}"
    return (f"A new workspace: no {shown(home / CARDS['company'])} was here or above. Fill in first, once for every "
            f"job: {cards}. The books hold usual hours and counts, and no price. The files of the town and the state "
            f"may be renamed; then name them so in the job and in the town. Then {shown(home / job / 'job.yaml')}. "
            f"`sitegen check {job}{at}` says how many blanks each file has left, and where. "
            f"{shown(home / CARDS[LATER])} can wait: it takes a block for each job that is closed.")


__all__ = ["begin", "what_first"]
