"""Phrases that hurt: what may not be printed, why, and what to print instead.

All that a reader sees is looked through, the words of a kit too; only the words of people that are marked as theirs
are left alone: a quoted letter, and the findings of the inspector.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from sitegen.sheets.audit.page import GAP, Finding, Part, sentences, small

RULE = "no phrase that hurts"


class Phrase(Struct, frozen=True):
    """Some spellings of one phrase, why it hurts, and what to print; `unless` in the same block makes it true."""

    spelled: tuple[str, ...]
    why: str
    instead: str
    unless: tuple[str, ...] = ()


PHRASES: tuple[Phrase, ...] = (
    Phrase(("guarantee", "guarantees", "guaranteed", "whole-house-guarantee", "fixed-guarantee"),
           "a guarantee needs its terms beside it, and this one has exclusions",
           "Print One price, what can raise it and by how much at most."),
    Phrase(("all gone", "completely gone", "none left", "no old wire left", "old kinds gone", "every old wire is gone"),
           "a negative that nobody can prove", "Print a promise with a remedy: if some turns up, we make it dead."),
    Phrase(("proven", "proved", "certified dead"), "it is absolute",
           "Print: tested dead at these places, on this day, by this person."),
    Phrase(("most you could pay is", "most you can pay is", "most you will pay", "never pay more",
            "not pay a cent more"),
           "false unless nothing at all can raise it", "Print the sum, and what more could come on top of it.",
           ("more if",)),
    Phrase(("inspection passed", "will pass inspection", "will pass the inspection", "passes inspection",
            "we pass inspection"), "it is not ours to promise",
           "Print: we come back at no charge until the inspector passes our work."),
    Phrase(("insurers require", "insurer requires", "insurers demand", "insurers want", "insurance requires"),
           "nothing supports it", "Print what this insurer's letter asks for, and: ask if this answers it."),
    Phrase(("they will accept", "insurer will accept", "insurers accept", "satisfies your insurer"),
           "we cannot speak for them", "Print: ask if this answers it.", ("cannot say", "cannot speak", "ask ")),
    Phrase(("presumed to have", "are presumed", "houses before about"), "a habit that is shown as knowledge",
           "Print: we assume it until we look. It is a working rule of ours, not a finding."),
    Phrase(("is a sign of it", "is a sign of old", "sure sign"), "many such houses were rewired in part",
           "Print: it can mean that, and how many we opened to see."),
    Phrase(("need sanding afterwards", "needs sanding afterwards", "need sanding after", "floors will need sanding"),
           "an excuse for careless damage",
           "Print what is laid, what to expect, and: we repair what we break by carelessness."),
    Phrase(("minimal-protection", "minimal protection", "cheap version", "cheap option", "bare bones", "bare-bones",
            "leaves behind", "leaves you with", "cut-rate"), "it runs down what is offered",
           "Print Wiring only, its price, and what stays for the homeowner to do."),
    Phrase(("price of certainty", "buy certainty", "peace of mind", "for certain", "no surprises", "worry-free"),
           "it is not certain", "Print what One price costs against the middle ending of the other option."),
    Phrase(("same finished house",), "the reader's finished house is painted",
           "Print: old wiring dead, walls ready to paint, floors sound. Painting is extra."),
    Phrase(("lead-safe", "lead safe", "lead-free", "dust-free", "dust free", "safe for children", "safe for your child",
            "child-safe"), "it claims a result",
           "Print: we follow the lead rule's steps. It asks for no dust test; you can have one.",
           ("lead-safe work", "lead-safe certif", "not lead-free")),
    Phrase(("safe", "safely", "safer", "safest"), "nobody has seen all of it",
           "Print what was opened, what was not, what is done, and what to leave off.",
           ("says it is safe", "until it is safe", "not say", "not safe")),
    Phrase(("approved", "meets code", "meet code", "up to code", "code compliant", "code-compliant", "passes code"),
           "it is the authority's word", "Print: designed to this edition of the code; the inspector decides."),
    Phrase(("houses like yours", "homes like yours", "homeowners like you", "people like you", "families like yours"),
           "nobody may have counted them", "Name what was counted, or leave it out."),
    Phrase(("sign by",), "it is pressure when it stands alone", "Print beside it: or ask them for more time.",
           ("more time",)),
    Phrase(("only", "just $", "as little as $"), "it makes small what the reader has to weigh",
           "Print the price or the fact with no word before it."),
    Phrase(("best",), "it chooses for the reader", "Leave it out, or print by what measure, row by row."),
    Phrase(("should", "ought to", "you need to act"), "it leans on the reader",
           "Print what is so, what the law asks, and whom to ask."),
    Phrase(("burn down", "burn your house down", "burns down", "fire trap", "fire hazard", "death trap", "time bomb",
            "deadly", "nightmare"), "it frightens", "Print what was seen, what it can do, and whom to ask."),
    Phrase(("good, better", "platinum", "gold package", "silver package", "premium package", "elite package"),
           "it is a label of other price lists", "Print the name of the option."),
    Phrase(("confidential",), "a buyer may show it to a lawyer, an insurer and a competitor",
           "Print: these sheets are yours to share."),
    Phrase(("recommended", "we recommend", "most popular", "our pick", "smart choice", "top choice", "bestseller",
            "special offer", "great deal"),
           "it chooses for the reader", "Leave it out: the rows say what is better for whom."),
    Phrase(("limited time", "limited-time", "act now", "hurry", "today only", "last chance", "while it lasts",
            "don't miss", "before it is too late", "offer ends", "days left", "hours left", "book now"),
           "it is pressure", "Print the date until which prices hold, and no more."),
)

WORD = re.compile(r"[a-z]+")
NEEDED = {spelled: max(WORD.findall(spelled), key=len) for phrase in PHRASES for spelled in phrase.spelled}
"""The longest word of each spelling: where it does not stand, the phrase does not."""

NAMED = {"wiring only": "wiring"}
"""Names of options that hold a word which hurts elsewhere, and what is read in their place."""


def words(part: Part) -> Iterator[Finding]:
    """Every phrase that hurts, with the sentence that it stands in."""
    text = _unnamed(part.text)
    there = set(WORD.findall(text))
    for phrase in PHRASES:
        for spelled in phrase.spelled:
            if NEEDED[spelled] in there and spelled in text:
                yield from _stands(phrase, spelled, part)


def _unnamed(text: str) -> str:
    """Text in small letters without the words that are part of the name of an option."""
    for name, instead in NAMED.items():
        text = text.replace(name, instead)
    return text


def _hurts(phrase: Phrase, spelled: str, block: str) -> bool:
    """Whether a block in small letters holds the phrase as words of their own, with nothing that makes it true."""
    block = _unnamed(block)
    end = "" if spelled.endswith("$") else r"(?![\w-])"
    return (not any(word in block for word in phrase.unless)
            and re.search(rf"(?<![\w-]){re.escape(spelled)}{end}", block) is not None)


def _stands(phrase: Phrase, spelled: str, part: Part) -> Iterator[Finding]:
    if not any(_hurts(phrase, spelled, block) for block in part.text.split(GAP) if spelled in block):
        return
    alone = replace(phrase, unless=())
    for at, block in part.blocks():
        if _hurts(phrase, spelled, small(block)):
            yield from (Finding(at, RULE, f"`{spelled}` in: {sentence}",
                                f"{phrase.why[0].upper()}{phrase.why[1:]}. {phrase.instead}")
                        for sentence in sentences(block) if _hurts(alone, spelled, small(sentence)))


__all__ = ["PHRASES", "Phrase", "words"]
