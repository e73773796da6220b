"""What people write into the files stays words: every free text of a workspace is an attack, in a browser.

The models say which fields are words.  Each of them is set to the payload with a tag of its own behind it, so
that a page shows which fields reached it, and whether any arrived as something else than its own text.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

import pytest
import yaml
from playwright.sync_api import Browser
from pydantic import BaseModel

import sitegen.sheets.audit
from sitegen.build import build
from sitegen.job.books import CostBook, PriceBook
from sitegen.job.cards import PLACES, Company, State, Town
from sitegen.job.fields import words
from sitegen.job.finished import Finished
from sitegen.job.model import Job
from sitegen.job.text_type import TextType
from sitegen.trade.kinds import (
    ABOUT,
    EXTRAS,
    FLOORS,
    LATER,
    LICENCES,
    LOADS,
    ROLES,
    ROOMS,
    STOP_HAZARDS,
    TROUBLE,
    WALLS,
)
from sitegen.workspace import Workspace
from tests.browser.seen import opened
from tests.helpers import DEMO, JOB, JOB_FILE, demo_copy

PAYLOAD = ('<script>window.hit=1</script><img src=x onerror="window.hit=1">"\'&'
           "{{ 7*7 }}{price}{% if x %}&lt;b&gt;")
FILES: dict[str, type[BaseModel]] = {
    "company.yaml": Company, "price-book.yaml": PriceBook, "cost-book.yaml": CostBook, JOB_FILE: Job,
    "towns/pellam-ford.yaml": Town, "states/tessamin.yaml": State, "finished.yaml": Finished}
ROOM_NAMED = {(JOB_FILE, "findings", "rooms"), (JOB_FILE, "panel", "where"), (JOB_FILE, "lead", "free rooms")}
"""Words that name a room: they get the payload of the room that they name."""
POINTERS = {("price-book.yaml", "cases", "asked in"), (JOB_FILE, "findings", "kinds"), *ROOM_NAMED}
"""Words that name an entry of this or of another file; keys of a file are left alone too."""

SHOWN = ("company.yaml/name", "company.yaml/e-mail", "company.yaml/licences/0/number", f"{JOB_FILE}/address",
         f"{JOB_FILE}/surveyed by", f"{JOB_FILE}/why now/asks", f"{JOB_FILE}/signs/0/name",
         f"{JOB_FILE}/tonight/0",
         f"{JOB_FILE}/not seen/0", f"{JOB_FILE}/findings/0/says", f"{JOB_FILE}/feeds/up-lights/called",
         "price-book.yaml/later/0/what", "price-book.yaml/kits/one-2026/rows/how shown",
         "price-book.yaml/kits/item-2026/rows/walls", "price-book.yaml/kits/wiring-2026/rows/floors",
         "price-book.yaml/kits/wiring-2026/says/0/says")
"""Some of the fields that a sheet must be showing, or this test would look at nothing."""


@dataclass
class Attack:
    """The places that hold the payload, by tag, and the site made from them."""

    places: dict[str, str] = field(default_factory=dict)
    site: Path = Path()

    def fill(self, kind: Any, value: Any, path: tuple[str, ...]) -> Any:
        """`value`, read as a `kind` of the model, with the payload for all words in it but pointers."""
        if (*path[:2], path[-1]) in POINTERS:
            return value
        if get_origin(kind) is Annotated:
            base, *more = get_args(kind)
            if any(isinstance(one, TextType) and one.read is words for one in more):
                return self._payload(path)
            return self.fill(base, value, path)
        if get_origin(kind) in (Union, UnionType):
            return self.fill(next(one for one in get_args(kind) if one is not type(None)), value, path)
        if get_origin(kind) is list:
            return [self.fill(get_args(kind)[0], item, (*path, str(i))) for i, item in enumerate(value)]
        if get_origin(kind) is dict:
            return {key: self.fill(get_args(kind)[1], item, (*path, key)) for key, item in value.items()}
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            hints = get_type_hints(kind, include_extras=True)
            keys = {info.alias or name.replace("_", " "): name for name, info in kind.model_fields.items()}
            return {key: self.fill(hints[keys[key]], item, (*path, key)) for key, item in value.items()}
        return value

    @staticmethod
    def point(data: Any, filled: Any) -> None:
        """Have what names a room of the job name it still, by its payload."""
        called = {was["room"]: now["room"] for was, now in zip(data["rooms"], filled["rooms"], strict=True)}
        filled["panel"]["where"] = called[filled["panel"]["where"]]
        for part, key in (*((finding, "rooms") for finding in filled["findings"]), (filled["lead"], "free rooms")):
            if key in part:
                part[key] = [called[name] for name in part[key]]
        for was, now in zip(data["photographs"], filled["photographs"], strict=True):
            if "room" in was:
                now["room"] = called[was["room"]]

    def _payload(self, path: tuple[str, ...]) -> str:
        tag = f"[tag{len(self.places)}]"
        self.places[tag] = "/".join(path)
        return PAYLOAD + tag


@pytest.fixture(scope="module")
def attack(tmp_path_factory: pytest.TempPathFactory) -> Attack:
    """The demo workspace with the payload for every free text, a sentence of the firm's own among them, and its site.

    The grade of its words is not asked for: a payload is hard to read, and it is no sentence.
    """
    folder = tmp_path_factory.mktemp("attack")
    home = demo_copy(folder)
    made = Attack()
    for name, model in FILES.items():
        data = yaml.load((home / name).read_text("utf-8"), Loader=yaml.BaseLoader)  # every value stays text
        if model is PriceBook:
            data["kits"]["wiring-2026"]["says"] = [{"claim": "lowest-price", "says": "It costs least today."}]
        filled = made.fill(model, data, (name,))
        if model is Job:
            made.point(data, filled)
        (home / name).write_text(yaml.safe_dump(filled, allow_unicode=True, width=10_000), "utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sitegen.sheets.audit, "reading", lambda offer, pages: ())
        made.site = build(Workspace(home, folder / "site"), home / JOB).folder
    return made


def test_every_free_text_is_attacked(attack: Attack) -> None:
    """No words of the demo files are left but keys, pointers, answers, dates, amounts and addresses."""
    home = attack.site.parents[1] / "firm"
    plain = re.compile(r"[a-z0-9-]+|\d{4}-\d\d-\d\d|\$[\d,.]+|[\d,]+ sq ft|\d+ of \d+|\d+/\d+"
                       r"|[\d.]+ ft x [\d.]+ ft|https://[a-z./-]+|[\d,]+|(people|photos)/[a-z-]+\.jpg"
                       r"|([\d.,/]+ (ft|in|sq in|cu in|A|VA)([ +,]+|$))+")
    answers = {"not seen", "not said", "new ends", "not traced", "in part", "every point", "the list",
               "sawn whole", "same places", "sq ft outside the sheet", "vermiculite", "pipe wrap", "textured ceiling",
               "gas-light pipe", "ceiling light", "wall light", "paths", "work rooms", "work areas",
               "clean last", "in the price", "none given", "12 months",
               *ROOMS, *WALLS, *FLOORS, *LOADS, *TROUBLE, *ABOUT, *LICENCES, *ROLES, *LATER, *EXTRAS,
               *STOP_HAZARDS, *PLACES}

    def left(value: Any, path: str) -> list[str]:
        if isinstance(value, dict):
            return [one for key, item in value.items() for one in left(item, f"{path}/{key}")]
        if isinstance(value, list):
            return [one for i, item in enumerate(value) for one in left(item, f"{path}/{i}")]
        kept = not value.startswith(PAYLOAD) and not plain.fullmatch(value) and not set(value.split(", ")) <= answers
        return [f"{path}: {value}"] if kept else []

    for name in FILES:
        assert left(yaml.load((home / name).read_text("utf-8"), Loader=yaml.BaseLoader), name) == []
    assert len(attack.places) > 100


@pytest.mark.parametrize(("sheet", "least"), [
    ("index.html", 15), ("report.html", 10), ("compare.html", 15), ("what-you-could-pay.html", 15),
    ("rooms.html", 15), ("who.html", 15), ("detail-alarms.html", 3), ("detail-permits.html", 3)])
def test_payload_is_shown_and_does_nothing(browser: Browser, attack: Attack, sheet: str, least: int) -> None:
    """What people write is shown as they wrote it: no script, element, value or slot comes of it."""
    with opened(browser, attack.site / sheet, 390) as seen:
        page = seen.page
        page.wait_for_load_state("networkidle")
        assert page.evaluate("() => window.hit") is None
        assert page.evaluate("""() => [...document.querySelectorAll(
            'script, img, iframe, object, embed, form, [src], [onerror]')]
            .filter(e => !e.textContent.includes('const mounts = {}') && e.getAttribute('src') !== 'sheets.js'
                && !/^(?:photo|face)-\\d+\\.jpg$/.test(e.getAttribute('src')))     // our own, by the names that we give
            .length""") == 0
        assert page.evaluate("""() => [...document.querySelectorAll('*')].flatMap(e => [...e.attributes])
            .filter(a => a.name.startsWith('on')).length""") == 0
        pictures = (path.name for path in attack.site.glob("*.webp"))       # our own, by the names that we give
        allowed = {(attack.site / name).as_uri() for name in (sheet, "sheets.css", "sheets.js", *pictures)}
        assert {url for url in seen.asked if not url.startswith("data:")} <= allowed
        text = page.evaluate("() => document.title + '\\n' + document.body.textContent")
    tags = re.findall(r"\[tag\d+\]", text)
    assert len(tags) >= least
    assert [attack.places[tag] for tag in set(tags) if text.count(PAYLOAD + tag) != text.count(tag)] == []
    assert text.count("window.hit") == 2 * len(tags), "a payload stands there in part"
    assert text.count("{{ 7*7 }}{price}") == len(tags)


def test_payload_reaches_the_sheets(attack: Attack) -> None:
    """The fields that a homeowner reads are among those looked at."""
    html = "".join(path.read_text("utf-8") for path in attack.site.glob("*.html"))
    shown = {place for tag, place in attack.places.items() if tag in html}
    assert [place for place in SHOWN if place not in shown] == []


def test_nothing_of_the_cost_book_is_shown(attack: Attack) -> None:
    """The words of the cost book are attacked too, and none of them is in any file of the site."""
    private = [tag for tag, place in attack.places.items() if place.startswith("cost-book.yaml/")]
    assert len(private) == 2
    for path in attack.site.rglob("*"):
        assert [tag for tag in private if path.is_file() and tag.encode() in path.read_bytes()] == [], path.name


def test_demo_files_are_all_known() -> None:
    """Every kind of file of the demo workspace is one that the attack rewrites for its job."""
    kinds = {re.sub(r"^(towns|states)/.*|.*/(?=job\.yaml)", r"\1/", path.relative_to(DEMO).as_posix())
             for path in DEMO.rglob("*.yaml")}
    assert kinds == {re.sub(r"^(towns|states)/.*|.*/(?=job\.yaml)", r"\1/", name) for name in FILES}
