"""A chance stands in one of its sentence forms: counted with its total, judged in three views, or not known."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from sitegen.errors import Breach
from sitegen.sheets.audit.page import Finding, Part

CHANCE_RULE = "a chance stands in one of its sentence forms"
SPOKEN = ".spoken"
"""How the name of a figure ends that is a count of twentieths, and of no other."""

NUMBERS = r"(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|nineteen|twenty|a hundred|hundred)"
COUNT = re.compile(rf"(?:every |each |a )?{NUMBERS}\b")
PERCENT = re.compile(r"\d ?(?:%|per ?cent) (?:chance|likely|sure)")
CHANCE = re.compile(rf"\bchances\b|\b\d+ ?(?:%|per ?cent) (?:chance|likely|sure)|\b{NUMBERS} (?:times )?(?:in|out of)"
                    rf" (?:every |each )?{NUMBERS}\b(?! (?:of|rooms?|days?)\b)"
                    r"|\b(?:\d+|one|two|nine|ten) of (?:every )?(?:100|a hundred|one hundred)\b")
NEAR = 40
"""More letters than stand in a spoken chance before or after its `in` or `of`."""

SLOT = re.compile(r"\\\{([a-z]+)\\\}")
VIEWS = {"judged": "", "half": r"\.half", "twice": r"\.twice"}


def form(judged: str) -> re.Pattern[str]:
    """The judged form as it stands on a page: three views of one chance, and the whole, each in its element."""
    def slot(found: re.Match[str]) -> str:
        element = r'<data value="\d+" data-figure="{}">\d+</data>'
        if found[1] in VIEWS:
            name = "(?P<chance>[a-z0-9.-]+?)" if found[1] == "judged" else "(?P=chance)"
            return r"(?:(?:fewer|more) than |about )?" + element.format(name + VIEWS[found[1]] + re.escape(SPOKEN))
        return element.format(r"endings\.count")
    return re.compile(SLOT.sub(slot, re.escape(judged.removeprefix("<p>").removesuffix("</p>"))))


def judgement(judged: str) -> Iterator[Breach]:
    """Whether the words of the judged form are those of a judgement, in three views and with the whole."""
    wanted = {"judged", "half", "twice", "whole"}
    if not (set(re.findall(r"\{([a-z]+)\}", judged)) >= wanted and "judgment, not a count" in judged
            and judged.index("{judged}") == min(judged.index("{" + name + "}") for name in wanted)):
        yield Breach("content", "chances.judged", CHANCE_RULE, f"`{judged}` is not the form of a judgement.",
                     "Say that it is our judgment, not a count, in three views and with the whole.")


def chances(part: Part) -> Iterator[Finding]:
    """Every spoken chance, as a figure or in words, that stands outside of a form."""
    figures = {tag: tag.attributes.get("data-figure", "") for tag in part.first if SPOKEN in tag.text}
    for at, tag in enumerate(part.tags) if figures else ():
        if figures.get(tag, "").endswith(SPOKEN) and part.searched(at):
            yield Finding(at, CHANCE_RULE, f"{figures[tag]} stands outside the form of a judgement.",
                          "Print it with `|chance`.")
    if _may_speak(part.text):
        for at, block in part.blocks():
            for found in CHANCE.finditer(block.lower()):
                yield Finding(at, CHANCE_RULE, f"`{block[found.start():found.end()]}` in: {block}",
                              "Print a chance with `|chance`, a count as count and total, or say that we do not know.")


def _may_speak(text: str) -> bool:
    """Whether a chance may be in a text: the pattern for one is slow, so it is tried where its words stand alone."""
    if "chances" in text or (("%" in text or "cent " in text) and PERCENT.search(text)):
        return True
    for word in (" in ", " of "):
        parts = text.split(word)
        if any(COUNT.match(after) and CHANCE.search(f"{before[-NEAR:]}{word}{after[:NEAR]}")
               for before, after in pairwise(parts)):
            return True
    return False


__all__ = ["chances", "form", "judgement"]
