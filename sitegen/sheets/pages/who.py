"""What sheet 8 says: who stands behind the offer, and what the firm earns on each option."""

from __future__ import annotations

from typing import Any

from sitegen.offer.offer import Offer
from sitegen.sheets.counts import counted

EARNS = {"most": "who.earns.most", "middle": "who.earns.middle", "least": "who.earns.least"}
"""What the firm earns on an option beside the others, and the words for it."""


def who(offer: Offer) -> dict[str, Any]:
    """Sheet 8.  `earns`: the words for what the firm earns on an option; how many references and rules there are."""
    return {"earns": EARNS, "one": offer.outcome.one_price,
            "references": counted("sheets.who.references", len(offer.firm.references)),
            "rules": counted("sheets.who.rules", sum(rule.decides for rule in offer.rules))}
