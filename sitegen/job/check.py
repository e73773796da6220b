"""What is said wrong between one field and another.

Each check names what it needs and runs when that much is sound.  It gives faults and raises nothing.
"""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from sitegen.errors import Fault
from sitegen.job.load import Gathered, Sound
from sitegen.job.model import ROWS, WAYS, Kit, Room
from sitegen.trade.feeds import NEW, NEW_ENDS, NOT_TRACED, OLD, PART

Check = Callable[[Gathered], Iterator[Fault]]
CHECKS: list[tuple[tuple[str, ...], Check]] = []

LINES = ("now", "feeds", "want", "listed", "opened_old", "opened_new")


def needs(*names: str) -> Callable[[Check], Check]:
    """Run a check when these fields, named as `job.rooms` or `book.kits`, are sound."""
    def add(check: Check) -> Check:
        CHECKS.append((names, check))
        return check
    return add


def check(gathered: Gathered) -> list[Fault]:
    """All faults between fields, over whatever is sound."""
    faults: list[Fault] = []
    for names, one in CHECKS:
        if all(getattr(gathered, part).has(field) for part, field in (name.split(".") for name in names)):
            faults.extend(one(gathered))
    return faults


@needs("job.job")
def _folder_and_name_agree(all_: Gathered) -> Iterator[Fault]:
    if all_.job["job"] != all_.folder.name:
        yield all_.job.fault(("job",), f"The job is called `{all_.job['job']}` and its folder `{all_.folder.name}`.",
                             "Give both the same name.")


@needs("job.surveyed", "job.prepared")
def _surveyed_before_prepared(all_: Gathered) -> Iterator[Fault]:
    yield from _in_order(all_.job, "surveyed", "prepared")


@needs("job.prepared", "job.prices_hold_to")
def _prepared_before_lapse(all_: Gathered) -> Iterator[Fault]:
    yield from _in_order(all_.job, "prepared", "prices_hold_to")


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
    given = {"asks": why.asks, "by": why.by}
    for key, value in given.items():
        if why.who != "nobody" and value is None:
            yield all_.job.fault(("why now", key), f"The {why.who} set a deadline, but `{key}` is missing.",
                                 "Copy their words and their date from their letter, or write `who: nobody`.")
        if why.who == "nobody" and value is not None:
            yield all_.job.fault(("why now", key), f"`{key}` is given, but nobody set a deadline.",
                                 "Say who did, or leave this line out.")
    if why.by and why.letter_dated and why.by < why.letter_dated:
        yield all_.job.fault(("why now", "by"), f"Their date {why.by} is before their letter of {why.letter_dated}.",
                             "Look at the letter again.")


@needs("job.surveyed", "job.house")
def _built_before_survey(all_: Gathered) -> Iterator[Fault]:
    built = all_.job["house"].built
    if not 1600 <= built <= all_.job["surveyed"].year:
        yield all_.job.fault(("house", "built"), f"Got {built}, needs the year in which the house was built.",
                             "Look at the tax record or the deed.")
    if all_.job["house"].points_on_outside_walls > 1:
        yield all_.job.fault(("house", "points on outside walls"), "This is more than the whole.",
                             "Write a part, such as 2 of 5.")


@needs("job.drops")
def _no_more_blocked_than_probed(all_: Gathered) -> Iterator[Fault]:
    for side in ("inside", "outside"):
        walls = getattr(all_.job["drops"], side)
        if walls.blocked > walls.probed:
            yield all_.job.fault(("drops", side, "blocked"), f"{walls.blocked} blocked of {walls.probed} probed.",
                                 "No more can be blocked than were probed.")


@needs("job.rooms")
def _rooms_are_told_apart(all_: Gathered) -> Iterator[Fault]:
    seen: dict[tuple[str, str | None], int] = {}
    for i, room in all_.job.items("rooms"):
        key = (room.room, room.part)
        if key in seen:
            yield all_.job.fault(("rooms", i, "room"), f"`{room.room}` stands here twice.",
                                 "Give one a `part:`, such as `part: window wall`, or another name.")
        seen[key] = i
        if room.part is None and room.size is None:
            yield all_.job.fault(("rooms", i), f"`{room.room}` has no size.", "Add `size: 14 ft x 16 ft`.")
        if room.part is not None and room.size is not None:
            yield all_.job.fault(("rooms", i, "size"), f"A part of `{room.room}` has a size of its own.",
                                 "Give the size once, on the line without `part`.")


@needs("job.rooms")
def _counts_fit_in_the_room(all_: Gathered) -> Iterator[Fault]:
    for i, room in all_.job.items("rooms"):
        for kind in _kinds(room):
            now, listed = room.now.get(kind, 0), room.listed.get(kind, 0)
            old, new = room.opened_old.get(kind, 0), room.opened_new.get(kind, 0)
            if old + new > now:
                key = "opened old" if old else "opened new"
                yield all_.job.fault(("rooms", i, key, kind), f"{old + new} opened of {now} in {room.room}.",
                                     "No more can be opened than are there; count again.")
            if listed > now:
                yield all_.job.fault(("rooms", i, "listed", kind), f"{listed} listed of {now} in {room.room}.",
                                     "A list is of points that are there; new places go under `want`.")
            if now and kind not in room.feeds:
                yield all_.job.fault(("rooms", i, "feeds"), f"{room.room} has {now} of `{kind}` on no feed.",
                                     f"Add `{kind}:` with the name of its feed.")
            if kind in room.feeds and not now:
                yield all_.job.fault(("rooms", i, "feeds", kind), f"{room.room} has no `{kind}` today.",
                                     "Leave this feed out, or count the point under `now`.")


@needs("job.rooms", "book.rates")
def _kinds_are_in_the_price_book(all_: Gathered) -> Iterator[Fault]:
    known = all_.book["rates"].drops_a_point
    for i, room in all_.job.items("rooms"):
        for line in LINES:
            for kind in getattr(room, line):
                if kind not in known:
                    yield all_.job.fault(("rooms", i, line.replace("_", " "), kind),
                                         f"The price book has no drops for {_a(kind)}.", _nearest(kind, known))


@needs("job.rooms", "job.feeds")
def _feeds_are_defined_and_used(all_: Gathered) -> Iterator[Fault]:
    feeds, used = all_.job["feeds"], set(_misspelled_feeds(all_.job).values())
    broken = set(all_.job.document.data.get("feeds", {})) - set(feeds)
    for i, room in all_.job.items("rooms"):
        for kind, feed in room.feeds.items():
            used.add(feed)
            if feed not in feeds and feed not in broken:
                yield all_.job.fault(("rooms", i, "feeds", kind), f"No feed is called `{feed}`.",
                                     _nearest(feed, feeds))
    complete = _is_whole(all_.job, "rooms")
    for feed in feeds:
        if complete and feed not in used:
            yield all_.job.fault(("feeds", feed), f"No point of any room is on `{feed}`.",
                                 "Put its points on it, or leave the feed out.")


@needs("job.rooms", "job.feeds")
def _looks_agree_with_what_was_opened(all_: Gathered) -> Iterator[Fault]:
    opened, meant = dict[str, list[int]](), _misspelled_feeds(all_.job)
    for _, room in all_.job.items("rooms"):
        for kind, feed in room.feeds.items():
            both = opened.setdefault(meant.get(feed, feed), [0, 0])
            both[0] += room.opened_old.get(kind, 0)
            both[1] += room.opened_new.get(kind, 0)
    complete = _is_whole(all_.job, "rooms")
    for name, feed in all_.job["feeds"].items():
        old, new = opened.get(name, [0, 0])
        path = ("feeds", name, "looks")
        if feed.looks == PART and not old + new and complete:
            yield all_.job.fault(path, f"`{name}` is part, but no box on it was opened.",
                                 "Count the boxes under `opened old` or `opened new`, or write `not traced`.")
        if feed.looks == NOT_TRACED and old + new:
            yield all_.job.fault(path, f"`{name}` is not traced, but {_boxes(old + new)} opened.",
                                 "Write `looks: part`.")
        if feed.looks in (NEW, NEW_ENDS) and old:
            yield all_.job.fault(path, f"`{name}` looks {feed.looks}, but {_boxes(old)} seen old.",
                                 "Write `looks: part`.")
        if feed.looks == OLD and new:
            yield all_.job.fault(path, f"`{name}` is old, but {_boxes(new)} seen new.",
                                 "Write `looks: part`.")
        if feed.looks in (OLD, NEW, NEW_ENDS) and feed.seen is None:
            yield all_.job.fault(path, f"`{name}` is {feed.looks}, but nothing says what was seen.",
                                 "Add `seen:` with the place; a fuse going dead proves the circuit, not the wire.")


@needs("job.findings")
def _findings_are_told_apart(all_: Gathered) -> Iterator[Fault]:
    counted = Counter(finding.number for _, finding in all_.job.items("findings"))
    for i, finding in all_.job.items("findings"):
        if counted[finding.number] > 1:
            yield all_.job.fault(("findings", i, "number"), f"Two findings have the number {finding.number}.",
                                 "Each keeps the number of the inspector's report.")
        missing = [way for way in WAYS if way not in finding.closed_by]
        if missing:
            yield all_.job.fault(("findings", i, "closed by"), f"Nothing is said of {', '.join(missing)}.",
                                 "Write yes, in part or no for every way.")


@needs("job.ways", "book.kits")
def _every_way_has_its_kit(all_: Gathered) -> Iterator[Fault]:
    kits: dict[str, Kit] = all_.book["kits"]
    broken = set(all_.book.document.data.get("kits", {})) - set(kits)
    counted = Counter(price.way for _, price in all_.job.items("ways"))
    for i, price in all_.job.items("ways"):
        if counted[price.way] > 1:
            yield all_.job.fault(("ways", i, "way"), f"`{price.way}` stands here twice.", "Keep one.")
        if price.price == 0:
            yield all_.job.fault(("ways", i, "price"), f"`{price.way}` costs nothing.", "Write its price.")
        if price.kit in broken:
            continue
        if price.kit not in kits:
            yield all_.job.fault(("ways", i, "kit"), f"The price book has no kit `{price.kit}`.",
                                 _nearest(price.kit, kits))
        elif kits[price.kit].way != price.way:
            yield all_.job.fault(("ways", i, "kit"), f"Kit `{price.kit}` is for `{kits[price.kit].way}`.",
                                 f"Use a kit for `{price.way}`.")
        elif not kits[price.kit].we_would_sign_this:
            yield all_.job.fault(("ways", i, "kit"), f"The company would not sign kit `{price.kit}` itself.",
                                 "A way that we would not sign may not stand on the page: use another kit.")


@needs("job.ways")
def _every_way_has_a_price(all_: Gathered) -> Iterator[Fault]:
    given = {row.get("way") for row in all_.job.document.data.get("ways", []) if isinstance(row, dict)}
    for way in WAYS:
        if way not in given:
            yield all_.job.fault(("ways",), f"`{way}` has no price.", "Add its way, kit and price to the list.")


@needs("job.photographs")
def _photographs_are_there(all_: Gathered) -> Iterator[Fault]:
    for i, photograph in all_.job.items("photographs"):
        path = all_.folder / photograph.file
        if not path.is_file() or not path.resolve().is_relative_to(all_.folder.resolve()):
            yield all_.job.fault(("photographs", i, "file"),
                                 f"There is no file `{photograph.file}` in the job's folder.",
                                 "Copy it there, or mend its name.")


@needs("book.cases", "job.stop_work")
def _stop_work_answers_are_there(all_: Gathered) -> Iterator[Fault]:
    answers = all_.job["stop_work"]
    raw = all_.job.document.data.get("stop work", {})
    for i, case in all_.book.items("cases"):
        for key in case.asked_in:
            if key not in answers and key not in raw:
                yield all_.job.fault(("stop work",), f"Nothing is said of `{key}`, which case `{case.key}` hangs on.",
                                     f"Add `{key}:` with yes, no or not seen "
                                     f"({all_.book.document.file}:{all_.book.document.line(('cases', i))}).")


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
                yield all_.book.fault((*path, "cases", key), f"No case is called `{key}`.", _nearest(key, cases))
        for key in sorted(cases - set(kit.cases)):
            yield all_.book.fault((*path, "cases"), f"Nothing says who pays for case `{key}`.",
                                  "Write us or homeowner.")
        for i, key in enumerate(kit.later):
            if all_later and key not in later:
                yield all_.book.fault((*path, "later", i), f"No later cost is called `{key}`.", _nearest(key, later))
        yield from _kit_agrees_with_itself(all_.book, path, kit)


def _kit_agrees_with_itself(book: Sound, path: tuple[str, ...], kit: Kit) -> Iterator[Fault]:
    if kit.covers == "every point" and kit.pays_for_more != "us":
        yield book.fault((*path, "pays for more"), "A price for every point leaves nothing more to pay for.",
                         "Write `us`, or `covers: the list`.")
    if kit.covers == "the list" and kit.pays_for_more == "homeowner" and not kit.points_a_day:
        yield book.fault((*path, "points a day"), "Points can be added, but not how many a day.",
                         "Add `points a day:` with the crew's usual count.")
    if kit.covers == "the list" and kit.pays_for_more == "us":
        yield book.fault((*path, "pays for more"), "A list whose additions we pay for is a price for every point.",
                         "Write `covers: every point`, or `pays for more: homeowner`.")
    if kit.days_to_finish < kit.days_to_old_wires_dead:
        yield book.fault((*path, "days to finish"), "All is finished before the old wires are dead.",
                         "The finish is the later day.")
    for side in ("good", "drawbacks"):
        points = getattr(kit, side)
        if len(points) != 3:
            stand = "stands" if len(points) == 1 else "stand"
            yield book.fault((*path, side), f"{len(points)} {stand} here; every way has three.",
                             "The same number of good things and of drawbacks for each way keeps the page fair.")
        for i, point in enumerate(points):
            if not 1 <= point.row <= ROWS:
                yield book.fault((*path, side, i, "row"), f"There is no row {point.row}.",
                                 f"Rows run from 1 to {ROWS}.")


@needs("book.rates")
def _rates_are_parts(all_: Gathered) -> Iterator[Fault]:
    if all_.book["rates"].floor_outside_the_sheet > 1:
        yield all_.book.fault(("rates", "floor outside the sheet"), "This is more than the whole floor.",
                              "Write a part, such as 2/5.")


@needs("book.rates", "costs.points")
def _costs_cover_every_kind(all_: Gathered) -> Iterator[Fault]:
    for kind in all_.book["rates"].drops_a_point:
        if kind not in all_.costs.document.data["points"]:
            yield all_.costs.fault(("points",), f"Nothing says what {_a(kind)} costs us.",
                                   "Add its hours and its material.")


@needs("book.extras")
def _extras_are_told_apart(all_: Gathered) -> Iterator[Fault]:
    counted = Counter(extra.key for _, extra in all_.book.items("extras"))
    for i, extra in all_.book.items("extras"):
        if counted[extra.key] > 1:
            yield all_.book.fault(("extras", i, "key"), f"`{extra.key}` stands here twice.", "Keep one.")


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
    complete = _is_whole(all_.job, "rooms")
    for i, name in enumerate(lead.free_rooms):
        if complete and name not in rooms:
            yield all_.job.fault(("lead", "free rooms", i), f"No room is called `{name}`.", _nearest(name, rooms))


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
    if record is not None and record.jobs == 0:
        yield all_.company.fault(("record", "jobs"), "No job was looked at.",
                                 "Leave the record out until there is one.")


@needs("company.chosen")
def _chosen_is_whole(all_: Gathered) -> Iterator[Fault]:
    given = [item.way for _, item in all_.company.items("chosen")]
    for way in WAYS:
        if given.count(way) != 1 and len(given) == len(all_.company.document.data.get("chosen", [])):
            yield all_.company.fault(("chosen",), f"`{way}` stands here {given.count(way)} times.",
                                     "Say once for each way how many jobs chose it; 0 is an answer.")


def _in_order(sound: Sound, first: str, then: str) -> Iterator[Fault]:
    if sound[then] < sound[first]:
        said = then.replace("_", " ")
        yield sound.fault((said,), f"{sound[then]} is before `{first.replace('_', ' ')}: {sound[first]}`.",
                          "Dates run forward: move one of them.")


def _misspelled_feeds(job: Sound) -> dict[str, str]:
    """A feed's name as it stands in a room -> the feed that was meant, so that one slip is one fault."""
    feeds = job["feeds"]
    named = {feed for _, room in job.items("rooms") for feed in room.feeds.values()} - set(feeds)
    return {feed: near[0] for feed in sorted(named) if (near := _near(feed, feeds))}


def _is_whole(sound: Sound, name: str) -> bool:
    """Whether every item of a list is sound, so that what is not in it is not anywhere."""
    return len(sound[name]) == len(sound.document.data.get(name, []))


def _kinds(room: Room) -> list[str]:
    found = dict[str, Any]()
    for line in ("now", "listed", "opened_old", "opened_new", "feeds"):
        found.update(getattr(room, line))
    return list(found)


def _nearest(word: str, known: Iterable[str]) -> str:
    near = _near(word, known)
    return f"Did you mean `{near[0]}`?" if near else f"Known: {', '.join(sorted(known)) or 'none'}."


def _near(word: str, known: Iterable[str]) -> list[str]:
    return difflib.get_close_matches(word, sorted(known), 1, 0.6)


def _a(kind: str) -> str:
    return f"{'an' if kind[0].lower() in 'aeiou' else 'a'} `{kind}`"


def _boxes(count: int) -> str:
    return "1 box on it was" if count == 1 else f"{count} boxes on it were"
