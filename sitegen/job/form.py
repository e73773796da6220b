"""The clipboard form: the job file on paper, in its own order, to be filled in on a walk through the house.

One page of plain HTML and CSS that prints on Letter and on A4.  A feed is written down once and has a number;
the grid of rooms asks for that number.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from pydantic import BaseModel

from sitegen.job.fields import count, words
from sitegen.job.grid import WORDS
from sitegen.job.model import Job, Room
from sitegen.job.outline import FieldOf, Kind, fields_of
from sitegen.job.parts import OPTIONS

ROOMS_A_PAGE, PAGES_OF_ROOMS = 8, 2
FEEDS = 12
NOT_ASKED = frozenset({
    "demo", "measured peak", "house.bare floor", "house.dwelling areas", "panel.new rating", "panel.new spaces",
    "panel.spaces of", "loads.dwelling", "findings.left", "findings.alone",
    *(f"rooms.{key}" for key in ("open framing", "height", "walls", "flooring", "runs", "counters", "cuts", "openings",
                                 "area cut", "base board off", "other work", "at", "dwelling"))})
"""By path, what is not seen on a walk: a house that is walked through is a real one; a peak is asked of the utility;
a new service, its panels and what is left are decided at the desk, where the name of a room or a load tells whose it
is.  A room's height, walls and floor are those of the house unless something is odd, and what is measured of it, its
place, cuts and openings come off the plan afterwards."""

WIDE = ("asks", "free rooms", "report", "told", "assumed", "waits")
"""Fields whose words need a whole line."""

LINES = {"signs": 2, "tonight": 2, "hazards": 2, "not seen": 4, "loads": 6, "cannot lose power": 1, "waits": 1,
         "findings": 8, "options": 3, "photographs": 2}
"""Ruled lines for each list; one where nothing is said."""

SENTENCES = {
    "not seen": "What we could not see: write down every place, so that nobody reads silence as a promise.",
    "feeds": "Give each feed a short name; its number is what the grid of rooms asks for. Tick what you know, "
             "not what you think.",
    "options": "At the desk, from the price book.",
    "panel": "From the labels, with a tape for the space in front of it.",
    "loads": "What each takes stands on its label, in volt-amperes, watts, or amperes at its volts.",
    "findings": "Their numbers and their words, the rooms and the kinds of point that they name.",
    "rooms": "One room a column, going down. In the lines called feed write the number of the feed.",
}

CSS = """
@page { margin: 11mm 12mm }
* { box-sizing: border-box }
html { font: 9pt/1.25 Arial, Helvetica, sans-serif; color: #000; background: #fff }
body { margin: 0 auto; max-width: 186mm }
h1 { font-size: 13pt; margin: 0 0 1mm }
h2 { font-size: 9.5pt; margin: 1.8mm 0 0; border-bottom: .35mm solid #000; break-after: avoid }
h2 i, .f i { font-weight: normal; font-size: 7.5pt; font-style: normal; color: #333; line-height: 1.05 }
p { margin: 0 }
.note { font-size: 8pt; margin: .6mm 0; break-after: avoid }
.fs { display: grid; grid-template-columns: 1fr 1fr; column-gap: 5mm }
.f { display: flex; align-items: flex-end; min-height: 6.6mm; gap: 1.5mm; break-inside: avoid }
.f b { line-height: 1.05; flex: none; max-width: 32mm }
.f.w { grid-column: 1 / -1 }
.f.t { column-gap: 2.2mm; flex-wrap: wrap }
.r { flex: 1; min-width: 28mm; border-bottom: .2mm solid #000; height: 5.5mm }
.o { white-space: nowrap; line-height: 1.05; font-size: 8.5pt }
.b { display: inline-block; width: 3.2mm; height: 3.2mm; border: .25mm solid #000; vertical-align: -.4mm;
  margin-right: .8mm }
table { border-collapse: collapse; width: 100%; table-layout: fixed; margin-top: .8mm }
th, td { border: .2mm solid #000; padding: .3mm .6mm; text-align: left; font-size: 8pt; vertical-align: bottom }
thead th { font-size: 7.5pt; line-height: 1.05 }
tbody tr { break-inside: avoid; height: 7.2mm }
td.c { text-align: center; white-space: nowrap; padding: 0; font-size: 7pt; vertical-align: middle }
td.c .b { margin-right: .3mm }
td.c .o + .o { margin-left: 1.2mm }
.s { width: 11mm } .m { width: 22mm } .l { width: 32mm }
.grid { break-before: page }
.grid tbody tr { height: 6.2mm }
.grid.roomy tbody tr { height: 6.9mm }
.grid tbody tr.name { height: 10mm }
col.k { width: 7mm } col.d { width: 20mm }
.grid th.k { text-align: center; vertical-align: middle }
.grid th.k span { writing-mode: vertical-rl; transform: rotate(180deg) }
.grid tbody { border-top: .6mm solid #000 }
.grid tbody + tbody { break-inside: avoid }
@media screen { body { padding: 6mm } }
""".strip()


def form(job: str, points: Sequence[str], stops: Sequence[str]) -> str:
    """The page of one job; `points` and `stops` are what the price book asks for."""
    body = "\n".join(_fields(Job, points, stops))
    return (f'<!doctype html>\n<html lang="en">\n<meta charset="utf-8">\n'
            f'<meta name="viewport" content="width=device-width">\n<title>Survey form: {escape(job)}</title>\n'
            f'<style>\n{CSS}\n</style>\n<h1>Survey form: {escape(job)}</h1>\n'
            f'<p class="note">In the order of job.yaml. Write what you see; leave a blank where you do not know. '
            f'Nothing on this form is a promise.</p>\n{body}\n</html>\n')


def _fields(part: type[BaseModel], points: Sequence[str], stops: Sequence[str]) -> Iterator[str]:
    """Every field of the job: plain ones side by side, parts under a heading of their own."""
    side = False
    for field in _asked(part):
        small = field.kind.shape == "text" or field.key in WIDE
        if small != side:
            yield '<div class="fs">' if small else "</div>"
            side = small
        yield _plain(field) if small else _block(field, points, stops)
    if side:
        yield "</div>"


def _asked(part: type[BaseModel], path: str = "") -> list[FieldOf]:
    """The fields of a part that a walk can answer, in the order of the file."""
    return [one for one in fields_of(part) if f"{path}.{one.key}".lstrip(".") not in NOT_ASKED]


def _block(field: FieldOf, points: Sequence[str], stops: Sequence[str]) -> str:
    kind, inner = field.kind, field.kind.inner
    if kind.part:
        body = f'<div class="fs">{"".join(_nested(one) for one in _asked(kind.part, field.key))}</div>'
    elif inner and inner.part is Room:
        return _grid(field, points)
    elif kind.shape == "map" and inner and inner.part:
        body = _feeds(inner.part)
    elif kind.shape == "map" and inner:
        body = f'<div class="fs">{"".join(_ticks(stop, "", inner.answers) for stop in stops)}</div>'
    elif inner and inner.part:
        body = _table(field.key, inner.part)
    else:
        body = '<p class="f"><span class="r"></span></p>' * LINES.get(field.key, 1)
    said = SENTENCES.get(field.key, "")
    if kind.shape == "list" and inner and inner.part:
        said = " ".join((said, *_choices(_asked(inner.part, field.key)))).strip()
    return _heading(field) + (f'<p class="note">{escape(said)}</p>' if said else "") + body


def _choices(fields: Sequence[FieldOf]) -> Iterator[str]:
    """What may stand in columns with fixed answers, as sentences; the options are written out in their lines."""
    for one in fields:
        if answers := one.kind.answers or one.kind.some:
            yield f"{one.key.capitalize()}: {', '.join(answers)}."


def _heading(field: FieldOf) -> str:
    return f"<h2>{escape(field.key)} <i>{escape(field.says)}</i></h2>"


def _nested(field: FieldOf) -> str:
    """A field within a part; a part within it stands on one line with its own blanks."""
    if field.kind.part:
        blanks = "".join(f'<i>{escape(one.says)}</i><span class="r"></span>' for one in fields_of(field.kind.part))
        return f'<p class="f w"><b>{escape(field.key)}</b>{blanks}</p>'
    return _plain(field)


def _plain(field: FieldOf) -> str:
    kind = field.kind
    if kind.answers:
        return _ticks(field.key, field.says, kind.answers)
    wide = " w" if field.key in WIDE else ""
    return (f'<p class="f{wide}"><b>{escape(field.key)}</b><i>{escape(field.says)}</i>'
            '<span class="r"></span></p>')


def _ticks(key: str, says: str, answers: Sequence[str]) -> str:
    boxes = "".join(f'<span class="o"><span class="b"></span>{escape(answer)}</span>' for answer in answers)
    wide = " w" if len(key) + len(says) + sum(len(answer) + 5 for answer in answers) > 80 else ""
    return f'<p class="f t{wide}"><b>{escape(key)}</b><i>{escape(says)}</i>{boxes}</p>'


def _table(key: str, part: type[BaseModel]) -> str:
    """A list of parts: a column for each field, ruled lines below."""
    heads, cells = "", ""
    for field in _asked(part, key):
        heads += f'<th scope="col"{_width(field.kind)}>{escape(field.key)}</th>'
        cells += "<td>{option}</td>" if field.key == "option" else "<td></td>"
    rows, usual = "", tuple(OPTIONS)
    for at in range(LINES.get(key, 1)):
        rows += f'<tr>{cells.replace("{option}", usual[at % len(usual)])}</tr>\n'
    return f"<table><thead><tr>{heads}</tr></thead><tbody>\n{rows}</tbody></table>"


def _width(kind: Kind) -> str:
    read = kind.text.read if kind.text else None
    return ' class="s"' if read is count else "" if read is words else ' class="l"'


def _feeds(part: type[BaseModel]) -> str:
    """The numbered feeds of the house, a tick for what each looks like."""
    heads = '<th scope="col" class="s">no.</th><th scope="col" class="l">short name</th>'
    cells = "<td></td>"
    for field in fields_of(part):
        if field.kind.answers:
            heads += "".join(f'<th scope="col" class="s">{escape(one)}</th>' for one in field.kind.answers)
            cells += '<td class="c"><span class="b"></span></td>' * len(field.kind.answers)
        else:
            heads += f'<th scope="col"{" class=l" if field.key == "called" else ""}>{escape(field.key)}: ' \
                     f"{escape(field.says)}</th>"
            cells += "<td></td>"
    rows = "\n".join(f'<tr><th scope="row">{at}</th>{cells}</tr>' for at in range(1, FEEDS + 1))
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _grid(field: FieldOf, points: Sequence[str]) -> str:
    """Rooms across, points down: what is asked of each kind stands in its own band."""
    return "\n".join(_grid_page(field, points, page) for page in range(1, PAGES_OF_ROOMS + 1))


def _grid_page(field: FieldOf, points: Sequence[str], page: int) -> str:
    fields = _asked(Room, field.key)
    empty = "<td></td>" * ROOMS_A_PAGE
    top = "\n".join(f'<tr{" class=name" if one.key == "room" else ""}>'
                    f'<th scope="row" colspan="2">{escape(one.key)}</th>{empty}</tr>'
                    for one in fields if one.kind.shape == "text")
    lines = [one.key for one in fields if one.kind.shape == "map"]
    bands = ""
    for kind in points:
        rows = ""
        for at, line in enumerate(lines):
            head = f'<th scope="rowgroup" class="k" rowspan="{len(lines)}"><span>{escape(kind)}</span></th>'
            label = line if line.startswith("opened") else WORDS[line]
            rows += (f'<tr>{head if not at else ""}'
                     f'<th scope="row" class="d">{escape(label)}</th>{empty}</tr>\n')
        bands += f"<tbody>\n{rows}</tbody>\n"
    note = f'<p class="note">{escape(" ".join((SENTENCES["rooms"], *_choices(fields))))}</p>'
    roomy = " roomy" if len(points) <= 4 and page < PAGES_OF_ROOMS else ""  # the last page holds more than rooms
    return (f'<section class="grid{roomy}"><h2>{escape(field.key)} <i>page {page} of {PAGES_OF_ROOMS}</i></h2>{note}'
            f'<table><colgroup><col class="k"><col class="d"><col span="{ROOMS_A_PAGE}"></colgroup>'
            f"<tbody>\n{top}</tbody>\n{bands}</table></section>")
