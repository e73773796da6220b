"""What is worked out wrong: a rule undercut, a start that cannot be, money ahead of work, a finding left open.

Faults of the same kind as those of the fields, at the same lines: they come after these, since they need sound files.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from sitegen.dates.overlay import Review
from sitegen.dates.payments import (
    GREATER,
    LESSER,
    PLUS,
    SHARE,
    DepositOverlay,
    Milestone,
    Payment,
    deposit_cap,
    problems,
)
from sitegen.dates.schedule import Dates
from sitegen.errors import Fault
from sitegen.job.books import Kit
from sitegen.job.document import Path_
from sitegen.job.load import Inputs
from sitegen.trade.dust import RoomDust
from sitegen.trade.parts import Bench
from sitegen.trade.survey import kit_of

START, DEAD, CLOSED, FINAL = "start", "old wires dead", "holes closed", "final inspection"
SAID = {
    "ahead of work done": "more is paid by then than work is done",
    "deposit above the limit": "more is asked before work starts than may be",
    "payments do not sum to the price": "the parts do not come to the price",
    "last payment before the final inspection": "nothing is left for the final inspection",
    "payments out of order": "the payments do not follow the work",
}


def review(bench: Bench, dates: Dates) -> tuple[Fault, ...]:
    """Every fault that only the working out can show."""
    return (*_findings(bench), *_start(bench, dates), *_money(bench, dates), *_lead(bench))


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


def overlay(inputs: Inputs) -> DepositOverlay | None:
    """What the state allows before work starts; None where its card says nothing."""
    state = inputs.state
    if state.deposit is None:
        return None
    rule = state.deposit
    form = LESSER if rule.most is not None and rule.whichever == "lesser" else \
        GREATER if rule.whichever == "greater" else PLUS if rule.special_order else SHARE
    return DepositOverlay(state.name, form, rule.part if rule.part is not None else Fraction(1), rule.most,
                          Review(state.reviewed_by or "", state.reviewed_on))


def work_done(kit: Kit, price: int, rooms: dict[str, RoomDust]) -> tuple[Milestone, ...]:
    """The value of work done at each step [cents]: nothing at the start, all but what is held at the last but one.

    Wiring is most of the work: where we also close holes it is taken for three quarters, common practice, no source.
    """
    held = int(price * kit.payments.held_to_the_end)
    closes = kit.closes_holes == "us"
    dead = (price - held) * 3 // 4 if closes and rooms else price - held
    steps = [Milestone(START, 0), Milestone(DEAD, dead)]
    if closes:
        steps.append(Milestone(CLOSED, price - held))
    return (*steps, Milestone(FINAL, price))


def payments_of(kit: Kit, price: int) -> tuple[Payment, ...]:
    """The payments of a kit at a price [cents], in the order of the work; a deposit comes off the earliest of them."""
    terms = kit.payments
    left = Fraction(terms.before_work, price)
    parts = {step: terms.after[step] for step in (DEAD, CLOSED) if step in terms.after}
    parts[FINAL] = Fraction(1) - sum(parts.values(), Fraction(0))
    made = [Payment(START, cents=terms.before_work)] if terms.before_work else []
    for step, part in parts.items():
        off = min(left, part)
        made.append(Payment(step, share=part - off))
        left -= off
    return tuple(made)


def _money(bench: Bench, dates: Dates) -> Iterator[Fault]:
    inputs, signed = bench.inputs, dates.sign_by.value
    assert isinstance(signed, date)
    for price in inputs.job.ways:
        kit = kit_of(inputs, price.way)
        cap = deposit_cap(price.price, overlay(inputs), signed)
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


__all__ = ["overlay", "payments_of", "review", "work_done"]
