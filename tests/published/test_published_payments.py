"""Deposits and payments against the limits of states' laws, passed as overlays, row by row."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from sitegen.dates import payments as law
from sitegen.dates.overlay import Review
from tests.published.rows import Row, rows

DAY = date(2026, 11, 25)
WORK = (law.Milestone("signing", 0), law.Milestone("rough", 900_000), law.Milestone("closed", 2_400_000),
        law.Milestone("final inspection", 2_400_000), law.Milestone("end", 2_400_000))


def _deposit(form: str, share: str, most: int | None, total: int, special: int) -> int:
    overlay = law.DepositOverlay("a state", form, Fraction(share), most, Review("a lawyer", DAY))
    return law.deposit_cap(total, overlay, DAY, special)


def _problems(cap: int, **paid: int) -> list[str]:
    payments = [law.Payment(after, cents=cents) for after, cents in paid.items()]
    return [problem.key for problem in law.problems(payments, 2_400_000, WORK, "final inspection", cap)]


CALLS: dict[str, Callable[..., Any]] = {
    "deposit": _deposit,
    "no overlay": lambda total: law.deposit_cap(total, None, DAY),
    "problems": _problems,
    "amounts": lambda total, shares: list(law.amounts(
        [law.Payment("end", share=Fraction(share)) for share in shares], total)),
}


@pytest.mark.parametrize("row", rows("payments"))
def test_payments_are_held_to_what_a_state_allows(row: Row) -> None:
    """Every published limit, and every fact of the trade, comes out of our functions."""
    assert CALLS[row.of](**row.given) == row.gives
