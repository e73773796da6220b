"""Where a list turns dearer than the one price, drawn: what a bar shows is what the figures say."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from markupsafe import Markup
from msgspec.structs import replace

from sitegen.errors import BuildError, FigureError
from sitegen.figure import Figure, Source, int_of
from sitegen.offer.offer import Offer
from sitegen.sheets.break_even_chart import INSET, LEAST, BreakEvenChart, BreakEvenCharts, break_even_charts
from sitegen.sheets.charts import FOOT, MOST, TOP
from sitegen.sheets.words import looked_up
from tests.built import House

BAR = re.compile(r"M([\d.]+) ([\d.]+)h([\d.]+)V([\d.]+)h-\3z")
STEM = "steps.per-item.paid"
SEEN = Source("survey", "line 4")
NEAR = 0.11                     # places in the drawing are written to a tenth


@pytest.fixture(scope="module")
def offer(house: House) -> Offer:
    """Each house of the demo."""
    return house.offer


@pytest.fixture(scope="module")
def drawn(offer: Offer) -> BreakEvenCharts:
    """Its lists against the one price."""
    made = break_even_charts(offer.outcome)
    assert made
    return made


def bars(path: str) -> dict[float, tuple[float, float]]:
    """Where each bar of a path stands, and the dollars-up ends of it, lower place last."""
    found = {round(float(x) + float(width) / 2, 1): (float(top), float(foot))
             for x, top, width, foot in BAR.findall(path)}
    assert len(found) == path.count("M")
    return found


def laid_out(counts: list[int]) -> tuple[float, float]:
    """How wide a bar is, and from one to the next: the first and the last stand over their numbers."""
    width = min(256 / (counts[-1] - counts[0] + 1) * .62, 12)
    return width, (256 - width - 2 * INSET) / (counts[-1] - counts[0])


def ends(drawn: BreakEvenCharts, turning: BreakEvenChart, offer: Offer) -> list[tuple[int, float, float]]:
    """For each count of points the least and the most cents that its bars, filled and hollow, reach from and to."""
    foot, top = int_of(drawn.ticks[-1]), int_of(drawn.ticks[0])
    counts = list(offer.outcome.steps.can_be)
    full, hollow = bars(turning.full), bars(turning.open)
    width, pitch = laid_out(counts)
    found = []
    for points in counts:
        x = INSET + (points - counts[0]) * pitch + width / 2
        at = [bar for some in (full, hollow) for place, bar in some.items() if abs(place - x) < pitch / 3]
        assert at, points
        places = min(top_of for top_of, _ in at), max(foot_of for _, foot_of in at)
        low, high = (foot + (FOOT - place) / (FOOT - TOP) * (top - foot) for place in reversed(places))
        found.append((points, low, high))
    return found


def test_a_bar_reaches_from_the_fewest_cables_to_the_most(offer: Offer, drawn: BreakEvenCharts) -> None:
    """Each count of points has its bar, from the least to the most that the list comes to, read off the scale."""
    cents = (int_of(drawn.ticks[0]) - int_of(drawn.ticks[-1])) / (FOOT - TOP)
    for turning in drawn.each:
        option = next(option for option in offer.outcome.steps.options if option.key == turning.option.key)
        for points, low, high in ends(drawn, turning, offer):
            totals = [option.total_at((points, feeds)) for feeds in offer.outcome.steps.can_be[points]]
            slack = NEAR * cents + max(0.0, (LEAST * cents - (max(totals) - min(totals))) / 2)
            assert low == pytest.approx(min(totals), abs=slack)
            assert high == pytest.approx(max(totals), abs=slack)


def test_a_bar_is_filled_at_or_under_the_line_and_hollow_above(offer: Offer, drawn: BreakEvenCharts) -> None:
    """A count whose totals are all at or under what One price comes to has no hollow part, one all above it no filled
    part."""
    assert offer.outcome.one_price
    steps = offer.outcome.steps
    one = next(option for option in steps.options if option.key == offer.outcome.one_price.key)
    line = one.total_at((min(steps.can_be), 0))
    counts = list(offer.outcome.steps.can_be)
    width, pitch = laid_out(counts)
    for turning in drawn.each:
        option = next(option for option in offer.outcome.steps.options if option.key == turning.option.key)
        for points in counts:
            totals = [option.total_at((points, feeds)) for feeds in offer.outcome.steps.can_be[points]]
            x = INSET + (points - counts[0]) * pitch + width / 2
            has = [any(abs(place - x) < pitch / 3 for place in bars(path)) for path in (turning.full, turning.open)]
            assert has == [min(totals) <= line, max(totals) > line], points


def test_the_words_say_where_it_turns(offer: Offer, drawn: BreakEvenCharts) -> None:
    """Each list names the counts of its own break-even, or that it never or always costs less."""
    assert [turning.option.key for turning in drawn.each] == [option.key for option in offer.outcome.options
                                                              if not option.covers_all]
    for turning in drawn.each:
        even = next(even for even in offer.outcome.break_even if even.key == turning.option.key)
        if even.settled:
            assert (turning.turns, turning.slots) == (
                "pay.turning.never" if even.usual_list else "pay.turning.always", {})
        else:
            assert set(turning.slots.values()) == {even.list_up_to, even.price_from} - {None}
            assert turning.turns == f"pay.turning.{'-'.join(turning.slots) or 'feeds'}"


def test_the_scale_is_in_even_whole_steps_and_holds_everything(offer: Offer, drawn: BreakEvenCharts) -> None:
    """The ticks are evenly spaced, five steps at most, and nothing lies beyond them."""
    ticks = [int_of(tick) for tick in drawn.ticks]
    assert 2 <= len(ticks) <= MOST + 1
    assert len({high - low for high, low in pairwise(ticks)}) == 1
    assert drawn.grid.count("M") == len(ticks)
    one = offer.outcome.one_price
    assert one
    totals = [option.total_at((points, feeds)) for option in offer.outcome.steps.options
              for points, some in offer.outcome.steps.can_be.items() for feeds in some]
    assert ticks[-1] <= min(*totals, int_of(one.price))
    assert ticks[0] >= max(*totals, int_of(one.price))


def test_no_drawing_where_nothing_more_can_turn_up(offer: Offer) -> None:
    """A house with one step has nothing to draw."""
    steps = offer.outcome.steps
    first = next(iter(steps.can_be))
    one = replace(steps, can_be={first: steps.can_be[first][:1]})
    assert break_even_charts(replace(offer.outcome, steps=one)) is None


def paid(points: int, feeds: int, cents: int) -> Figure:
    """What is paid at one step."""
    return Figure(f"{STEM}.p{points}.f{feeds}", cents, "cents, forecast", "Paid.", SEEN)


def test_figures_are_looked_up_by_name() -> None:
    """Names that count on by one stand behind one name, each by what it has more; every other figure behind its own."""
    some = (paid(6, 2, 100), paid(7, 2, 150), paid(7, 3, 200), paid(7, 5, 300), paid(8, 9, 4), paid(8, 10, 3))
    assert looked_up(some, STEM) == f"{STEM} p6.f2=100 p7.f2=150+50 p7.f5=300 p8.f9=4+-1"
    assert looked_up((), STEM) == Markup(STEM)


@pytest.mark.parametrize("value", [12, "p6.f2=100", None, replace(paid(6, 2, 100), name="options.per-item.price"),
                                   replace(paid(6, 2, 100), unit="chance", value=0.5)])
def test_only_figures_under_the_stem_are_looked_up(value: object) -> None:
    """Anything but a Figure of that name is refused."""
    with pytest.raises(BuildError, match=r"^only whole Figures under steps\.per-item\.paid can be looked up there"):
        looked_up((paid(6, 2, 100), value), STEM)


@pytest.mark.parametrize("value", [replace(paid(6, 2, 100), private=True),
                                   replace(paid(6, 2, 100), unit="twentieths")])
def test_a_private_figure_and_a_chance_are_not_looked_up(value: Figure) -> None:
    """What may not stand on a page is given to no script either."""
    with pytest.raises(FigureError):
        looked_up((value,), STEM)
