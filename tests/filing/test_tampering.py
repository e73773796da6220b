"""Whatever somebody does to an archive is found, and named by bag and file."""

from __future__ import annotations

import hashlib
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from sitegen.errors import BrokenInstall, BuildError
from sitegen.filing import bag, keys, ledger, store
from sitegen.filing.bag import listing
from sitegen.filing.filed import entries, jobs
from sitegen.filing.ledger import Line
from sitegen.filing.verify import second_opinion, verify
from sitegen.workspace import Workspace
from tests.filing import made
from tests.filing.test_add import LATER
from tests.helpers import tree

FIRST, SECOND, THIRD = "00001-elm-street-agreement", "00002-elm-street-change", "00003-elm-street-change"


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace with three bags, the key changed after the first one."""
    top = tmp_path_factory.mktemp("three")
    firm = made.workspace(top)
    record = made.agreement(made.kept_of(firm))
    made.file(firm, record)
    with store.opened(firm) as archive:
        keys.rotate(firm, archive.path, made.DAY)
    first = made.change(record)
    made.file(firm, first, LATER)
    made.file(firm, made.change(first), LATER)
    return top


@pytest.fixture
def firm(three: Path, tmp_path: Path) -> Workspace:
    """A copy of it that a test may spoil."""
    shutil.copytree(three, tmp_path / "copy")
    home = tmp_path / "copy" / "firm"
    return Workspace(home, home / "site")


def found(firm: Workspace, head: str | None = None) -> list[tuple[str, str]]:
    """The bag and the file of everything that a check finds, with the workspace's own key at hand."""
    today = keys.private(firm.home / keys.NAME).public_key()
    return [(one.bag, one.file) for one in verify(firm.archive, today, head).findings]


def head_of(firm: Workspace) -> str:
    """The fingerprint that the ledger ends with."""
    return ledger.head(ledger.read(firm.archive))


def test_what_nobody_touched_is_as_it_was_filed(firm: Workspace) -> None:
    """Without a change nothing is found, with and without the workspace at hand, by us and by the bagit library."""
    assert found(firm, head_of(firm)) == []
    assert verify(firm.archive, None).findings == ()
    assert list(second_opinion(firm.archive)) == []


def test_every_head_of_before_still_leads_there(firm: Workspace) -> None:
    """A fingerprint that was noted after any filing holds for as long as nothing before it is changed."""
    lines = ledger.read(firm.archive)
    assert [found(firm, line.fingerprint) for line in lines] == [[], [], []]
    assert found(firm, lines[1].fingerprint[:16].upper()) == []
    assert found(firm, lines[1].fingerprint[:15]) == [("", ledger.NAME)]


def test_one_bit_in_any_file_is_found_and_the_file_is_named(firm: Workspace) -> None:
    """Each file in turn with one bit turned, at its beginning, in its middle and at its end."""
    tried = 0
    for name, data in tree(firm.archive).items():
        path = firm.archive / name
        parts = name.split("/")
        place = (parts[1], "/".join(parts[2:])) if parts[0] == "bags" else ("", name)
        for at in sorted({0, len(data) // 2, len(data) - 1}) if data else ():
            path.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1:])
            assert place in found(firm), (name, at)
            tried += 1
        path.write_bytes(data)
    assert tried > 3 * 40
    assert found(firm) == []


@pytest.mark.parametrize("name", ["data/more.txt", "data/offer/site/more.html", "more.txt", "data/.hidden"])
def test_a_file_that_is_added_to_a_bag_is_found(firm: Workspace, name: str) -> None:
    """A file more, in the payload or beside it, is named."""
    (firm.archive / "bags" / FIRST / name).write_text("more", "utf-8")
    assert (FIRST, name) in found(firm)


def test_a_folder_or_a_link_that_is_added_is_found(firm: Workspace) -> None:
    """An empty folder, and a link to a file with the very same bytes, are named."""
    top = firm.archive / "bags" / FIRST
    (top / "data" / "empty").mkdir()
    (top / "entry.json").rename(firm.home / "entry.json")
    (top / "entry.json").symlink_to(firm.home / "entry.json")
    assert {(FIRST, "data/empty"), (FIRST, "entry.json")} <= set(found(firm))


def test_any_file_that_is_taken_out_of_a_bag_is_found(firm: Workspace) -> None:
    """Each file of a bag in turn, the manifests and the signature among them."""
    for name in tree(firm.archive / "bags" / FIRST):
        path = firm.archive / "bags" / FIRST / name
        path.rename(firm.home / "away")
        assert (FIRST, name) in found(firm), name
        (firm.home / "away").rename(path)
    assert found(firm) == []


def test_a_file_that_is_renamed_is_found_twice(firm: Workspace) -> None:
    """Under its old name it is missing, under its new one it is added."""
    site = firm.archive / "bags" / FIRST / "data/offer/site"
    (site / "index.html").rename(site / "start.html")
    assert {(FIRST, "data/offer/site/index.html"), (FIRST, "data/offer/site/start.html")} <= set(found(firm))


def test_two_files_that_change_places_are_found(firm: Workspace) -> None:
    """Two pages swapped in a bag are both named."""
    site = firm.archive / "bags" / FIRST / "data/offer/site"
    _swap(site / "index.html", site / "sheet-1.html")
    assert {(FIRST, "data/offer/site/index.html"), (FIRST, "data/offer/site/sheet-1.html")} <= set(found(firm))


def test_two_bags_that_change_places_are_found(firm: Workspace) -> None:
    """Both are named, and that neither is the one of its name."""
    _swap(firm.archive / "bags" / SECOND, firm.archive / "bags" / THIRD)
    assert {(SECOND, bag.ENTRY), (THIRD, bag.ENTRY), (SECOND, bag.TAGS), (THIRD, bag.TAGS)} <= set(found(firm))


def test_a_bag_that_is_gone_or_renamed_is_found(firm: Workspace) -> None:
    """A line of the ledger without its bag is named; a bag under another name too."""
    (firm.archive / "bags" / SECOND).rename(firm.archive / "bags" / "00002-oak-street-change")
    assert {(SECOND, ""), ("00002-oak-street-change", ""), ("00002-oak-street-change", bag.ENTRY)} <= set(found(firm))
    shutil.rmtree(firm.archive / "bags" / "00002-oak-street-change")
    assert found(firm) == [(SECOND, "")]


@pytest.mark.parametrize("kept", [0, 1, 2])
def test_a_ledger_that_is_cut_is_found(firm: Workspace, kept: int) -> None:
    """Each bag whose line is gone is named, and a head that was noted leads nowhere any more."""
    head, path = head_of(firm), firm.archive / ledger.NAME
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:kept]))
    assert found(firm) == [(one, "") for one in (FIRST, SECOND, THIRD)[kept:]]
    assert ("", ledger.NAME) in found(firm, head)


def test_a_ledger_that_is_gone_is_found(firm: Workspace) -> None:
    """Bags without any ledger are each named, and the ledger."""
    (firm.archive / ledger.NAME).unlink()
    assert found(firm) == [("", ledger.NAME), (FIRST, ""), (SECOND, ""), (THIRD, "")]


def test_lines_of_the_ledger_in_another_order_are_found(firm: Workspace) -> None:
    """Two lines swapped break the chain."""
    path = firm.archive / ledger.NAME
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(lines[1] + lines[0] + lines[2])
    assert ("", ledger.NAME) in found(firm)


def _rebuild(top: Path, key: Ed25519PrivateKey | None = None) -> None:
    """Write all manifests of a bag again, as anybody can, and sign with a key if there is one."""
    held = {f"data/{name}": data for name, data in tree(top / "data").items()}
    (top / bag.MANIFEST).write_bytes(listing(held))
    if key is not None:
        (top / bag.SIGNED_BY).write_bytes(keys.pem(key.public_key()))
    tagged = listing({name: (top / name).read_bytes() for name in bag.LISTED})
    (top / bag.TAGS).write_bytes(tagged)
    if key is not None:
        (top / bag.SIGNATURE).write_bytes(key.sign(tagged))


def _forge(top: Path) -> None:
    """Change the record of a bag, and the entry that names it."""
    record = top / "data/record.json"
    was = record.read_bytes()
    forged = was.replace(b"Ada Invented", b"Eve Invented")
    record.write_bytes(forged)
    entry = top / bag.ENTRY
    entry.write_bytes(entry.read_bytes().replace(hashlib.sha512(was).hexdigest().encode(),
                                                 hashlib.sha512(forged).hexdigest().encode()))
    assert forged != was


def test_manifests_that_were_rebuilt_after_an_edit_are_found(firm: Workspace) -> None:
    """An edit with every list written again is valid for the bagit library; signature and chain tell."""
    _forge(firm.archive / "bags" / FIRST)
    _rebuild(firm.archive / "bags" / FIRST)
    assert list(second_opinion(firm.archive)) == []
    assert found(firm) == [(FIRST, bag.TAGS), (FIRST, bag.SIGNATURE)]


def _relink(firm: Workspace, key: Ed25519PrivateKey) -> None:
    """Write the whole chain again over what stands there, signed with a key."""
    lines: list[Line] = []
    for name in (FIRST, SECOND, THIRD):
        top = firm.archive / "bags" / name
        entry = msgspec.json.decode((top / bag.ENTRY).read_bytes(), type=bag.Entry)
        entry = msgspec.structs.replace(entry, previous=ledger.head(lines))
        (top / bag.ENTRY).write_bytes(entry.written())
        _rebuild(top, key)
        lines.append(Line.of(entry, (top / bag.TAGS).read_bytes()))
    ledger.write(firm.archive, lines)


def test_a_bag_that_was_signed_with_another_key_is_found(firm: Workspace) -> None:
    """A whole archive forged and signed with a key of the forger's is found by the key of the workspace."""
    forger = Ed25519PrivateKey.generate()
    _forge(firm.archive / "bags" / FIRST)
    _relink(firm, forger)
    assert {(one, bag.SIGNED_BY) for one in (FIRST, SECOND, THIRD)} == set(found(firm))
    keys.file_public(firm.archive, forger.public_key())
    stranger = f"keys/{keys.fingerprint(forger.public_key())}.pem"
    assert {(one, bag.SIGNED_BY) for one in (FIRST, SECOND, THIRD)} | {("", stranger)} == set(found(firm))


def test_even_with_the_companys_own_key_a_head_that_was_noted_tells(firm: Workspace) -> None:
    """Whoever holds the key can forge all of it, and is found by a fingerprint outside the office alone."""
    heads = [line.fingerprint for line in ledger.read(firm.archive)]
    _forge(firm.archive / "bags" / FIRST)
    _relink(firm, keys.private(firm.home / keys.NAME))
    assert found(firm) == []
    assert [found(firm, head) for head in heads] == [[("", ledger.NAME)]] * 3


@pytest.mark.parametrize("name", ["notes.txt", ".DS_Store", "bags.old", "bags/readme.txt", "keys/more.pem"])
def test_a_stray_file_is_found(firm: Workspace, name: str) -> None:
    """Nothing stands in an archive, among its bags or among its keys that we did not write."""
    (firm.archive / name).write_text("stray", "utf-8")
    assert found(firm) == [("", name)]


def test_a_lock_that_holds_something_is_found(firm: Workspace) -> None:
    """The file of the lock is empty, so that nothing hides there."""
    (firm.archive / ".lock").write_text("more", "utf-8")
    assert found(firm) == [("", ".lock")]


def test_a_change_order_without_its_agreement_is_said(firm: Workspace) -> None:
    """A bag that somebody put in another's place breaks no listing: the story of the job names it."""
    record = firm.archive / "bags" / SECOND / "data/record.json"
    was = record.read_bytes()
    prior = hashlib.sha512((firm.archive / "bags" / FIRST / "data/record.json").read_bytes()).hexdigest().encode()
    assert prior in was
    record.write_bytes(was.replace(prior, b"0" * 128))
    with pytest.raises(BuildError, match=f"{SECOND} is of an agreement that is not filed"):
        jobs(firm.archive, entries(firm.archive), made.JOB)


def test_an_older_archive_that_was_put_back_is_found_by_a_head(firm: Workspace, three: Path) -> None:
    """The archive of last week is sound by itself, and is not the one that the head was taken from."""
    head = head_of(firm)
    (firm.archive / ledger.NAME).write_bytes(b"".join(line.written() + b"\n" for line in ledger.read(firm.archive)[:2]))
    shutil.rmtree(firm.archive / "bags" / THIRD)
    assert found(firm) == []
    assert found(firm, head) == [("", ledger.NAME)]


def test_a_note_of_a_change_of_key_that_is_gone_is_found(firm: Workspace) -> None:
    """Without it nothing leads to the older key, so that the key and its bag are named."""
    note = next((firm.archive / "keys").glob("rotation-*.json"))
    note.unlink()
    assert (FIRST, bag.SIGNED_BY) in found(firm)
    assert any(file.startswith("keys/") for _, file in found(firm))


def test_what_a_filing_left_is_named_as_such(firm: Workspace) -> None:
    """The folder of a filing that was cut short is found until the next command clears it away."""
    (firm.archive / ".incoming").mkdir()
    assert found(firm) == [("", ".incoming")]
    with store.opened(firm):
        pass
    assert found(firm) == []


@pytest.mark.parametrize("spoil", [
    lambda firm: (firm.archive / "bags" / THIRD / "data/record.json").unlink(),
    lambda firm: _rebuild(firm.archive / "bags" / THIRD, Ed25519PrivateKey.generate()),
])
def test_a_bag_is_finished_only_where_it_is_whole(firm: Workspace, spoil: Callable[[Workspace], None]) -> None:
    """A bag without a line that is not as it was filed gets none, and nothing more is filed over it."""
    path = firm.archive / ledger.NAME
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:2]))
    spoil(firm)
    with pytest.raises(BuildError, match=THIRD), store.opened(firm):
        pass


def test_a_whole_bag_without_a_line_is_finished_with_the_same_line(firm: Workspace) -> None:
    """The ledger that is written again from the bags is the one that was cut, to the byte."""
    path = firm.archive / ledger.NAME
    was = path.read_bytes()
    path.write_bytes(was.splitlines(keepends=True)[0])
    with store.opened(firm):
        pass
    assert path.read_bytes() == was


def test_without_the_bagit_library_the_second_opinion_says_so(firm: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the library is not installed, that is said, and our own check needs nothing of it."""
    monkeypatch.setitem(sys.modules, "bagit", None)
    with pytest.raises(BrokenInstall, match="not installed here"):
        list(second_opinion(firm.archive))
    assert found(firm) == []


def _swap(one: Path, other: Path) -> None:
    beside = one.with_name("beside")
    one.rename(beside)
    other.rename(one)
    beside.rename(other)
