"""What runs out before the work is done, or is shut on the day that it starts, as the dated plan shows it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sitegen.dates.holidays_us import office_closed
from sitegen.errors import Fault
from sitegen.figure import day_of
from sitegen.job.document import Path_
from sitegen.job.inputs import Inputs
from sitegen.offer.offer import Offer
from sitegen.survey.rule_sets import rule_set

LEAD, SALES = "lead firm", "salesperson"


def lapses(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """Licences and insurance that end too soon, and a start on a day on which the inspection office is closed."""
    yield from _licences(offer, inputs)
    yield from _insurance(offer, inputs)
    yield from _office(inputs)


def end_of_work(offer: Offer) -> date:
    """The last planned day of the option that is finished last."""
    return max(day_of(option.finished) for option in offer.dates.options.values())


def lead_owed(offer: Offer) -> list[str]:
    """The rooms in which some option owes the lead rule, by key."""
    return [key for care in offer.protection.options.values() for key, room in care.rooms.items() if room.owed]


def _licences(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """One licence of each kind that the card names must hold: a seller's to the last day for signing, others to the
    end of the work.  A lead certificate counts where the rule is owed; none at the start is a fault of its own."""
    end, start, held = end_of_work(offer), inputs.job.start, inputs.company.licences
    for kind in dict.fromkeys(one.kind for one in held):
        until, what = (start.sign_by, "the last day for signing") if kind == SALES else (end, "the planned end")
        at, last = max(((i, one) for i, one in enumerate(held) if one.kind == kind), key=lambda pair: pair[1].expires)
        if kind == LEAD and (not lead_owed(offer) or last.expires < start.work_starts):
            continue
        if last.expires < until and last.renewal is None:
            yield _short(inputs, ("licences", at, "expires"), f"The {kind} licence {last.number}", last.expires, until,
                         what)


def _insurance(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    end, held = end_of_work(offer), inputs.company.insurance
    for kind in dict.fromkeys(one.kind for one in held):
        at, last = max(((i, one) for i, one in enumerate(held) if one.kind == kind), key=lambda pair: pair[1].until)
        if last.until < end and last.renewal is None:
            yield _short(inputs, ("insurance", at, "until"), f"The {kind} insurance", last.until, end,
                         "the planned end")


def _short(inputs: Inputs, path: Path_, what: str, ends: date, until: date, called: str) -> Fault:
    return inputs.documents["company"].fault(
        path, f"{what} ends on {ends}; {called} of {inputs.job.job} is {until}.",
        "Write the new day once it is renewed, or say under `renewal:` what is arranged for the time after.")


def _office(inputs: Inputs) -> Iterator[Fault]:
    """A start on a public holiday: nobody takes a call about the permit, and the utility sends nobody."""
    job, day = inputs.job, inputs.job.start.work_starts
    shut = day in office_closed(rule_set(inputs.town.code).holidays, day.year, day.year)
    if shut and job.start.although_closed is None:
        yield inputs.documents["job"].fault(
            ("start", "work starts"), f"Work starts on {day}, a public holiday on which the inspection office is "
            "closed.", "Move it by a day, or say under `although closed:` why it can start all the same.")
    if not shut and job.start.although_closed is not None:
        yield inputs.documents["job"].fault(
            ("start", "although closed"), f"A reason stands here, but {day} is no public holiday.",
            "Leave the line out, so that it hides nothing when the start moves.")


__all__ = ["end_of_work", "lapses", "lead_owed"]
