"""Every scope item: one thing that a crew does in such a house, in the order in which a reader meets it.

An item says what explains it, which findings ask for it, which section of code or law does, and whether it is a
protection that no option may leave out.  How much of it each option does is counted in `counts`; its words stand in
`content/scope.md` under its key.
"""

from __future__ import annotations

from msgspec import Struct


class Item(Struct, frozen=True):
    """One scope item.

    `detail`      the detail that explains it
    `about`       what a finding is about that asks for it; empty where none does
    `protection`  whether no option may leave it out
    `sections`    of code or law that ask for it, as they are cited; from memory where `rules/` does not carry them
    """

    key: str
    detail: str
    about: tuple[str, ...] = ()
    protection: bool = False
    sections: tuple[str, ...] = ()


ITEMS = (
    Item("list-points", "new-circuits", about=("points",)),
    Item("other-old", "finding-old-feeds", about=("old wire",)),
    Item("new-places", "new-circuits", about=("new places",)),
    Item("circuits", "new-circuits", sections=("NEC 210.11",)),
    Item("old-dead", "tested-dead", about=("old wire",)),
    Item("panel", "panel-service", about=("panel",), sections=("NEC 408.4",)),
    Item("service", "panel-service", about=("service",)),
    Item("grounding", "grounding", protection=True, sections=("NEC 250.50",)),
    Item("surge", "panel-service", protection=True, sections=("NEC 230.67",)),
    Item("protection", "grounding", about=("protection",), protection=True, sections=("NEC 210.8", "NEC 210.12")),
    Item("alarms", "alarms", about=("alarms",), sections=("IRC R314", "IRC R315")),
    Item("splices", "permits", about=("splice",), sections=("NEC 300.15", "NEC 314.29")),
    Item("car-outlets", "panel-service", sections=("NEC 625.40", "NEC 625.54")),
    Item("tracing", "finding-old-feeds"),
    Item("blocked", "openings"),
    Item("holes", "plaster"),
    Item("boxes", "tight-boxes", protection=True, sections=("NEC 314.21",)),
    Item("floors", "floors"),
    Item("lead", "lead-safe", protection=True, sections=("40 CFR 745.85",)),
    Item("cleaning", "cleaning"),
    Item("set-up", "before-start"),
    Item("permit", "permits", protection=True),
    Item("papers", "papers"),
    Item("promise", "papers"),
    Item("cases", "not-seen"),
)
"""Every item, in order."""

__all__ = ["ITEMS", "Item"]
