"""A page as the audit reads it: the tags and words that the parser of the standard library finds, a `main` once."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

from sitegen.sheets.audit import breaches
from sitegen.sheets.audit.chances import form
from sitegen.sheets.audit.page import Page, Part
from tests.built import House, offer
from tests.helpers import JOB

Element = tuple[str, bool, dict[str, str]]


class Parser(HTMLParser):
    """The tags of a page with their attributes, whether they open, and the words between them."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[Element] = []
        self.said: list[str] = []
        self.raw = False
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, True, {name: value or "" for name, value in attrs}))
        self.raw = tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        if not self.raw:
            self.tags.append((tag, False, {}))
        self.raw = False

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def handle_data(self, data: str) -> None:
        if not self.raw:
            self.said.append(data)


def tags(page: Page) -> list[Element]:
    """The same of a page as the audit reads it; scripts and styles stand as one tag there, comments have no name."""
    return [(tag.name, tag.opens, dict(tag.attributes)) for part in page.parts for tag in part.tags if tag.name]


def test_a_page_is_read_as_the_standard_library_reads_it(house: House) -> None:
    """Every tag, every attribute and every word of every page of the demo houses, in order."""
    for path in sorted(house.folder.glob("*.html")):
        html = path.read_text("utf-8")
        ours, theirs = Page(path.name, html), Parser(html)
        assert tags(ours) == theirs.tags, path.name
        assert "".join(said for part in ours.parts for said in part.said) == "".join(theirs.said), path.name


@pytest.mark.parametrize("html", [
    '<p title="a > b">x &lt; y &amp; z&nbsp;.</p>', "<!-- <p class='x'> --><p>a</p>", "<p\nhidden\nid='x'>a<br/>b</p>",
    "<script>if (a < b && c > d) x('<p>')</script>a<style>p > a {}</style>b", "<P CLASS=\"a\">x</P>", "3 < 4 and 5 > 4",
    '<svg viewBox="0 0 1 1"><path d="M0 0"/></svg>', "<!doctype html><html lang=\"en\"><body>a</body></html>"])
def test_what_may_mislead_is_read_as_well(html: str) -> None:
    """A sign inside of a value, a comment, a script, a line end or capital letters change nothing."""
    ours, theirs = Page("x.html", html), Parser(html)
    assert [tag[:2] for tag in tags(ours)] == [tag[:2] for tag in theirs.tags]
    assert "".join(said for part in ours.parts for said in part.said) == "".join(theirs.said)
    if "'" not in html:
        assert tags(ours) == theirs.tags


def test_an_element_ends_where_its_own_tag_closes() -> None:
    """Elements of one name inside each other are told apart; one that never closes holds nothing."""
    part = Part("<div><div>a</div>b</div><p>c<ul><li>d</li></ul>")
    assert [(span, part.words(span)) for span in part.elements("div")] == [((0, 3), "a b"), ((1, 2), "a")]
    assert [*part.elements("p")] == [(4, 4)]
    assert part.words((4, 4)) == ""
    assert part.outermost({part.tags[0], part.tags[1]}) == [(0, 3)]


def test_words_in_line_are_one_block_and_others_are_not() -> None:
    """A tag in a line parts no words, any other does."""
    part = Part('<p id="a">On<b>ce</b> <i>more</i></p><p>And<br>again</p><img alt="Seen.">')
    assert [*part.blocks()] == [(0, "Once more"), (6, "And"), (7, "again"), (9, "Seen.")]
    assert [block for block in part.text.split("\0") if block] == ["once more", "and", "again", "seen."]


HEAD = '<html><body><header id="{}-head">{}</header>'


@pytest.mark.parametrize("name", ["a", "b", "code", "data", "em", "i", "label", "output", "small", "span", "strong",
                                  "sub", "sup"])
def test_an_element_in_line_does_not_cut_its_sentence(name: str) -> None:
    """A phrase is found across every element that a browser lays in the line."""
    assert Part(f"<p>no <{name}>surprises</{name}> here</p>").text.strip("\0") == "no surprises here"


def test_a_main_that_two_pages_share_is_read_once() -> None:
    """The same `main` under two heads is the same part, with all that was worked out for it; another one is not."""
    main = '<main id="detail-x"><p>Words.</p></main>'
    first, second = (Page("x.html", HEAD.format(name, name) + main + "<footer></footer>") for name in ("a", "b"))
    assert first.main is second.main is not None
    assert first.parts[0] is not second.parts[0]
    assert Page("x.html", HEAD.format("a", "a") + main.replace("Words", "Other words")).main is not first.main
    assert Page("x.html", HEAD.format("a", "a") + main, form("<p>{judged}</p>")).main is not first.main


def test_a_rule_is_asked_once_of_a_part() -> None:
    """What it said is kept for as long as the part is, beside what another rule says of the same part."""
    part, asked = Part("<p>Words.</p>"), list[Part]()

    def rule(one: Part) -> str:
        asked.append(one)
        return one.said[1]
    assert [part.once(rule), part.once(len_of), part.once(rule)] == ["Words.", 2, "Words."]
    assert asked == [part]


def len_of(part: Part) -> int:
    return len(part.tags)


def test_what_is_wrong_in_a_shared_main_is_said_for_every_page() -> None:
    """A finding of a part that was kept stands for each page that has it, at its place there."""
    main = "<main><details>Folded.</details></main>"
    pages = {f"{name}.html": HEAD.format(name, name) + main for name in ("a", "b")}
    found = {(one.sheet, one.place) for one in breaches(offer(JOB), pages, set(pages), "") if one.found == "<details>"}
    assert found == {("a.html", "a-head"), ("b.html", "b-head")}


def test_every_chance_that_may_be_spoken_is_told_by_its_name(house: House) -> None:
    """A count of twentieths has a name that ends in `.spoken`, and nothing else has: the audit goes by the name."""
    figures = house.offer.figures()
    assert {one.name for one in figures if one.unit == "twentieths"} == {
        one.name for one in figures if one.name.endswith(".spoken")}
