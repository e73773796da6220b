"""What sheet 4 says: break-even, endings, what is bought elsewhere, what tracing would settle."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sitegen.figure import Figure, int_of, worked_out
from sitegen.offer.money import BreakEvenSaid
from sitegen.offer.offer import Offer
from sitegen.sheets.bids import bid_figures
from sitegen.sheets.bids import looked_up as bid_looked_up
from sitegen.sheets.break_even_chart import turnings
from sitegen.sheets.charts import ladders, spans
from sitegen.units import in_hundreds


def pay(offer: Offer) -> dict[str, Any]:
    """Sheet 4.  `ladders`, `turnings` and `spans` are drawings; `lists` the ways that sell a list; `later` what some
    way leaves to buy elsewhere, in the order of the price book; `just` the one count at which the feeds decide, if it
    is one; `elsewhere` by way what is bought for more than it rounds away."""
    outcome = offer.outcome
    return {"ladders": ladders(outcome), "turnings": turnings(outcome),
            "spans": spans(outcome.tracing.swings) if outcome.tracing else (),
            "bid_looked_up": bid_looked_up(bid_figures(offer)),
            "later": {item.key: item.called for way in outcome.ways for item in way.later},
            "live_feeds": [feed for feed in offer.found.each_feed if feed.known.value or feed.unseen.value],
            "lists": [way for way in outcome.ways if not way.covers_all], "one": outcome.one_price,
            "just": _just_between(outcome.break_even),
            "elsewhere": {way.key: [item for item in way.later if in_hundreds(int_of(item.usual))]
                          for way in outcome.ways},
            "most_earner": next((way for way in outcome.ways if offer.terms[way.key].we_earn == "most"), None)}


def _just_between(evens: Sequence[BreakEvenSaid]) -> Figure | None:
    """The count between "so many or fewer" and "so many or more" of the first list, where there is but one."""
    low, high = (evens[0].list_up_to, evens[0].price_from) if evens else (None, None)
    if low is None or high is None or int_of(high) - int_of(low) != 2:
        return None
    return worked_out("sheets.pay.even-just", int_of(low) + 1, "points",
                      "The one count at which it turns on the feeds.", low, high)
