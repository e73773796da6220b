"""The picture of money: every mark stands where its sum belongs, and a line ends as its contract does."""

from __future__ import annotations

import re

import pytest
from msgspec.structs import replace

from sitegen.figure import int_of
from sitegen.sheets.money_picture import LEAST, LEFT, MIDDLE, RIGHT, RING, WIDE, money_picture, place
from tests.built import HOUSES, offer

RINGED = re.compile(rf"M([\d.]+) {MIDDLE}a")
THICK = re.compile(rf"M([\d.]+) {MIDDLE}H([\d.]+)")
ARROW = f"M{WIDE - 9} {MIDDLE - 6}l7 6-7 6"


@pytest.mark.parametrize("job", HOUSES)
def test_every_mark_stands_where_its_sum_belongs(job: str) -> None:
    """The ring at the price today, the thick part from 1 in 10 lower to 1 in 10 higher, all on one scale."""
    outcome = offer(job).outcome
    drawn = money_picture(outcome)
    foot, top = int_of(drawn.foot), int_of(drawn.top)
    assert [line.option for line in drawn.each] == list(outcome.options)
    for line in drawn.each:
        price, low, high = (LEFT + (int_of(one) - foot) / (top - foot) * (RIGHT - LEFT)
                            for one in (line.option.price, line.option.p10, line.option.p90))
        ring, thick = RINGED.search(line.thin), THICK.fullmatch(line.thick)
        assert ring
        assert thick
        assert float(ring[1]) + RING == pytest.approx(price, abs=.11)
        start, end = float(thick[1]), float(thick[2])
        assert end - start >= LEAST - .01
        assert (start + end) / 2 == pytest.approx((low + high) / 2, abs=.11)
        if high - low >= LEAST:
            assert (start, end) == (pytest.approx(low, abs=.06), pytest.approx(high, abs=.06))


@pytest.mark.parametrize("job", HOUSES)
def test_a_line_ends_as_its_contract_does(job: str) -> None:
    """An upright line at the cap of what covers everything; an arrow, beyond all that could be old, for a list."""
    outcome = offer(job).outcome
    drawn = money_picture(outcome)
    for line in drawn.each:
        option = line.option
        assert line.capped == option.covers_all
        if line.capped:
            at = place(int_of(option.most_paid), int_of(drawn.foot), int_of(drawn.top))    # type: ignore[arg-type]
            assert line.thin.endswith(f"M{at:.4g} 4v18")
            assert line.most == option.most_paid
        else:
            assert line.thin.endswith(ARROW)
            assert int_of(line.most) >= int_of(option.p90)
        assert int_of(drawn.foot) <= int_of(option.price) <= int_of(line.most) <= int_of(drawn.top)
    assert drawn.marks == "pay.money.marks"


def test_a_price_without_a_cap_ends_in_an_arrow() -> None:
    """Where nothing caps what surprises add, the words say so, and one kind of end is explained alone."""
    outcome = offer(HOUSES[0]).outcome
    one = outcome.options[-1]
    drawn = money_picture(replace(outcome, options=(*outcome.options[:-1], replace(one, most_paid=None))))
    assert (drawn.each[-1].says, drawn.each[-1].capped) == ("pay.money.most.open", False)
    assert drawn.marks == "pay.money.marks.open"
    alone = money_picture(replace(outcome, options=(one,)))
    assert (alone.marks, alone.each[0].says) == ("pay.money.marks.capped", "pay.money.most.capped")


def test_an_ending_of_one_sum_is_said_once() -> None:
    """Likely ends that print alike are one sum in words, and still a mark that is seen."""
    outcome = offer(HOUSES[0]).outcome
    one = replace(outcome.options[-1], p90=outcome.options[-1].p10, most_paid=outcome.options[-1].price)
    line = money_picture(replace(outcome, options=(*outcome.options[:-1], one))).each[-1]
    assert (line.ends, line.says) == ("pay.money.sum", "pay.money.most.price")
    thick = THICK.fullmatch(line.thick)
    assert thick
    assert float(thick[2]) - float(thick[1]) == pytest.approx(LEAST, abs=.11)
