"""Every figure that a sheet may show of an offer: its own, and those of what is said from it, row by row and claim by
claim."""

from __future__ import annotations

from sitegen.figure import Figure
from sitegen.offer.claims import told
from sitegen.offer.offer import Offer, figures_in
from sitegen.offer.rows import rows


def every_figure(offer: Offer) -> tuple[Figure, ...]:
    """Every figure by name; raises BuildError if two of one name differ."""
    return figures_in((offer, rows(offer), told(offer)))


__all__ = ["every_figure"]
