"""The stepper of sheet 4 in a real browser: every position against the figures that the command prints."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page

from sitegen.build import build
from sitegen.units import dollars, forecast
from sitegen.workspace import Workspace
from tests.browser.seen import opened as opened_at
from tests.built import HOUSES, built
from tests.helpers import DEMO, JOB, edit, sitegen

SHEET = "what-you-could-pay.html"
LISTS = ("minimal-protection", "per-item")
OPTIONS = (*LISTS, "fixed-guarantee")
PLASTER = "plaster-finish"

Step = tuple[int, int]

READ = """all => [...all.querySelectorAll('[data-option]')].map(row => [...row.querySelectorAll('data')]
  .map(data => ({value: Number(data.value), text: data.innerText, name: data.dataset.figure || null})))"""

NAMES = "all => all.map(data => data.dataset.figure || null)"

CLICK_THROUGH = """([all, read]) => {
  const rows = eval(read), seen = [], at = name => Number(all.querySelector('[data-at=' + name + ']').innerText);
  const press = (name, kind) => {
    const button = all.querySelector('[data-step=' + name + '] .' + kind);
    if (!button || button.getAttribute('aria-disabled') === 'true') return false;
    button.click();
    return true;
  };
  do {
    while (press('feeds', 'fewer'));
    do seen.push({points: at('points'), feeds: at('feeds'), options: rows(all),
                  cheapest: all.querySelector('[data-at=cheapest]').innerText});
    while (press('feeds', 'further'));
  } while (press('points', 'further'));
  return seen;
}"""
"""Every position, by the buttons alone."""


@dataclass
class Stepped:
    """One house: its site, its figures as the command prints them, and what the stepper ought to answer."""

    job: str
    folder: Path
    home: Path = DEMO

    @cached_property
    def figures(self) -> dict[str, int]:
        """The value of every whole figure, by name, as the command prints them."""
        done = sitegen("figures", self.job, "--json", "--home", str(self.home), cwd=self.home)
        assert done.returncode == 0, done.stderr
        return {figure["name"]: figure["value"] for figure in json.loads(done.stdout)
                if isinstance(figure["value"], int)}

    @cached_property
    def steps(self) -> list[Step]:
        """Every count of points and feeds that the figures know, in order."""
        found = (re.fullmatch(r"steps\.per-item\.paid\.p(\d+)\.f(\d+)", name) for name in self.figures)
        return sorted((int(one[1]), int(one[2])) for one in found if one)

    def paid(self, option: str, step: Step) -> int:
        """Paid to the firm at one step [cents]; a price for every point stands with the cases that are known."""
        certain = self.figures.get(f"steps.{option}.certain", self.figures[f"options.{option}.price"])
        return self.figures.get(f"steps.{option}.paid.p{step[0]}.f{step[1]}", certain)

    def later(self, option: str, step: Step) -> dict[str, int]:
        """What is bought elsewhere at one step, thing by thing [cents]."""
        shape = re.compile(rf"steps\.{option}\.later\.([a-z-]+)\.p{step[0]}")
        found = ((shape.fullmatch(name), value) for name, value in self.figures.items())
        return {name[1]: value for name, value in found if name}

    def answers(self, step: Step, without: frozenset[str] = frozenset(), *,
                ours: bool = False) -> list[list[tuple[int, str]]]:
        """For each option what is paid and what it comes to: the cents, and as they are read; `ours` where the firm
        closes the holes that are left open."""
        rows = []
        for option in OPTIONS:
            paid = self.paid(option, step)
            later = {key: cents for key, cents in self.later(option, step).items() if key not in without}
            if ours and later.pop(PLASTER, None) is not None:
                paid += self.figures[f"steps.{option}.closing.p{step[0]}"]
            total = paid + sum(later.values())
            rows.append([(paid, forecast(paid)), (total, forecast(total))])
        return rows


@pytest.fixture(scope="module", params=HOUSES)
def stepped(request: pytest.FixtureRequest) -> Stepped:
    """Each house of the demo, built."""
    return Stepped(request.param, built(request.param).folder)


@pytest.fixture(scope="module")
def alder() -> Stepped:
    """The first house of the demo, built."""
    return Stepped(JOB, built(JOB).folder)


@contextmanager
def opened(browser: Browser, folder: Path, **options: Any) -> Iterator[Page]:
    """Sheet 4, opened from disk on a phone, with the fold of the stepper open."""
    with opened_at(browser, folder / SHEET, 390, **options) as seen:
        seen.page.locator("#pay-set > summary").click()
        yield seen.page


def at(page: Page) -> Step:
    """The step that the answer is for."""
    points, feeds = (int(page.locator(f"[data-at={name}]").inner_text()) for name in ("points", "feeds"))
    return points, feeds


def answers(page: Page) -> list[list[tuple[int, str]]]:
    """For each option what is paid and what it comes to, as the page shows it."""
    rows: list[list[dict[str, Any]]] = page.locator("[data-steps]").evaluate(READ)
    return [[(one["value"], one["text"]) for one in row] for row in rows]


def tick(page: Page, what: str) -> Locator:
    """The tick boxes of the cables (`brings`) or of what is bought elsewhere (`item`)."""
    return page.locator(f"[data-{what}] input[type=checkbox]")


def field(page: Page, name: str) -> Locator:
    """The field of a count."""
    return page.locator(f"[data-step={name}] input")


def button(page: Page, name: str, kind: str) -> Locator:
    """The button that takes one from a count, or adds one."""
    return page.locator(f"[data-step={name}] .{kind}")


def test_every_position_answers_as_the_figures_do(browser: Browser, stepped: Stepped) -> None:
    """Stepped through from known today to the last, each position answers for all options to the cent of the
    figures."""
    with opened(browser, stepped.folder) as page:
        seen = page.evaluate(CLICK_THROUGH, [page.locator("[data-steps]").element_handle(), READ])
    assert [(one["points"], one["feeds"]) for one in seen] == stepped.steps
    names = [option["name"] for option in sorted(_options(stepped), key=lambda option: option["price"])]
    for one in seen:
        step = one["points"], one["feeds"]
        wanted = stepped.answers(step)
        assert [[(cell["value"], cell["text"]) for cell in row] for row in one["options"]] == wanted, step
        for option, row in zip(LISTS, one["options"], strict=False):
            assert row[0]["name"] == f"steps.{option}.paid.p{step[0]}.f{step[1]}"
        least = min(row[1][0] for row in wanted)
        assert one["cheapest"] == ", ".join(
            name for name, row in zip(names, wanted, strict=True) if row[1][0] == least)


def _options(stepped: Stepped) -> list[dict[str, Any]]:
    names = {"minimal-protection": "Wiring only", "per-item": "Per item", "fixed-guarantee": "One price"}
    return [{"name": names[option], "price": stepped.figures[f"options.{option}.price"]} for option in OPTIONS]


def test_every_choice_of_what_to_leave_out_moves_all_options_by_its_figures(browser: Browser, stepped: Stepped) -> None:
    """What is struck out leaves the total of each option by just its own figure, whatever else is, and comes back.

    What is left then is not called the same finish.
    """
    with opened(browser, stepped.folder) as page:
        items = [str(label.get_attribute("data-item")) for label in page.locator("[data-item]").all()]
        assert set(items) == set(stepped.later("minimal-protection", stepped.steps[0]))
        for step in (stepped.steps[0], stepped.steps[-1]):
            field(page, "points").fill(str(step[0]))
            assert at(page) == step
            for chosen in range(2 ** len(items)):
                without = frozenset(key for i, key in enumerate(items) if chosen >> i & 1)
                for i, key in enumerate(items):
                    tick(page, "item").nth(i).set_checked(key in without)
                assert answers(page) == stepped.answers(step, without)
                assert ("to the same finish" in page.locator(".step-now").inner_text().lower()) == (not without)
            for i in range(len(items)):
                tick(page, "item").nth(i).uncheck()
        assert answers(page) == stepped.answers(stepped.steps[-1])


def closer(page: Page, by: str) -> Locator:
    """The button that says who closes the holes: `elsewhere` or `ours`."""
    return page.locator(f"[data-closer={by}] input[type=radio]")


def test_both_prices_of_a_hole_stand_side_by_side(browser: Browser, stepped: Stepped) -> None:
    """What a plasterer elsewhere asks a hole and what we ask stand in one sentence, and which one the sums count in
    the next; so they do without scripts, where there is nothing to pick."""
    prices = [dollars(stepped.figures[name]) for name in (f"later.{PLASTER}.usual",
                                                          "options.minimal-protection.care.to-close-each")]
    said = ("Another plasterer asks about {} a hole, and we ask about {}. The sums on this page are for another "
            "plasterer.").format(*prices)
    for enabled in (True, False):
        with opened(browser, stepped.folder, java_script_enabled=enabled) as page:
            group = page.get_by_role("group", name="Who closes the holes that are left open")
            assert group.locator(".note").inner_text() == said
            assert group.locator("input").count() == (2 if enabled else 0)
            if enabled:
                assert (closer(page, "elsewhere").is_checked(), closer(page, "ours").is_checked()) == (True, False)


def test_who_closes_the_holes_moves_the_options_that_leave_them_alone(browser: Browser, stepped: Stepped) -> None:
    """Picked, our price to close the holes is paid to us in the place of the plasterer's, at every count; left out,
    neither is; picked back, all is as before."""
    out = frozenset({PLASTER})
    with opened(browser, stepped.folder) as page:
        box = page.locator(f"[data-item={PLASTER}] input")
        paid = page.locator("[data-option] td:nth-of-type(1) data")
        names = paid.evaluate_all(NAMES)
        before = answers(page)
        for points in sorted({points for points, _ in stepped.steps}):
            field(page, "points").fill(str(points))
            step = at(page)
            assert step[0] == points
            assert answers(page) == stepped.answers(step)
            closer(page, "ours").check()
            assert answers(page) == stepped.answers(step, ours=True) != stepped.answers(step)
            assert "to the same finish" in page.locator(".step-now").inner_text().lower()
            box.check()
            assert answers(page) == stepped.answers(step, out, ours=True) == stepped.answers(step, out)
            box.uncheck()
            closer(page, "elsewhere").check()
        field(page, "points").fill(str(stepped.steps[0][0]))
        assert answers(page) == before
        assert paid.evaluate_all(NAMES) == names


def test_a_sum_of_the_readers_own_has_no_name_of_a_figure(browser: Browser, alder: Stepped) -> None:
    """What is paid with our price for the holes is two figures together, so it carries the name of neither."""
    with opened(browser, alder.folder) as page:
        closer(page, "ours").check()
        first = page.locator("[data-steps]").evaluate(READ)[0]
        assert [cell["name"] for cell in first] == [None, None]
        closer(page, "elsewhere").check()
        assert page.locator("[data-steps]").evaluate(READ)[0][0]["name"] == "steps.minimal-protection.paid.p0.f0"


def test_the_keyboard_picks_who_closes_the_holes(browser: Browser, alder: Stepped) -> None:
    """An arrow key goes from the one to the other and back."""
    with opened(browser, alder.folder) as page:
        closer(page, "elsewhere").focus()
        for key, ours in (("ArrowDown", True), ("ArrowUp", False)):
            page.keyboard.press(key)
            assert closer(page, "ours").is_checked() == ours
            assert answers(page) == alder.answers(alder.steps[0], ours=ours)


def test_a_cable_found_old_sets_points_and_cables_together(browser: Browser, stepped: Stepped) -> None:
    """Each tick brings the points and the feed of its cable, all of them are the last step, and none is known today."""
    known = stepped.steps[0]
    brings = re.compile(r"steps\.cables\.(.+)\.points")
    keys = [found[1] for found in map(brings.fullmatch, stepped.figures) if found]
    with opened(browser, stepped.folder) as page:
        assert tick(page, "brings").count() == len(keys) > 0
        step = known
        for i in range(len(keys)):
            stem = str(page.locator("[data-brings]").nth(i).get_attribute("data-brings")).split(" ")[0]
            tick(page, "brings").nth(i).check()
            step = step[0] + stepped.figures[f"{stem}.points"], step[1] + stepped.figures[f"{stem}.feeds"]
            assert at(page) == step
            assert field(page, "points").input_value() == str(step[0])
            assert answers(page) == stepped.answers(step)
        assert step == stepped.steps[-1]
        for i in range(len(keys)):
            tick(page, "brings").nth(i).uncheck()
        assert at(page) == known
        assert answers(page) == stepped.answers(known)


def test_a_count_set_by_hand_clears_the_cables(browser: Browser, alder: Stepped) -> None:
    """A tick and a count never say two things: stepping by hand takes every tick away."""
    with opened(browser, alder.folder) as page:
        tick(page, "brings").nth(0).check()
        before = at(page)
        button(page, "points", "further").click()
        assert at(page)[0] == before[0] + 1
        assert not any(box.is_checked() for box in tick(page, "brings").all())
        assert answers(page) == alder.answers(at(page))


def test_a_count_starts_midway_in_the_cables_it_can_be_on(browser: Browser, stepped: Stepped) -> None:
    """Set by hand, a count stands on the middle of the cables that it can be on, the upper of two."""
    with opened(browser, stepped.folder) as page:
        for points in sorted({points for points, _ in stepped.steps}, reverse=True):
            field(page, "points").fill(str(points))
            feeds = [some for count, some in stepped.steps if count == points]
            assert at(page) == (points, feeds[len(feeds) // 2])


def test_it_starts_at_what_is_known_and_stops_there_and_at_the_most(browser: Browser, stepped: Stepped) -> None:
    """Minus goes no lower than what is known today, plus no higher than every point that could be old."""
    first, last = stepped.steps[0], stepped.steps[-1]
    with opened(browser, stepped.folder) as page:
        assert at(page) == first == (stepped.figures["steps.known.points"], stepped.figures["steps.known.feeds"])
        minus, plus = button(page, "points", "fewer"), button(page, "points", "further")
        assert (minus.get_attribute("aria-disabled"), plus.get_attribute("aria-disabled")) == ("true", "false")
        minus.click(force=True)
        assert at(page) == first
        for _ in stepped.steps:
            if plus.get_attribute("aria-disabled") == "false":
                plus.click()
        assert at(page) == last
        assert (minus.get_attribute("aria-disabled"), plus.get_attribute("aria-disabled")) == ("false", "true")
        plus.click(force=True)
        assert at(page) == last
        assert answers(page) == stepped.answers(last)


@pytest.mark.parametrize(("typed", "place"), [("0", 0), ("999", -1), ("-3", 0), ("", 0)])
def test_what_cannot_be_is_set_to_what_can(browser: Browser, stepped: Stepped, typed: str, place: int) -> None:
    """A count below what is known, beyond the most, or nothing at all becomes the nearest step on leaving the field."""
    with opened(browser, stepped.folder) as page:
        field(page, "points").fill(typed)
        field(page, "points").press("Tab")
        step = stepped.steps[place]
        assert at(page) == step
        assert field(page, "points").input_value() == str(step[0])
        assert answers(page) == stepped.answers(step)


def test_a_count_that_no_cables_make_goes_to_the_next_that_they_do(browser: Browser) -> None:
    """Old points come by cable: a count that cannot come up is passed over, typed or stepped."""
    house = Stepped("spindle-row", built("spindle-row").folder)
    counts = sorted({points for points, _ in house.steps})
    gap = next(low for low, high in pairwise(counts) if high > low + 1)
    over = counts[counts.index(gap) + 1]
    with opened(browser, house.folder) as page:
        box = field(page, "points")
        box.fill(str(gap + 1))
        box.press("Tab")
        assert at(page)[0] == over
        box.press("ArrowDown")
        assert at(page)[0] == gap
        box.press("ArrowUp")
        assert at(page)[0] == over
        assert answers(page) == house.answers(at(page))


def test_the_keyboard_alone_does_it_all(browser: Browser, alder: Stepped) -> None:
    """Tab reaches each control in order; keys type, step, tick and strike out, and the focus is not lost."""
    with opened(browser, alder.folder) as page:
        on = "() => document.activeElement.getAttribute('aria-label') || document.activeElement.type"
        button(page, "points", "fewer").focus()
        order = [page.evaluate(on)]
        for _ in range(6 + tick(page, "brings").count() + tick(page, "item").count()):
            page.keyboard.press("Tab")
            order.append(page.evaluate(on))
        count = tick(page, "brings").count() + tick(page, "item").count()
        assert order == ["One old point fewer", "number", "One old point more", "One circuit fewer", "number",
                         "One circuit more", *["checkbox"] * count, "radio"]
        button(page, "points", "further").focus()
        for key in ("Enter", "Space", "Enter"):
            page.keyboard.press(key)
        assert at(page)[0] == alder.steps[0][0] + 3
        page.keyboard.press("Shift+Tab")
        page.keyboard.type("")
        page.keyboard.press("ControlOrMeta+a")
        page.keyboard.type("20")
        assert at(page)[0] == 20
        page.keyboard.press("ArrowUp")
        assert at(page)[0] == 21
        before = at(page)[1]
        field(page, "feeds").focus()
        page.keyboard.press("ArrowDown")
        assert at(page) == (21, before - 1)
        assert answers(page) == alder.answers((21, before - 1))
        tick(page, "item").nth(0).focus()
        page.keyboard.press("Space")
        out = frozenset({str(page.locator("[data-item]").nth(0).get_attribute("data-item"))})
        assert answers(page) == alder.answers((21, before - 1), out)
        tick(page, "brings").nth(0).focus()
        page.keyboard.press("Space")
        assert at(page) != (21, before - 1)
        button(page, "points", "further").focus()
        for _ in range(40):
            page.keyboard.press("Enter")
        assert at(page) == alder.steps[-1]
        assert page.evaluate(on) == "One old point more"


def test_typing_a_count_and_leaving_keeps_the_cables_set_after(browser: Browser, alder: Stepped) -> None:
    """Leaving a field whose count was taken already changes nothing."""
    with opened(browser, alder.folder) as page:
        field(page, "points").fill("20")
        first = at(page)[1]
        other = next(feeds for points, feeds in alder.steps if points == 20 and feeds != first)
        field(page, "feeds").fill(str(other))
        field(page, "feeds").press("Tab")
        field(page, "points").focus()
        field(page, "points").press("Tab")
        assert at(page) == (20, other)


def test_the_answer_is_read_out(browser: Browser, alder: Stepped) -> None:
    """The step and all three answers stand in one live region, every control has a name, and is hit with a thumb."""
    with opened(browser, alder.folder) as page:
        live = page.locator("[data-steps] [aria-live=polite][aria-atomic=true]")
        assert live.count() == 1
        assert live.locator("[data-at]").count() == 3
        assert live.locator("[data-option]").count() == 3
        controls = page.locator("[data-steps] :is(button, input)").all()
        assert len(controls) == 6 + tick(page, "brings").count() + tick(page, "item").count() + 2
        for control in controls:
            hit = control.evaluate("""e => { const b = (e.closest('label') || e).getBoundingClientRect();
                return [b.width, b.height]; }""")
            assert min(hit) >= 44, hit
        tree = page.locator("[data-steps]").aria_snapshot()
        (low, few), (high, many) = alder.steps[0], alder.steps[-1]
        brings = page.locator("[data-brings]").first.inner_text().replace("\n", " ")
        for named in ('button "One old point fewer"', 'button "One circuit more"',
                      f'spinbutton "Old points not on the list, from {low} to {high}"',
                      f'spinbutton "Circuits that they share, from {few} to {many}"', f'checkbox "{brings}"',
                      'radio "Another plasterer closes them" [checked]', 'radio "We close them"'):
            assert named in tree, tree


def test_the_answer_stays_in_sight_of_what_is_ticked(browser: Browser, alder: Stepped) -> None:
    """On a phone the answer stays on the screen while the last box is ticked, and does not cover what has the focus."""
    with opened(browser, alder.folder) as page:
        last = tick(page, "item").last
        for box in (*tick(page, "brings").all(), last):
            box.focus()
            live = page.locator(".step-now").bounding_box()
            there = box.bounding_box()
            assert live
            assert there
            assert live["y"] >= -1
            assert there["y"] >= live["y"] + live["height"]
            assert there["y"] + there["height"] <= 844 + 1      # scrolling lands on whole pixels


def test_without_scripts_the_same_facts_stand_as_a_table(browser: Browser, stepped: Stepped) -> None:
    """With scripts off no control is there, known today is answered, and the short table holds its counts in order."""
    with opened(browser, stepped.folder, java_script_enabled=False) as page:
        assert page.locator("[data-steps] :is(button, input)").count() == 0
        first = stepped.steps[0]
        assert at(page) == first
        assert [[cell[0] for cell in row] for row in answers(page)] == \
               [[cell[0] for cell in row] for row in stepped.answers(first)]
        said = page.locator(".step-few").inner_text()
    figures = stepped.figures
    rows = sorted({int(name.split(".")[1][1:]) for name in figures if re.fullmatch(r"steps\.p\d+\.points", name)})
    assert {first[0], figures["hidden.p50"], figures["hidden.most"]} <= set(rows)
    assert [int(found) if found.isdigit() else 0 for found in re.findall(r"(\d+|No) old points?\b", said)] == rows
    for points in rows:
        some = [step for step in stepped.steps if step[0] == points]
        for step in (some[0], some[-1]):
            for _, total in stepped.answers(step):
                assert total[1] in said


def test_scripts_change_no_word(browser: Browser, stepped: Stepped) -> None:
    """The sheet reads the same with scripts on and off, until something is set."""
    texts = []
    for enabled in (True, False):
        with opened(browser, stepped.folder, java_script_enabled=enabled) as page:
            texts.append(page.locator("main").inner_text())
    assert texts[0] == texts[1]


def test_a_house_with_nothing_unsettled_has_no_step(browser: Browser, tmp_path: Path) -> None:
    """Where each cable was traced there is nothing to step; what is bought elsewhere can still be left out."""
    home = tmp_path / "firm"
    shutil.copytree(DEMO, home, ignore=shutil.ignore_patterns("site", "alder-lane", "garnet-street", "spindle-row"))
    job = "juniper-court"
    edit(home / job / "job.yaml", "evidence: not traced",
         "evidence: new\n    seen: grounded cable in plain view along its whole length")
    edit(home / job / "job.yaml", "about: points\n    rooms: [Front porch]",
         "about: points\n    rooms: [Front porch]\n    left: The cord is the owners' to replace.")
    house = Stepped(job, build(Workspace(home, tmp_path / "site"), home / job).folder, home)
    assert house.steps == [(0, 0)]
    with opened(browser, house.folder) as page:
        assert page.locator("[data-step], [data-brings], .break_even_charts, .step-few").count() == 0
        assert answers(page) == house.answers((0, 0))
        keys = [str(label.get_attribute("data-item")) for label in page.locator("[data-item]").all()]
        assert keys
        for key, box in zip(keys, tick(page, "item").all(), strict=True):
            box.check()
            assert answers(page) == house.answers((0, 0), frozenset({key}))
            box.uncheck()
