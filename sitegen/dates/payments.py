"""What may be taken before work starts, and whether a schedule of payments keeps behind the work.

No state's law is built in: a limit comes as an overlay that somebody has reviewed.  Without one nothing is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from msgspec import Struct

from sitegen.dates.overlay import Review, standing
from sitegen.trade.terms import Cents

LESSER, SHARE = "lesser of sum or share", "share"
GREATER, PLUS = "greater of share or special order", "share and special order"
FORMS = (LESSER, SHARE, GREATER, PLUS)

SUM, AHEAD, EARLY, DEPOSIT, ORDER = ("payments do not sum to the price", "ahead of work done",
                                     "last payment before the final inspection", "deposit above the limit",
                                     "payments out of order")


class DepositOverlay(Struct, frozen=True):
    """A state's limit on what is paid before work starts.

    `form` is one of FORMS; `share` of the price; `most` [cents] only for the lesser of a sum and a share.
    """

    state: str
    form: str
    share: Fraction
    most: Cents | None
    review: Review


class Milestone(Struct, frozen=True):
    """A point in the work in its order, with the value of all work done by then [cents]."""

    key: str
    done: Cents


class Payment(Struct, frozen=True):
    """A payment due when the milestone `after` is reached: a share of the price, or a sum [cents]; one of the two."""

    after: str
    share: Fraction | None = None
    cents: Cents | None = None


class Problem(Struct, frozen=True):
    """What is wrong, at which milestone, how much is paid by then, and how much may be [cents]."""

    key: str
    after: str
    paid: Cents
    allowed: Cents


def deposit_cap(total: Cents, overlay: DepositOverlay | None, day: date, special_order: Cents = 0) -> Cents:
    """The most that may be taken before work starts [cents], rounded down, never above the price.

    Nought without an overlay, and with one whose review is missing or has lapsed on `day`.  `special_order` is what
    made-to-order material really costs [cents]; it counts in two forms alone.  The price above which a state's limit
    begins is not looked at: a smaller contract is held to the same limit.  Raises ValueError for a negative amount,
    an unknown form, a share outside 0 to 1, or a lesser of two without its sum.
    """
    if total < 0 or special_order < 0:
        raise ValueError(f"amounts are not negative; got {total} and {special_order}")
    if overlay is None:
        return 0
    _check(overlay)
    if not standing(overlay.review, day).live:
        return 0
    share = overlay.share * total
    limit = {LESSER: min(share, Fraction(overlay.most or 0)), SHARE: share,
             GREATER: max(share, Fraction(special_order)), PLUS: share + special_order}[overlay.form]
    return min(total, limit.numerator // limit.denominator)


def amounts(payments: Sequence[Payment], total: Cents) -> tuple[Cents, ...]:
    """Each payment [cents], shares rounded down.

    When sums and shares come to the price exactly, the cents left over by rounding go to the last payment that is a
    share.  Raises ValueError for none, for a negative one, and for one that has not just one of share and sum.
    """
    exact = [_exact(payment, total) for payment in payments]
    if not exact:
        raise ValueError("a schedule has at least one payment")
    whole = [value.numerator // value.denominator for value in exact]
    if sum(exact) == total:
        last = max((i for i, payment in enumerate(payments) if payment.share is not None), default=len(whole) - 1)
        whole[last] += total - sum(whole)
    return tuple(whole)


def problems(payments: Sequence[Payment], total: Cents, work: Sequence[Milestone], final_inspection: str,
             cap: Cents) -> tuple[Problem, ...]:
    """Everything wrong with a schedule of payments; empty when it may stand.

    Nothing above `cap` [cents] before any work is done; from then on what is paid, the deposit with it, never above
    the value of the work done; payments in the order of the work; some money due not before the final inspection;
    together the price, to the cent.  Raises ValueError for a payment after a milestone that `work` lacks, for work
    whose value falls or does not end at the price, and as `amounts` does.
    """
    place = _places(work, total)
    unknown = [key for key in (final_inspection, *(payment.after for payment in payments)) if key not in place]
    if unknown:
        raise ValueError(f"no such milestone: {', '.join(unknown)}")
    sums = amounts(payments, total)
    found: list[Problem] = []
    if sum(sums) != total:
        found.append(Problem(SUM, work[-1].key, sum(sums), total))
    places = [place[payment.after] for payment in payments]
    if places != sorted(places):
        found.append(Problem(ORDER, payments[0].after, sums[0], total))
    found.extend(_ahead(sums, places, work, cap))
    paying = [where for where, amount in zip(places, sums, strict=True) if amount]
    if not paying or max(paying) < place[final_inspection]:
        found.append(Problem(EARLY, work[max(paying, default=0)].key, sum(sums), total))
    return tuple(found)


def _ahead(sums: Sequence[Cents], places: Sequence[int], work: Sequence[Milestone], cap: Cents) -> list[Problem]:
    """Every milestone at which more is paid than may be."""
    found = []
    for where, milestone in enumerate(work):
        paid = sum(amount for amount, at in zip(sums, places, strict=True) if at <= where)
        allowed = milestone.done or cap
        if paid > allowed and any(amount for amount, at in zip(sums, places, strict=True) if at == where):
            found.append(Problem(AHEAD if milestone.done else DEPOSIT, milestone.key, paid, allowed))
    return found


def _places(work: Sequence[Milestone], total: Cents) -> dict[str, int]:
    done = [milestone.done for milestone in work]
    if not done or done != sorted(done) or done[0] < 0 or done[-1] != total:
        raise ValueError(f"the value of work done rises from 0 to the price, {total} cents; got {done}")
    place = {milestone.key: i for i, milestone in enumerate(work)}
    if len(place) != len(work):
        raise ValueError("a milestone stands twice")
    return place


def _exact(payment: Payment, total: Cents) -> Fraction:
    if (payment.share is None) == (payment.cents is None):
        raise ValueError(f"a payment is a share or a sum; the one after {payment.after} is not just one of them")
    value = Fraction(payment.cents) if payment.cents is not None else (payment.share or Fraction(0)) * total
    if value < 0:
        raise ValueError(f"a payment is not negative; the one after {payment.after} is")
    return value


def _check(overlay: DepositOverlay) -> None:
    if overlay.form not in FORMS:
        raise ValueError(f"{overlay.state}: the form of a limit is one of {', '.join(FORMS)}; got {overlay.form}")
    if not 0 <= overlay.share <= 1:
        raise ValueError(f"{overlay.state}: a share lies between 0 and 1; got {overlay.share}")
    if (overlay.most is not None) != (overlay.form == LESSER):
        raise ValueError(f"{overlay.state}: a sum belongs to the lesser of a sum and a share, and to no other form")
