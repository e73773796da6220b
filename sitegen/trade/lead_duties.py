"""What the federal lead rule asks once it is owed: steps, cloths, pamphlet and records (40 CFR 745.84 to 745.86).

The steps are the same however the work is bought.  Dates are days; nothing here knows what day it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import Literal

from msgspec import Struct

from sitegen.trade.lead_dust import OUTSIDE, LeadHouse, LeadRule, Verdict

# ------------------------------------------------------------------------------------ steps


class Step(Struct, frozen=True):
    """One step: its key and its section."""

    key: str
    section: str


def _steps(*rows: tuple[str, str]) -> tuple[Step, ...]:
    return tuple(Step(key, f"40 CFR {section}") for key, section in rows)


_BEFORE = _steps(("give the pamphlet", "745.84(a)"), ("post the sign", "745.85(a)(1)"))
_WHILE = _steps(("no forbidden practices", "745.85(a)(3)")) + _steps(
    ("people and tools leave clean", "745.85(a)(2)"), ("waste contained each day", "745.85(a)(4)"))
_PICKED_UP = _steps(("chips and debris bagged", "745.85(a)(5)(i)"),
                    ("sheet misted, folded dirty side in and bagged", "745.85(a)(5)(i)"))
_FILED = _steps(("records signed and kept", "745.86(a)"), ("copies given", "745.86(c)"))

INSIDE_STEPS: tuple[Step, ...] = (
    *_BEFORE,
    *_steps(("objects moved out or wrapped", "745.85(a)(2)(i)(A)"), ("ducts covered", "745.85(a)(2)(i)(B)"),
            ("windows closed, doors covered", "745.85(a)(2)(i)(C)"), ("floor sheet taped", "745.85(a)(2)(i)(D)")),
    *_WHILE, *_PICKED_UP,
    *_steps(("walls vacuumed or wiped, high to low", "745.85(a)(5)(ii)"),
            ("other surfaces vacuumed", "745.85(a)(5)(ii)"), ("other surfaces damp wiped", "745.85(a)(5)(ii)"),
            ("floors mopped last", "745.85(a)(5)(ii)"), ("looked over", "745.85(b)(1)"),
            ("window sills verified", "745.85(b)(1)"), ("floors and counters verified", "745.85(b)(1)"),
            ("sign taken down", "745.85(b)(1)")),
    *_FILED)
"""What is done in a room, in order."""

OUTSIDE_STEPS: tuple[Step, ...] = (
    *_BEFORE,
    *_steps(("doors and windows near closed", "745.85(a)(2)(ii)"), ("ground sheet laid", "745.85(a)(2)(ii)"),
            ("screen at a near property line", "745.85(a)(2)(ii)")),
    *_WHILE, *_PICKED_UP,
    *_steps(("looked over", "745.85(b)(2)"), ("sign taken down", "745.85(b)(2)")),
    *_FILED)
"""What is done outside, in order: no wipes there."""


def steps_owed(verdict: Verdict) -> tuple[Step, ...]:
    """The steps owed in this place, in order; none where the full practices are not owed."""
    if not verdict.owed:
        return ()
    return OUTSIDE_STEPS if verdict.place == OUTSIDE else INSIDE_STEPS


# ------------------------------------------------------------------------------------ who checks

Check = Literal["wipe check", "clearance"]

OUTSIDE_THE_RULE = frozenset({"nothing disturbed", "not before 1978", "not target housing", "written report"})
"""Reasons for which no lead paint is disturbed in a place: nobody need check it for lead."""

CLEARED_BY = ("risk assessor", "lead inspector", "sampling technician")
"""Who may examine for clearance, independent of who did the work (24 CFR 35.1340(b) and (f), from memory)."""


def check_of(house: LeadHouse, found: Verdict) -> Check | None:
    """How the cleaning of one place is checked, by the firm's own standard and the law; None where nothing need be.

    In subsidised housing, above its smallest size, an independent clearance examination replaces the certified
    renovator's wipes (24 CFR 35.1340, from memory; HUD answer 2241).  Below that, and in other housing, the renovator
    wipes, and an examination may be bought (40 CFR 745.85(c)).
    """
    if found.reason in OUTSIDE_THE_RULE:
        return None
    return "clearance" if house.subsidised and found.above else "wipe check"


# ------------------------------------------------------------------------------------ cloths


def cloths(rule: LeadRule, area: Fraction) -> int:
    """Wet cloths that verify one floor or counter of `area` [sq ft] when each passes at once (745.85(b)).

    One up to 40 sq ft; a larger one falls into equal sections that are each smaller.  Raises ValueError for an area
    under zero; a floor with no bare area takes none.
    """
    if area < 0:
        raise ValueError(f"no surface has {area} sq ft")
    if area <= rule.cloth_feet:
        return 1 if area else 0
    return int(area // rule.cloth_feet) + 1


class RoomToVerify(Struct, frozen=True):
    """Bare floors and counters in the work area of one room [sq ft each], and its window sills [sills]."""

    floors: tuple[Fraction, ...]
    counters: tuple[Fraction, ...] = ()
    sills: int = 0


def room_cloths(rule: LeadRule, rooms: Sequence[RoomToVerify]) -> int:
    """The least wet cloths that verify all rooms [cloths]: one a sill, and those of each floor and counter."""
    if any(room.sills < 0 for room in rooms):
        raise ValueError("no room has fewer than no sills")
    return sum(room.sills + sum(cloths(rule, area) for area in room.floors + room.counters) for room in rooms)


# ------------------------------------------------------------------------------------ the pamphlet

Whom = Literal["owner", "occupant"]
Proof = Literal["acknowledgement", "certificate of mailing", "self-certification"]
State = Literal["due now", "due before the start", "done", "give again"]

PROOFS: dict[Whom, tuple[Proof, ...]] = {
    "owner": ("acknowledgement", "certificate of mailing"),
    "occupant": ("acknowledgement", "certificate of mailing", "self-certification"),
}
"""What proves the giving, by whom it was given to; only an occupant's can be certified by the firm (745.84(a))."""

class PamphletDays(Struct, frozen=True):
    """The first day on which it may be given, the last on which it may be mailed, the last to hand it over."""

    first: date
    mail_by: date
    hand_by: date


class Receipt(Struct, frozen=True):
    """To whom the pamphlet was given, by what proof, on which day; raises ValueError for a proof not allowed."""

    whom: Whom
    proof: Proof
    day: date

    def __post_init__(self) -> None:
        if self.proof not in PROOFS[self.whom]:
            raise ValueError(f"a {self.proof} is no proof for the {self.whom}")


def recipients(owner_lives_there: bool) -> tuple[Whom, ...]:
    """Who gets the pamphlet: the owner, and an adult occupant where that is somebody else (745.84(a))."""
    return ("owner",) if owner_lives_there else ("owner", "occupant")


def pamphlet_days(rule: LeadRule, start: date) -> PamphletDays:
    """The days for a job that begins on `start`; it is handed over before that day, to be safe."""
    return PamphletDays(start - timedelta(rule.pamphlet_days), start - timedelta(rule.mail_days),
                        start - timedelta(1))


def pamphlet_state(rule: LeadRule, start: date, today: date, receipt: Receipt | None) -> State:
    """Where the giving to one person stands on `today`.

    "due before the start" is too early to give it; "give again" is a receipt that a later start left more than 60 days
    behind.  One that came too late for this start counts as none.  Raises ValueError for a receipt after today.
    """
    if receipt is not None and receipt.day > today:
        raise ValueError(f"a receipt of {receipt.day} cannot be held on {today}")
    days = pamphlet_days(rule, start)
    if receipt is not None and receipt.day < days.first:
        return "give again"
    last = days.mail_by if receipt is not None and receipt.proof == "certificate of mailing" else days.hand_by
    if receipt is not None and receipt.day <= last:
        return "done"
    return "due before the start" if today < days.first else "due now"


# ------------------------------------------------------------------------------------ records

def keep_until(rule: LeadRule, completed: date) -> date:
    """The last day on which the records of a job completed on this day must be held (745.86(a))."""
    year = completed.year + rule.records_years
    try:
        return completed.replace(year=year)
    except ValueError:  # 29 February: a day longer, never shorter
        return date(year, 3, 1)


def copies_by(rule: LeadRule, completed: date, invoiced: date | None) -> date:
    """The last day to give copies: with the final invoice, or 30 days after completion if earlier (745.86(c))."""
    late = completed + timedelta(rule.copies_days)
    return late if invoiced is None else min(late, invoiced)
