"""Where a design falls short of a rule, as questions for the licensed person in charge: never as approval."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.design.code import Code
from sitegen.design.rooms import box_verdict, light_plan, receptacle_answers, run_choice, widest_gauge
from sitegen.design.service import circuit_rooms, dwelling, panel_of
from sitegen.job.load import Inputs
from sitegen.job.model import Room as JobRoom
from sitegen.job.registry import article
from sitegen.rules.read import given
from sitegen.trade.circuits import Alarm, TownAlarms, alarms, lighting
from sitegen.trade.feeds import NOT_TRACED, OLD
from sitegen.trade.load_parts import rating
from sitegen.trade.old_wiring import OldWiringRule, presumed
from sitegen.trade.panel import PanelPlace, panel_place_questions
from sitegen.trade.receptacles import Room as OutletRoom
from sitegen.trade.receptacles import house_questions
from sitegen.trade.service_load import existing, optional
from sitegen.trade.survey import lines

PLACE = {
    "panel-width-unknown": "The clear width in front of the panel was not measured.",
    "panel-width-short": "The clear width in front of the panel is short.",
    "panel-depth-unknown": "The clear depth in front of the panel was not measured.",
    "panel-depth-short": "The clear depth in front of the panel is short.",
    "panel-headroom-unknown": "The headroom in front of the panel was not measured.",
    "panel-headroom-short": "The headroom in front of the panel is short.",
    "panel-room-unknown": "Nothing says what kind of room the panel is in.",
    "panel-in-bathroom": "The panel is in a bathroom. Where can it go?",
    "panel-in-closet": "The panel is in a closet for clothes. Where can it go?",
    "panel-over-steps": "The panel is over steps. Where can it go?",
    "panel-feed-unknown": "Nobody saw whether the service comes in overhead or underground.",
}
"""Key of a question about the panel's place -> its words; keys that are not here are not asked of a survey."""

MISSING = {"no-outdoors-listed": "No outlet outside is listed, at the front or the back.",
           "no-laundry-listed": "No laundry is listed. Where is the washer?",
           "no-bathroom-listed": "No bathroom is listed.", "no-kitchen-listed": "No kitchen is listed."}


@dataclass(frozen=True, slots=True)
class Question:
    """Something to ask: what falls short or is not known, and the section that it rests on."""

    says: str
    section: str

    def __str__(self) -> str:
        return f"{self.says} ({self.section})"


def questions(inputs: Inputs, code: Code) -> tuple[Question, ...]:
    """Every question that the calculations raise, house first, then room by room."""
    return (*_place(inputs, code), *_service(inputs, code), *_house(inputs), *_boxes(inputs, code),
            *_runs(inputs, code), *_rooms(inputs, code), *_light(inputs, code), *_edition(code))


def alarm_places(inputs: Inputs, code: Code) -> tuple[Alarm, ...]:
    """Alarms that a rewire under permit brings; the town's card says in words what it makes of them."""
    return alarms(code.circuit, circuit_rooms(inputs.job), inputs.job.house.fuel_or_garage, TownAlarms())


def _place(inputs: Inputs, code: Code) -> Iterator[Question]:
    panel = inputs.job.panel
    kind = next((room.kind for room in inputs.job.rooms if room.room == panel.where and room.kind), None)
    if panel.where == "outside":
        kind = "outdoors"
    wide, deep, high = (None if side is None else side * 12
                        for side in (panel.clear_width, panel.clear_depth, panel.clear_height))
    found = panel_place_questions(code.panel, PanelPlace(
        wide, deep, high, kind, feed=None if panel.service == "not seen" else panel.service))
    for key in found:
        if key in PLACE:
            yield Question(PLACE[key], "NEC 240.24, from memory" if "-in-" in key or "steps" in key else
                           "NEC 110.26, from memory")


def _service(inputs: Inputs, code: Code) -> Iterator[Question]:
    job, article = inputs.job, code.load.code
    if job.house.dwellings > 1:
        yield Question(f"The load is worked out as for one household, and the house holds {job.house.dwellings}. Each "
                       "needs a calculation of its own.", f"{article}.82, {article}.84")
    house, now = dwelling(job), job.panel.rating
    then = now if job.panel.new_rating is None else job.panel.new_rating
    present, planned = existing(code.load, house, False), optional(code.load, house)
    if present.amperes > now:
        yield Question(f"The loads come to {present.printed} A by the rule for an existing house, and the service of "
                       f"today carries {now} A.", f"{article}.83")
    if planned.amperes > then:
        yield Question(f"The loads come to {planned.printed} A, and the service is planned for {then} A.",
                       f"{article}.82")
    if then < 100:
        yield Question(f"A service of {then} A is planned; a house has at least 100 A.", "NEC 230.79(C)")
    least = rating(code.load, planned.amperes)
    if job.panel.new_rating is not None and then < least.amperes:
        yield Question(f"The least standard rating for these loads is {least.amperes} A.", "NEC 230.42, 230.79")
    if job.panel.new_rating is not None:
        if code.load.surge == "yes":
            yield Question("New service equipment brings a surge device. Is it in the price?", "NEC 230.67")
        if code.load.disconnect != "no":
            yield Question("Does the new service bring a disconnect outside?", "NEC 230.85")
    schedule = panel_of(inputs, code)
    if schedule.short:
        yield Question(f"The circuits take {schedule.used} places, and the panel is short of {schedule.short}.",
                       "NEC 408.54, from memory")


def _house(inputs: Inputs) -> Iterator[Question]:
    feeds = inputs.job.feeds.values()
    rule = given(OldWiringRule, "old-wiring")
    if presumed(inputs.job.house.built, rule) and not any(feed.looks == OLD for feed in feeds) and any(
            feed.looks == NOT_TRACED for feed in feeds):
        yield Question(f"A house of {inputs.job.house.built} is presumed to hold knob-and-tube, and no feed was traced "
                       "old. Who saw that it is gone?", "common practice")
    rooms = [OutletRoom(room.room, room.kind, 0, 0) for room in inputs.job.rooms if room.kind is not None]
    for key in house_questions(rooms):
        yield Question(MISSING[key], "NEC 210.52")


def _boxes(inputs: Inputs, code: Code) -> Iterator[Question]:
    gauge = widest_gauge(inputs, code)
    for kind, box in inputs.book.boxes.items():
        found = box_verdict(box, gauge, code)
        if not found.fits:
            yield Question(f"The box of {article(kind)} needs {float(found.required):g} cu in and holds "
                           f"{float(found.volume):g}.", "NEC 314.16(B)")


def _runs(inputs: Inputs, code: Code) -> Iterator[Question]:
    for storey in sorted({room.floor for room in inputs.job.rooms}):
        choice = run_choice(inputs.book.cable_from_panel[storey], code)
        if choice.gauge != choice.required:
            yield Question(f"The usual run to storey {storey} loses more than recommended on {choice.required} AWG; "
                           f"{choice.gauge} AWG would do.", "NEC 210.19, informational note")


def _rooms(inputs: Inputs, code: Code) -> Iterator[Question]:
    seen: set[str] = set()
    for room in inputs.job.rooms:
        if room.kind is None or room.room in seen:
            continue
        seen.add(room.room)
        yield from _outlets(inputs, code, room)
        if lighting(code.circuit, room.kind).needed == "yes" and not any(
                line.want for line in lines(inputs.job) if line.room == room.room and "light" in line.kind):
            yield Question(f"{room.room}: no light is planned. Is an outlet of it switched?", "NEC 210.70(A)")


def _light(inputs: Inputs, code: Code) -> Iterator[Question]:
    """Rooms in which the lights planned stay under the recommended average, in one question."""
    short = []
    for room in {room.room: room for room in reversed(inputs.job.rooms) if room.kind is not None}.values():
        made = light_plan(inputs, code, room)
        if made is not None and not made[0].enough:
            short.append(f"{room.room} {float(made[0].average):.1f} of {float(made[1].value):.0f}")
    if short:
        yield Question(f"With the light of the price book these rooms stay under the recommended average in fc: "
                       f"{', '.join(reversed(short))}.", "IES handbook of the 1950s, a recommendation")


def _outlets(inputs: Inputs, code: Code, room: JobRoom) -> Iterator[Question]:
    for answer in receptacle_answers(inputs, code, room):
        sections = ", ".join(dict.fromkeys(need.section for need in answer.needs))
        if answer.short:
            least = "at least " if not answer.measured and answer.spacing == "full" else ""
            asked = "the spacing rule asks for" if answer.spacing == "full" else "today there are"
            yield Question(f"{room.room}: {answer.planned} outlets are planned, and {asked} {least}{answer.minimum}.",
                           sections or "NEC 210.52")
        elif answer.short_of_full:
            yield Question(f"{room.room}: the plan stays {answer.short_of_full} under the full spacing rule; the town "
                           "lets it stand in closed walls.", sections)


def _edition(code: Code) -> Iterator[Question]:
    if code.edition == "2026":
        yield Question("Several values of the 2026 edition were not verified here. Check each before it is used.",
                       "NEC 2026, article 120")


__all__ = ["Question", "alarm_places", "questions"]
