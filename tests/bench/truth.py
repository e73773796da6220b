"""Whether a sentence of a made offer can be false, over many offers.  Run by hand:

    python -m tests.bench.truth [COUNT] [FIRST]        (2,000 from seed 1,000 on)
"""

from __future__ import annotations

import sys
from collections import Counter

from tests.truth import made, untrue


def main() -> None:
    """Try so many made offers and print what is untrue in which."""
    count, first = (int(given) for given in (*sys.argv[1:3], *("2000", "1000")[len(sys.argv) - 1:]))
    found = Counter[str]()
    for seed in range(first, first + count):
        for said in untrue(made(seed)):
            found[said.split(":")[-1].strip()] += 1
            print(f"seed {seed}: {said}", flush=True)
    print(f"{count} made offers, {sum(found.values())} sentences untrue")


if __name__ == "__main__":
    main()
