"""Lead dust, plaster and floors of the demo houses: what a reader is told is what the calculations give."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

import pytest
from msgspec.structs import replace

from sitegen.figure import day_of, fraction_of
from sitegen.job.load import load
from sitegen.offer.cited import Cited
from sitegen.offer.protection import OptionCare
from sitegen.offer.setting import lead_of
from tests.built import HOUSES, offer
from tests.helpers import DEMO


def options(house: str) -> list[OptionCare]:
    return list(offer(house).protection.options.values())


@pytest.mark.parametrize("house", HOUSES)
def test_the_lead_rule_is_owed_where_the_area_or_the_way_of_cutting_brings_it(house: str) -> None:
    """Over the limit or broken out it is owed; under it and sawn whole it is not, and the reason says which."""
    for option in options(house):
        for room in option.rooms.values():
            over = fraction_of(room.area) > fraction_of(room.limit)
            if room.reason in ("under the limit", "nothing disturbed", "written report"):
                assert not room.owed
            if room.reason == "under the limit":
                assert not over
            if over and room.reason not in ("written report", "not before 1978"):
                assert room.owed
        assert fraction_of(option.owed) == sum(room.owed for room in option.rooms.values())


def test_a_room_that_is_broken_out_owes_the_rule_whatever_its_size() -> None:
    """The dining room of the row house has plaster on brick, so its rule's steps are owed in every option."""
    for option in options("spindle-row"):
        room = option.rooms["dining-room"]
        assert room.owed
        assert room.reason == "demolition"
        assert fraction_of(room.area) < 6 * 144, "under the limit of the lead rule itself"
        assert room.laid
        assert option.steps[0] == "give the pamphlet"


def test_a_subsidised_house_has_the_smaller_limit_and_no_figure_says_so() -> None:
    """2 square feet are 288 square inches (24 CFR 35.1350(d), from memory), and over them steps are owed; the limit
    that may be said is that of any house, 6 square feet or 864 square inches."""
    rooms = [room for option in options("spindle-row") for room in option.rooms.values()]
    over = [room for room in rooms if room.reason == "subsidised limit"]
    assert over
    assert all(room.owed and 288 < fraction_of(room.area) <= 864 for room in over)
    assert all(fraction_of(room.area) <= 288 for room in rooms if room.reason == "under the limit")
    for house in ("spindle-row", "alder-lane"):
        assert {fraction_of(room.limit) for option in options(house) for room in option.rooms.values()} == {864}


def test_a_report_frees_the_rooms_that_it_names() -> None:
    """In a room with a written report nothing is owed, and the reason is the report."""
    free = {room.key for room in offer("spindle-row").rooms if room.lead_free}
    freed = [room for option in options("spindle-row") for key, room in option.rooms.items() if key in free]
    assert freed
    assert all(not room.owed and room.reason in ("written report", "nothing disturbed") for room in freed)


@pytest.mark.parametrize(("built", "tested", "covered", "assumed"), [
    (1977, "none", True, True), (1977, "all", True, False), (1978, "none", False, False), (1978, "all", False, False)])
def test_the_rule_covers_a_house_by_its_year_and_a_test_frees_it(built: int, tested: str, covered: bool,
                                                                 assumed: bool) -> None:
    """Housing built before 1978 is covered (40 CFR 745.82); only there can a written report be what frees it."""
    inputs = load(DEMO, DEMO / "alder-lane", DEMO)
    job = inputs.job.model_copy(update={"house": inputs.job.house.model_copy(update={"built": built}),
                                        "lead": inputs.job.lead.model_copy(update={"tested": tested})})
    lead = lead_of(replace(inputs, job=job), Cited(inputs))
    assert (lead.covered, lead.assumed) == (covered, assumed)


@pytest.mark.parametrize("house", HOUSES)
def test_sheet_and_bare_floor_make_up_the_room(house: str) -> None:
    """What no sheet covers is bare, room by room; where none is laid all of it is."""
    found = offer(house)
    size = {room.key: fraction_of(room.long) * fraction_of(room.wide) for room in found.rooms}
    for option in found.protection.options.values():
        for key, room in option.rooms.items():
            assert fraction_of(room.sheet) + fraction_of(room.bare) == size[key]
            assert room.laid or fraction_of(room.sheet) == 0


@pytest.mark.parametrize("house", HOUSES)
def test_every_option_keeps_our_own_standard_where_old_paint_is_cut(house: str) -> None:
    """In each room whose paint is disturbed and not freed by a report, over the law's limit or under it, every option
    lays sheet, and its cloths check the cleaning; board is no part of it and comes with the paths."""
    found = offer(house)
    for key, option in found.protection.options.items():
        for room in option.rooms.values():
            assert room.lead_safe == (room.reason not in ("nothing disturbed", "written report", "not before 1978"))
            assert room.laid or not room.area.value
            assert room.lead_safe or not room.owed
        assert fraction_of(option.safe) == sum(room.lead_safe for room in option.rooms.values())
        assert fraction_of(option.cloths) >= fraction_of(option.safe) - fraction_of(option.cleared)
        assert bool(option.board_rolls.value) == (key != "minimal-protection")


def test_clearance_replaces_our_check_in_aided_housing_above_its_limit() -> None:
    """In the row house every room over two square feet is cleared by somebody independent, in each option: five rooms
    of a list and eight with every point; elsewhere no room is (HUD answer 2241)."""
    for house in HOUSES:
        for option in options(house):
            over = [room for room in option.rooms.values() if room.lead_safe and fraction_of(room.area) > 2 * 144]
            assert fraction_of(option.cleared) == (len(over) if house == "spindle-row" else 0)
    assert [fraction_of(option.cleared) for option in options("spindle-row")] == [5, 5, 8]


@pytest.mark.parametrize("house", HOUSES)
def test_options_that_open_the_same_rooms_leave_the_same_floor_bare(house: str) -> None:
    """Two options of one list lay the same sheet, so that what they leave bare of it is the same."""
    care = offer(house).protection.options
    assert care["per-item"].bare.value == care["minimal-protection"].bare.value


@pytest.mark.parametrize("house", HOUSES)
def test_holes_are_put_in_bands_one_by_one(house: str) -> None:
    """The patches of an option are the holes of its rooms, each in one band, and no more."""
    for option in options(house):
        assert sum(fraction_of(band) for band in option.patches) == sum(
            fraction_of(room.openings) for room in option.rooms.values())
        for i, band in enumerate(option.patches):
            assert fraction_of(band) == sum(fraction_of(room.bands[i]) for room in option.rooms.values())


def test_closing_the_holes_costs_what_the_bands_say() -> None:
    """34 holes filled by hand at $95 are $3,230, above the least of $480 (invented prices)."""
    care = offer("alder-lane").protection.options["minimal-protection"]
    assert [fraction_of(band) for band in care.patches] == [0, 34, 0, 0]
    assert care.to_close is not None
    assert care.to_close.value == 34 * 95_00


@pytest.mark.parametrize("house", HOUSES)
def test_the_pamphlet_is_given_within_sixty_days_before_the_start(house: str) -> None:
    """Not earlier than 60 days before, mailed at least 7 before, handed over before the day itself (40 CFR 745.84)."""
    found = offer(house)
    start, papers = day_of(found.dates.work_starts), found.protection.papers
    assert day_of(papers.first) == start - timedelta(60)
    assert day_of(papers.mail_by) == start - timedelta(7)
    assert day_of(papers.hand_by) < start
    assert ("occupant" in papers.to) == (not found.holder.owner_now or found.holder.rented)


@pytest.mark.parametrize("house", HOUSES)
def test_more_work_within_thirty_days_counts_with_this_job(house: str) -> None:
    """The day up to which it does is thirty days after the last of each option (40 CFR 745.83)."""
    found = offer(house)
    assert {option: day_of(through) for option, through in found.protection.papers.same_job.items()} == {
        option: day_of(dates.finished) + timedelta(30) for option, dates in found.dates.options.items()}


@pytest.mark.parametrize("house", HOUSES)
def test_plaster_is_ordered_for_the_holes_that_we_close(house: str) -> None:
    """An option that closes holes has their area, and plaster at 5.2 cubic feet for 100 square yards and a sixteenth;
    one that leaves them open has what we would ask to close them."""
    for option in options(house):
        assert (option.patch_area is None) == (option.plaster is None) == (option.to_close is not None)
        if option.patch_area is not None and option.plaster is not None:
            area, each = fraction_of(option.patch_area), Fraction(52, 10) * 1728 / 900
            assert each * (area - 1) <= fraction_of(option.plaster) <= each * area + 1


def test_cloths_by_hand() -> None:
    """A kitchen of 180 sq ft takes 5 cloths for its floor, 3 for its counters and 1 for its sill, in an empty list.

    180 / 40 = 4.5, so five sections, each under 40 sq ft (40 CFR 745.85(b), from memory).  The demo's study of 120
    sq ft takes 4: 120 / 40 = 3 sections would be of 40 sq ft each, and each has to be less.
    """
    from sitegen.rules.read import given
    from sitegen.trade.lead_dust import LeadRule
    from sitegen.trade.lead_duties import RoomToVerify, room_cloths
    rule = given(LeadRule, "lead")
    assert room_cloths(rule, [RoomToVerify((Fraction(180),), (Fraction(12), Fraction(7), Fraction(4)), 1)]) == 5 + 3 + 1
    assert room_cloths(rule, [RoomToVerify((Fraction(120),))]) == 4


@pytest.mark.parametrize("house", HOUSES)
def test_what_a_floor_finisher_costs_follows_the_bare_floor(house: str) -> None:
    """The later cost of floors is the usual price of a square foot, $0.90, times the floor that the option leaves
    bare."""
    found = offer(house)
    for option in found.outcome.options:
        for item in option.later:
            if item.key == "floors":
                assert item.usual.value == 90 * fraction_of(found.protection.options[option.key].bare)
