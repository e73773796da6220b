"""What is worked out wrong: a rule undercut, a start that cannot be, money ahead of work, a finding left open.

Faults of the same kind as those of the fields, at the same lines: they come after these, since they need sound files.
What is wrong is read off the Offer; the files say where it stands.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.errors import Fault
from sitegen.figure import day_of, int_of
from sitegen.job.document import Path_
from sitegen.job.inputs import Inputs
from sitegen.offer.claims import holds
from sitegen.offer.context import Context
from sitegen.offer.design.service import service
from sitegen.offer.offer import Offer
from sitegen.review.lapses import lapses, lead_owed
from sitegen.review.versions import versions
from sitegen.rules.read import given
from sitegen.survey.house import kit_of
from sitegen.survey.lines import by_itself, lines
from sitegen.survey.rule_sets import code
from sitegen.trade.lead_dust import LeadRule
from sitegen.trade.lead_duties import Receipt, pamphlet_state

OWN_PAYMENTS = " Where the kit does not fit this house alone, give the option `payments:` of its own in job.yaml."

SAID = {
    "ahead of work done": "more is paid by then than work is done",
    "deposit above the limit": "more is asked before work starts than may be",
    "payments do not sum to the price": "the parts do not come to the price",
    "last payment before the final inspection": "nothing is left for the end of all work",
    "payments out of order": "the payments do not follow the work",
}


def faults(offer: Offer, inputs: Inputs) -> tuple[Fault, ...]:
    """Every fault that only the working out can show."""
    return (*_findings(offer, inputs), *_start(offer, inputs), *_money(offer, inputs), *_lead(offer, inputs),
            *_pamphlet(inputs), *_not_seen(offer, inputs), *_list(inputs), *_prices(offer, inputs),
            *_claims(offer, inputs), *lapses(offer, inputs), *versions(offer, inputs))


def idle(context: Context) -> tuple[Fault, ...]:
    """Every option that does no point in any room: it has no plan, no hole and no letter to work out."""
    job = context.inputs.job
    return tuple(_fault(context.inputs, "job", ("options", i, "option"),
                        f"`{price.option}` covers {kit_of(context.inputs, price.option).covers}, and that is nothing "
                        "in this house.", "Count points under `listed` or new places under `want`, so that each option "
                        "has something to do.")
                 for i, price in enumerate(job.options) if not context.dust[price.option])


def unworkable(inputs: Inputs) -> tuple[Fault, ...]:
    """Loads that the tables carried here do not hold: no service and no schedule can be worked out of them."""
    try:
        service(inputs, code(inputs.town.code))
    except ValueError as error:
        return (_fault(inputs, "job", ("loads",), f"{str(error).removesuffix('.')}.", "No service is drawn from a "
                       "guess. Count the loads again, put one that has a feeder of its own on another job, or have "
                       "the person in charge work it out by hand."),)
    return ()


def _fault(inputs: Inputs, name: str, path: Path_, problem: str, remedy: str) -> Fault:
    return inputs.documents[name].fault(path, problem, remedy)


def _findings(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    for i, finding in enumerate(offer.found.findings):
        if set(finding.closed.values()) == {"no"} and finding.left is None:
            yield _fault(inputs, "job", ("findings", i), f"No option answers finding {finding.number.raw()}.",
                         "Put its points on the list or in what a kit does, or add `left:` with the reason.")


def _start(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    starts, earliest = day_of(offer.dates.work_starts), day_of(offer.dates.earliest_start)
    if starts < earliest:
        wait = offer.dates.waits_on
        yield _fault(inputs, "job", ("start", "work starts"),
                     f"Work starts on {starts}, but {wait.called or WAITS[wait.key]} is over on {wait.over.raw()}.",
                     f"The first day that can be is {earliest}.")


WAITS = {"cancel": "the right to cancel", "permit": "the wait for the permit", "board": "the wait for the board",
         "utility": "the notice to the utility", "asbestos": "the notice before asbestos work"}


def _not_seen(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """A line that is called told or assumed, of which no figure would say so."""
    marked = {path for figure in offer.figures() if figure.source.not_seen for path in figure.source.not_seen.paths}
    for key, named in (("told", inputs.job.told), ("assumed", inputs.job.assumed)):
        for i, path in enumerate(named):
            if path not in marked:
                yield _fault(inputs, "job", (key, i), f"No figure of a sheet comes from `{path}` by itself.",
                             "Name the line of one by its dotted path, such as house.built or rooms.3.now, counting "
                             "from one; or leave it out.")


def _money(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    for price in inputs.job.options:
        paying, file = offer.paying[price.option], "book" if price.payments is None else "job"
        path: tuple[str | int, ...] = ("kits", price.kit, "payments") if price.payments is None else (
            "options", inputs.job.options.index(price), "payments")
        if paying.before_work > paying.cap:
            yield _fault(inputs, file, (*path, "before work"),
                         f"${paying.before_work / 100:,.2f} is asked before work starts; the state's card allows "
                         f"${paying.cap / 100:,.2f}.", "Ask for no more. Without a rule that a lawyer has read it is "
                         "nothing.")
        for problem in paying.problems:
            yield _fault(inputs, file, path, f"At `{problem.after}` {SAID[problem.key]}.",
                         "No payment runs ahead of the work, as the cost book has it, and the last comes when all is "
                         "finished." + OWN_PAYMENTS * (price.payments is None))


def _lead(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """Where the lead rule is owed, a firm that may do the work stands on the company's card; and wherever old paint is
    cut a renovator, who checks the cleaning by the firm's own standard too."""
    names = {room.key: room.name for room in offer.rooms}
    start, company = inputs.job.start.work_starts, inputs.company
    owed, safe = lead_owed(offer), [key for care in offer.protection.options.values()
                                    for key, room in care.rooms.items() if room.lead_safe]
    held = [licence for licence in company.licences if licence.kind == "lead firm"]
    if owed and not any(licence.expires >= start for licence in held):
        yield _fault(inputs, "company", ("licences",), f"The lead rule is owed in {names[owed[0]]}, and no lead "
                     f"licence of the firm holds on {start}.", "Add the firm's certificate with its expiry; without it "
                     "the work may not be offered (40 CFR 745.81, from memory).")
    if safe and not any(person.role == "certified renovator" for person in company.people):
        yield _fault(inputs, "company", ("people",), f"Old paint is cut in {names[safe[0]]}, and nobody is named as "
                     "certified renovator.", "Name who trains the crew and checks the cleaning.")


def _pamphlet(inputs: Inputs) -> Iterator[Fault]:
    """A pamphlet given too long before the start has to be given again: the start may have slipped."""
    job, rule = inputs.job, given(LeadRule, "lead")
    for whom, key, day in (("owner", "owner got pamphlet", job.lead.owner_got_pamphlet),
                           ("occupant", "tenant got pamphlet", job.lead.tenant_got_pamphlet)):
        if day is None:
            continue
        receipt = Receipt("owner" if whom == "owner" else "occupant", "acknowledgement", day)
        if pamphlet_state(rule, job.start.work_starts, max(job.prepared, day), receipt) == "give again":
            yield _fault(inputs, "job", ("lead", key), f"The {whom} got the pamphlet on {day}, more than "
                         f"{rule.pamphlet_days} days before work starts on {job.start.work_starts}.",
                         "Give it again and write the new day, or leave the line out until then (40 CFR 745.84).")


def _list(inputs: Inputs) -> Iterator[Fault]:
    """A point that the list would hold by itself is left out with a reason, and no reason stands for nothing."""
    reasons = {(one.room, one.kind): i for i, one in enumerate(inputs.job.left_out)}
    places = {room.room: i for i, room in reversed(list(enumerate(inputs.job.rooms)))}
    short = {(line.room, line.kind): line for line in lines(inputs.job) if line.short}
    for (room, kind), line in short.items():
        if (room, kind) not in reasons:
            yield _fault(inputs, "job", ("rooms", places[room], "listed", kind),
                         f"{line.listed} of `{kind}` are listed in {room}; {by_itself(line)} are known to be old or "
                         "named by a finding.", "List them, or say why not under `left out`: it is printed.")
    for key, i in reasons.items():
        if key not in short:
            yield _fault(inputs, "job", ("left out", i), f"Nothing of `{key[1]}` in {key[0]} is left out of the list.",
                         "Take this entry out, or list fewer under `listed`.")


def _prices(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """No option is priced under what it costs in the middle house, unless the job says why."""
    for i, row in enumerate(inputs.job.options):
        costs = offer.costs[row.option]
        if int_of(costs.margin[1]) < 0 and row.because is None:
            yield _fault(inputs, "job", ("options", i), f"`{row.option}` is priced "
                         f"${-int_of(costs.margin[1]) / 100:,.2f} under what it costs us in the middle house.",
                         "Mend the set prices of its kit, or write a price of your own with `because`.")


def _claims(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """A sentence of the firm's own stands where its claim holds for this house."""
    for row in inputs.job.options:
        for i, own in enumerate(inputs.book.kits[row.kit].says):
            if not holds(offer, row.option, own.claim):
                yield _fault(inputs, "book", ("kits", row.kit, "says", i),
                             f"`{own.claim}` is not true of `{row.option}` in this house.",
                             "Take the sentence out, or keep it in a kit for houses where it is true.")


__all__ = ["faults", "idle"]
