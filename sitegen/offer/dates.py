"""The dates of an offer: the start and what it waits for, a dated plan for each option, and what turns up beside it."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from sitegen.dates.cancellation import CancelOverlay, LastDay, first_day_of_work, last_day_to_cancel, refund_by
from sitegen.dates.plan import plan
from sitegen.dates.plan_terms import Extra, Kind, People, Plan
from sitegen.dates.waits import WORKING, Wait, longest_wait, wait_over
from sitegen.dates.working_days import working_days, works_on
from sitegen.figure import Figure, Quote, day_of, int_of
from sitegen.job.books import Kit
from sitegen.offer.context import Context
from sitegen.offer.dark import Dark, SheetLies, dark_of, sheet_of
from sitegen.offer.rules import rule
from sitegen.survey import tasks
from sitegen.survey.house import belief_of, kit_of
from sitegen.survey.rule_sets import RuleSet
from sitegen.units import date_unit

EMPTY, LIVED_IN = "empty", "lived-in"
MOST = 0.9
"""The share of houses by which the later of two dates is kept."""

CANCEL, PERMIT, BOARD, UTILITY, ASBESTOS = "cancel", "permit", "board", "utility", "asbestos"


class StepSeen(Struct, frozen=True):
    """One step of a plan as it is shown: what, when, who, in which rooms, and hours without power on each day.

    `many` when it runs over more than one day; `rooms` is empty for the whole house.
    """

    kind: str
    who: str
    first: Figure
    last: Figure
    many: bool
    rooms: tuple[Quote, ...]
    power_off: Figure | None


class MethodDates(Struct, frozen=True):
    """One option done by one method: its two dates, days in the house, days without power, the most hours of one such
    day (None where no day has any), its steps, and what they mean in the rooms, None where they mean nothing.

    `dead_p50` to `finished_p90` are the two dates when the middle, and the most in 1 house of 10, turns up: of old
    points with their blocked drops, or of blocked drops alone where the price covers every point.
    `in_hand` or `late` [working days] lie between old wires dead and the date that was set, if one was.
    """

    key: str
    dead: Figure
    finished: Figure
    crew_days: Figure
    power_off: Figure
    longest_off: Figure | None
    steps: tuple[StepSeen, ...]
    ready_for_paint: Figure | None
    finished_p50: Figure
    finished_p90: Figure
    dead_p50: Figure
    dead_p90: Figure
    in_hand: Figure | None
    late: Figure | None
    dark: Dark | None
    sheet: SheetLies | None


class OptionDates(Struct, frozen=True):
    """Dates of one option, by the method that this house takes; `other` is the same option by the other method."""

    dead: Figure
    finished: Figure
    ready_for_paint: Figure | None
    power_off: Figure
    finished_p50: Figure
    finished_p90: Figure
    dead_p50: Figure
    dead_p90: Figure
    chosen: MethodDates
    other: MethodDates

    @property
    def both(self) -> tuple[MethodDates, MethodDates]:
        """The empty house, then the same with people in it: a page says both, so that it tells nobody which it is."""
        return (self.chosen, self.other) if self.chosen.key == EMPTY else (self.other, self.chosen)


class Deadline(Struct, frozen=True):
    """Who set a deadline, in their words: a date, or `before` in its place, with which no day can be compared.

    `met` whether the option that covers everything, signed in time, is done by the date; False where there is none.
    `in_hand` and `late` [working days], by option: from its old wires dead to the date, or from the date to them.
    """

    who: str
    asks: Quote
    by: Figure | None
    before: Quote | None
    letter: Figure | None
    met: bool
    in_hand: dict[str, Figure]
    late: dict[str, Figure]


class WaitSeen(Struct, frozen=True):
    """One wait before the start: its key, or its name as the job says it, and the day on which it is over."""

    key: str
    called: Quote | None
    over: Figure
    longest: bool


class Dates(Struct, frozen=True):
    """Every date of the offer.  `choose_by` is the last day for each extra, by its key."""

    prepared: Figure
    prices_hold_to: Figure
    surveyed: Figure
    sign_by: Figure
    work_starts: Figure
    earliest_start: Figure
    waits: tuple[WaitSeen, ...]
    cancel_days: Figure
    cancel_until: Figure
    refund_by: Figure
    deadline: Deadline | None
    lived_in: bool
    options: dict[str, OptionDates]
    choose_by: dict[str, Figure]

    @property
    def waits_on(self) -> WaitSeen:
        """The wait that ends last, marked `longest`: work can begin on the first working day after it."""
        return next(wait for wait in self.waits if wait.longest)

    @property
    def method(self) -> str:
        """LIVED_IN or EMPTY: which of the two methods the job is planned by."""
        return LIVED_IN if self.lived_in else EMPTY


class _Desk(Struct, frozen=True):
    """What the makers below share."""

    context: Context
    rules: RuleSet
    people: People
    cancel: LastDay

    def figure(self, name: str, value: date, method: str, source_of: tuple[str, ...] = (), *,
               inputs: tuple[str, ...] = ()) -> Figure:
        """A date, with its year when that is not the year of the proposal."""
        return Figure(name, value, date_unit(value, self.context.inputs.job.prepared.year), method,
                      self.context.make.survey(*source_of) if source_of else self.context.make.book("kits"), inputs)


def dates(context: Context, rules: RuleSet, overlay: CancelOverlay) -> Dates:
    """The dates of a job under the rules of its town, and what its state adds to the right to cancel."""
    inputs, job = context.inputs, context.inputs.job
    start, sign = job.start.work_starts, job.start.sign_by
    cancel = last_day_to_cancel(sign, sign, rules.cancel, rules.holidays, overlay)
    desk = _Desk(context, rules, tasks.people(inputs, rules, start), cancel)
    plans = {(price.option, lived): _plan(desk, kit_of(inputs, price.option), price.option, lived, None)
             for price in job.options for lived in (False, True)}
    options = {price.option: _option(desk, price.option, plans) for price in job.options}
    waits, earliest = _waits(desk)
    return Dates(
        replace(desk.figure("dates.prepared", job.prepared, "Date of this version.", ("prepared",)), unit="date"),
        replace(desk.figure("dates.prices-hold-to", job.prices_hold_to, "Last day of these prices.",
                            ("prices hold to",)), unit="date"),     # with their years: a sheet may lie for long
        desk.figure("dates.surveyed", job.surveyed, "Day of the survey.", ("surveyed",)),
        desk.figure("dates.sign-by", sign, "Last day on which signing still meets the start.", ("start", "sign by")),
        desk.figure("dates.work-starts", start, "First working day in the house.", ("start", "work starts")),
        earliest, waits, _cancel_days(context, cancel.days),
        desk.figure("dates.cancel-until", cancel.day, "Signed on the last day for signing, this is the last day to "
                    "cancel, until its midnight.", ("start", "sign by"), inputs=("cancel.business-days",)),
        _refund_by(desk),
        _deadline(desk, options), job.lived_in, options, _choose_by(desk, list(plans.values())))


def _plan(desk: _Desk, kit: Kit, option: str, lived_in: bool, extra: Extra | None) -> Plan:
    """The plan of one option; `extra` is what turns up, and nothing but usual blocked drops where it is None."""
    context, inputs, rules = desk.context, desk.context.inputs, desk.rules
    work = tasks.work(inputs, kit, context.dust[option], rules, lived_in)
    if extra is None:
        extra = tasks.blocked_extra(inputs, tasks.as_met(inputs, kit, context.house), context.kind)
    return plan(inputs.job.start.work_starts, work, desk.people, tasks.waits_of(inputs, kit, rules),
                tasks.method(inputs, kit, lived_in), extra)


def _option(desk: _Desk, key: str, plans: dict[tuple[str, bool], Plan]) -> OptionDates:
    context, lived = desk.context, desk.context.inputs.job.lived_in
    kit, base = kit_of(context.inputs, key), plans[key, lived]
    lates = _lates(desk, key, kit, plans)
    name = f"options.{key}.dates"

    def figure(word: str, value: date, method: str) -> Figure:
        return desk.figure(f"{name}.{word}", value, method, inputs=("dates.work-starts",))

    dead = figure("dead", base.dead, "Hours of each room, the panel and the old wires, at the crew's day, from the "
                  "start: the day on which the wires that this option replaces are tested dead.")
    finished = figure("finished", base.finished, "The same with inspections, plaster, devices and cleaning.")
    chosen, other = (_method(desk, key, plans[key, one], lates[one], one) for one in (lived, not lived))
    return OptionDates(dead, finished, _paint(desk, name, base), _power_off(desk, f"{name}.power-off", base),
                       *_marks(desk, name, lates[lived]), chosen, other)


def _paint(desk: _Desk, name: str, found: Plan) -> Figure | None:
    """The day from which new plaster can be painted; None where the option brings none."""
    return None if found.paint is None else desk.figure(
        f"{name}.ready-for-paint", found.paint, "Calendar days that the last coat of plaster dries before paint.",
        inputs=("dates.work-starts",))


def _marks(desk: _Desk, name: str, late: tuple[Plan, Plan]) -> tuple[Figure, Figure, Figure, Figure]:
    """Finished, then dead, each when the middle and when the most in 1 house of 10 turns up."""
    def figure(word: str, value: date, what: str) -> Figure:
        return desk.figure(f"{name}.{word}", value, f"The same when {what} of what is hidden turns up.",
                           inputs=("dates.work-starts",))
    middle, most = "the middle", "the most in 1 house of 10"
    return (figure("finished-p50", late[0].finished, middle), figure("finished-p90", late[1].finished, most),
            figure("dead-p50", late[0].dead, middle), figure("dead-p90", late[1].dead, most))


def _lates(desk: _Desk, key: str, kit: Kit, plans: dict[tuple[str, bool], Plan]) -> dict[bool, tuple[Plan, Plan]]:
    """By whether people live there: the plan when the middle of what is hidden turns up, and when the most in 1 house
    of 10 does."""
    context, inputs, house = desk.context, desk.context.inputs, desk.context.house
    if kit.covers == "every point":         # it does each point already, but not each drop can be fished as planned
        blocked = tasks.blocked_most(inputs, tasks.as_met(inputs, kit, house), belief_of(inputs.company), MOST)
        most = {lived: _plan(desk, kit, key, lived, blocked) for lived in (False, True)}
        return {lived: (plans[key, lived], one if one.finished >= plans[key, lived].finished else plans[key, lived])
                for lived, one in most.items()}
    coats = tasks.coats_of(kit, desk.rules) if kit.closes_holes == "us" else 0
    extras = [tasks.turned_up(inputs, kit, house, context.kind, pair, coats)
              for pair in tasks.pairs_at(inputs, kit, house, context.kind, context.hidden, (0.5, MOST))]
    return {lived: (_plan(desk, kit, key, lived, extras[0]), _plan(desk, kit, key, lived, extras[1]))
            for lived in (False, True)}


def _method(desk: _Desk, option: str, found: Plan, late: tuple[Plan, Plan], lived_in: bool) -> MethodDates:
    key = LIVED_IN if lived_in else EMPTY
    name, context = f"options.{option}.{key}", desk.context

    def figure(word: str, value: date) -> Figure:
        return desk.figure(f"{name}.{word}", value, "The dated plan of this option, by this method.",
                           inputs=("dates.work-starts",))
    steps = tuple(StepSeen(
        step.kind.value, step.who.value, figure(f"step-{i + 1}.first", step.first),
        figure(f"step-{i + 1}.last", step.last), step.last > step.first,
        tuple(Quote(room, context.make.survey("rooms")) for room in step.rooms),
        Figure(f"{name}.step-{i + 1}.power-off", step.power_off, "hours", "Hours without power on each of its days.",
               context.make.book("power off")) if step.power_off else None)
        for i, step in enumerate(found.steps))
    dead = figure("dead", found.dead)
    return MethodDates(key, dead, figure("finished", found.finished),
                       Figure(f"{name}.crew-days", found.crew_days, "days", "Days with the crew in the house.",
                              context.make.book("kits"), (f"{name}.finished",)),
                       _power_off(desk, f"{name}.power-off", found), _longest_off(desk, f"{name}.longest-off", found),
                       steps, _paint(desk, name, found), *_marks(desk, name, late), *_float(desk, name, dead),
                       dark_of(context, name, kit_of(context.inputs, option), found, lived_in),
                       sheet_of(context, name, found))


def _power_off(desk: _Desk, name: str, found: Plan) -> Figure:
    return Figure(name, len(found.power_off), "days", "Days of the plan on which power is off for hours.",
                  desk.context.make.book("power off"))


def _longest_off(desk: _Desk, name: str, found: Plan) -> Figure | None:
    return Figure(name, max(found.power_off.values()), "hours",
                  "The most hours without power on one day, steps that share it added up.",
                  desk.context.make.book("power off")) if found.power_off else None


def _cancel_days(context: Context, days: int) -> Figure:
    """The longer of the federal and the state count."""
    federal = rule("cancel-business-days")
    if days > int_of(federal):
        return Figure("cancel.business-days", days, "business days", "The state gives longer than the federal rule.",
                      context.make.town("state"), (federal.name,))
    return federal.named("cancel.business-days")


def _refund_by(desk: _Desk) -> Figure:
    """The last day for giving back what was paid, if the notice comes on the last day to cancel."""
    day = refund_by(desk.cancel.day, desk.rules.cancel, desk.rules.holidays)
    return Figure("dates.refund-by", day, date_unit(day, desk.context.inputs.job.prepared.year),
                  "Cancelled on the last day to cancel, all that was paid is given back by this day.",
                  rule("cancel-refund-business-days").source, ("dates.cancel-until",))


def _waits(desk: _Desk) -> tuple[tuple[WaitSeen, ...], Figure]:
    """Every wait that there is, and the earliest start; all but the right to cancel begin when that is over."""
    inputs, job, town = desk.context.inputs, desk.context.inputs.job, desk.context.inputs.town
    waits = [Wait(CANCEL, until=desk.cancel.day), Wait(PERMIT, town.permit_days, WORKING),
             Wait(BOARD, town.board_days, WORKING)]
    if job.panel.new_rating is not None:
        waits.append(Wait(UTILITY, town.utility_notice, WORKING))
    if any(job.stop_work.get(key) == "yes" for case in inputs.book.cases if case.notice == ASBESTOS
           for key in case.asked_in):
        waits.append(Wait(ASBESTOS, town.asbestos_notice, WORKING))
    waits += [Wait(called, days, WORKING) for called, days in job.start.waits.items()]
    waits = [wait for wait in waits if wait.days or wait.until]
    closed = desk.people.closed
    found = longest_wait(waits, desk.cancel.day, closed)
    seen = tuple(WaitSeen(
        wait.key if wait.key not in job.start.waits else "other",
        Quote(wait.key, desk.context.make.survey("start", "waits")) if wait.key in job.start.waits else None,
        desk.figure(f"dates.waits.{i + 1}", wait_over(wait, desk.cancel.day, closed),
                    "Working days from the last day to cancel.", ("start",), inputs=("dates.cancel-until",)),
        wait.key == found.key) for i, wait in enumerate(waits))
    earliest = max(found.start, first_day_of_work(desk.cancel.day))
    return seen, desk.figure("dates.earliest-start", earliest, "The first working day after the longest wait.",
                             ("start",), inputs=tuple(wait.over.name for wait in seen))


def _choose_by(desk: _Desk, plans: list[Plan]) -> dict[str, Figure]:
    """The last day to choose each extra: the working day before the step that it comes before, in the soonest option.

    A step that no option takes, such as closing holes, stands for the next one that some option does.
    """
    found, closed = {}, desk.people.closed
    for i, extra in enumerate(desk.context.inputs.book.extras):
        day = _soonest(plans, extra.before) - timedelta(1)
        while not works_on(day, closed):
            day -= timedelta(1)
        found[extra.key] = Figure(f"extras.{extra.key}.choose-by", day,
                                  date_unit(day, desk.context.inputs.job.prepared.year),
                                  "The working day before the step that it comes before, in the soonest option, in "
                                  "an empty house or a lived-in one.",
                                  desk.context.make.book("extras", i), ("dates.work-starts",))
    return found


BEFORE = {"panel": (Kind.PANEL,), "rough": (Kind.ROUGH,),
          "close": (Kind.CLOSE, Kind.SCRATCH, Kind.BASE, Kind.BROWN, Kind.FINISH, Kind.DEVICES),
          "devices": (Kind.DEVICES,), "clean last": (Kind.CLEAN_LAST,)}
"""The steps of a plan that an extra can be chosen before, in the order of the work; every plan ends with the last."""


def _soonest(plans: list[Plan], before: str) -> date:
    """The first day of any of these steps in any plan, else of the next ones in order that some plan takes."""
    names = list(BEFORE)
    return next(min(days) for name in names[names.index(before):]
                if (days := [step.first for one in plans for step in one.steps if step.kind in BEFORE[name]]))


def _deadline(desk: _Desk, options: dict[str, OptionDates]) -> Deadline | None:
    why, make = desk.context.inputs.job.why_now, desk.context.make
    if why.who == "nobody" or why.asks is None:
        return None
    covering = next((options[option.key] for option in desk.context.house.options if option.covers_all), None)
    letter = None if why.letter_dated is None else desk.figure(
        "deadline.letter", why.letter_dated, "Date of their letter.", ("why now", "letter dated"))
    by = _by(desk)
    against = {key: _float(desk, f"options.{key}.dates", option.dead) for key, option in options.items()}
    return Deadline(why.who, Quote(why.asks, make.survey("why now", "asks")), by,
                    None if why.before is None else make.quote("survey", "why now", "before"), letter,
                    by is not None and covering is not None and day_of(covering.dead) <= day_of(by),
                    {key: in_hand for key, (in_hand, _) in against.items() if in_hand},
                    {key: late for key, (_, late) in against.items() if late})


def _by(desk: _Desk) -> Figure | None:
    """The date that was set, if one was."""
    why = desk.context.inputs.job.why_now
    return None if why.by is None or why.who == "nobody" or why.asks is None else desk.figure(
        "deadline.by", why.by, f"Date set by the {why.who}.", ("why now", "by"))


def _float(desk: _Desk, name: str, dead: Figure) -> tuple[Figure | None, Figure | None]:
    """Working days in hand where old wires are dead in time, and those that they are late; one of both, or neither
    where no date was set."""
    by = _by(desk)
    if by is None:
        return None, None
    on_time = day_of(dead) <= day_of(by)
    since, until = sorted((day_of(dead), day_of(by)))
    count = working_days(since + timedelta(1), until + timedelta(1), desk.people.closed)
    found = Figure(f"{name}.{'in-hand' if on_time else 'late'}", count, "working days", "Working days of the firm "
                   "between the day on which the old wires of this option are dead and the date that was set.",
                   by.source, (dead.name, by.name))
    return (found, None) if on_time else (None, found)


__all__ = ["Dates", "Deadline", "MethodDates", "OptionDates", "StepSeen", "WaitSeen", "dates"]
