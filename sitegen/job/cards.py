"""The firm's own card, the town's and the state's: every field."""

from __future__ import annotations

from typing import Annotated

from sitegen.job.fields import (
    Chance,
    Count,
    Day,
    InsidePath,
    Money,
    Name,
    Phone,
    Share,
    WebAddress,
    Words,
    YesNo,
)
from sitegen.job.parts import (
    Edition,
    LicenceKind,
    Part,
    Role,
    means,
)
from sitegen.job.text_type import one_of

BEFORE_CLOSING, AT_THE_END = "before closing", "at the end"
"""When the inspector of a town first comes."""


class Person(Part):
    name: Words = means("who")
    role: Role = means("what they do")
    phone: Phone = means("a number that this person answers")
    photograph: InsidePath | None = means("picture of them, a file in the company's folder", default=None)
    since: Count | None = means("year since which they have worked in the trade", default=None)
    hours: Words | None = means("when they answer", default=None)
    text: YesNo = means("they take text messages at that number", default=False)
    e_mail: Words | None = means("their own address", alias="e-mail", default=None)


class Licence(Part):
    kind: LicenceKind = means("what it allows: each its own number")
    number: Words = means("as printed on it")
    expires: Day = means("last day on which it holds")
    renewal: Words | None = means("what is arranged for the time after that day, when it ends during the work",
                                  default=None)
    look_up: WebAddress = means("where anyone can check it")


class Insurance(Part):
    kind: Words = means("liability or workers' compensation")
    insurer: Words = means("who insures")
    until: Day = means("last day of cover")
    renewal: Words | None = means("what is arranged for the time after that day, when it ends during the work",
                                  default=None)


class Reference(Part):
    """A finished job that the firm may speak of."""

    says: Words = means("what was done there, in the firm's own words")
    by: Words = means("whose house it is, as they want to be named")
    leave: Day = means("day on which they agreed to these words")


class Prior(Part):
    """What the firm believes before it looks. It belongs to the company; a job can never set it."""

    by: Words = means("whose judgement")
    on: Day = means("when it was set")
    old_feeds: Share = means("as if so many feeds traced in houses like this had been old")
    new_feeds: Share = means("and so many new")
    new_ends_turn_out_old: Chance = means("chance that a feed which looks new at both ends is old between")
    part_feed_old: Share = means("start of the count within a partly opened feed: old")
    part_feed_new: Share = means("and new")
    blocked_drops: Share = means("start of the count of blocked drops")
    open_drops: Share = means("and of open ones")
    hard_house_shift: Share = means("how far a hard house moves blocked drops: from plus to minus this much")


class Record(Part):
    """What finished jobs say, counted by the firm: raw counts, never rescaled."""

    jobs: Count = means("finished jobs that were looked at afterwards")
    above: Count = means("of those, jobs in which Per item would have ended above One price")
    which: Words = means("which jobs they are, and which were left out")


class Company(Part):
    name: Words = means("legal name")
    address: Words = means("street address, no post box")
    phone: Phone = means("the number on every sheet")
    e_mail: Words = means("for questions and for cancelling", alias="e-mail")
    people: list[Person] = means("estimator, electrician in charge, certified renovator")
    licences: list[Licence] = means("every number, with its expiry")
    insurance: list[Insurance] = means("liability and workers' compensation")
    subcontractors: Words = means("who else works in the house, or that nobody does")
    damage: Words = means("what the firm does when it damages a floor or plaster: one rule for all options")
    prior: Prior = means("the firm's judgement of what is hidden")
    since: Count | None = means("year since which the firm has worked", default=None)
    references: list[Reference] = means("finished jobs whose owners agreed to be named", default=[])
    closed: list[Day] = means("weekdays on which nobody works", default=[])
    record: Record | None = means("what finished jobs say of the three options, once they were counted", default=None)


class Town(Part):
    name: Words = means("town")
    state: Name = means("file name of the state card, without .yaml")
    code: Edition = means("edition of the National Electrical Code in force")
    permit: Words = means("who gets the permit and what it covers")
    inspection: Words = means("who inspects, and when")
    permit_price: Money = means("what the permit costs; it is in every price")
    permit_days: Count = means("working days until the permit is given")
    board_days: Count = means("working days until historic and other boards have agreed", default=0)
    asbestos_notice: Count = means("working days of notice before asbestos is taken out", default=10)
    inspector_notice: Count = means("working days of notice for each visit of the inspector")
    utility_notice: Count = means("working days of notice when the utility must cut the power")
    cable: Words = means("which cable the town allows in old walls")
    spacing: Annotated[str, one_of("full", "same places", "ask")] = means(
        "how far apart outlets must be when walls stay closed: the full rule, the same places, or ask each time")
    alarms: Words = means("what alarms the town asks for with such a permit")
    covering: YesNo = means("the inspector passes closed holes on photographs")
    looks: Annotated[str, one_of(BEFORE_CLOSING, AT_THE_END)] = means(
        "when the inspector first looks, as said under `inspection`",
        default=BEFORE_CLOSING)
    approvals: Words = means("historic or other boards that must agree, or that there are none")


class Deposit(Part):
    """The most that may be asked for before work starts."""

    most: Money | None = means("a fixed sum", default=None)
    part: Share | None = means("a part of the price, as 1/3", default=None)
    whichever: Annotated[str, one_of("lesser", "greater")] = means(
        "lesser: of the sum and the part; greater: of the part and the cost of things made to order",
        default="lesser")
    special_order: YesNo = means("the cost of things made to order may be added", default=False)


BESIDE_SIGNATURE, AT_THE_TOP, OWN_PAGE, BEFORE_SIGNING = ("beside the signature", "at the top", "on a page of its own",
                                                         "in hand before signing")
PLACES = (BESIDE_SIGNATURE, AT_THE_TOP, OWN_PAGE, BEFORE_SIGNING)
"""Where a state asks for the text of a duty, or for a booklet that is in the buyer's hands first."""


class Duty(Part):
    """What a state asks of an agreement beside the federal rules."""

    key: Name = means("short name")
    text: Words = means("the state's own words, verbatim; of a booklet, the line that the buyer acknowledges")
    where: Words = means("section of the state's law")
    source: Words = means("where it was read, and on what day; or from memory")
    size: Count = means("least size of its print in points", default=10)
    place: Annotated[str, one_of(*PLACES)] = means(
        "where it has to stand", default=AT_THE_TOP)
    signed: YesNo = means("it takes a signature or a tick of its own", default=False)
    booklet: Words | None = means("booklet that is handed over with it", default=None)


class State(Part):
    name: Words = means("state")
    draft: YesNo = means("yes until a lawyer has read it")
    cancel_within: Count = means("business days in which a contract signed at home can be cancelled")
    where: Words = means("section of the state's law, or that it adds nothing to the federal rule")
    deposit: Deposit | None = means("what may be asked for before work starts; nothing where this is left out",
                                    default=None)
    reviewed_by: Words | None = means("lawyer who read this card", default=None)
    reviewed_on: Day | None = means("when; it holds for twelve months", default=None)
    refuses: dict[Name, Words] = means("options that may not be signed there, each with the reason", default={})
    duties: list[Duty] = means("what the state asks of an agreement", default=[])
