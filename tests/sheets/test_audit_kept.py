"""A site that passed is not read again, and nothing that was kept hides a change: of a page, of words, of a rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from sitegen import build as line
from sitegen.errors import AuditFailed
from sitegen.offer.offer import Offer
from sitegen.sheets import audit as rules
from sitegen.sheets.audit import audit
from sitegen.sheets.cache import Cache
from sitegen.sheets.words import Words
from sitegen.unchanged import fingerprint
from sitegen.workspace import Workspace
from tests.built import offer
from tests.helpers import JOB, JOB_FILE, ROOT, demo_copy, edit


class Read:
    """How often the rules were held over pages."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.times = 0
        self.found = rules._found
        patch.setattr(rules, "_found", self)

    def __call__(self, *given: Any) -> Any:
        self.times += 1
        return self.found(*given)


@pytest.fixture
def read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Read]:
    """A count of readings, with nothing kept from before."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "kept"))
    line._cache.cache_clear()
    line._writer.cache_clear()
    yield Read(monkeypatch)
    line._cache.cache_clear()
    line._writer.cache_clear()


# --- a build ----------------------------------------------------------------------------------------------


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The demo workspace where a test may change it."""
    return demo_copy(tmp_path)


def built(home: Path) -> Path:
    """The demo house as a new process builds it."""
    line._writer.cache_clear()
    return line.build(Workspace(home, home / "site"), home / JOB).folder


def lay_over(home: Path, name: str, change: Callable[[str], str]) -> None:
    """Lay a changed file of ours over ours."""
    (home / name).parent.mkdir(parents=True, exist_ok=True)
    (home / name).write_text(change((ROOT / name).read_text("utf-8")), "utf-8")


EDITS: dict[str, Callable[[Path], None]] = {
    "a template": lambda home: lay_over(home, "theme/parts/block/block.html", lambda text: text + "<p>More.</p>"),
    "a style": lambda home: lay_over(home, "theme/css/base.css", lambda text: text + "\n.more { color: red }\n"),
    "words": lambda home: lay_over(home, "content/sheets/who.md", lambda text: text.replace("ask us.", "call us.", 1)),
    "a price": lambda home: edit(home / "price-book.yaml", "list point: $595", "list point: $600"),
    "words of the firm": lambda home: edit(home / "company.yaml", "We repair any floor", "We mend any floor"),
    "a day": lambda home: edit(home / JOB_FILE, "prices hold to: 2026-12-18", "prices hold to: 2026-12-17")}


@pytest.mark.parametrize("change", EDITS.values(), ids=EDITS.keys())
def test_pages_that_did_not_change_are_read_once(read: Read, home: Path, change: Callable[[Path], None]) -> None:
    """The second build reads nothing; the third, after an edit, reads all; the fourth, with the edit, nothing."""
    first = fingerprint(built(home))
    assert (fingerprint(built(home)), read.times) == (first, 1)
    change(home)
    second = fingerprint(built(home))
    assert second != first
    assert read.times == 2
    assert (fingerprint(built(home)), read.times) == (second, 2)


def test_a_breach_that_an_edit_brings_is_found(read: Read, home: Path) -> None:
    """After a site that passed, a word that hurts in a template fails the build, and again when it is built again."""
    good = fingerprint(built(home))
    lay_over(home, "theme/parts/block/block.html", lambda text: text + "<p>Peace of mind.</p>")
    said = []
    for _ in range(2):
        with pytest.raises(AuditFailed) as failed:
            built(home)
        said.append(failed.value.breaches)
    assert said[0] == said[1]
    assert {one.sheet for one in said[0]} == {path.name for path in (home / "site" / JOB).glob("*.html")}
    assert (read.times, fingerprint(home / "site" / JOB)) == (3, good)


# --- what it is known by ----------------------------------------------------------------------------------


@pytest.fixture
def passed(read: Read, demo_site: Path) -> tuple[Read, Callable[..., None]]:
    """A site that passed once, and the audit of it with some of what it rests on changed."""
    words, mark = Words((ROOT / "content",), Cache()), fingerprint(demo_site)

    def again(made: Offer | None = None, mark: str = mark, said: Words = words) -> None:
        audit(made or offer(JOB), demo_site, said, mark, Cache())

    again()
    again()
    assert read.times == 1
    return read, again


def test_the_files_of_the_site_are_known(passed: tuple[Read, Callable[..., None]]) -> None:
    """Another fingerprint is another site."""
    read, again = passed
    again(mark="0" * 128)
    assert read.times == 2


@pytest.mark.parametrize("what", ["name", "price", "order", "remark", "people"])
def test_what_the_rules_take_of_an_offer_is_known(passed: tuple[Read, Callable[..., None]], what: str) -> None:
    """The same pages are read again when the offer that they are held against is another."""
    read, again = passed
    made = offer(JOB)
    first, *others = made.outcome.options
    if what == "people":
        made = replace(made, people=made.people[:-1])
    elif what == "remark":
        terms = replace(made.terms[first.key], closes_holes="us")       # a drawback that is no longer true
        made = replace(made, terms={**made.terms, first.key: terms})
    else:
        options = {"name": (replace(first, name="Wires"), *others), "order": (*others, first),
                "price": (replace(first, price=replace(first.price, value=1, sum=())), *others)}[what]
        made = replace(made, outcome=replace(made.outcome, options=options))
    read.found = lambda *given: []         # an offer that does not fit its pages fails; here it has to pass
    again(made)
    assert read.times == 2


def test_the_words_of_a_judged_chance_are_known(passed: tuple[Read, Callable[..., None]]) -> None:
    """The form of a chance is no part of the pages alone."""
    read, again = passed
    words = Words((ROOT / "content",), Cache())
    words.html["chances.judged"] = words.html["chances.judged"].replace("If half", "And if half")
    with pytest.raises(AuditFailed):
        again(said=words)
    assert read.times == 2


def test_the_rules_themselves_are_known(passed: tuple[Read, Callable[..., None]],
                                        monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule that was changed reads every site again: the sources of the audit are hashed, each of them."""
    read, again = passed
    monkeypatch.setattr(rules, "_rules", lambda: "other sources")
    again()
    assert read.times == 2


def test_every_source_of_the_audit_is_hashed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A change in any file of the audit gives another hash."""
    here = Path(rules.__file__).parent
    for path in here.glob("*.py"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    monkeypatch.setattr(rules, "__file__", str(tmp_path / "__init__.py"))
    assert rules._rules.__wrapped__() == rules._rules()
    for path in sorted(tmp_path.glob("*.py")):
        before = path.read_bytes()
        path.write_bytes(before + b"\n")
        assert rules._rules.__wrapped__() != rules._rules(), path.name
        path.write_bytes(before)
