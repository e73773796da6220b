"""The terms of the agreement for one option, in their order: titles, and pieces of words with what fills them.

One source for page 7 and for the plain text that is signed.  `terms.md` holds the words.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from sitegen.figure import Quote, int_of
from sitegen.offer.agreement import DutySeen
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.sheets.words import Slot

Said = tuple[str, Mapping[str, Slot]]
"""A piece of words by its key, and what fills it."""


class Term(Struct, frozen=True):
    """One part of the agreement: its name, the key of its title, its pieces, and texts of the state."""

    name: str
    title: str
    says: tuple[Said, ...]
    duties: tuple[DutySeen, ...] = ()


PAY_STEPS = {"start": "terms.pay.step.start", "old wires dead": "terms.pay.step.old wires dead",
             "holes closed": "terms.pay.step.holes closed", "all finished": "terms.pay.step.all finished"}
"""When a payment is due, by its step."""


def terms_of(offer: Offer, option: OptionMoney) -> tuple[Term, ...]:
    """Every part of the agreement for one option, in the order in which it is read."""
    return (_parties(offer), _work(option), _price(offer, option), _pay(offer, option), _dates(offer),
            _cancel(offer, option), *_buyers(offer), _plain("changes", "terms.changes", "terms.changes.signed",
                                                           "terms.changes.found"),
            _promise(offer, option), Term("damage", "terms.damage", (("terms.damage.says",
                                                                      {"damage": offer.firm.damage}),)),
            Term("permits", "terms.permits", (("terms.permits.ours", {"permit": offer.firm.permit}),
                                              ("terms.permits.looks", {"inspection": offer.firm.inspection}))),
            _lead(offer), Term("insurance", "terms.insurance", (("terms.insurance.says", {
                "insurance": offer.firm.insurance}),)),
            Term("who", "terms.who", (("terms.who.says", {"subcontractors": offer.firm.subcontractors}),)),
            _plain("liens", "terms.liens", "terms.liens.says"),
            _plain("disputes", "terms.disputes", "terms.disputes.none"),
            _plain("papers", "terms.papers", "terms.papers.says"),
            _plain("language", "terms.language", "terms.language.says"), *_state(offer), _electronic(offer),
            _whole(offer))


def _plain(name: str, title: str, *keys: str) -> Term:
    return Term(name, title, tuple((key, {}) for key in keys))


def _parties(offer: Offer) -> Term:
    firm, head, agreement = offer.firm, offer.head, offer.agreement
    sells: Said = ("terms.parties.sells", {"name": head.by})
    if agreement.salesperson_number is not None:
        sells = "terms.parties.sells-number", {"name": head.by, "number": agreement.salesperson_number}
    licences = tuple(Quote(f"{one.kind} {one.number}", one.number.source) for one in firm.licences)
    return Term("parties", "terms.parties", (
        ("terms.parties.firm", {"firm": firm.name, "address": firm.address, "phone": firm.phone,
                                "e_mail": firm.e_mail}), sells,
        ("terms.parties.owners", {"people": head.signs, "address": head.address}),
        ("terms.parties.licences", {"licences": licences})))


def _work(option: OptionMoney) -> Term:
    return _plain("work", "terms.work", "terms.work.every" if option.covers_all else "terms.work.list",
                  "terms.work.materials", "terms.work.paint")


def rises_of(option: OptionMoney) -> tuple[tuple[str, Said], ...]:
    """What can raise the price of an option: the key that a buyer ticks, and its words."""
    found = list[tuple[str, Said]]()
    if not option.covers_all:
        more: dict[str, Slot] = {"point": option.each_point, "feed": option.each_feed}
        found.append(("more-old", ("terms.rise.more", more) if option.added_cap is None else
                      ("terms.rise.more-capped", {**more, "added": option.added_cap})))
        if int_of(option.each_blocked):
            found.append(("blocked-bay", ("terms.rise.blocked", {"drop": option.each_blocked})))
    for case in option.cases:
        what = Quote(case.what.text.rstrip("."), case.what.source)
        found.append((f"case-{case.key}", ("terms.rise.case", {"case": what}) if option.case_cap is None else
                      ("terms.rise.case-capped", {"case": what, "cap": option.case_cap})))
    return tuple(found)


def _price(offer: Offer, option: OptionMoney) -> Term:
    rises = rises_of(option)
    said: list[Said] = [("terms.price.total", {"price": option.price}),
                        ("terms.price.rises" if rises else "terms.price.rises.none", {})]
    return Term("price", "terms.price", tuple(said))


def after_rises(offer: Offer, option: OptionMoney) -> tuple[Said, ...]:
    """What stands below the list of what can raise a price: where that ends, and that it is signed for first."""
    if not rises_of(option):
        return ()
    held = option.covers_all and option.most_paid is not None
    capped: Said = ("terms.price.no-cap", {})
    if held and option.most_paid is not None:
        capped = "terms.price.cap", {"most": option.most_paid}
    elif offer.agreement.most[option.key] is not None:
        return (("terms.price.before", {}),)        # each line names its own cap
    return capped, ("terms.price.before", {})


def _pay(offer: Offer, option: OptionMoney) -> Term:
    before = offer.terms[option.key].before_work
    first: Said = ("terms.pay.deposit", {"before": before}) if int_of(before) else ("terms.pay.before", {})
    return Term("pay", "terms.pay", (first, ("terms.pay.after", {})))


AFTER_PAYMENTS: tuple[Said, ...] = (("terms.pay.extras", {}), ("terms.pay.credit", {}), ("terms.pay.release", {}))
"""What stands below the payments."""


def _dates(offer: Offer) -> Term:
    return Term("dates", "terms.dates", (
        ("terms.dates.start", {"start": offer.dates.work_starts, "sign": offer.dates.sign_by}),
        ("terms.dates.lives", {})))


AFTER_DATES: tuple[Said, ...] = (("terms.dates.moved", {}), ("terms.dates.essence", {}), ("terms.dates.hold", {}))
"""What stands below the days."""


def _cancel(offer: Offer, option: OptionMoney) -> Term:
    firm, terms = offer.firm, offer.terms[option.key]
    return Term("cancel", "terms.cancel", (
        ("terms.cancel.days", {"days": offer.dates.cancel_days}),
        ("terms.cancel.how", {"address": firm.address, "e_mail": firm.e_mail, "refund": offer.agreement.refund}),
        ("who.stop", {"stop": terms.if_stopped})))


def _buyers(offer: Offer) -> tuple[Term, ...]:
    return () if offer.holder.owner_now else (_plain("buyers", "terms.buyers", "terms.buyers.says"),)


def _promise(offer: Offer, option: OptionMoney) -> Term:
    terms = offer.terms[option.key]
    said: list[Said] = [("who.promise.work", {"years": terms.years_on_work})]
    if int_of(terms.years_on_old_wire):
        said += [("who.promise.wire", {"years": terms.years_on_old_wire}),
                 ("who.promise.which", {"option": option.name})]
    said.append(("who.promise.not", {}))
    if int_of(terms.years_on_old_wire):
        said.append(("terms.promise.fire", {}))
    said += [("who.promise.passes" if terms.passes_on else "who.promise.stays", {}),
             ("who.promise.closing", {"closing": terms.if_we_close})]
    return Term("promise", "terms.promise", tuple(said))


def _lead(offer: Offer) -> Term:
    person = offer.agreement.renovator
    if not offer.lead.assumed or person is None:
        return _plain("lead", "terms.lead", "terms.lead.not")
    return Term("lead", "terms.lead", (("terms.lead.rule", {"name": person.name}), ("terms.lead.records", {})))


def _state(offer: Offer) -> tuple[Term, ...]:
    duties = tuple(one for one in offer.agreement.state.duties if not one.signed)
    return (Term("state", "terms.state", (), duties),) if duties else ()


def _electronic(offer: Offer) -> Term:
    firm = offer.firm
    return Term("electronic", "terms.electronic", (
        ("terms.electronic.paper", {}), ("terms.electronic.scope", {}),
        ("terms.electronic.withdraw", {"e_mail": firm.e_mail, "phone": firm.phone}), ("terms.electronic.copy", {}),
        ("terms.electronic.needs", {}), ("terms.electronic.changes", {})))


def _whole(offer: Offer) -> Term:
    return Term("whole", "terms.whole", (
        ("terms.whole.says", {"version": offer.head.version, "day": offer.dates.prepared}),
        ("terms.whole.rights", {}), ("terms.whole.no-waiver", {})))


__all__ = ["AFTER_DATES", "AFTER_PAYMENTS", "PAY_STEPS", "Said", "Term", "after_rises", "rises_of", "terms_of"]
