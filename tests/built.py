"""Demo houses as they are built: pages parsed, and where a figure or some words stand on them."""

from __future__ import annotations

import atexit
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from tempfile import TemporaryDirectory

from bs4 import BeautifulSoup, Tag

from sitegen.build import build, offer_of
from sitegen.figure import Figure
from sitegen.offer.offer import Offer
from sitegen.workspace import Workspace
from tests.helpers import DEMO

HOUSES = tuple(sorted(path.parent.name for path in DEMO.glob("*/job.yaml")))


@cache
def offer(job: str) -> Offer:
    """The offer of one demo house, worked out once; nobody may change it."""
    return offer_of(Workspace(DEMO, DEMO.parent / "site"), DEMO / job)


@dataclass
class House:
    """One demo house, built: its folder, its pages by name of file, and its offer."""

    job: str
    folder: Path

    @cached_property
    def offer(self) -> Offer:
        """What the pages were made from."""
        return offer(self.job)

    @cached_property
    def pages(self) -> dict[str, BeautifulSoup]:
        """Every page, parsed."""
        return {path.name: BeautifulSoup(path.read_text("utf-8"), "html.parser")
                for path in sorted(self.folder.glob("*.html"))}

    def at(self, sheet: str, selector: str) -> list[Tag]:
        """The places of a sheet that a selector finds, without the list of sheets and the title block."""
        main = self.pages[sheet].select_one("main")
        assert main, sheet
        return [tag for tag in self.pages[sheet].select(selector) if main in (tag, *tag.parents)]

    def place(self, sheet: str, selector: str) -> Place:
        """The one place that a selector finds."""
        found = self.at(sheet, selector)
        assert len(found) == 1, f"{self.job}, {sheet}: {len(found)} places are {selector}"
        return Place(f"{self.job}, {sheet} {selector}", found[0])


@dataclass(frozen=True)
class Place:
    """A part of a page in which a reader looks."""

    name: str
    tag: Tag

    @property
    def text(self) -> str:
        """What is read there."""
        return " ".join(self.tag.get_text(" ").split())

    def figures(self) -> Iterator[tuple[str, str, str]]:
        """Name, value and words of each figure that stands there."""
        for data in self.tag.select("data"):
            yield str(data["data-figure"]), str(data["value"]), data.get_text()

    def holds(self, *figures: Figure | None) -> None:
        """Fail unless each of these figures stands there, with its own value and in its own words."""
        there = set(self.figures())
        for figure in figures:
            assert figure is not None, self.name
            says = str(figure.raw()) if figure.unit == "twentieths" else figure.say()    # spoken in a sentence form
            assert (figure.name, str(figure.raw()), says) in there, f"{self.name} lacks {figure.name}"

    def says(self, *words: str) -> None:
        """Fail unless each of these words stands there, in small or in capital letters."""
        text = self.text.lower()
        for one in words:
            assert " ".join(one.lower().split()).rstrip(".") in text, f"{self.name} does not say: {one}"


def build_house(job: str, into: Path) -> House:
    """One demo house, built under a folder."""
    return House(job, build(Workspace(DEMO, into), DEMO / job).folder)


@cache
def built(job: str) -> House:
    """One demo house, built once for all tests of a process; nobody may change its folder."""
    return build_house(job, _folder())


@cache
def _folder() -> Path:
    """Where houses are built, until this process ends."""
    folder = TemporaryDirectory(prefix="sitegen-houses-")
    atexit.register(folder.cleanup)
    return Path(folder.name)
