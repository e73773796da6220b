"""How long a check of an archive takes beside `sha512sum` over the same files in the same run: `python -m
tests.bench.verify [BAGS]`.

Two hundred bags of a site of thirty files each, filed as the command files them; both are run three times in turn, and
the best of each counts.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha512
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import perf_counter

from sitegen.filing import keys, store
from sitegen.filing.verify import verify
from sitegen.workspace import Workspace
from tests.filing import made

BAGS, FILES, SIZE, TIMES, AT_MOST = 200, 30, 36_000, 3, 1.5
"""Bags, files of each, bytes of a file on the average, runs of each, and the ratio that the check may take."""


def filed(firm: Workspace, count: int) -> None:
    """File so many bags; nothing is synced, since only reading them is measured."""
    chance = Random(14)
    os.fsync = lambda number: None
    for i in range(count):
        record = f'{{"number":{i}}}'.encode()
        pages: dict[str, bytes | Path] = {f"offer/site/{n:02}.html": chance.randbytes(chance.randrange(2 * SIZE))
                                          for n in range(FILES)}
        with store.opened(firm) as archive:
            wanted = store.Wanted("elm-street", 1, "agreement", made.DAY, sha512(record).hexdigest(), "Invented")
            store.put(archive, wanted, {"record.json": record, **pages})


def timed(work: Callable[[], object]) -> float:
    """How long some work takes [s]."""
    start = perf_counter()
    work()
    return perf_counter() - start


def main() -> None:
    """File, check both ways in turn, and print the ratio."""
    with TemporaryDirectory() as top:
        firm = made.workspace(Path(top))
        filed(firm, int(sys.argv[1]) if len(sys.argv) > 1 else BAGS)
        paths = [str(path) for path in sorted(firm.archive.rglob("*")) if path.is_file()]
        today = keys.signing(firm).public_key()
        theirs, ours = float("inf"), float("inf")
        for _ in range(TIMES):
            theirs = min(theirs, timed(lambda: subprocess.run(["sha512sum", "--", *paths], check=True,
                                                              stdout=subprocess.DEVNULL)))
            ours = min(ours, timed(lambda: verify(firm.archive, today)))
        report = verify(firm.archive, today)
        assert report.findings == (), report.findings[0]
        size = sum(Path(path).stat().st_size for path in paths) / 1e6
        print(f"{report.bags} bags, {len(paths)} files, {size:.0f} MB: sha512sum {theirs:.2f} s, verify {ours:.2f} s, "
              f"{ours / theirs:.2f} times (at most {AT_MOST})")


if __name__ == "__main__":
    main()
