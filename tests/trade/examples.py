"""The model's worked examples 1 to 4: inputs as dataclasses, published results as constants.

Each is a worked example with invented prices, an invented house and an invented firm.  Money in whole cents,
chances from 0 to 1, H in points, F in feeds.
"""

from __future__ import annotations

from fractions import Fraction

from sitegen.trade.feeds import Feed, FeedPrior
from sitegen.trade.terms import Belief, Case, House, Later, Option, Spread, Walls

PRIOR = FeedPrior(old=Fraction(2), new=Fraction(2), new_ends_old=Fraction(6, 100))
"""a = b = 2: as if four feeds in houses like this had been traced and two were old."""

MARKS = (Fraction(1, 10), Fraction(1, 2), Fraction(9, 10))
"""The marks of every published triple: P10, P50, P90."""

# ------------------------------------------------- the model's worked example 1 (worked example, no prices)
# "Untraced feeds of 4, 4 and 1; 22 points known and off the list on three old feeds; a = b = 2, O = 3,
# N = 2."
# How the 22 points lie on the three old feeds is not published and changes nothing.

EXAMPLE_1_FEEDS = (
    Feed("old-a", "old", known=9),
    Feed("old-b", "old", known=8),
    Feed("old-c", "old", known=5),
    Feed("new-a", "new"),
    Feed("new-b", "new"),
    Feed("untraced-a", "not traced", unseen=4),
    Feed("untraced-b", "not traced", unseen=4),
    Feed("untraced-c", "not traced", unseen=1),
)
EXAMPLE_1_OLD_FEEDS = (0.121212, 0.303030, 0.363636, 0.212121)
"""Chance of 0, 1, 2, 3 old feeds among the three untraced, to six places."""
EXAMPLE_1_HIDDEN = {22: 0.121212, 23: 0.101010, 26: 0.202020, 27: 0.242424, 30: 0.121212, 31: 0.212121}
"""H [points] -> chance, to six places."""
EXAMPLE_1_MARKS = (22, 27, 31)

SINGLE_POINTS = (38, Fraction(8), Fraction(5))
"""The model it is set against: 38 single points, Beta(8, 5), as (tries, a, b)."""
SINGLE_POINTS_MARKS = (16, 24, 31)
SINGLE_POINTS_COVERAGE = 0.833
"""Exact chance between its own P10 and P90, both counted, to three places."""
FIVE_POINTS = (5, Fraction(2), Fraction(2))
FIVE_POINTS_COVERAGE = 1.0

# ------------------------------------------------- the model's worked example 2 (worked example, no prices)
# "A part feed of 6 unopened: 2 of 2 opened old, all six old in 0.700; 1 of 2, nearly flat (0.121 to 0.158);
# 0 of 2, none old in 0.700."

EXAMPLE_2_TWO_OF_TWO = Feed("part", "part", unseen=6, opened_old=2, opened_new=0)
EXAMPLE_2_ONE_OF_TWO = Feed("part", "part", unseen=6, opened_old=1, opened_new=1)
EXAMPLE_2_NONE_OF_TWO = Feed("part", "part", unseen=6, opened_old=0, opened_new=2)
EXAMPLE_2_ALL_OR_NONE = 0.700
EXAMPLE_2_FLAT = (0.121, 0.158)
"""Lowest and highest chance of any number of old points, to three places."""

# -------------------------------------------- the model's worked example 3 (worked example, invented prices)
# Three kinds of house given outright and one kind of wall.  "Per item: list $19,800, tracing $1,150, $290 a
# point, $480 an old feed, $165 a blocked drop, 26 drops on the list, H and feeds of example 1."

EXAMPLE_3_FEEDS, EXAMPLE_3_PRIOR = EXAMPLE_1_FEEDS, PRIOR
EXAMPLE_3_WEIGHTS = (Fraction(30, 100), Fraction(40, 100), Fraction(30, 100))
EXAMPLE_3_BLOCKED_SHARE = (
    (Fraction(3, 2), Fraction(15, 2)),
    (Fraction(2), Fraction(7)),
    (Fraction(5, 2), Fraction(13, 2)),
)
"""(a, b) of the beta that the share of blocked drops has, by kind of house."""
EXAMPLE_3_LATER = (4_000_00, 6_900_00, 12_300_00)
"""Later costs [cents] by kind of house."""
EXAMPLE_3_PRICE = 19_800_00
EXAMPLE_3_TRACING = 1_150_00
EXAMPLE_3_EACH_POINT = 290_00
EXAMPLE_3_EACH_FEED = 480_00
EXAMPLE_3_EACH_BLOCKED = 165_00
EXAMPLE_3_LIST_DROPS = 26
EXAMPLE_3_MARKS = (35_565_00, 39_940_00, 46_605_00)
EXAMPLE_3_LINE = 38_900_00
EXAMPLE_3_ABOVE_LINE = 0.602
"""Chance of ending strictly above EXAMPLE_3_LINE, to three places."""

# -------------------------------------------- the model's worked example 4 (worked example, invented prices)
# A whole house: 14 rooms, 68 points, 12 feeds of which 6 not traced, 20 points listed, 14 new places in all
# three prices, e = 6 of 100.  Counted by hand from the rooms:
#   down-lights       9 points, 6 listed                        -> 3 unseen
#   up-lights         9 points, none listed, 2 opened old       -> 2 known, 7 unseen
#   front-outlets     4 points, all listed, 2 of them opened old
#   back-outlets      6 points, 4 listed; up-front-outlets 4, 3 listed; up-back-outlets 4, 3 listed
#   pantry 3, porch 3, attic 4, bath 4 points, none listed; kitchen 10 and basement 8 are new
# List drops: 28 outlets (14 listed, 14 new places) + 3 switches + 3 ceiling lights at 1/2 = 32.5 -> 33.
# Floor: 2/5 of 1,343 sq ft in the eight rooms worked in = 537.2 -> 537.

ONE_PRICE, PER_ITEM, WIRING_ONLY = "fixed-guarantee", "per-item", "minimal-protection"

EXAMPLE_4_FEEDS = (
    Feed("down-lights", "old", unseen=3),
    Feed("up-lights", "part", known=2, unseen=7, opened_old=2),
    Feed("front-outlets", "part", opened_old=2),
    Feed("back-outlets", "not traced", unseen=2),
    Feed("up-front-outlets", "not traced", unseen=1),
    Feed("up-back-outlets", "not traced", unseen=1),
    Feed("pantry", "not traced", unseen=3),
    Feed("porch", "not traced", unseen=3),
    Feed("attic", "not traced", unseen=4),
    Feed("bath", "new ends", unseen=4),
    Feed("kitchen", "new", unseen=10),
    Feed("basement", "new", unseen=8),
)
EXAMPLE_4_CASES = (
    Case("asbestos", Fraction(6, 100), Spread(1_400_00, 2_600_00, 5_200_00)),
    Case("utility", Fraction(15, 100), Spread(600_00, 1_100_00, 2_300_00)),
    Case("rot", Fraction(8, 100), Spread(350_00, 800_00, 2_000_00)),
)
EXAMPLE_4_LATER = (
    Later("plaster finish", "opening", Spread(110_00, 165_00, 260_00)),
    Later("floors", "sq ft", Spread(0, 90, 3_10)),
    Later("deep clean", "house", Spread(450_00, 700_00, 1_200_00)),
)
_ALL_CASES = frozenset({"asbestos", "utility", "rot"})
EXAMPLE_4_OPTIONS = (
    Option(ONE_PRICE, 35_600_00, covers_all=True, pays_cases=_ALL_CASES, case_cap=2_400_00, floor_area=537),
    Option(
        PER_ITEM,
        18_600_00,
        covers_all=False,
        each_point=520_00,
        each_feed=540_00,
        each_blocked=165_00,
        pays_cases=_ALL_CASES,
        later=frozenset({"deep clean", "floors"}),
        floor_area=537,
    ),
    Option(
        WIRING_ONLY,
        15_400_00,
        covers_all=False,
        each_point=410_00,
        each_feed=480_00,
        each_blocked=150_00,
        pays_cases=_ALL_CASES,
        later=frozenset({"plaster finish", "deep clean", "floors"}),
        floor_area=537,
    ),
)
EXAMPLE_4_HOUSE = House(
    feeds=EXAMPLE_4_FEEDS,
    inside=Walls(probed=5, blocked=1),
    outside=Walls(probed=2, blocked=1),
    list_drops=33,
    outside_share=Fraction(2, 5),
    openings_a_drop=Fraction(3, 4),
    tracing=450_00 + 8 * 95_00,
    cases=EXAMPLE_4_CASES,
    later=EXAMPLE_4_LATER,
    options=EXAMPLE_4_OPTIONS,
)
EXAMPLE_4_BELIEF = Belief(feeds=PRIOR)
EXAMPLE_4_HABIT = (3, 2)
"""(O, N) [feeds] found old and found new."""

EXAMPLE_4_HIDDEN_MARKS = (14, 19, 25)
EXAMPLE_4_HIDDEN_ENDS = (5, 30)
"""Fewest (known today) and most H [points]."""
EXAMPLE_4_MARKS = {
    ONE_PRICE: (35_600_00, 35_600_00, 37_600_00),
    PER_ITEM: (32_336_00, 36_988_00, 41_665_00),
    WIRING_ONLY: (32_179_00, 37_868_00, 44_681_00),
}
"""To the same finish, P10 / P50 / P90 [cents], printed to the dollar."""
EXAMPLE_4_CREDITED_MARKS = {
    ONE_PRICE: (35_600_00, 35_600_00, 37_600_00),
    PER_ITEM: (31_126_00, 35_778_00, 40_455_00),
    WIRING_ONLY: (30_969_00, 36_658_00, 43_471_00),
}
"""The same with tracing credited, so that it is in no ending: the rule of a firm that takes it off the price."""

EXAMPLE_4_CREDITED_CHEAPEST = {ONE_PRICE: 0.439, PER_ITEM: 0.291, WIRING_ONLY: 0.270}
EXAMPLE_4_CREDITED_ABOVE = {(PER_ITEM, ONE_PRICE): 0.480, (WIRING_ONLY, ONE_PRICE): 0.556,
                            (WIRING_ONLY, PER_ITEM): 0.639}
EXAMPLE_4_CREDITED_PER_ITEM_ABOVE = {"half": 0.400, "twice": 0.605}

EXAMPLE_4_MOST = {ONE_PRICE: 38_000_00}
EXAMPLE_4_CHEAPEST = {ONE_PRICE: 0.566, PER_ITEM: 0.210, WIRING_ONLY: 0.225}
"""Chance that an option ends cheapest, to three places."""
EXAMPLE_4_ABOVE = {
    (PER_ITEM, ONE_PRICE): 0.610,
    (WIRING_ONLY, ONE_PRICE): 0.656,
    (WIRING_ONLY, PER_ITEM): 0.639,
}
"""Chance that the first option ends strictly above the second, to three places."""

HALF_AS_MANY, TWICE_AS_MANY = Fraction(1, 2), Fraction(2)
EXAMPLE_4_PER_ITEM_ABOVE_ONE_PRICE = {HALF_AS_MANY: 0.529, TWICE_AS_MANY: 0.727}
EXAMPLE_4_PER_ITEM_MARKS = {
    HALF_AS_MANY: (31_637_00, 36_233_00, 41_045_00),
    TWICE_AS_MANY: (33_471_00, 38_108_00, 42_590_00),
}
"""Per item with half and with twice as many old feeds: a and e by that factor, b as it is."""

EXAMPLE_4_SIMULATED_MARKS = {
    PER_ITEM: (32_331_00, 36_988_00, 41_671_00),
    WIRING_ONLY: (32_190_00, 37_869_00, 44_678_00),
}
"""The published simulation of 200,000 houses [cents]."""
EXAMPLE_4_SIMULATED_CHEAPEST = {ONE_PRICE: 0.566, PER_ITEM: 0.210, WIRING_ONLY: 0.224}

EXAMPLE_4_PER_ITEM_DEARER = (17, 7)
EXAMPLE_4_PER_ITEM_CHEAPER = (19, 4)
"""(H [points], F [feeds]) where per item is above, and below, the one price, all else at its usual."""
