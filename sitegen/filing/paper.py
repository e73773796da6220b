"""The record of an agreement that was signed on paper: what the paper says, filled up from the offer it was printed of.

Whoever types it reads it off the paper.  What follows from the offer (sums, words, days) is worked out and not typed,
and filing holds the record against the offer as it does any other.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

import rfc8785
from msgspec import Struct

from sitegen.errors import UsageError
from sitegen.filing.held import Offered, cancel_by
from sitegen.filing.record import AGREEMENT, FORMAT
from sitegen.offer.signable import Choice

ALL = "all"
"""Stands for every statement and every tick of the paper."""


class OnPaper(Struct, frozen=True):
    """What is read off the paper.  `ticked` and `later` are keys of statements and of what can raise the price."""

    option: str
    lives: str
    signed_at: datetime
    copy_at: datetime
    owners: tuple[str, ...]
    firm: str
    extras: Mapping[str, int]
    ticked: tuple[str, ...]
    later: tuple[str, ...]


def record(offer: Offered, paper: OnPaper) -> bytes:
    """The record as canonical JSON; raises UsageError for a key that the offer has not, or a time without zone."""
    signable = offer.signable
    choice = next((one for one in signable.choices if one.option == paper.option), None)
    if choice is None:
        raise UsageError(f"The offer has no option `{paper.option}`. It has "
                         f"{', '.join(one.option for one in signable.choices)}.")
    if paper.signed_at.tzinfo is None or paper.copy_at.tzinfo is None:
        raise UsageError("A time needs its zone, such as 2026-05-06T18:30:00-05:00.")
    sold = {one.key: one.each for one in signable.extras}
    keys = [*(one.key for one in signable.statements), *(one.key for one in choice.rises)]
    _known(paper.extras, [*sold], "extra")
    _known((*(one for one in paper.ticked if one != ALL), *paper.later), keys, "statement or tick")
    added = sum(sold[key] * count for key, count in paper.extras.items())
    last = cancel_by(paper.signed_at.date(), paper.copy_at.date(), signable)
    if last is None:
        raise UsageError(f"{paper.signed_at.date()} is no day of this offer, which was made on {signable.prepared}.")
    at = paper.signed_at.isoformat()
    ticked = [key for key in keys if key not in paper.later and (ALL in paper.ticked or key in paper.ticked)]
    plain = {
        "format": FORMAT, "kind": AGREEMENT, "job": signable.job, "version": signable.version, "offer": offer.sum,
        "option": choice.option, "lives": paper.lives, "total": choice.price + added,
        "extras": [{"key": key, "count": count} for key, count in sorted(paper.extras.items())],
        "payments": _payments(choice, added),
        "choice": next(one for one in offer.plain["choices"] if one["option"] == choice.option),
        "work_starts": signable.work_starts.isoformat(), "cancel_by": last.isoformat(), "signed_at": at,
        "copy_in_hand_at": paper.copy_at.isoformat(),
        "statements": [{"key": one.key, "says": one.says, **_state(one.key in paper.later, at)}
                       for one in signable.statements if one.key in (*ticked, *paper.later)],
        "rises": [{"key": one.key, "at": at} for one in choice.rises if one.key in ticked],
        "consent": None, "way": "paper",
        "signatures": [{"who": who, "name": name, "at": at, "by": "paper", "strokes": []}
                       for who, name in (*(("owner", one) for one in paper.owners), ("firm", paper.firm))]}
    return rfc8785.dumps(plain)


def _payments(choice: Choice, added: int) -> list[dict[str, Any]]:
    """What is paid after each step; extras are paid with the last."""
    due: list[dict[str, Any]] = [{"after": one.after, "cents": one.cents} for one in choice.payments]
    due[-1]["cents"] += added
    return due


def _state(later: bool, at: str) -> dict[str, str | None]:
    return {"state": "due-before-start", "at": None} if later else {"state": "done", "at": at}


def _known(given: Mapping[str, int] | tuple[str, ...], keys: list[str], what: str) -> None:
    if strange := [one for one in given if one not in keys]:
        raise UsageError(f"The offer has no {what} `{strange[0]}`. It has {', '.join(keys) or 'none'}.")


__all__ = ["ALL", "OnPaper", "record"]
