"""The office's view as one page beside the job: it asks for nothing outside it, and no sheet's environment makes it."""

from __future__ import annotations

import os
from pathlib import Path

from jinja2 import Environment
from markupsafe import Markup, escape

from sitegen.errors import BuildError
from sitegen.figure import Figure
from sitegen.job.scaffold import NOT_JOBS
from sitegen.office.make import Office
from sitegen.office.say import Part, said
from sitegen.sheets.cache import Cache
from sitegen.sheets.theme import bare
from sitegen.workspace import Workspace, resource, shown

PAGE, TEMPLATE = "office.html", "office/office.html"

CSS = """
@page { margin: 14mm 12mm; @top-right { content: "PRIVATE"; font: bold 9pt Arial, Helvetica, sans-serif } }
* { box-sizing: border-box }
html { font: 10.5pt/1.35 Arial, Helvetica, sans-serif; color: #000; background: #fff }
body { margin: 0 auto; max-width: 190mm; padding: 1rem }
.private { border: .6mm solid #000; padding: .4rem .7rem; margin: 0 0 1rem }
.private b { font-size: 15pt; letter-spacing: .12em }
h1 { font-size: 13pt; margin: 0 }
p { margin: .15rem 0 }
.wide { overflow-x: auto }
table { border-collapse: collapse; margin: 1.1rem 0 .2rem; break-inside: avoid }
caption { text-align: left; font-weight: bold; padding-bottom: .2rem }
th, td { padding: .12rem .6rem .12rem 0; text-align: left; vertical-align: bottom; font-weight: normal }
thead th { border-bottom: .3mm solid #000 }
tbody tr { border-bottom: .1mm solid #999 }
.n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; padding-left: .6rem }
.total { border-top: .3mm solid #000 }
.total th, .total td { font-weight: bold }
.note { font-size: 9pt; break-before: avoid }
@media print { body { padding: 0; max-width: none } html { font-size: 9pt } .wide { overflow: visible } }
""".strip()


def environment(home: Path) -> Environment:
    """The only environment that can print a private figure: by `|in_the_office`, which no other has."""
    env = bare((home / "theme", resource("theme")), Cache())
    env.filters.update(in_the_office=in_the_office)
    return env


def in_the_office(part: Part) -> Markup:
    """One part of a cell as HTML: a figure with its exact value and its name, words escaped."""
    if isinstance(part, Figure):
        return Markup('<data value="{}" data-figure="{}">{}</data>').format(part.raw(), part.name, said(part))
    return escape(said(part))


def page(home: Path, office: Office) -> str:
    """The page as HTML."""
    return environment(home).get_template(TEMPLATE).render(office=office, css=Markup(CSS))


def write(workspace: Workspace, folder: Path, office: Office) -> Path:
    """Write the page beside the job and give its path.

    Raises BuildError where the folder is one that is published, or where something stands in the way.
    """
    path = folder / PAGE
    if folder.name in NOT_JOBS or folder.is_relative_to(workspace.output.resolve()):
        raise BuildError(f"{shown(folder)} is published; the office's page is private. Give the job another name.")
    if path.is_symlink() or (path.exists() and not path.is_file()):
        raise BuildError(f"{shown(folder)}/{PAGE} is in the way; move it.")
    beside = folder / f".{PAGE}.{os.getpid()}"
    try:
        beside.write_text(page(workspace.home, office), "utf-8")
        beside.replace(path)
    except OSError as error:
        raise BuildError(f"{shown(path)} cannot be written: {error.strerror}.") from None
    finally:
        beside.unlink(missing_ok=True)
    return path


__all__ = ["PAGE", "TEMPLATE", "environment", "in_the_office", "page", "write"]
