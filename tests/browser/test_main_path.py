"""Every sheet on the main path of a reader: from disk and from a server, as a table and as a stack, without scripts
and on paper.  One browser, and one page for many sheets, keep it quick.
"""

from __future__ import annotations

import io
import re
import threading
import unicodedata
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from sitegen.job.parts import ROWS
from sitegen.offer.deciding import LINES
from sitegen.sheets.pages.detail import DETAILS
from sitegen.sheets.sheets import BESIDE, SHEETS
from sitegen.sheets.sheets import PAPER as ON_PAPER
from sitegen.sheets.site import OWN_SCRIPTS, SHARED_SCRIPT, SHARED_STYLE
from tests.browser.seen import one_page
from tests.browser.test_sheets import UNFOLD
from tests.built import HOUSES, House, built

MAIN = tuple(sheet.file for sheet in SHEETS)
EVERY = (*MAIN, *(f"detail-{key}.html" for key in DETAILS))
WITH_BESIDE = (*EVERY, *(sheet.file for sheet in BESIDE), ON_PAPER.file)
"""Every page of a house: the sheets, the details, the reader's own page, the walk, and the one for paper."""

OTHERS = HOUSES[1:]
PAPER = {"Letter": 816, "A4": 794}
"""Width of paper in CSS px."""

MARGIN = 53     # 14 mm
BLOCK_FIRST, BLOCK_LAST = "Job", "Licenses"

CONTROLS = "form,fieldset,button,label,output,select,textarea,input,nav,[role=status],[aria-live],[data-change]"
"""What a script may show or fill: controls and their answers.  All else is a fact."""

FACTS = """controls => {
  const found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walk.nextNode());) {
    const e = node.parentElement;
    if (node.data.trim() && e.getClientRects().length && !e.closest('style,script,template')
        && !e.closest(controls)) found.push(node.data.replace(/\\s+/g, ' ').trim());
  }
  return found;
}"""

FIGURES = """controls => [...document.querySelectorAll('main data')]
  .filter(e => e.getClientRects().length && !e.closest(controls))
  .map(e => e.dataset.figure + ' ' + e.value)"""

OVERLAPS = """() => {
  const boxes = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walk.nextNode());) {
    const e = node.parentElement;
    if (!node.data.trim() || !e.getClientRects().length || e.closest('style,script,template,.vh,option')) continue;
    if (!e.checkVisibility()) continue;               // in a fold that is closed
    if ([...document.querySelectorAll('thead')].some(head => head.contains(e)
        && getComputedStyle(head).position === 'absolute')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      const cut = box.height * 0.28;                  // what stands above and below the letters themselves
      if (box.width > 1) boxes.push([box.left, box.top + cut, box.right, box.bottom - cut, node.data.trim(), node]);
    }
  }
  boxes.sort((a, b) => a[1] - b[1]);
  const found = [];
  boxes.forEach((one, i) => {
    for (let j = i + 1; j < boxes.length && boxes[j][1] < one[3]; j++) {
      const other = boxes[j];
      const wide = Math.min(one[2], other[2]) - Math.max(one[0], other[0]);
      const tall = Math.min(one[3], other[3]) - Math.max(one[1], other[1]);
      if (wide > 1 && tall > 1 && one[5] !== other[5]) found.push(one[4].slice(0, 40) + ' | ' + other[4].slice(0, 40));
    }
  });
  return found;
}"""


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing."""


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a server of this machine that serves a folder."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder))) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}"
        finally:
            server.shutdown()
            thread.join()


@pytest.fixture(scope="module")
def alder() -> House:
    """One demo house, built once."""
    return built(HOUSES[0])


# --- opening ---------------------------------------------------------------------------------------------


def of(house: House) -> tuple[str, ...]:
    """Every sheet of one house, and of the others those that are not details, which differ in a few words alone."""
    return tuple(name for name in WITH_BESIDE if house.job not in OTHERS or not name.startswith("detail-"))


def opens(browser: Browser, house: House, base: str) -> None:
    """Open every sheet under an address; fail on any complaint, and on any request but for what the page shares and its
    own pictures."""
    errors: list[str] = []
    asked: list[str] = []
    with one_page(browser, once=True) as page:
        page.on("console", lambda said: errors.append(said.text) if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("requestfailed", lambda request: errors.append(f"failed: {request.url}"))
        page.on("response", lambda got: errors.append(f"{got.status}: {got.url}") if got.status >= 400 else None)
        page.on("request", lambda request: None if request.url.startswith("data:") else asked.append(request.url))
        for sheet in of(house):
            asked.clear()
            page.goto(f"{base}/{sheet}")
            page.wait_for_load_state("load")
            assert page.locator("main h1").count() == 1, sheet
            shared = [] if sheet == "index.html" else [f"{base}/{SHARED_STYLE}", f"{base}/{SHARED_SCRIPT}"]
            shared += [f"{base}/{file}" for name, file in OWN_SCRIPTS.items() if sheet == f"{name}.html"]
            named = [name.split()[0] for picture in house.pages[sheet].select("img, source")
                     for name in str(picture.get("srcset") or picture["src"]).split(",")]
            own = {f"{base}/{name}" for name in named if (house.folder / name).is_file()}
            assert Counter(asked) <= Counter([f"{base}/{sheet}", *shared, *own]), (house.job, sheet, asked)
            assert errors == [], (house.job, sheet)


def test_every_sheet_opens_from_disk(browser: Browser, house: House) -> None:
    """From disk each sheet opens without a complaint, and asks for itself and what it shares."""
    assert set(WITH_BESIDE) == set(house.pages)
    opens(browser, house, house.folder.as_uri())


def test_every_sheet_opens_from_a_server(browser: Browser, alder: House) -> None:
    """From a server of this machine each sheet opens without a complaint, and asks no other host for anything."""
    with served(alder.folder) as base:
        opens(browser, alder, base)


def test_a_request_to_another_host_would_be_seen(browser: Browser, alder: House, tmp_path: Path) -> None:
    """A sheet that asks for a picture elsewhere, and one that complains, fail the check above."""
    for bad in ('<img src="http://127.0.0.1:9/x.png">', "<script>throw new Error('x')</script>"):
        for path in alder.folder.iterdir():
            (tmp_path / path.name).write_bytes(path.read_bytes())
        first = tmp_path / "index.html"
        first.write_text(first.read_text("utf-8").replace("</main>", f"{bad}</main>"), "utf-8")
        with pytest.raises(AssertionError):
            opens(browser, House("bad", tmp_path), tmp_path.as_uri())


# --- table and stack -------------------------------------------------------------------------------------


CELLS = """rows => [...document.querySelectorAll(rows)].map(row => [...row.querySelectorAll('th, td')]
  .map(e => { const b = e.getBoundingClientRect(), option = e.querySelector('.option');
    return {left: b.left, top: b.top, right: b.right, bottom: b.bottom,
            shared: e.tagName === 'TD' && e.colSpan > 1,
            option: !!option && option.getClientRects().length > 0}; }))"""


@pytest.mark.parametrize(("table", "rows"), [("table.items", "tr[id^=scope-]"),
                                             ("table.asked", "tr[id^=compare-row-]"),
                                             ("table.decides", "tr[data-decides]")])
def test_rows_are_a_table_at_a_desk_and_a_stack_on_a_phone(browser: Browser, house: House, table: str,
                                                           rows: str) -> None:
    """At 1180 px question and answers stand side by side under the names of the options, and an answer that several
    share names them, or the others would look empty; at 390 px one below the other, each with its option before it."""
    with one_page(browser, 1180) as page:
        page.goto((house.folder / "compare.html").as_uri())
        page.evaluate(UNFOLD)
        count = {"table.asked": len(ROWS), "table.decides": len(LINES)}.get(table, len(house.offer.scope.rows))
        found = page.evaluate(CELLS, f"{table} {rows}")
        assert len(found) == page.locator(f"{table} tbody tr:not(.law)").count() == count
        for row in found:
            assert len({round(cell["top"]) for cell in row}) == 1
            assert all(cell["right"] <= after["left"] + 1 for cell, after in pairwise(row))
            assert [cell["option"] for cell in row] == [cell["shared"] for cell in row]
        assert page.locator(f"{table} thead").first.is_visible()
        page.set_viewport_size({"width": 390, "height": 844})
        for row in page.evaluate(CELLS, f"{table} {rows}"):
            assert all(cell["bottom"] <= after["top"] + 1 for cell, after in pairwise(row))
            assert len({round(cell["left"]) for cell in row}) == 1
            assert [cell["option"] for cell in row] == [False, *[True] * (len(row) - 1)]
            assert all(0 <= cell["left"] < cell["right"] <= 390 for cell in row)
        nodes = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")["nodes"]
        heard = Counter(node["role"]["value"] for node in nodes if "role" in node)
        assert heard["table"] >= 1, "a stack is read aloud as the table that it is"
        assert heard["rowheader"] >= count
        assert heard["cell"] >= count


# --- scripts off -----------------------------------------------------------------------------------------


def told(house: House) -> tuple[str, ...]:
    """Every page that tells of the house; the reader's own page holds what a script gathered, and says so without."""
    return tuple(name for name in of(house) if name != "yours.html")


def test_scripts_off_the_same_facts_stand_there(browser: Browser, house: House) -> None:
    """With scripts off every sheet shows the same text and the same figures, apart from controls and their answers."""
    facts: dict[bool, dict[str, list[str]]] = {}
    figures: dict[bool, dict[str, list[str]]] = {}
    for enabled in (True, False):
        facts[enabled], figures[enabled] = {}, {}
        with one_page(browser, java_script_enabled=enabled) as page:
            for sheet in told(house):
                page.goto((house.folder / sheet).as_uri())
                facts[enabled][sheet] = page.evaluate(FACTS, CONTROLS)
                figures[enabled][sheet] = page.evaluate(FIGURES, CONTROLS)
    for sheet in told(house):
        off, on = Counter(facts[False][sheet]), Counter(facts[True][sheet])
        assert sum(off.values()) > 30, sheet
        assert (off - on, on - off) == (Counter(), Counter()), (house.job, sheet)
        assert Counter(figures[False][sheet]) <= Counter(figures[True][sheet]), (house.job, sheet)


# --- paper -----------------------------------------------------------------------------------------------


def words(text: str) -> list[str]:
    """The words of a text, whatever letters a font joins or a style makes capitals."""
    return re.findall(r"\w+", unicodedata.normalize("NFKC", text).lower())


def chunks(pdf: bytes) -> list[list[tuple[float, str]]]:
    """Page by page, every piece of text with its height above the foot of the page, in points."""
    pages = []
    for page in PdfReader(io.BytesIO(pdf)).pages:
        found: list[tuple[float, str]] = []

        def see(text: str, cm: Any, tm: Any, font: Any, size: Any, into: list[tuple[float, str]] = found) -> None:
            if text.strip():
                into.append((float(tm[4] * cm[1] + tm[5] * cm[3] + cm[5]), text.strip()))
        page.extract_text(visitor_text=see)
        pages.append(found)
    return pages


@pytest.mark.parametrize("paper", PAPER)
def test_every_sheet_prints_with_its_title_block_on_every_page(browser: Browser, alder: House, paper: str) -> None:
    """Each page of each printed sheet ends in the whole title block, below all other text, and no word is lost.

    Details, which share a template, are printed on one kind of paper.
    """
    counted, address = 0, " ".join(words(alder.offer.head.address.text))
    printed_sheets = EVERY if paper == "Letter" else MAIN
    with one_page(browser, PAPER[paper] - 2 * MARGIN) as page:
        for sheet in printed_sheets:
            page.goto((alder.folder / sheet).as_uri())
            page.emulate_media(media="print")
            assert page.locator("footer.block").evaluate("e => getComputedStyle(e).display") == "table-footer-group"
            wanted = page.evaluate(FACTS, "nav,.vh,footer")
            terms = page.locator("footer.block dt").all_inner_texts()
            assert (terms[0], terms[-1]) == (BLOCK_FIRST, BLOCK_LAST)
            pages = chunks(page.pdf(format=paper))
            counted += len(pages)
            printed = ""            # without spaces: the reader joins what stands side by side
            for at, one in enumerate(pages, 1):
                where = (sheet, paper, at)
                heads = [height for height, text in one if text == BLOCK_FIRST]
                assert len(heads) == 1, where
                rest = [text for height, text in one if height <= heads[0] + 1]
                foot = " ".join(words(" ".join(rest)))      # a term may stand on two lines
                assert [term for term in terms if " ".join(words(term)) not in foot] == [], where
                assert foot.count(address) == 1, where
                printed += "".join(words("".join(text for height, text in one if height > heads[0] + 1)))
            times = Counter(word for text in wanted for word in words(text))
            assert [word for word, count in times.items() if printed.count(word) < count] == [], (sheet, paper)
    print(f"{paper}: {counted} pages")
    assert counted >= len(printed_sheets)


@pytest.mark.parametrize(("media", "width"), [("screen", 320), ("screen", 390), ("screen", 1180),
                                              ("print", PAPER["Letter"] - 2 * MARGIN)])
def test_no_text_stands_on_other_text(browser: Browser, alder: House, media: Any, width: int) -> None:
    """No line of text overlaps another, on a phone, at a desk or as laid out for paper, with folds closed or open."""
    with one_page(browser, width) as page:
        for sheet in WITH_BESIDE:
            page.goto((alder.folder / sheet).as_uri())
            page.emulate_media(media=media)
            assert page.evaluate(OVERLAPS) == [], (sheet, media, width)
            if page.evaluate(UNFOLD):
                assert page.evaluate(OVERLAPS) == [], (sheet, media, width, "unfolded")


def test_text_on_other_text_would_be_seen(browser: Browser) -> None:
    """Two lines set on each other are found, and two lines below each other are not."""
    with one_page(browser) as page:
        page.set_content("<p>one line</p><p>another</p>")
        assert page.evaluate(OVERLAPS) == []
        page.set_content('<p>one line</p><p style="margin-top:-30px">another</p>')
        assert page.evaluate(OVERLAPS) == ["one line | another"]
