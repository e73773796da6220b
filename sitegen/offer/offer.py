"""The Offer: everything that a sheet may print, frozen.  Sheets read this and nothing else.

It is put together from parts that the topics make; here stand only the head, the firm, and what a kit says.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.errors import BuildError
from sitegen.figure import Figure, Quote, Source
from sitegen.offer.agreement import Agreement
from sitegen.offer.asked import Asked
from sitegen.offer.changes import Changes
from sitegen.offer.closing import Closing
from sitegen.offer.costs import OptionCosts
from sitegen.offer.dates import Dates
from sitegen.offer.design import Design
from sitegen.offer.extras import Extra
from sitegen.offer.finished import FinishedSeen
from sitegen.offer.found import Found
from sitegen.offer.money import Outcome
from sitegen.offer.payments import Paying
from sitegen.offer.protection import Protection
from sitegen.offer.rooms import RoomSeen
from sitegen.offer.scope import Scope
from sitegen.offer.setting import (
    Firm,
    Head,
    Holder,
    Lead,
    Person,
    Power,
    TownCard,
    Walls,
)
from sitegen.offer.smaller import Smaller


class Photograph(Struct, frozen=True):
    """A photograph of the survey: its file in the job's folder, what it shows, and what it proves.

    `finding` is a number of the report, `room` the name of a room, `first` whether it stands on the first sheet.
    """

    file: str
    of: Quote
    finding: int | None = None
    room: str | None = None
    first: bool = False

    @property
    def elsewhere(self) -> bool:
        """Whether it belongs to no finding and to no room."""
        return self.finding is None and self.room is None


class OptionTerms(Struct, frozen=True):
    """What the kit of one option says, beside its money and its dates."""

    key: str
    closes_holes: str
    broken_out: bool
    before_work: Figure
    held: Figure
    if_stopped: Quote
    years_on_work: Figure
    years_on_old_wire: Figure
    passes_on: bool
    if_we_close: Quote
    row_words: dict[str, Quote]
    own_claims: dict[str, Quote]
    we_earn: str


class RuleSeen(Struct, frozen=True):
    """A rule that a figure of this offer rests on: its sentence, which may hold digits, its section and the name of
    its standard with the day on which it was read, and its value if it is one."""

    says: Quote
    cited: Quote
    figure: Figure | None
    decides: bool


class Offer(Struct, frozen=True):
    """One frozen offer."""

    head: Head
    firm: Firm
    found: Found
    outcome: Outcome
    dates: Dates
    terms: dict[str, OptionTerms]
    lead: Lead
    rules: tuple[RuleSeen, ...]
    people: tuple[Person, ...]
    town: TownCard
    extras: tuple[Extra, ...]
    holder: Holder
    rooms: tuple[RoomSeen, ...]
    smaller: Smaller
    costs: dict[str, OptionCosts]
    protection: Protection
    design: Design
    paying: dict[str, Paying]
    power: Power
    photographs: tuple[Photograph, ...]
    finished: FinishedSeen | None
    scope: Scope
    walls: Walls
    asked: tuple[Asked, ...]
    closing: tuple[Closing, ...]
    agreement: Agreement
    changes: Changes | None = None

    def figures(self) -> tuple[Figure, ...]:
        """Every figure of the offer, by name; raises BuildError if two of one name differ."""
        return figures_in(self)


def figures_in(thing: object) -> tuple[Figure, ...]:
    """Every figure inside of something, by name; raises BuildError if two of one name differ."""
    named: dict[str, Figure] = {}
    for figure in _walk(thing):
        had = named.setdefault(figure.name, figure)
        if (had.value, had.unit) != (figure.value, figure.unit):
            raise BuildError(f"two figures are called {figure.name}: {had.raw()} and {figure.raw()}")
    return tuple(named[name] for name in sorted(named))


def _walk(thing: object) -> Iterator[Figure]:
    """Every figure inside of something, in its order; a list of what is left, since calls for each part cost more."""
    left = [thing]
    while left:
        one = left.pop()
        if isinstance(one, Figure):
            yield one
            for line in one.sum:
                yield from (line.count, line.each, line.amount)
        elif isinstance(one, Struct):
            if not isinstance(one, Quote | Source):
                left.extend([getattr(one, name) for name in reversed(one.__struct_fields__)])
        elif isinstance(one, dict):
            left.extend(reversed(one.values()))
        elif isinstance(one, tuple):
            left.extend(reversed(one))
