"""A sealed proposal as its reader meets it: one link, one file, every page, and plain words where it cannot open."""

from __future__ import annotations

import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route
from pypdf import PdfReader

from sitegen.sealing.publish import PAGE, Published, Wanted, publish
from sitegen.workspace import Workspace
from tests.browser.seen import Window, _window, one_page, unfold, want_extra
from tests.browser.test_sheets import DETAIL, SHEETS
from tests.browser.webkit import started
from tests.helpers import JOB, demo_copy
from tests.sealing.test_seal import KEY
from tests.sealing.test_stored import STORED

EVERY = {**SHEETS, DETAIL: DETAIL.removesuffix(".html"), "yours.html": "yours", "walk.html": "walk",
         "paper.html": "paper"}
OPENED = "html[data-sealed]"
SAID = "[data-shut] #gate p:visible"
PARTS = re.compile(r'(<script type="text/plain"[^>]*>)([^<]{400,})')


class Recorder(SimpleHTTPRequestHandler):
    """A plain static server that keeps what it was asked, headers and all."""

    asked: list[str]

    def __init__(self, *given: Any, asked: list[str], **named: Any) -> None:
        self.asked = asked
        super().__init__(*given, **named)

    def log_message(self, *_: object) -> None:
        """Keep the request and say nothing."""
        self.asked.append(f"{self.requestline}\n{self.headers}")


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, list[str]]]:
    """The address of a server of this machine that serves a folder, and what it is asked."""
    asked: list[str] = []
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Recorder, directory=str(folder), asked=asked)) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield f"http://127.0.0.1:{server.server_port}", asked
        finally:
            server.shutdown()


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Published:
    """The demo house, sealed."""
    folder = tmp_path_factory.mktemp("sealed")
    home = demo_copy(folder)
    return publish(Workspace(home, folder / "site"), home / JOB, Wanted(date(2026, 11, 20), at="https://proposals.example/"))


@pytest.fixture
def window(browser: Browser) -> Iterator[Window]:
    """A window of a phone, with nothing kept."""
    with _window(browser, {}, once=True) as made_window:
        made_window.ready(390, "light", "no-preference")
        yield made_window


def to(made: Published, place: str = "", base: str = "") -> str:
    """The link as a reader has it, on this disk or on a server, to a place of it."""
    start = f"{base}/{made.entry.token}/" if base else made.page.as_uri()
    return f"{start}#{made.entry.key}{place}"


def test_a_homeowner_follows_the_link_and_reads_every_page(window: Window, made: Published, demo_site: Path) -> None:
    """On a phone the link opens the first page, real taps lead through all pages, each as the open site has it; one
    request is made in all and none carries the key."""
    page = window.page
    browser = page.context.browser
    assert browser
    with served(made.page.parent.parent) as (base, asked), one_page(browser, once=True) as other:
        page.goto(to(made, base=base))
        page.wait_for_selector(OPENED)
        for name, title in SHEETS.items():
            other.goto((demo_site / name).as_uri())
            assert page.locator("main").get_attribute("id") == title
            assert page.title() == other.title()
            assert page.locator("main").inner_text() == other.locator("main").inner_text()
            if (on := page.locator("[data-turn=on]")).count():
                on.click()
        assert page.locator("main").get_attribute("id") == "who"
        assert len(asked) == 1
        assert made.entry.key
        assert made.entry.key not in "".join(asked)
        assert "Referer" not in "".join(asked)
        assert window.seen.errors == []
        assert {url.partition("#")[0].partition(":")[0] for url in window.seen.asked} <= {"http", "data", "blob"}


def test_each_page_opens_by_its_own_link(window: Window, made: Published) -> None:
    """A deep link opens its page, and one to a place inside a fold opens the fold and stands there."""
    page = window.page
    for name, title in EVERY.items():
        page.goto("about:blank")
        page.goto(to(made, f".{name.removesuffix('.html')}"))
        page.wait_for_selector(f"{OPENED} main#{title} h1")
    page.goto("about:blank")
    page.goto(to(made, ".report.report-photographs"))
    page.wait_for_selector("#report-photographs:visible")
    assert page.evaluate("Math.abs(document.getElementById('report-photographs').getBoundingClientRect().top) < 400")
    assert window.seen.errors == []


def _at(page: Page, y: int) -> None:
    page.evaluate("y => scrollTo(0, y)", y)
    page.wait_for_timeout(300)                # its place is noted a moment after it came to rest


def test_back_reload_and_a_new_tab_are_the_browsers_own(window: Window, made: Published) -> None:
    """Back returns to the page and to where it stood, a reload stays there, and a link in a new tab opens its page."""
    page = window.page
    page.goto(to(made))
    page.wait_for_selector(OPENED)
    _at(page, 700)
    page.locator(".next a.go", has_text="Compare").click()
    page.wait_for_selector("main#compare")
    assert page.evaluate("scrollY") < 120
    _at(page, 900)
    page.reload()
    page.wait_for_selector(f"{OPENED} main#compare")
    page.wait_for_selector("main#compare h1")
    assert abs(page.evaluate("scrollY") - 900) < 40
    href = page.locator("[data-turn=on]").get_attribute("href")
    page.go_back()
    page.wait_for_selector("main#start")
    assert page.evaluate("scrollY") > 500
    page.go_forward()
    page.wait_for_selector("main#compare")
    tab = page.context.new_page()
    tab.goto(page.url.partition("#")[0] + str(href))
    tab.wait_for_selector(f"{OPENED} main#pay")
    assert window.seen.errors == []


def test_what_scripts_add_works_in_it(window: Window, made: Published) -> None:
    """Extras, the stepper, marks and the answer to who lives there reach the reader's own page and outlive a reload."""
    page = window.page
    page.goto(to(made, ".rooms"))
    page.wait_for_selector(f"{OPENED} main#rooms")
    want_extra(page, "2")
    page.goto(to(made, ".yours"))
    page.wait_for_selector("main#yours")
    page.locator("[data-choose]").nth(1).locator(".pin").click()
    page.reload()
    page.wait_for_selector(f"{OPENED} main#yours")
    assert page.locator("[data-gather=extras] li.in").count() == 1
    assert page.locator("[data-choose] .pin[aria-pressed=true]").count() == 1
    page.goto(to(made, ".what-you-could-pay"))
    page.wait_for_selector("main#pay")
    assert page.locator("main#pay[data-mounted*=stepper]").count() == 1
    page.goto(to(made))
    page.wait_for_selector("main#start")
    page.locator("[data-lives] input").first.check()
    page.goto(to(made, ".living"))
    page.wait_for_selector("main#living")
    assert page.evaluate("document.documentElement.classList.length") == 1
    assert window.seen.errors == []


def _passed(page: Page) -> str:
    """The link that the reader's own page makes for another device."""
    page.evaluate("() => { delete Navigator.prototype.share; }")
    page.locator("[data-pass]").click()
    return page.locator("[data-send] textarea").input_value()


def test_two_owners_on_two_phones_see_one_choice(window: Window, browser: Browser, made: Published) -> None:
    """What one marks travels behind the # of a link; another phone shows it first, takes it over by a tap, and keeps a
    question of its own."""
    page = window.page
    page.goto(to(made, ".rooms"))
    page.wait_for_selector(f"{OPENED} main#rooms")
    want_extra(page, "2")
    page.goto(to(made, ".yours.yours"))
    page.wait_for_selector("main#yours")
    page.locator("[data-choose]").nth(1).locator(".pin").click()
    page.locator(".own textarea").fill("Who is the plasterer?")
    page.locator(".own button").click()
    link = _passed(page)
    assert link.startswith(to(made, ".yours.~"))
    with one_page(browser, once=True) as other:
        other.goto(to(made, ".yours"))
        other.wait_for_selector(f"{OPENED} main#yours")
        other.locator(".own textarea").fill("When do you start?")
        other.locator(".own button").click()
        other.goto(link)
        other.wait_for_selector(".both.here")
        assert other.locator(".both li").count() == 3
        assert other.locator("[data-choose] .pin[aria-pressed=true]").count() == 0
        other.locator("[data-take]").click()
        assert other.locator("[data-choose]").nth(1).locator(".pin[aria-pressed=true]").count() == 1
        assert other.locator("[data-gather=extras] li.in").count() == 1
        assert other.locator("[data-gather=asked] li").count() == 2
        assert not other.locator(".both").is_visible()
        assert "~" not in other.url
        other.reload()
        other.wait_for_selector(f"{OPENED} main#yours")
        assert other.locator("[data-gather=asked] li").count() == 2
    assert window.seen.errors == []


@pytest.mark.parametrize("brought", ["~", "~!!!!", "~e30", "~eyJqb2IiOiJvdGhlci0xIn0"])
def test_a_link_of_marks_that_is_broken_or_of_another_version_brings_nothing(browser: Browser, demo_site: Path,
                                                                             brought: str) -> None:
    """Cut, not readable, empty, of another job: the page says that nothing was taken, and keeps what it had."""
    with one_page(browser, once=True) as page:
        page.goto(f"{(demo_site / 'yours.html').as_uri()}#{brought}")
        page.wait_for_selector(".both.other")
        assert "nothing was taken" in page.locator(".both").inner_text()
        page.goto((demo_site / "yours.html").as_uri())
        assert not page.locator(".both").is_visible()


def test_the_walk_takes_its_keys_with_it(window: Window, made: Published) -> None:
    """On a tablet arrows lead through the stops, and on the next page they lead nowhere."""
    window.ready(1180, "light", "no-preference")
    page = window.page
    page.goto(to(made, ".walk"))
    page.wait_for_selector(f"{OPENED} main#walk .stop.now")
    first = page.locator(".stop.now").get_attribute("id")
    page.keyboard.press("ArrowRight")
    second = page.locator(".stop.now").get_attribute("id")
    assert first != second
    page.goto(to(made, ".compare"))
    page.wait_for_selector("main#compare")
    assert page.evaluate("document.documentElement.className") == ""
    page.keyboard.press("ArrowRight")
    page.goto(to(made, ".walk"))
    page.wait_for_selector("main#walk .stop.now")
    assert page.locator(".stop.now").get_attribute("id") == second
    assert window.seen.errors == []


def test_photographs_open_with_the_page_that_shows_them(window: Window, made: Published) -> None:
    """Each photograph of a page shows, from a part of the same file."""
    page = window.page
    page.goto(to(made, ".report"))
    page.wait_for_selector(OPENED)
    unfold(page, "#report-photographs")
    pictures = page.locator("#report-photographs img")
    assert pictures.count() > 0
    for at in range(pictures.count()):
        pictures.nth(at).scroll_into_view_if_needed()
        for _ in range(200):                # the policy of the page lets nobody wait inside it
            if pictures.nth(at).evaluate("one => one.complete && one.naturalWidth > 1"):
                break
            page.wait_for_timeout(50)
        assert pictures.nth(at).evaluate("one => one.naturalWidth > 1 && one.src.startsWith('blob:')")


def _shows(page: Page) -> str:
    page.locator(SAID).first.wait_for()
    return " ".join(page.locator(SAID).all_inner_texts())


@pytest.mark.parametrize(("place", "words"), [
    ("", "The part behind the sign # is missing"), ("#abc", "too short or too long"),
    ("#" + "a" * 26, "does not fit this page"), ("#" + "a" * 27, "too short or too long")])
def test_a_key_that_opens_nothing_is_said_in_plain_words(window: Window, made: Published, place: str,
                                                         words: str) -> None:
    """No key, one that was cut, and a wrong one: each says so, names the phone, and shows nothing of the job."""
    page = window.page
    page.goto(made.page.as_uri() + place)
    said = _shows(page)
    assert words in said
    assert "555-0110" in said
    assert "Alder" not in page.content() + page.title()


@pytest.mark.parametrize("part", [0, 1, 2, -1])
def test_a_damaged_part_shows_nothing_of_the_job(window: Window, made: Published, tmp_path: Path, part: int) -> None:
    """One sign changed in the first part, the pages, a photograph or the last part: the page says so."""
    text = made.page.read_text("utf-8")
    found = list(PARTS.finditer(text))[part]
    at = (found.start(2) + found.end(2)) // 2
    bad = tmp_path / PAGE
    bad.write_text(text[:at] + ("B" if text[at] != "B" else "C") + text[at + 1:], "utf-8")
    window.page.goto(f"{bad.as_uri()}#{made.entry.key}")
    assert "was damaged on its way" in _shows(window.page)
    assert "Alder" not in window.page.content() + window.page.title()


def test_a_page_that_did_not_arrive_whole_says_so(window: Window, made: Published, tmp_path: Path) -> None:
    """A download that broke off in the middle of the pages says that it was damaged."""
    text = made.page.read_text("utf-8")
    bad = tmp_path / PAGE
    bad.write_text(text[:list(PARTS.finditer(text))[1].end() - 5000], "utf-8")
    window.page.goto(f"{bad.as_uri()}#{made.entry.key}")
    assert "was damaged on its way" in _shows(window.page)
    assert "Alder" not in window.page.content()


def test_plain_http_says_what_to_do(window: Window, made: Published) -> None:
    """At an address of another host without https the page says to change its beginning."""
    def answer(route: Route) -> None:
        route.fulfill(body=made.page.read_text("utf-8"), content_type="text/html")
    window.page.route("http://proposals.example/**", answer)
    window.page.goto(f"http://proposals.example/{made.entry.token}/#{made.entry.key}")
    assert "change the beginning of the address" in _shows(window.page)
    assert "Alder" not in window.page.content()


def test_an_old_browser_is_told_to_be_one(window: Window, made: Published) -> None:
    """A browser that cannot unpack says that it is too old."""
    window.page.add_init_script("delete window.DecompressionStream")
    window.page.goto(to(made))
    assert "too old to open this page" in _shows(window.page)


def test_without_scripts_the_gate_says_what_is_needed(browser: Browser, made: Published) -> None:
    """With scripts off the gate stands open at once, with the firm, the phone and nothing of the job."""
    with one_page(browser, once=True, java_script_enabled=False) as page:
        page.goto(to(made))
        text = page.locator("#gate").inner_text()
        assert page.locator("#gate").is_visible()
        assert "runs scripts" in text
        assert "555-0110" in text
        assert "Osterby Electric" in text
        assert "Alder" not in page.content()


def test_it_stays_shut_inside_another_page(window: Window, made: Published, tmp_path: Path) -> None:
    """A page that holds the proposal in a frame shows the gate alone."""
    outer = tmp_path / "outer.html"
    outer.write_text(f'<iframe src="{to(made)}" width="390" height="800"></iframe>', "utf-8")
    window.page.goto(outer.as_uri())
    frame = window.page.frame_locator("iframe")
    frame.locator("[data-when=framed]:visible").wait_for()
    assert "Alder" not in frame.locator("body").inner_text()


def test_the_policy_runs_nothing_that_is_not_ours(window: Window, made: Published, tmp_path: Path) -> None:
    """A script put into the document, and one put into an open page, do not run."""
    text = made.page.read_text("utf-8")
    bad = tmp_path / PAGE
    bad.write_text(text.replace("<body>", "<body><script>window.ran = 1</script><img src=x onerror='window.ran = 2'>"),
                   "utf-8")
    page = window.page
    page.goto(f"{bad.as_uri()}#{made.entry.key}")
    page.wait_for_selector(OPENED)
    page.evaluate("""() => { const made = document.createElement("script"); made.textContent = "window.ran = 3";
        document.body.append(made); document.getElementById("book").insertAdjacentHTML("beforeend",
        "<img src='data:,' onerror='window.ran = 4'>"); }""")
    page.wait_for_timeout(300)
    assert page.evaluate("window.ran") is None
    assert any("Content Security Policy" in error for error in window.seen.errors)


def test_it_prints_as_the_open_page_does(window: Window, made: Published, demo_site: Path) -> None:
    """The paper page prints on as many sheets as it does from the open site, with the same words and a code more."""
    def printed(url: str, ready: str) -> tuple[int, str]:
        window.page.goto("about:blank")
        window.page.goto(url)
        window.page.wait_for_selector(ready)
        read = PdfReader(BytesIO(window.page.pdf(format="Letter")))
        return len(read.pages), re.sub(r"\s+", "", "".join(one.extract_text() for one in read.pages))
    sealed, plain = (printed(to(made, ".paper"), f"{OPENED} main#paper"),
                     printed((demo_site / "paper.html").as_uri(), "main#paper"))
    said = "Thiscodeopensthesamepagesonascreen.Whoeverhasitcanreadthem."
    assert sealed[0] == plain[0]
    assert sealed[1].count(said) == 1
    assert sealed[1].replace(said, "") == plain[1]


@pytest.mark.parametrize("path", sorted(STORED.iterdir()), ids=lambda path: path.stem)
def test_a_stored_publication_opens_in_a_browser(window: Window, path: Path) -> None:
    """A file of each format so far opens, and leads to its other page."""
    window.page.goto(f"{path.as_uri()}#{KEY}")
    window.page.wait_for_selector(f"{OPENED} main#start")
    window.page.locator("nav a").click()
    window.page.wait_for_selector("main#report h1:has-text('Your report')")


def test_webkit_opens_it_too(made: Published, tmp_path: Path) -> None:
    """WebKit opens the same file, a real click leads on, Back comes back, and a reload stays."""
    page = tmp_path / PAGE
    text = made.page.read_text("utf-8")
    page.write_text(text, "utf-8")
    ready = ("return document.documentElement.dataset.sealed === 'open' "
             "&& !!document.querySelector('main#' + arguments[0])")
    with started(tmp_path) as webkit:
        webkit.size(390, 800)
        webkit.post("/url", url=f"{page.as_uri()}#{made.entry.key}")
        webkit.until(ready, "start")
        webkit.click("[data-turn=on]")
        webkit.until(ready, "report")
        webkit.post("/back")
        webkit.until(ready, "start")
        webkit.post("/forward")
        webkit.until(ready, "report")
        webkit.post("/refresh")
        webkit.until(ready, "report")
        assert "61 Alder Lane" in webkit.get("/title")
