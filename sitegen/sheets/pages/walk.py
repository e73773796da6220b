"""The walk at the table: twelve stops, each with one thing on it, for two people and a salesperson."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Figure
from sitegen.offer.claims import told
from sitegen.offer.deciding import Deciding, deciding
from sitegen.offer.offer import Offer
from sitegen.offer.rows import rows
from sitegen.sheets.claim_words import CLAIM_WORDS
from sitegen.sheets.counts import counted
from sitegen.sheets.pages.compare import HOLDS
from sitegen.sheets.pages.pay import pay
from sitegen.sheets.pages.start import start

STOPS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("tonight", "walk.tonight", ()), ("found", "walk.found", ()), ("houses", "walk.houses", ()),
    ("price", "walk.price", ("price", "rise")), ("ending", "walk.ending", ("ending", "most")),
    ("more", "walk.more", ()), ("live", "walk.live", ("live",)), ("walls", "walk.walls", ("holes", "floors")),
    ("dates", "walk.dates", ("dates",)), ("extras", "walk.extras", ()), ("weigh", "walk.weigh", ("promise", "earning")),
    ("close", "walk.close", ()))
"""Each stop in its order: its key, the words of its title, the rows of the comparison that it shows in short."""


class Stop(Struct, frozen=True):
    """One stop: its number and key, the key of its title, and the lines that decide, each with its class."""

    number: Figure
    key: str
    title: str
    lines: tuple[tuple[Deciding, str], ...]


def walk(offer: Offer) -> dict[str, Any]:
    """The walk.  `stops`: all of them; the rest is what its parts ask for: hazards, steps, claims, extras."""
    short = deciding(offer, rows(offer))
    there = [stop for stop in STOPS if stop[0] != "extras" or offer.extras]
    stops = [Stop(counted(f"walk.{key}.number", at), key, title,
                  tuple((line, HOLDS[line.holds]) for line in short if line.row.key in shown))
             for at, (key, title, shown) in enumerate(there, start=1)]
    return {**pay(offer), "stops": stops, "stop_count": counted("walk.count", len(stops)),
            "tonight": start(offer)["tonight"], "told_of": told(offer), "claim_words": CLAIM_WORDS}


__all__ = ["STOPS", "Stop", "walk"]
