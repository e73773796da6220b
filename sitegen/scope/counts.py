"""How much of everything one option does in this house: counted once, for prices, costs and the scope table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from msgspec import Struct

from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.survey.dust import RoomDust
from sitegen.survey.house import option_row
from sitegen.survey.lines import Line, drops, lines
from sitegen.survey.opened import by_all, by_list
from sitegen.survey.rule_sets import RuleSet
from sitegen.survey.tasks import car_outlets, cleaned, coats_of, feeds_run, new_panel, new_service, splices_boxed


class Counts(Struct, frozen=True):
    """What one option does that is certain, whatever is hidden.

    `points`   [points] there today that it does, by kind
    `places`   [places] new ones that the house gets, by kind
    `places_held`  [places] of them that the price holds; the others are added at their set price
    `drops`    [drops] fished for both, not rounded
    `holes`    [holes] opened for both
    `feeds`    [circuits] run anew, and as many old ones cut and tested dead
    `panel`    [panels] new: one of each dwelling and of what all share
    `service`  [1 or 0] new
    `alarms`   [devices]
    `splices`  [boxes] with a cover, each over an open splice
    `cars`     [outlets] that a car is charged from, each with a circuit of its own
    `rooms`, `laid`, `cleaned`  [rooms] opened, with sheet laid, cleaned at the end
    `patched`  [holes] that we close
    `visits`   [visits] of the plasterer, by rooms that stand open together; exact
    """

    points: Mapping[str, int]
    places: Mapping[str, int]
    drops: Fraction
    holes: int
    feeds: int
    panel: int
    service: int
    alarms: int
    rooms: int
    laid: int
    cleaned: int
    patched: int
    visits: Fraction
    places_held: int
    splices: int = 0
    cars: int = 0

    @property
    def all_points(self) -> int:
        """Points there today that the option does [points]."""
        return sum(self.points.values())

    @property
    def all_places(self) -> int:
        """New places [places]."""
        return sum(self.places.values())


def counts(inputs: Inputs, kit: Kit, rooms: Mapping[str, RoomDust], rules: RuleSet, alarms: int) -> Counts:
    """Everything that an option with this kit does; `alarms` [devices] is what the code asks of the whole house."""
    job, every = inputs.job, kit.covers == "every point"
    found = list(lines(job))
    scope = by_all if every else by_list
    points = _by_kind(found, lambda line: line.rewired if every else line.listed)
    places = _by_kind(found, lambda line: line.new_places)
    holes = sum(room.work.opened.openings for room in rooms.values())
    closes = kit.closes_holes == "us"
    coming = Fraction(1, inputs.costs.rooms_at_once) if job.lived_in else Fraction(1, max(1, len(rooms)))
    return Counts(points, places, drops(((line, scope(line)) for line in found), inputs.book), holes,
                  feeds_run(inputs, kit), new_panel(inputs, kit), new_service(inputs, kit),
                  alarms if "alarms" in kit.also_does else 0, len(rooms), sum(room.laid for room in rooms.values()),
                  cleaned(inputs, kit, rooms), holes if closes else 0,
                  coats_of(kit, rules) * coming * len(rooms) if closes else Fraction(0),
                  _held(inputs, kit, sum(places.values())), splices_boxed(inputs, kit), car_outlets(inputs, kit))


def _held(inputs: Inputs, kit: Kit, places: int) -> int:
    """New places that the price holds: all, or as many as the job says where the kit adds them at a set price."""
    if kit.prices is None or kit.new_places == "in the price":
        return places
    return option_row(inputs, kit.option)[1].places_in_the_price or 0


def _by_kind(found: list[Line], count: Callable[[Line], int]) -> dict[str, int]:
    made: dict[str, int] = {}
    for line in found:
        if number := count(line):
            made[line.kind] = made.get(line.kind, 0) + number
    return made


__all__ = ["Counts", "counts"]
