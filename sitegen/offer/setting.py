"""Who stands behind an offer, for whose house, and what the town asks: the parts that no calculation makes."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from sitegen.dates.cancellation import CancelOverlay
from sitegen.dates.overlay import Review
from sitegen.figure import Figure, Quote, Source, int_of, slug
from sitegen.job.inputs import Inputs
from sitegen.offer.cited import Sources
from sitegen.offer.rules import rule


class Head(Struct, frozen=True):
    """What stands in every title block."""

    job: str
    demo: bool
    version: Figure
    address: Quote
    built: Figure
    by: Quote
    phone: Quote
    tonight: tuple[Quote, ...]
    not_seen: tuple[Quote, ...]
    signs: tuple[Quote, ...]
    emergency: Figure


class Licence(Struct, frozen=True):
    """One number that a reader can look up."""

    kind: Quote
    number: Quote
    expires: Figure
    look_up: Quote


class Firm(Struct, frozen=True):
    """Who stands behind the offer."""

    name: Quote
    address: Quote
    phone: Quote
    e_mail: Quote
    licences: tuple[Licence, ...]
    insurance: tuple[Quote, ...]
    insured_until: tuple[Figure, ...]
    subcontractors: Quote
    damage: Quote
    jobs: Figure
    since: Figure
    code: Quote
    permit: Quote
    inspection: Quote


class Person(Struct, frozen=True):
    """Somebody whom the homeowner meets."""

    name: Quote
    role: Quote
    phone: Quote


class TownCard(Struct, frozen=True):
    """What the town asks."""

    permit_price: Figure
    permit_days: Figure
    inspector_notice: Figure
    utility_notice: Figure
    cable: Quote
    spacing: str
    alarms: Quote
    covering: bool
    approvals: Quote


class Holder(Struct, frozen=True):
    """Who owns the house and who lives in it; the dates are a buyer's."""

    owner_now: bool
    lived_in: bool
    rented: bool
    closing: Figure | None
    period_ends: Figure | None


class Lead(Struct, frozen=True):
    """Whether the lead rule is taken to hold, and how far its sheet reaches."""

    assumed: bool
    child: bool
    subsidised: bool
    free_rooms: tuple[Quote, ...]
    report: Quote | None
    sheet: Figure
    built_before: Figure


class Power(Struct, frozen=True):
    """What cannot be without power for some hours, and whether medical equipment needs it: yes, no or not said."""

    keep: tuple[Quote, ...]
    medical: str


def power_of(inputs: Inputs, make: Sources) -> Power:
    job = inputs.job
    return Power(tuple(Quote(text, make.survey("cannot lose power", i)) for i,
                       text in enumerate(job.cannot_lose_power)),
                 job.medical)


def lead_of(inputs: Inputs, make: Sources) -> Lead:
    lead = inputs.job.lead
    return Lead(lead.tested != "all" and inputs.job.house.built < int_of(rule("lead-built-before")),
                lead.child_under_six == "yes", lead.subsidised,
                tuple(Quote(room, make.survey("lead", "free rooms")) for room in lead.free_rooms),
                None if lead.report is None else Quote(lead.report, make.survey("lead", "report")),
                rule("lead-sheet-feet"), rule("lead-built-before"))


def overlay_of(inputs: Inputs) -> CancelOverlay:
    """What the state adds to the right to cancel; its holidays count as in the federal rule."""
    state = inputs.state
    return CancelOverlay(state.name, state.cancel_within, False, Review(state.reviewed_by or "", state.reviewed_on))


def people_of(inputs: Inputs, make: Sources) -> tuple[Person, ...]:
    return tuple(Person(*(Quote(text, make.company("people", i)) for text in (who.name, who.role, who.phone)))
                 for i, who in enumerate(inputs.company.people))


def town_of(inputs: Inputs, make: Sources) -> TownCard:
    town = inputs.town

    def days(word: str, value: int, method: str) -> Figure:
        return Figure(f"town.{slug(word)}", value, "working days", method, make.town(word))
    return TownCard(
        Figure("town.permit-price", town.permit_price, "cents", "What the permit costs.", make.town("permit price")),
        days("permit days", town.permit_days, "Working days until the permit is given."),
        days("inspector notice", town.inspector_notice, "Notice for each visit of the inspector."),
        days("utility notice", town.utility_notice, "Notice when the utility must cut the power."),
        Quote(town.cable, make.town("cable")), town.spacing, Quote(town.alarms, make.town("alarms")), town.covering,
        Quote(town.approvals, make.town("approvals")))


def holder_of(inputs: Inputs, make: Sources) -> Holder:
    job = inputs.job

    def day(word: str, value: date | None, method: str) -> Figure | None:
        return None if value is None else Figure(f"dates.{slug(word)}", value, "date", method, make.survey(word))
    return Holder(job.owner_now, job.lived_in, job.rented, day("closing", job.closing, "Day of closing."),
                  day("inspection period ends", job.inspection_period_ends, "Last day on which a buyer can withdraw."))


def head_of(inputs: Inputs, make: Sources) -> Head:
    job = inputs.job
    person = next((i for i, who in enumerate(inputs.company.people) if who.name == job.surveyed_by), None)
    phone = inputs.company.phone if person is None else inputs.company.people[person].phone
    return Head(
        job.job, job.demo,
        Figure("job.version", job.version, "number", "Counted up when it is sent out again.", make.survey("version")),
        Quote(job.address, make.survey("address")),
        Figure("house.built", job.house.built, "year", "Year in which the house was built.",
               make.survey("house", "built")),
        Quote(job.surveyed_by, make.survey("surveyed by")),
        Quote(phone, make.company("phone") if person is None else make.company("people", person, "phone")),
        tuple(Quote(text, make.survey("tonight", i)) for i, text in enumerate(job.tonight)),
        tuple(Quote(text[:1].upper() + text[1:], make.survey("not seen", i)) for i, text in enumerate(job.not_seen)),
        tuple(Quote(f"{who.name}, {who.as_}", make.survey("signs", i)) for i, who in enumerate(job.signs)),
        rule("emergency-number"))


def firm_of(inputs: Inputs, make: Sources) -> Firm:
    company, town = inputs.company, inputs.town

    def said(field: str, text: str) -> Quote:
        return Quote(text, make.company(field))
    licences = tuple(Licence(
        Quote(licence.kind, make.company("licences", i)), Quote(licence.number, make.company("licences", i)),
        Figure(f"firm.licences.{slug(licence.kind)}.expires", licence.expires, "date",
               "Last day on which it holds.", make.company("licences", i)),
        Quote(licence.look_up, make.company("licences", i))) for i, licence in enumerate(company.licences))
    return Firm(
        said("name", company.name), said("address", company.address), said("phone", company.phone),
        said("e-mail", company.e_mail), licences,
        tuple(Quote(f"{cover.kind}, {cover.insurer}", make.company("insurance", i))
              for i, cover in enumerate(company.insurance)),
        tuple(Figure(f"firm.insurance.{slug(cover.kind)}.until", cover.until, "date", "Last day of cover.",
                     make.company("insurance", i)) for i, cover in enumerate(company.insurance)),
        said("subcontractors", company.subcontractors), said("damage", company.damage),
        Figure("firm.jobs", sum(row.jobs for row in company.chosen), "jobs", "Finished jobs, all options.",
               Source("finished jobs", make.company("chosen").text)),
        Figure("firm.since", company.finished_since, "date", "The first finished job that is counted.",
               make.company("finished since")),
        Quote(f"{town.code} National Electrical Code", make.town("code")), Quote(town.permit, make.town("permit")),
        Quote(town.inspection, make.town("inspection")))
