"""What is said wrong between one field and another.

Each check names what it needs and runs when that much is sound.  It gives faults and raises nothing.
"""

from __future__ import annotations

from sitegen.errors import Fault
from sitegen.job import (
    check_cards,
    check_dates,
    check_dwellings,
    check_finished,
    check_job,
    check_photographs,
    check_rooms,
    check_versions,
)
from sitegen.job.inputs import Gathered
from sitegen.job.registry import CHECKS

TOPICS = (check_job, check_dates, check_versions, check_rooms, check_photographs, check_dwellings, check_cards,
          check_finished)
"""Where the checks stand; each file puts its own on the list as it is read."""


def check(gathered: Gathered) -> list[Fault]:
    """All faults between fields, over whatever is sound."""
    faults: list[Fault] = []
    for names, one in CHECKS:
        if all(getattr(gathered, part).has(field) for part, field in (name.split(".") for name in names)):
            faults.extend(one(gathered))
    return faults
