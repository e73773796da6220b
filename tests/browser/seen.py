"""Pages opened in a real browser, what they complain of, and what they ask for from elsewhere.

A window costs more than the page that it shows, so one is kept for each kind of reader (by touch, with scripts off) and
used again by the next test with nothing kept: its storage emptied, its size, colours and motion set anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from weakref import WeakKeyDictionary

from playwright.sync_api import Browser, Page

WAIT = 60
"""How long a part of a page is waited for [s]: it stands on a disk, so that what is not there by then never will be."""

FORGET = "() => { localStorage.clear(); sessionStorage.clear(); }"


@dataclass
class Seen:
    """A page, what it complained of, all that it asked for, and what of it from elsewhere than the disk."""

    page: Page
    errors: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    @property
    def outside(self) -> list[str]:
        """What no file of the disk and no part of the page itself answers."""
        return [url for url in self.asked if not url.startswith(("file:", "data:"))]


class Window:
    """One page in a context of its own; `untouched` is the file that it shows if nothing was done to it there."""

    def __init__(self, browser: Browser, options: dict[str, Any]) -> None:
        self.scripts = bool(options.get("java_script_enabled", True))
        context = browser.new_context(**options)
        context.set_default_timeout(WAIT * 1000)
        self.page = context.new_page()
        self.seen = Seen(self.page)
        self.untouched: Path | None = None
        self.page.on("console", lambda said: self.seen.errors.append(said.text) if said.type == "error" else None)
        self.page.on("pageerror", lambda error: self.seen.errors.append(str(error)))
        self.page.on("requestfailed", lambda asked: self.seen.errors.append(f"failed: {asked.url}"))
        self.page.on("request", lambda asked: self.seen.asked.append(asked.url))

    def ready(self, width: int, scheme: str, motion: str) -> Seen:
        """The page in this size and these colours, with nothing heard yet."""
        size: Any = {"width": width, "height": 844 if width < 700 else 800}
        if self.page.viewport_size != size:
            self.page.set_viewport_size(size)
        self.page.emulate_media(media="null", color_scheme=scheme, reduced_motion=motion)  # type: ignore[arg-type]
        self.seen = Seen(self.page)
        return self.seen

    def forget(self) -> None:
        """Empty what the page kept, and close what it opened."""
        for other in self.page.context.pages[1:]:
            other.close()
        if self.scripts and self.page.url.startswith("file:"):
            self.page.evaluate(FORGET)


WINDOWS: WeakKeyDictionary[Browser, dict[str, Window]] = WeakKeyDictionary()


@contextmanager
def _window(browser: Browser, options: dict[str, Any], *, once: bool) -> Iterator[Window]:
    """A window for readers of this kind; closed after use where it is for once, or where the test failed."""
    kept = WINDOWS.setdefault(browser, {})
    kind = repr(sorted(options.items()))
    window = kept.pop(kind, None) if not once else None     # while it is used, nobody else has it
    window = window or Window(browser, options)
    try:
        yield window
        if not once and kind not in kept:
            window.forget()
            kept[kind] = window
    finally:
        if kept.get(kind) is not window:
            window.page.context.close()


@contextmanager
def opened(browser: Browser, file: Path, width: int = 1180, *, color_scheme: str = "light",
           reduced_motion: str = "no-preference", once: bool = False, **options: Any) -> Iterator[Seen]:
    """A page opened from disk, with nothing kept from another test.

    `once` is for a test that changes more than the page: scripts that run before it, sizes of the browser's own.
    """
    with _window(browser, options, once=once) as window:
        seen = window.ready(width, color_scheme, reduced_motion)
        window.untouched = None
        seen.page.goto(file.as_uri())
        yield seen


@contextmanager
def looked_at(browser: Browser, file: Path, width: int = 1180, *, color_scheme: str = "light",
              reduced_motion: str = "no-preference") -> Iterator[Page]:
    """A page for a test that looks and changes nothing: one that is open already is laid out anew and not loaded."""
    with _window(browser, {}, once=False) as window:
        seen = window.ready(width, color_scheme, reduced_motion)
        if window.untouched != file:
            window.untouched = None
            seen.page.goto(file.as_uri())
        else:
            seen.page.evaluate("() => scrollTo(0, 0)")
        yield seen.page
        window.untouched = file


@contextmanager
def one_page(browser: Browser, width: int = 390, *, once: bool = False, **options: Any) -> Iterator[Page]:
    """A page to be used for many sheets."""
    with _window(browser, options, once=once) as window:
        seen = window.ready(width, "light", "no-preference")
        window.untouched = None
        yield seen.page


def unfold(page: Page, selector: str) -> None:
    """Tap open, from the outermost in, every closed fold around what a selector finds first."""
    folds = page.locator(f"details:has({selector})")
    for at in range(folds.count()):
        if folds.nth(at).get_attribute("open") is None:
            folds.nth(at).locator("> summary").click()


def want_extra(page: Page, count: str = "1") -> None:
    """Open the list of extras, as a reader does, and write how many of its first with a number are wanted."""
    if page.locator("#rooms-every-extra:not([open])").count():
        page.locator("#rooms-every-extra summary").click()
    page.locator("#rooms-every-extra input").first.fill(count)
