"""The Offer: everything that a sheet may print, frozen.  Sheets read this and nothing else.

It is put together from parts that the topics make; here stand only the head, the firm, and what a kit says.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from fractions import Fraction

from sitegen.dates.schedule import Dates
from sitegen.design import Design, design
from sitegen.design.code import code
from sitegen.errors import BuildError
from sitegen.figure import Figure, Said, Source, slug
from sitegen.job.books import Kit
from sitegen.job.load import Inputs
from sitegen.job.sources import Sources
from sitegen.paying import Due, paying
from sitegen.protection import Protection, protection
from sitegen.rules.read import every_rule, rule
from sitegen.ruleset import RuleSet
from sitegen.setting import (
    Firm,
    Head,
    Holder,
    Lead,
    Person,
    Power,
    TownCard,
    firm_of,
    head_of,
    holder_of,
    lead_of,
    people_of,
    power_of,
    town_of,
)
from sitegen.trade.costs import Costs, costs_of
from sitegen.trade.found import Found
from sitegen.trade.outcome import outcome
from sitegen.trade.parts import Bench, Outcome
from sitegen.trade.rooms import RoomSeen, room_keys, rooms_of

Book = Callable[..., Source]
RULES = "rules."


@dataclass(frozen=True, slots=True)
class Extra:
    """Something that may be added at a set price, in kinds of rooms, or in the house where none is named.

    `until` is the last day to choose it, `choose_by` the reason in words.
    """

    key: str
    what: Said
    price: Figure
    where: Said
    rooms: tuple[str, ...]
    choose_by: Said
    until: Figure


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph of the survey: its file in the job's folder, and what it shows."""

    file: str
    of: Said


@dataclass(frozen=True, slots=True)
class Remark:
    """A good thing or a drawback, and the row of the comparison that it rests on."""

    row: Figure
    says: Said


@dataclass(frozen=True, slots=True)
class WayTerms:
    """What the kit of one way says, beside its money and its dates."""

    key: str
    closes_holes: str
    broken_out: bool
    before_work: Figure
    held: Figure
    if_stopped: Said
    years_on_work: Figure
    years_on_old_wire: Figure
    passes_on: bool
    if_we_close: Said
    row_words: dict[str, Said]
    good: tuple[Remark, ...]
    drawbacks: tuple[Remark, ...]
    fits: Said
    does_not_fit: Said
    jobs: Figure
    we_earn: str


@dataclass(frozen=True, slots=True)
class RuleSeen:
    """A rule that a figure of this offer rests on: its sentence, which may hold digits, and its value if it is one."""

    says: Said
    figure: Figure | None


@dataclass(frozen=True, slots=True)
class Offer:
    """One frozen offer."""

    head: Head
    firm: Firm
    found: Found
    outcome: Outcome
    dates: Dates
    terms: dict[str, WayTerms]
    lead: Lead
    rules: tuple[RuleSeen, ...]
    people: tuple[Person, ...]
    town: TownCard
    extras: tuple[Extra, ...]
    holder: Holder
    rooms: tuple[RoomSeen, ...]
    protect_outlet: Figure | None
    costs: Costs
    protection: Protection
    design: Design
    paying: dict[str, tuple[Due, ...]]
    power: Power
    photographs: tuple[Photograph, ...]

    def figures(self) -> tuple[Figure, ...]:
        """Every figure of the offer, by name; raises BuildError if two of one name differ."""
        named: dict[str, Figure] = {}
        for figure in _walk(self):
            had = named.setdefault(figure.name, figure)
            if (had.value, had.unit) != (figure.value, figure.unit):
                raise BuildError(f"two figures are called {figure.name}: {had.raw()} and {figure.raw()}")
        return tuple(named[name] for name in sorted(named))


def make_offer(bench: Bench, rules: RuleSet, when: Dates) -> Offer:
    """Put the parts together."""
    inputs, make = bench.inputs, bench.make
    keys = room_keys(inputs.job)
    made = Offer(head_of(inputs, make), firm_of(inputs, make), bench.found, outcome(bench), when,
                 {price.way: _terms(inputs, make, price.way, price.kit) for price in inputs.job.ways},
                 lead_of(inputs, make), (), people_of(inputs, make), town_of(inputs, make),
                 _extras(inputs, make, when), holder_of(inputs, make), rooms_of(inputs), _protect(inputs, make),
                 costs_of(inputs, bench.house.openings_a_drop), protection(bench, rules, when, keys),
                 design(inputs, code(rules.edition), keys), paying(bench, when), power_of(inputs, make),
                 tuple(Photograph(one.file, Said(one.of, make.survey("photographs", i)))
                       for i, one in enumerate(inputs.job.photographs)))
    return replace(made, rules=_rules(made, rules.edition))


def _rules(offer: Offer, edition: str) -> tuple[RuleSeen, ...]:
    """Every rule that a figure of the offer is or names as an input, by key."""
    figures = offer.figures()
    named = {name for figure in figures for name in (figure.name, *figure.inputs) if name.startswith(RULES)}
    found = []
    for key in sorted(name.removeprefix(RULES) for name in named):
        row = every_rule()[key]
        value = row.value(edition)
        found.append(RuleSeen(Said(row.says, row.stands_on(edition)),
                              rule(key, edition) if isinstance(value, int | Fraction) else None))
    return tuple(found)


def _extras(inputs: Inputs, make: Sources, when: Dates) -> tuple[Extra, ...]:
    return tuple(Extra(extra.key, Said(extra.what, make.book("extras", i)),
                       Figure(f"extras.{extra.key}.price", extra.price, "cents", "Set price for one.",
                              make.book("extras", i, "price")),
                       Said(extra.where, make.book("extras", i)), extra.rooms or (),
                       Said(extra.choose_by, make.book("extras", i)), when.choose_by[extra.key])
                 for i, extra in enumerate(inputs.book.extras))


def _protect(inputs: Inputs, make: Sources) -> Figure | None:
    price = inputs.book.protect_outlet
    return None if price is None else Figure("smaller.protect-outlet", price, "cents",
                                             "Protecting and marking one ungrounded outlet.",
                                             make.book("protect outlet"))


def _terms(inputs: Inputs, make: Sources, key: str, name: str) -> WayTerms:
    kit = inputs.book.kits[name]
    chosen = next(row for row in inputs.company.chosen if row.way == key)

    def book(*path: str | int) -> Source:
        return make.book("kits", name, *path)

    def years(word: str, value: int) -> Figure:
        return Figure(f"ways.{key}.promise.{slug(word)}", value, "years", "Years promised in writing.",
                      book("promise", word))
    return WayTerms(
        key, kit.closes_holes, kit.cuts == "broken out",
        Figure(f"ways.{key}.before-work", kit.payments.before_work, "cents", "Asked for before work starts.",
               book("payments", "before work")),
        Figure(f"ways.{key}.held", kit.payments.held_to_the_end, "share", "Held until the final inspection.",
               book("payments", "held to the end")),
        Said(kit.if_stopped, book("if stopped")), years("years on work", kit.promise.years_on_work),
        years("years on old wire", kit.promise.years_on_old_wire), kit.promise.passes_on,
        Said(kit.promise.if_we_close, book("promise", "if we close")),
        {field: Said(text, book("rows", field.replace("_", " "))) for field, text in kit.rows},
        _remarks(kit, book, key, "good"), _remarks(kit, book, key, "drawbacks"),
        Said(kit.fits, book("fits")), Said(kit.does_not_fit, book("does not fit")),
        Figure(f"ways.{key}.chosen", chosen.jobs, "jobs", "Finished jobs that were sold this way.",
               Source("finished jobs", make.company("chosen").text)), chosen.we_earn)


def _remarks(kit: Kit, book: Book, key: str, side: str) -> tuple[Remark, ...]:
    return tuple(Remark(Figure(f"ways.{key}.{side}.{i + 1}.row", point.row, "number",
                               "Row of the comparison that it rests on.", book(side, i)),
                        Said(point.says, book(side, i))) for i, point in enumerate(getattr(kit, side)))


def _walk(thing: object) -> Iterator[Figure]:
    if isinstance(thing, Figure):
        yield thing
    elif isinstance(thing, Said | Source | str):
        return
    elif is_dataclass(thing) and not isinstance(thing, type):
        for field in fields(thing):
            yield from _walk(getattr(thing, field.name))
    elif isinstance(thing, dict):
        for value in thing.values():
            yield from _walk(value)
    elif isinstance(thing, tuple):
        for value in thing:
            yield from _walk(value)
