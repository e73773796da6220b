"""The first job of a firm: where there is no workspace yet, one is started around it.

Its cards are blanks like the job's, from the model's own words; nothing that is there is written over.
"""

from __future__ import annotations

from pathlib import Path

from sitegen.errors import UsageError
from sitegen.job.blanks import Blanks
from sitegen.job.scaffold import Asked, allowed, texts, write
from sitegen.job.schema import FILES
from sitegen.job.starts import EXAMPLES, HEADS, KITS, NOTES, POINTS, STARTS, STATE, STOPS, TOWN
from sitegen.workspace import shown

CARDS = {"company": "company.yaml", "price-book": "price-book.yaml", "cost-book": "cost-book.yaml",
         "town": f"towns/{TOWN}.yaml", "state": f"states/{STATE}.yaml"}
"""Kind of file -> where a new workspace has it."""

ASKED = Asked(POINTS, tuple(stop for stops in STOPS.values() for stop in stops),
              {option: (kit,) for option, kit in KITS.items()})


def begin(home: Path, job: str, with_form: bool) -> list[Path]:
    """Start a workspace in `home` with a first job and give the files written; writes all of them or none."""
    allowed(home, job, with_form)
    cards = {home / name: blank(kind) for kind, name in CARDS.items()}
    for path in cards:
        if path.exists() or path.is_symlink():
            raise UsageError(f"There is no company.yaml here, but there is {shown(path)}, and a new workspace would "
                             "not agree with it. Move it away, or start in an empty folder.")
    return write({**cards, **texts(home, job, with_form, ASKED, [TOWN])}, home)


def blank(kind: str) -> str:
    """The text of one card of a new workspace, with a blank for each value that is needed."""
    head = [f"# {HEADS[kind]}", "# Fill every blank. A field behind a # may be left out: take away the # and the space "
            "after it to use it.", ""]
    return Blanks(STARTS[kind], EXAMPLES[kind], NOTES[kind]).text(FILES[kind], head)


def what_first(home: Path, job: str) -> str:
    """What to fill in first, for whoever has just started a workspace."""
    cards = ", ".join(shown(home / name) for name in CARDS.values())
    return (f"A new workspace: no {shown(home / CARDS['company'])} was here or above. Fill in first, once for every "
            f"job: {cards}. The files of the town and the state may be renamed; then name them so in the job and "
            f"in the town. Then {shown(home / job / 'job.yaml')}. `sitegen check {job}` names every blank that is "
            "left by its line.")


__all__ = ["begin", "blank", "what_first"]
