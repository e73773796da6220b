"""The money of the offer as it is handed on: each option, what is hidden, break-even and tracing, all as figures."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, int_of
from sitegen.offer.chances import Chance, Counted

EXPLAINED = "what-you-could-pay.html#pay-from"
ENDING = ("Price, what is added, cases and later costs on one and the same hidden house, worked out exactly "
          "over every house that the survey leaves open")


class CaseMoney(Struct, frozen=True):
    """A case that can raise a price: what it is, its usual amount, whether it is known already, and days it adds."""

    key: str
    what: Quote
    called: Quote
    usual: Figure
    known: bool
    days: Figure


class LaterMoney(Struct, frozen=True):
    """What the homeowner buys elsewhere: what, and its usual amount when the middle count of points turns up."""

    key: str
    stands_for: str
    what: Quote
    called: Quote
    usual: Figure


class OptionMoney(Struct, frozen=True):
    """One option in money.

    `with_known` is what it comes to with all that is known already and is not in the price, if anything is;
    `least_paid` the same with each known case at the least that it costs.
    `most_paid` is what the firm is paid when every unseen point is old and all is usual, or for a price that
    covers everything its price and the cap; None when nothing holds it.  `marks_*` count the twenty endings.
    """

    key: str
    name: str
    covers_all: bool
    price: Figure
    with_known: Figure | None
    least_paid: Figure | None
    each_point: Figure
    each_feed: Figure
    each_blocked: Figure
    case_cap: Figure | None
    added_cap: Figure | None
    cases: tuple[CaseMoney, ...]
    later: tuple[LaterMoney, ...]
    tracing: Figure | None
    most_paid: Figure | None
    p10: Figure
    p50: Figure
    p90: Figure
    paid_p10: Figure
    paid_p50: Figure
    paid_p90: Figure
    quantile_dots: tuple[Figure, ...]
    dots_under: Figure
    dots_above: Figure
    places_held: Figure
    half: tuple[Figure, Figure]
    twice: tuple[Figure, Figure]
    cheapest: Chance
    above_one_price: Chance | None
    holes: Figure


class BreakEvenSaid(Struct, frozen=True):
    """The count of old points off the list at which a list and the one price cost the same, all else at its usual.

    `usual_*`   at usual costs one of the two costs no more, at every count of points
    `always_*`  and in every ending of the judgement too, whatever else turns up
    """

    key: str
    name: str
    list_up_to: Figure | None
    price_from: Figure | None
    always_list: bool
    always_price: bool
    usual_list: bool = False
    usual_price: bool = False

    @property
    def always(self) -> bool:
        """Whether one of the two ends no dearer in every ending."""
        return self.always_list or self.always_price

    @property
    def settled(self) -> bool:
        """Whether at usual costs the count of points does not decide between the two."""
        return self.usual_list or self.usual_price

    @property
    def between(self) -> bool:
        """Whether there are counts at which it turns on the feeds."""
        if self.settled:
            return False
        low, high = self.list_up_to, self.price_from
        return low is None or high is None or int_of(high) - int_of(low) > 1


class Swing(Struct, frozen=True):
    """How far one feed moves the total of a list, found old against found new."""

    key: str
    name: Quote
    unseen: Figure
    amount: Figure


class Hidden(Struct, frozen=True):
    """Old points off the list: known, most, and how many there are likely to be."""

    known: Figure
    most: Figure
    p10: Figure
    p50: Figure
    p90: Figure


class Tracing(Struct, frozen=True):
    """Finding out as a choice of its own; `swings` feed by feed, widest first."""

    price: Figure
    visit: Figure
    each_feed: Figure
    credited: bool
    swings: tuple[Swing, ...]


class StepLater(Struct, frozen=True):
    """One thing that is bought elsewhere, at each count of old points off the list."""

    key: str
    usual: dict[int, Figure]


class StepOption(Struct, frozen=True):
    """One option at every step; `paid` by points and feeds is empty where the price covers them all.

    `price` is the price today; where it covers all, with the cases that are known already.
    """

    key: str
    name: str
    price: Figure
    paid: dict[tuple[int, int], Figure]
    later: tuple[StepLater, ...]

    @property
    def later_figures(self) -> tuple[Figure, ...]:
        """All that is bought elsewhere, thing by thing, at every count of points."""
        return tuple(figure for item in self.later for figure in item.usual.values())

    def paid_at(self, pair: tuple[int, int]) -> Figure:
        """What the firm is paid [cents] at a step (points, feeds); the price where it moves with neither.

        Raises KeyError for a step that is not in the table.
        """
        return self.paid[pair] if self.paid else self.price

    def later_at(self, points: int) -> tuple[Figure, ...]:
        """What is bought elsewhere at one count of points [cents], by thing; raises KeyError for a count not listed."""
        return tuple(item.usual[points] for item in self.later)

    def total_at(self, pair: tuple[int, int]) -> int:
        """Paid and bought elsewhere together, to the same finish, at a step (points, feeds) [cents]."""
        return int_of(self.paid_at(pair)) + sum(map(int_of, self.later_at(pair[0])))


class StepCell(Struct, frozen=True):
    """One option at one step of the short table: paid to the firm, and to the same finish."""

    paid: Figure
    total: Figure


class StepRow(Struct, frozen=True):
    """One count of points of the short table: the feeds they can be on, why it is there, and each option on the fewest
    and on the most feeds."""

    points: Figure
    least: Figure
    most: Figure
    why: tuple[str, ...]
    options: dict[str, tuple[StepCell, StepCell]]


class StepCable(Struct, frozen=True):
    """A feed that could be found old, and what comes with it."""

    key: str
    name: Quote
    points: Figure
    feeds: Figure


class StepMark(Struct, frozen=True):
    """Where one count of the judgment stands: the feeds that it is likeliest to be on, and blocked drops at their mean
    count."""

    points: Figure
    feeds: Figure
    blocked: Figure


class Steps(Struct, frozen=True):
    """How many more turn out old: known today, every option at every step, a short table, and the feeds one by one.

    `can_be` gives the counts of feeds that each count of points can be on, fewest first; `marks` stand at fewer, at the
    middle and at more of the judgment.
    """

    points: Figure
    feeds: Figure
    most_feeds: Figure
    can_be: dict[int, tuple[int, ...]]
    options: tuple[StepOption, ...]
    rows: tuple[StepRow, ...]
    cables: tuple[StepCable, ...]
    marks: tuple[StepMark, StepMark, StepMark]

    @property
    def many(self) -> bool:
        """Whether more than what is known today can turn out old."""
        return len(self.can_be) > 1

    @property
    def feeds_vary(self) -> bool:
        """Whether some count of points can be on fewer or more feeds."""
        return any(len(feeds) > 1 for feeds in self.can_be.values())

    @property
    def cheapest(self) -> tuple[str, ...]:
        """The names of the options that cost least to the same finish at the first step."""
        first = int_of(self.points), int_of(self.feeds)
        totals = {option.name: option.total_at(first) for option in self.options}
        return tuple(name for name, total in totals.items() if total == min(totals.values()))


class Outcome(Struct, frozen=True):
    """The money of the whole offer; `options` come in order of price today."""

    options: tuple[OptionMoney, ...]
    hidden: Hidden
    break_even: tuple[BreakEvenSaid, ...]
    bare_above_item: Chance | None
    record: Counted | None
    tracing: Tracing | None
    inside: Figure
    prior: Prior
    steps: Steps

    @property
    def one_price(self) -> OptionMoney | None:
        """The option whose price covers every point, if one is offered."""
        return next((option for option in self.options if option.covers_all), None)

    @property
    def cases(self) -> tuple[CaseMoney, ...]:
        """Every case that can come up, once, whoever pays for it."""
        return tuple({case.key: case for option in self.options for case in option.cases}.values())

    @property
    def known(self) -> tuple[CaseMoney, ...]:
        """The cases that the house has already: they are in every ending."""
        return tuple(case for case in self.cases if case.known)


class Prior(Struct, frozen=True):
    """The firm's judgement as it is spoken."""

    by: Quote
    on: Figure
    old: Figure
    all: Figure
    new_ends: Figure
    source: Source
