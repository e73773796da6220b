"""What the makers of an offer share: the files of a job, and what the survey and the trade worked out of them."""

from __future__ import annotations

from msgspec import Struct

from sitegen.job.inputs import Inputs
from sitegen.job.parts import OPTIONS
from sitegen.offer.cited import Cited
from sitegen.offer.found import Found
from sitegen.scope.offered import Offered
from sitegen.survey.dust import RoomDust
from sitegen.survey.house import kit_of
from sitegen.trade.blocked import Kind
from sitegen.trade.feeds import HiddenPoints
from sitegen.trade.terms import House
from sitegen.trade.worked import Worked


class Context(Struct, frozen=True):
    """What every maker of a part reads: files, sources, house, one kind of it, beliefs, endings, dust, scope."""

    inputs: Inputs
    make: Cited
    house: House
    kind: Kind
    hidden: HiddenPoints
    worked: Worked
    found: Found
    dust: dict[str, dict[str, RoomDust]]
    scope: dict[str, Offered]

    def name(self, option: str) -> str:
        """What the page calls an option."""
        return kit_of(self.inputs, option).called or OPTIONS[option]
