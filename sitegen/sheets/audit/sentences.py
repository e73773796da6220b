"""Whole sentences: every paragraph of prose has a finite verb; where we explain, its median sentence has eight words.

A grade rewards fragments, since they are short; this counts them.  A paragraph is a block of our prose, or a whole
list with all its items, as `reading` takes prose: no headings, labels, tables, drawings, sources, law or words of
people.  What has no stop is a label, and so are the lines of a drawing's key, what stands under a picture, and the
words of a field.  Each build holds every page to a verb; short sentences in a row are right in a list of what to do
tonight, so that rule is for pages that explain, in a test.

The words of the site are few enough for a list of verbs.  A form that nothing else is spelled like counts wherever it
stands; one that may be a noun, a participle or an infinitive counts where its neighbors make it the verb of a clause.
A tagger of the English language holds this against all our words, in a test.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from statistics import median

from sitegen.sheets.audit.page import GAP, INLINE, Finding, Part, Span, Tag, small
from sitegen.sheets.audit.reading import LEFT_OUT, LEFT_OUT_CLASSES, LEFT_OUT_INLINE, STOPS, prose
from sitegen.sheets.audit.verbs import ALWAYS, AUXILIARY, BASES, PASTS, THIRDS, VERBS, listed

FINITE_RULE = "every paragraph is a sentence"
FINITE_REMEDY = "Give it a subject and a verb that says what happens, or make it a label without a stop."
MEDIAN_RULE = "a paragraph whose middle sentence has eight words or more"
MEDIAN_REMEDY = "Join what belongs together: who does what, and why or when."

FEWEST = 8
"""Words of the middle sentence of a paragraph of several, at least; a line that stands alone may be short."""

LABELS = frozenset({"named"})
"""Classes of what names a drawing."""

NAMES = LEFT_OUT | {"figcaption", "label", "template"}
"""Elements that hold no prose of a page: besides those of a grade, names of pictures and of fields, and what a script
fills before anybody reads it."""

ENDS = tuple(stop for stop in STOPS if stop != ":")
"""How a sentence ends; a colon may follow a label."""

LISTS = frozenset({"ul", "ol"})
WORD = re.compile(r"[a-z]+(?:'[a-z]+)?|[0-9][\w.,/:-]*|\$\S+|[,;:()]")

MANY = listed("i we you they people these those who which that some both most all none others two three four")
"""What may be the subject of a verb in its bare form."""

SUBJECTS = MANY | listed("""
    he she it this what nobody somebody everybody anybody everyone anyone someone nothing something everything
    each one""")

AMOUNTS = listed("some both most all each one two three four none others")
"""Subjects that may stand before a noun too, as in `both ends`."""

BETWEEN = listed("""
    also always already first later never not now often rarely seldom sometimes soon still then together usually
    yourself ourselves themselves each all both again""")
"""What may stand between a subject and its verb."""

BEGINS = frozenset({"please", "then", "first", ",", ";", ":", "and", "or", "so", "but", "instead"})
"""What may stand before a verb that tells the reader to do something."""

TAKES = listed("""
    a an the your our its their his her my this these every each all both any some no not us you it them him
    what how whether if where when that which who in on by off out up down to from for as with until at over
    about after before into under behind past through one two three most more less nothing everyone everybody
    anybody away back apart together""")
"""What stands after a verb, and seldom after a noun that is spelled like it in a piece without a verb."""

OBJECTS = listed("a an the you us them it your our")
"""What stands after a verb in its bare form whose subject is no plural with s."""

HOLDS = listed("a an the your our its their his her my each every no two three four six old new more of to")
"""What stands before a noun, so that the word after it is no verb."""


def fragments(part: Part) -> Iterator[Finding]:
    """Every paragraph of the main part of a page that ends in a stop and has no finite verb."""
    for at, sentences in paragraphs(part):
        if any(said.endswith(ENDS) for said in sentences) and not any(map(finite, sentences)):
            yield Finding(at, FINITE_RULE, " ".join(sentences), FINITE_REMEDY)


def short(part: Part) -> Iterator[Finding]:
    """Every paragraph of several sentences whose middle one is too short."""
    for at, sentences in paragraphs(part):
        if len(sentences) == 1:
            continue
        middle = median(len(WORDS.findall(one)) for one in sentences)
        if middle < FEWEST:
            yield Finding(at, MEDIAN_RULE, f"{middle:g} words: {' '.join(sentences)}", MEDIAN_REMEDY)


WORDS = re.compile(r"[^\W_][^\s]*")
"""A word as it is counted, a number and a sum of money among them."""


def paragraphs(part: Part) -> Iterator[tuple[int, list[str]]]:
    """The paragraphs of prose of a page: the tag before each, and its sentences; a list is one, with all its items."""
    if "<main" not in part.vocabulary:
        return
    said = part.without([*part.quoted, *part.outermost(_left_out(part)), *_keys(part)])
    run, begun, open_lists = "", -1, 0
    found: list[str] = []
    for at, tag in enumerate(part.tags):
        run += said[at].replace(GAP, " ")
        if tag.name in INLINE:
            continue
        found += prose(run)
        run = ""
        open_lists += (1 if tag.opens else -1) if tag.name in LISTS else 0
        if found and not open_lists:
            yield begun, found
            found = []
        if not found:
            begun = at


def _left_out(part: Part) -> set[Tag]:
    return {tag for tag in part.first if tag.opens and (
        tag.name in NAMES or not (LEFT_OUT_CLASSES | LABELS).isdisjoint(tag.class_name.split())
        or (tag.name, tag.class_name) in LEFT_OUT_INLINE)}


def _keys(part: Part) -> list[Span]:
    """The lists that stand with drawings."""
    return [key for caption in part.elements("figcaption") for key in part.elements("ol", inside=caption)]


@lru_cache(maxsize=4096)
def finite(sentence: str) -> bool:
    """Whether a sentence has a finite verb; an order to the reader is one."""
    words = WORD.findall(small(sentence))
    return any(word in ALWAYS or word in AUXILIARY for word in words) or any(
        _is_verb(words, at) for at in range(len(words)))


def _is_verb(words: Sequence[str], at: int) -> bool:
    """Whether a form that may be something else is the verb of a clause where it stands."""
    word = words[at]
    if word not in BASES and word not in THIRDS and word not in PASTS:
        return False
    before = at - 1
    while before > 0 and words[before] in BETWEEN and words[before] not in SUBJECTS:
        before -= 1
    earlier = words[before] if before >= 0 else ""
    after = words[at + 1] if at + 1 < len(words) else ""
    if word in BASES and (before < 0 or earlier in BEGINS):
        return before < 0 or (after in TAKES and word not in PASTS)
    if earlier in (MANY if word in BASES else SUBJECTS):
        return earlier not in AMOUNTS or after in TAKES
    if not earlier or earlier in HOLDS:
        return False
    if word in THIRDS:
        return after in TAKES or after[:1].isdigit() or after[:1] == "$"
    if earlier.endswith("s"):
        return word in VERBS or (word in BASES and word not in PASTS and after in TAKES)
    return word in VERBS and word not in PASTS and after in OBJECTS


__all__ = ["FEWEST", "FINITE_RULE", "MEDIAN_RULE", "finite", "fragments", "paragraphs", "short"]
