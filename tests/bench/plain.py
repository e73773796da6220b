"""The same words as a built site, as Markdown for a plain MkDocs build with the emptiest theme there can be."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from bs4 import BeautifulSoup, Tag

BLOCKS = ("h1", "h2", "h3", "h4", "p", "li", "dt", "dd", "tr", "summary", "figcaption", "caption", "text")


def plain_site(site: Path, settings: Path) -> tuple[int, int]:
    """The words of a built site as Markdown, with the emptiest theme there can be: (pages, words)."""
    docs, theme = settings.parent / "docs", settings.parent / "theme"
    docs.mkdir(parents=True)
    theme.mkdir()
    pages = sorted(site.glob("*.html"))
    for page in pages:
        (docs / f"{page.stem}.md").write_text(_markdown(page.read_text("utf-8")), "utf-8")
    (theme / "main.html").write_text("{{ page.content }}", "utf-8")
    settings.write_text("site_name: plain\nplugins: []\ntheme:\n  name: null\n  custom_dir: theme\n", "utf-8")
    return len(pages), words_in(docs.glob("*.md"))


def words_in(paths: Iterable[Path]) -> int:
    """Words that a reader sees, marks of Markdown left out."""
    texts = (BeautifulSoup(path.read_text("utf-8"), "html.parser").get_text(" ") for path in paths)
    return sum(any(sign.isalnum() for sign in word) for text in texts for word in text.split())


def _markdown(html: str) -> str:
    """A page as headings, paragraphs, lists and tables, every word once."""
    body = BeautifulSoup(html, "html.parser").body
    assert body is not None
    parts: list[str] = []
    _parts(body, parts)
    return "\n\n".join(part for part in parts if part).replace("<", "&lt;") + "\n"


def _parts(element: Tag, parts: list[str]) -> None:
    loose: list[str] = []
    for child in element.children:
        if isinstance(child, Tag) and child.name in ("style", "script"):
            continue
        if isinstance(child, Tag) and (child.name in BLOCKS or child.find(BLOCKS)):
            parts.append(" ".join(" ".join(loose).split()))
            loose = []
            if child.name == "table":
                parts.append(_table(child))
            elif child.name in BLOCKS and not child.find(BLOCKS):
                said = " ".join(child.get_text(" ").split())
                mark = "#" * int(child.name[1]) + " " if child.name[0] == "h" else "- " * (child.name == "li")
                parts.append(mark + said if said else "")
            else:
                _parts(child, parts)
        else:
            loose.append(child.get_text(" "))
    parts.append(" ".join(" ".join(loose).split()))


def _table(table: Tag) -> str:
    rows = [[" ".join(cell.get_text(" ").split()).replace("|", "/") for cell in row.find_all(("th", "td"))]
            for row in table.find_all("tr")]
    if not rows:                            # one that a script fills
        return ""
    width = max(len(row) for row in rows)
    lines = ["| " + " | ".join(row + [""] * (width - len(row))) + " |" for row in rows]
    caption = table.find("caption")
    head = " ".join(caption.get_text(" ").split()) + "\n\n" if caption else ""
    return head + "\n".join([lines[0], "|" + " --- |" * width, *lines[1:]])
