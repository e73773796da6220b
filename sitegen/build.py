"""The whole line for one job: files to faults or an offer, offer to a site that replaces the last one at once."""

from __future__ import annotations

import json
import os
import shutil
from functools import lru_cache
from pathlib import Path
from tempfile import mkdtemp

from msgspec import to_builtins

from sitegen.errors import BuildError, Faults
from sitegen.job.inputs import Inputs
from sitegen.job.load import load
from sitegen.offer.cited import Cited
from sitegen.offer.context import Context
from sitegen.offer.dates import dates
from sitegen.offer.found import found
from sitegen.offer.make import make_offer
from sitegen.offer.offer import Offer
from sitegen.offer.setting import overlay_of
from sitegen.review.faults import faults
from sitegen.review.questions import Question, questions
from sitegen.rules.read import keep_with
from sitegen.sheets.audit import audit
from sitegen.sheets.cache import Cache
from sitegen.sheets.photos import photographs
from sitegen.sheets.sheets import SHEETS
from sitegen.sheets.site import Built, SiteWriter, fingerprint
from sitegen.survey.dust import bare_floor, dust
from sitegen.survey.house import belief_of, house_of, kit_of
from sitegen.survey.opened import openings_a_drop
from sitegen.survey.rule_sets import RuleSet, rule_set
from sitegen.trade.break_even import middle
from sitegen.trade.feeds import hidden_points
from sitegen.trade.sizes import TooLarge
from sitegen.trade.terms import Belief, House
from sitegen.trade.worked import Worked, from_plain, to_plain
from sitegen.workspace import Workspace


def offer_of(workspace: Workspace, folder: Path) -> Offer:
    """Read, check and work out one job; raises Faults with all that is said wrong."""
    return _offer(workspace, folder)[0]


def build(workspace: Workspace, folder: Path) -> Built:
    """Build one job's site beside the last one and put it in its place; raises Faults or BuildError.

    The pages are audited before they are put in place; AuditFailed says every rule that they break.  Until the
    very last step the last good site stands as it was.
    """
    offer, inputs = _offer(workspace, folder)
    workspace.output.mkdir(parents=True, exist_ok=True)
    target = workspace.output / folder.name
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise BuildError(f"{target} is in the way; move it.")
    beside = Path(mkdtemp(prefix=f".{folder.name}-", dir=workspace.output))
    try:
        made = beside / "new"
        writer = _writer(workspace.home)
        writer.write(offer, made, photographs(offer, folder, _cache()))
        mark = fingerprint(made)
        audit(offer, made, writer.words, mark, _cache())
        if target.exists():
            target.rename(beside / "old")
        made.rename(target)
    finally:
        if not target.exists() and (beside / "old").exists():
            (beside / "old").rename(target)
        shutil.rmtree(beside, ignore_errors=True)
    return Built(target, mark, SHEETS, inputs.files)


def check(workspace: Workspace, folder: Path) -> tuple[Question, ...]:
    """Read, check and work out one job and write nothing; gives what the licensed person in charge has to be asked.

    Raises Faults with all that is said or worked out wrong.
    """
    return questions(_offer(workspace, folder)[0])


def _offer(workspace: Workspace, folder: Path) -> tuple[Offer, Inputs]:
    inputs = load(workspace.home, folder, Path.cwd())
    offer = offer_from(inputs)
    if wrong := faults(offer, inputs):
        raise Faults(list(wrong))
    return offer, inputs


def offer_from(inputs: Inputs) -> Offer:
    """The offer of sound files, whatever the working out shows to be wrong with it."""
    _cache()                                # it keeps the rules too
    rules = rule_set(inputs.town.code)
    context = context_of(inputs, rules)
    return make_offer(context, rules, dates(context, rules, overlay_of(inputs)))


def context_of(inputs: Inputs, rules: RuleSet) -> Context:
    """What is counted and worked out of a job, before any figure is made of it."""
    job, book = inputs.job, inputs.book
    opened = {price.option: dust(job, book, kit_of(inputs, price.option), rules.lead) for price in job.options}
    floors = {option: bare_floor(job, kit_of(inputs, option), rooms) for option, rooms in opened.items()}
    house, belief = house_of(inputs, openings_a_drop(job, book), floors), belief_of(inputs.company)
    worked = _worked(house, belief)         # first, since it says at once when a house is too large
    return Context(inputs, Cited(inputs), house, middle(house, belief), hidden_points(house.feeds, belief.feeds),
                 worked, found(inputs), opened)


def _worked(house: House, belief: Belief) -> Worked:
    """The endings, kept under everything that they were worked out from."""
    key, cache = json.dumps(to_builtins([house, belief], enc_hook=str, order="sorted")), _cache()
    kept = cache.read("endings", key)
    if kept is not None:
        try:
            return from_plain(json.loads(kept))
        except (KeyError, TypeError, ValueError):
            pass                            # a damaged file is as good as none
    worked = _work_out(house, belief)
    cache.write("endings", json.dumps(to_plain(worked)), key)
    return worked


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


__all__ = ["build", "check", "context_of", "offer_from", "offer_of"]
