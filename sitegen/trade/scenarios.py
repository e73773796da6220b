"""What the cases that can raise a price come to: one toss of each case for all options.

A scenario is what the options pay when some cases come and others do not.  Cases are added one at a time and equal
payments are merged at once, so that the number of scenarios grows with the number of different sums and not with
4 to the power of the cases: costs in whole hundreds of dollars soon meet.  Nothing is left out and nothing rounded.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct

from sitegen.trade.places import Floats, Ints
from sitegen.trade.sizes import MOST_SCENARIOS, TooLarge
from sitegen.trade.terms import Case, Cents, House, Option

CASE_SHARES = (0.3, 0.4, 0.3)
"""A case that comes costs its low, usual or high amount in 30, 40, 30 of 100: the firm's own model."""

NO_CAP = np.iinfo(np.int64).max


class Scenarios(Struct, frozen=True):
    """The ways in which the cases can fall, no two alike.

    `chance`  of each.  Shape: (scenarios,)
    `paid`    [cents] in each, a row for each payer.  Shape: (payers, scenarios)
    """

    chance: Floats
    paid: Ints

    def __len__(self) -> int:
        return len(self.chance)


class Cases(Struct, frozen=True):
    """The cases of a house as its options pay for them.

    `own`    what each option pays by itself, by its key, in rising order.  Shape of `paid`: (1, scenarios)
    `joint`  what each option pays beyond the first, in the order of the options.  Shape of `paid`: (options, scenarios)
    """

    own: Mapping[str, Scenarios]
    joint: Scenarios

    @property
    def scenarios(self) -> int:
        """The most scenarios of one option, which every place is met with."""
        return max(map(len, self.own.values()), default=1)


def cases_of(house: House) -> Cases:
    """The scenarios of a house, by option and jointly; raises TooLarge where there are too many."""
    payers = [payer_of(house.cases, option) for option in house.options]
    sums = {payer: sums_paid(house.cases, payer) for payer in set(payers)}
    own = {option.key: sums[payer] for option, payer in zip(house.options, payers, strict=True)}
    return Cases(own, joint_payments(house.cases, payers))


Payer = tuple[frozenset[str], Cents | None]
"""Keys of the cases that are paid for, and the cap on their sum [cents]."""


def payer_of(cases: Sequence[Case], option: Option) -> Payer:
    """What an option pays for: two of one payer pay alike, whatever comes.  A cap that no sum can pass is none."""
    mine = [case for case in cases if case.key in option.pays_cases and case.chance]
    most = sum(max(case.cost.low, case.cost.usual, case.cost.high) for case in mine)
    cap = option.case_cap if option.case_cap is not None and most > option.case_cap else None
    return frozenset(case.key for case in mine), cap


def sums_paid(cases: Sequence[Case], payer: Payer) -> Scenarios:
    """What one payer pays for all cases, held to the cap, in rising order.  Shape of `paid`: (1, scenarios)."""
    found = _NONE
    for case in cases:
        found = _after(found, case, np.array([case.key in payer[0]]), _caps([payer]))
    return found


def joint_payments(cases: Sequence[Case], payers: Sequence[Payer]) -> Scenarios:
    """What each payer pays beyond the first [cents]: all that a comparison turns on.

    Shape of `paid`: (payers, scenarios).  Cases under a cap come first, with every payment as it is; from then on
    the differences alone are kept, which another case moves where one payer pays it and the first does not.
    """
    distinct = list(dict.fromkeys(payers))
    pays = {case.key: np.array([case.key in keys for keys, _ in distinct], dtype=np.int64) for case in cases}
    capped = frozenset[str]().union(*(keys for keys, cap in distinct if cap is not None))
    found = Scenarios(_NONE.chance, np.zeros((len(distinct), 1), dtype=np.int64))
    for case in cases:
        if case.key in capped:
            found = _after(found, case, pays[case.key], _caps(distinct))
    found = merged(found.chance, found.paid - found.paid[:1])
    for case in cases:
        if case.key not in capped:
            found = _after(found, case, pays[case.key] - pays[case.key][:1], NO_CAP)
    return Scenarios(found.chance, found.paid[[distinct.index(payer) for payer in payers]])


_NONE = Scenarios(np.ones(1), np.zeros((1, 1), dtype=np.int64))


def _caps(payers: Sequence[Payer]) -> Ints:
    return np.array([[NO_CAP if cap is None else cap] for _, cap in payers], dtype=np.int64)


def _after(before: Scenarios, case: Case, times: Ints, caps: Ints | int) -> Scenarios:
    """The scenarios with one more case, which each payer pays so many `times`, held to its cap."""
    if not times.any():
        return before
    came, amounts = float(case.chance), (case.cost.low, case.cost.usual, case.cost.high)
    tosses = [(1.0 - came, 0), *((came * share, cost) for share, cost in zip(CASE_SHARES, amounts, strict=True))]
    chances, costs = (np.array(column) for column in zip(*(toss for toss in tosses if toss[0]), strict=True))
    paid = before.paid[:, :, None] + times[:, None, None] * costs.astype(np.int64)
    return merged(np.outer(before.chance, chances).ravel(), np.minimum(paid.reshape(len(paid), -1), caps))


def merged(chance: Floats, paid: Ints) -> Scenarios:
    """Scenarios of equal payments taken together, in rising order; raises TooLarge where too many are left."""
    code, first = np.zeros(len(chance), dtype=np.int64), np.zeros(1, dtype=np.int64)
    for row in paid:
        values, place = np.unique(row, return_inverse=True)
        _, first, code = np.unique(code * len(values) + place, return_index=True, return_inverse=True)
    if len(first) > MOST_SCENARIOS:
        raise TooLarge(f"the cases of this house can fall in {len(first):,} ways that are paid differently and more; "
                       f"at most {MOST_SCENARIOS:,} are worked out")
    return Scenarios(np.bincount(code, chance).astype(np.float64), paid[:, first])
