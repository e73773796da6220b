"""What sheet 8 says: who stands behind the offer, and what the firm earns on each option."""

from __future__ import annotations

from typing import Any

from sitegen.offer.offer import Offer


def who(offer: Offer) -> dict[str, Any]:
    """Sheet 8.  `earns`: the options in the order in which the firm earns on them."""
    order = ("most", "middle", "least")
    return {"earns": sorted(offer.outcome.options, key=lambda option: order.index(offer.terms[option.key].we_earn)),
            "one": offer.outcome.one_price}
