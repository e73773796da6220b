"""What only the working out can show: each fault at its line, and silence when it is mended."""

from __future__ import annotations

import re
import shutil
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given as over
from hypothesis import strategies as st

from sitegen.build import build, check
from sitegen.dates.payments import amounts
from sitegen.errors import Faults
from sitegen.job.books import Kit
from sitegen.job.load import load
from sitegen.offer.payments import overlay, payments_of
from sitegen.review import faults as review
from sitegen.survey.house import kit_of
from sitegen.workspace import Workspace
from tests.golden.made import Case
from tests.helpers import BAD_JOBS, DEMO, JOB, BadJob, edit

CASES: dict[str, Any] = yaml.safe_load((BAD_JOBS / "worked-out.yaml").read_text("utf-8"))
INPUTS = load(DEMO, DEMO / JOB, DEMO)
ONE, BARE = kit_of(INPUTS, "fixed-guarantee"), kit_of(INPUTS, "minimal-protection")


def said(home: Path, job: str, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every fault of a job, those worked out too, as it is printed from inside the workspace."""
    monkeypatch.chdir(home)
    try:
        check(Workspace(home, home / "site"), home / job)
    except Faults as error:
        return [str(fault) for fault in error.faults]
    return []


def workspace(tmp_path: Path) -> Path:
    """The demo workspace with all of its houses, copied where a test may change it."""
    home = tmp_path / "firm"
    shutil.copytree(DEMO, home, ignore=shutil.ignore_patterns("site"))
    return home


@pytest.mark.parametrize("name", CASES)
def test_a_fault_that_is_worked_out_is_said_at_its_line_and_mended(tmp_path: Path, name: str,
                                                                   monkeypatch: pytest.MonkeyPatch) -> None:
    """The whole message, no other beside it, and none once the remedy is done."""
    home, case = workspace(tmp_path), CASES[name]
    bad, job = BadJob(name, tuple(case["edits"]), tuple(case["says"])), case.get("job", JOB)
    bad.make(home)
    assert said(home, job, monkeypatch) == bad.expected(home)
    for one in case["mended"]:
        edit(home / one["in"], one["old"], one["new"])
    assert said(home, job, monkeypatch) == []


def test_a_build_is_stopped_by_what_is_worked_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No site is written for a job with such a fault."""
    home = workspace(tmp_path)
    BadJob("", tuple(CASES["a-finding-that-nobody-answers"]["edits"]), ()).make(home)
    monkeypatch.chdir(home)
    with pytest.raises(Faults):
        build(Workspace(home, home / "site"), home / JOB)
    assert not (home / "site").exists()


def test_an_option_that_does_nothing_is_refused_at_its_line(tmp_path: Path) -> None:
    """Where no place is new and all that is there is new, no option would do anything: a fault each, no traceback."""
    rooms = {room.room: room.now for room in load(DEMO, DEMO / "juniper-court", DEMO).job.rooms}
    sets = {f"rooms.{name}.want": {kind: str(count) for kind, count in now.items()} for name, now in rooms.items()}
    late = {f"kits.{kit}.payments.{key}": value for kit in ("one-2026", "item-2026") for key, value in (
        ("after", {"old wires dead": "1 of 100", "holes closed": "1 of 100"}), ("held to the end", "98 of 100"))}
    idle = Case("idle", "juniper-court", {"job.yaml": {**sets, "findings": [], "photographs": [],
                                                       "feeds.porch.evidence": "new",
                                                       "feeds.porch.seen": "grounded cable followed to its end"},
                                          "price-book.yaml": late})
    with pytest.raises(Faults) as error:
        idle.offer(tmp_path / "firm")
    assert [re.sub(r"^.*job.yaml:\d+: ", "", str(fault)) for fault in error.value.faults] == [
        f"options[{at}].option: `{option}` covers {covers}, and that is nothing in this house. Count points under "
        "`listed` or new places under `want`, so that each option has something to do."
        for at, option, covers in ((1, "minimal-protection", "the list"), (2, "per-item", "the list"),
                                   (3, "fixed-guarantee", "every point"))]


def test_no_lead_licence_is_asked_for_where_nothing_is_owed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A house in which no room owes the rule asks for no certificate of the firm, and for a renovator all the same,
    who checks the cleaning by the firm's own standard."""
    home = workspace(tmp_path)
    for name in ("no-lead-licence-where-the-rule-is-owed", "no-renovator-where-the-rule-is-owed"):
        BadJob(name, tuple(CASES[name]["edits"]), ()).make(home)
    found = said(home, "juniper-court", monkeypatch)
    assert ["Old paint is cut in" in fault and "certified renovator" in fault for fault in found] == [True]


def test_a_deposit_that_the_card_allows_comes_off_the_next_payment() -> None:
    """One tenth asked before work is part of what is due next, never on top of the price: when the old wires are dead,
    or in a house that is lived in when the holes are closed, since there the old wires go last."""
    terms = ONE.payments.model_copy(update={"before_work": 100_000})
    kit = ONE.model_copy(update={"payments": terms})
    dead, closed = ("old wires dead", None, Fraction(1, 2)), ("holes closed", None, Fraction(3, 20))
    last = ("all finished", None, Fraction(1, 4))
    assert [(one.after, one.cents, one.share) for one in payments_of(kit, 1_000_000, lived_in=False)] == [
        ("start", 100_000, None), dead, closed, last]
    assert [(one.after, one.cents, one.share) for one in payments_of(kit, 1_000_000, lived_in=True)] == [
        ("start", 100_000, None), ("holes closed", None, Fraction(1, 20)),
        ("old wires dead", None, Fraction(3, 5)), last]


@over(st.integers(1, 10_000_000), st.fractions(0, 1, max_denominator=30), st.sampled_from([ONE, BARE]),
      st.booleans())
def test_payments_come_to_the_price_whatever_the_deposit(price: int, part: Fraction, kit: Kit, lived_in: bool) -> None:
    """No payment is below nought and all of them together are the price; what is held is whole while it can be."""
    terms = kit.payments.model_copy(update={"before_work": int(price * part)})
    made = payments_of(kit.model_copy(update={"payments": terms}), price, lived_in)
    paid = amounts(made, price)
    assert sum(paid) == price
    assert min(paid) >= 0
    if part <= sum(terms.after.values()):
        assert made[-1].share == terms.held_to_the_end


def test_a_state_that_says_nothing_has_no_rule() -> None:
    """Without a deposit on its card there is nothing to lean on."""
    assert INPUTS.state.deposit is None
    assert overlay(INPUTS) is None


def test_every_kind_of_wait_and_of_bad_payment_has_its_words() -> None:
    """No key of a calculation reaches a person as a key."""
    from sitegen.dates import payments

    keys = {payments.AHEAD, payments.DEPOSIT, payments.SUM, payments.EARLY, payments.ORDER}
    assert keys == set(review.SAID)
    assert all(words.startswith("the ") for words in review.WAITS.values())
