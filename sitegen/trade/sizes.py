"""How large a house is to work out, known before it is worked out, and where the line is drawn.

Every place is met with every scenario and nothing is sampled or rounded, so that a house which is too large is
refused.  A house of 300 points, 60 feeds and 20 cases in steps of $10 has some 10 to 20 million places and 6,000
scenarios, and takes some two seconds and 200 MB; one of 50 points and five cases has 80,000 places and 500 scenarios.
Time grows with the places and, where the costs of cases share no round step, with places times scenarios.  Nothing
here loads numpy.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from sitegen.trade.feeds import bits
from sitegen.trade.terms import House

MOST_PLACES = 30_000_000

MOST_SCENARIOS = 4 ** 9
"""Different sums that one option may pay, or sets of sums that set the options apart: nine cases in any amounts."""

MOST_OUTCOMES = 200_000_000_000
"""Places times scenarios."""

MOST_CELLS = 4_000_000
"""Sides of thresholds that a comparison tells apart, for all options together; each is a number in every view."""


class TooLarge(ValueError):
    """A house that is over the budget; the text gives its size and the line."""


class Size(Struct, frozen=True):
    """How large a house is.

    `places`     where it can stand: kind of house, old points, feeds charged, blocked drops (module `places`)
    `scenarios`  different sums that one option can pay for cases, the most of any option (module `scenarios`)
    """

    places: int
    scenarios: int

    @property
    def outcomes(self) -> int:
        """Places times scenarios: the endings of one option that are told apart."""
        return self.places * self.scenarios

    def within(self) -> Size:
        """This size itself; raises TooLarge, a ValueError, over MOST_PLACES places or MOST_OUTCOMES outcomes."""
        for what, size, most in (("places", self.places, MOST_PLACES),
                                 ("places times scenarios", self.outcomes, MOST_OUTCOMES)):
            if size > most:
                raise TooLarge(f"this house has {size:,} {what} ({self.places:,} places, {self.scenarios:,} "
                               f"scenarios of its cases); at most {most:,} are worked out")
        return self


def places_in(house: House, reach: Iterable[int], kinds: int) -> int:
    """Places of a house: kinds of house, pairs that can come and, for each pair, counts of blocked drops.

    `reach` has a mask for each count of feeds charged: bit `h` is set if `h` points can come on them.
    """
    return kinds * sum(house.list_drops + points + 1 for mask in reach for points in bits(mask))
