"""Syllables of an English word, counted by its letters: runs of vowels, what is silent, and a list of exceptions.

Light on purpose: a build takes about half a second, and to read a dictionary of sounds takes a good part of that.
The tests hold the count against such a dictionary over every word that our sheets print.
"""

from __future__ import annotations

import re

RUNS = re.compile(r"[aeiouy]+")
SILENT = re.compile(
    r"^(?:some|there|where|home|life|fire|wire|base|frame|else|time|whole|house|fore|trade|file)(?=[^aeiouyrsd][a-z])"
    r"|(?<=[^aeiouyl])es?$|(?<=[aeiouyrw]l)es?$|(?<=qu)es?$"                        # tape, while, unique
    r"|(?<=[^aeiouytdl])ed$|(?<=[aeiouyrl]l)ed$"                                    # closed, called
    r"|(?<=[aeiouyg][cfgkmnprstvz])e(?=(?:ly|ments?|ful|less|ness|ty)$)|(?<=[dn]g)e(?=ments?$)|(?<=nc)e(?=ments?$)"
    r"|(?<=ic)a(?=lly$)")
"""A vowel that is not spoken."""

SOUNDED = re.compile(r"(?<=[sxzcg])es$|(?<=[cs]h)es$")
"""The e of a plural that is spoken."""

APART = re.compile(
    r"i[ao](?<![tscgx]i.)(?<![ln]io)(?!u)|(?<=[tsc])ia(?=t)|(?<![qg])u[ae](?=[lrt])|[aeiouy]ing|eo(?=[ln])|crea(?=t[ei])"
    r"|(?<=[rvnbd])iou|[aeou]y[aeio](?!d$)|[aeiou][aeiou]y|(?<![tscg])iu|uou|isms?$|thms?$|(?<=[ds])n't$|(?<=[^f])iers?$"
    r"|iest$|iet|(?<=[^tcfhr])ien(?=[ct])|(?<=r)ien(?=c)|eum$|(?<=[^aeiou])yers?$")
"""Two vowels that are spoken one after the other, or a syllable without a vowel."""

ENDS_APART = ("m", "ms", "n't")
"""How a word ends that has a syllable without a vowel."""

EXCEPTIONS: dict[str, int] = {word: count for count, words in {
    1: "tier tiers pier piers eye eyes",
    2: "business evening evenings guideline guidelines hundred lawyer lawyers nineteen "
       "jan feb aug sept oct nov dec",
    3: "rewire rewires rewired area areas idea ideas whoever ratio anyone everything salesperson chandelier "
       "chandeliers carelessness llc epa nec cfr usc",
    4: "everybody california laboratory",
}.items() for word in words.split()}
"""Words that the letters mislead on, and short forms as they are spoken; a month in short belongs to its number."""


def syllables(word: str) -> int:
    """Syllables of one word in small letters; at least one."""
    known = EXCEPTIONS.get(word)
    if known is None and word.endswith("'s"):
        word = word[:-2]
        known = EXCEPTIONS.get(word)
    if known is not None:
        return known
    runs = RUNS.findall(word)
    silent = len(SILENT.findall(word)) if ("e" in word or "ically" in word) and not SOUNDED.search(word) else 0
    apart = len(APART.findall(word)) if len("".join(runs)) > len(runs) or word.endswith(ENDS_APART) else 0
    return max(1, len(runs) - silent + apart)
