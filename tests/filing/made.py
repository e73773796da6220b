"""A small workspace of invented cards with one kept offer that may be signed, and records of it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import rfc8785
from msgspec.json import encode

from sitegen.filing import keys, store
from sitegen.filing.add import Given, add
from sitegen.filing.store import Filed
from sitegen.job.kept import HASHES, OFFER, Kept, hashes
from sitegen.offer.signable import (
    BEFORE_START,
    FORMAT,
    NAME,
    NOW,
    Choice,
    Days,
    Due,
    Extra,
    ListLine,
    Rise,
    ScopeLine,
    Signable,
    State,
    Statement,
    mark_of,
)
from sitegen.workspace import Workspace

JOB = "elm-street"
HERE = timezone(timedelta(hours=-5))
SIGNED = datetime(2026, 5, 6, 18, 30, tzinfo=HERE)
"""A Wednesday evening: three business days later is Saturday the ninth."""
CANCEL_BY = date(2026, 5, 9)
CLOCK = datetime(2026, 5, 8, 9, 0, tzinfo=HERE)
DAY = date(2026, 5, 8)
STROKES = [[[100, 200], [180, 120], [260, 220]], [[300, 200], [420, 210]]]
OWNERS = ("Ada Invented", "Ben Invented")


def choice(option: str = "per-item", price: int = 1_860_000, refused: str | None = None) -> Choice:
    """One option of the invented offer."""
    return Choice(option, "Priced by the item", price, price + 400_000,
                  (Due("start", "When work starts", price // 10),
                   Due("all finished", "At the end", price - price // 10)),
                  (ScopeLine("new-panel", "New panel", "in-the-price", "Yes, with its permit"),
                   ScopeLine("attic-light", "Light in the attic", "at-a-set-price", "$310 for each")),
                  (ListLine("Kitchen", "receptacle", 6, "known-old", 31_000),),
                  (Rise("more-old", "More old wires than are listed", price + 400_000),
                   Rise("case-vermiculite", "Loose fill")),
                  (Days("lived-in", date(2026, 6, 12), date(2026, 7, 3)), Days("empty", date(2026, 6, 9),
                                                                             date(2026, 6, 26))), refused)


def signable(**other: Any) -> Signable:
    """The invented offer as it may be signed."""
    plain: dict[str, Any] = {
        "format": FORMAT, "job": JOB, "version": 1, "demo": True, "address": "1 Elm Street, Nowhere",
        "firm": "Invented Electric", "licences": ("electrical 000",), "salesperson": "Cy Invented", "signers": OWNERS,
        "prepared": date(2026, 5, 4), "hold_to": date(2026, 6, 3), "sign_by": date(2026, 5, 20),
        "work_starts": date(2026, 6, 1), "cancel_days": 3, "holidays": (date(2026, 5, 25),),
        "state": State("Nostate", "Dee Invented", date(2026, 1, 5), True),
        "choices": (choice(), choice("one-price", 2_980_000), choice("at-cost", 1_500_000, "It sets no price.")),
        "extras": (Extra("porch-light", "A light on the porch", 41_000, 3), Extra("bell", "A bell", 12_000, 1)),
        "statements": (Statement("copy-in-hand", "A whole copy is in my hand.", NOW),
                       Statement("lead-booklet", "The lead booklet is in my hand.", BEFORE_START),
                       Statement("agreement-read", "I have read all of it.", NOW)),
        "terms": ("Work is done as the permit says.",)}
    return Signable(**{**plain, **other})


def workspace(top: Path, offer: Signable | None = None) -> Workspace:
    """A workspace with its cards, a job, a kept offer of it and a signing key."""
    home = top / "firm"
    (home / "towns").mkdir(parents=True)
    (home / "states").mkdir()
    for name, text in {"company.yaml": "name: Invented Electric\n", "price-book.yaml": "receptacle: 310\n",
                       "cost-book.yaml": "hour: 61\n", "towns/nowhere.yaml": "name: Nowhere\nstate: nostate\n",
                       "states/nostate.yaml": "name: Nostate\n"}.items():
        (home / name).write_text(f"# Invented.\n{text}", "utf-8")
    made = Workspace(home, home / "site")
    keep(home / JOB, offer or signable())
    with store.opened(made) as archive:
        keys.make(made, archive.path)
    return made


def keep(folder: Path, offer: Signable) -> Path:
    """Keep a version of a job as `sitegen keep` does, with ten pages of two words."""
    kept = folder / "offers" / str(offer.version)
    (kept / "site").mkdir(parents=True)
    job = f"job: {folder.name}\ntown: nowhere\n"
    (folder / "job.yaml").write_text(job, "utf-8")
    (kept / "job.yaml").write_text(job, "utf-8")
    for name in ("index", *(f"sheet-{i}" for i in range(9))):
        (kept / "site" / f"{name}.html").write_text(f"<!doctype html><title>Invented {name}</title>", "utf-8")
    (kept / OFFER).write_bytes(encode(Kept(offer.version, {}, {}, {}, {}, {}, {})))
    (kept / NAME).write_bytes(encode(offer, order="sorted"))
    (kept / HASHES).write_text(json.dumps(hashes(kept)), "utf-8")
    return kept


def at(minutes: int) -> str:
    """A time before the signing."""
    return (SIGNED - timedelta(minutes=minutes)).isoformat()


def signature(who: str, name: str, by: str = "drawn", strokes: Any = STROKES, when: str | None = None
              ) -> dict[str, Any]:
    """One signature."""
    return {"who": who, "name": name, "at": when or at(1), "by": by, "strokes": strokes if by == "drawn" else []}


def agreement(kept: Path, **other: Any) -> dict[str, Any]:
    """A sound agreement for the first option with two lights on the porch, as plain data."""
    data = (kept / NAME).read_bytes()
    offer = json.loads(data)
    chosen, more = offer["choices"][0], 2 * 41_000
    paid = [{"after": one["after"], "cents": one["cents"]} for one in chosen["payments"]]
    paid[-1]["cents"] += more
    plain = {
        "format": 1, "kind": "agreement", "job": offer["job"], "version": offer["version"],
        "offer": hashlib.sha512(data).hexdigest(), "option": chosen["option"], "lives": "empty",
        "extras": [{"key": "porch-light", "count": 2}], "total": chosen["price"] + more, "payments": paid,
        "choice": chosen, "work_starts": offer["work_starts"], "cancel_by": CANCEL_BY.isoformat(),
        "signed_at": SIGNED.isoformat(), "copy_in_hand_at": at(40),
        "statements": [{"key": one["key"], "says": one["says"], "state": "done", "at": at(10)}
                       for one in offer["statements"]],
        "rises": [{"key": one["key"], "at": at(8)} for one in chosen["rises"]],
        "consent": {"mark": mark_of(hashlib.sha512(data).hexdigest()), "at": at(20)}, "way": "screen",
        "signatures": [*(signature("owner", one) for one in offer["signers"]), signature("firm", "Cy Invented")]}
    plain["statements"][1] |= {"state": "due-before-start", "at": None}
    return {**plain, **other}


def change(prior: Mapping[str, Any], **other: Any) -> dict[str, Any]:
    """A sound change order to an agreement, or to the order before it, as the page writes one."""
    cents, later = 3 * 31_000, "2026-06-04T09:00:00-05:00"
    paid = [dict(one) for one in prior["payments"]]
    paid[-1]["cents"] += cents
    return {"format": 1, "kind": "change", "job": prior["job"], "version": prior["version"],
            "prior": hashlib.sha512(rfc8785.dumps(dict(prior))).hexdigest(), "number": prior.get("number", 0) + 1,
            "option": prior["option"],
            "what": [{"item": "receptacle", "says": "Receptacles in the den", "count": 3, "each": 31_000,
                      "cents": cents}], "cents": cents, "total": prior["total"] + cents, "added_days": 1,
            "because": "The owners asked for them.", "payments": paid, "signed_at": later,
            "signatures": [*(signature("owner", one, when=later) for one in OWNERS),
                           signature("firm", "Cy Invented", when=later)], **other}


def cancellation(prior: Mapping[str, Any], **other: Any) -> dict[str, Any]:
    """A cancellation in time: ten business days from Friday the eighth, less a Monday in between."""
    return {"format": 1, "kind": "cancellation", "job": prior["job"], "version": prior["version"],
            "prior": hashlib.sha512(rfc8785.dumps(dict(prior))).hexdigest(), "said_at": "2026-05-08T08:00:00-05:00",
            "how": "A letter handed to the office.", "by": OWNERS[0], "refund": 0, "refund_by": "2026-05-20",
            "signatures": [], **other}


def write(path: Path, record: Mapping[str, Any]) -> Path:
    """A record as a device would save it."""
    path.write_bytes(rfc8785.dumps(dict(record)))
    return path


def file(made: Workspace, record: Mapping[str, Any], now: datetime = CLOCK, **given: Any) -> Filed:
    """File a record."""
    return add(made, Given(write(made.home.parent / "record.json", record), now, now.date(), **given))


def kept_of(made: Workspace, version: int = 1) -> Path:
    """The folder of the kept offer."""
    return made.home / JOB / "offers" / str(version)
