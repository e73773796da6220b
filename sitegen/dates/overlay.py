"""Whether what somebody wrote down of a state's law may be leaned on: who reviewed it, when, and until when."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from sitegen.dates.spans import good_through

MONTHS = 12
"""A review is good for so long [months]: state law changes yearly."""

LIVE, NONE, UNREVIEWED, LATER, LAPSED = "live", "no overlay", "not reviewed", "reviewed later", "review lapsed"


class Review(Struct, frozen=True):
    """Who read the state's law, usually a lawyer, and on what day; empty and None while nobody has."""

    by: str = ""
    on: date | None = None


class Standing(Struct, frozen=True):
    """Whether an overlay is live, and why: `live`, `no overlay`, `not reviewed`, `reviewed later` or `review lapsed`.

    `until` is the last day on which the review is good; None without a review.
    """

    live: bool
    why: str
    until: date | None = None


def standing(review: Review | None, day: date) -> Standing:
    """How an overlay with this review stands on a day; None is a state for which nobody wrote anything.

    A review is good from its day through the same day 12 months later.  Silence is not permission: whatever is not
    live has to be read as if nothing were allowed.
    """
    if review is None:
        return Standing(False, NONE)
    if not review.by.strip() or review.on is None:
        return Standing(False, UNREVIEWED)
    until = good_through(review.on, MONTHS)
    if day < review.on:
        return Standing(False, LATER, until)
    return Standing(day <= until, LIVE if day <= until else LAPSED, until)
