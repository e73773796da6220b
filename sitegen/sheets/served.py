"""What `serve` shows in a browser: the last good site, or in the place of every page what is wrong with the job.

The page of faults is for the office and never leaves this machine: it is no sheet, and nothing audits it.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Sequence
from itertools import groupby
from pathlib import Path

from markupsafe import Markup

from sitegen.errors import AuditFailed, Fault, Faults, SitegenError
from sitegen.sheets.sheets import SHEETS

PAGE = Markup("""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>{title}</title>
<style>
:root {{ color-scheme: light dark; font: 100%/1.5 system-ui, sans-serif }}
body {{ margin: 0 auto; max-width: 60rem; padding: 1rem }}
h2 {{ font-size: 1.1rem; margin: 2rem 0 .5rem }}
li {{ border-top: 1px solid; padding: .75rem 0 }}
ol {{ list-style: none; margin: 0; padding: 0 }}
p {{ margin: 0 }}
code {{ font-size: .95em; overflow-wrap: anywhere }}
.out {{ font-weight: 600 }}
</style></head>
<body><main>
<h1>{title}</h1>
<p>{said} Save a file, and this page looks again by itself. The site that was built last stays as it was.</p>
{body}
</main></body></html>
""")
ITEM = Markup('<li><p><code>{place}</code></p><p>{problem}</p><p class="out">{way_out}</p></li>')
TITLE = "This job is not built yet"
INSIDE = "Something went wrong inside sitegen, and not in your files"


class Served:
    """A folder that a server shows: a copy of the site, or the page of faults under every name that a page has."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def show(self, site: Path) -> None:
        """Show a site as it was built."""
        self._empty()
        shutil.copytree(site, self.folder, dirs_exist_ok=True)

    def refuse(self, error: Exception) -> None:
        """Show in the place of every page what is wrong."""
        names = {sheet.file for sheet in SHEETS} | {path.name for path in self.folder.glob("*.html")}
        self._empty()
        text = page_of(error)
        for name in names:
            (self.folder / name).write_text(text, "utf-8")

    def _empty(self) -> None:
        for path in self.folder.iterdir():
            if path.is_dir():
                shutil.rmtree(path)
            else:
                path.unlink()


def page_of(error: Exception) -> str:
    """The page that says what is wrong: each fault with its file, its line and the way out, or the one message."""
    if isinstance(error, Faults):
        body = Markup("").join(_file(file, list(some)) for file, some in
                               groupby(error.faults, key=lambda fault: fault.file))
        return PAGE.format(title=TITLE, said=_counted(len(error.faults), "thing has", "things have"), body=body)
    if isinstance(error, AuditFailed):
        body = _listed((f"{one.sheet}, {one.place}", f"{one.rule}: {one.found}", one.remedy) for one in error.breaches)
        said = _counted(len(error.breaches), "rule for pages has", "rules for pages have")
        return PAGE.format(title=TITLE, said=said, body=body)
    if isinstance(error, SitegenError):
        return PAGE.format(title=TITLE, said="One thing has to be mended.", body=_message(str(error)))
    return PAGE.format(title=INSIDE, said="Please report it with these words.", body=_message(one_line(error)))


def one_line(error: Exception) -> str:
    """An error that nobody foresaw, as it is told without its traceback."""
    return f"{type(error).__name__}: {error}".rstrip(": ")


def _counted(count: int, one: str, many: str) -> str:
    return f"One {one} to be mended." if count == 1 else f"{count} {many} to be mended."


def _message(text: str) -> Markup:
    return Markup("<ol><li><p>{}</p></li></ol>").format(text)


def _file(file: str, faults: Sequence[Fault]) -> Markup:
    rows = ((", ".join(part for part in (f"line {fault.line}" if fault.line else "the whole file", fault.where)
                       if part), fault.problem, fault.remedy) for fault in faults)
    return Markup("<h2><code>{}</code></h2>{}").format(file, _listed(rows))


def _listed(rows: Iterable[tuple[str, str, str]]) -> Markup:
    items = (ITEM.format(place=place, problem=problem, way_out=way_out) for place, problem, way_out in rows)
    return Markup("<ol>{}</ol>").format(Markup("").join(items))


__all__ = ["Served", "one_line", "page_of"]
