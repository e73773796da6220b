"""Made offers of every turn, and what any offer may not say: held against its own figures and endings, worked again.

Nothing here asks how a claim was chosen; each sentence that a sheet could print is held against the offer by itself.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from sitegen.build import context_of, offer_from
from sitegen.figure import Figure, day_of, int_of
from sitegen.job.books import Kit
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.job.model import Job, LeftOut, Room
from sitegen.offer.claims import Claim, told
from sitegen.offer.offer import Offer
from sitegen.sheets.pages.start import headline
from sitegen.survey.house import belief_of
from sitegen.survey.lines import by_itself, lines
from sitegen.survey.rule_sets import rule_set
from sitegen.trade.worked import Worked
from tests.helpers import DEMO
from tests.trade import oracle

HOUSES = sorted(path.parent.name for path in DEMO.glob("*/job.yaml"))
SOLD = ("minimal-protection", "per-item", "fixed-guarantee")
DRAWN = 400
"""Houses that are drawn to contradict a headline."""


def made(seed: int) -> Inputs:
    """A demo house with its prices, its known cases, its list, its caps and what the firm believes drawn anew."""
    rng = random.Random(seed)
    inputs = load(DEMO, DEMO / rng.choice(HOUSES), DEMO)
    job, book = _job(inputs.job, rng), inputs.book
    kits = {name: _kit(kit, rng) for name, kit in book.kits.items()}
    keep = SOLD if rng.random() < 0.7 else rng.sample(SOLD, 2)
    job = job.model_copy(update={"options": [row for row in job.options if row.option in keep]})
    book = book.model_copy(update={
        "kits": kits, "tracing": book.tracing.model_copy(update={"credited": rng.random() < 0.6})})
    prior = inputs.company.prior.model_copy(update={"old_feeds": Fraction(rng.choice((1, 2, 6)), 2),
                                                    "new_feeds": Fraction(rng.choice((1, 2, 6)), 2)})
    return replace(inputs, job=job, book=book, company=inputs.company.model_copy(update={"prior": prior}))


def _job(job: Job, rng: random.Random) -> Job:
    stop = {key: rng.choice(("yes", "no", "not seen")) for key in job.stop_work}
    rooms = list(job.rooms)
    if rng.random() < 0.5:                  # points known to be old, or named, are left out of the list
        rooms = [_room(job, room, rng) for room in rooms]
    job = job.model_copy(update={"stop_work": stop, "rooms": rooms, "lived_in": rng.random() < 0.5})
    left = [LeftOut(room=line.room, kind=line.kind, because="They asked for it.") for line in lines(job) if line.short]
    rows = [row.model_copy(update={"price": None, "because": None} if rng.random() < 0.6 else
                           {"price": rng.randrange(4_000_00, 60_000_00, 50_00), "because": "A made price."})
            for row in job.options]
    return job.model_copy(update={"left_out": left, "options": rows})


def _room(job: Job, room: Room, rng: random.Random) -> Room:
    listed = {line.kind: rng.randint(0, by_itself(line)) for line in lines(job, (room,)) if line.now}
    return room.model_copy(update={"listed": listed})


def _kit(kit: Kit, rng: random.Random) -> Kit:
    changes: dict[str, object] = {"cases": {key: rng.choice(("us", "homeowner")) for key in kit.cases},
                                  "not_over_for_cases": rng.choice((None, 1_000_00, 3_000_00))}
    if kit.prices is not None:
        def scaled(cents: int) -> int:
            return cents * rng.randint(40, 220) // 100
        changes |= {"each_point": scaled(kit.each_point), "each_feed": scaled(kit.each_feed),
                    "not_over_for_more": rng.choice((None, None, 2_000_00, 8_000_00)),
                    "prices": kit.prices.model_copy(update={"list_point": scaled(kit.prices.list_point),
                                                            "new_place": scaled(kit.prices.new_place)}),
                    "new_places": rng.choice(("in the price", "at a set price"))}
    return kit.model_copy(update=changes)


def untrue(inputs: Inputs) -> list[str]:
    """Everything that the sheets of these files would say and the offer contradicts."""
    context = context_of(inputs, rule_set(inputs.town.code))
    offer = offer_from(inputs)
    return [*_claims(offer), *_headline(offer, inputs, context.worked), *_sums(offer), *_known(offer)]


# --- claims -----------------------------------------------------------------------------------------------


def _claims(offer: Offer) -> Iterator[str]:
    for key, said in told(offer).items():
        for claim in (*said.good, *said.drawbacks):
            if not _holds(offer, key, claim):
                yield f"{key}: {claim.key}"


def _holds(offer: Offer, key: str, claim: Claim) -> bool:
    """Whether a claim is true, by the plainest reading of its sentence."""
    money = {option.key: option for option in offer.outcome.options}
    others = [other for other in money if other != key]
    mine, terms, hidden = money[key], offer.terms[key], offer.outcome.hidden

    def day(option: str, what: str) -> int:
        dates = offer.dates.options[option]
        late = what if money[option].covers_all else f"{what}_p50"
        return day_of(getattr(dates, late)).toordinal()

    counts = {
        "price": lambda option: int_of(money[option].price), "middle": lambda option: int_of(money[option].p50),
        "holes": lambda option: int_of(money[option].holes),
        "dark": lambda option: int_of(offer.dates.options[option].power_off),
        "dead": lambda option: day(option, "dead"), "finished": lambda option: day(option, "finished")}

    def least(what: str) -> bool:
        return all(counts[what](key) < counts[what](other) for other in others)

    def most(what: str) -> bool:
        return all(counts[what](key) > counts[what](other) for other in others)
    ours = {one.option: int_of(one.middle) for one in offer.closing if one.middle is not None}

    def ends_under_all(middle: int) -> bool:
        """Under the middle of every other option, whoever closes its holes."""
        return all(middle < min(counts["middle"](other), ours.get(other, middle + 1)) for other in others)
    closed, total = int_of(offer.found.closed[key]), int_of(offer.found.findings_count)
    capped = mine.covers_all or mine.added_cap is not None
    read = {
        "lowest-price": lambda: least("price"), "highest-price": lambda: most("price"),
        "lowest-middle": lambda: ends_under_all(counts["middle"](key)), "highest-middle": lambda: most("middle"),
        "lowest-middle-we-close": lambda: key in ours and ends_under_all(ours[key]),
        "fewest-holes": lambda: least("holes"), "most-holes": lambda: most("holes"),
        "fewest-dark": lambda: least("dark"), "most-dark": lambda: most("dark"),
        "first-dead": lambda: least("dead"), "last-dead": lambda: most("dead"),
        "first-finished": lambda: least("finished"), "last-finished": lambda: most("finished"),
        "cheapest-most": lambda: mine.cheapest.judged.exact.value > 0.5,
        "never-cheapest": lambda: mine.cheapest.judged.exact.value < 0.05,
        "fixed": lambda: mine.covers_all, "none-live": lambda: mine.covers_all,
        "choose": lambda: not mine.covers_all and int_of(hidden.most) > 0,
        "wire-promise": lambda: int_of(terms.years_on_old_wire) > 0,
        "no-wire-promise": lambda: int_of(terms.years_on_old_wire) == 0,
        "all-findings": lambda: 0 < closed == total, "left-findings": lambda: closed < total,
        "closes-holes": lambda: terms.closes_holes == "us", "open-holes": lambda: terms.closes_holes != "us",
        "sheet": lambda: int_of(offer.protection.options[key].bare) == 0,
        "open-rise": lambda: not capped or (bool(mine.cases) and mine.case_cap is None),
        "leaves-known": lambda: not mine.covers_all and int_of(hidden.known) > 0,
        "leaves-unseen": lambda: not mine.covers_all and int_of(hidden.most) > int_of(hidden.known),
        "elsewhere": lambda: len(mine.later) > 0,
        "rewires-newer": lambda: mine.covers_all and int_of(hidden.most) > int_of(hidden.p50)}
    return bool(read[claim.key]())


# --- headlines and sums -----------------------------------------------------------------------------------


def _headline(offer: Offer, inputs: Inputs, worked: Worked) -> Iterator[str]:
    """A headline that says whatever turns up holds in every house that is drawn."""
    key, _ = headline(offer)
    one = offer.outcome.one_price
    if key == "start.answer.nothing" and (int_of(offer.found.old) or int_of(offer.outcome.hidden.most)):
        yield "nothing old is said of a house with old wiring"
    if one is None or key not in ("start.answer.list", "start.answer.price"):
        return
    named = offer.outcome.break_even[0].key
    context = context_of(inputs, rule_set(inputs.town.code))
    drawn = oracle.simulate(context.house, belief_of(inputs.company), DRAWN, 20261127)
    listed, priced = drawn["total"][named], drawn["total"][one.key]
    if bool(((listed > priced) if key == "start.answer.list" else (priced > listed)).any()):
        yield f"{key}: a house that was drawn says otherwise"


def _sums(offer: Offer) -> Iterator[str]:
    for option in offer.outcome.options:
        for figure in (option.price, option.p50, option.with_known, option.most_paid):
            if figure is not None and not _adds_up(figure):
                yield f"{figure.name}: the lines of its sum come to something else"
        if not option.price.sum:
            yield f"{option.price.name} has no sum"


def _adds_up(figure: Figure) -> bool:
    lines_ = [(int_of(line.count), int_of(line.each), int_of(line.amount)) for line in figure.sum]
    return all(count * each == amount for count, each, amount in lines_) and (
        not lines_ or sum(amount for _, _, amount in lines_) == figure.value)


def _known(offer: Offer) -> Iterator[str]:
    """What is known already is in every total that is printed of an option that pays for it."""
    for option in offer.outcome.options:
        cases = [case for case in option.cases if case.known]
        points = 0 if option.covers_all else int_of(offer.outcome.hidden.known)
        for figure in (option.p50, option.with_known, None if option.covers_all else option.most_paid):
            if figure is None:
                if (cases or points) and figure is option.with_known and option.with_known is None:
                    yield f"{option.key}: nothing says what is known already"
                continue
            if sum(line.what == "known-case" for line in figure.sum) != len(cases):
                yield f"{figure.name}: a case that is known is not in it"
        if points and option.with_known is not None and not any(line.what == "added-points"
                                                                for line in option.with_known.sum):
            yield f"{option.with_known.name}: points known to be old are not in it"


__all__ = ["HOUSES", "made", "untrue"]
