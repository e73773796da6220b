"""An offer put together from the parts that the topics make."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from sitegen.figure import Figure, Quote, day_of
from sitegen.job.inputs import Inputs
from sitegen.offer.agreement import agreement_of
from sitegen.offer.asked import asked_of
from sitegen.offer.changes import changes
from sitegen.offer.cited import Cited
from sitegen.offer.closing import closing_of
from sitegen.offer.context import Context
from sitegen.offer.costs import costs_of, order_of_earning
from sitegen.offer.dates import Dates
from sitegen.offer.design import design
from sitegen.offer.extras import extras_of
from sitegen.offer.finished import finished_of
from sitegen.offer.offer import Offer, OptionTerms, Photograph, RuleSeen
from sitegen.offer.outcome import outcome
from sitegen.offer.payments import paying
from sitegen.offer.protection import protection
from sitegen.offer.rooms import room_keys, rooms_of
from sitegen.offer.rules import DECIDE, rule, stands_on
from sitegen.offer.scope import scope_of
from sitegen.offer.setting import (
    firm_of,
    head_of,
    holder_of,
    lead_of,
    people_of,
    power_of,
    town_of,
    walls_of,
)
from sitegen.offer.smaller import smaller_of
from sitegen.rules.read import every_rule
from sitegen.survey.house import option_row
from sitegen.survey.rule_sets import RuleSet, code

RULES = "rules."
LIMITS = frozenset({"rules.lead-room-feet", "rules.lead-subsidised-room-feet"})


def make_offer(context: Context, rules: RuleSet, when: Dates) -> Offer:
    """The offer of a job: every part of it made from what was worked out, and the rules that its figures name."""
    inputs, make = context.inputs, context.make
    keys = room_keys(inputs.job)
    earns = order_of_earning(context.scope)
    money, lead, plan = outcome(context), lead_of(inputs, make), design(inputs, code(rules.edition), keys)
    protects = protection(context, rules, when, keys)
    extras = extras_of(inputs, make, when, code(rules.edition).circuit, plan.service.duties)
    people = people_of(inputs, make)
    made = Offer(head_of(inputs, make), firm_of(inputs, make), context.found, money, when,
                 {price.option: _terms(inputs, make, price.option, price.kit, earns) for price in inputs.job.options},
                 lead, (), people, town_of(inputs, make),
                 extras, holder_of(inputs, make), rooms_of(inputs),
                 smaller_of(inputs, make),
                 costs_of(inputs, context.scope), protects, plan,
                 paying(context, when), power_of(inputs, make),
                 tuple(Photograph(one.file, Quote(one.of, make.survey("photographs", i)), one.finding, one.room,
                                  one.first)
                       for i, one in enumerate(inputs.job.photographs)), finished_of(inputs, make),
                 scope_of(context, money.options, plan.service.duties, lead.assumed), walls_of(inputs),
                 asked_of(inputs, make), closing_of(context, money, protects.options),
                 agreement_of(inputs, make, rules, money.options, people), changes(inputs, money, when, extras))
    return replace(made, rules=_rules(made, rules.edition))


def _rules(offer: Offer, edition: str) -> tuple[RuleSeen, ...]:
    """Every rule that a figure of the offer is or names as an input: those that decide first, the others by key."""
    figures, on = offer.figures(), day_of(offer.dates.prepared)
    named = {name for figure in figures for name in (figure.name, *figure.inputs) if name.startswith(RULES)}
    if not LIMITS.isdisjoint(named):        # both, in every house: which one held would tell of public money
        named |= LIMITS
    found = []
    others = sorted({name.removeprefix(RULES) for name in named} - set(DECIDE))
    for key in (*(key for key in DECIDE if f"{RULES}{key}" in named), *others):
        row = every_rule()[key]
        value = row.value(edition)
        source = stands_on(row, edition)
        found.append(RuleSeen(Quote(row.says, source), Quote(row.cited(edition, on), source),
                              rule(key, edition) if isinstance(value, int | Fraction) else None, key in DECIDE))
    return tuple(found)


def _terms(inputs: Inputs, make: Cited, key: str, name: str, earns: dict[str, str]) -> OptionTerms:
    kit = inputs.book.kits[name]

    def figure(called: str, *path: str | int, unit: str = "") -> Figure:
        return make.figure(f"options.{key}.{called}", "book", "kits", name, *path, unit=unit)

    def quote(*path: str | int) -> Quote:
        return make.quote("book", "kits", name, *path)

    def paid(called: str, word: str) -> Figure:
        at, row = option_row(inputs, key)
        return figure(called, "payments", word) if row.payments is None else make.figure(
            f"options.{key}.{called}", "survey", "options", at, "payments", word)
    return OptionTerms(
        key, kit.closes_holes, kit.cuts == "broken out", paid("before-work", "before work"),
        paid("held", "held to the end"), quote("if stopped"),
        figure("promise.years-on-work", "promise", "years on work", unit="years"),
        figure("promise.years-on-old-wire", "promise", "years on old wire", unit="years"), kit.promise.passes_on,
        quote("promise", "if we close"),
        {field: quote("rows", field.replace("_", " ")) for field, _ in kit.rows},
        {own.claim: quote("says", i, "says") for i, own in enumerate(kit.says)}, earns[key])

