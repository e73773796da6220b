"""Finished jobs: every field of the file in which the office writes a short block as each job is closed."""

from __future__ import annotations

from typing import Annotated

from sitegen.job.fields import Count, Decade, Month, Name
from sitegen.job.parts import Part, means
from sitegen.job.text_type import one_of

INSIDE = {"yes": True, "no": False, "none given": None}
"""Whether a job ended inside its range, by the answer in the file."""


class FinishedJob(Part):
    """One finished job: what was found in the end, what was planned, and what it took."""

    finished: Month = means("year and month in which it was finished")
    built: Decade = means("decade in which the house was built")
    option: Name = means("which option was sold")
    old_feeds: Count = means("feeds of the house that were old, as found by the end")
    new_feeds: Count = means("feeds that were new")
    over_the_list: Count = means("points found old that were not on the list")
    drops_fished: Count = means("drops that were tried")
    drops_blocked: Count = means("of those, blocked ones")
    cases: list[Name] = means("cases of the price book that came up, by key", default=[])
    days_planned: Count = means("days with a crew in the house, as planned before work")
    days_worked: Count = means("days that it took")
    call_backs: Count = means("times that we were called back within a year", alias="call-backs")
    inside_its_range: Annotated[str, one_of(*INSIDE)] = means(
        "what it cost lay inside the range given before work: yes, no or none given")


class Finished(Part):
    """Every finished job since the first that was counted, with none left out."""

    jobs: list[FinishedJob] = means("one block a job, in any order", default=[])


__all__ = ["INSIDE", "Finished", "FinishedJob"]
