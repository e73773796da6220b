"""The words for the lines of a sum, by what they are."""

from __future__ import annotations

SUMS = {
    "list-points": "scope.sum.list-points",
    "points-of-kind": "scope.sum.list-points.of",
    "new-places": "scope.sum.new-places",
    "panel": "scope.sum.panel",
    "service": "scope.sum.service",
    "alarms": "scope.sum.alarms",
    "splices": "scope.sum.splices",
    "car-outlets": "scope.sum.car-outlets",
    "set-up": "scope.sum.set-up",
    "permit": "scope.sum.permit",
    "every-point": "scope.sum.every-point",
    "own-price": "scope.sum.own-price",
    "price": "scope.sum.price",
    "places-to-come": "scope.sum.places-to-come",
    "added-points": "scope.sum.added-points",
    "added-circuits": "scope.sum.added-circuits",
    "blocked-drops": "scope.sum.blocked-drops",
    "over-the-cap": "scope.sum.over-the-cap",
    "tracing": "scope.sum.tracing",
    "known-case": "scope.sum.known-case",
    "elsewhere": "scope.sum.elsewhere",
    "cap-on-cases": "scope.sum.cap-on-cases",
    "protect-outlets": "scope.sum.protect-outlets",
    "rest-of-judgement": "scope.sum.rest-of-judgement",
}
"""What a line of a sum is, and the words for it."""

__all__ = ["SUMS"]
