"""Sheet 6, room by room, held over all houses of the demo."""

from __future__ import annotations

import gzip
import re
from collections.abc import Iterator
from typing import get_args

import pytest
from bs4 import Tag

from sitegen.figure import Figure
from sitegen.offer.design.load_figures import LoadSeen
from sitegen.offer.offer import Offer
from sitegen.sheets.pages import rooms_words
from sitegen.sheets.pages.living import REASONS
from sitegen.sheets.words import pieces
from sitegen.survey.rule_sets import code
from sitegen.trade.circuits import protections
from sitegen.trade.kinds import EDITIONS, ROOMS, TROUBLE
from sitegen.trade.lead_dust import Reason
from sitegen.trade.plaster import BANDS
from tests.built import HOUSES, built
from tests.helpers import ROOT

DRAWN = "alder-lane"
LARGEST, SCRIPTS = 15_200, 2_000
WORDS = pieces((ROOT / "content" / "sheets" / "rooms.md").read_text("utf-8"))
ENDS_THE_PRICE = {"calcimine", "loose plaster", "tile", "paneling", "second skin"}
"""Trouble in a room with which the price of a patch does not hold."""

MARKS = {"old": "known", "unseen": "unknown", "newer": "newer"}


class House:
    """One house: its offer, and its sheet of rooms as it was built."""

    def __init__(self, job: str) -> None:
        made = built(job)
        self.job = job
        self.offer: Offer = made.offer
        self.path = made.folder / "rooms.html"
        self.page = made.pages["rooms.html"]

    def rooms(self) -> Iterator[tuple[int, str, Tag]]:
        """Number, key and block of every room, in the order of the offer."""
        for at, room in enumerate(self.offer.rooms, 1):
            block = self.page.find(id=f"rooms-{room.key}")
            assert isinstance(block, Tag), room.key
            yield at, room.key, block


@pytest.fixture(scope="module", params=HOUSES)
def house(request: pytest.FixtureRequest) -> House:
    """Each house in turn."""
    return House(request.param)


def text(tag: Tag | None) -> str:
    """What a reader sees, its white space made single."""
    assert tag is not None
    return " ".join(tag.get_text().split())


def shows(tag: Tag, figure: Figure) -> bool:
    """Whether a figure stands in a part of the page, with its value."""
    found = tag.find("data", attrs={"data-figure": figure.name})
    return isinstance(found, Tag) and found["value"] == figure.raw()


def fold_of(block: Tag) -> Tag:
    """The fold that a room stands in."""
    fold = block.parent
    assert isinstance(fold, Tag)
    assert fold.name == "details"
    return fold


def line(block: Tag, label: str) -> Tag | None:
    """The small line of a room under one label."""
    return next((row for row in block.select("dl.more > div") if text(row.find("dt")) == label), None)


# --- the plan --------------------------------------------------------------------------------------------


def test_a_plan_is_drawn_where_places_were_taken_and_nowhere_else(house: House) -> None:
    """With the place of every room each storey of several is drawn; with none there is no drawing, and the sheet says
    so."""
    plans, storeys = house.page.select("svg.plan"), house.page.select(".storey")
    assert len(storeys) == len({room.floor.value for room in house.offer.rooms})
    several = [storey for storey in storeys if len(storey.select(".room")) > 1]
    assert len(plans) == (len(several) if house.job == DRAWN else 0)
    says = text(house.page.select_one(".answer + .note"))
    assert ("We have no plan" in says) == (house.job != DRAWN)


def test_every_room_has_one_number_in_list_plan_and_heading(house: House) -> None:
    """The line of each room's fold begins with its number in the order of the walk and its name."""
    for at, key, block in house.rooms():
        name = next(room.name.text for room in house.offer.rooms if room.key == key)
        assert text(fold_of(block).find("summary")).startswith(f"{at} {name}:")


def test_the_line_of_a_room_has_its_points_and_its_holes(house: House) -> None:
    """A fold says what is inside with its figure: the points there now, and the holes of the option that makes most."""
    options = house.offer.protection.options.values()
    for _, key, block in house.rooms():
        line_of = fold_of(block).find("summary")
        assert isinstance(line_of, Tag)
        room = next(room for room in house.offer.rooms if room.key == key)
        now = sum(int(kind.now.raw()) for kind in room.kinds)
        holes = [int(option.rooms[key].openings.raw()) if key in option.rooms else 0 for option in options]
        said = {0: "no point yet", 1: "one point"}.get(now, f"{now} points")
        most = {0: "no holes", 1: "one hole"}.get(max(holes), f"{max(holes)} holes")
        assert text(line_of).split(": ")[1].startswith(f"{said}, "), key
        assert text(line_of).endswith((most, f"{most} at most")), key
        assert ("up to" in text(line_of) or "at most" in text(line_of)) == (len(set(holes)) > 1), key


def test_an_anchor_of_a_room_lies_in_its_fold(house: House) -> None:
    """A link to a room opens its fold without a script: what it names stands inside, after the line."""
    for _, key, block in house.rooms():
        assert block.find_parent("details") is fold_of(block)
        assert fold_of(block)["id"] == f"rooms-{key}-fold"
        assert not fold_of(block).has_attr("open")


def test_each_room_that_is_drawn_leads_to_its_block(house: House) -> None:
    """A tap on a room of the plan leads into its fold; the keyboard passes through the lines of the folds."""
    links = house.page.select("svg.plan a")
    drawn = [str(room["id"]).removeprefix("rooms-") for storey in house.page.select(".storey")
             if storey.select("svg.plan") for room in storey.select(".room")]
    assert sorted(str(link["href"]) for link in links) == sorted(f"rooms.html#rooms-{key}" for key in drawn)
    assert {link["tabindex"] for link in links} <= {"-1"}


def test_a_drawing_holds_no_text_and_is_told_in_words(house: House) -> None:
    """Numbers in a plan are strokes; its name and its counts by state, but for noughts, stand beside it as text."""
    assert house.page.select("svg text, svg title") == []
    assert [text(link) for link in house.page.select("svg.plan a") if text(link)] == []
    for plan in house.page.select("svg.plan"):
        said = text(house.page.find(id=plan["aria-describedby"]))
        assert re.fullmatch(r"([1-9]\d* (old|not seen|on newer wiring)(, |$))+", said)
        assert said == ", ".join(re.findall(r"\d+ (?:old|not seen|on newer wiring)", said))
        assert text(house.page.find(id=plan["aria-labelledby"]))


def test_all_storeys_have_one_size_of_mark(house: House) -> None:
    """Every ring on the plans of a house has one radius, and a unit of each drawing is as large on the page."""
    plans = house.page.select("svg.plan")
    paths = [str(path["d"]) for plan in plans for path in plan.select(".disc, .unknown:not(.small), .newer path")
             if "dot" not in path.get("class", [])]
    radii = {radius for path in paths for radius in re.findall(r"a([\d.]+) ", path)}
    assert len(radii) == bool(plans)
    units = [float(str(plan["width"]).rstrip("%")) / float(str(plan["viewbox"]).split()[2]) for plan in plans]
    assert units == pytest.approx([max(units)] * len(units), rel=.001) if units else not plans
    if house.job == DRAWN:
        assert house.page.select("svg.plan .small") == []


def test_the_marks_of_the_plans_are_named_before_the_first(house: House) -> None:
    """Directly before the storeys stand the three marks of plans and rooms, with the words of the full legend."""
    legends = house.page.select("ul.on-plans")
    assert len(legends) == 1
    for legend in legends:
        after = [tag for tag in legend.find_next_siblings(True) if "vh" not in tag.get("class", [])]
        assert "storeys" in after[0]["class"]
        assert legend.find_previous("svg", class_="plan") is None
        named = {_shape(item.svg): text(item) for item in legend.select("li") if item.svg}
        full = {_shape(item.svg): text(item) for item in house.page.select(".how .legend li") if item.svg}
        assert list(named.values()) == [WORDS[f"mark.{key}"] for key in MARKS]
        assert named.items() <= full.items()


def test_what_is_blank_and_where_the_front_is_stands_by_the_plans(house: House) -> None:
    """With plans the note says what is blank and what the triangle means, which then stands once on the sheet."""
    plans = house.page.select("svg.plan")
    says = text(house.page.select_one(".answer + .note"))
    assert ("What is blank on a plan was not measured." in text(house.page.select_one(".how .notes"))) == bool(plans)
    assert ("small triangle" in says) == bool(plans) == (len(house.page.select("svg.plan .front")) == 1)


# --- the states of a point -------------------------------------------------------------------------------


def _shape(mark: Tag) -> str:
    return "".join(str(child) for child in mark.find_all(True))


def test_the_legend_tells_every_mark_by_shape(house: House) -> None:
    """Five marks, each of its own shape with its words, and no mark on the sheet that the legend leaves out."""
    legend = {_shape(item.svg): text(item) for item in house.page.select(".how .legend li") if item.svg}
    assert list(legend.values()) == [WORDS[f"mark.{key}"] for key in ("old", "unseen", "newer", "new", "dead")]
    assert {_shape(mark) for mark in house.page.select("svg.mark")} <= set(legend)


def test_newer_cable_as_seen_has_no_ground_tick(house: House) -> None:
    """A ring with a ground tick is new cable of ours; newer cable that was seen has none, since nobody tested it."""
    marks = [item.svg for item in house.page.select(".how .legend li")]
    newer, fresh = marks[2], marks[3]
    assert newer
    assert fresh
    assert newer.find("path") is None
    assert fresh.find("path") is not None
    assert all(mark.find("path") is None for mark in house.page.select(".kinds .newer"))


def test_blue_is_for_new_grounded_cable_alone(house: House) -> None:
    """Newer cable as seen is drawn in ink, on plans, in rooms and in legends; no rule gives its mark another colour."""
    assert house.page.select(".kinds .fresh, .plan .fresh, .on-plans .fresh") == []
    assert {text(item) for item in house.page.select(".legend li:has(.fresh)")} == {WORDS["mark.new"]}
    assert all("new points" in text(mark.find_parent("table")).lower() for mark in house.page.select("td .fresh"))
    rules = [rule for sheet in sorted((ROOT / "theme").rglob("*.css"))
             for rule in re.findall(r"([^{}]*\.newer[^{}]*)\{([^}]*)\}", sheet.read_text("utf-8"))]
    colours = {colour for _, body in rules for colour in re.findall(r"var\(--([\w-]+)\)", body)}
    assert rules
    assert colours == {"ink"}


def test_what_was_not_seen_is_drawn_heavier() -> None:
    """The most important mark has the heaviest ring, in lists and on plans, in the colour of its token."""
    marks, plan, start = ((ROOT / "theme" / path).read_text("utf-8")
                          for path in ("parts/marks/seen.css", "parts/plan/plan.css", "sheets/start.css"))
    assert ".unknown{stroke:var(--edge)}.unknown>*{stroke-width:2}" in marks
    assert re.search(r"\.unseen svg\{[^}]*stroke:var\(--edge\);stroke-width:2\}", start)
    heavy = re.search(r"\.plan \.unknown\{stroke-width:([\d.]+)\}", plan)
    plain = re.search(r"\.plan \*\{fill:none;stroke-width:([\d.]+)\}", plan)
    assert heavy
    assert plain
    assert float(heavy[1]) >= 2 > float(plain[1])


def test_every_point_of_a_room_has_its_mark(house: House) -> None:
    """In each line of a room there are as many marks of each state as the survey counted, and the count."""
    for room in house.offer.rooms:
        block = house.page.find(id=f"rooms-{room.key}")
        assert isinstance(block, Tag)
        rows = block.select(".kinds tbody tr")
        assert len(rows) == len(room.kinds)
        for row, kind in zip(rows, room.kinds, strict=True):
            assert {state: len(row.select(f"svg.{name}")) for state, name in MARKS.items()} == {
                state: getattr(kind, state).value for state in MARKS}
            assert shows(row, kind.now)
            assert shows(row, kind.want)
            assert shows(row, kind.listed) == bool(kind.listed.value)


# --- now and after ---------------------------------------------------------------------------------------


def test_every_option_says_what_it_does_in_a_room(house: House) -> None:
    """New points, holes and who closes them, option by option in order; or that it opens nothing; or that no option
    does."""
    offer = house.offer
    for _, key, block in house.rooms():
        cares = [(option, offer.protection.options[option.key].rooms.get(key)) for option in offer.outcome.options]
        rows = block.select(".does tbody tr")
        if not any(care for _, care in cares):
            assert rows == []
            assert WORDS["no-holes"] in text(block)
            continue
        assert [text(row.find("th")) for row in rows] == [option.name for option, _ in cares]
        for row, (option, care) in zip(rows, cares, strict=True):
            if care is None:
                assert WORDS["nothing"] in text(row)
                continue
            assert shows(row, care.boxes)
            assert shows(row, care.openings)
            closes = "us" if offer.terms[option.key].closes_holes == "us" else "you"
            assert text(row.find_all("td")[-1]) == (closes if care.openings.value else "")


def test_patches_that_are_not_filled_by_hand_are_named(house: House) -> None:
    """A patch behind a plate, a large one and one in a ceiling stand beside the holes; the rest goes without saying."""
    for _, key, block in house.rooms():
        for option, care in house.offer.protection.options.items():
            here = care.rooms.get(key)
            for band, count in zip(BANDS, here.bands if here else (), strict=False):
                told = bool(count.value) and band != "hand"
                every = here is not None and count.value == here.openings.value
                assert shows(block, count) == (told and not every), (key, option, band)
                if told and every:          # the count of holes is theirs, and their word stands beside it
                    assert WORDS[f"band-all.{band}"] in text(block)


def test_old_wire_of_a_room_is_told_with_the_option_that_ends_it(house: House) -> None:
    """Where a room has old points or points not seen, the cross says with which option their wire ends up dead."""
    one = house.offer.outcome.one_price
    assert one
    for room in house.offer.rooms:
        block = house.page.find(id=f"rooms-{room.key}")
        assert isinstance(block, Tag)
        here = any(kind.old.value or kind.unseen.value for kind in room.kinds)
        said = line(block, "Old wire")
        assert (said is not None) == here, room.key
        if said:
            assert said.select_one("svg.dead")
            assert one.name in text(said)


def test_every_trouble_word_is_named_with_what_it_does_to_the_price(house: House) -> None:
    """A room with trouble says what the word means; so does the open list of cautions, which leads to the row on it."""
    for room in house.offer.rooms:
        block = house.page.find(id=f"rooms-{room.key}")
        assert isinstance(block, Tag)
        cases = block.select(".case")
        assert len(cases) == len(room.trouble) + room.pipe_wrap
        for case, word in zip(cases, room.trouble, strict=False):
            said = WORDS[f"trouble.{word.replace(' ', '-')}"]
            assert said in text(case)
            item, = (one for one in house.page.select(".cautions li") if said in text(one))
            assert item.select(f'a[href="rooms.html#rooms-{room.key}"]')
            assert item.find_parent("details") is None
            assert house.page.select('.how a[href="compare.html#compare-row-2"]')


@pytest.mark.parametrize("word", TROUBLE)
def test_the_words_of_trouble_say_whether_a_patch_price_holds(word: str) -> None:
    """Every word of the survey has its words, and they end with whether the price of a patch holds."""
    said = WORDS[f"trouble.{word.replace(' ', '-')}"]
    assert said.lower().startswith(f"{word}:")
    assert said.endswith("does not hold here." if word in ENDS_THE_PRICE else "still holds.")


# --- lead, outlets, light, circuits ----------------------------------------------------------------------


NO_FIELD = frozenset({"not target housing", "prohibited practice", "window replacement"})
"""Reasons of the rule that no field of a job can bring."""


def test_every_reason_of_the_lead_rule_has_words() -> None:
    """Whatever the rule answers of a job, there is a sentence for it, and in a room with steps owed a reason."""
    assert set(rooms_words.LEAD) == set(get_args(Reason)) - NO_FIELD
    assert set(REASONS) <= set(rooms_words.LEAD)


def test_whatever_the_survey_and_the_design_say_has_its_words() -> None:
    """Tables of words hold what trouble, patches, circuits and alarms can be; a patch of a room is never a box's."""
    assert set(rooms_words.TROUBLE) == set(TROUBLE)
    assert set(BANDS) - set(rooms_words.BANDS) == {"hand", "plate"}
    assert set(rooms_words.SORTS) == {"small appliance", "laundry", "bathroom", "garage", "general"}
    rules = [code(edition).circuit for edition in EDITIONS]
    assert set(rooms_words.PLACES) == {place for rule in rules for place in (*rule.smoke_places, *rule.carbon_places)}
    assert set(rooms_words.PROTECTS) == {one for rule in rules for kind in ROOMS for one in protections(rule, kind)}


def test_lead_is_told_where_it_is_owed_and_why(house: House) -> None:
    """A room in which the rule is owed says so; else it gives the largest area, and the limit stands in the key."""
    options = house.offer.protection.options.values()
    for _, key, block in house.rooms():
        cares = [option.rooms[key] for option in options if key in option.rooms]
        said = [row for row in block.select("dl.more > div") if text(row.find("dt")) == "Lead"]
        assert len(said) == len({(care.owed, care.reason) for care in cares}), key
        whole = " ".join(text(row) for row in said)
        assert ("We follow the lead rule's steps" in whole) == any(care.owed for care in cares), key
        under = [care for care in cares if care.reason == "under the limit"]
        if under:
            most = max(under, key=lambda care: care.area.value)
            assert any(shows(row, most.area_feet) for row in said), key
    notes = house.page.select_one(".how .notes")
    assert notes
    limits = {care.limit_feet.raw() for option in options for care in option.rooms.values()}
    assert [tag["value"] for tag in notes.select('data[data-figure$=".lead-limit-feet"]')] == sorted(limits)


def test_light_is_an_average_that_asks_for_nothing(house: House) -> None:
    """Where an average is worked out it stands alone: no handbook's value beside it, no count of lights to add; the key
    says what is out of it and that no law sets it."""
    key = text(house.page.select_one(".how .notes"))
    for _, name, block in house.rooms():
        light = house.offer.design.rooms[name].light
        said = line(block, "Light")
        if light is None:
            assert said is None or text(said).endswith(WORDS["light.none"])
            continue
        assert said
        assert shows(said, light.average)
        assert len(said.select("data")) == 1
    if any(design.light for design in house.offer.design.rooms.values()):
        assert "We leave out lamps, wall lights" in key
        assert "no reason for more holes" in key


def test_outlets_are_told_where_the_plan_has_fewer_than_the_code(house: House) -> None:
    """Fewer outlets than in a new house is said in the room, with what the town may ask for."""
    for _, name, block in house.rooms():
        outlets = house.offer.design.rooms[name].outlets
        said = line(block, "Outlets")
        assert (said is not None) == bool(outlets.short_of_full.value or outlets.short.value), name
        if said:
            few = {0: "We plan no outlet", 1: "We plan one outlet"}.get(int(outlets.planned.raw()))
            assert few in text(said) if few else shows(said, outlets.planned)
            assert shows(said, outlets.full)
            assert shows(said, outlets.short) == (outlets.short.value > 1)
            assert ("Your town may ask for" in text(said)) == bool(outlets.short.value)
            assert ("about" in text(said)) != outlets.measured


def test_circuits_of_a_room_are_rows_of_the_schedule(house: House) -> None:
    """The circuits that a room names stand in one panel's schedule, that of its part of the house, and serve it."""
    panels, tables = house.offer.design.service.panels, house.page.select(".circuits tbody")
    assert len(tables) == len(panels)
    rows = [{text(row.find("th")).split(",")[0]: text(row) for row in table.select("tr")} for table in tables]
    assert [len(some) for some in rows] == [len(panel.circuits) for panel in panels]
    for room in house.offer.rooms:
        block = house.page.find(id=f"rooms-{room.key}")
        assert isinstance(block, Tag)
        said = line(block, "New circuits")
        named = [tag["value"] for tag in said.select("data")] if said else []
        assert named == [space.raw() for space in house.offer.design.rooms[room.key].circuits]
        assert any(all(room.name.text in some.get(str(number), "") for number in named) for some in rows)


# --- extras ----------------------------------------------------------------------------------------------


def test_an_extra_is_counted_in_each_of_its_rooms(house: House) -> None:
    """Each room of its kinds has a number for it, empty, with its price, and leads to why and when; what belongs to no
    room of the house has one number, in the list."""
    boxes = {str(box["name"]): box for box in house.page.select(".extras input")}
    assert not house.page.select("input[type=checkbox], input[value], input[checked]")
    placed = {extra.key for extra in house.offer.extras for room in house.offer.rooms if room.used_as in extra.rooms}
    assert set(boxes) == {*(f"{room.key}--{extra.key}" for extra in house.offer.extras for room in house.offer.rooms
                            if room.used_as in extra.rooms),
                          *(f"house--{extra.key}" for extra in house.offer.extras if extra.key not in placed)}
    assert {(box["type"], box["min"], box["inputmode"]) for box in boxes.values()} == {("number", "0", "numeric")}
    for room in house.offer.rooms:
        block = house.page.find(id=f"rooms-{room.key}")
        assert isinstance(block, Tag)
        here = [extra for extra in house.offer.extras if room.used_as in extra.rooms]
        said = block.select_one(".extras")
        assert [link["href"] for link in (said.select("a") if said else [])] == [
            f"rooms.html#rooms-extra-{extra.key}" for extra in here]
        assert all(said and shows(said, extra.price) for extra in here)
        assert len(block.select("input")) == len(here)


def test_extras_are_added_to_each_option(house: House) -> None:
    """Beside the price of each option stands room for it with the extras, open and empty until some are chosen."""
    rows = house.page.select(".with-extras tbody tr")
    assert [text(row.find("th")) for row in rows] == [option.name for option in house.offer.outcome.options]
    for row, option in zip(rows, house.offer.outcome.options, strict=True):
        assert shows(row, option.price)
        assert [text(sum_) for sum_ in row.select("output")] == [""]
    assert [total.get_text(strip=True) for total in house.page.select("[data-total] output")] == [""] * len(
        house.page.select("[data-total]"))
    assert all(total.has_attr("hidden") for total in house.page.select("[data-total]"))


def test_every_extra_says_until_when_and_why(house: House) -> None:
    """An extra stands under its last day, soonest first, with the reason."""
    days = [str(tag["value"]) for tag in house.page.select("[data-extras] h3 data")]
    assert days == sorted({extra.until.raw() for extra in house.offer.extras})
    for extra in house.offer.extras:
        item = house.page.find(id=f"rooms-extra-{extra.key}")
        assert isinstance(item, Tag)
        head = item.find_previous("h3")
        assert isinstance(head, Tag)
        assert head.select(f'data[value="{extra.until.raw()}"]')
        assert " ".join(extra.choose_by.text.split()) in text(item)


# --- the panel -------------------------------------------------------------------------------------------


def test_the_panel_is_a_plan_and_no_approval(house: House) -> None:
    """The section on the panel comes last, says who checks it and who decides, and for how many households it is."""
    sections = house.page.select("main > section")
    panel = sections[-1]
    assert panel["aria-labelledby"] == "rooms-panel"
    assert text(panel.select_one(".caution")) == WORDS["panel.plan"]
    several = house.offer.design.service.households.value > 1
    assert ("No circuit in this plan serves two of them" in text(panel)) == several
    assert len(panel.select("h3")) == (len(house.offer.design.service.panels) if several else 0)


def test_every_load_stands_line_by_line(house: House) -> None:
    """Each method has all its lines, with what is connected, what it adds and the section, and its total.

    Of several households the methods of the whole service stand once each, then the load of each household.
    """
    service = house.offer.design.service
    whole = dict[str, LoadSeen]()
    for one in (service.planned, service.standard, service.present, service.by_peak):
        if one:
            whole.setdefault(one.method, one)
    assert service.households.value > 1 or {"optional", "standard", "existing"} <= set(whole)
    made = [*whole.values(), *(panel.load for panel in service.panels if panel.load)]
    assert [one.total.value for one in (service.standard, service.present)
            if one.total.value not in {load.total.value for load in made}] == []
    tables = house.page.select("table.loads")
    assert len(tables) == len(made)
    for table, load in zip(tables, made, strict=True):
        assert shows(table, load.total)
        assert shows(table, load.amperes)
        rows = table.select("tbody tr")
        assert len(rows) == len(load.lines)
        for row, one in zip(rows, load.lines, strict=True):
            assert shows(row, one.connected)
            assert one.section.text in text(row)
            assert shows(row, one.adds) if one.adds else text(row).endswith("below")


NO_JOB = frozenset({"heat or cool among appliances", "heat or cool not in the record", "new loads"})
"""Lines of ways to work out a load that no job asks for: a record of less than a year, or loads that are new to it."""


def test_every_line_that_a_load_can_have_has_words() -> None:
    """Lines that no house of the demo has are worded too, but for those that no job can bring."""
    source = "".join((ROOT / "sitegen" / "trade" / f"{name}.py").read_text("utf-8")
                     for name in ("service_load", "two_family"))
    keys = set(re.findall(r'\b_?[sS]tep\(\s*"([a-z ]+)"', source)) | set(
        re.findall(r'"(cooking|dryers|fixed appliances|motors|vehicle chargers)":', source))
    assert len(keys) > 12
    assert keys - set(rooms_words.LINES) == NO_JOB
    assert set(rooms_words.LINES) <= keys


# --- weight and words ------------------------------------------------------------------------------------


def test_the_sheet_is_light(house: House) -> None:
    """A phone gets sixteen rooms, a plan and the panel in one small file, and what the scripts of this sheet add."""
    whole = house.path.read_text("utf-8")
    read = re.sub(r"<script>.*?</script>", "", whole, flags=re.DOTALL)
    said, all_of_it = (len(gzip.compress(text.encode(), 9, mtime=0)) for text in (read, whole))
    assert said < LARGEST
    assert all_of_it - said < SCRIPTS


@pytest.mark.parametrize("key", WORDS)
def test_no_sentence_is_long(key: str) -> None:
    """No sentence of this sheet has more than 25 words, so that it can be read once."""
    for sentence in re.split(r"(?<=[.!?])\s+", WORDS[key]):
        assert len(sentence.split()) <= 25, sentence


def test_every_finding_of_the_report_stands_where_its_points_are(house: House) -> None:
    """A finding's number stands in each room of whose points it speaks, and what means no room stands by its part."""
    findings = house.offer.found.findings
    for number, _, block in house.rooms():
        name = house.offer.rooms[number - 1].name.text
        mean = [finding.number.raw() for finding in findings
                if name in {room.text for rooms in (finding.rooms, finding.leaves) for some in rooms.values()
                            for room in some}]
        assert [ring["value"] for ring in block.select(".more data.key")] == mean, name
    for about, place in (({"panel", "service"}, ".panel > .closes"), ({"alarms"}, "#rooms-alarms .closes"),
                         ({"old wire"}, ".how .closes")):
        assert [ring["value"] for ring in house.page.select(f"{place} data.key")] == [
            finding.number.raw() for finding in findings if finding.about in about]
