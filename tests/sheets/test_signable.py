"""What of an offer may be signed: the data that page 7 holds, the gate of the state, and what is kept of it."""

from __future__ import annotations

import hashlib
import json
from datetime import date, timedelta
from pathlib import Path

import msgspec
import pytest
import rfc8785

from sitegen.build import offer_of
from sitegen.dates.cancellation import last_day_to_cancel
from sitegen.figure import int_of
from sitegen.job.cards import PLACES
from sitegen.offer.offer import Offer
from sitegen.offer.signable import MARK, MARK_LETTERS, NAME, WITHIN, Signable, mark_of
from sitegen.rules.statutes import drafts, statutes
from sitegen.sheets.cache import Cache
from sitegen.sheets.signable import bytes_of, fingerprint_of, signable_of
from sitegen.sheets.site import SiteWriter
from sitegen.survey.rule_sets import rule_set
from sitegen.workspace import Workspace
from tests.built import HOUSES, offer
from tests.helpers import DEMO, JOB, demo_copy, edit, sitegen


@pytest.fixture(scope="module")
def writer() -> SiteWriter:
    """Words and templates, made ready once."""
    return SiteWriter(DEMO, Cache())


def signed(job: str, writer: SiteWriter) -> Signable:
    """What may be signed of one demo house."""
    return signable_of(offer(job), writer.words)


@pytest.mark.parametrize("job", HOUSES)
def test_the_data_is_canonical_and_reads_back(job: str, writer: SiteWriter) -> None:
    """Its bytes are those of RFC 8785 but for `<`, which could end a script, and read back to the same."""
    data = writer.agreement(offer(job))
    assert rfc8785.dumps(json.loads(data)) == data.replace(rb"\u003c", b"<")
    assert b"<" not in data
    assert msgspec.json.decode(data, type=Signable) == signed(job, writer)
    assert fingerprint_of(data) == hashlib.sha512(data).hexdigest()


def test_a_sign_that_could_end_a_script_is_written_another_way(writer: SiteWriter) -> None:
    """A name with a tag in it stands in the bytes without its sign, and reads back as it was."""
    one = msgspec.structs.replace(signed(JOB, writer), firm="</script><b>")
    data = bytes_of(one)
    assert b"<" not in data
    assert msgspec.json.decode(data, type=Signable).firm == "</script><b>"


@pytest.mark.parametrize("job", HOUSES)
def test_prices_payments_and_caps_are_those_of_the_offer(job: str, writer: SiteWriter) -> None:
    """Payments come to the price to the cent; what caps hold is the price and the caps; days are those of the plans."""
    one, made = signed(job, writer), offer(job)
    for choice, option in zip(one.choices, made.outcome.options, strict=True):
        assert choice.price == int_of(option.price)
        assert sum(due.cents for due in choice.payments) == choice.price
        caps = [option.case_cap if option.cases else 0, 0 if option.covers_all else option.added_cap]
        held = None if None in caps else choice.price + sum(cap if isinstance(cap, int) else int_of(cap)
                                                            for cap in caps if cap is not None)
        assert choice.most == held
        assert {days.lives for days in choice.days} == {"empty", "lived-in"}
        assert all(days.dead <= days.finished for days in choice.days)
        assert {rise.key for rise in choice.rises} >= {f"case-{case.key}" for case in option.cases}
        assert {"more-old"} <= {rise.key for rise in choice.rises} or option.covers_all


@pytest.mark.parametrize("job", HOUSES)
def test_points_of_a_list_at_set_prices_come_to_their_part_of_the_sum(job: str, writer: SiteWriter) -> None:
    """Each line of a list that is sold, at its set price, adds up to what the sum of the price says of points."""
    for choice, option in zip(signed(job, writer).choices, offer(job).outcome.options, strict=True):
        parts = sum(int_of(line.amount) for line in option.price.sum
                    if line.what in ("list-points", "points-of-kind", "new-places"))
        if option.covers_all or int_of(option.places_held) < int_of(offer(job).found.new_places):
            continue
        assert sum(line.count * (line.each or 0) for line in choice.listed) == parts


@pytest.mark.parametrize("job", HOUSES)
def test_every_line_of_the_scope_stands_in_every_choice(job: str, writer: SiteWriter) -> None:
    """Each option answers every item in words, and an item is in its price where the table says so."""
    rows = offer(job).scope.rows
    for choice in signed(job, writer).choices:
        assert [line.item for line in choice.scope] == [row.key for row in rows]
        assert all(line.says.strip() for line in choice.scope)
        states = {row.key: cell.state for row in rows for cell in row.cells if cell.option == choice.option}
        assert {line.item for line in choice.scope if line.state == WITHIN} == {
            key for key, state in states.items() if state == "in"}


def test_holidays_give_the_last_day_that_the_calendar_gives(writer: SiteWriter) -> None:
    """Counting every day but Sundays and the listed days gives the day of the calculation, for a year of signatures."""
    one, rules = signed(JOB, writer), rule_set("2023")
    days = [one.prepared + timedelta(count) for count in range(366)]
    for day in days:
        last, left = day, one.cancel_days
        while left:
            last += timedelta(1)
            left -= last.weekday() != 6 and last not in one.holidays
        assert last == last_day_to_cancel(day, day, rules.cancel, rules.holidays).day
    assert date(2026, 11, 26) in one.holidays


def test_the_mark_follows_from_the_offer_and_is_read_without_doubt() -> None:
    """Two offers have two marks, of six letters that are no vowel and nothing like a digit."""
    marks = {mark_of(hashlib.sha512(bytes([one])).hexdigest()) for one in range(200)}
    assert len(marks) == 200
    assert all(len(mark) == MARK and set(mark) <= set(MARK_LETTERS) for mark in marks)
    assert not set(MARK_LETTERS) & set("AEIOUY01")


# --- the gate ---------------------------------------------------------------------------------------------


def offer_in(home: Path) -> Offer:
    """The offer of a copy of the demo."""
    return offer_of(Workspace(home, home / "site"), home / JOB)


def gate(home: Path) -> tuple[bool, str]:
    """Whether signing on a screen is built in a workspace, and why."""
    state = offer_in(home).agreement.state
    return state.open, state.why


@pytest.mark.parametrize(("old", "new", "says"), [
    ("draft: no", "draft: yes", "draft"),
    ("reviewed on: 2026-09-07", "reviewed on: 2025-12-17", "review lapsed"),
    ("reviewed on: 2026-09-07", "reviewed on: 2026-11-19", "reviewed later"),
    ("reviewed by: Ilka Marenholt (an invented lawyer)\n", "", "not reviewed"),
    ("name: Tessamin", "name: Minnesota", "live"),
    ("name: Tessamin", "name: Wisconsin", "not whole"),
])
def test_the_gate_is_shut_without_a_live_review(tmp_path: Path, old: str, new: str, says: str) -> None:
    """A draft, a review that is missing, later or older than twelve months on the last day of prices, and a card that
    lacks a duty of our draft of its state, open nothing."""
    home = demo_copy(tmp_path)
    edit(home / "states" / "tessamin.yaml", old, new)
    assert gate(home) == (says == "live", says)


def test_the_gate_is_open_to_the_last_day_of_a_review(tmp_path: Path) -> None:
    """A review of twelve months before the last day of the prices is live."""
    home = demo_copy(tmp_path)
    edit(home / "states" / "tessamin.yaml", "reviewed on: 2026-09-07", "reviewed on: 2025-12-18")
    assert gate(home) == (True, "live")


def test_an_option_that_the_state_refuses_carries_the_reason(tmp_path: Path, writer: SiteWriter) -> None:
    """The reason stands with that option and with no other."""
    home = demo_copy(tmp_path)
    edit(home / "states" / "tessamin.yaml", "draft: no", "draft: no\nrefuses: {per-item: One total is asked here.}")
    found = {choice.option: choice.refused for choice in signable_of(offer_in(home), writer.words).choices}
    assert found == {"minimal-protection": None, "per-item": "One total is asked here.", "fixed-guarantee": None}


# --- drafts and texts -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(drafts()))
def test_a_draft_of_a_state_is_a_draft_with_sources(name: str) -> None:
    """Every duty of ours names its section and its source, says nothing of a review, and could stand on a card."""
    draft = drafts()[name]
    assert draft.draft
    assert draft.duties
    for duty in draft.duties:
        assert duty.asks.endswith(".")
        assert duty.where.strip()
        assert duty.source.strip()
        assert duty.place in (*PLACES, None)


def test_the_statement_beside_the_signature_is_that_of_the_rule(writer: SiteWriter) -> None:
    """The words of 16 CFR 429.1(a) stand letter by letter, as the last thing that is acknowledged."""
    said = ("You, the buyer, may cancel this transaction at any time prior to midnight of the third business day after "
            "the date of this transaction. See the attached notice of cancellation form for an explanation of this "
            "right.")
    assert statutes()["cancel-statement"].text == (said,)
    last = signed(JOB, writer).statements[-1]
    assert (last.key, last.says) == ("right-to-cancel", said)


# --- kept -------------------------------------------------------------------------------------------------


def test_it_is_kept_beside_the_offer_in_the_bytes_of_the_page(tmp_path: Path, writer: SiteWriter) -> None:
    """`sitegen keep` writes the data once, hashed with all that is kept."""
    home = demo_copy(tmp_path)
    assert sitegen("keep", JOB, cwd=home).returncode == 0
    kept = home / JOB / "offers" / "1"
    data = (kept / NAME).read_bytes()
    assert data == writer.agreement(offer(JOB))
    assert json.loads((kept / "kept.json").read_text("utf-8"))[NAME] == hashlib.sha256(data).hexdigest()
