"""From what the survey wrote down to the terms that the endings read: the house, the firm's belief, its kits."""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct

from sitegen.job.books import Case as BookCase
from sitegen.job.books import Kit
from sitegen.job.cards import Company
from sitegen.job.inputs import Inputs
from sitegen.job.model import Job, Price
from sitegen.survey.lines import feeds_of, list_drops
from sitegen.trade.break_even import unsettled
from sitegen.trade.feeds import FeedPrior
from sitegen.trade.kinds import TROUBLE
from sitegen.trade.terms import Belief, Case, House, Later, Option, Spread, Walls

LATER_PER = {"opening": "opening", "sq ft outside the sheet": "sq ft", "house": "house"}


def belief_of(company: Company) -> Belief:
    """The firm's judgement of what is hidden, from its card: old and new feeds, blocked and open drops, shift."""
    prior = company.prior
    return Belief(FeedPrior(prior.old_feeds, prior.new_feeds, prior.new_ends_turn_out_old,
                            prior.part_feed_old, prior.part_feed_new),
                  prior.blocked_drops, prior.open_drops, prior.hard_house_shift)


def case_chance(case: BookCase, job: Job) -> Fraction:
    """*no* to all that it hangs on: none; a *yes*: known today; else the firm's chance, also of what was seen capped
    and not tested.

    A trouble word of a room leaves the chance standing; without such a room there is none.
    """
    trouble = {word for room in job.rooms for word in room.trouble or ()}
    here = {word: "not seen" if word in trouble else "no" for word in TROUBLE}
    answers = [(job.stop_work | here)[key] for key in case.asked_in]
    if "yes" in answers:
        return Fraction(1)
    if answers and set(answers) == {"no"}:
        return Fraction(0)
    return case.chance


def option_row(inputs: Inputs, option: str) -> tuple[int, Price]:
    """Where an option stands in the job file, and what it says of it; raises StopIteration where it sells none."""
    return next((at, row) for at, row in enumerate(inputs.job.options) if row.option == option)


def kit_of(inputs: Inputs, option: str) -> Kit:
    """The kit of the price book that the job names for an option, with the job's own payments where it has some.

    Raises StopIteration where the job sells no such option.
    """
    row = option_row(inputs, option)[1]
    kit = inputs.book.kits[row.kit]
    return kit if row.payments is None else kit.model_copy(update={"payments": row.payments})


def tracing_price(inputs: Inputs) -> int:
    """What finding out would cost [cents]: the visit, and each feed that is not settled; nothing where all are."""
    open_feeds = len(unsettled(feeds_of(inputs.job)))
    return inputs.book.tracing.visit + inputs.book.tracing.each_feed * open_feeds if open_feeds else 0


class Priced(Struct, frozen=True):
    """What an option asks today, and what is certain beside it [cents]."""

    price: int
    also: int = 0


def house_of(inputs: Inputs, openings_a_drop: Fraction, list_openings: int | None = None) -> House:
    """Everything about the house that an ending turns on, but for the options."""
    job, book = inputs.job, inputs.book
    feeds = feeds_of(job)
    cases = tuple(Case(case.key, chance, Spread(case.low, case.usual, case.high))
                  for case in book.cases if (chance := case_chance(case, job)))
    later = tuple(Later(item.key, LATER_PER[item.per], Spread(item.low, item.usual, item.high))
                  for item in book.later)
    return House(feeds, Walls(job.drops.inside.probed, job.drops.inside.blocked),
                 Walls(job.drops.outside.probed, job.drops.outside.blocked), list_drops(job, book),
                 job.house.points_on_outside_walls, openings_a_drop,
                 0 if book.tracing.credited else tracing_price(inputs), cases, later, list_openings=list_openings)


def option_of(inputs: Inputs, key: str, priced: Priced, floor: int) -> Option:
    """The money terms of one option; `floor` [sq ft] is left bare of sheet."""
    kit = kit_of(inputs, key)
    return Option(key, priced.price, kit.covers == "every point", kit.each_point, kit.each_feed, kit.each_blocked_drop,
                  frozenset(case for case, payer in kit.cases.items() if payer == "homeowner"),
                  kit.not_over_for_cases, kit.not_over_for_more, frozenset(kit.later), floor, priced.also)
