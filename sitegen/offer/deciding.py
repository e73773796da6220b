"""What decides, in a few words an option: the short table that stands open over the comparison.

Each line leads to the row that says it whole.  The same lines in the same order for every option, as with the rows.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct

from sitegen.figure import Quote, int_of
from sitegen.offer.dates import EMPTY, LIVED_IN
from sitegen.offer.offer import Offer
from sitegen.offer.row_answers import Answer, ForRow, Slot, between, by_method, holes
from sitegen.offer.rows import Cell, Row

RISE = {(False, False, False): "deciding.rise.list", (False, True, False): "deciding.rise.list-cases",
        (False, True, True): "deciding.rise.list-cases-capped", (True, False, False): "deciding.rise.list-capped",
        (True, True, False): "deciding.rise.list-capped-cases",
        (True, True, True): "deciding.rise.list-capped-cases-capped"}
"""By whether what is added has a cap, whether there are cases, and whether they have one."""

HOLES = {(True, "us"): "deciding.holes.every-us", (True, "you"): "deciding.holes.every-you",
         (False, "us"): "deciding.holes.list-us", (False, "you"): "deciding.holes.list-you"}
EARNING = {"least": "deciding.earning.least", "middle": "deciding.earning.middle", "most": "deciding.earning.most"}


class Deciding(Struct, frozen=True):
    """One line of the table: the words of its name, the row that says it whole, and a cell for each option.

    `holds` is EMPTY or LIVED_IN where the line holds for a house that stands empty or is lived in; `notes` are words
    under the line, with what fills them.
    """

    asks: str
    row: Row
    holds: str
    cells: tuple[Cell, ...]
    notes: tuple[tuple[str, Mapping[str, Slot]], ...]

    def alike(self, one: Cell, other: Cell) -> bool:
        """Whether two options say the same here and in the whole row, whose figures may stand in a fold alone."""
        whole = {cell.option: cell for cell in self.row.cells}
        return one.says_the_same(other) and whole[one.option].says_the_same(whole[other.option])


def deciding(offer: Offer, rows: Sequence[Row]) -> tuple[Deciding, ...]:
    """The lines, in their order; `rows` are those of the comparison."""
    options = [ForRow(offer, money, offer.terms[money.key], offer.dates.options[money.key])
               for money in offer.outcome.options]
    whole = {row.key: row for row in rows}
    return tuple(
        Deciding(asks, whole[row], holds,
                 tuple(Cell(one.money.key, one.money.name, *answer(one)) for one in options), _notes(offer, asks))
        for asks, row, holds, answer in LINES)


def _notes(offer: Offer, asks: str) -> tuple[tuple[str, Mapping[str, Slot]], ...]:
    """Which surprises raise which price, and what comes on top of a list, under the line of what can raise a price."""
    if asks != "deciding.rise":
        return ()
    options, found = offer.outcome.options, list[tuple[str, Mapping[str, Slot]]]()
    payers: dict[tuple[str, ...], list[Quote]] = {}
    for case in offer.outcome.cases:
        names = tuple(one.name for one in options if any(case.key == paid.key for paid in one.cases))
        payers.setdefault(names, []).append(case.called)
    everybody = tuple(one.name for one in options)
    if everybody in payers:
        found.append(("deciding.rise.cases", {"cases": tuple(payers.pop(everybody))}))
    for names, cases in payers.items():
        if names:
            found.append(("deciding.rise.cases-also" if found else "deciding.rise.cases-some", {
                "list": Quote(" or ".join(names), cases[0].source), "cases": tuple(cases)}))
    tracing = offer.outcome.tracing
    if tracing is not None and not tracing.credited:
        found.append(("rows.rise.tracing", {"price": tracing.price}))
    return tuple(found)


def _price(w: ForRow) -> Answer:
    if w.money.with_known is None:
        return "deciding.price.alone", {"price": w.money.price}
    return "deciding.price.with-known", {"price": w.money.price, "with_known": w.money.with_known}


def _rise(w: ForRow) -> Answer:
    cases = bool(w.money.cases)
    if w.money.covers_all:
        if not cases:
            return "deciding.rise.your-changes", {}
        if w.money.case_cap is None:
            return "deciding.rise.every", {}
        return "deciding.rise.every-capped", {"cap": w.money.case_cap}
    slots: dict[str, Slot] = {"point": w.money.each_point, "feed": w.money.each_feed, "drop": w.money.each_blocked}
    if w.money.added_cap is not None:
        slots["added"] = w.money.added_cap
    if cases and w.money.case_cap is not None:
        slots["cap"] = w.money.case_cap
    return RISE["added" in slots, cases, "cap" in slots], slots


def _most(w: ForRow) -> Answer:
    """From the least, which has all that is known already, to the most."""
    slots: dict[str, Slot] = {"price": w.money.least_paid or w.money.price}
    if w.money.most_paid is None:
        return "deciding.most.no-cap", slots
    slots["most"] = w.money.most_paid
    if w.money.covers_all:
        return "deciding.most.capped", slots
    slots["points"] = w.offer.outcome.hidden.most
    return ("deciding.most.list" if w.money.cases else "deciding.most.list-alone"), slots


def _ending(w: ForRow) -> Answer:
    return "deciding.ending.range", {"low": w.money.p10, "high": w.money.p90}


def _live(w: ForRow) -> Answer:
    hidden = w.offer.outcome.hidden
    if w.money.covers_all or not int_of(hidden.most):
        return "deciding.live.none", {}
    slots: dict[str, Slot] = {"middle": hidden.p50, "low": hidden.p10, "high": hidden.p90}
    if int_of(hidden.known):
        return "deciding.live.list-known", {**slots, "known": hidden.known}
    return "deciding.live.list", slots


def _holes(w: ForRow) -> Answer:
    return holes(w, HOLES)


def _floors(w: ForRow) -> Answer:
    return "deciding.floors.kit", {"says": w.terms.row_words["floors"], "cleaning": w.terms.row_words["cleaning"]}


def _dates(holds: str) -> Callable[[ForRow], Answer]:
    def answer(w: ForRow) -> Answer:
        by = by_method(w.dates, holds)
        return "deciding.dates", {"dead": by.dead, "finished": by.finished}
    return answer


def _promise(w: ForRow) -> Answer:
    slots: dict[str, Slot] = {"years": w.terms.years_on_work}
    if int_of(w.terms.years_on_old_wire):
        return "deciding.promise.work-and-wire", {**slots, "old": w.terms.years_on_old_wire}
    return "deciding.promise.work", slots


def _earning(w: ForRow) -> Answer:
    return EARNING[w.terms.we_earn], between(w)


LINES: tuple[tuple[str, str, str, Callable[[ForRow], Answer]], ...] = (
    ("deciding.price", "price", "", _price),
    ("deciding.rise", "rise", "", _rise),
    ("deciding.most", "most", "", _most),
    ("deciding.ending", "ending", "", _ending),
    ("deciding.live", "live", "", _live),
    ("deciding.holes", "holes", "", _holes),
    ("deciding.floors", "floors", "", _floors),
    ("deciding.empty", "dates", EMPTY, _dates(EMPTY)),
    ("deciding.lived-in", "dates", LIVED_IN, _dates(LIVED_IN)),
    ("deciding.promise", "promise", "", _promise),
    ("deciding.earning", "earning", "", _earning))
"""Each line: the words of its name, the key of its row, when it holds, and who answers it."""

__all__ = ["LINES", "Deciding", "deciding"]
