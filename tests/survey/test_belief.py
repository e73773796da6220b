"""The terms that the endings read, from the cards."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from sitegen.job.load import load
from sitegen.survey.house import belief_of
from sitegen.trade.feeds import FeedPrior
from sitegen.trade.terms import Belief
from tests.helpers import DEMO, JOB


def test_each_figure_of_the_firms_judgement_is_read_as_what_it_is_called() -> None:
    """Old is old and new is new: with eight figures that all differ, none stands for another."""
    figures = {"old_feeds": 2, "new_feeds": 3, "new_ends_turn_out_old": Fraction(1, 10),
               "part_feed_old": Fraction(1, 4), "part_feed_new": Fraction(1, 5),
               "blocked_drops": 4, "open_drops": 5, "hard_house_shift": Fraction(1, 2)}
    company = load(DEMO, DEMO / JOB, Path.cwd()).company
    judged = company.model_copy(update={"prior": company.prior.model_copy(update={
        name: Fraction(value) for name, value in figures.items()})})
    assert belief_of(judged) == Belief(
        FeedPrior(old=Fraction(2), new=Fraction(3), new_ends_old=Fraction(1, 10), part_old=Fraction(1, 4),
                  part_new=Fraction(1, 5)),
        blocked_a=Fraction(4), blocked_b=Fraction(5), shift=Fraction(1, 2))
