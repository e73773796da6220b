"""The schedule drawn as bars: what a bar shows is what the dates say."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from sitegen.figure import day_of
from sitegen.offer.offer import Offer
from sitegen.sheets.bars import COLUMNS, Axis, Bars, axis_of, bars
from tests import built
from tests.built import HOUSES


@pytest.fixture(scope="module", params=HOUSES)
def offer(request: pytest.FixtureRequest) -> Offer:
    """Each house of the demo."""
    return built.offer(request.param)


@pytest.fixture(scope="module")
def drawn(offer: Offer) -> Bars:
    """Its bars."""
    return bars(offer.outcome, offer.dates)


def _axis(offer: Offer) -> Axis:
    return axis_of(day_of(offer.dates.work_starts), max(
        day_of(method.finished) for option in offer.dates.options.values() for method in option.both))


def _rect(svg: str, kind: str) -> tuple[float, float]:
    """Where the rectangle of a kind begins and ends, in percent."""
    (x, width), = re.findall(rf'class="{kind}" x="([\d.]+)%" y="\d+" width="([\d.]+)%"', svg)
    return float(x), float(x) + float(width)


@pytest.mark.parametrize(("start", "end", "monday", "weeks"), [
    (date(2026, 12, 2), date(2027, 1, 26), date(2026, 11, 30), 9),      # 8 weeks and 2 days, in three parts
    (date(2027, 1, 4), date(2027, 1, 24), date(2027, 1, 4), 3),         # a Monday to the third Sunday: no day more
    (date(2027, 1, 4), date(2027, 1, 25), date(2027, 1, 4), 6),         # one day more
    (date(2027, 1, 10), date(2027, 1, 10), date(2027, 1, 4), 3)])       # a Sunday, one day
def test_an_axis_begins_on_a_monday_and_falls_into_whole_weeks(start: date, end: date, monday: date,
                                                               weeks: int) -> None:
    """Three equal parts of whole weeks, the fewest that hold both days."""
    assert axis_of(start, end) == Axis(monday, weeks)


def test_a_day_begins_where_the_day_before_ends() -> None:
    """Percent of the axis, worked by hand: a week of three is a third, a day a twenty-first."""
    axis = Axis(date(2027, 1, 4), 3)
    assert axis.at(date(2027, 1, 4)) == 0
    assert axis.at(date(2027, 1, 11)) == pytest.approx(33.33)
    assert axis.at(date(2027, 1, 10), after=True) == axis.at(date(2027, 1, 11))
    assert axis.at(date(2027, 1, 24), after=True) == 100


def test_bars_stand_in_the_order_of_the_options(offer: Offer, drawn: Bars) -> None:
    """Lowest price today first, as on every sheet."""
    assert [bar.option.key for bar in drawn.each] == [option.key for option in offer.outcome.options]


def test_a_bar_is_hatched_to_dead_and_plain_to_finished(offer: Offer, drawn: Bars) -> None:
    """Both methods of every option end where their dates say, and hatched meets plain on the day of the test."""
    axis = _axis(offer)
    for bar in drawn.each:
        assert [method.key for method, _ in bar.drawn] == ["empty", "lived-in"]
        for method, svg in bar.drawn:
            live, plain = _rect(svg, "hot"), _rect(svg, "rest")
            assert live[0] == pytest.approx(axis.at(day_of(offer.dates.work_starts)), abs=0.02)
            assert live[1] == pytest.approx(axis.at(day_of(method.dead), after=True), abs=0.02)
            assert plain == pytest.approx((axis.at(day_of(method.dead), after=True),
                                           axis.at(day_of(method.finished), after=True)), abs=0.02)
            assert plain[1] <= 100.01


def test_the_marks_stand_on_the_two_dates(offer: Offer, drawn: Bars) -> None:
    """The cross is on old wires dead, the heavy line on all finished."""
    axis = _axis(offer)
    for bar in drawn.each:
        for method, svg in bar.drawn:
            for mark, day in (("killed", method.dead), ("ended", method.finished)):
                found = re.findall(rf'class="{mark}" x="([\d.]+)%"', svg)
                assert [float(x) for x in found] == [pytest.approx(axis.at(day_of(day), after=True), abs=0.01)]


def test_ticks_are_the_first_days_of_the_parts(offer: Offer, drawn: Bars) -> None:
    """Mondays at equal steps, the year said where it is not that of the date before."""
    axis, year = _axis(offer), day_of(offer.dates.prepared).year
    assert [day_of(tick) for tick in drawn.ticks] == [
        axis.start + timedelta(weeks=axis.weeks // COLUMNS * i) for i in range(COLUMNS)]
    for tick in drawn.ticks:
        assert tick.unit == ("date, this year" if day_of(tick).year == year else "date")
        year = day_of(tick).year


def test_a_bar_holds_no_text_and_no_colour_of_its_own(drawn: Bars) -> None:
    """Words stand in HTML and colours in the style sheet, so that a bar works in the dark and in print."""
    for bar in drawn.each:
        for _, svg in bar.drawn:
            assert not re.search(r"<text|style=|fill=|stroke=|#[0-9a-f]{3}", svg)
