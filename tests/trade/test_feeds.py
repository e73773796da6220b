"""Hidden points by feed: the published figures, an outside library, exact counting, rules and limits."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from scipy import stats

from sitegen.trade.feeds import (
    Feed,
    FeedPrior,
    HiddenPoints,
    beta_binomial,
    bits,
    hidden_points,
    points_alone,
    quantile,
    reach,
    tally,
)
from tests.trade import examples, oracle

Feeds = tuple[Feed, ...]
Lumps = tuple[int, Fraction, Fraction]
EXACT = 1e-12
QUIET = settings(max_examples=60, deadline=None, derandomize=True)

sizes = st.integers(0, 4)
priors = st.builds(
    lambda a, b, e: FeedPrior(Fraction(a, 2), Fraction(b, 2), Fraction(e, 20)),
    st.integers(1, 8), st.integers(1, 8), st.integers(1, 19),
)
parts = st.builds(
    lambda known, unseen, listed, new: Feed("part", "part", known, unseen, known + listed, new),
    st.integers(0, 2), sizes, st.integers(0, 1), st.integers(0, 2),
).filter(lambda feed: feed.opened_old + feed.opened_new > 0)
unopened = st.builds(Feed, st.just("f"), st.sampled_from(["new", "new ends", "not traced"]), unseen=sizes)
old_feeds = st.builds(
    lambda known, unseen, listed, new: Feed("old", "old", known, unseen, known + listed, new),
    sizes, sizes, st.integers(0, 1), st.integers(0, 2),
)
houses = st.lists(st.one_of(unopened, old_feeds, parts), max_size=7).map(tuple)


def mean(hidden: HiddenPoints) -> float:
    """Mean of H [points]."""
    return sum(points * p for (points, _), p in hidden.items())


def never_higher(one: HiddenPoints, other: HiddenPoints) -> bool:
    """Whether `one` is at least as likely to stay within every count, of points and of feeds charged."""
    for axis in (0, 1):
        for mark in {pair[axis] for pair in (*one, *other)}:
            inside = [sum(p for pair, p in hidden.items() if pair[axis] <= mark) for hidden in (one, other)]
            if inside[0] < inside[1] - EXACT:
                return False
    return True


# -------------------------------------------------------------------------------------- published figures


def test_example_1_points() -> None:
    """Each untraced feed adds all of its points or none, on top of what is known to be old."""
    # Worked example 1 of the hidden-wiring model, invented house: six places as published.
    alone = points_alone(hidden_points(examples.EXAMPLE_1_FEEDS, examples.PRIOR))
    assert {points: round(p, 6) for points, p in alone.items()} == examples.EXAMPLE_1_HIDDEN
    assert tuple(quantile(alone, mark) for mark in (0.1, 0.5, 0.9)) == examples.EXAMPLE_1_MARKS


def test_example_1_feeds() -> None:
    """Three feeds are charged for certain, and one more for each untraced feed that is old."""
    # Worked example 1 of the hidden-wiring model, invented house: old feeds among the three untraced.
    hidden = hidden_points(examples.EXAMPLE_1_FEEDS, examples.PRIOR)
    charged = [round(sum(p for (_, feeds), p in hidden.items() if feeds == 3 + old), 6) for old in range(4)]
    assert tally(examples.EXAMPLE_1_FEEDS) == (3, 2)
    assert tuple(charged) == examples.EXAMPLE_1_OLD_FEEDS


def test_example_2_part_feed() -> None:
    """Two boxes alike say much of a partly opened feed, and one of each says little."""
    # Worked example 2 of the hidden-wiring model: three places as published.
    def row(feed: Feed) -> list[float]:
        alone = points_alone(hidden_points([feed], examples.PRIOR))
        return [round(alone[points], 3) for points in range(feed.unseen + 1)]

    flat = row(examples.EXAMPLE_2_ONE_OF_TWO)
    assert row(examples.EXAMPLE_2_TWO_OF_TWO)[6] == examples.EXAMPLE_2_ALL_OR_NONE
    assert row(examples.EXAMPLE_2_NONE_OF_TWO)[0] == examples.EXAMPLE_2_ALL_OR_NONE
    assert (min(flat), max(flat)) == examples.EXAMPLE_2_FLAT


def test_example_4_points() -> None:
    """A whole house runs from what is known today to every point that nobody traced new."""
    # Worked example 4 of the hidden-wiring model, invented house: O and N, marks and ends of H as published.
    alone = points_alone(hidden_points(examples.EXAMPLE_4_FEEDS, examples.PRIOR))
    assert tally(examples.EXAMPLE_4_FEEDS) == examples.EXAMPLE_4_HABIT
    assert tuple(quantile(alone, mark) for mark in (0.1, 0.5, 0.9)) == examples.EXAMPLE_4_HIDDEN_MARKS
    assert (min(alone), max(alone)) == examples.EXAMPLE_4_HIDDEN_ENDS


# ----------------------------------------------------------------------- an outside library, exact counting


@given(n=st.integers(0, 60), a=st.integers(1, 40), b=st.integers(1, 40))
@QUIET
def test_beta_binomial_row(n: int, a: int, b: int) -> None:
    """A row of the recurrence is the beta-binomial to 1e-12 and adds up to one."""
    # Outside values: scipy.stats.betabinom.
    row = beta_binomial(n, Fraction(a, 4), Fraction(b, 4))
    assert row == pytest.approx(stats.betabinom(n, a / 4, b / 4).pmf(range(n + 1)), abs=EXACT, rel=0)
    assert sum(row) == pytest.approx(1, abs=EXACT)


@given(count=st.integers(1, 20), old=st.integers(0, 5), new=st.integers(0, 5), prior=priors)
@QUIET
def test_one_point_a_feed(count: int, old: int, new: int, prior: FeedPrior) -> None:
    """With one point a feed, H is the beta-binomial on feeds with what was found added to the prior."""
    # Outside values: scipy.stats.betabinom(T, a + O, b + N).
    untraced = [Feed("u", "not traced", unseen=1)] * count
    feeds = [*untraced, *[Feed("o", "old")] * old, *[Feed("n", "new")] * new]
    hidden = hidden_points(feeds, prior)
    outside = stats.betabinom(count, float(prior.old + old), float(prior.new + new)).pmf(range(count + 1))
    assert set(hidden) == {(j, j) for j in range(count + 1)}
    assert [hidden[j, j] for j in range(count + 1)] == pytest.approx(outside, abs=EXACT, rel=0)


@given(feeds=houses, prior=priors)
@QUIET
def test_counted_one_outcome_at_a_time(feeds: Feeds, prior: FeedPrior) -> None:
    """Points and feeds charged together have the chances that counting every outcome gives."""
    hidden, exact = hidden_points(feeds, prior), oracle.brute_hidden_points(feeds, prior)
    assert hidden == pytest.approx({pair: float(p) for pair, p in exact.items()}, abs=EXACT, rel=0)
    assert sum(hidden.values()) == pytest.approx(1, abs=EXACT)


@given(feeds=houses, prior=priors, certain=st.sampled_from([None, Fraction(0), Fraction(1)]))
@QUIET
def test_reach_is_what_can_come(feeds: Feeds, prior: FeedPrior, certain: Fraction | None) -> None:
    """The pairs that can come are told without their chances, and are those that counting finds, no more."""
    prior = prior if certain is None else replace(prior, new_ends_old=certain)
    pairs = {(points, charged) for charged, mask in enumerate(reach(feeds, prior)) for points in bits(mask)}
    assert pairs == set(hidden_points(feeds, prior)) == set(oracle.brute_hidden_points(feeds, prior))
    assert len(reach(feeds, prior)) == 1 + len(feeds)       # from no feed charged to every one


@pytest.mark.parametrize("evidence", ["not traced", "part", "new ends"])
def test_sixty_feeds(evidence: str) -> None:
    """Three hundred points on sixty feeds: the feeds that are old, and the mean of the points, as they must be."""
    # Outside values: scipy.stats.betabinom and binom; a mean by hand, since each point's own chance is known.
    feeds = [Feed(str(i), evidence, unseen=1 + i % 9, opened_new=int(evidence == "part")) for i in range(60)]
    hidden, points = hidden_points(feeds, examples.PRIOR), sum(feed.unseen for feed in feeds)
    assert (sum(hidden.values()), points, max(hidden)) == (pytest.approx(1, abs=EXACT), 291, (291, 60))
    share = {"not traced": 1 / 2, "part": 1 / 6, "new ends": 6 / 100}[evidence]
    assert mean(hidden) == pytest.approx(share * points, abs=1e-9)
    charged = [sum(p for (_, feeds_charged), p in hidden.items() if feeds_charged == j) for j in range(61)]
    if evidence != "part":
        outside = stats.betabinom(60, 2, 2) if evidence == "not traced" else stats.binom(60, 0.06)
        assert charged == pytest.approx(outside.pmf(range(61)), abs=EXACT, rel=0)


@given(feeds=houses, prior=priors, seed=st.randoms(use_true_random=False))
@QUIET
def test_order_of_feeds(feeds: Feeds, prior: FeedPrior, seed: object) -> None:
    """The order in which feeds are written down changes nothing."""
    mixed = list(feeds)
    seed.shuffle(mixed)  # type: ignore[attr-defined]
    assert hidden_points(mixed, prior) == pytest.approx(hidden_points(feeds, prior), abs=EXACT)


@pytest.mark.parametrize("factor", [Fraction(1, 2), Fraction(1), Fraction(2), Fraction(40)])
def test_times(factor: Fraction) -> None:
    """Half and twice as many old feeds move a and e, leave b and the part feeds, and hold e to one."""
    moved = examples.PRIOR.times(factor)
    assert (moved.old, moved.new) == (2 * factor, 2)
    assert moved.new_ends_old == min(1, Fraction(6, 100) * factor)
    assert (moved.part_old, moved.part_new) == (Fraction(1, 4), Fraction(1, 4))


# -------------------------------------------------------------------------------- rules that must hold


@given(rest=houses, feed=st.one_of(parts, old_feeds), prior=priors)
@QUIET
def test_one_more_old_never_lowers(rest: Feeds, feed: Feed, prior: FeedPrior) -> None:
    """One more old among the same opened boxes never lowers H, whether that box is on the list or not."""
    assume(feed.opened_new)
    more = replace(feed, opened_old=feed.opened_old + 1, opened_new=feed.opened_new - 1)
    before = hidden_points((*rest, feed), prior)
    assert never_higher(before, hidden_points((*rest, more), prior))
    assert never_higher(before, hidden_points((*rest, replace(more, known=more.known + 1)), prior))


@given(rest=houses, evidence=st.sampled_from(["not traced", "new ends", "part"]), unseen=sizes,
       opened=st.integers(1, 3), prior=priors)
@QUIET
def test_traced_new_never_raises(rest: Feeds, evidence: str, unseen: int, opened: int, prior: FeedPrior) -> None:
    """A feed that is traced and found new never raises H, whatever was thought of it."""
    feed = Feed("f", evidence, unseen=unseen, opened_new=opened if evidence == "part" else 0)
    traced = hidden_points((*rest, Feed("f", "new", unseen=unseen)), prior)
    assert never_higher(traced, hidden_points((*rest, feed), prior))


@given(feeds=houses, place=st.integers(0, 6), prior=priors, of_known=st.booleans())
@QUIET
def test_listing_never_raises(feeds: Feeds, place: int, prior: FeedPrior, of_known: bool) -> None:
    """A point that goes on the list never raises H, whether it was known to be old or never seen."""
    assume(place < len(feeds))
    feed = feeds[place]
    assume(feed.known if of_known else feed.unseen)
    listed = replace(feed, known=feed.known - of_known, unseen=feed.unseen - (not of_known))
    after = hidden_points((*feeds[:place], listed, *feeds[place + 1:]), prior)
    assert never_higher(after, hidden_points(feeds, prior))


@given(rest=houses, unseen=st.integers(1, 6), prior=priors)
@QUIET
def test_one_box_on_an_untraced_feed(rest: Feeds, unseen: int, prior: FeedPrior) -> None:
    """One box opened old on an untraced feed raises the mean of H, and one opened new lowers it.

    So long as the house's habit lies between 1/6 and 5/6: that is what one box by itself says of the rest of
    its feed, (1/4) / (3/2) and (5/4) / (3/2).
    """
    feed = Feed("f", "not traced", unseen=unseen)
    old, new = tally(rest)
    habit = (prior.old + old) / (prior.old + old + prior.new + new)
    assume(Fraction(1, 6) <= habit <= Fraction(5, 6))
    opened = replace(feed, evidence="part", unseen=unseen - 1)
    before = mean(hidden_points((*rest, feed), prior))
    assert mean(hidden_points((*rest, replace(opened, known=1, opened_old=1)), prior)) > before + EXACT
    assert mean(hidden_points((*rest, replace(opened, opened_new=1)), prior)) < before - EXACT


# ------------------------------------------------------------------------------------------------- limits


@given(count=st.integers(1, 8), unseen=st.integers(1, 6), prior=priors)
@QUIET
def test_nothing_opened(count: int, unseen: int, prior: FeedPrior) -> None:
    """With nothing traced or opened the mean of H is the prior's share of all points."""
    hidden = hidden_points([Feed(str(i), "not traced", unseen=unseen) for i in range(count)], prior)
    share = float(prior.old / (prior.old + prior.new))
    assert mean(hidden) == pytest.approx(count * unseen * share, abs=1e-10)


@given(feeds=st.lists(st.builds(Feed, st.just("f"), st.sampled_from(["old", "new"]), unseen=sizes)),
       prior=priors)
@QUIET
def test_all_traced(feeds: list[Feed], prior: FeedPrior) -> None:
    """With every feed traced nothing is a chance: H is every point of the old feeds, charged once a feed."""
    old = [feed.unseen for feed in feeds if feed.evidence == "old"]
    assert hidden_points(feeds, prior) == {(sum(old), sum(size > 0 for size in old)): 1.0}


def test_no_old_wiring_and_all_old() -> None:
    """A house traced new through and through hides nothing; one traced old hides every point not listed."""
    sizes_now = (3, 0, 5)
    new, old = ([Feed(str(size), evidence, unseen=size) for size in sizes_now] for evidence in ("new", "old"))
    assert hidden_points(new, examples.PRIOR) == {(0, 0): 1.0}
    assert hidden_points(old, examples.PRIOR) == {(8, 2): 1.0}
    assert hidden_points([], examples.PRIOR) == {(0, 0): 1.0}


@pytest.mark.parametrize(("chance", "points"), [(Fraction(0), 0), (Fraction(1), 4)])
def test_new_ends_that_are_certain(chance: Fraction, points: int) -> None:
    """Where the firm is certain of new ends, no ending stands that cannot come."""
    hidden = hidden_points([Feed("f", "new ends", unseen=4)], FeedPrior(Fraction(2), Fraction(2), chance))
    assert hidden == {(points, int(points > 0)): 1.0}


def test_an_outlet_replaced_on_an_old_feed_settles_no_other() -> None:
    """Traced old with one outlet replaced: that one is new, the rest is old for certain, and the feed counts as old."""
    traced, untraced = Feed("f", "old", unseen=4, opened_new=1), Feed("u", "not traced", unseen=1)
    assert hidden_points([traced], examples.PRIOR) == {(4, 1): 1.0}
    assert tally([traced]) == tally([replace(traced, opened_new=0)]) == (1, 0)
    assert hidden_points([traced, untraced], examples.PRIOR) == hidden_points(
        [replace(traced, opened_new=0), untraced], examples.PRIOR)


@given(rest=houses, unseen=st.integers(1, 6), prior=priors)
@QUIET
def test_one_box_opened_new_on_an_old_feed(rest: Feeds, unseen: int, prior: FeedPrior) -> None:
    """A box opened new on a feed traced old takes its own point away, for certain, and raises nothing."""
    feed = Feed("f", "old", unseen=unseen)
    before = hidden_points((*rest, feed), prior)
    after = hidden_points((*rest, replace(feed, unseen=unseen - 1, opened_new=1)), prior)
    assert never_higher(after, before)
    assert mean(after) == pytest.approx(mean(before) - 1, abs=1e-9)


def test_an_old_feed_wholly_on_the_list_is_not_charged() -> None:
    """An old feed with every point on the list is in the list's price, but still tells of the house."""
    listed, untraced = Feed("listed", "old"), Feed("u", "not traced", unseen=1)
    assert hidden_points([listed], examples.PRIOR) == {(0, 0): 1.0}
    # Beta(2 + 1, 2): three of five by hand.
    assert hidden_points([listed, untraced], examples.PRIOR)[1, 1] == pytest.approx(3 / 5, abs=EXACT)


# ------------------------------------------------------------------------------------ quantiles, refusals


@given(feeds=houses, prior=priors)
@QUIET
def test_range_covers_four_in_five(feeds: Feeds, prior: FeedPrior) -> None:
    """The range P10 to P90 of H, both counted, holds at least 80 in 100 of H's own chances."""
    alone = points_alone(hidden_points(feeds, prior))
    low, high = quantile(alone, 0.1), quantile(alone, 0.9)
    assert sum(p for points, p in alone.items() if low <= points <= high) >= 0.8 - 2 * EXACT


@pytest.mark.parametrize(
    ("case", "marks", "coverage"),
    [(examples.SINGLE_POINTS, examples.SINGLE_POINTS_MARKS, examples.SINGLE_POINTS_COVERAGE),
     (examples.FIVE_POINTS, None, examples.FIVE_POINTS_COVERAGE)],
)
def test_coverage_of_lumpy_counts(case: Lumps, marks: object, coverage: float) -> None:
    """A lumpy count covers more than 80 in 100, by exactly as much as its own lumps give."""
    # The hidden-wiring model: 83.3 % for BB(38; 8, 5) and 100 % for BB(5; 2, 2).
    row = dict(enumerate(beta_binomial(*case)))
    found = tuple(quantile(row, mark) for mark in (0.1, 0.5, 0.9))
    assert marks is None or found == marks
    assert round(sum(row[hits] for hits in range(found[0], found[2] + 1)), 3) == coverage


@given(weights=st.lists(st.integers(0, 5), min_size=1, max_size=8), tenths=st.integers(1, 9))
@QUIET
def test_quantile_is_the_smallest(weights: list[int], tenths: int) -> None:
    """A quantile is the smallest count whose running chance reaches the mark, a rounding hair forgiven."""
    assume(sum(weights))
    whole = [Fraction(w, sum(weights)) for w in weights]
    expected = next(i for i, run in enumerate(accumulate(whole)) if run >= Fraction(tenths, 10))
    assert quantile({i: float(p) for i, p in enumerate(whole)}, tenths / 10) == expected


@pytest.mark.parametrize(
    "feed",
    [Feed("f", "maybe"), Feed("f", "part", unseen=2), Feed("f", "not traced", opened_new=1),
     Feed("f", "new", opened_old=1), Feed("f", "new ends", opened_old=1)],
)
def test_contradictions_are_refused(feed: Feed) -> None:
    """A feed whose look contradicts what was opened on it is refused by name."""
    with pytest.raises(ValueError, match="feed f: "):
        hidden_points([feed], examples.PRIOR)


@pytest.mark.parametrize(("n", "a", "b"), [(-1, 1, 1), (3, 0, 1), (3, 1, 0)])
def test_beta_binomial_refuses(n: int, a: int, b: int) -> None:
    """A count below nought or a shape without weight is refused."""
    with pytest.raises(ValueError, match="beta_binomial needs"):
        beta_binomial(n, Fraction(a), Fraction(b))
