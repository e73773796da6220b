"""What finished jobs say, against scipy, numpy and counts made by hand."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from scipy.stats import betabinom

from sitegen.trade.finished import (
    FITS,
    OFF,
    WIDE,
    Done,
    Fit,
    came_up,
    expected_range,
    fit,
    in_time,
    over_list,
    slip,
    sold_as,
)

SHARES = st.fractions(Fraction(1, 4), 12, max_denominator=4)
FEEDS = st.tuples(st.integers(0, 14), st.integers(0, 14)).filter(any)


def done(old: int = 3, new: int = 4, *, option: str = "per-item", days: tuple[int, int] = (10, 10),
         cases: tuple[str, ...] = ()) -> Done:
    """A finished job in which nothing else is told."""
    return Done(option, old, new, 0, 20, 4, frozenset(cases), *days, 0, None)


@given(st.integers(1, 40), SHARES, SHARES)
def test_the_range_of_a_job_is_that_of_the_beta_binomial(feeds: int, old: Fraction, new: Fraction) -> None:
    """P10 and P90 are scipy's quantiles wherever no cumulative chance lies within rounding of a tenth, and the chance
    of lying between is scipy's."""
    low, high, held = expected_range(feeds, old, new)
    law = betabinom(feeds, float(old), float(new))
    cdf = law.cdf(np.arange(feeds + 1))
    for share, mark in ((0.1, low), (0.9, high)):
        assert cdf[mark] >= share - 1e-9
        assert mark == 0 or cdf[mark - 1] < share + 1e-9
        if np.abs(cdf - share).min() > 1e-9:
            assert mark == law.ppf(share)
    assert held == pytest.approx(law.pmf(np.arange(low, high + 1)).sum(), abs=1e-10)


@given(st.lists(FEEDS, min_size=1, max_size=60), SHARES, SHARES)
def test_every_job_is_inside_below_or_above_its_own_range(feeds: list[tuple[int, int]], old: Fraction,
                                                          new: Fraction) -> None:
    """Jobs are counted once each, and those expected inside are the sum of scipy's exact chances, never under 80 %."""
    found = fit([done(*pair) for pair in feeds], old, new)
    ranges = [expected_range(sum(pair), old, new) for pair in feeds]
    assert found.inside == sum(low <= pair[0] <= high for pair, (low, high, _) in zip(feeds, ranges, strict=True))
    assert found.inside + found.below + found.above == len(feeds)
    assert found.expected == pytest.approx(sum(
        betabinom(sum(pair), float(old), float(new)).pmf(np.arange(low, high + 1)).sum()
        for pair, (low, high, _) in zip(feeds, ranges, strict=True)), abs=1e-8)
    assert found.expected >= 0.8 * len(feeds) - 1e-9


@given(st.lists(FEEDS, min_size=1, max_size=30))
def test_the_chance_of_such_a_count_is_a_product_of_polynomials(feeds: list[tuple[int, int]]) -> None:
    """The count inside, were the judgement right, has the chances that numpy's product of (1 - p) + p x gives."""
    found = fit([done(*pair) for pair in feeds], Fraction(2), Fraction(2))
    product = np.polynomial.Polynomial([1.0])
    for pair in feeds:
        p = expected_range(sum(pair), Fraction(2), Fraction(2))[2]
        product *= np.polynomial.Polynomial([1 - p, p])
    assert found.as_few == pytest.approx(product.coef[:found.inside + 1].sum(), abs=1e-10)
    assert found.as_many == pytest.approx(product.coef[found.inside:].sum(), abs=1e-10)


def test_jobs_drawn_from_the_judgement_fit_it_as_often_as_they_should() -> None:
    """Of 400 firms whose 43 jobs are drawn from their own judgement, at most about 1 in 10 is told that it is off."""
    rng = np.random.default_rng(20261127)
    law = {feeds: betabinom(feeds, 2, 2) for feeds in range(6, 16)}
    off = 0
    for _ in range(400):
        sizes = rng.integers(6, 16, 43)
        jobs = [done(int(old), int(size - old)) for size in sizes
                for old in [law[int(size)].rvs(random_state=rng)]]
        off += fit(jobs, Fraction(2), Fraction(2)).verdict != FITS
    assert off <= 48


@pytest.mark.parametrize(("feeds", "says"), [
    ([(5, 5)] * 43, WIDE), ([(10, 0)] * 30 + [(5, 5)] * 13, OFF), ([(0, 10)] * 30 + [(5, 5)] * 13, OFF),
    ([(0, 10)] * 20 + [(10, 0)] * 20, OFF), ([(5, 5)] * 37 + [(10, 0)] * 6, FITS)])
def test_the_verdict_says_how_the_judgement_stood_up(feeds: list[tuple[int, int]], says: str) -> None:
    """With 10 feeds a job and two old in four believed, P10 to P90 is from 1 to 9 old feeds."""
    assert expected_range(10, Fraction(2), Fraction(2))[:2] == (1, 9)
    assert fit([done(*pair) for pair in feeds], Fraction(2), Fraction(2)).verdict == says


def test_one_in_twenty_is_the_limit() -> None:
    """A count that would come in 1 of 20 cases stands; one that is rarer speaks against the judgement."""
    assert Fit(30, 3, 10, 36.0, 0.05, 0.99).verdict == FITS
    assert Fit(30, 3, 10, 36.0, 0.0499, 0.99).verdict == OFF
    assert Fit(42, 0, 1, 36.0, 0.99, 0.05).verdict == FITS
    assert Fit(42, 0, 1, 36.0, 0.99, 0.0499).verdict == WIDE


def test_what_is_counted() -> None:
    """Options, cases and jobs in time are raw counts of jobs."""
    jobs = [done(option="per-item", cases=("rot", "gas-pipe")), done(option="fixed-guarantee", days=(10, 11)),
            done(option="per-item", cases=("rot",), days=(10, 8))]
    assert [sold_as(jobs, option) for option in ("per-item", "fixed-guarantee", "minimal-protection")] == [2, 1, 0]
    assert [came_up(jobs, case) for case in ("rot", "gas-pipe", "asbestos")] == [2, 1, 0]
    assert in_time(jobs) == 2


@given(st.lists(st.integers(-5, 15), min_size=1, max_size=60), st.sampled_from([0.5, 0.9]))
def test_the_slip_is_the_smallest_that_enough_jobs_do_not_exceed(slips: list[int], share: float) -> None:
    """The quantile of numpy's inverted distribution, jobs weighing alike."""
    jobs = [done(days=(10, 10 + late)) for late in slips]
    assert slip(jobs, share) == np.quantile(np.array(slips), share, method="inverted_cdf")
    more = [replace(done(), over_list=late + 5) for late in slips]
    assert over_list(more, share) == slip(jobs, share) + 5


def test_no_job_has_no_slip() -> None:
    """Nothing is counted where there is nothing."""
    with pytest.raises(ValueError, match="no job"):
        slip([], 0.5)
