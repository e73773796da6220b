"""What sheet 1 says: whether each price can rise, and who closes each finding."""

from __future__ import annotations

from typing import Any

from sitegen.figure import Figure, Quote, day_of, int_of
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer
from sitegen.sheets.counts import ROW_COUNT
from sitegen.sheets.pages.report import findings


def start(offer: Offer) -> dict[str, Any]:
    """Sheet 1.  `title`: how many options there are; `rise` by option key: the words for "can it rise"; `does`: each
    option and the words for what it does; `headline`: which costs less, as far as every ending agrees; `tonight`: the
    words for each known hazard and what fills them; `due`: when the wiring that each option replaces is dead, with
    the house empty and with people in it, and whether that meets the date that was set, unless `all_in_time` says so
    of all; `asks_title` the words by who set a date; `go_letter` those of the link to the letter; `changed` those by
    what changed since the version before, with the names of the options; `changed_prices` the words of each other
    price that changed, and what fills them."""
    deadline = offer.dates.deadline
    due = [_due(offer, option) for option in offer.outcome.options]
    in_time = all(key == IN_TIME for _, *both in due for key, _ in both)
    if in_time:                             # said once for all of them
        due = [(name, (PLAIN, empty), (PLAIN, stay)) for name, (_, empty), (_, stay) in due]
    return {**findings(offer), "title": TITLE.get(len(offer.outcome.options), "start.title.more"),
            "rise": {option.key: _rise(option) for option in offer.outcome.options},
            "does": [(option, _does(offer, option)) for option in offer.outcome.options],
            "tonight": _tonight(offer), "row_count": ROW_COUNT, "asks_title": ASKS, "headline": headline(offer),
            "due": due, "all_in_time": in_time, "changed": CHANGED,
            "go_letter": GO_LETTER.get(deadline.who, "start.go.letter") if deadline else "start.go.letter",
            "changed_prices": _changed_prices(offer),
            "changed_names": {option.key: option.name for option in offer.outcome.options}}


TITLE = {2: "start.title.two", 3: "start.title.three"}
"""By how many options there are; more than these have a title without their number."""

GO_LETTER = {"insurer": "start.go.insurer", "lender": "start.go.lender"}
"""What the link to the letter says, by who set a date; whoever else it was, an insurer or a lender may ask yet."""


Slots = dict[str, Figure | Quote | str | tuple[Quote, ...]]

TONIGHT: dict[str, tuple[str, str | None]] = {
    "live gas pipe": ("start.tonight.live gas pipe", "emergency"),
    "hot cover": ("start.tonight.hot cover", "phone"),
    "live splice": ("start.tonight.live splice", "phone"),
    "disturbed fill": ("start.tonight.disturbed fill", None),
    "insulation due": ("start.tonight.insulation due", None),
    "no working alarm": ("start.tonight.no working alarm", None),
    "loose ceiling": ("start.tonight.loose ceiling", "phone"),
    "loose fill": ("start.tonight.loose fill", None),
    "pipe wrap": ("start.tonight.pipe wrap", None),
}
"""What can hurt somebody tonight: the words for it, and the number that they name."""

NO_ALARM, WITH_FUEL = "no working alarm", "start.tonight.carbon monoxide"


def _tonight(offer: Offer) -> list[list[tuple[str, Slots]]]:
    """The words of each hazard that is known, with its rooms before them where it has some.

    Where fuel is burned, alarms for carbon monoxide are named with those for smoke.
    """
    head = offer.head
    numbers: dict[str, Figure | Quote] = {"phone": head.phone, "emergency": head.emergency}
    said = list[list[tuple[str, Slots]]]()
    for one in head.hazards:
        key, number = TONIGHT[one.kind]
        key = WITH_FUEL if one.kind == NO_ALARM and head.fuel else key
        pieces: list[tuple[str, Slots]] = [(key, {} if number is None else {number: numbers[number]})]
        if one.rooms:
            pieces.insert(0, ("start.tonight.where", {"rooms": one.rooms}))
        said.append(pieces)
    return said


PLAIN, IN_TIME = "start.due.plain", "start.due.in-time"
DUE = {None: PLAIN, True: IN_TIME, False: "start.due.late"}
"""By whether a day meets the one that was set, if one was."""


def _due(offer: Offer, option: OptionMoney) -> tuple[str, tuple[str, Figure], tuple[str, Figure]]:
    """When the wiring that an option replaces is dead, with the house empty and with people in it: its name, and for
    each the key of the words and the day."""
    dates, deadline = offer.dates.options[option.key], offer.dates.deadline
    by = None
    if deadline is not None and deadline.by is not None and offer.holder.owner_now:
        by = day_of(deadline.by)

    def said(dead: Figure) -> tuple[str, Figure]:
        return DUE[None if by is None else day_of(dead) <= by], dead
    both = said(dates.dead), said(dates.other.dead)
    return option.name, *(reversed(both) if offer.dates.lived_in else both)


def _does(offer: Offer, option: OptionMoney) -> list[tuple[str, Slots]]:
    """What an option does, what it comes to with all that is known, what can raise it, and who closes the holes."""
    found, said = offer.found, list[tuple[str, Slots]]()
    if option.covers_all:
        said.append(("start.does.every", {"rewired": found.rewired}))
        if int_of(option.places_held):
            said.append(("start.does.places", {"places": option.places_held}))
    else:
        said.append(("start.does.list", {"listed": found.listed, "places": option.places_held}))
    if int_of(found.new_places) and not int_of(option.places_held):
        said.append(("start.does.places-out", {}))
    closes = offer.terms[option.key].closes_holes == "us"
    said.append(("start.does.closes-us" if closes else "start.does.closes-you", {"holes": option.holes}))
    if option.with_known is not None:
        said.append(("start.does.known", {"known": option.with_known}))
    return [*said, *_raises(option)]


def _raises(option: OptionMoney) -> list[tuple[str, Slots]]:
    """What can raise the price of an option, and where that stops."""
    if option.covers_all:
        said: list[tuple[str, Slots]] = [("start.does.more-ours", {})]
        if option.cases and option.most_paid is not None:
            said.append(("start.does.cases-to", {"most": option.most_paid}))
        elif option.cases:
            said.append(("start.does.cases-open", {}))
        return said
    said = [("start.does.more", {"point": option.each_point, "feed": option.each_feed})]
    if option.added_cap is not None:
        said.append(("start.does.cap-more", {"most": option.added_cap}))
    if option.cases and option.case_cap is not None:
        said.append(("start.does.cap-cases", {"most": option.case_cap}))
    return said


def headline(offer: Offer) -> tuple[str, Slots]:
    """The words that say which option costs less, chosen by what every ending of the offer agrees with.

    The list that is nearest in price to the one price is set beside it.  "Whatever turns up" is said where no ending
    contradicts it, and not on the strength of usual costs.
    """
    outcome, one = offer.outcome, offer.outcome.one_price
    if not int_of(outcome.hidden.most) and not int_of(offer.found.old):
        return "start.answer.nothing", {}
    if one is None or not outcome.break_even:
        return "start.answer.lists", {}
    even = outcome.break_even[0]
    names: Slots = {"list": even.name, "price": one.name}
    if even.always_list or even.always_price:
        return ("start.answer.list" if even.always_list else "start.answer.price"), names
    if even.settled:
        return ("start.answer.usual-list" if even.usual_list else "start.answer.usual-price"), names
    if even.list_up_to is not None:
        names["low"] = even.list_up_to
    if even.price_from is not None:
        names["high"] = even.price_from
    return DEPENDS["low" in names, "high" in names], names


DEPENDS = {(True, True): "start.answer.depends", (True, False): "start.answer.depends-low",
           (False, True): "start.answer.depends-high", (False, False): "start.answer.depends-circuits"}
"""By whether there is a count up to which the list costs no more, and one from which the price does not."""


CHANGED = {
    "listed-added": "start.changes.listed-added", "listed-taken": "start.changes.listed-taken",
    "places-added": "start.changes.places-added", "places-taken": "start.changes.places-taken",
    "holds": "start.changes.holds", "sign": "start.changes.sign", "start": "start.changes.start",
    "dead": "start.changes.dead", "finished": "start.changes.finished",
}
"""What can change between two versions, and the words for it; a price has its own."""

CHANGED_PRICES = {
    "each-point": "start.changes.each-point", "each-feed": "start.changes.each-feed",
    "each-blocked-drop": "start.changes.each-blocked-drop", "case": "start.changes.case",
    "extra": "start.changes.extra", "not-over-for-cases": "start.changes.not-over-for-cases",
    "not-over-for-more": "start.changes.not-over-for-more",
}
LIMIT_GONE = {"not-over-for-cases": "start.changes.no-limit-for-cases",
              "not-over-for-more": "start.changes.no-limit-for-more"}
"""What else has a price, and the words for another one; a limit that is gone has words of its own."""


PAYS_NOW = {True: "start.changes.we-pay", False: "start.changes.you-pay"}
"""Whether we pay for a surprise now that was the homeowner's before, or the other way round."""


def _changed_prices(offer: Offer) -> list[tuple[str, Slots]]:
    """The words of each set price, usual price, limit and payer that changed since the version before."""
    names = {option.key: option.name for option in offer.outcome.options}
    said = list[tuple[str, Slots]]()
    for change in offer.changes.set_prices if offer.changes else ():
        slots: Slots = {"was": change.was}
        if change.option is not None:
            slots["option"] = names[change.option]
        if change.what is not None:
            slots["what"] = change.what
        if change.now is None:
            said.append((LIMIT_GONE[change.key], slots))
        else:
            said.append((CHANGED_PRICES[change.key], {**slots, "now": change.now}))
    for paid in offer.changes.payers if offer.changes else ():
        said.append((PAYS_NOW[paid.us], {"option": names[paid.option], "what": paid.what}))
    return said


ASKS = {
    "insurer": "start.date.insurer",
    "lender": "start.date.lender",
    "buyer's inspection": "start.date.buyer's inspection",
    "insulation crew": "start.date.insulation crew",
}
"""Who can set a date, and the words for it."""


def _rise(option: OptionMoney) -> tuple[str, dict[str, Figure]]:
    """The key of the words for "can it rise", and what fills them."""
    if option.covers_all:
        if not option.cases:
            return "start.rise.your-changes", {}
        return ("start.rise.no-cap", {}) if option.most_paid is None else ("start.rise.to", {"most": option.most_paid})
    if option.added_cap is not None and (option.case_cap is not None or not option.cases):
        return "start.rise.capped", {}
    return "start.rise.no-cap", {}
