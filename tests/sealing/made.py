"""A small site of our own shape, sealed in a moment, and a demo workspace that was published once."""

from __future__ import annotations

from pathlib import Path

from sitegen.sealing.bundle import Bundle, bundle

BODY = ('<header class="head"><a class="call" href="tel:555-0100">Call</a></header><main id="{id}"><h1>{title}</h1>'
        '<p>{text}</p>{more}</main><nav class="sheets"><a href="{to}.html#{to}">On</a></nav><footer class="block">'
        '</footer>')
PAGE = ('<!doctype html><html><head><meta charset="utf-8"><title>{title}</title>{style}</head><body>\n{body}\n'
        "{script}</body></html>")
PICTURE = ('<picture>\n<source type="image/webp" srcset="photo-1.webp">\n<img src="photo-1.jpg" width="4" height="3" '
           'alt="A wall"></picture>')


def small_site(folder: Path, said: str = "Nothing here is real") -> Path:
    """Two pages, the first with a fold and the second with a photograph."""
    folder.mkdir(parents=True, exist_ok=True)
    first = BODY.format(id="start", title="Start here", text=said, to="report",
                        more='<div class="folded"><details id="fold"><summary>More</summary><p id="deep">Deep</p>'
                             "</details></div>")
    other = BODY.format(id="report", title="Your report", text="The other page", to="index", more=PICTURE)
    (folder / "index.html").write_text(PAGE.format(title="Start", style="<style>p{margin:0}</style>", body=first,
                                                   script="<script>document.title += '!';</script>\n"), "utf-8")
    (folder / "report.html").write_text(
        PAGE.format(title="Report", style='<link rel="stylesheet" href="sheets.css">', body=other,
                    script='<script src="sheets.js" async></script>\n'), "utf-8")
    (folder / "sheets.css").write_text("p{margin:1px}", "utf-8")
    (folder / "sheets.js").write_text("document.title += '?';", "utf-8")
    (folder / "photo-1.webp").write_bytes(b"RIFF" + bytes(range(256)))
    (folder / "photo-1.jpg").write_bytes(b"\xff\xd8 never sealed")
    return folder


def small_bundle(folder: Path, said: str = "Nothing here is real") -> Bundle:
    """Its bundle."""
    return bundle(small_site(folder, said), "void 0;", {}, {"job": "small", "version": 1})
