"""The Offer: everything that a sheet may print, frozen.  Sheets read this and nothing else.

It is put together from parts that the topics make; here stand only the head, the firm, and what a kit says.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass

from sitegen.dates.schedule import Dates, dates
from sitegen.errors import BuildError
from sitegen.figure import Figure, Said, Source, int_of, slug
from sitegen.job.load import Inputs
from sitegen.job.model import Kit
from sitegen.job.sources import Sources
from sitegen.rules.read import rule, rules
from sitegen.trade.found import Found
from sitegen.trade.parts import Outcome

Book = Callable[..., Source]


@dataclass(frozen=True, slots=True)
class Head:
    """What stands in every title block."""

    job: str
    demo: bool
    version: Figure
    address: Said
    built: Figure
    by: Said
    phone: Said
    tonight: tuple[Said, ...]
    not_seen: tuple[Said, ...]
    signs: tuple[Said, ...]
    emergency: Figure


@dataclass(frozen=True, slots=True)
class Licence:
    """One number that a reader can look up."""

    kind: Said
    number: Said
    expires: Figure
    look_up: Said


@dataclass(frozen=True, slots=True)
class Firm:
    """Who stands behind the offer."""

    name: Said
    address: Said
    phone: Said
    e_mail: Said
    licences: tuple[Licence, ...]
    insurance: tuple[Said, ...]
    insured_until: tuple[Figure, ...]
    subcontractors: Said
    damage: Said
    jobs: Figure
    since: Figure
    code: Said
    permit: Said
    inspection: Said


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
class Lead:
    """Whether the lead rule is taken to hold, and how far its sheet reaches."""

    assumed: bool
    sheet: Figure
    built_before: Figure


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
    rules: tuple[Figure, ...]

    def figures(self) -> tuple[Figure, ...]:
        """Every figure of the offer, by name; raises BuildError if two of one name differ."""
        named: dict[str, Figure] = {}
        for figure in _walk(self):
            had = named.setdefault(figure.name, figure)
            if (had.value, had.unit) != (figure.value, figure.unit):
                raise BuildError(f"two figures are called {figure.name}: {had.raw()} and {figure.raw()}")
        return tuple(named[name] for name in sorted(named))


def make_offer(inputs: Inputs, found: Found, outcome: Outcome) -> Offer:
    """Put the parts together."""
    make = Sources(inputs)
    return Offer(_head(inputs, make), _firm(inputs, make), found, outcome, dates(inputs, outcome.hidden),
                 {price.way: _terms(inputs, make, price.way, price.kit) for price in inputs.job.ways},
                 Lead(inputs.job.lead.tested != "all" and inputs.job.house.built < int_of(rule("lead-built-before")),
                      rule("lead-sheet-feet"), rule("lead-built-before")), rules())


def _head(inputs: Inputs, make: Sources) -> Head:
    job = inputs.job
    person = next((i for i, who in enumerate(inputs.company.people) if who.name == job.surveyed_by), None)
    phone = inputs.company.phone if person is None else inputs.company.people[person].phone
    return Head(
        job.job, job.demo,
        Figure("job.version", job.version, "number", "Counted up when it is sent out again.", make.survey("version")),
        Said(job.address, make.survey("address")),
        Figure("house.built", job.house.built, "year", "Year in which the house was built.",
               make.survey("house", "built")),
        Said(job.surveyed_by, make.survey("surveyed by")),
        Said(phone, make.company("phone") if person is None else make.company("people", person, "phone")),
        tuple(Said(text, make.survey("tonight", i)) for i, text in enumerate(job.tonight)),
        tuple(Said(text[:1].upper() + text[1:], make.survey("not seen", i)) for i, text in enumerate(job.not_seen)),
        tuple(Said(f"{who.name}, {who.as_}", make.survey("signs", i)) for i, who in enumerate(job.signs)),
        rule("emergency-number"))


def _firm(inputs: Inputs, make: Sources) -> Firm:
    company, town = inputs.company, inputs.town

    def said(field: str, text: str) -> Said:
        return Said(text, make.company(field))
    licences = tuple(Licence(
        Said(licence.kind, make.company("licences", i)), Said(licence.number, make.company("licences", i)),
        Figure(f"firm.licences.{slug(licence.kind)}.expires", licence.expires, "date",
               "Last day on which it holds.", make.company("licences", i)),
        Said(licence.look_up, make.company("licences", i))) for i, licence in enumerate(company.licences))
    return Firm(
        said("name", company.name), said("address", company.address), said("phone", company.phone),
        said("e-mail", company.e_mail), licences,
        tuple(Said(f"{cover.kind}, {cover.insurer}", make.company("insurance", i))
              for i, cover in enumerate(company.insurance)),
        tuple(Figure(f"firm.insurance.{slug(cover.kind)}.until", cover.until, "date", "Last day of cover.",
                     make.company("insurance", i)) for i, cover in enumerate(company.insurance)),
        said("subcontractors", company.subcontractors), said("damage", company.damage),
        Figure("firm.jobs", sum(row.jobs for row in company.chosen), "jobs", "Finished jobs, all ways.",
               Source("finished jobs", make.company("chosen").text)),
        Figure("firm.since", company.finished_since, "date", "The first finished job that is counted.",
               make.company("finished since")),
        Said(town.code, make.town("code")), Said(town.permit, make.town("permit")),
        Said(town.inspection, make.town("inspection")))


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
