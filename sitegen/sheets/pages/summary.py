"""A page to hand on: what was found, without a price, a person or a date of the work."""

from __future__ import annotations

from typing import Any

from sitegen.offer.offer import Offer


def summary(offer: Offer) -> dict[str, Any]:
    """What an agent or a seller may be shown of an offer."""
    return {"findings": offer.found.findings}


__all__ = ["summary"]
