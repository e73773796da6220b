"""What finished jobs say: raw counts, the slip of their dates, and how the firm's judgement stood up to them.

Nothing here changes what the firm believes.  Its judgement of feeds is set beside what each job turned out to be, as
that judgement was before anybody looked at the house: a beta-binomial on all feeds of the job.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from fractions import Fraction

from msgspec import Struct

from sitegen.trade.feeds import beta_binomial, quantile

ENOUGH = 10
"""Finished jobs from which on a count is shown; with fewer there is none."""

LOW, HIGH = 0.1, 0.9
"""1 in 10 below, 1 in 10 above: what a range of ours means."""

RARE = Fraction(1, 20)
"""A count that would come in fewer than so many cases, were the judgement right, speaks against it."""

FITS, OFF, WIDE = "fits", "off", "wide"
"""How a judgement stood up: it fits; too few jobs lie inside its range; so many do that it is wider than they are."""


class Done(Struct, frozen=True):
    """One finished job.

    `old`, `new`         [feeds] found by the end, old and new
    `over_list`          [points] found old that were not on the list
    `fished`, `blocked`  [drops] tried, and blocked among them
    `cases`              what came up, by key
    `planned`, `worked`  [days] with a crew in the house
    `inside`             whether it ended inside the range given before work; None where none was given
    """

    option: str
    old: int
    new: int
    over_list: int
    fished: int
    blocked: int
    cases: frozenset[str]
    planned: int
    worked: int
    call_backs: int
    inside: bool | None


class Fit(Struct, frozen=True):
    """How many jobs' old feeds lie inside the range that the judgement had for them, below and above it [jobs].

    `expected`  [jobs] that would lie inside on average, were the judgement right: the sum of the exact chances
    `as_few`    chance that so few or fewer lie inside, were it right
    `as_many`   chance that so many or more do
    """

    inside: int
    below: int
    above: int
    expected: float
    as_few: float
    as_many: float

    @property
    def verdict(self) -> str:
        """One of FITS, OFF and WIDE."""
        return OFF if self.as_few < RARE else WIDE if self.as_many < RARE else FITS


def sold_as(jobs: Iterable[Done], option: str) -> int:
    """Jobs that were sold as one option."""
    return sum(job.option == option for job in jobs)


def came_up(jobs: Iterable[Done], case: str) -> int:
    """Jobs in which one case came up."""
    return sum(case in job.cases for job in jobs)


def over_list(jobs: Iterable[Done], share: float) -> int:
    """Points found old over the list: the smallest count that this share of the jobs does not exceed [points].

    Raises ValueError for no job.
    """
    return _at(share, [job.over_list for job in jobs])


def in_time(jobs: Iterable[Done]) -> int:
    """Jobs that took no more days than planned, so that they ended on or before the planned day."""
    return sum(job.worked <= job.planned for job in jobs)


def slip(jobs: Iterable[Done], share: float) -> int:
    """Days worked beyond the days planned: the smallest count that this share of the jobs does not exceed [days].

    Below nought where they ended early.  Raises ValueError for no job.
    """
    return _at(share, [job.worked - job.planned for job in jobs])


def _at(share: float, counts: Collection[int]) -> int:
    """The smallest count that this share of all counts does not exceed."""
    if not counts:
        raise ValueError("there is no job to count")
    return quantile({count: many / len(counts) for count, many in Counter(counts).items()}, share)


def expected_range(feeds: int, old: Fraction, new: Fraction) -> tuple[int, int, float]:
    """P10 and P90 of the old feeds among `feeds`, and the exact chance of lying from one to the other, both included.

    `old` and `new` are the prior's feeds: "as if we had traced so many, and so many of them were old".
    """
    row = beta_binomial(feeds, old, new)
    chances = dict(enumerate(row))
    low, high = quantile(chances, LOW), quantile(chances, HIGH)
    return low, high, sum(row[low:high + 1])


def fit(jobs: Iterable[Done], old: Fraction, new: Fraction) -> Fit:
    """How the old feeds of each job lie in the prior predictive range for its number of feeds.

    Parameters
    ----------
    jobs : iterable of Done
        Finished jobs [feeds].
    old, new : Fraction
        The prior's old and new feeds, both above nought.

    Returns
    -------
    Fit
        Counts of jobs, and the exact chances of counts as few and as many.

    Notes
    -----
    Counts are lumpy, so P10 to P90 holds more than 80 %; each job is held against its own exact chance.  These chances
    differ by the number of feeds, so the jobs inside are a sum of independent tosses that differ (Poisson binomial),
    worked out by convolving them one by one.
    """
    inside = below = above = 0
    chances, expected = [1.0], 0.0
    for job in jobs:
        low, high, held = expected_range(job.old + job.new, old, new)
        below, above = below + (job.old < low), above + (job.old > high)
        inside += low <= job.old <= high
        expected += held
        chances = _with_toss(chances, held)
    return Fit(inside, below, above, expected, sum(chances[:inside + 1]), sum(chances[inside:]))


def _with_toss(chances: Sequence[float], p: float) -> list[float]:
    """The chances of each count of successes, after one more toss."""
    return [stays * (1 - p) + comes * p for stays, comes in zip((*chances, 0.0), (0.0, *chances), strict=True)]


__all__ = ["ENOUGH", "FITS", "HIGH", "OFF", "WIDE", "Done", "Fit", "came_up", "expected_range", "fit", "in_time",
           "over_list", "slip", "sold_as"]
