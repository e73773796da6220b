"""The list of checks between fields, what each needs, and the words that several share."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator

from sitegen.errors import Fault
from sitegen.job.inputs import Gathered, Sound

Check = Callable[[Gathered], Iterator[Fault]]
CHECKS: list[tuple[tuple[str, ...], Check]] = []


def needs(*names: str) -> Callable[[Check], Check]:
    """Run a check when these fields, named as `job.rooms` or `book.kits`, are sound."""
    def add(check: Check) -> Check:
        CHECKS.append((names, check))
        return check
    return add


def in_order(sound: Sound, first: str, then: str) -> Iterator[Fault]:
    """A fault when the date of one field is before that of another."""
    if sound[then] < sound[first]:
        said = then.replace("_", " ")
        yield sound.fault((said,), f"{sound[then]} is before `{first.replace('_', ' ')}: {sound[first]}`.",
                          "Dates run forward: move one of them.")


def is_whole(sound: Sound, name: str) -> bool:
    """Whether every item of a list is sound, so that what is not in it is not anywhere."""
    return len(sound[name]) == len(sound.document.data.get(name, []))


def nearest(word: str, known: Iterable[str]) -> str:
    """The way out for a name that nobody defined: the nearest right one, or all of them."""
    near = close_matches(word, known)
    return f"Did you mean `{near[0]}`?" if near else f"Known: {', '.join(sorted(known)) or 'none'}."


def close_matches(word: str, known: Iterable[str]) -> list[str]:
    """The nearest known name, if one is near."""
    return difflib.get_close_matches(word, sorted(known), 1, 0.6)


def boxes(count: int) -> str:
    """How many boxes were opened, to be followed by how they were seen."""
    return "1 box on it was" if count == 1 else f"{count} boxes on it were"
