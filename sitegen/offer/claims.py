"""What may be said for and against each option of this house: sentences with a condition that the offer must meet.

A claim that ranks an option holds against every other option, strictly: a tie is nobody's.  Its size says how far it
is ahead or behind, from 0 to 1, and the largest come first.  A firm's own sentence is tied to one of these claims and
stands in its place; where the claim does not hold for a house, the sentence is a fault.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, day_of, int_of
from sitegen.job.parts import CLAIMS
from sitegen.offer.chances import WHOLE
from sitegen.offer.dates import OptionDates
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer, OptionTerms
from sitegen.offer.rows import number_of

Slot = Figure | Quote | tuple[Quote, ...]
MOST = 3
"""Good things and drawbacks that are shown of one option, at most."""

PLAIN = Fraction(1, 2)
"""The size of a claim that is true or not, and ranks nothing."""


class Claim(Struct, frozen=True):
    """One claim that holds for an option: which, on which row it rests, how far it goes, and what fills its words."""

    key: str
    row: Figure
    size: Fraction
    slots: Mapping[str, Slot]
    own: Quote | None = None


class Told(Struct, frozen=True):
    """What is said of one option: the largest claims for it and against it."""

    good: tuple[Claim, ...]
    drawbacks: tuple[Claim, ...]

    @property
    def fewer(self) -> bool:
        """Whether there are not as many as could be shown on each side."""
        return len(self.good) < MOST or len(self.drawbacks) < MOST


class ForClaim(Struct, frozen=True):
    """Everything that a condition may read of one option."""

    offer: Offer
    money: OptionMoney
    terms: OptionTerms
    dates: OptionDates

    @property
    def others(self) -> tuple[ForClaim, ...]:
        """The other options, in the same order."""
        return tuple(one for one in _all(self.offer) if one.money.key != self.money.key)


Holds = tuple[Fraction, dict[str, Slot]] | None
"""How far a claim goes and what fills its words; None where it does not hold."""


def told(offer: Offer) -> dict[str, Told]:
    """What is said for and against each option, by key."""
    return {one.money.key: Told(_side(one, GOOD), _side(one, DRAWBACKS)) for one in _all(offer)}


def holds(offer: Offer, option: str, claim: str) -> bool:
    """Whether a claim is true of an option."""
    one = next(one for one in _all(offer) if one.money.key == option)
    return {**GOOD, **DRAWBACKS}[claim][1](one) is not None


def _all(offer: Offer) -> list[ForClaim]:
    return [ForClaim(offer, money, offer.terms[money.key], offer.dates.options[money.key])
            for money in offer.outcome.options]


def _side(one: ForClaim, side: Mapping[str, tuple[str, Callable[[ForClaim], Holds]]]) -> tuple[Claim, ...]:
    found = []
    for key, (row, condition) in side.items():
        if (held := condition(one)) is not None:
            number = Figure(f"options.{one.money.key}.claims.{key}.row", number_of(row), "number",
                            "Row of the comparison that it rests on.", _OURS)
            found.append(Claim(key, number, held[0], held[1], one.terms.own_claims.get(key)))
    ranked = sorted(found, key=lambda claim: -claim.size)
    return tuple(sorted(ranked[:MOST], key=lambda claim: -claim.size))


_OURS = Source("published", "conditions that are the same for every option and every house")


# --- ranking ----------------------------------------------------------------------------------------------


def _first(one: ForClaim, value: Callable[[ForClaim], int], lowest: bool = True,
           against: Callable[[ForClaim], int] | None = None) -> Fraction | None:
    """How far an option is ahead of every other in a count of which less (or more) comes first; None if it is not.

    `against` is what counts for the others, where that is another count.
    """
    mine, theirs = value(one), [(against or value)(other) for other in one.others]
    near = min(theirs) if lowest else max(theirs)
    gap = near - mine if lowest else mine - near
    return Fraction(gap, max(abs(mine), abs(near), 1)) if gap > 0 else None


def _ranked(value: Callable[[ForClaim], int], lowest: bool,
            slots: Callable[[ForClaim], dict[str, Slot]] = lambda one: {}) -> Callable[[ForClaim], Holds]:
    def condition(one: ForClaim) -> Holds:
        size = _first(one, value, lowest)
        return None if size is None else (size, slots(one))
    return condition


def _money(value: Callable[[ForClaim], int], lowest: bool,
           against: Callable[[ForClaim], int] | None = None) -> Callable[[ForClaim], Holds]:
    """Money is ranked as anything else is, and weighs twice as much."""
    def condition(one: ForClaim) -> Holds:
        size = _first(one, value, lowest, against)
        return None if size is None else (min(Fraction(1), 2 * size), {})
    return condition


def _days(figure: Callable[[ForClaim], Figure], lowest: bool) -> Callable[[ForClaim], Holds]:
    """Dates are ranked by days from the start of work."""
    def value(one: ForClaim) -> int:
        return (day_of(figure(one)) - day_of(one.offer.dates.work_starts)).days + 1
    return _ranked(value, lowest, lambda one: {"day": figure(one)})


def _true(test: Callable[[ForClaim], bool],
          slots: Callable[[ForClaim], dict[str, Slot]] = lambda one: {}) -> Callable[[ForClaim], Holds]:
    """A claim that ranks nothing counts for more where it is true of this option alone."""
    def condition(one: ForClaim) -> Holds:
        if not test(one):
            return None
        alone = not any(test(other) for other in one.others)
        return PLAIN + (Fraction(1, 4) if alone else 0), slots(one)
    return condition


# --- what is asked of an option ---------------------------------------------------------------------------


def _price(one: ForClaim) -> int:
    return int_of(one.money.price)


def _we_close(one: ForClaim) -> Figure | None:
    """The middle of its totals where we close the holes that it leaves open, if that is lower."""
    return next((closing.middle for closing in one.offer.closing if closing.option == one.money.key), None)


def _middle(one: ForClaim) -> int:
    return int_of(one.money.p50)


def _middle_closed(one: ForClaim) -> int:
    """The middle of its totals, with whoever closes its holes for less."""
    return int_of(_we_close(one) or one.money.p50)


def _least_if_we_close(one: ForClaim) -> Holds:
    """Least in the middle where we close its holes, and not where somebody else does."""
    if _first(one, _middle, against=_middle_closed) is not None:
        return None
    return _money(_middle_closed, True)(one)


def _holes(one: ForClaim) -> int:
    return int_of(one.money.holes)


def _dark(one: ForClaim) -> int:
    return int_of(one.dates.power_off)


def _dead(one: ForClaim) -> Figure:
    """The day on which all its old wires are dead, with the middle count added."""
    return one.dates.dead if one.money.covers_all else one.dates.dead_p50


def _finished(one: ForClaim) -> Figure:
    return one.dates.finished if one.money.covers_all else one.dates.finished_p50


def _fixed_findings(one: ForClaim) -> int:
    return int_of(one.offer.found.closed[one.money.key])


def _all_findings(one: ForClaim) -> bool:
    return 0 < int_of(one.offer.found.findings_count) == _fixed_findings(one)


def _open_rise(one: ForClaim) -> bool:
    """No cap holds what more old points add, or what the cases do."""
    more = not one.money.covers_all and one.money.added_cap is None
    return more or (bool(one.money.cases) and one.money.case_cap is None)


def _left_findings(one: ForClaim) -> Holds:
    total, closed = int_of(one.offer.found.findings_count), _fixed_findings(one)
    if closed == total:
        return None
    left = Figure(f"options.{one.money.key}.claims.left-findings", total - closed, "findings",
                  "Findings that this option does not fix whole.", _OURS)
    return PLAIN * Fraction(total - closed, total) + Fraction(1, 4), {"count": left}


def _leaves_known(one: ForClaim) -> Holds:
    known = one.offer.outcome.hidden.known
    if one.money.covers_all or not int_of(known):
        return None
    return Fraction(3, 4), {"count": known}


def _leaves_unseen(one: ForClaim) -> bool:
    hidden = one.offer.outcome.hidden
    return not one.money.covers_all and int_of(hidden.most) > int_of(hidden.known)


def _rewires_newer(one: ForClaim) -> Holds:
    """Points that a price for every point does again and that the middle of the firm's own judgement calls newer."""
    hidden, found = one.offer.outcome.hidden, one.offer.found
    newer = int_of(found.unseen_off_list) - (int_of(hidden.p50) - int_of(hidden.known))
    if not one.money.covers_all or newer < 1:
        return None
    count = Figure("claims.rewired-newer", newer, "points", "Points off the list that nobody saw, less the middle "
                   "count of those that are old.", one.offer.outcome.prior.source,
                   (found.unseen_off_list.name, hidden.p50.name))
    return PLAIN + Fraction(newer, int_of(found.rewired)), {"count": count}


def _later(one: ForClaim) -> dict[str, Slot]:
    return {"later": tuple(item.called for item in one.money.later)}


def _often(one: ForClaim) -> Holds:
    """Cheapest in more than half of the endings, whoever closes the holes of the others."""
    count = int_of(one.money.cheapest.judged.count)
    if any(_we_close(other) for other in one.others):
        return None
    return (Fraction(count, WHOLE), {}) if 2 * count > WHOLE else None


GOOD: Mapping[str, tuple[str, Callable[[ForClaim], Holds]]] = {
    "lowest-price": ("price", _money(_price, True)),
    "lowest-middle": ("ending", _money(_middle, True, _middle_closed)),
    "lowest-middle-we-close": ("ending", _least_if_we_close),
    "cheapest-most": ("ending", _often),
    "fixed": ("rise", _true(lambda one: one.money.covers_all and bool(int_of(one.offer.outcome.hidden.most)))),
    "choose": ("rise", _true(lambda one: not one.money.covers_all
                             and bool(int_of(one.offer.outcome.hidden.most)))),
    "none-live": ("live", _true(lambda one: one.money.covers_all)),
    "wire-promise": ("promise", _true(lambda one: int_of(one.terms.years_on_old_wire) > 0,
                                      lambda one: {"years": one.terms.years_on_old_wire})),
    "all-findings": ("findings", _true(_all_findings)),
    "closes-holes": ("holes", _true(lambda one: one.terms.closes_holes == "us")),
    "fewest-holes": ("holes", _ranked(_holes, True, lambda one: {"count": one.money.holes})),
    "sheet": ("floors", _true(lambda one: not int_of(one.offer.protection.options[one.money.key].bare))),
    "fewest-dark": ("living", _ranked(_dark, True, lambda one: {"count": one.dates.power_off})),
    "first-dead": ("dates", _days(_dead, True)),
    "first-finished": ("dates", _days(_finished, True)),
}
"""Good things: the row that each rests on, and when it holds."""

DRAWBACKS: Mapping[str, tuple[str, Callable[[ForClaim], Holds]]] = {
    "highest-price": ("price", _money(_price, False)),
    "highest-middle": ("ending", _money(_middle_closed, False, _middle)),
    "never-cheapest": ("ending", _true(lambda one: not _we_close(one) and (
        int_of(one.money.cheapest.judged.count) == 0 or one.money.cheapest.judged.bound == "fewer than"))),
    "rewires-newer": ("price", _rewires_newer),
    "open-rise": ("rise", _true(_open_rise)),
    "leaves-known": ("live", _leaves_known),
    "leaves-unseen": ("live", _true(_leaves_unseen)),
    "no-wire-promise": ("promise", _true(lambda one: not int_of(one.terms.years_on_old_wire))),
    "left-findings": ("findings", _left_findings),
    "open-holes": ("holes", _true(lambda one: one.terms.closes_holes != "us")),
    "most-holes": ("holes", _ranked(_holes, False, lambda one: {"count": one.money.holes})),
    "elsewhere": ("later", _true(lambda one: bool(one.money.later), _later)),
    "most-dark": ("living", _ranked(_dark, False, lambda one: {"count": one.dates.power_off})),
    "last-dead": ("dates", _days(_dead, False)),
    "last-finished": ("dates", _days(_finished, False)),
}
"""Drawbacks, in the same way."""

assert {*GOOD, *DRAWBACKS} == set(CLAIMS), "every claim that a kit may name has its condition"

__all__ = ["DRAWBACKS", "GOOD", "MOST", "Claim", "Told", "holds", "told"]
