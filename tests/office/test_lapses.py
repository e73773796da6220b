"""What lapses before the work is planned to end, soonest first."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from sitegen.build import worked
from sitegen.figure import day_of
from sitegen.job.load import load
from sitegen.office.lapses import lapses, planned_end
from sitegen.office.say import said
from tests.built import HOUSES, offer
from tests.helpers import DEMO, JOB, demo_copy, edit

END = planned_end(offer(JOB).dates)


def found(home: Path, job: str = JOB) -> dict[str, date]:
    """What lapses, by its words, with its last day."""
    context, made = worked(load(home, home / job, home))
    return {"".join(said(part) for part in one.what): day_of(one.last) for one in lapses(context, made.dates)}


@pytest.mark.parametrize("job", HOUSES)
def test_the_planned_end_is_the_latest_of_all_options(job: str) -> None:
    """No option ends later, with nothing, the middle or the most turning up."""
    dates = offer(job).dates
    ends = [day_of(day) for one in dates.options.values() for day in (one.finished, one.finished_p50, one.finished_p90)]
    assert day_of(planned_end(dates)) == max(ends)


EDITS = {
    "Licence: electrical E-20417": ("company.yaml", "    expires: 2028-06-30\n", "    expires: {day}\n"),
    "Licence: lead firm L-00794": ("company.yaml", "    expires: 2029-03-31\n", "    expires: {day}\n"),
    "Insurance: liability": ("company.yaml", "  - kind: liability\n    insurer: Tessamin Builders Mutual\n"
                             "    until: 2027-08-31\n", "  - kind: liability\n    insurer: Tessamin Builders Mutual\n"
                             "    until: {day}\n"),
}
"""What may lapse, by its words: where its last day stands."""


@pytest.mark.parametrize("what", EDITS)
def test_what_lapses_the_day_before_the_end_is_named_and_on_it_is_not(tmp_path: Path, what: str) -> None:
    """A last day that is the last of the work still holds."""
    for name, short in (("before", 1), ("on", 0)):
        home = demo_copy(tmp_path / name)
        day = day_of(END) - timedelta(short)
        file, old, new = EDITS[what]
        edit(home / file, old, new.format(day=day))
        assert found(home).get(what) == (day if short else None)


def test_quotes_prices_and_judgement_hold_for_twelve_months(tmp_path: Path) -> None:
    """What is asked or judged anew each year lapses on the same day of the next."""
    home = demo_copy(tmp_path)
    edit(home / "price-book.yaml", "quoted: 2026-09-14", "quoted: 2025-12-20")
    edit(home / "price-book.yaml", "    on: 2026-09-08", "    on: 2025-12-03")
    edit(home / "company.yaml", "  on: 2026-01-12", "  on: 2026-01-02")
    lapsed = found(home)
    assert lapsed["Price book, edition autumn 2026"] == date(2026, 12, 20)
    assert lapsed["Quote: a plasterer's quote, for: A plasterer closes the holes and makes them ready for paint"] \
        == date(2026, 12, 3)
    assert lapsed["Judgement of what is hidden, by Gus Osterby"] == date(2027, 1, 2)
    assert list(lapsed.values()) == sorted(lapsed.values())


def test_a_review_of_the_states_law_holds_for_twelve_months(tmp_path: Path) -> None:
    """A lawyer's review is named where it runs out during the work."""
    home = demo_copy(tmp_path)
    edit(home / "states" / "tessamin.yaml", "reviewed on: 2026-09-07", "reviewed on: 2025-12-30")
    assert found(home)["Review of the state's law"] == date(2026, 12, 30)


def test_the_prices_of_a_version_lapse_while_it_is_not_signed() -> None:
    """Their last day stands in the job."""
    assert found(DEMO)["Prices of this version, until it is signed"] == date(2026, 12, 18)
