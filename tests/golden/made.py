"""Made jobs: a demo house with a few fields changed, so that real templates render what no demo house does.

`made.yaml` holds them: the house, what it is for, and by file what is set at a dotted path.  An item of a list is
named by its first value (`rooms.Bath.trouble`), `+` adds some, and a path with nothing after it is taken out.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from PIL import Image

from sitegen.build import keep, offer_of
from sitegen.offer.offer import Offer
from sitegen.sheets.audit import audit
from sitegen.sheets.cache import Cache
from sitegen.sheets.photos import photographs
from sitegen.sheets.site import SiteWriter
from sitegen.unchanged import fingerprint
from sitegen.workspace import Workspace
from tests.golden.text import page_text
from tests.helpers import DEMO

HERE = Path(__file__).parent
FOLDER = HERE / "made"
PICTURE = "seen.png"
"""A picture of one point, in the folder of every made job."""

VALUE = re.compile(r"\[[^\[\]|]*(?= \| )")


@dataclass(frozen=True)
class Case:
    """A made job: its demo house, and by file what is set at which path; `before` is set first, and kept."""

    name: str
    job: str
    sets: dict[str, dict[str, Any]]
    before: dict[str, dict[str, Any]] = field(default_factory=dict)

    def offer(self, home: Path) -> Offer:
        """The offer of the demo house with all that is set, in a workspace made under `home`."""
        kept = ("site", "public", "archive", *(path.parent.name for path in DEMO.glob("*/job.yaml")
                                               if path.parent.name != self.job))
        shutil.copytree(DEMO, home, ignore=shutil.ignore_patterns(*kept))
        Image.new("RGB", (1, 1)).save(home / self.job / PICTURE)
        if self.before:
            self._set_in(home, self.before)
            keep(Workspace(home, home / "site"), home / self.job)
        self._set_in(home, self.sets)
        return offer_of(Workspace(home, home / "site"), home / self.job)

    def _set_in(self, home: Path, sets: dict[str, dict[str, Any]]) -> None:
        """Set what is set by file in a workspace."""
        for name, changes in sets.items():
            path = home / self.job / name if name == "job.yaml" else home / name
            data = yaml.load(path.read_text("utf-8"), yaml.CBaseLoader)
            for at, value in changes.items():
                _set(data, at.split("."), value)
            path.write_text(yaml.dump(data, sort_keys=False, allow_unicode=True, width=10_000), "utf-8")


@cache
def cases() -> tuple[Case, ...]:
    """Every made job."""
    made = yaml.load((HERE / "made.yaml").read_text("utf-8"), yaml.CBaseLoader)
    return tuple(Case(name, case.pop("house"), case, case.pop("before", {})) for name, case in made.items())


@cache
def writer() -> SiteWriter:
    """Our own words, templates and styles, once for all jobs."""
    return SiteWriter(DEMO, Cache())


def pages_of(case: Case, into: Path) -> dict[str, str]:
    """The pages of a made job as they are written and audited, by name."""
    home, site = into / case.name, into / f"{case.name}-site"
    offer = case.offer(home)
    writer().write(offer, site, photographs(offer, home / case.job, Cache()))
    audit(offer, site, writer().words, fingerprint(site), Cache())
    return {path.name: path.read_text("utf-8") for path in sorted(site.glob("*.html"))}


def new_text(pages: dict[str, str]) -> str:
    """The lines of these pages that say what no demo house says, under the name of their page, each once."""
    return "".join(f"== {name}\n" + "".join(f"{line}\n" for line in some) for name, html in pages.items()
                   if (some := list(dict.fromkeys(_new(page_text(html).splitlines())))))


def _new(lines: Iterable[str]) -> Iterator[str]:
    return (line for line in lines if shape(line) not in _shapes())


def shape(line: str) -> str:
    """What a line says and which figures stand in it, whatever they come to."""
    return re.sub(r"\d+", "", VALUE.sub("[", line))


@cache
def _shapes() -> frozenset[str]:
    """The shape of every line of a demo house, as it was accepted."""
    return frozenset(shape(line) for path in sorted(HERE.glob("*/*.txt")) if path.parent != FOLDER
                     for line in path.read_text("utf-8").splitlines())


def _set(data: Any, path: list[str], value: Any) -> None:
    """Set, add or take out what stands at a path of plain data."""
    *above, last = path
    for name in above:
        data = data[_place(data, name)]
    if last == "+":
        data.extend(value)
    elif value == "":
        del data[_place(data, last)]
    else:
        data[_place(data, last)] = value


def _place(data: Any, name: str) -> Any:
    """The key of a mapping, or the place of the item of a list that begins with this value."""
    if isinstance(data, dict):
        return name
    return next(at for at, item in enumerate(data) if next(iter(item.values())) == name)
