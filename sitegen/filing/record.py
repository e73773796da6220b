"""What a record may say: an agreement, a change order or a cancellation, read strictly and filed as canonical JSON.

A record comes from a device outside the office, so that nothing of it is believed: it is bounded before it is read,
has no field that we do not know, and no text with markup in a name.  What is filed is its canonical form (RFC 8785),
whose SHA-512 is what a later record refers to.
"""

from __future__ import annotations

import hashlib
import json
import os
from datetime import date, datetime
from pathlib import Path
from typing import Annotated, Any, Literal

import msgspec
import rfc8785
from msgspec import Meta, Struct

from sitegen.errors import Fault, Faults
from sitegen.filing.disk import NO_LINKS
from sitegen.workspace import shown

FORMAT, MOST = 1, 1_000_000
"""The version of the shapes, and how large a record may be [bytes]: signatures of a whole family are a tenth of it."""

WIDE, HIGH = 1000, 400
"""The box that a signature is drawn in."""

AGREEMENT, CHANGE, CANCELLATION = "agreement", "change", "cancellation"

PLAIN = r"^[^<>&\x00-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]*\Z"
"""No mark-up, no control and no mark that turns the way of reading."""

Name = Annotated[str, Meta(min_length=1, max_length=120, pattern=PLAIN)]
Text = Annotated[str, Meta(min_length=1, max_length=2000, pattern=PLAIN)]
Key = Annotated[str, Meta(min_length=1, max_length=120, pattern=r"^[a-z0-9][a-z0-9 -]*\Z")]
Job = Annotated[str, Meta(pattern=r"^(?=.{1,60}\Z)[a-z0-9]+(?:-[a-z0-9]+)*\Z")]
Hash = Annotated[str, Meta(pattern=r"^[0-9a-f]{128}\Z")]
Cents = Annotated[int, Meta(ge=-10**12, le=10**12)]
Count = Annotated[int, Meta(ge=1, le=10_000)]
Moment = Annotated[datetime, Meta(tz=True)]
Point = tuple[Annotated[int, Meta(ge=0, le=WIDE)], Annotated[int, Meta(ge=0, le=HIGH)]]
Stroke = Annotated[list[Point], Meta(min_length=1, max_length=5000)]


class _Shape(Struct, frozen=True, forbid_unknown_fields=True):
    """A part of a record: exactly these fields."""


class Taken(_Shape, frozen=True):
    """So many of one extra."""

    key: Key
    count: Count


class Payment(_Shape, frozen=True):
    """What is paid after a step [cents]."""

    after: Key
    cents: Cents


class Acknowledged(_Shape, frozen=True):
    """A statement as it was shown, and when it was ticked, or that it is due before the start."""

    key: Key
    says: Annotated[str, Meta(min_length=1, max_length=20_000)]
    state: Literal["done", "due-before-start"]
    at: Moment | None


class Ticked(_Shape, frozen=True):
    """One thing that can raise the price, and when the buyer ticked it."""

    key: Key
    at: Moment


class Consent(_Shape, frozen=True):
    """The mark that was read in the buyer's own copy and typed back."""

    mark: Annotated[str, Meta(min_length=1, max_length=20, pattern=r"^[A-Z0-9]+\Z")]
    at: Moment


class Signature(_Shape, frozen=True):
    """One signature: whose, when, how, and the shape of its strokes and nothing more of them."""

    who: Literal["owner", "firm"]
    name: Name
    at: Moment
    by: Literal["drawn", "typed", "paper"]
    strokes: Annotated[list[Stroke], Meta(max_length=500)]


Signatures = Annotated[list[Signature], Meta(max_length=20)]
Payments = Annotated[list[Payment], Meta(min_length=1, max_length=40)]


class Agreement(_Shape, frozen=True):
    """A signed agreement; money in whole cents, times with their zone.  `choice` is copied whole from the offer."""

    format: Literal[1]
    kind: Literal["agreement"]
    job: Job
    version: Count
    offer: Hash
    option: Key
    lives: Literal["lived-in", "empty"]
    extras: Annotated[list[Taken], Meta(max_length=200)]
    total: Cents
    payments: Payments
    choice: dict[str, Any]
    work_starts: date
    cancel_by: date
    signed_at: Moment
    copy_in_hand_at: Moment
    statements: Annotated[list[Acknowledged], Meta(max_length=100)]
    rises: Annotated[list[Ticked], Meta(max_length=100)]
    consent: Consent | None
    way: Literal["screen", "paper"]
    signatures: Signatures


class Ordered(_Shape, frozen=True):
    """One line of a change order; what is taken out has a price under nought."""

    item: Key
    says: Text
    count: Count
    each: Cents
    cents: Cents


class Change(_Shape, frozen=True):
    """A change order; `prior` is the SHA-512 of the record that it changes, the agreement or the order before it, and
    `payments` the whole plan as it is from now on."""

    format: Literal[1]
    kind: Literal["change"]
    job: Job
    version: Count
    prior: Hash
    number: Count
    option: Key
    what: Annotated[list[Ordered], Meta(min_length=1, max_length=200)]
    cents: Cents
    total: Cents
    added_days: Annotated[int, Meta(ge=-365, le=365)]
    because: Text
    payments: Payments
    signed_at: Moment
    signatures: Signatures


class Cancellation(_Shape, frozen=True):
    """A cancellation: when it was said, how and by whom; what goes back [cents] and by when.  `prior` as in a change.

    Any writing cancels, so that it may carry no signature.
    """

    format: Literal[1]
    kind: Literal["cancellation"]
    job: Job
    version: Count
    prior: Hash
    said_at: Moment
    how: Text
    by: Name
    refund: Annotated[int, Meta(ge=0, le=10**12)]
    refund_by: date
    signatures: Signatures


Record = Agreement | Change | Cancellation
SHAPES: dict[str, type[Record]] = {AGREEMENT: Agreement, CHANGE: Change, CANCELLATION: Cancellation}


class Read(Struct, frozen=True):
    """A record as it is read: the shape, the same as plain data, and the bytes that are filed."""

    record: Record
    plain: dict[str, Any]
    canonical: bytes

    @property
    def sum(self) -> str:
        """The SHA-512 of the bytes that are filed."""
        return hashlib.sha512(self.canonical).hexdigest()


def read(path: Path) -> Read:
    """A record from a file; raises Faults with why it cannot be one."""
    try:
        with os.fdopen(os.open(path, os.O_RDONLY | NO_LINKS), "rb") as file:
            data = file.read(MOST + 1)
    except OSError as error:
        raise refused(path, [("", f"It cannot be read: {error.strerror or error}.")]) from error
    return taken(data, path)


def taken(data: bytes, path: Path) -> Read:
    """A record from its bytes; `path` is where messages say that it stands."""
    if len(data) > MOST:
        raise refused(path, [("", f"It is larger than {MOST:,} bytes, and no record is.")])
    try:
        plain = json.loads(data.decode("utf-8"), object_pairs_hook=_once, parse_float=_no_number,
                           parse_constant=_no_number)
        shape = SHAPES[plain["kind"]] if isinstance(plain, dict) and isinstance(plain.get("kind"), str) and (
            plain["kind"] in SHAPES) else None
        if shape is None:
            raise refused(path, [("kind", f"It is none of {', '.join(SHAPES)}.")])
        return Read(msgspec.convert(plain, shape), plain, rfc8785.dumps(plain))
    except msgspec.ValidationError as error:
        what, _, where = str(error).partition(" - at `$")
        raise refused(path, [(where.rstrip("`").lstrip("."), f"{what}.")]) from error
    except (ValueError, RecursionError) as error:
        raise refused(path, [("", f"It is no record: {_one_line(error)}.")]) from error


def refused(path: Path, wrong: list[tuple[str, str]]) -> Faults:
    """Everything that is wrong with a record, as faults of its file."""
    return Faults([Fault(shown(path), 0, where, what, "Nothing was filed.") for where, what in wrong])


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice in one object")
    return found


def _no_number(text: str) -> None:
    raise ValueError("a number in it is not whole")


def _one_line(error: Exception) -> str:
    said = "it is nested too deep" if isinstance(error, RecursionError) else " ".join(str(error).split())[:200]
    return said.rstrip(".")


__all__ = ["AGREEMENT", "CANCELLATION", "CHANGE", "FORMAT", "MOST", "Acknowledged", "Agreement", "Cancellation",
           "Change", "Consent", "Ordered", "Payment", "Read", "Record", "Signature", "Taken", "Ticked", "read",
           "refused", "taken"]
