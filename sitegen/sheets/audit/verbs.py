"""The verbs that our words use, by their forms; a test holds them against a tagger and all our words.

A form is made by rule from its base, so a new verb is one word in one list.
"""

from __future__ import annotations


def listed(text: str) -> frozenset[str]:
    """The words of a list."""
    return frozenset(text.split())


AUXILIARY = listed("""
    am is are was were isn't aren't wasn't weren't do does did don't doesn't didn't has have had hasn't haven't
    hadn't will won't would wouldn't can can't cannot could couldn't may might must shall it's that's there's
    what's who's we're you're they're we'll you'll they'll it'll we've you've they've let's i'm""")
"""Verbs of their own or beside another: a clause has one, wherever it stands."""

VERBS = listed("""
    accept add advise agree allow appear apply arrive ask become begin belong bind bond bring build buy calculate
    carry choose
    clean climb come compare connect decide depend describe differ disconnect divide explain fall feed fill find follow
    forbid forget get give go grow happen hang harm hear hide hold hurt include join keep know lay lead learn let lie
    live look lose make mean meet mend miss narrow need owe own pay pick pull put reach read refuse remain
    remove replace rest rewire say scrape see sell send serve settle shut sit speak stay take teach tell treat
    trowel try turn use vacuum wait want wear write""")
"""Verbs whose form with s is no noun of ours."""

NOUNS_TOO = listed("""
    alarm answer bag board book break buzz call cap change charge check clear close copy cost count cover crack
    cut date dent draw drill drink drop dry earn eat end face fail fit fix fold glue help initial judge lap
    leave lift light limit list mark mist mop move name notice open paint pass photograph plan plaster play plug point
    press price print probe promise protect quote raise record repair rise rinse rule run score screw seal set share
    shed show sign sleep smell sound span spread stand start step stop strip switch tag tap tape test tick touch
    trace trip type visit walk weigh wet wipe work wrap""")
"""Verbs that are spelled like a noun or an adjective: their neighbors decide."""

PAST_ALONE = listed("began became came chose drew fell forgot gave grew knew spoke took went wrote ate hid rose")
"""Past forms that nothing else is spelled like."""

IRREGULAR = listed("""
    got said told made meant found kept lost paid put sold sent left held bought built brought thought saw cut
    set shut laid read""")
"""Past forms that are participles, or something else, too."""

DOUBLED = listed("bagged capped dropped fitted mopped planned plugged stopped stripped tagged wrapped")
"""Past forms that double a letter."""

VOWELS = "aeou"


def third(base: str) -> str:
    """The form of one who does it."""
    if base.endswith(("s", "x", "z", "ch", "sh", "o")):
        return f"{base}es"
    return f"{base[:-1]}ies" if base[-1] == "y" and base[-2] not in VOWELS else f"{base}s"


def past(base: str) -> str:
    """The past form by rule."""
    if base.endswith("e"):
        return f"{base}d"
    return f"{base[:-1]}ied" if base[-1] == "y" and base[-2] not in VOWELS else f"{base}ed"


ALWAYS = PAST_ALONE | {third(base) for base in VERBS}
"""Forms that are a finite verb wherever they stand."""

BASES = VERBS | NOUNS_TOO
THIRDS = frozenset(map(third, NOUNS_TOO))
PASTS = IRREGULAR | DOUBLED | {past(base) for base in BASES}
"""Past forms that stand behind the subject of their clause."""

__all__ = ["ALWAYS", "AUXILIARY", "BASES", "PASTS", "THIRDS", "VERBS", "listed"]
