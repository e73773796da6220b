"""What each option answers in each row: the key of the words, and the figures that go into them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct

from sitegen.figure import Figure, Quote, fraction_of, int_of
from sitegen.offer.dates import EMPTY, LIVED_IN, MethodDates, OptionDates
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer, OptionTerms
from sitegen.offer.protection import OptionCare, RoomCare

Slot = Figure | Quote | tuple[Quote, ...] | tuple[Figure, ...]
Answer = tuple[str, dict[str, Slot]]

RISE = {(False, False, False): "rows.rise.list-open", (False, True, False): "rows.rise.list-open-cases",
        (False, True, True): "rows.rise.list-open-cases-capped", (True, False, False): "rows.rise.list-capped",
        (True, True, False): "rows.rise.list-capped-cases", (True, True, True): "rows.rise.list-capped-cases-capped"}
"""By whether what is added has a cap, whether there are cases, and whether they have one."""

FINDINGS = {(True, False): "rows.findings.some-part", (False, True): "rows.findings.some-open",
            (True, True): "rows.findings.some-part-open"}
"""By whether some are answered in part, and some not."""

HOLES = {(True, "us"): "rows.holes.every-us", (True, "you"): "rows.holes.every-you",
         (False, "us"): "rows.holes.list-us", (False, "you"): "rows.holes.list-you"}
"""By whether a price covers all, and who closes the holes."""

LEAD = {("none", False): "rows.lead.none", ("none", True): "rows.lead.none-freed",
        ("some", False): "rows.lead.some", ("some", True): "rows.lead.some-freed",
        ("every", False): "rows.lead.every", ("every", True): "rows.lead.every-freed"}
DATES = {(True, None): "rows.dates.every", (True, EMPTY): "rows.dates.every-paint",
         (True, LIVED_IN): "rows.dates.every-paint-lived",
         (False, None): "rows.dates.list", (False, EMPTY): "rows.dates.list-paint",
         (False, LIVED_IN): "rows.dates.list-paint-lived"}
"""By whether the price covers every point, and by the method of the day for paint, None where there is no plaster."""

SURE = {(EMPTY, True): "rows.sure.more-cases", (EMPTY, False): "rows.sure.more",
        (LIVED_IN, True): "rows.sure.more-cases-lived", (LIVED_IN, False): "rows.sure.more-lived",
        (None, True): "rows.sure.cases", (None, False): "rows.sure.nothing"}
"""By the method of the dates that what is hidden moves, None where it moves none, and whether cases can."""

PROMISE = {(False, False): "rows.promise.work", (False, True): "rows.promise.work-passes",
           (True, False): "rows.promise.work-and-wire", (True, True): "rows.promise.work-and-wire-passes"}
EARNING = {("least", False): "rows.earning.least", ("middle", False): "rows.earning.middle",
           ("most", False): "rows.earning.most", ("least", True): "rows.earning.least-covers",
           ("middle", True): "rows.earning.middle-covers", ("most", True): "rows.earning.most-covers"}
EARNING_UNCOUNTED = {
    ("least", False): "rows.earning.least-uncounted", ("least", True): "rows.earning.least-uncounted-covers",
    ("middle", False): "rows.earning.middle-uncounted", ("middle", True): "rows.earning.middle-uncounted-covers",
    ("most", False): "rows.earning.most-uncounted", ("most", True): "rows.earning.most-uncounted-covers"}
"""What we earn, where too few jobs are finished to say how many homeowners chose it."""


class ForRow(Struct, frozen=True):
    """Everything that a row may read of one option."""

    offer: Offer
    money: OptionMoney
    terms: OptionTerms
    dates: OptionDates


def _price(w: ForRow) -> Answer:
    found, known = w.offer.found, w.offer.outcome.hidden.known
    slots: dict[str, Slot] = {"price": w.money.price, "places": w.money.places_held}
    more = w.money.with_known
    if w.money.covers_all:
        slots["rewired"] = found.rewired
        return ("rows.price.every-point", slots) if more is None else (
            "rows.price.every-more", {**slots, "with_known": more})
    slots["listed"] = found.listed
    if more is not None:
        slots["with_known"] = more
        plain = not int_of(known) or w.money.places_held.value != found.new_places.value
        return ("rows.price.list-more", slots) if plain else (
            "rows.price.list-known", {**slots, "known": known})
    return "rows.price.the-list", slots


def _rise(w: ForRow) -> Answer:
    cases: tuple[Quote, ...] = tuple(case.called for case in w.money.cases)
    if w.money.covers_all:
        if not cases:
            return "rows.rise.your-changes", {}
        if w.money.case_cap is None:
            return "rows.rise.cases-no-cap", {"cases": cases}
        return "rows.rise.cases-capped", {"cap": w.money.case_cap, "cases": cases}
    slots: dict[str, Slot] = {"point": w.money.each_point, "feed": w.money.each_feed, "drop": w.money.each_blocked}
    if cases:
        slots["cases"] = cases
    if w.money.added_cap is not None:
        slots["added"] = w.money.added_cap
    if cases and w.money.case_cap is not None:
        slots["cap"] = w.money.case_cap
    return RISE[w.money.added_cap is not None, bool(cases), "cap" in slots], slots


def _least(w: ForRow) -> Answer:
    """The least that the firm is paid: the price, with what is known already."""
    slots: dict[str, Slot] = {"price": w.money.price}
    if w.money.least_paid is None:
        return ("rows.least.every-point" if w.money.covers_all else "rows.least.list"), slots
    return ("rows.least.every-known" if w.money.covers_all else "rows.least.list-known"), {
        **slots, "least": w.money.least_paid}


def _most(w: ForRow) -> Answer:
    if w.money.most_paid is None:
        return "rows.most.price-no-cap", {"price": w.money.price}
    if w.money.covers_all:
        return "rows.most.capped", {"most": w.money.most_paid}
    capped = w.money.added_cap is not None and (not w.money.cases or w.money.case_cap is not None)
    return ("rows.most.list-capped" if capped else "rows.most.list"), {
        "most": w.money.most_paid, "points": w.offer.outcome.hidden.most}


def _later(w: ForRow) -> Answer:
    later: tuple[Quote, ...] = tuple(item.called for item in w.money.later)
    if not later:
        return "rows.later.paint", {}
    return ("rows.later.later" if w.money.covers_all else "rows.later.later-and-points"), {"later": later}


def _ending(w: ForRow) -> Answer:
    return "rows.ending.range", {"low": w.money.p10, "middle": w.money.p50, "high": w.money.p90}


def _payments(w: ForRow) -> Answer:
    nothing = int_of(w.terms.before_work) == 0
    slots: dict[str, Slot] = {"held": w.terms.held}
    if not nothing:
        slots["before"] = w.terms.before_work
    return ("rows.payments.nothing-before" if nothing else "rows.payments.deposit"), slots


def _stopping(w: ForRow) -> Answer:
    return "rows.stopping.stop", {"days": w.offer.dates.cancel_days, "then": w.terms.if_stopped}


def _besides(w: ForRow) -> Answer:
    """How many items of the scope table are in the price, at a set price, and not in it."""
    cells = [next(cell for cell in row.cells if cell.option == w.money.key) for row in w.offer.scope.rows]

    def count(state: str) -> Figure:
        return Figure(f"options.{w.money.key}.scope.{state}", sum(cell.state == state for cell in cells), "number",
                      "Lines of the scope table.", w.money.price.source)
    return "rows.besides.counts", {"within": count("in"), "each": count("each"), "out": count("out")}


def _live(w: ForRow) -> Answer:
    hidden, says = w.offer.outcome.hidden, {"says": w.terms.row_words["how_shown"]}
    if not w.money.covers_all:
        if not int_of(hidden.most):
            return "rows.live.list-none", {**says}
        return ("rows.live.list-known" if int_of(hidden.known) else "rows.live.list"), {
            **says, "middle": hidden.p50, "low": hidden.p10, "high": hidden.p90,
            **({"known": hidden.known} if int_of(hidden.known) else {})}
    if int_of(w.terms.years_on_old_wire) == 0:
        return "rows.live.no-promise", {**says}
    return "rows.live.promise", {**says, "years": w.terms.years_on_old_wire}


def _findings(w: ForRow) -> Answer:
    by: dict[str, tuple[Figure, ...]] = {
        answer: tuple(finding.number for finding in w.offer.found.findings
                      if finding.closed[w.money.key] == answer) for answer in ("yes", "in part", "no")}
    total = w.offer.found.findings_count
    slots: dict[str, Slot] = {"count": w.offer.found.closed[w.money.key], "total": total}
    if not by["in part"] and not by["no"]:
        return "rows.findings.all", {"total": total}
    if by["in part"]:
        slots["part"] = by["in part"]
    if by["no"]:
        slots["open"] = by["no"]
    return FINDINGS[bool(by["in part"]), bool(by["no"])], slots


def by_method(dates: OptionDates, method: str) -> OptionDates | MethodDates:
    """The dates of an option by one method; the method that this house takes has the names of its plan."""
    return dates if dates.chosen.key == method else dates.other


def _dead(w: ForRow) -> dict[str, Slot]:
    return {"dead": by_method(w.dates, EMPTY).dead, "dead_lived": by_method(w.dates, LIVED_IN).dead}


def _letter(w: ForRow) -> Answer:
    return ("rows.letter.dead-letter" if w.money.covers_all else "rows.letter.start-letter"), _dead(w)


def holes(w: ForRow, said: Mapping[tuple[bool, str], str]) -> Answer:
    """Who closes the holes, by what `said` has for it (see `HOLES`), with their number and what closing them costs."""
    who = "us" if w.terms.closes_holes == "us" else "you"
    slots: dict[str, Slot] = {"holes": w.money.holes}
    if who == "you":
        close = _care(w).to_close
        assert close is not None, "holes that we leave open have a price"
        slots["close"] = close
    return said[w.money.covers_all, who], slots


def _holes(w: ForRow) -> Answer:
    return holes(w, HOLES)


def _floors(w: ForRow) -> Answer:
    slots: dict[str, Slot] = {"says": w.terms.row_words["floors"], "laid": _care(w).laid}
    if not _care(w).bare.value:
        return "rows.floors.kit-none-bare", slots
    return "rows.floors.kit", {**slots, "bare": _care(w).bare}


def _lead(w: ForRow) -> Answer:
    """In which rooms the lead rule asks for its steps, and why not in the others that are cut.

    `most` is the widest cut among those that the limit alone keeps out: a room that owes its steps, or that a paper
    frees, says nothing about the limit.
    """
    if not w.offer.lead.covered:
        return "rows.lead.not-covered", {"lead_year": w.offer.lead.built_before, "built": w.offer.head.built}
    if not w.offer.lead.assumed:
        return "rows.lead.tested", {}
    care = _care(w)
    under = [room for room in care.rooms.values() if room.reason == "under the limit"]
    freed = _names(w, lambda room: room.reason == "written report")
    slots: dict[str, Slot] = {"freed": freed} if freed else {}
    if not under and not int_of(care.owed):
        return ("rows.lead.freed" if freed else "rows.lead.nothing"), {**slots, "laid": care.laid}
    slots["safe"] = care.safe
    if int_of(care.owed):
        slots["where"] = _names(w, lambda room: room.owed)
    if under:
        widest = max(under, key=lambda room: fraction_of(room.area))
        slots |= {"opened": care.opened, "most": widest.area_feet, "limit": widest.limit_feet}
        if int_of(care.owed):
            slots["owed"] = care.owed
    return LEAD["every" if not under else "some" if int_of(care.owed) else "none", bool(freed)], slots


def _dates(w: ForRow) -> Answer:
    """Both dates by both methods, and the day for paint by the method that this house takes."""
    slots = {**_dead(w), "finished": by_method(w.dates, EMPTY).finished,
             "finished_lived": by_method(w.dates, LIVED_IN).finished}
    if w.dates.ready_for_paint is not None:
        slots["paint"] = w.dates.ready_for_paint
    return DATES[w.money.covers_all, w.dates.chosen.key if "paint" in slots else None], slots


def _sure(w: ForRow) -> Answer:
    """What moves the dates: what is hidden where a list is sold, and the cases."""
    slots: dict[str, Slot] = {}
    if not w.money.covers_all and w.dates.finished_p90.value != w.dates.finished.value:
        slots = {"middle": w.dates.finished_p50, "late": w.dates.finished_p90}
    cases = w.offer.outcome.cases
    if cases:
        slots["days"] = max((case.days for case in cases), key=int_of)
    return SURE[w.dates.chosen.key if "late" in slots else None, bool(cases)], slots


def _living(w: ForRow) -> Answer:
    return "rows.living.kit", {"says": w.terms.row_words["living"], "days": by_method(w.dates, EMPTY).power_off,
                               "other": by_method(w.dates, LIVED_IN).power_off}


def _care(w: ForRow) -> OptionCare:
    return w.offer.protection.options[w.money.key]


def _names(w: ForRow, of: Callable[[RoomCare], bool]) -> tuple[Quote, ...]:
    """The rooms of this way of which something holds, by name, in the order of the survey."""
    rooms = _care(w).rooms
    return tuple(room.name for room in w.offer.rooms if room.key in rooms and of(rooms[room.key]))


def _promise(w: ForRow) -> Answer:
    slots: dict[str, Slot] = {"years": w.terms.years_on_work, "closing": w.terms.if_we_close}
    if int_of(w.terms.years_on_old_wire):
        slots["old"] = w.terms.years_on_old_wire
    return PROMISE["old" in slots, w.terms.passes_on], slots


def _damage(w: ForRow) -> Answer:
    return "rows.damage.firm", {"says": w.offer.firm.damage}


def _firm(w: ForRow) -> Answer:
    firm = w.offer.firm
    return "rows.firm.firm", {"licences": tuple(Quote(f"{licence.kind} {licence.number}", licence.number.source)
                                      for licence in firm.licences),
                    "insurance": firm.insurance, "subcontractors": firm.subcontractors, "permit": firm.permit}


def _earning(w: ForRow) -> Answer:
    finished, slots = w.offer.finished, between(w)
    if finished is None:
        return EARNING_UNCOUNTED[w.terms.we_earn, w.money.covers_all], slots
    return EARNING[w.terms.we_earn, w.money.covers_all], {
        **slots, "jobs": finished.sold_as[w.money.key], "all": finished.jobs}


def between(w: ForRow) -> dict[str, Slot]:
    """The options on which the firm earns most and least, where it is neither on this one."""
    if w.terms.we_earn != "middle":
        return {}
    names = {w.offer.terms[one.key].we_earn: Quote(one.name, w.offer.firm.damage.source)
             for one in w.offer.outcome.options}
    return {"more": names["most"], "less": names["least"]}


def _kit_says(key: str, field: str) -> Callable[[ForRow], Answer]:
    """A row that the kit answers in its own words."""
    return lambda w: (key, {"says": w.terms.row_words[field]})


ANSWERS: Mapping[str, Callable[[ForRow], Answer]] = {
    "price": _price, "rise": _rise, "least": _least, "most": _most, "later": _later, "ending": _ending,
    "payments": _payments, "stopping": _stopping,
    "besides": _besides, "live": _live, "findings": _findings, "letter": _letter,
    "holes": _holes, "walls": _kit_says("rows.walls.kit", "walls"), "floors": _floors, "lead": _lead,
    "cleaning": _kit_says("rows.cleaning.kit", "cleaning"),
    "dates": _dates, "sure": _sure, "living": _living,
    "promise": _promise, "damage": _damage, "firm": _firm, "earning": _earning}
"""Who answers each row, by its key."""

__all__ = ["ANSWERS", "Answer", "ForRow", "Slot", "between", "by_method"]
