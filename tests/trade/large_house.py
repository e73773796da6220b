"""The largest house that the endings have to carry: 300 points, 60 feeds and 20 cases, invented from end to end."""

from __future__ import annotations

from fractions import Fraction

from sitegen.trade.feeds import Feed
from sitegen.trade.terms import Case, House, Later, Option, Spread, Walls

POINTS, FEEDS, CASES = 300, 60, 20

_FIRST = [1 + i % 9 for i in range(FEEDS - 1)]
SIZES = (*_FIRST, POINTS - sum(_FIRST))
"""Points of each feed, none of them on the list."""


def large_house(step: int = 10_00, differ: int = 0) -> House:
    """Sixty feeds of many sizes, most of them not traced; costs of cases in whole steps [cents].

    The one price pays for half of the cases up to a cap.  Both lists pay for all of them, but for so many that
    `differ` in the second.
    """
    evidence = ("not traced", "part", "not traced", "new ends", "not traced", "not traced")
    feeds = tuple(Feed(f"feed-{i}", evidence[i % 6], unseen=size, opened_old=int(evidence[i % 6] == "part"))
                  for i, size in enumerate(SIZES))
    cases = tuple(Case(f"case-{i}", Fraction(3 + 7 * i % 28, 100), _spread(i, step)) for i in range(CASES))
    keys = [case.key for case in cases]
    later = (Later("plaster", "opening", Spread(105_00, 155_00, 245_00)), Later("floors", "sq ft", Spread(0, 90, 3_10)),
             Later("clean", "house", Spread(450_00, 700_00, 1_200_00)))
    options = (Option("priced", 105_000_00, True, pays_cases=frozenset(keys[:10]), case_cap=2_600_00),
            Option("listed", 58_600_00, False, 500_00, 560_00, 165_00, frozenset(keys), None, None,
                frozenset({"floors", "clean"}), 1_900),
            Option("bare", 49_400_00, False, 400_00, 500_00, 150_00, frozenset(keys[differ:]), None, None,
                frozenset({"plaster", "floors", "clean"}), 1_900))
    return House(feeds, Walls(9, 2), Walls(4, 1), 60, Fraction(2, 5), Fraction(3, 4), 450_00 + FEEDS * 95_00, cases,
                 later, options)


def _spread(i: int, step: int) -> Spread:
    """Costs from some $300 to $6,000 [cents], each in whole steps."""
    low = 300_00 + i * 7_919_37 % 1_200_00
    usual = low + 150_00 + i * 6_311_53 % 1_500_00
    high = usual + 250_00 + i * 9_173_11 % 2_500_00
    return Spread(*(cents // step * step for cents in (low, usual, high)))
