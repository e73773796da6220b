"""Numbers from law, code and handbooks, each with unit, edition, section, the day it was checked, and its source.

One file a topic stands beside this one.  A row holds one `value`, or a value `by edition` of a code that towns
adopt at different times, or a `table`.  Numbers that are not whole are written as text: `"3/4"`, `"0.82"`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

import yaml
from msgspec import DecodeError, Struct, json

FOLDER = Path(__file__).parent
FIELDS = ("unit", "says", "edition", "section", "checked", "recheck", "source", "memory")
HOLDS = ("value", "by edition", "table")

Number = int | Fraction
Cell = Number | str | tuple["Cell", ...]
T = TypeVar("T", bound=Struct)


class Rule(Struct, frozen=True):
    """One row of a rules file, as it was read.

    `held` is a number, or a mapping from an edition or a table's key to one; `unverified` names the editions whose
    value nobody here has seen in the code's own text.
    """

    key: str
    topic: str
    held: Cell | Mapping[str, Cell]
    by_edition: bool
    unit: str
    says: str
    edition: str
    section: str
    checked: date
    recheck: date
    source: str
    memory: bool
    unverified: tuple[str, ...]

    def value(self, edition: str | None = None) -> Any:
        """What it holds, in one edition if it differs by edition.

        An edition that the rule has no value for inherits that of the newest one before it; raises KeyError where
        there is none, and where the edition is not said.
        """
        if not self.by_edition:
            return self.held
        assert isinstance(self.held, Mapping)
        return self.held[self.edition_of(edition)]

    def edition_of(self, edition: str | None) -> str:
        """The edition whose value holds in this one: itself, or the newest before it; raises KeyError as `value`."""
        assert isinstance(self.held, Mapping)
        if edition is None:
            raise KeyError(f"{self.key} differs by edition: say which")
        earlier = [one for one in self.held if one <= edition]
        if not earlier:
            raise KeyError(f"{self.key} has no value for {edition} nor for an edition before it")
        return max(earlier)

    def unverified_in(self, edition: str | None) -> bool:
        """Whether nobody here saw the value in print: marked so, or carried over from an edition before."""
        return edition in self.unverified or (self.by_edition and self.edition_of(edition) != edition)

    def stands_on(self, edition: str | None = None) -> str:
        """Section, day checked and source, and whether anybody saw it in print."""
        source = "" if self.source.startswith(f"{self.section}, from memory") else f"; {self.source}"
        return f"{self.cited(edition)}{source}"

    def cited(self, edition: str | None = None, on: date | None = None) -> str:
        """The same without where it was read: the section, which names its standard, and the day checked.

        What is printed `on` a day has no later one.
        """
        read = (", from memory" if self.memory else "" if on is not None and on < self.checked else
                f", checked {self.checked:%b} {self.checked.day}, {self.checked.year}")
        weak = " (not verified)" if self.unverified_in(edition) and not self.memory else ""
        held_by = self.edition_of(edition) if self.by_edition else None
        which = "" if held_by is None else f"{edition} as {held_by} " if held_by != edition else f"{edition} "
        return f"{which}{self.section}{read}{weak}"


Keep = Callable[..., str]
"""Who keeps what was read for the next start: called with a kind, what makes the text, and what it is made from."""


def _afresh(kind: str, make: Callable[[], str], *made_from: str) -> str:
    return make()


_keep: Keep = _afresh


def keep_with(keep: Keep) -> None:
    """Have rows kept between starts: YAML takes ten times as long as JSON.  By themselves rules keep nothing."""
    global _keep
    _keep = keep


def kept(kind: str, make: Callable[[], str], *made_from: str) -> str:
    """What `make` gives, kept between starts where somebody keeps it."""
    return _keep(kind, make, *made_from)


@lru_cache(maxsize=1)
def every_rule() -> Mapping[str, Rule]:
    """Every rule of every file by its key; raises ValueError for a key that stands twice."""
    texts = {path.stem: path.read_text("utf-8") for path in sorted(FOLDER.glob("*.yaml"))}
    stored = kept("rules", lambda: json.encode(_rows(texts)).decode(), *texts, *texts.values())
    try:
        by_topic = json.decode(stored)
    except DecodeError:                     # a damaged file is as good as none
        by_topic = _rows(texts)
    found: dict[str, Rule] = {}
    for topic, rows in by_topic.items():
        for key, row in rows.items():
            if key in found:
                raise ValueError(f"{key} stands in {topic}.yaml and in {found[key].topic}.yaml")
            found[key] = _rule(topic, key, row)
    return found


def _rows(texts: Mapping[str, str]) -> dict[str, Any]:
    """The rows of each topic as YAML gives them."""
    return {topic: yaml.load(text, Loader=yaml.CSafeLoader) for topic, text in texts.items()}


def _rule(topic: str, key: str, row: Mapping[str, Any]) -> Rule:
    holds = [word for word in HOLDS if word in row]
    if len(holds) != 1 or set(row) - {*FIELDS, *HOLDS, "unverified"} or set(FIELDS) - set(row):
        raise ValueError(f"{topic}.yaml, {key}: needs {', '.join(FIELDS)} and one of {', '.join(HOLDS)}")
    raw = row[holds[0]]
    held = _cell(raw) if holds[0] == "value" else {str(word): _cell(value) for word, value in raw.items()}
    return Rule(key, topic, held, holds[0] == "by edition", row["unit"], row["says"], str(row["edition"]),
                row["section"], _day(row["checked"]), _day(row["recheck"]), row["source"], row["memory"],
                tuple(str(word) for word in row.get("unverified", ())))


def _day(value: date | str) -> date:
    """A day as YAML or JSON gives it."""
    return value if isinstance(value, date) else date.fromisoformat(value)


def _cell(value: Any) -> Cell:
    """A number as it is meant: whole, or a fraction from text; other text stays text, a list becomes a tuple."""
    if isinstance(value, bool | float):
        raise ValueError(f"{value!r}: write a number that is not whole as text")
    if isinstance(value, list):
        return tuple(_cell(one) for one in value)
    if isinstance(value, str):
        try:
            return Fraction(value)
        except (ValueError, ZeroDivisionError):     # words, and sizes of wire such as 1/0
            return value
    assert isinstance(value, int)
    return value


def given(kind: type[T], topic: str, edition: str | None = None) -> T:
    """A set of rules as one argument: each field of the dataclass `kind` from the rule `topic-field`.

    Raises KeyError for a field that no file holds, or for an edition that a rule lacks.
    """
    return kind(**{field: every_rule()[f"{topic}-{field.replace('_', '-')}"].value(edition)
                   for field in kind.__struct_fields__})
