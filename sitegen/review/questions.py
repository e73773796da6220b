"""Where a design falls short of a rule, as questions for the licensed person in charge: never as approval.

All of it is read off the Offer; nothing is worked out a second time.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.errors import article
from sitegen.figure import int_of
from sitegen.offer.design.panels import PanelSeen
from sitegen.offer.offer import Offer
from sitegen.rules.read import given
from sitegen.trade.feeds import NOT_TRACED, OLD
from sitegen.trade.old_wiring import OldWiringRule, presumed
from sitegen.trade.receptacles import OutletRoom, house_questions

LEAST_AMPERES = 100
"""The least service of a house [A] (NEC 230.79(C))."""

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

DUTIES = {"surge-protection": ("New service equipment brings a surge device. Is it in the price?", "NEC 230.67"),
          "surge-protection-ask": ("Does the town ask for a surge device with new service equipment?", "NEC 230.67"),
          **dict.fromkeys(("emergency-disconnect", "emergency-disconnect-ask"),
                          ("Does the new service bring a disconnect outside?", "NEC 230.85"))}
"""Key of what new service equipment brings with it -> what to ask, and the section."""


ASKED = {
    "balloon-framing": ("The walls run open from cellar to attic. Who seals each hole through a plate, and puts back "
                        "each fire stop that is cut?", "NEC 300.21, from memory"),
    "filled-walls": ("The outside walls are filled with insulation. Is there old wire in them, and do drops there "
                     "count as blocked?", "NEC 394.12(5), from memory"),
    "vehicle-charger": ("{about}: its load counts as continuous. Is it set to no more than this, or held by load "
                        "management, and is it so marked?", "NEC 625.42, from memory"),
    "car-outlet": ("{about}: an outlet for a car has a circuit of its own and ground-fault protection. Is it listed "
                   "for that use, and is its load set as counted here?", "NEC 625.40, 625.42, 625.54, from memory"),
    "own-circuit": ("{about}: it has a circuit of its own. Where does the switch stand that shuts it off, and does "
                    "the town want one at the head of the stairs?", "NEC 422.12; the switch from memory"),
    "heating-unlisted": ("No load says what heats the house. A boiler or a furnace that burns fuel has a circuit of "
                         "its own and a switch. Which is it?", "NEC 422.12"),
    "porch-closed-in": ("{about}: it is entered as a porch, and it has window sills. One closed in with glass is a "
                        "sunroom, with arc-fault protection and outlets along its walls.",
                        "NEC 210.12, 210.52(A)"),
    "meter-wall": ("The meter stands on this wall: {about}. Does the utility want it there, and is the way from it to "
                   "the disconnect short enough?", "NEC 230.70(A), from memory"),
    "meter-wall-unknown": ("A new service is planned, and nothing says on which wall the meter stands. Where does the "
                           "utility want it?", "NEC 230.70(A), from memory"),
}
"""Key of what the survey says of the house -> what to ask, and the section."""

FIVE = 5
CEILING = "ceiling light"
TASKS = ("kitchen", "bathroom", "laundry")
"""Kinds of rooms where light is wanted on one place more than on the whole floor."""


class Question(Struct, frozen=True):
    """Something to ask: what falls short or is not known, and the section that it rests on."""

    says: str
    section: str

    def __str__(self) -> str:
        return f"{self.says} ({self.section})"


def questions(offer: Offer) -> tuple[Question, ...]:
    """Every question that the calculations raise, house first, then room by room."""
    return (*_place(offer), *_service(offer), *_dwellings(offer), *_asked(offer), *_house(offer), *_boxes(offer),
            *_runs(offer), *_rooms(offer), *_light(offer), *_edition(offer))


def _place(offer: Offer) -> Iterator[Question]:
    for key in offer.design.service.place:
        if key in PLACE:
            yield Question(PLACE[key], "NEC 240.24, from memory" if "-in-" in key or "steps" in key else
                           "NEC 110.26, from memory")


def _asked(offer: Offer) -> Iterator[Question]:
    for one in offer.asked:
        says, section = ASKED[one.key]
        yield Question(says.format(about=one.about), section)


def _service(offer: Offer) -> Iterator[Question]:
    service = offer.design.service
    law, now, then = service.article, int_of(service.rating_now), int_of(service.rating_then)
    one = int_of(service.households) == 1
    if not service.enough_now:
        yield Question(f"The calculated load is {service.present.amperes.raw()} A by "
                       f"{'the rule for an existing house' if one else 'the standard method'}, and the service of "
                       f"today carries {now} A.", f"{law}.83" if one else f"{law}.40")
    if not service.enough_then:
        yield Question(f"The calculated load is {service.planned.amperes.raw()} A, and the service is planned for "
                       f"{then} A.", f"{law}.82" if one else f"{law}.40, {law}.85")
    if then < LEAST_AMPERES:
        yield Question(f"A service of {then} A is planned; a house has at least {LEAST_AMPERES} A.", "NEC 230.79(C)")
    if service.replaced:
        if then < int_of(service.least):
            yield Question(f"The least standard rating for these loads is {service.least.raw()} A.",
                           "NEC 230.42, 230.79")
        for duty in service.duties:
            yield Question(*DUTIES[duty])
    for panel in service.panels:
        if panel.short and panel.spaces:
            yield Question(f"{_whose(panel)}The circuits take {panel.spaces_used.raw()} places, and the panel is short "
                           f"of {panel.short}.", "NEC 408.54, from memory")


def _whose(panel: PanelSeen) -> str:
    """Which of several panels; nothing where there is one."""
    return f"Panel of `{panel.key}`: " if panel.key else ""


def _dwellings(offer: Offer) -> Iterator[Question]:
    """What a house of several dwellings leaves to be settled: places, meters, and circuits that join two today."""
    service = offer.design.service
    if int_of(service.households) == 1:
        return
    if any(panel.name is None for panel in service.panels):
        yield Question("Stairs, cellar and whatever else all share are fed from the equipment of no dwelling. Where "
                       "does their panel stand, and on whose meter?", "NEC 210.25(B)")
    yield Question("Each household reaches the breakers of its own dwelling. Where does each panel stand?",
                   "NEC 240.24(B), from memory")
    for panel in service.panels:
        if panel.spaces is None:
            yield Question(f"{_whose(panel)}the circuits take {panel.spaces_used.raw()} places, and nothing says how "
                           "many it has. Add `spaces of`.", "NEC 408.54, from memory")
    if len(service.panels) > 1:
        yield Question(f"The plan has {len(service.panels)} panels, each at the price book's `panel`. Are their "
                       "feeders in that price?", "NEC 210.25, 240.24(B)")
    for feed in service.between:
        yield Question(f"{feed} serves more than one part of the house today. An option that leaves points on it "
                       "leaves that. Who parts it?", "NEC 210.25(A), (B)")
    if int_of(service.households) > FIVE:
        yield Question("The load of the whole service is by the standard method alone. The way for more than five "
                       "dwellings may come to less.", f"{service.article}.84")
    if service.planned.method == "three alike":
        yield Question("Both dwellings are counted as three like the larger. Does the town take that where they "
                       "differ?", f"{service.article}.85")


def _house(offer: Offer) -> Iterator[Question]:
    evidence = {feed.evidence for feed in offer.found.each_feed}
    old_house = presumed(int_of(offer.head.built), given(OldWiringRule, "old-wiring"))
    if old_house and OLD not in evidence and NOT_TRACED in evidence:
        yield Question(f"A house of {offer.head.built.raw()} is presumed to hold knob-and-tube, and no feed was traced "
                       "old. Who saw that it is gone?", "common practice")
    for key in house_questions([OutletRoom(room.name.text, room.used_as, 0, 0) for room in offer.rooms]):
        yield Question(MISSING[key], "NEC 210.52")


def _boxes(offer: Offer) -> Iterator[Question]:
    for box in offer.design.boxes:
        if not box.fits:
            larger = f" The smallest standard box that would do is {box.larger}." if box.larger else ""
            yield Question(f"The box of {article(box.kind.text)} needs {box.required.say()} cu in and holds "
                           f"{box.volume.say()}.{larger}", "NEC 314.16(B)")


def _runs(offer: Offer) -> Iterator[Question]:
    for run in offer.design.runs:
        if run.gauge.text != run.required:
            yield Question(f"The usual run to storey {run.storey.raw()} loses more than recommended on {run.required} "
                           f"AWG; {run.gauge} AWG would do.", "NEC 210.19, informational note")


def _rooms(offer: Offer) -> Iterator[Question]:
    for room in offer.rooms:
        design = offer.design.rooms[room.key]
        for answer in design.outlets.answers:
            sections = ", ".join(dict.fromkeys(need.section for need in answer.needs))
            if answer.short:
                least = "at least " if not answer.measured and answer.spacing == "full" else ""
                asked = "the spacing rule asks for" if answer.spacing == "full" else "today there are"
                yield Question(f"{room.name}: {answer.planned} outlets are planned, and {asked} {least}"
                               f"{answer.minimum}.", sections or "NEC 210.52")
            elif answer.short_of_full:
                yield Question(f"{room.name}: the plan stays {answer.short_of_full} under the full spacing rule; the "
                               "town lets it stand in closed walls.", sections)
        if design.light_needed == "yes" and not any("light" in kind.kind.text and int_of(kind.want)
                                                    for kind in room.kinds):
            yield Question(f"{room.name}: no light is planned. Is an outlet of it switched?", "NEC 210.70(A)")


def _light(offer: Offer) -> Iterator[Question]:
    """Rooms where somebody works at a counter, a mirror or a washer and ceiling lights alone are planned."""
    dark = [str(room.name) for room in offer.rooms if room.used_as in TASKS
            and {kind.kind.text for kind in room.kinds if "light" in kind.kind.text and int_of(kind.want)} == {CEILING}]
    if dark:
        yield Question(f"Ceiling lights alone are planned in: {', '.join(dark)}. What lights the counter, the mirror "
                       "or the washer? A wall light, a light under a cabinet or a lamp counts.",
                       "good practice, no rule asks it")


def _edition(offer: Offer) -> Iterator[Question]:
    service = offer.design.service
    if service.unverified:
        edition = offer.design.edition
        yield Question(f"Several values of the {edition} edition were not verified here. Check each before it is used.",
                       f"NEC {edition}, article {service.article.removeprefix('NEC ')}")


__all__ = ["Question", "questions"]
