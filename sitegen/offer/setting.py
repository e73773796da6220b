"""Who stands behind an offer, for whose house, and what the town asks: the parts that no calculation makes."""

from __future__ import annotations

from msgspec import Struct

from sitegen.dates.cancellation import CancelOverlay
from sitegen.dates.overlay import Review
from sitegen.figure import Figure, Quote, int_of, slug
from sitegen.job.cards import BEFORE_CLOSING
from sitegen.job.fields import CAPPED
from sitegen.job.inputs import Inputs
from sitegen.offer.asked import BALLOON
from sitegen.offer.cited import Cited
from sitegen.offer.rules import rule
from sitegen.survey.tonight import hazards
from sitegen.trade.kinds import SIGNS, SIGNS_WITH


class HazardSeen(Struct, frozen=True):
    """What can hurt somebody tonight: its kind, and the rooms that it is in, none where it is the house."""

    kind: str
    rooms: tuple[Quote, ...]


class Head(Struct, frozen=True):
    """What stands in every title block.  `hazards` are known and can hurt tonight; `fuel` is burned in the house, or a
    garage is joined on; `capped` are finds that were seen capped and not tested."""

    job: str
    demo: bool
    version: Figure
    address: Quote
    built: Figure
    by: Quote
    phone: Quote
    hazards: tuple[HazardSeen, ...]
    fuel: bool
    tonight: tuple[Quote, ...]
    not_seen: tuple[Quote, ...]
    capped: tuple[Quote, ...]
    signs: tuple[Quote, ...]
    emergency: Figure


class Licence(Struct, frozen=True):
    """One number that a reader can look up."""

    kind: Quote
    number: Quote
    expires: Figure
    look_up: Quote
    renewal: Quote | None


class Person(Struct, frozen=True):
    """Somebody whom the homeowner meets.  `photograph` is a file in the company's folder, `since` a year, `hours` when
    they answer; `text` whether they take text messages."""

    name: Quote
    role: Quote
    phone: Quote
    photograph: str | None
    since: Figure | None
    hours: Quote | None
    text: bool
    e_mail: Quote | None


class Reference(Struct, frozen=True):
    """A finished job in the firm's words: whose house it is, and when they agreed to these words."""

    says: Quote
    by: Quote
    leave: Figure


class Firm(Struct, frozen=True):
    """Who stands behind the offer.  `signer` is licensed and signs the letters, with the number `signs_with`; `since`
    is a year."""

    name: Quote
    address: Quote
    phone: Quote
    e_mail: Quote
    licences: tuple[Licence, ...]
    insurance: tuple[Quote, ...]
    insured_until: tuple[Figure, ...]
    insured_then: tuple[Quote | None, ...]
    subcontractors: Quote
    damage: Quote
    code: Quote
    permit: Quote
    inspection: Quote
    signer: Person
    signs_with: Quote
    since: Figure | None
    references: tuple[Reference, ...]


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
    looks_before: bool
    approvals: Quote


class Holder(Struct, frozen=True):
    """Who owns the house and who lives in it; the dates are a buyer's."""

    owner_now: bool
    lived_in: bool
    rented: bool
    closing: Figure | None
    period_ends: Figure | None


class Lead(Struct, frozen=True):
    """Whether the lead rule is taken to hold, how far its sheet reaches, within how many days work is one job,
    and how hot a heat gun may be.

    `covered` whether the rule covers a house of this year at all; `assumed` whether it does and no paper frees all.
    That public money helps, and the lower limit that it brings, are in what was worked out, and no page may say it.
    """

    covered: bool
    assumed: bool
    free_rooms: tuple[Quote, ...]
    report: Quote | None
    sheet: Figure
    built_before: Figure
    same_job: Figure
    heat_gun: Figure


class Walls(Struct, frozen=True):
    """Whether walls run open from cellar to attic, and whether somebody is to fill the outside ones."""

    balloon: bool
    to_be_filled: bool


def walls_of(inputs: Inputs) -> Walls:
    """What the survey says of the frame of the house and of insulation."""
    house = inputs.job.house
    return Walls(house.framing == BALLOON, house.outside_walls == "to be filled")


class Power(Struct, frozen=True):
    """What cannot be without power for some hours; that medical equipment is among it, no page may say."""

    keep: tuple[Quote, ...]


def power_of(inputs: Inputs, make: Cited) -> Power:
    """What needs power, as the survey says it."""
    return Power(tuple(make.quote("survey", "cannot lose power", i) for i in range(len(inputs.job.cannot_lose_power))))


def lead_of(inputs: Inputs, make: Cited) -> Lead:
    """Whether the lead rule is taken to hold, by the year of the house and what was tested."""
    lead = inputs.job.lead
    covered = inputs.job.house.built < int_of(rule("lead-built-before"))
    return Lead(covered, covered and lead.tested != "all",
                tuple(make.quote("survey", "lead", "free rooms", i) for i in range(len(lead.free_rooms))),
                None if lead.report is None else make.quote("survey", "lead", "report"),
                rule("lead-sheet-feet"), rule("lead-built-before"), rule("lead-same-job-days"),
                rule("lead-heat-gun-degrees"))


def overlay_of(inputs: Inputs) -> CancelOverlay:
    """What the state adds to the right to cancel; its holidays count as in the federal rule."""
    state = inputs.state
    return CancelOverlay(state.name, state.cancel_within, False, Review(state.reviewed_by or "", state.reviewed_on))


def people_of(inputs: Inputs, make: Cited) -> tuple[Person, ...]:
    """Everybody whom the homeowner meets, from the company's card."""
    return tuple(_person(inputs, make, i) for i in range(len(inputs.company.people)))


def _person(inputs: Inputs, make: Cited, i: int) -> Person:
    person = inputs.company.people[i]
    name, role, phone = (make.quote("company", "people", i, field) for field in ("name", "role", "phone"))
    return Person(name, role, phone, person.photograph,
                  make.figure_if(f"firm.people.{i + 1}.since", "company", "people", i, "since", unit="year"),
                  make.quote_if("company", "people", i, "hours"), person.text,
                  make.quote_if("company", "people", i, "e-mail"))


def _reference(make: Cited, i: int) -> Reference:
    return Reference(make.quote("company", "references", i, "says"), make.quote("company", "references", i, "by"),
                     make.figure(f"firm.references.{i + 1}.leave", "company", "references", i, "leave"))


def town_of(inputs: Inputs, make: Cited) -> TownCard:
    """What the town's card says."""
    town = inputs.town

    def days(field: str) -> Figure:
        return make.figure(f"town.{slug(field)}", "town", field, unit="working days")
    return TownCard(
        make.figure("town.permit-price", "town", "permit price"), days("permit days"), days("inspector notice"),
        days("utility notice"), make.quote("town", "cable"), town.spacing, make.quote("town", "alarms"), town.covering,
        town.looks == BEFORE_CLOSING, make.quote("town", "approvals"))


def holder_of(inputs: Inputs, make: Cited) -> Holder:
    """Who owns the house, and a buyer's dates where there are any."""
    job = inputs.job
    return Holder(job.owner_now, job.lived_in, job.rented, make.figure_if("dates.closing", "survey", "closing"),
                  make.figure_if("dates.inspection-period-ends", "survey", "inspection period ends"))


def head_of(inputs: Inputs, make: Cited) -> Head:
    """The title block; whoever looked is called on their own number, or on the firm's."""
    job = inputs.job
    person = next((i for i, who in enumerate(inputs.company.people) if who.name == job.surveyed_by), None)
    return Head(
        job.job, job.demo, make.figure("job.version", "survey", "version", unit="number"),
        make.quote("survey", "address"), make.figure("house.built", "survey", "house", "built", unit="year"),
        make.quote("survey", "surveyed by"),
        make.quote("company", "phone") if person is None else make.quote("company", "people", person, "phone"),
        tuple(HazardSeen(one.kind, tuple(Quote(room, make.survey(*one.said[0])) for room in one.rooms))
              for one in hazards(job, inputs.book)), job.house.fuel_or_garage,
        tuple(make.quote("survey", "tonight", i) for i in range(len(job.tonight))),
        tuple(Quote(text[:1].upper() + text[1:], make.survey("not seen", i)) for i, text in enumerate(job.not_seen)),
        tuple(Quote(name, make.survey("stop work", name)) for name, seen in job.stop_work.items() if seen == CAPPED),
        tuple(Quote(f"{who.name}, {who.as_}", make.survey("signs", i)) for i, who in enumerate(job.signs)),
        rule("emergency-number"))


def firm_of(inputs: Inputs, make: Cited) -> Firm:
    """Who stands behind the offer: names, licences and insurance."""
    company, town = inputs.company, inputs.town
    signer = next(i for i, who in enumerate(company.people) if who.role == SIGNS)
    number = next(i for i, licence in enumerate(company.licences) if licence.kind == SIGNS_WITH)
    licences = tuple(Licence(
        make.quote("company", "licences", i, "kind"), make.quote("company", "licences", i, "number"),
        make.figure(f"firm.licences.{slug(licence.kind)}.expires", "company", "licences", i, "expires"),
        make.quote("company", "licences", i, "look up"), make.quote_if("company", "licences", i, "renewal"))
                     for i, licence in enumerate(company.licences))
    return Firm(
        make.quote("company", "name"), make.quote("company", "address"), make.quote("company", "phone"),
        make.quote("company", "e-mail"), licences,
        tuple(Quote(f"{cover.kind}, {cover.insurer}", make.company("insurance", i))
              for i, cover in enumerate(company.insurance)),
        tuple(make.figure(f"firm.insurance.{slug(cover.kind)}.until", "company", "insurance", i, "until")
              for i, cover in enumerate(company.insurance)),
        tuple(make.quote_if("company", "insurance", i, "renewal") for i in range(len(company.insurance))),
        make.quote("company", "subcontractors"), make.quote("company", "damage"),
        Quote(f"{town.code} National Electrical Code", make.town("code")), make.quote("town", "permit"),
        make.quote("town", "inspection"), _person(inputs, make, signer),
        make.quote("company", "licences", number, "number"),
        make.figure_if("firm.since", "company", "since", unit="year"),
        tuple(_reference(make, i) for i in range(len(company.references))))
