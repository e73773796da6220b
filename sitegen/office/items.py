"""Hours, crew-days and cost by scope item, of all that is certain in one option."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from sitegen.figure import Figure, fraction_of, int_of
from sitegen.job.inputs import Inputs
from sitegen.office.money import Column
from sitegen.office.tables import WORKED, Cell, Table, money

Title = Callable[[str], str]
"""Gives the words of a key."""

ITEM_TITLES = {
    "list-points": "scope.item.list-points", "new-places": "scope.item.new-places", "circuits": "scope.item.circuits",
    "old-dead": "scope.item.old-dead", "panel": "scope.item.panel", "service": "scope.item.service",
    "alarms": "scope.item.alarms", "splices": "scope.item.splices",
    "car-outlets": "scope.item.car-outlets", "holes": "scope.item.holes", "floors": "scope.item.floors",
    "cleaning": "scope.item.cleaning", "permit": "scope.item.permit", "set-up": "scope.item.set-up"}
"""Where the name of a scope item stands; it is what the homeowner reads."""

NO_ITEM = {"drops": "Cables fished"}
"""Names of cost lines that are no scope item of their own."""


def item_table(inputs: Inputs, column: Column, title: Title) -> Table:
    """One option: each scope item that costs hours or money, and the sum."""
    option, costs = column
    a_day = inputs.costs.people * inputs.costs.hours_a_day

    def row(name: str, key: str, hours: Figure, cost: Figure) -> tuple[Cell, ...]:
        days = Figure(f"office.{option.key}.{key}.crew-days", fraction_of(hours) / a_day, "quantity",
                      "Hours over the people of the crew times their hours a day.", WORKED, (hours.name,), private=True)
        return (name,), (hours,), (days,), (cost,)
    rows = [row(item_name(line.key, title), line.key, line.hours, line.cost) for line in costs.lines]
    whole = money(f"{option.key}.certain", sum((int_of(line.cost) for line in costs.lines), 0),
                  "The sum of the lines: what is certain, without any surprise.")
    rows.append(row("All that is certain", "all", costs.hours, whole))
    people = Figure("office.people", inputs.costs.people, "number", "People in the crew.", WORKED, private=True)
    day = Figure("office.hours-a-day", Fraction(inputs.costs.hours_a_day), "crew hours", "Hours of each a day.",
                 WORKED, private=True)
    return Table((option.name, ": hours by scope item"), ((), ("Hours",), ("Crew-days",), ("Cost",)), tuple(rows),
                 (("Hours of one person. A crew-day is ", people, " people at ", day, " hours."),), total=True)


def item_name(key: str, title: Title) -> str:
    """What a cost line or a set price is called."""
    return NO_ITEM[key] if key in NO_ITEM else title(ITEM_TITLES[key])


__all__ = ["Title", "item_name", "item_table"]
