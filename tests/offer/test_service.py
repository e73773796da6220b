"""Whether a service carries its loads: at the limit, one ampere to either side, and a size of service further."""

from __future__ import annotations

from fractions import Fraction
from importlib import import_module
from pathlib import Path
from unittest.mock import patch

import pytest
from msgspec.structs import replace

from sitegen.build import offer_from
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.design.service import dwelling, service
from sitegen.review.questions import questions
from sitegen.rules.read import every_rule
from sitegen.survey.rule_sets import code
from sitegen.trade.service_load import existing, optional
from tests.helpers import DEMO, JOB

CODE = code("2023")
VA_OF_A_SQUARE_FOOT = Fraction(6, 5)
"""Past the first tier: 3 VA at 40 percent, by the optional method (NEC 220.82) and for an existing house (220.83)."""


def loaded(inputs: Inputs, amperes: Fraction | int, method: str) -> Inputs:
    """The same house, its area such that its load by a method comes to exactly so many amperes at 240 V."""
    found = _demand(inputs, method)
    area = inputs.job.house.area + (240 * amperes - found) / VA_OF_A_SQUARE_FOOT
    made = replace(inputs, job=inputs.job.model_copy(update={
        "house": inputs.job.house.model_copy(update={"area": area})}))
    assert _demand(made, method) == 240 * amperes
    return made


def _demand(inputs: Inputs, method: str) -> Fraction:
    house = dwelling(inputs.job)
    return (existing(CODE.load, house, False) if method == "existing" else optional(CODE.load, house)).total


def with_panel(inputs: Inputs, **fields: object) -> Inputs:
    """The same house with another panel."""
    return replace(inputs, job=inputs.job.model_copy(update={"panel": inputs.job.panel.model_copy(update=fields)}))


def asked(inputs: Inputs, words: str) -> list[str]:
    """The questions that hold these words."""
    return [str(question) for question in questions(offer_from(inputs)) if words in question.says]


@pytest.fixture(scope="module")
def house() -> Inputs:
    """A demo house of 60 A today and 200 A planned."""
    return load(DEMO, DEMO / JOB, Path.cwd())


AT_THE_LIMIT = [(-40, False), (-1, False), (0, True), (1, True), (40, True)]
"""Rating less the load [A], and whether it is enough: a load equal to the rating is carried, nothing over it."""


@pytest.mark.parametrize(("spare", "enough"), AT_THE_LIMIT)
def test_the_service_of_today_is_enough_up_to_its_rating(house: Inputs, spare: int, enough: bool) -> None:
    """120 A by the rule for an existing house, against ratings around it: sheet and question say the same."""
    found = with_panel(loaded(house, 120, "existing"), rating=120 + spare)
    assert service(found, CODE).enough_now is enough
    assert asked(found, "of today carries") == ([] if enough else [
        f"The calculated load is 120 A by the rule for an existing house, and the service of today carries "
        f"{120 + spare} "
        "A. (NEC 220.83)"])


@pytest.mark.parametrize(("spare", "enough"), AT_THE_LIMIT)
def test_the_service_planned_is_enough_up_to_its_rating(house: Inputs, spare: int, enough: bool) -> None:
    """150 A by the optional method, against ratings around it: sheet and question say the same."""
    found = with_panel(loaded(house, 150, "optional"), new_rating=150 + spare)
    assert service(found, CODE).enough_then is enough
    assert asked(found, "is planned for") == ([] if enough else [
        f"The calculated load is 150 A, and the service is planned for {150 + spare} A. (NEC 220.82)"])


def test_a_volt_ampere_over_the_rating_is_too_much(house: Inputs) -> None:
    """The load is compared as it is, not as it is printed: 120 A and 1 VA print as 120 A and are over 120 A."""
    over = 120 + Fraction(1, 240)
    now = with_panel(loaded(house, over, "existing"), rating=120)
    then = with_panel(loaded(house, over, "optional"), new_rating=120)
    assert service(now, CODE).present.amperes.value == service(then, CODE).planned.amperes.value == 120
    assert not service(now, CODE).enough_now
    assert not service(then, CODE).enough_then
    assert asked(now, "of today carries")
    assert asked(then, "is planned for")


def test_a_service_that_stays_is_held_to_its_own_rating(house: Inputs) -> None:
    """Without a new rating the service planned is the one of today."""
    stays = with_panel(loaded(house, 150, "optional"), rating=150, new_rating=None)
    assert service(stays, CODE).rating_then.value == 150
    assert service(stays, CODE).enough_then
    short = with_panel(stays, rating=149)
    assert not service(short, CODE).enough_then
    assert asked(short, "is planned for")


def test_the_load_is_marked_for_rows_of_the_load_alone(house: Inputs) -> None:
    """With every row of the load verified, rows of other topics that nobody verified do not mark it."""
    rows = {key: replace(row, unverified=(), by_edition=False) if key.startswith("load-") else row
            for key, row in every_rule().items()}
    assert any(row.unverified_in("2026") for row in rows.values())
    with patch.object(import_module("sitegen.offer.design.service"), "every_rule", lambda: rows):
        assert not service(house, code("2026")).unverified


@pytest.mark.parametrize(("planned", "questions_"), [(60, 1), (99, 1), (100, 0), (101, 0)])
def test_a_house_has_at_least_100_amperes(house: Inputs, planned: int, questions_: int) -> None:
    """A service disconnect of a one-family dwelling is rated 100 A or more (NEC 230.79(C))."""
    for found in (with_panel(house, new_rating=planned), with_panel(house, rating=planned, new_rating=None)):
        assert len(asked(found, "a house has at least 100 A")) == questions_


@pytest.mark.parametrize(("planned", "least"), [(109, [110]), (110, []), (111, [])])
def test_a_new_service_is_of_the_least_standard_rating(house: Inputs, planned: int, least: list[int]) -> None:
    """101 A take the next standard rating, 110 A (NEC 240.6(A)); a service that stays is not held to a new one's."""
    found = loaded(house, 101, "optional")
    assert service(found, CODE).least.value == 110
    assert asked(with_panel(found, new_rating=planned), "least standard rating") == [
        f"The least standard rating for these loads is {amperes} A. (NEC 230.42, 230.79)" for amperes in least]
    assert not asked(with_panel(found, rating=planned, new_rating=None), "least standard rating")
