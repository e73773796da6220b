"""What sheet 4 says: break-even, endings, what is bought elsewhere, what tracing would settle."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sitegen.figure import Figure, Quote, int_of, worked_out
from sitegen.offer.money import BreakEvenSaid, Outcome
from sitegen.offer.offer import Offer
from sitegen.offer.payments import CLOSED, DEAD, END, START
from sitegen.sheets.break_even_chart import break_even_charts, turns
from sitegen.sheets.charts import ladders, spans
from sitegen.sheets.money_picture import money_picture
from sitegen.sheets.sums import SUMS
from sitegen.units import in_hundreds


def pay(offer: Offer) -> dict[str, Any]:
    """Sheet 4.  `ladders`, `break_even_charts` and `spans` are drawings; `lists` the options that sell a list; `later`
    what some option leaves to buy elsewhere, in the order of the price book; `just` the one count at which the feeds
    decide, if it is one; `elsewhere` by option what is bought for more than it rounds away; `row_why` and `due_words`
    give the words for why a count stands in the short table, and for each payment; `closing` by option what we ask to
    close its holes: all that leave holes sell one list, so a hole has one price; `included` by option the surprises
    that its price covers and another leaves to the homeowner."""
    outcome = offer.outcome
    return {"money": money_picture(outcome), "included": _included(outcome),
            "turns": {even.key: turns(even) for even in outcome.break_even},
            "ladders": ladders(outcome), "break_even_charts": break_even_charts(outcome),
            "spans": spans(outcome.tracing.swings) if outcome.tracing else (),
            "later": {item.key: item.called for option in outcome.options for item in option.later},
            "closing": {one.option: one for one in offer.closing},
            "live_feeds": [feed for feed in offer.found.each_feed if feed.known.value or feed.unseen.value],
            "lists": [option for option in outcome.options if not option.covers_all], "one": outcome.one_price,
            "just": _just_between(outcome.break_even), "row_why": WHY, "due_words": DUE, "sum_words": SUMS,
            "elsewhere": {option.key: [item for item in option.later if in_hundreds(int_of(item.usual))]
                          for option in outcome.options},
            "most_earner": next((option for option in outcome.options if offer.terms[option.key].we_earn == "most"),
                                None)}


WHY = {"known": "pay.steps.row.known", "half": "pay.steps.row.half", "middle": "pay.steps.row.middle",
       "twice": "pay.steps.row.twice", "all": "pay.steps.row.all"}
"""Why a count stands in the short table, and the words for it."""

DUE = {START: "pay.when.start", DEAD: "pay.when.old-wires-dead", CLOSED: "pay.when.holes-closed",
       END: "pay.when.all-finished"}
"""The words for a payment by the step that it follows."""


def _included(outcome: Outcome) -> dict[str, tuple[Quote, ...]]:
    """By the name of an option, what its price covers of the cases that another leaves to the homeowner."""
    theirs = {option.name: {case.key for case in option.cases} for option in outcome.options}
    found = {name: tuple(case.called for case in outcome.cases if case.key not in keys)
             for name, keys in theirs.items()}
    return {name: cases for name, cases in found.items() if cases}


def _just_between(evens: Sequence[BreakEvenSaid]) -> Figure | None:
    """The count between "so many or fewer" and "so many or more" of the first list, where there is but one."""
    low, high = (evens[0].list_up_to, evens[0].price_from) if evens else (None, None)
    if low is None or high is None or int_of(high) - int_of(low) != 2:
        return None
    return worked_out("sheets.pay.even-just", int_of(low) + 1, "points",
                      "The one count at which it turns on the feeds.", low, high)
