"""What changed since the version that was handed over before: prices of all kinds, who pays, the list and the dates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from msgspec import Struct

from sitegen.figure import Figure, Quote, Source, slug
from sitegen.job.inputs import Inputs
from sitegen.job.kept import FOLDER, OFFER, Kept
from sitegen.offer.cited import Cited
from sitegen.offer.dates import Dates
from sitegen.offer.extras import Extra
from sitegen.offer.money import Outcome
from sitegen.survey.house import kit_of
from sitegen.survey.lines import points_of
from sitegen.units import date_unit


class Change(Struct, frozen=True):
    """One value that is another now: what it is of, as it was and as it is.

    `option` where it is one option's; `what` where it is of a thing that has a name; `now` is None where it is gone.
    """

    key: str
    option: str | None
    was: Figure
    now: Figure | None
    what: Quote | None = None


class Moved(Struct, frozen=True):
    """Points added to the list or to the new places, or taken off: how many, and in which rooms."""

    key: str
    count: Figure
    rooms: tuple[Quote, ...]


class PaysNow(Struct, frozen=True):
    """A case that another than before pays for in one option: `us` whether the firm does now."""

    option: str
    what: Quote
    us: bool


class Changes(Struct, frozen=True):
    """Everything that is another than in the version before."""

    before: Figure
    handed_over: Figure
    prices: tuple[Change, ...]
    set_prices: tuple[Change, ...]
    points: tuple[Moved, ...]
    dates: tuple[Change, ...]
    payers: tuple[PaysNow, ...] = ()


DAYS = {"prices hold to": "holds", "start.sign by": "sign", "start.work starts": "start"}
"""The key of a day in the job file -> its name among the changes."""


SET_PRICES = {"each-point": "each_point", "each-feed": "each_feed", "each-blocked-drop": "each_blocked",
              "not-over-for-cases": "case_cap", "not-over-for-more": "added_cap"}
"""The name of what an option asks for more work, or asks at most -> its field."""


def changes(inputs: Inputs, outcome: Outcome, when: Dates, extras: tuple[Extra, ...]) -> Changes | None:
    """What changed since the version before this one; None for a first version."""
    was = next((one for one in inputs.kept if one.version == inputs.job.version - 1), None)
    if was is None:
        return None
    source = Source("survey", f"version {was.version} of {was.days['prepared'].isoformat()}; "
                    f"{FOLDER}/{was.version}/{OFFER}")
    return Changes(
        Figure("changes.version", was.version, "number", "The version handed over before this one.", source),
        Figure("changes.handed-over", was.days["prepared"], "date", "Date of the version before.", source),
        tuple(_price(option.key, option.price, was, source) for option in outcome.options
              if was.prices.get(option.key, option.price.value) != option.price.value),
        tuple(_set_prices(outcome, extras, was, source)),
        _points(inputs, was, source), _dates(when, was, source, inputs.job.prepared.year), tuple(_payers(inputs, was)))


def _payers(inputs: Inputs, was: Kept) -> Iterator[PaysNow]:
    """Every case of the price book for which another pays now, option by option."""
    make = Cited(inputs)
    for row in inputs.job.options:
        before, now = was.payers.get(row.option, {}), kit_of(inputs, row.option).cases
        for i, case in enumerate(inputs.book.cases):
            if before.get(case.key, now.get(case.key)) != now.get(case.key):
                word = "what" if case.called is None else "called"
                yield PaysNow(row.option, make.quote("book", "cases", i, word), now[case.key] == "us")


def _price(option: str, now: Figure, was: Kept, source: Source) -> Change:
    return Change("price", option, Figure(f"changes.{option}.price", was.prices[option], "cents",
                                          "Price of this option in the version before.", source), now)


def _set_prices(outcome: Outcome, extras: tuple[Extra, ...], was: Kept, source: Source) -> Iterator[Change]:
    """Everything else that has a price in both versions, and each limit that was there and is gone."""
    asked = {str(figure["name"]): figure["value"] for figure in was.figures if figure["unit"] == "cents"}

    def changed(key: str, option: str | None, name: str, now: Figure | None, what: Quote | None = None
                ) -> Iterator[Change]:
        before = asked.get(name)
        if isinstance(before, int) and (now is None or now.value != before):
            yield Change(key, option, Figure(f"changes.{name}", before, "cents", "The same price in the version "
                                             "before.", source), now, what)

    for option in outcome.options:
        for key, field in SET_PRICES.items():
            yield from changed(key, option.key, f"options.{option.key}.{key}", getattr(option, field))
    cases = {case.usual.name: case for option in outcome.options for case in option.cases}
    for name, case in cases.items():
        yield from changed("case", None, name, case.usual, case.called)
    for extra in extras:
        yield from changed("extra", None, extra.price.name, extra.price, extra.what)


def _points(inputs: Inputs, was: Kept, source: Source) -> tuple[Moved, ...]:
    """What was added to the list and to the new places, and what was taken off, by room and kind."""
    listed, places = points_of(inputs.job)
    pairs: Mapping[str, tuple[dict[str, int], dict[str, int]]] = {
        "listed-added": (was.listed, listed), "listed-taken": (listed, was.listed),
        "places-added": (was.places, places), "places-taken": (places, was.places)}
    found = []
    for key, (less, more) in pairs.items():
        moved = {at: count - less.get(at, 0) for at, count in more.items() if count > less.get(at, 0)}
        if moved:
            rooms = dict.fromkeys(at.rpartition(": ")[0] for at in moved)
            count = Figure(f"changes.{key}", sum(moved.values()), "points" if "listed" in key else "places",
                           "Counted room by room and kind by kind against the version before.", source)
            found.append(Moved(key, count, tuple(Quote(room, source) for room in rooms)))
    return tuple(found)


def _dates(when: Dates, was: Kept, source: Source, year: int) -> tuple[Change, ...]:
    now = {"prices hold to": when.prices_hold_to, "start.sign by": when.sign_by, "start.work starts": when.work_starts}
    found = [_day(DAYS[key], None, was.days[key], figure, source, year) for key, figure in now.items()]
    for option, dates in when.options.items():
        found += [_day(word, option, days[option], figure, source, year) for word, days, figure in
                  (("dead", was.dead, dates.dead), ("finished", was.finished, dates.finished)) if option in days]
    return tuple(change for change in found if change.now is not None and change.was.value != change.now.value)


def _day(key: str, option: str | None, was: date, now: Figure, source: Source, year: int) -> Change:
    return Change(key, option, Figure(f"changes.{f'{option}.' if option else ''}{slug(key)}", was,
                                      "date" if now.unit == "date" else date_unit(was, year),
                                      "The same day in the version before.", source), now)


__all__ = ["Change", "Changes", "Moved", "PaysNow", "changes"]
