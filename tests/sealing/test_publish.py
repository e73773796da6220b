"""Publishing a demo house: what is written and kept, and that nothing of the job can be read without its key."""

from __future__ import annotations

import base64
import gzip
import json
import re
import zlib
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
import yaml

from sitegen.errors import BuildError, Faults, UsageError
from sitegen.job.kept import FOLDER
from sitegen.sealing import publish as publishing
from sitegen.sealing.card import code
from sitegen.sealing.link import link
from sitegen.sealing.listed import listed
from sitegen.sealing.publish import PAGE, Published, Wanted, publish, withdraw
from sitegen.sealing.register import NAME, read, standing
from sitegen.sealing.seal import Sealed, unseal
from sitegen.workspace import Workspace
from tests.helpers import JOB, demo_copy, edit, sitegen

DAY = date(2026, 11, 20)
PART = re.compile(r'<script type="text/plain" data-part-of="(\w+)"'
                  r'(?: data-salt="([\w+/]+)" data-count="(\d+)")?>([^<]*)<')
SHELL = re.compile(r'(?<=">)[A-Za-z0-9+/]{400,}(?=</script>)')
LONG = 7


def sealed_in(text: str) -> Sealed:
    """The sealed bundle that stands in a document."""
    found = PART.findall(text)
    total = re.search(r'id="sum">(\w+)<', text)
    assert total
    return Sealed(found[0][1], found[0][0], tuple(part for *_, part in found), total[1])


class Shop:
    """A demo workspace, and what is done with its one job."""

    def __init__(self, folder: Path) -> None:
        home = demo_copy(folder)
        self.workspace = Workspace(home, folder / "site")
        self.job = home / JOB

    def publish(self, **wanted: object) -> Published:
        """Publish the job."""
        return publish(self.workspace, self.job, Wanted(DAY, **wanted))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A demo house that was published readable, and then sealed."""
    made = Shop(tmp_path_factory.mktemp("shop"))
    made.publish(readable=True, at="https://proposals.example/")
    made.publish()
    return made


@pytest.fixture
def page(shop: Shop) -> str:
    """The sealed page."""
    entry = next(one for one in read(shop.job) if one.key)
    return (shop.workspace.public / entry.token / PAGE).read_text("utf-8")


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, one in value.items():
            yield from (*_strings(key), *_strings(one))
    elif isinstance(value, list):
        for one in value:
            yield from _strings(one)
    elif value is not None:
        yield str(value)


def _of_the_job(shop: Shop) -> set[str]:
    """Every string of the job file and every longer word of it."""
    whole = set(_strings(yaml.load((shop.job / "job.yaml").read_text("utf-8"), yaml.CSafeLoader)))
    words = {word for text in whole for word in re.findall(r"[A-Za-z0-9$,.'-]+", text)}
    return {text for text in whole | words if len(text) >= LONG}


def _forms(page: str) -> Iterator[bytes]:
    """The page as it stands, and all that could be made of its parts without a key."""
    yield page.encode()
    for *_, part in PART.findall(page):
        data = base64.b64decode(part)
        yield data
        for start in (b"\x78\x9c", b"\x78\xda", b"\x78\x01", b"\x1f\x8b"):
            for at in re.finditer(re.escape(start), data):
                try:
                    yield (gzip.decompress if start[0] == 0x1F else zlib.decompress)(data[at.start():])
                except (OSError, EOFError, zlib.error):
                    continue


def _written(text: str) -> tuple[bytes, ...]:
    """A text as it could stand in a file: as it is, in capitals, wide, in hex, and in base64 at any of three places."""
    raw = text.encode()
    coded = (base64.b64encode(bytes(shift) + raw)[shift + (shift > 0):-4] for shift in range(3))
    return (raw, raw.upper(), text.encode("utf-16-le"), raw.hex().encode(), *(one for one in coded if len(one) > 8))


def test_nothing_of_the_job_can_be_read_without_the_key(shop: Shop, page: str) -> None:
    """No string or longer word of the job file stands in the page in any form, but for the words of the gate itself."""
    gate = SHELL.sub("", page)
    words = {word for word in _of_the_job(shop) if word not in _gate_words()}
    assert len(words) > 200
    found = {word for form in _forms(page) for word in words if any(one in form for one in _written(word))}
    assert found == set()
    assert "Osterby Electric" in gate


def _gate_words() -> set[str]:
    """Words of the gate: what any proposal's gate says, read from our own files and from the company's card."""
    from tests.helpers import ROOT
    texts = [(ROOT / path).read_text("utf-8") for path in (
        "content/sealed.md", "theme/sealed/shell.html", "theme/sealed/open.js", "theme/sealed/gate.css")]
    return {word for text in texts for word in re.findall(r"[A-Za-z0-9$,.'-]+", text)}


def test_the_search_would_find_what_is_readable(shop: Shop) -> None:
    """The same search over the readable pages finds a hundred of the job's words, and a word coded into a page."""
    readable = "".join(path.read_text("utf-8") for path in
                       (shop.workspace.public / read(shop.job)[0].token).glob("*.html"))
    assert sum(word in readable for word in _of_the_job(shop)) > 100
    for coded in (base64.b64encode(b"x61 Alder Laney"), b"61 Alder Lane".hex().encode(),
                  "61 Alder Lane".encode("utf-16-le")):
        assert any(one in coded for one in _written("61 Alder Lane"))


def test_the_sealed_page_opens_to_what_was_kept(shop: Shop, page: str) -> None:
    """The first part is the first page as it was kept, without the names of figures."""
    entry = read(shop.job)[1]
    assert entry.key
    first = json.loads(unseal(sealed_in(page), entry.key)[0])
    assert "61 Alder Lane" in first["body"]
    assert "$38,700" in first["body"]
    assert "data-figure" not in first["body"]


def test_what_is_published_was_kept_first(shop: Shop) -> None:
    """The version stands under offers/, and the register names its pages and the bundle by their fingerprints."""
    assert (shop.job / FOLDER / "1" / "kept.json").is_file()
    readable, sealed = read(shop.job)
    assert [one.form for one in (sealed, readable)] == ["sealed", "open"]
    assert sealed.site == readable.site == readable.fingerprint != sealed.fingerprint
    assert {len(one.fingerprint) for one in (sealed, readable)} == {128}
    assert sealed.published == DAY
    assert str(sealed.prices_hold_to) == "2026-12-18"


def test_the_register_is_for_its_owner_alone(shop: Shop) -> None:
    """Nobody else may read the file that holds the keys, and no build reads it."""
    assert (shop.job / NAME).stat().st_mode & 0o077 == 0


def test_the_readable_pages_carry_a_policy_and_say_nothing_to_others(shop: Shop) -> None:
    """Each page allows its own files and hashes alone, asks not to be listed, and sends no address on."""
    folder = shop.workspace.public / read(shop.job)[0].token
    pages = sorted(folder.glob("*.html"))
    assert len(pages) > 20
    for path in pages:
        head = path.read_text("utf-8").partition("</head>")[0]
        found = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', head)
        assert found, path.name
        policy = found[1]
        assert "default-src" in policy
        assert "unsafe" not in policy
        assert "connect-src" not in policy
        assert head.index("Content-Security-Policy") < head.index("<title>")
        assert '"robots" content="noindex,nofollow"' in head
        assert '"referrer" content="no-referrer"' in head


def test_a_new_version_keeps_the_link_and_a_fresh_one_does_not(tmp_path: Path) -> None:
    """Token and key stay from version to version under a new salt; `--fresh` draws both and withdraws the old path."""
    shop = Shop(tmp_path)
    one = shop.publish()
    before = (shop.workspace.public / one.entry.token / PAGE).read_text("utf-8")
    edit(shop.job / "job.yaml", "version: 1", "version: 2")
    two = shop.publish()
    after = (shop.workspace.public / one.entry.token / PAGE).read_text("utf-8")
    assert (two.entry.token, two.entry.key, two.entry.version) == (one.entry.token, one.entry.key, 2)
    assert sealed_in(before).salt != sealed_in(after).salt
    assert two.entry.key
    assert "You last opened version" in json.loads(unseal(sealed_in(after), two.entry.key)[0])["seen"]["1"]
    three = shop.publish(fresh=True)
    assert three.entry.token != one.entry.token
    assert [entry.token for entry in standing(read(shop.job))] == [three.entry.token]
    assert "Nothing of it is left here" in (shop.workspace.public / one.entry.token / PAGE).read_text("utf-8")


def test_what_is_withdrawn_leaves_nothing_of_the_job(tmp_path: Path) -> None:
    """Every file goes but one page, which names the firm, how to cancel, and no word of the job; once is enough."""
    shop = Shop(tmp_path)
    made = shop.publish(readable=True)
    (gone,) = withdraw(shop.workspace, shop.job, DAY)
    folder = shop.workspace.public / made.entry.token
    assert [path.name for path in folder.iterdir()] == [PAGE]
    text = (folder / PAGE).read_text("utf-8")
    assert "Alder" not in text
    assert "Osterby Electric" in text
    assert "You can still cancel" in text
    assert gone.token == made.entry.token
    assert [one.withdrawn for one in read(shop.job)] == [DAY]
    with pytest.raises(UsageError, match="Nothing of"):
        withdraw(shop.workspace, shop.job, DAY)


def test_the_card_holds_the_link_as_a_code(shop: Shop) -> None:
    """The card beside the job, for its owner alone, names firm, job and last day, and its code is the link's."""
    path = shop.job / "card.html"
    text, entry = path.read_text("utf-8"), read(shop.job)[1]
    whole = link("https://proposals.example/", entry.token, entry.key)
    assert path.stat().st_mode & 0o077 == 0
    assert str(code(whole)) in text
    for word in (whole, "Osterby Electric LLC", "61 Alder Lane", "Dec 18, 2026", "a copy cannot be taken back"):
        assert word in text


def test_the_list_says_what_lapses_when(shop: Shop) -> None:
    """By the day after its last a publication's prices are said to have lapsed, and on that day they are not."""
    before, after = (listed(shop.workspace, day) for day in (date(2026, 12, 18), date(2026, 12, 19)))
    assert [one.lapsed for one in before] == [False, False]
    assert [one.lapsed for one in after] == [True, True]
    assert "prices lapsed after 2026-12-18" in str(after[0])
    assert str(before[0]).endswith(before[0].link)
    assert before[0].link.startswith("https://proposals.example/")


def test_a_page_that_cannot_be_written_leaves_the_old_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that is full while the new page is written leaves the old page, the register and no half of anything."""
    shop = Shop(tmp_path)
    made = shop.publish()
    folder = shop.workspace.public / made.entry.token
    before, known = (folder / PAGE).read_bytes(), read(shop.job)

    def full(path: Path, data: bytes) -> None:
        path.write_bytes(data[:1000])
        raise OSError(28, "No space left on device")
    monkeypatch.setattr(publishing, "_write", full)
    with pytest.raises(BuildError, match="No space left"):
        shop.publish()
    assert (folder / PAGE).read_bytes() == before
    assert read(shop.job) == known
    assert [path.name for path in shop.workspace.public.iterdir()] == [made.entry.token]


def test_something_else_in_the_way_is_not_touched(tmp_path: Path) -> None:
    """A link in the place of a publication's folder is refused, and what it leads to stays."""
    shop = Shop(tmp_path)
    made = shop.publish()
    folder, private = shop.workspace.public / made.entry.token, tmp_path / "private"
    private.mkdir()
    (private / "letter").write_text("mine", "utf-8")
    (folder / PAGE).unlink()
    folder.rmdir()
    folder.symlink_to(private)
    with pytest.raises(BuildError, match="in the way"):
        shop.publish()
    assert [path.name for path in private.iterdir()] == ["letter"]


def test_what_changed_since_it_was_kept_is_said_and_not_published(tmp_path: Path) -> None:
    """Words that changed after a version was handed over wait for the next version; the kept pages go out again."""
    shop = Shop(tmp_path)
    first = shop.publish()
    edit(shop.job / "job.yaml", "above the sun porch ceiling", "over the sun porch ceiling")
    again = shop.publish()
    assert not first.moved
    assert again.moved
    assert again.entry.fingerprint == first.entry.fingerprint


@pytest.mark.parametrize("text", ["{", '[{"form": "sealed"}]', '[{"form":"open","token":"../../x","key":null,"at":null,'
                                  '"to":"/","version":1,"fingerprint":"","site":"","published":"2026-01-01",'
                                  '"prices_hold_to":"2026-01-01","sign_by":"2026-01-01"}]'])
def test_a_register_that_was_changed_is_refused(tmp_path: Path, text: str) -> None:
    """A register that is no register, or names a token that climbs out, is a fault with its file."""
    (tmp_path / NAME).write_text(text, "utf-8")
    with pytest.raises(Faults, match=r"publications\.json"):
        read(tmp_path)


def test_the_command_prints_links_alone_and_says_the_limits_aside(tmp_path: Path) -> None:
    """The link goes to standard output; that a copy cannot be taken back and nobody sees who looked, beside it."""
    home = demo_copy(tmp_path)
    done = sitegen("publish", JOB, "--home", str(home), "--at", "https://proposals.example/", cwd=tmp_path)
    assert done.returncode == 0
    assert re.fullmatch(r"https://proposals\.example/[a-z2-9]{26}/#[a-z2-9]{26}\n", done.stdout)
    assert "A copy cannot be taken back" in done.stderr
    assert "nobody sees who looked" in done.stderr
    shown = sitegen("published", "--json", "--home", str(home), cwd=tmp_path)
    assert json.loads(shown.stdout)[0]["link"] == done.stdout.strip()
    assert sitegen("publish", JOB, "--home", str(home), "--at", "http://a.example/", cwd=tmp_path).returncode == 2
    taken = sitegen("publish", JOB, "--withdraw", "--home", str(home), cwd=tmp_path)
    assert taken.returncode == 0
    assert "withdrawn" in taken.stdout
