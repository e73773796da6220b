"""What the firm's cards say wrong between one field and another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sitegen.errors import Fault, article
from sitegen.job.books import Kit, Payments
from sitegen.job.cards import AT_THE_END
from sitegen.job.inputs import Gathered, Sound
from sitegen.job.parts import OPTIONS
from sitegen.job.registry import is_whole, nearest, needs
from sitegen.trade.finished import ENOUGH
from sitegen.trade.kinds import SIGNS, SIGNS_WITH
from sitegen.trade.old_wiring import PACKAGE, missing_of_package

PRICED = {"panel": "panel", "service": "service", "alarms": "alarm", "splices": "splice", "car outlets": "car_outlet"}
"""What a kit may do beside points, and its set price where it sells a list."""


@needs("book.cases", "book.later")
def _amounts_rise(all_: Gathered) -> Iterator[Fault]:
    for name in ("cases", "later"):
        counted = Counter(item.key for _, item in all_.book.items(name))
        for i, item in all_.book.items(name):
            if not item.low <= item.usual <= item.high:
                yield all_.book.fault((name, i, "usual"), f"The amounts of `{item.key}` do not rise.",
                                      "Low is the least, high the most.")
            if counted[item.key] > 1:
                yield all_.book.fault((name, i, "key"), f"`{item.key}` stands here twice.", "Keep one.")


@needs("town.covering", "town.looks")
def _somebody_sees_open_holes(all_: Gathered) -> Iterator[Fault]:
    if all_.town["looks"] == AT_THE_END and not all_.town["covering"]:
        yield all_.town.fault(("looks",), "The inspector comes at the end alone, and passes no closed hole on "
                              "photographs.", "Write `covering: yes`, or `looks: before closing`.")


@needs("book.kits", "book.cases", "book.later")
def _kits_are_whole(all_: Gathered) -> Iterator[Fault]:
    cases = {case.key for _, case in all_.book.items("cases")}
    later = {item.key for _, item in all_.book.items("later")}
    data = all_.book.document.data
    all_cases = len(cases) == len(data.get("cases", []))
    all_later = len(later) == len(data.get("later", []))
    for name, kit in all_.book["kits"].items():
        path = ("kits", name)
        for key in kit.cases:
            if all_cases and key not in cases:
                yield all_.book.fault((*path, "cases", key), f"No case is called `{key}`.", nearest(key, cases))
        for key in sorted(cases - set(kit.cases)):
            yield all_.book.fault((*path, "cases"), f"Nothing says who pays for case `{key}`.",
                                  "Write us or homeowner.")
        for i, key in enumerate(kit.later):
            if all_later and key not in later:
                yield all_.book.fault((*path, "later", i), f"No later cost is called `{key}`.", nearest(key, later))
        yield from _kit_agrees_with_itself(all_.book, path, kit)


def _kit_agrees_with_itself(book: Sound, path: tuple[str, ...], kit: Kit) -> Iterator[Fault]:
    if "protection" in kit.also_does and "panel" not in kit.also_does:
        yield book.fault((*path, "also does"), "Breakers that protect are promised without a new panel to hold them.",
                         "Add `panel`, or leave `protection` out.")
    if kit.covers == "every point" and kit.pays_for_more != "us":
        yield book.fault((*path, "pays for more"), "A price for every point leaves nothing more to pay for.",
                         "Write `us`, or `covers: the list`.")
    if kit.covers == "the list" and kit.pays_for_more == "us":
        yield book.fault((*path, "pays for more"), "A list whose additions we pay for is a price for every point.",
                         "Write `covers: every point`, or `pays for more: homeowner`.")
    if kit.called is None and kit.option not in OPTIONS:
        yield book.fault((*path, "option"), f"Nothing says what the page calls `{kit.option}`.",
                         f"Add `called:`, or use one of: {', '.join(OPTIONS)}.")
    if (kit.covers == "the list") != (kit.prices is not None):
        said, out = ("A list is sold without set prices.", "Add `prices:`; its price today is their sum.") \
            if kit.prices is None else ("Set prices stand in a price for every point.",
                                        "Leave them out: its price is proposed from the cost book.")
        yield book.fault((*path, "prices"), said, out)
    for does, key in PRICED.items() if kit.covers == "the list" and kit.prices is not None else ():
        if does in kit.also_does and not getattr(kit.prices, key):
            yield book.fault((*path, "prices"), f"This kit does `{does}`, and nothing says what it asks for it.",
                             f"Add `{key.replace('_', ' ')}:` to its prices, or take `{does}` out of `also does`.")
    if kit.covers == "every point" and kit.new_places != "in the price":
        yield book.fault((*path, "new places"), "A price for every point leaves new places to be paid for.",
                         "Write `new places: in the price`.")
    if kit.covers == "every point":
        for key in missing_of_package(kit.sheet, kit.closes_holes, kit.cleans):
            yield book.fault((*path, key), f"A price for every point comes with its protections; here `{key}` is "
                             f"`{getattr(kit, key.replace(' ', '_'))}`.",
                             f"Write `{PACKAGE[key]}`: the protections are one package.")
    if (kit.closes_holes == "us") != (kit.finish is not None):
        said = "We close the holes, but nothing says with what." if kit.finish is None else \
            "The homeowner closes the holes, and a finish of ours is named."
        yield book.fault((*path, "finish"), said, "Write `finish:` just where we close the holes.")
    yield from payments_are_whole(book, (*path, "payments"), kit.payments, kit.closes_holes)
    counted = Counter(own.claim for own in kit.says)
    for i, own in enumerate(kit.says):
        if counted[own.claim] > 1:
            yield book.fault((*path, "says", i, "claim"), f"`{own.claim}` stands here twice.", "Keep one.")


def payments_are_whole(file: Sound, path: tuple[str | int, ...], payments: Payments, closes: str) -> Iterator[Fault]:
    """What is wrong with the payments of a kit, or with those that a job has in their place."""
    if not payments.held_to_the_end:
        yield file.fault((*path, "held to the end"), "Nothing is held until all is finished.",
                         "Hold a part, such as 10 of 100, until all is inspected, cleaned and checked.")
    if payments.after and sum(payments.after.values()) + payments.held_to_the_end != 1:
        yield file.fault((*path, "after"), "The parts do not add up to the whole.",
                         "What is paid after each step and what is held make 100 of 100 together.")
    if "holes closed" in payments.after and closes != "us":
        yield file.fault((*path, "after", "holes closed"), "A part is due when holes are closed, which the "
                         "homeowner does.", "Have it paid after `old wires dead`.")


@needs("job.options", "book.kits")
def _payments_of_the_job_are_whole(all_: Gathered) -> Iterator[Fault]:
    for i, price in all_.job.items("options"):
        kit = all_.book["kits"].get(price.kit)
        if price.payments is not None and kit is not None:
            yield from payments_are_whole(all_.job, ("options", i, "payments"), price.payments, kit.closes_holes)


@needs("book.kits", "book.later")
def _who_closes_holes_leaves_no_plaster(all_: Gathered) -> Iterator[Fault]:
    plaster = {item.key for _, item in all_.book.items("later") if item.stands_for == "plaster finish"}
    for name, kit in all_.book["kits"].items():
        for i, key in enumerate(kit.later):
            if key in plaster and kit.closes_holes == "us":
                yield all_.book.fault(("kits", name, "later", i), f"We close the holes, and `{key}` is left to the "
                                      "homeowner.",
                                      "Take it out of `later`: who closes a hole makes it ready for paint.")


@needs("book.points_a_circuit")
def _a_circuit_takes_a_point(all_: Gathered) -> Iterator[Fault]:
    if all_.book["points_a_circuit"] < 1:
        yield all_.book.fault(("points a circuit",), "No point fits on a circuit.", "Write 1 or more.")


@needs("book.rates", "book.boxes")
def _every_kind_has_its_box(all_: Gathered) -> Iterator[Fault]:
    written = all_.book.document.data["boxes"]      # a box with a fault of its own stands there all the same
    for path, known in ((("boxes",), written), (("rates", "box cut"), all_.book["rates"].box_cut)):
        for kind in all_.book["rates"].drops_a_point:
            if kind not in known:
                yield all_.book.fault(path, f"Nothing stands here for {article(kind)}.", "Add its line.")


@needs("book.rates", "job.house", "job.rooms")
def _every_wall_has_its_rates(all_: Gathered) -> Iterator[Fault]:
    known = all_.book["rates"].walls
    given = [(("house", "walls"), all_.job["house"].walls),
             *((("rooms", i, "walls"), room.walls) for i, room in all_.job.items("rooms") if room.walls)]
    for path, walls in given:
        if walls not in known:
            yield all_.job.fault(path, f"The price book has no openings for {walls}.",
                                 f"Add it under `rates`, `walls`, or name another: {', '.join(known)}.")


@needs("book.cable_from_panel", "job.rooms")
def _every_storey_has_a_length_of_cable(all_: Gathered) -> Iterator[Fault]:
    known, written = set(all_.book["cable_from_panel"]), all_.book.document.data["cable from panel"]
    for i, room in all_.job.items("rooms"):
        if room.floor not in known and str(room.floor) not in written:
            known.add(room.floor)                   # said at the first room of the storey
            yield all_.job.fault(("rooms", i, "floor"), f"The price book has no cable to storey {room.floor}.",
                                 "Add its length under `cable from panel`.")


@needs("costs.one_price")
def _an_aim_can_be_met(all_: Gathered) -> Iterator[Fault]:
    aim = all_.costs["one_price"]
    if aim.earns_at_least >= 1:
        yield all_.costs.fault(("one price", "earns at least"), "No price leaves the whole of it.",
                               "Write a part, such as 12 of 100.")


@needs("costs.people", "costs.hours_a_day")
def _a_crew_works(all_: Gathered) -> Iterator[Fault]:
    if not all_.costs["people"] or not all_.costs["hours_a_day"]:
        yield all_.costs.fault(("people",), "A crew of nobody, or a day of no hours.", "Write both above nought.")


@needs("book.rates", "costs.points")
def _costs_cover_every_kind(all_: Gathered) -> Iterator[Fault]:
    for kind in all_.book["rates"].drops_a_point:
        if kind not in all_.costs.document.data["points"]:
            yield all_.costs.fault(("points",), f"Nothing says what {article(kind)} costs us.",
                                   "Add its hours and its material.")


@needs("book.extras")
def _extras_are_told_apart(all_: Gathered) -> Iterator[Fault]:
    counted = Counter(extra.key for _, extra in all_.book.items("extras"))
    for i, extra in all_.book.items("extras"):
        if counted[extra.key] > 1:
            yield all_.book.fault(("extras", i, "key"), f"`{extra.key}` stands here twice.", "Keep one.")


@needs("state.deposit")
def _a_deposit_has_its_limit(all_: Gathered) -> Iterator[Fault]:
    deposit = all_.state["deposit"]
    if deposit is not None and deposit.most is None and deposit.part is None:
        yield all_.state.fault(("deposit",), "A deposit may be asked for, but nothing says how much.",
                               "Add `most:` or `part:`, or leave the deposit out.")
    if deposit is not None and deposit.part is not None and deposit.part > 1:
        yield all_.state.fault(("deposit", "part"), "This is more than the whole.", "Write a part, such as 1/3.")


@needs("company.people", "company.licences")
def _somebody_licensed_signs(all_: Gathered) -> Iterator[Fault]:
    if is_whole(all_.company, "people") and SIGNS not in {who.role for who in all_.company["people"]}:
        yield all_.company.fault(("people",), "Nobody here is the electrician in charge, who signs the letters.",
                                 f"Give whoever holds the electrical licence `role: {SIGNS}`.")
    if is_whole(all_.company, "licences") and SIGNS_WITH not in {one.kind for one in all_.company["licences"]}:
        yield all_.company.fault(("licences",), "No electrical licence stands here, whose number goes on the letters.",
                                 f"Add it with `kind: {SIGNS_WITH}`.")


@needs("company.prior")
def _prior_can_be_worked_with(all_: Gathered) -> Iterator[Fault]:
    prior = all_.company["prior"]
    for key in ("old_feeds", "new_feeds", "part_feed_old", "part_feed_new", "blocked_drops", "open_drops"):
        if getattr(prior, key) <= 0:
            yield all_.company.fault(("prior", key.replace("_", " ")), "This must be above nought.",
                                     "A belief of nought could never be changed by what is found.")
    # x runs to 10/9 of the shift at the last of nine kinds of house and must not use the start up
    if prior.hard_house_shift * 10 / 9 >= min(prior.blocked_drops, prior.open_drops) > 0:
        yield all_.company.fault(("prior", "hard house shift"), "This is as large as the start of the count itself.",
                                 "Write less than nine tenths of the smaller of blocked and open drops.")


@needs("company.record")
def _record_counts_fit(all_: Gathered) -> Iterator[Fault]:
    record = all_.company["record"]
    if record is not None and record.above > record.jobs:
        yield all_.company.fault(("record", "above"), f"{record.above} of {record.jobs} jobs.",
                                 "No more can have ended above than were looked at.")
    if record is not None and record.jobs < ENOUGH:
        yield all_.company.fault(("record", "jobs"), f"A count of {record.jobs} says nothing.",
                                 f"Leave the record out until {ENOUGH} jobs were looked at.")
