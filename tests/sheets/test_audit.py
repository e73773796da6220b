"""The audit: the demo passes, each rule is broken on purpose, and a site that fails never replaces a good one."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitegen.build import build, offer_of
from sitegen.errors import AuditFailed, Breach, BuildError
from sitegen.figure import Figure, Source
from sitegen.offer.claims import MOST
from sitegen.offer.dominated import dominated
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer, OptionTerms
from sitegen.offer.rows import ROWS as KEYS
from sitegen.offer.rows import number_of, rows
from sitegen.sheets.audit import breaches
from sitegen.sheets.audit.claims import Claims, claims_of
from sitegen.sheets.audit.fairness import DOMINATED, fairness
from sitegen.sheets.audit.page import Page
from sitegen.sheets.audit.sentences import FINITE_RULE
from sitegen.sheets.audit.words import PHRASES
from sitegen.sheets.cache import Cache
from sitegen.sheets.words import Words
from sitegen.workspace import Workspace, find
from tests.helpers import JOB, ROOT, demo_copy, edit, sitegen, tree

FIRST, COMPARE, PAY, WHO = "index.html", "compare.html", "what-you-could-pay.html", "who.html"
MAIN = {FIRST: "start", COMPARE: "compare", PAY: "pay", WHO: "who"}
CHANCE_REMEDY = "Print a chance with `|chance`, a count as count and total, or say that we do not know."


@dataclass(frozen=True)
class Built:
    """The demo as the audit sees it."""

    offer: Offer
    pages: dict[str, str]
    files: set[str]
    judged: str

    def found(self, pages: dict[str, str] | None = None, offer: Offer | None = None,
              judged: str | None = None) -> list[Breach]:
        """The breaches, with some of it changed; whole sentences have tests of their own."""
        return [one for one in breaches(offer or self.offer, {**self.pages, **(pages or {})}, self.files,
                                        judged or self.judged) if one.rule != FINITE_RULE]

    def put(self, sheet: str, html: str) -> dict[str, str]:
        """A page with something put at the start of its main part."""
        begins = re.findall(rf'<main id="{MAIN[sheet]}"[^>]*>', self.pages[sheet])
        assert len(begins) == 1
        return {sheet: self.pages[sheet].replace(begins[0], begins[0] + html)}

    def changed(self, sheet: str, old: str, new: str) -> dict[str, str]:
        """A page with the first thing that matches `old` replaced."""
        text, count = re.subn(old, new, self.pages[sheet], count=1, flags=re.DOTALL)
        assert count == 1
        return {sheet: text}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The demo, built once."""
    workspace = Workspace(ROOT / "proposals", tmp_path_factory.mktemp("audit"))
    folder = build(workspace, workspace.job(JOB)).folder
    pages = {path.name: path.read_text("utf-8") for path in folder.glob("*.html")}
    return Built(offer_of(workspace, workspace.job(JOB)), pages, {path.name for path in folder.iterdir()},
                 Words((ROOT / "content",), Cache()).html["chances.judged"])


def test_the_demo_passes(demo: Built) -> None:
    """Nothing is found on the pages as they are built."""
    assert demo.found() == []


def test_every_page_is_looked_at(demo: Built) -> None:
    """A phrase that is put on any page is found on that page."""
    for name, html in demo.pages.items():
        found = demo.found({name: html.replace("</main>", "<p>Peace of mind.</p></main>")})
        assert [(one.sheet, one.found) for one in found] == [(name, "`peace of mind` in: Peace of mind.")]


# --- what a page may not have ----------------------------------------------------------------------------

CHOSEN = "no badge, no preselection, no countdown"
FOLD = "nothing behind a fold or a tooltip"
DECIDES = "a fold holds proof, and nothing that decides"
CHANCE = "a chance stands in one of its sentence forms"
LINK = "a link is name.html#anchor of this site"
HOST = "nothing points outside the site"
LEAVE_OUT = "Leave it out, or put what it names into the site."
WRITE_LINK = "Write the sheet's file, a #, and an id that stands on that sheet."
CHOOSES = "Leave it out: the reader chooses."

PUT = [
    ('<input type="checkbox" checked>', CHOSEN, "<input checked>", CHOOSES),
    ('<select><option selected>One price</option></select>', CHOSEN, "<option selected>", CHOOSES),
    ('<input autofocus="">', CHOSEN, "<input autofocus>", CHOOSES),
    ('<p role="radio" aria-checked="true">x</p>', CHOSEN, "<p aria-checked>", CHOOSES),
    ('<p class="note best-option">x</p>', CHOSEN, "the class `note best-option`.",
     "Leave it out: no option is set off from the others."),
    ("<details>x</details>", FOLD, "<details>", "Show it, or give it a sheet of its own."),
    ("<dialog>x</dialog>", FOLD, "<dialog>", "Show it, or give it a sheet of its own."),
    ('<dialog class="depth">x</dialog>', FOLD, "<dialog>", "Show it, or give it a sheet of its own."),
    ('<details class="deep">x</details>', FOLD, "<details>", "Show it, or give it a sheet of its own."),
    ('<details class="depth"><summary>x</summary><data value="1" data-figure="options.per-item.most-paid">1</data>'
     "</details>", DECIDES, "options.per-item.most-paid stands behind a fold alone.", "Show it outside of the fold "
     "too."),
    ('<details class="depth"><details class="depth"><summary><data value="1" data-figure="hidden.p50">1</data>'
     "</summary></details></details>", DECIDES, "hidden.p50 stands behind a fold alone.",
     "Show it outside of the fold too."),
    ('<abbr title="knob and tube">x</abbr>', FOLD, 'title="knob and tube"', "Print it where it can be read."),
    ("<svg><title>x</title></svg>", FOLD, "a <title> in a drawing is a tooltip.",
     "Say it in words beside the drawing."),
    ('<p hidden>It is <data value="1" data-figure="head.version">1</data></p>', FOLD, "figures are hidden: It is 1",
     "Show them."),
    ("<p>About 15 in <b>20</b> end above.</p>", CHANCE, "`15 in 20` in: About 15 in 20 end above.", CHANCE_REMEDY),
    ("<p>That is nine out of ten.</p>", CHANCE, "`nine out of ten` in: That is nine out of ten.", CHANCE_REMEDY),
    ("<p>It held in 73 of 100.</p>", CHANCE, "`73 of 100` in: It held in 73 of 100.", CHANCE_REMEDY),
    ("<p>The chances are good.</p>", CHANCE, "`chances` in: The chances are good.", CHANCE_REMEDY),
    ("<p>That is 60 % likely.</p>", CHANCE, "`60 % likely` in: That is 60 % likely.", CHANCE_REMEDY),
    ("<p>A 60 % chance.</p>", CHANCE, "`60 % chance` in: A 60 % chance.", CHANCE_REMEDY),
    ('<p><data value="5" data-figure="options.per-item.cheapest.spoken">5</data></p>', CHANCE,
     "options.per-item.cheapest.spoken stands outside the form of a judgement.", "Print it with `|chance`."),
    ('<a href="compare.html">x</a>', LINK, 'href="compare.html"', WRITE_LINK),
    ('<a href="#start">x</a>', LINK, 'href="#start"', WRITE_LINK),
    ('<a href="compare.html#nowhere">x</a>', LINK, 'href="compare.html#nowhere"',
     "compare.html has no id nowhere: name one that is there."),
    ('<a href="nowhere.html#start">x</a>', LINK, 'href="nowhere.html#start"',
     "There is no sheet nowhere.html: name one that is built."),
    ('<link href="other.css">', LINK, 'href="other.css"', WRITE_LINK),
    ('<a href="https://a.example/">x</a>', HOST, 'href="https://a.example/"', LEAVE_OUT),
    ('<a href="javascript:x">x</a>', HOST, 'href="javascript:x"', LEAVE_OUT),
    ('<img src="//a.example/x.png">', HOST, 'src="//a.example/x.png"', LEAVE_OUT),
    ('<img src="/x.png">', HOST, 'src="/x.png"', LEAVE_OUT),
    ('<form action="mailto:a"></form>', HOST, 'action="mailto:a"', LEAVE_OUT),
    ('<p style="color:red">x</p>', "no style attribute", '<p style="color:red">',
     "Give it a class, and style it beside its template."),
    ('<p onclick="x()">x</p>', "no inline handler", '<p onclick="x()">', "Mount it from a script beside its template."),
    ("<p class='note'>x</p>", "attributes stand in double quotes", "<p class='note'>", 'Write name="value".'),
    ("<p class=note>x</p>", "attributes stand in double quotes", "<p class=note>", 'Write name="value".'),
]


@pytest.mark.parametrize(("html", "rule", "found", "remedy"), PUT, ids=[case[0][:40] for case in PUT])
def test_a_page_may_not_have_it(demo: Built, html: str, rule: str, found: str, remedy: str) -> None:
    """One thing on the wrong side of a rule gives one finding with sheet, place, rule and way out."""
    assert demo.found(demo.put(WHO, html)) == [Breach(WHO, "who", rule, found, remedy)]


@pytest.mark.parametrize("html", [
    '<input type="checkbox">', '<a href="tel:555-0110">x</a>', '<a href="data:,">x</a>',
    '<script>function mount(sheet) {}</script>',
    '<p class="total" hidden>Ticked: <output></output></p>', '<p aria-label="on sheet one">x</p>',
    "<p>In 61 of the 84 houses that we finished it did.</p>", "<!-- <details> 15 in 20 -->",
    '<details class="depth sum"><summary>How it adds up</summary><p>x</p></details>',
    '<details class="depth"><summary>x</summary><data value="1" data-figure="options.a.price.sum-1.each">1</data> '
    '<data value="1" data-figure="list.bath.outlet-4.seen-old">1</data></details>',
    '<details class="depth"><summary><data value="1" data-figure="options.a.price">1</data></summary>'
    '<p><data value="1" data-figure="options.a.price">1</data></p></details>'])
def test_a_page_may_have_it(demo: Built, html: str) -> None:
    """What only looks like a breach is none."""
    assert demo.found(demo.put(WHO, html)) == []


def test_an_id_stands_once_in_the_whole_site(demo: Built) -> None:
    """The same id on two sheets is found on the second."""
    assert demo.found(demo.put(WHO, '<p id="compare-row-7">x</p>')) == [Breach(
        WHO, "compare-row-7", "an id stands once in the whole site", "it stands on compare.html too",
        "Start the id with the name of its sheet.")]


def test_a_place_on_the_comparison_is_its_row(demo: Built) -> None:
    """What is wrong inside a row is found with the number of the row."""
    pages = demo.changed(COMPARE, r'(id="compare-row-9".*?<p>)', r"\1No surprises. ")
    assert [(one.place, one.found) for one in demo.found(pages)] == [
        ("row 9", "`no surprises` in: No surprises.")]


# --- words -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("phrase", PHRASES, ids=lambda phrase: phrase.spelled[0])
def test_every_phrase_is_found_with_its_sentence(demo: Built, phrase: object) -> None:
    """Each spelling is found in any case and across tags, with why it hurts and what to print."""
    assert phrase in PHRASES
    one = next(one for one in PHRASES if one is phrase)
    for spelled in one.spelled:
        first, _, rest = spelled.partition(" ")
        says = f"We say <b>{first.upper()}</b>{' ' + rest if rest else ''} here"
        if spelled.endswith("$"):
            says = f"We say {spelled}<data>900</data> here"
        plain = re.sub(r"<[^>]*>", "", says)
        found = demo.found(demo.put(WHO, f"<p>First. {says}. Last.</p>"))
        assert Breach(WHO, "who", "no phrase that hurts", f"`{spelled}` in: {plain}.",
                      f"{one.why[0].upper()}{one.why[1:]}. {one.instead}") in found, spelled


@pytest.mark.parametrize("never", [
    "peace of mind", "only", "best", "houses like yours", "proven", "safe", "dust-free", "approved", "recommended",
    "should", "this will burn your house down", "good, better, best"])
def test_words_that_we_never_say(demo: Built, never: str) -> None:
    """The words that our voice does without are refused wherever they stand, in small or capital letters."""
    for says in (f"It is {never}.", f"{never.capitalize()}, we say."):
        found = demo.found(demo.put(WHO, f"<p>{says}</p>"))
        assert {(one.sheet, one.rule) for one in found} == {(WHO, "no phrase that hurts")}
        assert {one.found.split("` in: ")[1] for one in found} == {says}


@pytest.mark.parametrize(("says", "hurts"), [
    ("Wiring only is lowest today.", False), ("With wiring only, holes stay open.", False),
    ("Wiring only costs only a little.", True), ("That outlet is not safe to use.", False), ("It is unsafe.", False),
    ("It should last.", True), ("It is read-only.", False), ("The bestseller.", True)])
def test_a_name_or_another_word_is_not_refused(demo: Built, says: str, hurts: bool) -> None:
    """The name of an option holds a word that is refused elsewhere; a longer word is another word."""
    assert bool(demo.found(demo.put(WHO, f"<p>{says}</p>"))) == hurts


@pytest.mark.parametrize("html", [
    "<blockquote>Guaranteed and approved.</blockquote>",
    '<section class="found"><ol><li><h3>Approved panel recommended.</h3></li></ol></section>',
    "<p>Sign by then, or ask them for more time.</p>", "<p>We cannot say what they will accept.</p>",
    "<p>Unapproved work.</p>", "<p>Cheaper versions.</p>"])
def test_words_of_people_and_true_words_may_stand(demo: Built, html: str) -> None:
    """Quotes, findings in the inspector's words, and phrases made true beside them are left alone."""
    assert demo.found(demo.put(WHO, html)) == []


@pytest.mark.parametrize("html", [
    '<section class="found"><p>Approved.</p></section>', '<p aria-label="Approved.">x</p>',
    "<h3>Approved.</h3>", "<p>Not said.<br>Approved.</p>",
    '<section class="found"><h3>Seen.</h3></section><section><h3>Approved.</h3></section>'])
def test_only_words_of_people_are_left_alone(demo: Built, html: str) -> None:
    """What stands beside a quote, or is only read aloud, is ours."""
    assert [(one.place, one.found) for one in demo.found(demo.put(WHO, html))] == [
        ("who", "`approved` in: Approved.")]


def test_the_words_of_a_kit_are_ours(tmp_path: Path) -> None:
    """A kit that guarantees is found where its words decide and in its row, and nothing is written."""
    home = demo_copy(tmp_path)
    edit(home / "price-book.yaml", "We lay board on every floor that we cross.", "Every floor is guaranteed clean.")
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == "".join(
        f"{page}.html, {place}: no phrase that hurts: `guaranteed` in: Every floor is guaranteed clean. "
        "A guarantee needs its terms beside it, and this one has exclusions. Print One price, what can raise it "
        "and by how much at most.\n" for page, place in (
            ("compare", "compare-deciding"), ("compare", f"row {number_of('floors')}"), ("paper", "paper-rows"),
            ("walk", "walk-title-walls")))
    assert not (home / "site" / JOB).exists()


# --- a chance --------------------------------------------------------------------------------------------


def test_every_view_belongs_to_the_same_chance(demo: Built) -> None:
    """Three views of two different chances are no judgement."""
    pages = demo.changed(PAY, r'data-figure="options\.per-item\.cheapest\.half\.spoken"',
                         'data-figure="options.minimal-protection.cheapest.half.spoken"')
    found = [one for one in demo.found(pages) if "outside" in one.found]
    assert [one.found.split()[0] for one in found] == [
        "options.minimal-protection.cheapest.half.spoken", "options.per-item.cheapest.spoken",
        "options.per-item.cheapest.twice.spoken"]
    assert {(one.sheet, one.place, one.rule) for one in found} == {(PAY, "pay-often", CHANCE)}


@pytest.mark.parametrize("judged", [
    "<p>About {judged} chances in {whole}.</p>",
    "<p>Houses: about {judged} chances in {whole}. {half} in {whole}. {twice} in {whole}.</p>"])
def test_the_form_itself_is_a_judgement(demo: Built, judged: str) -> None:
    """Words of a workspace that drop a view, or that it is a judgement, are found."""
    assert Breach("content", "chances.judged", CHANCE, f"`{judged}` is not the form of a judgement.",
                  "Say that it is our judgment, not a count, in three views and with the whole.") in demo.found(
                      judged=judged)


# --- rows ------------------------------------------------------------------------------------------------

ROWS = "the same 24 rows in the same order"
CELLS = "a row answers for every option, or once for those that say the same"
RISE = "NO for `can it rise` only where no way up exists"
SAY_YES = "Start with YES and what can raise it: your own changes can raise any price."


def test_a_row_that_is_missing(demo: Built) -> None:
    """A page without one of its rows is found."""
    pages = demo.changed(COMPARE, r'<tr id="compare-row-3"[^>]*>.*?</tr>', "")
    numbers = [number for number in range(1, len(KEYS) + 1) if number != 3]
    gone, rows_there = demo.found(pages)
    assert (gone.place, gone.found) == ("compare-questions", 'href="compare.html#compare-row-3"')
    assert rows_there == Breach(COMPARE, "rows", ROWS, f"the rows are {numbers}.",
                                "Print every row, in its place for life.")


def test_a_row_out_of_place(demo: Built) -> None:
    """Rows that changed places are found."""
    pages = demo.changed(COMPARE, r'(<tr id="compare-row-14"[^>]*>.*?</tr>)\s*'
                         r'(<tr id="compare-row-15"[^>]*>.*?</tr>)', r"\2\1")
    numbers = [*range(1, 14), 15, 14, *range(16, len(KEYS) + 1)]
    assert demo.found(pages) == [Breach(COMPARE, "rows", ROWS, f"the rows are {numbers}.",
                                        "Print every row, in its place for life.")]


def test_a_cell_that_is_missing(demo: Built) -> None:
    """A row that answers for two ways of three is found."""
    pages = demo.changed(COMPARE, r'(id="compare-row-4".*?)<td><span class="option">Per item .*?</td>', r"\1")
    assert demo.found(pages) == [Breach(COMPARE, "row 4", CELLS, "it answers for Wiring only, One price.",
                                        "Answer for Wiring only, Per item, One price, in this order.")]


def test_a_cell_that_says_nothing(demo: Built) -> None:
    """An empty answer is none."""
    pages = demo.changed(COMPARE, r'(id="compare-row-4".*?<span class="option">Per item </span><p>).*?</p>', r"\1</p>")
    assert demo.found(pages) == [Breach(COMPARE, "row 4", CELLS, "the cell of Per item is empty.",
                                        "Print an answer for each option.")]


def test_the_same_for_all_only_where_it_is(demo: Built) -> None:
    """A row whose answers differ may not say that they are the same."""
    pages = demo.changed(COMPARE, r'(id="compare-row-4".*?</th>).*?</tr>',
                         r'\1<td role="cell" colspan="3"><span class="option">All options </span><p>You '
                         r'do.</p></td></tr>')
    assert demo.found(pages) == [Breach(COMPARE, "row 4", CELLS, "it says the same for Wiring only, Per item, One "
                                        "price, and their answers differ.", "Print a cell for each option.")]


def test_neighbors_share_a_cell_only_where_they_say_the_same(demo: Built) -> None:
    """Two options of three may not stand over one answer that is that of the first alone."""
    pages = demo.changed(COMPARE, r'(id="compare-row-4".*?)<td><span class="option">Wiring only </span>(.*?</td>)\s*'
                         r'<td>.*?</td>', r'\1<td colspan="2"><span class="option">Wiring only, Per item </span>\2')
    assert demo.found(pages) == [Breach(COMPARE, "row 4", CELLS, "it says the same for Wiring only, Per item, and "
                                        "their answers differ.", "Print a cell for each option.")]


def test_a_cell_that_neighbors_share_is_found_when_it_is_dropped(demo: Built) -> None:
    """A row that answers for two of three in one cell has not answered for the third."""
    shared = next(row for row in rows(demo.offer) if [cell.says_the_same(row.cells[0]) for cell in row.cells] == [
        True, True, False])
    number = shared.number.raw()
    pages = demo.changed(COMPARE, rf'(id="compare-row-{number}".*?</td>)\s*<td>.*?</td>', r"\1")
    assert demo.found(pages) == [Breach(COMPARE, f"row {number}", CELLS, "it answers for Wiring only, Per item.",
                                        "Answer for Wiring only, Per item, One price, in this order.")]


def test_there_is_a_comparison(demo: Built) -> None:
    """A site without the comparison fails, whatever else it has."""
    pages = {name: html for name, html in demo.pages.items() if name != COMPARE}
    assert Breach(COMPARE, "top", ROWS, "there is no such sheet.", "Build the comparison.") in breaches(
        demo.offer, pages, demo.files, demo.judged)


def test_row_two_never_says_no(demo: Built) -> None:
    """An answer in row 2 that starts with anything but YES is found."""
    pages = demo.changed(COMPARE, r'(id="compare-row-2".*?<span class="option">One price </span><p>).*?</p>',
                         r"\1<strong>NO.</strong> It is set.</p>")
    assert demo.found(pages) == [Breach(COMPARE, "row 2", RISE, "One price says: NO. It is set.", SAY_YES)]


def test_row_two_may_say_the_same_of_all(demo: Built) -> None:
    """YES stands first in an answer that all options share, after the words that say so."""
    claims = replace(claims_of(demo.offer), rows=tuple(
        replace(row, alike=(True, True)) if row.number == number_of("rise") else row
        for row in claims_of(demo.offer).rows))
    for says, found in (("<b>YES,</b> no cap.", []), ("No.", [RISE])):
        pages = demo.changed(COMPARE, r'(id="compare-row-2".*?</th>).*?</tr>',
                             r'\1<td colspan="3"><span class="option">All options </span><p><span class="same">'
                             rf'in each option.</span> {says}</p></td></tr>')
        page = Page(COMPARE, pages[COMPARE])
        assert [one.rule for one in fairness(claims, [page])] == found


def test_the_first_sheet_never_says_no(demo: Built) -> None:
    """An answer under `Can it rise?` that starts with anything but YES is found."""
    pages = demo.changed(FIRST, r'(>One price</th><td class="sum"[^>]*>.*?</td><td[^>]*>).*?</td>', r"\1No</td>")
    found = demo.found(pages)
    assert [(one.sheet, one.rule, one.found, one.remedy) for one in found] == [
        (FIRST, RISE, "One price says: No", SAY_YES)]


# --- the order of the options -------------------------------------------------------------------------------

ORDER = "lowest price today first"
LIST_AS = "List the options as Wiring only, Per item, One price."


def _options(offer: Offer, change: Callable[[OptionMoney], OptionMoney]) -> Offer:
    return replace(offer, outcome=replace(offer.outcome, options=tuple(change(option)
                                                                       for option in offer.outcome.options)))


def test_options_of_an_offer_out_of_order(demo: Built) -> None:
    """An offer whose dearest option comes first is found, and so is every page that lists the options by another
    order."""
    options = demo.offer.outcome.options
    turned = replace(demo.offer, outcome=replace(demo.offer.outcome, options=options[::-1]))
    assert Breach("the offer", "options", ORDER,
                  f"the order is {', '.join(f'{option.name} {option.price.say()}' for option in options[::-1])}.",
                  "Sort the options by their price today.") in demo.found(offer=turned)


@pytest.mark.parametrize("html", [
    "<ul><li>Per item: a</li><li>Wiring only: b</li></ul>",
    "<dl><div><dt>Per item</dt><dd>a</dd></div><div><dt>Wiring only</dt><dd>b</dd></div></dl>",
    "<table><tr><th>Per item</th><th>Wiring only</th></tr></table>", "<h3>Per item</h3><h3>Wiring only</h3>"])
def test_options_of_a_list_out_of_order(demo: Built, html: str) -> None:
    """A list, table or row of headings with a dearer option first is found."""
    assert demo.found(demo.put(WHO, html)) == [
        Breach(WHO, "who", ORDER, "the order is Per item, Wiring only.", LIST_AS)]


@pytest.mark.parametrize("html", [
    "<ul><li>Per item: a</li><li>One price: b</li></ul><ul><li>Wiring only: a</li></ul>",
    "<p>Per item, Wiring only</p>", "<ul><li>Wiring only: a</li><li>Wiring only: a</li><li>One price: b</li></ul>"])
def test_lists_in_order_may_stand(demo: Built, html: str) -> None:
    """Two lists in order, words in a sentence, and an option named twice are in order."""
    assert demo.found(demo.put(WHO, html)) == []


def test_the_order_is_said(demo: Built) -> None:
    """A table of all prices today says that the lowest comes first."""
    page = re.sub("[Ll]owest (price )?today first", "Options", demo.pages[FIRST])
    assert [(one.sheet, one.rule, one.found, one.remedy) for one in demo.found({FIRST: page})] == [
        (FIRST, ORDER, "a table of all prices does not say so.", "Write `Lowest today first` into its head.")]


# --- good things and drawbacks ---------------------------------------------------------------------------

REMARKS = "the good things and drawbacks that are true of an option, each tied to a row"
AS_OFFERED = "Print every one, with the row that it rests on."


def _terms(offer: Offer, key: str, change: Callable[[OptionTerms], OptionTerms]) -> Offer:
    return replace(offer, terms={**offer.terms, key: change(offer.terms[key])})


def _claims(demo: Built, **sides: tuple[int, ...]) -> Claims:
    """What the demo claims, with the rows under one price's good things or drawbacks set."""
    claims = claims_of(demo.offer)
    return replace(claims, options=tuple(replace(option, **sides) if option.key == "fixed-guarantee" else option  # type: ignore[arg-type]
                                         for option in claims.options))


def _remarks(demo: Built, claims: Claims) -> list[tuple[str, str, str]]:
    """What is found of good things and drawbacks on the page of the demo, held against these claims."""
    found = fairness(claims, [Page(COMPARE, demo.pages[COMPARE])])
    return [(one.sheet, one.found, one.remedy) for one in found if one.rule == REMARKS]


def test_no_more_stand_on_a_side_than_three(demo: Built) -> None:
    """A fourth drawback is found in the offer, and as one that the page does not print."""
    drawbacks = next(option.drawbacks for option in claims_of(demo.offer).options if option.key == "fixed-guarantee")
    assert len(drawbacks) == MOST
    assert _remarks(demo, _claims(demo, drawbacks=(*drawbacks, 5))) == [
        ("the offer", f"One price, drawbacks: {MOST + 1}.", f"Show {MOST} at most."),
        (COMPARE, f"One price: {MOST} of {MOST + 1} drawbacks stand there as offered.", AS_OFFERED)]


@pytest.mark.parametrize("most", [0, 1, 2])
def test_fewer_may_stand_where_fewer_are_true(demo: Built, most: int) -> None:
    """An offer of which less is true is no breach; a page that prints more than is true of it is."""
    drawbacks = next(option.drawbacks for option in claims_of(demo.offer).options if option.key == "fixed-guarantee")
    assert _remarks(demo, _claims(demo, drawbacks=drawbacks[:most])) == [
        (COMPARE, f"One price: {MOST} of {most} drawbacks stand there as offered.", AS_OFFERED)]


@pytest.mark.parametrize(("side", "kind"), [("good things", "pro"), ("drawbacks", "con")])
def test_one_left_out_of_a_page(demo: Built, side: str, kind: str) -> None:
    """A page that drops a good thing or a drawback that is true is found."""
    pages = demo.changed(COMPARE, rf'(<h3>One price</h3>.*?<ul class="{kind}">\s*)<li>.*?</li>', r"\1")
    assert demo.found(pages) == [Breach(
        COMPARE, "compare-each", REMARKS, f"One price: 2 of 3 {side} stand there as offered.", AS_OFFERED)]


def test_one_that_says_nothing_stands_for_none(demo: Built) -> None:
    """A link to a row without a sentence before it is not what was offered."""
    pages = demo.changed(COMPARE, r'(<h3>One price</h3>.*?<ul class="con">\s*<li>).*?(<a )', r"\1\2")
    assert demo.found(pages) == [Breach(
        COMPARE, "compare-each", REMARKS, "One price: 3 of 3 drawbacks stand there as offered.", AS_OFFERED)]


@pytest.mark.parametrize("row", [0, len(KEYS) + 1])
def test_a_remark_rests_on_a_row(demo: Built, row: int) -> None:
    """A good thing that rests on no row is found."""
    good = next(option.good for option in claims_of(demo.offer).options if option.key == "fixed-guarantee")
    assert ("the offer", "One price, good things: one rests on no row.", f"Name one of rows 1 to {len(KEYS)}.") in (
        _remarks(demo, _claims(demo, good=(row, *good[1:]))))


# --- never ahead -----------------------------------------------------------------------------------------

AHEAD = "an option that is dominated is said to be so"
SOURCE = Source("survey", "line 1")


DEAR = 900_000_00


def _dear(offer: Offer, key: str = "per-item") -> Offer:
    """The offer with one option that ends dearer than the two others in every house."""
    def dearer(option: OptionMoney) -> OptionMoney:
        if option.key != key:
            return option
        return replace(option, p10=replace(option.p10, value=DEAR), p50=replace(option.p50, value=DEAR, sum=()),
                       p90=replace(option.p90, value=DEAR))
    return _options(offer, dearer)


def _behind(offer: Offer, key: str = "per-item") -> Offer:
    """The same, and never spoken of as the cheapest."""
    def worse(option: OptionMoney) -> OptionMoney:
        if option.key != key:
            return option
        judged = option.cheapest.judged
        return replace(option, cheapest=replace(option.cheapest, judged=replace(
            judged, bound="fewer than", count=replace(judged.count, value=1))))
    return _options(_dear(offer, key), worse)


def test_no_option_of_the_demo_is_dominated(demo: Built) -> None:
    """Each way of the demo is cheapest in some endings."""
    assert dominated(demo.offer) == ()


def test_an_option_that_leads_somewhere_is_ahead(demo: Built) -> None:
    """The lowest price today leads on row 1, even when it never ends cheapest."""
    assert dominated(_behind(demo.offer, "minimal-protection")) == ()


@pytest.mark.parametrize(("count", "bound", "behind"), [(0, "", True), (1, "fewer than", True), (1, "", False)])
def test_never_cheapest_is_a_chance_that_rounds_to_nought(demo: Built, count: int, bound: str, behind: bool) -> None:
    """Nought, or fewer than one in twenty, is never; one in twenty is not."""
    def change(option: OptionMoney) -> OptionMoney:
        judged = replace(option.cheapest.judged, bound=bound, count=replace(option.cheapest.judged.count, value=count))
        return replace(option, cheapest=replace(option.cheapest, judged=judged)) if option.key == "per-item" else option
    assert dominated(_options(_dear(demo.offer), change)) == (("per-item",) if behind else ())


@pytest.mark.parametrize("change", [
    lambda terms: replace(terms, years_on_work=Figure("a", 9, "years", "A.", SOURCE)),
    lambda terms: replace(terms, held=replace(terms.held, value=terms.held.value * 2))])
def test_leading_on_one_row_is_enough(demo: Built, change: Callable[[OptionTerms], OptionTerms]) -> None:
    """A longer promise, or more held back, puts an option ahead."""
    assert dominated(_terms(_behind(demo.offer), "per-item", change)) == ()


def test_an_option_that_is_dominated_is_said_to_be_so(demo: Built) -> None:
    """The build fails until an element of the agreed id names the option."""
    offer = _behind(demo.offer)
    wrong = Breach(COMPARE, DOMINATED, AHEAD, "Per item never ends cheapest, leads on no row, and no page says so.",
                   f'Say so in an element with id="{DOMINATED}", or do not offer it.')
    assert _ahead(demo.found(offer=offer)) == [wrong]
    silent = demo.put(COMPARE, f'<p id="{DOMINATED}">One price is.</p>')
    assert _ahead(demo.found(silent, offer)) == [wrong]
    said = demo.put(COMPARE, f'<p id="{DOMINATED}"><b>Per item</b> never ends cheapest and leads on no row.</p>')
    assert _ahead(demo.found(said, offer)) == []


def _ahead(found: list[Breach]) -> list[Breach]:
    """What is found of options that are dominated; what is true of such an offer is no longer what the page prints."""
    return [one for one in found if one.rule == AHEAD]


# --- the build -------------------------------------------------------------------------------------------


def test_a_failed_audit_leaves_the_last_good_site(tmp_path: Path) -> None:
    """The build fails with every finding, the site stands byte for byte, and nothing is left beside it."""
    home = demo_copy(tmp_path)
    workspace = find(str(home))
    good = tree(build(workspace, workspace.job(JOB)).folder)
    (home / "theme/parts/block").mkdir(parents=True)
    block = (ROOT / "theme/parts/block/block.html").read_text("utf-8")
    (home / "theme/parts/block/block.html").write_text(block + "<details>Approved.</details>", "utf-8")
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    lines = done.stderr.splitlines()
    assert len(lines) == 2 * sum(name.endswith(".html") for name in good)
    assert all(re.fullmatch(r"[a-z-]+\.html, [a-z0-9 -]+: (nothing behind a fold|no phrase that hurts).+", line)
               for line in lines)
    assert tree(home / "site") == {f"{JOB}/{name}": data for name, data in good.items()}


def test_the_error_carries_its_findings_once_and_in_order() -> None:
    """AuditFailed is a BuildError that sorts its findings and says each once, sheet, place, rule and way out."""
    late, early = Breach("b.html", "row 3", "rule", "found.", "Mend it."), Breach("a.html", "x", "rule", "f.", "Mend.")
    error = AuditFailed([late, early, late])
    assert isinstance(error, BuildError)
    assert error.breaches == (early, late)
    assert str(error) == "a.html, x: rule: f. Mend.\nb.html, row 3: rule: found. Mend it."
