"""Every set of rules as one argument for the calculations of a job: read once, for the edition that its town has."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from sitegen.dates.cancellation import CancelRule
from sitegen.dates.holidays_us import HolidayRule
from sitegen.rules.read import given
from sitegen.trade.box_fill import BoxRule
from sitegen.trade.circuits import CircuitRule
from sitegen.trade.floors import FloorsRule
from sitegen.trade.lead_dust import LeadRule
from sitegen.trade.lighting import LightRule
from sitegen.trade.load_parts import LoadRule
from sitegen.trade.panel import PanelRule
from sitegen.trade.plaster import PlasterRule
from sitegen.trade.receptacles import ReceptacleRule
from sitegen.trade.voltage_drop import ConductorRule


class RuleSet(Struct, frozen=True):
    """Rules that no edition of the electrical code changes, and the edition [year] that the job's town is under."""

    edition: str
    lead: LeadRule
    plaster: PlasterRule
    floors: FloorsRule
    cancel: CancelRule
    holidays: HolidayRule


@lru_cache(maxsize=4)
def rule_set(edition: str) -> RuleSet:
    """All rules; those of the electrical code follow the edition, and are read where a design needs them."""
    return RuleSet(edition, given(LeadRule, "lead"), given(PlasterRule, "plaster"), given(FloorsRule, "floors"),
                   given(CancelRule, "cancel"), given(HolidayRule, "holidays"))


class Code(Struct, frozen=True):
    """Rules of one edition of the electrical code: loads, circuits, receptacles, panel, boxes, conductors, light."""

    edition: str
    load: LoadRule
    circuit: CircuitRule
    receptacle: ReceptacleRule
    panel: PanelRule
    box: BoxRule
    conductor: ConductorRule
    light: LightRule


@lru_cache(maxsize=4)
def code(edition: str) -> Code:
    """The rules of this edition."""
    return Code(edition, given(LoadRule, "load", edition), given(CircuitRule, "circuit", edition),
                given(ReceptacleRule, "receptacle", edition), given(PanelRule, "panel", edition),
                given(BoxRule, "boxes", edition), given(ConductorRule, "conductors", edition),
                given(LightRule, "lighting", edition))


__all__ = ["Code", "RuleSet", "code", "rule_set"]
