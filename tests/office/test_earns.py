"""What each set price earns: it adds up to the whole, and one of each thing is worked by hand."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from sitegen.build import worked
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.context import Context
from sitegen.office.earns import Earned, earned
from sitegen.scope.counts import Counts
from sitegen.survey.house import kit_of
from tests.built import HOUSES
from tests.helpers import DEMO, JOB, demo_copy, edit

LISTS = ("minimal-protection", "per-item")
ITEM, BARE, ONE = "per-item", "minimal-protection", "fixed-guarantee"


def context(home: Path = DEMO, job: str = JOB) -> Context:
    """One job worked out."""
    return worked(load(home, home / job, home))[0]


def found(here: Context, option: str) -> tuple[Earned, ...]:
    """What the set prices of an option earn."""
    return earned(here.inputs, kit_of(here.inputs, option), here.scope[option].counts, here.house.openings_a_drop)


def one(here: Context, option: str, key: str, kind: str = "") -> Earned:
    """One of them."""
    return next(row for row in found(here, option) if (row.key, row.kind) == (key, kind))


@pytest.mark.parametrize("job", HOUSES)
@pytest.mark.parametrize("option", LISTS)
def test_what_set_prices_earn_is_the_price_less_what_is_certain(job: str, option: str) -> None:
    """Count times what one earns, summed over the set prices, is the price from the books less the certain cost."""
    here = context(job=job)
    scope = here.scope[option]
    certain = sum((line.cents for line in scope.costs), Fraction(0))
    assert sum(row.together for row in found(here, option)) == scope.book + scope.priced.also - certain


@pytest.mark.parametrize("option", LISTS)
def test_it_adds_up_with_a_kind_of_its_own_and_new_places_apart(tmp_path: Path, option: str) -> None:
    """A kind that has its own price, and new places at a set price, leave the sum as it is."""
    home = demo_copy(tmp_path)
    book = home / "price-book.yaml"
    for point in ("$595", "$480"):
        edit(book, f"      list point: {point}\n", f"      list point: {point}\n      kinds: {{ceiling light: $610}}\n")
    book.write_text(book.read_text("utf-8").replace("new places: in the price", "new places: at a set price"), "utf-8")
    here = context(home)
    scope = here.scope[option]
    assert one(here, option, "list-points", "ceiling light").price == 610_00
    assert scope.priced.also > 0
    certain = sum((line.cents for line in scope.costs), Fraction(0))
    assert sum(row.together for row in found(here, option)) == scope.book + scope.priced.also - certain


def made(points: dict[str, int], places: dict[str, int], drops: Fraction, patched: int, feeds: int) -> Counts:
    """Counts of a house made up."""
    return Counts(points, places, drops, patched, feeds, 1, 0, 2, 3, 3, 4, patched, Fraction(3, 2),
                  sum(places.values()))


def test_one_of_each_by_hand() -> None:
    """Two outlets and two ceiling lights listed, an outlet new, four drops, four holes closed, one circuit.

    At $71.37 an hour an outlet is 2 hours and $23.19: $165.93; a ceiling light 2.5 hours and $31.87: $210.295.  A
    drop is $84.44, a patch $106.9225, a run $333.085, an old circuit $111.255.
    """
    inputs: Inputs = context().inputs
    counted = made({"outlet": 2, "ceiling light": 2}, {"outlet": 1}, Fraction(4), 4, 1)
    rows = {row.key: row for row in earned(inputs, kit_of(inputs, ITEM), counted, Fraction(3, 4))}
    listed = 2 * Fraction("165.93") + 2 * Fraction("210.295") + 3 * (Fraction("84.44") + Fraction("106.9225")) \
        + Fraction("333.085") + Fraction("111.255")
    assert rows["list-points"].cost == listed / 4 * 100
    assert rows["list-points"].count == 4
    assert rows["new-places"].cost == (Fraction("165.93") + Fraction("84.44") + Fraction("106.9225")) * 100
    assert rows["panel"].cost == Fraction("2149.18") * 100
    assert (rows["service"].count, rows["alarms"].count) == (0, 2)
    # three rooms laid at $93.37, four cleaned at $77.77, one and a half visits at $107.055
    assert rows["set-up"].cost == (3 * Fraction("93.37") + 4 * Fraction("77.77") + Fraction("160.5825")) * 100
    assert rows["permit"].each == 0
    # what turns up: the mean kind $184.146875 with a drop and three quarters of a patch; a run and its old circuit
    assert rows["further-point"].cost == 348_78
    assert rows["further-feed"].each == 560_00 - 444_34
    assert rows["blocked-drop"].each == 150_00 - 116_59
    assert all(rows[key].count is None for key in ("further-point", "further-feed", "blocked-drop"))


def test_holes_without_drops_are_shared_by_points() -> None:
    """Where a plan counts holes and the rates give no drop, each point bears the same part of the holes."""
    inputs = context().inputs
    counted = made({"outlet": 1}, {"outlet": 3}, Fraction(0), 4, 0)
    rows = {row.key: row for row in earned(inputs, kit_of(inputs, ITEM), counted, Fraction(3, 4))}
    assert rows["list-points"].cost == (Fraction("165.93") + Fraction("106.9225")) * 100
    assert rows["new-places"].cost == rows["list-points"].cost


def test_an_option_that_leaves_holes_open_bears_none() -> None:
    """What the homeowner closes costs us nothing."""
    inputs = context().inputs
    open_ = Counts({"outlet": 1}, {}, Fraction(1), 1, 0, 0, 0, 0, 1, 1, 1, 0, Fraction(0), 0)
    rows = {row.key: row for row in earned(inputs, kit_of(inputs, BARE), open_, Fraction(3, 4))}
    assert rows["list-points"].cost == (Fraction("165.93") + Fraction("84.44")) * 100


def test_a_price_for_every_point_has_no_set_prices() -> None:
    """It is no sum of them, so that nothing is said of what one earns."""
    assert found(context(), ONE) == ()
