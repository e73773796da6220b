"""Filing sound records, and refusing what does not match, each with both figures and nothing written."""

from __future__ import annotations

import hashlib
import json
from datetime import date, datetime
from pathlib import Path
from typing import Any

import bagit
import pytest
import rfc8785

from sitegen.errors import BuildError, Faults, UsageError
from sitegen.filing.add import Given, add
from sitegen.filing.record import MOST
from sitegen.filing.store import looked_at, opened
from sitegen.workspace import Workspace
from tests.filing import made
from tests.helpers import tree

LATER = datetime(2026, 6, 10, 9, 0, tzinfo=made.HERE)


@pytest.fixture
def firm(tmp_path: Path) -> Workspace:
    """A workspace whose archive is empty."""
    return made.workspace(tmp_path)


def wrong(firm: Workspace, record: dict[str, Any], now: datetime = made.CLOCK, **given: Any) -> list[str]:
    """What is said of a record that is refused, without its file; the archive is as it was."""
    before = tree(firm.archive)
    with pytest.raises(Faults) as refused:
        made.file(firm, record, now, **given)
    assert tree(firm.archive) == before
    return [f"{one.where}: {one.problem}" if one.where else one.problem for one in refused.value.faults]


def test_a_record_is_filed_in_its_canonical_form_with_all_that_it_stands_on(firm: Workspace) -> None:
    """The bag holds the canonical bytes, the kept offer whole, and the cards, and never what things cost the firm."""
    record = made.agreement(made.kept_of(firm))
    given = firm.home.parent / "loose.json"
    given.write_text(json.dumps(record, indent=2), "utf-8")
    filed = add(firm, Given(given, made.CLOCK, made.DAY))
    held = tree(filed.path / "data")
    assert held.pop("record.json") == rfc8785.dumps(record)
    offer = {f"offer/{name}": data for name, data in tree(made.kept_of(firm)).items()}
    books = {f"books/{name}": (firm.home / name).read_bytes()
             for name in ("company.yaml", "price-book.yaml", "towns/nowhere.yaml", "states/nostate.yaml")}
    assert held == offer | books
    assert b"hour" not in b"".join(held.values())


def test_the_bagit_library_accepts_every_kind_of_bag(firm: Workspace) -> None:
    """An agreement, a change order, a cancellation and a paper with its scan are each valid by RFC 8493."""
    record = made.agreement(made.kept_of(firm))
    filed = [made.file(firm, record), made.file(firm, made.change(record), LATER),
             made.file(firm, made.cancellation(record), LATER)]
    scan = firm.home.parent / "signed.PDF"
    scan.write_bytes(b"%PDF-1.7 invented")
    filed.append(made.file(firm, paper(firm), scan=scan))
    assert tree(filed[-1].path)["data/scan.pdf"] == scan.read_bytes()
    for one in filed:
        bag = bagit.Bag(str(one.path))
        assert bag.validate()
        assert bag.info["External-Identifier"] == one.path.name
        assert bag.info["Bagging-Date"] == one.entry.day.isoformat()


def paper(firm: Workspace) -> dict[str, Any]:
    """The agreement as it is signed on paper."""
    names = [("owner", one) for one in made.OWNERS] + [("firm", "Cy Invented")]
    return made.agreement(made.kept_of(firm), way="paper", consent=None,
                          signatures=[made.signature(who, name, "paper") for who, name in names])


def test_files_are_for_their_owner_alone(firm: Workspace) -> None:
    """No folder and no file of the archive, nor the key, can be read by anybody else."""
    made.file(firm, made.agreement(made.kept_of(firm)))
    for path in (*firm.archive.rglob("*"), firm.archive, firm.home / "signing-key.pem"):
        assert path.stat().st_mode & 0o077 == 0, path


DIFFERS: list[tuple[dict[str, Any], list[str]]] = [
    ({"total": 1_800_000}, ["total: It says $18,000, and the offer comes to $19,420."]),
    ({"payments": [{"after": "start", "cents": 1_942_000}]},
     ["payments: It says $19,420 after start, and the offer $1,860 after start; $17,560 after all finished."]),
    ({"extras": [{"key": "porch-light", "count": 4}]},
     ["extras: It has 4 of `porch-light`, and the offer at most 3.",
      "payments: It says $1,860 after start; $17,560 after all finished, and the offer $1,860 after start; $18,380 "
      "after all finished.", "total: It says $19,420, and the offer comes to $20,240."]),
    ({"extras": [{"key": "gazebo", "count": 1}, {"key": "porch-light", "count": 2}]},
     ["extras: It has `gazebo`, which was not offered."]),
    ({"version": 2}, ["version: Version 2 of elm-street was never kept, so that nobody was handed it."]),
    ({"job": "oak-street"}, ["job: There is no job `oak-street` in"]),
    ({"offer": "0" * 128}, ["consent.mark: It is ", "offer: It is of the offer 0000000000000000..., and version 1 as "
                            "handed over is"]),
    ({"option": "gone"}, ["option: It is `gone`, and the offer has per-item, one-price, at-cost."]),
    ({"work_starts": "2026-06-02"}, ["work_starts: It says 2026-06-02, and the offer 2026-06-01."]),
    ({"work_starts": "2026-05-09"}, [
        "work_starts: It is 2026-05-09, and the right to cancel ends with 2026-05-09: no work before that.",
        "work_starts: It says 2026-05-09, and the offer 2026-06-01."]),
    ({"copy_in_hand_at": "2026-05-03T10:00:00-05:00"},
     ["copy_in_hand_at: It is of 2026-05-03T10:00:00-05:00, before the offer was made on 2026-05-04."]),
    ({"extras": [{"key": "porch-light", "count": 1}, {"key": "bell", "count": 1}], "total": 1_913_000},
     ["extras: They stand as porch-light, bell, and a record has them as bell, porch-light.",
      "payments: It says $1,860 after start; $17,560 after all finished, and the offer $1,860 after start; $17,270 "
      "after all finished."]),
    ({"cancel_by": "2026-05-08"}, ["cancel_by: It says 2026-05-08, and counted from 2026-05-06 it is 2026-05-09."]),
    ({"statements": []}, ["statements: copy-in-hand, lead-booklet, agreement-read is missing."]),
    ({"rises": []}, ["rises: more-old, case-vermiculite is missing."]),
    ({"consent": None}, ["consent: Nobody agreed to a record on a screen, so that it takes paper."]),
    ({"consent": {"mark": "BBBBBB", "at": made.at(20)}}, ["consent.mark: It is BBBBBB, and the copy that was read "]),
    ({"way": "paper"}, ["signatures[0].by: It is drawn, and has to be paper.",
                        "signatures[1].by: It is drawn, and has to be paper.",
                        "signatures[2].by: It is drawn, and has to be paper.",
                        "way: It was signed on paper: give the scan with --paper."]),
    ({"signatures": []}, ["signatures: It is signed by nobody, and the offer names Ada Invented and Ben Invented.",
                          "signatures: Nobody signed for the company."]),
    ({"signed_at": "2026-05-03T10:00:00-05:00"},
     ["signed_at: It was signed on 2026-05-03, before the offer was made on 2026-05-04."]),
    ({"signed_at": "2026-05-09T10:00:00-05:00", "cancel_by": "2026-05-13"},
     ["signed_at: It is of 2026-05-09T10:00:00-05:00, which is in the future."]),
]


@pytest.mark.parametrize(("other", "says"), DIFFERS, ids=lambda one: "-".join(one) if isinstance(one, dict) else "")
def test_what_is_not_as_it_was_offered_is_refused(firm: Workspace, other: dict[str, Any], says: list[str]) -> None:
    """Each field that differs from the kept offer is said with what the record and what the offer say."""
    found = wrong(firm, made.agreement(made.kept_of(firm), **other))
    for said in says:
        assert any(one.startswith(said) for one in found), (said, found)
    if "signed_at" not in other:
        assert len(found) == len(says)


def test_everything_that_is_wrong_is_said_in_one_pass(firm: Workspace) -> None:
    """A record with three faults in three parts is refused with all three."""
    record = made.agreement(made.kept_of(firm), total=5, work_starts="2026-06-02", consent=None)
    assert [one.split(":")[0] for one in wrong(firm, record)] == ["consent", "total", "work_starts"]


def test_words_and_choice_are_those_that_were_shown(firm: Workspace) -> None:
    """A sentence, or a price inside the copied choice, that differs from the page is named."""
    record = made.agreement(made.kept_of(firm))
    record["statements"][2]["says"] = "I have read some of it."
    record["choice"] = {**record["choice"], "price": 1}
    assert wrong(firm, record) == [
        "choice.price: It says `1`, and the offer `1860000`.",
        "statements[2]: `agreement-read` says `I have read some of it.`, and was shown as `I have read all of it.`."]


def test_only_what_may_wait_is_put_off(firm: Workspace) -> None:
    """A statement that is owed at signing cannot be due later, and one that is done has its time."""
    record = made.agreement(made.kept_of(firm))
    record["statements"][0] |= {"state": "due-before-start", "at": None}
    record["statements"][2] |= {"at": None}
    assert wrong(firm, record) == [
        "statements[0]: `copy-in-hand` is put off until before the start, and is owed at signing.",
        "statements[2]: `agreement-read` is done and has no time."]


def test_every_owner_signs_with_a_line(firm: Workspace) -> None:
    """A missing owner, another name and a signature without a line are each refused."""
    record = made.agreement(made.kept_of(firm))
    record["signatures"] = [made.signature("owner", "Ada Invented", strokes=[]), made.signature("firm", "Cy Invented")]
    assert wrong(firm, record) == [
        "signatures: It is signed by Ada Invented, and the offer names Ada Invented and Ben Invented.",
        "signatures[0].strokes: Ada Invented drew 0 points and no line, and a signature is a line."]
    record["signatures"] = [made.signature("owner", one, "typed") for one in made.OWNERS] + [
        made.signature("firm", "Cy Invented")]
    assert made.file(firm, record).path.is_dir()


def test_a_point_drawn_twice_is_no_line(firm: Workspace) -> None:
    """Two equal points, or one point in each of two strokes, sign nothing."""
    for strokes in ([[[5, 5], [5, 5]]], [[[5, 5]], [[9, 9]]]):
        record = made.agreement(made.kept_of(firm))
        record["signatures"][0] = made.signature("owner", "Ada Invented", strokes=strokes)
        assert wrong(firm, record) == [
            "signatures[0].strokes: Ada Invented drew 2 points and no line, and a signature is a line."]


def test_dates_hold_for_a_signature_in_time(firm: Workspace) -> None:
    """Prices hold longer than dates: a signature after the last day for these is filed for a reason alone."""
    late = made.SIGNED.replace(month=5, day=21)
    record = made.agreement(made.kept_of(firm), signed_at=late.isoformat(), cancel_by="2026-05-26")
    assert wrong(firm, record, late) == [
        'signed_at: It was signed on 2026-05-21, and its dates hold for a signature by 2026-05-20. --honor "reason" '
        "files it all the same, with the reason."]
    assert made.file(firm, record, late, honor="A new start was agreed.").path.is_dir()


def test_lapsed_prices_are_held_to_for_a_reason_alone(firm: Workspace) -> None:
    """A signature after the prices lapsed is refused, or filed with the reason in the signed entry."""
    record = made.agreement(made.kept_of(firm), signed_at="2026-06-04T18:00:00-05:00", cancel_by="2026-06-08")
    assert wrong(firm, record, LATER) == [
        'signed_at: It was signed on 2026-06-04, and prices hold to 2026-06-03. --honor "reason" files it all the '
        "same, with the reason."]
    filed = made.file(firm, record, LATER, honor="They were away\nfor a week.")
    assert json.loads((filed.path / "entry.json").read_bytes())["honored"] == "They were away for a week."
    with pytest.raises(UsageError):
        made.file(firm, {**record, "lives": "lived-in"}, LATER, honor=" ")


def test_a_reason_mends_nothing_else(firm: Workspace) -> None:
    """With a reason for lapsed prices a forged total is still refused."""
    record = made.agreement(made.kept_of(firm), signed_at="2026-06-04T18:00:00-05:00", cancel_by="2026-06-08", total=5)
    assert wrong(firm, record, LATER, honor="They were away.") == [
        "total: It says $0.05, and the offer comes to $19,420."]


def test_what_a_state_does_not_allow_is_refused(tmp_path: Path) -> None:
    """A refused option cannot be filed, nor a screen where the state's gate is shut."""
    shut = made.State("Nostate", None, None, False)
    firm = made.workspace(tmp_path, made.signable(choices=(made.choice(refused="It sets no price."),), state=shut))
    assert wrong(firm, made.agreement(made.kept_of(firm))) == [
        "option: The state does not allow `per-item`: It sets no price.",
        "way: Signing on a screen is not open in Nostate; it takes paper."]


def test_an_offer_that_was_changed_after_it_was_handed_over_holds_nothing(firm: Workspace) -> None:
    """A byte of the kept offer that is another refuses every record of it."""
    record = made.agreement(made.kept_of(firm))
    (made.kept_of(firm) / "site" / "index.html").write_text("another", "utf-8")
    assert ["site/index.html is another" in one for one in wrong(firm, record)] == [True]


def test_a_record_is_filed_once(firm: Workspace) -> None:
    """The same record again is refused with the bag that holds it, also when it is spelled with other spaces."""
    record = made.agreement(made.kept_of(firm))
    first = made.file(firm, record)
    assert wrong(firm, record) == [f"It is filed already, in {first.path.name}."]
    loose = firm.home.parent / "loose.json"
    loose.write_text(json.dumps(record, indent=4), "utf-8")
    with pytest.raises(Faults, match="filed already"):
        add(firm, Given(loose, made.CLOCK, made.DAY))


def test_change_orders_follow_from_one_another(firm: Workspace) -> None:
    """Each has the next number, and its total is that before it and its lines."""
    record = made.agreement(made.kept_of(firm))
    made.file(firm, record)
    first = made.change(record)
    assert wrong(firm, {**first, "number": 2, "total": first["total"] + 1}, LATER) == [
        "number: It is number 2, and 0 were filed before it.",
        "total: It says $20,350.01, and $19,420 before it come to $20,350."]
    made.file(firm, first, LATER)
    second = made.change(first)
    assert wrong(firm, {**second, "cents": 5, "prior": "1" * 128}, LATER) == [
        f"prior: No record {'1' * 16}... of elm-street is filed."]
    assert [one.split(":")[0] for one in wrong(firm, {**second, "prior": first["prior"]}, LATER)] == ["prior"]
    assert wrong(firm, {**second, "option": "one-price", "payments": first["payments"],
                        "signatures": second["signatures"][1:]}, LATER) == [
        "option: It is `one-price`, and `per-item` was signed.",
        "payments: It says $1,860 after start; $18,490 after all finished, and with its price on the last they are "
        "$1,860 after start; $19,420 after all finished.",
        "signatures: It is signed by Ben Invented, and the offer names Ada Invented and Ben Invented."]
    assert made.file(firm, second, LATER).path.name == "00003-elm-street-change"


def test_an_extra_of_a_change_order_has_the_price_that_was_offered(firm: Workspace) -> None:
    """More of an extra costs what the offer said for one; taking one out gives back the same."""
    record = made.agreement(made.kept_of(firm))
    made.file(firm, record)
    line = {"item": "porch-light", "says": "One less", "count": 1, "each": -40_000, "cents": -40_000}
    order = made.change(record, what=[line], cents=-40_000, total=record["total"] - 40_000)
    order["payments"][-1]["cents"] -= 93_000 + 40_000
    assert wrong(firm, order, LATER) == [
        "what[0].each: It says -$400 for `porch-light`, and the offer $410."]
    line |= {"each": -41_000, "cents": -41_000}
    order |= {"cents": -41_000, "total": record["total"] - 41_000}
    order["payments"][-1]["cents"] -= 1_000
    assert made.file(firm, order, LATER).path.is_dir()


def test_a_cancellation_is_counted(firm: Workspace) -> None:
    """The day of the refund is counted, what came too late takes a reason, and nothing is changed afterwards."""
    record = made.agreement(made.kept_of(firm))
    made.file(firm, record)
    assert wrong(firm, made.cancellation(record, refund_by="2026-06-30")) == [
        "refund_by: It says 2026-06-30, and counted from 2026-05-08 it is 2026-05-20."]
    too_late = made.cancellation(record, said_at="2026-05-11T08:00:00-05:00", refund_by="2026-05-22")
    assert wrong(firm, too_late, LATER) == [
        'said_at: It was said on 2026-05-11, and the last day to cancel was 2026-05-09. --honor "reason" files it all '
        "the same, with the reason."]
    made.file(firm, made.cancellation(record))
    assert wrong(firm, made.change(record), LATER) == ["prior: The agreement was cancelled, in "
                                                       "00002-elm-street-cancellation."]


BAD: list[tuple[str, bytes, str]] = [
    ("empty", b"", "It is no record"),
    ("no JSON", b"%PDF-1.7", "It is no record"),
    ("not UTF-8", b'{"kind": "\xff"}', "It is no record"),
    ("a list", b"[]", "It is none of agreement, change, cancellation."),
    ("another kind", b'{"kind": "poem"}', "It is none of agreement, change, cancellation."),
    ("a key twice", b'{"kind": "change", "kind": "change"}', "a key stands twice"),
    ("too deep", b'{"kind":' + b"[" * 200_000, "nested too deep"),
    ("not whole", b'{"kind": "agreement", "total": 1.5}', "a number in it is not whole"),
    ("no number", b'{"kind": "agreement", "total": NaN}', "a number in it is not whole"),
]


@pytest.mark.parametrize(("what", "data", "says"), BAD, ids=[one[0].replace(" ", "-") for one in BAD])
def test_what_is_no_record_is_refused(firm: Workspace, what: str, data: bytes, says: str) -> None:
    """Bytes of any kind are refused with the reason and nothing is written."""
    before, path = tree(firm.archive), firm.home.parent / "bad.json"
    path.write_bytes(data)
    with pytest.raises(Faults, match=says):
        add(firm, Given(path, made.CLOCK, made.DAY))
    assert tree(firm.archive) == before, what


SHAPES: list[tuple[str, dict[str, Any], str]] = [
    ("total as text", {"total": "1942000"}, "Expected `int`, got `str`"),
    ("an unknown field", {"note": "x"}, "unknown field `note`"),
    ("a time without zone", {"signed_at": "2026-05-06T18:30:00"}, "timezone"),
    ("a path as a job", {"job": "../elm-street"}, "job"),
    ("a script in a name", {"signatures": [made.signature("owner", "<script>x</script>")]}, "signatures"),
    ("a point outside the box", {"signatures": [made.signature("owner", "Ada", strokes=[[[0, 0], [1001, 5]]])]},
     "signatures"),
    ("too many points", {"signatures": [made.signature("owner", "Ada", strokes=[[[1, 1]] * 5001])]}, "length <= 5000"),
    ("format 2", {"format": 2}, "format"),
]


@pytest.mark.parametrize(("what", "other", "says"), SHAPES, ids=[one[0].replace(" ", "-") for one in SHAPES])
def test_a_record_of_another_shape_is_refused(firm: Workspace, what: str, other: dict[str, Any], says: str) -> None:
    """A field of another type, an unknown one, markup in a name or a stroke out of bounds is named."""
    found = wrong(firm, made.agreement(made.kept_of(firm), **other))
    assert len(found) == 1, what
    assert says in found[0]


def test_a_truncated_record_is_refused_wherever_it_ends(firm: Workspace) -> None:
    """No beginning of a record is a record."""
    data, path = rfc8785.dumps(made.agreement(made.kept_of(firm))), firm.home.parent / "cut.json"
    for end in range(0, len(data), 97):
        path.write_bytes(data[:end])
        with pytest.raises(Faults):
            add(firm, Given(path, made.CLOCK, made.DAY))


def test_ten_megabytes_of_strokes_are_not_read(firm: Workspace) -> None:
    """A record over the bound is refused for its size."""
    path = firm.home.parent / "huge.json"
    path.write_bytes(b'{"kind":"agreement","strokes":[' + b"[1,2]," * 2_000_000 + b"[1,2]]}")
    assert path.stat().st_size > 10 * MOST
    with pytest.raises(Faults, match="larger than 1,000,000 bytes"):
        add(firm, Given(path, made.CLOCK, made.DAY))


@pytest.mark.parametrize("where", ["archive", "bags", "keys", ".incoming", ".lock", "ledger.jsonl"])
def test_a_link_in_the_way_is_refused_or_taken_away_and_never_followed(firm: Workspace, where: str) -> None:
    """Nothing is written through a link that somebody put in the place of a part of the archive."""
    outside = firm.home.parent / "outside"
    outside.mkdir()
    target = firm.archive if where == "archive" else firm.archive / where
    if target.exists():
        target.rename(firm.home.parent / "moved")
    target.symlink_to(outside, target_is_directory=True)
    if where == ".incoming":
        made.file(firm, made.agreement(made.kept_of(firm)))
    else:
        with pytest.raises(BuildError):
            made.file(firm, made.agreement(made.kept_of(firm)))
    assert list(outside.iterdir()) == []


def test_a_link_in_a_kept_offer_is_refused(firm: Workspace) -> None:
    """What a link in the offer leads to does not get into a bag."""
    record = made.agreement(made.kept_of(firm))
    page = made.kept_of(firm) / "site" / "index.html"
    page.rename(firm.home.parent / "page.html")
    page.symlink_to(firm.home.parent / "page.html")
    with pytest.raises(BuildError, match="is a link"):
        made.file(firm, record)
    assert tree(firm.archive / "bags") == {}


def test_two_at_once_are_told(firm: Workspace) -> None:
    """While one files, another that files or checks is refused with a message; two can check at once."""
    record = made.agreement(made.kept_of(firm))
    with opened(firm), pytest.raises(BuildError, match="Another command is filing"):
        made.file(firm, record)
    with opened(firm), pytest.raises(BuildError, match="Another command is filing"), looked_at(firm.archive):
        pass
    with looked_at(firm.archive), looked_at(firm.archive), pytest.raises(BuildError, match="or looks at it"):
        made.file(firm, record)
    assert made.file(firm, record).path.is_dir()


def test_a_record_names_its_bytes(firm: Workspace) -> None:
    """The entry holds the SHA-512 of the record, and the ledger that of the tag manifest."""
    filed = made.file(firm, made.agreement(made.kept_of(firm)))
    line = json.loads((firm.archive / "ledger.jsonl").read_bytes())
    assert filed.entry.record == hashlib.sha512((filed.path / "data/record.json").read_bytes()).hexdigest()
    assert line["tagmanifest"] == hashlib.sha512((filed.path / "tagmanifest-sha512.txt").read_bytes()).hexdigest()
    assert filed.head == hashlib.sha512((firm.archive / "ledger.jsonl").read_bytes().rstrip(b"\n")).hexdigest()
    assert filed.entry.day == date(2026, 5, 8)
