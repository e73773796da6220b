"""A chance as it may be spoken: in twentieths, three views at once, and never as certain unless it is."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, int_of

WHOLE = 20


class Spoken(Struct, frozen=True):
    """One chance in twentieths.  `bound` is "fewer than" or "more than" where the count itself would say too much."""

    count: Figure
    bound: str
    exact: Figure


class Chance(Struct, frozen=True):
    """One judged chance in three views: as we judge, with half and with twice as many old feeds."""

    judged: Spoken
    half: Spoken
    twice: Spoken
    whole: Figure

    @property
    def views(self) -> tuple[Spoken, Spoken, Spoken]:
        return self.judged, self.half, self.twice


ENOUGH = 50
"""Finished jobs from which on a count is not called too few to lean on."""


class Counted(Struct, frozen=True):
    """A chance that was counted: raw count over raw total, which jobs, and whether they are too few to lean on."""

    above: Figure
    jobs: Figure
    which: Quote

    @property
    def few(self) -> bool:
        return int_of(self.jobs) < ENOUGH


def twentieths(p: float) -> tuple[int, str]:
    """The count of twentieths, halves upward, and the bound it takes.

    Fewer than 1 when it rounds to nought and is not; more than 19 when it rounds to twenty and is not.
    """
    spoken = int(p * WHOLE + 0.5)
    if spoken == 0 and p > 0:
        return 1, "fewer than"
    if spoken == WHOLE and p < 1 - 1e-12:
        return WHOLE - 1, "more than"
    return spoken, ""


def chance(name: str, views: tuple[float, float, float], method: str, source: Source) -> Chance:
    """A judged chance under the firm's belief, half and twice as many old feeds."""
    said = []
    for suffix, p in zip(("", ".half", ".twice"), views, strict=True):
        p = min(1.0, max(0.0, p))
        exact = Figure(f"{name}{suffix}", p, "chance", method, source)
        count, bound = twentieths(p)
        said.append(Spoken(Figure(f"{name}{suffix}.spoken", count, "twentieths",
                                  f"{method} Spoken in twentieths, halves upward.", source, (exact.name,)),
                           bound, exact))
    judged, half, twice = said
    whole = Figure("endings.count", WHOLE, "number", "Chances are spoken in twentieths.", source)
    return Chance(judged, half, twice, whole)
