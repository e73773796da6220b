"""The files of the theme: none is forgotten, and no style is left behind by the mark-up that it was for."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sitegen.sealing.pages import CARD_STYLE, GATE_STYLE, OPEN, TURN
from sitegen.sheets.cache import Cache
from sitegen.sheets.drawings import Drawings
from sitegen.sheets.site import FEATURES, OWN_FEATURES, SCRIPTS, SCRIPTS_OF_FIRST, STYLES, STYLES_OF_FIRST, SiteWriter
from tests.helpers import DEMO, ROOT

THEME = ROOT / "theme"
WORD = r"-?[a-z][a-z0-9-]*"
BY_NAME = {"con"}
"""Classes that a template is given by the name of what it lists."""

AGREEMENT = [name for path in ("sheets/agreement", "parts/lives/lives", *(
    f"parts/agreement/{part}" for part in ("change", "notice", "paper", "steps", "whole")))
    for name in re.findall(r"\sdata-([a-z-]+)", (THEME / f"{path}.html").read_text("utf-8"))]
"""What its mark-up names for the scripts of the agreement: four files of one page, which also asks who lives there."""

ELSEWHERE = {**{f"parts/agreement/{name}.js": AGREEMENT for name in ("change", "copy", "pads", "record", "signing")},
             "parts/ask/ask.js": ["ask", "choose"], "parts/bids/bidform.js": ["rows"],
             "parts/money/moneybids.js": ["bid"],
             "parts/yours/yours.js": re.findall(r"\sdata-([a-z-]+)", (THEME / "sheets/yours.html").read_text("utf-8")),
             "parts/both/both.js": re.findall(r"\sdata-([a-z-]+)", (THEME / "sheets/yours.html").read_text("utf-8")),
             "parts/walk/walk.js": re.findall(r"\sdata-([a-z-]+)", (THEME / "sheets/walk.html").read_text("utf-8"))}
"""What a script finds in mark-up of another part or of its sheet, or sets itself."""

WITHOUT = {"parts/ask/ask.css", "parts/ask/ask.js", "parts/yours/yours.js", "parts/both/both.js"}
"""Parts without mark-up of their own: one that scripts make, and two whose sheet is their mark-up."""

LEFT: dict[str, list[str]] = {}
"""What no mark-up has any more, by style sheet; a rule that is taken out is taken out here."""


def _files(*endings: str) -> list[str]:
    """Every file of the theme with one of these endings, as the lists name it."""
    return sorted(path.relative_to(THEME).as_posix() for path in THEME.rglob("*") if path.suffix in endings)


def _text(path: str) -> str:
    return (THEME / path).read_text("utf-8")


def _classes(path: str) -> set[str]:
    """The classes that the selectors of a style sheet name."""
    bare = re.sub(r"/\*.*?\*/|\"[^\"]*\"", "", _text(path), flags=re.DOTALL)
    return {name for head in re.findall(r"[^{};]*(?=\{)", bare) if not head.strip().startswith("@")
            for name in re.findall(rf"\.({WORD})", head)}


def _used() -> set[str]:
    """Every class that mark-up has, in templates, in drawings and in what Python draws, or that a script sets."""
    drawings = Drawings((THEME,), Cache())
    mark_up = [_text(path) for path in _files(".html")] + [drawings(name, "at") for name in drawings.files]
    mark_up += [path.read_text("utf-8") for path in (ROOT / "sitegen" / "sheets").rglob("*.py")]
    found = set(BY_NAME)
    for text in mark_up:
        for value in re.findall(r'class=\\?"((?:\{\{.*?\}\}|[^"])*)"', text):
            found.update(re.findall(WORD, value))
    for path in _files(".js"):
        for line in re.findall(r".*class(?:Name|List).*", _text(path)):
            found.update(word for quoted in re.findall(r'"([^"]*)"', line) for word in quoted.split())
    return found


def test_every_style_is_in_the_list() -> None:
    """A style sheet that the list forgot would reach no page; one that stands twice would overrule those between."""
    assert sorted((*STYLES, GATE_STYLE, CARD_STYLE)) == _files(".css")
    assert len(set(STYLES)) == len(STYLES)
    assert STYLES[:len(STYLES_OF_FIRST)] == STYLES_OF_FIRST


def test_every_script_is_in_the_list() -> None:
    """No script is forgotten, none has the name of another, and all but the first and the last are features."""
    assert sorted((*SCRIPTS, OPEN, TURN)) == _files(".js")
    names = [Path(path).stem for path in SCRIPTS]
    assert len(set(names)) == len(names)
    own = [name for names_of_one in OWN_FEATURES.values() for name in names_of_one]
    assert [name for name in names if name not in own] == ["core", *FEATURES, "run"]
    assert sorted(names) == sorted(["core", *FEATURES, *own, "run"])
    assert set(SCRIPTS_OF_FIRST) < set(FEATURES)


def test_styles_and_scripts_lie_where_they_are_looked_for() -> None:
    """One sheet's beside its template, one part's beside its mark-up, and the whole page's in `css/` and `js/`."""
    for path in map(Path, (*STYLES, *SCRIPTS)):
        folder = path.parts[0]
        if folder == "sheets":
            assert (THEME / path.with_suffix(".html")).is_file(), path
        elif folder == "parts":
            assert [*(THEME / path).parent.glob("*.html")] != [] or path.as_posix() in WITHOUT, path
            assert len(path.parts) == 3, path
        else:
            assert folder == path.suffix[1:], path


@pytest.mark.parametrize("path", [path for path in _files(".html") if path.startswith("parts/")])
def test_every_part_says_what_it_needs(path: str) -> None:
    """Each macro, or the whole template of a part that is no macro, has a comment above it that names its needs."""
    text = _text(path)
    own = r"\{# [^#]*Needs [^#]*\. #\}\n"
    macros = len(re.findall(r"^\{% macro ", text, flags=re.MULTILINE))
    assert re.match(own, text) or 0 < macros == len(re.findall(own + r"\{% macro ", text))


@pytest.mark.parametrize("path", STYLES)
def test_every_class_of_a_style_is_used(path: str) -> None:
    """A class that no mark-up has and no script sets is a style for nothing."""
    assert sorted(_classes(path) - _used()) == LEFT.get(path, [])


@pytest.mark.parametrize("path", SCRIPTS)
def test_every_script_finds_what_it_looks_for(path: str) -> None:
    """What a script finds by its data attribute, a template beside it has; a name changed in one alone breaks both."""
    beside = "".join(one.read_text("utf-8") for one in (THEME / path).parent.glob("*.html"))
    given = {*re.findall(r"\sdata-([a-z-]+)", beside), *ELSEWHERE.get(path, ())}
    assert sorted(set(re.findall(r"\[data-([a-z-]+)", _text(path))) - given) == []


def test_one_style_and_one_script_laid_over_ours(tmp_path: Path) -> None:
    """A file of the workspace's `theme/` is used for ours of the same path, and every other file stays ours."""
    part = tmp_path / "theme" / "parts" / "stepper"
    part.mkdir(parents=True)
    (part / "stepper.js").write_text("mounts.stepper = () => {};\n", "utf-8")
    bids = tmp_path / "theme" / "parts" / "bids"
    bids.mkdir()
    (bids / "bids.css").write_text("/* theirs */\n.bids{margin:0}\n", "utf-8")
    ours, theirs = SiteWriter(DEMO, Cache()), SiteWriter(tmp_path, Cache())
    assert theirs.styles == {**ours.styles, "parts/bids/bids.css": ".bids{margin:0}"}
    assert theirs.features == {**ours.features, "stepper": "mounts.stepper = () => {};"}
    assert list(theirs.styles) == list(STYLES)
