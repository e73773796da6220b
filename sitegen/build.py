"""The whole line for one job: files to faults or an offer, offer to a site that replaces the last one at once."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Mapping
from functools import lru_cache, partial
from pathlib import Path
from tempfile import mkdtemp
from typing import Any, TypeVar

from msgspec import Struct, to_builtins
from msgspec.json import encode
from msgspec.json import format as indent
from msgspec.structs import replace

from sitegen.errors import BuildError, Faults, UsageError
from sitegen.figure import day_of, int_of
from sitegen.job.inputs import Inputs
from sitegen.job.kept import FOLDER, HASHES, OFFER, Kept, days, hashes
from sitegen.job.load import load
from sitegen.lock import held
from sitegen.offer.cited import Cited
from sitegen.offer.context import Context
from sitegen.offer.dates import dates
from sitegen.offer.found import found
from sitegen.offer.make import make_offer
from sitegen.offer.offer import Offer
from sitegen.offer.setting import overlay_of
from sitegen.offer.signable import NAME
from sitegen.placing import MARK, beside, put, write_mark
from sitegen.review.faults import faults, idle, unworkable
from sitegen.review.own_prices import own_prices
from sitegen.review.questions import Question, questions
from sitegen.rules.read import keep_with
from sitegen.scope.offered import Work, offered
from sitegen.sheets.audit import audit
from sitegen.sheets.cache import Cache
from sitegen.sheets.photos import faces, photographs
from sitegen.sheets.sheets import SHEETS
from sitegen.sheets.site import Built, SiteWriter
from sitegen.survey.dust import RoomDust, bare_floor, dust
from sitegen.survey.house import belief_of, house_of, kit_of, option_of
from sitegen.survey.lines import points_of
from sitegen.survey.opened import openings_a_drop
from sitegen.survey.rule_sets import RuleSet, rule_set
from sitegen.trade.break_even import middle
from sitegen.trade.feeds import hidden_points
from sitegen.trade.firm import Aim, FirmEnding, FirmTerms
from sitegen.trade.firm import from_plain as firm_from_plain
from sitegen.trade.firm import to_plain as firm_to_plain
from sitegen.trade.sizes import TooLarge
from sitegen.trade.terms import Belief, House
from sitegen.trade.worked import Worked, from_plain, to_plain
from sitegen.unchanged import fingerprint
from sitegen.workspace import Workspace, shown

T = TypeVar("T")


class Checked(Struct, frozen=True):
    """What a sound job still leaves to say: questions to the licensed person, and prices that are not the books'."""

    questions: tuple[Question, ...]
    own_prices: tuple[str, ...]


def offer_of(workspace: Workspace, folder: Path) -> Offer:
    """Read, check and work out one job; raises Faults with all that is said wrong."""
    return _offer(workspace, folder)[0]


def build(workspace: Workspace, folder: Path) -> Built:
    """Build one job's site beside the last one and put it in its place; raises Faults or BuildError.

    The pages are audited before they are put in place; AuditFailed says every rule that they break.  Until the
    very last step the last good site stands as it was.
    """
    with held(workspace.lock(folder), f"a build of {folder.name}"):
        return _built(workspace, folder, *_offer(workspace, folder))


def _built(workspace: Workspace, folder: Path, offer: Offer, inputs: Inputs) -> Built:
    target = workspace.output / folder.name
    with beside(target) as room:
        made, writer = room / "new", _writer(workspace.home)
        writer.write(offer, made, photographs(offer, folder, _cache()), faces(offer, workspace.home, _cache()))
        mark = fingerprint(made)
        audit(offer, made, writer.words, mark, _cache())
        write_mark(made)
        put(made, target, folder.name)
    return Built(target, mark, SHEETS, inputs.files)


def keep(workspace: Workspace, folder: Path) -> Path:
    """Keep what was handed over: the offer, the job's files and the site as they are; gives the folder written.

    Builds the site first, so that nothing is kept that could not be built.  Written whole or not at all, and once:
    raises UsageError where this version is kept already.
    """
    offer, inputs = _offer(workspace, folder)
    job, kept = inputs.job, folder / FOLDER / str(inputs.job.version)
    if kept.exists():
        raise UsageError(f"{shown(kept)} is there already: version {job.version} was kept, and stays as it is.")
    with held(workspace.lock(folder), f"a build of {folder.name}"):
        return _keep(workspace, folder, offer, inputs, _built(workspace, folder, offer, inputs))


class Handed(Struct, frozen=True):
    """An offer that leaves the house: its folder under `offers/`, the SHA-512 of its pages there, and whether a build
    would give other pages today."""

    offer: Offer
    kept: Path
    site: str
    moved: bool


def hand_over(workspace: Workspace, folder: Path) -> Handed:
    """The offer of a job as it is kept, which is done now where its version was not kept yet.

    What was kept once is what is handed over again, to the byte; raises Faults where the job can no longer be built.
    """
    offer, inputs = _offer(workspace, folder)
    kept = folder / FOLDER / str(inputs.job.version)
    with held(workspace.lock(folder), f"a build of {folder.name}"):
        built = _built(workspace, folder, offer, inputs)
        if not kept.exists():
            _keep(workspace, folder, offer, inputs, built)
            return Handed(offer, kept, built.fingerprint, False)
    site = fingerprint(kept / "site")
    return Handed(offer, kept, site, site != built.fingerprint)


def _keep(workspace: Workspace, folder: Path, offer: Offer, inputs: Inputs, built: Built) -> Path:
    job, kept = inputs.job, folder / FOLDER / str(inputs.job.version)
    kept.parent.mkdir(exist_ok=True)
    room = Path(mkdtemp(prefix=".", dir=kept.parent))
    listed, places = points_of(job)
    dates, start = offer.dates.options, job.start
    named = days(job.prepared, job.prices_hold_to, start.sign_by, start.work_starts)
    prices = {option.key: int_of(option.price) for option in offer.outcome.options}
    text = encode(Kept(job.version, named, prices, listed, places,
                       {key: day_of(one.dead) for key, one in dates.items()},
                       {key: day_of(one.finished) for key, one in dates.items()},
                       [figure.as_json() for figure in offer.figures() if not figure.private],
                       {row.option: dict(kit_of(inputs, row.option).cases) for row in job.options}), order="sorted")
    try:
        shutil.copytree(built.folder, room / "site", ignore=shutil.ignore_patterns(MARK))
        for path in {folder / "job.yaml", *(one for one in inputs.files if one.suffix == ".csv")}:
            shutil.copyfile(path, room / path.name)
        (room / OFFER).write_bytes(indent(text, indent=1) + b"\n")
        (room / NAME).write_bytes(_writer(workspace.home).agreement(offer))
        (room / HASHES).write_text(json.dumps(hashes(room), indent=1) + "\n", "utf-8")
        room.chmod(0o755)
        room.rename(kept)
    finally:
        shutil.rmtree(room, ignore_errors=True)
    return kept


def check(workspace: Workspace, folder: Path) -> Checked:
    """Read, check and work out one job and write nothing; gives what is left to say of a sound one.

    Raises Faults with all that is said or worked out wrong.
    """
    offer = offer_of(workspace, folder)
    return Checked(questions(offer), own_prices(offer))


def _offer(workspace: Workspace, folder: Path) -> tuple[Offer, Inputs]:
    inputs = load(workspace.home, folder, Path.cwd())
    offer = offer_from(inputs)
    if wrong := faults(offer, inputs):
        raise Faults(list(wrong))
    return offer, inputs


def offer_from(inputs: Inputs) -> Offer:
    """The offer of sound files, whatever the working out shows to be wrong with it.

    Raises Faults where an option does nothing, since there is nothing of it to work out.
    """
    return worked(inputs)[1]


def worked(inputs: Inputs) -> tuple[Context, Offer]:
    """The same, with what it was made from."""
    _cache()                                # it keeps the rules too
    rules = rule_set(inputs.town.code)
    context = context_of(inputs, rules)
    if wrong := (*idle(context), *unworkable(inputs)):
        raise Faults(list(wrong))
    return context, make_offer(context, rules, dates(context, rules, overlay_of(inputs)))


def context_of(inputs: Inputs, rules: RuleSet) -> Context:
    """What is counted and worked out of a job, before any figure is made of it."""
    job, book = inputs.job, inputs.book
    opened = {price.option: dust(job, book, kit_of(inputs, price.option), rules.lead) for price in job.options}
    bare, belief = house_of(inputs, openings_a_drop(job, book), _holes_of_the_list(inputs, opened)), belief_of(
        inputs.company)
    scope = offered(inputs, bare, opened, rules, firm_work(belief))
    house = replace(bare, options=tuple(
        option_of(inputs, key, one.priced, bare_floor(job, kit_of(inputs, key), opened[key]))
        for key, one in scope.items()))
    return Context(inputs, Cited(inputs), house, middle(house, belief), hidden_points(house.feeds, belief.feeds),
                   _worked(house, belief), found(inputs), opened, scope)


def _holes_of_the_list(inputs: Inputs, opened: Mapping[str, Mapping[str, RoomDust]]) -> int | None:
    """Holes that the list opens, room by room as every sheet shows them; None where no option sells a list."""
    by_list = next((rooms for key, rooms in opened.items() if kit_of(inputs, key).covers != "every point"), None)
    return None if by_list is None else sum(room.work.opened.openings for room in by_list.values())


def _worked(house: House, belief: Belief) -> Worked:
    """The endings, kept under everything that they were worked out from."""
    return _kept("endings", [house, belief], from_plain, to_plain, lambda: _work_out(house, belief))


def firm_work(belief: Belief) -> Work:
    """What works an option out for the firm under a belief, kept under everything that it was worked out from."""
    return partial(_firm, belief)


def _firm(belief: Belief, house: House, terms: FirmTerms, aim: Aim) -> FirmEnding:
    """What an option comes to for the firm, kept in the same way."""
    return _kept("firm", [house, belief, terms, aim], firm_from_plain, firm_to_plain,
                 lambda: _firm_out(house, belief, terms, aim))


def _kept(name: str, of: list[Any], read: Callable[[Any], T], write: Callable[[T], Any], work: Callable[[], T]) -> T:
    """What `work` gives, kept under everything that it was worked out from."""
    key, cache = json.dumps(to_builtins(of, enc_hook=str, order="sorted")), _cache()
    kept = cache.read(name, key)
    if kept is not None:
        try:
            return read(json.loads(kept))
        except (KeyError, TypeError, ValueError):
            pass                            # a damaged file is as good as none
    made = work()
    cache.write(name, json.dumps(write(made)), key)
    return made


def _firm_out(house: House, belief: Belief, terms: FirmTerms, aim: Aim) -> FirmEnding:
    """The firm's side worked out anew; raises BuildError for a house that is too large to be."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from sitegen.trade.firm_endings import firm_ending
    try:
        return firm_ending(house, belief, terms, aim)
    except TooLarge as error:
        raise BuildError(str(error)) from error


def _work_out(house: House, belief: Belief) -> Worked:
    """The endings worked out anew; raises BuildError for a house that is too large to be.

    Loads numpy, which nothing else needs, so that a build whose endings are kept does without it.  Its library of
    linear algebra would start a thread a core as it loads; what the endings ask of it is too small for that.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from sitegen.trade.endings import work_out
    try:
        return work_out(house, belief)
    except TooLarge as error:
        raise BuildError(str(error)) from error


@lru_cache(maxsize=1)
def _cache() -> Cache:
    cache = Cache()
    keep_with(cache.kept)
    return cache


@lru_cache(maxsize=4)
def _writer(home: Path) -> SiteWriter:
    return SiteWriter(home, _cache())


def writer(workspace: Workspace) -> SiteWriter:
    """Words, templates and styles of a workspace, made ready once a process."""
    return _writer(workspace.home)


__all__ = ["Checked", "Handed", "build", "check", "context_of", "firm_work", "hand_over", "keep", "offer_from",
           "offer_of", "worked", "writer"]
