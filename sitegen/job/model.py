"""Every field of the files that a company writes: the model is the documentation.

A key in a file is the field's name with spaces for underscores.  Nothing here looks from one field to another:
that is `check.py`, which runs over whatever is sound, so that all faults come in one pass.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from sitegen.job.fields import (
    Area,
    Chance,
    Count,
    Day,
    InsidePath,
    Money,
    Name,
    Phone,
    Seen,
    Share,
    Size,
    Told,
    WebAddress,
    Words,
    YesNo,
    money,
    one_of,
)
from sitegen.trade.feeds import LOOKS

DETAILS = ("finding-old-feeds", "new-circuits", "panel-service", "grounding", "alarms", "floors", "openings",
           "plaster", "tight-boxes", "lead-safe", "tested-dead", "cleaning", "permits", "before-start", "papers",
           "not-seen")
"""What a finding can be answered by, and what has a sheet of its own."""

WAYS = ("minimal-protection", "per-item", "fixed-guarantee")
ROWS = 24


class Part(BaseModel):
    """A part of a file: unknown keys are refused, nothing can be changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True,
                              alias_generator=lambda field: field.replace("_", " "))


def _says(text: str, **more: Any) -> Any:
    return Field(description=text, **more)


Look = Annotated[str, BeforeValidator(one_of(*LOOKS))]
Detail = Annotated[str, BeforeValidator(one_of(*DETAILS))]
WayKey = Annotated[str, BeforeValidator(one_of(*WAYS))]
Closes = Annotated[str, BeforeValidator(one_of("yes", "in part", "no"))]
Payer = Annotated[str, BeforeValidator(one_of("us", "homeowner"))]
Counted = Annotated[str, BeforeValidator(one_of("opening", "sq ft outside the sheet", "house"))]
Covers = Annotated[str, BeforeValidator(one_of("every point", "the list"))]
Cut = Annotated[str, BeforeValidator(one_of("sawn whole", "broken out"))]


def _money_or_none(value: object) -> object:
    return None if value == "none" else money(value)


Cap = Annotated[int | None, BeforeValidator(_money_or_none)]


# --- the company's own card ------------------------------------------------------------------------------


class Person(Part):
    name: Words = _says("who")
    role: Words = _says("what they do: estimator, electrician in charge, certified renovator")
    phone: Phone = _says("a number that this person answers")


class Licence(Part):
    kind: Words = _says("electrical, home improvement, salesperson, lead firm: each its own number")
    number: Words = _says("as printed on it")
    expires: Day = _says("last day on which it holds")
    look_up: WebAddress = _says("where anyone can check it")


class Insurance(Part):
    kind: Words = _says("liability or workers' compensation")
    insurer: Words = _says("who insures")
    until: Day = _says("last day of cover")


class Prior(Part):
    """What the firm believes before it looks. It belongs to the company; a job can never set it."""

    by: Words = _says("whose judgement")
    on: Day = _says("when it was set")
    old_feeds: Share = _says("as if so many feeds traced in houses like this had been old")
    new_feeds: Share = _says("and so many new")
    new_ends_turn_out_old: Chance = _says("chance that a feed which looks new at both ends is old between")
    part_feed_old: Share = _says("start of the count within a partly opened feed: old")
    part_feed_new: Share = _says("and new")
    blocked_drops: Share = _says("start of the count of blocked drops")
    open_drops: Share = _says("and of open ones")
    hard_house_shift: Share = _says("how far a hard house moves blocked drops: from plus to minus this much")


class Chosen(Part):
    """How many homeowners chose which way, and what the firm earns on it."""

    way: WayKey = _says("which way")
    jobs: Count = _says("finished jobs sold this way")
    we_earn: Annotated[str, BeforeValidator(one_of("least", "middle", "most"))] = _says("least, middle or most")


class Record(Part):
    """What finished jobs say, counted by the firm: raw counts, never rescaled."""

    jobs: Count = _says("finished jobs that were looked at afterwards")
    above: Count = _says("of those, jobs in which Per item would have ended above One price")
    which: Words = _says("which jobs they are, and which were left out")


class Company(Part):
    name: Words = _says("legal name")
    address: Words = _says("street address, no post box")
    phone: Phone = _says("the number on every sheet")
    e_mail: Words = _says("for questions and for cancelling", alias="e-mail")
    people: list[Person] = _says("estimator, electrician in charge, certified renovator")
    licences: list[Licence] = _says("every number, with its expiry")
    insurance: list[Insurance] = _says("liability and workers' compensation")
    subcontractors: Words = _says("who else works in the house, or that nobody does")
    damage: Words = _says("what the firm does when it damages a floor or plaster: one rule for all ways")
    prior: Prior = _says("the firm's judgement of what is hidden")
    closed: list[Day] = _says("weekdays on which nobody works", default=[])
    finished_since: Day = _says("the first finished job that is counted below")
    chosen: list[Chosen] = _says("finished jobs by way")
    record: Record | None = _says("what finished jobs say of the three ways, once they were counted", default=None)


# --- town and state --------------------------------------------------------------------------------------


class Town(Part):
    name: Words = _says("town")
    state: Name = _says("file name of the state card, without .yaml")
    code: Words = _says("edition of the electrical code in force")
    permit: Words = _says("who gets the permit and what it covers")
    inspection: Words = _says("who inspects, and when")
    permit_price: Money = _says("what the permit costs; it is in every price")
    permit_days: Count = _says("working days until the permit is given")
    inspector_notice: Count = _says("working days of notice for each visit of the inspector")
    utility_notice: Count = _says("working days of notice when the utility must cut the power")
    cable: Words = _says("which cable the town allows in old walls")
    spacing: Annotated[str, BeforeValidator(one_of("full", "same places", "ask"))] = _says(
        "how far apart outlets must be when walls stay closed: the full rule, the same places, or ask each time")
    alarms: Words = _says("what alarms the town asks for with such a permit")
    covering: YesNo = _says("the inspector passes closed holes on photographs")
    approvals: Words = _says("historic or other boards that must agree, or that there are none")


class State(Part):
    name: Words = _says("state")
    draft: YesNo = _says("yes until a lawyer has read it")
    cancel_within: Count = _says("business days in which a contract signed at home can be cancelled")
    where: Words = _says("section of the state's law, or that it adds nothing to the federal rule")


# --- price book ------------------------------------------------------------------------------------------


class Rates(Part):
    """Stand-ins until openings are worked out from the walls themselves."""

    drops_a_point: dict[Words, Share] = _says("drops for one point of each kind")
    openings_a_drop: Share = _says("openings for one drop")
    floor_outside_the_sheet: Share = _says("part of a worked room's floor that the lead rule's sheet leaves bare")


class Case(Part):
    key: Name = _says("short name")
    what: Words = _says("what may be found, in plain words")
    called: Words | None = _says("the same in two or three words, for a row of the comparison", default=None)
    chance: Chance = _says("the firm's chance, when the survey could not see")
    asked_in: list[Words] = _says("answers of the job's stop-work list that settle it", default=[])
    low: Money = _says("1 in 10 costs less")
    usual: Money = _says("as likely as not")
    high: Money = _says("1 in 10 costs more")
    days: Count = _says("days that it adds")


class LaterCost(Part):
    key: Name = _says("short name")
    what: Words = _says("what the homeowner buys elsewhere")
    called: Words | None = _says("the same in two or three words, for a row of the comparison", default=None)
    per: Counted = _says("what its price is for one of")
    low: Money = _says("1 in 10 costs less")
    usual: Money = _says("as likely as not")
    high: Money = _says("1 in 10 costs more")
    whose: Words = _says("whose estimate")
    on: Day = _says("when")


class Extra(Part):
    """Something that the homeowner may add at a set price."""

    key: Name = _says("short name")
    what: Words = _says("what is done, in plain words")
    price: Money = _says("set price for one")
    where: Words = _says("a room's name, or house")
    choose_by: Words = _says("until when it can be chosen, with the reason, such as before the hall ceiling closes")


class TracingPrice(Part):
    visit: Money = _says("coming out to trace")
    each_feed: Money = _says("for each feed")
    credited: YesNo = _says("taken off the price if the homeowner goes on")


class Payments(Part):
    before_work: Money = _says("asked for before work starts")
    held_to_the_end: Chance = _says("part held until the final inspection, as 10 of 100")


class Promise(Part):
    years_on_work: Count = _says("years on our work")
    years_on_old_wire: Count = _says("years on old wire that we missed; 0 for none")
    passes_on: YesNo = _says("goes to the next owner with the house")
    if_we_close: Words = _says("what becomes of it if the firm closes")


class Point(Part):
    row: Count = _says("row of the comparison that it rests on")
    says: Words = _says("one short sentence")


class RowWords(Part):
    """What a kit says in the rows that no calculation answers."""

    how_shown: Words = _says("row 11: how it is shown that old wire is dead")
    walls: Words = _says("row 15: what walls look like at the end")
    floors: Words = _says("row 16: what covers the floors beyond what the law asks")
    cleaning: Words = _says("row 18: who cleans, and how far beyond what the law asks")
    living: Words = _says("row 20: whether one can live there")


class Kit(Part):
    """One way of buying, as the company sells it."""

    way: WayKey = _says("which way")
    covers: Covers = _says("every point, or the list")
    cuts: Cut = _says("how plaster is opened")
    we_would_sign_this: YesNo = _says("the firm would buy this way itself; no keeps it off the page")
    pays_for_more: Payer = _says("who pays when more old wiring turns up")
    each_point: Money = _says("for each further old point", default=0)
    each_feed: Money = _says("for each feed that further points need", default=0)
    each_blocked_drop: Money = _says("for each blocked drop", default=0)
    not_over_for_cases: Cap = _says("cap on all cases together, or none")
    not_over_for_more: Cap = _says("cap on what further points, feeds and blocked drops add, or none")
    cases: dict[Name, Payer] = _says("who pays for each case")
    later: list[Name] = _says("later costs that this way leaves to the homeowner")
    closes_holes: Payer = _says("who closes the openings")
    days_to_old_wires_dead: Count = _says("working days; a stand-in until the schedule is worked out")
    days_to_finish: Count = _says("working days; a stand-in")
    days_to_ready_for_paint: Count = _says("calendar days after the finish, for new plaster to dry", default=0)
    points_a_day: Count = _says("further points a working day; a stand-in", default=0)
    power_off_days: Count = _says("days with power off for hours; a stand-in")
    payments: Payments = _says("what is paid when")
    if_stopped: Words = _says("what stopping costs after the right to cancel has run out")
    promise: Promise = _says("what is promised in writing")
    rows: RowWords = _says("words of this way in the comparison")
    good: list[Point] = _says("three good things")
    drawbacks: list[Point] = _says("three drawbacks")
    fits: Words = _says("you might want this if ...")
    does_not_fit: Words = _says("you might not want this if ...")


class PriceBook(Part):
    edition: Words = _says("name of this edition")
    quoted: Day = _says("when its prices were set")
    by: Words = _says("who set them")
    rates: Rates = _says("stand-ins for openings")
    cases: list[Case] = _says("what can raise a price: one list for the firm")
    later: list[LaterCost] = _says("what the homeowner may have to buy elsewhere")
    protect_outlet: Money | None = _says("protecting and marking one ungrounded outlet, as a smaller answer",
                                         default=None)
    extras: list[Extra] = _says("what the homeowner may add at a set price", default=[])
    tracing: TracingPrice = _says("finding out, as a choice of its own")
    kits: dict[Name, Kit] = _says("one for each way of buying")


# --- cost book: private ----------------------------------------------------------------------------------


class PointCost(Part):
    hours: Share = _says("crew hours")
    material: Money = _says("material")


class CostBook(Part):
    """What the work costs the firm. Nothing of it may ever stand on a sheet."""

    edition: Words = _says("name of this edition")
    by: Words = _says("who set it")
    labour_an_hour: Money = _says("what an hour of the crew costs the firm")
    points: dict[Words, PointCost] = _says("one point of each kind in old work")
    drop: PointCost = _says("one drop fished")
    blocked_drop: PointCost = _says("what a blocked drop adds")
    patch: PointCost = _says("one opening put back")
    feed: PointCost = _says("one new run to the panel")


# --- the job ---------------------------------------------------------------------------------------------


class Why(Part):
    who: Annotated[str, BeforeValidator(one_of("insurer", "lender", "buyer's inspection", "insulation crew",
                                               "nobody"))] = _says("who set a deadline")
    asks: Words | None = _says("their words", default=None)
    by: Day | None = _says("their date", default=None)
    letter_dated: Day | None = _says("date of their letter", default=None)


class Signer(Part):
    name: Words = _says("who signs")
    as_: Words = _says("owner, buyer", alias="as")


class Building(Part):
    built: Count = _says("year")
    area: Area = _says("floor area")
    storeys: Count = _says("storeys above ground")
    points_on_outside_walls: Share = _says("part of all drops that run down outside walls")


class Lead(Part):
    tested: Annotated[str, BeforeValidator(one_of("none", "some rooms", "all"))] = _says("written lead test")
    free_rooms: list[Words] = _says("rooms that a written report says hold no lead paint where we cut", default=[])
    report: Words | None = _says("who wrote the report, and when", default=None)
    subsidised: YesNo = _says("housing is subsidised")
    child_under_six: Told = _says("a child under six lives or is often there")
    pregnant: Told = _says("somebody is pregnant; need not be said")


class Start(Part):
    sign_by: Day = _says("last day on which signing still meets the start below")
    work_starts: Day = _says("first working day in the house")
    waits_on: Words = _says("the longest wait before the start")


class SurveyedFeed(Part):
    called: Words | None = _says("what the household would call it; else its short name", default=None)
    looks: Look = _says("old, new, part, new ends or not traced")
    seen: Words | None = _says("what was seen, and where", default=None)


class Probed(Part):
    probed: Count = _says("drops probed")
    blocked: Count = _says("of those, blocked")


class Drops(Part):
    inside: Probed = _says("inside walls")
    outside: Probed = _says("outside walls")


class Finding(Part):
    number: Count = _says("item of the inspector's report: it keeps this number for life")
    page: Count = _says("page of the report")
    says: Words = _says("the inspector's words")
    answered_by: list[Detail] = _says("details that answer it", default=[])
    closed_by: dict[WayKey, Closes] = _says("which ways close it; a stand-in until it is worked out")


class Room(Part):
    """One line of the grid: how many of each kind of point."""

    room: Words = _says("name")
    part: Words | None = _says("part of the room, when one kind of point stands on two feeds", default=None)
    floor: Count = _says("storey; 0 is the basement")
    size: Size | None = _says("length x width in feet; left out for a further part of the same room", default=None)
    now: dict[Words, Count] = _says("points there today")
    feeds: dict[Words, Name] = _says("the feed of each kind")
    want: dict[Words, Count] = _says("points wanted in the end")
    listed: dict[Words, Count] = _says("points on the list of the per-item ways", default={})
    opened_old: dict[Words, Count] = _says("boxes opened and seen old", default={})
    opened_new: dict[Words, Count] = _says("boxes opened and seen new", default={})


class Price(Part):
    way: WayKey = _says("which way")
    kit: Name = _says("kit of the price book")
    price: Money = _says("price today")


class Photograph(Part):
    file: InsidePath = _says("file inside the job's folder")
    of: Words = _says("what it shows")


class Job(Part):
    job: Name = _says("short name, the same as the folder's")
    demo: YesNo = _says("an invented house: said so on every sheet", default=False)
    version: Count = _says("1, 2, 3 as it is sent out again")
    prepared: Day = _says("date of this version")
    prices_hold_to: Day = _says("last day of these prices")
    town: Name = _says("file name of the town card, without .yaml")
    address: Words = _says("the house")
    surveyed: Day = _says("day of the survey")
    surveyed_by: Words = _says("who looked")
    why_now: Why = _says("who set a deadline, and in what words")
    owner_now: YesNo = _says("whoever signs owns the house today", default=True)
    closing: Day | None = _says("day on which a buyer comes to own it", default=None)
    inspection_period_ends: Day | None = _says("last day on which a buyer can still withdraw", default=None)
    lived_in: YesNo = _says("somebody lives in the house during the work", default=False)
    rented: YesNo = _says("a tenant lives there; they get the lead pamphlet too", default=False)
    told: list[Words] = _says("fields that somebody told us and that we did not see, by dotted path", default=[])
    assumed: list[Words] = _says("fields that we assumed, by dotted path", default=[])
    signs: list[Signer] = _says("everybody who signs")
    tonight: list[Words] = _says("what to leave off from tonight", default=[])
    house: Building = _says("the building")
    lead: Lead = _says("what is known of lead")
    stop_work: dict[Words, Seen] = _says("finds that stop work: yes, no or not seen")
    not_seen: list[Words] = _says("where nobody could look")
    start: Start = _says("when work can start")
    feeds: dict[Name, SurveyedFeed] = _says("the feeds of the house")
    drops: Drops = _says("drops probed before the price")
    findings: list[Finding] = _says("the inspector's findings")
    rooms: list[Room] = _says("one line a room, or the name of a CSV file beside this one",
                              json_schema_extra={"file": "csv"})
    ways: list[Price] = _says("the prices")
    photographs: list[Photograph] = _says("photographs in the job's folder", default=[])


__all__ = ["ROWS", "WAYS", "Company", "CostBook", "Job", "PriceBook", "State", "Town"]
