"""Drawings: each has its words, its key is drawn and listed, and its file holds shapes and classes alone."""

from __future__ import annotations

import gzip
import re
from itertools import accumulate
from pathlib import Path

import pytest
from bs4 import BeautifulSoup, Tag

from sitegen.errors import BuildError
from sitegen.sheets.cache import Cache
from sitegen.sheets.drawings import PITCH, Drawings
from sitegen.sheets.pages.detail import DETAILS
from sitegen.sheets.theme import environment
from sitegen.sheets.words import Words
from tests.helpers import ROOT

THEME = ROOT / "theme"
FILES = sorted((THEME / "drawings").glob("*.svg"))
SHAPES = {"svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
ATTRIBUTES = {"xmlns", "viewbox", "class", "transform", "d", "x", "y", "width", "height", "rx", "ry", "cx", "cy", "r",
              "x1", "y1", "x2", "y2", "points", "data-key", "data-mark", "data-hatch"}
LARGEST = 4_000
MOST_KEYS = 6


def _source(path: Path) -> Tag:
    svg = BeautifulSoup(path.read_text("utf-8"), "html.parser").find("svg")
    assert isinstance(svg, Tag)
    return svg


@pytest.fixture(scope="module")
def drawings() -> Drawings:
    """Every drawing of the theme."""
    return Drawings((THEME,), Cache())


@pytest.fixture
def figure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, drawings: Drawings, path: Path) -> Tag:
    """A drawing with its words, as it stands in a page."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    cache = Cache()
    env = environment((THEME,), Words((ROOT / "content",), cache), cache)
    env.globals["drawing"] = drawings
    text = '{% import "parts/drawing/drawing.html" as drawn %}{{ drawn.figure(name) }}'
    found = BeautifulSoup(env.from_string(text).render(name=path.stem), "html.parser").find("figure")
    assert isinstance(found, Tag)
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_holds_shapes_and_classes_alone(path: Path) -> None:
    """No text, no colour, no style, no id and no link: what it looks like is the theme's, and it can stand anywhere."""
    svg = _source(path)
    assert {tag.name for tag in (svg, *svg.find_all(True))} <= SHAPES
    assert {name for tag in (svg, *svg.find_all(True)) for name in tag.attrs} <= ATTRIBUTES
    assert svg.get_text().strip() == ""


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_class_is_one_of_the_theme(path: Path) -> None:
    """A class that the styles do not know would leave a shape as a plain line, or hide nothing behind it."""
    styled = set(re.findall(r"\.([a-z-]+)", (THEME / "parts" / "drawing" / "drawing.css").read_text("utf-8")))
    used = {name for tag in _source(path).select("[class]") for name in tag["class"]}
    assert used - {"cable"} <= styled


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_drawing_is_320_units_wide_and_light(path: Path, drawings: Drawings) -> None:
    """One width for all, so that one weight of line is one weight on the page; under 4 kB compressed as it stands."""
    assert re.fullmatch(r"0 0 320 \d+", str(_source(path)["viewbox"]))
    assert len(gzip.compress(drawings(path.stem, "drawing").encode(), 9, mtime=0)) < LARGEST


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_what_is_short_in_a_file_is_drawn(path: Path, drawings: Drawings) -> None:
    """Every key, mark, cable and hatch that a file names in short is drawn out, and nothing of the short form stays."""
    svg, made = _source(path), drawings(path.stem, "drawing")
    assert not re.search(r"data-|\bcable\b|<!--|xmlns", made)
    drawn = BeautifulSoup(made, "html.parser")
    assert len(drawn.select(".number")) == len(svg.select("[data-key]"))
    assert len(drawn.select(".hatch, .dots")) >= len(svg.select("[data-hatch]"))
    assert len(drawn.select(".old-over, .new-over")) == len(svg.select(".cable"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_number_is_drawn_once_and_listed(path: Path, figure: Tag) -> None:
    """One to six keys, in order from one, each drawn once and each with its line in the list."""
    keys = sorted(int(str(tag["data-key"])) for tag in _source(path).select("[data-key]"))
    assert keys == list(range(1, len(keys) + 1))
    assert 1 <= len(keys) <= MOST_KEYS
    assert len(figure.select("figcaption > ol > li")) == len(keys)
    assert all(line.get_text().strip().endswith(".") for line in figure.select("li"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_drawing_has_a_name_and_a_description(path: Path, figure: Tag) -> None:
    """The drawing is one picture to whoever hears it: its name and what it shows stand beside it and are pointed at."""
    svg = figure.find("svg")
    assert isinstance(svg, Tag)
    assert svg["role"] == "img"
    for name in ("aria-labelledby", "aria-describedby"):
        said = figure.find(id=str(svg[name]))
        assert isinstance(said, Tag)
        assert len(said.get_text().split()) > 2
    assert [tag["id"] for tag in figure.find_all(id=True)] == [f"drawing-{path.stem}-name", f"drawing-{path.stem}-says"]


def test_every_drawing_stands_on_one_sheet() -> None:
    """Its ids are unique over the site: one detail shows it, or one template asks for it; none is drawn for nobody."""
    shown = [name for names in DETAILS.values() for name in names]
    for path in THEME.rglob("*.html"):
        shown += re.findall(r'drawn\.figure\("([a-z-]+)"\)', path.read_text("utf-8"))
    assert sorted(shown) == [path.stem for path in FILES]
    assert set(DETAILS) == {path.stem for path in (ROOT / "content/details").glob("*.md")}


def _made(tmp_path: Path, shape: str) -> str:
    folder = tmp_path / "drawings"
    folder.mkdir()
    (folder / "one.svg").write_text(f'<svg viewBox="0 0 320 99">{shape}</svg>', "utf-8")
    return Drawings((tmp_path, THEME), Cache())("one", "at")


def _path(drawn: str, kind: str) -> str:
    """The steps of a hatch or of rows of dots."""
    found, = re.findall(rf'<path class="{kind}" d="([^"]+)"', drawn)
    return str(found)


def test_a_hatch_is_worked_out(tmp_path: Path) -> None:
    """A square of 21: lines at 45 degrees, seven apart, from edge to edge."""
    made = _made(tmp_path, '<rect class="cut" data-hatch="/" x="0" y="0" width="21" height="21"/>')
    steps = [(float(x), float(y)) for x, y in re.findall(r"[Mml](-?[\d.]+) (-?[\d.]+)", _path(made, "hatch"))]
    ends = list(accumulate(steps, lambda at, step: (at[0] + step[0], at[1] + step[1])))
    lines = [(*start, *end) for start, end in zip(ends[::2], ends[1::2], strict=True)]
    assert '<path class="cut" d="M0 0h21v21h-21z"/><path class="hatch" d="' in made
    assert len(lines) == 4          # x + y is 10, 20, 30 and 40 of 42
    for number, (x, y, to_x, to_y) in enumerate(lines, 1):
        assert x + y == number * 10 == pytest.approx(number * PITCH * 2 ** .5, rel=.02)
        assert to_x + to_y == x + y
        assert {0, 21} & {round(x, 6), round(y, 6)}
        assert {0, 21} & {round(to_x, 6), round(to_y, 6)}


def test_dots_keep_off_the_edge(tmp_path: Path) -> None:
    """Dots, as the style breaks a row into them, lie inside their shape, none on its outline, four units apart."""
    made = _made(tmp_path, '<polygon data-hatch="." points="10,10 60,10 60,60"/>')
    assert ".dots{stroke:var(--edge);stroke-width:2.5;stroke-dasharray:0 6 0 8}" in (
        THEME / "parts" / "drawing" / "drawing.css").read_text("utf-8")
    at, dots = (0, 0), []
    for x, y, across in re.findall(r"[Mm](-?\d+) (-?\d+)h(\d+)", _path(made, "dots")):
        start, end = (at[0] + int(x), at[1] + int(y)), at[0] + int(x) + int(across)
        dots += [(start[0] + step, start[1]) for step in range(int(across) + 1) if step % 14 in (0, 6)]
        at = end, start[1]
    assert len(dots) > 10
    assert all(y + 1 < x < 59 and y > 11 for x, y in dots)
    assert min((a - c) ** 2 + (b - d) ** 2 for i, (a, b) in enumerate(dots) for c, d in dots[:i]) >= 16


def test_a_mark_is_that_of_the_legend(tmp_path: Path) -> None:
    """The state of a point is the shape of `marks.html`, its middle at the place named."""
    made = _made(tmp_path, '<g data-mark="old" transform="translate(40 50)"/>')
    assert '<g class="mark known" transform="translate(30 40)"><circle cx="10" cy="10" r="7.5"/><path' in made


def test_the_company_can_lay_its_own_drawing_over_ours(tmp_path: Path) -> None:
    """A file in the workspace comes before ours; a name without a file is said."""
    assert 'viewBox="0 0 320 99"' in _made(tmp_path, "<path/>")
    with pytest.raises(BuildError, match="there is no drawing `two`"):
        Drawings((tmp_path, THEME), Cache())("two", "at")
