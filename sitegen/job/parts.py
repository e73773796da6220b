"""What every file of a company is made of: parts with known keys, fixed answers, and their names."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from sitegen.job.text_type import one_of, several
from sitegen.trade.feeds import EVIDENCE
from sitegen.trade.kinds import (
    ABOUT,
    CUTS,
    EDITIONS,
    EXTRAS,
    FINISHES,
    FLOORS,
    FOUND_HAZARDS,
    LATER,
    LICENCES,
    LOADS,
    NOTICES,
    ROLES,
    ROOMS,
    STOP_HAZARDS,
    TROUBLE,
    WALLS,
)

OPTIONS = {"minimal-protection": "Wiring only", "per-item": "Per item", "fixed-guarantee": "One price"}
"""The usual options, and what a page calls them; a kit of another option says what it is called."""

ROWS = ("price", "rise", "least", "most", "later", "ending", "payments", "stopping",
        "besides", "live", "findings", "letter",
        "holes", "walls", "floors", "lead", "cleaning",
        "dates", "sure", "living",
        "promise", "damage", "firm", "earning")
"""The rows of the comparison by key, in the order in which they stand on the page."""


CLAIMS = ("lowest-price", "lowest-middle", "lowest-middle-we-close", "cheapest-most", "fixed", "choose", "none-live",
          "wire-promise", "all-findings", "closes-holes", "fewest-holes", "sheet", "fewest-dark", "first-dead",
          "first-finished", "highest-price", "highest-middle", "never-cheapest", "rewires-newer", "open-rise",
          "leaves-known", "leaves-unseen", "no-wire-promise", "left-findings", "open-holes", "most-holes", "elsewhere",
          "most-dark", "last-dead", "last-finished")
"""What may be said for and against an option, each with a condition; `offer/claims.py` says which."""


class Part(BaseModel):
    """A part of a file: unknown keys are refused, nothing can be changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True,
                              alias_generator=lambda field: field.replace("_", " "))


def means(text: str, **more: Any) -> Any:
    return Field(description=text, **more)


Evidence = Annotated[str, one_of(*EVIDENCE)]
RoomKind = Annotated[str, one_of(*ROOMS)]
WallKind = Annotated[str, one_of(*WALLS)]
FloorKind = Annotated[str, one_of(*FLOORS)]
LoadKind = Annotated[str, one_of(*LOADS)]
Finish = Annotated[str, one_of(*FINISHES)]
About = Annotated[str, one_of(*ABOUT)]
FoundHazard = Annotated[str, one_of(*FOUND_HAZARDS)]
StopHazard = Annotated[str, one_of(*STOP_HAZARDS)]
Edition = Annotated[str, one_of(*EDITIONS)]
Rooms = Annotated[tuple[str, ...], several(*ROOMS)]
Troubles = Annotated[tuple[str, ...], several(*TROUBLE)]
LicenceKind = Annotated[str, one_of(*LICENCES)]
Role = Annotated[str, one_of(*ROLES)]
StandsFor = Annotated[str, one_of(*LATER)]
ExtraKind = Annotated[str, one_of(*EXTRAS)]
Notice = Annotated[str, one_of(*NOTICES)]
ClaimKey = Annotated[str, one_of(*CLAIMS)]
Payer = Annotated[str, one_of("us", "homeowner")]
Counted = Annotated[str, one_of("opening", "sq ft outside the sheet", "house")]
Covers = Annotated[str, one_of("every point", "the list")]
Cut = Annotated[str, one_of(*CUTS)]
Does = Annotated[str, one_of("panel", "service", "alarms", "splices", "car outlets", "protection")]
Before = Annotated[str, one_of("panel", "rough", "close", "devices", "clean last")]
PowerStep = Annotated[str, one_of("service", "panel", "rough", "cut", "devices")]
Milestone = Annotated[str, one_of("old wires dead", "holes closed")]
