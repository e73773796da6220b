"""American spelling, and sentences that readers stumbled over: neither stands in what is held.

A sentence that somebody had to read twice was written anew; what was odd in each is kept here, so that it stays away.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from sitegen.sheets.words import pieces
from tests.helpers import ROOT

CARDS = ("company.yaml", "price-book.yaml", "towns/*.yaml", "states/*.yaml", "*/job.yaml")
"""Files of the demo firm, under proposals/, of which every value is held, and no comment or name of a field."""

BRITISH = re.compile(
    r"\b(?:\w*judgement\w*|licences?|licenced|labell\w+|cancelled|cancelling|travell\w+|modell\w+|levell\w+|grey\w*"
    r"|mould\w*|centre\w*|metres?|fibres?|colou?r(?<=our)\w*|neighbour\w*|favour\w*|behaviour\w*|honour\w*|labour\w*"
    r"|harbour\w*|odour\w*|vapour\w*|rumour\w*|storeys?|aluminium|chisell\w+|plough\w*|kerbs?|tyres?|cheques?"
    r"|programmes?|catalogues?|draughts?\w*|defence|offence|practise\w*|analyse\w*|organis\w+|recognis\w+|realis\w+"
    r"|specialis\w+|minimis\w+|apologis\w+|authoris\w+|customis\w+|summaris\w+|skilful|fulfil|enrol|ageing|whilst"
    r"|amongst|towards|earthed|skirting|plasterboard|spanners?|torch|flat-pack|sceptical|artefacts?|pyjamas|jewellery"
    r"|speciality|tonnes?|gaol|moulding)\b", re.IGNORECASE)
"""British spellings and words; an American house has stories or floors, a baseboard, drywall and a flashlight."""

STUMBLES = (
    r"\bclosed by\b", r"\bnot by\b", r"\bin part by\b", r"that we can find is cut", r"old points come by cable",
    r"it turns on how many", r"ends no dearer", r"the count alone moves", r"is easy or hard in everything",
    r"steps were owed", r"pull apart", r"before each cut when it comes", r"house of ten goes past", r"lived in, they",
    r"these are two methods", r"middle of what is hidden", r"can speak of all", r"to whoever asked",
    r"how do you earn on it", r"^in the middle\.", r"but for those on", r"a further (?:point|cable)",
    r"of the surprises is left", r"our days are for", r"asks for its steps in none", r"somebody finds old wire still",
    r"those of the \S+ not seen", r"are those of the whole plan", r"old points? stays? live, from",
    r"^\S+ are old, with no ground", r"what is on them moves", r"known already, and in", r"are taken to be old between",
    r"too long or too short", r"for the way that gets", r"goes in, it is fixed", r"if it holds your one",
    r"lawful too", r"done to the least", r"follow a list that was made")
"""What readers stumbled over, a piece of each sentence, in small letters; a slot reads as it stands in braces."""


def held_words() -> Iterator[tuple[str, str]]:
    """Each piece, on one line, with its file and its key; the heading is no word of a reader's."""
    for path in sorted((ROOT / "content").rglob("*.md")):
        name = path.relative_to(ROOT / "content").as_posix()
        yield from ((f"{name} {key}", " ".join(body.split())) for key, body in pieces(path.read_text("utf-8")).items())


def carded() -> Iterator[tuple[str, str]]:
    """Each line of words of the demo firm's files, with its file: what stands after a name of a field, or alone."""
    home = ROOT / "proposals"
    for path in sorted(path for one in CARDS for path in home.glob(one)):
        for line in path.read_text("utf-8").splitlines():
            said = line.split("#")[0].rpartition(": ")[2].strip()
            if " " in said:
                yield path.relative_to(home).as_posix(), said


def shown(path_text: str) -> str:
    """What a reader sees of a template: its text, without tags, comments, names and what is worked out."""
    return " ".join(re.sub(r"{#.*?#}|{%.*?%}|{{.*?}}|<!--.*?-->|<style.*?</style>|<[^>]*>|/\*.*?\*/", " ", path_text,
                           flags=re.DOTALL).split())


def test_no_british_spelling_stands_in_our_words() -> None:
    """Word by word, in content/, the theme and the demo firm's files; a slot's name is read by nobody."""
    held = list(held_words())
    assert len(held) > 1000
    assert [(where, found[0]) for where, said in held
            for found in BRITISH.finditer(re.sub(r"{[a-z_]+}", "", said))] == []
    cards = list(carded())
    assert len(cards) > 200
    assert [(where, found[0]) for where, said in cards for found in BRITISH.finditer(said)] == []
    theme = [path for path in sorted((ROOT / "theme").rglob("*")) if path.suffix in {".html", ".svg"}]
    assert len(theme) > 60
    assert [(path.name, found[0]) for path in theme for found in BRITISH.finditer(shown(path.read_text("utf-8")))] == []


def test_no_sentence_that_readers_stumbled_over_stands_in_our_words() -> None:
    """Forty of them, each known by what was odd in it."""
    assert len(STUMBLES) == len(set(STUMBLES)) == 40
    odd = re.compile("|".join(STUMBLES))
    assert [(where, found[0]) for where, said in held_words() for found in odd.finditer(said.lower())] == []


@pytest.mark.parametrize("said", ["Our judgement", "a licence", "It was cancelled.", "each storey", "the grey one",
                                  "pressed-fibre board", "the colour of it", "a Centre light", "labelled"])
def test_a_british_word_is_found(said: str) -> None:
    """Whatever its case, alone or in a sentence."""
    assert BRITISH.search(said)


@pytest.mark.parametrize("said", ["our judgment", "a license", "canceled", "each story", "toward", "gray", "molding",
                                  "the color", "a metric wrench", "a center stud", "licensed", "tire", "labeled"])
def test_an_american_word_is_not(said: str) -> None:
    """The same words as Americans spell them."""
    assert not BRITISH.search(said)


@pytest.mark.parametrize("said", ["Closed by One price.", "In part by Wiring only.", "{old} are old, with no ground.",
                                  "In the middle.", "These are lawful too, and each leaves something."])
def test_a_stumble_is_found(said: str) -> None:
    """As it stood."""
    assert re.search("|".join(STUMBLES), said.lower())
