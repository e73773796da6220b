"""The scope table and the list as figures: what each option does of every item, and every point that a list holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, int_of, slug
from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.offer.context import Context
from sitegen.offer.money import OptionMoney
from sitegen.scope.items import ITEMS, Item
from sitegen.scope.offered import Offered
from sitegen.survey.dust import PATHS_TOO
from sitegen.survey.findings import SPLICE, closing
from sitegen.survey.house import kit_of, option_row, tracing_price
from sitegen.survey.lines import Line, lines
from sitegen.trade.feeds import NEW, OLD

Slot = Figure | Quote | tuple[Quote, ...]
IN, EACH, OUT = "in", "each", "out"


class ScopeCell(Struct, frozen=True):
    """What one option does of an item: in the price, at a set price each, or not; its words and what fills them."""

    option: str
    name: str
    state: str
    words: str
    slots: Mapping[str, Slot] = {}

    def says_the_same(self, other: ScopeCell) -> bool:
        """Whether a reader would read the same."""
        return self.words == other.words and _shown(self) == _shown(other)


class ScopeRow(Struct, frozen=True):
    """One item of the scope table.

    `asks` are the numbers of the findings that ask for it, `sections` those of code and law.
    """

    key: str
    detail: str
    protection: bool
    asks: tuple[Figure, ...]
    sections: tuple[Quote, ...]
    cells: tuple[ScopeCell, ...]


class ListRow(Struct, frozen=True):
    """Points of one kind in one room that are on the list for one reason, or are left out of it.

    `why` is seen-old, finding, asked-for or new-place; `left_out` the reason why it is not on the list
    """

    room: Quote
    kind: Quote
    circuit: Quote | None
    count: Figure
    state: str
    why: str
    findings: tuple[Figure, ...]
    left_out: Quote | None = None


class Scope(Struct, frozen=True):
    """The scope table, the list room by room, and what was left out of it."""

    rows: tuple[ScopeRow, ...]
    listed: tuple[ListRow, ...]
    left_out: tuple[ListRow, ...]
    listed_count: Figure
    rooms_count: Figure


class ForItem(Struct, frozen=True):
    """Everything that the cell of an item may read of one option."""

    context: Context
    money: OptionMoney
    kit: Kit
    offered: Offered

    def count(self, key: str, value: int, unit: str = "number") -> Figure:
        """How many of an item this option does."""
        return Figure(f"options.{self.money.key}.scope.{key}", value, unit, "Counted from the survey, the kit and the "
                      "rules.", self.context.make.survey("rooms"))


Cell = tuple[str, str, dict[str, Slot]]


def scope_of(context: Context, money: tuple[OptionMoney, ...], duties: tuple[str, ...], lead: bool) -> Scope:
    """The scope of all options, in their order; `duties` of new service equipment, `lead` whether the rule is held."""
    job = context.inputs.job
    options = [ForItem(context, option, kit_of(context.inputs, option.key), context.scope[option.key])
               for option in money]
    there = {"service": job.panel.new_rating is not None, "panel": job.panel.new_spaces is not None,
             "grounding": job.panel.new_rating is not None or job.panel.new_spaces is not None,
             "surge": "surge-protection" in duties, "lead": lead, "tracing": bool(_tracing_price(context)),
             "splices": any(finding.about == "splice" for finding in job.findings),
             "car-outlets": any(load.new for load in job.loads), "cases": bool(context.house.cases),
             "new-places": any(one.offered.counts.all_places for one in options),
             "list-points": any(not one.money.covers_all for one in options)}
    rows = tuple(_row(context, item, options) for item in ITEMS if there.get(item.key, True))
    listed, left = _listed(context.inputs, context)
    source = context.make.survey("rooms")
    return Scope(rows, listed, left,
                 Figure("list.points", sum(int_of(row.count) for row in listed), "points",
                        "Every point and place on the list, room by room.", source),
                 Figure("list.rooms", len({row.room.text for row in listed}), "rooms", "Rooms on the list.", source))


def _row(context: Context, item: Item, options: list[ForItem]) -> ScopeRow:
    asks = tuple(finding.number for finding in context.found.findings if finding.about in item.about)
    cells = tuple(ScopeCell(one.money.key, one.money.name, *CELLS[item.key](one)) for one in options)
    return ScopeRow(item.key, item.detail, item.protection, asks,
                    tuple(Quote(section, Source("rule", f"{section}, as adopted")) for section in item.sections), cells)


# --- cells ------------------------------------------------------------------------------------------------


def _in(one: ForItem, key: str, value: int | None = None) -> Cell:
    return (IN, "scope.in", {}) if value is None else (IN, "scope.in.count", {"count": one.count(key, value)})


def _always(one: ForItem) -> Cell:
    return _in(one, "")


def _list_points(one: ForItem) -> Cell:
    counted = one.offered.counts.all_points
    return (IN, "scope.list.every", {"count": one.count("points", counted)}) if one.money.covers_all else _in(
        one, "points", counted)


def _other_old(one: ForItem) -> Cell:
    if one.money.covers_all:
        return IN, "scope.other.in", {}
    return EACH, "scope.other.each", {"point": one.money.each_point, "feed": one.money.each_feed}


def _new_places(one: ForItem) -> Cell:
    counts = one.offered.counts
    counted, more = one.count("places", counts.all_places), counts.all_places - counts.places_held
    if not more:
        return IN, "scope.in.count", {"count": counted}
    each = one.context.make.figure(f"options.{one.money.key}.new-place", "book", "kits", _kit_name(one), "prices",
                                   "new place")
    if more == counts.all_places:
        return EACH, "scope.each.count", {"each": each, "count": counted}
    return EACH, "scope.places.some", {"each": each, "held": one.money.places_held,
                                       "count": one.count("places-to-come", more)}


def _panel(one: ForItem) -> Cell:
    count = one.offered.counts.panel
    if not count:
        return OUT, "scope.out.electrician", {}
    return _in(one, "panel", count if count > 1 else None)


def _service(one: ForItem) -> Cell:
    return _in(one, "service") if one.offered.counts.service else (OUT, "scope.out.electrician", {})


def _grounding(one: ForItem) -> Cell:
    """With the panel or the service: it comes with whoever does them."""
    done = one.offered.counts.panel or one.offered.counts.service
    return _in(one, "grounding") if done else (OUT, "scope.out.with-panel", {})


def _surge(one: ForItem) -> Cell:
    return _in(one, "surge") if one.offered.counts.service else (OUT, "scope.out.with-panel", {})


def _alarms(one: ForItem) -> Cell:
    if one.offered.counts.alarms:
        return _in(one, "alarms", one.offered.counts.alarms)
    return OUT, "scope.out.alarms", {}


def _splices(one: ForItem) -> Cell:
    """Boxes of their own are counted; a new point whose box takes a splice is a new place, and counted there."""
    if one.offered.counts.splices:
        return _in(one, "splices", one.offered.counts.splices)
    job = one.context.inputs.job
    answers = [closing(finding, job, one.kit).closes for finding in job.findings if finding.about == SPLICE]
    return _in(one, "splices") if set(answers) == {"yes"} else (OUT, "scope.out.electrician", {})


def _car_outlets(one: ForItem) -> Cell:
    if one.offered.counts.cars:
        return _in(one, "car-outlets", one.offered.counts.cars)
    return OUT, "scope.out.electrician", {}


def _tracing(one: ForItem) -> Cell:
    if one.money.covers_all:
        return IN, "scope.in", {}
    price = Figure(f"options.{one.money.key}.scope.tracing", _tracing_price(one.context), "cents",
                   "The visit and each circuit that is not settled.", one.context.make.book("tracing"))
    credited = one.context.inputs.book.tracing.credited
    return EACH, "scope.tracing.credited" if credited else "scope.tracing.added", {"price": price}


def _blocked(one: ForItem) -> Cell:
    if one.money.covers_all or not int_of(one.money.each_blocked):
        return IN, "scope.in", {}
    return EACH, "scope.each", {"each": one.money.each_blocked}


def _holes(one: ForItem) -> Cell:
    if one.kit.closes_holes == "us":
        return IN, "scope.in.about", {"count": one.money.holes}
    return OUT, *_elsewhere(one, "plaster finish", "scope.out.holes", "scope.out.holes-unpriced",
                            {"count": one.money.holes})


def _floors(one: ForItem) -> Cell:
    """Sheet is in every option; what differs is the board on the paths."""
    if not one.offered.counts.laid:
        return OUT, "scope.out.floors-none", {}
    return IN, "scope.floors.board" if one.kit.sheet == PATHS_TOO else "scope.floors.sheet", {
        "count": one.count("laid", one.offered.counts.laid)}


def _cleaning(one: ForItem) -> Cell:
    counted = one.count("cleaned", one.offered.counts.cleaned)
    if one.kit.cleans == "house":
        return IN, "scope.cleaning.house", {}
    if one.kit.cleans == "storeys":
        return IN, "scope.cleaning.storeys", {"count": counted}
    return OUT, *_elsewhere(one, "cleaning", "scope.out.cleaning", "scope.out.cleaning-unpriced", {})


def _permit(one: ForItem) -> Cell:
    return IN, "scope.permit", {"price": one.context.make.figure(
        "town.permit-price", "town", "permit price")}


def _promise(one: ForItem) -> Cell:
    promise, make = one.kit.promise, one.context.make
    years = make.figure(f"options.{one.money.key}.promise.years-on-work", "book", "kits", _kit_name(one), "promise",
                        "years on work", unit="years")
    if not promise.years_on_old_wire:
        return IN, "scope.promise.work", {"years": years}
    return IN, "scope.promise.wire", {"years": years, "old": make.figure(
        f"options.{one.money.key}.promise.years-on-old-wire", "book", "kits", _kit_name(one), "promise",
        "years on old wire", unit="years")}


def _cases(one: ForItem) -> Cell:
    if not one.money.cases:
        return IN, "scope.in", {}
    called: tuple[Quote, ...] = tuple(case.called for case in one.money.cases)
    if one.money.case_cap is None:
        return EACH, "scope.cases.open", {"cases": called}
    return EACH, "scope.cases.capped", {"cases": called, "cap": one.money.case_cap}


def _elsewhere(one: ForItem, stands_for: str, priced: str, unpriced: str,
               slots: dict[str, Slot]) -> tuple[str, dict[str, Slot]]:
    """Words for what the homeowner buys elsewhere: at its usual price where the book has a quote."""
    book = one.context.inputs.book
    for i, item in enumerate(book.later):
        if item.stands_for == stands_for and item.key in one.kit.later:
            return priced, {**slots, "usual": one.context.make.figure(f"later.{slug(item.key)}.usual", "book", "later",
                                                                      i, "usual")}
    return unpriced, slots


CELLS: Mapping[str, Callable[[ForItem], Cell]] = {
    "list-points": _list_points, "other-old": _other_old, "new-places": _new_places,
    "circuits": lambda one: _in(one, "circuits", one.offered.counts.feeds),
    "old-dead": lambda one: _in(one, "old-dead", one.offered.counts.feeds),
    "panel": _panel, "service": _service, "grounding": _grounding, "surge": _surge, "protection": _always,
    "alarms": _alarms, "splices": _splices, "car-outlets": _car_outlets, "tracing": _tracing,
    "blocked": _blocked, "holes": _holes, "boxes": _always,
    "floors": _floors, "lead": _always, "cleaning": _cleaning, "set-up": _always, "permit": _permit,
    "papers": _always, "promise": _promise, "cases": _cases}
"""Who answers for each item, by its key."""


def _kit_name(one: ForItem) -> str:
    return option_row(one.context.inputs, one.money.key)[1].kit


def _tracing_price(context: Context) -> int:
    return tracing_price(context.inputs)


def _shown(cell: ScopeCell) -> list[object]:
    return [(slot.value if isinstance(slot, Figure) else str(slot)) for slot in cell.slots.values()]


# --- the list ---------------------------------------------------------------------------------------------


def _listed(inputs: Inputs, context: Context) -> tuple[tuple[ListRow, ...], tuple[ListRow, ...]]:
    """Every row of the list, room by room, and every row that was left out of it with its reason."""
    reasons = {(one.room, one.kind): i for i, one in enumerate(inputs.job.left_out)}
    numbers = {int_of(finding.number): finding.number for finding in context.found.findings}
    listed, left = list[ListRow](), list[ListRow]()
    for at, line in enumerate(lines(inputs.job)):
        def row(why: str, count: int, state: str, at: int = at, line: Line = line) -> ListRow:
            source = context.make.survey("rooms")
            feed = inputs.job.feeds.get(line.feed)
            return ListRow(
                Quote(line.room, source), Quote(line.kind, source),
                None if feed is None or why == "new-place" else Quote(
                    feed.called or line.feed.replace("-", " ").capitalize(), source),
                Figure(f"list.{slug(line.room)}.{slug(line.kind)}-{at + 1}.{why}", count, "points",
                       "Points of one kind in one room, by why they are on the list.", source), state, why,
                tuple(numbers[number] for number in line.findings) if why in ("finding", "left-out") else ())
        parts = _reasons(line)
        listed += [row(why, count, state) for why, count, state in parts if count]
        if line.new_places:
            listed.append(row("new-place", line.new_places, "none"))
        short = line.short
        if short and (line.room, line.kind) in reasons:
            said = context.make.quote("survey", "left out", reasons[line.room, line.kind], "because")
            left.append(_with_reason(row("left-out", short, _state(line)), said))
    return tuple(listed), tuple(left)


def _reasons(line: Line) -> list[tuple[str, int, str]]:
    """Why points of a line are on the list, how many, and in which state: those seen old, named, and asked for."""
    old = min(line.listed, line.old)
    named = min(line.listed - old, max(0, line.named - line.old))
    return [("seen-old", old, "old"), ("finding", named, _state(line)),
            ("asked-for", line.listed - old - named, _state(line))]


def _state(line: Line) -> str:
    return "old" if line.evidence == OLD else "newer" if line.evidence == NEW else "not-seen"


def _with_reason(row: ListRow, said: Quote) -> ListRow:
    return ListRow(row.room, row.kind, row.circuit, row.count, row.state, row.why, row.findings, said)


__all__ = ["EACH", "IN", "OUT", "ListRow", "Scope", "ScopeCell", "ScopeRow", "scope_of"]
