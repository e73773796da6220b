"""The terms of a job as the endings read them: the house, the options, and what the firm believes."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from sitegen.trade.feeds import Feed, FeedPrior

Cents = int


class Spread(Struct, frozen=True):
    """A three-point entry [cents]: 1 in 10 lower than `low`, as likely as not `usual`, 1 in 10 above `high`."""

    low: Cents
    usual: Cents
    high: Cents


class Case(Struct, frozen=True):
    """Something that can raise a price: one toss for all options.  `chance` is 0, 1 or the price book's."""

    key: str
    chance: Fraction
    cost: Spread


class Later(Struct, frozen=True):
    """What the homeowner buys elsewhere.  `per` is "opening", "sq ft" (outside the sheet) or "house"."""

    key: str
    per: str
    price: Spread


class Option(Struct, frozen=True):
    """The money terms of one option.  A cap of None means no cap.

    `also`        [cents] what is certain beside the price today, such as new places at a set price each
    `covers_all`  every old point is in the price: nothing is added when more turns up, no tracing is bought
    `each_*`      [cents] for each old point, feed charged, blocked drop that turns up
    `pays_cases`  keys of the cases that the homeowner pays; `case_cap` [cents] holds their sum
    `added_cap`   [cents] holds the sum of what points, feeds and blocked drops add
    `later`       keys of the later costs that this option leaves to the homeowner
    `floor_area`  [sq ft] of floor that it leaves bare of sheet where the crew works and walks
    """

    key: str
    price: Cents
    covers_all: bool
    each_point: Cents = 0
    each_feed: Cents = 0
    each_blocked: Cents = 0
    pays_cases: frozenset[str] = frozenset()
    case_cap: Cents | None = None
    added_cap: Cents | None = None
    later: frozenset[str] = frozenset()
    floor_area: int = 0
    also: Cents = 0


class Walls(Struct, frozen=True):
    """Drops probed before the price, inside or outside walls: how many, and how many were blocked."""

    probed: int
    blocked: int


class Belief(Struct, frozen=True):
    """The firm's whole judgement: feeds, blocked drops, and how far a hard house shifts the latter.

    Blocked drops are beta-binomial(drops; blocked_a + blocked - x, blocked_b + probed - blocked + x) with x
    from +shift at s = .1 to -shift at s = .9 on a straight line carried on beyond.
    """

    feeds: FeedPrior
    blocked_a: Fraction = Fraction(1)
    blocked_b: Fraction = Fraction(3)
    shift: Fraction = Fraction(1, 2)


class House(Struct, frozen=True):
    """Everything about the house that an ending turns on.

    `list_drops`      [drops] of the list and of the new places, rounded once
    `outside_share`   share of all drops that run down outside walls; outside drops are rounded half up
    `openings_a_drop` openings = that times the drops, rounded up
    `list_openings`   [openings] of the list, counted room by room, to which added points add; where it is None, the
                      drops of the list and of added points are rounded together
    `tracing`         [cents] visit plus each feed not settled, for whoever has to find out; 0 where the firm takes
                      it off the price again, or when it was bought before signing
    """

    feeds: tuple[Feed, ...]
    inside: Walls
    outside: Walls
    list_drops: int
    outside_share: Fraction
    openings_a_drop: Fraction
    tracing: Cents
    cases: tuple[Case, ...] = ()
    later: tuple[Later, ...] = ()
    options: tuple[Option, ...] = ()
    list_openings: int | None = None

    @property
    def one_price(self) -> Option | None:
        """The option whose price covers every point, if one is offered."""
        return next((option for option in self.options if option.covers_all), None)
