"""What sheet 3 says: the rows, the reader's own bids, and options that lead nowhere."""

from __future__ import annotations

from typing import Any

from sitegen.offer.dominated import dominated
from sitegen.offer.offer import Offer
from sitegen.offer.rows import PARTS, rows
from sitegen.sheets.bids import ANSWERS, bid_figures
from sitegen.sheets.bids import looked_up as bid_looked_up
from sitegen.sheets.counts import ROW_COUNT


def compare(offer: Offer) -> dict[str, Any]:
    """Sheet 3.  `sections`: key and rows; `dominated`: the names of options that lead nowhere; `bid_figures`: what the
    reader's own bids are worked with, `bid_looked_up` the same for the script, `bid_answers` those that cost something
    when they are no."""
    found: dict[str, list[Any]] = {}
    for row in rows(offer):
        found.setdefault(row.section, []).append(row)
    behind, figures = dominated(offer), bid_figures(offer)
    return {"sections": list(found.items()), "part_words": PARTS, "row_count": ROW_COUNT,
            "bid_figures": figures, "bid_answers": ANSWERS, "bid_looked_up": bid_looked_up(figures),
            "dominated": [option.name for option in offer.outcome.options if option.key in behind]}
