"""The 24 rows of the comparison: for each option the words that answer, and the figures that go into them.

A row gives for each option a variant of its words (`content/rows.md`) and what fills the slots.  The same rows in
the same order for every option: that is what makes the page fair.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, fraction_of, int_of
from sitegen.job.parts import ROWS
from sitegen.offer.dates import OptionDates
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer, OptionTerms
from sitegen.offer.protection import OptionCare, RoomCare

Slot = Figure | Quote | tuple[Quote, ...] | tuple[Figure, ...]
Answer = tuple[str, dict[str, Slot]]


class Cell(Struct, frozen=True):
    """One option's answer: the key of its words, and what fills them."""

    option: str
    name: str
    words: str
    slots: Mapping[str, Slot]

    def says_the_same(self, other: Cell) -> bool:
        """Whether a reader would read the same."""
        return self.words == other.words and _shown(self.slots) == _shown(other.slots)


class Row(Struct, frozen=True):
    """One row, worked out for an offer; `same` when all cells say the same."""

    number: Figure
    section: str
    cells: tuple[Cell, ...]
    sources: tuple[Source, ...]
    same: bool


class _Option(Struct, frozen=True):
    """Everything that a row may read of one option."""

    offer: Offer
    money: OptionMoney
    terms: OptionTerms
    dates: OptionDates


def _row_1(w: _Option) -> Answer:
    if w.money.covers_all:
        return "every-point", {"price": w.money.price, "places": w.offer.found.new_places}
    listed = w.offer.found.listed
    return ("the-point" if listed.value == 1 else "the-list",
            {"price": w.money.price, "listed": listed, "places": w.offer.found.new_places})


def _row_2(w: _Option) -> Answer:
    cases: tuple[Quote, ...] = tuple(case.called for case in w.money.cases)
    if w.money.covers_all:
        if not cases:
            return "your-changes", {}
        if w.money.case_cap is None:
            return "cases-no-cap", {"cases": cases}
        return "cases-capped", {"cap": w.money.case_cap, "cases": cases}
    slots: dict[str, Slot] = {"point": w.money.each_point, "feed": w.money.each_feed, "drop": w.money.each_blocked}
    if cases:
        slots["cases"] = cases
    more = "capped" if w.money.added_cap is not None else "open"
    if w.money.added_cap is not None:
        slots["added"] = w.money.added_cap
    if cases and w.money.case_cap is not None:
        slots["cap"] = w.money.case_cap
        return f"list-{more}-cases-capped", slots
    return f"list-{more}" + ("-cases" if cases else ""), slots


def _row_3(w: _Option) -> Answer:
    if w.money.most_paid is None:
        return "price-no-cap", {"price": w.money.price}
    if w.money.covers_all:
        return "capped", {"most": w.money.most_paid}
    return "list", {"most": w.money.most_paid, "points": w.offer.outcome.hidden.most}


def _row_4(w: _Option) -> Answer:
    return ("us" if w.money.covers_all else "you"), {}


def _row_5(w: _Option) -> Answer:
    later: tuple[Quote, ...] = tuple(item.called for item in w.money.later)
    if not later:
        return "paint", {}
    return ("later" if w.money.covers_all else "later-and-points"), {"later": later}


def _row_6(w: _Option) -> Answer:
    return "range", {"low": w.money.p10, "middle": w.money.p50, "high": w.money.p90}


def _row_7(w: _Option) -> Answer:
    nothing = int_of(w.terms.before_work) == 0
    slots: dict[str, Slot] = {"held": w.terms.held}
    if not nothing:
        slots["before"] = w.terms.before_work
    return ("nothing-before" if nothing else "deposit"), slots


def _row_8(w: _Option) -> Answer:
    return "stop", {"days": w.offer.dates.cancel_days, "then": w.terms.if_stopped}


def _row_9(w: _Option) -> Answer:
    found = w.offer.found
    if w.money.covers_all:
        return "every-point", {"rewired": found.rewired, "places": found.new_places}
    return "the-list", {"listed": found.listed, "places": found.new_places}


def _row_10(w: _Option) -> Answer:
    hidden = w.offer.outcome.hidden
    if not w.money.covers_all:
        return "list", {"middle": hidden.p50, "low": hidden.p10, "high": hidden.p90, "known": hidden.known}
    if int_of(w.terms.years_on_old_wire) == 0:
        return "no-promise", {}
    return "promise", {"years": w.terms.years_on_old_wire}


def _row_12(w: _Option) -> Answer:
    by: dict[str, tuple[Figure, ...]] = {
        answer: tuple(finding.number for finding in w.offer.found.findings
                      if finding.closed[w.money.key] == answer) for answer in ("yes", "in part", "no")}
    total = w.offer.found.findings_count
    slots: dict[str, Slot] = {"count": w.offer.found.closed[w.money.key], "total": total}
    if not by["in part"] and not by["no"]:
        return "all", {"total": total}
    if by["in part"]:
        slots["part"] = by["in part"]
    if by["no"]:
        slots["open"] = by["no"]
    return "some" + ("-part" if by["in part"] else "") + ("-open" if by["no"] else ""), slots


def _row_13(w: _Option) -> Answer:
    return ("dead-letter" if w.money.covers_all else "start-letter"), {"dead": w.dates.dead}


def _row_14(w: _Option) -> Answer:
    who, close = ("us" if w.terms.closes_holes == "us" else "you"), _care(w).to_close
    slots: dict[str, Slot] = {"holes": w.money.holes}
    if who == "you":
        assert close is not None, "holes that we leave open have a price"
        slots["close"] = close
    return (f"every-{who}" if w.money.covers_all else f"list-{who}"), slots


def _row_16(w: _Option) -> Answer:
    slots: dict[str, Slot] = {"says": w.terms.row_words["floors"], "laid": _care(w).laid}
    return ("kit", {**slots, "bare": _care(w).bare}) if _care(w).bare.value else ("kit-none-bare", slots)


def _row_17(w: _Option) -> Answer:
    """In which rooms the lead rule asks for its steps, and why not in the others that are cut.

    `most` is the widest cut among those that the limit alone keeps out: a room that owes its steps, or that a paper
    frees, says nothing about the limit.
    """
    if not w.offer.lead.assumed:
        return "tested", {}
    care = _care(w)
    under = [room for room in care.rooms.values() if room.reason == "under the limit"]
    freed = _names(w, lambda room: room.reason == "written report")
    slots: dict[str, Slot] = {"laid": care.laid}
    if freed:
        slots["freed"] = freed
    if not under and not int_of(care.owed):
        return ("freed" if freed else "nothing"), slots
    if int_of(care.owed):
        slots["where"] = _names(w, lambda room: room.owed)
    if under:
        widest = max(under, key=lambda room: fraction_of(room.area))
        slots |= {"opened": care.opened, "most": widest.area_feet, "limit": widest.limit_feet}
        if int_of(care.owed):
            slots["owed"] = care.owed
    variant = "every" if not under else "some" if int_of(care.owed) else "none"
    return variant + ("-freed" if freed else ""), slots


def _row_19(w: _Option) -> Answer:
    slots: dict[str, Slot] = {"dead": w.dates.dead, "finished": w.dates.finished}
    variant = "every" if w.money.covers_all else "list"
    if not w.money.covers_all and w.dates.more_days is not None and int_of(w.dates.more_days) > 1:
        slots |= {"more": w.dates.more_days, "late": w.dates.finished_p50}
        variant += "-more"
    if w.dates.ready_for_paint is not None:
        slots["paint"] = w.dates.ready_for_paint
        variant += "-paint"
    return variant, slots


def _row_20(w: _Option) -> Answer:
    return w.dates.chosen.key, {"says": w.terms.row_words["living"], "days": w.dates.chosen.power_off,
                                "other": w.dates.other.power_off}


def _care(w: _Option) -> OptionCare:
    return w.offer.protection.options[w.money.key]


def _names(w: _Option, of: Callable[[RoomCare], bool]) -> tuple[Quote, ...]:
    """The rooms of this way of which something holds, by name, in the order of the survey."""
    rooms = _care(w).rooms
    return tuple(room.name for room in w.offer.rooms if room.key in rooms and of(rooms[room.key]))


def _row_21(w: _Option) -> Answer:
    slots: dict[str, Slot] = {"years": w.terms.years_on_work, "closing": w.terms.if_we_close}
    variant = "work"
    if int_of(w.terms.years_on_old_wire):
        slots["old"] = w.terms.years_on_old_wire
        variant = "work-and-wire"
    return variant + ("-passes" if w.terms.passes_on else ""), slots


def _row_22(w: _Option) -> Answer:
    return "firm", {"says": w.offer.firm.damage}


def _row_23(w: _Option) -> Answer:
    firm = w.offer.firm
    return "firm", {"licences": tuple(Quote(f"{licence.kind} {licence.number}", licence.number.source)
                                      for licence in firm.licences),
                    "insurance": firm.insurance, "subcontractors": firm.subcontractors, "permit": firm.permit}


def _row_24(w: _Option) -> Answer:
    return f"{w.terms.we_earn}" + ("-covers" if w.money.covers_all else ""), {
        "jobs": w.terms.jobs, "all": w.offer.firm.jobs}


def _kit_says(field: str) -> Callable[[_Option], Answer]:
    """A row that the kit answers in its own words."""
    return lambda w: ("kit", {"says": w.terms.row_words[field]})


SECTIONS: tuple[tuple[str, tuple[Callable[[_Option], Answer], ...]], ...] = (
    ("money", (_row_1, _row_2, _row_3, _row_4, _row_5, _row_6, _row_7, _row_8)),
    ("wiring", (_row_9, _row_10, _kit_says("how_shown"), _row_12, _row_13)),
    ("house", (_row_14, _kit_says("walls"), _row_16, _row_17, _kit_says("cleaning"))),
    ("time", (_row_19, _row_20)),
    ("afterwards", (_row_21, _row_22, _row_23, _row_24)),
)

KIT_ROWS = frozenset({2, 4, 5, 8, 11, 13, 14, 15, 16, 18})
"""Rows whose answer hangs on a line of the kit even when no figure of it is printed."""


def rows(offer: Offer) -> tuple[Row, ...]:
    """The 24 rows of an offer."""
    options = [_Option(offer, money, offer.terms[money.key], offer.dates.options[money.key])
               for money in offer.outcome.options]
    found: list[Row] = []
    for section, makers in SECTIONS:
        for make in makers:
            number = len(found) + 1
            cells = []
            for option in options:
                variant, slots = make(option)
                cells.append(Cell(option.money.key, option.money.name, f"{number}.{variant}", slots))
            found.append(Row(
                Figure(f"rows.{number}.number", number, "number", "Place of the row.", _OURS), section, tuple(cells),
                _sources(offer, number, cells), all(cells[0].says_the_same(cell) for cell in cells[1:])))
    return tuple(found)


_OURS = Source("published", "the order of the rows, the same for every option and every house")


def _sources(offer: Offer, number: int, cells: list[Cell]) -> tuple[Source, ...]:
    """Who stands behind a row: one source of each kind, in the order in which they are met."""
    found: dict[str, Source] = {}
    for cell in cells:
        for slot in cell.slots.values():
            for one in slot if isinstance(slot, tuple) else (slot,):
                found.setdefault(one.source.kind, one.source)
    if number in KIT_ROWS:
        found.setdefault("price book", offer.outcome.options[0].each_point.source)
    if number == 13 and offer.dates.deadline is not None:
        found.setdefault("survey", offer.dates.deadline.asks.source)
    if number == 17:
        found.setdefault("rule", offer.lead.built_before.source)
    return tuple(found.values())


def _shown(slots: Mapping[str, Slot]) -> dict[str, object]:
    def show(slot: Figure | Quote) -> object:
        return (slot.value, slot.unit) if isinstance(slot, Figure) else slot.text
    return {key: tuple(show(one) for one in slot) if isinstance(slot, tuple) else show(slot)
            for key, slot in slots.items()}


__all__ = ["ROWS", "SECTIONS", "Cell", "Row", "rows"]
