"""The reader's own page: it is filled on the reader's device, with what the other pages keep there."""

from __future__ import annotations

from typing import Any

from sitegen.offer.offer import Offer


def yours(offer: Offer) -> dict[str, Any]:
    """Nothing but what every page has."""
    return {}


__all__ = ["yours"]
