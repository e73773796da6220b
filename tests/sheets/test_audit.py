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
from sitegen.figure import Figure, Quote, Source
from sitegen.offer.dominated import dominated
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer, OptionTerms
from sitegen.sheets.audit import breaches
from sitegen.sheets.audit.fairness import DOMINATED
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
        """The breaches, with some of it changed."""
        return breaches(offer or self.offer, {**self.pages, **(pages or {})}, self.files, judged or self.judged)

    def put(self, sheet: str, html: str) -> dict[str, str]:
        """A page with something put at the start of its main part."""
        start = f'<main id="{MAIN[sheet]}">'
        assert self.pages[sheet].count(start) == 1
        return {sheet: self.pages[sheet].replace(start, start + html)}

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
    "<p>In 61 of the 84 houses that we finished it did.</p>", "<!-- <details> 15 in 20 -->"])
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
    """A kit that guarantees is found in its row, and nothing is written."""
    home = demo_copy(tmp_path)
    edit(home / "price-book.yaml", "We cut each old circuit, test it dead and sign a list of them by room.",
         "Every old circuit is guaranteed gone.")
    done = sitegen("build", JOB, cwd=home)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == (
        "compare.html, row 11: no phrase that hurts: `guaranteed` in: Every old circuit is guaranteed gone. "
        "A guarantee needs its terms beside it, and this one has exclusions. Print One price, what can raise it "
        "and by how much at most.\n")
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
                  "Say that it is our judgement, not a count, in three views and with the whole.") in demo.found(
                      judged=judged)


# --- rows ------------------------------------------------------------------------------------------------

ROWS = "the same 24 rows in the same order"
CELLS = "a row answers for every option, or once for all"
RISE = "NO for `can it rise` only where no way up exists"
SAY_YES = "Start with YES and what can raise it: your own changes can raise any price."


def test_a_row_that_is_missing(demo: Built) -> None:
    """A page without one of its rows is found."""
    pages = demo.changed(COMPARE, r'<tr id="compare-row-3">.*?</tr>', "")
    numbers = [number for number in range(1, 25) if number != 3]
    assert demo.found(pages) == [Breach(COMPARE, "rows", ROWS, f"the rows are {numbers}.",
                                        "Print every row, in its place for life.")]


def test_a_row_out_of_place(demo: Built) -> None:
    """Rows that changed places are found."""
    pages = demo.changed(COMPARE, r'(<tr id="compare-row-15">.*?</tr>)\s*'
                         r'(<tr id="compare-row-16">.*?</tr>)', r"\2\1")
    numbers = [*range(1, 15), 16, 15, *range(17, 25)]
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
                         r'\1<td role="cell" colspan="3"><span class="option">All three </span><p>You '
                         r'do.</p></td></tr>')
    assert demo.found(pages) == [Breach(COMPARE, "row 4", CELLS, "it says the same for all, and the answers differ.",
                                        "Print a cell for each option.")]


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

REMARKS = "as many good things and drawbacks for each option, each tied to a row"
LENGTH = "good things and drawbacks are as long for each option"
AS_OFFERED = "Print every one, with the row that it rests on."


def _terms(offer: Offer, key: str, change: Callable[[OptionTerms], OptionTerms]) -> Offer:
    return replace(offer, terms={**offer.terms, key: change(offer.terms[key])})


def _only(found: list[Breach], rule: str, sheet: str = "the offer") -> list[Breach]:
    return [one for one in found if (one.rule, one.sheet) == (rule, sheet)]


def test_a_drawback_left_out_of_an_offer(demo: Built) -> None:
    """An option with fewer drawbacks than the others is found in the offer, and as a page that says more than it."""
    offer = _terms(demo.offer, "fixed-guarantee", lambda terms: replace(terms, drawbacks=terms.drawbacks[:2]))
    found = demo.found(offer=offer)
    assert _only(found, REMARKS) == [Breach(
        "the offer", "compare-each", REMARKS,
        "Wiring only, good things: 3; Per item, good things: 3; One price, good things: 3; Wiring only, drawbacks: 3; "
        "Per item, drawbacks: 3; One price, drawbacks: 2.", "Write as many for each option and side.")]
    assert _only(found, REMARKS, COMPARE) == [Breach(
        COMPARE, "compare-each", REMARKS, "One price: 3 of 2 drawbacks stand there as offered.", AS_OFFERED)]


def test_a_drawback_left_out_of_a_page(demo: Built) -> None:
    """A page that drops a drawback is found, with its words."""
    says = demo.offer.terms["fixed-guarantee"].drawbacks[0].says.text
    pages = demo.changed(COMPARE, rf"<li>{re.escape(says)}.*?</li>", "")
    assert demo.found(pages) == [Breach(
        COMPARE, "compare-each", REMARKS, f"One price: 2 of 3 drawbacks stand there as offered: not `{says}`.",
        AS_OFFERED)]


def test_a_remark_rests_on_a_row(demo: Built) -> None:
    """A good thing that rests on no row is found."""
    def far(terms: OptionTerms) -> OptionTerms:
        first = terms.good[0]
        return replace(terms, good=(replace(first, row=replace(first.row, value=25)), *terms.good[1:]))
    says = demo.offer.terms["per-item"].good[0].says.text
    assert _only(demo.found(offer=_terms(demo.offer, "per-item", far)), REMARKS) == [Breach(
        "the offer", "row 25", REMARKS, f"Per item, good things: `{says}` rests on no row.",
        "Name one of rows 1 to 24.")]


@pytest.mark.parametrize(("more", "fails"), [(4, False), (5, True)])
def test_short_texts_may_differ_by_four_words(demo: Built, more: int, fails: bool) -> None:
    """With some twenty words an option, four more may stand and five more may not."""
    offer = _told(demo.offer, (20, 20, 20 + more))
    expected = Breach("the offer", "compare-each", LENGTH,
                      f"words of drawbacks: Wiring only 20, Per item 20, One price {20 + more}.",
                      "Shorten the longest or say more in the shortest.")
    assert _only(demo.found(offer=offer), LENGTH) == ([expected] if fails else [])


@pytest.mark.parametrize(("words", "fails"), [((85, 100, 90), False), ((84, 100, 90), True)])
def test_long_texts_may_differ_by_fifteen_in_a_hundred(demo: Built, words: tuple[int, int, int], fails: bool) -> None:
    """With a hundred words in the longest, eighty-five in the shortest are enough and eighty-four are not."""
    assert bool(_only(demo.found(offer=_told(demo.offer, words)), LENGTH)) is fails


def _told(offer: Offer, words: tuple[int, int, int]) -> Offer:
    """An offer whose three options have drawbacks of so many words, in the order of the options."""
    for option, count in zip(offer.outcome.options, words, strict=True):
        def longer(terms: OptionTerms, count: int = count) -> OptionTerms:
            first, *others = terms.drawbacks
            said = [replace(first, says=Quote(" ".join(["word"] * (count - 2)), first.says.source)),
                    *(replace(other, says=Quote("word", other.says.source)) for other in others)]
            return replace(terms, drawbacks=tuple(said))
        offer = _terms(offer, option.key, longer)
    return offer


# --- never ahead -----------------------------------------------------------------------------------------

AHEAD = "an option that is dominated is said to be so"
SOURCE = Source("survey", "line 1")


DEAR = 900_000_00


def _dear(offer: Offer, key: str = "per-item") -> Offer:
    """The offer with one option that ends dearer than the two others in every house."""
    def dearer(option: OptionMoney) -> OptionMoney:
        if option.key != key:
            return option
        return replace(option, p10=replace(option.p10, value=DEAR), p50=replace(option.p50, value=DEAR),
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
    assert demo.found(offer=offer) == [wrong]
    silent = demo.put(COMPARE, f'<p id="{DOMINATED}">One price is.</p>')
    assert demo.found(silent, offer) == [wrong]
    said = demo.put(COMPARE, f'<p id="{DOMINATED}"><b>Per item</b> never ends cheapest and leads on no row.</p>')
    assert demo.found(said, offer) == []


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
