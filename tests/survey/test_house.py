"""What the stop-work list of a job does to the chance of a case."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sitegen.job.fields import CAPPED
from sitegen.job.load import load
from sitegen.survey.house import case_chance
from tests.helpers import DEMO

INPUTS = load(DEMO, DEMO / "alder-lane", DEMO)


@pytest.mark.parametrize(("answer", "chance"), [("yes", Fraction(1)), ("no", Fraction(0)),
                                                ("not seen", Fraction(5, 100)), (CAPPED, Fraction(5, 100))])
def test_a_pipe_that_was_seen_capped_and_not_tested_keeps_its_chance(answer: str, chance: Fraction) -> None:
    """The book's 5 of 100 stand for a gas pipe that nobody saw, and for one that is capped and was not tested."""
    case = next(case for case in INPUTS.book.cases if case.key == "gas-pipe")
    job = INPUTS.job.model_copy(update={"stop_work": {**INPUTS.job.stop_work, "gas-light pipe": answer}})
    assert case_chance(case, job) == chance
