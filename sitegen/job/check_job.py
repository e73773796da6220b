"""What the rest of a job says wrong between one field and another."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from sitegen.errors import Fault, article
from sitegen.job.books import Kit
from sitegen.job.inputs import Gathered
from sitegen.job.registry import in_order, is_whole, nearest, needs
from sitegen.trade.kinds import ABOUT_ROOMS, TROUBLE
from sitegen.trade.load_parts import CHARGERS


@needs("job.job")
def _folder_and_name_agree(all_: Gathered) -> Iterator[Fault]:
    if all_.job["job"] != all_.folder.name:
        yield all_.job.fault(("job",), f"The job is called `{all_.job['job']}` and its folder `{all_.folder.name}`.",
                             "Give both the same name.")


@needs("job.surveyed", "job.prepared")
def _surveyed_before_prepared(all_: Gathered) -> Iterator[Fault]:
    yield from in_order(all_.job, "surveyed", "prepared")


@needs("job.prepared", "job.prices_hold_to")
def _prepared_before_lapse(all_: Gathered) -> Iterator[Fault]:
    yield from in_order(all_.job, "prepared", "prices_hold_to")


@needs("job.start", "job.prepared")
def _start_after_signing(all_: Gathered) -> Iterator[Fault]:
    start, prepared = all_.job["start"], all_.job["prepared"]
    if start.sign_by < prepared:
        yield all_.job.fault(("start", "sign by"), f"Signing by {start.sign_by} is before the proposal of {prepared}.",
                             "Dates run forward: move one of them.")
    if start.work_starts < start.sign_by:
        yield all_.job.fault(("start", "work starts"), f"Work starts on {start.work_starts}, before signing by "
                             f"{start.sign_by}.", "Dates run forward: move one of them.")


@needs("job.why_now", "job.prepared")
def _deadline_is_whole(all_: Gathered) -> Iterator[Fault]:
    why = all_.job["why_now"]
    given = {"asks": why.asks, "by": why.by, "before": why.before}
    for key, value in given.items():
        if why.who != "nobody" and value is None and key != "before" and not (key == "by" and why.before):
            yield all_.job.fault(("why now", key), f"The {why.who} set a deadline, but `{key}` is missing.",
                                 "Copy their words and their date from their letter, or write `who: nobody`; where "
                                 "they name no date, write `before:` with their words.")
        if why.who == "nobody" and value is not None:
            yield all_.job.fault(("why now", key), f"`{key}` is given, but nobody set a deadline.",
                                 "Say who did, or leave this line out.")
    if why.who != "nobody" and why.by and why.before:
        yield all_.job.fault(("why now", "before"), "A date and words in place of one.",
                             "Keep `by:` where they name a date, else `before:`.")
    if why.by and why.letter_dated and why.by < why.letter_dated:
        yield all_.job.fault(("why now", "by"), f"Their date {why.by} is before their letter of {why.letter_dated}.",
                             "Look at the letter again.")


@needs("job.told", "job.assumed")
def _told_or_assumed(all_: Gathered) -> Iterator[Fault]:
    told = all_.job["told"]
    for key in ("told", "assumed"):
        for i, path in enumerate(all_.job[key]):
            if key == "assumed" and path in told:
                yield all_.job.fault((key, i), f"`{path}` is called told and assumed.", "Keep one of them.")
            if path.split(".")[0] in ("feeds", "drops", "stop work"):
                yield all_.job.fault((key, i), f"`{path}` is what was seen, or it is nothing.",
                                     "What nobody saw is `not traced` or `not seen`, whatever we were told.")


@needs("job.surveyed", "job.house")
def _built_before_survey(all_: Gathered) -> Iterator[Fault]:
    built = all_.job["house"].built
    if not 1600 <= built <= all_.job["surveyed"].year:
        yield all_.job.fault(("house", "built"), f"Got {built}, needs the year in which the house was built.",
                             "Look at the tax record or the deed.")
    if all_.job["house"].points_on_outside_walls > 1:
        yield all_.job.fault(("house", "points on outside walls"), "This is more than the whole.",
                             "Write a part, such as 2 of 5.")


@needs("job.findings")
def _findings_are_told_apart(all_: Gathered) -> Iterator[Fault]:
    counted = Counter(finding.number for _, finding in all_.job.items("findings"))
    for i, finding in all_.job.items("findings"):
        if counted[finding.number] > 1:
            yield all_.job.fault(("findings", i, "number"), f"Two findings have the number {finding.number}.",
                                 "Each keeps the number of the inspector's report.")


OF_PEOPLE = re.compile(r"\b(?:child|children|kids?|bab(?:y|ies)|toddlers?|pregnan\w*|elderly|disability|"
                       r"wheelchair|medical|oxygen|dialysis|cpap|vouchers?|subsid(?:y|i[sz]ed)|vacant|unoccupied)\b",
                       re.IGNORECASE)
"""Words that tell of the people of a house, or that nobody is there."""


@needs("job.tonight", "job.not_seen", "job.findings", "job.photographs", "job.why_now")
def _what_a_page_repeats_tells_of_no_person(all_: Gathered) -> Iterator[Fault]:
    """What is copied to the pages as it stands, which may be passed on, says nothing of a household."""
    asks = all_.job["why_now"].asks
    said: list[tuple[tuple[str | int, ...], str]] = [] if asks is None else [(("why now", "asks"), asks)]
    for key in ("tonight", "not_seen"):
        said += [((key.replace("_", " "), i), text) for i, text in all_.job.items(key)]
    said += [(("findings", i, "says"), one.says) for i, one in all_.job.items("findings")]
    said += [(("photographs", i, "of"), one.of) for i, one in all_.job.items("photographs")]
    for path, text in said:
        if found := OF_PEOPLE.search(text):
            yield all_.job.fault(path, f"`{found[0]}` tells of the people there, and pages may be passed on.",
                                 "Leave that sentence out, of a quote too; `lead` and `medical` keep what we need.")


@needs("job.findings", "job.rooms")
def _findings_name_rooms_and_kinds(all_: Gathered) -> Iterator[Fault]:
    rooms = {room.room for _, room in all_.job.items("rooms")}
    kinds = {kind for _, room in all_.job.items("rooms") for kind in (*room.now, *room.want)}
    if not is_whole(all_.job, "rooms"):
        return
    for i, finding in all_.job.items("findings"):
        for at, name in enumerate(finding.rooms):
            if name not in rooms:
                yield all_.job.fault(("findings", i, "rooms", at), f"No room is called `{name}`.",
                                     nearest(name, rooms))
        for at, kind in enumerate(finding.kinds):
            if kind not in kinds:
                yield all_.job.fault(("findings", i, "kinds", at), f"No room has {article(kind)}.",
                                     nearest(kind, kinds))
        if finding.about == "splice" and not finding.rooms:
            yield all_.job.fault(("findings", i, "rooms"), "Nothing says in which room the splice is.",
                                 "Add `rooms:` with its room; a box with a cover goes there.")
        if (finding.kinds or finding.rooms) and finding.about not in ABOUT_ROOMS:
            key = "kinds" if finding.kinds else "rooms"
            yield all_.job.fault(("findings", i, key), f"A finding about {finding.about} names no points.",
                                 "Leave this line out, or write `about: points`.")


@needs("job.loads")
def _new_is_what_charges_a_car(all_: Gathered) -> Iterator[Fault]:
    for i, load in all_.job.items("loads"):
        if load.new and load.is_ not in CHARGERS:
            yield all_.job.fault(("loads", i, "new"), f"`{load.what}` is said to be new, and it charges no car.",
                                 "Leave it out: `new: yes` stands with a vehicle charger or a car outlet alone.")


@needs("job.panel", "job.rooms")
def _the_panel_is_somewhere(all_: Gathered) -> Iterator[Fault]:
    panel, rooms = all_.job["panel"], {room.room for _, room in all_.job.items("rooms")}
    if is_whole(all_.job, "rooms") and panel.where not in rooms | {"outside"}:
        yield all_.job.fault(("panel", "where"), f"No room is called `{panel.where}`.",
                             nearest(panel.where, rooms | {"outside"}))
    if panel.new_rating is not None and panel.new_rating < panel.rating:
        yield all_.job.fault(("panel", "new rating"), f"{panel.new_rating} A is less than the {panel.rating} A of "
                             "today.", "Leave the line out when the service stays.")
    if (panel.new_rating is None) != (panel.new_spaces is None) and panel.new_spaces is None:
        yield all_.job.fault(("panel", "new rating"), "A new service, but nothing says how many places its panel has.",
                             "Add `new spaces:`.")


@needs("job.options", "book.kits")
def _every_option_has_its_kit(all_: Gathered) -> Iterator[Fault]:
    kits: dict[str, Kit] = all_.book["kits"]
    broken = set(all_.book.document.data.get("kits", {})) - set(kits)
    counted = Counter(price.option for _, price in all_.job.items("options"))
    for i, price in all_.job.items("options"):
        if counted[price.option] > 1:
            yield all_.job.fault(("options", i, "option"), f"`{price.option}` stands here twice.", "Keep one.")
        if price.price == 0:
            yield all_.job.fault(("options", i, "price"), f"`{price.option}` costs nothing.", "Write its price, or "
                                 "leave it out: it then comes from the books.")
        if (price.price is None) != (price.because is None):
            said, out = ("A reason stands here without a price of your own.", "Add `price:`, or leave both out.") \
                if price.price is None else ("A price of your own stands here without a reason.",
                                             "Add `because:`, or leave both out: the price then comes from the books.")
            yield all_.job.fault(("options", i, "price" if price.because is None else "because"), said, out)
        if price.kit in broken:
            continue
        if price.kit not in kits:
            yield all_.job.fault(("options", i, "kit"), f"The price book has no kit `{price.kit}`.",
                                 nearest(price.kit, kits))
        elif kits[price.kit].option != price.option:
            yield all_.job.fault(("options", i, "kit"), f"Kit `{price.kit}` is for `{kits[price.kit].option}`.",
                                 f"Use a kit for `{price.option}`.")
        elif not kits[price.kit].we_would_sign_this:
            yield all_.job.fault(("options", i, "kit"), f"The company would not sign kit `{price.kit}` itself.",
                                 "An option that we would not sign may not stand on the page: use another kit.")


@needs("job.options", "job.rooms", "book.kits")
def _a_price_holds_places_that_are_wanted(all_: Gathered) -> Iterator[Fault]:
    kits: dict[str, Kit] = all_.book["kits"]
    wanted = sum(max(0, count - room.now.get(kind, 0))
                 for _, room in all_.job.items("rooms") for kind, count in room.want.items())
    for i, price in all_.job.items("options"):
        if price.places_in_the_price is None or price.kit not in kits:
            continue
        path = ("options", i, "places in the price")
        if kits[price.kit].new_places == "in the price":
            yield all_.job.fault(path, f"Kit `{price.kit}` holds every new place already.",
                                 "Leave this line out, or use a kit that adds them at a set price.")
        elif is_whole(all_.job, "rooms") and price.places_in_the_price > wanted:
            yield all_.job.fault(path, f"The price holds {price.places_in_the_price} new places, and the rooms want "
                                 f"{wanted}.", "Write no more than the rooms want, or want more of them.")


@needs("job.options", "book.kits")
def _two_options_or_more(all_: Gathered) -> Iterator[Fault]:
    kits: dict[str, Kit] = all_.book["kits"]
    if len(all_.job.document.data.get("options", [])) < 2:
        yield all_.job.fault(("options",), "One option alone leaves nothing to compare.",
                             f"Offer two or more of: {', '.join(dict.fromkeys(kit.option for kit in kits.values()))}.")
    every = [(i, row) for i, row in all_.job.items("options") if row.kit in kits
             and kits[row.kit].covers == "every point"]
    for i, _ in every[1:]:
        yield all_.job.fault(("options", i, "kit"), "A second price for every point stands here.",
                             "Offer one of them: the lists are set beside it.")


@needs("book.cases", "job.stop_work")
def _stop_work_answers_are_there(all_: Gathered) -> Iterator[Fault]:
    answers = {*all_.job["stop_work"], *TROUBLE}
    raw = all_.job.document.data.get("stop work", {})
    for i, case in all_.book.items("cases"):
        for key in case.asked_in:
            if key not in answers and key not in raw:
                yield all_.job.fault(("stop work",), f"Nothing is said of `{key}`, which case `{case.key}` hangs on.",
                                     f"Add `{key}:` with yes, no or not seen "
                                     f"({all_.book.document.file}:{all_.book.document.line(('cases', i))}).")


@needs("book.hurts_tonight", "job.stop_work")
def _a_find_says_what_it_can_do_tonight(all_: Gathered) -> Iterator[Fault]:
    for key, answer in all_.job["stop_work"].items():
        if answer == "yes" and key not in all_.book["hurts_tonight"]:
            yield all_.job.fault(("stop work", key), f"`{key}` is there, and the price book does not say what that can "
                                 "do tonight.", f"Add `{key}:` to its `hurts tonight:`, with one of its answers.")


@needs("job.hazards", "job.rooms")
def _hazards_are_somewhere(all_: Gathered) -> Iterator[Fault]:
    rooms = {room.room for _, room in all_.job.items("rooms")}
    if not is_whole(all_.job, "rooms"):
        return
    for i, hazard in all_.job.items("hazards"):
        if hazard.room is not None and hazard.room not in rooms:
            yield all_.job.fault(("hazards", i, "room"), f"No room is called `{hazard.room}`.",
                                 nearest(hazard.room, rooms))


@needs("job.owner_now", "job.closing", "job.inspection_period_ends")
def _a_buyer_has_a_closing(all_: Gathered) -> Iterator[Fault]:
    if not all_.job["owner_now"] and all_.job["closing"] is None:
        yield all_.job.fault(("owner now",), "Whoever signs does not own the house yet, and no closing is given.",
                             "Add `closing:` with its date.")
    for key in ("closing", "inspection_period_ends"):
        if all_.job[key] is not None and all_.job["owner_now"]:
            yield all_.job.fault((key.replace("_", " "),), "A date for a buyer, but whoever signs owns the house.",
                                 "Write `owner now: no`, or leave this line out.")


@needs("job.lead", "job.rooms")
def _lead_free_rooms_have_a_report(all_: Gathered) -> Iterator[Fault]:
    lead, rooms = all_.job["lead"], {room.room for _, room in all_.job.items("rooms")}
    if lead.tested != "none" and lead.report is None:
        yield all_.job.fault(("lead", "report"), f"Tested: {lead.tested}, but no report is named.",
                             "Add `report:` with who wrote it and when, or write `tested: none`.")
    if lead.free_rooms and lead.tested == "none":
        yield all_.job.fault(("lead", "free rooms"), "Rooms are called free of lead without a test.",
                             "Only a written report for those rooms takes them out of the lead rule.")
    complete = is_whole(all_.job, "rooms")
    for i, name in enumerate(lead.free_rooms):
        if complete and name not in rooms:
            yield all_.job.fault(("lead", "free rooms", i), f"No room is called `{name}`.", nearest(name, rooms))
