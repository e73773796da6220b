"""Circuits, protection, alarms, the panel's schedule and its place."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from sitegen.rules.read import given
from sitegen.trade.circuits import (
    ROOM_KINDS,
    Alarm,
    CircuitRoom,
    CircuitRule,
    Individual,
    Least,
    TownAlarms,
    alarms,
    general_circuits,
    individual,
    individual_protections,
    least_circuits,
    lighting,
    neutral_at_switch,
    protections,
)
from sitegen.trade.kinds import LOADS
from sitegen.trade.load_parts import Load
from sitegen.trade.panel import PanelPlace, PanelRule, panel_place_questions, schedule
from sitegen.trade.sharing import UNFINISHED, general_shares

R17, R20, R23, R26 = (given(CircuitRule, "circuit", edition) for edition in ("2017", "2020", "2023", "2026"))
PLACE = given(PanelRule, "panel")
rooms_ = st.lists(st.builds(CircuitRoom, st.text("abcdefgh", min_size=1, max_size=6), st.sampled_from(ROOM_KINDS),
                            st.integers(0, 600), st.integers(0, 15), st.integers(0, 3)), max_size=14)
houses_ = st.lists(st.builds(lambda name, kind, area, points, storey, share: CircuitRoom(
    name, kind, area, points, storey, outlets=points * share // 4), st.text("abcdefgh", min_size=1, max_size=6),
    st.sampled_from(ROOM_KINDS), st.integers(0, 600), st.integers(0, 15), st.integers(0, 3), st.integers(0, 4)),
    max_size=14, unique_by=lambda room: room.name)
singles_ = st.lists(st.builds(Individual, st.just("load"), st.just("fixed appliance"), st.sampled_from(ROOM_KINDS),
                              st.sampled_from((15, 20, 30, 50)), st.sampled_from((1, 2)), st.booleans()), max_size=9)


@forall(st.fractions("0.01", 20_000), st.fractions("0.01", 20_000), st.sampled_from((15, 20)))
def test_a_larger_house_never_needs_fewer_circuits(one: Fraction, other: Fraction, amperes: int) -> None:
    """General circuits grow with the area, cover it, and one fewer would not (210.11(A))."""
    low, high = sorted((one, other))
    count = general_circuits(R17, high, amperes)
    assert general_circuits(R17, low, amperes) <= count
    one = Fraction(R17.volts * amperes) / R17.density
    assert (count - 1) * one < high <= count * one


def test_an_area_or_rating_of_nothing_is_refused() -> None:
    """Both are above zero; a single square foot has a circuit."""
    assert general_circuits(R17, 1, 15) == 1
    for area, amperes in ((0, 15), (100, 0)):
        with pytest.raises(ValueError, match="above zero"):
            general_circuits(R17, area, amperes)


def test_a_garage_adds_its_circuit() -> None:
    """The least set with and without one (210.11(C))."""
    assert least_circuits(R17, 1500, 15, garage=False) == Least(3, 2, 1, 1, 0)
    assert least_circuits(R17, 1500, 15, garage=True).total == 8


def test_protection_grows_with_the_edition() -> None:
    """No newer edition takes ground fault away; 2020 adds finished basements, 2023 the whole kitchen."""
    for old, new in ((R17, R20), (R20, R23), (R23, R26)):
        for kind in ROOM_KINDS:
            lost = protections(old, kind) - protections(new, kind)
            assert lost <= {"ground-fault at counters"}, kind
    assert protections(R17, "kitchen") == {"arc-fault", "ground-fault at counters", "tamper-resistant"}
    assert protections(R23, "kitchen") == {"arc-fault", "ground-fault", "tamper-resistant"}
    assert protections(R23, "attic") == frozenset()


def test_a_kind_of_room_that_nobody_knows_is_refused() -> None:
    """By every question that is asked of a kind."""
    for ask in (protections, lighting, neutral_at_switch):
        with pytest.raises(ValueError, match="no kind of room"):
            ask(R17, "ballroom")
    with pytest.raises(ValueError, match="no kind of room"):
        CircuitRoom("x", "ballroom", 1)
    with pytest.raises(ValueError, match="below zero"):
        CircuitRoom("x", "hall", -1)


def test_every_list_of_rooms_is_spelled_as_the_kinds_are() -> None:
    """A misspelled kind in a rule would protect nothing."""
    for rule in (R17, R20, R23, R26):
        for kinds in (rule.arc_fault, rule.ground_fault, rule.ground_fault_counters, rule.tamper_resistant,
                      rule.light_always, rule.light_if_used, rule.light_by_receptacle, rule.neutral_at_switches,
                      rule.fan_boxes, rule.small_appliance_rooms):
            assert set(kinds) <= set(ROOM_KINDS)
        assert {*rule.appliance_ground_fault, *rule.own} <= set(LOADS)
    assert set(PLACE.not_in) <= set(ROOM_KINDS)


def test_a_circuit_for_one_load_is_the_next_size() -> None:
    """A dryer 30 A; a water heater at 125 percent; a range 40 A at least, or by its demand; 120 V takes one pole."""
    made = [individual(R17, load, "kitchen", receptacle=True) for load in (
        Load("dryer", 5000, "dryer"), Load("heater", 4500, "water heater"), Load("range", 9000, "range"),
        Load("range", 12_000, "range"), Load("disposer", 900, "fixed appliance", 120))]
    assert [(one.rating, one.poles) for one in made] == [(30, 2), (30, 2), (40, 2), (50, 2), (15, 1)]
    assert individual(R17, Load("range", 12_000, "range"), "kitchen", True, demand=8000).rating == 40
    sizes = [individual(R17, Load("range", va, "range"), "kitchen", True, demand=5000).rating for va in (8749, 8750)]
    assert sizes == [30, 40]
    assert individual(R17, Load("heater", 3840, "water heater"), "utility", False).rating == 20
    assert individual(R17, Load("heater", 3841, "water heater"), "utility", False).rating == 30
    with pytest.raises(ValueError, match="largest breaker"):
        individual(R17, Load("furnace", 20_000, "central heat"), "utility", False)


def test_protection_of_a_circuit_for_one_load() -> None:
    """Arc fault only at 120 V; a 240-V receptacle is ground-fault protected from 2020 on; ranges by list in 2023."""
    dryer = Individual("dryer", "dryer", "laundry", 30, 2, receptacle=True)
    range_ = Individual("range", "range", "kitchen", 50, 2, receptacle=True)
    disposer = Individual("disposer", "fixed appliance", "kitchen", 20, 1, receptacle=True)
    wired = Individual("heater", "water heater", "unfinished basement", 30, 2, receptacle=False)
    assert [individual_protections(rule, dryer) for rule in (R17, R20)] == [frozenset(), {"ground-fault"}]
    assert [individual_protections(rule, range_) for rule in (R20, R23)] == [frozenset(), {"ground-fault"}]
    assert individual_protections(R23, disposer) == {"arc-fault", "ground-fault", "tamper-resistant"}
    assert individual_protections(R23, wired) == frozenset()
    hard = Individual("fan", "fixed appliance", "bedroom", 20, 1, receptacle=False)
    assert individual_protections(R23, hard) == {"arc-fault"}


def test_protection_by_what_a_load_is() -> None:
    """A dishwasher is ground-fault protected from 2017 on, a sump pump from 2020, wired or not (210.8(D), 422.5(A));
    a window unit in a bedroom stands on an arc-fault circuit; a boiler's own circuit asks for neither."""
    washer = Individual("dishwasher", "dishwasher", "kitchen", 15, 1, receptacle=False)
    pump = Individual("pump", "sump pump", "utility", 15, 1, receptacle=False)
    unit = Individual("unit", "window unit", "bedroom", 15, 1, receptacle=True)
    assert all("ground-fault" in individual_protections(rule, washer) for rule in (R17, R20, R23, R26))
    assert ["ground-fault" in individual_protections(rule, pump) for rule in (R17, R20, R23)] == [False, True, True]
    assert individual_protections(R17, unit) == {"arc-fault", "tamper-resistant"}
    assert individual_protections(R23, Individual("b", "boiler", "utility", 15, 1, receptacle=False)) == frozenset()
    assert R23.own == ("boiler",)


def test_a_sunroom_is_a_room_and_a_porch_is_outdoors() -> None:
    """Arc fault for the one (210.12), ground fault for the other (210.8(A)(3)); a pantry as a kitchen's neighbor."""
    assert protections(R17, "sunroom") == protections(R17, "pantry") == {"arc-fault", "tamper-resistant"}
    assert protections(R17, "porch") == {"ground-fault", "tamper-resistant"}


def test_a_pantry_is_on_the_small_appliance_circuits() -> None:
    """Its outlets with those of the kitchen (210.52(B)(1)), its light on a general circuit."""
    rooms = [CircuitRoom("kitchen", "kitchen", 150, 3, outlets=3), CircuitRoom("pantry", "pantry", 40, 3, outlets=1)]
    rows = schedule(R23, rooms, Least(1, 2, 1, 1, 0), 15).circuits
    assert [row.serves for row in rows if row.sort == "small appliance"] == [("kitchen", "pantry"), ("kitchen",)]
    assert [(row.serves, row.points) for row in rows if row.sort == "general"] == [(("pantry",), 2)]


def test_alarms_stand_in_each_bedroom_outside_and_on_each_storey() -> None:
    """One outside bedrooms serves its storey; two sleeping areas have one each; attic and garage make no storey."""
    house = [CircuitRoom("a", "bedroom", 1, storey=2), CircuitRoom("b", "bedroom", 1, storey=2),
             CircuitRoom("c", "bedroom", 1, storey=2, sleeping="back"),
             CircuitRoom("parlor", "living room", 1, storey=1),
             CircuitRoom("attic", "attic", 1, storey=3), CircuitRoom("garage", "garage", 1, storey=0)]
    found = alarms(R17, house, carbon=True, town=TownAlarms())
    smoke = [(one.place, one.storey, one.rooms) for one in found if one.kind == "smoke"]
    assert smoke == [("each bedroom", 2, ("a",)), ("each bedroom", 2, ("b",)), ("each bedroom", 2, ("c",)),
                     ("outside bedrooms", 2, ("a", "b")), ("outside bedrooms", 2, ("c",)), ("each storey", 1, ())]
    assert [one.rooms for one in found if one.kind == "carbon monoxide"] == [("a", "b"), ("c",)]


def test_a_town_may_leave_alarms_out_or_add_them() -> None:
    """An overlay exempts a rewire, or adds an alarm once."""
    house, heat = [CircuitRoom("a", "bedroom", 1)], Alarm("smoke", "each kitchen", 1, ())
    assert alarms(R17, house, True, TownAlarms(smoke=False, carbon=False, more=(heat, heat))) == (heat,)
    assert all(one.kind == "smoke" for one in alarms(R17, house, True, TownAlarms(carbon=False)))


def test_lights_and_neutrals_by_kind() -> None:
    """A laundry has a light for certain from 2023 on; a closet none; a switch in a cellar is asked about."""
    assert [lighting(rule, "laundry").needed for rule in (R17, R20, R23, R26)] == ["if used", "if used", "yes", "yes"]
    assert lighting(R17, "closet").needed == "no"
    assert lighting(R17, "porch").switched_receptacle is False
    assert neutral_at_switch(R17, "unfinished basement") == "neutral-ask"


def pointed(rooms: list[CircuitRoom]) -> list[tuple[CircuitRoom, int]]:
    """Rooms with all their points on general circuits."""
    return [(room, room.points) for room in rooms]


def storeys(rooms: list[CircuitRoom]) -> dict[str, set[int]]:
    """The storeys on which a room of this name may stand on a circuit; an attic goes with what is below it."""
    lived_in = {room.storey for room in rooms if room.points and room.kind != "attic"}
    found: dict[str, set[int]] = {}
    for room in rooms:
        below = [storey for storey in lived_in if storey <= room.storey] if room.kind == "attic" else []
        found.setdefault(room.name, set()).add(max(below, default=room.storey))
    return found


@settings(max_examples=100)
@forall(rooms_, st.integers(1, 8), st.one_of(st.none(), st.integers(1, 12)), st.one_of(st.none(), st.integers(50, 700)))
def test_general_circuits_share_the_house_and_lose_nothing(rooms: list[CircuitRoom], count: int, most: int | None,
                                                           area: int | None) -> None:
    """Points come out as they went in, floor of rooms with points too, without unfinished space; both limits hold."""
    shares = general_shares(pointed(rooms), count, most, area)
    served = [room for room in rooms if room.points]
    assert len(shares) >= count
    assert sum(share.area for share in shares) == sum(room.area for room in served if room.kind not in UNFINISHED)
    for name in {room.name for room in served}:
        assert sum(one.points for share in shares for one in share.held if one.room == name) == sum(
            room.points for room in served if room.name == name)
    assert {name for share in shares for name in share.names} == {room.name for room in served}
    assert most is None or all(share.points <= most for share in shares)
    assert area is None or all(share.area <= area for share in shares)
    assert all(share.names for share in shares) or not served


@settings(max_examples=100)
@forall(rooms_, st.integers(1, 8), st.one_of(st.none(), st.integers(1, 12)))
def test_no_general_circuit_joins_two_storeys(rooms: list[CircuitRoom], count: int, most: int | None) -> None:
    """All rooms of a circuit can be on one storey, an attic on the one below it."""
    where = storeys(rooms)
    for share in general_shares(pointed(rooms), count, most, None):
        assert not share.names or set.intersection(*(where[name] for name in share.names))


@settings(max_examples=100)
@forall(st.lists(st.builds(CircuitRoom, st.text("abcdefgh", min_size=1, max_size=6), st.sampled_from(ROOM_KINDS),
                           st.integers(0, 600), st.integers(1, 15), st.just(1)), min_size=1, max_size=14),
        st.integers(1, 8), st.one_of(st.none(), st.integers(600, 900)))
def test_general_circuits_of_a_storey_are_even_to_within_the_largest_room(rooms: list[CircuitRoom], count: int,
                                                                          area: int | None) -> None:
    """210.11(B): on a storey the fullest has at most the largest room more than the emptiest."""
    areas = [share.area for share in general_shares(pointed(rooms), count, None, area)]
    assert max(areas) - min(areas) <= max(room.area for room in rooms)


def test_unfinished_floor_counts_for_no_circuit_and_its_points_do() -> None:
    """A cellar of 1,000 sq ft and eight points has one circuit; a parlor of 700 sq ft is parted at 600 (15 A)."""
    rooms = [CircuitRoom("cellar", "unfinished basement", 1000, 8, 0), CircuitRoom("parlor", "living room", 700, 9, 1)]
    found = [(share.names, share.area, share.points) for share in general_shares(pointed(rooms), 1, 12, 600)]
    assert found == [(("cellar",), 0, 8), (("parlor",), 350, 5), (("parlor",), 350, 4)]


def test_an_attic_goes_with_the_storey_below() -> None:
    """One light under the roof stands on a circuit of the bedrooms; in a house of nothing else it has its own."""
    rooms = [CircuitRoom("attic", "attic", 400, 1, 3), CircuitRoom("bed", "bedroom", 150, 6, 2)]
    assert [share.names for share in general_shares(pointed(rooms), 1, 12, 600)] == [("bed", "attic")]
    assert [share.names for share in general_shares(pointed(rooms[:1]), 1, 12, 600)] == [("attic",)]


def test_limits_of_nothing_are_refused() -> None:
    """A circuit takes a point and some floor."""
    for most, area in ((0, None), (None, 0)):
        with pytest.raises(ValueError, match="at least one point"):
            general_shares([], 1, most, area)


@settings(max_examples=100)
@forall(houses_, singles_, st.integers(1, 12))
def test_every_point_stands_on_exactly_one_circuit(rooms: list[CircuitRoom], singles: list[Individual],
                                                   most: int) -> None:
    """Outlets of kitchens, dining rooms, pantries, baths and laundries on circuits of their sort, the rest on general
    ones, and each once, whichever required circuits there are."""
    for least in (least_circuits(R23, 1500, 15, garage=True), Least(1, 0, 0, 0, 0), Least(0, 2, 0, 1, 0)):
        rows = schedule(R23, rooms, least, 15, singles, most_points=most).circuits
        for room in rooms:
            assert sum(one.points for row in rows for one in row.held if one.room == room.name) == room.points
        assert all(row.points <= most for row in rows if row.sort == "general")
        assert all(one.points for row in rows if row.sort not in ("general", "individual") for one in row.held)
        assert {name for row in rows if row.sort == "individual" for name in row.serves} <= {"load"}


@settings(max_examples=100)
@forall(rooms_, singles_, st.integers(0, 60))
def test_every_circuit_has_spaces_of_its_own(rooms: list[CircuitRoom], singles: list[Individual], spaces: int) -> None:
    """No space twice; two poles stand one above the other; spaces used are poles; short is what is missing."""
    least = least_circuits(R23, 1500, 15, garage=True)
    panel = schedule(R23, rooms, least, 15, singles, spaces=spaces)
    taken = [space for row in panel.circuits for space in row.spaces]
    assert len(taken) == len(set(taken)) == panel.used == sum(row.poles for row in panel.circuits)
    assert all(row.spaces[1] == row.spaces[0] + 2 for row in panel.circuits if row.poles == 2)
    assert len(panel.circuits) >= least.total + len(singles)
    assert panel.short == max(0, panel.used - spaces)
    assert max(taken) <= panel.used + 2
    assert panel == schedule(R23, rooms, least, 15, singles, spaces=spaces)


def test_a_schedule_reads_as_a_panel_does() -> None:
    """A dryer in 1 and 3, a range in 2 and 4, then single poles from 5 on; each says what it serves."""
    house = [CircuitRoom("kitchen", "kitchen", 150, 9, outlets=5), CircuitRoom("bath", "bathroom", 50, 3, outlets=1),
             CircuitRoom("parlor", "living room", 300, 8, outlets=5),
             CircuitRoom("cellar", "unfinished basement", 400, 3, 0, outlets=1)]
    two = [Individual("dryer", "dryer", "laundry", 30, 2, True), Individual("range", "range", "kitchen", 50, 2, True)]
    panel = schedule(R23, house, Least(2, 2, 1, 1, 0), 15, two)
    assert [(row.spaces, row.sort, row.serves) for row in panel.circuits] == [
        ((1, 3), "individual", ("dryer",)), ((2, 4), "individual", ("range",)),
        ((5,), "small appliance", ("kitchen",)), ((6,), "small appliance", ("kitchen",)), ((7,), "laundry", ()),
        ((8,), "bathroom", ("bath",)), ((9,), "general", ("cellar",)),
        ((10,), "general", ("parlor", "kitchen", "bath"))]
    assert [row.rating for row in panel.circuits] == [30, 50, 20, 20, 20, 20, 15, 15]
    assert (panel.used, panel.short) == (10, None)
    assert panel.circuits[-2].protections == {"ground-fault", "tamper-resistant"}
    assert panel.circuits[-1].protections == {"arc-fault", "tamper-resistant"}
    assert (panel.circuits[-1].points, panel.circuits[-1].area) == (14, 500)
    assert [row.points for row in panel.circuits[2:6]] == [3, 2, 0, 1]
    assert CircuitRoom("closet", "closet", 10).points == panel.circuits[2].area == 0


def test_a_limit_of_points_adds_circuits_only_where_the_company_has_one() -> None:
    """Twenty points in one room: one circuit, or three of at most eight; three rooms of five share no such circuit."""
    room = [CircuitRoom("hall", "hall", 300, 20)]
    least = Least(1, 2, 1, 1, 0)
    general = [row.points for row in schedule(R17, room, least, 15, most_points=8).circuits if row.sort == "general"]
    assert sorted(general) == [6, 7, 7]
    three = [CircuitRoom(name, "bedroom", 100, 5) for name in ("east", "west", "north")]
    assert [share.points for share in general_shares([(one, 5) for one in three], 1, 8, None)] == [5, 5, 5]
    assert schedule(R17, room, least, 15, most_points=1).used == 24
    assert [row.points for row in schedule(R17, room, least, 15).circuits if row.sort == "general"] == [20]
    with pytest.raises(ValueError, match="at least one point"):
        schedule(R17, room, least, 15, most_points=0)


def test_a_panel_of_which_nothing_is_known_is_asked_about() -> None:
    """Every fact that is not known is a question."""
    assert panel_place_questions(PLACE, PanelPlace()) == (
        "panel-width-unknown", "panel-depth-unknown", "panel-headroom-unknown", "panel-room-unknown",
        "panel-steps-unknown", "panel-feed-unknown", "panel-meter-place-unknown", "panel-stays-unknown")


def test_a_panel_place_is_asked_about_only_where_it_is_short() -> None:
    """30 by 36 in and 78 in high, in a cellar, not over steps: nothing to ask; an inch less is."""
    good = {"width": 30, "depth": 36, "headroom": 78, "room_kind": "unfinished basement", "over_steps": False,
            "feed": "overhead", "meter_place": "north wall", "stays": False}
    assert panel_place_questions(PLACE, PanelPlace(**good)) == ()
    for field, value, key in (("width", 29, "panel-width-short"), ("depth", 35, "panel-depth-short"),
                              ("headroom", 77, "panel-headroom-short"), ("over_steps", True, "panel-over-steps"),
                              ("room_kind", "bathroom", "panel-in-bathroom"),
                              ("room_kind", "closet", "panel-in-closet")):
        assert panel_place_questions(PLACE, PanelPlace(**{**good, field: value})) == (key,)
