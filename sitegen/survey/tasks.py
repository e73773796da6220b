"""From what an option does in each room to the hours, waits and method that a dated plan is made from.

Hours come from the private cost book and stay there: a plan shows days alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from itertools import pairwise
from math import lcm

from msgspec.structs import replace

from sitegen.dates.holidays_us import office_closed
from sitegen.dates.plan_terms import Extra, Method, People, RoomHours, Waits, Work
from sitegen.job.books import Kit
from sitegen.job.cards import AT_THE_END
from sitegen.job.inputs import Inputs
from sitegen.survey.dust import RoomDust
from sitegen.survey.dwellings import DISCONNECT, duties_of, parts_of
from sitegen.survey.lines import Line, all_drops, drops, lines
from sitegen.survey.opened import by_all, by_list
from sitegen.survey.rule_sets import RuleSet, code
from sitegen.trade.blocked import Kind, blocked_at, usual_blocked
from sitegen.trade.feeds import NEW, HiddenPoints, quantile
from sitegen.trade.plaster import COATS
from sitegen.trade.plaster_drying import visits, waits
from sitegen.trade.terms import Belief, House

HORIZON = 2
"""Years of office holidays that a plan can need."""


def work(inputs: Inputs, kit: Kit, rooms: Mapping[str, RoomDust], rules: RuleSet, lived_in: bool) -> Work:
    """What an option takes in hours [hours of one person], with blocked drops left out."""
    costs, scope = inputs.costs, by_all if kit.covers == "every point" else by_list
    coming = Fraction(1, costs.rooms_at_once) if lived_in else Fraction(1, max(1, len(rooms)))
    feeds = feeds_run(inputs, kit)
    besides = (costs.feed.hours * feeds + costs.splice.hours * splices_boxed(inputs, kit)
               + costs.car_outlet.hours * car_outlets(inputs, kit))
    each_room = besides / max(1, len(rooms))
    every = list(lines(inputs.job))
    made = tuple(_room(inputs, kit, rules, name, room, [(line, scope(line)) for line in every if line.room == name],
                       coming, each_room)
                 for name, room in rooms.items())
    old = costs.old_circuit.hours * feeds / 3
    return Work(made, costs.panel.hours * new_panel(inputs, kit), old, old, old,
                costs.cleaning.hours * cleaned(inputs, kit, rooms), costs.cleaning.hours * costs.rooms_at_once,
                costs.service.hours * new_service(inputs, kit),
                bool(new_service(inputs, kit)) and DISCONNECT in duties_of(inputs.job, code(rules.edition)))


def feeds_run(inputs: Inputs, kit: Kit) -> int:
    """Feeds run anew: all that are not seen new, or those with a listed point [feeds]."""
    if kit.covers == "every point":
        return sum(feed.evidence != NEW for feed in inputs.job.feeds.values())
    return len({line.feed for line in lines(inputs.job) if line.listed and line.feed})


def new_panel(inputs: Inputs, kit: Kit) -> int:
    """New panels [panels] where they are planned and the kit does them: one of each dwelling and of what all share."""
    planned = "panel" in kit.also_does and inputs.job.panel.new_spaces is not None
    return len(parts_of(inputs.job)) if planned else 0


def new_service(inputs: Inputs, kit: Kit) -> int:
    """A new service [1 or 0]: where the plan has one and the kit does it."""
    return int("service" in kit.also_does and inputs.job.panel.new_rating is not None)


def splices_boxed(inputs: Inputs, kit: Kit) -> int:
    """Open splices that get a box with a cover [boxes]: one in each room that a finding about a splice names."""
    if "splices" not in kit.also_does:
        return 0
    return sum(len(set(finding.rooms)) for finding in inputs.job.findings if finding.about == "splice")


def car_outlets(inputs: Inputs, kit: Kit) -> int:
    """What cars are charged from and is to be set [outlets]: where the survey plans some and the kit does them."""
    return sum(load.count for load in inputs.job.loads if load.new) if "car outlets" in kit.also_does else 0


def cleaned(inputs: Inputs, kit: Kit, rooms: Mapping[str, RoomDust]) -> int:
    """Rooms that are cleaned at the end [rooms]."""
    names = {room.room: room.floor for room in inputs.job.rooms}
    storeys = {names[name] for name in rooms}
    if kit.cleans == "house":
        return len(names)
    return len(rooms) if kit.cleans == "work areas" else sum(floor in storeys for floor in names.values())


def _room(inputs: Inputs, kit: Kit, rules: RuleSet, name: str, room: RoomDust, points: Iterable[tuple[Line, int]],
          coming: Fraction, besides: Fraction) -> RoomHours:
    costs, counted = inputs.costs, list(points)
    hours = sum((costs.points[line.kind].hours * count for line, count in counted if count), Fraction(0))
    fished = drops(counted, inputs.book)
    devices = hours * costs.after_plaster
    set_up = costs.set_up.hours if room.laid else Fraction(0)
    rough = hours - devices + costs.drop.hours * fished + set_up + besides
    if kit.closes_holes != "us":
        return RoomHours(name, rough, devices)
    coats = coats_of(kit, rules)
    a_coat = costs.patch.hours * room.work.opened.openings / coats + costs.plaster_visit.hours * coming
    return RoomHours(name, rough, devices, 0, (a_coat,) * coats)


def coats_of(kit: Kit, rules: RuleSet) -> int:
    """Visits of the plasterer that this finish takes; base and finish are two."""
    return len(visits(COATS, kit.finish or "gypsum", rules.plaster))


def people(inputs: Inputs, rules: RuleSet, start: date) -> People:
    """Who works how long on a day, and the days on which nobody does."""
    costs = inputs.costs
    return People(costs.people * costs.hours_a_day, costs.hours_a_day, costs.hours_a_day,
                  frozenset(inputs.company.closed), office_closed(rules.holidays, start.year, start.year + HORIZON))


def waits_of(inputs: Inputs, kit: Kit, rules: RuleSet) -> Waits:
    """Notice, time between coats, cure before plates, and days to paint; plates go back after the longer cure."""
    if kit.finish is None:
        return Waits(inputs.town.inspector_notice, 0, 0, 0)
    found = waits(kit.finish, rules.plaster)
    steps = [day for _, day in visits(COATS, kit.finish, rules.plaster)]
    apart = max((later - first for first, later in pairwise(steps)), default=1)
    return Waits(inputs.town.inspector_notice, apart, -(-found.plates_hours[1] // 24), found.paint_days)


def method(inputs: Inputs, kit: Kit, lived_in: bool) -> Method:
    """The method of a plan: lived in or empty, rooms at once, whether we close holes, hours without power by step.

    Holes are closed on photographs alone only where the town lets them be and no visit before closing is promised.
    """
    by_photographs = inputs.town.covering and inputs.town.looks == AT_THE_END
    return Method(lived_in, inputs.costs.rooms_at_once, kit.closes_holes == "us", by_photographs,
                  dict(inputs.book.power_off))


def as_met(inputs: Inputs, kit: Kit, house: House) -> House:
    """The house as an option meets it: a price for every point fishes every drop, whatever is hidden."""
    if kit.covers != "every point":
        return house
    return replace(house, feeds=(), list_drops=all_drops(inputs.job, inputs.book))


def blocked_extra(inputs: Inputs, house: House, kind: Kind) -> Extra:
    """The blocked drops that are usual among those that an option is sure to fish."""
    return Extra(blocked=inputs.costs.blocked_drop.hours * usual_blocked(house, kind, 0))


def blocked_most(inputs: Inputs, house: House, belief: Belief, share: float) -> Extra:
    """The blocked drops of the house at this share of all, from easy to hard, among those that are sure."""
    return Extra(blocked=inputs.costs.blocked_drop.hours * blocked_at(house, belief, share))


def turned_up(inputs: Inputs, kit: Kit, house: House, kind: Kind, pair: tuple[int, int], coats: int) -> Extra:
    """What so many points on so many feeds take more, with the blocked drops that are then usual."""
    costs, (points, feeds) = inputs.costs, pair
    mean = sum((cost.hours for cost in costs.points.values()), Fraction(0)) / len(costs.points)
    holes = house.openings_a_drop * points if kit.closes_holes == "us" else Fraction(0)
    return Extra(points=points * (mean * (1 - costs.after_plaster) + costs.drop.hours),
                 feeds=feeds * (costs.feed.hours + costs.old_circuit.hours),
                 blocked=costs.blocked_drop.hours * usual_blocked(house, kind, points),
                 devices=points * mean * costs.after_plaster,
                 coat=costs.patch.hours * holes / coats if coats else 0)


def hours_of(extra: Extra) -> Fraction:
    """The sum of the six parts of what turns up [hours], crew and plasterer together, of the coats one; exact."""
    return Fraction(extra.points) + extra.feeds + extra.blocked + extra.close + extra.devices + extra.coat


def pairs_at(inputs: Inputs, kit: Kit, house: House, kind: Kind, hidden: HiddenPoints,
             shares: Sequence[float]) -> tuple[tuple[int, int], ...]:
    """The points and feeds that turn up in the houses at these rising shares, in order of the hours that they take.

    Hours are worked out once for each count of points, to which a feed adds always the same.
    """
    by_points = {points: hours_of(turned_up(inputs, kit, house, kind, (points, 0), 1))
                 for points in {points for points, _ in hidden}}
    a_feed = hours_of(turned_up(inputs, kit, house, kind, (0, 1), 1)) - hours_of(
        turned_up(inputs, kit, house, kind, (0, 0), 1))
    unit = lcm(a_feed.denominator, *(hours.denominator for hours in by_points.values()))    # so that all are whole
    whole, more = {points: int(hours * unit) for points, hours in by_points.items()}, int(a_feed * unit)
    ordered = sorted(hidden, key=lambda pair: (whole[pair[0]] + more * pair[1], pair))
    ranked = {i: hidden[pair] for i, pair in enumerate(ordered)}
    return tuple(ordered[quantile(ranked, share)] for share in shares)


__all__ = ["as_met", "blocked_extra", "blocked_most", "car_outlets", "cleaned", "coats_of", "feeds_run", "hours_of",
           "method", "new_panel", "new_service", "pairs_at", "people", "splices_boxed", "turned_up", "waits_of", "work"]
