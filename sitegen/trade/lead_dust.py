"""The federal lead rule for renovation: whether its practices are owed, where, and why (40 CFR 745.80 to 745.83).

Painted area counts in square inches, exact: a piece taken off counts whole whatever the kerf, holes are summed.
Where the rule leaves a doubt, the answer here is the one that owes more.  States may be stricter.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import Literal

from msgspec import Struct

SQUARE_INCHES = 144
"""Square inches in a square foot."""

OUTSIDE = "outside"
"""The place of all work outside: one total, not one a side (40 CFR 745.83)."""

Reason = Literal["nothing disturbed", "not before 1978", "not target housing", "written report", "demolition",
                 "chiselled edges", "prohibited practice", "window replacement", "area", "subsidised limit",
                 "share of a small component", "under the limit"]


class LeadRule(Struct, frozen=True):
    """The numbers of the rule: rows of `rules/lead.yaml` and `rules/general.yaml`, `lead-` and the field's name.

    Parameters
    ----------
    built_before : int
        Housing built before this year is under the rule [year], 745.82; 15 USC 2681(17).
    room_feet, outside_feet : int
        Painted area that is still minor in a room, and outside [sq ft], 745.83.
    subsidised_room_feet, subsidised_outside_feet : int
        The same with federal help [sq ft], 24 CFR 35.1350(d), from memory.
    subsidised_component_share : Fraction
        Share of 1 of a small kind of component that may be disturbed with federal help, 24 CFR 35.1350(d).
    same_job_days : int
        Work in one room within so many days is one job [days], 745.83.
    pamphlet_days, mail_days : int
        The pamphlet at most so long, by mail at least so long before the work begins [days], 745.84(a).
    sheet_feet : int
        Taped sheet reaches so far beyond the work [ft], 745.85(a)(2)(i)(D).
    cloth_feet : int
        One wet cloth wipes up to this [sq ft], 745.85(b), from memory.
    records_years : int
        Records are kept so long after completion [years], 745.86(a).
    copies_days : int
        Copies go to the owner so long after completion at the latest [days], 745.86(c), from memory.

    References
    ----------
    40 CFR part 745 subpart E; 24 CFR part 35.
    """

    built_before: int
    room_feet: int
    outside_feet: int
    subsidised_room_feet: int
    subsidised_outside_feet: int
    subsidised_component_share: Fraction
    same_job_days: int
    pamphlet_days: int
    mail_days: int
    sheet_feet: int
    cloth_feet: int
    records_years: int
    copies_days: int


class LeadHouse(Struct, frozen=True):
    """What of a house the rule turns on.

    Parameters
    ----------
    built : int or None
        Year, or None where no record shows it: then it counts as built before 1978.
    subsidised : bool
        Federal help for the housing, which brings the smaller limits of 24 CFR 35.1350(d).
    elderly_or_one_room : bool
        Housing for the elderly or disabled, or without a bedroom.
    child_under_six : bool
        One lives there or is expected; True where nobody asked.
    """

    built: int | None
    subsidised: bool = False
    elderly_or_one_room: bool = False
    child_under_six: bool = True


class Surface(Struct, frozen=True):
    """Painted surface of one component that work disturbs.

    Parameters
    ----------
    component : str
        What it is, as a report would name it: "wall", "ceiling", "baseboard".
    area : Fraction
        Disturbed [sq in]; a piece removed counts whole.
    destroyed : bool
        Removed or disturbed so that the piece is ruined: demolition, whatever the size.
    chiselled : bool
        Of a destroyed one: no piece is broken, but the edges round it are chiselled back.  Counted as demolition by an
        inference from EPA answer 23002-18515; a reason of its own, so that a page can say so.
    whole : Fraction or None
        Of a small kind of component: its total surface [sq in], for the limit by share.

    Raises
    ------
    ValueError
        For an area below 0 or above the whole, and for nothing destroyed.
    """

    component: str
    area: Fraction
    destroyed: bool = False
    whole: Fraction | None = None
    chiselled: bool = False

    def __post_init__(self) -> None:
        """Raises ValueError for an area under zero or more than the whole, and for nothing destroyed."""
        if self.area < 0 or (self.destroyed and not self.area) or (self.whole is not None and self.area > self.whole):
            raise ValueError(f"{self.component}: {self.area} sq in of {self.whole}")


class PaintWork(Struct, frozen=True):
    """Work of one job in one place: a room by its name, or `OUTSIDE`.

    `prohibited`  uses a practice of 745.85(a)(3): open flame, machines that strip paint at high speed without HEPA
                  exhaust, heat guns above 1100 F; a saw is none of them
    `windows`     replaces a window
    """

    place: str
    surfaces: tuple[Surface, ...]
    prohibited: bool = False
    windows: bool = False


class FreeDocument(Struct, frozen=True):
    """A paper that says that components of one place hold no lead-based paint (745.82(a)).

    `kind`        a key of `DOCUMENTS`, which says who must have made it
    `by`          who made it
    `components`  those found below the limit, each by name
    `held`        the firm holds the paper
    """

    kind: str
    by: str
    place: str
    components: frozenset[str]
    held: bool = True


DOCUMENTS: dict[str, tuple[str, ...]] = {
    "written report": ("inspector", "risk assessor"),
    "test kit": ("certified renovator",),
    "paint chips": ("certified renovator",),
}
"""Who may make each paper: a report in writing; each component tested with a recognised kit, its instructions
followed; chips of each component found below the limit by an accredited laboratory (745.82(a)(1) to (3))."""


class Verdict(Struct, frozen=True):
    """Whether the full practices are owed in one place, and why.

    `area`      painted area disturbed, as the rule counts [sq in]
    `limit`     what is still minor here [sq in]
    `not_freed` components that no valid paper covers, in the order of the work
    `above`     more is disturbed than the limit, or than the share of a small kind of component, whatever the reason
    """

    place: str
    owed: bool
    reason: Reason
    area: Fraction
    limit: int
    not_freed: tuple[str, ...]
    above: bool = False


def limit_of(rule: LeadRule, house: LeadHouse, place: str) -> int:
    """The painted area that is still minor in this place.

    Parameters
    ----------
    rule, house : LeadRule, LeadHouse
        Numbers of the rule; whether the house has federal help.
    place : str
        A room by its name, or OUTSIDE.

    Returns
    -------
    int
        Limit [sq in]; this much is itself still minor.

    References
    ----------
    40 CFR 745.83; 24 CFR 35.1350(d), from memory.
    """
    inside, outside = rule.room_feet, rule.outside_feet
    if house.subsidised:
        inside, outside = min(inside, rule.subsidised_room_feet), min(outside, rule.subsidised_outside_feet)
    return SQUARE_INCHES * (outside if place == OUTSIDE else inside)


def frees(paper: FreeDocument, place: str, component: str) -> bool:
    """Whether this paper takes this component of this place out of the rule.

    Parameters
    ----------
    paper : FreeDocument
        It counts when the firm holds it and one of DOCUMENTS made it.
    place, component : str
        By the names that the paper uses.

    Returns
    -------
    bool
        True when the component is freed.

    Raises
    ------
    ValueError
        For a kind of paper that the rule does not know.

    References
    ----------
    40 CFR 745.82(a)(1) to (3).
    """
    if paper.kind not in DOCUMENTS:
        raise ValueError(f"no paper of the rule is a {paper.kind}")
    return paper.held and paper.by in DOCUMENTS[paper.kind] and paper.place == place and component in paper.components


def not_freed(work: PaintWork, papers: Sequence[FreeDocument]) -> tuple[str, ...]:
    """Components that the work disturbs and that no paper covers.

    Parameters
    ----------
    work : PaintWork
        Work in one place [sq in].
    papers : sequence of FreeDocument
        Papers on any places.

    Returns
    -------
    tuple of str
        Each component once, in the order of the work.

    Raises
    ------
    ValueError
        From `frees`, for a kind of paper that the rule does not know.

    References
    ----------
    40 CFR 745.82(a).
    """
    touched = dict.fromkeys(surface.component for surface in work.surfaces if surface.area)
    return tuple(name for name in touched if not any(frees(paper, work.place, name) for paper in papers))


def verdict(rule: LeadRule, house: LeadHouse, work: PaintWork, papers: Sequence[FreeDocument] = ()) -> Verdict:
    """Whether the full practices are owed for this work in its place, and the reason.

    Parameters
    ----------
    rule, house : LeadRule, LeadHouse
        Numbers of the rule; what of the house it turns on.
    work : PaintWork
        All work of one job in one place [sq in].
    papers : sequence of FreeDocument
        Papers that free components.

    Returns
    -------
    Verdict
        Owed or not, the reason, area and limit [sq in], components not freed.

    Raises
    ------
    ValueError
        From `frees`, for a kind of paper that the rule does not know.

    Notes
    -----
    The limit is itself still minor.  Papers free a job only when they cover every component that it disturbs there;
    else all of its painted area counts.  Zero area owes nothing, with windows too: nothing painted is disturbed.
    A year that nobody knows counts as before 1978.  States may be stricter.

    References
    ----------
    40 CFR 745.82, 745.83, 745.85(a)(3); 24 CFR 35.1350(d), its areas from memory.
    """
    area = sum((surface.area for surface in work.surfaces), Fraction(0))
    limit, left = limit_of(rule, house, work.place), not_freed(work, papers)
    free = _outside_the_rule(rule, house, work, left)
    owed = None if free else _owed(rule, house, work, area)
    above = area > limit or (house.subsidised and _small_component(rule, work))
    return Verdict(work.place, owed is not None, free or owed or "under the limit", area, limit, left, above)


def _outside_the_rule(rule: LeadRule, house: LeadHouse, work: PaintWork, left: tuple[str, ...]) -> Reason | None:
    if not any(surface.area for surface in work.surfaces):
        return "nothing disturbed"
    if house.built is not None and house.built >= rule.built_before:
        return "not before 1978"
    if house.elderly_or_one_room and not house.child_under_six:
        return "not target housing"
    return None if left else "written report"


def _owed(rule: LeadRule, house: LeadHouse, work: PaintWork, area: Fraction) -> Reason | None:
    if any(surface.destroyed and not surface.chiselled for surface in work.surfaces):
        return "demolition"
    if any(surface.destroyed for surface in work.surfaces):
        return "chiselled edges"
    if work.prohibited:
        return "prohibited practice"
    if work.windows:
        return "window replacement"
    if area > limit_of(rule, LeadHouse(house.built), work.place):
        return "area"
    if area > limit_of(rule, house, work.place):
        return "subsidised limit"
    if house.subsidised and _small_component(rule, work):
        return "share of a small component"
    return None


def _small_component(rule: LeadRule, work: PaintWork) -> bool:
    """Whether more than the share of some small kind of component is disturbed, its pieces taken together."""
    done: dict[str, Fraction] = {}
    whole: dict[str, Fraction] = {}
    for surface in work.surfaces:
        if surface.whole is not None:
            done[surface.component] = done.get(surface.component, Fraction(0)) + surface.area
            whole[surface.component] = min(whole.get(surface.component, surface.whole), surface.whole)
    return any(done[name] > rule.subsidised_component_share * whole[name] for name in done)


def one_job_through(rule: LeadRule, last: date) -> date:
    """The last day on which more work in a room counts with work there that ended on `last` as one job.

    Parameters
    ----------
    rule : LeadRule
        Numbers of the rule; of them `same_job_days` [days].
    last : date
        Last day of the work before.

    Returns
    -------
    date
        `last` and so many days.

    Notes
    -----
    An emergency is not joined with other work.  A chain of such works is one job: the text leaves it open, and this
    owes more.

    References
    ----------
    40 CFR 745.83.
    """
    return last + timedelta(rule.same_job_days)
