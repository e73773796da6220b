"""Who closes the holes that an option leaves to the homeowner: what a plasterer elsewhere asks, and what we ask.

The sums of an offer count the plasterer elsewhere, as for all that is bought from others.  Both prices are figures,
and ours stands for every step of how many more turn out old, so that a reader can put one in the place of the other.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from sitegen.figure import Figure, int_of
from sitegen.offer.context import Context
from sitegen.offer.money import EXPLAINED, OptionMoney, Outcome, StepLater
from sitegen.offer.protection import OptionCare
from sitegen.trade.blocked import openings
from sitegen.trade.plaster import BANDS
from sitegen.trade.rounding import half_up
from sitegen.units import in_hundreds

PLASTER = "plaster finish"
"""What a later cost stands for that closes holes."""

DOLLAR = 100


class Closing(Struct, frozen=True):
    """One option that leaves its holes open.

    `later`      the key of the later cost that closes them
    `elsewhere`  its usual price a hole [cents]; `ours` what we ask a hole of the list, in whole dollars [cents]
    `ours_at`    what we ask to close all, by count of old points off the list [cents]
    `middle`     the middle of the totals with our price in the place of theirs [cents]; None where it is no lower
    """

    option: str
    name: str
    later: str
    elsewhere: Figure
    ours: Figure
    ours_at: dict[int, Figure]
    middle: Figure | None


def closing_of(context: Context, money: Outcome, care: Mapping[str, OptionCare]) -> tuple[Closing, ...]:
    """Every option that leaves holes to the homeowner which somebody elsewhere closes at a price a hole."""
    book, found = context.inputs.book, []
    for i, item in enumerate(book.later):
        if item.stands_for != PLASTER or item.per != "opening":
            continue
        elsewhere = context.make.figure(f"later.{item.key}.usual", "book", "later", i, "usual")
        for step in money.steps.options:
            bought = next((one for one in step.later if one.key == item.key), None)
            made = bought and _ours(context, step.key, bought, care[step.key])
            if made and bought:
                option = next(one for one in money.options if one.key == step.key)
                found.append(Closing(step.key, step.name, item.key, elsewhere, *made, _middle(money, option, bought,
                                                                                           made[1])))
    return tuple(found)


def _middle(money: Outcome, option: OptionMoney, bought: StepLater, ours: Mapping[int, Figure]) -> Figure | None:
    """The middle total with our price, at the middle count of old points; None where theirs is as low."""
    points = int_of(money.hidden.p50)
    saved = int_of(bought.usual[points]) - int_of(ours[points])
    if in_hundreds(saved) <= 0:
        return None
    return Figure(f"options.{option.key}.p50.we-close", int_of(option.p50) - saved, "cents, forecast",
                  "The middle of the totals, with what we ask to close the holes in the place of what a plasterer "
                  "elsewhere asks, at the middle count of old points.", ours[points].source,
                  (option.p50.name, bought.usual[points].name, ours[points].name))


Asked = tuple[Figure, dict[int, Figure]]


def _ours(context: Context, option: str, bought: StepLater, care: OptionCare) -> Asked | None:
    """What we ask a hole, and for all of them at each count; None where we close them, or where the list has none."""
    close, counts = care.to_close, dict(zip(BANDS, map(int_of, care.patches), strict=True))
    holes = sum(counts.values())
    if close is None or not holes:
        return None
    book, source = context.inputs.book.patches, context.make.book("patches")
    each = Fraction(sum(count * int(getattr(book, band)) for band, count in counts.items()), holes)
    least = book.minimum if holes > counts["plate"] else 0
    stem, inputs = f"steps.{option}.closing", (close.name, *(figure.name for figure in care.patches))
    ours = Figure(f"options.{option}.care.to-close-each", half_up(Fraction(int_of(close), holes * DOLLAR)) * DOLLAR,
                  "cents", "What we ask to close the holes of the list, a hole, to the nearest dollar.", source, inputs)
    return ours, {points: Figure(
        f"{stem}.p{points}", max(least, half_up(each * openings(context.house, points))), "cents, forecast",
        "What we ask to close the holes when so many old points turn up: as many holes as the plasterer elsewhere is "
        "counted with, at what a hole of the list comes to at our prices, at least our minimum.", source, inputs,
        EXPLAINED) for points in bought.usual}


__all__ = ["Closing", "closing_of"]
