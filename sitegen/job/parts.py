"""What every file of a company is made of: parts with known keys, fixed answers, and their names."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from sitegen.job.fields import (
    money,
    one_of,
)
from sitegen.trade.feeds import LOOKS

DETAILS = ("finding-old-feeds", "new-circuits", "panel-service", "grounding", "alarms", "floors", "openings",
           "plaster", "tight-boxes", "lead-safe", "tested-dead", "cleaning", "permits", "before-start", "papers",
           "not-seen")
"""What a finding can be answered by, and what has a sheet of its own."""

WAYS = ("minimal-protection", "per-item", "fixed-guarantee")
ROWS = 24


class Part(BaseModel):
    """A part of a file: unknown keys are refused, nothing can be changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True,
                              alias_generator=lambda field: field.replace("_", " "))


def means(text: str, **more: Any) -> Any:
    return Field(description=text, **more)


Look = Annotated[str, BeforeValidator(one_of(*LOOKS))]
Detail = Annotated[str, BeforeValidator(one_of(*DETAILS))]
WayKey = Annotated[str, BeforeValidator(one_of(*WAYS))]
Closes = Annotated[str, BeforeValidator(one_of("yes", "in part", "no"))]
Payer = Annotated[str, BeforeValidator(one_of("us", "homeowner"))]
Counted = Annotated[str, BeforeValidator(one_of("opening", "sq ft outside the sheet", "house"))]
Covers = Annotated[str, BeforeValidator(one_of("every point", "the list"))]
Cut = Annotated[str, BeforeValidator(one_of("sawn whole", "broken out"))]


def _money_or_none(value: object) -> object:
    return None if value == "none" else money(value)


Cap = Annotated[int | None, BeforeValidator(_money_or_none)]
