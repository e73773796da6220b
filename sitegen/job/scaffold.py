"""A new job in a workspace: what is written, where it may not land, and nothing over what is there."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from sitegen.errors import UsageError
from sitegen.job.blanks import Asked, blank_job
from sitegen.job.books import PriceBook
from sitegen.job.fields import name as short_name
from sitegen.job.form import form
from sitegen.job.load import card
from sitegen.workspace import PACKAGE, Workspace, is_clone, shown

NOT_JOBS = ("towns", "states", "site", "content", "theme", "public", "archive")
"""Folders of a workspace that hold something else."""


def new(workspace: Workspace, job: str, with_form: bool, base: Path) -> list[Path]:
    """Start a job and give the files written; an existing file is never written over (UsageError)."""
    allowed(workspace.home, job, with_form)
    asked = Asked.by(card(PriceBook, workspace.home / "price-book.yaml", base))
    towns = sorted(path.stem for path in (workspace.home / "towns").glob("*.yaml"))
    return write(texts(workspace.home, job, with_form, asked, towns), workspace.home / job)


def allowed(home: Path, job: str, with_form: bool) -> None:
    """Raise UsageError where a job cannot start: its name, a clone, a link, or what is there already."""
    try:
        if short_name(job) != job or job in NOT_JOBS:
            raise ValueError
    except ValueError:
        raise UsageError(f"`{job}` cannot be the name of a job. Write small letters, digits and dashes, such as "
                         f"mill-lane; not {', '.join(NOT_JOBS)}.") from None
    _refuse_clone(home, job)
    folder = home / job
    file, page = folder / "job.yaml", folder / "form.html"
    if folder.resolve().parent != home.resolve():
        raise UsageError(f"{shown(folder)} leads out of the workspace. Choose another name.")
    if file.exists() and not with_form:
        raise UsageError(f"There is a job in {shown(folder)} already. Fill in {shown(file)}, or choose another name.")
    if with_form and page.exists():
        raise UsageError(f"There is a form in {shown(page)} already. Print it, or delete it to have a new one.")


def texts(home: Path, job: str, with_form: bool, asked: Asked, towns: list[str]) -> dict[Path, str]:
    """The files of a new job that are not there yet."""
    file, made = home / job / "job.yaml", dict[Path, str]()
    if not file.exists():
        made[file] = blank_job(job, asked, towns)
    if with_form:
        made[home / job / "form.html"] = form(job, asked.points, asked.stops)
    return made


def write(files: Mapping[Path, str], folder: Path) -> list[Path]:
    """Write all files, none of them over another; when one cannot be written the others are taken away again."""
    written: list[Path] = []
    made = [above for path in files for above in (path.parent, *path.parent.parents) if not above.exists()]
    try:
        for path, text in files.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("x", encoding="utf-8", newline="\n") as out:
                written.append(path)
                out.write(text)
    except OSError as error:
        for path in written:
            path.unlink()
        for above in sorted({*made}, key=lambda path: -len(path.parts)):
            with suppress(OSError):         # somebody else's file in it
                above.rmdir()
        raise UsageError(f"{shown(folder)} cannot be written: {error.strerror}. Choose another name, or mend the "
                         "folder's permissions.") from None
    return written


def _refuse_clone(home: Path, job: str) -> None:
    """A real house never lands among files that git carries away."""
    for folder in (home.resolve(), *home.resolve().parents):
        if folder == PACKAGE.parent or is_clone(folder):
            demo = shown(folder / "proposals")
            raise UsageError(
                f"{shown(home)} lies in a clone of sitegen, and git would carry a real house away with it. Make a "
                f"workspace of your own: change into an empty folder outside the clone and run `sitegen new {job}` "
                f"there. Or copy {demo} to a folder outside the clone (`cp -r {demo} ~/firm`), put your firm in its "
                f"company.yaml, price-book.yaml and cost-book.yaml, then `sitegen new {job} --home ~/firm`.")


__all__ = ["allowed", "new", "texts", "write"]
