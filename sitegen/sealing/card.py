"""The card that is left behind, with the link as a code to photograph; the paper ends with the same code."""

from __future__ import annotations

from pathlib import Path

import segno
from markupsafe import Markup

from sitegen.figure import Quote, Source
from sitegen.offer.offer import Offer
from sitegen.sealing.pages import CARD_STYLE, Gate
from sitegen.sheets.site import SiteWriter

NAME = "card.html"
QUIET = 4
"""Modules of light around a code (ISO/IEC 18004)."""


def code(link: str) -> Markup:
    """A link as a two-dimensional code (ISO/IEC 18004) at the level that bears 15 % of damage, in dark on light."""
    made = segno.make(link, error="m", boost_error=False, micro=False)
    return Markup(made.svg_inline(scale=3, border=QUIET, dark="#000", light="#fff", omitsize=True))


def at_the_foot(link: str, writer: SiteWriter) -> str:
    """What stands at the foot of the paper: the code and who can read with it."""
    return f'<div class="code">{code(link)}<p class="note">{writer.words.inline("sealed.code")}</p></div>'


def card(folder: Path, link: str, offer: Offer, gate: Gate, writer: SiteWriter) -> Path:
    """Write the card of a job beside it, to be printed; it holds the key, so it is as private as the link."""
    path = folder / NAME
    text = writer.env.get_template("sealed/card.html").render(
        firm=gate, policy=None, head=offer.head, dates=offer.dates, code=code(link),
        css=Markup(writer.text(CARD_STYLE)), link=Quote(link, Source("worked out", "the publication")))
    beside = path.with_name(f".{NAME}")
    beside.touch(mode=0o600)
    beside.write_text(text, "utf-8")
    beside.replace(path)
    return path


__all__ = ["NAME", "at_the_foot", "card", "code"]
