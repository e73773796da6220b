"""What is worked out wrong: a rule undercut, a start that cannot be, money ahead of work, a finding left open.

Faults of the same kind as those of the fields, at the same lines: they come after these, since they need sound files.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sitegen.dates.payments import problems
from sitegen.dates.schedule import Dates
from sitegen.errors import Fault
from sitegen.job.document import Path_
from sitegen.job.load import Inputs
from sitegen.paying import FINAL, cap_of, payments_of, work_done
from sitegen.rules.read import given
from sitegen.trade.lead_dust import LeadRule
from sitegen.trade.lead_duties import Receipt, pamphlet_state
from sitegen.trade.parts import Bench
from sitegen.trade.survey import kit_of

SAID = {
    "ahead of work done": "more is paid by then than work is done",
    "deposit above the limit": "more is asked before work starts than may be",
    "payments do not sum to the price": "the parts do not come to the price",
    "last payment before the final inspection": "nothing is left for the final inspection",
    "payments out of order": "the payments do not follow the work",
}


def review(bench: Bench, dates: Dates) -> tuple[Fault, ...]:
    """Every fault that only the working out can show."""
    return (*_findings(bench), *_start(bench, dates), *_money(bench), *_lead(bench), *_pamphlet(bench))


def _fault(inputs: Inputs, name: str, path: Path_, problem: str, remedy: str) -> Fault:
    return inputs.documents[name].fault(path, problem, remedy)


def _findings(bench: Bench) -> Iterator[Fault]:
    for i, finding in enumerate(bench.found.findings):
        if set(finding.closed.values()) == {"no"} and finding.left is None:
            yield _fault(bench.inputs, "job", ("findings", i), f"No way answers finding {finding.number.raw()}.",
                         "Put its points on the list or in what a kit does, or add `left:` with the reason.")


def _start(bench: Bench, dates: Dates) -> Iterator[Fault]:
    starts, earliest = dates.work_starts.value, dates.earliest_start.value
    assert isinstance(starts, date)
    assert isinstance(earliest, date)
    if starts < earliest:
        wait = dates.waits_on
        yield _fault(bench.inputs, "job", ("start", "work starts"),
                     f"Work starts on {starts}, but {wait.called or WAITS[wait.key]} is over on {wait.over.raw()}.",
                     f"The first day that can be is {earliest}.")


WAITS = {"cancel": "the right to cancel", "permit": "the wait for the permit", "board": "the wait for the board",
         "utility": "the notice to the utility", "asbestos": "the notice before asbestos work"}


def _money(bench: Bench) -> Iterator[Fault]:
    inputs = bench.inputs
    for price in inputs.job.ways:
        kit = kit_of(inputs, price.way)
        cap = cap_of(inputs, price.price)
        path: Path_ = ("kits", price.kit, "payments")
        if kit.payments.before_work > cap:
            yield _fault(inputs, "book", (*path, "before work"),
                         f"${kit.payments.before_work / 100:,.2f} is asked before work starts; the state's card allows "
                         f"${cap / 100:,.2f}.", "Ask for no more. Without a rule that a lawyer has read it is nothing.")
            continue
        if not kit.payments.after:
            continue
        work = work_done(kit, price.price, bench.dust[price.way])
        for problem in problems(payments_of(kit, price.price), price.price, work, FINAL, cap):
            yield _fault(inputs, "book", path, f"At `{problem.after}` {SAID[problem.key]}.",
                         "No payment runs ahead of the work, and the last comes after the final inspection.")


def _lead(bench: Bench) -> Iterator[Fault]:
    """Where the lead rule is owed, a firm and a renovator that may do the work stand on the company's card."""
    inputs = bench.inputs
    owed = [name for rooms in bench.dust.values() for name, room in rooms.items() if room.verdict.owed]
    if not owed:
        return
    start, company = inputs.job.start.work_starts, inputs.company
    held = [licence for licence in company.licences if "lead" in licence.kind.lower()]
    if not any(licence.expires >= start for licence in held):
        yield _fault(inputs, "company", ("licences",), f"The lead rule is owed in {owed[0]}, and no lead licence "
                     f"of the firm holds on {start}.", "Add the firm's certificate with its expiry; without it "
                     "the work may not be offered (40 CFR 745.81, from memory).")
    if not any("renovator" in person.role.lower() for person in company.people):
        yield _fault(inputs, "company", ("people",), f"The lead rule is owed in {owed[0]}, and nobody is named as "
                     "certified renovator.", "Name who trains the crew and checks the cleaning.")


def _pamphlet(bench: Bench) -> Iterator[Fault]:
    """A pamphlet given too long before the start has to be given again: the start may have slipped."""
    inputs, job = bench.inputs, bench.inputs.job
    rule = given(LeadRule, "lead")
    for whom, key, day in (("owner", "owner got pamphlet", job.lead.owner_got_pamphlet),
                           ("occupant", "tenant got pamphlet", job.lead.tenant_got_pamphlet)):
        if day is None:
            continue
        receipt = Receipt("owner" if whom == "owner" else "occupant", "acknowledgement", day)
        if pamphlet_state(rule, job.start.work_starts, max(job.prepared, day), receipt) == "give again":
            yield _fault(inputs, "job", ("lead", key), f"The {whom} got the pamphlet on {day}, more than "
                         f"{rule.pamphlet_days} days before work starts on {job.start.work_starts}.",
                         "Give it again and write the new day, or leave the line out until then (40 CFR 745.84).")


__all__ = ["review"]
