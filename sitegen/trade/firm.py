"""What an option costs the firm on the hidden house, and the price that a firm asks to carry it.

Everything here is private to the firm.  What an answer is stands here; `firm_endings` works it out.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from sitegen.trade.terms import Cents, Option

STEP: Cents = 100_00
"""A proposed price is rounded up to whole hundreds of dollars."""

LOSSES = (0.1, 0.2, 0.3)
"""Chances of losing money at which a price is told."""


class FirmCost(Struct, frozen=True):
    """What one option costs the firm [cents]: all that is certain, and what each surprise adds.

    `fixed`    everything that the option does whatever is hidden
    `each_*`   for each old point, feed charged and blocked drop that turns up
    """

    fixed: Cents
    each_point: Cents = 0
    each_feed: Cents = 0
    each_blocked: Cents = 0


class FirmEnding(Struct, frozen=True):
    """What one option comes to for the firm, over every house that the survey leaves open.

    `cost`     P10, P50 and P90 of its cost, less what the homeowner pays of the cases [cents]
    `margin`   P10, P50 and P90 of price and additions less the cost [cents]
    `loses`    chance that the margin is below nought
    `least`    the price that loses in at most as many houses as each of LOSSES says [cents]
    `limit`    the price that loses in at most as many as the firm's own limit [cents]
    """

    cost: tuple[Cents, Cents, Cents]
    margin: tuple[Cents, Cents, Cents]
    loses: float
    least: tuple[Cents, ...]
    limit: Cents


class FirmTerms(Struct, frozen=True):
    """One option as the firm sees it: its cost, and what the homeowner pays.  A price of None is to be proposed.

    `option`  what is charged: its `each_*` with their cap, the cases that the homeowner pays and their cap
    """

    option: Option
    cost: FirmCost
    price: Cents | None


class Aim(Struct, frozen=True):
    """What the firm asks of a price: to lose in at most this share of houses, and to earn this part of it in the
    middle."""

    loses_at_most: Fraction
    earns_at_least: Fraction


def proposed(limit: Cents, middle: Cents, aim: Aim) -> Cents:
    """The lowest price [cents] that keeps both aims, rounded up to STEP.

    `limit` [cents] is the price that loses in no more houses than the aim allows, `middle` [cents] what must be
    covered in the middle house.  Raises ValueError for an aim to earn the whole price.
    """
    if not 0 <= aim.earns_at_least < 1:
        raise ValueError(f"earns_at_least is a part of the price below the whole; got {aim.earns_at_least}")
    return -int(-max(Fraction(limit), middle / (1 - aim.earns_at_least)) // STEP) * STEP


def to_plain(found: FirmEnding) -> dict[str, Any]:
    """For keeping as JSON."""
    return asdict(found)


def from_plain(plain: dict[str, Any]) -> FirmEnding:
    """As kept by `to_plain`; raises KeyError, TypeError or ValueError when it was not."""
    low, middle, high = plain["cost"]
    lost, kept, most = plain["margin"]
    return FirmEnding((low, middle, high), (lost, kept, most), float(plain["loses"]), tuple(plain["least"]),
                      int(plain["limit"]))


__all__ = ["LOSSES", "STEP", "Aim", "FirmCost", "FirmEnding", "FirmTerms", "from_plain", "proposed", "to_plain"]
