"""What is paid when, on the demo houses: never ahead of the work, the last after the last inspection."""

from __future__ import annotations

from datetime import date

import pytest

from sitegen.figure import int_of
from tests.built import HOUSES, offer


@pytest.mark.parametrize("house", HOUSES)
def test_the_payments_come_to_the_price_and_follow_the_plan(house: str) -> None:
    """To the cent, in the order of the plan's days, and the last on the day of the last inspection."""
    found = offer(house)
    for option in found.outcome.options:
        due = found.paying[option.key].due
        assert sum(int_of(one.amount) for one in due) == int_of(option.price)
        days = [one.day.value for one in due if one.day is not None]
        assert days == sorted(days)
        assert due[-1].after == "final inspection"
        final = next(step for step in found.dates.options[option.key].chosen.steps if step.kind == "inspect final")
        assert due[-1].day is not None
        assert due[-1].day.value == final.last.value


def test_payments_by_hand() -> None:
    """Of $39,000 sixty of a hundred are $23,400, thirty are $11,700 and ten are $3,900 (invented prices)."""
    due = offer("alder-lane").paying["fixed-guarantee"].due
    assert [(one.after, int_of(one.amount)) for one in due] == [
        ("old wires dead", 23_400_00), ("holes closed", 11_700_00), ("final inspection", 3_900_00)]
    assert next(one.day.value for one in due if one.day) == date(2026, 12, 15)
