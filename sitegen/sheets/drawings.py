"""Our drawings: an SVG file of classes each, made ready to stand in a page.

A file under `theme/drawings/` holds the drawing alone, 320 units wide, without a colour, a text or an id.  What every
drawing has alike is written short in it, and drawn here:

- `<g data-key="2" transform="translate(x y)"/>`: a number of the key, its middle at that place
- `<g data-mark="old" transform="translate(x y)"/>`: a state of a point, one of `parts/marks/marks.html`, so placed
- `<path class="old cable" d="..."/>`, `<path class="new cable" d="..."/>`: beads on a line, and a plain double line;
  `new hidden cable` is broken: it runs behind what is drawn
- `<rect data-hatch="/" .../>`, `<polygon data-hatch="." .../>`: the shape, then its hatch, `/`, `\\`, `x`, `-` or `.`
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import ceil, floor
from pathlib import Path

from markupsafe import Markup

from sitegen.errors import BuildError
from sitegen.sheets.cache import Cache
from sitegen.sheets.plans import DIGITS

PITCH = 7
"""Units between two lines of a hatch: finer ones shimmer."""

SLOPES = {"/": ((1, 1),), "\\": ((1, -1),), "x": ((1, 1), (1, -1)), "-": ((0, 1),)}
"""The families of lines of a hatch, each by its normal: a line holds all points of one a*x + b*y."""

MARK = re.compile(r"{% macro (\w+)\(.*?\) %}\s*<svg class=\"([a-z ]+)\"[^>]*?(?:{%.*?%}[^>]*)?>(.*?)</svg>", re.DOTALL)
KEYED = re.compile(r'<g data-key="(\d)" transform="translate\((\S+) (\S+)\)"/>')
MARKED = re.compile(r'<g data-mark="(\w+)" transform="translate\((\S+) (\S+)\)"/>')
CABLE = re.compile(r'<path class="(old|new)( hidden)? cable" (d="[^"]+")/>')
ATTRIBUTE = re.compile(r'([a-z-]+)="([^"]*)"')
PLAIN = re.compile(r'<(rect|polygon)( class="[^"]*")?((?: (?:x|y|width|height|points)="[^"]*")+)/>')
HATCHED = re.compile(r'<(rect|polygon)([^>]*?) data-hatch="([^"])"([^>]*)/>')
NUMBER = re.compile(r"-?[\d.]+")

Corners = list[tuple[float, float]]
Line = tuple[tuple[float, float], tuple[float, float]]


class Drawings:
    """Every drawing of some theme folders, the first folder's before the next one's; drawn out once and kept."""

    def __init__(self, folders: tuple[Path, ...], cache: Cache) -> None:
        self.files = {path.stem: path for folder in reversed(folders)
                      for path in sorted((folder / "drawings").glob("*.svg"))}
        marks = next(path for folder in folders if (path := folder / "parts" / "marks" / "marks.html").is_file())
        self.marks = marks.read_text("utf-8")
        self.cache = cache
        self._ready: dict[str, str] = {}

    def __call__(self, name: str, at: str) -> Markup:
        """The drawing as it stands in a page; `at` begins the ids of its name and of its description."""
        if name not in self._ready:
            if name not in self.files:
                raise BuildError(f"there is no drawing `{name}`")
            text = self.files[name].read_text("utf-8")
            self._ready[name] = self.cache.kept("drawing", lambda: _drawn(text, self.marks), text, self.marks)
        labels = f'role="img" aria-labelledby="{at}-{name}-name" aria-describedby="{at}-{name}-says"'
        return Markup(self._ready[name].replace("<svg", f"<svg {labels}", 1))


def _drawn(text: str, marks: str) -> str:
    """A drawing with all that is written short in it drawn; `marks` is the text that holds the states of a point."""
    shapes = {name: (css, shape) for name, css, shape in MARK.findall(marks)}

    def mark(found: re.Match[str]) -> str:
        css, shape = shapes[found[1]]
        x, y = float(found[2]) - 10, float(found[3]) - 10
        return f'<g class="{css}" transform="translate({_n(x)} {_n(y)})">{shape}</g>'
    text = re.sub(r"<!--.*?-->|\sxmlns=\"[^\"]*\"", "", text, flags=re.DOTALL)
    text = PLAIN.sub(_path, HATCHED.sub(_hatched, text))
    text = CABLE.sub(r'<path class="\1-under\2" \3/><path class="\1-over" \3/>', text)
    text = MARKED.sub(mark, KEYED.sub(_key, text))
    return re.sub(r">\s+<", "><", text).strip()


def _key(found: re.Match[str]) -> str:
    """A number of the key: its digit as on a plan, six by ten, made a third larger and set round its middle."""
    x, y = float(found[2]) - 4, float(found[3]) - 6.5
    digit = f'd="{DIGITS[int(found[1])].replace("m", "M", 1)}"'
    return (f'<g class="number" transform="translate({_n(x)} {_n(y)}) scale(1.3)"><path class="halo" {digit}/>'
            f"<path {digit}/></g>")


def _hatched(found: re.Match[str]) -> str:
    """The shape as it is, and its hatching as one path over it."""
    shape, before, kind, after = found[1], found[2], found[3], found[4]
    corners = _corners(shape, before + after)
    lines = _dots(corners) if kind == "." else _strokes(
        line for slope in SLOPES[kind] for line in _lines(corners, *slope))
    return f'<{shape}{before}{after}/><path class="{"dots" if kind == "." else "hatch"}" d="{lines}"/>'


def _path(found: re.Match[str]) -> str:
    """A rectangle or polygon as a path of steps from corner to corner, which compress better than places."""
    shape, css, attributes = found[1], found[2] or "", found[3]
    corners = _corners(shape, attributes)
    steps = "".join(_step(round(to_x - x, 1), round(to_y - y, 1)) for (x, y), (to_x, to_y) in pairwise(corners))
    return f'<path{css} d="M{_n(corners[0][0])} {_n(corners[0][1])}{steps}z"/>'


def _step(x: float, y: float) -> str:
    """A line to a corner, by how far off it is."""
    if x and y:
        return f"l{_n(x)} {_n(y)}"
    return f"h{_n(x)}" if x else f"v{_n(y)}"


def _corners(shape: str, text: str) -> Corners:
    attributes = dict(ATTRIBUTE.findall(text))
    if shape == "rect":
        x, y, wide, tall = (float(attributes[name]) for name in ("x", "y", "width", "height"))
        return [(x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall)]
    numbers = [float(number) for number in NUMBER.findall(attributes["points"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _lines(corners: Corners, a: int, b: int) -> Iterator[Line]:
    """The lines of one family inside a shape; all shapes of a drawing share one raster, as by one hand."""
    step = round(PITCH * (a * a + b * b) ** .5)         # whole numbers compress
    levels = [a * x + b * y for x, y in corners]
    at = int(min(levels) // step)
    while (at := at + 1) * step < max(levels):
        cuts = sorted(_cuts(corners, a, b, at * step))
        yield from zip(cuts[::2], cuts[1::2], strict=False)


def _strokes(lines: Iterable[Line]) -> str:
    """Lines to a tenth, each placed from the end of the one before it: alike steps compress."""
    made, last = [], (0.0, 0.0)
    for line in lines:
        (x, y), (to_x, to_y) = ((round(x, 1), round(y, 1)) for x, y in line)
        made.append(f"m{_n(x - last[0])} {_n(y - last[1])}l{_n(to_x - x)} {_n(to_y - y)}")
        last = to_x, to_y
    return "".join(made).replace("m", "M", 1)


def _cuts(corners: Corners, a: int, b: int, level: float) -> Iterator[tuple[float, float]]:
    """Where a line meets the edges of a shape."""
    for (x, y), (to_x, to_y) in pairwise([*corners, corners[0]]):
        here, there = a * x + b * y - level, a * to_x + b * to_y - level
        if (here < 0) != (there < 0):
            share = here / (here - there)
            yield x + share * (to_x - x), y + share * (to_y - y)


def _dots(corners: Corners) -> str:
    """Rows of dots inside a shape, each a line that the style breaks into dots, set off and shaken as by hand.

    A row starts from the end of the one before it: alike steps compress.
    """
    made, last = [], (0, 0)
    low, high = (pick(y for _, y in corners) for pick in (min, max))
    for line in range(int(low // 5), int(high // 5) + 1):
        y = line * 5 + 2 + line * 7 % 5 // 3
        if not low + 1.5 <= y <= high - 1.5:
            continue
        cuts = sorted(x for x, _ in _cuts(corners, 0, 1, y))
        for left, right in zip(cuts[::2], cuts[1::2], strict=False):
            x, to_x = ceil(left + 2) + line * 4 % 7, floor(right - 2)
            if x <= to_x:
                made.append(f"m{x - last[0]} {y - last[1]}h{to_x - x}")
                last = to_x, y
    return "".join(made).replace("m", "M", 1)


def _n(value: float) -> str:
    """A number of the drawing, to a tenth."""
    return f"{round(value, 1) + 0:g}"


__all__ = ["PITCH", "Drawings"]
