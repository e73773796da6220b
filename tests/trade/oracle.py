"""Oracles written apart from the engine: slow and plain, so that they can be checked by eye.

Two ways of working out the same model.  The `brute_*` functions count every outcome in exact fractions.
`simulate` draws houses at random and never looks at a chance: it draws a habit from a beta and then tosses.
Nothing here shares a line with the engine but the dataclasses that describe a house.

Units: H [points] old points not on the list, F [feeds] charged feeds, money in whole cents, `s` from 0 (easy
house) to 1 (hard house), chances from 0 to 1.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from itertools import combinations, product
from math import ceil, comb, floor
from typing import Any, NamedTuple

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from sitegen.trade.feeds import Feed, FeedPrior
from sitegen.trade.firm import FirmCost
from sitegen.trade.terms import Belief, Case, House, Later, Option, Spread, Walls

Chance = Fraction | float
Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
HALF = Fraction(1, 2)
CASE_THIRDS = (Fraction(3, 10), Fraction(4, 10), Fraction(3, 10))
"""Chances of the low, the usual and the high amount, given that the case came."""
QUANTILE_SLACK = Fraction(1, 10**12)
"""How far F(x) may fall short of the mark that is asked for."""


class Ending(NamedTuple):
    """One whole outcome: its chance, H [points], F [feeds], blocked [drops], and cents by option's key."""

    chance: Chance
    hidden: int
    charged: int
    blocked: int
    total: dict[str, int]
    paid: dict[str, int]


# ------------------------------------------------------------------------------------------- plain arithmetic


def half_up(value: Fraction) -> int:
    """The nearest whole number to a value that is not negative; a half goes up."""
    return floor(value + HALF)


def rising(base: Fraction, count: int) -> Fraction:
    """base x (base + 1) x ... with `count` factors; 1 when there are none."""
    result = Fraction(1)
    for step in range(count):
        result *= base + step
    return result


def beta_binomial(hits: int, tries: int, a: Fraction, b: Fraction) -> Fraction:
    """Exact chance of `hits` among `tries` when their shared share is Beta(a, b)."""
    if tries == 0:
        return Fraction(1 if hits == 0 else 0)
    a, b = Fraction(a), Fraction(b)
    return comb(tries, hits) * rising(a, hits) * rising(b, tries - hits) / rising(a + b, tries)


def quantile(chances: Mapping[int, Chance], u: Chance) -> int:
    """The smallest x with F(x) >= u - 1e-12; `chances` is value -> chance."""
    below: Chance = 0
    for value in sorted(chances):
        below += chances[value]
        if below >= u - (QUANTILE_SLACK if isinstance(below, Fraction) else float(QUANTILE_SLACK)):
            return value
    raise ValueError("chances do not add up to the mark that was asked for")


def kinds(count: int) -> list[Fraction]:
    """The middle of each of `count` equal slices from easy to hard: (2i - 1) / (2 count)."""
    return [Fraction(2 * i - 1, 2 * count) for i in range(1, count + 1)]


def spread_at(spread: Spread, s: Fraction) -> int:
    """A three-point entry read at `s` [cents]: two straight lines carried on, never under 0, half up."""
    slope = spread.usual - spread.low if s < HALF else spread.high - spread.usual
    value = spread.usual + (s - HALF) / Fraction(4, 10) * slope
    return half_up(max(Fraction(0), value))


# ---------------------------------------------------------------------------------------------- hidden points


def habit(feeds: Iterable[Feed]) -> tuple[Fraction, Fraction]:
    """(O, N) [feeds] found old and found new in this house; a part feed is split by what was opened."""
    old = new = Fraction(0)
    for feed in feeds:
        if feed.evidence == "old":
            old += 1
        elif feed.evidence == "new":
            new += 1
        elif feed.evidence == "part":
            opened = feed.opened_old + feed.opened_new
            old += Fraction(feed.opened_old, opened)
            new += Fraction(feed.opened_new, opened)
    return old, new


def feed_outcomes(feed: Feed, prior: FeedPrior) -> list[tuple[Fraction, int]]:
    """Every (chance, added points) of one feed that is not "not traced"."""
    if feed.evidence == "old":
        return [(Fraction(1), feed.known + feed.unseen)]
    if feed.evidence == "new":
        return [(Fraction(1), 0)]
    if feed.evidence == "new ends":
        chance = Fraction(prior.new_ends_old)
        return [(chance, feed.unseen), (1 - chance, 0)]
    if feed.evidence == "part":
        a, b = prior.part_old + feed.opened_old, prior.part_new + feed.opened_new
        unseen = feed.unseen
        return [(beta_binomial(more, unseen, a, b), feed.known + more) for more in range(unseen + 1)]
    raise ValueError(f"no outcome of its own for a feed that looks {feed.evidence!r}")


def untraced_outcomes(feeds: list[Feed], a: Fraction, b: Fraction) -> Iterator[tuple[Fraction, list[int]]]:
    """Every subset of the untraced feeds as the old ones: (chance, the added points of each feed)."""
    count = len(feeds)
    for old in range(count + 1):
        chance = beta_binomial(old, count, a, b) / comb(count, old)
        for chosen in combinations(range(count), old):
            yield chance, [feeds[i].unseen if i in chosen else 0 for i in range(count)]


def brute_hidden_points(feeds: Iterable[Feed], prior: FeedPrior) -> dict[tuple[int, int], Fraction]:
    """Exact chance of each (H [points], F [feeds]), one outcome at a time.

    Every subset of the untraced feeds is met with every outcome of every other feed: 2**T x ... rounds, so
    keep it to a dozen feeds.  Only outcomes with a chance are kept; the chances add up to exactly 1.
    """
    feeds = list(feeds)
    untraced = [feed for feed in feeds if feed.evidence == "not traced"]
    others = [feed_outcomes(feed, prior) for feed in feeds if feed.evidence != "not traced"]
    found_old, found_new = habit(feeds)
    a, b = prior.old + found_old, prior.new + found_new
    result: dict[tuple[int, int], Fraction] = defaultdict(Fraction)
    for subset_chance, added_untraced in untraced_outcomes(untraced, a, b):
        for outcome in product(*others):
            chance = subset_chance
            added = list(added_untraced)
            for one_chance, points in outcome:
                chance *= one_chance
                added.append(points)
            if chance:
                result[sum(added), sum(1 for points in added if points > 0)] += chance
    return dict(result)


def points_only(hidden: Mapping[tuple[int, int], Fraction]) -> dict[int, Fraction]:
    """Chance of each H [points], whatever the number of charged feeds."""
    result: dict[int, Fraction] = defaultdict(Fraction)
    for (points, _), chance in hidden.items():
        result[points] += chance
    return dict(result)


# ------------------------------------------------------------------------------------------ endings, by count


def wall_chances(walls: Walls, drops: int, belief: Belief, s: Fraction) -> list[Fraction]:
    """Chance of 0, 1 ... `drops` blocked drops in one kind of wall, at `s`.  Shape: drops + 1."""
    x = belief.shift * (HALF - s) / Fraction(4, 10)
    a = belief.blocked_a + walls.blocked - x
    b = belief.blocked_b + walls.probed - walls.blocked + x
    return [beta_binomial(hits, drops, a, b) for hits in range(drops + 1)]


def blocked_chances(house: House, belief: Belief, s: Fraction, points: int) -> dict[int, Fraction]:
    """Chance of each number of blocked drops, inside and outside together, when H is `points`."""
    drops = house.list_drops + points
    outside = half_up(house.outside_share * drops)
    outside_chances = wall_chances(house.outside, outside, belief, s)
    result: dict[int, Fraction] = defaultdict(Fraction)
    for inside_hits, inside_chance in enumerate(wall_chances(house.inside, drops - outside, belief, s)):
        for outside_hits, outside_chance in enumerate(outside_chances):
            result[inside_hits + outside_hits] += inside_chance * outside_chance
    return dict(result)


def case_tosses(cases: tuple[Case, ...]) -> Iterator[tuple[Fraction, dict[str, int]]]:
    """Every joint toss of the cases: (chance, cents by key of the cases that came)."""
    choices = []
    for case in cases:
        outcomes = [(1 - case.chance, 0)]
        for third, cents in zip(CASE_THIRDS, (case.cost.low, case.cost.usual, case.cost.high), strict=True):
            outcomes.append((case.chance * third, cents))
        choices.append([(case.key, chance, cents) for chance, cents in outcomes if chance])
    for toss in product(*choices):
        joint = Fraction(1)
        for _, chance, _ in toss:
            joint *= chance
        yield joint, {key: cents for key, _, cents in toss}


def later_cents(later: tuple[Later, ...], house: House, option: Option, s: Fraction, points: int) -> dict[str, int]:
    """Each later cost [cents] by key under one option, when the house stands at `s` and H is `points`."""
    if house.list_openings is None:
        openings = ceil(house.openings_a_drop * (house.list_drops + points))
    else:
        openings = house.list_openings + ceil(house.openings_a_drop * points)
    quantity = {"opening": openings, "sq ft": option.floor_area, "house": 1}
    return {cost.key: spread_at(cost.price, s) * quantity[cost.per] for cost in later}


def held(cents: int, cap: int | None) -> int:
    """A sum [cents] held to a cap [cents]; no cap when it is None."""
    return cents if cap is None else min(cents, cap)


def case_share(option: Option, toss: Mapping[str, int]) -> int:
    """What the homeowner pays for cases [cents] under one option, held to that option's cap."""
    return held(sum(cents for key, cents in toss.items() if key in option.pays_cases), option.case_cap)


def work_share(option: Option, house: House, points: int, charged: int, blocked: int) -> int:
    """Price, what turned up and tracing [cents] under one option: all but cases and later costs."""
    if option.covers_all:
        return option.price + option.also
    added = option.each_point * points + option.each_feed * charged + option.each_blocked * blocked
    return option.price + option.also + held(added, option.added_cap) + house.tracing


def each_ending(
    house: House,
    belief: Belief,
    kinds_of_house: int = 9,
    number: Callable[[Fraction], Chance] = Fraction,
) -> Iterator[Ending]:
    """Every ending of a house, one at a time; `number=float` is quicker and no longer exact."""
    hidden = brute_hidden_points(house.feeds, belief.feeds)
    tosses = [
        (number(chance), [(option.key, case_share(option, toss)) for option in house.options])
        for chance, toss in case_tosses(house.cases)
    ]
    for s in kinds(kinds_of_house):
        spans = {points: blocked_chances(house, belief, s, points) for points in points_only(hidden)}
        for (points, charged), hidden_chance in hidden.items():
            later = {option.key: sum(later_cents(house.later, house, option, s, points)[key] for key in option.later)
                     for option in house.options}
            kind_and_hidden = number(hidden_chance / kinds_of_house)
            for blocked, blocked_chance in spans[points].items():
                chance = kind_and_hidden * number(blocked_chance)
                work = {option.key: work_share(option, house, points, charged, blocked) for option in house.options}
                for toss_chance, shares in tosses:
                    paid = {key: work[key] + share for key, share in shares}
                    total = {key: cents + later[key] for key, cents in paid.items()}
                    yield Ending(chance * toss_chance, points, charged, blocked, total, paid)


def firm_net(house: House, belief: Belief, cost: FirmCost, option: Option) -> dict[int, Fraction]:
    """What a price must cover [cents] -> its exact chance, over every ending of a SMALL house: the firm's cost and the
    cases that it pays, less what the homeowner pays for what turned up."""
    found: dict[int, Fraction] = defaultdict(Fraction)
    hidden, kinds_of_house = brute_hidden_points(house.feeds, belief.feeds), kinds(9)
    tosses = list(case_tosses(house.cases))
    for s in kinds_of_house:
        for (points, charged), hidden_chance in hidden.items():
            for blocked, chance in blocked_chances(house, belief, s, points).items():
                spent = (cost.fixed + cost.each_point * points + cost.each_feed * charged + cost.each_blocked * blocked)
                free = replace(option, price=0, also=0)
                charged_for = work_share(free, replace(house, tracing=0), points, charged, blocked)
                for toss_chance, toss in tosses:
                    ours = sum(toss.values()) - case_share(option, toss)
                    found[spent - charged_for + ours] += hidden_chance * chance * toss_chance / len(kinds_of_house)
    return dict(found)


def brute_endings(house: House, belief: Belief, kinds_of_house: int = 9) -> list[Ending]:
    """Every ending of a SMALL house with its exact chance; the same figures may come up in many rows."""
    return list(each_ending(house, belief, kinds_of_house))


def brute_arrays(house: House, belief: Belief, kinds_of_house: int = 9) -> dict[str, Any]:
    """The same endings as `each_ending`, floats laid out in arrays of shape (endings,), for a whole house.

    Returns "chance" [0..1], "H" [points], "F" [feeds], "blocked" [drops], and "total" and "paid": option's key
    -> cents.  The layout is that of `simulate`, with a chance where a drawn house counts 1/n.
    """
    hidden = brute_hidden_points(house.feeds, belief.feeds)
    tosses = list(case_tosses(house.cases))
    toss_chance = np.array([float(chance) for chance, _ in tosses])
    share = {option.key: np.array([case_share(option, toss) for _, toss in tosses]) for option in house.options}
    parts: dict[str, list[Any]] = defaultdict(list)
    for s in kinds(kinds_of_house):
        spans = {points: blocked_chances(house, belief, s, points) for points in points_only(hidden)}
        for (points, charged), hidden_chance in hidden.items():
            counts = np.array(list(spans[points]))
            blocked_chance = np.array([float(chance) for chance in spans[points].values()])
            size = len(counts) * len(tosses)
            parts["chance"].append(
                float(hidden_chance / kinds_of_house) * np.outer(blocked_chance, toss_chance).ravel()
            )
            parts["H"].append(np.full(size, points))
            parts["F"].append(np.full(size, charged))
            parts["blocked"].append(np.repeat(counts, len(tosses)))
            for option in house.options:
                work = np.array([work_share(option, house, points, charged, int(blocked)) for blocked in counts])
                paid = np.add.outer(work, share[option.key]).ravel()
                parts["paid " + option.key].append(paid)
                costs = later_cents(house.later, house, option, s, points)
                parts["total " + option.key].append(paid + sum(costs[key] for key in option.later))
    whole: dict[str, Any] = {name: np.concatenate(pieces) for name, pieces in parts.items()}
    for name in ("total", "paid"):
        whole[name] = {option.key: whole.pop(f"{name} {option.key}") for option in house.options}
    return whole


class Tally(NamedTuple):
    """Endings added up.

    `total`, `paid`  option's key -> {cents: chance}
    `above`          (one option's key, another's) -> chance that the first ends strictly above the second
    `cheapest`       option's key -> chance that it is the cheapest; a tie goes to the lower price today
    """

    total: dict[str, dict[int, Chance]]
    paid: dict[str, dict[int, Chance]]
    above: dict[tuple[str, str], Chance]
    cheapest: dict[str, Chance]


def tally(house: House, endings: Iterable[Ending]) -> Tally:
    """Add up endings to what is printed, all on the same houses."""
    keys = [option.key for option in house.options]
    price = {option.key: option.price for option in house.options}
    total: dict[str, dict[int, Chance]] = {key: defaultdict(int) for key in keys}
    paid: dict[str, dict[int, Chance]] = {key: defaultdict(int) for key in keys}
    above: dict[tuple[str, str], Chance] = {pair: 0 for pair in product(keys, keys) if pair[0] != pair[1]}
    cheapest: dict[str, Chance] = dict.fromkeys(keys, 0)
    for ending in endings:
        for key in keys:
            total[key][ending.total[key]] += ending.chance
            paid[key][ending.paid[key]] += ending.chance
        for one, other in above:
            if ending.total[one] > ending.total[other]:
                above[one, other] += ending.chance
        cheapest[min(keys, key=lambda key: (ending.total[key], price[key]))] += ending.chance
    return Tally(total, paid, above, cheapest)


# ------------------------------------------------------------------------------------- endings, by simulation


def draw_share(rng: np.random.Generator, a: Floats, b: Floats) -> Floats:
    """One share from Beta(a, b) for each house.  Shapes: (n,), (n,) -> (n,).  A side of nought is certain."""
    share = rng.beta(np.where(a > 0, a, 1.0), np.where(b > 0, b, 1.0))
    return np.where(a <= 0, 0.0, np.where(b <= 0, 1.0, share))


def draw_added(feeds: tuple[Feed, ...], prior: FeedPrior, n: int, rng: np.random.Generator) -> Ints:
    """Old points that each feed adds in each house [points].  Shape: (n, feeds)."""
    found_old = found_new = 0.0
    for feed in feeds:
        opened = feed.opened_old + feed.opened_new
        share = {"old": 1.0, "new": 0.0, "part": feed.opened_old / max(1, opened)}.get(feed.evidence)
        if share is not None:
            found_old, found_new = found_old + share, found_new + 1.0 - share
    a, b = float(prior.old) + found_old, float(prior.new) + found_new
    house_habit = draw_share(rng, np.full(n, a), np.full(n, b))
    added = np.zeros((n, len(feeds)), dtype=np.int64)
    for column, feed in enumerate(feeds):
        if feed.evidence == "old":
            added[:, column] = feed.known + feed.unseen
        elif feed.evidence == "not traced":
            added[:, column] = feed.unseen * (rng.random(n) < house_habit)
        elif feed.evidence == "new ends":
            added[:, column] = feed.unseen * (rng.random(n) < float(prior.new_ends_old))
        elif feed.evidence == "part":
            a, b = float(prior.part_old) + feed.opened_old, float(prior.part_new) + feed.opened_new
            share_old = draw_share(rng, np.full(n, a), np.full(n, b))
            added[:, column] = feed.known + rng.binomial(feed.unseen, share_old)
    return added


def draw_blocked(walls: Walls, drops: Ints, belief: Belief, s: Floats, rng: np.random.Generator) -> Ints:
    """Blocked drops in one kind of wall, a share for the house and then tosses [drops].  Shape: (n,)."""
    lean = np.interp(s, [-0.3, 1.3], [2 * float(belief.shift), -2 * float(belief.shift)])
    a = float(belief.blocked_a) + walls.blocked - lean
    b = float(belief.blocked_b) + (walls.probed - walls.blocked) + lean
    return rng.binomial(drops, draw_share(rng, a, b)).astype(np.int64)


def spreads_at_kinds(spread: Spread, count: int) -> Ints:
    """A three-point entry at each kind of house, in whole-number arithmetic [cents].  Shape: (count,)."""
    result = []
    for i in range(1, count + 1):
        step = 2 * i - 1 - count  # (s - 1/2) in units of 1 / (2 count); 4/10 is 4 count / 5 of those units
        width = spread.high - spread.usual if step > 0 else spread.usual - spread.low
        top, bottom = 4 * count * spread.usual + 5 * step * width, 4 * count
        result.append((2 * max(0, top) + bottom) // (2 * bottom))
    return np.array(result, dtype=np.int64)


def draw_cases(cases: tuple[Case, ...], n: int, rng: np.random.Generator) -> dict[str, Ints]:
    """What each case costs in each house, 0 where it did not come [cents].  Shape of each: (n,)."""
    result = {}
    for case in cases:
        amounts = np.array([case.cost.low, case.cost.usual, case.cost.high], dtype=np.int64)
        came = rng.random(n) < float(case.chance)
        result[case.key] = np.where(came, rng.choice(amounts, size=n, p=[0.3, 0.4, 0.3]), 0)
    return result


def simulate(house: House, belief: Belief, n: int, seed: int, kinds_of_house: int = 9) -> dict[str, Any]:
    """`n` houses drawn at random, all options on the same houses.

    Returns "s" [0..1], "H" [points], "F" [feeds], "blocked" [drops], each of shape (n,), and "total" and
    "paid": option's key -> cents of shape (n,).
    """
    rng = np.random.default_rng(seed)
    kind = rng.integers(kinds_of_house, size=n)
    s = (2 * kind + 1) / (2 * kinds_of_house)
    added = draw_added(house.feeds, belief.feeds, n, rng)
    points, charged = added.sum(axis=1), (added > 0).sum(axis=1)
    drops = house.list_drops + points
    share = house.outside_share
    outside = (2 * share.numerator * drops + share.denominator) // (2 * share.denominator)
    blocked = draw_blocked(house.inside, drops - outside, belief, s, rng)
    blocked = blocked + draw_blocked(house.outside, outside, belief, s, rng)
    rate = house.openings_a_drop
    counted, rest = (0, drops) if house.list_openings is None else (house.list_openings, points)
    openings = counted - (-rate.numerator * rest // rate.denominator)
    price = {cost.key: spreads_at_kinds(cost.price, kinds_of_house)[kind] for cost in house.later}
    cases = draw_cases(house.cases, n, rng)
    paid, total = {}, {}
    for option in house.options:
        paid[option.key] = _drawn_paid(option, house.tracing, points, charged, blocked, cases)
        quantity = {"opening": openings, "sq ft": option.floor_area, "house": 1}
        later = (price[cost.key] * quantity[cost.per] for cost in house.later if cost.key in option.later)
        total[option.key] = paid[option.key] + sum(later, np.zeros(n, dtype=np.int64))
    return {"s": s, "H": points, "F": charged, "blocked": blocked, "total": total, "paid": paid}


def _drawn_paid(
    option: Option, tracing: int, points: Ints, charged: Ints, blocked: Ints, cases: dict[str, Ints]
) -> Ints:
    """What is paid to the firm in each house under one option [cents].  Shape: (n,)."""
    endless = np.iinfo(np.int64).max
    mine = sum((cases[key] for key in sorted(option.pays_cases) if key in cases), np.zeros_like(points))
    result = option.price + option.also + np.minimum(mine, endless if option.case_cap is None else option.case_cap)
    if not option.covers_all:
        more = points * option.each_point + charged * option.each_feed + blocked * option.each_blocked
        result = result + np.minimum(more, endless if option.added_cap is None else option.added_cap) + tracing
    return result


# ------------------------------------------------- reading the arrays of `simulate` and of `brute_arrays`


def chances_of(values: Ints, chance: Floats | None = None) -> dict[int, float]:
    """value -> chance, to be read by `quantile`; every value counts the same when there is no `chance`."""
    distinct, place = np.unique(values, return_inverse=True)
    weight = np.full(len(values), 1 / len(values)) if chance is None else chance
    return dict(zip(distinct.tolist(), np.bincount(place.ravel(), weights=weight).tolist(), strict=True))


def three_marks(values: Ints, chance: Floats | None = None) -> tuple[int, int, int]:
    """P10, P50 and P90 of the values."""
    chances = chances_of(values, chance)
    return quantile(chances, 0.1), quantile(chances, 0.5), quantile(chances, 0.9)


def chance_above(houses: Mapping[str, Any], one: str, other: str) -> float:
    """Chance that the first option ends strictly above the second, to the same finish, on the same houses."""
    above = houses["total"][one] > houses["total"][other]
    return float(np.average(above, weights=houses.get("chance")))


def chance_cheapest(house: House, houses: Mapping[str, Any]) -> dict[str, float]:
    """Chance that each option is cheapest, by option's key; a tie goes to the lower price today."""
    by_price = sorted(house.options, key=lambda option: option.price)
    winner = np.argmin(np.stack([houses["total"][option.key] for option in by_price]), axis=0)  # first of equals
    return {
        option.key: float(np.average(winner == place, weights=houses.get("chance")))
        for place, option in enumerate(by_price)
    }


# ---------------------------------------------------------------------------- a richer world, for the benches

BENCH_FEEDS, BENCH_POINTS = 10, 56
END_LOOKED_AT = 0.25
"""Chance that somebody looked at both ends of a feed that was neither opened nor traced."""
OLD_WITH_NEW_ENDS = 0.064
"""Chance that a feed with old wire shows new at both ends: makes about 6 of 100 when half are old."""


def richer_house(
    rng: np.random.Generator, boxes: int = 9, easy_first: bool = True, mixed: float = 1 / 6
) -> tuple[tuple[Feed, ...], int]:
    """One invented house from a world richer than the model: (feeds as surveyed, true H [points]).

    What the model does not know: about one feed in six is mixed, with one stretch redone; the habit of
    the house runs from nearly all new to nearly all old; and `boxes` boxes are opened on the three easiest
    feeds (or anywhere, with `easy_first` off).  What was looked at never turns on what would be found.
    """
    sizes = 1 + rng.multinomial(BENCH_POINTS - BENCH_FEEDS, rng.dirichlet(np.full(BENCH_FEEDS, 4.0)))
    house_habit = rng.beta(0.8, 0.8) if rng.random() < 0.5 else rng.beta(4.0, 3.0)
    truth = [_true_feed(int(size), house_habit, mixed, rng) for size in sizes]
    listed = [rng.random(len(points)) < rng.uniform(0.0, 0.7) for points in truth]
    opened = _boxes_opened(truth, boxes, easy_first, rng)
    traced = set(rng.choice(np.arange(3, BENCH_FEEDS), size=int(rng.integers(0, 4)), replace=False).tolist())
    feeds = tuple(_surveyed(i, truth[i], listed[i], opened[i], i in traced, rng) for i in range(BENCH_FEEDS))
    true_hidden = sum(int(np.sum(old & ~on_list)) for old, on_list in zip(truth, listed, strict=True))
    return feeds, true_hidden


def _true_feed(size: int, house_habit: float, mixed: float, rng: np.random.Generator) -> NDArray[np.bool_]:
    """True where a point of the feed is old.  Shape: (size,).  A mixed feed had one end of it redone."""
    if size > 1 and rng.random() < mixed:
        redone = int(rng.integers(1, size))
        return np.arange(size) >= redone
    return np.full(size, rng.random() < house_habit)


def _boxes_opened(
    truth: list[NDArray[np.bool_]], boxes: int, easy_first: bool, rng: np.random.Generator
) -> list[NDArray[np.bool_]]:
    """True where a box was opened, feed by feed; the first three feeds are the easy ones."""
    opened = [np.zeros(len(points), dtype=bool) for points in truth]
    reach = range(3) if easy_first else range(len(truth))
    places = [(feed, box) for feed in reach for box in range(len(truth[feed]))]
    for place in rng.permutation(len(places))[:boxes]:
        feed, box = places[place]
        opened[feed][box] = True
    return opened


def _surveyed(
    place: int,
    old: NDArray[np.bool_],
    listed: NDArray[np.bool_],
    opened: NDArray[np.bool_],
    traced: bool,
    rng: np.random.Generator,
) -> Feed:
    """One feed as an honest survey would write it down.  Shapes: (size,) of the feed."""
    evidence, opened = "not traced", opened.copy()
    if traced and old.all():
        evidence = "old"
    elif traced and not old.any():
        evidence = "new"
    elif traced:
        opened[[0, -1]] = True  # tracing a mixed feed shows one of each
    elif not opened.any() and rng.random() < END_LOOKED_AT:
        if not old.any() or rng.random() < OLD_WITH_NEW_ENDS:
            evidence = "new ends"
        else:
            opened[-1] = True  # the last box of a feed that is old or mixed is old
    if evidence in {"old", "new"}:
        opened = np.zeros_like(opened)
    elif opened.any():
        evidence = "part"
    off = ~listed
    return Feed(
        name=f"feed-{place + 1}",
        evidence=evidence,
        known=int(np.sum(off & opened & old)),
        unseen=int(np.sum(off & ~opened)),
        opened_old=int(np.sum(opened & old)),
        opened_new=int(np.sum(opened & ~old)),
    )
