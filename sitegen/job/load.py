"""From documents to checked parts: every fault of every file in one pass.

pydantic reads a whole file at once.  Where something is wrong, each field and each item of a list is read
again alone, so that the checks in `check.py` can still run over whatever is sound.
"""

from __future__ import annotations

import difflib
import types
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any, TypeVar, Union, cast, get_args, get_origin

from msgspec import Struct
from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from sitegen.errors import Fault, Faults
from sitegen.job.books import CostBook, PriceBook
from sitegen.job.cards import Company, State, Town
from sitegen.job.check import check
from sitegen.job.document import Document, Path_, read, short, taken_apart, text_of
from sitegen.job.fields import CODES
from sitegen.job.finished import Finished
from sitegen.job.gaps import is_blank, together
from sitegen.job.grid import GridDocument, with_rooms
from sitegen.job.inputs import Gathered, Inputs, Sound
from sitegen.job.kept import read_kept
from sitegen.job.model import Job

M = TypeVar("M", bound=BaseModel)

BUILT_IN = ("missing", "extra_forbidden", "model_type", "model_attributes_type", "dict_type", "list_type")
"""The kinds of error that pydantic itself can raise on these models; each has a sentence in `_explain`."""


def load(home: Path, folder: Path, shown: Path) -> Inputs:
    """Read and check everything that one job stands on; raises Faults with all that is wrong.

    `home` is the workspace, `folder` the job's folder, `shown` what file names are shown relative to.
    """
    paths = {"job": folder / "job.yaml", "company": home / "company.yaml", "book": home / "price-book.yaml",
             "costs": home / "cost-book.yaml"}
    cards = {name: _card(CARDS[name], paths[name], shown) for name in ("company", "book", "costs")}
    job = with_rooms(read(paths["job"], _shown(paths["job"], shown)), folder, _kinds(cards["book"].document))
    if isinstance(job, GridDocument) and job.path:
        paths["rooms"] = job.path
    town = _named(job, "town")
    paths["town"] = home / "towns" / f"{town or 'none'}.yaml"
    cards["town"] = _card(Town, paths["town"], shown) if town else _read(Town, Document("towns"))
    state = _named(cards["town"].document, "state")
    paths["state"] = home / "states" / f"{state or 'none'}.yaml"
    cards["state"] = _card(State, paths["state"], shown) if state else _read(State, Document("states"))
    cards["finished"] = _finished(home, shown, paths)
    cards = {"job": _read(Job, job), **cards}

    faults: list[Fault] = [fault for found in cards.values() for fault in found.document.faults]
    faults.extend(fault for found in cards.values() for fault in found.faults)
    whole: dict[str, Any] = {name: found.made for name, found in cards.items()}
    sound = {name: found.sound for name, found in cards.items()}
    documents = {name: found.document for name, found in cards.items()}
    kept, wrong = read_kept(folder, _shown(folder, shown))
    faults.extend(wrong)
    faults.extend(check(Gathered(folder, **sound, kept=kept)))
    if faults:
        raise Faults(faults)
    whole["finished"] = whole["finished"] or Finished()
    photographs = (*(folder / one.file for one in whole["job"].photographs),
                   *(home / one.photograph for one in whole["company"].people if one.photograph))
    return Inputs(**whole, folder=folder, files=(*paths.values(), *photographs), documents=documents,
                  kept=kept)


def card(model: type[M], path: Path, shown: Path) -> M:
    """One card alone, such as the price book, without checks against others; raises Faults."""
    found = _card(model, path, shown)
    if found.made is None or found.document.faults:
        raise Faults([*found.document.faults, *found.faults])
    return cast(M, found.made)


class Card(Struct, frozen=True):
    """One file: as it was read, as a whole if it is sound, what of it is sound, and what is wrong with it."""

    document: Document
    made: BaseModel | None
    sound: Sound
    faults: list[Fault]


CARDS: dict[str, type[BaseModel]] = {"company": Company, "book": PriceBook, "costs": CostBook}


def _card(model: type[BaseModel], path: Path, shown: Path) -> Card:
    """A card of the firm, which many jobs of a process share."""
    document = Document(_shown(path, shown))
    text = text_of(path, document)
    return _read(model, document) if text is None else _as_text(model, text, document.file)


@lru_cache(maxsize=32)
def _as_text(model: type[BaseModel], text: str, shown: str) -> Card:
    """A card by its text: nobody changes what was made of it, so that it is taken apart once a process."""
    return _read(model, taken_apart(text, shown))


def _finished(home: Path, shown: Path, paths: dict[str, Path]) -> Card:
    """The file of finished jobs, which joins `paths` where there is one; a firm may have none."""
    path = home / "finished.yaml"
    if not path.exists():
        return _read(Finished, Document(path.name))
    paths["finished"] = path
    said = Document(_shown(path, shown))
    text = text_of(path, said)
    if text is None or all(not line or line.startswith("#") for line in map(str.strip, text.splitlines())):
        return _read(Finished, said)        # as it is in a new workspace: explained, and no job in it
    return _as_text(Finished, text, said.file)


def firm(home: Path, shown: Path) -> tuple[Company, PriceBook, Finished]:
    """The company's card, its price book and its finished jobs, without a job; raises Faults with all of them."""
    company, book, finished = (_card(Company, home / "company.yaml", shown),
                               _card(PriceBook, home / "price-book.yaml", shown), _finished(home, shown, {}))
    if faults := [fault for found in (company, book, finished) for fault in (*found.document.faults, *found.faults)]:
        raise Faults(faults)
    return (cast(Company, company.made), cast(PriceBook, book.made), cast(Finished, finished.made or Finished()))


def _kinds(book: Document) -> tuple[str, ...]:
    """The kinds of points of a price book as they are spelled there, whatever else is wrong with it."""
    rates = book.data.get("rates")
    kinds = rates.get("drops a point") if isinstance(rates, dict) else None
    return tuple(kinds) if isinstance(kinds, dict) else ()


def _named(document: Document, key: str) -> str:
    """A file name that one card gives for another, when it is one."""
    from sitegen.job.fields import name
    try:
        return name(document.data.get(key))
    except ValueError:
        return ""


def _shown(path: Path, base: Path) -> str:
    try:
        return str(path.relative_to(base))
    except ValueError:
        return str(path)


def _read(model: type[BaseModel], document: Document) -> Card:
    if not document.data:
        return Card(document, None, Sound(document, {}, {}), [])
    try:
        made = model.model_validate(document.data)
    except ValidationError as error:
        spoiled = document.spoiled if isinstance(document, GridDocument) else set()
        wrong = [dict(item) for item in error.errors(include_url=False) if item["loc"] not in spoiled]
        faults = [_explain(model, item, document) for item in wrong if not is_blank(item)]
        blanks = together((_explain(model, item, document), str(item["type"])) for item in wrong if is_blank(item))
        return Card(document, None, _sound_parts(model, document), [*faults, *blanks])
    return Card(document, made, Sound(document, dict(made), {}), [])


def _sound_parts(model: type[BaseModel], document: Document) -> Sound:
    values: dict[str, Any] = {}
    places: dict[str, tuple[int, ...]] = {}
    for name, info in model.model_fields.items():
        key = info.alias or name
        if key not in document.data:
            if not info.is_required():
                values[name] = info.get_default()
            continue
        kind, raw = _kind(info), document.data[key]
        if get_origin(info.annotation) is list and isinstance(raw, list):
            found = [(i, item) for i, item in ((i, _alone(get_args(info.annotation)[0], item))
                                               for i, item in enumerate(raw)) if item is not None]
            places[name], values[name] = tuple(i for i, _ in found), [item for _, item in found]
        elif get_origin(info.annotation) is dict and isinstance(raw, dict):
            key_kind, inner = get_args(info.annotation)
            entries = {_alone(key_kind, entry): _alone(inner, value) for entry, value in raw.items()}
            values[name] = {entry: value for entry, value in entries.items() if None not in (entry, value)}
        else:
            value = _alone(kind, raw)
            if value is not None:
                values[name] = value
    return Sound(document, values, places)


def _kind(info: FieldInfo) -> Any:
    return Annotated[(info.annotation, *info.metadata)] if info.metadata else info.annotation


def _alone(kind: Any, raw: Any) -> Any:
    try:
        return TypeAdapter(kind).validate_python(raw)
    except ValidationError:
        return None


ALL_BUT = 0.85
"""How like a field of another part a word has to be, to be taken for it."""


def _elsewhere(model: type[BaseModel], word: str, near: list[str]) -> str:
    """Where a word is all but a field of another part of the file, and nearer to that than to any field here."""
    def likeness(name: str) -> float:
        return difflib.SequenceMatcher(None, name, word).ratio()
    found = [(likeness(name), name, key) for key, info in model.model_fields.items()
             if isinstance(info.annotation, type) and issubclass(info.annotation, BaseModel)
             for name in (inner.alias or field for field, inner in info.annotation.model_fields.items())]
    nearest, name, key = max(found, default=(0.0, "", ""))
    if nearest < ALL_BUT or (near and nearest <= likeness(near[0])):
        return ""
    return f"Did you mean `{name}`? It stands under `{key.replace('_', ' ')}`."


def _explain(model: type[BaseModel], error: dict[str, Any], document: Document) -> Fault:
    """One error of the model in our own words."""
    path = tuple(part for part in cast(Path_, error["loc"]) if part != "[key]")
    kind = error["type"]
    if kind in CODES:
        problem, _, remedy = str(error["msg"]).partition("\n")
        return document.fault(path, problem, remedy)
    around, last = path[:-1], str(path[-1]) if path else ""
    part = _part_at(model, around)
    if kind == "missing":
        says = _description(part, last)
        return document.fault(path, f"`{last}` is missing.", f"Add it: {says}." if says else "Add it.")
    if kind == "extra_forbidden":
        allowed = [info.alias or name for name, info in part.model_fields.items()] if part else []
        near = difflib.get_close_matches(last, allowed, 1, 0.6)
        remedy = _elsewhere(model, last, near) or (
            f"Did you mean `{near[0]}`?" if near else f"Known here: {', '.join(allowed)}.")
        return document.fault(path, f"`{short(last)}` is not a field here.", remedy)
    needs, way_out = {
        "list_type": ("a list", "Begin each line below it with a dash."),
        "dict_type": ("lines of the form `key: value`", "Write them below it, set in."),
    }.get(kind, ("lines of the form `key: value`", "Write them below it, set in."))
    return document.fault(path, f"Got {_kind_of(error.get('input'))}, needs {needs}.", way_out)


def _kind_of(value: object) -> str:
    if isinstance(value, str):
        return f"`{short(value, 40)}`" if value.strip() else "nothing"
    return "a list" if isinstance(value, list) else "lines of the form `key: value`"


def _part_at(model: type[BaseModel], path: Path_) -> type[BaseModel] | None:
    """The model that stands at `path`."""
    here: Any = model
    for step in path:
        if isinstance(here, type) and issubclass(here, BaseModel):
            found = [info for name, info in here.model_fields.items() if (info.alias or name) == step]
            here = found[0].annotation if found else None
        elif get_origin(here) is list:
            here = get_args(here)[0]
        elif get_origin(here) is dict:
            here = get_args(here)[1]
        else:
            return None
        if get_origin(here) in (Union, types.UnionType):
            here = next((arm for arm in get_args(here) if arm is not type(None)), None)
    return here if isinstance(here, type) and issubclass(here, BaseModel) else None


def _description(part: type[BaseModel] | None, key: str) -> str:
    for name, info in (part.model_fields if part else {}).items():
        if (info.alias or name) == key:
            return info.description or ""
    return ""


__all__ = ["BUILT_IN", "card", "firm", "load"]
