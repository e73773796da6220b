"""Room by room: what is there, what will be, and what that opens, as figures."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Quote, slug
from sitegen.job.inputs import Inputs
from sitegen.job.model import Job, Room
from sitegen.offer.cited import Cited
from sitegen.survey.lines import Line, lines
from sitegen.survey.opened import RoomWork, by_all, by_list, works
from sitegen.units import whole

SAWN = "sawn whole"
COUNTED = ("now", "want", "listed")
"""Counts that stand in the job file as they are; which of them are old is worked out."""

STOREYS = {0: "Basement", 1: "First floor", 2: "Second floor", 3: "Third floor", 4: "Fourth floor"}


class KindInRoom(Struct, frozen=True):
    """One kind of point in one room: how many now and in the end, and in which state [points].

    `old` are known to be old, `newer` known to be on newer cable, `unseen` nobody saw; the three add up to `now`.
    `rewired` are those that a price for every point does again.
    """

    kind: Quote
    cable: Quote | None
    now: Figure
    want: Figure
    listed: Figure
    old: Figure
    newer: Figure
    unseen: Figure
    rewired: Figure


class RoomSeen(Struct, frozen=True):
    """One room: its kinds of points, and its openings on the list and with every point.

    `used_as` is its kind; `long` and `wide` [feet] run across and away from the front; `left` and `front` [feet] say
    where its corner lies on the storey, None where no plan was taken; `trouble` are words that a plain patch does
    not settle; `pipe_wrap` whether old pipe wrap was seen in it,
    `open_framing` whether its points need no holes.
    """

    key: str
    name: Quote
    storey: str
    floor: Figure
    used_as: str
    long: Figure
    wide: Figure
    left: Figure | None
    front: Figure | None
    trouble: tuple[str, ...]
    pipe_wrap: bool
    open_framing: bool
    kinds: tuple[KindInRoom, ...]
    list_openings: Figure
    all_openings: Figure
    lead_free: bool


def rooms_of(inputs: Inputs) -> tuple[RoomSeen, ...]:
    """Every room in the order of the survey, its parts taken together."""
    by_room: dict[str, list[tuple[int, Line]]] = {room.room: [] for room in inputs.job.rooms}
    for at, room in enumerate(inputs.job.rooms):
        by_room[room.room] += ((at, line) for line in lines(inputs.job, [room]))
    first = {room.room: (i, room) for i, room in reversed(list(enumerate(inputs.job.rooms)))}
    keys = room_keys(inputs.job)
    by_scope = [works(inputs.job, inputs.book, scope, SAWN) for scope in (by_list, by_all)]
    return tuple(_room(inputs, keys[name], *first[name], by_room[name], by_scope) for name in by_room)


def _room(inputs: Inputs, key: str, at: int, room: Room, found: list[tuple[int, Line]],
          by_scope: list[dict[str, RoomWork]]) -> RoomSeen:
    source = Cited(inputs).survey("rooms", at)

    def openings(word: str, work: RoomWork | None) -> Figure:
        counted = work is not None and work.opened.on_site
        return Figure(f"rooms.{key}.{word}-openings", 0 if work is None else work.opened.openings, "openings",
                      "Counted on the plan, by its share of drops." if counted else
                      "Drops of this room at the book's openings a drop for its walls, rounded up in each room.",
                      source if counted else Cited(inputs).book("rates", "walls"))

    def feet(word: str, value: Fraction, where: str) -> Figure:
        return Figure(f"rooms.{key}.{word}", whole(value), "feet", "Measured on the walk.",
                      Cited(inputs).survey("rooms", at, where))
    assert room.kind is not None
    assert room.size is not None
    return RoomSeen(key, Quote(room.room, source), STOREYS.get(room.floor, "Upper floor"),
                    Figure(f"rooms.{key}.floor", room.floor, "number", "Storey; the basement is nought.", source),
                    room.kind, feet("long", room.size[0], "size"), feet("wide", room.size[1], "size"),
                    None if room.at is None else feet("left", room.at[0], "at"),
                    None if room.at is None else feet("front", room.at[1], "at"), room.trouble or (), room.pipe_wrap,
                    any(line.in_open for _, line in found),
                    tuple(_kind(inputs, key, line, i, row) for i, (row, line) in enumerate(found)),
                    openings("list", by_scope[0].get(room.room)), openings("all", by_scope[1].get(room.room)),
                    room.room in inputs.job.lead.free_rooms)


def _kind(inputs: Inputs, key: str, line: Line, i: int, row: int) -> KindInRoom:
    source = Cited(inputs).survey("rooms", row)
    feed = inputs.job.feeds.get(line.feed)

    def count(word: str, value: int, method: str) -> Figure:
        where = Cited(inputs).survey("rooms", row, word, line.kind) if word in COUNTED else source
        return Figure(f"rooms.{key}.{slug(line.kind)}-{i + 1}.{word}", value, "points", method, where)
    return KindInRoom(
        Quote(line.kind, source),
        None if feed is None else Quote(feed.called or line.feed.replace("-", " "), source),
        count("now", line.now, "Counted in the room."),
        count("want", line.want, "Wanted in the end."),
        count("listed", line.listed, "On the list."),
        count("old", line.old, "On a feed traced old and not seen new there, or opened and seen old."),
        count("newer", line.newer, "On a feed seen new its whole length, or opened and seen new."),
        count("unseen", line.now - line.old - line.newer, "The rest: nobody saw the wires."),
        count("rewired", line.rewired, "Not on a feed seen new its whole length."))


def room_keys(job: Job) -> dict[str, str]:
    """A key for each room by its name, told apart where two names make the same."""
    taken: dict[str, str] = {}
    for name in dict.fromkeys(room.room for room in job.rooms):
        key, n = slug(name), 1
        while key in taken.values():
            n += 1
            key = f"{slug(name)}-{n}"
        taken[name] = key
    return taken
