"""What the proposal on paper says: the answer, the list, the scope, the comparison, cautions and how to sign."""

from __future__ import annotations

from typing import Any

from sitegen.offer.offer import Offer
from sitegen.sheets.pages.compare import compare
from sitegen.sheets.pages.detail import DETAILS, detail
from sitegen.sheets.pages.start import start


def paper(offer: Offer) -> dict[str, Any]:
    """One document for one print: what the first sheet and the comparison say, and the caution of every detail.

    `cautions` are the keys of the details that have one, in their order; `slots` what fills their words; `parent` is
    None, since no sheet has it as its detail.
    """
    return {**start(offer), **compare(offer), **detail(offer), "cautions": tuple(DETAILS), "parent": None}
