"""What sheet 2 and the findings of sheet 1 say: who closes each finding, what each option does of it, and the
letters."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from sitegen.figure import Quote, day_of, int_of
from sitegen.offer.dates import OptionDates
from sitegen.offer.found import Finding
from sitegen.offer.money import OptionMoney
from sitegen.offer.offer import Offer

CLOSES = ("yes", "in part", "no")

HOW = frozenset({"old wire", "panel", "service", "alarms"})
"""What a finding is about where words, and not rooms, say what an option does."""


class Does(Struct, frozen=True):
    """What options that do the same do about a finding: the answer, the key of its words, and rooms by how far."""

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
    """Sheet 2.  `each` finding with what each option does; `tally`: by option, the numbers by their answer; `stays`:
    findings that no option closes whole; `letters`: one for each option; `asks`: whose date it is, or nobody's."""
    deadline = offer.dates.deadline
    return {**findings(offer), "each": [(finding, _does(offer, finding)) for finding in offer.found.findings],
            "tally": [(option.name, [[finding.number for finding in offer.found.findings
                                   if finding.closed[option.key] == answer] for answer in CLOSES])
                      for option in offer.outcome.options],
            "stays": [finding for finding in offer.found.findings if "yes" not in finding.closed.values()],
            "letters": [_letter(offer, option) for option in offer.outcome.options],
            "asks": deadline.who if deadline else "nobody"}


def findings(offer: Offer) -> dict[str, Any]:
    """`closes`: each finding and the words for who closes it; `one` and `one_dates`: the option that covers all."""
    one = offer.outcome.one_price
    return {"closes": [(finding, _closes(offer, finding)) for finding in offer.found.findings],
            "one": one, "one_dates": offer.dates.options[one.key] if one else None}


def _does(offer: Offer, finding: Finding) -> list[Does]:
    """What each option does about a finding; options that do the same stand together, in order of price today."""
    found: dict[tuple[object, ...], list[str]] = {}
    for option in offer.outcome.options:
        done, left = ({room.text: room for room in rooms[option.key]} for rooms in (finding.rooms, finding.leaves))
        parts = (("done", tuple(room for name, room in done.items() if name not in left)),
                 ("some", tuple(room for name, room in done.items() if name in left)),
                 ("not", tuple(room for name, room in left.items() if name not in done)))
        how = None
        if finding.about in HOW:
            how = "not" if finding.closed[option.key] == "no" else finding.about.replace(" ", "-")
            if finding.about == "old wire" and how != "not":
                how += "-every" if option.covers_all else "-list"
        found.setdefault((finding.closed[option.key], how, tuple(part for part in parts if part[1])),
                         []).append(option.name)
    return [Does(tuple(names), *key) for key, names in found.items()]  # type: ignore[arg-type]


def _letter(offer: Offer, option: OptionMoney) -> Letter:
    """What the letter of one option says; `in_time` is whether it is done by the date that somebody set."""
    dates, deadline = offer.dates.options[option.key], offer.dates.deadline
    rooms = tuple(room.name for room in offer.rooms
                  if any(int_of(kind.listed) or int_of(kind.want) > int_of(kind.now) for kind in room.kinds))
    in_time = None if deadline is None or not offer.holder.owner_now else day_of(dates.dead) <= day_of(deadline.by)
    return Letter(option, dates, rooms, in_time)


def _closes(offer: Offer, finding: Finding) -> tuple[str, dict[str, str]]:
    """The words for who closes a finding, and the names of the options by their answer."""
    by = {answer: [option.name for option in offer.outcome.options if finding.closed[option.key] == answer]
          for answer in CLOSES}
    if not by["in part"] and not by["no"]:
        return "all", {}
    if not by["yes"] and not by["in part"]:
        return "none", {}
    slots = {"yes": by["yes"], "part": by["in part"], "open": by["no"]}
    given = {key: listed(names) for key, names in slots.items() if names}
    return "-".join(given), given


def listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
