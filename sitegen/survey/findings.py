"""Each finding of the inspector to what closes it in each option: worked out from what an option covers, never
typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitegen.job.books import Kit
from sitegen.job.model import Finding as JobFinding
from sitegen.job.model import Job
from sitegen.survey.lines import POINTS, Line, lines, meant_by
from sitegen.trade.feeds import NEW, NEW_ENDS

PLACES = "new places"
SPLICE, SPLICES = "splice", "splices"
PROTECTION = "protection"

DETAILS_OF: Mapping[str, tuple[str, ...]] = {
    "points": ("new-circuits", "grounding"),
    "protection": ("grounding", "new-circuits"),
    "new places": ("new-circuits", "grounding"),
    "old wire": ("finding-old-feeds", "tested-dead"),
    "splice": ("permits", "papers"),
    "panel": ("panel-service", "papers"),
    "service": ("panel-service", "permits"),
    "alarms": ("alarms",),
    "other": ("not-seen",),
}
"""What a finding is about -> the details that answer it."""

PROOF_OF: Mapping[str, tuple[str, ...]] = {
    "points": ("points-tested", "photographs", "final-inspection"),
    "protection": ("points-tested", "final-inspection"),
    "new places": ("points-tested", "final-inspection"),
    "old wire": ("dead-list", "photographs", "final-inspection"),
    "splice": ("splice-photographs", "final-inspection"),
    "panel": ("panel-photographs", "directory", "final-inspection"),
    "service": ("utility-release", "final-inspection"),
    "alarms": ("alarms-tested", "final-inspection"),
    "other": (),
}
"""What a finding is about -> the evidence that is left with the homeowner, by the key of its words."""


class Closing(Struct, frozen=True):
    """How one option answers one finding.

    `closes`   yes, in part or no
    `rooms`    rooms in which this option does a point that the finding means, in the order of the survey
    `leaves`   rooms in which it leaves such a point
    `at_panel` whether a breaker in the new panel does some of it, on a circuit that stays
    """

    closes: str
    rooms: tuple[str, ...] = ()
    leaves: tuple[str, ...] = ()
    at_panel: bool = False


def meant(finding: JobFinding, job: Job) -> tuple[Line, ...]:
    """The points that a finding means (`lines.meant_by`), line by line."""
    return tuple(line for line in lines(job) if meant_by(finding, line))


def closing(finding: JobFinding, job: Job, kit: Kit) -> Closing:
    """How an option with this kit answers a finding.

    Points and protection are closed where all that the finding means are done.  Protection is done too where a kit
    puts a breaker that protects into a new panel, for a circuit that is newer cable as far as anybody saw; on old
    wire, whose neutrals can be shared, nobody promises that it holds.  New places where every room that it
    names gets one; old wire is closed by a price for
    every point alone, for a list promises no more than its points.  The panel, the service and alarms are closed by
    a kit that does them.  An open splice is closed by a kit that sets a box with a cover over each, or by a new point
    whose box takes it.  What is left with a reason is never closed whole.
    """
    every = kit.covers == "every point"
    if finding.about in POINTS:
        these = (*meant(finding, job), *_on_new(finding, job))
        found = _points(finding, these, every, finding.about == PROTECTION and _guards(job, kit))
    elif finding.about == PLACES:
        found = _places(finding, job)
    elif finding.about == SPLICE:
        found = _splice(finding, job, kit)
    elif finding.about == "old wire":
        some = any(line.listed for line in lines(job))
        found = Closing("yes" if every else "in part" if some else "no")
    else:
        found = Closing("yes" if finding.about in kit.also_does else "no")
    if finding.left is not None and found.closes == "yes":
        return replace(found, closes="in part")
    return found


def _places(finding: JobFinding, job: Job) -> Closing:
    """New places are in every price: closed where each room that the finding names gets one."""
    here = [line for line in lines(job) if (not finding.rooms or line.room in finding.rooms)
            and (not finding.kinds or line.kind in finding.kinds)]
    rooms = dict.fromkeys(line.room for line in here)
    done = tuple(room for room in rooms if any(line.new_places for line in here if line.room == room))
    leaves = tuple(room for room in rooms if room not in done) if finding.rooms else ()
    return Closing("no" if not done else "in part" if leaves else "yes", done, leaves)


def _splice(finding: JobFinding, job: Job, kit: Kit) -> Closing:
    """A splice without a box, in the rooms that the finding names."""
    rooms = tuple(dict.fromkeys(room.room for room in job.rooms if room.room in finding.rooms))
    if SPLICES in kit.also_does:
        return Closing("yes", rooms)
    return _places(finding, job) if finding.kinds else Closing("no", (), rooms)


def _on_new(finding: JobFinding, job: Job) -> tuple[Line, ...]:
    """Lines on a feed seen new that a finding about protection names: no option rewires them, a breaker can guard
    them."""
    return tuple(line for line in lines(job) if finding.about == PROTECTION and line.evidence == NEW and line.now
                 and (not finding.rooms or line.room in finding.rooms)
                 and (not finding.kinds or line.kind in finding.kinds))


def _guards(job: Job, kit: Kit) -> bool:
    """Whether a kit protects circuits that stay, by breakers in the new panel that it sets."""
    return {PROTECTION, "panel"} <= {*kit.also_does} and job.panel.new_spaces is not None


def _points(finding: JobFinding, these: Sequence[Line], every: bool, guards: bool) -> Closing:
    """Points seen new need nothing where the finding is about points: nothing is left where they alone remain.

    `guards` is whether the new panel protects what stays on newer cable.
    A finding that means none is answered by no option, so that the job has to say why.
    """
    spared = finding.about == "points"
    wanted = {line: line.now - line.opened_new if spared else line.now for line in these}
    again = {line: line.rewired if every else line.listed for line in these}
    stays = {line for line in these if guards and again[line] < line.now and line.evidence in (NEW, NEW_ENDS)}
    done = {line: line.now if line in stays else again[line] for line in these}
    rooms = dict.fromkeys(line.room for line in these if done[line])
    leaves = dict.fromkeys(line.room for line in these if done[line] < wanted[line])
    if not rooms:
        return Closing("no", (), tuple(leaves))
    return Closing("in part" if leaves else "yes", tuple(rooms), tuple(leaves), bool(stays))


__all__ = ["DETAILS_OF", "POINTS", "PROOF_OF", "Closing", "closing", "meant"]
