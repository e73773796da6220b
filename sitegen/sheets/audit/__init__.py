"""The audit that every build must pass, over the offer and the pages made from it: fairness, words and how hard they
are to read, links."""

from __future__ import annotations

from pathlib import Path

from sitegen.errors import AuditFailed, Breach
from sitegen.offer.offer import Offer
from sitegen.sheets.audit.fairness import fairness, form
from sitegen.sheets.audit.links import links
from sitegen.sheets.audit.page import Page
from sitegen.sheets.audit.reading import reading
from sitegen.sheets.audit.words import words
from sitegen.sheets.words import Words

JUDGED = "chances.judged"


def audit(offer: Offer, folder: Path, said: Words) -> None:
    """Raise AuditFailed with every breach that the site in `folder` has."""
    files = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    pages = {name: files[name].read_text("utf-8") for name in sorted(files) if name.endswith(".html")}
    found = breaches(offer, pages, set(files), said.html.get(JUDGED, ""))
    if found:
        raise AuditFailed(found)


def breaches(offer: Offer, pages: dict[str, str], files: set[str], judged: str) -> list[Breach]:
    """Every breach of pages given as name and HTML; `judged` are the words that a judged chance takes."""
    forms = (form(judged),)
    read = [Page(name, html, forms) for name, html in pages.items()]
    worded = [*read, Page("content", judged.replace("{", " ").replace("}", " "))]
    return sorted({*fairness(offer, read, judged), *words(worded), *reading(offer, read), *links(read, files)})


__all__ = ["audit", "breaches"]
