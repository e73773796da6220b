"""The audit that every build must pass, over the offer and the pages made from it: fairness, words and how hard they
are to read, links."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from sitegen.errors import AuditFailed, Breach
from sitegen.offer.offer import Offer
from sitegen.sheets.audit.chances import chances, form, judgement
from sitegen.sheets.audit.chosen import chosen
from sitegen.sheets.audit.claims import Claims, claims_of
from sitegen.sheets.audit.fairness import fairness
from sitegen.sheets.audit.links import attributes, links
from sitegen.sheets.audit.listed import order, prices, rise
from sitegen.sheets.audit.page import Finding, Page, Part
from sitegen.sheets.audit.reading import reading
from sitegen.sheets.audit.words import words
from sitegen.sheets.cache import Cache
from sitegen.sheets.words import Words

JUDGED = "chances.judged"
ALONE: tuple[Callable[[Part], Iterator[Finding]], ...] = (chosen, chances, rise, attributes, words)
"""The rules that look at a part of a page and at nothing else."""


def audit(offer: Offer, folder: Path, said: Words, mark: str, cache: Cache) -> None:
    """Raise AuditFailed with every breach that the site in `folder` has; `mark` is its fingerprint.

    A site that passed is known again by its files, by all that the rules take of the offer and by the rules
    themselves, and is not read a second time.
    """
    claims, judged = claims_of(offer), said.html.get(JUDGED, "")
    passed = (mark, repr(claims), judged, _rules())
    if cache.read("audit", *passed) is not None:
        return
    files = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    pages = {name: files[name].read_text("utf-8") for name in sorted(files) if name.endswith(".html")}
    found = _found(claims, pages, set(files), judged)
    if found:
        raise AuditFailed(found)
    cache.write("audit", "passed", *passed)


def breaches(offer: Offer, pages: dict[str, str], files: set[str], judged: str) -> list[Breach]:
    """Every breach of pages given as name and HTML; `judged` are the words that a judged chance takes."""
    return _found(claims_of(offer), pages, files, judged)


def _found(claims: Claims, pages: dict[str, str], files: set[str], judged: str) -> list[Breach]:
    spoken = form(judged)
    read = [Page(name, html, spoken) for name, html in pages.items()]
    worded = Page("content", judged.replace("{", " ").replace("}", " "))
    return sorted({*prices(claims), *judgement(judged), *fairness(claims, read), *reading(claims, read),
                   *links(read, files), *_by_part(claims, read), *_at(worded, worded.parts[0], words(worded.parts[0]))})


def _by_part(claims: Claims, pages: list[Page]) -> Iterator[Breach]:
    for page in pages:
        for part in page.parts:
            yield from _at(page, part, part.once(_alone))
            yield from _at(page, part, order(claims, part))


def _alone(part: Part) -> tuple[Finding, ...]:
    return tuple(finding for rule in ALONE for finding in rule(part))


def _at(page: Page, part: Part, found: Iterator[Finding] | tuple[Finding, ...]) -> Iterator[Breach]:
    return (Breach(page.name, page.place(part, one.at), one.rule, one.found, one.remedy) for one in found)


@cache
def _rules() -> str:
    """A hash of the sources of the audit."""
    digest = hashlib.sha256()
    for path in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(path.read_bytes())
    return digest.hexdigest()


__all__ = ["audit", "breaches"]
