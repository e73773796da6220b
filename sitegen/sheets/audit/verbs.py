"""The verbs that our words use, by their forms; a test holds them against a tagger and all our words.

A form is made by rule from its base, so a new verb is one word in one list.
"""

from __future__ import annotations

AUXILIARY = frozenset(
    "am is are was were isn't aren't wasn't weren't do does did don't doesn't didn't has have had hasn't haven't hadn't "
    "will won't would wouldn't can can't cannot could couldn't may might must shall it's that's there's what's who's "
    "we're you're they're we'll you'll they'll it'll we've you've they've let's i'm".split())
"""Verbs of their own or beside another: a clause has one, wherever it stands."""

VERBS = (
    "accept add advise agree allow appear apply arrive ask become begin belong bring build buy carry choose clean "
    "climb come compare connect decide depend describe differ divide explain fall feed fill find follow forbid forget "
    "get give go grow happen hang hear hide hold hurt join keep know lay lead learn let lie live look lose make mean "
    "meet mend narrow need owe own pay pick pull put reach read refuse remain remove replace rewire say scrape see "
    "sell send serve settle shut sit speak stay take teach tell treat try turn use vacuum wait want wear write bind "
    "rest").split()
"""Verbs whose form with s is no noun of ours."""

NOUNS_TOO = (
    "alarm answer bag board book break buzz call cap change charge check clear close copy cost count cover crack cut date dent draw "
    "drill drink drop dry earn eat end face fail fit fix fold glue harm help initial lap leave lift light limit list mark mist mop move name "
    "notice open paint pass photograph plan play plug point press price print probe protect quote raise record rise "
    "rinse rule run score screw seal set share shed show sign sleep smell sound span spread stand start step stop "
    "strip switch tag tape test tick touch trace trip visit walk weigh wet wipe wire work wrap").split()
"""Verbs that are spelled like a noun or an adjective: their neighbors decide."""

PAST_ALONE = frozenset(
    "began became came chose drew fell forgot gave got grew knew said spoke took told went wrote ate hid rose "
    "made meant found kept lost paid put sold sent left held bought built brought thought".split())
IRREGULAR = frozenset({"got", "said", "told", "made", "meant", "found", "kept", "lost", "paid", "put", "sold", "sent",
                       "left", "held", "bought", "built", "brought", "thought"})
"""Past forms that are participles too."""


def _third(base: str) -> str:
    if base.endswith(("s", "x", "z", "ch", "sh", "o")):
        return f"{base}es"
    return f"{base[:-1]}ies" if base[-1] == "y" and base[-2] not in "aeou" else f"{base}s"


def _past(base: str) -> str:
    return f"{base}d" if base.endswith("e") else f"{base[:-1]}ied" if base[-1] == "y" and base[-2] not in "aeou" \
        else f"{base}ed"


DOUBLED = frozenset({"capped", "dropped", "fitted", "planned", "plugged", "stopped", "stripped", "tagged", "wrapped"})

ALWAYS = frozenset({*(_third(base) for base in VERBS), *(PAST_ALONE - IRREGULAR)})
"""Forms that are a finite verb wherever they stand."""

BASES = frozenset({*VERBS, *NOUNS_TOO})
BARE = frozenset(VERBS)
THIRDS = frozenset(_third(base) for base in NOUNS_TOO)
PASTS = frozenset({*(_past(base) for base in BASES), *IRREGULAR, *DOUBLED, "saw", "cut", "set", "shut", "laid", "read"})
"""Past forms: those of a clause stand behind their subject."""

__all__ = ["ALWAYS", "AUXILIARY", "BARE", "BASES", "PASTS", "THIRDS"]
