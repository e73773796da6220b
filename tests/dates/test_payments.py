"""Deposits held to a reviewed limit, and payments that keep behind the work."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given as over
from hypothesis import strategies as st

from sitegen.dates.overlay import Review
from sitegen.dates.payments import (
    AHEAD,
    DEPOSIT,
    EARLY,
    FORMS,
    GREATER,
    LESSER,
    ORDER,
    PLUS,
    SHARE,
    SUM,
    DepositOverlay,
    Milestone,
    Payment,
    amounts,
    deposit_cap,
    problems,
)

DAY = date(2026, 11, 25)
REVIEWED = Review("A. Lawyer", date(2026, 3, 1))
TOTALS = st.integers(0, 10_000_000)
SHARES = st.fractions(0, 1, max_denominator=50)
TOTAL = 2_400_000
WORK = (Milestone("signing", 0), Milestone("rough", 900_000), Milestone("closed", 1_600_000),
        Milestone("final inspection", TOTAL), Milestone("end", TOTAL))


def overlay(form: str, share: Fraction = Fraction(1, 3), review: Review = REVIEWED) -> DepositOverlay:
    return DepositOverlay("a state", form, share, 100_000 if form == LESSER else None, review)


def keys(payments: list[Payment], cap: int = 0, work: tuple[Milestone, ...] = WORK) -> list[str]:
    return [problem.key for problem in problems(payments, TOTAL, work, "final inspection", cap)]


@over(TOTALS, st.sampled_from(FORMS), st.integers(0, 10_000_000))
def test_no_live_review_no_deposit(total: int, form: str, special: int) -> None:
    """Without an overlay, and with one that nobody reviewed or whose review lapsed, nothing is taken."""
    assert deposit_cap(total, None, DAY, special) == 0
    assert deposit_cap(total, overlay(form, review=Review()), DAY, special) == 0
    assert deposit_cap(total, overlay(form), date(2027, 3, 2), special) == 0


@over(TOTALS, st.sampled_from(FORMS), SHARES, st.integers(0, 10_000_000))
def test_the_limit_is_rounded_down_and_never_above_the_price(total: int, form: str, share: Fraction,
                                                            special: int) -> None:
    """Whole cents, at most the exact limit and at most the price, and less than a cent under the smaller of both."""
    cap = deposit_cap(total, overlay(form, share), DAY, special)
    exact = {LESSER: min(share * total, Fraction(100_000)), SHARE: share * total,
             GREATER: max(share * total, Fraction(special)), PLUS: share * total + special}[form]
    least = min(exact, Fraction(total))
    assert cap <= least < cap + 1


@over(TOTALS, st.sampled_from((LESSER, SHARE)), st.integers(0, 10_000_000))
def test_special_orders_lift_two_forms_alone(total: int, form: str, special: int) -> None:
    """A special order does not lift a lesser of two, nor a plain share."""
    assert deposit_cap(total, overlay(form), DAY, special) == deposit_cap(total, overlay(form), DAY)


@pytest.mark.parametrize("bad", [
    DepositOverlay("a state", "a half", Fraction(1, 2), None, REVIEWED),
    DepositOverlay("a state", SHARE, Fraction(4, 3), None, REVIEWED),
    DepositOverlay("a state", SHARE, Fraction(1, 3), 100_000, REVIEWED),
    DepositOverlay("a state", LESSER, Fraction(1, 10), None, REVIEWED),
])
def test_an_overlay_that_says_nothing_clear_is_refused(bad: DepositOverlay) -> None:
    """An unknown form, a share above the whole, a sum too many or too few."""
    with pytest.raises(ValueError, match="a state"):
        deposit_cap(100, bad, DAY)


def test_negative_amounts_are_refused() -> None:
    """No price, special order or payment is negative."""
    for call in (lambda: deposit_cap(-1, None, DAY), lambda: deposit_cap(1, None, DAY, -1),
                 lambda: amounts([Payment("end", cents=-1)], 10)):
        with pytest.raises(ValueError, match="not negative"):
            call()


@over(TOTALS, st.lists(st.integers(1, 20), min_size=1, max_size=8))
def test_shares_of_the_whole_sum_to_the_price(total: int, weights: list[int]) -> None:
    """To the cent; every payment but the last is its share rounded down, and the last has what is left."""
    payments = [Payment("end", share=Fraction(weight, sum(weights))) for weight in weights]
    found = amounts(payments, total)
    assert sum(found) == total
    assert found[:-1] == tuple(weight * total // sum(weights) for weight in weights[:-1])
    assert 0 <= found[-1] - Fraction(weights[-1] * total, sum(weights)) < len(weights)


def test_cents_left_over_do_not_change_a_sum() -> None:
    """A last payment written as a sum stays as written; the cents go to the last share."""
    payments = [Payment("rough", share=Fraction(1, 3)), Payment("closed", share=Fraction(2, 3) - Fraction(1, 100)),
                Payment("end", cents=1)]
    assert amounts(payments, 100) == (33, 66, 1)


def test_a_sound_schedule_has_no_problem() -> None:
    """Behind the work at each milestone, the last payment after the final inspection, the price to the cent."""
    sound = [Payment("rough", share=Fraction(1, 3)), Payment("closed", share=Fraction(1, 3)),
             Payment("end", share=Fraction(1, 3))]
    assert keys(sound) == []
    assert keys([Payment("signing", cents=100_000), Payment("closed", cents=1_500_000),
                 Payment("final inspection", cents=800_000)], cap=100_000) == []


@pytest.mark.parametrize(("payments", "cap", "expected"), [
    ([Payment("rough", cents=900_001), Payment("end", cents=1_499_999)], 0, [AHEAD]),
    ([Payment("signing", cents=100_001), Payment("end", cents=2_299_999)], 100_000, [DEPOSIT]),
    ([Payment("signing", cents=1), Payment("end", cents=2_399_999)], 0, [DEPOSIT]),
    ([Payment("rough", cents=900_000), Payment("closed", cents=700_000)], 0, [SUM, EARLY]),
    ([Payment("rough", cents=900_000), Payment("end", cents=1_500_001)], 0, [SUM, AHEAD]),
    ([Payment("end", cents=1_500_000), Payment("rough", cents=900_000)], 0, [ORDER]),
    ([Payment("closed", cents=2_400_000), Payment("end", cents=0)], 0, [AHEAD, EARLY]),
    ([Payment("signing", cents=800_000), Payment("rough", cents=100_001), Payment("end", cents=1_499_999)],
     800_000, [AHEAD]),
])
def test_each_problem_is_named(payments: list[Payment], cap: int, expected: list[str]) -> None:
    """Each by its key; the deposit counts toward what is paid later, and a payment of nothing is no last payment."""
    assert keys(payments, cap) == expected


def test_a_problem_says_how_much() -> None:
    """At which milestone, what is paid by then and what may be."""
    problem, = problems([Payment("rough", cents=900_001), Payment("end", cents=1_499_999)], TOTAL, WORK,
                        "final inspection", 0)
    assert (problem.after, problem.paid, problem.allowed) == ("rough", 900_001, 900_000)


def test_all_paid_too_early_is_told_at_the_last_payment() -> None:
    """Where no money waits for the final inspection, the milestone named is the last at which some is due."""
    early = problems([Payment("rough", cents=900_000), Payment("closed", cents=1_500_000), Payment("end", cents=0)],
                     TOTAL, WORK, "final inspection", 0)[-1]
    assert (early.key, early.after, early.paid, early.allowed) == (EARLY, "closed", TOTAL, TOTAL)


@over(st.lists(st.integers(0, 1_200_000), min_size=5, max_size=5), st.integers(0, 100_000))
def test_without_problems_nobody_has_paid_ahead(sums: list[int], cap: int) -> None:
    """Whatever the payments, no problem means that at each milestone no more is paid than done, or than the limit."""
    payments = [Payment(milestone.key, cents=cents) for milestone, cents in zip(WORK, sums, strict=True)]
    paid, behind = 0, True
    for milestone, cents in zip(WORK, sums, strict=True):
        paid += cents
        behind &= paid <= max(milestone.done, cap) if cents else True
    found = keys(payments, cap)
    assert (AHEAD not in found and DEPOSIT not in found) == behind
    assert (SUM not in found) == (sum(sums) == TOTAL)


@pytest.mark.parametrize(("payments", "work", "says"), [
    ([Payment("roof", cents=TOTAL)], WORK, "no such milestone: roof"),
    ([], WORK, "at least one payment"),
    ([Payment("end")], WORK, "a share or a sum"),
    ([Payment("end", share=Fraction(1), cents=TOTAL)], WORK, "a share or a sum"),
    ([Payment("end", cents=TOTAL)], WORK[::-1], "rises from 0"),
    ([Payment("end", cents=TOTAL)], WORK[:3], "rises from 0"),
    ([Payment("end", cents=TOTAL)], (*WORK, WORK[-1]), "stands twice"),
])
def test_what_is_no_schedule_is_refused(payments: list[Payment], work: tuple[Milestone, ...], says: str) -> None:
    """An unknown milestone, no payment, both or neither of share and sum, work that does not end at the price."""
    with pytest.raises(ValueError, match=says):
        keys(payments, 0, work)
