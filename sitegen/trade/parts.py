"""The money of the offer as it is handed on: each way, what is hidden, break-even and tracing, all as figures."""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.figure import Figure, Said, Source
from sitegen.job.load import Inputs
from sitegen.job.sources import Sources
from sitegen.trade.blocked import Kind
from sitegen.trade.chances import Chance, Counted
from sitegen.trade.dust import RoomDust
from sitegen.trade.feeds import HiddenPoints
from sitegen.trade.found import Found
from sitegen.trade.terms import House
from sitegen.trade.worked import Worked

NAMES = {"fixed-guarantee": "One price", "per-item": "Per item", "minimal-protection": "Wiring only"}
EXPLAINED = "what-you-could-pay.html#pay-from"
ENDING = ("Price, what is added, cases and later costs on one and the same hidden house, worked out exactly "
          "over every house that the survey leaves open")


@dataclass(frozen=True, slots=True)
class CaseMoney:
    """A case that can raise a price: what it is, its usual amount, whether it is known already, and days it adds."""

    key: str
    what: Said
    called: Said
    usual: Figure
    known: bool
    days: Figure


@dataclass(frozen=True, slots=True)
class LaterMoney:
    """What the homeowner buys elsewhere: what, and its usual amount when the middle count of points turns up."""

    key: str
    what: Said
    called: Said
    usual: Figure


@dataclass(frozen=True, slots=True)
class WayMoney:
    """One way of buying in money.

    `most_paid` is what the firm is paid when every unseen point is old and all is usual, or for a price that
    covers everything its price and the cap; None when nothing holds it.  `marks_*` count the twenty endings.
    """

    key: str
    name: str
    covers_all: bool
    price: Figure
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
    twenty: tuple[Figure, ...]
    marks_under: Figure
    marks_above: Figure
    half: tuple[Figure, Figure]
    twice: tuple[Figure, Figure]
    cheapest: Chance
    above_one_price: Chance | None
    holes: Figure


@dataclass(frozen=True, slots=True)
class BreakEvenSaid:
    """The count of old points off the list at which a list and the one price cost the same."""

    key: str
    name: str
    list_up_to: Figure | None
    price_from: Figure | None
    always_list: bool
    always_price: bool


@dataclass(frozen=True, slots=True)
class Swing:
    """How far one feed moves the per-item total, found old against found new."""

    key: str
    name: Said
    unseen: Figure
    amount: Figure


@dataclass(frozen=True, slots=True)
class Hidden:
    """Old points off the list: known, most, and how many there are likely to be."""

    known: Figure
    most: Figure
    p10: Figure
    p50: Figure
    p90: Figure


@dataclass(frozen=True, slots=True)
class Tracing:
    """Finding out as a choice of its own; `swings` feed by feed, widest first."""

    price: Figure
    visit: Figure
    each_feed: Figure
    credited: bool
    swings: tuple[Swing, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """The money of the whole offer; `ways` come in order of price today."""

    ways: tuple[WayMoney, ...]
    hidden: Hidden
    break_even: tuple[BreakEvenSaid, ...]
    bare_above_item: Chance | None
    record: Counted | None
    tracing: Tracing | None
    inside: Figure
    prior: Prior

    @property
    def one_price(self) -> WayMoney | None:
        """The way whose price covers every point, if one is offered."""
        return next((way for way in self.ways if way.covers_all), None)


@dataclass(frozen=True, slots=True)
class Prior:
    """The firm's judgement as it is spoken."""

    by: Said
    on: Figure
    old: Figure
    all: Figure
    new_ends: Figure
    source: Source


@dataclass(frozen=True, slots=True)
class Bench:
    """What the makers below share."""

    inputs: Inputs
    make: Sources
    house: House
    kind: Kind
    hidden: HiddenPoints
    worked: Worked
    found: Found
    dust: dict[str, dict[str, RoomDust]]
