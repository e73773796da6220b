"""Every pair of colours that can meet, worked out by the formula of WCAG 2 and held to its limit, in both schemes."""

from __future__ import annotations

import re

import pytest

from sitegen.sheets.site import STYLES
from tests.helpers import ROOT

CSS = {path: (ROOT / "theme" / path).read_text("utf-8") for path in STYLES}
BASE = CSS["css/base.css"]
SCHEMES = ("light", "dark")
TEXT, SHAPE = 4.5, 3.0
"""Least contrast of words, and of what is no word but means something: WCAG 2, 1.4.3 and 1.4.11."""

GROUNDS = ("paper", "panel")
PAIRS = [(token, ground, least) for token, least in
         (("ink", TEXT), ("soft", TEXT), ("old", TEXT), ("new", TEXT), ("edge", SHAPE)) for ground in GROUNDS]
DRAWN = {  # ratio on paper and on panel as the drawing of the sheets gives them
    "light": {"ink": (15.9, 14.4), "soft": (7.3, 6.6), "edge": (4.8, 4.3), "old": (6.0, 5.4), "new": (6.9, 6.3)},
    "dark": {"ink": (15.1, 13.6), "soft": (8.6, 7.7), "edge": (5.1, 4.6), "old": (8.8, 7.9), "new": (9.3, 8.4)}}
COLOURS = {  # the colours of the drawing; `rule` is decoration and `mat` lies behind photographs
    "light": {"paper": "#faf7f0", "panel": "#f1ece0", "ink": "#1f1c19", "soft": "#57514a", "edge": "#766d60",
              "rule": "#cfc6b6", "old": "#a3400b", "new": "#1b5a85", "mat": "#ffffff"},
    "dark": {"paper": "#171512", "panel": "#221f1b", "ink": "#efe9dd", "soft": "#b9b1a4", "edge": "#8f8677",
             "rule": "#4a443c", "old": "#f0a36b", "new": "#86c0ea", "mat": "#000000"}}
DECORATION = {"rule", "mat", *GROUNDS}
HEX = r"#[0-9a-fA-F]{3,8}\b"


def long(colour: str) -> str:
    """A colour with six digits."""
    return colour.lower() if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:].lower())


def tokens(scheme: str) -> dict[str, str]:
    """The colours of base.css in one scheme; the dark ones are laid over the light ones."""
    light, dark = re.findall(r":root(?::not\(:has\(#agreement\)\))?\{([^}]*)\}", BASE)[:2]
    found = dict(re.findall(rf"--([\w-]+):({HEX})", light))
    return {name: long(value) for name, value in
            (found | (dict(re.findall(rf"--([\w-]+):({HEX})", dark)) if scheme == "dark" else {})).items()}


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours by the formula of WCAG 2."""
    def luminance(colour: str) -> float:
        parts = [int(long(colour)[i:i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_formula() -> None:
    """Black on white is 21; #767676 on white is 4.54 and #777777 4.48, on either side of the limit for words."""
    assert contrast("#000", "#fff") == contrast("#fff", "#000") == pytest.approx(21)
    assert contrast("#767676", "#fff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777", "#fff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_tokens_are_those_that_were_drawn(scheme: str) -> None:
    """base.css has the colours of the drawing and no others, so that each of them is in the pairs below."""
    assert tokens(scheme) == COLOURS[scheme]
    assert set(COLOURS[scheme]) == {token for token, *_ in PAIRS} | DECORATION


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("token", "ground", "least"), PAIRS)
def test_each_pair_stands_out(scheme: str, token: str, ground: str, least: float) -> None:
    """Words stand out 4.5 to 1 and shapes 3 to 1, on each ground, and by as much as the drawing says."""
    ratio = contrast(tokens(scheme)[token], tokens(scheme)[ground])
    print(scheme, token, "on", ground, round(ratio, 2))
    assert ratio >= least
    assert ratio == pytest.approx(DRAWN[scheme][token][GROUNDS.index(ground)], abs=0.06)


@pytest.mark.parametrize("token", [token for token, ground, _ in PAIRS if ground == "paper"])
def test_each_pair_stands_out_on_paper(token: str) -> None:
    """Print is light on white, and stands out there by no less."""
    assert "@media print{:root{--paper:#fff}" in BASE
    assert "@media screen and (prefers-color-scheme:dark){:root:not(:has(#agreement)){" in BASE
    assert contrast(tokens("light")[token], "#fff") >= (SHAPE if token == "edge" else TEXT)


def test_no_colour_but_a_token() -> None:
    """No style sheet but the tokens names a colour of its own, by number or by name."""
    for name, css in CSS.items():
        bare = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
        bare = re.sub(r":root(?::not\(:has\(#agreement\)\))?\{[^}]*\}", "", bare)
        assert re.findall(rf"[:\s,(]({HEX}|rgba?\(|hsla?\(|color-mix\()", bare) == [], name
        named = re.findall(r"(?:color|background|fill|stroke|border|outline)[\w-]*:[^;}]*\b"
                           r"(black|white|gr[ae]y|red|green|blue|silver|orange|yellow)\b", bare)
        assert named == [], name


def test_no_words_are_made_faint() -> None:
    """Opacity below one would undo every ratio here, so no style sheet sets it."""
    assert [name for name, css in CSS.items() if re.search(r"(?:^|[{;\s-])opacity\s*:", css)] == []
