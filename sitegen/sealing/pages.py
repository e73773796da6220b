"""The documents around what is sealed: the gate, the page of a withdrawn proposal, and the policy of readable pages."""

from __future__ import annotations

from pathlib import Path

from markupsafe import Markup, escape
from msgspec import Struct

from sitegen.errors import BuildError
from sitegen.figure import Figure, Quote, Source
from sitegen.job.cards import Company
from sitegen.sealing.bundle import STYLES, Bundle, last_scripts
from sitegen.sealing.policy import policy
from sitegen.sealing.seal import Sealed
from sitegen.sheets.site import SiteWriter


class Licence(Struct, frozen=True):
    """A number that anybody may look up."""

    kind: Quote
    number: Quote


class Gate(Struct, frozen=True):
    """The firm as anybody may see it who has no key."""

    name: Quote
    address: Quote
    phone: Quote
    e_mail: Quote
    licences: tuple[Licence, ...]

    @classmethod
    def of(cls, company: Company) -> Gate:
        """The gate of the firm whose card this is."""
        def said(text: str) -> Quote:
            return Quote(text, Source("company", "company.yaml"))
        return cls(said(company.name), said(company.address), said(company.phone), said(company.e_mail),
                   tuple(Licence(said(one.kind), said(one.number)) for one in company.licences))


GATE_STYLE, CARD_STYLE, OPEN, TURN = "sealed/gate.css", "sealed/card.css", "sealed/open.js", "sealed/turn.js"
"""The files of the theme that stand around what is sealed, and in no list of a site's own."""

CHARSET = '<meta charset="utf-8">'


def shell(writer: SiteWriter, firm: Gate, bundle: Bundle, sealed: Sealed) -> str:
    """One sealed document; it holds the firm's name, licences and phone, and nothing else that can be read."""
    css, script = writer.text(GATE_STYLE), writer.text(OPEN, "\n")
    allowed = policy((script, *bundle.scripts), (css, *bundle.styles))
    count = Figure("sealing.parts", len(sealed.parts), "number", "Counted.", Source("worked out", "the bundle"))
    parts = [Markup(part) for part in sealed.parts]
    return writer.env.get_template("sealed/shell.html").render(
        firm=firm, policy=Markup(escape(allowed)), css=Markup(css), script=Markup(script),
        sealed={"bind": Markup(sealed.bind), "salt": Markup(sealed.salt), "sum": Markup(sealed.sum), "parts": parts,
                "count": Markup(escape(count.raw()))})


def withdrawn(writer: SiteWriter, firm: Gate) -> str:
    """What is left where a proposal was withdrawn: nothing of the job."""
    css = writer.text(GATE_STYLE)
    return writer.env.get_template("sealed/withdrawn.html").render(
        firm=firm, policy=Markup(escape(policy((), (css,)))), css=Markup(css))


def readable(site: Path) -> dict[str, bytes]:
    """Every file of a built site as it is published to be read by anybody: the pages with their policy."""
    files = {path.name: path.read_bytes() for path in sorted(site.iterdir()) if path.is_file()}
    for name in [name for name in files if name.endswith(".html")]:
        text = files[name].decode("utf-8")
        _, scripts, _ = last_scripts(text.rpartition("</body>")[0])
        allowed = policy(scripts, STYLES.findall(text), folder=True)
        if CHARSET not in text:
            raise BuildError(f"{site / name} is no page of ours.")
        meta = f'{CHARSET}\n<meta http-equiv="Content-Security-Policy" content="{escape(allowed)}">'
        files[name] = text.replace(CHARSET, meta, 1).encode("utf-8")
    return files


__all__ = ["CARD_STYLE", "GATE_STYLE", "OPEN", "TURN", "readable", "shell", "withdrawn"]
