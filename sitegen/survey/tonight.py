"""What is known of a house that can hurt somebody tonight: a rule over the answers of the survey, never typed words."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from sitegen.job.books import PriceBook
from sitegen.job.document import Path_
from sitegen.job.model import Job
from sitegen.survey.lines import lines
from sitegen.trade.kinds import HAZARDS

NOTHING = "nothing tonight"
CREW = "insulation crew"
OF_FINDINGS = {"alarms": "no working alarm", "splice": "live splice"}
"""What a finding of the report is about -> what it can mean tonight."""


class Hazard(Struct, frozen=True):
    """One kind of hazard: the rooms that it is in, none where it is the house, and the lines of the job that say so."""

    kind: str
    rooms: tuple[str, ...]
    said: tuple[Path_, ...]


def hazards(job: Job, book: PriceBook) -> tuple[Hazard, ...]:
    """Every hazard that the job knows of, each kind once, first what can hurt soonest.

    A find that stops work counts by what the price book calls it.  A finding about alarms counts as long as nobody
    has set new ones, one about a splice because a splice without a box can be live and in reach.  Insulation is due
    where a crew asks for a letter while any point may still be on old wire.
    """
    found = [*_known(job, book)]
    return tuple(Hazard(kind, tuple(dict.fromkeys(room for one in these for room in one.rooms)),
                        tuple(path for one in these for path in one.said))
                 for kind in HAZARDS if (these := [one for one in found if one.kind == kind]))


def _known(job: Job, book: PriceBook) -> Iterator[Hazard]:
    for answer, seen in job.stop_work.items():
        kind = book.hurts_tonight.get(answer, NOTHING)
        if seen == "yes" and kind != NOTHING:
            yield Hazard(kind, (), (("stop work", answer),))
    for i, one in enumerate(job.hazards):
        yield Hazard(one.is_, () if one.room is None else (one.room,), (("hazards", i),))
    for i, finding in enumerate(job.findings):
        if finding.about in OF_FINDINGS:
            yield Hazard(OF_FINDINGS[finding.about], tuple(finding.rooms), (("findings", i),))
    if job.why_now.who == CREW and any(line.now > line.newer for line in lines(job)):
        yield Hazard("insulation due", (), (("why now", "who"),))


__all__ = ["Hazard", "hazards"]
