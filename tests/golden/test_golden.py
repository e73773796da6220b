"""What homeowners read, as text that stands in the repository: a change of a word or a figure is a diff to look at."""

from __future__ import annotations

from pathlib import Path

from tests.built import House
from tests.golden.pieces import FILE, our_words, words_text
from tests.golden.text import differs, figures_text, page_text

FOLDER = Path(__file__).parent


def texts(house: House) -> dict[str, str]:
    """Every page and the figures of a house, by name of file."""
    made = {f"{path.stem}.txt": page_text(path.read_text("utf-8")) for path in sorted(house.folder.glob("*.html"))}
    return {**made, "figures.txt": figures_text(house.offer.figures())}


def test_every_page_and_figure_reads_as_it_stands_in_the_repository(house: House) -> None:
    """Each sheet, detail and figure of a demo house is the text that was accepted, line by line."""
    assert not (diff := differs(FOLDER / house.job, texts(house))), diff


def test_every_piece_of_words_reads_as_it_stands_in_the_repository() -> None:
    """Each piece of `content/`, rendered by a house or by none, is the text that was accepted, slot by slot."""
    assert not (diff := differs(FOLDER, {FILE: words_text(our_words())})), diff


def test_a_figure_stands_with_its_name_and_a_row_on_one_line() -> None:
    """The text tells two figures of one value apart, keeps the cells of a row together and splits sentences."""
    html = ('<body><p>From <data value="1" data-figure="a.low">$1</data> to <data value="1" data-figure="a.high">$1'
            "</data>. It can rise.</p><table><tr><th>Now</th><td>3</td></tr></table><script>1</script></body>")
    assert page_text(html).splitlines() == ["From [$1 | a.low] to [$1 | a.high].", "It can rise.", "Now | 3"]
