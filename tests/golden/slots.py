"""What may fill each slot of our words: a unit of a Figure, or one of the kinds below; a slot may differ by piece.

A slot that stands in no piece, and a piece whose slot stands here in no way, fail the tests.
"""

from __future__ import annotations

SAID, SEVERAL = "said", "several said"
"""The words of people: one of them, or some, which stand with semicolons."""

NAME, WORDS = "name", "words"
"""A name or a plain word of ours, as text; other pieces, or a list, as a template makes them."""

TYPED = "typed"
"""The place of what the reader types, which a script fills."""

FINDINGS, NOTICE, VIEW = "findings", "notice", "view"
"""Numbers of findings in their rings; days of notice with their noun; one view of a judged chance, in twentieths."""

MONEY, FORECAST, POINTS, FEEDS, DAYS, DATE = "cents", "cents, forecast", "points", "feeds", "days", "date"

SLOTS: dict[str, str] = {
    "above": "number", "added": MONEY, "address": SAID, "alarms": SAID, "all": "jobs", "amount": MONEY,
    "amperes": "amperes", "approvals": SAID, "area": "square feet", "average": "footcandles", "bays": "drops",
    "bare": "square feet",
    "before": MONEY, "built": "year", "by": SAID, "cable": SAID, "called": SAID, "cancel_days": "business days",
    "cap": MONEY, "case": SAID, "cases": SEVERAL, "close": MONEY, "closing": DATE,
    "code": SAID, "conductor": SAID, "count": POINTS, "credit": WORDS, "damage": SAID, "day": DATE,
    "days": DAYS, "days_after": DAYS, "dead": DATE, "dead_lived": DATE, "dead_most": DATE, "drop": MONEY,
    "dwelling": SAID, "each": MONEY,
    "earliest": DATE, "empty": DAYS,
    "emergency": "number", "end": FORECAST, "ends": DATE, "expires": DATE, "feed": MONEY,
    "feeds": FEEDS, "feeds_open": FEEDS, "feet": "feet", "finished": DATE, "finished_lived": DATE,
    "finished_most": DATE, "firm": SAID,
    "first": DATE, "foot": FORECAST, "freed": SEVERAL, "full": "receptacles", "half": VIEW, "hand": DATE,
    "heat": "degrees Fahrenheit", "held": "share", "high": POINTS, "holes": "holes", "hot": "degrees Fahrenheit",
    "hours": "hours", "items": "number",
    "households": "number", "inside": "number", "inspection": SAID, "inspector_notice": NOTICE, "insurance": SEVERAL,
    "item": NAME, "jobs": "jobs", "judged": VIEW, "kind": SAID, "known": POINTS, "laid": "rooms",
    "last": DATE, "late": DATE, "later": SEVERAL, "lead_year": "year", "least": "amperes", "left": SAID,
    "letter": DATE, "licences": SEVERAL, "limit": "square feet", "list": NAME, "listed": POINTS, "lists": NAME,
    "lived": DAYS,
    "long": "feet", "look_up": WORDS, "low": POINTS, "mail": DATE, "middle": POINTS,
    "most": MONEY, "name": SAID, "new": POINTS, "newer": POINTS, "noun": NAME, "now": POINTS, "number": SAID,
    "out": "number",
    "outlets": "points", "sections": SEVERAL, "usual": MONEY, "with_known": MONEY, "within": "number",
    "old": POINTS, "on": DATE, "open": NAME, "opened": "rooms", "other": DAYS, "over": DATE, "owed": "rooms",
    "page": "number", "paint": DATE, "part": NAME, "people": SEVERAL, "permit": SAID, "permit_price": MONEY,
    "phone": SAID, "places": "places", "planned": "receptacles", "point": MONEY, "points": POINTS, "price": MONEY,
    "prior_by": SAID, "reason": WORDS, "report": SAID, "rewired": POINTS, "role": SAID, "room": SAID, "rooms": "rooms",
    "rows": "number", "says": SAID, "safe": "rooms", "short": "receptacles", "sign": DATE, "since": DATE,
    "spaces": "number",
    "start": DATE, "steps": "number", "stop": SAID, "storey": NAME, "subcontractors": SAID, "sum": TYPED,
    "elsewhere": MONEY, "ours": MONEY, "cleaning": SAID, "less": SAID, "more": SAID,
    "their": SAID, "then": SAID, "total": "findings", "twice": VIEW, "under": "number", "unseen": POINTS, "until": DATE,
    "untraced": FEEDS, "used": "number", "utility_notice": NOTICE, "version": "number", "visit": MONEY,
    "was": DATE,
    "option": NAME, "options": NAME, "what": TYPED, "where": SEVERAL, "which": SAID, "whole": "number", "wide": "feet",
    "e_mail": SAID, "mark": NAME, "refund": "business days", "state": SAID,
    "years": "years", "believed": "quantity", "below": "jobs", "expected": "quantity", "of": "quantity",
    "ranged": "jobs", "some": "jobs", "leave": DATE, "panels": "number", "wire": "years", "work": "years",
}
"""What fills a slot of this name, unless BY_PIECE says otherwise."""

BY_PIECE: dict[str, dict[str, str]] = {
    "agreement.later.cancel.how": {"mail": SAID},
    "agreement.refused": {"reason": SAID},
    "agreement.sign.cancel": {"days": "business days"},
    "bids.ask-about": {"name": TYPED},
    "bids.finish": {"low": TYPED, "middle": TYPED, "high": TYPED},
    "bids.finish-one": {"middle": TYPED},
    "bids.line-one": {"middle": TYPED},
    "bids.loaded": {"name": TYPED},
    "bids.line": {"low": TYPED, "middle": TYPED, "high": TYPED},
    "bids.not-yet": {"count": TYPED},
    "bids.points-listed": {"points": TYPED},
    "bids.span": {"low": TYPED, "high": TYPED},
    "bids.sum": {"low": TYPED},
    "bids.total": {"points": TYPED},
    "bids.worked.unpriced": {"what": WORDS},
    "chances.": {"jobs": "number"},
    "claims.fewest-": {"count": "number"},
    "claims.left-findings": {"count": "findings"},
    "claims.most-": {"count": "number"},
    "claims.most-holes": {"count": "holes"},
    "claims.fewest-holes": {"count": "holes"},
    "living.left": {"days": "working days"},
    "living.late": {"days": "working days"},
    "living.when.set": {"by": DATE},
    "living.later.sure.late": {"late": NOTICE},
    "living.lead.owed": {"rooms": WORDS},
    "living.lead.report": {"rooms": WORDS},
    "compare.cancel": {"days": "business days"},
    "deciding.ending.range": {"low": FORECAST, "high": FORECAST},
    "deciding.most.list": {"most": FORECAST},
    "deciding.promise.work-and-wire": {"old": "years"},
    "deciding.rise.cases-also": {"list": SAID},
    "pay.above.item": {"price": NAME},
    "pay.again.counted": {"some": FEEDS, "all": FEEDS},
    "pay.again.marks": {"price": NAME},
    "pay.again.ranges": {"inside": "jobs"},
    "pay.bare-above-item": {"bare": NAME},
    "pay.even.": {"price": NAME},
    "pay.from.judgement": {"all": "quantity", "old": "quantity", "ends": "share"},
    "pay.ladder": {"low": FORECAST, "middle": FORECAST, "high": FORECAST},
    "pay.ladder.sum": {"middle": FORECAST},
    "pay.live": {"price": NAME},
    "pay.money.": {"low": FORECAST, "high": FORECAST, "middle": FORECAST},
    "pay.money.most.list": {"most": FORECAST},
    "pay.steps.feeds": {"low": FEEDS, "high": FEEDS},
    "pay.sums.": {"total": FORECAST},
    "pay.turning": {"price": NAME},
    "pay.turning.ends": {"start": FORECAST, "most": POINTS, "end": FORECAST},
    "sealed.cancel": {"mail": SAID},
    "sealed.seen": {"before": "number"},
    "report.asks.": {"by": DATE},
    "report.closed.": {"count": "findings"},
    "report.done": {"rooms": WORDS},
    "report.letter.asked": {"by": DATE},
    "report.protect.counted": {"total": MONEY},
    "report.letter.scope.list": {"rooms": WORDS},
    "report.not": {"rooms": WORDS},
    "report.some": {"rooms": WORDS},
    "photographs.line": {"count": "number"},
    "rooms.alarms.line": {"count": "number"},
    "rooms.band.": {"count": "patches"},
    "rooms.boxes.line": {"count": "number"},
    "rooms.details.line": {"count": "number"},
    "rooms.extras.line": {"count": "number"},
    "rooms.line.": {"holes": "openings"},
    "rooms.photographs.line": {"count": "number"},
    "rooms.schedule.": {"count": "number"},
    "rooms.seen-in": {"rooms": WORDS},
    "rooms.load.": {"total": "volt-amperes"},
    "rooms.panel.rating": {"now": "amperes", "then": "amperes"},
    "rooms.panel.spaces": {"count": "circuits"},
    "rows.besides.": {"each": "number"}, "rows.least.": {"least": MONEY},
    "rows.most.list": {"most": FORECAST},
    "rows.ending.": {"low": FORECAST, "middle": FORECAST, "high": FORECAST},
    "rows.stopping.": {"days": "business days"},
    "rows.findings.": {"part": FINDINGS, "open": FINDINGS, "count": "findings"},
    "rows.lead.": {"most": "square feet"},
    "rows.promise.": {"closing": SAID, "old": "years"},
    "rows.sure.": {"middle": DATE},
    "scope.": {"count": "number", "old": "years"},
    "scope.in.about": {"count": "holes"},
    "scope.out.holes": {"count": "holes"},
    "scope.places.some": {"held": "places", "count": "number"},
    "scope.sum.": {"of": SAID},
    "scope.the-list.": {"count": POINTS},
    "start.answer.": {"price": NAME},
    "start.changes.each-blocked-drop": {"was": MONEY, "now": MONEY},
    "start.changes.each-feed": {"was": MONEY, "now": MONEY},
    "start.changes.each-point": {"was": MONEY, "now": MONEY},
    "start.changes.not-over-for-cases": {"was": MONEY, "now": MONEY},
    "start.changes.not-over-for-more": {"was": MONEY, "now": MONEY},
    "start.changes.no-limit-for-cases": {"was": MONEY},
    "start.changes.no-limit-for-more": {"was": MONEY},
    "start.changes.case": {"was": MONEY, "now": MONEY, "what": SAID},
    "start.changes.we-pay": {"what": SAID},
    "start.changes.you-pay": {"what": SAID},
    "start.changes.extra": {"was": MONEY, "now": MONEY, "what": SAID},
    "start.cancel": {"days": "business days"},
    "start.cancel-how": {"mail": SAID},
    "start.changes.": {"now": DATE, "rooms": SEVERAL},
    "start.changes.places-added": {"count": "places"},
    "start.changes.places-taken": {"count": "places"},
    "start.changes.price": {"was": MONEY, "now": MONEY},
    "start.date.": {"by": DATE},
    "start.does.known": {"known": MONEY},
    "start.found": {"opened": POINTS},
    "start.tonight.where": {"rooms": SEVERAL},
    "terms.cancel.days": {"days": "business days"},
    "walk.close.cancel": {"days": "business days"},
    "walk.found.opened": {"opened": POINTS},
    "who.firm.since": {"since": "year"},
    "who.finished.open": {"inside": "jobs"},
    "who.people.hours": {"hours": SAID},
    "who.people.since": {"since": "year"},
    "who.references.line": {"count": "number"},
    "who.rules.line": {"count": "number"},
    "who.words.line": {"count": "number"},
    "who.finished.drops": {"some": "drops", "all": "drops"},
    "who.finished.feeds": {"some": FEEDS, "all": FEEDS},
    "who.finished.jobs": {"since": "month", "first": "year", "last": "year"},
    "who.finished.late": {"late": NOTICE},
    "who.finished.ranges": {"inside": "jobs", "held": "number"},
    "who.fit": {"inside": "jobs", "above": "jobs"},
    "who.promise.closing": {"closing": SAID},
}
"""What fills these slots in a piece, or in all whose keys begin so."""

FIGURES = {"judged": "made.chance.spoken", "half": "made.chance.half.spoken", "twice": "made.chance.twice.spoken",
           "whole": "endings.count"}
"""Names of Figures that the form of a judged chance asks for; the others are called after their slots."""


class UnknownSlot(Exception):
    """A piece has a slot of which nothing says what fills it."""


def kind_of(key: str, slot: str) -> str:
    """What fills a slot of a piece: by the longest beginning of its key that says so, else by the slot's name."""
    for end in range(len(key), 0, -1):
        if slot in (said := BY_PIECE.get(key[:end], {})):
            return said[slot]
    if slot not in SLOTS:
        raise UnknownSlot(f"`{key}` has a slot {{{slot}}}: say in tests/golden/slots.py what fills it")
    return SLOTS[slot]
