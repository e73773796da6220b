"""What of an offer may be signed, before its words: the state's gate, its duties, texts of law, who signs, and caps.

The words are filled in `sheets/signable.py`, where all words are.
"""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from sitegen.dates.holidays_us import office_closed
from sitegen.dates.overlay import Review, standing
from sitegen.figure import Figure, Quote, Source, int_of
from sitegen.job.cards import BEFORE_SIGNING, BESIDE_SIGNATURE, OWN_PAGE
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Cited
from sitegen.offer.money import OptionMoney
from sitegen.offer.rules import rule
from sitegen.offer.setting import Person
from sitegen.rules.statutes import drafts, statutes
from sitegen.survey.rule_sets import RuleSet
from sitegen.trade.kinds import SELLS_WITH

RENOVATOR = "certified renovator"
DRAFT, NOT_WHOLE = "draft", "not whole"
"""Why a card opens nothing though somebody reviewed it: it says itself that it is a draft, or lacks a duty."""


class DutySeen(Struct, frozen=True):
    """One duty of the state: its words, its section, where they have to stand, and their least size in points.

    `beside` the signature or `alone` on a page; `first` in hand before signing; `signed` by itself.
    """

    key: str
    says: Quote
    where: Quote
    size: int
    beside: bool
    alone: bool
    first: bool
    signed: bool
    booklet: Quote | None


class StateSeen(Struct, frozen=True):
    """The gate: who reviewed the card of the state and when, and whether signing on a screen is built.

    `why` is `live`, or what is missing: `not reviewed`, `reviewed later`, `review lapsed`, `draft`, `not whole`.
    """

    name: Quote
    reviewed_by: Quote | None
    reviewed_on: Figure | None
    open: bool
    why: str
    duties: tuple[DutySeen, ...]
    refused: dict[str, Quote]


class LawTexts(Struct, frozen=True):
    """Words of law as they stand: the statement beside the signature, the notice of cancellation in its parts."""

    statement: Quote
    notice: tuple[Quote, ...]
    how: Quote
    cancel: Quote


class Agreement(Struct, frozen=True):
    """What an agreement needs beside the rest of the offer.

    `signers` are printed names; X
    """

    signers: tuple[Quote, ...]
    salesperson_number: Quote | None
    renovator: Person | None
    state: StateSeen
    law: LawTexts
    refund: Figure
    moving: Figure | None
    most: dict[str, int | None]
    holidays: tuple[date, ...]


def agreement_of(inputs: Inputs, make: Cited, rules: RuleSet, options: tuple[OptionMoney, ...],
                 people: tuple[Person, ...]) -> Agreement:
    """What an agreement needs of the files of a job."""
    job, company = inputs.job, inputs.company
    number = next((i for i, one in enumerate(company.licences) if one.kind == SELLS_WITH), None)
    first, last = job.prepared, date(job.prices_hold_to.year + 1, 12, 31)
    closed = office_closed(rules.holidays, first.year, last.year)
    return Agreement(
        tuple(make.quote("survey", "signs", i, "name") for i in range(len(job.signs))),
        None if number is None else make.quote("company", "licences", number, "number"),
        next((one for one in people if one.role.text == RENOVATOR), None), _state(inputs), _law(inputs),
        rule("cancel-refund-business-days"), _moving(inputs, make, options), {one.key: _most(one) for one in options},
        tuple(sorted(day for day in closed if day >= first)))


def _moving(inputs: Inputs, make: Cited, options: tuple[OptionMoney, ...]) -> Figure | None:
    """The price for every point with what moving to it midway costs on top."""
    more, one = inputs.book.move_midway, next((option for option in options if option.covers_all), None)
    if more is None or one is None:
        return None
    return Figure(f"options.{one.key}.midway", int_of(one.price) + more, "cents", "The price today, and what moving to "
                  "it costs once work has begun.", make.book("move midway"), (one.price.name,))


def _most(option: OptionMoney) -> int | None:
    """The price and all its caps [cents]; None where something can raise it without end."""
    if option.cases and option.case_cap is None:
        return None
    if not option.covers_all and option.added_cap is None:
        return None
    caps = (option.case_cap if option.cases else None, None if option.covers_all else option.added_cap)
    return int_of(option.price) + sum(int_of(one) for one in caps if one is not None)


def _state(inputs: Inputs) -> StateSeen:
    card, job = inputs.state, inputs.job
    review = Review(card.reviewed_by or "", card.reviewed_on)
    stands = min((standing(review, day) for day in (job.prepared, job.prices_hold_to)), key=lambda one: one.live)
    asked = drafts().get(card.name)
    lacks = asked is not None and not {one.key for one in asked.duties} <= {one.key for one in card.duties}
    why = DRAFT if card.draft else stands.why if not stands.live else NOT_WHOLE if lacks else stands.why
    source = Source("company", "card of the state")
    return StateSeen(
        Quote(card.name, source), None if card.reviewed_by is None else Quote(card.reviewed_by, source),
        None if card.reviewed_on is None else Figure("state.reviewed-on", card.reviewed_on, "date",
                                                     "When a lawyer read the card of the state.", source),
        not card.draft and stands.live and not lacks, why,
        tuple(DutySeen(one.key, Quote(one.text, source), Quote(one.where, source), one.size,
                       one.place == BESIDE_SIGNATURE, one.place == OWN_PAGE, one.place == BEFORE_SIGNING, one.signed,
                       None if one.booklet is None else Quote(one.booklet, source)) for one in card.duties),
        {key: Quote(reason, source) for key, reason in card.refuses.items()})


def _law(inputs: Inputs) -> LawTexts:
    """The texts of law; the seller's name and place of business are filled in where the law leaves a blank."""
    def quotes(key: str) -> tuple[Quote, ...]:
        text = statutes()[key]
        source = Source("rule", f"{text.section}, {'from memory' if text.memory else text.source}")
        company = inputs.company
        return tuple(Quote(one.replace("{name}", company.name).replace("{address}", company.address)
                           .replace(" {last}.", ""), source) for one in text.text)
    return LawTexts(quotes("cancel-statement")[0], quotes("cancel-notice"), quotes("cancel-how")[0],
                    quotes("cancel-sign")[0])


__all__ = ["DRAFT", "NOT_WHOLE", "Agreement", "DutySeen", "LawTexts", "StateSeen", "agreement_of"]
