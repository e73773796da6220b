"""Tokens, keys and links."""

from __future__ import annotations

import math

import pytest

from sitegen.errors import UsageError
from sitegen.sealing.link import ALPHABET, LENGTH, address, draw, is_drawn, link


def test_a_token_holds_at_least_128_bits() -> None:
    """As many signs of as many kinds as hold 128 bits, and no two of a thousand are the same."""
    assert LENGTH * math.log2(len(set(ALPHABET))) >= 128
    assert len({draw() for _ in range(1000)}) == 1000


def test_every_sign_is_drawn_as_often_as_another() -> None:
    """Over 100,000 signs none is drawn less than four fifths or more than six fifths of its share."""
    drawn = "".join(draw() for _ in range(4000))
    share = len(drawn) / len(ALPHABET)
    assert all(0.8 * share < drawn.count(sign) < 1.2 * share for sign in ALPHABET)


def test_a_link_survives_a_message() -> None:
    """Small letters and digits alone, none of which is read for another or ends a link that a telephone marks."""
    assert ALPHABET.isalnum()
    assert ALPHABET.lower() == ALPHABET
    assert not set("lo01") & set(ALPHABET)


def test_the_key_stands_behind_the_sign_that_is_never_sent() -> None:
    """The address before the # names the token and not the key."""
    token, key = draw(), draw()
    before, _, after = link("https://proposals.example/homes/", token, key).partition("#")
    assert (before, after) == (f"https://proposals.example/homes/{token}/", key)
    assert link(None, token, None) == f"{token}/"


@pytest.mark.parametrize("at", ["http://proposals.example/", "proposals.example", "https://", "ftp://a.example/",
                                "https://a.example/?b", "https://a.example/#b"])
def test_an_address_that_no_sealed_page_opens_at_is_refused(at: str) -> None:
    """Plain http, no host, a question or a fragment: each is refused with what to write."""
    with pytest.raises(UsageError, match=r"https://proposals\.example/"):
        address(at)


@pytest.mark.parametrize("text", ["", "../etc/passwd", "a" * 25, "a" * 27, "A" * 26, "a" * 25 + "0", "a" * 25 + "/"])
def test_only_what_was_drawn_becomes_a_folder(text: str) -> None:
    """A token of another length or with another sign is none."""
    assert is_drawn(draw())
    assert not is_drawn(text)
