"""What sheet 2 and the findings of sheet 1 say: who closes each finding, what each option does of it, and the
letters."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Figure, Quote, day_of, int_of
from sitegen.offer.dates import OptionDates
from sitegen.offer.found import Finding
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer

CLOSES = {"yes": "report.yes", "in part": "report.in-part", "no": "report.no"}
"""Whether an option closes a finding, and the words for it."""

HOW = {
    "panel": "report.how.panel",
    "service": "report.how.service",
    "alarms": "report.how.alarms",
    "splice": "report.how.splice",
}
"""What a finding is about where words, and not rooms, say what an option does."""

OLD_WIRE = "old wire"
"""Words say it of old wire too, by what the option covers."""

FAR = {"done": "report.done", "some": "report.some", "not": "report.not"}
"""How far rooms are done, and the words before their names."""

PROOF = {
    "points-tested": "report.proof.points-tested",
    "photographs": "report.proof.photographs",
    "final-inspection": "report.proof.final-inspection",
    "dead-list": "report.proof.dead-list",
    "splice-photographs": "report.proof.splice-photographs",
    "panel-photographs": "report.proof.panel-photographs",
    "directory": "report.proof.directory",
    "utility-release": "report.proof.utility-release",
    "alarms-tested": "report.proof.alarms-tested",
}
"""The evidence that stays with the homeowner, by the keys of the crosswalk."""

TO = {
    "insurer": "report.letter.to.insurer",
    "lender": "report.letter.to.lender",
    "buyer's inspection": "report.letter.to.buyer's inspection",
    "insulation crew": "report.letter.to.insulation crew",
    "nobody": "report.letter.to.nobody",
}
"""Whom a letter is to, by who asked."""

TITLES = {"insurer": "report.title.insurer", "lender": "report.title.lender"}
CALLS = {"insurer": "report.call.insurer", "lender": "report.call.lender"}
"""The heading, and whom to call, by who asked; whoever else it was, an insurer or a lender may ask yet."""

CLOSED = {
    "yes": ("start.closes.yes-one", "start.closes.yes-many"),
    "in part": ("start.closes.part-one", "start.closes.part-many"),
    "no": ("start.closes.open-one", "start.closes.open-many"),
}
"""What options do about a finding, by their answer: the words for one of them, and for several."""


class Does(Struct, frozen=True):
    """What options that do the same do about a finding: keys of words for whether and how, and rooms by how far."""

    options: tuple[str, ...]
    closes: str
    how: str | None
    rooms: tuple[tuple[str, tuple[Quote, ...]], ...]


class Letter(Struct, frozen=True):
    """The letter of one option: its dates, the rooms of its list, and whether it is done by the date that was set."""

    option: OptionMoney
    dates: OptionDates
    rooms: tuple[Quote, ...]
    in_time: bool | None


def report(offer: Offer) -> dict[str, Any]:
    """Sheet 2.  `title` and `call`: the heading and whom to call, by who asked; `each` finding with what each option
    does; `tally`: by option, the numbers by their answer; `stays`: findings that no option fixes whole; `letters`: one
    for each option; `timed` whether their days are held against a date, `lists` whether one is a list; `asks`: whose
    date it is, or nobody's; `proof` and `to` give the words for the evidence and for whom a letter is to."""
    asks = offer.dates.deadline.who if offer.dates.deadline else "nobody"
    return {**findings(offer), "each": [(finding, _does(offer, finding)) for finding in offer.found.findings],
            "tally": [(option.name, [[finding.number for finding in offer.found.findings
                                   if finding.closed[option.key] == answer] for answer in CLOSES])
                      for option in offer.outcome.options],
            "stays": [finding for finding in offer.found.findings if "yes" not in finding.closed.values()],
            "letters": [_letter(offer, option) for option in offer.outcome.options],
            "title": TITLES.get(asks, "report.title.letter"), "call": CALLS.get(asks, "report.call.other"),
            "timed": any(_met(offer, option) is not None for option in offer.outcome.options),
            "lists": any(not option.covers_all for option in offer.outcome.options),
            "asks": asks, "proof": PROOF, "to": TO}


def _fixed(offer: Offer) -> list[tuple[str, dict[str, Figure | str]]]:
    """How many findings each option fixes whole, options that fix as many together, lowest price today first."""
    total, found = int_of(offer.found.findings_count), dict[int, tuple[Figure, list[str]]]()
    for option in offer.outcome.options:
        count = offer.found.closed[option.key]
        found.setdefault(int_of(count), (count, []))[1].append(option.name)
    if list(found) == [total]:
        return [(EVERY, {})]
    return [(FIXED[0 if not number else 2 if number == total else 1],
             {"options": listed(names), **({"count": count} if 0 < number < total else {})})
            for number, (count, names) in found.items()]


FIXED = ("report.closed.none", "report.closed.some", "report.closed.all")
"""The words for none, some and all of the findings."""

EVERY = "report.closed.every"
"""The words where each option fixes all of them."""


def findings(offer: Offer) -> dict[str, Any]:
    """`closes`: each finding and the words for what fixes it; `fixed`: those for how many each option fixes; `one` and
    `one_dates`: the option that covers all, and its dates."""
    one = offer.outcome.one_price
    return {"closes": [(finding, _closes(offer, finding)) for finding in offer.found.findings], "fixed": _fixed(offer),
            "one": one, "one_dates": offer.dates.options[one.key] if one else None}


def _does(offer: Offer, finding: Finding) -> list[Does]:
    """What each option does about a finding; options that do the same stand together, in order of price today."""
    found: dict[tuple[object, ...], list[str]] = {}
    for option in offer.outcome.options:
        done, left = ({room.text: room for room in rooms[option.key]} for rooms in (finding.rooms, finding.leaves))
        parts = ((FAR["done"], tuple(room for name, room in done.items() if name not in left)),
                 (FAR["some"], tuple(room for name, room in done.items() if name in left)),
                 (FAR["not"], tuple(room for name, room in left.items() if name not in done)))
        found.setdefault((CLOSES[finding.closed[option.key]], _how(finding, option),
                          tuple(part for part in parts if part[1])), []).append(option.name)
    return [Does(tuple(names), *key) for key, names in found.items()]  # type: ignore[arg-type]


def _how(finding: Finding, option: OptionMoney) -> str | None:
    """The key of the words for what an option does about a finding; None where rooms say it."""
    if finding.at_panel[option.key]:
        return "report.how.protection"
    if finding.about not in (OLD_WIRE, *HOW):
        return None
    if finding.closed[option.key] == "no":
        return "report.how.not"
    if finding.about == OLD_WIRE:
        return "report.how.old-wire-every" if option.covers_all else "report.how.old-wire-list"
    return HOW[finding.about]


def _letter(offer: Offer, option: OptionMoney) -> Letter:
    """What the letter of one option says; `in_time` is whether it is done by the date that somebody set."""
    rooms = tuple(room.name for room in offer.rooms
                  if any(int_of(kind.listed) or int_of(kind.want) > int_of(kind.now) for kind in room.kinds))
    return Letter(option, offer.dates.options[option.key], rooms, _met(offer, option))


def _met(offer: Offer, option: OptionMoney) -> bool | None:
    """Whether an option is done by the date that somebody set; None without such a date, and for a buyer."""
    deadline = offer.dates.deadline
    if deadline is None or deadline.by is None or not offer.holder.owner_now:
        return None
    return day_of(offer.dates.options[option.key].dead) <= day_of(deadline.by)


def _closes(offer: Offer, finding: Finding) -> list[tuple[str, dict[str, str]]]:
    """The keys of the words for what fixes a finding, and the names of the options by their answer."""
    by = {answer: names for answer in CLOSES
          if (names := [option.name for option in offer.outcome.options if finding.closed[option.key] == answer])}
    if len(by) == 1:
        return [(ALIKE[next(iter(by))], {})]
    return [(CLOSED[answer][len(names) > 1], {"options": listed(names)}) for answer, names in by.items()]


ALIKE = {"yes": "start.closes.all", "in part": "start.closes.part-all", "no": "start.closes.none"}
"""The words where all options do the same about a finding."""


def listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
