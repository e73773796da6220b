"""How often the truth lies inside the engine's P10 to P90 in a world richer than its model.  Run by hand:

    python -m tests.bench.coverage

The houses come from `oracle.richer_house`: one feed in six is mixed, which the model does not know, and
boxes are opened on the easy feeds first, or anywhere.  Counts are whole, so a range of 80 of 100 holds more.
"""

from __future__ import annotations

import argparse
from collections import Counter
from math import sqrt

import numpy as np

from sitegen.job.load import load
from sitegen.survey.house import belief_of
from sitegen.trade.feeds import hidden_points, points_alone, quantile
from tests.helpers import DEMO, JOB
from tests.trade.oracle import richer_house

ORDERS = {"easy feeds first": True, "boxes anywhere": False}


def main() -> None:
    """Draw the houses and print one row for each order of opening."""
    asked = argparse.ArgumentParser(prog="python -m tests.bench.coverage",
                                    description="How often the truth lies inside P10 to P90.")
    asked.add_argument("--houses", type=int, default=2000, help="for each order of opening")
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    print(f"{given.houses} houses each, seed {given.seed}, mixed feeds 1 in 6")
    print(f"{'opened':<18}{'inside':>8}{'+-':>6}{'below':>8}{'above':>8}{'width':>8}{'truth':>8}{'P50':>6}"
          f"{'held':>8}")
    for name, easy_first in ORDERS.items():
        print(f"{name:<18}" + _row(given.houses, given.seed, easy_first))
    print("inside, below, above: the truth against P10 to P90 [of 100 houses], +- one standard error of\n"
          "inside; width, truth, P50: means [points]; held: the chance that the engine gives it [of 100]")


def _row(houses: int, seed: int, easy_first: bool) -> str:
    prior = belief_of(load(DEMO, DEMO / JOB, DEMO).company).feeds
    rng, where = np.random.default_rng(seed), Counter[str]()
    width, truths, middles, held = 0, 0, 0, 0.0
    for _ in range(houses):
        feeds, truth = richer_house(rng, easy_first=easy_first)
        chances = points_alone(hidden_points(feeds, prior))
        p10, p50, p90 = (quantile(chances, share) for share in (0.1, 0.5, 0.9))
        where["below" if truth < p10 else "above" if truth > p90 else "inside"] += 1
        width, truths, middles = width + p90 - p10, truths + truth, middles + p50
        held += sum(chance for points, chance in chances.items() if p10 <= points <= p90)
    inside = where["inside"] / houses
    return (f"{100 * inside:>8.1f}{100 * sqrt(inside * (1 - inside) / houses):>6.1f}"
            f"{100 * where['below'] / houses:>8.1f}{100 * where['above'] / houses:>8.1f}"
            f"{width / houses:>8.1f}{truths / houses:>8.1f}{middles / houses:>6.1f}"
            f"{100 * held / houses:>8.1f}")


if __name__ == "__main__":
    main()
