"""Every set of rules as one argument for the calculations of a job: read once, for the edition that its town has."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sitegen.dates.cancellation import CancelRule
from sitegen.dates.holidays_us import HolidayRule
from sitegen.rules.read import given
from sitegen.trade.floors import FloorsRule
from sitegen.trade.lead_dust import LeadRule
from sitegen.trade.plaster import PlasterRule


@dataclass(frozen=True, slots=True)
class RuleSet:
    """The rules that a job is worked out under."""

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


__all__ = ["RuleSet", "rule_set"]
