"""From an Offer to a folder of pages that opens from disk."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path, PurePath
from tempfile import TemporaryDirectory

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Quote, Source
from sitegen.offer.offer import Offer
from sitegen.offer.signable import mark_of
from sitegen.sheets.cache import Cache
from sitegen.sheets.counts import counted
from sitegen.sheets.drawings import Drawings
from sitegen.sheets.houses import houses, marker
from sitegen.sheets.mkdocs_site import Page, write_site
from sitegen.sheets.pages.detail import DETAILS, EXPLAINS, LEAVES, WITHOUT
from sitegen.sheets.photos import Photo
from sitegen.sheets.sheets import AGREEMENT, BESIDE, PAPER, SHEETS, Sheet, detail_sheets, shared
from sitegen.sheets.signable import bytes_of, fingerprint_of, signable_of, statements_of
from sitegen.sheets.theme import environment
from sitegen.sheets.words import Words
from sitegen.workspace import resource

SHARED_STYLE, SHARED_SCRIPT = "sheets.css", "sheets.js"
FIRST = "start"
"""The sheet that is read with one request."""

SCRIPTS = ("js/core.js", "parts/lapsed/lapsed.js", "parts/lives/lives.js", "parts/extras/extras.js",
           "parts/bids/bids.js", "parts/bids/bidform.js", "parts/money/moneybids.js", "parts/stepper/stepper.js",
           "parts/ask/ask.js", "parts/yours/yours.js", "parts/both/both.js", "parts/walk/walk.js",
           "parts/agreement/record.js",
           "parts/agreement/pads.js", "parts/agreement/copy.js", "parts/agreement/signing.js",
           "parts/agreement/change.js", "js/run.js")
"""Every script of the theme; a feature is called by the name of its file, without the ending."""

OWN_SCRIPTS = {"agreement": "agreement.js", "yours": "both.js"}
"""Sheets with a script of their own beside the one that all share, and its file: who signs alone asks for it."""

OWN_FEATURES = {"agreement": ("record", "pads", "copy", "signing", "change"), "yours": ("both",)}
"""The features of such a script."""

FEATURES = tuple(stem for path in SCRIPTS[1:-1] if (stem := PurePath(path).stem)
                 not in {one for some in OWN_FEATURES.values() for one in some})
"""The features that all sheets share: each script but those that begin and end, and those of one sheet."""

SCRIPTS_OF_FIRST = ("lapsed", "lives")
"""The features that the first sheet carries; the others share a file with all of them."""

STYLES_OF_FIRST = ("css/base.css", "parts/fold/fold.css", "parts/lives/lives.css", "parts/houses/houses.css",
                   "sheets/start.css")
"""The style sheets that the first sheet carries."""

STYLES = (*STYLES_OF_FIRST, "sheets/compare.css", "parts/sum/sum.css", "parts/scope/scope.css",
          "parts/evens/evens.css", "parts/ladder/ladder.css", "parts/money/money.css",
          "parts/legend/legend.css", "parts/break-even-chart/break-even-chart.css", "parts/stepper/stepper.css",
          "parts/feeds/feeds.css", "parts/marks/seen.css", "sheets/pay.css", "sheets/report.css",
          "parts/bars/bars.css", "sheets/living.css", "parts/plan/plan.css", "parts/marks/marks.css",
          "parts/how/how.css", "parts/room/room.css", "parts/panel/panel.css", "parts/extras/list.css",
          "sheets/rooms.css", "parts/photographs/photographs.css", "parts/people/people.css",
          "css/grid.css", "parts/room/frame.css",
          "parts/marks/fresh.css", "css/more.css", "parts/extras/extras.css", "css/columns.css",
          "parts/drawing/drawing.css", "parts/bids/bids.css",
          "parts/ask/ask.css", "sheets/yours.css", "parts/walk/walk.css", "sheets/paper.css",
          "sheets/agreement.css")
"""Every style sheet of the theme in the order in which they are joined: of two equal rules the later one holds, and a
part whose rules hold against different ones has a file at each place."""


class Built(Struct, frozen=True):
    """A built site: its folder, the SHA-512 of its files in order, its sheets, and the files it was made from."""

    folder: Path
    fingerprint: str
    sheets: tuple[Sheet, ...]
    inputs: tuple[Path, ...]


class SiteWriter:
    """Words, templates and styles, made ready once and used for every job of a process.

    A workspace may lay single files over ours: its own `content/` and `theme/` come first.
    """

    def __init__(self, workspace: Path, cache: Cache) -> None:
        self.themes = (workspace / "theme", resource("theme"))
        self.words = Words((resource("content"), workspace / "content"), cache)
        self.env = environment(self.themes, self.words, cache)
        self.env.globals["drawing"] = Drawings(self.themes, cache)
        self.env.globals.update(houses=houses, marker=marker)

    @cached_property
    def styles(self) -> dict[str, str]:
        """Every style sheet of the theme without its comments, by its path."""
        return {path: self.text(path) for path in STYLES}

    def script(self, features: tuple[str, ...]) -> Markup:
        """One script of these features, each mounted once on a sheet, where it does nothing if it finds nothing."""
        files = ("core", *features, "run")
        return Markup("(() => {\n" + "\n".join(self.features[name] for name in files) + "\n})();")

    @cached_property
    def features(self) -> dict[str, str]:
        """Every script of the theme without its comments, by its name."""
        return {PurePath(path).stem: self.text(path, "\n") for path in SCRIPTS}

    def agreement(self, offer: Offer) -> bytes:
        """What of an offer may be signed, in the bytes that page 7 holds and that are kept."""
        return bytes_of(signable_of(offer, self.words))

    def write(self, offer: Offer, into: Path, photographs: tuple[Photo, ...] = (),
              faces: Mapping[str, Photo] | None = None) -> None:
        """Write the site of one offer under `into`, with its photographs and those of the firm's people, by name.

        The first sheet carries the styles and the script that it uses, so that one request shows it; the others share
        one file of styles and one of scripts, which a phone asks for once.
        """
        first = Markup("".join(self.styles[path] for path in STYLES_OF_FIRST))
        details = detail_sheets(self.words.title)
        signed = self._signed(offer)
        keys = {sheet.id: key for key, sheet in details.items()}
        pages = [Page(sheet.file, sheet.title, f"sheets/{'detail' if sheet.id in keys else sheet.id}.html",
                       {**shared(offer, sheet, details), **sheet.context(offer),
                        **(signed if sheet is AGREEMENT else {}), "own_script": OWN_SCRIPTS.get(sheet.id),
                        "key": keys.get(sheet.id),
                        "answered": [finding.number for finding in offer.found.findings
                                     if keys.get(sheet.id) in finding.answered_by],
                        "drawings": DETAILS.get(keys.get(sheet.id, ""), ()),
                        "how": self._steps(keys.get(sheet.id)),
                        "explains": EXPLAINS.get(keys.get(sheet.id, "")),
                        "leaves": LEAVES.get(keys.get(sheet.id, ""), WITHOUT),
                        "css": first if sheet.id == FIRST else None,
                        "script": self.script(SCRIPTS_OF_FIRST) if sheet.id == FIRST else None,
                        "photographs": photographs, "proofs": _proofs(photographs), "faces": faces or {}})
                  for sheet in (*SHEETS, *BESIDE, PAPER, *details.values())]
        with TemporaryDirectory() as empty:
            assets: dict[str, str | bytes] = {SHARED_STYLE: "".join(self.styles.values()),
                                              SHARED_SCRIPT: str(self.script(FEATURES)),
                                              **{file: str(self.script(OWN_FEATURES[sheet]))
                                                 for sheet, file in OWN_SCRIPTS.items()}}
            for photograph in (*photographs, *(faces or {}).values()):
                assets.update(photograph.files)
            write_site(pages, assets, self.env, Path(empty), into)

    def text(self, path: str, between: str = "") -> str:
        """A style sheet or script of the theme without its comments, its lines joined by `between`."""
        return _tight(self._file(path), between).strip()

    def _signed(self, offer: Offer) -> dict[str, object]:
        """What page 7 holds for its script: the data in its bytes, their fingerprint, the mark of this copy, and the
        statements as they stand on paper."""
        data = self.agreement(offer)
        fingerprint = fingerprint_of(data)
        said = Source("company", "statements of the agreement")
        return {"data": Markup(data.decode()), "fingerprint": fingerprint, "mark": mark_of(fingerprint),
                "statements": tuple(Quote(one.says, said) for one in statements_of(offer, self.words))}

    def _steps(self, key: str | None) -> Figure | None:
        """How many steps the work of a detail has; None for a sheet that is no detail."""
        return counted(f"details.{key}.steps", self.words.html[f"{key}.done"].count("<li>")) if key else None

    def _file(self, name: str) -> str:
        return next(folder / name for folder in self.themes if (folder / name).is_file()).read_text("utf-8")


def _proofs(photographs: tuple[Photo, ...]) -> Figure:
    """How many photographs prove a finding."""
    return counted("sheets.report.photographs", sum(photo.finding is not None for photo in photographs))


def _tight(text: str, between: str = "") -> str:
    """A style sheet or script without comments and indents, its lines joined by `between`."""
    return re.sub(r"\s*\n\s*", between, re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL))
