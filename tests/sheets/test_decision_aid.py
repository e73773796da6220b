"""The list that aids to decisions are measured by, held to the pages: see `tests/decision_aid.yaml`."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
import yaml
from bs4 import BeautifulSoup

from sitegen.offer.claims import DRAWBACKS, GOOD, MOST, holds, told
from tests.built import House, Place
from tests.helpers import ROOT

ITEMS: list[dict[str, Any]] = yaml.safe_load((ROOT / "tests/decision_aid.yaml").read_text("utf-8"))
CARRIED = [item for item in ITEMS if item["carries"] != "no"]
COUNTED = {"qualifying": 6, "certification": 10, "quality": 28}
CARRIES = {"qualifying": 6, "certification": 6, "quality": 23}
MET = {"qualifying": 6, "certification": 6, "quality": 15}
"""How many items the list has, how many carry over to a purchase, and how many of these the sheets meet.

The other eight ask for studies; none was made, and sheet 8 says so."""


def places(house: House, found: dict[str, Any]) -> list[tuple[str, list[Place]]]:
    """Sheet by sheet, the places of one entry; `*` stands for every page."""
    sheets = sorted(house.pages) if found["sheet"] == "*" else [found["sheet"]]
    return [(sheet, [Place(f"{house.job}, {sheet} {found['at']}", tag)
                     for tag in house.pages[sheet].select(found["at"])]) for sheet in sheets]


def check(house: House, found: dict[str, Any]) -> None:
    """Fail unless enough places are there, each says something, and the words stand in one of them."""
    for sheet, there in places(house, found):
        assert len(there) >= found.get("many", 1), f"{house.job}, {sheet}: {len(there)} are {found['at']}"
        assert all(place.text or place.tag.name == "svg" for place in there), f"{house.job}, {sheet}: empty"
        for words in found.get("says", ()):
            assert any(words.lower() in place.text.lower() for place in there), f"{house.job}, {sheet}: {words}"


def test_the_list_is_whole() -> None:
    """Every item of the list stands there once: forty-four, of which thirty-five carry over."""
    assert len({item["item"] for item in ITEMS}) == len(ITEMS) == sum(COUNTED.values())
    assert Counter(item["group"] for item in ITEMS) == COUNTED
    assert Counter(item["group"] for item in CARRIED) == CARRIES


@pytest.mark.parametrize("item", ITEMS, ids=lambda item: item["item"])
def test_an_item_is_answered_or_left_out_with_a_reason(item: dict[str, Any]) -> None:
    """An item that carries over is met or said not to be made, with a place; one that does not has its reason."""
    assert item["asks"]
    if item["carries"] == "no":
        assert len(item["why"].split()) >= 8
        assert set(item) == {"item", "group", "asks", "carries", "why"}
    else:
        assert item["carries"] in ("as it is", "adapted")
        assert item["answer"] in ("met", "not made")
        assert item["here"]
        assert item["found"]
        assert set(item) == {"item", "group", "asks", "carries", "answer", "here", "found"}


def test_what_is_met_is_counted_and_what_is_not_made_is_said() -> None:
    """All qualifying and general certification items are met, fifteen of quality; the other eight are studies."""
    assert Counter(item["group"] for item in CARRIED if item["answer"] == "met") == MET
    not_made = [item for item in CARRIED if item["answer"] == "not made"]
    assert {item["group"] for item in not_made} == {"quality"}
    assert all(place["at"] == "#who-studies" and place["says"] for item in not_made for place in item["found"])


@pytest.mark.parametrize("item", CARRIED, ids=lambda item: item["item"])
def test_an_item_is_there_on_every_house(house: House, item: dict[str, Any]) -> None:
    """What meets an item stands on the built pages of each demo house."""
    for found in item["found"]:
        check(house, found)


def test_good_and_bad_are_told_in_equal_detail(house: House) -> None:
    """Equal detail: every claim that is true of an option is a candidate on its side, the largest three are shown of
    both, in like lists, and where one side has fewer it is because no more is true.

    The words are the same for every option, so that no option is told at greater length than another.
    """
    said = told(house.offer)
    for article, option in zip(house.at("compare.html", ".each article"), house.offer.outcome.options, strict=True):
        for kind, side, shown in (("pro", GOOD, said[option.key].good), ("con", DRAWBACKS, said[option.key].drawbacks)):
            true = [key for key in side if holds(house.offer, option.key, key)]
            assert len(article.select(f"ul.{kind} > li")) == min(MOST, len(true))
            assert {claim.key for claim in shown} <= set(true)


def test_a_claim_is_told_in_the_same_words_of_every_option(house: House) -> None:
    """Two options of which the same is true are told it in one sentence, but for their own figures and names."""
    found: dict[str, set[str]] = {}
    for article, one in zip(house.at("compare.html", ".each article"), told(house.offer).values(), strict=True):
        for item, claim in zip(article.select("ul.pro > li, ul.con > li"), (*one.good, *one.drawbacks), strict=True):
            bare = BeautifulSoup(str(item), "html.parser")
            for data in bare.select("data, a.row"):
                data.decompose()
            if claim.own is None and claim.key != "elsewhere":      # which names what is bought
                found.setdefault(claim.key, set()).add(" ".join(bare.get_text(" ").split()))
    assert found
    assert {key: says for key, says in found.items() if len(says) != 1} == {}


@pytest.mark.parametrize("found", [{"sheet": "index.html", "at": ".nowhere"},
                                   {"sheet": "index.html", "at": ".first", "says": ["words that stand nowhere"]},
                                   {"sheet": "compare.html", "at": "tr[id^=compare-row-]", "many": 25}])
def test_an_item_that_is_lost_would_be_seen(house: House, found: dict[str, Any]) -> None:
    """A place that is gone, words that are gone and too few of a kind each fail."""
    with pytest.raises(AssertionError):
        check(house, found)
