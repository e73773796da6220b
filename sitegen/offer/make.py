"""An offer put together from the parts that the topics make."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from msgspec.structs import replace

from sitegen.figure import Figure, Quote, Source, slug
from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Sources
from sitegen.offer.context import Context
from sitegen.offer.costs import costs_of
from sitegen.offer.dates import Dates
from sitegen.offer.design import design
from sitegen.offer.offer import Extra, Offer, OptionTerms, Photograph, Remark, RuleSeen
from sitegen.offer.outcome import outcome
from sitegen.offer.payments import paying
from sitegen.offer.protection import protection
from sitegen.offer.rooms import room_keys, rooms_of
from sitegen.offer.rows import number_of
from sitegen.offer.rules import rule, stands_on
from sitegen.offer.setting import (
    firm_of,
    head_of,
    holder_of,
    lead_of,
    people_of,
    power_of,
    town_of,
)
from sitegen.rules.read import every_rule
from sitegen.survey.rule_sets import RuleSet, code

Book = Callable[..., Source]
RULES = "rules."



def make_offer(context: Context, rules: RuleSet, when: Dates) -> Offer:
    """The offer of a job: every part of it made from what was worked out, and the rules that its figures name."""
    inputs, make = context.inputs, context.make
    keys = room_keys(inputs.job)
    made = Offer(head_of(inputs, make), firm_of(inputs, make), context.found, outcome(context), when,
                 {price.option: _terms(inputs, make, price.option, price.kit) for price in inputs.job.options},
                 lead_of(inputs, make), (), people_of(inputs, make), town_of(inputs, make),
                 _extras(inputs, make, when), holder_of(inputs, make), rooms_of(inputs), _protect(inputs, make),
                 costs_of(inputs, context.house.openings_a_drop), protection(context, rules, when, keys),
                 design(inputs, code(rules.edition), keys), paying(context, when), power_of(inputs, make),
                 tuple(Photograph(one.file, Quote(one.of, make.survey("photographs", i)))
                       for i, one in enumerate(inputs.job.photographs)))
    return replace(made, rules=_rules(made, rules.edition))


def _rules(offer: Offer, edition: str) -> tuple[RuleSeen, ...]:
    """Every rule that a figure of the offer is or names as an input, by key."""
    figures = offer.figures()
    named = {name for figure in figures for name in (figure.name, *figure.inputs) if name.startswith(RULES)}
    found = []
    for key in sorted(name.removeprefix(RULES) for name in named):
        row = every_rule()[key]
        value = row.value(edition)
        found.append(RuleSeen(Quote(row.says, stands_on(row, edition)),
                              rule(key, edition) if isinstance(value, int | Fraction) else None))
    return tuple(found)


def _extras(inputs: Inputs, make: Sources, when: Dates) -> tuple[Extra, ...]:
    return tuple(Extra(extra.key, extra.is_, Quote(extra.what, make.book("extras", i)),
                       Figure(f"extras.{extra.key}.price", extra.price, "cents", "Set price for one.",
                              make.book("extras", i, "price")),
                       Quote(extra.where, make.book("extras", i)), extra.rooms or (),
                       Quote(extra.choose_by, make.book("extras", i)), when.choose_by[extra.key])
                 for i, extra in enumerate(inputs.book.extras))


def _protect(inputs: Inputs, make: Sources) -> Figure | None:
    price = inputs.book.protect_outlet
    return None if price is None else Figure("smaller.protect-outlet", price, "cents",
                                             "Protecting and marking one ungrounded outlet.",
                                             make.book("protect outlet"))


def _terms(inputs: Inputs, make: Sources, key: str, name: str) -> OptionTerms:
    kit = inputs.book.kits[name]
    chosen = next(row for row in inputs.company.chosen if row.option == key)

    def book(*path: str | int) -> Source:
        return make.book("kits", name, *path)

    def years(word: str, value: int) -> Figure:
        return Figure(f"options.{key}.promise.{slug(word)}", value, "years", "Years promised in writing.",
                      book("promise", word))
    return OptionTerms(
        key, kit.closes_holes, kit.cuts == "broken out",
        Figure(f"options.{key}.before-work", kit.payments.before_work, "cents", "Asked for before work starts.",
               book("payments", "before work")),
        Figure(f"options.{key}.held", kit.payments.held_to_the_end, "share", "Held until the final inspection.",
               book("payments", "held to the end")),
        Quote(kit.if_stopped, book("if stopped")), years("years on work", kit.promise.years_on_work),
        years("years on old wire", kit.promise.years_on_old_wire), kit.promise.passes_on,
        Quote(kit.promise.if_we_close, book("promise", "if we close")),
        {field: Quote(text, book("rows", field.replace("_", " "))) for field, text in kit.rows},
        _remarks(kit, book, key, "good"), _remarks(kit, book, key, "drawbacks"),
        Quote(kit.fits, book("fits")), Quote(kit.does_not_fit, book("does not fit")),
        Figure(f"options.{key}.chosen", chosen.jobs, "jobs", "Finished jobs that were sold as this option.",
               Source("finished jobs", make.company("chosen").text)), chosen.we_earn)


def _remarks(kit: Kit, book: Book, key: str, side: str) -> tuple[Remark, ...]:
    return tuple(Remark(Figure(f"options.{key}.{side}.{i + 1}.row", number_of(point.row), "number",
                               "Row of the comparison that it rests on.", book(side, i)),
                        Quote(point.says, book(side, i))) for i, point in enumerate(getattr(kit, side)))
