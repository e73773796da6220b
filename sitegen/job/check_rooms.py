"""What rooms, feeds and probes say wrong between one field and another."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sitegen.errors import Fault, article
from sitegen.job.inputs import Gathered, Sound
from sitegen.job.model import Room
from sitegen.job.registry import boxes, close_matches, is_whole, nearest, needs
from sitegen.trade.feeds import NEW, NEW_ENDS, NOT_TRACED, OLD, PART

WRAP = "pipe wrap"
LINES = ("now", "feeds", "want", "listed", "opened_old", "opened_new")


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
        if room.part is None and room.kind is None:
            yield all_.job.fault(("rooms", i), f"Nothing says what `{room.room}` is used as.",
                                 "Add `kind:`, such as bedroom, kitchen or hall.")
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


@needs("job.rooms", "job.left_out")
def _what_is_left_out_is_there(all_: Gathered) -> Iterator[Fault]:
    kinds = {room.room: {*room.now} for _, room in all_.job.items("rooms")}
    for _, room in all_.job.items("rooms"):
        kinds[room.room] |= {*room.now}
    seen = set[tuple[str, str]]()
    for i, one in all_.job.items("left_out"):
        if is_whole(all_.job, "rooms") and one.room not in kinds:
            yield all_.job.fault(("left out", i, "room"), f"No room is called `{one.room}`.", nearest(one.room, kinds))
        elif is_whole(all_.job, "rooms") and one.kind not in kinds[one.room]:
            yield all_.job.fault(("left out", i, "kind"), f"There is no `{one.kind}` in {one.room} today.",
                                 nearest(one.kind, kinds[one.room]))
        elif (one.room, one.kind) in seen:
            yield all_.job.fault(("left out", i), f"`{one.kind}` in {one.room} stands here twice.", "Keep one.")
        seen.add((one.room, one.kind))


@needs("job.rooms", "book.rates")
def _kinds_are_in_the_price_book(all_: Gathered) -> Iterator[Fault]:
    known = all_.book["rates"].drops_a_point
    for i, room in all_.job.items("rooms"):
        for line in LINES:
            for kind in getattr(room, line):
                if kind not in known:
                    yield all_.job.fault(("rooms", i, line.replace("_", " "), kind),
                                         f"The price book has no drops for {article(kind)}.", nearest(kind, known))


@needs("job.rooms")
def _open_framing_has_no_holes(all_: Gathered) -> Iterator[Fault]:
    in_open = {room.room for _, room in all_.job.items("rooms") if room.open_framing}
    for i, room in all_.job.items("rooms"):
        for key in ("openings", "area_cut", "cuts"):
            if room.room in in_open and getattr(room, key) is not None:
                yield all_.job.fault(("rooms", i, key.replace("_", " ")), f"{room.room} has open framing, in which "
                                     "nothing is cut.", "Leave this line out, or write `open framing: no`.")


@needs("job.rooms", "job.stop_work")
def _pipe_wrap_is_known(all_: Gathered) -> Iterator[Fault]:
    said = all_.job["stop_work"].get(WRAP)
    for i, room in all_.job.items("rooms"):
        if room.pipe_wrap and said != "yes":
            yield all_.job.fault(("rooms", i, WRAP), f"Pipe wrap was seen in {room.room}, and `stop work` does not say "
                                 "so.", f"Write `{WRAP}: yes` there, or leave this line out.")


@needs("job.rooms", "job.feeds")
def _feeds_are_defined_and_used(all_: Gathered) -> Iterator[Fault]:
    feeds, used = all_.job["feeds"], set(_misspelled_feeds(all_.job).values())
    broken = set(all_.job.document.data.get("feeds", {})) - set(feeds)
    for i, room in all_.job.items("rooms"):
        for kind, feed in room.feeds.items():
            used.add(feed)
            if feed not in feeds and feed not in broken:
                yield all_.job.fault(("rooms", i, "feeds", kind), f"No feed is called `{feed}`.",
                                     nearest(feed, feeds))
    complete = is_whole(all_.job, "rooms")
    for feed in feeds:
        if complete and feed not in used:
            yield all_.job.fault(("feeds", feed), f"No point of any room is on `{feed}`.",
                                 "Put its points on it, or leave the feed out.")


@needs("job.rooms", "job.feeds")
def _looks_agree_with_what_was_opened(all_: Gathered) -> Iterator[Fault]:
    counted, complete = _counted_by_feed(all_.job), is_whole(all_.job, "rooms")
    for name, feed in all_.job["feeds"].items():
        now, old, new = counted.get(name, (0, 0, 0))
        path = ("feeds", name, "evidence")
        if feed.evidence == PART and not old + new and complete:
            yield all_.job.fault(path, f"`{name}` is part, but no box on it was opened.",
                                 "Count the boxes under `opened old` or `opened new`, or write `not traced`.")
        if feed.evidence == NOT_TRACED and old + new:
            yield all_.job.fault(path, f"`{name}` is not traced, but {boxes(old + new)} opened.",
                                 "Write `evidence: part`.")
        if feed.evidence in (NEW, NEW_ENDS) and old:
            yield all_.job.fault(path, f"`{name}` looks {feed.evidence}, but {boxes(old)} seen old.",
                                 "Write `evidence: part`.")
        if feed.evidence == OLD and new and new >= now and complete:
            yield all_.job.fault(path, f"`{name}` is old, but each of its points was opened and seen new.",
                                 "Write `evidence: new ends`, with what was seen old between them, or count again.")
        if feed.evidence in (OLD, NEW, NEW_ENDS) and feed.seen is None:
            yield all_.job.fault(path, f"`{name}` is {feed.evidence}, but nothing says what was seen.",
                                 "Add `seen:` with the place; a fuse going dead proves the circuit, not the wire.")


def _counted_by_feed(job: Sound) -> dict[str, tuple[int, int, int]]:
    """Points of each feed [points]: there today, opened and seen old, opened and seen new."""
    counted, meant = dict[str, tuple[int, int, int]](), _misspelled_feeds(job)
    for _, room in job.items("rooms"):
        for kind, feed in room.feeds.items():
            now, old, new = counted.get(meant.get(feed, feed), (0, 0, 0))
            counted[meant.get(feed, feed)] = (now + room.now.get(kind, 0), old + room.opened_old.get(kind, 0),
                                              new + room.opened_new.get(kind, 0))
    return counted


def _misspelled_feeds(job: Sound) -> dict[str, str]:
    """A feed's name as it stands in a room -> the feed that was meant, so that one slip is one fault."""
    feeds = job["feeds"]
    named = {feed for _, room in job.items("rooms") for feed in room.feeds.values()} - set(feeds)
    return {feed: near[0] for feed in sorted(named) if (near := close_matches(feed, feeds))}


def _kinds(room: Room) -> list[str]:
    found = dict[str, Any]()
    for line in ("now", "listed", "opened_old", "opened_new", "feeds"):
        found.update(getattr(room, line))
    return list(found)
