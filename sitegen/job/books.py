"""The price book and the private cost book: every field."""

from __future__ import annotations

from sitegen.job.fields import (
    Chance,
    Count,
    Day,
    Money,
    Name,
    Share,
    Words,
    YesNo,
)
from sitegen.job.parts import (
    Cap,
    Counted,
    Covers,
    Cut,
    Part,
    Payer,
    WayKey,
    means,
)


class Rates(Part):
    """Stand-ins until openings are worked out from the walls themselves."""

    drops_a_point: dict[Words, Share] = means("drops for one point of each kind")
    openings_a_drop: Share = means("openings for one drop")
    floor_outside_the_sheet: Share = means("part of a worked room's floor that the lead rule's sheet leaves bare")


class Case(Part):
    key: Name = means("short name")
    what: Words = means("what may be found, in plain words")
    called: Words | None = means("the same in two or three words, for a row of the comparison", default=None)
    chance: Chance = means("the firm's chance, when the survey could not see")
    asked_in: list[Words] = means("answers of the job's stop-work list that settle it", default=[])
    low: Money = means("1 in 10 costs less")
    usual: Money = means("as likely as not")
    high: Money = means("1 in 10 costs more")
    days: Count = means("days that it adds")


class LaterCost(Part):
    key: Name = means("short name")
    what: Words = means("what the homeowner buys elsewhere")
    called: Words | None = means("the same in two or three words, for a row of the comparison", default=None)
    per: Counted = means("what its price is for one of")
    low: Money = means("1 in 10 costs less")
    usual: Money = means("as likely as not")
    high: Money = means("1 in 10 costs more")
    whose: Words = means("whose estimate")
    on: Day = means("when")


class Extra(Part):
    """Something that the homeowner may add at a set price."""

    key: Name = means("short name")
    what: Words = means("what is done, in plain words")
    price: Money = means("set price for one")
    where: Words = means("a room's name, or house")
    choose_by: Words = means("until when it can be chosen, with the reason, such as before the hall ceiling closes")


class TracingPrice(Part):
    visit: Money = means("coming out to trace")
    each_feed: Money = means("for each feed")
    credited: YesNo = means("taken off the price if the homeowner goes on")


class Payments(Part):
    before_work: Money = means("asked for before work starts")
    held_to_the_end: Chance = means("part held until the final inspection, as 10 of 100")


class Promise(Part):
    years_on_work: Count = means("years on our work")
    years_on_old_wire: Count = means("years on old wire that we missed; 0 for none")
    passes_on: YesNo = means("goes to the next owner with the house")
    if_we_close: Words = means("what becomes of it if the firm closes")


class Point(Part):
    row: Count = means("row of the comparison that it rests on")
    says: Words = means("one short sentence")


class RowWords(Part):
    """What a kit says in the rows that no calculation answers."""

    how_shown: Words = means("row 11: how it is shown that old wire is dead")
    walls: Words = means("row 15: what walls look like at the end")
    floors: Words = means("row 16: what covers the floors beyond what the law asks")
    cleaning: Words = means("row 18: who cleans, and how far beyond what the law asks")
    living: Words = means("row 20: whether one can live there")


class Kit(Part):
    """One way of buying, as the company sells it."""

    way: WayKey = means("which way")
    covers: Covers = means("every point, or the list")
    cuts: Cut = means("how plaster is opened")
    we_would_sign_this: YesNo = means("the firm would buy this way itself; no keeps it off the page")
    pays_for_more: Payer = means("who pays when more old wiring turns up")
    each_point: Money = means("for each further old point", default=0)
    each_feed: Money = means("for each feed that further points need", default=0)
    each_blocked_drop: Money = means("for each blocked drop", default=0)
    not_over_for_cases: Cap = means("cap on all cases together, or none")
    not_over_for_more: Cap = means("cap on what further points, feeds and blocked drops add, or none")
    cases: dict[Name, Payer] = means("who pays for each case")
    later: list[Name] = means("later costs that this way leaves to the homeowner")
    closes_holes: Payer = means("who closes the openings")
    days_to_old_wires_dead: Count = means("working days; a stand-in until the schedule is worked out")
    days_to_finish: Count = means("working days; a stand-in")
    days_to_ready_for_paint: Count = means("calendar days after the finish, for new plaster to dry", default=0)
    points_a_day: Count = means("further points a working day; a stand-in", default=0)
    power_off_days: Count = means("days with power off for hours; a stand-in")
    payments: Payments = means("what is paid when")
    if_stopped: Words = means("what stopping costs after the right to cancel has run out")
    promise: Promise = means("what is promised in writing")
    rows: RowWords = means("words of this way in the comparison")
    good: list[Point] = means("three good things")
    drawbacks: list[Point] = means("three drawbacks")
    fits: Words = means("you might want this if ...")
    does_not_fit: Words = means("you might not want this if ...")


class PriceBook(Part):
    edition: Words = means("name of this edition")
    quoted: Day = means("when its prices were set")
    by: Words = means("who set them")
    rates: Rates = means("stand-ins for openings")
    cases: list[Case] = means("what can raise a price: one list for the firm")
    later: list[LaterCost] = means("what the homeowner may have to buy elsewhere")
    protect_outlet: Money | None = means("protecting and marking one ungrounded outlet, as a smaller answer",
                                         default=None)
    extras: list[Extra] = means("what the homeowner may add at a set price", default=[])
    tracing: TracingPrice = means("finding out, as a choice of its own")
    kits: dict[Name, Kit] = means("one for each way of buying")


class PointCost(Part):
    hours: Share = means("crew hours")
    material: Money = means("material")


class CostBook(Part):
    """What the work costs the firm. Nothing of it may ever stand on a sheet."""

    edition: Words = means("name of this edition")
    by: Words = means("who set it")
    labour_an_hour: Money = means("what an hour of the crew costs the firm")
    points: dict[Words, PointCost] = means("one point of each kind in old work")
    drop: PointCost = means("one drop fished")
    blocked_drop: PointCost = means("what a blocked drop adds")
    patch: PointCost = means("one opening put back")
    feed: PointCost = means("one new run to the panel")
