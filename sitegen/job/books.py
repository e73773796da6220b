"""The price book and the private cost book: every field."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from sitegen.job.fields import (
    Cap,
    Chance,
    Count,
    Day,
    Money,
    Name,
    Share,
    Words,
    YesNo,
)
from sitegen.job.measures import CubicInches, GoodFor, Length, SquareInches
from sitegen.job.parts import (
    Before,
    ClaimKey,
    Counted,
    Covers,
    Cut,
    Does,
    ExtraKind,
    Finish,
    Milestone,
    Notice,
    Part,
    Payer,
    PowerStep,
    Rooms,
    StandsFor,
    StopHazard,
    WallKind,
    means,
)
from sitegen.job.text_type import one_of


class WallRates(Part):
    """How a wall of one kind is opened to fish a cable."""

    openings_a_drop: Share = means("openings for one drop")
    wide: Length = means("width of one opening")
    high: Length = means("height of one opening")
    between_studs: YesNo = means("the piece is cut from stud to stud, so that it is at least as wide as that",
                                 default=False)


class Rates(Part):
    """How points become drops, and drops become openings; a room can be counted on the plan instead."""

    drops_a_point: dict[Words, Share] = means("drops for one point of each kind")
    box_cut: dict[Words, SquareInches] = means("painted area cut for the box of one point of each kind")
    walls: dict[WallKind, WallRates] = means("openings by what the wall is made of")
    cut_back: Length = means("how far each edge of an opening is cut back in steps for the patch; 2 in if not said",
                             default=Fraction(1, 6))
    base_board: Length = means("height of a base board; 8 in if not said", default=Fraction(2, 3))


class Patches(Part):
    """What we ask to close holes where an option leaves them open."""

    plate: Money = means("a hole that a plate covers")
    hand: Money = means("a hole filled by hand")
    large: Money = means("a hole over two square feet")
    ceiling: Money = means("a hole in a ceiling")
    minimum: Money = means("the least for coming out")


class Board(Part):
    """Rolls of pressed-fibre floor board."""

    wide: Length = means("width of a roll")
    long: Length = means("length of a roll")
    overlap: Length = means("how far one strip lies over the next")


class Box(Part):
    """The box that we set for one kind of point."""

    holds: CubicInches = means("volume marked on it")
    cables: Count = means("cables that enter it, two wires and a ground each")
    clamps: YesNo = means("its clamps are inside")
    devices: Count = means("outlets or switches in it")


class Light(Part):
    """The ceiling light that the price stands on."""

    called: Words = means("what it is, in plain words")
    lumens: Count = means("light of one, as on its label")
    kept: Share = means("part of the light that is left when lamps are old and dusty, as 4/5")
    spacing: Share = means("largest spacing over height above the work plane, from its sheet")
    reaches: dict[Count, Share] = means("part of the light that reaches the work plane, by room cavity ratio")
    hangs: Length = means("how far it hangs below the ceiling")


class Case(Part):
    key: Name = means("short name")
    what: Words = means("what may be found, in plain words")
    called: Words | None = means("the same in two or three words, for a row of the comparison", default=None)
    chance: Chance = means("the firm's chance, when the survey could not see")
    asked_in: list[Words] = means("answers of the job's stop-work list that settle it", default=[])
    notice: Notice = means("notice that must be given when it comes up", default="none")
    low: Money = means("1 in 10 costs less")
    usual: Money = means("as likely as not")
    high: Money = means("1 in 10 costs more")
    days: Count = means("days that it adds")


class LaterCost(Part):
    key: Name = means("short name")
    stands_for: StandsFor = means("what it makes good")
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
    is_: ExtraKind = means("what it is, where a sheet speaks of it", alias="is", default="other")
    what: Words = means("what is done, in plain words")
    price: Money = means("set price for one")
    where: Words = means("where it can go, in words")
    rooms: Rooms | None = means("kinds of rooms that it can go in; left out for the house", default=None)
    before: Before = means("the step of the work before which it must be chosen")
    choose_by: Words = means("until when it can be chosen, with the reason, such as before the hall ceiling closes")


class TracingPrice(Part):
    visit: Money = means("coming out to trace")
    each_feed: Money = means("for each feed")
    credited: YesNo = means("taken off the price if the homeowner goes on")


class Payments(Part):
    before_work: Money = means("asked for before work starts")
    after: dict[Milestone, Chance] = means("part paid after each step, as 60 of 100", default={})
    held_to_the_end: Chance = means("part held until all is inspected, cleaned and checked, as 10 of 100")


class Promise(Part):
    years_on_work: Count = means("years on our work")
    years_on_old_wire: Count = means("years on old wire that we missed; 0 for none")
    passes_on: YesNo = means("goes to the next owner with the house")
    if_we_close: Words = means("what becomes of it if the firm closes")


class OwnClaim(Part):
    """A sentence of the firm's own in place of ours; where its claim does not hold for a house, it is a fault."""

    claim: ClaimKey = means("the claim that must hold")
    says: Words = means("one short sentence")


class RowWords(Part):
    """What a kit says in the rows that no calculation answers."""

    how_shown: Words = means("row `proof`: how it is shown that old wire is dead")
    walls: Words = means("row `walls`: what walls look like at the end")
    floors: Words = means("row `floors`: what covers the floors beyond taped sheet in the rooms whose paint is cut")
    cleaning: Words = means("row `cleaning`: who cleans, and how far beyond what the law asks")
    living: Words = means("row `living`: whether one can live there")


class SetPrices(Part):
    """What an option that sells a list asks for one of each thing in its price; its price today is their sum."""

    list_point: Money = means("one point on the list")
    kinds: dict[Words, Money] = means("kinds of point on the list that have a price of their own", default={})
    new_place: Money = means("one new place")
    panel: Money = means("one new panel", default=0)
    service: Money = means("a new service: meter place, service cable and grounding", default=0)
    alarm: Money = means("one alarm", default=0)
    splice: Money = means("a box with a cover over one open splice", default=0)
    car_outlet: Money = means("what one car is charged from, with its circuit", default=0)
    set_up: Money = means("setting up and clearing up, once for the job", default=0)


class Kit(Part):
    """One option, as the company sells it."""

    option: Name = means("which option")
    called: Words | None = means("what the page calls it, where it is none of the usual three", default=None)
    covers: Covers = means("every point, or the list")
    cuts: Cut = means("how plaster is opened")
    we_would_sign_this: YesNo = means("the firm would buy this option itself; no keeps it off the page")
    prices: SetPrices | None = means("set prices of what it holds, where it sells a list", default=None)
    new_places: Annotated[str, one_of("in the price", "at a set price")] = means(
        "whether the new places that the house gets are in the price today, or are added at their set price",
        default="in the price")
    pays_for_more: Payer = means("who pays when more old wiring turns up")
    each_point: Money = means("for each further old point", default=0)
    each_feed: Money = means("for each feed that further points need", default=0)
    each_blocked_drop: Money = means("for each blocked drop", default=0)
    not_over_for_cases: Cap = means("cap on all cases together, or none")
    not_over_for_more: Cap = means("cap on what further points, feeds and blocked drops add, or none")
    cases: dict[Name, Payer] = means("who pays for each case")
    later: list[Name] = means("later costs that this option leaves to the homeowner")
    closes_holes: Payer = means("who closes the openings")
    sheet: Annotated[str, one_of("paths", "work rooms")] = means(
        "what is covered beside the taped sheet of rooms whose paint is cut, which every option lays; paths too, with "
        "board, or nothing")
    also_does: list[Does] = means(
        "what it does beside points: panel, service, alarms, splices, car outlets, or protection by breakers in a new "
        "panel",
        default=[])
    finish: Finish | None = means("what the last coat of plaster is made of, where we close the holes", default=None)
    cleans: Annotated[str, one_of("house", "storeys", "work areas")] = means(
        "what we clean at the end")
    payments: Payments = means("what is paid when")
    if_stopped: Words = means("what stopping costs after the right to cancel has run out")
    promise: Promise = means("what is promised in writing")
    rows: RowWords = means("words of this option in the comparison")
    says: list[OwnClaim] = means("sentences of your own for or against it, each tied to a claim", default=[])


class PriceBook(Part):
    edition: Words = means("name of this edition")
    quoted: Day = means("when its prices were set")
    by: Words = means("who set them")
    good_for: GoodFor = means("how long a price or a quote of this book may stand before it is asked again")
    rates: Rates = means("drops and openings")
    patches: Patches = means("what we ask to close a hole where an option leaves it open")
    board: Board = means("floor board")
    boxes: dict[Words, Box] = means("the box of each kind of point")
    light: Light = means("the ceiling light that the price stands on")
    cable_from_panel: dict[Count, Length] = means("usual length of cable from the panel to a storey")
    power_off: dict[PowerStep, Count] = means("hours without power on each day of a step")
    points_a_circuit: Count = means("most points on one general circuit; left out, what is common practice",
                                    default=12)
    cases: list[Case] = means("what can raise a price: one list for the firm")
    hurts_tonight: dict[Words, StopHazard] = means(
        "what an answer `yes` in the job's stop-work list can do tonight", default={})
    later: list[LaterCost] = means("what the homeowner may have to buy elsewhere")
    protect_outlet: Money | None = means("protecting and marking one ungrounded outlet, as a smaller answer",
                                         default=None)
    extras: list[Extra] = means("what the homeowner may add at a set price", default=[])
    tracing: TracingPrice = means("finding out, as a choice of its own")
    move_midway: Money | None = means("moving from a list to the price for every point once work has begun, on top of "
                                      "that price", default=None)
    kits: dict[Name, Kit] = means("one for each option")


class PointCost(Part):
    hours: Share = means("crew hours")
    material: Money = means("material")


class PriceAim(Part):
    """How a price for every point is proposed from what the work costs."""

    loses_at_most: Chance = means("the most houses of a hundred in which it may lose money, as 10 of 100")
    earns_at_least: Chance = means("the least part of it that is left in the middle house, as 12 of 100")


class CostBook(Part):
    """What the work costs the firm. Nothing of it may ever stand on a sheet."""

    edition: Words = means("name of this edition")
    by: Words = means("who set it")
    labour_an_hour: Money = means("what an hour of one person costs the firm")
    people: Count = means("people in the crew")
    hours_a_day: Share = means("hours that each works on a day")
    rooms_at_once: Count = means("rooms done together where somebody lives in the house")
    after_plaster: Share = means("part of the hours of a point that comes after the plaster, as 1/4")
    points: dict[Words, PointCost] = means("one point of each kind in old work")
    drop: PointCost = means("one drop fished")
    blocked_drop: PointCost = means("what a blocked drop adds")
    patch: PointCost = means("one opening put back")
    feed: PointCost = means("one new run to the panel")
    panel: PointCost = means("one new panel, its circuits and its labels")
    service: PointCost = means("a new service cable and meter place")
    alarm: PointCost = means("one alarm")
    splice: PointCost = means("a box with a cover over one open splice")
    car_outlet: PointCost = means("what one car is charged from, with its circuit")
    old_circuit: PointCost = means("cutting and testing dead what is left of one old feed")
    set_up: PointCost = means("laying sheet and board in one room, and lifting them")
    cleaning: PointCost = means("cleaning one room")
    plaster_visit: PointCost = means("coming out to plaster, for each visit")
    one_price: PriceAim = means("what a price for every point must hold to")
