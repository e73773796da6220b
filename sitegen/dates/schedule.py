"""When the old wires are dead, when all is finished, and what added points do to both.

The counts of days stand in the kits until a schedule is worked out from hours and drying times.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from sitegen.dates.working_days import nth_working_day
from sitegen.figure import Figure, Said, int_of
from sitegen.job.load import Inputs
from sitegen.job.sources import Sources
from sitegen.rules.read import rule
from sitegen.trade.parts import Hidden
from sitegen.trade.survey import kit_of


@dataclass(frozen=True, slots=True)
class WayDates:
    """Dates of one way.  `more_days` [working days] is what the middle count of added points adds; None if none."""

    dead: Figure
    finished: Figure
    ready_for_paint: Figure | None
    more_days: Figure | None
    power_off: Figure


@dataclass(frozen=True, slots=True)
class Deadline:
    """Who set a date, in their words.  `met` by the way that covers everything, signed in time."""

    who: str
    asks: Said
    by: Figure
    letter: Figure | None
    met: bool


@dataclass(frozen=True, slots=True)
class Dates:
    """Every date of the offer."""

    prepared: Figure
    prices_hold_to: Figure
    surveyed: Figure
    sign_by: Figure
    work_starts: Figure
    waits_on: Said
    cancel_days: Figure
    deadline: Deadline | None
    ways: dict[str, WayDates]


def dates(inputs: Inputs, hidden: Hidden) -> Dates:
    """The dates of a job."""
    make, job = Sources(inputs), inputs.job

    def day(name: str, value: date, method: str, *path: str) -> Figure:
        return Figure(f"dates.{name}", value, _unit(value, job.prepared), method, make.survey(*path))

    ways = {price.way: _way(inputs, make, price.way, price.kit, hidden) for price in job.ways}
    return Dates(
        prepared=Figure("dates.prepared", job.prepared, "date", "Date of this version.", make.survey("prepared")),
        prices_hold_to=day("prices-hold-to", job.prices_hold_to, "Last day of these prices.", "prices hold to"),
        surveyed=day("surveyed", job.surveyed, "Day of the survey.", "surveyed"),
        sign_by=day("sign-by", job.start.sign_by, "Last day on which signing still meets the start.", "start",
                    "sign by"),
        work_starts=day("work-starts", job.start.work_starts, "First working day in the house.", "start",
                        "work starts"),
        waits_on=Said(job.start.waits_on, make.survey("start", "waits on")), cancel_days=_cancel_days(inputs, make),
        deadline=_deadline(inputs, make, ways), ways=ways)


def _way(inputs: Inputs, make: Sources, key: str, name: str, hidden: Hidden) -> WayDates:
    kit, start, closed = kit_of(inputs, key), inputs.job.start.work_starts, inputs.company.closed
    source = make.book("kits", name, "days to finish")

    def figure(word: str, value: date, method: str, *names: str) -> Figure:
        return Figure(f"ways.{key}.dates.{word}", value, _unit(value, inputs.job.prepared), method, source, names)

    last = nth_working_day(start, max(1, kit.days_to_finish), closed)
    finished = figure("finished", last, "The kit's working days to the finish, from the start.", "dates.work-starts")
    dead = figure("dead", nth_working_day(start, max(1, kit.days_to_old_wires_dead), closed),
                  "The kit's working days until the wires that this way replaces are dead.", "dates.work-starts")
    ready = more = None
    if kit.days_to_ready_for_paint:
        ready = figure("ready-for-paint", last + timedelta(days=kit.days_to_ready_for_paint),
                       "The finish, and the kit's days for new plaster to dry.", finished.name)
    if kit.points_a_day:
        more = Figure(f"ways.{key}.dates.more-days", -(-int_of(hidden.p50) // kit.points_a_day), "working days",
                      "The middle count of added points at the kit's points a day, rounded up.",
                      make.book("kits", name, "points a day"), (hidden.p50.name,))
    return WayDates(dead, finished, ready, more,
                    Figure(f"ways.{key}.power-off", kit.power_off_days, "days", "Days with power off for hours.",
                           make.book("kits", name, "power off days")))


def _unit(value: date, prepared: date) -> str:
    """With its year when that is not the year of the proposal."""
    return "date, this year" if value.year == prepared.year else "date"


def _cancel_days(inputs: Inputs, make: Sources) -> Figure:
    """The longer of the federal and the state count."""
    federal = rule("cancel-business-days")
    if inputs.state.cancel_within > int_of(federal):
        return Figure("cancel.business-days", inputs.state.cancel_within, "business days",
                      "The state gives longer than the federal rule.",
                      make.town("state"), (federal.name,))
    return federal.named("cancel.business-days")


def _deadline(inputs: Inputs, make: Sources, ways: dict[str, WayDates]) -> Deadline | None:
    why = inputs.job.why_now
    if why.who == "nobody" or why.asks is None or why.by is None:
        return None
    dead = ways.get("fixed-guarantee")
    return Deadline(
        why.who, Said(why.asks, make.survey("why now", "asks")),
        Figure("deadline.by", why.by, _unit(why.by, inputs.job.prepared), f"Date set by the {why.who}.",
               make.survey("why now", "by")),
        None if why.letter_dated is None else Figure(
            "deadline.letter", why.letter_dated, _unit(why.letter_dated, inputs.job.prepared),
            "Date of their letter.", make.survey("why now", "letter dated")),
        met=dead is not None and dead.dead.value <= why.by)  # type: ignore[operator]
