"""What each option ends up costing, worked out on one and the same hidden house.

Every place of the house (`places`) is met with every scenario of the cases (`scenarios`).  Places are the same
whatever the firm believes is hidden, so that other beliefs cost only other weights.  This module, the arrays that it
loads (`places`, `scenarios`, `quantiles`, `compare`) and `firm_endings` beside it load numpy; what an ending is and how
it is kept, stands in `worked`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce
from operator import or_
from typing import Protocol

from sitegen.trade.blocked import KINDS, Kind, kinds_of
from sitegen.trade.compare import Crossings
from sitegen.trade.feeds import HiddenPoints, reach
from sitegen.trade.places import Block, Floats, Ints, Places, lay_out, paid_of, totals_of
from sitegen.trade.quantiles import Quantiles
from sitegen.trade.scenarios import Cases, Scenarios, cases_of
from sitegen.trade.sizes import Size, places_in
from sitegen.trade.terms import Belief, Cents, House
from sitegen.trade.worked import DOTS, FACTORS, PERCENTILES, Ending, Worked, beliefs, three

AT_ONCE = 2 ** 17
"""Places of a block, in one kind of house: few enough to stay in a processor's cache."""


def work_out(house: House, belief: Belief) -> Worked:
    """Everything about the endings of one house, as the firm judges and with half and with twice as many old feeds.

    Parameters
    ----------
    house : House
        Feeds, walls, drops, cases, later costs and the options [points, drops, sq ft, cents].
    belief : Belief
        The firm's judgement of what nobody has seen [feeds, drops, chance].

    Returns
    -------
    Worked
        Under the firm's belief each option's ending [cents]: P10, P50 and P90 to the same finish and as paid to the
        firm, the quantile dots, the least and the most.  Under each of the three beliefs P10, P50 and P90, and how
        often each option is the cheapest and ends above another [chance].

    Raises
    ------
    TooLarge
        Before a place is read, for a house over the budget of `sizes`, with its size.  A ValueError.
    ValueError
        For a feed whose look contradicts its counts, or a belief that gives blocked drops no weight.

    Notes
    -----
    A place is one of nine equally likely kinds of house, from easy to hard, one pair of old points and feeds charged
    (`feeds.hidden_points`) and one count of blocked drops (beta-binomial inside and outside walls, apart).  At a place
    and in a scenario each option has one total in whole cents.  F(x) is the chance of all that comes to x or less; a
    quantile is the smallest whole cent with F(x) >= share - 1e-12.  A quantile dot stands at (i - 1/2) / 20.

    What is exact: cents, counts and quantiles, in whole numbers from end to end.  Chances are sums of floats, within
    1e-12 of those counted in fractions.  Nothing is sampled, no sum is put on a grid, and no place is left out for
    being unlikely.  What is refused: more than `sizes.MOST_PLACES` places, `sizes.MOST_SCENARIOS` scenarios,
    `sizes.MOST_OUTCOMES` of one times the other, or a comparison with more than `sizes.MOST_CELLS` thresholds to tell
    apart, which takes lists that pay for other cases in many different sums.  Costs of cases in round amounts make
    few sums, however many cases there are; in odd cents nine cases are worked out and twenty are refused.

    Quantiles, convolution and the beta-binomial are standard.  Nine kinds of house, straight lines between the
    three points of an entry, 30, 40 and 30 of 100 for a case's three costs, and blocked drops and later costs that
    move together with the kind of house are the firm's own model.

    References
    ----------
    .. [1] N. L. Johnson, A. W. Kemp and S. Kotz, Univariate Discrete Distributions, 3rd ed., Wiley, 2005: the
       beta-binomial (negative hypergeometric) distribution.  From memory.
    """
    cases = cases_of(house)
    _size(house, belief, cases).within()
    return work_out_under(house, beliefs(house, belief), kinds_of(house, belief), cases)


def size_of(house: House, belief: Belief) -> Size:
    """How large a house is to work out, in a moment and before it is; raises TooLarge for too many scenarios."""
    return _size(house, belief, cases_of(house))


def _size(house: House, belief: Belief, cases: Cases) -> Size:
    views = [reach(house.feeds, belief.feeds.times(factor)) for factor in FACTORS]
    either = [reduce(or_, masks) for masks in zip(*views, strict=True)]
    return Size(places_in(house, either, KINDS), cases.scenarios)


def work_out_under(house: House, views: Mapping[str, HiddenPoints], kinds: Sequence[Kind],
                   cases: Cases | None = None) -> Worked:
    """As `work_out` [cents, chance], under any beliefs and kinds of house; endings are of the first view.

    Refuses no number of places; raises TooLarge for too many scenarios of cases or thresholds to tell apart.
    """
    places, cases = lay_out(house, list(views.values()), kinds), cases or cases_of(house)
    shares = [(*PERCENTILES, *DOTS), *[PERCENTILES] * (len(views) - 1)]
    total = {option.key: Line(totals_of(house, places, option, kinds), places, cases.own[option.key], shares)
             for option in house.options}
    crossings = Crossings(house.options, {key: line.low for key, line in total.items() if line.low == line.high},
                          cases.joint, len(views))
    read(places, total, crossings)
    each = places.any_kind()
    paid = {option.key: Line(paid_of(house, each, option), each, cases.own[option.key], [PERCENTILES])
            for option in house.options}
    read(each, paid)
    endings = {key: Ending(total=three(line.found[0][:3]), quantile_dots=line.found[0][3:], least=line.least,
                           most=line.most, paid=three(paid[key].found[0])) for key, line in total.items()}
    return Worked(endings, {view: {key: three(line.found[i][:3]) for key, line in total.items()}
                            for i, view in enumerate(views)},
                  {view: crossings.under(i) for i, view in enumerate(views)})


class Sums(Protocol):
    """Totals before the cases at every place [cents]: `start` by kind and pair, what surprises add, and their ends."""

    @property
    def start(self) -> Ints:
        """Shape: (kinds, pairs)."""

    def more(self, block: Block) -> Ints:
        """What points, feeds and blocked drops add.  Shape: (places,)."""

    def ends(self, lengths: Ints) -> tuple[Ints, Ints]:
        """Bounds of each row.  Shape: (kinds, pairs)."""


class Line:
    """One option's totals on the way to its quantiles.

    `low`, `high`    [cents] the ends of the totals before the cases, under any view
    `least`, `most`  [cents] the ends with the cases, under the first view
    """

    def __init__(self, totals: Sums, places: Places, cases: Scenarios, shares: Sequence[Sequence[float]]) -> None:
        lows, highs = totals.ends(places.lengths)
        can = places.weights[0] > 0
        self.totals, self.low, self.high = totals, int(lows.min()), int(highs.max())
        self.least = int(lows[:, can].min() + cases.paid.min())
        self.most = int(highs[:, can].max() + cases.paid.max())
        self.quantiles = Quantiles((self.low, self.high), cases, len(places), shares)
        self.found: list[tuple[Cents, ...]] = []


def read(places: Places, lines: Mapping[str, Line], crossings: Crossings | None = None) -> None:
    """Read every place twice for the quantiles of each option's line, and for `crossings` along with the first time.

    An option that nothing moves has one total, which is read by itself.
    """
    moving = {key: line for key, line in lines.items() if line.low < line.high}
    most = min(max(AT_ONCE, crossings.cells if crossings else 0), 8 * AT_ONCE)
    for block, row, totals in _walk(places, moving, most):
        chances = block.weight * row[block.row]
        for key, line in moving.items():
            line.quantiles.count(totals[key], chances)
        if crossings:
            crossings.count(totals, chances)
    for key, line in lines.items():
        if key not in moving:
            line.found = line.quantiles.only(line.low)
            continue
        line.quantiles.settle()
        for block, row, totals in _walk(places, {key: line}, AT_ONCE):
            at = line.quantiles.pick(totals[key])
            line.quantiles.keep(totals[key][at], block.weight[:, at] * row[block.row[at]])
        line.found = line.quantiles.found()


def _walk(places: Places, lines: Mapping[str, Line], most: int) -> Iterator[tuple[Block, Floats, dict[str, Ints]]]:
    """Every block in every kind of house: the block, the kind's chances, and each option's totals at its places."""
    for block in places.blocks(most) if lines else ():
        more = {key: line.totals.more(block) for key, line in lines.items()}
        for kind, row in enumerate(places.chances):
            yield block, row, {key: more[key] + block.spread(line.totals.start[kind]) for key, line in lines.items()}
