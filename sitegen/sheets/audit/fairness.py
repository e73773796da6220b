"""The rules of fairness, held over the offer and over the pages that were made from it.

Good things and drawbacks may differ by 15 % of the longest, or by four words when that is more: three short
sentences come to some 24 words, 15 % of which is no whole sentence's worth, and one word more in each, rounded up,
should not fail a build.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from sitegen.errors import Breach
from sitegen.figure import int_of
from sitegen.offer.dominated import dominated
from sitegen.offer.offer import Offer, Remark
from sitegen.offer.rows import ROWS, Row, rows
from sitegen.sheets.audit.page import TAG, Page, attributes, words_of

COMPARE, EACH = "compare.html", "compare-each"
OFFER = "the offer"
DOMINATED = "compare-dominated"
"""The id of the sentence that names every option that is dominated."""

SHARE, WORDS = Fraction(15, 100), 4

ROWS_RULE = "the same 24 rows in the same order"
CELLS_RULE = "a row answers for every option, or once for all"
ORDER_RULE = "lowest price today first"
REMARKS_RULE = "as many good things and drawbacks for each option, each tied to a row"
LENGTH_RULE = "good things and drawbacks are as long for each option"
CHOSEN_RULE = "no badge, no preselection, no countdown"
RISE_RULE = "NO for `can it rise` only where no way up exists"
CHANCE_RULE = "a chance stands in one of its sentence forms"
FOLD_RULE = "nothing behind a fold or a tooltip"
DOMINATED_RULE = "an option that is dominated is said to be so"

ROW = re.compile(r'<tr[^>]*\sid="compare-row-(\d+)"[^>]*>(.*?)</tr>', re.DOTALL)
CELL = re.compile(r"<td([^>]*)>(.*?)</td>", re.DOTALL)
OPTION = re.compile(r'<span class="option">(.*?)</span>', re.DOTALL)
ARTICLE = re.compile(r"<article[^>]*>\s*<h3[^>]*>(.*?)</h3>(.*?)</article>", re.DOTALL)
ITEMS = re.compile(r'<ul class="(pro|con)">(.*?)</ul>', re.DOTALL)
ITEM = re.compile(r'<li>(.*?)\s*<a class="row" href="compare\.html#compare-row-(\d+)">', re.DOTALL)
TABLE = re.compile(r"<table.*?</table>", re.DOTALL)
LINE = re.compile(r"<tr[^>]*>(.*?)</tr>", re.DOTALL)
ANY_CELL = re.compile(r"<t[hd][^>]*>(.*?)</t[hd]>", re.DOTALL)
HIDDEN = re.compile(r"<([a-z0-9]+)(?=[^>]*\shidden[\s>])[^>]*>(.*?)</\1>", re.DOTALL)
ENDS = {"th": ("thead", "tbody", "table"), "dt": ("dl",), "li": ("ul", "ol"), "h2": ("section",), "h3": ("section",),
        "h4": ("section",)}
"""Where a list of options ends, by the tag that its names stand in."""

CHOSEN = frozenset({"checked", "selected", "autofocus"})
CLASSES = re.compile(r"badge|ribbon|popular|recommended|best-?|countdown|timer")
FOLDS = frozenset({"details", "summary", "dialog"})
NUMBERS = r"(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|nineteen|twenty|a hundred|hundred)"
CHANCE_GATE = re.compile(rf" (?:in|of) (?:every |each |a )?(?={NUMBERS}\b)")
CHANCE = re.compile(rf"\bchances\b|\b\d+ ?(?:%|per ?cent) (?:chance|likely|sure)|\b{NUMBERS} (?:times )?(?:in|out of)"
                    rf" (?:every |each )?{NUMBERS}\b(?! (?:of|rooms?|days?)\b)"
                    r"|\b(?:\d+|one|two|nine|ten) of (?:every )?(?:100|a hundred|one hundred)\b")
SLOT = re.compile(r"\\\{([a-z]+)\\\}")
VIEWS = {"judged": "", "half": r"\.half", "twice": r"\.twice"}


def fairness(offer: Offer, pages: Sequence[Page], judged: str) -> Iterator[Breach]:
    """Every breach of the rules of fairness; `judged` are the words of the form that a judged chance takes."""
    yield from _form(judged)
    yield from _prices(offer)
    yield from _remarks(offer)
    named = {page.name: page for page in pages}
    made = rows(offer)
    yield from _rows(offer, made)
    if COMPARE in named:
        yield from _rows_shown(offer, made, named[COMPARE])
        yield from _remarks_shown(offer, named[COMPARE])
    else:
        yield Breach(COMPARE, "top", ROWS_RULE, "there is no such sheet.", "Build the comparison.")
    twentieths = {figure.name for figure in offer.figures() if figure.unit == "twentieths"}
    for page in pages:
        yield from _order(offer, page)
        yield from _rise(page)
        yield from _attributes(page)
        yield from _chances(page, twentieths)
    yield from _dominated_said(offer, pages)


# --- a chance ---------------------------------------------------------------------------------------------


def form(judged: str) -> re.Pattern[str]:
    """The judged form as it stands on a page: three views of one chance, and the whole, each in its element."""
    def slot(found: re.Match[str]) -> str:
        element = r'<data value="\d+" data-figure="{}">\d+</data>'
        if found[1] in VIEWS:
            name = "(?P<chance>[a-z0-9.-]+?)" if found[1] == "judged" else "(?P=chance)"
            return r"(?:(?:fewer|more) than |about )?" + element.format(name + VIEWS[found[1]] + r"\.spoken")
        return element.format(r"endings\.count")
    return re.compile(SLOT.sub(slot, re.escape(judged.removeprefix("<p>").removesuffix("</p>"))))


def _form(judged: str) -> Iterator[Breach]:
    wanted = {"judged", "half", "twice", "whole"}
    if not (set(re.findall(r"\{([a-z]+)\}", judged)) >= wanted and "judgement, not a count" in judged
            and judged.index("{judged}") == min(judged.index("{" + name + "}") for name in wanted)):
        yield Breach("content", "chances.judged", CHANCE_RULE, f"`{judged}` is not the form of a judgement.",
                     "Say that it is our judgement, not a count, in three views and with the whole.")


def _chances(page: Page, twentieths: set[str]) -> Iterator[Breach]:
    if ".spoken" in page.free or any(f'"{name}"' in page.free for name in twentieths if not name.endswith(".spoken")):
        for found in re.finditer(r'data-figure="([^"]*)"', page.free):
            if found[1] in twentieths:
                yield Breach(page.name, page.place(found.start()), CHANCE_RULE,
                             f"{found[1]} stands outside the form of a judgement.", "Print it with `|chance`.")
    if "chance" not in page.text and not CHANCE_GATE.search(page.text):
        return
    if CHANCE.search(page.text):
        for at, block in page.blocks():
            for found in CHANCE.finditer(block.lower()):
                yield Breach(page.name, page.place(at), CHANCE_RULE,
                             f"`{block[found.start():found.end()]}` in: {block}",
                             "Print a chance with `|chance`, a count as count and total, or say that we do not know.")


# --- rows -------------------------------------------------------------------------------------------------


def _rows(offer: Offer, made: Sequence[Row]) -> Iterator[Breach]:
    numbers = [int_of(row.number) for row in made]
    if numbers != list(range(1, len(ROWS) + 1)):
        yield Breach(OFFER, "rows", ROWS_RULE, f"the rows are {numbers}.", "Keep every row, in its place for life.")
    keys = [option.key for option in offer.outcome.options]
    for row in made:
        if [cell.option for cell in row.cells] != keys:
            yield Breach(OFFER, f"row {row.number.raw()}", CELLS_RULE,
                         f"it answers for {', '.join(cell.option for cell in row.cells)}.",
                         "Answer for each option, in order.")


def _rows_shown(offer: Offer, made: Sequence[Row], page: Page) -> Iterator[Breach]:
    names = [option.name for option in offer.outcome.options]
    shown = list(ROW.finditer(page.html))
    numbers = [int(row[1]) for row in shown]
    if numbers != list(range(1, len(ROWS) + 1)):
        yield Breach(page.name, "rows", ROWS_RULE, f"the rows are {numbers}.",
                     "Print every row, in its place for life.")
    same = {int_of(row.number): row.same for row in made}
    for row in shown:
        place, cells = f"row {row[1]}", CELL.findall(row[2])
        options = [words_of(option) for _, cell in cells for option in OPTION.findall(cell)]
        empty = [option for option, (_, cell) in zip(options, cells, strict=False)
                 if not words_of(OPTION.sub("", cell))]
        if empty:
            yield Breach(page.name, place, CELLS_RULE, f"the cell of {', '.join(empty)} is empty.",
                         "Print an answer for each option.")
        if len(cells) == 1 and "colspan=" in cells[0][0]:
            if not same.get(int(row[1]), False):
                yield Breach(page.name, place, CELLS_RULE, "it says the same for all, and the answers differ.",
                             "Print a cell for each option.")
        elif options != names or len(cells) != len(names):
            yield Breach(page.name, place, CELLS_RULE, f"it answers for {', '.join(options) or 'no option'}.",
                         f"Answer for {', '.join(names)}, in this order.")
        if row[1] == "2":
            for option, (_, cell) in zip(options, cells, strict=False):
                answer = words_of(OPTION.sub("", cell))
                if not re.match(r"(?:Same in all \w+\. )?YES\b", answer):
                    yield _says_no(page, place, option, answer)


# --- the order of the options, and whether a price can rise --------------------------------------------------


def _prices(offer: Offer) -> Iterator[Breach]:
    prices = [int_of(option.price) for option in offer.outcome.options]
    if prices != sorted(prices):
        yield Breach(OFFER, "options", ORDER_RULE,
                     f"the order is "
                     f"{', '.join(f'{option.name} {option.price.say()}' for option in offer.outcome.options)}.",
                     "Sort the options by their price today.")


def _order(offer: Offer, page: Page) -> Iterator[Breach]:
    """Options that are listed stand in order of price today; a table of all prices today says so."""
    by_price = [option.name for option in sorted(offer.outcome.options, key=lambda option: int_of(option.price))]
    names = "|".join(re.escape(name) for name in by_price)
    listing = re.compile(rf"<(?:(th|dt|li|h[2-4])\b[^>]*>\s*({names})(?=\s*[<,:])"
                         r"|/(thead|tbody|table|dl|ul|ol|section)>)")
    lists: dict[str, list[str]] = {tag: [] for tag in ENDS}
    for found in listing.finditer(page.html):
        if found[1]:
            listed = lists[found[1]]
            if found[2] in listed:
                listed.clear()
            listed.append(found[2])
            if listed != sorted(listed, key=by_price.index):
                yield Breach(page.name, page.place(found.start()), ORDER_RULE, f"the order is {', '.join(listed)}.",
                             f"List the options as {', '.join(by_price)}.")
                listed.clear()
        else:
            for tag, ends in ENDS.items():
                if found[3] in ends:
                    lists[tag].clear()
    prices = [f'data-figure="{option.price.name}"' for option in offer.outcome.options]
    for table in TABLE.finditer(page.html) if all(price in page.html for price in prices) else ():
        if all(price in table[0] for price in prices) and not re.search(r"[Ll]owest (?:price )?today first", table[0]):
            yield Breach(page.name, page.place(table.start()), ORDER_RULE, "a table of all prices does not say so.",
                         "Write `Lowest today first` into its head.")


def _rise(page: Page) -> Iterator[Breach]:
    """Every answer under a head `Can it rise?` starts with YES: no way in use has no way up."""
    for table in TABLE.finditer(page.html) if "rise?" in page.html else ():
        lines = [[words_of(cell) for cell in ANY_CELL.findall(line)] for line in LINE.findall(table[0])]
        head = lines[0] if lines else []
        for at in [i for i, cell in enumerate(head) if re.search(r"\brise\?$", cell)]:
            for line in lines[1:]:
                if len(line) == len(head) and not re.match(r"YES\b", line[at]):
                    yield _says_no(page, page.place(table.start()), line[0], line[at])


def _says_no(page: Page, place: str, option: str, answer: str) -> Breach:
    return Breach(page.name, place, RISE_RULE, f"{option} says: {answer}",
                  "Start with YES and what can raise it: your own changes can raise any price.")


# --- good things and drawbacks ----------------------------------------------------------------------------


def _sides(offer: Offer) -> Mapping[str, Mapping[str, tuple[Remark, ...]]]:
    terms = [(option.name, offer.terms[option.key]) for option in offer.outcome.options]
    return {"good things": {name: each.good for name, each in terms},
            "drawbacks": {name: each.drawbacks for name, each in terms}}


def _remarks(offer: Offer) -> Iterator[Breach]:
    counts = {f"{name}, {side}": len(remarks) for side, options in _sides(offer).items() for name,
              remarks in options.items()}
    if len(set(counts.values())) > 1 or 0 in counts.values():
        yield Breach(OFFER, EACH, REMARKS_RULE, "; ".join(f"{what}: {count}" for what, count in counts.items()) + ".",
                     "Write as many for each option and side.")
    for side, options in _sides(offer).items():
        for name, remarks in options.items():
            for remark in remarks:
                if not 1 <= int_of(remark.row) <= len(ROWS):
                    yield Breach(OFFER, f"row {remark.row.raw()}", REMARKS_RULE,
                                 f"{name}, {side}: `{remark.says}` rests on no row.",
                                 f"Name one of rows 1 to {len(ROWS)}.")
        long = {name: sum(len(remark.says.text.split()) for remark in remarks) for name, remarks in options.items()}
        if max(long.values()) - min(long.values()) > max(Fraction(WORDS), SHARE * max(long.values())):
            yield Breach(OFFER, EACH, LENGTH_RULE,
                         f"words of {side}: {', '.join(f'{name} {count}' for name, count in long.items())}.",
                         "Shorten the longest or say more in the shortest.")


def _remarks_shown(offer: Offer, page: Page) -> Iterator[Breach]:
    """The page prints the remarks of the offer, all of them and no more."""
    shown = {words_of(name): {side: [(words_of(says), int(row)) for says, row in ITEM.findall(items)]
                              for side, items in ITEMS.findall(body)} for name, body in ARTICLE.findall(page.html)}
    wanted = {option.name: {side: [(" ".join(remark.says.text.split()), int_of(remark.row))
                                for remark in remarks]
                         for side, remarks in (("pro", offer.terms[option.key].good),
                                               ("con", offer.terms[option.key].drawbacks))}
              for option in offer.outcome.options}
    for name, sides in wanted.items():
        for side, remarks in sides.items():
            there = shown.get(name, {}).get(side, [])
            if there != remarks:
                amiss = [says for says, _ in remarks if says not in dict(there)]
                yield Breach(page.name, EACH, REMARKS_RULE,
                             f"{name}: {len(there)} of {len(remarks)} {'good things' if side == 'pro' else 'drawbacks'}"
                             f" stand there as offered{': not `' + amiss[0] + '`' if amiss else ''}.",
                             "Print every one, with the row that it rests on.")


# --- nothing chosen, nothing hidden -----------------------------------------------------------------------


def _attributes(page: Page) -> Iterator[Breach]:
    bad = {shape for shape in page.shapes if _bad_shape(shape)}
    if bad:
        for found in TAG.finditer(page.ours):
            if re.sub(r'="[^"]*"', "", found[0]) in bad:
                yield from _bad_tag(page, found.start(), found[0].lower())
    for name in set(re.findall(r'\sclass="([^"]*)"', "".join(page.tags))):
        if CLASSES.search(name):
            at = page.html.find(f'class="{name}"')
            yield Breach(page.name, page.place(page.html.rfind("<", 0, at)), CHOSEN_RULE, f"the class `{name}`.",
                         "Leave it out: no option is set off from the others.")
    body = page.html.find("<body")
    at = page.html.find("<title", max(body, 0))
    if body >= 0 and at >= 0:
        yield Breach(page.name, page.place(at), FOLD_RULE, "a <title> in a drawing is a tooltip.",
                     "Say it in words beside the drawing.")
    for found in HIDDEN.finditer(page.ours) if " hidden" in page.html else ():
        if "<data" in found[2]:
            yield Breach(page.name, page.place(found.start()), FOLD_RULE, f"figures are hidden: {words_of(found[2])}",
                         "Show them.")


def _bad_shape(shape: str) -> bool:
    tag, *names = shape[1:-1].lower().replace("/", " ").split()
    return tag in FOLDS or any(name in CHOSEN or name in ("title", "popover", "aria-checked", "aria-selected")
                               for name in names)


def _bad_tag(page: Page, at: int, tag: str) -> Iterator[Breach]:
    name, has = re.split(r"[\s>/]", tag[1:], maxsplit=1)[0], attributes(tag)
    if name in FOLDS:
        yield Breach(page.name, page.place(at), FOLD_RULE, f"<{name}>", "Show it, or give it a sheet of its own.")
    for one in has:
        if one in ("title", "popover"):
            yield Breach(page.name, page.place(at), FOLD_RULE, f'{one}="{has[one]}"', "Print it where it can be read.")
        elif one in CHOSEN or (one in ("aria-checked", "aria-selected") and has[one] == "true"):
            yield Breach(page.name, page.place(at), CHOSEN_RULE, f"<{name} {one}>", "Leave it out: the reader chooses.")


# --- never ahead ------------------------------------------------------------------------------------------


def _dominated_said(offer: Offer, pages: Sequence[Page]) -> Iterator[Breach]:
    said = [found[2] for page in pages if DOMINATED in page.html for found in re.finditer(
        rf'<([a-z0-9]+)[^>]*\sid="{DOMINATED}"[^>]*>(.*?)</\1>', page.html, re.DOTALL)]
    text = words_of(" ".join(said))
    behind = dominated(offer)
    for option in offer.outcome.options:
        if option.key in behind and option.name not in text:
            yield Breach(COMPARE, DOMINATED, DOMINATED_RULE,
                         f"{option.name} never ends cheapest, leads on no row, and no page says so.",
                         f'Say so in an element with id="{DOMINATED}", or do not offer it.')


__all__ = ["DOMINATED", "fairness", "form"]
