"""The job file: every field; the model is the documentation.

A key in a file is the field's name with spaces for underscores.  Nothing here looks from one field to another:
that is `check.py`, which runs over whatever is sound, so that all faults come in one pass.  The firm's cards are in
`cards.py`, its books in `books.py`.
"""

from __future__ import annotations

from typing import Annotated, Any

from sitegen.job.books import Payments
from sitegen.job.fields import (
    Count,
    Day,
    InsidePath,
    Money,
    Name,
    Seen,
    Share,
    Told,
    Words,
    YesNo,
)
from sitegen.job.measures import Amperes, Area, Length, Lengths, Place, Size, SquareInches, Taken
from sitegen.job.parts import (
    About,
    Cut,
    Evidence,
    FloorKind,
    FoundHazard,
    LoadKind,
    Part,
    RoomKind,
    Troubles,
    WallKind,
    means,
)
from sitegen.job.text_type import one_of


class Why(Part):
    who: Annotated[str, one_of("insurer", "lender", "buyer's inspection", "insulation crew", "nobody")] = means(
        "who set a deadline")
    asks: Words | None = means("their words", default=None)
    by: Day | None = means("their date", default=None)
    before: Words | None = means("until when, in their words, where they name no date", default=None)
    letter_dated: Day | None = means("date of their letter", default=None)


class Signer(Part):
    name: Words = means("who signs")
    as_: Words = means("owner, buyer", alias="as")


class Hazard(Part):
    """What the survey found that can hurt somebody tonight: sheet 1 says it, with whom to call."""

    is_: FoundHazard = means("what it is", alias="is")
    room: Words | None = means("the room that it is in; left out when it is the whole house", default=None)


class Building(Part):
    built: Count = means("year in which it was built")
    area: Area = means("floor area")
    storeys: Count = means("storeys above ground")
    dwellings: Count = means("households that it is built for", default=1)
    dwelling_areas: dict[Words, Area] = means(
        "floor area of each dwelling by its name, where there are several; stairs and cellar that all use stay out",
        default={})
    points_on_outside_walls: Share = means("part of all drops that run down outside walls")
    ceiling: Length = means("usual height of the ceilings")
    walls: WallKind = means("what most walls are made of")
    flooring: FloorKind = means("what most floors are made of")
    framing: Annotated[str, one_of("balloon", "platform", "not seen")] = means(
        "how its walls are framed: balloon is open from cellar to attic", default="not seen")
    outside_walls: Annotated[str, one_of("filled", "to be filled", "not filled", "not seen")] = means(
        "insulation in the outside walls", default="not seen")
    bare_floor: Area | None = means("floor outside the lead rule's sheet, when measured", default=None)
    fuel_or_garage: YesNo = means("a boiler, stove or heater burns fuel, or a garage is joined on")


class Panel(Part):
    """The panel as it is, and the service that feeds it."""

    holds: Annotated[str, one_of("fuses", "breakers")] = means("fuses or breakers")
    rating: Amperes = means("what the main switch or the service can carry, as on its label")
    spaces: Count = means("places for a circuit")
    where: Words = means("the room that it is in, or outside")
    service: Annotated[str, one_of("overhead", "underground", "not seen")] = means(
        "how the cable of the utility comes in")
    meter_wall: Words | None = means("the wall that the meter stands on", default=None)
    new_rating: Amperes | None = means("rating of the new service; left out when it stays", default=None)
    new_spaces: Count | None = means("places of the new panel; left out when it stays", default=None)
    spaces_of: dict[Words, Count] = means(
        "places of each planned panel of a house of several dwellings: one by the name of each, one of `shared`",
        default={})
    clear_width: Length | None = means("clear width in front of it; left out when not measured", default=None)
    clear_depth: Length | None = means("clear depth in front of it", default=None)
    clear_height: Length | None = means("clear height in front of it", default=None)


class Load(Part):
    what: Words = means("what it is")
    is_: LoadKind = means("its kind", alias="is")
    takes: Taken = means("what one takes, as on its label, in VA, or in A at its volts")
    volts: Annotated[str, one_of("240", "120")] = means("its voltage", default="240")
    where: RoomKind | None = means("kind of room that it is in; left out for the usual one", default=None)
    new: YesNo = means("what a car is charged from, which is not there yet: options that do car outlets set it",
                       default=False)
    count: Count = means("how many; heaters with a thermostat of their own count one by one", default=1)
    dwelling: Words | None = means("the dwelling that it is of, where there are several; left out for what all share",
                                   default=None)


class Lead(Part):
    tested: Annotated[str, one_of("none", "some rooms", "all")] = means("written lead test")
    free_rooms: list[Words] = means("rooms that a written report says hold no lead paint on walls, ceiling and base "
                                    "boards where we cut", default=[])
    report: Words | None = means("who wrote the report, and when", default=None)
    subsidised: YesNo = means("housing is subsidised")
    child_under_six: Told = means("a child under six lives or is often there")
    pregnant: Told = means("somebody is pregnant; need not be said")
    owner_got_pamphlet: Day | None = means("day on which the owner signed for the lead pamphlet", default=None)
    tenant_got_pamphlet: Day | None = means("day on which a tenant signed for it", default=None)


class Start(Part):
    sign_by: Day = means("last day on which signing still meets the start below")
    work_starts: Day = means("first working day in the house")
    although_closed: Words | None = means("why work starts though the inspection office is closed on that day",
                                          default=None)
    waits: dict[Words, Count] = means("other waits before the start, in working days from the last day to cancel",
                                      default={})


class SurveyedFeed(Part):
    called: Words | None = means("what the household would call it; else its short name", default=None)
    evidence: Evidence = means("old, new, part, new ends or not traced; on an old one a box opened new is new")
    seen: Words | None = means("what was seen, and where", default=None)


class Probed(Part):
    probed: Count = means("drops probed")
    blocked: Count = means("of those, blocked")


class Drops(Part):
    inside: Probed = means("inside walls")
    outside: Probed = means("outside walls")


class Alone(Part):
    """What answers one finding by itself, at a set price."""

    price: Money = means("its set price")
    does: Words = means("what is done for it, in a sentence")
    leaves: Words = means("what that leaves as it is, in a sentence")


class Finding(Part):
    number: Count = means("item of the inspector's report: it keeps this number for life")
    page: Count = means("page of the report")
    says: Words = means("the inspector's words")
    about: About = means("points, new places, old wire, splice, panel, service, alarms, protection or other")
    rooms: list[Words] = means("rooms that it names; left out when it means the whole house", default=[])
    kinds: list[Words] = means("kinds of point that it names; of a splice, the new point whose box takes it",
                               default=[])
    left: Words | None = means("why no option answers it, when that is so", default=None)
    alone: Alone | None = means("what answers it by itself at a set price, if that is offered", default=None)


class Room(Part):
    """One line of the grid: how many of each kind of point."""

    room: Words = means("name")
    part: Words | None = means("part of the room, when one kind of point stands on two feeds", default=None)
    kind: RoomKind | None = means("what it is used as; left out for a further part of the same room", default=None)
    floor: Count = means("storey; 0 is the basement")
    size: Size | None = means("length x width in feet; left out for a further part of the same room", default=None)
    sills: Count = means("window sills", default=0)
    basins: Count = means("basins", default=0)
    counters: Lengths | None = means("counters along the wall, piece by piece between sink, range and door",
                                     default=None)
    trouble: Troubles | None = means("what a plain patch does not settle", default=None)
    open_framing: YesNo = means("joists and studs stand open, as in a cellar: its points need no holes", default=False)
    pipe_wrap: YesNo = means("old pipe wrap that may hold asbestos is in it", default=False)
    height: Length | None = means("ceiling height, where it is not the usual one", default=None)
    walls: WallKind | None = means("what its walls are made of, where that is not the usual", default=None)
    flooring: FloorKind | None = means("what its floor is made of, where that is not the usual", default=None)
    runs: Lengths | None = means("lengths of wall from door to door around corners, when measured", default=None)
    cuts: Cut | None = means("how its plaster is opened, where it cannot be as the option says", default=None)
    openings: Count | None = means("openings counted on the plan, where the rates are wrong for it", default=None)
    area_cut: SquareInches | None = means("painted area of all of them with the edges cut back, when measured",
                                          default=None)
    base_board_off: Length | None = means("length of base board that is taken off, when some is", default=None)
    other_work: SquareInches | None = means("painted area that other work disturbs here within thirty days of ours",
                                            default=None)
    dwelling: Words | None = means("the dwelling that it is of, where there are several; left out for what all share",
                                   default=None)
    at: Place | None = means("where its corner lies on the storey, from the left and from the front", default=None)
    now: dict[Words, Count] = means("points there today")
    feeds: dict[Words, Name] = means("the feed of each kind")
    want: dict[Words, Count] = means("points wanted in the end")
    listed: dict[Words, Count] = means("points on the list, where it holds more or fewer than it would by itself",
                                       default={})
    opened_old: dict[Words, Count] = means("boxes opened and seen old", default={})
    opened_new: dict[Words, Count] = means("boxes opened and seen new", default={})


class LeftOut(Part):
    """Points that the list would hold and does not, with the reason that is printed."""

    room: Words = means("which room")
    kind: Words = means("which kind of point")
    because: Words = means("why they are left out, as the homeowner will read it")


class Price(Part):
    option: Name = means("which option")
    kit: Name = means("kit of the price book")
    price: Money | None = means("a price of your own; left out, it comes from the books", default=None)
    because: Words | None = means("why it is not the price from the books", default=None)
    payments: Payments | None = means("what is paid when, where the kit's payments do not fit this house", default=None)
    places_in_the_price: Count | None = means("new places that its price holds, where its kit adds them at a set price",
                                              default=None)


class Photograph(Part):
    file: InsidePath = means("file inside the job's folder")
    of: Words = means("what it shows")
    finding: Count | None = means("number of the finding that it proves", default=None)
    room: Words | None = means("name of the room that it shows", default=None)
    first: YesNo = means("it stands on the first sheet too; two at most", default=False)


def _or_csv(made: dict[str, Any]) -> None:
    """In an editor too, the name of a spreadsheet may stand in place of the rooms."""
    listed = {key: made.pop(key) for key in ("type", "items")}
    made["anyOf"] = [listed, {"type": "string", "pattern": r"\.csv$"}]


class Job(Part):
    job: Name = means("short name, the same as the folder's")
    demo: YesNo = means("an invented house: said so on every sheet", default=False)
    version: Count = means("counted up as it is sent out again: 1, 2, 3")
    prepared: Day = means("date of this version")
    prices_hold_to: Day = means("last day of these prices")
    town: Name = means("file name of the town card, without .yaml")
    address: Words = means("the house")
    surveyed: Day = means("day of the survey")
    surveyed_by: Words = means("who looked")
    why_now: Why = means("who set a deadline, and in what words")
    owner_now: YesNo = means("whoever signs owns the house today", default=True)
    closing: Day | None = means("day on which a buyer comes to own it", default=None)
    inspection_period_ends: Day | None = means("last day on which a buyer can still withdraw", default=None)
    lived_in: YesNo = means("somebody lives in the house during the work", default=False)
    rented: YesNo = means("a tenant lives there; they get the lead pamphlet too", default=False)
    told: list[Words] = means("lines that somebody told us and we did not see, by dotted path, such as rooms.3.now: "
                               "a sheet says so after the figure", default=[])
    assumed: list[Words] = means("lines that we assumed, by dotted path, such as loads.1.takes", default=[])
    signs: list[Signer] = means("everybody who signs")
    tonight: list[Words] = means("what to leave off from tonight", default=[])
    hazards: list[Hazard] = means("what was found that can hurt somebody tonight", default=[])
    house: Building = means("the building")
    lead: Lead = means("what is known of lead")
    stop_work: dict[Words, Seen] = means("finds that stop work: yes, no or not seen; a gas pipe may be capped untested")
    not_seen: list[Words] = means("where nobody could look")
    start: Start = means("when work can start")
    panel: Panel = means("the panel and the service")
    loads: list[Load] = means("what takes much power", default=[])
    measured_peak: Amperes | None = means("highest load in a year, if the utility told it", default=None)
    cannot_lose_power: list[Words] = means("what cannot be without power for some hours", default=[])
    medical: Told = means("medical equipment needs power")
    feeds: dict[Name, SurveyedFeed] = means("the feeds of the house")
    drops: Drops = means("drops probed before the price")
    findings: list[Finding] = means("the inspector's findings")
    rooms: list[Room] = means("one line a room, or the name of a CSV file beside this one",
                              json_schema_extra=_or_csv)
    left_out: list[LeftOut] = means("points known to be old, or named by a finding, that are not on the list",
                                    default=[])
    options: list[Price] = means("the options that are offered, each with its kit")
    photographs: list[Photograph] = means("photographs in the job's folder", default=[])
