"""Box fill: what each thing in a box counts, by edition, and what never changes whatever is in it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from sitegen.rules import read
from sitegen.trade import box_fill
from sitegen.trade.box_fill import BoxRule, Contents, Device, allowances, required_volume, verdict

QUIET = settings(max_examples=80, deadline=None, derandomize=True)
BY_EDITION = {edition: read.given(BoxRule, "boxes", edition) for edition in ("2017", "2020", "2023", "2026")}
RULE = BY_EDITION["2023"]
GAUGES = ("18", "16", "14", "12", "10", "8", "6")

counts = st.dictionaries(st.sampled_from(GAUGES), st.integers(0, 6))
devices = st.lists(st.builds(Device, st.sampled_from(GAUGES), st.integers(1, 3)), max_size=3).map(tuple)
contents = st.builds(Contents, st.dictionaries(st.sampled_from(GAUGES), st.integers(1, 6), min_size=1), counts, counts,
                     st.booleans(), st.integers(0, 2), devices, counts)
editions = st.sampled_from(sorted(BY_EDITION))
SETS = ("entering", "through", "long_loops", "grounds")


def test_an_old_ceiling_box_worked_by_hand() -> None:
    """Two 14-2 and one 12-2, clamps, a stud, five grounds: 6 x 2 ... line by line, over a shallow box's volume."""
    box = Contents(entering={"14": 4, "12": 2}, clamps=True, fittings=1, grounds={"14": 4, "12": 1})
    found = verdict(box, RULE.standard["round 4 x 1 1/2"], RULE)
    assert [(line.what, line.gauge, line.count, line.volume) for line in found.lines] == [
        ("entering", "14", 4, 8), ("entering", "12", 2, Fraction("4.5")), ("clamps", "12", 1, Fraction("2.25")),
        ("fittings", "12", 1, Fraction("2.25")), ("grounds", "12", Fraction("1.25"), Fraction("2.8125"))]
    assert found.required == Fraction("19.8125")
    assert not found.fits
    assert box_fill.smallest_standard(found.required, RULE) == "square 4 x 1 1/2"


def test_counting_of_grounds_changed_in_2020() -> None:
    """Up to 2017 any number of grounds is one; from 2020 each above four adds a quarter."""
    for grounds, before, after in ((1, 1, 1), (4, 1, 1), (5, 1, Fraction(5, 4)), (8, 1, 2)):
        box = Contents(grounds={"14": grounds})
        assert required_volume(box, BY_EDITION["2017"]) == 2 * before
        for edition in ("2020", "2023", "2026"):
            assert required_volume(box, BY_EDITION[edition]) == 2 * after


def test_a_value_that_nobody_saw_is_marked() -> None:
    """The count of grounds in 2026 is not verified."""
    assert read.every_rule()["boxes-ground-allowances-beyond"].unverified == ("2026",)


def test_a_box_exactly_full_fits() -> None:
    """Required volume equal to the box's is allowed; a hair more is not."""
    box = Contents(entering={"14": 6}, devices=(Device("14"),), grounds={"14": 3})
    assert verdict(box, 18, RULE).fits
    assert not verdict(box, Fraction("17.99"), RULE).fits


def test_clamps_go_by_the_largest_conductor_of_any_kind() -> None:
    """A single larger conductor, even one that only runs through or grounds, sets the volume of the clamps."""
    for kind in SETS:
        box = Contents(**{"entering": {"14": 2}, "clamps": True, **{kind: {"14": 2, "10": 1}}})
        line = next(line for line in allowances(box, RULE) if line.what == "clamps")
        assert line.gauge == "10", kind
    assert Contents(entering={"14": 2, "10": 0}, clamps=True).clamps
    assert allowances(Contents(entering={"14": 2, "10": 0}, clamps=True), RULE)[-1].gauge == "14"


def test_grounds_go_by_the_largest_ground() -> None:
    """Thin grounds beside thick conductors count as thin ones; of two sizes the thicker counts for all."""
    assert allowances(Contents(entering={"6": 2}, grounds={"10": 1}), RULE)[-1].gauge == "10"
    assert allowances(Contents(grounds={"14": 3, "12": 1}), RULE)[-1].gauge == "12"


def test_a_wide_device_counts_for_each_gang() -> None:
    """One gang two allowances, two gangs four, of the largest conductor on the device."""
    assert required_volume(Contents(devices=(Device("12"),)), RULE) == Fraction("4.5")
    assert required_volume(Contents(devices=(Device("10", gangs=2),)), RULE) == 10


def test_impossible_boxes_are_refused() -> None:
    """Unknown gauges, negative counts, no conductor to count by, no volume: an error and not a number."""
    for box in (Contents(entering={"4": 1}), Contents(devices=(Device("4"),)), Contents(grounds={"1/0": 1})):
        with pytest.raises(ValueError, match="no volume is given"):
            required_volume(box, RULE)
    for box in (Contents(clamps=True), Contents(fittings=1), Contents(entering={"14": 0}, clamps=True)):
        with pytest.raises(ValueError, match="largest"):
            required_volume(box, RULE)
    for kind in SETS:
        with pytest.raises(ValueError, match="fewer than 0"):
            Contents(**{kind: {"14": -1}})
    with pytest.raises(ValueError, match="fewer than 0"):
        Contents(fittings=-1)
    with pytest.raises(ValueError, match="gang"):
        Device("14", gangs=0)
    with pytest.raises(ValueError, match="volume"):
        verdict(Contents(), 0, RULE)
    assert box_fill.smallest_standard(43, RULE) is None


@QUIET
@given(contents, st.sampled_from(SETS), st.sampled_from(GAUGES), editions)
def test_adding_a_conductor_never_lowers_the_volume(box: Contents, kind: str, gauge: str, edition: str) -> None:
    """Whatever is added, and by whichever edition; what enters, runs through or is looped always takes room."""
    rule, group = BY_EDITION[edition], getattr(box, kind)
    more = required_volume(replace(box, **{kind: {**group, gauge: group.get(gauge, 0) + 1}}), rule)
    assert more >= required_volume(box, rule)
    if kind != "grounds":
        assert more >= required_volume(box, rule) + rule.volumes[gauge]


@QUIET
@given(contents, st.sampled_from(GAUGES), st.integers(1, 2), editions)
def test_clamps_studs_and_devices_always_take_room(box: Contents, gauge: str, gangs: int, edition: str) -> None:
    """Each of them adds to the volume; the clamps only once."""
    rule = BY_EDITION[edition]
    volume = required_volume(box, rule)
    assert required_volume(replace(box, devices=(*box.devices, Device(gauge, gangs))), rule) > volume
    assert required_volume(replace(box, fittings=box.fittings + 1), rule) > volume
    assert (required_volume(replace(box, clamps=True), rule) > volume) == (not box.clamps)


@QUIET
@given(contents)
def test_a_later_edition_never_counts_less(box: Contents) -> None:
    """The change of 2020 can only raise the volume."""
    volumes = [required_volume(box, BY_EDITION[edition]) for edition in sorted(BY_EDITION)]
    assert volumes == sorted(volumes)


@QUIET
@given(contents, st.integers(1, 60))
def test_the_lines_make_the_sum(box: Contents, volume: int) -> None:
    """What is required is the sum of the lines, no line is empty, and the verdict compares it with the box."""
    found = verdict(box, volume, RULE)
    assert found.required == sum(line.count * line.each for line in found.lines)
    assert all(line.count > 0 for line in found.lines)
    assert found.fits == (found.required <= volume)


@QUIET
@given(contents)
def test_the_smallest_standard_box_is_the_smallest(box: Contents) -> None:
    """It holds the contents, and no smaller standard box does."""
    required = required_volume(box, RULE)
    name = box_fill.smallest_standard(required, RULE)
    if name is None:
        assert required > max(RULE.standard.values())
    else:
        assert required <= RULE.standard[name]
        assert all(volume < required for volume in RULE.standard.values() if volume < RULE.standard[name])
