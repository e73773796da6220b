"""Room by room: what is there, what will be, and what that opens, as figures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.figure import Figure, Said, slug
from sitegen.job.load import Inputs
from sitegen.job.model import Room
from sitegen.job.sources import Sources
from sitegen.trade.survey import Line, drops, lines

STOREYS = {0: "Basement", 1: "First floor", 2: "Second floor", 3: "Third floor", 4: "Fourth floor"}


@dataclass(frozen=True, slots=True)
class KindInRoom:
    """One kind of point in one room: how many now and in the end, and in which state [points].

    `old` are known to be old, `newer` known to be on newer cable, `unseen` nobody saw; the three add up to `now`.
    """

    kind: Said
    cable: Said | None
    now: Figure
    want: Figure
    listed: Figure
    old: Figure
    newer: Figure
    unseen: Figure


@dataclass(frozen=True, slots=True)
class RoomSeen:
    """One room: its kinds of points, and its openings on the list and with every point."""

    key: str
    name: Said
    storey: str
    kinds: tuple[KindInRoom, ...]
    list_openings: Figure
    all_openings: Figure
    lead_free: bool


def rooms_of(inputs: Inputs) -> tuple[RoomSeen, ...]:
    """Every room in the order of the survey, its parts taken together."""
    by_room: dict[str, list[Line]] = {room.room: [] for room in inputs.job.rooms}
    for line in lines(inputs.job):
        by_room[line.room].append(line)
    first = {room.room: (i, room) for i, room in reversed(list(enumerate(inputs.job.rooms)))}
    keys = _keys(list(by_room))
    return tuple(_room(inputs, keys[name], *first[name], by_room[name]) for name in by_room)


def _room(inputs: Inputs, key: str, at: int, room: Room, found: list[Line]) -> RoomSeen:
    source = Sources(inputs).survey("rooms", at)

    def openings(word: str, counts: Iterable[tuple[str, int]]) -> Figure:
        cut = drops(counts, inputs.book) * inputs.book.rates.openings_a_drop
        return Figure(f"rooms.{key}.{word}-openings", -(-cut // 1), "openings",
                      "Drops of this room at the book's openings a drop, rounded up in each room.",
                      Sources(inputs).book("rates", "openings a drop"))
    return RoomSeen(key, Said(room.room, source), STOREYS.get(room.floor, "Upper floor"),
                    tuple(_kind(inputs, key, line, i) for i, line in enumerate(found)),
                    openings("list", ((line.kind, line.by_list) for line in found)),
                    openings("all", ((line.kind, line.by_all) for line in found)),
                    room.room in inputs.job.lead.free_rooms)


def _kind(inputs: Inputs, key: str, line: Line, i: int) -> KindInRoom:
    source = Sources(inputs).survey("rooms")
    feed = inputs.job.feeds.get(line.feed)

    def count(word: str, value: int, method: str) -> Figure:
        return Figure(f"rooms.{key}.{slug(line.kind)}-{i + 1}.{word}", value, "points", method, source)
    return KindInRoom(
        Said(line.kind, source),
        None if feed is None else Said(feed.called or line.feed.replace("-", " "), source),
        count("now", line.now, "Counted in the room."),
        count("want", line.want, "Wanted in the end."),
        count("listed", line.listed, "On the list of the per-item ways."),
        count("old", line.old, "On a feed traced old, or opened and seen old."),
        count("newer", line.newer, "On a feed seen new its whole length, or opened and seen new."),
        count("unseen", line.now - line.old - line.newer, "The rest: nobody saw the wires."))


def _keys(names: list[str]) -> dict[str, str]:
    """A key for each room, told apart where two names make the same."""
    taken: dict[str, str] = {}
    for name in names:
        key, n = slug(name), 1
        while key in taken.values():
            n += 1
            key = f"{slug(name)}-{n}"
        taken[name] = key
    return taken
