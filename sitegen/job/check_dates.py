"""What would send something stale: prices that end too soon, a start on a day off, quotes that nobody asked again.

What needs the dated plan, such as a licence that runs out during the work, is in `review/lapses.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sitegen.dates.spans import good_through
from sitegen.dates.working_days import nth_working_day, works_on
from sitegen.errors import Fault
from sitegen.job.document import Path_
from sitegen.job.inputs import Gathered
from sitegen.job.registry import needs

ASK_AGAIN = "Ask again and write the new day, or wait with the job until that is done."


@needs("job.start", "job.prepared", "job.prices_hold_to")
def _prices_hold_until_signing(all_: Gathered) -> Iterator[Fault]:
    start, hold = all_.job["start"], all_.job["prices_hold_to"]
    if all_.job["prepared"] <= hold < start.sign_by:        # earlier still is a fault of its own
        yield all_.job.fault(("prices hold to",), f"The prices end on {hold}, before signing by {start.sign_by}.",
                             "Let them hold until the last day for signing, or move that day forward.")


@needs("job.start", "company.closed")
def _work_starts_on_a_working_day(all_: Gathered) -> Iterator[Fault]:
    starts, closed = all_.job["start"].work_starts, all_.company["closed"]
    if works_on(starts, closed):
        return
    why = f"a {starts:%A}"
    if starts in closed:
        line = all_.company.document.line(("closed", closed.index(starts)))
        why = f"on which nobody works ({all_.company.document.file}:{line})"
    yield all_.job.fault(("start", "work starts"), f"Work starts on {starts}, {why}.",
                         f"The next working day is {nth_working_day(starts + timedelta(1), 1, closed)}.")


@needs("job.prepared", "book.quoted", "book.good_for")
def _prices_are_fresh(all_: Gathered) -> Iterator[Fault]:
    yield from _stale(all_, ("quoted",), "The prices", all_.book["quoted"])


@needs("job.prepared", "book.later", "book.good_for")
def _quotes_are_fresh(all_: Gathered) -> Iterator[Fault]:
    for i, item in all_.book.items("later"):
        yield from _stale(all_, ("later", i, "on"), f"The estimates of `{item.key}`", item.on)


def _stale(all_: Gathered, path: Path_, what: str, quoted: date) -> Iterator[Fault]:
    """A fault when something of the price book is older than the book allows, or of a day that is to come."""
    prepared, (months, days) = all_.job["prepared"], all_.book["good_for"]
    until = good_through(quoted, months, days)
    if prepared > until:
        yield all_.book.fault(path, f"{what} of {quoted} are good through {until}; {all_.folder.name} is prepared on "
                              f"{prepared}.", ASK_AGAIN)
    if quoted > prepared:
        yield all_.book.fault(path, f"{what} are of {quoted}; {all_.folder.name} is prepared on {prepared}, before "
                              "that.", "Dates run forward: move one of them.")
