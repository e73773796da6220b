"""The service: the calculated load, by which method, line by line, and what new service equipment brings."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote
from sitegen.job.inputs import Inputs
from sitegen.job.model import Job
from sitegen.offer.cited import Cited
from sitegen.offer.design.load_figures import LoadLine, LoadSeen, code_source, conductor_seen, load_seen
from sitegen.offer.design.panels import CircuitSeen, PanelSeen, dwelling_of, panels
from sitegen.rules.read import every_rule
from sitegen.survey.dwellings import SHARED, duties_of, feeds_between, loads_of, parts_of
from sitegen.survey.rule_sets import Code
from sitegen.trade.load_parts import Demand, Dwelling, rating
from sitegen.trade.panel import PanelPlace, panel_place_questions
from sitegen.trade.service_load import existing, measured, neutral, optional, standard
from sitegen.trade.two_family import by_share, together

YEAR = "year"


class Service(Struct, frozen=True):
    """The service today and as planned.

    In a house of one dwelling `present` is by the rule for an existing house, `planned` by the optional and the
    standard method; in one of several all are of the whole service, `present` by the standard method and `planned`
    by it or, where two to five dwellings may be counted by their share, by that if it is less. `by_peak` is from a
    recorded peak if there is one, `neutral` the load of that wire by the standard method. `enough_now` and
    `enough_then` compare amperes with the rating, no more. `panels` has one for each part of the house. `article`
    is that of the load calculation; `replaced` whether new service equipment is planned, and `duties` keys of what
    that brings with it; `short` places of all panels together; `between` names of circuits of today that serve two
    parts; `place` keys of questions about where the panel stands.
    """

    rating_now: Figure
    rating_then: Figure
    present: LoadSeen
    planned: LoadSeen
    standard: LoadSeen
    neutral: LoadSeen
    by_peak: LoadSeen | None
    least: Figure
    conductor: Quote
    enough_now: bool
    enough_then: bool
    panels: tuple[PanelSeen, ...]
    unverified: bool
    households: Figure
    article: str
    replaced: bool
    duties: tuple[str, ...]
    short: int
    between: tuple[Quote, ...]
    place: tuple[str, ...]

    @property
    def circuits(self) -> tuple[CircuitSeen, ...]:
        """The rows of every panel."""
        return tuple(row for panel in self.panels for row in panel.circuits)


def dwelling(job: Job) -> Dwelling:
    """The house as the load calculation reads it, as if it were one dwelling."""
    return Dwelling(job.house.area, tuple(load for load, _, _ in loads_of(job)))


def _demands(job: Job, code: Code) -> tuple[Demand, Demand, Demand, Demand]:
    """The load today, as planned, by the standard method, and on the neutral."""
    house = dwelling(job)
    if job.house.dwellings == 1:
        return (existing(code.load, house, False), optional(code.load, house), standard(code.load, house),
                neutral(code.load, house))
    parts = parts_of(job)
    each = [dwelling_of(part) for part in parts if part.is_dwelling]
    shared = [load for part in parts if part.key == SHARED for load, _ in part.loads]
    whole = together(code.load, each, job.house.area, shared)
    share = by_share(code.load, each, job.house.area, shared)
    small, laundry = code.load.small_appliance_least * len(each), code.load.laundry_least * len(each)
    return (whole, share if share and share.total < whole.total else whole, whole,
            neutral(code.load, Dwelling(house.area, house.loads, small, laundry)))


def service(inputs: Inputs, code: Code) -> Service:
    """The service of a job; raises ValueError for loads that the tables carried here do not hold."""
    job, make = inputs.job, Cited(inputs)
    panel, one = job.panel, job.house.dwellings == 1
    then = panel.new_rating if panel.new_rating is not None else panel.rating
    now_load, then_load, by_rule, on_neutral = _demands(job, code)
    peak = None if job.measured_peak is None else measured(
        code.load, job.measured_peak, (), YEAR, 0, False)
    needs = rating(code.load, then_load.amperes, one)
    where_then = "rating" if panel.new_rating is None else "new rating"
    found = panels(inputs, code)

    def count(name: str, value: int, unit: str, method: str, *path: str) -> Figure:
        return Figure(f"service.{name}", value, unit, method, make.survey(*(path or ("panel",))))
    return Service(
        count("rating-now", panel.rating, "amperes", "As on its label.", "panel", "rating"),
        count("rating-then", then, "amperes", "As it is planned; the same where it stays.", "panel", where_then),
        load_seen(make, code, "present", now_load), load_seen(make, code, "optional", then_load),
        load_seen(make, code, "standard", by_rule), load_seen(make, code, "neutral", on_neutral),
        None if peak is None else load_seen(make, code, "peak", peak),
        Figure("service.least", needs.amperes, "amperes", "The least standard rating for the planned load.",
               code_source("load-conductors" if one else "load-conductors-general", code),
               ("service.optional.amperes",)),
        conductor_seen(code, needs, then, one), now_load.amperes <= panel.rating, then_load.amperes <= then, found,
        _unverified(code), count("households", job.house.dwellings, "number", "Households that it is built for.",
                                 "house", "dwellings"),
        code.load.code, panel.new_rating is not None, duties_of(job, code),
        sum(part.short for part in found), _between(job, make), _place(job, code))


def _between(job: Job, make: Cited) -> tuple[Quote, ...]:
    if job.house.dwellings == 1:
        return ()
    return tuple(Quote(job.feeds[feed].called or feed.replace("-", " ").capitalize(), make.survey("feeds", feed))
                 for feed in feeds_between(job))


def _place(job: Job, code: Code) -> tuple[str, ...]:
    """Keys of the questions about where the panel stands."""
    panel = job.panel
    kind = next((room.kind for room in job.rooms if room.room == panel.where and room.kind), None)
    if panel.where == "outside":
        kind = "outdoors"
    wide, deep, high = (None if side is None else side * 12
                        for side in (panel.clear_width, panel.clear_depth, panel.clear_height))
    return tuple(panel_place_questions(code.panel, PanelPlace(
        width=wide, depth=deep, headroom=high, room_kind=kind,
        feed=None if panel.service == "not seen" else panel.service)))


def _unverified(code: Code) -> bool:
    return any(row.unverified_in(code.edition) for row in every_rule().values() if row.key.startswith("load-"))


__all__ = ["CircuitSeen", "LoadLine", "LoadSeen", "PanelSeen", "Service", "code_source", "dwelling", "service"]
