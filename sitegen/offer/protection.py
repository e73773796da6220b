"""What protects the family, the walls and the floors: lead dust, plaster and floor covering, option by option, as
figures."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from math import ceil

from msgspec import Struct

from sitegen.figure import Figure, Source, day_of, fraction_of, slug
from sitegen.offer.context import Context
from sitegen.offer.dates import Dates
from sitegen.offer.rules import rule, stands_on
from sitegen.rules.read import every_rule
from sitegen.survey.dust import PATHS_TOO, RoomDust, bare_floor, floor_of
from sitegen.survey.house import kit_of
from sitegen.survey.rule_sets import RuleSet
from sitegen.trade.floors import CARES, Roll, board
from sitegen.trade.lead_dust import LeadHouse, limit_of, one_job_through
from sitegen.trade.lead_duties import (
    RoomToVerify,
    copies_by,
    keep_until,
    pamphlet_days,
    recipients,
    room_cloths,
    steps_owed,
)
from sitegen.trade.plaster import BANDS, Patch, Prices, band, patch_area, patch_price, plaster_to_order
from sitegen.trade.plaster_drying import heat, waits
from sitegen.units import date_unit, whole

COUNTER_FEET = Fraction(25, 12)
"""Depth of a kitchen counter [ft]: 25 inches, common practice, no source."""


CLEARANCE = Source("rule", "24 CFR 35.1340, from memory; HUD answer 2241, https://www.hudexchange.info/faqs/2241/does-cdbg-"
                   "require-a-lead-safe-clearance-test-for-homeowner-rehab-programs/")
"""Who stands behind a clearance examination in place of the renovator's check."""


class RoomCare(Struct, frozen=True):
    """One room under one option: holes, painted area cut, what the lead rule says, sheet and bare floor [sq ft].

    `area` and `limit` are exact [sq in]; for a reader they stand in square feet, the area rounded up to a tenth.  The
    limit is that of any house: a lower one would say of the people there that public money helps them, so that it is in
    `owed` and `reason` alone.

    `reason` is the rule's own, as a key; `lead_safe` whether our own standard holds there, `laid` whether taped sheet
    is laid; `on_site` whether it was counted there.
    """

    openings: Figure
    boxes: Figure
    area: Figure
    limit: Figure
    area_feet: Figure
    limit_feet: Figure
    owed: bool
    reason: str
    lead_safe: bool
    laid: bool
    sheet: Figure
    bare: Figure
    bands: tuple[Figure, ...]
    on_site: bool


class OptionCare(Struct, frozen=True):
    """One option over the whole house.

    `rooms`       by room key; a room in which the option opens nothing is not there
    `opened`      rooms in which it cuts painted surface; `owed` those in which the lead rule asks for its steps;
                  `safe` those worked in by our own standard; `laid` those in which taped sheet is laid
    `most`        the largest painted area cut in one room
    `steps`       keys of the rule's steps where it is owed, in order
    `cloths`      wet cloths that check the rooms of our own standard, when each passes at once; `cleared` of these
                  rooms those in which an independent clearance examination replaces our wipes
    `bare`        floor that is left without sheet where the crew works and walks
    `patches`     holes by band; `to_close` what we ask to close them where we leave them open
    `patch_area`  of the holes that we close, and `plaster` to order for each sixteenth of an inch of depth
    """

    rooms: dict[str, RoomCare]
    opened: Figure
    owed: Figure
    safe: Figure
    laid: Figure
    most: Figure | None
    steps: tuple[str, ...]
    cloths: Figure
    cleared: Figure
    bare: Figure
    patches: tuple[Figure, ...]
    to_close: Figure | None
    patch_area: Figure | None
    plaster: Figure | None
    finish: str | None
    paint_days: Figure | None
    board_rolls: Figure
    tape: Figure


class LeadPapers(Struct, frozen=True):
    """The pamphlet and the records: days between which it is given, to whom, and until when records are kept.

    `same_job` the last day on which more work in one of an option's rooms counts with it as one job; `given` the day on
    which somebody signed for the pamphlet, by who that is; `records_years` and `copies_days` the rule's own numbers.
    """

    first: Figure
    mail_by: Figure
    hand_by: Figure
    to: tuple[str, ...]
    keep_until: dict[str, Figure]
    copies_by: dict[str, Figure]
    same_job: dict[str, Figure]
    given: dict[str, Figure]
    records_years: Figure
    copies_days: Figure


class Protection(Struct, frozen=True):
    """All of it.  `heat` is held while plaster dries; `floors` care keys by kind of floor in the house."""

    options: dict[str, OptionCare]
    papers: LeadPapers
    heat: Figure
    heat_days: Figure
    sheet_days: Figure
    floors: dict[str, tuple[str, ...]]


def protection(context: Context, rules: RuleSet, dates: Dates, keys: Mapping[str, str]) -> Protection:
    """The protection of every option; `keys` gives each room's key by its name."""
    job = context.inputs.job
    warm = heat(rules.plaster)
    return Protection({price.option: _option(context, rules, price.option, keys) for price in job.options},
                      _papers(context, rules, dates),
                      Figure("plaster.heat", warm.least, "degrees Fahrenheit", "Least warmth while plaster sets and "
                             "dries.", rule("plaster-heat-degrees").source, ("rules.plaster-heat-degrees",)),
                      Figure("plaster.heat-days", warm.after, "days", "Days before and after for which it is held.",
                             rule("plaster-heat-days").source, ("rules.plaster-heat-days",)),
                      Figure("floors.sheet-days", min(rules.floors.wood_days), "days", "Days for which sheet may lie "
                             "on wood: the shorter of those that a guide gives.",
                             stands_on(every_rule()["floors-wood-days"])),
                      {floor: CARES[floor] for floor in sorted({floor_of(job, room) for room in job.rooms
                                                                if room.part is None})})


def _option(context: Context, rules: RuleSet, option: str, keys: Mapping[str, str]) -> OptionCare:
    inputs, rooms = context.inputs, context.dust[option]
    kit, job = kit_of(inputs, option), inputs.job
    care = {keys[name]: _room(context, rules, option, keys[name], room) for name, room in rooms.items()}
    name = f"options.{option}.care"
    made = context.make.book("rates", "walls")

    def count(word: str, value: int, unit: str, method: str, *names: str, source: Source | None = None) -> Figure:
        return Figure(f"{name}.{word}", value, unit, method, source or made, names)

    painted = {key: room for key, room in care.items() if room.area.value}
    widest = max(painted.items(), key=lambda item: fraction_of(item[1].area), default=None)
    owed = [room for room in rooms.values() if room.verdict.owed]
    safe = [room for room in rooms.values() if room.lead_safe]
    laid = [room for room in rooms.values() if room.laid]
    patches = _patches(context, rules, rooms)
    closes = kit.closes_holes == "us"
    area, plaster = _to_order(context, rules, option, patches) if closes else (None, None)
    boards = board([room.work.room.size for room in laid if room.work.room.size], _roll(context)) \
        if laid and kit.sheet == PATHS_TOO else None
    return OptionCare(
        care, count("opened", len(painted), "rooms", "Rooms in which painted surface is cut."),
        count("owed", len(owed), "rooms", "Rooms in which the lead rule asks for its steps, by painted area, way of "
              "cutting and papers.", f"rules.{limit_rule(context)}", "rules.lead-built-before",
              source=rule(limit_rule(context)).source),
        count("safe", len(safe), "rooms", "Rooms in which paint is disturbed that is taken to hold lead: our own "
              "standard is kept there, above the rule's limit and below it."),
        count("laid", len(laid), "rooms", "Rooms in which taped sheet is laid: all whose paint is cut, and more where "
              "the option covers the paths too.", source=context.make.book("kits")),
        None if widest is None else widest[1].area.named(f"{name}.most-area"),
        tuple(step.key for step in steps_owed(owed[0].verdict)) if owed else (),
        count("cloths", room_cloths(rules.lead, [_to_verify(room) for room in safe
                                                if room.check == "wipe check"]), "cloths",
              "One for each window sill, and for each floor and counter by its area, when each passes at once.",
              "rules.lead-cloth-feet", source=rule("lead-cloth-feet").source),
        count("cleared", sum(room.check == "clearance" for room in safe), "rooms", "Rooms of housing with federal help "
              "above its smallest size: an independent clearance examination replaces the renovator's wipes.",
              f"rules.{limit_rule(context)}", source=CLEARANCE),
        count("bare-floor", bare_floor(job, kit, rooms), "square feet", "Floor of rooms that are opened, and of halls "
              "and stairs, less what taped sheet covers at most.", "rules.lead-sheet-feet"),
        tuple(count(f"patches.{band_}", len(patches[band_]), "patches", f"Holes in band {band_}.",
                    "rules.plaster-large-square-feet") for band_ in BANDS),
        None if closes else _to_close(context, rules, option, [one for some in patches.values() for one in some]),
        area, plaster,
        kit.finish,
        None if kit.finish is None else Figure(
            f"{name}.paint-days", waits(kit.finish, rules.plaster).paint_days, "days",
            "Calendar days from the last coat to paint.", rule_of_paint(kit.finish)),
        count("board-rolls", boards.rolls if boards else 0, "number", "Rolls of floor board for rooms with sheet, in "
              "whole strips, where the option covers the paths too.", source=context.make.book("board")),
        Figure(f"{name}.tape", -(-boards.tape // 1) if boards else 0, "feet", "Tape along seams and edges of the "
               "board.", context.make.book("board")))


def limit_rule(context: Context) -> str:
    """The rule whose limit holds in a room of this house."""
    return "lead-subsidised-room-feet" if context.inputs.job.lead.subsidised else "lead-room-feet"


def rule_of_paint(finish: str) -> Source:
    """Who stands behind the days to paint of a finish."""
    return rule("plaster-setting-paint-days").source if finish == "setting" else Source(
        "rule", "days to paint of gypsum and lime plaster; rules/plaster.yaml, plaster-paint-days")


def _room(context: Context, rules: RuleSet, option: str, key: str, room: RoomDust) -> RoomCare:
    opened, make = room.work.opened, context.make
    name = f"rooms.{key}.{option}"
    source = make.survey("rooms") if opened.on_site else make.book("rates", "walls")
    sorted_ = {band_: len(some) for band_, some in _patches(context, rules, {key: room}).items()}
    floor = room.sheet

    def figure(word: str, value: int | Fraction, unit: str, method: str, *names: str) -> Figure:
        return Figure(f"{name}.{word}", whole(value), unit, method, source, names)
    openings = figure("openings", opened.openings, "openings", "Drops of this room at the book's openings a drop for "
                      "its walls, rounded up; or counted on the plan.")
    boxes = figure("boxes", opened.boxes, "number", "Points done here: each gets a new box.")
    area = figure("painted-area", room.verdict.area, "square inches", "Openings with their edges cut back, and box "
                  "cuts, at the book's sizes; base boards taken off, a scraped ceiling and other work within thirty "
                  "days where the survey has them.", openings.name, boxes.name)
    minor = limit_of(rules.lead, LeadHouse(context.inputs.job.house.built), room.verdict.place)
    limit = Figure(f"{name}.lead-limit", minor, "square inches", "Painted area that is still minor work in one room of "
                   "a house without federal help; with it the verdict holds the lower one, which no page says.",
                   rule("lead-room-feet").source, ("rules.lead-room-feet",))
    return RoomCare(
        openings, boxes, area, limit,
        Figure(f"{name}.painted-feet", whole(Fraction(-(-room.verdict.area * 10 // 144), 10)), "square feet",
               "The same in square feet, rounded up to a tenth.", source, (area.name,)),
        Figure(f"{name}.lead-limit-feet", whole(Fraction(minor, 144)), "square feet",
               "The same in square feet.", limit.source, (limit.name,)),
        room.verdict.owed, room.verdict.reason, room.lead_safe, room.laid,
        figure("sheet", floor.at_most if room.laid else 0, "square feet", "The rule's reach round every place cut, "
               "wherever it is on the wall, and never more than the floor.", "rules.lead-sheet-feet"),
        figure("bare-floor", floor.outside if room.laid else floor.area, "square feet", "Floor of the room that no "
               "sheet covers."),
        tuple(figure(f"patches.{band_}", count, "patches", f"Holes in band {band_}.")
              for band_, count in sorted_.items()), opened.on_site)


def _patches(context: Context, rules: RuleSet, rooms: Mapping[str, RoomDust]) -> dict[str, list[Patch]]:
    found: dict[str, list[Patch]] = {band_: [] for band_ in BANDS}
    for room in rooms.values():
        for patch in _patches_of(context, room):
            found[band(patch, rules.plaster)].append(patch)
    return found


def _patches_of(context: Context, room: RoomDust) -> list[Patch]:
    """The holes of a room: those in its ceiling, then those in its walls, each of the size that its room gives."""
    work = room.work
    walls = work.room.walls or context.inputs.job.house.walls
    rate = context.inputs.book.rates.walls[walls]
    each = rate.wide * rate.high * 144
    if work.room.area_cut is not None and work.opened.openings:
        each = work.room.area_cut / work.opened.openings
    kind = "broken out" if work.opened.destroyed and not work.opened.chiselled else "access"
    return [Patch(each, "ceiling" if i < work.ceiling else "wall", kind) for i in range(work.opened.openings)]


def _to_close(context: Context, rules: RuleSet, option: str, patches: list[Patch]) -> Figure:
    book = context.inputs.book.patches
    price = patch_price(patches, Prices(book.plate, book.hand, book.large, book.ceiling, book.minimum), rules.plaster)
    return Figure(f"options.{option}.care.to-close", price.total, "cents", "What we ask to close the holes of the "
                                                                           "list, each "
                  "by its band, at least our minimum.", context.make.book("patches"))


def _to_order(context: Context, rules: RuleSet, option: str, patches: Mapping[str, list[Patch]],
              ) -> tuple[Figure, Figure]:
    """The area of the holes that we close, and the plaster for it; how deep the old plaster is nobody knows before."""
    name, area = f"options.{option}.care", patch_area([one for some in patches.values() for one in some])
    made = rule("plaster-volume-per-sixteenth")
    return (Figure(f"{name}.patch-area", ceil(area / 144), "square feet", "Holes at the book's sizes, rounded up.",
                   context.make.book("rates", "walls")),
            Figure(f"{name}.plaster-a-sixteenth", ceil(plaster_to_order(area, Fraction(1, 16), rules.plaster)),
                   "cubic inches", "Plaster to order for each sixteenth of an inch of the old plaster's depth, waste "
                   "counted in, rounded up.", made.source, (f"{name}.patch-area",)))


def _to_verify(room: RoomDust) -> RoomToVerify:
    """The bare floor, the counters and the sills of a room; a carpet takes no cloth."""
    found = room.work.room
    floors = () if found.flooring == "carpet" or found.size is None else (found.size[0] * found.size[1],)
    return RoomToVerify(floors, tuple(length * COUNTER_FEET for length in found.counters or ()), found.sills)


def _roll(context: Context) -> Roll:
    book = context.inputs.book.board
    return Roll(book.wide * 12, book.long, book.overlap * 12)


def _papers(context: Context, rules: RuleSet, dates: Dates) -> LeadPapers:
    job, source = context.inputs.job, rule("lead-pamphlet-days").source
    days = pamphlet_days(rules.lead, job.start.work_starts)

    def day(word: str, value: date, method: str, *names: str, by: Source = source) -> Figure:
        return Figure(f"lead.{word}", value, date_unit(value, job.prepared.year), method, by, names)
    ends = {option: day_of(found.finished) for option, found in dates.options.items()}
    start = ("dates.work-starts",)
    return LeadPapers(
        day("pamphlet-first", days.first, "Not earlier than so many days before the start.", *start,
            "rules.lead-pamphlet-days"),
        day("pamphlet-mail-by", days.mail_by, "The last day on which it may be mailed.", *start,
            "rules.lead-mail-days"),
        day("pamphlet-hand-by", days.hand_by, "It is handed over before work starts.", *start),
        tuple(recipients(job.owner_now and not job.rented)),
        {option: day(f"{slug(option)}.keep-until", keep_until(rules.lead, end), "Records are kept so many years.",
                  "rules.lead-records-years") for option, end in ends.items()},
        {option: day(f"{slug(option)}.copies-by", copies_by(rules.lead, end, None), "With the final bill, or so "
                     "many days after the end, whichever is first.", "rules.lead-copies-days")
         for option, end in ends.items()},
        {option: day(f"{slug(option)}.same-job-through", one_job_through(rules.lead, end), "More work in one of its "
                     "rooms up to this day counts with it as one job.", f"options.{option}.dates.finished",
                     by=rule("lead-same-job-days").source)
         for option, end in ends.items()},
        {whom: day(f"pamphlet-{whom}", on, "Signed for on this day.") for whom, on in
         (("owner", job.lead.owner_got_pamphlet), ("occupant", job.lead.tenant_got_pamphlet)) if on is not None},
        rule("lead-records-years"), rule("lead-copies-days"))


__all__ = ["LeadPapers", "OptionCare", "Protection", "RoomCare", "protection"]
