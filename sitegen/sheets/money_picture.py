"""Money in one picture: a line for each option from its price today to its likely end and to the most, on one scale.

A ring marks the price today, a thick part the judged endings from 1 in 10 lower to 1 in 10 higher.  The thin line
goes on to what the option comes to if all that could be old is, or to its cap: an upright line ends it where the
contract has a cap, an arrow where it has none.  The script of the reader's bids draws by the same rules.
"""

from __future__ import annotations

from markupsafe import Markup
from msgspec import Struct

from sitegen.figure import Figure, Source, int_of
from sitegen.offer.money import OptionMoney, Outcome
from sitegen.sheets.charts import scale
from sitegen.units import in_hundreds

WIDE, MIDDLE = 320, 13
"""Units of a drawing across, and the height at which its line runs; it is 26 tall."""

LEFT, RIGHT = 8, 294
"""Where the ends of the scale stand: left of it half a ring has room, right of it an arrow."""

RING, LEAST = 5, 3.0
"""How far a ring reaches from its middle, and the least length of a thick part: so an ending of one sum is seen."""


class MoneyLine(Struct, frozen=True):
    """One option: its paths, the keys of the words for where it ends and for the most, and what fills the latter.

    `most` is the figure of the thin line's end, `capped` whether a contract holds it there.
    """

    option: OptionMoney
    thin: Markup
    thick: Markup
    ends: str
    says: str
    slots: dict[str, Figure]
    most: Figure
    capped: bool

    @property
    def script(self) -> tuple[Figure, ...]:
        """The figures of its marks, by the names under which the script draws them on a longer scale."""
        option = self.option
        marks = {"price": option.price, "low": option.p10, "high": option.p90,
                 "cap" if self.capped else "most": self.most}
        return tuple(figure.named(f"sheets.money.{option.key}.{name}") for name, figure in marks.items())


class MoneyPicture(Struct, frozen=True):
    """All options on one scale; `grid` is an upright line at each whole step."""

    foot: Figure
    top: Figure
    step: Figure
    grid: Markup
    each: tuple[MoneyLine, ...]

    @property
    def marks(self) -> str:
        """The key of the words for how a line may end, of the ends that there are."""
        capped = {line.capped for line in self.each}
        return "pay.money.marks" if len(capped) > 1 else (
            "pay.money.marks.capped" if capped == {True} else "pay.money.marks.open")


def money_picture(outcome: Outcome) -> MoneyPicture:
    """Draw every option on the finest scale of whole steps that holds all of them."""
    ends = {option.key: _most(outcome, option) for option in outcome.options}
    values = [int_of(figure) for option in outcome.options
              for figure in (option.price, option.p10, option.p90, ends[option.key][0])]
    axis = scale(min(values), max(values))
    source = Source("worked out", "from the prices, the likely ends and the most of all options")
    marks = (("foot", axis.foot, "A whole step under every price."),
             ("top", axis.top, "A whole step over every ending."),
             ("step", axis.step, "From one upright line of the picture to the next."))
    foot, top, step = (Figure(f"sheets.money.{name}", value, "cents, forecast", method, source)
                       for name, value, method in marks)

    def across(figure: Figure) -> float:
        return place(int_of(figure), axis.foot, axis.top)
    grid = Markup("".join(f"M{place(axis.foot + i * axis.step, axis.foot, axis.top):.4g} 0v26"
                          for i in range(axis.many + 1)))
    return MoneyPicture(foot, top, step, grid, tuple(
        _line(option, *ends[option.key], tuple(map(across, (option.price, option.p10, option.p90,
                                                             ends[option.key][0])))) for option in outcome.options))


def place(value: int, foot: int, top: int) -> float:
    """How far across the drawing a value stands."""
    return round(LEFT + (value - foot) / (top - foot) * (RIGHT - LEFT), 1)


def _most(outcome: Outcome, option: OptionMoney) -> tuple[Figure, bool]:
    """Where the thin line ends: at the cap, or at the further of the likely end and of all that could be old; and
    whether a contract holds it there."""
    if option.covers_all and option.most_paid is not None and not option.later:
        return option.most_paid, True
    last = outcome.steps.rows[-1].options[option.key][1].total
    return max(option.p90, last, key=int_of), False


def _line(option: OptionMoney, most: Figure, capped: bool, at: tuple[float, ...]) -> MoneyLine:
    price, low, high, end = at
    ring = f"M{price - RING:.4g} {MIDDLE}a{RING} {RING} 0 1 0 {2 * RING} 0a{RING} {RING} 0 1 0-{2 * RING} 0"
    reach = end if capped else WIDE - 2
    thin = f"M{price + RING:.4g} {MIDDLE}H{reach:.4g}" if reach > price + RING else ""
    tip = f"M{end:.4g} 4v18" if capped else f"M{WIDE - 9} {MIDDLE - 6}l7 6-7 6"
    if high - low < LEAST:
        low, high = (low + high - LEAST) / 2, (low + high + LEAST) / 2
    return MoneyLine(option, Markup(ring + thin + tip), Markup(f"M{low:.4g} {MIDDLE}H{high:.4g}"),
                     "pay.money.sum" if in_hundreds(int_of(option.p10)) == in_hundreds(int_of(option.p90))
                     else "pay.money.range", *_says(option), most, capped)


def _says(option: OptionMoney) -> tuple[str, dict[str, Figure]]:
    """The words for the most that an option can come to, and what fills them."""
    if option.most_paid is None:
        return "pay.money.most.open", {}
    if not option.covers_all:
        return "pay.money.most.list", {"most": option.most_paid}
    key = "pay.money.most.price" if int_of(option.most_paid) == int_of(option.price) else "pay.money.most.capped"
    return key, {"most": option.most_paid}


__all__ = ["MoneyLine", "MoneyPicture", "money_picture", "place"]
