"""What of an offer may be signed, as plain data: page 7 shows it, a record copies the part that was chosen, and the
archive works a record out again from it.

One file of it, `agreement.json`, stands beside an offer that is kept, and the same bytes stand on page 7.  Money is in
whole cents; days are dates.
"""

from __future__ import annotations

from datetime import date

from msgspec import Struct

FORMAT = 1
"""The version of this shape.  A kept file of an older one is read as it was written, for ever."""

NAME = "agreement.json"

WITHIN, SET_PRICE, NOT_IN_IT = "in-the-price", "at-a-set-price", "not-in-it"
NOW, BEFORE_START = "now", "due-before-start"

MARK_LETTERS = "BCDFGHJKLMNPQRSTVWXZ"
"""Letters of a mark that is read and typed back: no vowels, so that it is no word, and nothing like a digit."""
MARK = 6


class Extra(Struct, frozen=True):
    """Something at a set price that may be added: a price for each of at most `most`."""

    key: str
    says: str
    each: int
    most: int


class Due(Struct, frozen=True):
    """One payment of an option without extras, after a step; what extras come to is added to the last one."""

    after: str
    says: str
    cents: int


class ScopeLine(Struct, frozen=True):
    """One scope item in one option: WITHIN, SET_PRICE or NOT_IN_IT, and the words of its cell."""

    item: str
    name: str
    state: str
    says: str


class ListLine(Struct, frozen=True):
    """Points of one kind in one room that are on the list; `each` is the set price [cents] where the option has one."""

    room: str
    kind: str
    count: int
    why: str
    each: int | None = None


class Rise(Struct, frozen=True):
    """One thing that can raise the price of an option: what is paid then, and the most [cents] where there is a cap.

    `key` is what a buyer ticks before signing.
    """

    key: str
    says: str
    most: int | None = None


class Days(Struct, frozen=True):
    """The days of an option for one way of living: `lives` is `lived-in` or `empty`."""

    lives: str
    dead: date
    finished: date


class Statement(Struct, frozen=True):
    """One thing that a buyer acknowledges or consents to: its text as shown, and NOW or BEFORE_START.

    `alone` where the law asks for a signature of its own.
    """

    key: str
    says: str
    due: str
    alone: bool = False


class Choice(Struct, frozen=True):
    """One option that may be signed, whole; `refused` says why a state does not allow it."""

    option: str
    name: str
    price: int
    most: int | None
    payments: tuple[Due, ...]
    scope: tuple[ScopeLine, ...]
    listed: tuple[ListLine, ...]
    rises: tuple[Rise, ...]
    days: tuple[Days, ...]
    refused: str | None = None


class State(Struct, frozen=True):
    """The state whose duties are held: who read its card and when; `open` where signing on a screen may be built."""

    name: str
    reviewed_by: str | None
    reviewed_on: date | None
    open: bool


class Signable(Struct, frozen=True):
    """One offer as it may be signed.

    `signers` are printed names in the order of the job, `cancel_days` business days of the right to cancel, `holidays`
    the days that do not count among them from `prepared` until well after `hold_to`.
    """

    format: int
    job: str
    version: int
    demo: bool
    address: str
    firm: str
    licences: tuple[str, ...]
    salesperson: str
    signers: tuple[str, ...]
    prepared: date
    hold_to: date
    sign_by: date
    work_starts: date
    cancel_days: int
    holidays: tuple[date, ...]
    state: State
    choices: tuple[Choice, ...]
    extras: tuple[Extra, ...]
    statements: tuple[Statement, ...]
    terms: tuple[str, ...]


def mark_of(fingerprint: str) -> str:
    """What whoever agrees to a screen reads inside their copy and types back; it follows from the offer."""
    number, letters = int(fingerprint[:32], 16), ""
    for _ in range(MARK):
        number, at = divmod(number, len(MARK_LETTERS))
        letters += MARK_LETTERS[at]
    return letters


__all__ = ["BEFORE_START", "FORMAT", "MARK", "MARK_LETTERS", "NAME", "NOT_IN_IT", "NOW", "SET_PRICE", "WITHIN",
           "Choice", "Days", "Due", "Extra", "ListLine", "Rise", "ScopeLine", "Signable", "State", "Statement",
           "mark_of"]
