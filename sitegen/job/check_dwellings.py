"""What a house of several dwellings must say, so that no circuit and no load of one is taken for another's."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.errors import Fault, article
from sitegen.job.inputs import Gathered
from sitegen.job.registry import is_whole, nearest, needs

SHARED = "shared"
SOMEBODY_S = ("living room", "dining room", "kitchen", "pantry", "bedroom", "bathroom", "sunroom",
              "other habitable room")
"""Kinds of rooms that belong to a dwelling, so that a word left out is more likely forgotten than meant."""


@needs("job.house")
def _dwellings_have_names_and_areas(all_: Gathered) -> Iterator[Fault]:
    house = all_.job["house"]
    areas, path = house.dwelling_areas, ("house", "dwelling areas")
    if house.dwellings < 1:
        yield all_.job.fault(("house", "dwellings"), "No household lives in this house.", "Write 1, 2 or more.")
    elif house.dwellings == 1 and areas:
        yield all_.job.fault(path, "The house has one dwelling, and its area stands under `area`.",
                             "Leave this out, or count the dwellings under `dwellings`.")
    elif house.dwellings > 1 and len(areas) != house.dwellings:
        yield all_.job.fault(path if areas else ("house", "dwellings"),
                             f"{house.dwellings} dwellings are counted, and {len(areas)} have a name and an area.",
                             "Add `dwelling areas: {lower: 1280 sq ft, upper: 1340 sq ft}` with your names, and "
                             "`dwelling: lower` to each room and load: no circuit serves two dwellings (NEC 210.25).")
    for name, area in areas.items():
        if name == SHARED or area < 1:
            yield all_.job.fault((*path, name), f"`{name}: {area} sq ft` is no dwelling.",
                                 "Name each dwelling, with its floor area; what all share is left out.")
    if sum(areas.values()) > house.area:
        yield all_.job.fault(path, f"The dwellings come to {sum(areas.values()):,} sq ft, more than the house's "
                             f"{house.area:,}.", "Measure again: `area` is the whole house.")


@needs("job.house", "job.rooms")
def _rooms_are_of_a_dwelling(all_: Gathered) -> Iterator[Fault]:
    house, whose = all_.job["house"], dict[str, str | None]()
    for i, room in all_.job.items("rooms"):
        path = ("rooms", i, "dwelling")
        if room.kind is not None:
            whose.setdefault(room.room, room.dwelling)
        elif room.dwelling is not None and room.dwelling != whose.get(room.room):
            yield all_.job.fault(path, f"A part of `{room.room}` is of another dwelling than the room.",
                                 "Say it once, on the line without `part`.")
        yield from _known(all_, path, room.dwelling)
        if house.dwellings > 1 and room.dwelling is None and room.kind in SOMEBODY_S:
            yield all_.job.fault(("rooms", i), f"`{room.room}` is {article(room.kind)}, and nothing says whose.",
                                 f"Add `dwelling:` with a name of `dwelling areas`, or `dwelling: {SHARED}`: no "
                                 "circuit serves two dwellings (NEC 210.25).")
    if house.dwellings > 1 and is_whole(all_.job, "rooms"):
        for name in house.dwelling_areas:
            if name not in whose.values():
                yield all_.job.fault(("house", "dwelling areas", name), f"No room is of the dwelling `{name}`.",
                                     "Add `dwelling:` to its rooms.")


@needs("job.house", "job.loads")
def _loads_are_of_a_dwelling(all_: Gathered) -> Iterator[Fault]:
    for i, load in all_.job.items("loads"):
        yield from _known(all_, ("loads", i, "dwelling"), load.dwelling)


@needs("job.house", "job.panel")
def _panels_are_of_a_dwelling(all_: Gathered) -> Iterator[Fault]:
    for name in all_.job["panel"].spaces_of:
        yield from _known(all_, ("panel", "spaces of", name), name)


def _known(all_: Gathered, path: tuple[str | int, ...], name: str | None) -> Iterator[Fault]:
    areas = all_.job["house"].dwelling_areas
    if name is None or name == SHARED or name in areas:
        return
    if all_.job["house"].dwellings == 1:
        yield all_.job.fault(path, f"The house has one dwelling, and this names `{name}`.",
                             "Leave it out, or write how many dwellings there are under `house`.")
    else:
        yield all_.job.fault(path, f"No dwelling is called `{name}`.", nearest(name, areas))


__all__ = ["SOMEBODY_S"]
