"""Nothing is chosen for the reader, and nothing that decides is hidden: no badge, no preselection, no countdown, and
no figure that decides in a fold alone."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator

from sitegen.sheets.audit.page import Finding, Part, Tag

CHOSEN_RULE = "no badge, no preselection, no countdown"
FOLD_RULE = "nothing behind a fold or a tooltip"
DECIDES_RULE = "a fold holds proof, and nothing that decides"

FOLDS = frozenset({"details", "dialog"})
DEPTH = "depth"
"""The class of a fold for proofs, methods, long lists and second cases: the one fold that a page may have."""
DECIDES = re.compile(r"^options\.[^.]+\.(?:price|most-paid|each-(?:point|feed|blocked-drop)|ending\.p[19]0"
                     r"|(?:dates|empty|lived-in)\.(?:dead|finished))$"
                     r"|^(?:break-even|cancel|deadline)\.|^rules\.emergency-number$|^hidden\.p50$")
"""Figures that decide, by their names: a sheet that shows one shows it open, whatever its folds repeat."""

ENDS = re.compile(r"(?<=\.ending\.)p[19]0$")
"""The ends of the range in which an option is likely to end."""

TIPS = frozenset({"title", "popover"})
CHOSEN = frozenset({"checked", "selected", "autofocus"})
IF_TRUE = frozenset({"aria-checked", "aria-selected"})
LOOKED_AT = TIPS | CHOSEN | IF_TRUE
MARKS = LOOKED_AT.union(f"<{name}" for name in FOLDS)
CLASS_WORDS = ("badge", "ribbon", "popular", "recommended", "best", "countdown", "timer")
CLASSES = re.compile(r"badge|ribbon|popular|recommended|best-?|countdown|timer")


def chosen(part: Part) -> Iterator[Finding]:
    """Every tag that folds, tips or chooses, every class that sets one option off, and every figure that is hidden."""
    if not part.vocabulary.isdisjoint(MARKS):
        for tag in part.first:
            if tag.opens and (tag.name in FOLDS or not LOOKED_AT.isdisjoint(tag.attributes)):
                wrong = [*_wrong(tag)]
                for at in part.every(tag) if wrong else ():
                    yield from (Finding(at, *found) for found in wrong)
    if any(word in part.source for word in CLASS_WORDS):
        yield from _set_off(part)
    if "<title" in part.vocabulary:
        yield from _tooltips(part)
    if "hidden" in part.vocabulary:
        yield from _hidden(part)
    if "<details" in part.vocabulary:
        yield from _folded(part)


def _wrong(tag: Tag) -> Iterator[tuple[str, str, str]]:
    """What is wrong with a tag wherever it stands: the rule, what breaks it, and the way out."""
    if tag.name in FOLDS and (tag.name != "details" or DEPTH not in tag.class_name.split()):
        yield FOLD_RULE, f"<{tag.name}>", "Show it, or give it a sheet of its own."
    for name, value in tag.attributes.items():
        if name in TIPS:
            yield FOLD_RULE, f'{name}="{value}"', "Print it where it can be read."
        elif name in CHOSEN or (name in IF_TRUE and value.lower() == "true"):
            yield CHOSEN_RULE, f"<{tag.name} {name}>", "Leave it out: the reader chooses."


def _set_off(part: Part) -> Iterator[Finding]:
    classes = {part.tags[at].class_name: at for at in sorted(part.first.values(), reverse=True) if part.tags[at].opens}
    for name, at in classes.items():
        if CLASSES.search(name):
            yield Finding(at, CHOSEN_RULE, f"the class `{name}`.", "Leave it out: no option is set off from the "
                                                                   "others.")


def _tooltips(part: Part) -> Iterator[Finding]:
    """A title below the head of the page."""
    body = next((at for tag, at in part.first.items() if tag.opens and tag.name == "body"), -1)
    for at in sorted(at for tag, at in part.first.items() if tag.opens and tag.name == "title" and at > body)[:1]:
        yield Finding(at, FOLD_RULE, "a <title> in a drawing is a tooltip.", "Say it in words beside the drawing.")


def _hidden(part: Part) -> Iterator[Finding]:
    hidden = {tag for tag in part.first if "hidden" in tag.text.lower() and "hidden" in tag.attributes}
    for first, last in part.outermost(hidden):
        if any(True for _ in part.elements("data", inside=(first, last))):
            yield Finding(first, FOLD_RULE, f"figures are hidden: {part.words((first, last))}", "Show them.")


def _folded(part: Part) -> Iterator[Finding]:
    """Every figure that decides and stands behind a fold alone; a fold is seen with its summary.

    An end of a range that is no range stands open as its middle.
    """
    shown, kept = dict[str, str](), dict[str, int]()
    folds = part.outermost({tag for tag in part.first if tag.opens and tag.name == "details"})
    closed = {fold[0]: part.end(fold[0] + 1) if part.names[fold[0] + 1] == "summary" else fold[0] for fold in folds}
    starts = [first for first, _ in folds]
    for at in (at for at, name in enumerate(part.names) if name == "data" and part.tags[at].opens):
        name, fold = part.tags[at].attributes.get("data-figure", ""), bisect_right(starts, at) - 1
        if fold >= 0 and closed[starts[fold]] < at < folds[fold][1]:
            kept.setdefault(name, at)
        else:
            shown[name] = part.tags[at].attributes.get("value", "")
    for name, at in kept.items():
        alike = shown.get(ENDS.sub("p50", name)) == part.tags[at].attributes.get("value", "")
        if name not in shown and not alike and DECIDES.search(name):
            yield Finding(at, DECIDES_RULE, f"{name} stands behind a fold alone.", "Show it outside of the fold too.")


__all__ = ["chosen"]
