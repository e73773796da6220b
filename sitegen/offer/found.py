"""What the survey found, as figures: points, feeds and findings."""

from __future__ import annotations

from msgspec import Struct

from sitegen.figure import Figure, Quote, int_of, slug, worked_out
from sitegen.job.inputs import Inputs
from sitegen.job.model import Finding as JobFinding
from sitegen.offer.cited import Cited
from sitegen.survey.findings import DETAILS_OF, POINTS, PROOF_OF, closing, meant
from sitegen.survey.house import kit_of
from sitegen.survey.lines import all_drops, feeds_of, lines, list_drops, worked_rooms
from sitegen.trade.break_even import known_today, unsettled
from sitegen.trade.feeds import NEW, NOT_TRACED, OLD, Feed


class Finding(Struct, frozen=True):
    """One finding of the inspector, which keeps its number for life.

    `closed`       by option key: yes, in part or no
    `rooms`        by option key: rooms in which that option does a point that the finding means
    `leaves`       by option key: rooms in which it leaves such a point
    `points`       points that the finding means; None where it means none
    `answered_by`  details, `proof` keys of the evidence that stays with the homeowner
    `left`         why no option answers it whole, when the job says so
    `at_panel`     by option key: whether a breaker in the new panel does some of it
    """

    number: Figure
    page: Figure
    says: Quote
    about: str
    closed: dict[str, str]
    rooms: dict[str, tuple[Quote, ...]]
    leaves: dict[str, tuple[Quote, ...]]
    points: Figure | None
    answered_by: tuple[str, ...]
    proof: tuple[str, ...]
    left: Quote | None
    at_panel: dict[str, bool]


class FeedFound(Struct, frozen=True):
    """One feed: its name as said, what it looks like, and its points off the list."""

    key: str
    name: Quote
    evidence: str
    known: Figure
    unseen: Figure


class Found(Struct, frozen=True):
    """The house in counts.  `known_off_list` are old today and not in a list's price; `unseen` nobody saw."""

    points: Figure
    opened: Figure
    old: Figure
    newer: Figure
    not_seen: Figure
    listed: Figure
    new_places: Figure
    rewired: Figure
    known_off_list: Figure
    unseen_off_list: Figure
    feeds: Figure
    not_traced: Figure
    unsettled: Figure
    rooms: Figure
    list_drops: Figure
    all_drops: Figure
    list_rooms: Figure
    all_rooms: Figure
    findings_count: Figure
    findings: tuple[Finding, ...]
    closed: dict[str, Figure]
    each_feed: tuple[FeedFound, ...]


def found(inputs: Inputs) -> Found:
    """Count what the survey found."""
    make = Cited(inputs)
    job, all_lines, feeds = inputs.job, list(lines(inputs.job)), feeds_of(inputs.job)
    rooms = make.survey("rooms")
    findings = tuple(_finding(inputs, make, i, finding) for i, finding in enumerate(job.findings))

    def count(name: str, value: int, unit: str, method: str) -> Figure:
        return Figure(f"found.{name}", value, unit, method, rooms)

    old = sum(line.old for line in all_lines)
    newer = sum(line.newer for line in all_lines)
    points = count("points", sum(line.now for line in all_lines), "points",
                   "Outlets, switches and lights there today, counted room by room.")
    seen_old = count("old", old, "points", "Points on feeds traced old but for boxes seen new there, and boxes opened "
                     "and seen old.")
    seen_new = count("newer", newer, "points", "Points on feeds seen new their whole length, and boxes seen new.")
    certain = known_today(feeds)[0]
    return Found(
        points=points, old=seen_old, newer=seen_new,
        opened=count("opened", sum(line.opened_old + line.opened_new for line in all_lines), "points",
                     "Boxes opened with the cover off and wires seen."),
        not_seen=worked_out("found.not-seen", int_of(points) - old - newer, "points",
                            "All points less those known to be old and those known to be newer.",
                            points, seen_old, seen_new),
        listed=count("listed", sum(line.listed for line in all_lines), "points",
                     "Points on the list."),
        new_places=count("new-places", sum(line.new_places for line in all_lines), "places",
                         "Points wanted where there is none today; in the price, or at a set price."),
        rewired=count("rewired", sum(line.rewired for line in all_lines), "points",
                      "Points that are not on a feed seen new its whole length."),
        known_off_list=count("known-off-list", certain, "points",
                             "Points known to be old today that are not on the list."),
        unseen_off_list=count("unseen-off-list", sum(map(_unseen, feeds)), "points",
                              "Points off the list that nobody saw, on feeds not known to be old or new."),
        feeds=count("feeds", len(feeds), "feeds", "Cables that feed a run of points."),
        not_traced=count("feeds-not-traced", sum(feed.evidence == NOT_TRACED for feed in feeds), "feeds",
                         "Feeds of which nothing was seen."),
        unsettled=count("feeds-unsettled", len(unsettled(feeds)), "feeds",
                        "Feeds not traced, partly opened or new at the ends, with a point that nobody saw."),
        rooms=count("rooms", len({room.room for room in job.rooms}), "rooms", "Rooms of the survey."),
        list_drops=Figure("found.list-drops", list_drops(job, inputs.book), "drops",
                          "Listed points and new places times the book's drops a point, rounded once.",
                          make.book("rates", "drops a point"), ("found.listed", "found.new-places")),
        all_drops=Figure("found.all-drops", all_drops(job, inputs.book), "drops",
                         "All rewired points and new places times the book's drops a point, rounded once.",
                         make.book("rates", "drops a point"), ("found.rewired", "found.new-places")),
        list_rooms=count("list-rooms", len(worked_rooms(job)), "rooms", "Rooms with a listed point or a new place."),
        all_rooms=count("all-rooms", len({line.room for line in all_lines if line.by_all}), "rooms",
                        "Rooms with a point not on newer cable, or a new place."),
        findings_count=Figure("found.findings", len(job.findings), "findings", "Items of the inspector's report.",
                              make.survey("findings")),
        findings=findings,
        closed={price.option: Figure(
            f"options.{price.option}.findings-closed", sum(finding.closed[price.option] == "yes"
                                                           for finding in findings),
            "findings", "Findings that this option closes whole, by what it covers.", make.survey("findings"),
            ("found.findings",)) for price in job.options},
        each_feed=tuple(_feed(inputs, make, feed) for feed in feeds))


def _feed(inputs: Inputs, make: Cited, feed: Feed) -> FeedFound:
    key, source = slug(feed.name), make.survey("feeds", feed.name)
    called = inputs.job.feeds[feed.name].called or feed.name.replace("-", " ").capitalize()
    return FeedFound(key, Quote(called, source), feed.evidence,
                     Figure(f"feeds.{key}.known", known_today((feed,))[0], "points",
                            "Points of this feed known to be old and not on the list.", source),
                     Figure(f"feeds.{key}.unseen", _unseen(feed), "points",
                            "Points of this feed, off the list, that nobody saw.", source))


def _unseen(feed: Feed) -> int:
    """Points off the list that nobody saw, of a feed that is not known as a whole."""
    return 0 if feed.evidence in (OLD, NEW) else feed.unseen


def _finding(inputs: Inputs, make: Cited, i: int, finding: JobFinding) -> Finding:
    number, source, about = finding.number, make.survey("findings", i), finding.about
    options = {price.option: closing(finding, inputs.job, kit_of(inputs, price.option)) for price in inputs.job.options}

    def said(names: tuple[str, ...]) -> tuple[Quote, ...]:
        return tuple(Quote(name, source) for name in names)
    points = None
    if about in POINTS:
        points = Figure(f"findings.{number}.points", sum(line.now for line in meant(finding, inputs.job)), "points",
                        "Points of the kinds and rooms that it names, not on a feed seen new.", source)
    return Finding(
        Figure(f"findings.{number}.number", number, "number", "Item of the inspector's report.", source),
        Figure(f"findings.{number}.page", finding.page, "number", "Page of the inspector's report.", source),
        Quote(finding.says, source), about, {option: one.closes for option, one in options.items()},
        {option: said(one.rooms) for option, one in options.items()},
        {option: said(one.leaves) for option, one in options.items()},
        points, DETAILS_OF[about], PROOF_OF[about], None if finding.left is None else Quote(finding.left, source),
        {option: one.at_panel for option, one in options.items()})
