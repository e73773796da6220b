"""The atom: what a Figure refuses, and what it says."""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

import pytest

from sitegen.errors import FigureError
from sitegen.figure import Figure, Source, slug, worked_out
from sitegen.units import UNITS, Value

SEEN = Source("survey", "Priya Dunmore, job.yaml line 4")


def figure(value: Value, unit: str, name: str = "house.thing", private: bool = False) -> Figure:
    """A figure with everything else in order."""
    return Figure(name, value, unit, "Counted.", SEEN, private=private)


@pytest.mark.parametrize("name", ["", "Options.price", "options..price", ".options", "options.", "options price",
                                  "options_price",
                                  "-options", "options-", "options--price", "options/price", "wäys", "options.price\n"])
def test_a_bad_name_is_refused(name: str) -> None:
    """A name is a dotted path of lower-case words and nothing else."""
    with pytest.raises(FigureError, match=r"^a figure's name is a dotted path of lower-case words; got "):
        figure(1, "points", name)


@pytest.mark.parametrize("unit", ["", "dollars", "Cents", "point", "percent", "minute"])
def test_a_unit_has_one_spelling(unit: str) -> None:
    """A unit that is not in the list is refused, a singular too."""
    with pytest.raises(FigureError, match=f"^house.thing: no such unit as '{unit}'$"):
        figure(1, unit)


@pytest.mark.parametrize("unit", sorted(UNITS))
@pytest.mark.parametrize("value", [True, False])
def test_a_truth_value_is_no_number(unit: str, value: bool) -> None:
    """True and False are refused in every unit, though Python counts them as whole numbers."""
    with pytest.raises(FigureError, match=f"{value} is not a value in {unit}"):
        figure(value, unit)


@pytest.mark.parametrize("unit", sorted(set(UNITS) - {"chance"}))
def test_a_float_is_for_a_chance_alone(unit: str) -> None:
    """Everything but a chance is exact."""
    with pytest.raises(FigureError, match=f"0.5 is not a value in {unit}"):
        figure(0.5, unit)


@pytest.mark.parametrize(("value", "unit"), [
    (Fraction(1, 2), "cents"), (date(2026, 12, 1), "points"), (3, "date"), (1, "chance"),
    (Fraction(1, 2), "chance"), ("12", "points"), (None, "points"), (1, "quantity")])
def test_a_value_has_the_type_of_its_unit(value: Value, unit: str) -> None:
    """A value of the wrong type is refused when the figure is made, not when it is printed."""
    with pytest.raises(FigureError, match="is not a value in"):
        figure(value, unit)


def test_a_figure_says_how_and_who() -> None:
    """A figure without a method, and a source without words or of an unknown kind, are refused."""
    with pytest.raises(FigureError, match=r"^house.thing: no method$"):
        Figure("house.thing", 1, "points", " ", SEEN)
    with pytest.raises(FigureError, match=r"^a source of kind survey says nothing$"):
        Source("survey", " ")
    with pytest.raises(FigureError, match=r"^a source is one of survey, .*; got rumour$"):
        Source("rumour", "heard it")


@pytest.mark.parametrize("value", [0.0, 0.25, 1.0])
def test_a_chance_is_never_said_bare(value: float) -> None:
    """A chance takes one of the sentence forms."""
    with pytest.raises(FigureError, match=r"^house.thing is a chance: it takes one of the sentence forms"):
        figure(value, "chance").say()


def test_a_private_figure_is_never_said() -> None:
    """What is for the company's eyes cannot reach a page, and neither can what is worked out from it."""
    cost = figure(100, "cents", private=True)
    with pytest.raises(FigureError, match=r"^house.thing is private and may not reach a page$"):
        cost.say()
    with pytest.raises(FigureError, match=r"^house.margin is private and may not reach a page$"):
        worked_out("house.margin", 10, "cents", "From the cost.", cost).say()
    with pytest.raises(FigureError, match=r"^house.other is private"):
        cost.named("house.other").say()


@pytest.mark.parametrize(("value", "unit", "said"), [
    (3_260_000, "cents", "$32,600"), (90, "cents", "$0.90"), (0, "cents", "$0"), (-5_05, "cents", "-$5.05"),
    (3_264_999, "cents, forecast", "$32,600"), (3_265_000, "cents, forecast", "$32,700"),
    (date(2026, 12, 1), "date", "Dec 1, 2026"), (date(2026, 12, 1), "date, this year", "Dec 1"),
    (1912, "year", "1912"), (1234, "number", "1234"), (1234, "points", "1,234"), (1, "points", "1"),
    (Fraction(5, 2), "quantity", "2.5"), (Fraction(1, 10), "share", "10%"), (Fraction(1, 8), "share", "12.5%")])
def test_a_figure_is_said_as_people_write_it(value: Value, unit: str, said: str) -> None:
    """Each unit is printed in one form."""
    assert figure(value, unit).say() == said


def test_the_noun_follows_the_number() -> None:
    """One point, two points, no points."""
    assert [figure(n, "points").noun() for n in (0, 1, 2)] == ["points", "point", "points"]


def test_a_machine_reads_the_exact_value() -> None:
    """What a machine reads is not rounded: cents, ISO dates, fractions as they are."""
    assert figure(3_264_999, "cents, forecast").raw() == "3264999"
    assert figure(date(2026, 12, 1), "date").raw() == "2026-12-01"
    assert figure(Fraction(1, 8), "share").raw() == "1/8"


def test_a_figure_cannot_be_changed() -> None:
    """A figure is frozen."""
    with pytest.raises(AttributeError):
        figure(1, "points").value = 2  # type: ignore[misc]


def test_a_time_of_day_is_no_date() -> None:
    """A moment would bring a clock onto the page, so a date that carries a time is refused."""
    with pytest.raises(FigureError, match="is not a value in date"):
        figure(datetime(2026, 12, 1, 12, 30), "date")


@pytest.mark.parametrize(("text", "made"), [("Workers' compensation", "workers-compensation"), ("--", "x")])
def test_any_words_can_become_part_of_a_name(text: str, made: str) -> None:
    """A slug is always a good part of a name."""
    assert slug(text) == made
    assert figure(1, "points", f"house.{slug(text)}")
