"""The rules of the electrical code that a design is checked by, in the edition that the town has in force."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sitegen.rules.read import given
from sitegen.trade.box_fill import BoxRule
from sitegen.trade.circuits import CircuitRule
from sitegen.trade.lighting import LightRule
from sitegen.trade.load_parts import LoadRule
from sitegen.trade.panel import PanelRule
from sitegen.trade.receptacles import ReceptacleRule
from sitegen.trade.voltage_drop import ConductorRule


@dataclass(frozen=True, slots=True)
class Code:
    """One edition."""

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


__all__ = ["Code", "code"]
