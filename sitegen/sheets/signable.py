"""An offer as it may be signed, with its words filled in: the plain data that page 7 holds and a kept offer stands
beside as `agreement.json`."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

from msgspec.json import encode

from sitegen.figure import day_of, int_of
from sitegen.offer.agreement import DutySeen
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.offer.scope import EACH, IN, ListRow
from sitegen.offer.signable import (
    BEFORE_START,
    FORMAT,
    NOT_IN_IT,
    NOW,
    SET_PRICE,
    WITHIN,
    Choice,
    Days,
    Due,
    Extra,
    ListLine,
    Rise,
    ScopeLine,
    Signable,
    State,
    Statement,
)
from sitegen.sheets.terms import AFTER_DATES, AFTER_PAYMENTS, PAY_STEPS, after_rises, rises_of, terms_of
from sitegen.sheets.words import Slot, Words

STATES = {IN: WITHIN, EACH: SET_PRICE}
"""What a scope line says of an item, by the state of its cell; anything else is not in it."""

MOST_OF_ONE = 99
"""How many of one extra a form takes."""


def signable_of(offer: Offer, words: Words) -> Signable:
    """One offer as it may be signed, whole; every sentence as page 7 shows it."""
    head, firm, dates, agreement = offer.head, offer.firm, offer.dates, offer.agreement
    state = agreement.state
    sells = head.by.text if agreement.salesperson_number is None else (
        f"{head.by}, {agreement.salesperson_number}")
    return Signable(
        FORMAT, head.job, int_of(head.version), head.demo, head.address.text, firm.name.text,
        tuple(f"{one.kind} {one.number}" for one in firm.licences), sells,
        tuple(one.text for one in agreement.signers), day_of(dates.prepared), day_of(dates.prices_hold_to),
        day_of(dates.sign_by), day_of(dates.work_starts), int_of(dates.cancel_days), agreement.holidays,
        State(state.name.text, None if state.reviewed_by is None else state.reviewed_by.text,
              None if state.reviewed_on is None else day_of(state.reviewed_on), state.open),
        tuple(_choice(offer, words, one) for one in offer.outcome.options),
        tuple(Extra(one.key, one.what.text, int_of(one.price), MOST_OF_ONE) for one in offer.extras),
        tuple(statements_of(offer, words)), tuple(_terms(offer, words)))


def bytes_of(signable: Signable) -> bytes:
    """The bytes that are kept and stand on page 7: keys in order, no spaces, and no `<` that could end a script."""
    return encode(signable, order="sorted").replace(b"<", b"\\u003c")


def fingerprint_of(data: bytes) -> str:
    """The SHA-512 of these bytes, as a record names the offer that it is of."""
    return hashlib.sha512(data).hexdigest()


def _choice(offer: Offer, words: Words, option: OptionMoney) -> Choice:
    refused = offer.agreement.state.refused.get(option.key)
    dates = offer.dates.options[option.key]
    rows = [(row.key, next(cell for cell in row.cells if cell.option == option.key)) for row in offer.scope.rows]
    return Choice(
        option.key, option.name, int_of(option.price), offer.agreement.most[option.key],
        tuple(Due(one.after, _plain(words, PAY_STEPS[one.after], {}), int_of(one.amount))
              for one in offer.paying[option.key].due),
        tuple(ScopeLine(key, _plain(words, f"scope.item.{key}", {}), STATES.get(cell.state, NOT_IN_IT),
                        _plain(words, cell.words, cell.slots)) for key, cell in rows),
        tuple(ListLine(row.room.text, row.kind.text, int_of(row.count), row.why, set_price(option, row))
              for row in offer.scope.listed),
        tuple(Rise(key, _plain(words, *said), _most_of(option, key)) for key, said in rises_of(option)),
        tuple(Days(one.key, day_of(one.dead), day_of(one.finished)) for one in dates.both),
        None if refused is None else refused.text)


def _most_of(option: OptionMoney, key: str) -> int | None:
    """The cap that a thing which can raise a price is under, with others like it [cents]."""
    cap = option.case_cap if key.startswith("case-") else option.added_cap
    return None if cap is None else int_of(cap)


def set_price(option: OptionMoney, row: ListRow) -> int | None:
    """The set price of each point of a line of the list [cents]; None where the option has none for it."""
    lines = {(line.what, None if line.of is None else line.of.text): int_of(line.each) for line in option.price.sum}
    if row.why == "new-place":
        return lines.get(("new-places", None))
    return lines.get(("points-of-kind", row.kind.text), lines.get(("list-points", None)))


def statements_of(offer: Offer, words: Words) -> Iterator[Statement]:
    """What a buyer acknowledges, in the order of signing; the words of law and of the state as they stand."""
    agreement = offer.agreement
    yield Statement("copy-in-hand", _plain(words, "terms.statement.copy", {}), NOW)
    yield Statement("told-aloud", _plain(words, "terms.statement.told", {}), NOW)
    if offer.lead.assumed:
        yield Statement("lead-booklet", _plain(words, "terms.statement.lead", {}), BEFORE_START)
        if offer.holder.rented:
            yield Statement("lead-booklet-occupant", _plain(words, "terms.statement.lead-occupant", {}), BEFORE_START)
    yield from (_duty(one) for one in agreement.state.duties if one.signed)
    if not offer.holder.owner_now:
        yield Statement("before-closing", _plain(words, "terms.statement.closing", {}), NOW)
    yield Statement("agreement-read", _plain(words, "terms.statement.read", {}), NOW)
    yield Statement("right-to-cancel", agreement.law.statement.text, NOW)


def _duty(duty: DutySeen) -> Statement:
    return Statement(f"state-{duty.key}", duty.says.text, NOW, True)


def _terms(offer: Offer, words: Words) -> Iterator[str]:
    """Every paragraph of the terms: those of all options once, and before one of an option its name."""
    options = offer.outcome.options
    said = {option.key: list(_paragraphs(offer, words, option)) for option in options}
    shared = set.intersection(*(set(some) for some in said.values()))
    seen = set[str]()
    for option in options:
        for line in said[option.key]:
            if line not in shared:
                yield f"{option.name}: {line}"
            elif line not in seen:
                seen.add(line)
                yield line


def _paragraphs(offer: Offer, words: Words, option: OptionMoney) -> Iterator[str]:
    below = {"price": after_rises(offer, option), "pay": AFTER_PAYMENTS, "dates": AFTER_DATES}
    for term in terms_of(offer, option):
        yield from (_plain(words, *said) for said in (*term.says, *below.get(term.name, ())))
        yield from (duty.says.text for duty in term.duties)


def _plain(words: Words, key: str, slots: Mapping[str, Slot]) -> str:
    """The words of a piece as plain text, as a reader sees them."""
    return words.inline(key, **slots).striptags()


__all__ = ["bytes_of", "fingerprint_of", "set_price", "signable_of", "statements_of"]
