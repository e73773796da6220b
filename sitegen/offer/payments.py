"""What is paid when: the payments of each option, against the work done by then and what a state allows before it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from msgspec import Struct

from sitegen.dates.overlay import Review
from sitegen.dates.payments import (
    GREATER,
    LESSER,
    PLUS,
    SHARE,
    DepositOverlay,
    Milestone,
    Payment,
    Problem,
    amounts,
    deposit_cap,
    problems,
)
from sitegen.figure import Figure, day_of, slug
from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.offer.context import Context
from sitegen.offer.dates import Dates, StepSeen
from sitegen.scope.progress import CLOSED, DEAD, END, parts_done, steps_of
from sitegen.survey.house import kit_of, option_row
from sitegen.trade.terms import Cents

START = "start"


class Due(Struct, frozen=True):
    """One payment: after which step, how much, about when; no day for what is asked before work starts."""

    after: str
    amount: Figure
    day: Figure | None


class Paying(Struct, frozen=True):
    """What is paid for one option.

    `due` by the day; what is nothing is left out.  `before_work` is asked before work starts and `cap` the most that
    may be [cents]; `problems` is everything wrong with the kit's payments, empty where that much is asked too early.
    """

    due: tuple[Due, ...]
    before_work: Cents
    cap: Cents
    problems: tuple[Problem, ...]


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


def work_done(price: Cents, parts: Mapping[str, Fraction]) -> tuple[Milestone, ...]:
    """The value of work done at each step [cents, rounded down]: nothing at the start, the price at the end.

    `parts` of all work that are done by each step, in order, come from the private cost book.
    """
    return (Milestone(START, 0), *(Milestone(step, int(price * part)) for step, part in parts.items()))


def payments_of(kit: Kit, price: Cents, lived_in: bool) -> tuple[Payment, ...]:
    """The payments of a kit at a price [cents], in the order of the work; a deposit comes off the earliest of them.

    The last is what no step before takes, and falls due when all is finished.
    """
    terms = kit.payments
    left = Fraction(terms.before_work, price)
    order = steps_of(closes=CLOSED in terms.after, lived_in=lived_in)
    parts = {step: terms.after[step] for step in order if step in terms.after}
    parts[END] = Fraction(1) - sum(parts.values(), Fraction(0))
    made = [Payment(START, cents=terms.before_work)] if terms.before_work else []
    for step, part in parts.items():
        off = min(left, part)
        made.append(Payment(step, share=part - off))
        left -= off
    return tuple(made)


def cap_of(inputs: Inputs, price: int) -> int:
    """The most that may be asked before work starts [cents], on the last day for signing."""
    return deposit_cap(price, overlay(inputs), inputs.job.start.sign_by)


def paying(context: Context, dates: Dates) -> dict[str, Paying]:
    """The payments of every option."""
    found: dict[str, Paying] = {}
    lived_in, later = context.inputs.job.lived_in, context.inputs.costs.after_plaster
    for price in context.inputs.job.options:
        today = context.scope[price.option].priced.price
        kit, cap = kit_of(context.inputs, price.option), cap_of(context.inputs, today)
        planned, asked = payments_of(kit, today, lived_in), kit.payments.before_work
        parts = parts_done(context.scope[price.option].costs, kit, later, lived_in)
        wrong = () if asked > cap or not kit.payments.after else problems(
            planned, today, work_done(today, parts), END, cap)
        source = context.make.book("kits", price.kit, "payments") if price.payments is None else context.make.survey(
            "options", option_row(context.inputs, price.option)[0], "payments")
        days = _days(dates.options[price.option].chosen.steps, dates.options[price.option].dead)
        due = (Due(one.after, Figure(f"options.{price.option}.pay.{slug(one.after)}", cents, "cents",
                                     "The part of the "
                                     "price, rounded down; the last payment takes what is left over.", source,
                                     (f"options.{price.option}.price",)), days.get(one.after))
               for one, cents in zip(planned, amounts(planned, today), strict=True) if cents)
        found[price.option] = Paying(tuple(sorted(due, key=_when)), asked, cap, wrong)
    return found


def _when(due: Due) -> date:
    """The day of a payment: in a house that is lived in the holes can be closed before the old wires are dead."""
    return date.min if due.day is None else day_of(due.day)


def _days(steps: tuple[StepSeen, ...], dead: Figure) -> Mapping[str, Figure]:
    """The day of each step that a payment waits for: the test, the last coat, the check of the last cleaning."""
    coats = [step.last for step in steps if step.who == "plasterer"]
    checked = [step.last for step in steps if step.kind == "verify"]
    return {DEAD: dead, **({CLOSED: coats[-1]} if coats else {}), **({END: checked[-1]} if checked else {})}


__all__ = ["CLOSED", "DEAD", "END", "START", "Due", "Paying", "cap_of", "overlay", "paying", "payments_of", "work_done"]
